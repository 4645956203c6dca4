"""The on-air pack as bytes: two sheets of paper that stand alone, and the words of the graphics.

The sheets speak the station's language and say dates as a host reads them aloud, with months written out. A graphic speaks its
story's language where the theme does.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import PurePosixPath
from typing import Any

from markupsafe import Markup, escape

from sitegen.edition.happenings import MOST_DATES, Event, Happening, Weekly
from sitegen.edition.models import AskView, DatesView, ListingLine, Moment, PlaceView
from sitegen.edition.onair import OnAirPack, OnAirStory
from sitegen.newsroom.records import DayHours, Hours, Kind, Mode
from sitegen.newsroom.slugs import slug
from sitegen.typeset.addresses import absolute
from sitegen.typeset.cards import palette_of
from sitegen.typeset.dates import NO_BREAK, Dates, and_key, last_day
from sitegen.typeset.graphics import Graphic, drawable_graphic
from sitegen.typeset.pages import (
    template_environment,
    told_where,
    towns_of,
    typed,
    web_words,
    with_ranges_whole,
)
from sitegen.typeset.theme import Theme, ThemeError
from sitegen.typeset.words import Words, base_of, catalogue_for, load_words, sentence, with_capital

HOST, PHONES = "onair-host.html", "onair-phones.html"
STYLES = "tidetable.css", "onair.css"

LONGEST_NAME = 40
"""Letters of a title in a picture's name: no disk refuses the whole."""


@dataclass(frozen=True, slots=True)
class NamedGraphic:
    """The graphics of one ask."""

    name: str
    """What its files are called, before `-full.png` and the like."""
    story: str
    """The story's headline."""
    ask: str
    """The ask's title."""
    until: Moment | None
    """When it is over, its last door has shut, it is to be looked at again, or the next of its dates is over."""
    graphic: Graphic | None
    """None when the theme has no colours for it, or the type no letters."""


class SheetSetter:
    """Sets on-air packs in one theme for a station of one language (BCP 47)."""

    def __init__(self, theme: Theme, language: str) -> None:
        """Raises ThemeError when the theme lacks the sheets' templates, or a catalogue cannot be read."""
        self._theme = theme
        self._language = language
        names = dict(theme.templates)
        for name in (HOST, PHONES):
            if name not in names:
                raise ThemeError(f"the theme {theme.name!r} has no template {name}")
        self._environment = template_environment(theme)
        styles = {name: data.decode("utf-8", "replace") for name, data in theme.assets} | dict(theme.sheets)
        self._style = Markup("\n".join(_plain(styles[name]) for name in STYLES if name in styles))
        self._palette = palette_of(theme)

    def host(self, pack: OnAirPack) -> bytes:
        """The host's sheet, HTML in UTF-8."""
        return self._sheet(HOST, pack)

    def phones(self, pack: OnAirPack) -> bytes:
        """The sheet for whoever answers the phone, HTML in UTF-8."""
        return self._sheet(PHONES, pack)

    def _sheet(self, name: str, pack: OnAirPack) -> bytes:
        speaks = base_of(catalogue_for(self._theme, self._language)) == base_of(self._language)
        voice = _Voice(pack, _read_aloud(load_words(self._theme, self._language)), self._language)
        context = voice.context()
        context["html_language"] = self._language if speaks else catalogue_for(self._theme, self._language)
        context["style"] = self._style
        with told_where(self._theme):
            return self._environment.get_template(name).render(context).encode() + b"\n"

    # --- graphics ----------------------------------------------------------------------------

    def graphics(self, pack: OnAirPack) -> tuple[NamedGraphic, ...]:
        """The graphics of every ask that viewers can act on or prepare to, in the rundown's order."""
        found = []
        for number, story in enumerate(pack.stories, 1):
            dates = self._dates_of(story.language)
            live = (pair for pair in zip(story.asks, story.events, strict=True) if pair[0].standing.live)
            for part, (ask, event) in enumerate(live, 1):
                title = slug(ask.title)[:LONGEST_NAME].strip("-")
                name = "-".join(each for each in (f"{number:02}", str(part), title) if each)
                whens = _whens(ask, event, dates, pack.aired.day.year)
                until = whens.passes or last_door(ask) or ask.closes or ask.check_again_by
                graphic = self._graphic(pack, story, ask, whens, dates) if self._palette is not None else None
                found.append(NamedGraphic(name, story.headline, ask.title, until, graphic))
        return tuple(found)

    def _graphic(
        self, pack: OnAirPack, story: OnAirStory, ask: AskView, whens: _Whens, dates: Dates
    ) -> Graphic | None:
        assert self._palette is not None
        site = pack.frame.address
        home, short = web_words(site), web_words(absolute(site, story.short))
        asks_first = ask.kind is Kind.GET_HELP or ask.no_places_left
        phone = ask.contact.phone if ask.contact is not None and asks_first else ""
        # Money given in the first warmth of a story is what swindlers wait for.
        check = dates.words.say("onair.check") if ask.kind is Kind.GIVE else ""
        graphic = Graphic(
            palette=self._palette,
            what=ask.title,
            # `Dec. 15` and `5 p.m.` stay on one line where they can.
            whens=tuple(
                dict.fromkeys(part for words in whens.wordings for part in (dates.whole(words), words))
            ),
            addresses=tuple(dict.fromkeys(each for each in (short if story.short else "", home) if each)),
            leads_to=absolute(site, story.short or story.address),
            call=check or (dates.words.say("row.call", phone=phone) if phone else ""),
            wheres=_wheres(ask, dates),
        )
        return drawable_graphic(graphic)

    def _dates_of(self, language: str) -> Dates:
        speaks = language and base_of(catalogue_for(self._theme, language)) == base_of(language)
        tag = language if speaks else self._language
        return Dates(load_words(self._theme, tag), tag)


