"""The build: content to models, models to bytes, bytes through the proof, and then all files or none.

`make` does everything up to the last verdict and touches nothing that viewers can see; `build` publishes
what `make` made when nothing stands against it. What the ledger remembers and the disk confirms is not made again.
"""

from __future__ import annotations

import gc
import hashlib
import os
import shutil
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial
from pathlib import Path
from types import MappingProxyType
from typing import Literal

from sitegen import __version__
from sitegen.edition.compose import compose_edition
from sitegen.edition.models import Asset, CopyAsset, Edition, PictureAsset
from sitegen.newsroom.keeping import Drawer
from sitegen.newsroom.records import Finding, Reading, Spot, Station, Weight
from sitegen.newsroom.removals import less_removals
from sitegen.proof.checks.base import PageFinding
from sitegen.proof.collector import seldom_collecting
from sitegen.proof.copycheck import check_copy
from sitegen.proof.pagecheck import check_links
from sitegen.proof.report import CopyFinding, Report
from sitegen.site.accepted import Accepted
from sitegen.site.content import read_content, read_takedowns
from sitegen.site.derived import DerivedStore
from sitegen.site.drawer import StoryDrawer
from sitegen.site.errors import MachineError, RefusedError
from sitegen.site.forroot import write_for_root
from sitegen.site.heap import Heap
from sitegen.site.ledger import Facts, Ledger, MadePage, Written
from sitegen.site.making import Ground, content_bytes
from sitegen.site.manifest import MANIFEST_NAME, public_address
from sitegen.site.order import Order, Sources
from sitegen.site.press import NOTHING, Memory, Press, Progress, thread_of
from sitegen.site.processes import Spread, in_processes
from sitegen.site.proofkept import LearntShelf
from sitegen.site.searchkept import SearchShelf
from sitegen.site.states import UNKNOWN, NotKnownGone, settled, state_of, states_below
from sitegen.site.unsaid import Unsaid
from sitegen.site.writing import Content, Finished, Kept, MistakenError, Publication, publish, refuse_folder
from sitegen.typeset.pages import Typesetter
from sitegen.typeset.pictures import PictureError
from sitegen.typeset.searchdata import SearchKept
from sitegen.typeset.theme import ThemeError, load_theme

GENERATOR = f"sitegen {__version__}"


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
    new: Iterable[tuple[str, bytes, MadePage]] = ()
    """What the ledger must learn: (address in the edition, digest of the model, what was made). It lies in the spool, and is there
    for as long as that is."""
    theme: str = ""
    """Digest of the theme it is set in."""
    gone: frozenset[str] = frozenset()
    """Addresses that the ledger knows and this edition lacks."""


@dataclass(frozen=True, slots=True)
class Built:
    """What a build came to."""

    made: Made
    publication: Publication | None
    """What was done to the site; None when it is as it was."""
    is_new: bool = True
    """The content asked for was published. False when something stood against it: then it was the last accepted content, less
    what was taken back since, that was brought to the present moment, if there was any."""
    true_until: datetime | None = None
    """Until when what was published stays true; None for good, or when nothing was published."""


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
    told: Iterable[Finding] = (),
    is_accepted: bool = False,
    themes: Path | None = None,
    drawer: Drawer | None = None,
    searched: SearchKept | None = None,
    learnt: bytes = b"",
) -> Made:
    """The edition of some content as of a moment: read, composed, typeset and proofed. Writes no page.

    Pages are made only of content without faults; with `strict`, concerns are faults. `jobs` and `lock` are as in
    `make_pages`. What `memory` has is not made again; `spool` is a folder for finished bytes. `told` are findings about the
    copy from elsewhere. The copy of content that `is_accepted` is not judged again. `themes` is the folder whose themes count,
    where it is not `root`. What `drawer` has of the content's stories is not worked out again,
    and the search is made from what `searched` has. `learnt` is what the proof is told of the theme.
    """
    findings = [*reading.findings, *told]
    newsroom = reading.newsroom
    if newsroom is not None and not is_accepted:
        findings += check_copy(newsroom, as_of, drawer, Spread(jobs, lock))
    if newsroom is None:
        return Made(_report(findings, (), strict), None, {}, frozenset())
    # Composed even of faulty content, so that what only the whole shows (two stories at one address) is
    # told in the same run as what each file shows.
    aside = Heap(spool)
    with without_collector():
        composition = compose_edition(newsroom, as_of, drawer=drawer, leaves_resting=True, aside=aside)
    edition, composer = composition.edition, composition.composer
    _outlive(newsroom, composition)
    if not is_accepted:
        findings += composition.findings
    if _stops(findings, strict):
        return Made(_report(findings, (), strict), None, {}, frozenset())
    station = newsroom.station
    try:
        theme = load_theme(themes or root, station.theme)
        typesetter = Typesetter(
            theme, station.language, is_sound=theme.digest == memory.theme, searched=searched
        )
    except ThemeError as error:
        return Made(_report([*findings, _of_theme(station, error)], (), strict), edition, {}, frozenset())
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
        theme,
        station.language,
        typesetter,
        station.address,
        dict(files),
        store,
        frozenset(memory.written),
        spool,
        learnt,
    )
    pressing = Press(ground, memory, thread_of(theme, station.language))
    try:
        with seldom_collecting():
            page_findings = pressing.pages(edition, composer.woken, aside, jobs, lock, progress)
        composer.remember(pressing.digests)
        pressing.files(edition.files, typesetter)
    except ThemeError as error:
        return Made(_report([*findings, _of_theme(station, error)], (), strict), edition, {}, frozenset())
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
        theme.digest,
        frozenset(memory.entries.digests.keys() - pressing.addresses),
    )


