"""Silent edits: what viewers may have noted down and go by, changed in a released story without a word to them, or gone with it.

Held against the last accepted content, so each is told until a build accepts it. Told of what still counted: not of asks that
were over, nor of places that had shut for the last time, nor of days gone by. Pure.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from sitegen.clock.asks import AskTimes, place_state, plan_ask, plan_end, span_end, visit_door
from sitegen.clock.openings import Door, ranges_on
from sitegen.clock.stories import Visibility, plan_story, visibility
from sitegen.clock.timed import latest
from sitegen.edition import addresses
from sitegen.newsroom.hours import ranges_text
from sitegen.newsroom.records import (
    Ask,
    Contact,
    DropOff,
    Episode,
    Finding,
    Goal,
    Kind,
    Mode,
    Newsroom,
    Origin,
    Place,
    Span,
    Story,
    Weight,
    When,
)  # fmt: skip
from sitegen.newsroom.times import end_of, local_day, start_of, zone_named
from sitegen.proof.counterparts import ask_pairs, entry_pairs, story_pairs
from sitegen.proof.report import SILENT_EDIT


def silent_edits(
    accepted: Newsroom,
    current: Newsroom,
    as_of: datetime,
    gone: Collection[str] = (),
    added: Collection[str] = (),
    faulty: Collection[str] = (),
) -> tuple[Finding, ...]:
    """A concern for each thing that viewers may go by and that is another one than was accepted, or gone.

    `accepted` may hold only some of the stories and places: the others count as unchanged. `gone` and `added` are paths of
    files, as in `story_pairs`; `faulty` are those of current files with faults, of which nothing is told: what they lack may be what could not be
    read.
    """
    now = {episode.id: episode for episode in current.episodes}
    then = _Then(
        as_of,
        zone_named(current.station.time_zone),
        frozenset(current.station.holidays),
        {place.id: place for place in accepted.places},
        {place.id: place for place in current.places},
        now | {episode.id: episode for episode in accepted.episodes},
        now,
        faulty,
    )
    known = list(story_pairs(accepted, current, gone, added))
    pairs = [(old, new) for old, new in known if old != new]
    seen = [(old, new) for old, new in pairs if new.origin.spot.path not in faulty and then.is_seen(old, new)]
    found = {old.id for old, _ in known}
    lost = [story for story in accepted.stories if story.origin.spot.path in gone and story.id not in found]
    leading = _leading(current) if seen or lost else {}
    return (
        *_in_deleted(lost, leading, then),
        *(finding for old, new in seen for finding in _in_addresses(old, new, leading, then)),
        *(finding for old, new in seen for finding in _in_story(old, new, then)),
        *_in_places(pairs, current, added, then),
    )


@dataclass(frozen=True, slots=True)
class _Then:
    """The moment, and what every comparison rests on."""

    as_of: datetime
    zone: ZoneInfo
    holidays: frozenset[date]
    before: dict[str, Place]
    """Shared places as they were accepted, by id; one that is missing is unchanged."""
    now: dict[str, Place]
    episodes_before: dict[str, Episode]
    episodes_now: dict[str, Episode]
    faulty: Collection[str]

    def is_seen(self, old: Story, new: Story) -> bool:
        """A story that is published, and was to be by now: before that nobody could go by it."""
        return self.is_published(new, self.episodes_now) and self.is_published(old, self.episodes_before)

    @property
    def correction(self) -> str:
        """What to write, in words and for copying."""
        today = local_day(self.as_of, self.zone)
        return f"add to the story's corrections: {{date: {today}, text: WHAT WAS WRONG}}"

    def is_published(self, story: Story, episodes: Mapping[str, Episode]) -> bool:
        times = plan_story(story, episodes, self.zone)
        return visibility(times, self.as_of).value is Visibility.PUBLISHED

    def is_over(self, ask: Ask) -> bool:
        return plan_end(ask, 0, self.zone).ends <= self.as_of

    def live_entries(self, ask: Ask) -> list[DropOff]:
        """The entries whose door still was to be open."""
        times = plan_ask(ask, 0, self.zone).places
        states = (place_state(each, self.as_of).value for each in times)
        return [
            entry
            for entry, state in zip(ask.drop_off, states, strict=True)
            if state.live and not state.stopped
        ]


def _is_corrected(old: Story, new: Story) -> bool:
    return len(new.corrections) > len(old.corrections)


# --- addresses -------------------------------------------------------------------------------


def _leading(current: Newsroom) -> dict[str, date]:
    """Every address of a story or station page and every one that leads there, with the air date of its newest story."""
    found = {f"{page.id}/": date.max for page in current.pages}
    for story in current.stories:
        words = (f"{word}/" for word in (story.say_on_air, *story.heard_as))
        for address in (addresses.story(story.id), *story.old_addresses, *words):
            found[address] = max(found.get(address, date.min), story.aired.day)
    return found


def _in_addresses(old: Story, new: Story, leading: Mapping[str, date], then: _Then) -> Iterator[Finding]:
    """No correction brings an address back, so none excuses its loss."""
    address, word = addresses.story(old.id), old.say_on_air
    if address not in leading:
        wanted = dict.fromkeys((*old.old_addresses, address, *new.old_addresses))
        yield _concern(
            new.origin, "old_addresses",
            f"This story was at /{address} and is now at /{addresses.story(new.id)}; the old address leads nowhere.",
            f"Write: old_addresses: [{', '.join(f'/{each}' for each in wanted)}]",
        )  # fmt: skip
    is_over = bool(old.asks) and all(then.is_over(ask) for ask in old.asks)
    # A newer story may take a word over; an older one that has it too is not what viewers heard of.
    if word and leading.get(f"{word}/", date.min) < new.aired.day and not is_over:
        now = f"/{new.say_on_air}/" if new.say_on_air else ""
        heard = ", ".join((*new.heard_as, word))
        yield _concern(
            new.origin, "say_on_air",
            f"The short address read out on air was '/{word}/' and is now {_said(now)}; the old one no longer leads here.",
            f"Keep it for those who heard it: heard_as: [{heard}]" if now else f"Write: say_on_air: {word}",
        )  # fmt: skip


_NAMED = 3
"""Of so many deleted stories each is told; of more, the number and these."""


def _in_deleted(deleted: Sequence[Story], leading: Mapping[str, date], then: _Then) -> Iterator[Finding]:
    """Published stories whose files are gone, and to whose addresses nothing leads."""
    lost = [
        story
        for story in deleted
        if addresses.story(story.id) not in leading and then.is_published(story, then.episodes_before)
    ]
    instead = (
        f"If it is to go, nothing is to do. If it moved, give the new one its old address: old_addresses. To tell whoever "
        f"comes, put the file back and write in it: withdrawn: {{date: {local_day(then.as_of, then.zone)}, notice: WHY}}"
    )
    if len(lost) > _NAMED:
        names = ", ".join(f"/{addresses.story(story.id)}" for story in lost[:_NAMED])
        yield _concern(
            lost[0].origin, "",
            f"{len(lost)} published stories are no longer there, and their addresses lead nowhere: {names} and others.",
            f"If you did not delete them, put them back before the next build: is a folder missing, or another one mounted? To take some away and say so, write in each: withdrawn: {{date: {local_day(then.as_of, then.zone)}, notice: WHY}}",
        )  # fmt: skip
        return
    for story in lost:
        live = any(not then.is_over(ask) for ask in story.asks)
        yield _concern(
            story.origin, "",
            f"The story at /{addresses.story(story.id)} is no longer there, and its address leads nowhere."
            + (" It asked for something that is not over." if live else ""),
            instead,
        )  # fmt: skip


# --- stories and their asks ------------------------------------------------------------------


def _in_story(old: Story, new: Story, then: _Then) -> Iterator[Finding]:
    if _is_corrected(old, new):
        return
    pairs = ask_pairs(old, new)
    for before, now in pairs:
        if then.is_over(before) or _is_stopped(now, then):
            continue
        yield from _in_ask(before, now, then)
        yield from _in_entries(before, now, then)
    for ask in old.asks:
        if not any(ask is before for before, _ in pairs) and not then.is_over(ask):
            yield _concern(
                new.origin, "asks",
                f"'{ask.title}' was asked for in this story and no longer is, without a correction.",
                f"If it is over, keep it and write in it: stopped: {{when: DATE, say: WHY}}. If it never was, {then.correction}",
            )  # fmt: skip


def _is_stopped(ask: Ask, then: _Then) -> bool:
    """It was ended in the open: the page says why."""
    times = plan_end(ask, 0, then.zone)
    return times.stops is not None and times.stops <= then.as_of


def _in_ask(old: Ask, new: Ask, then: _Then) -> Iterator[Finding]:
    title = f"'{new.title}'" + (f" (before: '{old.title}')" if old.title != new.title else "")
    for key, word, before, now in _changes_of_ask(old, new, then):
        yield _edit(new.origin, key, word, title, before, now, then)


def _changes_of_ask(old: Ask, new: Ask, then: _Then) -> Iterator[tuple[str, str, str, str]]:
    """(key, what, before, now) of everything about an ask that somebody may go by."""
    one, other = old.contact or Contact(), new.contact or Contact()
    # Nobody has gone by what was not said. (Without hours or a deadline others counted.)
    for key, word, before, now in (
        ("deadline", "deadline", _when(old.deadline), _when(new.deadline)),
        ("goal", "goal", _goal(old.goal), _goal(new.goal) if old.goal else ""),
        ("hours", "hours", old.hours.text if old.hours else "", new.hours.text if new.hours else ""),
        ("contact", "phone number", one.phone, one.phone and other.phone),
    ):
        if before != now:
            yield key, word, before, now
    if _lost_days(old, new, then):
        yield "dates", "dates", _dates(old), _dates(new)
    if old.kind is not Kind.GIVE:
        return
    for key, word, before, now in (
        ("payee", "payee", old.payee, new.payee),
        ("registration", "registration", old.registration, new.registration),
        ("contact", "web address", one.web, other.web),
        ("contact", "email address", one.email, other.email),
    ):
        if before and _plain(before) != _plain(now):
            yield key, word, before, now


def _lost_days(old: Ask, new: Ask, then: _Then) -> bool:
    """True when a day or time to come at which an event was to be is none of its days any more."""
    answered = {(When(day), When(day)) for day in then.holidays.intersection(new.closed)}
    return bool(_days_to_come(old, old, then) - _days_to_come(new, old, then) - answered)


def _days_to_come(ask: Ask, hours_of: Ask, then: _Then) -> set[tuple[When, When]]:
    """(first, last) of an event's dates that are not over: each of its days on which some hours have it open, and each span with times."""
    found: set[tuple[When, When]] = set()
    door = Door(hours_of.hours, ask.closed) if hours_of.hours is not None else None
    for span in ask.dates:
        if span_end(span, then.zone) <= then.as_of:
            continue
        today = local_day(then.as_of, then.zone)
        if span.first.clock is not None or span.last.clock is not None:
            has_begun = span.first != span.last and start_of(span.first, then.zone) <= then.as_of
            found.add((When(today) if has_begun else span.first, span.last))
            continue
        first = max(span.first.day, today)
        for count in range((span.last.day - first).days + 1):
            day = first + timedelta(days=count)
            if day not in ask.closed and (door is None or not door.has_hours or ranges_on(door, day)):
                found.add((When(day), When(day)))
    return found


