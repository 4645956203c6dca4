"""The commands as a newcomer types them: exit statuses, what is said where, and that a mistake is never a traceback."""

from __future__ import annotations

import io
import json
import os
import shutil
import subprocess
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from sitegen import cli
from sitegen.cli import main
from tests.samples.station_folder import STATION, asking, story, write_folder

NOW = ["--as-of", "2026-11-24 12:00"]


@pytest.fixture
def root(tmp_path: Path) -> Path:
    files = {"stories/2026/coats.md": story(asking() + "say_on_air: coats")}
    return write_folder(tmp_path / "station", files)


def run(*words: object, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "sitegen", *map(str, words)],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, **environment},
        timeout=120,
    )


def tree(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()
    }


def test_build_publishes_and_says_until_when(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["build", "--root", str(root), *NOW]) == 0
    said = capsys.readouterr().out
    assert "2026-12" in said and (root / "build/site/stories/2026/coats/index.html").is_file()


def test_second_build_of_the_same_moment_touches_no_file(root: Path) -> None:
    assert main(["build", "--root", str(root), *NOW]) == 0
    before = {path: path.stat().st_mtime_ns for path in (root / "build/site").rglob("*")}
    assert main(["build", "--root", str(root), *NOW]) == 0
    assert {path: path.stat().st_mtime_ns for path in (root / "build/site").rglob("*")} == before


def test_fault_keeps_the_old_site_and_exits_1(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["build", "--root", str(root), *NOW]) == 0
    before = tree(root / "build/site")
    write_folder(root, {"stories/2026/broken.md": story("cuonty: Gull Bank")})
    capsys.readouterr()
    assert main(["build", "--root", str(root), *NOW]) == 1
    assert "content/stories/2026/broken.md:5:1: fault" in capsys.readouterr().out
    assert tree(root / "build/site") == before


