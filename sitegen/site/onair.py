"""The on-air pack of an episode: made and proofed in memory, then written as one folder, or nothing.

A new pack stands beside the old one before it takes its place, in two renames: killed between them, the old one lies beside its
folder, and the next run puts it back before anything else. What is in it is the newsroom's, held stories' names among it, so it never lies where a site does.
"""

from __future__ import annotations

import json
import shutil
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from sitegen.edition.models import Moment
from sitegen.edition.onair import OnAirPack, on_air_pack
from sitegen.newsroom.fields import did_you_mean
from sitegen.newsroom.records import Episode, Finding, Newsroom, Reading
from sitegen.proof.checks.base import PageFinding
from sitegen.proof.graphicscheck import check_graphics
from sitegen.proof.pagecheck import check_page, contrast_judge
from sitegen.proof.report import CopyFinding, Report
from sitegen.site.errors import MachineError, RefusedError
from sitegen.site.manifest import MANIFEST_NAME
from sitegen.site.processes import in_processes
from sitegen.typeset.dates import NO_BREAK
from sitegen.typeset.graphics import SHAPES, Graphic, Shape, draw_graphic, lay_out
from sitegen.typeset.onair import NamedGraphic, SheetSetter
from sitegen.typeset.theme import ThemeError, load_theme

HOST, PHONES, LIST = "host.html", "phones.html", "pack.json"
"""Files of a pack. The list says what every picture is, and marks the folder as a pack's."""
PART, OLD = "part", "old"
"""What stands beside a pack's folder while it is replaced: `.NAME.part`, `.NAME.old`."""
GRAPHICS = "graphics"
"""Folder of its pictures."""


@dataclass(frozen=True, slots=True)
class PackMade:
    """A pack as bytes, with every verdict on it."""

    report: Report
    pack: OnAirPack
    files: dict[str, bytes]
    """By path in the pack's folder; empty when something stands against it."""
    undrawn: tuple[str, ...] = ()
    """Titles of asks without graphics, because the type lacks their letters or the theme the colours."""


def episode_named(newsroom: Newsroom, name: str) -> Episode:
    """The episode of that id, or whose file it is. Raises RefusedError when there is none."""
    wanted = Path(name).stem if name.endswith(".md") else name
    for episode in newsroom.episodes:
        if episode.id == wanted:
            return episode
    known = tuple(episode.id for episode in newsroom.episodes)
    hint = did_you_mean(wanted, known) or (
        f"The newest is '{max(known)}'." if known else "There is none yet."
    )
    raise RefusedError(f"There is no episode content/episodes/{wanted}.md that can be read. {hint}")


def make_pack(reading: Reading, root: Path, episode: Episode, as_of: datetime, jobs: int = 1) -> PackMade:
    """The pack of an episode as of a moment: composed, typeset and proofed. Writes nothing.

    Faults in the episode, its stories and what these are made of stand against it; those of other stories do not. Raises
    RefusedError for a theme that has no sheets, or cannot set them.
    """
    assert reading.newsroom is not None  # whoever calls has looked
    newsroom = reading.newsroom
    pack = on_air_pack(newsroom, episode, as_of)
    faults = [fault for fault in reading.faults if _concerns(fault, episode)]
    if faults:
        return PackMade(Report(pages=(), copy=tuple(map(_copy_finding, faults))), pack, {})
    try:
        setter = SheetSetter(load_theme(root, newsroom.station.theme), newsroom.station.language)
        sheets = {HOST: setter.host(pack), PHONES: setter.phones(pack)}
        named = setter.graphics(pack)
    except ThemeError as error:
        raise RefusedError(f"{error}.") from error
    drawn = [(each.name, each.graphic) for each in named if each.graphic is not None]
    report = Report(
        pages=(*_sheet_findings(sheets), *check_graphics((name, each.inks) for name, each in drawn))
    )
    if report.stops("AAA"):
        return PackMade(report, pack, {})
    files = dict(sheets)
    work = [
        (name, graphic, shape, alpha)
        for name, graphic in drawn
        for shape in SHAPES
        for alpha in (False, True)
    ]
    pictures = in_processes(_drawn, work, jobs, None)
    for (name, _, shape, alpha), picture in zip(work, pictures, strict=True):
        files[_file(name, shape, alpha)] = picture
    files[LIST] = _list(pack, named)
    undrawn = tuple(each.ask for each in named if each.graphic is None)
    return PackMade(report, pack, files, undrawn)


def _drawn(work: tuple[str, Graphic, Shape, bool]) -> bytes:
    _, graphic, shape, alpha = work
    return draw_graphic(graphic, shape, alpha=alpha)


def _concerns(fault: Finding, episode: Episode) -> bool:
    """Whether a fault may make the pack say something that is not so, or leave something out."""
    path = fault.spot.path
    if path.startswith(("content/episodes/", "content/pages/")):
        return path == episode.origin.spot.path
    if path.startswith("content/stories/"):
        return any(path == f"content/stories/{entry.story}.md" for entry in episode.rundown)
    return True


def _copy_finding(fault: Finding) -> CopyFinding:
    spot = fault.spot
    return CopyFinding(spot.path, spot.line, spot.column, "fault", fault.check, fault.message, fault.instead)


def _sheet_findings(sheets: dict[str, bytes]) -> tuple[PageFinding, ...]:
    judge = contrast_judge(sheets.get)
    return tuple(
        finding for name, sheet in sheets.items() for finding in check_page(name, sheet, judge).findings
    )


def _file(name: str, shape: Shape, alpha: bool) -> str:
    return f"{GRAPHICS}/{name}-{shape}{'-alpha' if alpha else ''}.png"


