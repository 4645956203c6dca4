"""Reads calendars for tests, by the lines of RFC 5545 alone and without the library that wrote them."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple


class Line(NamedTuple):
    """One unfolded content line."""

    name: str
    parameters: str
    value: str


def lines_of(data: bytes) -> list[Line]:
    """The content lines, unfolded (RFC 5545, 3.1)."""
    text = re.sub(rb"\r\n[ \t]", b"", data).decode("utf-8")
    found = []
    for line in text.split("\r\n"):
        match = re.fullmatch(r'([A-Z0-9-]+)((?:;[A-Z0-9-]+=(?:"[^"]*"|[^";:]*))*):(.*)', line, re.DOTALL)
        if match:
            found.append(Line(match[1], match[2], match[3]))
        else:
            assert not line, line
    return found


def entries_of(data: bytes) -> list[dict[str, str]]:
    """The properties of each VEVENT, by name; those of its alarm begin with `ALARM `."""
    found: list[dict[str, str]] = []
    inside: list[str] = []
    for line in lines_of(data):
        if line.name == "BEGIN":
            inside.append(line.value)
            if line.value == "VEVENT":
                found.append({})
        elif line.name == "END":
            assert inside.pop() == line.value
        elif inside[-1] == "VEVENT":
            found[-1][line.name] = line.value
        elif inside[-1] == "VALARM":
            found[-1][f"ALARM {line.name}"] = line.value
    assert not inside
    return found


@lru_cache(maxsize=4096)
def open_in_calendar(data: bytes) -> frozenset[str]:
    """The addresses of the asks that a calendar says can be answered; neither round-ups nor what was called off. Kept: most
    calendars stay the same for weeks."""
    return frozenset(
        entry["URL"]
        for entry in entries_of(data)
        if entry["STATUS"] == "CONFIRMED" and "#ask-" in entry["URL"]
    )


def plain(value: str) -> str:
    """A TEXT value (RFC 5545, 3.3.11) without its escapes."""
    return re.sub(r"\\(.)", lambda match: "\n" if match[1] in "nN" else match[1], value)
