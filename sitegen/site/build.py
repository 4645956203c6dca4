"""The build: content to models, models to bytes, bytes through the proof, and then all files or none.

`make` does everything up to the last verdict and touches nothing that viewers can see; `build` publishes
what `make` made when nothing stands against it. What the ledger remembers and the disk confirms is not made again.
"""

from __future__ import annotations

import gc
import hashlib
import shutil
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import partial
from hashlib import blake2b
from pathlib import Path
from typing import Literal

import msgspec

from sitegen import __version__
from sitegen.edition.compose import compose_edition
from sitegen.edition.models import Asset, CopyAsset, Edition, File, Page, PictureAsset
from sitegen.newsroom.records import Finding, Reading, Spot, Weight
from sitegen.proof.cardcheck import Inks, check_cards
from sitegen.proof.checks.base import PageFinding
from sitegen.proof.copycheck import check_copy
from sitegen.proof.pagecheck import check_links
from sitegen.proof.report import CopyFinding, Report
from sitegen.site.derived import DerivedStore
from sitegen.site.errors import MachineError
from sitegen.site.extracts import Extracts
from sitegen.site.ledger import Entries, Facts, Ledger, MadePage, Written, digest_of
from sitegen.site.making import Ground, content_bytes, in_processes, make_pages
from sitegen.site.manifest import MANIFEST_NAME
from sitegen.site.order import Order, Sources
from sitegen.site.states import settled, state_of
from sitegen.site.writing import Content, Finished, Kept, MistakenError, Publication, publish, refuse_folder
from sitegen.typeset.pages import Typesetter, output_path
from sitegen.typeset.pictures import PictureError
from sitegen.typeset.theme import Theme, ThemeError, load_theme

GENERATOR = f"sitegen {__version__}"

Progress = Callable[[str, int, int], None]
"""Told what is under way, how much of it is done and how much there is."""


def silent(what: str, done: int, of: int) -> None:
    """The progress of a run that nobody watches."""


@dataclass(frozen=True, slots=True)
class Made:
    """An edition as bytes, with every verdict on it."""

    report: Report
    edition: Edition | None
    """None when the content could not be read to its end."""
    files: dict[str, Content]
    """By path in the site; empty when faults in the copy kept pages from being made."""
    immutable: frozenset[str]
    """Paths whose name carries a digest."""
    new: dict[str, tuple[bytes, MadePage]] = field(default_factory=dict)
    """What the ledger must learn: (digest of the model, what was made), by address in the edition."""
    gone: frozenset[str] = frozenset()
    """Addresses that the ledger knows and this edition lacks."""


@dataclass(frozen=True, slots=True)
class Built:
    """What a build came to."""

    made: Made
    publication: Publication | None
    """None when something stood against publishing; the site is then as it was."""


@dataclass(frozen=True, slots=True)
class Memory:
    """What the ledger remembers and the disk confirms."""

    site: Path
    entries: Entries
    written: dict[str, Written]
    """Files of the site that are as the last build left them, by path."""

    def kept(self, path: str) -> Kept:
        file = self.written[path]
        return Kept(self.site / path, file.size, file.digest)

    def page(self, address: str, digest: bytes) -> MadePage | None:
        """What was made of a model with this digest, where all of it is still in the site."""
        if self.entries.digests.get(address) != digest:
            return None
        made = self.entries.value(address)
        whole = made.path in self.written and (not made.card or made.card in self.written)
        return made if whole else None


NOTHING = Memory(Path(), Entries(), {})
"""The memory of a first build."""


def make(
    reading: Reading,
    root: Path,
    as_of: datetime,
    store: DerivedStore,
    *,
    strict: bool = False,
    progress: Progress = silent,
    jobs: int = 1,
    lock: int | None = None,
    memory: Memory = NOTHING,
    spool: Path | None = None,
) -> Made:
    """The edition of some content as of a moment: read, composed, typeset and proofed. Writes no page.

    Pages are made only of content without faults; with `strict`, concerns are faults. `jobs` and `lock` are as in
    `make_pages`. What `memory` has is not made again; `spool` is a folder for finished bytes.
    """
    findings = list(reading.findings)
    newsroom = reading.newsroom
    if newsroom is not None:
        findings += check_copy(newsroom, as_of)
    if newsroom is None:
        return Made(_report(findings, (), strict), None, {}, frozenset())
    # Composed even of faulty content, so that what only the whole shows (two stories at one address) is
    # told in the same run as what each file shows.
    composition = compose_edition(newsroom, as_of)
    edition = composition.edition
    findings += composition.findings
    if _stops(findings, strict):
        return Made(_report(findings, (), strict), None, {}, frozenset())
    station = newsroom.station
    try:
        theme = load_theme(root, station.theme)
        typesetter = Typesetter(theme, station.language)
    except ThemeError as error:
        findings.append(Finding(station.origin.of("theme"), Weight.FAULT, "theme", str(error)))
        return Made(_report(findings, (), strict), edition, {}, frozenset())
    files: dict[str, Content] = {}
    immutable: set[str] = set()
    for address, data in typesetter.theme_files:
        files[address] = data
        immutable.add(address)
    for path, content, fault in _assets(edition, root, store, memory, jobs, lock, progress):
        immutable.add(path)
        if fault is not None:
            findings.append(fault)
        else:
            files[path] = content
    ground = Ground(
        theme, station.language, station.address, dict(files), store, frozenset(memory.written), spool
    )
    pressing = _Press(ground, memory, _thread(theme, station.language))
    page_findings = pressing.pages(edition.pages, jobs, lock, progress)
    pressing.files(edition.files, typesetter)
    files |= pressing.made
    page_findings += check_links(
        pressing.extracts(), files, station.address, pressing.pages_with_open_links(files)
    )
    return Made(
        _report(findings, tuple(page_findings), strict),
        edition,
        files,
        frozenset(immutable | pressing.immutable),
        pressing.new,
        frozenset(memory.entries.digests.keys() - pressing.addresses),
    )


