"""Records to views: the small parts that several pages are made of."""

from __future__ import annotations

from collections.abc import Iterable
from copy import copy
from datetime import date, datetime, timedelta

from msgspec.structs import replace

from sitegen.clock.asks import Standing as Word
from sitegen.clock.asks import dates_left, span_end
from sitegen.clock.stories import has_come
from sitegen.clock.timed import Timed, Until, earliest, latest, next_after
from sitegen.edition import addresses
from sitegen.edition.models import (
    AskLine,
    AskView,
    ContactView,
    CorrectionView,
    DatesView,
    DropOffView,
    Ending,
    GoalView,
    ListingLine,
    Moment,
    PlaceView,
    Ref,
    Standing,
    StoryLine,
    TakeTerms,
)
from sitegen.edition.moments import end_moment, moment, start_moment
from sitegen.edition.published import Published, PublishedAsk, PublishedEntry, PublishedPlace, PublishedStory
from sitegen.newsroom.records import (
    Contact,
    DayHours,
    DropOff,
    Kind,
    Place,
    Position,
    Stop,
    Story,
    When,
)
from sitegen.newsroom.slugs import BEYOND
from sitegen.newsroom.times import day_end, day_start, end_of, start_of


class Views:
    """Makes views of one edition's records."""

    def __init__(self, published: Published) -> None:
        self.published = published
        self.zone = published.zone
        self.as_of = published.as_of
        self.until = published.until
        station = published.newsroom.station
        self._county_order = [county.key for county in station.counties] + [BEYOND]
        self._links_to: dict[tuple[str, ...], tuple[Ref, ...]] = {}
        """Links to some counties, by their keys."""
        self.county_refs: dict[str, Ref] = {
            county.key: Ref(county.name, addresses.county(county.key)) for county in station.counties
        }
        self.county_refs[BEYOND] = Ref("", addresses.BEYOND_PAGE)
        self._towns: dict[tuple[str, str], Position | None] = {
            (county.key, town.name): town.position for county in station.counties for town in county.towns
        }
        self._postal: dict[tuple[str, str], tuple[str, ...]] = {
            (county.key, town.name): town.postal_codes for county in station.counties for town in county.towns
        }
        self._refs: dict[str, Ref] = {}
        self._lines: dict[str, StoryLine] = {}
        self.follow_ups = self._follow_ups()
        self._tellings = self._by_original()

    def collecting(self, until: Until) -> Views:
        """The same views, but until when their answers hold is remembered in `until`."""
        other = copy(self)
        other.until = until
        return other

    def _follow_ups(self) -> dict[str, tuple[PublishedStory, ...]]:
        """Published stories by the story they follow, newest first."""
        found: dict[str, list[PublishedStory]] = {}
        for each in self.published.stories.values():
            if each.story.follows:
                found.setdefault(each.story.follows, []).append(each)
        return {name: tuple(sorted(each, key=story_order)) for name, each in found.items()}

    def _by_original(self) -> dict[str, list[Story]]:
        """Published stories by the one they tell, that one among them; of those alone that are told in several languages."""
        stories = self.published.stories.values()
        found: dict[str, list[Story]] = {
            each.story.translates: [] for each in stories if each.story.translates
        }
        for each in stories if found else ():
            several = found.get(each.story.translates or each.story.id)
            if several is not None:
                several.append(each.story)
        return found

    def translations(self, story: Story) -> tuple[tuple[str, Ref], ...]:
        """(language, link) of the same story in other languages, the first of each by id."""
        station = self.published.newsroom.station.language
        own = (story.language or station).lower()
        found: dict[str, tuple[str, Ref]] = {}
        for other in self._tellings.get(story.translates or story.id, ()):
            language = other.language or station
            if language.lower() != own:
                found.setdefault(language.lower(), (language, self.story_ref(other)))
        return tuple(found[tag] for tag in sorted(found))

    # --- stories and counties ---

    def story_ref(self, story: Story) -> Ref:
        """The same for all who ask: of an archive's lines there are several times as many as stories."""
        if story.id not in self._refs:
            self._refs[story.id] = Ref(story.headline, addresses.story(story.id), self._language_of(story))
        return self._refs[story.id]

    def tongue(self, story: Story) -> Ref | None:
        """The list of the stories in a story's language, where that is not the station's; the label is its tag without a region."""
        if not story.language:
            return None
        base, *_ = story.language.lower().split("-")
        station, *_ = self.published.newsroom.station.language.lower().split("-")
        return Ref(base, addresses.language(base)) if base != station else None

    def _language_of(self, story: Story) -> str:
        """A story's own language where it is not the station's, else empty."""
        station = self.published.newsroom.station.language
        return story.language if story.language.lower() != station.lower() else ""

    def counties(self, keys: tuple[str, ...]) -> tuple[Ref, ...]:
        """Links to counties, in the station's order."""
        if keys not in self._links_to:
            ordered = sorted(keys, key=self._county_order.index)
            self._links_to[keys] = tuple(self.county_refs[key] for key in ordered)
        return self._links_to[keys]

    def from_county(self, story: Story) -> Ref | None:
        """The county that a story is from: of its own the one its town lies in, else the first that was written."""
        lying = (key for key in story.counties if (key, story.town) in self._towns)
        key = next(lying, None) or next(iter(story.counties), None)
        return self.county_refs[key] if key is not None else None

    def county_rank(self, key: str) -> int:
        return self._county_order.index(key)

    def postal_codes(self, county: str, town: str) -> tuple[str, ...]:
        return self._postal.get((county, town), ())

    def story_line(self, each: PublishedStory) -> StoryLine:
        story = each.story
        if story.id not in self._lines:
            self._lines[story.id] = StoryLine(
                self.story_ref(story),
                story.aired.day,
                story.town,
                self.counties(story.counties),
                story.summary,
            )
        return self._lines[story.id]

    def corrections(self, story: Story) -> tuple[CorrectionView, ...]:
        """The corrections whose day has come, newest first."""
        return tuple(
            CorrectionView(each.date, each.kind, each.text, self.story_ref(story))
            for each in reversed(story.corrections)
            if self.until(has_come(day_start(each.date, self.zone), self.as_of))
        )

    # --- places ---

    def place(
        self,
        place: Place,
        horizon: datetime | None,
        begins: datetime | None = None,
        ask_note: str = "",
        language: str = "",
    ) -> PlaceView:
        """A place as a page may show it. Closed and special days are told when they lie ahead, not before
        `begins` and before `horizon`: at no other time would anybody go. `ask_note` and `language` are those of the view."""
        position = place.position
        is_towns = position is None
        if position is None:
            position = self._towns.get((place.county, place.town))
        if place.withheld:
            position, is_towns = None, False
        return PlaceView(
            name=place.name,
            town=place.town,
            county=self.county_refs[place.county],
            page=addresses.place(place.id) if place.id else "",
            street="" if place.withheld else place.street,
            postal_code="" if place.withheld else place.postal_code,
            latitude=position.latitude if position is not None else None,
            longitude=position.longitude if position is not None else None,
            position_is_towns=is_towns and position is not None,
            withheld=place.withheld,
            hours=place.hours,
            closed=self._days_ahead(place.closed, horizon, begins),
            special_hours=self._special_ahead(place.special_hours, place.closed, horizon, begins),
            step_free=place.step_free,
            drive_up=place.drive_up,
            transit=place.transit,
            parking=place.parking,
            note=place.note,
            phone=place.phone,
            web=place.web,
            ask_note=ask_note,
            language=language,
        )

    def _is_ahead(self, day: date, horizon: datetime | None, begins: datetime | None) -> bool:
        if horizon is not None and day_start(day, self.zone) >= horizon:
            return False
        end = day_end(day, self.zone)
        if begins is not None and end <= begins:
            return False
        return self.until(Timed(self.as_of < end, next_after(self.as_of, (end,))))

    def _days_ahead(
        self, days: tuple[date, ...], horizon: datetime | None, begins: datetime | None
    ) -> tuple[date, ...]:
        return tuple(day for day in days if self._is_ahead(day, horizon, begins))

    def _special_ahead(
        self,
        days: tuple[DayHours, ...],
        closed: tuple[date, ...],
        horizon: datetime | None,
        begins: datetime | None,
    ) -> tuple[DayHours, ...]:
        return tuple(
            each for each in days if each.day not in closed and self._is_ahead(each.day, horizon, begins)
        )

    def drop_off(self, each: PublishedAsk, place: PublishedPlace) -> DropOffView:
        last_chance = place.times.last_chance
        assert last_chance is not None  # only live places come here
        entry = place.entry
        opens = entry.from_
        return DropOffView(
            place=self.place(
                entry.place, last_chance, begins_at(each, place), entry.note, self.note_language(each, entry)
            ),
            from_=start_moment(opens, self.zone) if place.state.opens_later and opens is not None else None,
            last_chance=end_moment(last_chance, self.zone),
            before_close=last_chance < each.times.ends,
        )

    def note_language(self, each: PublishedAsk, entry: DropOff) -> str:
        """The language of what an ask's story says of one of its places: `PlaceView.language`."""
        return self._language_of(each.story) if entry.note or not entry.place.id else ""

    # --- asks ---

    def ask(self, each: PublishedAsk) -> AskView:
        """An ask in full; only the line of its end when it is over."""
        ask, story = each.ask, each.story
        base = AskView(
            anchor=addresses.anchor(ask.key),
            story=self.story_ref(story),
            kind=ask.kind,
            title=ask.title,
            standing=_standing(each),
        )
        if not each.is_live:
            return replace(base, ending=self._ending(each), next_step=self._next_step(story))
        live = each.live_places
        stopped = tuple(
            (
                place.entry.place.name,
                place.entry.place.town,
                self._stop_line(place.entry.stopped, place.times.stops),
            )
            for place in each.places
            if place.state.stopped and place.entry.stopped is not None
        )
        coming = each.standing is Word.COMING
        return replace(
            base,
            opens=start_moment(ask.starts, self.zone) if coming and ask.starts is not None else None,
            closes=self._closes(each),
            check_again_by=self._check_again_by(each),
            accepts=ask.accepts,
            not_accepted=ask.not_accepted,
            helps=self.counties(ask.helps),
            goal=_goal(each),
            contact=_contact(ask.contact),
            places=tuple(self.drop_off(each, place) for place in live),
            stopped_places=stopped,
            no_places_left=each.no_places_left,
            dates=self._dates(each),
            hours=ask.hours,
            closed=self._days_ahead(ask.closed, each.times.ends, each.times.opens),
            quieter=ask.quieter,
            minutes=ask.minutes,
            who_for=ask.who_for,
            cost=ask.cost,
            bring=ask.bring,
            payee=ask.payee,
            goes_to=ask.goes_to,
            registration=ask.registration,
            if_too_much=ask.if_too_much,
            calendar=addresses.ask_calendar(story.id, ask.key),
        )

    def _closes(self, each: PublishedAsk) -> Moment | None:
        if each.times.lapses and not each.times.stopped_early:
            return None
        return end_moment(each.times.ends, self.zone)

    def _check_again_by(self, each: PublishedAsk) -> Moment | None:
        if not each.times.lapses or each.times.stopped_early:
            return None
        return end_moment(each.times.closes, self.zone)

    def _ending(self, each: PublishedAsk) -> Ending:
        ask, times = each.ask, each.times
        if each.standing is Word.LAPSED:
            contact = ask.contact
            return Ending(
                end_moment(times.closes, self.zone),
                "lapsed",
                organizer=contact.name if contact is not None else "",
                phone=contact.phone if contact is not None else "",
            )
        if times.stopped_early:
            return self._stop_line(ask.stopped, times.stops)
        return Ending(end_moment(times.ends, self.zone), "ended")

    def _stop_line(self, stop: Stop | None, stops: datetime | None) -> Ending:
        assert stop is not None and stops is not None  # only things whose stop has taken effect come here
        when: When | None = stop.when
        # An event that its stop leaves nothing of is off before the day that is written.
        come = when is not None and self.until(has_come(start_of(when, self.zone), self.as_of))
        said = start_moment(when, self.zone) if when is not None and come else None
        return Ending(said, "stopped", stop.say, stop.instead)

    def _next_step(self, story: Story) -> Ref | None:
        follow_ups = self.follow_ups.get(story.id, ())
        if follow_ups:
            return self.story_ref(follow_ups[0].story)
        return self.from_county(story)

    def _dates(self, each: PublishedAsk) -> tuple[DatesView, ...]:
        """The dates of an event that are not over, as far as its stop leaves them."""
        length = timedelta(minutes=each.ask.minutes or 0)
        found: list[DatesView] = []
        for span in dates_left(each.ask, each.times, self.zone):
            if each.ask.kind is Kind.TUNE_IN:
                end = start_of(span.first, self.zone) + length
            else:
                end = span_end(span, self.zone)
            end = min(end, each.times.ends)
            if self.until(Timed(self.as_of < end, next_after(self.as_of, (end,)))):
                first = start_moment(span.first, self.zone)
                last = (
                    end_moment(end_of(span.last, self.zone), self.zone) if span.last != span.first else first
                )
                found.append(DatesView(first, last, moment(end, self.zone).iso))
        return tuple(found)

    def ask_line(self, each: PublishedAsk) -> AskLine:
        """A live ask as a row."""
        ask = each.ask
        live = each.live_places
        last = latest(*(place.times.last_chance for place in live))
        first_gone = earliest(*(place.times.last_chance for place in live))
        coming = each.standing is Word.COMING
        check_again_by = self._check_again_by(each)
        return AskLine(
            kind=ask.kind,
            title=ask.title,
            standing=_standing(each),
            ask=Ref(
                each.story.headline, addresses.ask(each.story.id, ask.key), self._language_of(each.story)
            ),
            opens=start_moment(ask.starts, self.zone) if coming and ask.starts is not None else None,
            closes=self._closes(each),
            check_again_by=check_again_by,
            where=tuple(dict.fromkeys(place.entry.place.town for place in live)),
            places=len(live),
            counties=self.counties(each.counties),
            dates=self._dates(each),
            hours=ask.hours,
            last_place_closes=end_moment(last, self.zone)
            if last is not None and last < each.times.ends
            else None,
            no_places_left=each.no_places_left,
            phone=ask.contact.phone if ask.contact is not None and each.is_help else "",
            contact=_contact(ask.contact) if check_again_by is not None else None,
            places_change=moment(first_gone, self.zone).iso if first_gone is not None else "",
            closed=self._days_ahead(ask.closed, each.times.ends, each.times.opens) if ask.dates else (),
        )

    def take(
        self, each: PublishedAsk, place: PublishedPlace, door: Place | None = None
    ) -> tuple[AskLine, Moment]:
        """A live ask as a row under one of its places, with that place's last chance; under the place as its own file
        has it (`door`), with the terms it takes it on."""
        last_chance = place.times.last_chance
        assert last_chance is not None  # only live places come here
        line = self.ask_line(each)
        if place.entry.own_hours:
            line = replace(line, hours=place.entry.place.hours)
        if door is not None:
            line = replace(line, terms=self._terms(each, place, door))
        return line, end_moment(last_chance, self.zone)

    def _terms(self, each: PublishedAsk, place: PublishedPlace, door: Place) -> TakeTerms | None:
        entry = place.entry
        here = entry.place
        # An event has times of its own, which its row shows anyway.
        is_doors = each.ask.kind is Kind.GO or (
            (here.hours, here.closed, here.special_hours) == (door.hours, door.closed, door.special_hours)
        )
        if is_doors and not entry.note:
            return None
        seen = self.place(here, place.times.last_chance, begins_at(each, place))
        return TakeTerms(
            hours=None if is_doors else here.hours,
            closed=() if is_doors else seen.closed,
            special_hours=() if is_doors else seen.special_hours,
            note=entry.note,
            language=self.note_language(each, entry),
        )

    # --- listings ---

    def listing_line(self, each: PublishedEntry) -> ListingLine:
        entry = each.entry
        line = ListingLine(
            what=entry.what,
            town=entry.town,
            county=self.county_refs[entry.county],
            day=entry.day,
            starts=moment(each.starts, self.zone) if each.starts is not None else None,
            ends=end_moment(each.ends, self.zone),
            place=entry.place,
            note=entry.note,
            stopped=None,
            story=self.story_ref(each.story),
        )
        if not each.stopped or entry.stopped is None:
            return line
        when = entry.stopped.when
        said = start_moment(when, self.zone) if when is not None else None
        ending = Ending(said, "stopped", entry.stopped.say, entry.stopped.instead)
        return replace(line, starts=None, place="", note="", stopped=ending)


