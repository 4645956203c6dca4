"""The build: content to models, models to bytes, bytes through the proof, and then all files or none.

`make` does everything up to the last verdict and touches nothing that viewers can see; `build` publishes
what `make` made when nothing stands against it.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Literal

from sitegen import __version__
from sitegen.edition.compose import compose_edition
from sitegen.edition.models import Asset, CopyAsset, Edition, PictureAsset
from sitegen.newsroom.records import Finding, Reading, Spot, Weight
from sitegen.proof.cardcheck import check_cards
from sitegen.proof.checks.base import Level, PageFinding
from sitegen.proof.collector import seldom_collecting
from sitegen.proof.copycheck import check_copy
from sitegen.proof.pagecheck import Extract, check_links, check_page, contrast_judge
from sitegen.proof.report import CopyFinding, Report
from sitegen.site.derived import DerivedStore
from sitegen.site.forroot import write_for_root
from sitegen.site.writing import Content, Publication, publish, refuse_folder
from sitegen.typeset.cards import Card
from sitegen.typeset.pages import Typesetter, output_path
from sitegen.typeset.pictures import PictureError
from sitegen.typeset.theme import ThemeError, load_theme

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


@dataclass(frozen=True, slots=True)
class Built:
    """What a build came to."""

    made: Made
    publication: Publication | None
    """None when something stood against publishing; the site is then as it was."""


def make(
    reading: Reading,
    root: Path,
    as_of: datetime,
    store: DerivedStore,
    *,
    strict: bool = False,
    progress: Progress = silent,
) -> Made:
    """The edition of some content as of a moment: read, composed, typeset and proofed. Writes no page.

    Pages are made only of content without faults; with `strict`, concerns are faults.
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
    try:
        theme = load_theme(root, newsroom.station.theme)
        typesetter = Typesetter(theme, newsroom.station.language)
    except ThemeError as error:
        findings.append(Finding(newsroom.station.origin.of("theme"), Weight.FAULT, "theme", str(error)))
        return Made(_report(findings, (), strict), edition, {}, frozenset())
    files: dict[str, Content] = {}
    immutable: set[str] = set()
    for address, data in typesetter.theme_files:
        files[address] = data
        immutable.add(address)
    for path, content, fault in _assets(edition, root, store, progress):
        immutable.add(path)
        if fault is not None:
            findings.append(fault)
        else:
            files[path] = content
    judge = contrast_judge(lambda path: _bytes_of(files.get(path)), newsroom.station.address)
    page_findings: list[PageFinding] = []
    cards: dict[str, Card] = {}
    extracts: dict[str, Extract] = {}
    total = len(edition.pages)
    with seldom_collecting():
        for number, page in enumerate(edition.pages, 1):
            data = typesetter.page(page)
            proof = check_page(page.address, data, judge)
            page_findings += proof.findings
            extracts[page.address] = proof.extract
            files[output_path(page.address)] = data
            card = typesetter.card(page)
            if card is not None:
                cards[card.address] = card
            progress("pages", number, total)
    for number, (address, card) in enumerate(sorted(cards.items()), 1):
        files[address] = store.card(card)
        immutable.add(address)
        progress("share pictures", number, len(cards))
    page_findings += check_cards([(address, card.inks) for address, card in sorted(cards.items())])
    for file in edition.files:
        path = typesetter.file_address(file)
        files[path] = typesetter.file(file, lambda address: _size_of(files.get(address)))
        if path != output_path(file.address):
            immutable.add(path)
    page_findings += check_links(extracts, files, newsroom.station.address)
    return Made(_report(findings, tuple(page_findings), strict), edition, files, frozenset(immutable))


def build(
    reading: Reading,
    root: Path,
    out: Path,
    as_of: datetime,
    store: DerivedStore,
    *,
    strict: bool = False,
    level: Level = "AA",
    progress: Progress = silent,
    for_root: Path | None = None,
) -> Built:
    """Makes an edition and publishes it to `out` if nothing stands against it; else `out` stays as it is.

    `for_root` is the folder for what counts only at a host's root.

    Raises SiteError (its kinds say why) when the folder may not or cannot be written.
    """
    # Before anything is made: kept pictures may lie beside the folder.
    refuse_folder(out, root)
    made = make(reading, root, as_of, store, strict=strict, progress=progress)
    if made.report.stops(level) or made.edition is None or reading.newsroom is None:
        return Built(made, None)
    publication = publish(
        out,
        made.files,
        generator=GENERATOR,
        address=reading.newsroom.station.address,
        root=root,
        immutable=made.immutable,
    )
    if for_root is not None:
        write_for_root(for_root, made.files, reading.newsroom.station.address)
    return Built(made, publication)


def _bytes_of(content: Content | None) -> bytes | None:
    return content.read_bytes() if isinstance(content, Path) else content


def _size_of(content: Content | None) -> int | None:
    if isinstance(content, Path):
        return content.stat().st_size
    return None if content is None else len(content)


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


def _assets(
    edition: Edition, root: Path, store: DerivedStore, progress: Progress
) -> Iterator[tuple[str, Content, Finding | None]]:
    """Each asset's path and content, or the fault that keeps it from being made."""
    total = len(edition.assets)
    done = 0
    for group in _made_together(edition):
        contents: Sequence[Content] = [b""] * len(group)
        fault = None
        try:
            contents = _contents(group, root, store)
        except (PictureError, OSError) as error:
            reason = (
                str(error)
                if isinstance(error, PictureError)
                else f"The file cannot be read: {error.strerror or error}."
            )
            fault = Finding(Spot(group[0].source), Weight.FAULT, "picture", reason)
        for asset, content in zip(group, contents, strict=True):
            yield asset.address, content, fault
        done += len(group)
        progress("pictures", done, total)


def _made_together(edition: Edition) -> list[list[Asset]]:
    """The assets in groups: files of one part of one picture together, everything else alone."""
    groups: dict[object, list[Asset]] = {}
    for asset in edition.assets:
        key = (asset.source, asset.box) if isinstance(asset, PictureAsset) else asset.address
        groups.setdefault(key, []).append(asset)
    return list(groups.values())


def _contents(group: list[Asset], root: Path, store: DerivedStore) -> Sequence[Content]:
    pictures = [asset for asset in group if isinstance(asset, PictureAsset)]
    if pictures:
        return store.pictures(root / pictures[0].source, pictures)
    return [_copied(asset, root) for asset in group if isinstance(asset, CopyAsset)]


def _copied(asset: CopyAsset, root: Path) -> bytes:
    data = (root / asset.source).read_bytes()
    if hashlib.sha256(data).hexdigest() != asset.digest:
        raise PictureError("The file changed while the site was being built. Build again.")
    return data
