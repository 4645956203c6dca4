"""The bar above every page of the preview: the moment, what is wrong with this page's files, and the ways to change both.

It stands in a shadow tree that the page's own HTML declares, with a stylesheet of its own: neither the page's styles nor its
scripts see into it, nothing of the page changes, and it needs no script.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime

from sitegen.desk.pages import set_template
from sitegen.newsroom.records import Finding
from sitegen.proof.checks.base import PageFinding

_HEAD = re.compile(rb"<head(?:\s[^>]*)?>", re.I)
_BODY = re.compile(rb"<body(?:\s[^>]*)?>", re.I)


@dataclass(frozen=True, slots=True)
class Bar:
    """Everything a bar shows."""

    address: str
    """Of the page, in the site."""
    run: str
    """Of the desk: another one counts its looks anew."""
    number: int
    """Of the look that the page was made of."""
    moment: str
    """In words."""
    field: str
    """The moment as a browser's field has it."""
    zone: str
    """The station's, as IANA names it."""
    is_chosen: bool
    """Another moment than the desk's own."""
    own_path: str
    """This page at the desk's own moment."""
    held: bool
    held_path: str
    """The same with held stories let through, or without where they are."""
    copy: tuple[Finding, ...] = ()
    proof: tuple[PageFinding, ...] = ()
    stale: bool = False
    """Shown is what could be read last, for the files are broken now."""
    faults_elsewhere: int = 0
    absent: str = ""
    """Why there is no such page, in words."""
    absent_path: str = ""
    """Where it can be seen all the same."""
    absent_link: str = ""
    problem: str = ""
    """Of the theme, in words."""
    main: str = ""
    """The file that the page is about; empty for a list."""
    files: tuple[str, ...] = ()
    """All files that its own words come from."""


def with_bar(page: bytes, bar: Bar, begins: datetime | None) -> bytes:
    """A page's bytes with the bar as the first thing in its body. Where `begins` is given, the page's scripts take that
    instant (UTC) for the present when they start: what they hide and say is then as of the moment looked at."""
    clock = (
        f'<script src="/_desk/assets/moment.js" data-begins="{begins.isoformat()}"></script>'
        if begins
        else ""
    )
    found = _HEAD.search(page)
    if found is not None:
        # Before every script of the page, and before the page's policy, which knows nothing of it.
        page = page[: found.end()] + clock.encode() + page[found.end() :]
    found = _BODY.search(page)
    at = found.end() if found is not None else 0
    return page[:at] + set_template("bar.html", bar=bar).encode() + page[at:]
