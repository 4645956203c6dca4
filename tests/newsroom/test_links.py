"""A link that leads nowhere is told with the story that is meant, where only one can be."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.geography.shapes import read_map
from sitegen.newsroom.folder import read_newsroom
from tests.newsroom.whole_station import STORY, write_whole


@pytest.mark.parametrize(
    ("target", "says"),
    [
        ("2026/coat-closet.md", "instead: 2026/coat-closet"),
        ("once.md", "instead: 2026/once"),
        ("../2026/coat-closet.md", "instead: 2026/coat-closet"),
        ("content/stories/2026/coat-closet.md", "instead: 2026/coat-closet"),
        ("twice", "Did you mean"),
        ("", "whole address"),
    ],
)
def test_a_link_to_a_story_by_its_file(tmp_path: Path, target: str, says: str) -> None:
    files: dict[str, str | bytes | None] = {
        f"stories/{name}.md": STORY for name in ("2026/twice", "2025/twice", "2026/once")
    }
    files["stories/2026/links.md"] = f"{STORY.rstrip()}\n\nSee [it]({target}).\n"
    found = read_newsroom(write_whole(tmp_path, files), read_map).findings
    (told,) = [each for each in found if each.check == "unknown-story"]
    assert says in told.instead
