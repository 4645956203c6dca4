"""The models of single pages: stories, episodes, places, notices, short addresses and station pages."""

from __future__ import annotations

from urllib.parse import urlsplit

from sitegen.clock.stories import has_come, lately_aired
from sitegen.clock.timed import latest
from sitegen.edition import addresses
from sitegen.edition.maps import Maps
from sitegen.edition.models import (
    Body,
    CorrectionView,
    EpisodePage,
    Frame,
    LeadPage,
    NotFoundPage,
    Page,
    PlacePage,
    Ref,
    RundownLine,
    ShareView,
    StoryPage,
    TextPage,
    WithdrawnPage,
)
from sitegen.edition.moments import start_moment
from sitegen.edition.paging import ROWS, chunks, pagings
from sitegen.edition.pictures import Gallery
from sitegen.edition.published import Published, PublishedAsk, PublishedPlace, PublishedStory
from sitegen.edition.resting import StoryAround
from sitegen.edition.routes import Routes
from sitegen.edition.views import Views, first_beginning
from sitegen.newsroom.records import Episode, Place, StationPage, Story
from sitegen.newsroom.slugs import slug
from sitegen.newsroom.times import start_of

CORRECTIONS = "corrections"
"""The station page that also lists every correction."""


class Singles:
    """Builds the single pages of one edition."""

    def __init__(
        self, published: Published, views: Views, frame: Frame, gallery: Gallery, routes: Routes, maps: Maps
    ) -> None:
        self.published = published
        self.views = views
        self.frame = frame
        self.gallery = gallery
        self.routes = routes
        self.maps = maps
        self._airing = {episode.id: (rank, episode) for rank, episode in enumerate(published.episodes)}
        """Published episodes by id, with their rank from the newest."""

    def around(self, each: PublishedStory) -> StoryAround:
        """What is around a story on its page."""
        story = each.story
        follows = self.published.stories.get(story.follows)
        airing = sorted(
            (self._airing[name] for name in dict.fromkeys(story.episodes) if name in self._airing),
            key=lambda pair: pair[0],
        )
        return StoryAround(
            photo=self.gallery.photo(story.photo),
            leads=self.routes.targets(story.links, story.origin.spot.path),
            corrections=self.views.corrections(story),
            follows=self.views.story_ref(follows.story) if follows is not None else None,
            followed_by=tuple(
                self.views.story_ref(later.story) for later in self.views.follow_ups.get(story.id, ())
            ),
            episodes=tuple(
                Ref(episode.title or episode.id, addresses.episode(episode.id)) for _, episode in airing
            ),
            share=self._share(each),
            translations=self.views.translations(story),
            passed_on=self._passed_on(story),
            said_on_air=self._said_on_air(story),
        )

    def story(self, each: PublishedStory, around: StoryAround | None = None) -> StoryPage:
        """A story's page. `around` is what `around` gives, where it was asked for already."""
        around = around or self.around(each)
        story = each.story
        language = story.language or self.published.newsroom.station.language
        video, waits = self.gallery.video(story.video, language)
        live = [ask for ask in each.asks if ask.is_live]
        entries = sorted(each.entries, key=lambda entry: (entry.entry.town, entry.ends, entry.entry.what))
        return StoryPage(
            frame=self.frame,
            address=addresses.story(story.id),
            headline=story.headline,
            summary=story.summary,
            language=language,
            aired=start_moment(story.aired, self.published.zone),
            town=story.town,
            counties=self.views.counties(story.counties),
            reporter=story.reporter,
            topics=tuple(Ref(topic, addresses.topic(slug(topic))) for topic in story.topics),
            sponsored_by=story.sponsored_by,
            photo=around.photo,
            video=video,
            video_waits=waits,
            asks=tuple(self.views.ask(ask) for ask in live if not ask.is_help),
            help=tuple(self.views.ask(ask) for ask in live if ask.is_help),
            ended=tuple(self.views.ask(ask) for ask in each.asks if not ask.is_live),
            had_listing=bool(story.listing),
            listing=tuple(self.views.listing_line(entry) for entry in entries),
            some_ended=some_ended(each),
            body=Body(story.galley, around.leads),
            corrections=around.corrections,
            follows=around.follows,
            followed_by=around.followed_by,
            episodes=around.episodes,
            share=around.share,
            tongue=self.views.tongue(story),
            translations=around.translations,
            passed_on=around.passed_on,
            said_on_air=around.said_on_air,
            from_county=self.views.from_county(story),
        )

    def _passed_on(self, story: Story) -> tuple[tuple[str, Ref], ...]:
        """Its words that another story has by now: each such story once, with the first word."""
        found: dict[str, tuple[str, Ref]] = {}
        for word in dict.fromkeys((story.say_on_air, *story.heard_as)):
            holder = self.routes.leads.get(f"{word}/")
            if word and holder is not None and holder.id != story.id:
                found.setdefault(holder.id, (word, self.views.story_ref(holder)))
        return tuple(found.values())

    def _said_on_air(self, story: Story) -> str:
        address = f"{story.say_on_air}/"
        holder = self.routes.leads.get(address) if story.say_on_air else None
        return address if holder is not None and holder.id == story.id else ""

    def _share(self, each: PublishedStory) -> ShareView | None:
        # What no place takes any more comes last: a picture shows one ask.
        live = sorted(
            (ask for ask in each.asks if ask.is_live), key=lambda ask: (ask.no_places_left, ask.is_help)
        )
        if live:
            return ShareView(self.views.ask_line(live[0]))
        lately = lately_aired(each.story.aired, self.published.as_of, self.published.zone)
        return ShareView(None) if self.published.until(lately) else None

    def withdrawn(self, story: Story) -> WithdrawnPage:
        assert story.withdrawn is not None  # only withdrawn stories come here
        return WithdrawnPage(
            self.frame, addresses.story(story.id), story.withdrawn.date, story.withdrawn.notice
        )

    def episode(self, episode: Episode) -> EpisodePage:
        stories = self.published.stories
        # The recording holds the words of every story it aired: it is shown only while all of them are.
        whole = all(entry.story in stories for entry in episode.rundown)
        video, waits = self.gallery.video(episode.video, self.published.newsroom.station.language, whole)
        offset = episode.video.web_offset if episode.video is not None else 0
        lines = [
            RundownLine(
                self.views.story_line(stories[entry.story]),
                entry.time,
                max(entry.time + offset, 0) if video is not None and entry.time is not None else None,
            )
            for entry in episode.rundown
            if entry.story in stories
        ]
        repeats = tuple(
            start_moment(when, self.published.zone)
            for when in episode.repeats
            if not self.published.until(has_come(start_of(when, self.published.zone), self.published.as_of))
        )
        return EpisodePage(
            frame=self.frame,
            address=addresses.episode(episode.id),
            title=episode.title,
            aired=start_moment(episode.aired, self.published.zone),
            repeats=repeats,
            video=video,
            video_waits=waits,
            some_ended=any(
                some_ended(stories[entry.story]) for entry in episode.rundown if entry.story in stories
            ),
            rundown=tuple(lines),
            body=self.routes.body(episode.galley, episode.links, episode.origin.spot.path),
        )

    def place(self, place: Place, takes: list[tuple[PublishedAsk, PublishedPlace]]) -> PlacePage:
        """A shared place's page. While nothing is wanted there it says where it is not worth going."""
        horizon = latest(*(entry.times.last_chance for _, entry in takes))
        begins = first_beginning(takes)
        view = self.views.place(place, horizon, begins) if takes else None
        ordered = sorted(
            takes, key=lambda pair: (pair[1].times.last_chance or pair[0].times.ends, *pair[0].order)
        )
        return PlacePage(
            frame=self.frame,
            address=addresses.place(place.id),
            name=place.name,
            town=place.town,
            county=self.views.county_refs[place.county],
            place=view,
            takes=tuple(self.views.take(ask, entry, place) for ask, entry in ordered if not ask.is_help),
            help=tuple(self.views.take(ask, entry, place) for ask, entry in ordered if ask.is_help),
            locator=self.maps.locator(place.county, view) if view is not None else None,
        )

    def lead(self, address: str, story: Story) -> LeadPage:
        word = address.rstrip("/")
        said = word in (story.say_on_air, *story.heard_as)
        return LeadPage(
            frame=self.frame,
            address=address,
            story=self.views.story_ref(story),
            said=word if said else "",
            counties=self.views.counties(story.counties),
            share=self._share(self.published.stories[story.id]),
        )

    def text(self, page: StationPage) -> list[Page]:
        """A station page; the one about corrections also lists every published correction, over pages."""
        base = f"{page.id}/"
        corrections: list[CorrectionView] = []
        if page.id == CORRECTIONS:
            for story in self.published.stories.values():
                corrections += self.views.corrections(story.story)
            corrections.sort(key=lambda each: (-each.date.toordinal(), each.story.address))
        runs = chunks(corrections, ROWS)
        body = self.routes.body(page.galley, page.links, page.origin.spot.path)
        return [
            TextPage(
                frame=self.frame,
                address=addresses.part(base, paging.number),
                title=page.title,
                summary=page.summary,
                language=page.language or self.published.newsroom.station.language,
                body=body,
                corrections=run,
                paging=paging,
            )
            for run, paging in zip(runs, pagings(base, len(runs)), strict=True)
        ]

    def not_found(self, words: tuple[Ref, ...]) -> NotFoundPage:
        root = urlsplit(self.published.newsroom.station.address).path or "/"
        return NotFoundPage(self.frame, addresses.NOT_FOUND, root, words)


def some_ended(story: PublishedStory) -> bool:
    """True when anything a viewer could do about a story is over."""
    return story.entries_ended or any(not ask.is_live for ask in story.asks)
