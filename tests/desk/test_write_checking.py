"""What the form says of a file is what the proof would say of it once it was saved."""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path

import pytest

from sitegen.desk.write.checking import check
from sitegen.newsroom.editing import read_document, rewrite
from sitegen.newsroom.forms import FORMS, form_for
from sitegen.newsroom.records import Finding, Reading
from sitegen.proof.copycheck import check_copy
from sitegen.site.content import read_content

DEMONSTRATION = Path(__file__).parents[2] / "content"
AS_OF = datetime(2026, 12, 2, 17, tzinfo=UTC)
COATS = "content/stories/2026/coat-closet.md"

CHANGES: Mapping[str, tuple[str, str, str]] = {
    "nothing": (COATS, "", ""),
    "unknown county": (COATS, "county: Tidewick", "county: Tidewik"),
    "no headline": (COATS, "headline: A", "summary2: A"),
    "unknown place": (COATS, "- millrace-library\n", "- millrace-librarie\n"),
    "story that follows nothing": (COATS, "follows: 2025/coat-closet", "follows: 2025/coats"),
    "link to no story": (COATS, "](2025/coat-closet)", "](2025/coats)"),
    "phone in the text": (COATS, "The closet that began", "Call 237-555-0142. The closet that began"),
    "relative time": (COATS, "The closet that began", "This Saturday the closet that began"),
    "word that sounds alike": ("content/stories/2026/boathouse-slip.md", "say_on_air: slipway", "say_on_air: lites"),
    "deadline that outlives the doors": (COATS, "deadline: 2026-12-15", "deadline: 2026-12-13"),
    "translation of itself": (COATS, "follows: 2025", "translates: 2026/coat-closet\nfollows: 2025"),
    "yaml that ends early": (COATS, "topics: [clothing, libraries, neighbors]", "topics: [clothing"),
    "captions that are not there": (COATS, "captions: coats.vtt", "captions: coat.vtt"),
    "place outside its county": ("content/places/millrace-library.yaml", "[35.024, -60.338]", "[34.0, -60.338]"),
    "place with odd hours": ("content/places/millrace-library.yaml", "hours: \"Mo-Th", "hours: \"Mon-Th"),
    "place without a name": ("content/places/millrace-library.yaml", "name: Millrace Library\n", ""),
    "promise of no story": ("content/episodes/2026-11-21.md", "kept_by: 2026/coat-closet", "kept_by: 2026/coats"),
    "episode without a date": ("content/episodes/2026-11-21.md", "aired: 2026", "aired: soon 2026"),
    "page with a picture": ("content/pages/about.md", "---\n", "---\nlanguage: nope!\n"),
}  # fmt: skip


@pytest.fixture(scope="module")
def before() -> Reading:
    return read_content(DEMONSTRATION.parent)


def whole(root: Path, path: str) -> set[Finding]:
    """What reading everything and checking everything says of one file."""
    reading = read_content(root)
    assert reading.newsroom is not None
    return {
        finding
        for finding in (*reading.findings, *check_copy(reading.newsroom, AS_OF))
        if finding.spot.path == path
    }


@pytest.mark.parametrize("name", CHANGES)
def test_it_says_what_the_proof_would_say(tmp_path: Path, before: Reading, name: str) -> None:
    path, old, new = CHANGES[name]
    text = (DEMONSTRATION.parent / path).read_text("utf-8")
    assert old in text
    text = text.replace(old, new, 1)
    found = {
        finding
        for finding in check(DEMONSTRATION.parent, before, AS_OF, path, text)
        if finding.spot.path == path
    }
    shutil.copytree(DEMONSTRATION, tmp_path / "content")
    (tmp_path / path).write_text(text, "utf-8")
    assert found == whole(tmp_path, path)