def _list(pack: OnAirPack, named: tuple[NamedGraphic, ...]) -> bytes:
    """What is in the pack, for playout: each picture with its words, the place that the full screen names, and until when it may be shown."""

    def row(each: NamedGraphic) -> dict[str, Any]:
        graphic = each.graphic
        return {
            "story": each.story,
            "ask": each.ask,
            "until": each.until.iso if each.until is not None else None,
            "files": [_file(each.name, shape, alpha) for shape in SHAPES for alpha in (False, True)]
            if graphic
            else [],
            "words": [
                each.ask,
                *(words.replace(NO_BREAK, " ") for words in graphic.whens[:1]),
                *graphic.addresses[:1],
            ]
            if graphic
            else [],
            "place": (lay_out(graphic, "full").where or None) if graphic else None,
            "leads_to": graphic.leads_to if graphic else None,
        }

    whole = {
        "episode": pack.episode,
        "true_from": pack.true_from.iso,
        "true_until": _iso(pack.true_until),
        "graphics": [row(each) for each in named],
        "not_on_site": [
            {"story": story.headline, "why": story.state, "from": _iso(story.release)}
            for story in pack.stories
            if story.state != "on"
        ],
    }
    return (json.dumps(whole, ensure_ascii=False, indent=1) + "\n").encode()


def _iso(moment: Moment | None) -> str | None:
    return moment.iso if moment is not None else None


# --- writing ---------------------------------------------------------------------------------


def pack_folder(root: Path, episode: str, out: Path | None) -> Path:
    """Where a pack goes. Raises RefusedError when it may not: a site's folder, content, themes, or others' files."""
    folder = out if out is not None else root / "build" / "onair" / episode
    here, home = folder.resolve(), root.resolve()
    for kept in (home / "content", home / "themes", home / "build" / "site"):
        if here.is_relative_to(kept) or kept.is_relative_to(here):
            raise RefusedError(
                f"The folder '{folder}' is, holds or lies in '{kept}'. Choose one apart from it."
            )
    if folder.exists() and not folder.is_dir():
        raise RefusedError(f"'{folder}' is a file. Give a folder.")
    if (folder / MANIFEST_NAME).exists() or any((above / MANIFEST_NAME).is_file() for above in here.parents):
        raise RefusedError(
            f"The folder '{folder}' is a site's. What is in a pack is not for viewers: choose another."
        )
    if folder.is_dir() and any(folder.iterdir()) and not (folder / LIST).is_file():
        raise RefusedError(
            f"The folder '{folder}' holds other files: it has no {LIST}. Choose an empty folder."
        )
    return folder


def put_back(folder: Path) -> None:
    """Puts back the pack that a run was replacing when it was killed; does nothing where none was. Raises MachineError when the disk
    refuses."""
    try:
        _put_back(folder)
    except OSError as error:
        raise MachineError(
            f"'{folder}' is missing, and its pack in '{_beside(folder, OLD)}' cannot be put back: {error.strerror or error}."
        ) from error


def _put_back(folder: Path) -> None:
    if _is_away(folder):
        if folder.is_dir():
            folder.rmdir()  # somebody made it anew, and empty: `pack_folder` takes no other
        _beside(folder, OLD).rename(folder)


def _is_away(folder: Path) -> bool:
    return (_beside(folder, OLD) / LIST).is_file() and not (folder / LIST).is_file()


def _remove(old: Path) -> None:
    # The list first: half a pack is none, and is never put back.
    with suppress(OSError):
        (old / LIST).unlink()
    shutil.rmtree(old, ignore_errors=True)


def _beside(folder: Path, word: str) -> Path:
    return folder.with_name(f".{folder.name}.{word}")


def write_pack(folder: Path, files: dict[str, bytes]) -> None:
    """Makes a folder hold exactly a pack's files. Raises MachineError when the disk refuses; then, and when it is interrupted, the
    old pack stands."""
    new, old = _beside(folder, PART), _beside(folder, OLD)
    put_back(folder)
    try:
        # The pack stands where it belongs, if there is one: what earlier runs left beside it is no only one.
        shutil.rmtree(new, ignore_errors=True)
        _remove(old)
        for path, data in files.items():
            target = new / path
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(data)
        try:
            if folder.exists():
                folder.rename(old)
            new.rename(folder)
        except BaseException:
            with suppress(OSError):
                _put_back(folder)
            raise
        _remove(old)
    except OSError as error:
        stands = (
            f"The pack of before lies in '{old}'; the next run puts it back."
            if _is_away(folder)
            else "The pack is as it was."
        )
        raise MachineError(
            f"'{error.filename or folder}' cannot be written: {error.strerror or error}. {stands}"
        ) from error
    finally:
        shutil.rmtree(new, ignore_errors=True)


def in_words(made: PackMade, folder: Path) -> list[str]:
    """What was written, and what to know before air, for the terminal."""
    pictures = sum(path.startswith(f"{GRAPHICS}/") for path in made.files)
    lines = [f"Wrote {folder}: {HOST}, {PHONES} and {pictures} graphics."]
    why = {
        "held": "is on hold",
        "later": "is not on the site by then",
        "withdrawn": "is withdrawn",
        "missing": "cannot be read",
    }
    lines += [
        f"'{story.headline}' {why[story.state]}: it has no graphic, and the sheets say so."
        for story in made.pack.stories
        if story.state != "on"
    ]
    lines += [
        f"'{title}' has no graphic: the type lacks its letters, or the theme its colours."
        for title in made.undrawn
    ]
    lines += [
        f"'{story.headline}' has no short address that leads to it; add: say_on_air: WORD"
        for story in made.pack.shown
        if not story.short and any(ask.standing.live for ask in story.asks)
    ]
    return lines
