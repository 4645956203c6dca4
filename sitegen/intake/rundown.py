"""Rundowns as newsrooms export them: CSV with any of page, slug, start or clock time, length and headline, under whatever heading.

Headings are matched loosely. A clock time is one of the day, a start counts from the programme's; when only lengths are known, starts are their sums.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import time
from io import StringIO

from sitegen.intake.clockings import MINUTE, Clocking, from_air, read_clocking
from sitegen.intake.records import IntakeError
from sitegen.intake.vocabulary import word_set

_HEADINGS = {
    "page": ("page", "pg", "item", "no", "number", "row", "seq", "order", "#"),
    "slug": ("slug", "title", "story", "name", "story slug", "item slug", "segment", "piece", "topic", "subject"),
    "start": ("start", "start time", "begin", "begins", "in", "time in", "from", "offset", "show time", "cume", "running time", "at", "starts", "elapsed"),
    "clock": ("clock", "clock time", "air time", "on air", "hit time", "hit", "back time", "front time", "time of day", "airtime", "tod", "onair", "time"),
    "length": ("length", "duration", "dur", "trt", "runs", "est", "est dur", "estimated", "total", "total time", "timing", "actual", "len", "lasts"),
    "headline": ("headline", "head", "web headline", "web head", "hed", "web title", "description"),
}  # fmt: skip
_PARTS = word_set(
    "open opening close closing goodnight goodbye bye break commercial commercials spot spots promo promos tease teases teaser teasers toss bump bumper bumpers weather sport sports billboard "
    "billboards credit credits title titles headline headlines welcome hello signoff signon intro outro end preshow slate black chat ident theme"
)
"""Words for what is no story, where a slug has no others."""
_BESIDE = word_set(
    "a b c d e f g h i j k l m n o p q r s t u v w x y z the to and of in from with show program programme block part cold two shot anchor anchors host hosts desk live studio vo music main final "
    "local national network id one three four five six seven eight nine ten"
)
_ABOUT_ANOTHER = word_set("tease teases teaser teasers toss bump bumper promo intro outro")
_SUMS = word_set("total totals subtotal sum trt over under overage overrun")
_BESIDE_SUMS = _BESIDE | word_set(
    "time times running run runs length duration rundown est estimated actual planned grand all seconds"
)


@dataclass(frozen=True, slots=True)
class RundownRow:
    """One row of a rundown."""

    slug: str
    page: str = ""
    headline: str = ""
    start: float | None = None
    """Seconds from the start of the programme, as planned."""
    length: float | None = None
    """Seconds."""
    is_story: bool = True
    slack: float = 0.0
    """Seconds after its start within which it may as well begin: the rundown knows its minute only."""


@dataclass(frozen=True, slots=True)
class Rundown:
    """What a rundown says."""

    rows: tuple[RundownRow, ...]
    """In the show's order, those that have a time."""
    notes: tuple[str, ...] = ()
    """What was left out of it, or had to be guessed."""


def read_rundown(text: str, aired: time | None) -> Rundown:
    """A rundown of CSV. `aired`: the time of day at which the programme began, for clock times.

    Raises IntakeError when no column says when anything starts or how long it is, or what it is called; when there are no rows, or no
    stories among them; and when a cell of the times that count cannot be read.
    """
    text = text.lstrip("\ufeff")
    lines = [line for line in text.splitlines() if line.strip()]
    if not lines:
        raise IntakeError("The rundown is empty. Export it as CSV with a line of headings, or leave it out.")
    delimiter = max(",;\t|", key=lambda sign: sum(line.count(sign) for line in lines[:5]))
    reader = csv.reader(StringIO(text), delimiter=delimiter)
    try:
        rows = [[cell.strip() for cell in row] for row in reader if any(cell.strip() for cell in row)]
    except csv.Error:
        raise IntakeError(
            f"The rundown cannot be read at line {reader.line_num}: a cell there has no end. Is a quotation mark not closed?"
        ) from None
    head, columns = _heading(rows)
    if not columns.keys() & {"slug", "headline", "page"}:
        raise IntakeError(
            f"The rundown's headings name no slug: {', '.join(rows[0])[:80]}. Call one column slug, and one start, clock or length."
        )
    if not columns.keys() & {"start", "clock", "length"}:
        raise IntakeError(
            f"The rundown's headings name no times: {', '.join(rows[head])[:80]}. Call one column start, clock or length."
        )
    read = [_row(cells, columns, number) for number, cells in enumerate(rows[head + 1 :], 1)]
    found = [row for row in read if row is not None and not _is_sum(row.slug)]
    if not found:
        raise IntakeError(
            "The rundown has headings and no rows below them. Export it again, or leave it out."
        )
    placed, notes = _placed(found, aired)
    others = [_words(row.slug) for row in found]
    kept = tuple(replace(row, is_story=not _is_no_story(row.slug, others)) for row in placed)
    left_out = [row.slug for row in kept if not row.is_story]
    if len(left_out) == len(kept):
        raise IntakeError(
            f"The rundown names no story: {', '.join(left_out)[:80]}. Export it with the stories' rows, or leave it out."
        )
    if left_out:
        notes = (f"No stories, by their slugs in the rundown: {', '.join(left_out)}.", *notes)
    return Rundown(kept, notes)