def build(
    reading: Reading,
    order: Order,
    as_of: datetime,
    sources: Sources,
    ground: str,
    *,
    marks: Mapping[str, bytes] = MappingProxyType({}),
    lock: int | None = None,
    progress: Progress = silent,
) -> Built:
    """Makes an edition and publishes it if nothing stands against it; else the site stays as it is.

    `reading` is of `sources` or younger; `marks` are digests of its stories' records by their ids. The caller holds the site's lock. Raises SiteError (its kinds say why) when the
    folder may not or cannot be written.
    """
    # Before anything is made: kept pictures may lie beside the folder.
    refuse_folder(order.workshop.site, order.root)
    if reading.newsroom is not None:
        _refuse_anothers(order, reading.newsroom.station)
    ledger = Ledger(order.workshop.ledger)
    memory = NOTHING if order.fresh else _remembered(order, ground, ledger)
    drawer = StoryDrawer(order.workshop.ledger, ground, marks, order.fresh)
    searched = SearchShelf(order.workshop.ledger, ground, order.fresh, Spread(order.jobs, lock))
    learnt = LearntShelf(order.workshop.ledger, ground, order.fresh)
    job = _Job(order, as_of, sources, ground, ledger, drawer, searched, learnt, lock, progress)
    try:
        return job.build(reading, memory)
    except MistakenError:
        # The ledger spoke of a file that the site's own manifest does not know.
        return job.build(reading, NOTHING)
    finally:
        drawer.save()


def _refuse_anothers(order: Order, station: Station) -> None:
    """Raises RefusedError where the folder asked for holds a site of another address, and nothing says that it is of this
    station: neither its folder, nor its name, nor its programme's. An address may change on purpose, and so may all of these."""
    workshop = order.workshop
    accepted = Accepted(workshop.accepted)
    if not workshop.is_apart or accepted.is_of(order.root):
        return
    address = public_address(workshop.site)
    if address in ("", station.address):
        return
    before = accepted.read(only=frozenset())
    known = before.newsroom.station if before is not None and before.newsroom is not None else None
    if known is not None and (known.station == station.station or known.programme == station.programme):
        return
    whose = f"the site of {known.station}, {address}" if known is not None else f"the site of {address}"
    raise RefusedError(
        f"The folder '{workshop.site}' holds {whose}; this is {station.station}, {station.address}. Give a folder of its own: "
        "--out DIR. Where it is the same site under a new address, move that folder away and build again."
    )


