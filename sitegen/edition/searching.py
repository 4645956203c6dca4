"""What the archive's search looks in: of each published story its words, where and when it was told, and its live asks.

Nothing in it ends with the asks but the asks themselves. A phone number, an address of any kind and a street that a story's
asks name are taken out of its free text here, live or over: so an ask that ends leaves nothing behind, and changes little.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from sitegen.edition import addresses
from sitegen.edition.models import File, Moment, Ref, SearchView
from sitegen.edition.published import Published, PublishedAsk, PublishedStory
from sitegen.edition.views import Views
from sitegen.newsroom.body import text_of
from sitegen.newsroom.records import Kind, Place, Story


@dataclass(frozen=True, slots=True)
class SearchAsk:
    """A live ask as a result names it."""

    kind: Kind
    title: str
    anchor: str
    """Fragment id on its story's page."""
    opens: Moment | None
    """Set while coming."""
    closes: Moment | None
    check_again_by: Moment | None


@dataclass(frozen=True, slots=True)
class SearchStory:
    """A published story as the search knows it."""

    id: str
    headline: str
    language: str
    """BCP 47; empty for the station's."""
    aired: date
    town: str
    counties: tuple[int, ...]
    """Indexes in the file's counties."""
    named: tuple[str, ...]
    """Names it is known by besides its headline: town, counties, topics, reporter, titles of live asks."""
    heading: str
    """The headline's words."""
    summary: str
    body: str
    """Plain text."""
    asks: tuple[SearchAsk, ...]
    """Of either side, as the newsroom ordered them."""


@dataclass(frozen=True, slots=True)
class SearchFile(File):
    """Everything the search looks in. It is published at its address as a directory of files whose names carry digests."""

    language: str
    """BCP 47, the station's."""
    counties: tuple[Ref, ...]
    """Those of the station, then that of stories from beyond."""
    stories: tuple[SearchStory, ...]
    """In id order."""


def search_data(published: Published, views: Views) -> SearchFile | None:
    """The archive as of the edition; None while it is empty."""
    if not published.stories:
        return None
    ranks = {key: rank for rank, key in enumerate(views.county_refs)}
    return SearchFile(
        address=addresses.SEARCH_DATA,
        language=published.newsroom.station.language,
        counties=tuple(views.county_refs.values()),
        stories=tuple(_story(each, views, ranks) for each in published.stories.values()),
    )


def search_view(published: Published, views: Views) -> SearchView | None:
    """The search as the archive's page shows it; None while the archive is empty."""
    if not published.stories:
        return None
    return SearchView(addresses.SEARCH_DATA, tuple(views.county_refs.values()))


def _story(each: PublishedStory, views: Views, ranks: dict[str, int]) -> SearchStory:
    story = each.story
    live = [ask for ask in each.asks if ask.is_live]
    ref = views.story_ref(story)
    counties = views.counties(story.counties)
    return SearchStory(
        id=story.id,
        headline=story.headline,
        language=ref.language,
        aired=story.aired.day,
        town=story.town,
        counties=tuple(ranks[key] for key in story.counties if key in ranks),
        named=tuple(
            filter(
                None,
                (
                    story.town,
                    *(county.label for county in counties),
                    *story.topics,
                    story.reporter,
                    *(ask.ask.title for ask in live),
                ),
            )
        ),
        heading=without_details(story.headline, story),
        summary=without_details(story.summary, story),
        body=without_details(text_of(story.body), story),
        asks=tuple(_ask(ask, views) for ask in live),
    )


def _ask(each: PublishedAsk, views: Views) -> SearchAsk:
    line = views.ask_line(each)
    return SearchAsk(
        kind=line.kind,
        title=line.title,
        anchor=addresses.anchor(each.ask.key),
        opens=line.opens,
        closes=line.closes,
        check_again_by=line.check_again_by,
    )


# --- what ends with an ask ---------------------------------------------------------------------

_ADDRESS = re.compile(
    r"(?:https?://|www\.)\S+|\S+@\S+|\b[\w-]+(?:\.[\w-]+)*\.(?:com|org|net|edu|gov|info|tv)\b\S*", re.I
)
"""Web and mail addresses; hosts without `www.` by the endings that are usual on air (common practice, no source)."""
_NUMBER = re.compile(r"\d(?:[\s().\-–/\u00a0\u2010\u2011]{0,3}\d){6,}")
"""Seven digits or more, as phone numbers are written."""


def without_details(text: str, story: Story) -> str:
    """The text without what its story's asks give to reach or to go to: numbers, addresses, streets."""
    plain = _NUMBER.sub(" ", _ADDRESS.sub(" ", text))
    for details in _details(story):
        plain = details.sub(" ", plain)
    return plain


def _details(story: Story) -> Iterator[re.Pattern[str]]:
    for ask in story.asks:
        contact = ask.contact
        if contact is not None:
            for words in (contact.phone, contact.email, contact.web, contact.ship_to):
                if words:
                    yield _literally(words)
        for entry in ask.drop_off:
            yield from _of_place(entry.place)


def _of_place(place: Place) -> Iterator[re.Pattern[str]]:
    for words in (place.phone, place.web):
        if words:
            yield _literally(words)
    if place.street:
        yield _street(place.street)


@lru_cache(maxsize=4096)
def _literally(words: str) -> re.Pattern[str]:
    """The words in any case, whatever stands between them."""
    parts = re.findall(r"\w+", words)
    return re.compile(r"(?<!\w)" + r"\W+".join(map(re.escape, parts)) + r"(?!\w)" if parts else r"(?!)", re.I)


@lru_cache(maxsize=4096)
def _street(street: str) -> re.Pattern[str]:
    """A street with its number or without, its last word perhaps shortened: `4 Hill Road`, `Hill Rd.`"""
    parts = re.findall(r"\w+", street)
    named = [part for part in parts if not part[0].isdigit()]
    if not named:
        return _literally(street)
    *stem, kind = map(re.escape, named)
    if stem:
        # Common practice, no source: short forms begin as the word does, and have at most four letters.
        stem.append(rf"(?:{kind}|{kind[0]}\w{{0,3}})")
    else:
        stem = [kind]
    name = r"\W+".join(stem)
    return re.compile(rf"(?<!\w)(?:\d+\w?\W+)?{name}(?:\W+\d+\w?)?(?!\w)", re.I)
