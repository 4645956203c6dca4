"""Reviving an earlier story as a follow-up: its asks, places and contacts again, every date a marked blank.

What is carried over is what must be asked anew all the same: the file is on hold, each date says beside it what it was last time,
and the words of the story are to be written anew. What was true once only, or was somebody's leave, is never carried as a value:
confirmations, corrections, stops, pictures and video with their rights, the consent of a home's owner, a sponsor. It stands as a comment
where whoever writes must see it. A pure function of the records, like the other drafts.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from sitegen.newsroom.hours import DAY_NAMES
from sitegen.newsroom.records import (
    Access,
    Ask,
    Contact,
    DropOff,
    Goal,
    Hours,
    Kind,
    Newsroom,
    Place,
    Position,
    Span,
    Stop,
    Story,
    When,
)
from sitegen.newsroom.slugs import BEYOND, slug
from sitegen.newsroom.yamllines import clean, scalar, values


def revived_path(story: Story, aired: When | None) -> str:
    """Where the follow-up goes: under the earlier story's name, in the year it airs, else in the year after."""
    year = aired.day.year if aired is not None else story.aired.day.year + 1
    return f"content/stories/{year}/{story.id.rpartition('/')[2]}.md"


def revived(story: Story, newsroom: Newsroom, headline: str, aired: str) -> str:
    """The text of the follow-up's file. `headline` and `aired` are as answered; empty leaves them to be filled in."""
    names = {county.key: county.name for county in newsroom.station.counties} | {BEYOND: BEYOND}
    lines = [
        "---",
        f"# Revived from {story.id}. Everything here was true of last time: ask again, then take out `hold`.",
        "hold: true",
        f"follows: {scalar(story.id)}",
        f"headline: {scalar(headline)}" if headline else _anew("headline", story.headline),
        f"# summary: to be written anew; last time: {_said(story.summary)}" if story.summary else "# summary:",
        f"aired: {scalar(aired)}" if aired else _date("aired", _when(story.aired), "or put it into an episode's rundown"),
        "county: " + values(names[key] for key in story.counties),
    ]  # fmt: skip
    lines += [f"town: {scalar(story.town)}"] if story.town else []
    lines += [f"# reporter: last time: {_said(story.reporter)}"] if story.reporter else []
    lines += ["topics: " + values(story.topics)] if story.topics else []
    lines += [f"say_on_air: {scalar(story.say_on_air)}"] if story.say_on_air else []
    lines += ["heard_as: " + values(story.heard_as)] if story.heard_as else []
    lines += [f"language: {scalar(story.language)}"] if story.language else []
    lines += _seen_only(story)
    if story.asks:
        lines.append("asks:")
        for ask in story.asks:
            lines += _ask(ask, story, newsroom, names)
    lines += ["# Write the story below the next line; it is published as it stands there.", "---", ""]
    return "\n".join(lines)


def _seen_only(story: Story) -> list[str]:
    """What is told and not carried."""
    lines = []
    if story.photo is not None:
        name = story.photo.picture.file.rpartition("/")[2] if story.photo.picture else "a photo"
        children = " It shows children: their consent was for that story." if story.photo.children else ""
        lines.append(
            f"# photo: last time {_said(name)}. Take a new one, or write it anew once its rights are cleared.{children}"
        )
    if story.video is not None:
        lines.append("# video: a new one; last time's belongs to last time's story")
    if story.sponsored_by:
        lines.append(f"# sponsored_by: last time {_said(story.sponsored_by)}; only if it is so again")
    if story.listing:
        lines.append("# listing: a new file in content/listings; last time's dates are over")
    lines += [
        f"# {each.kind} of {each.date}, not to be repeated: {_said(each.text)}" for each in story.corrections
    ]
    return lines


# --- asks ------------------------------------------------------------------------------------