# --- places of one ask -----------------------------------------------------------------------


def _in_entries(old: Ask, new: Ask, then: _Then) -> Iterator[Finding]:
    live = then.live_entries(old)
    for entry, now in entry_pairs(old, new):
        if not any(each is entry for each in live) or (now is not None and now.stopped is not None):
            continue
        if now is None and entry.place.origin.spot.path in then.faulty:
            continue
        if now is None:
            key = next((name for name in new.origin.written if name in ("drop_off", "where")), "")
            yield _concern(
                new.origin, key, f"{entry.place.name} was among the places of '{new.title}' and no longer is, without a correction.",
                f"If it takes no more, keep it and write with it: stopped: {{when: DATE, say: WHY}}. If it never did, {then.correction}",
            )  # fmt: skip
            continue
        for key, word, before, said in _changes_of_entry(old, entry, new, now, then):
            yield _edit(now.origin, key, word, f"{entry.place.name} for '{new.title}'", before, said, then)


def _changes_of_entry(
    old_ask: Ask, old: DropOff, new_ask: Ask, new: DropOff, then: _Then
) -> Iterator[tuple[str, str, str, str]]:
    """(key, what, before, now) of everything that an ask says of one of its places."""
    is_shared = bool(old.place.id) and old.place.id == new.place.id
    if not is_shared:
        for word, before, now in _changes(old.place, new.place):
            yield _key(word), word, before, now
    elif (old.own_hours or new.own_hours) and _hours(old.place) != _hours(new.place):
        yield "hours", "hours", _hours(old.place), _hours(new.place)
    one = _window(plan_end(old_ask, 0, then.zone), old, then)
    other = _window(plan_end(new_ask, 0, then.zone), new, then)
    if old.from_ != new.from_ and one[0] != other[0]:
        yield "from", "first day (from)", _when(old.from_), _when(new.from_)
    if old.until != new.until and one[1] != other[1]:
        yield "until", "last day (until)", _when(old.until), _when(new.until)
    before_door, now_door = visit_door(old_ask, old)[0], visit_door(new_ask, new)[0]
    if not (before_door.has_hours and now_door.has_hours):
        return
    days = _special_days(old.place, new.place)
    if is_shared:
        # What the shared place says of its days is not this ask's.
        shared = then.now.get(old.place.id, old.place)
        days -= _special_days(then.before.get(old.place.id, shared), shared)
    spoken = {*old.place.closed, *(each.day for each in old.place.special_hours)}
    for day in sorted(days):
        if not _counts(old_ask, day, one, then) or (day in then.holidays and day not in spoken):
            continue
        before, now = (ranges_text(ranges_on(door, day)) or "closed" for door in (before_door, now_door))
        if before != now:
            key = "closed" if day in new.place.closed else "special_hours"
            yield key, f"hours on {day}", before, now