@dataclass(frozen=True, slots=True)
class _Whens:
    """What a graphic says of when, the fullest wording first; none claims more than is so."""

    wordings: tuple[str, ...]
    passes: Moment | None = None
    """When the next date of an event that they name is over, where others follow."""


def _whens(ask: AskView, event: Event | None, dates: Dates, year: int) -> _Whens:
    if ask.no_places_left:
        # Whoever saw a date would go; and without a picture the one of before would be shown again.
        return _Whens((dates.words.say("ask.no_places_left"),))
    if event is None:
        opening, end = _opening(ask, dates, year), _until(ask, dates, year)
        found = [f"{words}; {end}" for words in opening if end] + (opening or ([end] if end else []))
        if not found and ask.check_again_by is not None:
            found = [dates.words.say("ask.no_end")]
        return _Whens(tuple(map(with_capital, found)))
    found = _event_wordings(ask, event, dates, year)
    if 1 < len(event.dates) <= MOST_DATES:
        # Lines break between dates rather than in them, where each fits on one.
        found = ["; ".join(part.replace(" ", NO_BREAK) for part in found[0].split("; ")), *found]
    found = [with_capital(words) for words in found]
    if len(event.dates) < 2:
        return _Whens(tuple(found))
    first = event.dates[0].view
    ends = datetime.fromisoformat(first.ends)
    return _Whens(tuple(found), Moment(first.ends, ends.date(), ends.time()))


def _wheres(ask: AskView, dates: Dates) -> tuple[str, ...]:
    """The one place of an ask, the fullest wording first; empty where there are others, or only a phone tells its address."""
    if len(ask.places) != 1 or ask.places[0].place.withheld:
        return ()
    place = ask.places[0].place
    return dates.words.say("onair.at_place", place=place.name, town=place.town), f"{place.name}, {place.town}"


def _opening(ask: AskView, dates: Dates, year: int) -> list[str]:
    """When an ask opens, where that is to come."""
    if ask.opens is None:
        return []
    moment = dates.beginning(ask.opens, year=ask.opens.day.year != year)
    return [dates.words.say("ask.opens", moment=moment)]


