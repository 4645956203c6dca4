"""What is kept in memory counts for the very record it was worked out of."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from sitegen.newsroom.keeping import MemoryDrawer
from sitegen.site.content import read_content
from tests.samples.small_archive import write_archive


def test_what_is_kept_goes_with_its_record(tmp_path: Path) -> None:
    newsroom = read_content(write_archive(tmp_path / "station")).newsroom
    assert newsroom is not None
    story, other = newsroom.stories[:2]
    drawer = MemoryDrawer()
    assert drawer.take("words", story) is None
    drawer.put("words", story, b"one")
    drawer.put("words", other, b"two")
    assert (drawer.take("words", story), drawer.take("words", other)) == (b"one", b"two")
    assert drawer.take("dates", story) is None
    read_again = replace(story, headline="Another")
    assert drawer.take("words", read_again) is None
    drawer.put("words", read_again, b"three")
    assert drawer.take("words", story) is None and drawer.take("words", read_again) == b"three"
