"""Asks against their own dates and doors: windows nobody can come in, deadlines that outlive the doors, holidays."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Container, Iterator
from datetime import date, datetime, timedelta

from sitegen.clock.asks import PlaceTimes, plan_entry, span_end, visit_door
from sitegen.clock.openings import Door, Opening, last_opening_on, openings_on
from sitegen.clock.timed import earliest, latest
from sitegen.newsroom.records import Ask, DropOff, Finding, Kind, Mode, Place, Spot, Story
from sitegen.newsroom.times import MIDNIGHT, day_end, day_start, end_of, local_day, start_of
from sitegen.proof.copychecks.base import (
    Desk,
    LiveAsk,
    clock_words,
    concern,
    day_words,
    end_words,
    latest_end,
    listed,
    start_words,
)

_MOMENT = timedelta(microseconds=1)
_A_YEAR = timedelta(days=366)
"""A season's ask is over by its next (common practice, no source)."""


def deadline_before_air(desk: Desk) -> Iterator[Finding]:
    """An ask that is over before anyone hears of it; most often a wrong year."""
    for each in desk.stories:
        for ask in each.story.asks:
            ends = _written_end(ask, desk)
            if ends is not None and ends <= each.release:
                key = "deadline" if ask.deadline is not None else "dates"
                yield concern(
                    ask.origin.of(key),
                    "deadline-before-air",
                    f"'{ask.title}' is over ({end_words(ends, desk.zone)}) before the story is published "
                    f"({start_words(each.release, desk.zone)}).",
                    "Look at the year first; an ask that is already over is left out.",
                )
        for entry in each.story.listing:
            ends = plan_entry(entry, desk.zone).ends
            if ends <= each.release:
                yield concern(
                    entry.origin.spot,
                    "deadline-before-air",
                    f"'{entry.what}' in {entry.town} is over ({end_words(ends, desk.zone)}) before the story is published "
                    f"({start_words(each.release, desk.zone)}), and shown nowhere.",
                    "Look at the year first.",
                )


def deadline_far_off(desk: Desk) -> Iterator[Finding]:
    """An ask that stays open for more than a year after it was told of; most often a wrong year."""
    for live in desk.live_asks:
        ends = _written_end(live.ask, desk)
        if ends is not None and ends > live.release + _A_YEAR:
            yield concern(
                live.ask.origin.of("deadline" if live.ask.deadline is not None else "dates"),
                "deadline-far-off",
                f"'{live.ask.title}' stays open until {end_words(ends, desk.zone)}, more than a year after the story "
                f"is published ({start_words(live.release, desk.zone)}).",
                "Look at the year first; for what has no end write: deadline: ongoing, with check_again_by"
                if live.ask.deadline is not None
                else "Look at the year first.",
            )


def _written_end(ask: Ask, desk: Desk) -> datetime | None:
    """The end by the deadline or by the last of the dates, whatever the doors do; None for an ongoing ask."""
    if ask.deadline is not None:
        return end_of(ask.deadline, desk.zone)
    if ask.kind is Kind.TUNE_IN:
        length = timedelta(minutes=ask.minutes or 0)
        return max((start_of(span.first, desk.zone) + length for span in ask.dates), default=None)
    return max((span_end(span, desk.zone) for span in ask.dates), default=None)


def midnight_end(desk: Desk) -> Iterator[Finding]:
    """An end at 00:00, which is the first minute of the day that is written, and often meant as its last.

    Looked at while either reading lies ahead; both can be written as bare dates, which count to their end.
    """
    for each in desk.stories:
        for ask in each.story.asks:
            if ask.stopped is not None:
                continue
            written = [("deadline", ask.deadline, ask.origin, f"'{ask.title}'")]
            written += [("until", entry.until, entry.origin, _name(entry.place)) for entry in ask.drop_off]
            for key, when, origin, subject in written:
                if when is None or when.clock != MIDNIGHT or day_end(when.day, desk.zone) <= desk.as_of:
                    continue
                before = when.day - timedelta(days=1)
                yield concern(
                    origin.of(key),
                    "midnight-end",
                    f"{subject} ends at 00:00, as {day_words(when.day)}, begins: the last day is {day_words(before)}.",
                    f"Write {key}: {when.day} to count that day to its end, or {key}: {before} if it does not count.",
                )