def _standing(each: PublishedAsk) -> Standing:
    """An ask's standing as it is shown: when no place takes any more, nobody is to hurry to one."""
    closing = each.standing is Word.LAST_DAYS and each.no_places_left
    return Standing((Word.OPEN if closing else each.standing).value)


def begins_at(each: PublishedAsk, place: PublishedPlace) -> datetime | None:
    """When an ask begins at one of its places (UTC); None when it is open from the beginning."""
    return latest(place.times.opens, each.times.opens)


def first_beginning(takes: Iterable[tuple[PublishedAsk, PublishedPlace]]) -> datetime | None:
    """When the first of several asks begins at its place (UTC); None when one is open from the beginning."""
    found = [begins_at(ask, place) for ask, place in takes]
    return None if None in found else earliest(*found)


def story_order(each: PublishedStory) -> tuple[int, int, str]:
    """Newest air date first, then by release and id."""
    return (-each.story.aired.day.toordinal(), -int(each.release.timestamp()), each.story.id)


def _goal(each: PublishedAsk) -> GoalView | None:
    goal = each.ask.goal
    if goal is None:
        return None
    return GoalView(goal.number, goal.unit, goal.so_far, goal.last_time, goal.counted_on)


def _contact(contact: Contact | None) -> ContactView | None:
    if contact is None:
        return None
    return ContactView(
        contact.name,
        contact.phone,
        contact.email,
        contact.web,
        contact.pick_up,
        contact.ship_to,
        contact.languages,
    )
