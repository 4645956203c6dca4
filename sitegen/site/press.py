"""From models to content: what the last build made of an equal model and the site still has is taken, the rest is made."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from hashlib import blake2b
from pathlib import Path
from typing import TypeAlias

import msgspec

from sitegen.edition.models import Edition, File, Page
from sitegen.proof.cardcheck import Inks, check_cards
from sitegen.proof.checks.base import PageFinding
from sitegen.site.extracts import Extracts
from sitegen.site.ledger import Entries, MadePage, Written, digest_of
from sitegen.site.making import Ground, make_pages
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


class Press:
    """Brings pages and files from models to content: what memory has is taken from there, the rest is made."""

    def __init__(self, ground: Ground, memory: Memory, thread: bytes) -> None:
        self._ground = ground
        self._memory = memory
        self._thread = thread
        self._extracts: dict[str, bytes] = {}
        self.made: dict[str, Content] = {}
        """By path."""
        self.immutable: set[str] = set()
        self.new: dict[str, tuple[bytes, MadePage]] = {}
        self.addresses: set[str] = set()
        self.digests: dict[str, bytes] = {}
        """Of the models of composed pages, by address."""

    def pages(
        self, edition: Edition, woken: Callable[[str], Page], jobs: int, lock: int | None, progress: Progress
    ) -> list[PageFinding]:
        """Every page of an edition; `woken` composes a resting one that has to be made all the same."""
        findings: list[PageFinding] = []
        waiting: list[Page] = []
        digests: list[bytes] = []

        def is_known(address: str, digest: bytes) -> bool:
            known = self._known(address, digest)
            if known is None:
                return False
            self._extracts[address] = known.extract
            if known.findings:
                findings.extend(msgspec.msgpack.decode(known.findings, type=list[PageFinding]))
            return True

        for page in edition.pages:
            self.digests[page.address] = digest_of(page)
            digest = self._with_thread(self.digests[page.address])
            if not is_known(page.address, digest):
                waiting.append(page)
                digests.append(digest)
        for resting in edition.resting:
            digest = self._with_thread(resting.digest)
            if not is_known(resting.address, digest):
                waiting.append(woken(resting.address))
                digests.append(digest)
        cards: list[tuple[str, Inks]] = []
        done = edition.count - len(waiting)
        for made, digest in zip(make_pages(waiting, self._ground, jobs, lock), digests, strict=True):
            findings += made.findings
            self.made[made.path] = made.content
            self._extracts[made.address] = made.extract
            if made.drawn is not None:
                self.made[made.card] = made.drawn
                cards.append((made.card, made.inks))
            elif made.card and made.card not in self.made:
                self.made[made.card] = self._memory.kept(made.card)
            if made.card:
                self.immutable.add(made.card)
            packed = msgspec.msgpack.encode(made.findings) if made.findings else b""
            self.new[made.address] = (digest, MadePage(made.path, made.card, made.extract, packed))
            done += 1
            progress("pages", done, edition.count)
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
                self.new[file.address] = (digest, MadePage(path, parts=tuple(parts)))
            if path != output_path(file.address):
                self.immutable.add(path)

    def extracts(self) -> Extracts:
        return Extracts(self._extracts)

    def pages_with_open_links(self, files: Iterable[str]) -> set[str] | None:
        """The pages whose links have to be looked at: those that were made, and those that may lead to what is gone.
        None for all of them."""
        if not self._memory.entries.digests:
            return None
        before, now = set(self._memory.written), set(files)
        lost_ids: set[str] = set()
        extracts = self.extracts()
        for address in self.new.keys() & self._memory.entries.values.keys() & self._extracts.keys():
            old = Extracts({address: self._memory.entries.value(address).extract})
            lost_ids |= set(old[address].ids) - set(extracts[address].ids)
        asking = set(self.new) & self._extracts.keys()
        return asking | extracts.that_may_name(before - now, lost_ids)

    def _size_of(self, address: str) -> int | None:
        content = self._ground.files.get(address)
        if isinstance(content, bytes):
            return len(content)
        if isinstance(content, Path):
            return content.stat().st_size
        return content.size if content is not None else None

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
