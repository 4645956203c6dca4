"""Publishing: at every step every file is whole and every link good, whatever fails and whenever."""

from __future__ import annotations

import errno
import json
import os
import random
import signal
import stat
import subprocess
import sys
import tempfile
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.site.errors import AddressError, MachineError, RefusedError
from sitegen.site.manifest import MANIFEST_NAME, read_manifest
from sitegen.site.writing import Content, Disk, Publication, publish, refuse_folder
from tests.counts import LONG

Edition = dict[str, bytes]


def page(*links: str, words: str = "") -> bytes:
    """A stand-in for a page: what it links to, and something that tells it from its other versions."""
    return json.dumps({"links": links, "words": words, "end": "."}).encode()


def put(
    out: Path, files: Mapping[str, Content], disk: Disk | None = None, root: Path | None = None
) -> Publication:
    return publish(
        out,
        files,
        generator="sitegen test",
        address="https://www.example.org/",
        root=root or out.parent / "station",
        disk=disk,
    )


def tree(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()
    }


def published(folder: Path) -> dict[str, bytes]:
    """The site's files without its manifest."""
    found = tree(folder)
    found.pop(MANIFEST_NAME, None)
    return found


def check_links(out: Path, roots: set[str]) -> None:
    """Every page that can be reached from the roots is whole, and what it links to is there."""
    waiting, seen = set(roots), set[str]()
    while waiting:
        name = waiting.pop()
        seen.add(name)
        path = out / name
        assert path.is_file(), f"{name} is linked to and not there"
        if name.endswith(".html"):
            held = json.loads(path.read_bytes())
            assert held["end"] == "."
            waiting |= set(held["links"]) - seen


FIRST: Edition = {
    "index.html": page("a/index.html", "old/deep/index.html", "assets/style-1.css"),
    "a/index.html": page("index.html", "old/deep/index.html"),
    "same/index.html": page("a/index.html"),
    "old/deep/index.html": page("a/index.html", "assets/style-1.css"),
    "assets/style-1.css": b"body { color: black }",
    "robots.txt": b"User-agent: *",
}
SECOND: Edition = {
    "index.html": page("a/index.html", "new/index.html", "assets/style-2.css"),
    "a/index.html": page("index.html", "new/index.html"),
    "same/index.html": page("a/index.html"),
    "new/index.html": page("newer/index.html", "assets/style-2.css"),
    "newer/index.html": page("new/index.html"),
    "assets/style-2.css": b"body { color: navy }",
    "robots.txt": b"User-agent: *\nAllow: /",
}
THIRD: Edition = {
    "index.html": page("a/index.html", "old/deep/index.html", "new/index.html"),
    "a/index.html": page("index.html", "third/index.html"),
    "new/index.html": page("third/index.html"),
    "old/deep/index.html": page("third/index.html"),
    "third/index.html": page("index.html", "old/deep/index.html"),
}
STAYING = {"index.html", "a/index.html"}


class Killed(BaseException):
    """Stands for the end of the process: nothing is done after it."""