def _window(times: AskTimes, entry: DropOff, then: _Then) -> tuple[datetime, datetime]:
    """From when, at the earliest now, until when an entry counts; door and stops left out."""
    start = latest(
        then.as_of, times.opens, start_of(entry.from_, then.zone) if entry.from_ is not None else None
    )
    assert start is not None  # the moment is there
    end = end_of(entry.until, then.zone) if entry.until is not None else times.closes
    return start, min(end, times.closes)


def _counts(ask: Ask, day: date, window: tuple[datetime, datetime], then: _Then) -> bool:
    """True for a day on which somebody may have meant to come."""
    last = local_day(window[1] - timedelta(seconds=1), then.zone)
    if not local_day(window[0], then.zone) <= day <= last:
        return False
    return ask.kind is not Kind.GO or any(span.first.day <= day <= span.last.day for span in ask.dates)


def _special_days(old: Place, new: Place) -> set[date]:
    """The days of which one says another thing than the other."""
    one, other = ({each.day: each.ranges for each in place.special_hours} for place in (old, new))
    differing = {day for day in one.keys() | other.keys() if one.get(day) != other.get(day)}
    return differing | (set(old.closed) ^ set(new.closed))


# --- shared places ---------------------------------------------------------------------------


def _in_places(
    pairs: list[tuple[Story, Story]], current: Newsroom, added: Collection[str], then: _Then
) -> Iterator[Finding]:
    """Each change of a shared place once, for all the stories that send people there."""
    changed = {
        place.id: changes
        for place in current.places
        if place.id in then.before
        and place.origin.spot.path not in then.faulty
        and (
            changes := [
                *_changes(then.before[place.id], place),
                *_changed_days(then.before[place.id], place, then),
            ]
        )
    }
    if not changed:
        return
    accepted = {new.id: (old, new) for old, new in pairs}
    reached: dict[tuple[str, str], list[str]] = {}
    for story in current.stories:
        if story.origin.spot.path in added and story.id not in accepted:
            continue
        old, new = accepted.get(story.id, (story, story))
        used = _used(old, changed, then)
        if not used or _is_corrected(old, new) or not then.is_seen(old, new):
            continue
        for name, word in sorted(used):
            reached.setdefault((name, word), []).append(story.id)
    for place in current.places:
        for word, before, now in changed.get(place.id, ()):
            stories = reached.get((place.id, word))
            if stories:
                where = f" in {', '.join(stories)}"
                key = _key_of_day(place, word) if word.startswith(_ON_DAY) else _key(word)
                yield _edit(place.origin, key, word, place.name, before, now, then, where)


