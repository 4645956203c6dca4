"""The due list as text for a terminal and as JSON for other rooms."""

from __future__ import annotations

import json
from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

from sitegen.edition.due import Due, DueLine
from sitegen.newsroom.visible import one_line

_PARTS = (
    ("opens", "Opens", "Nothing opens in the next two weeks."),
    ("closes", "Closes", "Nothing closes in the next two weeks."),
    ("confirm", "Call and confirm", "Every open ask was confirmed lately."),
    ("runs_out", "Runs out", ""),
    ("waits", "Waits", ""),
)
"""(field, heading, words when empty; without words an empty part is left out)."""
_ENDS = ("closes", "runs_out")
_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def instant_text(moment: datetime | None, zone: ZoneInfo) -> str:
    """An instant in the station's time with its offset (RFC 3339), or `never`."""
    return "never" if moment is None else moment.astimezone(zone).isoformat()


def due_as_text(due: Due) -> str:
    """The list for people."""
    lines: list[str] = [f"As of {_local(due.as_of, due.zone)} ({due.zone.key})"]
    for name, heading, nothing in _PARTS:
        found: tuple[DueLine, ...] = getattr(due, name)
        if not found and not nothing:
            continue
        lines += ["", heading]
        lines += [f"  {_line(each, due.zone, name in _ENDS)}" for each in found] or [f"  {nothing}"]
    lines += [
        "",
        f"Next build: {_local(due.next_build, due.zone) if due.next_build else 'never; nothing changes any more'}",
    ]
    return "\n".join(lines) + "\n"


def _line(line: DueLine, zone: ZoneInfo, is_end: bool) -> str:
    when = f"{_local(line.when, zone, is_end)}  " if line.when is not None else ""
    return one_line(f"{when}{line.what}  [{line.file}:{line.line}]")


def _local(moment: datetime, zone: ZoneInfo, is_end: bool = False) -> str:
    local = moment.astimezone(zone)
    if is_end and local.time() == time(0, 0):
        # An end at 00:00 is the close of the day before, and that is the day people think of.
        local -= timedelta(days=1)
        return f"{_DAYS[local.weekday()]} {local:%Y-%m-%d} 24:00"
    return f"{_DAYS[local.weekday()]} {local:%Y-%m-%d %H:%M}"


def due_as_json(due: Due) -> str:
    """The list for programs: one object; instants as RFC 3339, null for now or never."""

    def rows(lines: tuple[DueLine, ...]) -> list[dict[str, object]]:
        return [
            {
                "when": instant_text(line.when, due.zone) if line.when is not None else None,
                "what": line.what,
                "file": line.file,
                "line": line.line,
            }
            for line in lines
        ]

    whole = {
        "as_of": instant_text(due.as_of, due.zone),
        "next_build": instant_text(due.next_build, due.zone) if due.next_build is not None else None,
        **{name: rows(getattr(due, name)) for name, _, _ in _PARTS},
    }
    return json.dumps(whole, ensure_ascii=False, indent=1) + "\n"
