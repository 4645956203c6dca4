"""Checks of the copy: what the newsroom wrote, held against itself and the moment it is published for.

Reading has already found what cannot be read. Here are the things that can be published and should be
looked at first.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime

from sitegen.newsroom.records import Finding, Newsroom, Weight

CopyCheck = Callable[[Newsroom, datetime], Iterator[Finding]]


def fixed_moment(newsroom: Newsroom, as_of: datetime) -> Iterator[Finding]:
    """A site that stands still is right for a demonstration and wrong for everything else."""
    if newsroom.station.as_of:
        yield Finding(
            newsroom.station.origin.of("as_of"),
            Weight.CONCERN,
            "fixed-moment",
            f"THE SITE STANDS STILL at {newsroom.station.as_of}: no ask will ever end in a later build.",
            "Remove as_of, unless this is a demonstration or a frozen archive.",
        )


CHECKS: tuple[CopyCheck, ...] = (fixed_moment,)
"""In the order they are run; reports sort by place."""


def check_copy(newsroom: Newsroom, as_of: datetime) -> tuple[Finding, ...]:
    """Every concern about the copy as of a moment (UTC)."""
    return tuple(finding for check in CHECKS for finding in check(newsroom, as_of))
