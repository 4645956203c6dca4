"""What the newsroom must do next: what opens and closes, what needs a call, when the next build is due.

A model like a page's, but for the newsroom's eyes only: it may name what is not published yet.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from msgspec import Struct

from sitegen.clock.asks import EVER, Standing
from sitegen.clock.stories import Visibility, plan_story, visibility
from sitegen.edition.compose import Composer
from sitegen.edition.published import Published, PublishedAsk
from sitegen.newsroom.records import Newsroom, Photo, Video
from sitegen.newsroom.times import end_of, local_day, start_of, zone_named

AHEAD = timedelta(days=14)
"""How far ahead the list looks."""
RIGHTS_AHEAD = timedelta(days=30)


class DueLine(Struct, frozen=True):
    """One thing to know or do."""

    when: datetime | None
    """UTC; None when it is due now."""
    what: str
    """In words, for the producer."""
    file: str
    """The file it is written in."""
    line: int


class Due(Struct, frozen=True):
    as_of: datetime
    zone: ZoneInfo
    opens: tuple[DueLine, ...]
    """Asks and stories that become visible or open soon."""
    closes: tuple[DueLine, ...]
    """Asks, and places of asks, that end soon."""
    confirm: tuple[DueLine, ...]
    """Open asks nobody has confirmed with their organizer lately."""
    runs_out: tuple[DueLine, ...]
    """Rights, and the security contact, that end soon."""
    waits: tuple[DueLine, ...]
    """What is not shown until something is filled in."""
    next_build: datetime | None
    """The first instant at which any page would differ."""


def next_change(newsroom: Newsroom, as_of: datetime) -> datetime | None:
    """The first instant (UTC) after `as_of` at which any page would differ."""
    return Composer(newsroom, as_of).true_until


def due(newsroom: Newsroom, as_of: datetime, composer: Composer | None = None) -> Due:
    """Everything due as of a moment (UTC), each list soonest first. `composer` is of the same records and moment, where there
    is one already."""
    zone = zone_named(newsroom.station.time_zone)
    composer = composer or Composer(newsroom, as_of)
    published = composer.published
    asks = published.asks
    return Due(
        as_of=as_of,
        zone=zone,
        opens=_soonest(_releases(newsroom, as_of, zone) + _openings(asks, as_of)),
        closes=_soonest(_closings(asks, as_of)),
        confirm=tuple(_unconfirmed(newsroom, asks, as_of, zone)),
        runs_out=_soonest(_running_out(newsroom, published, as_of, zone)),
        waits=tuple(_waiting(published)),
        next_build=composer.true_until,
    )


def _soonest(lines: list[DueLine]) -> tuple[DueLine, ...]:
    return tuple(
        sorted(lines, key=lambda line: (line.when is not None, line.when or EVER, line.file, line.line))
    )


def _soon(moment: datetime | None, as_of: datetime, ahead: timedelta = AHEAD) -> bool:
    return moment is not None and as_of < moment <= as_of + ahead


def _at(each: PublishedAsk, key: str) -> tuple[str, int]:
    spot = each.ask.origin.of(key)
    return spot.path, spot.line


def _releases(newsroom: Newsroom, as_of: datetime, zone: ZoneInfo) -> list[DueLine]:
    episodes = {episode.id: episode for episode in newsroom.episodes}
    lines = []
    for story in newsroom.stories:
        times = plan_story(story, episodes, zone)
        hidden = visibility(times, as_of).value is Visibility.NOTHING
        if hidden and not times.held and _soon(times.release, as_of):
            spot = story.origin.of("embargo")
            lines.append(
                DueLine(times.release, f"the story '{story.headline}' is released", spot.path, spot.line)
            )
    return lines


def _openings(asks: tuple[PublishedAsk, ...], as_of: datetime) -> list[DueLine]:
    return [
        DueLine(each.times.opens, f"'{each.ask.title}' opens", *_at(each, "starts"))
        for each in asks
        if each.standing is Standing.COMING and _soon(each.times.opens, as_of)
    ]


def _closings(asks: tuple[PublishedAsk, ...], as_of: datetime) -> list[DueLine]:
    lines = []
    for each in asks:
        times = each.times
        if _soon(times.ends, as_of):
            if times.stopped_early:
                what, key = f"'{each.ask.title}' stops", "stopped"
            elif times.lapses:
                what, key = f"'{each.ask.title}' lapses unless it is checked again", "check_again_by"
            else:
                what, key = (
                    f"'{each.ask.title}' ends",
                    "deadline" if each.ask.deadline is not None else "dates",
                )
            lines.append(DueLine(times.ends, what, *_at(each, key)))
        for place in each.live_places:
            last = place.times.last_chance
            if last is not None and last < times.ends and _soon(last, as_of):
                spot = place.entry.origin.spot
                lines.append(
                    DueLine(
                        last,
                        f"last chance at {place.entry.place.name} for '{each.ask.title}'",
                        spot.path,
                        spot.line,
                    )
                )
    return lines


def needs_confirming(each: PublishedAsk, recheck_days: int, as_of: datetime, zone: ZoneInfo) -> bool:
    """True for an open ask that was not confirmed within so many days."""
    if each.standing not in (Standing.OPEN, Standing.LAST_DAYS):
        return False
    confirmed = each.ask.confirmed
    return confirmed is None or (local_day(as_of, zone) - confirmed.date).days > recheck_days


def _unconfirmed(
    newsroom: Newsroom, asks: tuple[PublishedAsk, ...], as_of: datetime, zone: ZoneInfo
) -> list[DueLine]:
    lines = []
    for each in asks:
        if not needs_confirming(each, newsroom.station.recheck_days, as_of, zone):
            continue
        confirmed, contact = each.ask.confirmed, each.ask.contact
        last = "never confirmed" if confirmed is None else f"last confirmed {confirmed.date}"
        whom = (confirmed.with_ if confirmed is not None else "") or (
            contact.name if contact is not None else ""
        )
        reach = (
            next((way for way in (contact.phone, contact.email) if way), "") if contact is not None else ""
        )
        call = f"; ask {whom}" if whom else ""
        call += f" ({reach})" if reach else ""
        lines.append(DueLine(None, f"'{each.ask.title}' is open, {last}{call}", *_at(each, "confirmed")))
    return lines


def _running_out(newsroom: Newsroom, published: Published, as_of: datetime, zone: ZoneInfo) -> list[DueLine]:
    lines = []
    records: list[tuple[str, Photo | Video]] = []
    for each in published.stories.values():
        records += [("photo", each.story.photo)] if each.story.photo is not None else []
        records += [("video", each.story.video)] if each.story.video is not None else []
    for episode in published.episodes:
        records += [("video", episode.video)] if episode.video is not None else []
    for word, record in records:
        if record.rights_end is not None and _soon(end_of(record.rights_end, zone), as_of, RIGHTS_AHEAD):
            spot = record.origin.of("rights_end")
            lines.append(
                DueLine(
                    end_of(record.rights_end, zone), f"the rights to a {word} run out", spot.path, spot.line
                )
            )
    security = newsroom.station.security
    if security is not None and start_of(security.expires, zone) <= as_of + RIGHTS_AHEAD:
        spot = newsroom.station.origin.of("security")
        lines.append(DueLine(start_of(security.expires, zone), "security.txt expires", spot.path, spot.line))
    return lines


def _waiting(published: Published) -> list[DueLine]:
    lines = []
    videos = [each.story.video for each in published.stories.values()]
    videos += [episode.video for episode in published.episodes]
    for video in videos:
        if video is not None and video.captions is None and not video.air_only:
            spot = video.origin.spot
            lines.append(DueLine(None, "a video waits for its captions", spot.path, spot.line))
    return lines