def starts_after_deadline(desk: Desk) -> Iterator[Finding]:
    """An ask that ends before it begins is never shown as open."""
    for live in desk.live_asks:
        opens = live.times.opens
        if opens is not None and opens >= live.times.closes:
            end = "is looked at again" if live.ask.ongoing else "ends"
            yield concern(
                live.ask.origin.of("starts"),
                "starts-after-deadline",
                f"'{live.ask.title}' begins {day_words(local_day(opens, desk.zone))} and {end} "
                f"at {end_words(live.times.closes, desk.zone)}: it is never open.",
                "Look at both dates.",
            )


def until_before_start(desk: Desk) -> Iterator[Finding]:
    """A place whose own window is empty: it ends before it, or the ask, begins, or begins when the ask is over."""
    for live, entry, _ in _places(desk):
        problem = _empty_window(live, entry, desk)
        if problem:
            key = "until" if entry.until is not None else "from"
            yield concern(
                entry.origin.of(key),
                "until-before-start",
                f"{_name(entry.place)} {problem}: it is not shown for '{live.ask.title}'.",
                "Look at 'from' and 'until'.",
            )


def _empty_window(live: LiveAsk, entry: DropOff, desk: Desk) -> str:
    """Why a place's own window holds no time at all; empty when it holds some."""
    opens, closes = live.times.opens, live.times.closes
    from_ = start_of(entry.from_, desk.zone) if entry.from_ is not None else None
    until = end_of(entry.until, desk.zone) if entry.until is not None else None
    if until is not None and from_ is not None and until <= from_:
        return "takes nothing, for its 'until' comes before its 'from'"
    if until is not None and opens is not None and until <= opens:
        return "stops before the ask begins"
    if from_ is not None and from_ >= closes:
        return f"begins when the ask is over ({end_words(closes, desk.zone)})"
    return ""


def never_open(desk: Desk) -> Iterator[Finding]:
    """A place that is never open while viewers could come."""
    for live, entry, times in _places(desk):
        if live.times.stopped_early or _begins_too_late(live) or _empty_window(live, entry, desk):
            continue
        if times.last_chance is None:
            if _by_event_hours(live.ask, entry) and not _opens_on_dates(live.ask, desk):
                continue  # Told once, of the event.
            when = _window_words(live, entry, desk)
            yield concern(
                entry.origin.spot,
                "never-open",
                f"{_name(entry.place)} is never open {when}, so it is not shown for '{live.ask.title}'. "
                f"Its hours: {_hours_words(live.ask, entry)}.",
                "Ask for its hours for this, and write them with the place: {place: …, hours: …}",
            )
        elif times.last_chance <= live.release:
            yield concern(
                entry.origin.spot,
                "never-open",
                f"{_name(entry.place)} shuts for the last time {end_words(times.last_chance, desk.zone)}, before the "
                f"story is published: nobody learns of it in time for '{live.ask.title}'.",
                "Leave the place out, or ask it to stay open longer.",
            )


def event_never_open(desk: Desk) -> Iterator[Finding]:
    """An event whose hours fall on none of its dates is over before it begins."""
    for each in desk.stories:
        for ask in each.story.asks:
            if (
                ask.kind is Kind.GO
                and ask.hours is not None
                and latest_end(ask, desk.zone) > desk.as_of
                and not _opens_on_dates(ask, desk)
            ):
                yield concern(
                    ask.origin.of("hours"),
                    "event-never-open",
                    f"'{ask.title}' is never open: its hours, {ask.hours.text}, fall on none of its dates.",
                    "Look at the weekdays of the dates, and at 'closed'.",
                )


def _by_event_hours(ask: Ask, entry: DropOff) -> bool:
    """True when the event's own hours count at a place, not the place's."""
    return ask.kind is Kind.GO and ask.hours is not None and not entry.own_hours


def _opens_on_dates(ask: Ask, desk: Desk) -> bool:
    """True when an event's own hours, if it has any, fall on one of its dates."""
    if ask.hours is None or ask.hours.mode is not Mode.REGULAR:
        return True
    door = Door(ask.hours, ask.closed)
    for span in ask.dates:
        count = (span.last.day - span.first.day).days + 1
        days = (span.last.day - timedelta(days=back) for back in range(count))
        start = start_of(span.first, desk.zone) if span.first.clock is not None else None
        ends_at = span.last.clock is not None and span.last != span.first
        end = end_of(span.last, desk.zone) if ends_at else None
        if last_opening_on(door, days, start, end, desk.zone) is not None:
            return True
    return False


