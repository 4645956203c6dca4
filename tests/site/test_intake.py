"""Intake from files: what is written, that nothing is ever written over, and what a newcomer is told."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from sitegen.cli import main
from tests.intake.test_drafts import COATS, captioned
from tests.samples.full_disk import no_file_above
from tests.samples.station_folder import write_folder


@pytest.fixture
def root(tmp_path: Path) -> Path:
    root = write_folder(tmp_path / "station")
    (root / "show-2026-11-21.vtt").write_text(captioned(*COATS), "utf-8")
    return root


def run(root: Path, *more: str, captions: str = "show-2026-11-21.vtt") -> int:
    return main(["intake", "--root", str(root), str(root / captions), *more])


def files(root: Path) -> dict[str, str]:
    return {
        path.relative_to(root).as_posix(): path.read_text("utf-8")
        for path in (root / "content").rglob("*.md")
    }


def test_an_episode_and_its_stories_are_written_once(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(root) == 0
    said = capsys.readouterr().out
    before = files(root)
    assert "content/episodes/2026-11-21.md" in before and len(before) == 2
    assert all(path in said for path in before)
    assert run(root) == 0
    assert files(root) == before
    assert "there already" in capsys.readouterr().out


def test_a_file_that_somebody_edited_is_never_touched(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(root) == 0
    path = root / next(path for path in files(root) if "stories" in path)
    path.write_text(path.read_text("utf-8").replace("hold: true", "hold: false"), "utf-8")
    other = root / "content/episodes/2026-11-21.md"
    other.write_text(other.read_text("utf-8") + "Words.\n", "utf-8")
    before = files(root)
    assert run(root) == 2
    assert files(root) == before
    assert "Nothing was written" in capsys.readouterr().err


@pytest.mark.parametrize("kind", ["full", "interrupted"])
def test_all_files_are_written_or_none_and_the_same_command_then_does_it(
    root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], kind: str
) -> None:
    other = write_folder(tmp_path / "other")
    (other / "show-2026-11-21.vtt").write_text(captioned(*COATS), "utf-8")
    assert run(other, "--stories", "2") == 0
    wanted = files(other)
    sizes = sorted(len(text.encode()) for text in wanted.values())
    assert len(sizes) == 3
    if kind == "full":
        with no_file_above(sizes[-1] - 1):
            assert run(root, "--stories", "2") == 3
        assert "Nothing was written" in capsys.readouterr().err
    else:
        with monkeypatch.context() as patched:
            link = os.link
            linked: list[Path] = []

            def stop_at_the_third(part: Path, target: Path) -> None:
                if len(linked) == 2:
                    raise KeyboardInterrupt
                linked.append(target)
                link(part, target)

            patched.setattr(os, "link", stop_at_the_third)
            assert run(root, "--stories", "2") == 3
            assert len(linked) == 2
    assert files(root) == {}
    assert run(root, "--stories", "2") == 0
    assert files(root) == wanted


def test_a_dry_run_writes_nothing(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(root, "--dry-run") == 0
    assert files(root) == {}
    assert "deadline: 2026-12-15" in capsys.readouterr().out


def test_json_holds_every_segment(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(root, "--format", "json", "--aired", "2026-11-21 18:30") == 0
    told = json.loads(capsys.readouterr().out)
    segment = told["segments"][0]
    assert {"start", "headline", "deadlines", "places", "numbers", "promises", "contacts"} <= segment.keys()
    assert [each["date"] for each in segment["deadlines"]] == ["2026-12-15"]
    assert [(each["name"], each["place"]) for each in segment["places"]] == [("Lowgate Hall", "lowgate-hall")]
    assert [each["said"] for each in told["promises"]] == [COATS[4]]
    assert [(each["role"], each["number"]) for each in segment["numbers"]] == [
        ("goal", 400),
        ("last_time", 210),
    ]
    assert [each["value"] for each in segment["contacts"]] == ["237-555-0142"]
    assert set(told["files"]["written"]) == set(files(root))


def test_a_rundown_names_the_stories(root: Path) -> None:
    (root / "rundown.csv").write_text("Slug,Start\nOPEN,0:00\nCOAT CLOSET,0:00:01\n", "utf-8")
    assert run(root, "--rundown", str(root / "rundown.csv")) == 0
    assert "content/stories/2026/coat-closet.md" in files(root)


@pytest.mark.parametrize(
    ("name", "data", "more", "says"),
    [
        ("missing.vtt", None, ["--aired", "2026-11-21"], "no file"),
        ("show.vtt", b"WEBVTT\n\n00:01.000 --> 00:02.000\nHello.\n", [], "--aired"),
        ("show.vtt", b"WEBVTT\n\n00:01.000 --> 00:02.000\nHello.\n", ["--aired", "soon"], "soon"),
        ("2026-11-21.vtt", b"", [], "no captions"),
        ("2026-11-21.vtt", b"\x81\x8d\x8f\x90\x9d", [], "UTF-8"),
        ("2026-11-21.ttml", b"<tt><body>", [], "line 1"),
    ],
)
def test_what_cannot_be_used_is_told(
    root: Path, name: str, data: bytes | None, more: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    if data is not None:
        (root / name).write_bytes(data)
    assert run(root, *more, captions=name) == 2
    told = capsys.readouterr()
    assert says in told.err and "Traceback" not in told.err
    assert files(root) == {}


def test_captions_of_older_tools_are_read(root: Path) -> None:
    (root / "2026-11-21.srt").write_bytes(
        "1\n00:00:01,000 --> 00:00:05,000\nA café in Lowgate wants cups.\n".encode("cp1252")
    )
    assert run(root, captions="2026-11-21.srt") == 0
    assert any("café" in text for text in files(root).values())


def test_the_example_of_the_manual_is_read(capsys: pytest.CaptureFixture[str]) -> None:
    checkout = Path(__file__).parents[2]
    sample = checkout / "tests" / "samples" / "broadcast"
    arguments = [
        "intake",
        "--root",
        str(checkout),
        str(sample / "ledger.srt"),
        "--rundown",
        str(sample / "ledger.csv"),
    ]
    assert main([*arguments, "--aired", "2026-12-05 18:00", "--dry-run", "--format", "json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert len(told["segments"]) == 10
    assert "2026-12-19" in [each["date"] for segment in told["segments"] for each in segment["deadlines"]]
    assert told["files"]["written"] == []


def test_the_number_of_stories_is_kept(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(root, "--stories", "2", "--dry-run", "--format", "json") == 0
    taken = json.loads(capsys.readouterr().out.split("\n=== ")[0])
    assert len(taken["segments"]) == 2


def test_a_rundown_goes_before_the_number_of_stories(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (root / "show.csv").write_text("slug,start\ncoats,0:00\n", "utf-8")
    assert run(root, "--rundown", str(root / "show.csv"), "--stories", "2", "--dry-run") == 0
    said = capsys.readouterr().out
    assert "1 stories, not 2" in said


@pytest.mark.parametrize("number", ["0", "-1", "many", "9999"])
def test_a_number_of_stories_that_cannot_be_is_told(
    root: Path, capsys: pytest.CaptureFixture[str], number: str
) -> None:
    try:
        code = run(root, f"--stories={number}")
    except SystemExit as stopped:
        code = int(stopped.code or 0)
    assert code == 2
    assert "stories" in capsys.readouterr().err
    assert files(root) == {}


def test_captions_of_sixteen_bits_without_a_mark_are_read(root: Path) -> None:
    text = "1\n00:00:01,000 --> 00:00:05,000\nA café in Lowgate wants cups.\n"
    (root / "2026-11-21.srt").write_bytes(text.encode("utf-16-le"))
    assert run(root, captions="2026-11-21.srt") == 0
    assert any("café" in text for text in files(root).values())


@pytest.mark.parametrize(
    ("data", "says"),
    [(b"\x89PNG\r\n\x1a\n", "a picture"), (b"PK\x03\x04ab", "spreadsheet"), (b"\0\0\0 ftypisom", "a video")],
)
def test_a_file_of_another_kind_is_named(
    root: Path, data: bytes, says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    (root / "other-2026-11-21").write_bytes(data)
    assert run(root, captions="other-2026-11-21") == 2
    assert says in capsys.readouterr().err
    assert run(root, "--rundown", str(root / "other-2026-11-21")) == 2
    assert says in capsys.readouterr().err


@pytest.mark.parametrize("rundown", ["", "slug,start\n", "slug,start\nopen,0:01\ncoats,4:00:00\n"])
def test_a_rundown_that_is_of_no_use_stops_all(
    root: Path, rundown: str, capsys: pytest.CaptureFixture[str]
) -> None:
    (root / "show.csv").write_text(rundown, "utf-8")
    assert run(root, "--rundown", str(root / "show.csv")) == 2
    assert "undown" in capsys.readouterr().err
    assert files(root) == {}
