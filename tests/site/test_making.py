"""How pages are handed to processes."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from sitegen.site.making import CHUNK, LONGEST_CHUNK, chunks


@given(st.integers(0, 200_000), st.integers(1, 8))
def test_every_page_is_handed_out_once_in_order_and_the_last_parts_are_short(count: int, jobs: int) -> None:
    parts = chunks(count, jobs)
    assert [part.start for part in parts[1:]] == [part.stop for part in parts[:-1]]
    assert (parts[0].start, parts[-1].stop) == (0, count) if count else parts == []
    sizes = [len(part) for part in parts]
    assert sizes == sorted(sizes, reverse=True)
    assert all(CHUNK <= size <= LONGEST_CHUNK for size in sizes[:-1])
    # Whoever ends first waits no longer than a part takes.
    assert not parts or sizes[-1] <= CHUNK or len(parts) == 1