def deadline_outlives_doors(desk: Desk) -> Iterator[Finding]:
    """A deadline on a day when the doors are shut already.

    A place with an `until` of its own has said when it stops; the page says so too.
    """
    for live in desk.live_asks:
        ask, closes = live.ask, live.times.closes
        if ask.deadline is None or not ask.drop_off or live.times.stopped_early or _begins_too_late(live):
            continue
        shut: list[tuple[datetime, Place]] = []
        bound = 0
        for entry, times in live.places:
            if (
                entry.stopped is not None
                or times.last_chance is None
                or _has_earlier_end(entry, closes, desk)
            ):
                continue
            bound += 1
            if _outlived(times.last_chance, ask, closes, desk):
                shut.append((times.last_chance, entry.place))
        if not shut or max(last for last, _ in shut) <= desk.as_of:
            continue
        shut.sort(key=lambda pair: (pair[0], pair[1].name))
        last = shut[-1][0]
        # Later than every other place's end too, or some place still takes things on the last day.
        every = len(shut) == bound and all(
            times.last_chance is None or times.last_chance <= last for _, times in live.places
        )
        spot = ask.origin.of("deadline")
        end = end_words(closes, desk.zone)
        if every:
            name = listed(_name(place) for when, place in shut if when == last)
            yield concern(
                spot,
                "deadline-outlives-doors",
                f"The deadline of '{ask.title}' is {end}, and the last door shuts {end_words(last, desk.zone)} ({name}).",
                f"Say that time on air, and write it as the deadline: {_written(last, desk)}",
            )
        else:
            doors = listed(f"{_name(place)} ({end_words(when, desk.zone)})" for when, place in shut)
            yield concern(
                spot,
                "deadline-outlives-doors",
                f"The deadline of '{ask.title}' is {end}, and some doors shut for the last time before it: {doors}.",
                "The pages give each its last chance; let the host say it too, or write the place's own end: "
                f"until: {_written(shut[0][0], desk)}",
            )


def night_cut_short(desk: Desk) -> Iterator[Finding]:
    """A night that a bare date ends at midnight, while the door stays open until the morning.

    An end with a time of its own was meant so, 23:59 too.
    """
    for live in desk.live_asks:
        if live.times.stopped_early or _begins_too_late(live):
            continue
        by_deadline: list[tuple[DropOff, Opening]] = []
        for entry, times in live.places:
            night = _night_cut(live, entry, times, desk) if entry.stopped is None else None
            if night is None:
                continue
            if entry.until is not None and end_of(entry.until, desk.zone) < live.times.ends:
                yield _cut_night(live.ask, "until", entry.origin.of("until"), [(entry, night)], desk)
            else:
                by_deadline.append((entry, night))
        if by_deadline:
            yield _cut_night(live.ask, "deadline", live.ask.origin.of("deadline"), by_deadline, desk)


def _night_cut(live: LiveAsk, entry: DropOff, times: PlaceTimes, desk: Desk) -> Opening | None:
    """The whole opening of which the midnight that ends a bare date leaves a part, where it is the place's last."""
    ask, end = live.ask, live.times.ends
    written = ask.deadline
    if entry.until is not None and end_of(entry.until, desk.zone) <= end:
        end, written = end_of(entry.until, desk.zone), entry.until
    if written is None or written.clock is not None or times.last_chance != end:
        return None
    if end <= live.release or end <= desk.as_of:
        return None  # Nobody hears of it in time, or it is past.
    door = Door(entry.place.hours, entry.place.closed, entry.place.special_hours)
    if ask.kind is Kind.GO:
        door, _ = visit_door(ask, entry)
    if not door.has_hours:
        return None
    nights = openings_on(door, written.day, desk.zone)
    return next((night for night in nights if night.opens < end < night.closes), None)