def test_page_that_fails_its_checks_is_not_published(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A theme of one's own that forgets the page's language."""
    own = root / "themes" / "tidetable"
    shipped = Path(__file__).parent.parent / "themes" / "tidetable"
    for path in shipped.rglob("*"):
        if path.is_file():
            target = own / path.relative_to(shipped)
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(path.read_bytes())
    frame = own / "templates" / "frame.html"
    frame.write_text(frame.read_text("utf-8").replace("<html lang=", "<html data-lang="), "utf-8")
    assert main(["build", "--root", str(root), *NOW]) == 1
    assert "3.1.1" in capsys.readouterr().out
    assert not (root / "build/site").exists()


def test_folder_without_content_is_wrong_usage(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for command in ("build", "proof", "due"):
        assert main([command, "--root", str(tmp_path)]) == 2
        assert "--root" in capsys.readouterr().err


@pytest.mark.parametrize(
    "moment", ["yesterday", "2026-13-01", "2026-03-08 02:30", "2026-11-24 25:00", "Nov. 24, 2026"]
)
def test_moment_that_cannot_be_read_is_wrong_usage(
    root: Path, moment: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["build", "--root", str(root), "--as-of", moment]) == 2
    assert "--as-of" in capsys.readouterr().err


def test_future_needs_a_folder_of_its_own(
    root: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["build", "--root", str(root), "--as-of", "2999-01-01"]) == 2
    assert "--out" in capsys.readouterr().err
    assert (
        main(["build", "--root", str(root), "--as-of", "2999-01-01", "--out", str(tmp_path / "later")]) == 0
    )


def test_fixed_moment_needs_no_folder_and_the_option_wins_over_it(tmp_path: Path) -> None:
    root = write_folder(tmp_path, {"stories/2026/a.md": story(asking())}, STATION + "as_of: 2999-01-01\n")
    assert main(["build", "--root", str(root)]) == 0
    assert "4 Pier Lane" not in (root / "build/site/stories/2026/a/index.html").read_text("utf-8")
    assert main(["build", "--root", str(root), *NOW]) == 0
    assert "4 Pier Lane" in (root / "build/site/stories/2026/a/index.html").read_text("utf-8")


@pytest.mark.parametrize("name", ["content", "themes", ".", "content/site"])
def test_site_never_goes_into_the_content(root: Path, name: str, capsys: pytest.CaptureFixture[str]) -> None:
    before = tree(root / "content")
    assert main(["build", "--root", str(root), "--out", str(root / name), *NOW]) == 2
    assert capsys.readouterr().err
    assert tree(root / "content") == before


def test_site_never_goes_over_somebody_elses_files(root: Path, tmp_path: Path) -> None:
    other = tmp_path / "other"
    other.mkdir()
    (other / "letter.txt").write_text("mine", "utf-8")
    assert main(["build", "--root", str(root), "--out", str(other), *NOW]) == 2
    assert tree(other) == {"letter.txt": b"mine"}


def test_proof_publishes_nothing_and_reports_json(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write_folder(root, {"stories/2026/broken.md": "headline: no front matter\n"})
    assert main(["proof", "--root", str(root), "--format", "json", *NOW]) == 1
    report = json.loads(capsys.readouterr().out)
    assert set(report) >= {"findings", "copy", "rules"}
    faults = [each for each in report["copy"] if each["weight"] == "fault"]
    assert [(each["file"], each["line"]) for each in faults] == [("content/stories/2026/broken.md", 1)]
    assert not (root / "build").exists()


def test_strict_makes_concerns_faults(root: Path) -> None:
    write_folder(root, {"places/lowgate-hall.yaml": (root / "content/places/lowgate-hall.yaml").read_text("utf-8").replace('"Mo-Fr 09:00-17:00"', "Mon-Fri 9-5")})  # fmt: skip
    assert main(["proof", "--root", str(root), *NOW]) == 0
    assert main(["proof", "--root", str(root), "--strict", *NOW]) == 1


def test_proof_of_any_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "a.html").write_text("<!doctype html><title>x</title><img src=b.png>", "utf-8")
    assert main(["proof", "--pages", str(tmp_path), "--format", "json"]) == 1
    found = json.loads(capsys.readouterr().out)["findings"]
    assert {"1.1.1", "3.1.1"} <= {each["criterion"] for each in found}
    assert main(["proof", "--pages", str(tmp_path / "none")]) == 2


def test_due_names_the_next_build_alone(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["due", "--root", str(root), "--next", *NOW]) == 0
    # The last days of a deadline at the end of Dec. 15 begin with Dec. 13.
    assert capsys.readouterr().out == "2026-12-13T00:00:00-05:00\n"
    assert main(["due", "--root", str(root), "--next", "--as-of", "2027-01-01"]) == 0
    # A year after it aired the story's share picture gives way to the programme's.
    assert capsys.readouterr().out == "2027-11-21T00:00:00-05:00\n"
    assert main(["due", "--root", str(root), "--next", "--as-of", "2028-01-01"]) == 0
    assert capsys.readouterr().out == "never\n"


def test_under_cron_only_what_stands_against_a_build_is_said_and_a_watch_hears_what_is_overdue(
    root: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    # A present in which files are old enough to be believed, so that there may be nothing to do.
    later = datetime.now(UTC).replace(microsecond=0) + timedelta(hours=1)
    monkeypatch.setattr(cli, "_present", lambda: later)

    def told(*words: str) -> tuple[int, str, str]:
        return main([*words, "--root", str(root)]), *capsys.readouterr()

    watch = ["due", "--overdue", "--as-of"]
    status, _, why = told(*watch, "2026-11-24")
    assert status == 2 and "build/site" in why and not (root / "build").exists()
    assert told("build", "--quiet", *NOW) == (0, "", "")
    assert told("build", "--quiet", *NOW) == (0, "", "")  # nothing to do
    # The last days of a deadline at the end of Dec. 15 begin with Dec. 13.
    status, until, why = told(*watch, "2026-12-12 23:59")
    assert status == 0 and "2026-12-13 00:00" in until and not why
    for moment in ("2026-12-13", "2026-11-24 11:59"):
        assert told(*watch, moment)[0::2] == (
            1,
            f"{root / 'build/site'}: That is not so at this moment; build again.\n",
        )
    assert told("due", "--overdue", "--format", "json")[0] == 2
    assert told("due", "--out", "site")[0] == 2
    coats = root / "content/stories/2026/coats.md"
    coats.write_text(coats.read_text("utf-8").replace("2026-12-15", "2026-12-14"), "utf-8")
    status, said, _ = told("build", "--quiet", *NOW)
    assert status == 0 and "2026-12-14" in said and said.count("\n") == 2  # what no later build can say
    (root / "content/stories/broken.md").write_text("no front matter", "utf-8")
    status, said, why = told("build", "--quiet", *NOW)
    assert status == 1 and "content/stories/broken.md:1" in said and why
    (root / "build/site/manifest.json").unlink()
    assert told(*watch, "2026-11-24 12:00")[0] == 2


def test_due_lists_what_to_do(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["due", "--root", str(root), "--as-of", "2026-12-05", "--format", "json"]) == 0
    due = json.loads(capsys.readouterr().out)
    assert due["next_build"] == "2026-12-13T00:00:00-05:00"
    # Open till the end of Dec. 15, and the hall shuts at 17:00.
    assert [line["when"] for line in due["closes"]] == [
        "2026-12-15T17:00:00-05:00",
        "2026-12-16T00:00:00-05:00",
    ]
    assert len(due["confirm"]) == 1


def test_same_bytes_whatever_the_machine_says(root: Path, tmp_path: Path) -> None:
    settings = (
        {"TZ": "Asia/Kathmandu", "LANG": "C", "LC_ALL": "C", "PYTHONHASHSEED": "1"},
        {"TZ": "America/Los_Angeles", "LANG": "de_DE.UTF-8", "LC_ALL": "tr_TR.UTF-8", "PYTHONHASHSEED": "77"},
    )
    trees = []
    for number, setting in enumerate(settings):
        out = tmp_path / f"out{number}"
        done = run("build", "--root", root, "--out", out, *NOW, **setting)
        assert done.returncode == 0, done.stderr
        trees.append(tree(out))
    assert trees[0] == trees[1] and len(trees[0]) > 20


def test_faults_are_no_tracebacks(root: Path) -> None:
    (root / "content/stories/2026/bad.md").write_bytes(b"---\nheadline: \xff\n---\n")
    done = run("build", "--root", root, *NOW)
    assert done.returncode == 1
    assert "Traceback" not in done.stdout + done.stderr
    assert "content/stories/2026/bad.md:2:" in done.stdout


def test_read_only_folder_is_the_machines_failure(root: Path, tmp_path: Path) -> None:
    target = tmp_path / "file"
    target.write_text("", "utf-8")
    done = run("build", "--root", root, "--out", target / "site", *NOW)
    assert done.returncode in (2, 3) and "Traceback" not in done.stderr


@pytest.mark.parametrize("words", [[], ["bulid"], ["build", "--rot", "x"], ["build", "--level", "B"]])
def test_wrong_usage_exits_2(words: list[str]) -> None:
    done = run(*words)
    assert done.returncode == 2 and "usage:" in done.stderr


def test_help_reads_well() -> None:
    done = run("--help")
    assert done.returncode == 0
    for command in ("build", "proof", "draft", "due"):
        assert command in done.stdout
        assert run(command, "--help").returncode == 0


def test_low_contrast_in_the_dark_is_not_published(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A theme of one's own whose dark scheme has grey text on grey."""
    own = root / "themes" / "tidetable"
    shutil.copytree(Path(__file__).parent.parent / "themes" / "tidetable", own)
    (sheet,) = (own / "assets").glob("*.css")
    grey = "@media (prefers-color-scheme: dark) { p { color: #777; background: #666; } }"
    sheet.write_text(sheet.read_text("utf-8") + grey, "utf-8")
    assert main(["build", "--root", str(root), *NOW]) == 1
    said = capsys.readouterr().out
    assert "1.4.3" in said and "dark" in said
    assert not (root / "build/site").exists()


def test_palette_is_listed_and_drawn(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["proof", "--root", str(root), "--palette", *NOW]) == 0
    table = capsys.readouterr().out
    assert "dark" in table and "AAA" in table and " fails " not in table
    assert "swatch" in (root / "build/reports/palette.html").read_text("utf-8")


def test_scenarios_of_any_folder(tmp_path: Path) -> None:
    page = "<!doctype html><html lang=en><title>x</title><style>@media (prefers-color-scheme: dark) { p { color: #777; background: #666 } }</style><main><h1>Words</h1><p>Words to read here.</p></main></html>"
    (tmp_path / "a.html").write_text(page, "utf-8")
    assert main(["proof", "--pages", str(tmp_path)]) == 0
    assert main(["proof", "--pages", str(tmp_path), "--scenarios", "all"]) == 1


def test_a_folder_without_pages_is_not_called_right(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "notes.txt").write_text("Words.", "utf-8")
    assert main(["proof", "--pages", str(tmp_path)]) == 2
    assert str(tmp_path) in capsys.readouterr().err


@pytest.mark.parametrize(
    "options",
    [
        ["--palette", "--format", "json"],
        ["--scenarios", "all"],
        ["--pages", ".", "--as-of", "2026-12-01"],
        ["--pages", ".", "--palette"],
    ],
)
def test_options_that_would_do_nothing_are_refused(root: Path, options: list[str]) -> None:
    assert main(["proof", "--root", str(root), *options]) == 2


@pytest.mark.parametrize(("option", "said"), [("--jobs", "processes"), ("--jobs=-1", "processes")])
def test_numbers_that_are_none_are_told(option: str, said: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["build", *option.split("="), *([] if "=" in option else ["many"])])
    assert ended.value.code == 2 and f"write a number of {said}" in capsys.readouterr().err


def test_what_was_found_counts_even_if_nobody_reads_it(root: Path) -> None:
    (root / "content/stories/broken.md").write_text("no front matter", "utf-8")
    command = f"{sys.executable} -m sitegen proof --root {root} --format json --as-of '{NOW[1]}' | true; exit ${{PIPESTATUS[0]}}"
    assert subprocess.run(["bash", "-c", command], capture_output=True, check=False).returncode == 1


@pytest.mark.parametrize("closed", ["<&-", ">&-", "2>&-", "<&- >&- 2>&-"])
@pytest.mark.parametrize(("words", "status"), [("proof", 0), ("draft story", 2), ("draft nothing", 2)])
def test_streams_that_are_closed_change_no_answer(root: Path, words: str, status: int, closed: str) -> None:
    command = f"exec {sys.executable} -m sitegen {words} --root {root} {closed}"
    done = subprocess.run(["bash", "-c", command], stdin=subprocess.DEVNULL, capture_output=True, check=False)
    assert (done.returncode, b"Traceback" in done.stderr) == (status, False)


def test_a_failure_of_the_program_is_none_of_the_content() -> None:
    code = "import sitegen.cli as cli; cli.main = lambda: {}['nothing']; cli.run()"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 3 and "KeyError" in done.stderr and "sitegen:" in done.stderr


def test_what_is_missing_is_named_and_nothing_else(root: Path) -> None:
    assert "ANSWER" not in run("draft").stderr.split("required:")[1]
    done = run("intake", "nope.vtt", "--root", root)
    assert done.returncode == 2 and "nope.vtt" in done.stderr and "--aired" not in done.stderr


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="a device of some systems")
def test_a_full_disk_behind_the_output_is_said_to_be_there(root: Path) -> None:
    (root / "content/stories/broken.md").write_text("no front matter", "utf-8")
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "sitegen", "proof", "--root", str(root), *NOW],
            stdout=full, stderr=subprocess.PIPE, text=True, check=False,
        )  # fmt: skip
    assert done.returncode == 3 and "output" in done.stderr