class _Press:
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

    def pages(
        self, pages: Sequence[Page], jobs: int, lock: int | None, progress: Progress
    ) -> list[PageFinding]:
        findings: list[PageFinding] = []
        waiting: list[Page] = []
        digests: list[bytes] = []
        for page in pages:
            digest = self._digest(page)
            known = self._known(page.address, digest)
            if known is None:
                waiting.append(page)
                digests.append(digest)
                continue
            self._extracts[page.address] = known.extract
            if known.findings:
                findings += msgspec.msgpack.decode(known.findings, type=list[PageFinding])
        cards: list[tuple[str, Inks]] = []
        done = len(pages) - len(waiting)
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
            progress("pages", done, len(pages))
        return findings + check_cards(sorted(cards))

    def files(self, files: Iterable[File], typesetter: Typesetter) -> None:
        for file in files:
            digest = self._digest(file)
            known = self._known(file.address, digest)
            path = known.path if known is not None else typesetter.file_address(file)
            if known is None:
                self.made[path] = typesetter.file(file)
                self.new[file.address] = (digest, MadePage(path))
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

    def _digest(self, model: Page | File) -> bytes:
        return blake2b(digest_of(model), digest_size=16, key=self._thread).digest()

    def _known(self, address: str, digest: bytes) -> MadePage | None:
        self.addresses.add(address)
        known = self._memory.page(address, digest)
        if known is not None:
            for path in (known.path, known.card):
                if path:
                    self.made[path] = self._memory.kept(path)
            if known.card:
                self.immutable.add(known.card)
        return known


def _thread(theme: Theme, language: str) -> bytes:
    """What pages are made with beside their models and the program."""
    return blake2b(f"{theme.name} {theme.digest} {language}".encode(), digest_size=16).digest()


def build(
    reading: Reading,
    order: Order,
    as_of: datetime,
    sources: Sources,
    ground: str,
    *,
    lock: int | None = None,
    progress: Progress = silent,
) -> Built:
    """Makes an edition and publishes it if nothing stands against it; else the site stays as it is.

    `reading` is of `sources` or younger. The caller holds the site's lock. Raises SiteError (its kinds say why) when the
    folder may not or cannot be written.
    """
    # Before anything is made: kept pictures may lie beside the folder.
    refuse_folder(order.workshop.site, order.root)
    ledger = Ledger(order.workshop.ledger)
    memory = NOTHING if order.fresh else _remembered(order, ground, ledger)
    try:
        return _build(reading, order, as_of, sources, ground, ledger, memory, lock, progress)
    except MistakenError:
        # The ledger spoke of a file that the site's own manifest does not know.
        return _build(reading, order, as_of, sources, ground, ledger, NOTHING, lock, progress)


def _build(
    reading: Reading,
    order: Order,
    as_of: datetime,
    sources: Sources,
    ground: str,
    ledger: Ledger,
    memory: Memory,
    lock: int | None,
    progress: Progress,
) -> Built:
    with _spool(order.workshop.ledger) as spool, _without_collector():
        made = make(
            reading, order.root, as_of, DerivedStore(order.workshop.derived),
            strict=order.strict, progress=progress, jobs=order.jobs, lock=lock, memory=memory, spool=spool,
        )  # fmt: skip
        if made.report.stops(order.level) or made.edition is None or reading.newsroom is None:
            return Built(made, None)
        station = reading.newsroom.station
        publication = publish(
            order.workshop.site,
            made.files,
            generator=GENERATOR,
            address=station.address,
            root=order.root,
            immutable=made.immutable,
        )
    until = made.edition.true_until
    facts = Facts(
        ground=ground,
        since=as_of.isoformat(),
        until=until.isoformat() if until is not None else "",
        fixed=station.as_of,
        time_zone=station.time_zone,
        pages=len(made.edition.pages),
        concerns=sum(finding.weight == "concern" for finding in made.report.copy),
        sources=settled(sources.states, sources.looked_at),
        files=_left(order.workshop.site, made, memory),
    )
    entries = ((address, digest, page) for address, (digest, page) in made.new.items())
    ledger.save(facts, entries, made.gone, fresh=memory is NOTHING)
    return Built(made, publication)