def _event_wordings(ask: AskView, event: Event, dates: Dates, year: int) -> list[str]:
    """When an event is, the fullest wording first: its dates with their hours, or the weekly hours; then in short."""
    if event.weekly is not None:
        found = _weekly_wordings(event.weekly, dates, year)
    else:
        said = [_happening(each, dates, year) for each in event.dates]
        found = ["; ".join(said)] if len(said) <= MOST_DATES else []
        more = sum(each.days for each in event.dates[1:])
        if more:
            words = dates.words.form("ask.more_dates", more).format(count=dates.number(more))
            found.append(f"{said[0]} {words}")
    if ask.hours is not None and ask.hours.mode is Mode.BY_APPOINTMENT:
        found = [f"{words}; {_lowered(dates.hours(ask.hours)[0])}" for words in found]
    opening = _opening(ask, dates, year)
    return [*(f"{opening[0]}; {words}" for words in found), *opening] if opening else found


def _weekly_wordings(weekly: Weekly, dates: Dates, year: int) -> list[str]:
    """Weekly hours, from when to when, and what is closed meanwhile."""
    hours = "; ".join(dates.hours(weekly.hours))
    last = dates.day(weekly.last.day, year=weekly.last.day.year != year)
    if weekly.opens is None:
        run = dates.words.say("date.through", moment=last)
    else:
        first = dates.day(weekly.opens.day, year=weekly.opens.day.year != year)
        run = dates.words.form("span.days").format(first=first, last=last)
    found = [f"{hours}; {run}"]
    if weekly.closed:
        days = dates.closed(weekly.closed, year, weekday=False)
        closed = _lowered(dates.words.say("place.closed", days=days))
        some = dates.words.say("onair.some_closed")
        found = [f"{words}; {closed}" for words in found] + [f"{words}; {some}" for words in found]
    if weekly.opens is not None:
        opens = dates.beginning(weekly.opens, year=weekly.opens.day.year != year)
        return [*found, dates.words.say("ask.opens", moment=opens)]
    ends = datetime.fromisoformat(weekly.last.iso)
    key, words = dates.until(Moment(weekly.last.iso, ends.date(), ends.time()), year=ends.year != year)
    return [*found, dates.words.form(key).format(moment=words)]


def _happening(each: Happening, dates: Dates, year: int) -> str:
    """One date of an event with its hours: `Friday, Dec. 4, 5-10 p.m.`."""
    view = each.view
    shown = view.last.day.year != year
    if each.ranges:
        day = dates.day(view.first.day, weekday=True, year=shown)
        return dates.words.say("date.at", day=day, clock=dates.ranges(each.ranges))
    if each.goes_on:
        key, last = dates.until(view.last, year=shown)
        return dates.words.form(key).format(moment=last)
    key, first, last = dates.span(view, year=shown)
    return dates.words.form(key).format(first=first, last=last)


def _lowered(words: str) -> str:
    return words[:1].lower() + words[1:]


def _until(ask: AskView, dates: Dates, year: int) -> str:
    """The end, or the last door's where every door shuts before; empty without one."""
    end = last_door(ask) or ask.closes
    if end is None:
        return ""
    key, words = dates.until(end, year=end.day.year != year)
    return dates.words.form(key).format(moment=words)


def last_door(ask: AskView) -> Moment | None:
    """When the last of an ask's doors shuts, where that is before its own end."""
    return ask.last_place_closes


def said_end(ask: AskView) -> Moment | None:
    """The last door's end, where it falls on a day before the ask's own and so is what a host must say; else None."""
    door = last_door(ask)
    if door is None or ask.opens is not None or ask.dates or ask.closes is None:
        return None
    return door if last_day(door) < last_day(ask.closes) else None


def _read_aloud(words: Words) -> Words:
    """The words with months written out beside a day, too: nobody reads `Dec.` aloud."""
    months = {f"month.{month}.dated": words.messages[f"month.{month}"] for month in range(1, 13)}
    return replace(words, messages={**words.messages, **months})


def _plain(style: str) -> str:
    """A stylesheet without comments and blank lines."""
    return "\n".join(
        line for line in re.sub(r"/\*.*?\*/", "", style, flags=re.DOTALL).splitlines() if line.strip()
    )


# --- what the templates may call -------------------------------------------------------------


