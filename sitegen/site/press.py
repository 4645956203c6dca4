"""From models to content: what the last build made of an equal model and the site still has is taken, the rest is made."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from hashlib import blake2b
from pathlib import Path
from typing import TypeAlias

import msgspec

from sitegen.edition.digests import digest_of, packed_digest
from sitegen.edition.models import Edition, File, Page, RestingPage
from sitegen.newsroom.keeping import Aside
from sitegen.proof.cardcheck import Inks, check_cards
from sitegen.proof.checks.base import PageFinding
from sitegen.site.extracts import Extracts
from sitegen.site.heap import Heap
from sitegen.site.ledger import Entries, MadePage, Written
from sitegen.site.making import KINDS, Ground, Models, PackedPage, Task, make_pages
from sitegen.site.writing import Content, Kept
from sitegen.typeset.pages import Typesetter, output_path
from sitegen.typeset.theme import Theme

Progress: TypeAlias = Callable[[str, int, int], None]
"""Told what is under way, how much of it is done and how much there is."""


@dataclass(frozen=True, slots=True)
class Memory:
    """What the ledger remembers and the disk confirms."""

    site: Path
    entries: Entries
    written: dict[str, Written]
    """Files of the site that are as the last build left them, by path."""
    theme: str = ""
    """Digest of the theme that the site is set in."""

    def kept(self, path: str) -> Kept:
        file = self.written[path]
        return Kept(self.site, path, file.size, file.digest)

    def page(self, address: str, digest: bytes) -> MadePage | None:
        """What was made of a model with this digest, where all of it is still in the site."""
        if self.entries.digests.get(address) != digest:
            return None
        made = self.entries.value(address)
        paths = (made.path, *([made.card] if made.card else []), *made.parts)
        whole = all(path in self.written for path in paths)
        return made if whole else None


NOTHING = Memory(Path(), Entries(), {})
"""The memory of a first build."""


class New:
    """What was made anew, by address in the edition: what the ledger must learn. All but the digests is put aside."""

    def __init__(self, spool: Path | None) -> None:
        self._heap = Heap(spool)
        self._rows: dict[str, tuple[bytes, int]] = {}
        """The digest of the model, and the number of the packed page."""

    def __contains__(self, address: object) -> bool:
        return address in self._rows

    @property
    def addresses(self) -> Iterable[str]:
        return self._rows.keys()

    def put(self, address: str, digest: bytes, page: MadePage) -> None:
        self._rows[address] = digest, self._heap.put(msgspec.msgpack.encode(page))

    def page(self, address: str) -> MadePage:
        return _made(self._heap.get(self._rows[address][1]))

    def __iter__(self) -> Iterator[tuple[str, bytes, MadePage]]:
        """(address, digest of the model, what was made)."""
        for address, (digest, number) in self._rows.items():
            yield address, digest, _made(self._heap.get(number))


def _made(packed: bytes) -> MadePage:
    return msgspec.msgpack.decode(packed, type=MadePage)


class _PackedExtracts(Mapping[str, bytes]):
    """What the edition's pages told, by address: those made anew and those that the ledger remembers."""

    def __init__(self, pages: Mapping[str, None], new: New, entries: Entries) -> None:
        self._pages = pages
        self._new = new
        self._entries = entries

    def __getitem__(self, address: str) -> bytes:
        if address not in self._pages:
            raise KeyError(address)
        new = self._new
        return (new.page(address) if address in new else self._entries.value(address)).extract

    def __iter__(self) -> Iterator[str]:
        return iter(self._pages)

    def __len__(self) -> int:
        return len(self._pages)

    def __contains__(self, address: object) -> bool:
        return address in self._pages


