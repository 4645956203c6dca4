"""Reading round-ups: content/listings/*.csv (RFC 4180), one dated entry a row."""

from __future__ import annotations

import csv
import re
from collections.abc import Callable
from datetime import date, datetime, time, timedelta
from io import StringIO
from typing import TypeVar

from sitegen.newsroom.context import Context
from sitegen.newsroom.fields import can_be_told, did_you_mean
from sitegen.newsroom.records import ListingEntry, Origin, Spot, Stop
from sitegen.newsroom.times import TimeError, read_clock, read_date, read_when

COLUMNS = ("what", "town", "county", "date", "starts", "ends", "place", "note", "stopped")
NEEDED = ("what", "town", "county", "date")
MOST_ROWS = 20_000
_DATED_STOP = re.compile(r"(\d{4}-\d{2}-\d{2}(?:[ T]\d{2}:\d{2})?)\s*[:;,]?\s+(.*)\Z")
_T = TypeVar("_T")


def read_listing(text: str, path: str, context: Context) -> tuple[ListingEntry, ...]:
    """The entries of a listing in time order. Rows with faults are left out.

    `stopped` holds words ("called off"), which count from the start, or a date (and time) and words.
    """
    findings = context.findings
    rows = csv.reader(StringIO(text, newline=""), strict=True)
    entries: list[ListingEntry] = []
    lines: dict[ListingEntry, int] = {}
    """Where each stands first."""
    columns: list[str] | None = None
    line = 1
    try:
        for number, row in enumerate(rows):
            if number > MOST_ROWS:
                findings.fault(
                    Spot(path, line, 1),
                    "huge-file",
                    f"The listing has more than {MOST_ROWS} rows.",
                    "Split it over several stories.",
                )
                break
            cells = [" ".join(cell.split()) for cell in row]
            if columns is None:
                if not any(cells):
                    line = rows.line_num + 1
                    continue
                columns = _header(cells, row[0], Spot(path, line, 1), context)
                if columns is None:
                    return ()
            elif any(cells):
                entry = _entry(cells, columns, Spot(path, line, 1), context)
                if entry is not None:
                    first = lines.setdefault(entry, line)
                    if first != line:
                        findings.concern(
                            entry.origin.spot,
                            "row-twice",
                            f"This row says the same as line {first}.",
                            "Remove one of the two, or correct it.",
                        )
                    entries.append(entry)
            line = rows.line_num + 1
    except csv.Error as error:
        findings.fault(
            Spot(path, line, 1),
            "csv",
            f"This row cannot be read: {error}.",
            'Put a text that holds a comma in quotes: "Port Tidewick, pier 2"',
        )
    if columns is None:
        findings.fault(
            Spot(path, 1, 1),
            "empty-file",
            "The listing is empty.",
            f"Begin with the row: {','.join(COLUMNS)}",
        )
    return tuple(sorted(entries, key=lambda each: (each.day, each.starts or time.min, each.town, each.what)))


def _header(cells: list[str], raw: str, spot: Spot, context: Context) -> list[str] | None:
    good = True
    apart = next(
        (
            sign
            for sign in ";\t"
            if len(cells) == 1 and {*NEEDED} <= {*raw.lower().replace(" ", "").split(sign)}
        ),
        "",
    )
    if apart:
        context.findings.fault(
            spot,
            "csv",
            f"{'Semicolons' if apart == ';' else 'Tabs'} stand between the columns of this listing.",
            "Save it as comma-separated values (CSV, UTF-8), with commas between them.",
        )
        return None
    for cell in cells:
        if cell and cell not in COLUMNS:
            good = False
            context.findings.fault(
                spot, "unknown-key", f"'{cell}' is not a column of a listing.", did_you_mean(cell, COLUMNS)
            )
        elif cell and cells.count(cell) > 1:
            good = False
            context.findings.fault(
                spot, "key-twice", f"The column '{cell}' stands twice.", "Remove one of them."
            )
    for name in NEEDED:
        if name not in {cell.lower() for cell in cells}:
            good = False
            context.findings.fault(
                spot,
                "missing",
                f"The listing has no column '{name}'.",
                f"Begin with the row: {','.join(COLUMNS)}",
            )
    return cells if good else None


def _entry(cells: list[str], columns: list[str], spot: Spot, context: Context) -> ListingEntry | None:
    findings = context.findings
    if len(cells) > len(columns):
        findings.fault(
            spot,
            "csv",
            f"This row has {len(cells)} cells, and the listing {len(columns)} columns.",
            'Put a text that holds a comma in quotes: "Port Tidewick, pier 2"',
        )
        return None
    row = dict(zip(columns, cells, strict=False))
    for name in NEEDED:
        if not row.get(name):
            findings.fault(spot, "missing", f"This row has no '{name}'.", f"Fill in the column '{name}'.")
    county = context.county(row["county"], spot) if row.get("county") else ""
    day: date | None = _read(row.get("date", ""), read_date, "date", spot, context)
    starts: time | None = _read(row.get("starts", ""), read_clock, "starts", spot, context)
    ends: time | None = _read(row.get("ends", ""), read_clock, "ends", spot, context)
    bad = any(
        row.get(name) and value is None for name, value in (("date", day), ("starts", starts), ("ends", ends))
    )
    if (
        bad
        or day is None
        or not row.get("what")
        or not row.get("town")
        or (not county and context.station is not None)
    ):
        return None
    problem = context.town_problem(row["town"], (county,) if county else (), "the row's")
    if problem is not None:
        check, message, instead = problem
        findings.concern(spot, check, message, instead.replace("county: ", "the county "))
    zone = context.zone
    if starts is not None and starts == ends:
        findings.fault(
            spot,
            "time",
            f"'ends' is {ends:%H:%M}, the minute it starts.",
            "Write when it ends, or leave the cell empty.",
        )
        return None
    overnight = starts is not None and ends is not None and ends < starts
    last = day + timedelta(days=1) if overnight else day
    for name, date_of, clock in (("starts", day, starts), ("ends", last, ends)):
        if clock is not None and zone is not None:
            wall = datetime.combine(date_of, clock)
            if not can_be_told(wall, zone, findings, spot, f"'{name}'", f"{wall:%Y-%m-%d %H:%M}"):
                return None
    return ListingEntry(
        row["what"],
        row["town"],
        county,
        day,
        starts,
        ends,
        row.get("place", ""),
        row.get("note", ""),
        _stop(row.get("stopped", ""), spot, context),
        Origin(spot),
    )


def _stop(cell: str, spot: Spot, context: Context) -> Stop | None:
    if not cell:
        return None
    match = _DATED_STOP.match(cell)
    if match is None:
        return Stop(None, cell)
    when = _read(match[1], read_when, "stopped", spot, context)
    if when is not None and when.clock is not None and context.zone is not None:
        wall = datetime.combine(when.day, when.clock)
        can_be_told(wall, context.zone, context.findings, spot, "'stopped'", match[1])
    return Stop(when, match[2])


def _read(text: str, reader: Callable[[str], _T], name: str, spot: Spot, context: Context) -> _T | None:
    if not text:
        return None
    try:
        return reader(text)
    except TimeError as error:
        context.findings.fault(spot, "time", f"'{name}': {error.problem}", error.instead)
        return None
