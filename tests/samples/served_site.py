"""The demonstration as viewers get it: built once for all tests, grouped by kind of page, and served at an address.

Nothing but plain files is served, as from any static host: no header of ours, and no page made up on the way.
"""

from __future__ import annotations

import fcntl
import re
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread

from tests.counts import LONG

ROOT = Path(__file__).parents[2]

FOLDER = "small-wonders"
"""The demonstration's public address ends with this folder, and its 404 page leads to it from the host's root."""

KINDS = {
    "home": r"index\.html",
    "not found": r"404\.html",
    "county": r"counties/[^/]+/(\d+/)?index\.html",
    "year": r"(archive|counties/[^/]+|topics/[^/]+)/\d{4}/(\d+/)?index\.html",
    "topic": r"topics/[^/]+/(\d+/)?index\.html",
    "language": r"archive/[a-z]+/(\d+/)?index\.html",
    "index": r"(counties|archive|topics|episodes|places)/(\d+/)?index\.html",
    "get help": r"get-help/(\d+/)?index\.html",
    "find": r"find/(.+/)?index\.html",
    "deadlines": r"deadlines/(\d+/)?index\.html",
    "story": r"stories/.+/index\.html",
    "episode": r"episodes/[^/]+/index\.html",
    "place": r"places/[^/]+/index\.html",
    "text": r"(about|corrections|giving-safely|send-a-story)/(\d+/)?index\.html",
}
"""Kind of page to the paths of its files. What matches none of them leads to a story from a short or old address."""

LEAD = "lead"
ROUND_UP = "round-up"
"""A story with a listing by town."""
EVERY_KIND = (*KINDS, ROUND_UP, LEAD)


def built_demonstration(out: Path) -> Path:
    """The folder with the demonstration; the first of the processes that test makes it, the others wait for it.

    Pictures that an earlier build of the checkout derived are used again.
    """
    out.parent.mkdir(parents=True, exist_ok=True)
    with out.with_suffix(".lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not out.exists():
            subprocess.run(
                [sys.executable, "-m", "sitegen", "build", "--root", str(ROOT), "--out", str(out)],
                cwd=ROOT,
                check=True,
                stdout=subprocess.DEVNULL,
            )
    return out


def kind_of(path: str) -> str:
    """The kind of page that a file of the demonstration holds; a round-up counts as a story here."""
    return next((kind for kind, pattern in KINDS.items() if re.fullmatch(pattern, path)), LEAD)


def pages_by_kind(site: Path) -> dict[str, list[str]]:
    """Paths of a site's pages by kind, the largest of each kind first."""
    found: dict[str, list[str]] = {kind: [] for kind in EVERY_KIND}
    sizes = {path.relative_to(site).as_posix(): path.stat().st_size for path in site.rglob("*.html")}
    for path in sorted(sizes, key=lambda path: (-sizes[path], path)):
        kind = kind_of(path)
        if kind == "story" and "parades" in path:
            kind = ROUND_UP
        found[kind].append(path)
    return found


def pages_to_see(site: Path, kind: str) -> list[str]:
    """The fullest page of a kind, or with SITEGEN_LONG=1 every page of it. Never none."""
    paths = pages_by_kind(site)[kind]
    assert paths, f"the demonstration has no page of the kind {kind!r}"
    return paths if LONG else paths[:1]


class _Quiet(SimpleHTTPRequestHandler):
    protocol_version = "HTTP/1.1"

    def log_message(self, *arguments: object) -> None:
        pass


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """The address at which a folder is served, ending with a slash, for as long as the context lasts."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=str(folder)))
    server.daemon_threads = True
    thread = Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}/"
    finally:
        server.shutdown()
        server.server_close()
        thread.join()
