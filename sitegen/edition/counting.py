"""How a count will change by time alone, so that a page built earlier can go on telling it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import TypeAlias

from sitegen.edition.moments import moment
from sitegen.edition.published import Published

MOST_CHANGES = 3
"""A count's next changes that a page holds; what it is after them, the page does not know."""

Counting: TypeAlias = tuple[datetime | None, datetime]
"""From when to when (UTC) a thing is counted; None means from the beginning."""


def changes(spans: Sequence[Counting], published: Published) -> tuple[tuple[str, int | None], ...]:
    """(instant as `Moment.iso`, count from then on) of the next changes, in order; after too many a last None."""
    as_of = published.as_of
    instants = sorted({at for span in spans for at in span if at is not None and at > as_of})
    found: list[tuple[str, int | None]] = []
    before = _count(spans, as_of)
    for at in instants:
        now = _count(spans, at)
        if now == before:
            continue
        iso = moment(at, published.zone).iso
        if len(found) == MOST_CHANGES:
            return (*found, (iso, None))
        found.append((iso, now))
        before = now
    return tuple(found)


def _count(spans: Sequence[Counting], at: datetime) -> int:
    return sum((start is None or start <= at) and at < end for start, end in spans)
