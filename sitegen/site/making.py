"""Making pages where they are proofed: models to bytes and verdicts, in as many processes as are asked for.

Each page is a function of its model and of what `Ground` holds, so it comes out the same in whichever process and order it is
made. Models of pages at rest, nearly all of an archive's, are composed here too, and let go once their pages are made. Finished
bytes go to files (a spool) where there is a folder for them, and never through a pipe.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, replace
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any, TypeAlias, get_args

import msgspec

from sitegen.edition.digests import digest_of
from sitegen.edition.models import Frame, Page, RestingPage
from sitegen.newsroom.keeping import Aside
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
"""Pages a process is given at a time, at least: enough that handing over costs nothing, few enough that all end together."""
LONGEST_CHUNK = 512
"""And at most. What pages are composed of lies in memory in their order, many stories' parts of one kind side by side, and whoever
looks at one page of memory, gets a copy of it: where processes take turns too often each of them copies everything."""


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


class PackedPage(msgspec.Struct, frozen=True):
    """The model of a page, put aside: processes that look at models themselves copy the memory that these lie in."""

    address: str
    kind: int
    """Index in `KINDS`."""
    aside: int
    """The number under which it lies, packed by msgspec."""


KINDS: tuple[type[Page], ...] = get_args(Page)


@dataclass(frozen=True, slots=True)
class Models:
    """Where the models of pages come from, where they are made."""

    compose: Callable[[RestingPage], Page]
    """The model of a page at rest."""
    is_known: Callable[[str, bytes], bool]
    """Whether the page at an address was made of a model of some digest before, and all of it is still there."""
    aside: Aside
    """Holds the packed ones."""
    frame: Frame | None
    """The frame that most pages have; None where there is no page."""

    def of(self, task: PackedPage | RestingPage) -> Page:
        if isinstance(task, RestingPage):
            return self.compose(task)
        page: Page = _decoder(task.kind).decode(self.aside.get(task.aside))
        # The very same: by it the typesetter knows what it has set already.
        return msgspec.structs.replace(page, frame=self.frame) if page.frame == self.frame else page


@cache
def _decoder(kind: int) -> msgspec.msgpack.Decoder[Any]:
    return msgspec.msgpack.Decoder(KINDS[kind])


Task: TypeAlias = PackedPage | RestingPage


@dataclass(frozen=True, slots=True)
class PageMade:
    """One page's bytes and every verdict on them."""

    digest: bytes
    """Of the model, where nobody knew it before; else empty."""
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

    def __init__(self, ground: Ground, models: Models | None) -> None:
        self._ground = ground
        self._models = models
        self._typesetter = ground.typesetter or Typesetter(ground.theme, ground.language)
        judge = contrast_judge(self._load, ground.address, learnt=ground.learnt)
        self._judge: Judge = judge
        self.learning = Learning(judge, ground.spool)
        self._drawn: set[str] = set()
        self._count = 0

    def _load(self, path: str) -> bytes | None:
        content = self._ground.files.get(path)
        return content if content is None or isinstance(content, bytes) else content_bytes(content)

    def make(self, task: Task | Page) -> PageMade | bytes:
        """The page; or only the digest of its model, where that was not known and the page is there."""
        if not isinstance(task, PackedPage | RestingPage):
            return self._made(task, b"")
        assert self._models is not None  # where there are none, models themselves are given
        page = self._models.of(task)
        if isinstance(task, PackedPage) or task.digest:
            return self._made(page, b"")
        digest = digest_of(page)
        return digest if self._models.is_known(task.address, digest) else self._made(page, digest)

    def _made(self, page: Page, digest: bytes) -> PageMade:
        data = self._typesetter.page(page)
        proof = check_page(page.address, data, self._judge)
        card = self._typesetter.card(page)
        drawn: Content | None = None
        inks: Inks = ()
        if card is not None and card.address not in self._drawn and card.address not in self._ground.there:
            self._drawn.add(card.address)
            drawn, inks = self._ground.store.card(card), card.inks
        return PageMade(
            digest,
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
        name = f"{os.getpid()}-{self._count}"
        (self._ground.spool / name).write_bytes(data)
        return Finished(self._ground.spool, name, len(data), sha256(data).hexdigest())


def content_bytes(content: Content) -> bytes:
    """The bytes of some content, wherever they are."""
    if isinstance(content, bytes):
        return content
    return (content if isinstance(content, Path) else content.path).read_bytes()


def make_pages(
    tasks: Sequence[Task], models: Models, ground: Ground, jobs: int, lock: int | None
) -> Iterator[PageMade | bytes]:
    """The pages, made, in their order; of a page at rest that turned out to be known, the digest of its model. `jobs`: processes,
    1 or more. `lock`: an open file that is this process's alone.

    Raises MachineError when the disk refuses or a process is killed, and ThemeError as `Typesetter` does.
    """
    try:
        parts = chunks(len(tasks), jobs)
        if jobs == 1 or len(parts) < 2:
            maker = _Maker(ground, models)
            for number, task in enumerate(tasks, 1):
                yield maker.make(task)
                if number % CHUNK == 0:
                    maker.learning.look()
            maker.learning.look()
            return
        given: tuple[Sequence[Task | Page], Models | None, Ground] = tasks, models, ground
        if not can_fork():
            # What composes cannot be sent, so that everything is composed here.
            given = list(map(models.of, tasks)), None, replace(ground, typesetter=None)
        with processes(min(jobs, len(parts)), lock, _begin_pages, given) as pool:
            for chunk in pool.map(_make_chunk, parts):
                yield from chunk
    except BrokenProcessPool as error:
        raise MachineError("A process that made pages was killed. The site is as it was.") from error
    except OSError as error:
        raise MachineError(
            f"Finished pages could not be kept: {error.strerror or error}. The site is as it was."
        ) from error


def chunks(count: int, jobs: int) -> list[range]:
    """So many tasks parted in their order, the later the smaller."""
    parts: list[range] = []
    done = 0
    while done < count:
        size = min(max(CHUNK, (count - done) // (4 * jobs)), LONGEST_CHUNK, count - done)
        parts.append(range(done, done + size))
        done += size
    return parts


_maker: _Maker | None = None
_tasks: Sequence[Task | Page] = ()


def _begin_pages(
    lock: int | None, tasks: Sequence[Task | Page], models: Models | None, ground: Ground
) -> None:
    global _maker, _tasks
    begin(lock)
    _maker, _tasks = _Maker(ground, models), tasks


def _make_chunk(part: range) -> list[PageMade | bytes]:
    assert _maker is not None  # set when the process began
    made: list[PageMade | bytes] = []
    for number in part:
        made.append(_maker.make(_tasks[number]))
        if len(made) % CHUNK == 0:
            _maker.learning.look()
    _maker.learning.look()
    return made
