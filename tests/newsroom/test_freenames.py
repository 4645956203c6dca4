"""What a file may be called instead: never what another is called, and each another name."""

from __future__ import annotations

import shutil
import unicodedata
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.geography.shapes import read_map
from sitegen.newsroom.folder import read_newsroom
from sitegen.newsroom.freenames import free_name, is_passed_over, looks_the_same
from sitegen.newsroom.slugs import is_slug
from tests.newsroom.whole_station import STORY, write_whole

COMPOSED, APART = (unicodedata.normalize(form, "café") for form in ("NFC", "NFD"))
NAMES = st.sets(
    st.tuples(st.text("Aaé-2 ", min_size=1, max_size=3), st.sampled_from([".md", ".MD", ".txt"])).map(
        "".join
    ),
    min_size=1,
    max_size=12,
)


@pytest.mark.parametrize(
    ("name", "beside", "good"),
    [
        ("Coats.md", ["Coats.md"], "coats.md"),
        ("Coats.md", ["Coats.md", "coats.md"], "coats-2.md"),
        ("Coats.md", ["Coats.md", "coats.md", "coats-2.md"], "coats-3.md"),
        ("coats.txt", ["coats.txt", "coats.md"], "coats-2.md"),
        ("coats.md", [], "coats.md"),
        ("coats.md", ["coats.md"], "coats-2.md"),
        ("🎈.md", ["🎈.md"], ""),
    ],
)
def test_a_name_that_is_free(name: str, beside: list[str], good: str) -> None:
    assert free_name(name, ".md", beside) == good


@given(NAMES)
def test_renaming_all_as_told_loses_none(beside: set[str]) -> None:
    stays = {name for name in beside if name.endswith(".md") and is_slug(name.removesuffix(".md"))}
    told = {name: free_name(name, ".md", beside) for name in beside - stays if not is_passed_over(name)}
    renamed = {name: good for name, good in told.items() if good}
    assert len({*renamed.values()} | stays) == len(renamed) + len(stays)
    assert all(is_slug(good.removesuffix(".md")) and good.endswith(".md") for good in renamed.values())


def test_names_that_look_the_same() -> None:
    assert looks_the_same(f"{COMPOSED}.jpg", [f"{APART}.jpg", "b.jpg"]) == f"{APART}.jpg"
    assert looks_the_same(f"{COMPOSED}.jpg", ["cafe.jpg", f"{COMPOSED}.jpg"]) == ""


def test_a_story_is_never_told_the_name_of_another(tmp_path: Path) -> None:
    odd = ("Coat-Closet.md", f"{COMPOSED}.md", f"{APART}.md", "🎈.md")
    reading = read_newsroom(write_whole(tmp_path, {f"stories/2026/{name}": STORY for name in odd}), read_map)
    instead = {
        Path(fault.spot.path).name: fault.instead for fault in reading.faults if fault.check == "file-name"
    }
    assert instead["Coat-Closet.md"] == "Rename it to 2026/coat-closet-2.md"
    cafes = {instead[f"{COMPOSED}.md"], instead[f"{APART}.md"]}
    assert cafes == {"Rename it to 2026/cafe.md", "Rename it to 2026/cafe-2.md"}
    assert "…" not in instead["🎈.md"] and "2026/" not in instead["🎈.md"]


def test_a_picture_whose_name_only_looks_the_same_gets_another(tmp_path: Path) -> None:
    text = STORY.replace("coat-closet.png", f"{COMPOSED}.png", 1)
    root = write_whole(tmp_path, {"stories/2026/coat-closet.md": text})
    shutil.copyfile(root / "content/photos/coat-closet.png", root / f"content/photos/{APART}.png")
    (fault,) = (each for each in read_newsroom(root, read_map).faults if each.check == "unknown-file")
    assert "Did you mean" not in fault.instead and fault.instead.endswith("write: cafe.png")
    (root / f"content/photos/{APART}.png").rename(root / "content/photos/cafe.png")
    (root / "content/stories/2026/coat-closet.md").write_text(
        text.replace(f"{COMPOSED}.png", "cafe.png"), "utf-8"
    )
    assert not [each for each in read_newsroom(root, read_map).faults if each.check == "unknown-file"]