class Press:
    """Brings pages and files from models to content: what memory has is taken from there, the rest is made."""

    def __init__(self, ground: Ground, memory: Memory, thread: bytes) -> None:
        self._ground = ground
        self._memory = memory
        self._thread = thread
        self._pages: dict[str, None] = {}
        """The addresses of the pages, in the order in which they came."""
        self.made: dict[str, Content] = {}
        """By path."""
        self.immutable: set[str] = set()
        self.new = New(ground.spool)
        self.addresses: set[str] = set()
        self.digests: dict[str, bytes] = {}
        """Of the models that were composed, by address."""

    def pages(
        self,
        edition: Edition,
        woken: Callable[[RestingPage], Page],
        aside: Aside,
        jobs: int,
        lock: int | None,
        progress: Progress,
    ) -> list[PageFinding]:
        """Every page of an edition; `woken` composes a resting one that has to be made, or whose digest is not known. The models of
        others that have to be made are put `aside`."""
        findings: list[PageFinding] = []
        waiting: list[Task] = []

        def is_known(address: str, digest: bytes) -> bool:
            known = self._known(address, self._with_thread(digest))
            if known is None:
                return False
            self._pages[address] = None
            if known.findings:
                findings.extend(msgspec.msgpack.decode(known.findings, type=list[PageFinding]))
            return True

        for page in edition.pages:
            packed, digest = packed_digest(page)
            self.digests[page.address] = digest
            if not is_known(page.address, digest):
                waiting.append(PackedPage(page.address, KINDS.index(type(page)), aside.put(packed)))
        for resting in edition.resting:
            self.addresses.add(resting.address)
            if not resting.digest or not is_known(resting.address, resting.digest):
                waiting.append(resting)
        cards: list[tuple[str, Inks]] = []
        done = edition.count - len(waiting)
        models = Models(
            woken,
            lambda address, digest: self._is_there(address, self._with_thread(digest)),
            aside,
            edition.pages[0].frame if edition.pages else None,
        )
        for task, made in zip(waiting, make_pages(waiting, models, self._ground, jobs, lock), strict=True):
            address = task.address
            done += 1
            progress("pages", done, edition.count)
            if isinstance(made, bytes):
                self.digests[address] = made
                is_known(address, made)
                continue
            digest = task.digest if isinstance(task, RestingPage) else self.digests[address]
            if not digest:
                digest = self.digests[address] = made.digest
            self._pages[address] = None
            findings += made.findings
            self.made[made.path] = made.content
            if made.drawn is not None:
                self.made[made.card] = made.drawn
                cards.append((made.card, made.inks))
            elif made.card and made.card not in self.made:
                self.made[made.card] = self._memory.kept(made.card)
            if made.card:
                self.immutable.add(made.card)
            packed = msgspec.msgpack.encode(made.findings) if made.findings else b""
            page_made = MadePage(made.path, made.card, made.extract, packed)
            self.new.put(address, self._with_thread(digest), page_made)
        return findings + check_cards(sorted(cards))

    def files(self, files: Iterable[File], typesetter: Typesetter) -> None:
        for file in files:
            digest = self._with_thread(digest_of(file))
            known = self._known(file.address, digest)
            path = known.path if known is not None else typesetter.file_address(file)
            if known is None:
                parts = dict(typesetter.parts(file))
                self.made |= {path: typesetter.file(file, self._size_of), **parts}
                self.immutable |= parts.keys()
                self.new.put(file.address, digest, MadePage(path, parts=tuple(parts)))
            if path != output_path(file.address):
                self.immutable.add(path)

    def extracts(self) -> Extracts:
        return Extracts(_PackedExtracts(self._pages, self.new, self._memory.entries))

    def pages_with_open_links(self, files: Iterable[str]) -> set[str] | None:
        """The pages whose links have to be looked at: those that were made, and those that may lead to what is gone.
        None for all of them."""
        if not self._memory.entries.digests:
            return None
        before, now = set(self._memory.written), set(files)
        lost_ids: set[str] = set()
        extracts = self.extracts()
        for address in self.new.addresses & self._memory.entries.values.keys() & self._pages.keys():
            old = Extracts({address: self._memory.entries.value(address).extract})
            lost_ids |= set(old[address].ids) - set(extracts[address].ids)
        asking = set(self.new.addresses) & self._pages.keys()
        return asking | extracts.that_may_name(before - now, lost_ids)

    def _size_of(self, address: str) -> int | None:
        content = self._ground.files.get(address)
        if isinstance(content, bytes):
            return len(content)
        if isinstance(content, Path):
            return content.stat().st_size
        return content.size if content is not None else None

    def _is_there(self, address: str, digest: bytes) -> bool:
        return self._memory.page(address, digest) is not None

    def _with_thread(self, digest: bytes) -> bytes:
        return blake2b(digest, digest_size=16, key=self._thread).digest()

    def _known(self, address: str, digest: bytes) -> MadePage | None:
        self.addresses.add(address)
        known = self._memory.page(address, digest)
        if known is not None:
            for path in (known.path, known.card, *known.parts):
                if path:
                    self.made[path] = self._memory.kept(path)
            self.immutable |= {path for path in (known.card, *known.parts) if path}
        return known


def thread_of(theme: Theme, language: str) -> bytes:
    """What pages are made with beside their models and the program."""
    return blake2b(f"{theme.name} {theme.digest} {language}".encode(), digest_size=16).digest()