_ON_DAY = "hours on "


def _changed_days(old: Place, new: Place, then: _Then) -> Iterator[tuple[str, str, str]]:
    """(what, before, now) of days to come on which a shared place is open otherwise than it was."""
    if Mode.REGULAR not in (old.hours.mode, new.hours.mode) or old.hours.mode is not new.hours.mode:
        return
    doors = [Door(place.hours, place.closed, place.special_hours) for place in (old, new)]
    spoken = {*old.closed, *(each.day for each in old.special_hours)}
    today = local_day(then.as_of, then.zone)
    for day in sorted(_special_days(old, new)):
        before, now = (ranges_text(ranges_on(door, day)) or "closed" for door in doors)
        # Nobody can have gone by the hours of a holiday of which nothing was said.
        if day >= today and before != now and (day in spoken or day not in then.holidays):
            yield f"{_ON_DAY}{day}", before, now


def _key_of_day(place: Place, word: str) -> str:
    return "closed" if word.removeprefix(_ON_DAY) in map(str, place.closed) else "special_hours"


def _used(
    story: Story, changed: Mapping[str, Sequence[tuple[str, str, str]]], then: _Then
) -> set[tuple[str, str]]:
    """(id, what) of those of some shared places, and of their facts, that a story's asks rest on."""
    found: set[tuple[str, str]] = set()
    for ask in story.asks:
        if not any(entry.place.id in changed for entry in ask.drop_off) or then.is_over(ask):
            continue
        for entry in then.live_entries(ask):
            found |= {(entry.place.id, "address"), (entry.place.id, "phone")}
            if entry.own_hours or (ask.kind is Kind.GO and ask.hours is not None):
                continue
            found.add((entry.place.id, "hours"))
            window = _window(plan_end(ask, 0, then.zone), entry, then)
            for word, *values in changed.get(entry.place.id, ()):
                if not word.startswith(_ON_DAY):
                    continue
                day = date.fromisoformat(word.removeprefix(_ON_DAY))
                # What the ask itself says of the day holds whatever the shared place says.
                said = ranges_text(ranges_on(visit_door(ask, entry)[0], day)) or "closed"
                if said in values and _counts(ask, day, window, then):
                    found.add((entry.place.id, word))
    return found


