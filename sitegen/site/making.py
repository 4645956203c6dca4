"""Making pages where they are proofed: models to bytes and verdicts, in as many processes as are asked for.

Each page is a function of its model and of what `Ground` holds, so it comes out the same in whichever process and order it is
made. Finished bytes go to files (a spool) where there is a folder for them, and never through a pipe.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path

import msgspec

from sitegen.edition.models import Page
from sitegen.proof.cardcheck import Inks
from sitegen.proof.checks.base import PageFinding
from sitegen.proof.pagecheck import Judge, check_page, contrast_judge
from sitegen.site.derived import DerivedStore
from sitegen.site.errors import MachineError
from sitegen.site.processes import begin, can_fork, processes
from sitegen.site.proofkept import Learning
from sitegen.site.writing import Content, Finished
from sitegen.typeset.pages import Typesetter, output_path
from sitegen.typeset.theme import Theme

CHUNK = 16
"""Pages a process is given at a time: few enough that all end together, enough that handing over costs nothing."""


@dataclass(frozen=True, slots=True)
class Ground:
    """Everything that pages are made with, beside their models."""

    theme: Theme
    language: str
    """The station's, BCP 47."""
    typesetter: Typesetter | None
    """Of this theme and language; None where it cannot be sent to another process, which then makes its own."""
    address: str
    """The site's public address."""
    files: Mapping[str, Content]
    """What stylesheets and pages of the site may show, by path: the proof looks at it."""
    store: DerivedStore
    there: frozenset[str]
    """Paths that need not be made: the site has them."""
    spool: Path | None
    """Folder for finished bytes; None keeps them in memory."""
    learnt: bytes = b""
    """What the contrast engine was told by one of before; see `contrast_judge`."""


@dataclass(frozen=True, slots=True)
class PageMade:
    """One page's bytes and every verdict on them."""

    address: str
    path: str
    content: Content
    findings: tuple[PageFinding, ...]
    extract: bytes
    """What it told the rest of the edition, packed by msgspec."""
    card: str
    """Path of its share picture; empty without one."""
    inks: Inks
    """The texts of a share picture that was not there."""
    drawn: Content | None
    """The share picture, the first time it was needed in a process and where it was not there."""


class _Maker:
    """Makes pages one after another."""

    def __init__(self, ground: Ground) -> None:
        self._ground = ground
        self._typesetter = ground.typesetter or Typesetter(ground.theme, ground.language)
        judge = contrast_judge(self._load, ground.address, learnt=ground.learnt)
        self._judge: Judge = judge
        self.learning = Learning(judge, ground.spool)
        self._drawn: set[str] = set(ground.there)
        self._count = 0

    def _load(self, path: str) -> bytes | None:
        content = self._ground.files.get(path)
        return content if content is None or isinstance(content, bytes) else content_bytes(content)

    def make(self, page: Page) -> PageMade:
        data = self._typesetter.page(page)
        proof = check_page(page.address, data, self._judge)
        card = self._typesetter.card(page)
        drawn: Content | None = None
        inks: Inks = ()
        if card is not None and card.address not in self._drawn:
            self._drawn.add(card.address)
            drawn, inks = self._ground.store.card(card), card.inks
        return PageMade(
            page.address,
            output_path(page.address),
            self._finished(data),
            proof.findings,
            msgspec.msgpack.encode(proof.extract),
            card.address if card is not None else "",
            inks,
            drawn,
        )

    def _finished(self, data: bytes) -> Content:
        if self._ground.spool is None:
            return data
        self._count += 1
        place = self._ground.spool / f"{os.getpid()}-{self._count}"
        place.write_bytes(data)
        return Finished(place, len(data), sha256(data).hexdigest())


def content_bytes(content: Content) -> bytes:
    """The bytes of some content, wherever they are."""
    if isinstance(content, bytes):
        return content
    return (content if isinstance(content, Path) else content.path).read_bytes()


def make_pages(pages: Sequence[Page], ground: Ground, jobs: int, lock: int | None) -> Iterator[PageMade]:
    """The pages, made, in their order. `jobs`: processes, 1 or more. `lock`: an open file that is this process's alone.

    Raises MachineError when the disk refuses or a process is killed, and ThemeError as `Typesetter` does.
    """
    try:
        if jobs == 1 or len(pages) <= CHUNK:
            maker = _Maker(ground)
            for number, page in enumerate(pages, 1):
                yield maker.make(page)
                if number % CHUNK == 0:
                    maker.learning.look()
            maker.learning.look()
            return
        starts = range(0, len(pages), CHUNK)
        if not can_fork():
            ground = replace(ground, typesetter=None)
        with processes(min(jobs, len(starts)), lock, _begin_pages, (pages, ground)) as pool:
            for chunk in pool.map(_make_chunk, starts):
                yield from chunk
    except BrokenProcessPool as error:
        raise MachineError("A process that made pages was killed. The site is as it was.") from error
    except OSError as error:
        raise MachineError(
            f"Finished pages could not be kept: {error.strerror or error}. The site is as it was."
        ) from error


_maker: _Maker | None = None
_pages: Sequence[Page] = ()


def _begin_pages(lock: int | None, pages: Sequence[Page], ground: Ground) -> None:
    global _maker, _pages
    begin(lock)
    _maker, _pages = _Maker(ground), pages


def _make_chunk(start: int) -> list[PageMade]:
    assert _maker is not None  # set when the process began
    made = [_maker.make(page) for page in _pages[start : start + CHUNK]]
    _maker.learning.look()
    return made
