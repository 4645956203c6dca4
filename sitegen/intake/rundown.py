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

from sitegen.intake.records import IntakeError

_HEADINGS = {
    "page": ("page", "pg", "item", "no", "number", "row", "seq", "order", "#"),
    "slug": ("slug", "title", "story", "name", "story slug", "item slug", "segment", "piece", "topic", "subject"),
    "start": ("start", "start time", "begin", "begins", "in", "time in", "from", "offset", "show time", "cume", "running time", "at", "starts", "elapsed"),
    "clock": ("clock", "clock time", "air time", "on air", "hit time", "hit", "back time", "front time", "time of day", "airtime", "tod", "onair", "time"),
    "length": ("length", "duration", "dur", "trt", "runs", "est", "est dur", "estimated", "total", "total time", "timing", "actual", "len", "lasts"),
    "headline": ("headline", "head", "web headline", "web head", "hed", "web title", "description"),
}  # fmt: skip
_TIME = re.compile(r"(?:(\d{1,2}):)?(\d{1,3}):(\d\d)(?:[.;:]\d+)?\s*([ap])?\.?m?\.?\Z", re.IGNORECASE)
_NO_STORY = re.compile(
    r"\b(?:open(?:ing)?|close|closing|good ?night|goodbye|bye|break|commercial|spot|promo|tease[rs]?|toss|bump(?:er)?|weather|sports?|billboard|credits?|titles?|headlines|welcome|hello|sign ?o(?:ff|n)|cold open|intro|outro|end|preshow|slate|black|break \d|two shot|chat|ident|theme)\b",
    re.IGNORECASE,
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


def read_rundown(text: str, aired: time | None) -> tuple[RundownRow, ...]:
    """The rows of a rundown in the show's order. `aired`: the time of day at which the programme began, for clock times.

    Raises IntakeError when no column says when anything starts or how long it is, or what it is called.
    """
    text = text.lstrip("\ufeff")
    lines = [line for line in text.splitlines() if line.strip()]
    if not lines:
        raise IntakeError("The rundown is empty. Export it as CSV with a line of headings.")
    delimiter = max(",;\t|", key=lambda sign: sum(line.count(sign) for line in lines[:5]))
    rows = [
        [cell.strip() for cell in row]
        for row in csv.reader(StringIO(text), delimiter=delimiter)
        if any(cell.strip() for cell in row)
    ]
    head, columns = _heading(rows)
    if not columns.keys() & {"slug", "headline", "page"}:
        raise IntakeError(
            f"The rundown's headings name no slug: {', '.join(rows[0])[:80]}. Call one column slug, and one start, clock or length."
        )
    if not columns.keys() & {"start", "clock", "length"}:
        raise IntakeError(
            f"The rundown's headings name no times: {', '.join(rows[head])[:80]}. Call one column start, clock or length."
        )
    found = [_row(cells, columns) for cells in rows[head + 1 :]]
    return tuple(_placed([row for row in found if row is not None], aired))


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


@dataclass(frozen=True, slots=True)
class _Read:
    row: RundownRow
    clock: float | None
    """Seconds of the day, or from the programme's start where the column says hours of neither."""


def _row(cells: Sequence[str], columns: dict[str, int]) -> _Read | None:
    def cell(kind: str) -> str:
        index = columns.get(kind)
        return cells[index] if index is not None and index < len(cells) else ""

    slug = cell("slug") or cell("headline") or cell("page")
    times = {kind: _seconds(cell(kind)) for kind in ("start", "clock", "length")}
    if not slug and all(value is None for value in times.values()):
        return None
    row = RundownRow(
        slug=slug,
        page=cell("page"),
        headline=cell("headline"),
        start=times["start"],
        length=times["length"],
        is_story=_NO_STORY.search(re.sub(r"[_/.-]+", " ", slug)) is None,
    )
    return _Read(row, times["clock"])


def _seconds(written: str) -> float | None:
    match = _TIME.match(written.strip())
    if match is None:
        return float(written) if re.fullmatch(r"\d{1,4}(?:\.\d+)?", written.strip()) else None
    hours, minutes, seconds = int(match[1] or 0), int(match[2]), int(match[3])
    if match[4]:
        if match[1] is None:  # `6:30 pm` is hours and minutes.
            hours, minutes, seconds = minutes, seconds, 0
        hours = hours % 12 + (12 if match[4].lower() == "p" else 0)
    return hours * 3600 + minutes * 60 + seconds


def _placed(rows: Sequence[_Read], aired: time | None) -> list[RundownRow]:
    """Rows with starts from the programme's: written ones, clock times less the air time, or sums of lengths."""
    written = [each.row.start for each in rows]
    clocks = [each.clock for each in rows]
    if sum(each is not None for each in clocks) > sum(each is not None for each in written):
        written = clocks
    known = [each for each in written if each is not None]
    if len(known) * 2 >= len(rows) and known:
        return [
            replace(each.row, start=start)
            for each, start in zip(rows, _from_air(written, known, aired), strict=True)
        ]
    now = 0.0
    placed: list[RundownRow] = []
    for each in rows:
        placed.append(replace(each.row, start=now))
        now += each.row.length or 0.0
    return placed


def _from_air(
    written: Sequence[float | None], known: Sequence[float], aired: time | None
) -> list[float | None]:
    """Starts from the programme's beginning; times of the day are known by being near the air time, or late in themselves."""
    base = 0.0
    if aired is not None:
        air = aired.hour * 3600 + aired.minute * 60 + aired.second
        for candidate in (air, air % 43200, (air % 43200) + 43200):
            if -120 <= known[0] - candidate <= 1800:
                base = candidate
                break
        else:
            if known[0] > 3600:
                base = known[0]
    elif known[0] > 3600:
        base = known[0]
    return [None if value is None else value - base for value in written]