def test_most_changes_are_noticed(before: Reading) -> None:
    quiet = []
    for name, (path, old, new) in CHANGES.items():
        text = (DEMONSTRATION.parent / path).read_text("utf-8").replace(old, new, 1)
        if not check(DEMONSTRATION.parent, before, AS_OF, path, text):
            quiet.append(name)
    assert quiet == ["nothing"]


def test_every_file_of_the_demonstration_is_judged_as_in_the_whole(before: Reading) -> None:
    assert before.newsroom is not None
    copy = check_copy(before.newsroom, AS_OF)
    for file in sorted(DEMONSTRATION.rglob("*.*"))[::3]:
        path = file.relative_to(DEMONSTRATION.parent).as_posix()
        if form_for(path) is not None:
            found = set(check(DEMONSTRATION.parent, before, AS_OF, path, file.read_text("utf-8")))
            assert found == {each for each in (*before.findings, *copy) if each.spot.path == path}, path


def test_a_check_changes_nothing_on_the_disk(before: Reading, tmp_path: Path) -> None:
    shutil.copytree(DEMONSTRATION, tmp_path / "content")
    check(tmp_path, before, AS_OF, "content/stories/2026/new.md", "---\nheadline: New\n---\n")
    assert not (tmp_path / "content/stories/2026/new.md").exists()


def test_a_held_story_is_read_and_not_judged_as_copy(before: Reading) -> None:
    text = (DEMONSTRATION.parent / COATS).read_text("utf-8")
    values = read_document(text, True).values
    held = rewrite(
        text, True, {**values, "hold": "true", "headline": "This Saturday"}, None, FORMS["story"].layout
    )
    assert not check(DEMONSTRATION.parent, before, AS_OF, COATS, held)


def test_a_translation_is_held_against_what_it_tells(tmp_path: Path) -> None:
    again = "content/stories/2026/abrigos.md"
    shutil.copytree(DEMONSTRATION, tmp_path / "content")
    text = (tmp_path / COATS).read_text("utf-8")
    (tmp_path / COATS).write_text(text.replace("headline:", "hold: true\nheadline:", 1), "utf-8")
    written = "---\nheadline: Abrigos\naired: 2026-11-21\ncounty: Tidewick\nlanguage: es\ntranslates: 2026/coat-closet\n---\nAbrigos.\n"
    (tmp_path / again).write_text(written, "utf-8")
    found = check(tmp_path, read_content(tmp_path), AS_OF, again, written)
    assert "translation-alone" in {each.check for each in found}
    assert set(found) == whole(tmp_path, again)


@pytest.mark.parametrize(
    ("told", "places", "bodies"),
    [
        (
            "place-twice",
            ("Shed, hours: Mo-Fr 09:00-17:00", "Shed, hours: Mo-Fr 09:00-16:00"),
            ("Soup.", "Broth."),
        ),
        (
            "text-copied",
            ("Shed, hours: unknown", "Mill, hours: unknown"),
            ("Soup is cooked in the shed behind the mill.",) * 2,
        ),
    ],
)
def test_places_and_texts_are_held_against_those_of_other_stories(
    tmp_path: Path, told: str, places: tuple[str, str], bodies: tuple[str, str]
) -> None:
    ask = "asks:\n  - {title: Bring soup, kind: bring, deadline: 2026-12-20, drop_off: [{town: Millrace, county: Tidewick, name: "
    written = [
        f"---\nheadline: Soup\naired: 2026-11-21\ncounty: Tidewick\n{ask}{place}}}]}}\n---\n{body}\n"
        for place, body in zip(places, bodies, strict=True)
    ]
    shutil.copytree(DEMONSTRATION, tmp_path / "content")
    for name, text in zip("ab", written, strict=True):
        (tmp_path / f"content/stories/2026/soup-{name}.md").write_text(text, "utf-8")
    path = "content/stories/2026/soup-b.md"
    found = check(tmp_path, read_content(tmp_path), AS_OF, path, written[1])
    assert {"place-twice", "text-copied"} & {each.check for each in found} == {told}
    assert set(found) == whole(tmp_path, path)
