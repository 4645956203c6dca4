"""Checks of station.yaml."""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.newsroom.records import Finding
from sitegen.newsroom.times import start_of
from sitegen.proof.copychecks.base import Desk, concern, listed, start_words


def fixed_moment(desk: Desk) -> Iterator[Finding]:
    """A site that stands still is right for a demonstration and wrong for everything else."""
    station = desk.newsroom.station
    if station.as_of:
        yield concern(
            station.origin.of("as_of"),
            "fixed-moment",
            f"THE SITE STANDS STILL at {station.as_of}: no ask will ever end in a later build.",
            "Remove as_of, unless this is a demonstration or a frozen archive.",
        )


def town_without_position(desk: Desk) -> Iterator[Finding]:
    """A town without a position cannot be searched from. Where the station gives no town one, none is missed."""
    towns = [town for county in desk.newsroom.station.counties for town in county.towns]
    without = [town.name for town in towns if town.position is None]
    if without and len(without) < len(towns):
        yield concern(
            desk.newsroom.station.origin.of("counties"),
            "town-without-position",
            f"No position is given for {listed(without)}, so nobody there is told what is nearest.",
            "Write the latitude first: {name: Millrace, position: [34.7, -60.5]}",
        )


def security_expired(desk: Desk) -> Iterator[Finding]:
    """A security.txt whose time is over tells nobody anything: RFC 9116, 2.5.5, forbids relying on it."""
    station = desk.newsroom.station
    if station.security is None:
        return
    expires = start_of(station.security.expires, desk.zone)
    if expires <= desk.as_of:
        yield concern(
            station.origin.of("security"),
            "security-expired",
            f"security.txt is out of date since {start_words(expires, desk.zone)}.",
            "Check that the contact still answers, and write a date within the next year.",
        )