def _changes(old: Place, new: Place) -> Iterator[tuple[str, str, str]]:
    """(what, before, now) of everything about a place that somebody may go by."""
    for word, before, now in (
        ("address", _address(old), _address(new)),
        ("hours", _hours(old), _hours(new)),
        # Nobody has gone by what was not said.
        ("phone", old.phone, old.phone and new.phone),
    ):
        if before != now:
            yield word, before, now


# --- words -----------------------------------------------------------------------------------


def _concern(origin: Origin, key: str, message: str, instead: str) -> Finding:
    return Finding(origin.of(key), Weight.CONCERN, SILENT_EDIT, message, instead)


def _edit(
    origin: Origin, key: str, word: str, of: str, before: str, now: str, then: _Then, where: str = ""
) -> Finding:
    was, is_ = ("were", "are") if word.startswith(("hours", "dates")) else ("was", "is")
    said = (
        f"The {word} of {of} {was} {_said(before)} and {is_} now {_said(now)}, without a correction{where}."
    )
    return _concern(
        origin,
        key,
        said,
        f"If viewers may have gone by the old one, {then.correction}; else nothing is to do.",
    )


def _key(word: str) -> str:
    return "street" if word == "address" else word


def _address(place: Place) -> str:
    return "" if place.withheld else ", ".join(part for part in (place.street, place.town) if part)


def _hours(place: Place) -> str:
    return place.hours.text or place.hours.mode.value


def _when(when: When | None) -> str:
    if when is None:
        return ""
    return f"{when.day}" + (f" {when.clock:%H:%M}" if when.clock is not None else "")


def _dates(ask: Ask) -> str:
    closed = f", closed {', '.join(str(day) for day in ask.closed)}" if ask.closed else ""
    return ", ".join(_span(span) for span in ask.dates) + closed


def _span(span: Span) -> str:
    return _when(span.first) + (f"..{_when(span.last)}" if span.last != span.first else "")


def _plain(value: str) -> str:
    """Without what two writings of one address or name may differ in."""
    text = " ".join(value.split()).casefold()
    return text.removeprefix("https://").removeprefix("http://").rstrip("/")


def _goal(goal: Goal | None) -> str:
    return f"{goal.number:g} {goal.unit}".strip() if goal is not None else ""


def _said(value: str) -> str:
    return f"'{value}'" if value else "not said"