def _cut_night(ask: Ask, key: str, spot: Spot, nights: list[tuple[DropOff, Opening]], desk: Desk) -> Finding:
    last = max(night.closes for _, night in nights)
    day = local_day(nights[0][1].opens, desk.zone)
    doors = listed(
        f"{_name(entry.place)} ({clock_words(night.closes.astimezone(desk.zone))})" for entry, night in nights
    )
    later = f"{key}: {_written(last, desk)}"
    if key == "deadline" and any(entry.until is not None for entry, _ in nights):
        later += f", and with the place until: {_written(last, desk)}"
    return concern(
        spot,
        "night-cut-short",
        f"The night of {day_words(day)} ends at midnight for '{ask.title}', as {key}: {day} has it, and the door shuts later: "
        f"{doors}.",
        f"If viewers may come until the morning, write {later}. If not, write with the place: until: {day} 23:59",
    )


def _has_earlier_end(entry: DropOff, closes: datetime, desk: Desk) -> bool:
    return entry.until is not None and end_of(entry.until, desk.zone) < closes


def _outlived(last: datetime, ask: Ask, closes: datetime, desk: Desk) -> bool:
    """True when the door shuts before the deadline's day, or before its time of day when it has one.

    A deadline without a time means its whole day, and everybody knows that shops shut in the evening. One at 00:00 is the
    end of the day before, and `midnight_end` speaks of it.
    """
    if ask.deadline is None or last >= closes:
        return False
    if ask.deadline.clock == MIDNIGHT:
        return last <= day_start(ask.deadline.day - timedelta(days=1), desk.zone)
    return ask.deadline.clock is not None or last <= day_start(ask.deadline.day, desk.zone)


def _written(moment: datetime, desk: Desk) -> str:
    local = moment.astimezone(desk.zone)
    if (local.hour, local.minute) == (0, 0):
        return f"{local.date() - timedelta(days=1)}"
    return f"{local:%Y-%m-%d %H:%M}"


# --- holidays ----------------------------------------------------------------------------------


def holiday_hours(desk: Desk) -> Iterator[Finding]:
    """A door that is open by its ordinary hours on a holiday, until someone has asked.

    A shared place is told of once, in its own file, for all asks it serves.
    """
    holidays = [day for day in desk.newsroom.station.holidays if day >= desk.today]
    if not holidays:
        return
    # Whoever wrote hours for the day of a shared place has asked there, whatever they leave of an ask's own hours.
    asked = {(place.id, each.day) for place in desk.newsroom.places for each in place.special_hours}
    found: dict[tuple[Spot, date], list[tuple[LiveAsk, DropOff | None]]] = defaultdict(list)
    for day in holidays:
        for live in desk.live_asks:
            for spot, entry in _open_on_holiday(live, day, asked, desk):
                found[spot, day].append((live, entry))
    for (spot, day), uses in found.items():
        live, entry = uses[0]
        titles = listed((f"'{each.ask.title}'" for each, _ in uses), 2)
        if entry is None:
            yield concern(
                spot,
                "holiday-hours",
                f"{titles}, by its hours, is open on {day_words(day)}, a holiday.",
                f"Ask, then write: closed: [{day}]. If it is open, name that day by itself in 'dates'.",
            )
        else:
            yield concern(
                spot,
                "holiday-hours",
                f"{_name(entry.place)}, by its ordinary hours, is open on {day_words(day)}, a holiday, for {titles}.",
                f'Ask, then write: closed: [{day}], or: special_hours: {{{day}: "10:00-14:00"}}',
            )


def _open_on_holiday(
    live: LiveAsk, day: date, asked: Container[tuple[str, date]], desk: Desk
) -> Iterator[tuple[Spot, DropOff | None]]:
    """(where it is to be mended, the place) for every door of an ask that is open on a holiday by ordinary hours;
    None in place of it for the event's own hours."""
    ask = live.ask
    if ask.kind is Kind.GO and not any(
        span.first.day <= day <= span.last.day and span.first.day != span.last.day for span in ask.dates
    ):
        return  # Not on that day, or on purpose: a date named by itself was asked about.
    start = latest(live.times.opens, live.release)
    if ask.kind is Kind.GO and ask.hours is not None and not ask.drop_off:
        if _opens(Door(ask.hours, ask.closed), day, start, live.times.ends, desk):
            yield ask.origin.of("hours"), None
        return
    for entry, times in live.places:
        place = entry.place
        if (place.id, day) in asked or any(special.day == day for special in place.special_hours):
            continue
        event = _by_event_hours(ask, entry)
        hours = ask.hours if event and ask.hours is not None else place.hours
        from_ = start_of(entry.from_, desk.zone) if entry.from_ is not None else None
        end = live.times.ends if times.stops is None else min(live.times.ends, times.stops)
        if entry.until is not None:
            end = min(end, end_of(entry.until, desk.zone))
        if _opens(Door(hours, (*place.closed, *ask.closed)), day, latest(start, from_), end, desk):
            yield (ask.origin.of("hours"), None) if event else (_hours_spot(entry), entry)


