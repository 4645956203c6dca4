"""Whatever happens to a build, and whenever: the site is whole, the message plain, and the next build finishes the work.

`tests/site/test_writing.py` stops publishing at each of its steps; here the whole command is stopped at any instant.
"""

from __future__ import annotations

import errno
import os
import random
import signal
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path
from urllib.parse import urljoin, urlsplit

import pytest

from sitegen import cli
from sitegen.proof.document import parse
from sitegen.proof.pagecheck import extract
from sitegen.site.manifest import MANIFEST_NAME
from sitegen.site.writing import Disk
from tests.counts import LONG
from tests.samples.small_archive import MOMENT, fresh_site, run, site_of, write_archive

KILLS = 300 if LONG else 6
LATER = "2025-12-01 12:00"


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    later = datetime.now(UTC).replace(microsecond=0) + timedelta(hours=1)
    monkeypatch.setattr(cli, "_present", lambda: later)
    station = write_archive(tmp_path / "station")
    assert run(station) == 0
    return station


def check_links(site: dict[str, bytes]) -> None:
    """Every page that can be reached from the home page leads only to files that are there."""
    waiting, seen = ["index.html"], {"index.html"}
    while waiting:
        name = waiting.pop()
        if not name.endswith(".html"):
            continue
        told = extract(parse(site[name]))
        for written, _ in (*told.links, *told.assets):
            whole = urlsplit(urljoin(f"https://site.invalid/{name}", written))
            if whole.netloc != "site.invalid":
                continue
            path = whole.path.lstrip("/")
            path = f"{path}index.html" if not path or path.endswith("/") else path
            assert path in site, f"{name} leads to {path}, which is not there"
            if path not in seen:
                seen.add(path)
                waiting.append(path)


def in_child(root: Path, moment: str) -> int:
    """Starts a build in a process of its own; gives its number."""
    child = os.fork()
    if child == 0:
        status = 99
        try:
            with Path(os.devnull).open("w") as nowhere:
                os.dup2(nowhere.fileno(), 1)
                os.dup2(nowhere.fileno(), 2)
                status = run(root, "--jobs", "2", moment=moment)
        finally:
            os._exit(status)
    return child


def test_killed_at_any_instant_the_site_is_whole_and_the_next_build_right(
    root: Path, tmp_path: Path, chance: random.Random
) -> None:
    story = root / "content/stories/2025/coats.md"
    texts = [story.read_text("utf-8"), story.read_text("utf-8").replace("coats", "jackets")]
    moments = [MOMENT, LATER]
    editions = []
    for number in (0, 1):
        story.write_text(texts[number], "utf-8")
        editions.append(fresh_site(root, tmp_path / f"fresh-{number}", moments[number]))
    allowed = {name: {edition.get(name) for edition in editions} for name in {*editions[0], *editions[1]}}
    story.write_text(texts[1], "utf-8")
    begun = time.monotonic()
    child = in_child(root, moments[1])
    assert os.waitpid(child, 0)[1] == 0
    whole_time = time.monotonic() - begun
    assert site_of(root) == editions[1]

    killed = count = 0
    while killed < KILLS and count < 4 * KILLS:
        number = count % 2
        count += 1
        story.write_text(texts[number], "utf-8")
        child = in_child(root, moments[number])
        time.sleep(chance.uniform(0, whole_time))
        os.kill(child, signal.SIGKILL)
        # Where little was left to do a build has ended by then.
        killed += os.WIFSIGNALED(os.waitpid(child, 0)[1])
        site = site_of(root)
        for name, body in site.items():
            if not name.rpartition("/")[2].startswith(".sitegen-") and name != MANIFEST_NAME:
                assert body in allowed[name], f"{name} is of neither edition"
        check_links(site)
        if chance.random() < 0.3:
            assert os.waitstatus_to_exitcode(os.waitpid(in_child(root, moments[number]), 0)[1]) == 0
            assert site_of(root) == editions[number]
    assert run(root, moment=moments[number]) == 0
    assert site_of(root) == editions[number]
    print(f"{killed} of {count} builds were killed before their end, of {whole_time:.2f} s")
    assert killed >= KILLS // 2


def test_a_killed_build_leaves_no_process_behind(root: Path) -> None:
    (root / "content/pages/about.md").write_text("---\ntitle: About you\n---\nOther words.\n", "utf-8")
    child = in_child(root, LATER)
    children: list[int] = []
    for _ in range(2000):
        told = Path(f"/proc/{child}/task/{child}/children")
        children = [int(word) for word in told.read_text("ascii").split()] if told.exists() else []
        if len(children) >= 2 or os.waitpid(child, os.WNOHANG) != (0, 0):
            break
        time.sleep(0.002)
    if len(children) < 2:
        pytest.skip("the build ended before its processes were seen")
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    deadline = time.monotonic() + 60
    while any(Path(f"/proc/{each}/stat").exists() for each in children):
        assert time.monotonic() < deadline, "processes of a killed build are still there"
        time.sleep(0.05)
    assert run(root, moment=LATER) == 0


class FullDisk(Disk):
    """Takes some files and then no more."""

    left = 0

    def write(self, path: str, body: bytes) -> None:
        if FullDisk.left <= 0:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), path)
        FullDisk.left -= 1
        super().write(path, body)

    def replace(self, part: str, path: str) -> None:
        if FullDisk.left <= 0 and not Path(path).exists():
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), path)
        super().replace(part, path)


@pytest.mark.parametrize("takes", [0, 1, 3])
def test_a_disk_that_fills_up_leaves_the_site_whole(
    root: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    takes: int,
    tmp_path: Path,
) -> None:
    before = site_of(root)
    with monkeypatch.context() as patch:
        FullDisk.left = takes
        patch.setattr("sitegen.site.writing.Disk", FullDisk)
        capsys.readouterr()
        assert run(root, moment=LATER) == 3
        said = capsys.readouterr().err
        assert "the disk is full" in said and "Traceback" not in said
    assert site_of(root) == before
    assert run(root, moment=LATER) == 0
    assert site_of(root) == fresh_site(root, tmp_path / "fresh", LATER)


def test_a_full_spool_is_told_plainly(
    root: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    before = site_of(root)

    def full(path: Path, data: bytes) -> int:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), str(path))

    with monkeypatch.context() as patch:
        patch.setattr(Path, "write_bytes", full)
        capsys.readouterr()
        assert run(root, moment=LATER) == 3
    assert "No space left" in capsys.readouterr().err
    assert site_of(root) == before
    assert run(root, moment=LATER) == 0


def test_a_site_that_vanished_is_made_again(root: Path, tmp_path: Path) -> None:
    import shutil

    before = site_of(root)
    shutil.rmtree(root / "build" / "site")
    assert run(root) == 0
    assert site_of(root) == before


def test_a_folder_that_may_not_be_written_is_told_plainly(
    root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (root / "build/ledger/lock").unlink()
    (root / "build/ledger/lock").mkdir()
    capsys.readouterr()
    before = site_of(root)
    assert run(root, moment=LATER) == 3
    said = capsys.readouterr().err
    assert "lock" in said and "Traceback" not in said
    assert site_of(root) == before
