"""Where keys stand: what is written down of them is read back."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from sitegen.newsroom.records import Origin, Spot

KEYS = st.lists(
    st.tuples(st.from_regex(r"[a-z_]+", fullmatch=True), st.integers(1, 100_000), st.integers(1, 10_000)),
    unique_by=lambda key: key[0],
    max_size=12,
)


@given(KEYS)
def test_every_key_has_the_spot_that_it_was_written_at(keys: list[tuple[str, int, int]]) -> None:
    here = Spot("content/stories/2026/coats.md", 1, 1)
    origin = Origin.at(here, keys)
    assert origin.written == tuple(name for name, _, _ in keys)
    for name, line, column in keys:
        assert origin.of(name) == Spot(here.path, line, column)
    assert origin.of("Unwritten") == here


def test_a_record_without_keys_stands_where_it_stands() -> None:
    assert Origin(Spot("a.md", 3, 5)).of("title") == Spot("a.md", 3, 5)
    assert Origin(Spot("a.md", 3, 5)).written == ()
