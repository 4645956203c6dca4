"""How pages are handed to processes."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from sitegen.edition.compose import compose_edition
from sitegen.edition.digests import packed_digest
from sitegen.edition.linked import linked_page
from sitegen.edition.models import Page
from sitegen.newsroom.keeping import MemoryAside
from sitegen.site.content import read_content
from sitegen.site.making import CHUNK, KINDS, LONGEST_CHUNK, Models, PackedPage, chunks
from tests.samples.page_models import STORY, sample_pages
from tests.samples.small_archive import write_archive


def unpacked(page: Page, frame_of: Page) -> Page:
    aside = MemoryAside()
    task = PackedPage(page.address, KINDS.index(type(page)), aside.put(packed_digest(page)[0]))
    return Models(lambda resting: STORY, lambda address, digest: False, aside, frame_of.frame).of(task)


@pytest.mark.parametrize("name", sorted(sample_pages()))
def test_a_model_that_was_put_aside_is_the_model_of_before(name: str) -> None:
    for page in (sample_pages()[name], linked_page(sample_pages()[name])):
        again = unpacked(page, page)
        assert again == page
        # By the frame itself the typesetter knows what it has set for others.
        assert again.frame is page.frame


def test_a_composed_model_comes_back_down_to_the_kinds_of_its_numbers(tmp_path: Path) -> None:
    """A page is set from it elsewhere, and is to have the same bytes."""
    newsroom = read_content(write_archive(tmp_path)).newsroom
    assert newsroom is not None
    pages = compose_edition(newsroom, datetime(2026, 12, 2, 17, tzinfo=UTC)).edition.pages
    assert len({type(page) for page in pages}) > 8
    for page in pages:
        again = unpacked(page, page)
        assert repr(again) == repr(page) and packed_digest(again) == packed_digest(page)


def test_another_frame_is_not_taken_for_the_frame_of_most_pages() -> None:
    other = replace(STORY, frame=replace(STORY.frame, programme="Another Hour"))
    assert unpacked(other, STORY) == other


def test_every_kind_of_page_is_among_the_samples() -> None:
    assert {type(page) for page in sample_pages().values()} == set(KINDS)


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