def test_a_terminal_without_letters_is_told_all_the_same(root: Path) -> None:
    (root / "content/stories/broken.md").write_text("---\nheadlíne: “Coats”\n---\n", "utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "sitegen", "proof", "--root", str(root), *NOW],
        env={**os.environ, "PYTHONUTF8": "0", "PYTHONIOENCODING": "ascii"},
        capture_output=True,
        check=False,
    )
    assert done.returncode == 1 and b"Traceback" not in done.stderr and b"headl\\xedne" in done.stdout


def test_reports_for_programs_are_utf_8_whatever_the_terminal(root: Path) -> None:
    (root / "content/stories/broken.md").write_text("---\nheadlíne: “Coats”\n---\n", "utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "sitegen", "proof", "--root", str(root), "--format", "json", *NOW],
        env={**os.environ, "PYTHONUTF8": "0", "PYTHONIOENCODING": "ascii"},
        capture_output=True,
        check=False,
    )
    assert any("headlíne" in each["message"] for each in json.loads(done.stdout.decode("utf-8"))["copy"])


def test_a_site_may_go_where_one_stands(root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    web = tmp_path / "web"
    web.mkdir()
    monkeypatch.chdir(web)
    assert main(["build", "--root", str(root), "--out", ".", *NOW]) == 0
    assert (web / "index.html").is_file() and (tmp_path / "web.sitegen").is_dir()
    assert main(["build", "--root", str(root), "--out", "/", *NOW]) == 2


def test_a_moment_to_come_is_refused_although_nothing_is_to_do(
    root: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    later = datetime.now(UTC).replace(microsecond=0) + timedelta(hours=1)
    monkeypatch.setattr(cli, "_present", lambda: later)
    assert main(["build", "--root", str(root)]) == 0
    for _ in range(2):
        soon = (later + timedelta(minutes=1)).isoformat()
        assert main(["build", "--root", str(root), "--as-of", soon]) == 2


def test_answers_may_stand_behind_options(tmp_path: Path) -> None:
    root = write_folder(tmp_path)
    done = run("draft", "page", "--root", root, "title=About us")
    assert done.returncode == 0, done.stderr
    assert (root / "content/pages/about-us.md").is_file()
    assert run("draft", "page", "--rot", root, "title=Rules").returncode == 2


def test_preview_says_where_it_answers_and_ends_at_once(root: Path) -> None:
    import signal
    import urllib.request

    command = [sys.executable, "-m", "sitegen", "preview", "--root", str(root), "--port", "0", *NOW]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    assert process.stdout is not None
    site = process.stdout.readline().split()[-1]
    desk = process.stdout.readline().split()[-1]
    assert site.startswith("http://127.0.0.1:") and desk == f"{site}_desk/"
    for address in (site, desk):
        with urllib.request.urlopen(address, timeout=60) as answer:
            assert answer.status == 200
    process.send_signal(signal.SIGINT)
    _, complaints = process.communicate(timeout=60)
    assert (process.returncode, complaints) == (0, "")
    assert {path.name for path in (root / "build").iterdir()} == {"preview"}


def test_preview_of_a_port_that_is_taken_is_the_machines_failure(root: Path) -> None:
    from http.server import BaseHTTPRequestHandler, HTTPServer

    with HTTPServer(("127.0.0.1", 0), BaseHTTPRequestHandler) as taken:
        ended = run("preview", "--root", root, "--port", taken.server_port)
    assert ended.returncode == 3
    assert str(taken.server_port) in ended.stderr
    assert "Traceback" not in ended.stderr


def test_preview_of_a_moment_that_cannot_be_read_is_wrong_usage(root: Path) -> None:
    ended = run("preview", "--root", root, "--port", 0, "--as-of", "soon")
    assert ended.returncode == 2
    assert "--as-of" in ended.stderr
    assert "Traceback" not in ended.stderr


# --- names that would be more ------------------------------------------------------------------

FORGED = "a.md:1:1: fault: forged\n0 faults.\n\x1b[2J\x1b[31m\u202econtent"


def said_by(*words: object, capsys: pytest.CaptureFixture[str]) -> list[str]:
    """The lines of a command's output, which hold nothing that a terminal obeys."""
    main([str(word) for word in words])
    told = capsys.readouterr()
    said = told.out + told.err
    assert not [sign for sign in said if sign != "\n" and not sign.isprintable() and sign != "\xa0"]
    return said.splitlines()


@pytest.mark.parametrize(
    "command",
    [
        ["proof", *NOW],
        ["build", *NOW],
        ["build", "--strict", *NOW],
        ["proof", *NOW, "--level", "AAA"],
        ["onair", "2026-11-21", *NOW],
        ["due", *NOW],
        ["due", "--format", "json", *NOW],
        ["proof", "--format", "json", *NOW],
        ["proof", "--format", "sarif", *NOW],
    ],
    ids=" ".join,
)
def test_no_name_of_a_file_forges_a_line_or_drives_the_terminal(
    root: Path, command: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    episode = "---\naired: 2026-11-21 18:30\nrundown:\n  - {story: 2026/coats}\n---\n"
    evil = {
        f"stories/2026/{FORGED}.md": story(asking()),
        f"places/{FORGED}.yaml": "name: Hall\n",
        f"episodes/{FORGED}.md": "---\n---\n",
        f"pages/{FORGED}.md": "---\ntitle: x\n---\n",
        f"captions/{FORGED}.vtt": "",
        f"photos/{FORGED}.jpg": "",
        f"listings/{FORGED}.csv": "a,b\n",
        "episodes/2026-11-21.md": episode,
        "stories/2026/two.md": story('town: "x\\e[2J\\n0 faults."\n' + asking(title='"\\e[31mRed"')),
    }
    write_folder(root, evil)
    lines = said_by(*command, "--root", root, capsys=capsys)
    assert not [line for line in lines if line.startswith(("0 faults", "a.md", "\x1b"))]
    if "json" in command and "proof" in command:
        told = json.loads("\n".join(line for line in lines if not line.startswith("Nothing new")))
        assert f"content/stories/2026/{FORGED}.md" in {each["file"] for each in told["copy"]}
    elif command[0] in ("proof", "build") and "sarif" not in command:
        assert any("forged\\u000a0 faults." in line for line in lines)


@pytest.mark.parametrize(
    "command",
    [
        ["build"], ["proof"], ["proof", "--pages", FORGED], ["onair", FORGED], ["preview"], ["due"],
        ["intake", FORGED], ["draft", "story", FORGED], ["draft", "story", f"headline={FORGED}"],
        ["draft", "story", f"county={FORGED}"], ["due", "--as-of", FORGED],
    ],
    ids=lambda command: command[0],
)  # fmt: skip
@pytest.mark.parametrize("there", [True, False], ids=["a station", "no station"])
def test_no_word_of_the_command_line_does_either(
    root: Path, tmp_path: Path, command: list[str], there: bool, capsys: pytest.CaptureFixture[str]
) -> None:
    if there and command[0] == "preview":
        command = ["preview", "--as-of", FORGED]
    folder = root if there else tmp_path / FORGED.replace("/", "")
    lines = said_by(*command, "--root", folder, capsys=capsys)
    assert lines
    assert not [line for line in lines if line.startswith(("0 faults", "a.md", "\x1b"))]


def test_a_draft_asks_and_answers_in_lines_of_its_own(
    root: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    monkeypatch.setattr(sys, "stdin", Terminal("\x1b[2Jx\n"))
    said_by("draft", "story", "headline=A", "aired=2026-11-21", "--root", root, capsys=capsys)