def _opens(door: Door, day: date, start: datetime | None, end: datetime, desk: Desk) -> bool:
    """True when a door opens on a day within [start, end), and not only for what is left of the night before."""
    if day_start(day, desk.zone) >= end or (start is not None and start >= day_end(day, desk.zone)):
        return False
    if not door.has_hours:
        return False
    return any(
        opening.opens < end and (start is None or opening.closes > start)
        for opening in openings_on(door, day, desk.zone)
    )


def _hours_spot(entry: DropOff) -> Spot:
    """Where the hours of an entry are written: with it, or in the shared place's file."""
    if entry.own_hours or not entry.place.id:
        return entry.origin.of("hours")
    return entry.place.origin.of("hours")


# --- repeats -----------------------------------------------------------------------------------


def repeat_after_deadline(desk: Desk) -> Iterator[Finding]:
    """A repeat still to come that airs when an ask of its stories is over."""
    on_desk = {each.story.id: each for each in desk.stories}
    for episode in desk.newsroom.episodes:
        if episode.hold:
            continue
        repeats = [start for when in episode.repeats if (start := start_of(when, desk.zone)) > desk.as_of]
        if not repeats:
            continue
        aired = start_of(episode.aired, desk.zone)
        for entry in episode.rundown:
            each = on_desk.get(entry.story)
            if each is None:
                continue
            live = {ask.rank: ask for ask in each.live}
            for rank, ask in enumerate(each.story.asks):
                ends = live[rank].times.ends if rank in live else _ended(ask, desk)
                if ask.ongoing and ask.stopped is None:
                    continue  # It is checked again by then, or hidden; it has no end to be wrong about.
                late = [start for start in repeats if ends is not None and aired < ends <= start]
                if late and ends is not None:
                    yield concern(
                        episode.origin.of("repeats"),
                        "repeat-after-deadline",
                        f"The repeat of {start_words(late[0], desk.zone)} airs when '{ask.title}' "
                        f"({_place_of(each.story)}) is over ({end_words(ends, desk.zone)}).",
                        "Cut it from the repeat, or say over it that it is over.",
                    )


def _ended(ask: Ask, desk: Desk) -> datetime | None:
    """When an ask that is over ended: by its stop, or as written."""
    stopped = ask.stopped.when if ask.stopped is not None else None
    return earliest(_written_end(ask, desk), start_of(stopped, desk.zone) if stopped is not None else None)


def _place_of(story: Story) -> str:
    return story.origin.spot.path or story.id


# --- shared ------------------------------------------------------------------------------------


def _places(desk: Desk) -> Iterator[tuple[LiveAsk, DropOff, PlaceTimes]]:
    """Every place of every live ask, apart from those that are stopped anyway."""
    for live in desk.live_asks:
        for entry, times in live.places:
            if entry.stopped is None:
                yield live, entry, times


def _begins_too_late(live: LiveAsk) -> bool:
    return live.times.opens is not None and live.times.opens >= live.times.closes


def _name(place: Place) -> str:
    return place.name or place.id


def _hours_words(ask: Ask, entry: DropOff) -> str:
    if ask.hours is not None and _by_event_hours(ask, entry):
        return ask.hours.text
    return entry.place.hours.text


def _window_words(live: LiveAsk, entry: DropOff, desk: Desk) -> str:
    if live.ask.kind is Kind.GO:
        return "on the event's dates"
    starts = [when.day for when in (live.ask.starts, entry.from_) if when is not None]
    ends = live.times.ends
    if entry.until is not None:
        ends = min(ends, end_of(entry.until, desk.zone))
    begin = f"from {day_words(max(starts))} " if starts else ""
    return f"{begin}to {end_words(ends, desk.zone)}" if begin else f"before {end_words(ends, desk.zone)}"