class StoppingDisk(Disk):
    """Does `steps` changes, then fails with one error, or ends for good as a killed process does."""

    def __init__(
        self, steps: int, error: int | None = None, after_each: Callable[[], None] | None = None
    ) -> None:
        self.left = steps
        self.done = 0
        self.error = error
        self.after_each = after_each

    def _step(self, part: Callable[[], object] = lambda: None) -> None:
        if self.left == 0:
            part()
            if self.error is None:
                raise Killed
            self.left = -1
            raise OSError(self.error, os.strerror(self.error), "a file")
        self.left -= 1
        self.done += 1

    def _watch(self) -> None:
        if self.after_each is not None:
            self.after_each()

    def make_folder(self, folder: str) -> None:
        self._step()
        super().make_folder(folder)
        self._watch()

    def write(self, path: str, body: bytes) -> None:
        self._step(lambda: Path(path).write_bytes(body[: len(body) // 2]))
        super().write(path, body)
        self._watch()

    def replace(self, part: str, path: str) -> None:
        self._step()
        super().replace(part, path)
        self._watch()

    def remove(self, path: str) -> None:
        self._step()
        super().remove(path)
        self._watch()

    def remove_folder(self, folder: str) -> None:
        self._step()
        super().remove_folder(folder)
        self._watch()


MANY = 10_000


def steps_needed(tmp_path: Path, before: Edition, after: Edition) -> int:
    out = tmp_path / "counting"
    put(out, before)
    disk = StoppingDisk(MANY)
    put(out, after, disk)
    return disk.done


# --- the ordinary day ------------------------------------------------------------------------


def test_the_first_edition_and_the_next(tmp_path: Path) -> None:
    out = tmp_path / "site"
    first = put(out, FIRST)
    assert published(out) == FIRST
    assert (set(first.added), first.changed, first.removed, first.unchanged) == (set(FIRST), (), (), 0)
    second = put(out, SECOND)
    assert published(out) == SECOND
    assert set(second.added) == {"new/index.html", "newer/index.html", "assets/style-2.css"}
    assert set(second.changed) == {"index.html", "a/index.html", "robots.txt"}
    assert set(second.removed) == {"old/deep/index.html", "assets/style-1.css"}
    assert second.unchanged == 1
    assert not (out / "old").exists(), "folders left empty are removed"


def test_the_manifest_lists_every_file(tmp_path: Path) -> None:
    out = tmp_path / "site"
    publish(
        out,
        FIRST,
        generator="sitegen test",
        address="https://www.example.org/",
        root=tmp_path / "station",
        immutable={"assets/style-1.css"},
    )
    manifest = read_manifest((out / MANIFEST_NAME).read_bytes())
    assert [entry.address for entry in manifest.entries] == sorted(FIRST)
    assert {entry.address for entry in manifest.entries if entry.immutable} == {"assets/style-1.css"}
    assert all(entry.size == len(FIRST[entry.address]) for entry in manifest.entries)


def test_unchanged_files_are_not_touched(tmp_path: Path) -> None:
    out = tmp_path / "site"
    put(out, FIRST)
    for path in [*out.rglob("*"), out]:
        os.utime(path, (1_000_000, 1_000_000))
    disk = StoppingDisk(0)
    again = put(out, FIRST, disk)
    assert again == Publication(unchanged=len(FIRST))
    assert all(path.stat().st_mtime == 1_000_000 for path in [*out.rglob("*"), out])
    put(out, SECOND)
    assert (out / "same/index.html").stat().st_mtime == 1_000_000
    assert (out / "index.html").stat().st_mtime != 1_000_000


def test_a_finished_file_may_stand_for_its_bytes(tmp_path: Path) -> None:
    spool = tmp_path / "spool"
    spool.write_bytes(b"picture")
    put(tmp_path / "site", {"assets/p.jpg": spool})
    assert published(tmp_path / "site") == {"assets/p.jpg": b"picture"}
    assert spool.exists()


def test_files_have_the_permissions_that_a_host_needs(tmp_path: Path) -> None:
    before = os.umask(0o022)
    try:
        put(tmp_path / "site", FIRST)
    finally:
        os.umask(before)
    for name in [*FIRST, MANIFEST_NAME]:
        assert stat.S_IMODE((tmp_path / "site" / name).stat().st_mode) == 0o644


def test_a_damaged_file_is_mended(tmp_path: Path) -> None:
    out = tmp_path / "site"
    put(out, FIRST)
    (out / "a/index.html").write_bytes(b"half a pa")
    (out / "same/index.html").unlink()
    put(out, FIRST)
    assert published(out) == FIRST


def test_files_of_others_stay_and_so_do_their_folders(tmp_path: Path) -> None:
    out = tmp_path / "site"
    put(out, FIRST)
    (out / "old/deep/note.txt").write_text("ours")
    (out / "CNAME").write_text("www.example.org")
    put(out, SECOND)
    assert (out / "old/deep/note.txt").read_text() == "ours"
    assert (out / "CNAME").exists()


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ({"coats": b"x"}, {"coats/index.html": b"y"}),
        ({"coats/index.html": b"x"}, {"coats": b"y"}),
        ({"coats/deep/er/index.html": b"x", "coats/a.html": b"z"}, {"coats": b"y"}),
    ],
)
def test_a_file_may_become_a_folder_and_the_reverse(tmp_path: Path, before: Edition, after: Edition) -> None:
    out = tmp_path / "site"
    put(out, before)
    total = steps_needed(tmp_path, before, after)
    put(out, after)
    assert published(out) == after
    for steps in range(total):
        again = tmp_path / f"killed-{steps}"
        put(again, before)
        with pytest.raises(Killed):
            put(again, after, StoppingDisk(steps))
        put(again, after)
        assert published(again) == after


# --- at every step ---------------------------------------------------------------------------


@pytest.mark.parametrize(("before", "after"), [(FIRST, SECOND), (SECOND, THIRD), (THIRD, FIRST)])
def test_every_step_leaves_whole_files_and_good_links(
    tmp_path: Path, before: Edition, after: Edition
) -> None:
    out = tmp_path / "site"
    put(out, before)

    def look() -> None:
        check_links(out, STAYING & before.keys() & after.keys())
        for name, body in published(out).items():
            if not name.rpartition("/")[2].startswith("."):
                assert body in (before.get(name), after.get(name))

    disk = StoppingDisk(MANY, after_each=look)
    put(out, after, disk)
    assert disk.done > len(after)


@pytest.mark.parametrize("error", [errno.ENOSPC, errno.EROFS, errno.EACCES, errno.EIO])
def test_an_error_at_any_step(tmp_path: Path, error: int) -> None:
    for steps in range(steps_needed(tmp_path, FIRST, SECOND)):
        out = tmp_path / f"site-{steps}"
        put(out, FIRST)
        before = tree(out)
        with pytest.raises(MachineError) as caught:
            put(out, SECOND, StoppingDisk(steps, error))
        assert caught.value.exit_status == 3
        check_links(out, STAYING)
        if "as it was" in str(caught.value):
            assert tree(out) == before, f"after step {steps}"
        else:
            assert all(
                body in (FIRST.get(name), SECOND.get(name))
                for name, body in published(out).items()
                if name[0] != "."
            )
            assert read_manifest((out / MANIFEST_NAME).read_bytes())
        put(out, SECOND)
        assert published(out) == SECOND


def test_a_full_disk_comes_before_any_visible_change(tmp_path: Path) -> None:
    """Every write is made before the first file is replaced, so no write can fail later."""
    out = tmp_path / "site"
    put(out, FIRST)
    log: list[str] = []

    class Logging(Disk):
        def write(self, path: str, body: bytes) -> None:
            log.append("write")
            super().write(path, body)

        def replace(self, part: str, path: str) -> None:
            if not Path(path).name.startswith("."):
                log.append("visible")
            super().replace(part, path)

        def remove(self, path: str) -> None:
            if not Path(path).name.startswith("."):
                log.append("visible")
            super().remove(path)

    put(out, SECOND, Logging())
    assert "write" not in log[log.index("visible") :]
    assert log.count("visible") == 9, "6 files and the manifest are put in place, 2 are removed"


def test_an_error_in_a_folder_that_was_not_there_leaves_none(tmp_path: Path) -> None:
    out = tmp_path / "new" / "site"
    for steps in range(len(FIRST) + 3):
        with pytest.raises(MachineError):
            put(out, FIRST, StoppingDisk(steps, errno.ENOSPC), root=tmp_path / "station")
        assert not (tmp_path / "new").exists()


def test_an_interruption_is_passed_on_and_cleaned_up(tmp_path: Path) -> None:
    out = tmp_path / "site"
    put(out, FIRST)
    before = tree(out)

    class Interrupted(Disk):
        def write(self, path: str, body: bytes) -> None:
            super().write(path, body)
            if body == SECOND["new/index.html"]:
                raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        put(out, SECOND, Interrupted())
    assert tree(out) == before


def test_a_missing_source_changes_nothing(tmp_path: Path) -> None:
    out = tmp_path / "site"
    put(out, FIRST)
    before = tree(out)
    with pytest.raises(MachineError):
        put(out, {**FIRST, "assets/p.jpg": tmp_path / "nowhere.jpg"})
    assert tree(out) == before


# --- killed ----------------------------------------------------------------------------------


@pytest.mark.parametrize("then", [FIRST, SECOND, THIRD], ids=["back", "again", "onward"])
def test_killed_at_any_step_the_next_build_finishes(tmp_path: Path, then: Edition) -> None:
    for steps in range(steps_needed(tmp_path, FIRST, SECOND)):
        out = tmp_path / f"site-{steps}"
        put(out, FIRST)
        with pytest.raises(Killed):
            put(out, SECOND, StoppingDisk(steps))
        check_links(out, STAYING)
        put(out, then, StoppingDisk(MANY, after_each=lambda out=out: check_links(out, STAYING)))  # type: ignore[misc]
        assert published(out) == then


def test_killed_twice_nothing_is_left_behind(tmp_path: Path) -> None:
    """The second build is killed before it could clear away what the first one left."""
    for first in range(0, steps_needed(tmp_path, FIRST, SECOND), 2):
        for second in range(16):
            out = tmp_path / f"site-{first}-{second}"
            put(out, FIRST)
            with pytest.raises(Killed):
                put(out, SECOND, StoppingDisk(first))
            with pytest.raises(Killed):
                put(out, THIRD, StoppingDisk(second))
            check_links(out, STAYING)
            put(out, FIRST)
            assert published(out) == FIRST


def test_killed_in_the_very_first_build(tmp_path: Path) -> None:
    total = len(FIRST) * 2
    for steps in range(total):
        out = tmp_path / f"site-{steps}"
        with pytest.raises(Killed):
            put(out, FIRST, StoppingDisk(steps))
        put(out, SECOND)
        assert published(out) == SECOND


ADDRESSES = [
    "index.html",
    "a/index.html",
    "b/index.html",
    "b/c/index.html",
    "d/index.html",
    "e/f/g/index.html",
    "assets/one-1.css",
    "assets/two-2.css",
]


@st.composite
def editions(draw: st.DrawFn) -> Edition:
    names = {"index.html", *draw(st.sets(st.sampled_from(ADDRESSES[1:])))}
    found: Edition = {}
    for name in sorted(names):
        if name.endswith(".html"):
            links = draw(st.sets(st.sampled_from(sorted(names))))
            found[name] = page(*sorted(links), words=draw(st.sampled_from("xy")))
        else:
            found[name] = draw(st.sampled_from([b"", b"a"]))
    return found


@settings(max_examples=600 if LONG else 60)
@given(st.lists(st.tuples(editions(), st.none() | st.integers(0, 40)), min_size=2, max_size=6), editions())
def test_any_run_of_editions_and_kills_ends_as_a_fresh_build(
    story: list[tuple[Edition, int | None]], last: Edition
) -> None:
    with tempfile.TemporaryDirectory() as folder:
        out, fresh = Path(folder) / "site", Path(folder) / "fresh"
        is_up = False

        def look() -> None:
            if is_up:
                check_links(out, {"index.html"})

        for edition, kill_at in story:
            try:
                put(out, edition, StoppingDisk(MANY if kill_at is None else kill_at, after_each=look))
                assert published(out) == edition
                is_up = True
            except Killed:
                look()
        put(out, last, StoppingDisk(MANY, after_each=look))
        put(fresh, last)
        assert tree(out) == tree(fresh)


CHILD = """
import json, sys
from pathlib import Path
from sitegen.site.writing import publish
files = {name: body.encode() for name, body in json.load(sys.stdin).items()}
print("ready", flush=True)
publish(Path(sys.argv[1]), files, generator="sitegen test", address="https://www.example.org/", root=Path(sys.argv[2]))
print("done", flush=True)
"""


def big_edition(version: int) -> Edition:
    """A few hundred pages that link to each other, half of them of this version alone."""
    names = [f"kept/{n}/index.html" for n in range(150)] + [
        f"only-{version}/{n}/index.html" for n in range(150)
    ]
    found = {
        name: page("index.html", names[(n * 7 + version) % len(names)], words=str(version) * 2000)
        for n, name in enumerate(names)
    }
    found["index.html"] = page(*names, words=str(version))
    return found


def test_a_process_killed_at_random_moments(tmp_path: Path, chance: random.Random) -> None:
    out = tmp_path / "site"
    put(out, big_edition(0))
    kept = {name for name in big_edition(0) if not name.startswith("only")}
    killed = 0
    for version in range(1, 13):
        child = subprocess.Popen(
            [sys.executable, "-c", CHILD, str(out), str(tmp_path / "station")],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
        )
        assert child.stdin is not None and child.stdout is not None
        child.stdin.write(
            json.dumps({name: body.decode() for name, body in big_edition(version).items()}).encode()
        )
        child.stdin.close()
        child.stdout.readline()
        try:
            child.wait(chance.uniform(0, 0.3))
        except subprocess.TimeoutExpired:
            child.send_signal(signal.SIGKILL)
            child.wait()
            killed += 1
        child.stdout.close()
        check_links(out, kept)
    assert killed, "no build was slow enough to be killed"
    put(out, big_edition(99))
    assert published(out) == big_edition(99)


# --- refusals --------------------------------------------------------------------------------


def test_a_folder_of_others_is_refused(tmp_path: Path) -> None:
    out = tmp_path / "site"
    out.mkdir()
    (out / "thesis.txt").write_text("years of work")
    with pytest.raises(RefusedError) as caught:
        put(out, FIRST)
    assert caught.value.exit_status == 2
    assert tree(out) == {"thesis.txt": b"years of work"}


@pytest.mark.parametrize(
    "manifest",
    [
        b"",
        b"{}",
        b"[]",
        b'{"name": "an app", "icons": []}',
        b'{"format": 1, "generator": "x", "address": "y", "files": [{"address": "../thesis.txt", "size": 1, "sha256": "", "type": "", "cache": ""}]}',
        b'{"format": 1, "generator": "x", "address": "y", "files": [{"address": "/etc/passwd", "size": 1, "sha256": "", "type": "", "cache": ""}]}',
        b'{"format": 2, "generator": "x", "address": "y", "files": []}',
        b"[" * 100_000,
        b"\xff\xfe",
    ],
)
def test_a_manifest_that_is_not_ours_is_refused(tmp_path: Path, manifest: bytes) -> None:
    out = tmp_path / "site"
    out.mkdir()
    (tmp_path / "thesis.txt").write_text("years of work")
    (out / MANIFEST_NAME).write_bytes(manifest)
    with pytest.raises(RefusedError):
        put(out, FIRST)
    assert tree(out) == {MANIFEST_NAME: manifest}
    assert (tmp_path / "thesis.txt").exists()


@pytest.mark.parametrize(
    "held",
    [b"", b"[]", b'{"reachable": ["../x"], "unreachable": []}', b'{"reachable": [1], "unreachable": []}'],
)
def test_a_damaged_word_on_unfinished_work_is_refused(tmp_path: Path, held: bytes) -> None:
    out = tmp_path / "site"
    put(out, FIRST)
    (out / ".sitegen-unfinished.json").write_bytes(held)
    before = tree(out)
    with pytest.raises(RefusedError):
        put(out, SECOND)
    assert tree(out) == before


def test_a_file_of_others_at_a_new_address_is_refused(tmp_path: Path) -> None:
    out = tmp_path / "site"
    put(out, FIRST)
    (out / "new").mkdir()
    (out / "new/index.html").write_text("somebody's")
    before = tree(out)
    with pytest.raises(RefusedError):
        put(out, SECOND)
    assert tree(out) == before


def test_nothing_is_written_or_removed_through_a_link(tmp_path: Path) -> None:
    out, elsewhere = tmp_path / "site", tmp_path / "elsewhere"
    put(out, FIRST)
    (out / "old/deep/index.html").unlink()
    (out / "old/deep").rmdir()
    elsewhere.mkdir()
    (elsewhere / "index.html").write_text("somebody's")
    (out / "old/deep").symlink_to(elsewhere)
    with pytest.raises(RefusedError):
        put(out, SECOND)
    assert (elsewhere / "index.html").read_text() == "somebody's"


def test_a_link_at_an_address_of_ours_is_replaced_not_followed(tmp_path: Path) -> None:
    out, elsewhere = tmp_path / "site", tmp_path / "elsewhere.txt"
    put(out, FIRST)
    elsewhere.write_text("somebody's")
    (out / "robots.txt").unlink()
    (out / "robots.txt").symlink_to(elsewhere)
    put(out, SECOND)
    assert published(out) == SECOND
    assert elsewhere.read_text() == "somebody's"


@pytest.mark.parametrize(
    "out",
    [
        ".",
        "content",
        "content/site",
        "themes",
        "themes/x/y",
        "public",
        "..",
        "build",
        "a/../content",
        "link",
        "file",
    ],
)
def test_folders_a_site_may_not_be_in(tmp_path: Path, out: str) -> None:
    root = tmp_path / "up" / "station"
    (root / "content").mkdir(parents=True)
    (root / "themes").mkdir()
    (root.parent / "file").write_text("")
    (root.parent / "link").symlink_to(root / "content")
    where = root.parent / out if out in ("link", "file") else root / out
    with pytest.raises(RefusedError):
        refuse_folder(where, root)
    with pytest.raises(RefusedError):
        put(where, FIRST, root=root)
    assert not list((root / "content").iterdir())


def test_folders_a_site_may_be_in(tmp_path: Path) -> None:
    root = tmp_path / "station"
    (root / "content").mkdir(parents=True)
    checkout = tmp_path
    refuse_folder(root / "build" / "site", root)
    refuse_folder(root / "build" / "site", root, [checkout])
    refuse_folder(tmp_path / "elsewhere", root)
    with pytest.raises(RefusedError):
        refuse_folder(root / "build" / "site", root, [root / "build" / "site" / "theme"])
    with pytest.raises(RefusedError):
        refuse_folder(tmp_path / "elsewhere", root, [checkout])


@pytest.mark.parametrize(
    "name", ["site/test", "site/a/b", "accepted", "accepted/content", "ledger/x", "derived"]
)
def test_a_site_may_not_lie_in_the_stations_own_or_among_what_is_kept(tmp_path: Path, name: str) -> None:
    root = tmp_path / "station"
    (root / "content").mkdir(parents=True)
    with pytest.raises(RefusedError):
        refuse_folder(root / "build" / name, root)
    put(root / "build" / "site", FIRST, root=root)
    with pytest.raises(RefusedError):
        refuse_folder(root / "build" / name, root)


def test_a_site_may_not_lie_in_another(tmp_path: Path) -> None:
    put(tmp_path / "www", FIRST)
    for inside in (tmp_path / "www" / "test", tmp_path / "www" / "a" / "deeper"):
        with pytest.raises(RefusedError):
            put(inside, FIRST)
    assert published(tmp_path / "www") == FIRST
    # An app's manifest of the same name marks no site of ours.
    (tmp_path / "app").mkdir()
    (tmp_path / "app" / MANIFEST_NAME).write_text('{"name": "Somebody\'s app", "start_url": "/"}')
    put(tmp_path / "app" / "news", FIRST)
    assert published(tmp_path / "app" / "news") == FIRST


def test_a_link_to_a_site_is_followed(tmp_path: Path) -> None:
    put(tmp_path / "real", FIRST)
    (tmp_path / "link").symlink_to(tmp_path / "real")
    put(tmp_path / "link", SECOND)
    assert published(tmp_path / "real") == SECOND


def test_bad_addresses_change_nothing(tmp_path: Path) -> None:
    out = tmp_path / "site"
    put(out, FIRST)
    before = tree(out)
    for name in (
        "../x.html",
        "/x.html",
        "a//b",
        "INDEX.html",
        "robots.txt/x",
        MANIFEST_NAME,
        ".sitegen-part-1",
    ):
        with pytest.raises(AddressError):
            put(out, {**SECOND, name: b""})
    assert tree(out) == before
