"""Time passes even when copy is wrong, removals never wait, and silent edits are told."""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from sitegen import cli
from tests.samples.small_archive import MOMENT, run, site_of, write_archive
from tests.samples.station_folder import story

STORIES = "content/stories/2025"
AFTER_DEADLINE = "2025-12-16 00:00"
"""The coats' ask has ended, the lights are over."""


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A built station, in a present in which its files are old enough to be believed."""
    later = datetime.now(UTC).replace(microsecond=0) + timedelta(hours=1)
    monkeypatch.setattr(cli, "_present", lambda: later)
    station = write_archive(tmp_path / "station")
    assert run(station) == 0
    return station


def edit(root: Path, path: str, old: str, new: str) -> None:
    text = (root / path).read_text("utf-8")
    assert old in text
    (root / path).write_text(text.replace(old, new), "utf-8")


def break_something(root: Path) -> None:
    (root / STORIES / "broken.md").write_text(story("cuonty: Gull Bank"), "utf-8")


def test_a_fault_keeps_new_copy_out_and_lets_time_pass(root: Path, tmp_path: Path) -> None:
    clean = write_archive(tmp_path / "clean")
    assert run(clean, moment=AFTER_DEADLINE) == 0
    break_something(root)
    edit(root, f"{STORIES}/lights.md", "Lights.", "New words of the same story.")
    assert run(root, moment=AFTER_DEADLINE) == 1
    assert site_of(root) == site_of(clean)


def test_a_fault_at_the_same_moment_changes_nothing(root: Path) -> None:
    before = site_of(root)
    break_something(root)
    assert run(root) == 1
    assert site_of(root) == before


def test_a_folder_that_cannot_be_read_takes_nothing_back(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = site_of(root)
    scandir = os.scandir

    def refusing(path: str | int) -> Iterator[os.DirEntry[str]]:
        if str(path) == str(root / STORIES):
            raise PermissionError(13, "Permission denied", path)
        return scandir(path)

    monkeypatch.setattr(os, "scandir", refusing)
    assert run(root) == 1
    monkeypatch.undo()
    assert site_of(root) == before


def test_content_that_is_elsewhere_takes_nothing_back(root: Path) -> None:
    before = site_of(root)
    (root / "content").rename(root / "away")
    (root / "content").mkdir()
    assert run(root) == 1
    assert site_of(root) == before


def test_a_link_in_place_of_the_stories_takes_nothing_back(root: Path) -> None:
    before = site_of(root)
    (root / "content/stories").rename(root / "stories")
    (root / "content/stories").symlink_to(root / "stories", target_is_directory=True)
    assert run(root) == 1
    assert site_of(root) == before
    (root / "content/stories").unlink()
    (root / "stories").rename(root / "content/stories")
    edit(root, f"{STORIES}/lights.md", "Lights.", "New words.")
    assert run(root) == 0


def test_a_deleted_story_leaves_although_another_has_a_fault(root: Path) -> None:
    assert any("lights" in path for path in site_of(root))
    (root / STORIES / "lights.md").unlink()
    break_something(root)
    assert run(root) == 1
    assert not any("2025/lights" in path for path in site_of(root))


def test_a_file_that_became_a_folder_is_kept_as_one(root: Path) -> None:
    folder = root / "content/pages/help.md"
    folder.parent.mkdir(exist_ok=True)
    folder.write_text("---\ntitle: Help\nsummary: Who helps.\n---\n\nAsk us.\n", "utf-8")
    assert run(root) == 0
    folder.unlink()
    (root / "build/accepted/content/pages/help.md").unlink()
    (root / "build/accepted/content/pages/help.md").mkdir()
    assert run(root) == 0
    folder.write_text("---\ntitle: Help\nsummary: Who helps.\n---\n\nAsk us again.\n", "utf-8")
    assert run(root) == 0
    break_something(root)
    before = site_of(root)
    assert run(root) == 1 and site_of(root) == before


def of_another(root: Path) -> Path:
    """The station made another one."""
    for old, new in (
        (r"(?m)^station: .*$", "station: Gull Point Television"),
        (r"(?m)^programme: .*$", "programme: Gull Tidings"),
        (r"(?m)^address: .*$", "address: https://www.example.org/gull/"),
    ):
        edit_by(root / "content/station.yaml", old, new)
    return root


def edit_by(path: Path, pattern: str, new: str) -> None:
    text, count = re.subn(pattern, new, path.read_text("utf-8"))
    assert count == 1
    path.write_text(text, "utf-8")


@pytest.mark.parametrize("what_is_kept_is_there", [True, False])
def test_another_stations_site_is_not_replaced(
    root: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], what_is_kept_is_there: bool
) -> None:
    out, other = tmp_path / "www", of_another(write_archive(tmp_path / "other"))
    assert run(root, "--out", str(out)) == 0
    if not what_is_kept_is_there:
        shutil.rmtree(tmp_path / "www.sitegen")
    before = {path: path.read_bytes() for path in out.rglob("*") if path.is_file()}
    capsys.readouterr()
    assert run(other, "--out", str(out)) == 2
    assert "https://www.example.org/gull/" in capsys.readouterr().err
    (other / "content/station.yaml").write_text("station: [", "utf-8")
    (other / STORIES / "help.md").unlink()
    assert run(other, "--out", str(out)) == 1
    assert {path: path.read_bytes() for path in out.rglob("*") if path.is_file()} == before


def test_a_station_may_change_its_address(root: Path, tmp_path: Path) -> None:
    out, site = tmp_path / "www", root / "build/site"
    assert run(root, "--out", str(out)) == 0
    # Of a copy of the station elsewhere, whose names are the same.
    copy = write_archive(tmp_path / "copy")
    edit_by(copy / "content/station.yaml", r"(?m)^address: .*$", "address: https://www.example.com/new/")
    assert run(copy, "--out", str(out)) == 0
    # In its own folder, together with all its names.
    assert run(of_another(copy), "--out", str(out)) == 0
    assert run(of_another(root)) == 0
    assert b"example.org/gull" in (site / "manifest.json").read_bytes()


def test_a_station_file_that_cannot_be_read_lets_time_pass(root: Path, tmp_path: Path) -> None:
    clean = write_archive(tmp_path / "clean")
    assert run(clean, moment=AFTER_DEADLINE) == 0
    (root / "content/station.yaml").write_text("station: [", "utf-8")
    assert run(root, moment=AFTER_DEADLINE) == 1
    assert site_of(root) == site_of(clean)


def test_without_accepted_content_the_site_stays_as_it_is(root: Path) -> None:
    before = site_of(root)
    (root / "build/accepted/unfinished").touch()
    break_something(root)
    assert run(root, moment=AFTER_DEADLINE) == 1
    assert site_of(root) == before


@pytest.mark.parametrize(
    "damage",
    [Path.unlink, lambda copy: copy.write_bytes(copy.read_bytes()[:-20])],
    ids=["lost", "cut short"],
)
@pytest.mark.parametrize("path", ["stories/2025/help.md", "places/lowgate-hall.yaml"])
def test_accepted_content_that_lost_a_file_takes_nothing_back(
    root: Path, path: str, damage: Callable[[Path], object]
) -> None:
    before = site_of(root)
    copy = root / "build/accepted/content" / path
    damage(copy)
    break_something(root)
    assert run(root) == 1
    assert site_of(root) == before
    # A build that succeeds copies it again, and then time passes as ever.
    (root / STORIES / "broken.md").unlink()
    edit(root, "content/pages/about.md", "Who we are.", "Who we are now.")
    assert run(root) == 0
    assert copy.read_bytes() == (root / "content" / path).read_bytes()
    break_something(root)
    assert run(root, moment=AFTER_DEADLINE) == 1
    assert site_of(root) != before and any("2025/lights" in name for name in site_of(root))


def test_a_file_that_nothing_reads_may_be_unreadable(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    closed = root / "content/budget.xlsx"
    closed.write_bytes(b"figures")
    edit(root, f"{STORIES}/lights.md", "Lights.", "New words.")
    opened, copied = Path.open, shutil.copyfile

    def refusing(path: Path, *more: Any, **options: Any) -> Any:
        if path == closed:
            raise PermissionError(13, "Permission denied", str(path))
        return opened(path, *more, **options)

    def refusing_copy(source: Path, target: Path) -> Path:
        if source == closed:
            raise PermissionError(13, "Permission denied", str(source))
        return copied(source, target)

    monkeypatch.setattr(Path, "open", refusing)
    monkeypatch.setattr(shutil, "copyfile", refusing_copy)
    assert run(root) == 0
    break_something(root)
    assert run(root, moment=AFTER_DEADLINE) == 1
    page = site_of(root)["stories/2025/lights/index.html"]
    assert b"New words." in page and b"5-9\xc2\xa0p.m." not in page


def test_what_cannot_be_copied_is_named(
    root: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    edit(root, f"{STORIES}/lights.md", "Lights.", "New words.")
    monkeypatch.setattr(shutil, "copyfile", lambda source, _: raise_full(source))
    assert run(root) == 3
    assert f"{STORIES}/lights.md" in capsys.readouterr().err


def raise_full(source: Path) -> None:
    raise OSError(28, "No space left on device", str(source))


def test_after_the_fault_is_mended_the_new_copy_comes(root: Path, tmp_path: Path) -> None:
    break_something(root)
    assert run(root, moment=AFTER_DEADLINE) == 1
    (root / STORIES / "broken.md").unlink()
    edit(root, f"{STORIES}/lights.md", "Lights.", "New words.")
    assert run(root) == 0
    assert b"New words." in site_of(root)["stories/2025/lights/index.html"]


@pytest.mark.parametrize(
    ("path", "old", "new", "gone"),
    [
        ("lights.md", "headline:", "hold: true\nheadline:", b"5-9\xc2\xa0p.m."),
        ("lights.md", "headline:", "embargo: 2025-12-01\nheadline:", b"5-9\xc2\xa0p.m."),
        (
            "lights.md",
            "headline:",
            "withdrawn: {date: 2025-11-25, notice: Gone.}\nheadline:",
            b"5-9\xc2\xa0p.m.",
        ),
        (
            "lights.md",
            "    kind: go",
            "    kind: go\n    stopped: {when: 2025-11-25, say: off}",
            b"5-9\xc2\xa0p.m.",
        ),
        ("../../places/lowgate-hall.yaml", "name:", "address: withheld\nname:", b"4 Pier Lane"),
        ("../../episodes/2025-11-21.md", "title:", "hold: true\ntitle:", b"Coats and lights"),
    ],
)
def test_a_removal_does_not_wait_for_somebody_elses_typo(
    root: Path, path: str, old: str, new: str, gone: bytes
) -> None:
    assert any(gone in body for body in site_of(root).values())
    break_something(root)
    edit(root, f"{STORIES}/{path}", old, new)
    assert run(root) == 1
    assert not any(gone in body for body in site_of(root).values())


def test_a_deleted_story_does_not_wait_either(root: Path) -> None:
    break_something(root)
    (root / STORIES / "lights.md").unlink()
    assert run(root) == 1
    assert "stories/2025/lights/index.html" not in site_of(root)


def test_an_ask_that_cannot_be_read_is_not_taken_for_a_deleted_one(root: Path) -> None:
    before = site_of(root)
    edit(root, f"{STORIES}/coats.md", "kind: bring", "kind: brnig")
    assert run(root) == 1
    assert site_of(root) == before


@pytest.mark.parametrize(
    ("path", "old", "new", "values"),
    [
        (f"{STORIES}/coats.md", "deadline: 2025-12-15", "deadline: 2025-12-12", ("2025-12-15", "2025-12-12")),
        (f"{STORIES}/help.md", "237-555-0107", "237-555-0108", ("237-555-0107", "237-555-0108")),
        ("content/places/lowgate-hall.yaml", "4 Pier Lane", "6 Pier Lane", ("4 Pier Lane", "6 Pier Lane", "2025/coats", "2025/lights")),
        ("content/places/lowgate-hall.yaml", "09:00-17:00", "10:00-17:00", ("09:00", "10:00", "2025/coats")),
    ],
)  # fmt: skip
def test_a_silent_edit_is_told_with_both_values(
    root: Path,
    capsys: pytest.CaptureFixture[str],
    path: str,
    old: str,
    new: str,
    values: tuple[str, ...],
) -> None:
    edit(root, path, old, new)
    capsys.readouterr()
    proof = ["proof", "--root", str(root), "--as-of", MOMENT, "--jobs", "1"]
    assert cli.main(proof) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "silent-edit" in said or "without a correction" in said or "stories:" in said
    assert all(value in said for value in values)
    assert run(root) == 0
    said = " ".join(capsys.readouterr().out.split())  # once it is published no proof can tell it any more
    assert all(value in said for value in values)
    assert cli.main(proof) == 0
    assert values[0] not in " ".join(capsys.readouterr().out.split())


def proof_of(root: Path, capsys: pytest.CaptureFixture[str]) -> str:
    """What the proof says, with single spaces."""
    capsys.readouterr()
    assert cli.main(["proof", "--root", str(root), "--as-of", MOMENT, "--jobs", "1"]) == 0
    return " ".join(capsys.readouterr().out.split())


def test_a_moved_file_is_told_until_its_old_address_is_kept(
    root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (root / STORIES / "help.md").rename(root / STORIES / "meals.md")
    said = proof_of(root, capsys)
    assert "old_addresses: [/stories/2025/help/]" in said
    edit(root, f"{STORIES}/meals.md", "asks:", "old_addresses: [/stories/2025/help/]\nasks:")
    assert "leads nowhere" not in proof_of(root, capsys)


def test_a_file_that_cannot_be_read_is_not_taken_for_a_moved_one(
    root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = (root / STORIES / "help.md").read_text("utf-8")
    (root / STORIES / "meals.md").write_text(text, "utf-8")
    (root / STORIES / "help.md").write_text("---\nheadline: [\n---\n", "utf-8")
    capsys.readouterr()
    assert cli.main(["proof", "--root", str(root), "--as-of", MOMENT, "--jobs", "1"]) == 1
    assert "leads nowhere" not in capsys.readouterr().out


@pytest.mark.parametrize(
    ("path", "old", "new"),
    [
        (f"{STORIES}/coats.md", "[lowgate-hall]", "[lowgate-hal]"),
        (f"{STORIES}/coats.md", "deadline: 2025-12-15", "deadline: 2025-12-35"),
        ("content/places/lowgate-hall.yaml", "name: Lowgate Hall", "name: [Lowgate Hall"),
        ("content/places/lowgate-hall.yaml", "09:00-17:00", "09:00-25:00"),
    ],
)
def test_what_cannot_be_read_is_no_silent_edit(
    root: Path, capsys: pytest.CaptureFixture[str], path: str, old: str, new: str
) -> None:
    edit(root, path, old, new)
    edit(root, f"{STORIES}/coats.md", "See [the", "Look at [the")
    capsys.readouterr()
    assert cli.main(["proof", "--root", str(root), "--as-of", MOMENT, "--jobs", "1"]) == 1
    assert "without a correction" not in capsys.readouterr().out


def test_a_story_that_has_its_air_date_from_a_rundown_is_compared_too(
    root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    edit(root, f"{STORIES}/lights.md", "aired: 2025-11-21\n", "")
    assert run(root) == 0
    edit(root, f"{STORIES}/lights.md", "dates: 2025-11-28..2025-12-02", "dates: 2025-11-29..2025-12-02")
    said = proof_of(root, capsys)
    assert "2025-11-28..2025-12-02" in said
    assert "2025-11-29..2025-12-02" in said


def test_a_correction_makes_an_edit_an_open_one(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    edit(root, f"{STORIES}/coats.md", "deadline: 2025-12-15", "deadline: 2025-12-12")
    edit(
        root,
        f"{STORIES}/coats.md",
        "corrections:\n",
        "corrections:\n  - {date: 2025-11-26, text: The drive ends earlier.}\n",
    )
    capsys.readouterr()
    assert cli.main(["proof", "--root", str(root), "--as-of", MOMENT, "--jobs", "1"]) == 0
    assert "without a correction" not in capsys.readouterr().out


# --- names that are not UTF-8 ----------------------------------------------------------------


@pytest.mark.parametrize("name", [b"lat\xe9n", "ñandú".encode()])
def test_a_station_may_lie_in_a_folder_of_any_name(tmp_path: Path, name: bytes) -> None:
    root = write_archive(Path(os.fsdecode(os.fsencode(tmp_path) + b"/" + name)))
    assert run(root) == 0
    before = site_of(root)
    break_something(root)
    assert run(root, moment=AFTER_DEADLINE) == 1
    assert site_of(root) != before  # what was accepted is known for this station's


def test_a_file_of_any_name_may_lie_in_content(tmp_path: Path) -> None:
    root, clean = write_archive(tmp_path / "station"), write_archive(tmp_path / "clean")
    folder = root / "content" / "photos"
    folder.mkdir(exist_ok=True)
    Path(os.fsdecode(os.fsencode(folder) + b"/caf\xe9.jpg")).write_bytes(b"x")
    assert run(root) == run(clean) == 0
    assert run(root, moment=AFTER_DEADLINE) == run(clean, moment=AFTER_DEADLINE) == 0
    assert site_of(root) == site_of(clean)