class _Voice:
    """What a sheet's template may call. Everything it returns is safe HTML."""

    def __init__(self, pack: OnAirPack, words: Words, language: str) -> None:
        self._pack = pack
        self._words = words
        self._dates = Dates(words, language)
        self._year = pack.aired.day.year
        self._live: dict[str, list[AskView]] = {}
        for ask in (*(ask for story in pack.stories for ask in story.asks), *pack.elsewhere.live):
            if ask.standing.live:
                self._live.setdefault(_page_of(ask), []).append(ask)
        self._events = {
            (ask.story.address, ask.anchor): event
            for story in pack.stories
            for ask, event in zip(story.asks, story.events, strict=True)
        }

    def context(self) -> dict[str, Any]:
        pack, dates = self._pack, self._dates
        day = dates.day(pack.aired.day, year=True)
        return {
            "pack": pack,
            "frame": pack.frame,
            "episode": pack.title or self._words.say("episode.untitled", programme=pack.frame.programme, day=day),
            "t": self.t,
            "copy": self.copy,
            "copy_language": self.copy_language,
            "together": self.together,
            "sentence": sentence,
            "sentence_of": _sentence_of,
            "typed": typed,
            "web_words": web_words,
            "canonical": lambda address: absolute(pack.frame.address, address),
            "spoken": self.spoken,
            "spelled": spelled,
            "moment": self.moment,
            "beginning": self.beginning,
            "until": self.until,
            "span": self.span,
            "happens": self.happens,
            "door_hours": self.door_hours,
            "number": number,
            "next_step": self.next_step,
            "ended_at": lambda moment: dates.whole(dates.ended(moment)),
            "day": lambda day: dates.whole(dates.day(day, year=day.year != self._year)),
            "closed_days": self.closed_days,
            "day_hours": self.day_hours,
            "hours": self.hours,
            "entry_when": self.entry_when,
            "last_door": last_door,
            "said_end": said_end,
            "towns_of": towns_of,
            "measure": dates.measure,
            "amount": dates.amount,
            "running": dates.running,
            "language_names": lambda tags: [dates.language_name(tag) for tag in tags],
        }  # fmt: skip

    # --- words ---

    def t(self, key: str, **parameters: object) -> Markup:
        count = parameters.get("count")
        if isinstance(count, int | float):
            parameters["count"] = self._dates.number(count)
            form = self._words.form(key, count)
        else:
            form = self._words.form(key)
        return Markup(escape(form)).format(**parameters)

    def copy_language(self, language: str = "") -> Markup:
        written = language or self._pack.frame.language
        if base_of(written) == base_of(self._words.language):
            return Markup("")
        return Markup(' lang="{}"').format(written)

    def copy(self, words: str, language: str = "") -> Markup:
        """What the newsroom wrote, marked where it is in another language than the words around it."""
        attribute = self.copy_language(language)
        said = _NUMBERS.sub(lambda found: number(found[0]), str(escape(words)))
        return Markup(f"<span{attribute}>{said}</span>" if attribute and words else said)

    def together(self, parts: Iterable[object]) -> Markup:
        *others, last = [escape(part) for part in parts]
        if not others:
            return last
        return self.t(and_key(last.striptags()), others=self.t("list.comma").join(others), last=last)

    def spoken(self, short: str) -> str:
        """An address of the site as it is said: `www dot example dot org, slash toys`."""
        address = web_words(absolute(self._pack.frame.address, short))
        signs = {".": "onair.dot", "/": "onair.slash", "-": "onair.hyphen"}
        parts = re.split(r"([./-])", address)
        said = [self._words.say(signs[part]) if part in signs else part for part in parts if part]
        slash = self._words.say("onair.slash")
        return " ".join(said).replace(f" {slash} ", f", {slash} ")

    def next_step(self, ask: AskView) -> Markup:
        """What to say to who comes for something that is over; empty where its own words say it, or a number to ask.

        In this order: the story that goes on with it, what else its own story asks for, the county's page. A sheet has no
        links, so pages are said by their addresses. Money is never said in another thing's place.
        """
        step, end = ask.next_step, ask.ending
        follows_on = step is not None and step.address.startswith("stories/")
        if not follows_on and end is not None and (end.instead or end.phone):
            return Markup("")
        if not follows_on:
            helps = ask.kind is Kind.GET_HELP
            others = [
                self.copy(each.title, each.story.language)
                for each in self._live.get(_page_of(ask), ())
                if each.kind is not Kind.GIVE and (each.kind is Kind.GET_HELP) == helps
            ]
            if others:
                return self.t("onair.still_open", asks=Markup("; ").join(others))
        if step is None or not step.label:
            return Markup("")
        address = typed(absolute(self._pack.frame.address, step.address))
        if follows_on:
            return self.t("onair.next", step=self.copy(step.label, step.language), address=address)
        return self.t("onair.next_area", area=step.label, address=address)

    # --- when ---

    def moment(self, moment: Moment, *, year: bool | None = None) -> Markup:
        shown = moment.day.year != self._year if year is None else year
        return self._time(moment, self._dates.moment(moment, year=shown))

    def beginning(self, moment: Moment) -> Markup:
        return self._time(moment, self._dates.beginning(moment, year=moment.day.year != self._year))

    def until(self, moment: Moment) -> Markup:
        key, words = self._dates.until(moment, year=moment.day.year != self._year)
        return self.t(key, moment=self._time(moment, words))

    def span(self, view: DatesView) -> Markup:
        key, first, last = self._dates.span(view, year=view.last.day.year != self._year)
        start = self._time(view.first, first)
        return (
            self.t(key, first=start, last=self._time(view.last, last)) if last else self.t(key, first=start)
        )

    def happens(self, ask: AskView) -> Markup:
        """When an event is, with its hours; empty for every other ask."""
        event = self._events.get((ask.story.address, ask.anchor))
        if event is None:
            return Markup("")
        return with_ranges_whole(self._dates.whole(_event_wordings(ask, event, self._dates, self._year)[0]))

    def door_hours(self, ask: AskView, place: PlaceView) -> list[str]:
        """The hours of one door, in lines; none for an event that says its own."""
        if ask.kind is Kind.GO and (ask.hours is not None or all(each.first.clock for each in ask.dates)):
            return []
        if place.hours.mode is Mode.UNKNOWN and not place.phone and not (ask.contact and ask.contact.phone):
            return [self._words.say("onair.hours_unknown")]  # There is no number to call first.
        return self.hours(place.hours)

    def entry_when(self, line: ListingLine) -> Markup:
        if line.stopped or not line.starts:
            words = self._dates.day(line.day, weekday=True)
            return Markup('<time datetime="{}">{}</time>').format(
                line.day.isoformat(), self._dates.whole(words)
            )
        return self.span(DatesView(line.starts, line.ends)) if line.ends.clock else self.moment(line.starts)

    def closed_days(self, days: Sequence[date]) -> str:
        return self._dates.whole(self._dates.closed(days, self._year))

    def day_hours(self, special: DayHours) -> str:
        return self._dates.whole(self._dates.day_hours(special, year=special.day.year != self._year))

    def hours(self, hours: Hours) -> list[str]:
        return [self._dates.whole(line) for line in self._dates.hours(hours)]

    def _time(self, moment: Moment, words: str) -> Markup:
        return Markup('<time datetime="{}">{}</time>').format(moment.iso, self._dates.whole(words))


_NUMBERS = re.compile(r"\d+(?:-\d+)+")


def number(words: str) -> Markup:
    """A phone number, which no line breaks."""
    return Markup('<span class="number">{}</span>').format(words)


def _page_of(ask: AskView) -> str:
    """Site address of its story's page."""
    return ask.story.address.partition("#")[0]


def spelled(short: str) -> str:
    """The last word of an address, letter by letter: `T-O-Y-S`; its own hyphens are said as such."""
    word = PurePosixPath(short).name
    return " - ".join("-".join(part.upper()) for part in word.split("-"))


def _sentence_of(words: Markup) -> Markup:
    """Words of the theme as a sentence; the first letter may stand inside an element."""
    text = str(words).strip()
    first = re.match(r"(?:<[^>]*>)*", text)
    at = first.end() if first else 0
    said = text[:at] + text[at : at + 1].upper() + text[at + 1 :]
    return Markup(said if Markup(said).striptags()[-1:] in tuple(".!?…") else f"{said}.")
