"""Checks of the copy: what the newsroom wrote, held against itself and the moment it is published for.

Reading has already found what cannot be read. Here are the things that can be published and should be
looked at first.
"""

from __future__ import annotations

from datetime import datetime

from sitegen.newsroom.records import Finding, Newsroom
from sitegen.proof.copychecks.base import CopyCheck, lay_out
from sitegen.proof.copychecks.outliving import text_outlives_ask, withheld_address
from sitegen.proof.copychecks.station import fixed_moment, town_without_position
from sitegen.proof.copychecks.wording import relative_time, weekday_mismatch

CHECKS: tuple[CopyCheck, ...] = (
    fixed_moment,
    town_without_position,
    text_outlives_ask,
    withheld_address,
    relative_time,
    weekday_mismatch,
)
"""In the order they are run; reports sort by place."""


def check_copy(newsroom: Newsroom, as_of: datetime) -> tuple[Finding, ...]:
    """Every finding about the copy as of a moment (UTC)."""
    desk = lay_out(newsroom, as_of)
    return tuple(finding for check in CHECKS for finding in check(desk))