def _remembered(order: Order, ground: str, ledger: Ledger) -> Memory:
    facts = ledger.facts()
    if facts is None or facts.ground != ground:
        return NOTHING
    site = order.workshop.site
    written = {path: file for path, file in facts.files.items() if state_of(f"{site}/{path}") == file.state}
    entries = ledger.entries()
    return Memory(site, entries, written) if entries.digests else NOTHING


def _left(site: Path, made: Made, memory: Memory) -> dict[str, Written]:
    """The site's files as they are now."""
    left: dict[str, Written] = {}
    for path, content in made.files.items():
        if isinstance(content, Kept):
            left[path] = memory.written[path]
            continue
        if isinstance(content, Finished):
            size, digest = content.size, content.sha256
        else:
            data = content_bytes(content)
            size, digest = len(data), hashlib.sha256(data).hexdigest()
        left[path] = Written(size, digest, path in made.immutable, state_of(f"{site}/{path}"))
    left[MANIFEST_NAME] = Written(0, "", False, state_of(f"{site}/{MANIFEST_NAME}"))
    return left


@contextmanager
def _spool(ledger: Path) -> Iterator[Path]:
    """A folder for finished bytes, empty at first and gone after."""
    folder = ledger / "spool"
    try:
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir(parents=True)
    except OSError as error:
        raise MachineError(
            f"'{error.filename or folder}' cannot be written: {error.strerror or error}. The site is as it was."
        ) from error
    try:
        yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)


@contextmanager
def _without_collector() -> Iterator[None]:
    """Records and models are trees: there is nothing in them for the collector to find, and looking for it took a fifth of a
    build's time."""
    was = gc.isenabled()
    gc.disable()
    gc.freeze()
    try:
        yield
    finally:
        gc.unfreeze()
        if was:
            gc.enable()


def _stops(findings: list[Finding], strict: bool) -> bool:
    return any(strict or finding.weight is Weight.FAULT for finding in findings)


def _report(findings: list[Finding], pages: tuple[PageFinding, ...], strict: bool) -> Report:
    copy = tuple(
        _copy_finding(replace(each, weight=Weight.FAULT) if strict else each)
        for each in dict.fromkeys(findings)
    )
    return Report(pages=pages, copy=copy)


def _copy_finding(finding: Finding) -> CopyFinding:
    spot = finding.spot
    weight: Literal["fault", "concern"] = "fault" if finding.weight is Weight.FAULT else "concern"
    return CopyFinding(
        spot.path, spot.line, spot.column, weight, finding.check, finding.message, finding.instead
    )


# --- pictures and other files that are made from files ---------------------------------------


def _assets(
    edition: Edition,
    root: Path,
    store: DerivedStore,
    memory: Memory,
    jobs: int,
    lock: int | None,
    progress: Progress,
) -> Iterator[tuple[str, Content, Finding | None]]:
    """Each asset's path and content, or the fault that keeps it from being made."""
    waiting: list[list[Asset]] = []
    for group in _made_together(edition):
        # Their names are digests of source and recipe: a file of that name that nobody touched is right.
        if all(asset.address in memory.written for asset in group):
            yield from ((asset.address, memory.kept(asset.address), None) for asset in group)
        else:
            waiting.append(group)
    done = len(edition.assets) - sum(map(len, waiting))
    contents = in_processes(partial(_contents, root=root, store=store), waiting, jobs, lock)
    for group, (made, reason) in zip(waiting, contents, strict=True):
        fault = Finding(Spot(group[0].source), Weight.FAULT, "picture", reason) if reason else None
        for asset, content in zip(group, made or [b""] * len(group), strict=True):
            yield asset.address, content, fault
        done += len(group)
        progress("pictures", done, len(edition.assets))


def _made_together(edition: Edition) -> list[list[Asset]]:
    """The assets in groups: files of one part of one picture together, everything else alone."""
    groups: dict[object, list[Asset]] = {}
    for asset in edition.assets:
        key = (asset.source, asset.box) if isinstance(asset, PictureAsset) else asset.address
        groups.setdefault(key, []).append(asset)
    return list(groups.values())


def _contents(group: list[Asset], root: Path, store: DerivedStore) -> tuple[Sequence[Content], str]:
    """The contents of assets that are made together; or none, and why."""
    pictures = [asset for asset in group if isinstance(asset, PictureAsset)]
    try:
        if pictures:
            return store.pictures(root / pictures[0].source, pictures), ""
        return [_copied(asset, root) for asset in group if isinstance(asset, CopyAsset)], ""
    except PictureError as error:
        return (), str(error)
    except OSError as error:
        return (), f"The file cannot be read: {error.strerror or error}."


def _copied(asset: CopyAsset, root: Path) -> bytes:
    data = (root / asset.source).read_bytes()
    if hashlib.sha256(data).hexdigest() != asset.digest:
        raise PictureError("The file changed while the site was being built. Build again.")
    return data