def _ask(ask: Ask, story: Story, newsroom: Newsroom, names: dict[str, str]) -> list[str]:
    written = ask.origin.written
    lines = [f"title: {scalar(ask.title)}", f"kind: {ask.kind}"]
    lines += [f"key: {ask.key}"] if ask.key != slug(ask.title) else []
    lines += [f"# {_stop(ask.stopped)}"] if ask.stopped is not None else []
    if ask.starts is not None:
        lines.append(_date("starts", _when(ask.starts), "or remove this line if it is open at once"))
    if ask.ongoing:
        lines.append("deadline: ongoing")
        again = _when(ask.check_again_by) if ask.check_again_by is not None else ""
        lines.append(_date("check_again_by", again))
    elif ask.deadline is not None:
        lines.append(_date("deadline", _when(ask.deadline)))
    if ask.dates:
        lines.append(_date("dates", ", ".join(_span(span) for span in ask.dates)))
    lines += _again("hours", ask.hours.text) if ask.hours is not None else []
    lines += [_date_comment("closed", ask.closed)] if ask.closed else []
    lines += _again("quieter", _days(ask.quieter)) if ask.quieter else []
    lines += [f"minutes: {ask.minutes}"] if ask.minutes else []
    lines += ["accepts: " + _listed(ask.accepts)] if ask.accepts else []
    lines += ["not_accepted: " + _listed(ask.not_accepted)] if ask.not_accepted else []
    if "helps" in written and ask.helps != story.counties:
        lines.append("helps: " + values(names[key] for key in ask.helps))
    lines += _goal(ask.goal) if ask.goal is not None else []
    lines += _contact(ask.contact) if ask.contact is not None else []
    who = f"; last time: {_said(ask.confirmed.with_)}" if ask.confirmed and ask.confirmed.with_ else ""
    lines.append(f"# confirmed: {{date: , with: }}   # when you last checked{who}; never published")
    lines += _places(ask, newsroom, names) if ask.drop_off else []
    for key, words in (
        ("who_for", ask.who_for), ("cost", ask.cost), ("bring", ask.bring), ("payee", ask.payee),
        ("goes_to", ask.goes_to), ("registration", ask.registration), ("if_too_much", ask.if_too_much),
    ):  # fmt: skip
        lines += [f"{key}: {scalar(words)}"] if words else []
    return [f"  - {lines[0]}", *(f"    {line}" for line in lines[1:])]


def _goal(goal: Goal) -> list[str]:
    lines = ["goal:", f"  number:   # fill in: how many are wanted; last time: {_plain(goal.number)}"]
    lines += [f"  unit: {scalar(goal.unit)}"] if goal.unit else []
    if goal.so_far is not None:
        counted = f", counted on {goal.counted_on}" if goal.counted_on is not None else ""
        lines.append(
            f"  last_time: {_plain(goal.so_far)}   # what had come{counted}; is that the last count?"
        )
    else:
        lines.append("  # last_time: what came last time; nobody wrote it down")
    return lines


def _contact(contact: Contact) -> list[str]:
    lines = ["contact:   # last time's: call before this airs"]
    for key in ("name", "phone", "email", "web", "pick_up", "ship_to"):
        words = getattr(contact, key)
        lines += [f"  {key}: {scalar(words)}"] if words else []
    lines += ["  languages: " + _listed(contact.languages)] if contact.languages else []
    return lines


# --- places ----------------------------------------------------------------------------------


def _places(ask: Ask, newsroom: Newsroom, names: dict[str, str]) -> list[str]:
    shared = {place.id: place for place in newsroom.places}
    key = "drop_off" if ask.kind is Kind.BRING else "where"
    if all(entry.stopped is not None for entry in ask.drop_off):
        lines = [f"{key}:   # fill in: places; those of last time stopped, as said here"]
    else:
        lines = [f"{key}:"]
    for entry in ask.drop_off:
        written = _entry(entry, shared, names)
        if entry.stopped is not None:
            # One that gave up is not asked for again unseen.
            written = [f"# {_stop(entry.stopped)}", *(f"# {line}" for line in written)]
        lines += [f"  {line}" for line in written]
    return lines


