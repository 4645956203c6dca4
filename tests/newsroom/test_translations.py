"""Stories told in another language: what `translates` may name."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.site.content import read_content
from tests.samples.station_folder import story, write_folder

FIRST = story()
SPANISH = story("language: es\ntranslates: 2026/a")


def checks(root: Path, files: dict[str, str]) -> list[tuple[str, str, int]]:
    faults = read_content(write_folder(root, files)).faults
    return [(fault.check, fault.spot.path, fault.spot.line) for fault in faults]


def test_a_translation_into_another_language_is_sound(tmp_path: Path) -> None:
    assert not checks(tmp_path, {"stories/2026/a.md": FIRST, "stories/2026/b.md": SPANISH})


@pytest.mark.parametrize(
    ("front", "check"),
    [
        ("translates: 2026/a", "translation"),
        ("language: en-us\ntranslates: 2026/a", "translation"),
        ("language: fr\ntranslates: 2026/b", "translation"),
        ("language: fr\ntranslates: 2026/c", "translation"),
        ("language: fr\ntranslates: 2026/nowhere", "unknown-story"),
    ],
    ids=["no language of its own", "the station's language", "of a translation", "of itself", "of nothing"],
)
def test_what_is_no_translation_is_a_located_fault(tmp_path: Path, front: str, check: str) -> None:
    files = {
        "stories/2026/a.md": FIRST,
        "stories/2026/b.md": SPANISH,
        "stories/2026/c.md": story(front),
    }
    line = 4 + front.count("\n") + 1
    assert checks(tmp_path, files) == [(check, "content/stories/2026/c.md", line)]
