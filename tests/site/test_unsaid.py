"""The accepted content asked for again and again is what it would be when read anew, and only what is missing is read."""

from __future__ import annotations

import os
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from sitegen.site.accepted import Accepted
from sitegen.site.content import read_content
from sitegen.site.order import look, workshop_for
from sitegen.site.unsaid import Unsaid
from tests.samples.station_folder import asking, story, write_folder

AS_OF = datetime(2026, 12, 2, 17, tzinfo=UTC)
SOON = timedelta(minutes=1)
EPISODE = "---\naired: 2026-11-21 18:30\nrundown:\n  - {story: 2026/b}\n---\n"
FILES = {
    "stories/2026/a.md": story(asking(more="deadline: 2026-12-15")),
    "stories/2026/b.md": story(asking(title="Bring a hat", more="deadline: 2026-12-15")).replace(
        "aired: 2026-11-21\n", ""
    ),
    "stories/2026/c.md": story(asking(title="Bring a book", more="deadline: 2026-12-15")),
    "episodes/2026-11-21.md": EPISODE,
}


@pytest.fixture
def root(tmp_path: Path) -> Path:
    write_folder(tmp_path, FILES)
    for path in (tmp_path / "content").rglob("*"):
        os.utime(path, (1_700_000_000, 1_700_000_000))
    accept(tmp_path)
    return tmp_path


def accept(root: Path) -> None:
    accepted = Accepted(workshop_for(root, None).accepted)
    sources = look(root, datetime.now(UTC) + SOON)
    accepted.begin(sources)
    accepted.finish(root, sources)


def edit(root: Path, path: str, old: str, new: str) -> None:
    text = (root / "content" / path).read_text("utf-8")
    assert old in text
    (root / "content" / path).write_text(text.replace(old, new), "utf-8")


def test_asked_again_it_says_what_a_first_asking_would(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[frozenset[str] | None] = []
    read = Accepted.read

    def noted(self: Accepted, only: frozenset[str] | None = None):  # type: ignore[no-untyped-def]
        asked.append(only)
        return read(self, only)

    accepted = Accepted(workshop_for(root, None).accepted)
    kept = Unsaid(accepted, root)
    for path, old, new, found in (
        ("stories/2026/a.md", "2026-12-15", "2026-12-16", 1),
        ("stories/2026/a.md", "2026-12-16", "2026-12-17", 1),
        ("stories/2026/b.md", "2026-12-15", "2026-12-16", 2),
        ("places/lowgate-hall.yaml", "17:00", "12:00", 3),
        ("stories/2026/a.md", "2026-12-17", "2026-12-15", 2),
        ("episodes/2026-11-21.md", "2026-11-21", "2026-11-22", 2),
    ):
        edit(root, path, old, new)
        reading, sources = read_content(root), look(root, datetime.now(UTC) + SOON)
        fresh = Unsaid(accepted, root).findings(reading, sources, AS_OF)
        monkeypatch.setattr(Accepted, "read", noted)
        assert kept.findings(reading, sources, AS_OF) == fresh
        monkeypatch.undo()
        assert len(fresh) == found, (path, new)
    names = [{path.rpartition("/")[2] for path in only or ()} for only in asked]
    assert names[0] == {"a.md"}
    assert names[1] >= {"b.md", "2026-11-21.md"}  # the episode says when it aired
    assert names[2] == {"lowgate-hall.yaml"}
    assert len(names) == 3  # nothing else was to be read


def test_what_another_build_accepted_is_read_anew(root: Path) -> None:
    kept = Unsaid(Accepted(workshop_for(root, None).accepted), root)
    edit(root, "stories/2026/a.md", "2026-12-15", "2026-12-16")
    assert len(kept.findings(read_content(root), look(root, datetime.now(UTC) + SOON), AS_OF)) == 1
    accept(root)
    assert kept.findings(read_content(root), look(root, datetime.now(UTC) + SOON), AS_OF) == ()


def test_content_of_which_a_build_is_unfinished_is_not_believed(root: Path) -> None:
    accepted = Accepted(workshop_for(root, None).accepted)
    kept = Unsaid(accepted, root)
    edit(root, "stories/2026/a.md", "2026-12-15", "2026-12-16")
    reading, sources = read_content(root), look(root, datetime.now(UTC) + SOON)
    assert len(kept.findings(reading, sources, AS_OF)) == 1
    accepted.begin(sources)
    assert kept.findings(reading, sources, AS_OF) == ()


def test_a_file_that_was_only_touched_is_not_read_anew(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for path in (root / "content").rglob("*"):
        os.utime(path)
    edit(root, "stories/2026/a.md", "2026-12-15", "2026-12-16")
    kept = Unsaid(Accepted(workshop_for(root, None).accepted), root)
    asked: list[frozenset[str] | None] = []
    read = Accepted.read

    def noted(self: Accepted, only: frozenset[str] | None = None):  # type: ignore[no-untyped-def]
        asked.append(only)
        return read(self, only)

    monkeypatch.setattr(Accepted, "read", noted)
    sources = look(root, datetime.now(UTC) + SOON)
    assert len(kept.findings(read_content(root), sources, AS_OF)) == 1
    assert asked == [frozenset({"content/stories/2026/a.md"})]
    # What was the same is the same no more once it is written to.
    edit(root, "stories/2026/c.md", "2026-12-15", "2026-12-16")
    assert len(kept.findings(read_content(root), look(root, datetime.now(UTC) + SOON), AS_OF)) == 2


def test_what_was_the_same_is_looked_at_again_once_something_else_is_accepted(root: Path) -> None:
    for path in (root / "content").rglob("*"):
        os.utime(path)
    accepted = Accepted(workshop_for(root, None).accepted)
    kept = Unsaid(accepted, root)
    sources = look(root, datetime.now(UTC) + SOON)
    assert kept.findings(read_content(root), sources, AS_OF) == ()
    # As when what another machine accepted is put here.
    edit(accepted.folder, "stories/2026/c.md", "2026-12-15", "2026-12-16")
    listed = accepted.folder / "states"
    (listed.with_name("other")).write_bytes(listed.read_bytes())
    (listed.with_name("other")).replace(listed)
    assert len(kept.findings(read_content(root), sources, AS_OF)) == 1