def _entry(entry: DropOff, shared: dict[str, Place], names: dict[str, str]) -> list[str]:
    window = [
        _date(key, _when(when), "or remove this line")
        for key, when in (("from", entry.from_), ("until", entry.until))
        if when is not None
    ]
    place = entry.place
    if not place.id:
        return _item([*_written_out(place, names), *window])
    own = [f"hours: {scalar(place.hours.text)}"] if entry.own_hours else []
    own += [f"note: {scalar(entry.note)}"] if entry.note else []
    more = sorted(set(place.closed) - set(shared[place.id].closed)) if place.id in shared else []
    own += [_date_comment("closed", more)] if more else []
    # A shared place's own keys stand in its file; only what differed for this ask is said again.
    return _item([f"place: {place.id}", *window, *own]) if window or own else [f"- {place.id}"]


def _item(lines: list[str]) -> list[str]:
    return [f"- {lines[0]}", *(f"  {line}" for line in lines[1:])]


def _written_out(place: Place, names: dict[str, str]) -> list[str]:
    """A place that was written in the ask."""
    lines = [f"name: {scalar(place.name)}"]
    lines += [f"street: {scalar(place.street)}"] if place.street else []
    lines += [f"town: {scalar(place.town)}", f"county: {scalar(names[place.county])}"]
    lines += [f"postal_code: {scalar(place.postal_code)}"] if place.postal_code else []
    lines += [f"position: {_position(place.position)}"] if place.position is not None else []
    lines += _again("hours", _hours(place.hours))
    lines += [_date_comment("closed", place.closed)] if place.closed else []
    if place.special_hours:
        lines.append(_date_comment("special_hours", (each.day for each in place.special_hours)))
    lines += [f"step_free: {place.step_free}"] if place.step_free is not Access.UNKNOWN else []
    lines += [f"drive_up: {place.drive_up}"] if place.drive_up is not Access.UNKNOWN else []
    for key in ("transit", "parking", "note", "phone", "web"):
        words = getattr(place, key)
        lines += [f"{key}: {scalar(words)}"] if words else []
    lines += ["address: withheld"] if place.withheld else []
    if place.is_home:
        lines += ["home:", f"  {_date('consent', str(place.home_consent), 'the owner must agree again')}"]
    return lines


# --- words -----------------------------------------------------------------------------------


def _anew(key: str, words: str) -> str:
    return f"{key}:   # fill in; last time: {_said(words)}"


def _date(key: str, last: str, more: str = "") -> str:
    """A date left blank, with what it was."""
    told = f"; last time: {last}" if last else ""
    return f"{key}:   # fill in{told}" + (f"; {more}" if more else "")


def _date_comment(key: str, days: Iterable[date]) -> str:
    return f"# {key}: last time: {', '.join(str(day) for day in days)}"


def _again(key: str, words: str) -> list[str]:
    return [f"{key}: {scalar(words)}   # last time's: is it so again?"]


def _stop(stop: Stop) -> str:
    when = f" {_when(stop.when)}" if stop.when is not None else ""
    instead = f"; instead: {_said(stop.instead)}" if stop.instead else ""
    return f"Last time it stopped{when}: {_said(stop.say)}{instead}"


def _said(words: str) -> str:
    """Words in a comment: on one line."""
    return clean(words)


def _listed(texts: Iterable[str]) -> str:
    return "[" + ", ".join(scalar(text) for text in texts) + "]"


def _when(when: When) -> str:
    return f"{when.day}" if when.clock is None else f"{when.day} {when.clock:%H:%M}"


def _span(span: Span) -> str:
    return _when(span.first) if span.first == span.last else f"{_when(span.first)}..{_when(span.last)}"


def _hours(hours: Hours) -> str:
    return hours.text or str(hours.mode)


def _days(days: Iterable[int]) -> str:
    return ",".join(DAY_NAMES[day] for day in days)


def _plain(number: float) -> str:
    return str(int(number)) if number == int(number) else str(number)


def _position(position: Position) -> str:
    return f"[{position.latitude}, {position.longitude}]"