def _heading(rows: Sequence[Sequence[str]]) -> tuple[int, dict[str, int]]:
    """(index of the row of headings, columns by what they hold): the row among the first few that names most."""
    best: tuple[int, dict[str, int]] = (0, {})
    for number, cells in enumerate(rows[:6]):
        columns: dict[str, int] = {}
        for index, cell in enumerate(cells):
            kind = _kind(cell)
            if kind and kind not in columns:
                columns[kind] = index
        if len(columns) > len(best[1]):
            best = (number, columns)
    return best


def _kind(heading: str) -> str:
    words = re.sub(r"[^a-z#]+", " ", heading.lower()).strip()
    for kind, names in _HEADINGS.items():
        if words in names:
            return kind
    for kind in ("headline", "clock", "length", "start", "slug", "page"):
        if any(re.search(rf"\b{re.escape(name)}\b", words) for name in _HEADINGS[kind] if len(name) > 2):
            return kind
    return ""


# --- rows that are no stories ----------------------------------------------------------------


def _words(slug: str) -> frozenset[str]:
    """The words of a slug, without numbers."""
    joined = re.sub(r"\b(sign|good|pre)[\s_-]*(on|off|night|bye|show)\b", r"\1\2", slug.lower())
    return frozenset(re.findall(r"[^\W\d_]+", joined))


def _is_sum(slug: str) -> bool:
    """True for `TOTAL RUNNING TIME` and `OVER/UNDER`, which are no rows of the show."""
    words = _words(slug)
    return bool(words & _SUMS) and words <= _SUMS | _BESIDE_SUMS


def _is_no_story(slug: str, rows: Sequence[frozenset[str]]) -> bool:
    """True for a slug that says nothing but what no story is, and for what only leads to another row: `TEASE SOCKS` beside `SOCKS`."""
    words = _words(slug)
    if words & _PARTS and words <= _PARTS | _BESIDE:
        return True
    rest = words - _ABOUT_ANOTHER - _BESIDE
    return bool(words & _ABOUT_ANOTHER) and any(rest <= other for other in rows if other != words)


# --- times -----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Read:
    """A row as it stands there."""

    number: int
    """From 1, below the headings."""
    slug: str
    page: str
    headline: str
    cells: dict[str, str]
    """By the kind of time."""


_TIMES = ("start", "clock", "length")


def _row(cells: Sequence[str], columns: dict[str, int], number: int) -> _Read | None:
    def cell(kind: str) -> str:
        index = columns.get(kind)
        return cells[index] if index is not None and index < len(cells) else ""

    slug = cell("slug") or cell("headline") or cell("page")
    times = {kind: cell(kind) for kind in _TIMES}
    # A line below the table, such as who made it, has no digit among its times.
    if not any(_says_time(each) for each in times.values()) and not slug:
        return None
    return _Read(number, slug, cell("page"), cell("headline"), times)


def _says_time(cell: str) -> bool:
    return any(sign.isdigit() for sign in cell)


def _placed(rows: Sequence[_Read], aired: time | None) -> tuple[list[RundownRow], tuple[str, ...]]:
    """(rows with starts from the programme's, notes): written ones, clock times less the air time, or sums of lengths."""
    said = {kind: [row for row in rows if _says_time(row.cells[kind])] for kind in _TIMES}
    kind = "clock" if len(said["clock"]) > len(said["start"]) else "start"
    if len(said[kind]) * 2 < len(rows) or not said[kind]:
        kind = "length"
    timed = said[kind]
    if not timed:
        raise IntakeError(
            "No row of the rundown has a time. Write, for example, 0:34 as a length, 3:05 as a start or 18:30:13 as a clock time."
        )
    notes: tuple[str, ...] = ()
    untimed = [row.slug for row in rows if row not in timed]
    if untimed:
        notes += (f"Rows of the rundown without a {_NAMES[kind]} were left out: {', '.join(untimed)}.",)
    times = _read_times(timed, kind)
    # Lengths that stand beside starts are only of use where they can be read.
    lengths = times if kind == "length" else [read_clocking(row.cells["length"]) for row in timed]
    starts: list[float] = []
    minutes = [False] * len(timed)
    if kind == "length":
        now = 0.0
        for each in times:
            starts.append(now)
            now += each.seconds
    else:
        starts, minutes, far = from_air(times, aired, clock=kind == "clock")
        if any(minutes):
            notes += (
                "The rundown's times have no seconds: a story begins where most speaks for it within its minute. Look at where each begins.",
            )
        if far and aired is not None:
            notes += (
                f"The rundown's times are not near {aired:%H:%M}, when the programme aired: its first is taken for the start.",
            )
    return [
        RundownRow(
            row.slug, row.page, row.headline, start, length.seconds if length else None,
            slack=MINUTE - 1 if whole else 0.0,
        )
        for row, start, length, whole in zip(timed, starts, lengths, minutes, strict=True)
    ], notes  # fmt: skip


_NAMES = {"start": "start", "clock": "clock time", "length": "length"}
_SUCH_AS = {"start": "3:05", "clock": "18:30:13", "length": "0:34"}


def _read_times(rows: Sequence[_Read], kind: str) -> list[Clocking]:
    read = [read_clocking(row.cells[kind]) for row in rows]
    wrong = [row for row, time_read in zip(rows, read, strict=True) if time_read is None]
    if wrong:
        told = "; ".join(f"row {row.number} ({row.slug[:30]}): '{row.cells[kind][:20]}'" for row in wrong[:3])
        more = f", and {len(wrong) - 3} more" if len(wrong) > 3 else ""
        raise IntakeError(
            f"The rundown has a {_NAMES[kind]} that cannot be read in {told}{more}. Write, for example, {_SUCH_AS[kind]}."
        )
    return [each for each in read if each is not None]