@dataclass(frozen=True, slots=True)
class _Job:
    """One build under way."""

    order: Order
    as_of: datetime
    sources: Sources
    ground: str
    ledger: Ledger
    drawer: StoryDrawer
    searched: SearchShelf
    learnt: LearntShelf
    lock: int | None
    progress: Progress

    def build(self, reading: Reading, memory: Memory) -> Built:
        accepted = Accepted(self.order.workshop.accepted)
        told = Unsaid(accepted, self.order.root).findings(reading, self.sources, self.as_of)
        with _spool(self.order.workshop.ledger) as spool:
            made = self._make(reading, self.order.root, memory, spool, told=told)
            self.learnt.keep_of(spool)
            if made.report.stops(self.order.level) or made.edition is None:
                brought = self._bring(reading, accepted, memory, spool)
                return replace(brought, made=made, is_new=False) if brought else Built(made, None, False)
            return self._accept(reading, accepted, made, memory)

    def _make(
        self,
        reading: Reading,
        root: Path,
        memory: Memory,
        spool: Path,
        *,
        told: Iterable[Finding] = (),
        is_accepted: bool = False,
    ) -> Made:
        return make(
            reading, root, self.as_of, DerivedStore(self.order.workshop.derived),
            strict=self.order.strict and not is_accepted, progress=self.progress, jobs=self.order.jobs, lock=self.lock,
            memory=memory, spool=spool, told=told, is_accepted=is_accepted, themes=self.order.root,
            # Accepted content lacks what was taken back: its records are not those of the reading.
            drawer=None if is_accepted else self.drawer, searched=self.searched, learnt=self.learnt.take(),
        )  # fmt: skip

    def _accept(self, reading: Reading, accepted: Accepted, made: Made, memory: Memory) -> Built:
        """Publishes new content, and keeps it as the accepted one."""
        try:
            is_other = accepted.begin(self.sources)
        except OSError as error:
            raise MachineError(
                f"'{error.filename or accepted.folder}' cannot be written: {error.strerror or error}. The site is as it was."
            ) from error
        built = self._publish(reading, made, memory, self.sources)
        if is_other:
            try:
                accepted.finish(self.order.root, self.sources)
            except OSError as error:
                named = f"'{error.filename}': " if error.filename else ""
                raise MachineError(
                    f"The site is published, but what it was made of could not be kept in '{accepted.folder}': "
                    f"{named}{error.strerror or error}. Until a build can, faults in the copy will leave the site as it is."
                ) from error
        return built

    def _bring(self, reading: Reading, accepted: Accepted, memory: Memory, spool: Path) -> Built | None:
        """Brings the accepted content, less what was taken back since, to the moment; None where that cannot be."""
        before = accepted.read()
        if before is None or before.newsroom is None or before.faults:
            return None
        now = reading
        if now.newsroom is None:
            if self.order.workshop.is_apart and not accepted.is_of(self.order.root):
                return None  # nothing says that it is this station's
            now = read_content(self.order.root, station=before.newsroom.station)
        assert now.newsroom is not None  # it was read with a station
        faulty = frozenset(finding.spot.path for finding in now.faults)
        there = NotKnownGone(self.sources.states)
        # Where the station's own file is missing, it is not the stories that were deleted: the content is elsewhere.
        kept = (
            less_removals(
                before.newsroom, now.newsroom, there, faulty, read_takedowns(self.order.root, faulty)
            )
            if before.newsroom.station.origin.spot.path in there
            else before.newsroom
        )
        made = self._make(Reading(kept), accepted.folder, memory, spool, is_accepted=True)
        if made.report.stops(self.order.level) or made.edition is None:
            return None
        # Nothing is remembered of the sources: the next build looks at all of them.
        return self._publish(Reading(kept), made, memory, Sources({}, 0))

    def _publish(self, reading: Reading, made: Made, memory: Memory, sources: Sources) -> Built:
        assert reading.newsroom is not None and made.edition is not None  # nothing stood against it
        station = reading.newsroom.station
        site = self.order.workshop.site
        publication = publish(
            site,
            made.files,
            generator=GENERATOR,
            address=station.address,
            root=self.order.root,
            immutable=made.immutable,
        )
        write_for_root(self.order.workshop.for_root, site, made.files.keys(), station.address)
        until = made.edition.true_until
        facts = Facts(
            ground=self.ground,
            theme=made.theme,
            since=self.as_of.isoformat(),
            until=until.isoformat() if until is not None else "",
            fixed=station.as_of,
            time_zone=station.time_zone,
            pages=made.edition.count,
            concerns=made.report.concerns - len(made.report.said_once.copy),
            sources=settled(sources.states, sources.looked_at) or {"": UNKNOWN},
            files=_left(site, made, memory),
            for_root=states_below(os.fspath(self.order.workshop.for_root), ""),
        )
        self.ledger.save(facts, made.new, made.gone, fresh=memory is NOTHING)
        return Built(made, publication, True, until)


def _remembered(order: Order, ground: str, ledger: Ledger) -> Memory:
    facts = ledger.facts()
    if facts is None or facts.ground != ground:
        return NOTHING
    site = order.workshop.site
    written = {path: file for path, file in facts.files.items() if state_of(f"{site}/{path}") == file.state}
    entries = ledger.entries()
    return Memory(site, entries, written, facts.theme) if entries.digests else NOTHING


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
def without_collector() -> Iterator[None]:
    """Records and models are trees: there is nothing in them for the collector to find, and looking for it took a fifth of a
    build's time. In a process where it rests anyway this changes nothing."""
    if not gc.isenabled():
        yield
        return
    gc.disable()
    gc.freeze()
    try:
        yield
    finally:
        gc.unfreeze()
        gc.enable()


def _of_theme(station: Station, error: ThemeError) -> Finding:
    return Finding(station.origin.of("theme"), Weight.FAULT, "theme", str(error))


_ALIVE: list[object] = []


def _outlive(*things: object) -> None:
    """Keeps things to the end of a process that ends with its command, as one does in which the collector rests: to take tens of
    thousands of records and models apart one by one would be work for nothing."""
    if not gc.isenabled():
        _ALIVE.extend(things)


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
        key = (asset.source, asset.digest, asset.box) if isinstance(asset, PictureAsset) else asset.address
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
        raise PictureError("The file changed while the site was being built.", "Build again.")
    return data
