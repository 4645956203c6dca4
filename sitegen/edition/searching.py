"""What the archive's search looks in: of each published story its words, where and when it was told, and its live asks.

Nothing in it ends with the asks but the asks themselves. A phone number, an address of any kind and a street that a story's
asks name are taken out of its free text here, live or over: so an ask that ends leaves nothing behind, and changes little.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from datetime import date
from functools import lru_cache
from typing import TypeAlias

from msgspec import Struct, msgpack

from sitegen.edition import addresses
from sitegen.edition.models import File, Ref, SearchView
from sitegen.edition.outlets import AskTiming, timing
from sitegen.edition.published import Published, PublishedAsk, PublishedStory
from sitegen.edition.views import Views
from sitegen.newsroom.galley import text_of
from sitegen.newsroom.keeping import Drawer, NoDrawer
from sitegen.newsroom.records import Kind, Place, Story


class SearchAsk(Struct, frozen=True):
    """A live ask as a result names it."""

    kind: Kind
    title: str
    anchor: str
    """Fragment id on its story's page."""
    timing: AskTiming


class SearchStory(Struct, frozen=True):
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
    record: bytes
    """A digest of the story's record, which its texts come from: an archive's worth of texts is never held."""
    asks: tuple[SearchAsk, ...]
    """Of either side, as the newsroom ordered them."""


class SearchTexts(Struct, frozen=True):
    """A story's words, without what ends with its asks."""

    heading: str
    """The headline's words."""
    summary: str
    body: str
    """Plain text."""


class SearchFile(File, frozen=True, dict=True):
    """Everything the search looks in. It is published at its address as a directory of files whose names carry digests."""

    language: str
    """BCP 47, the station's."""
    counties: tuple[Ref, ...]
    """Those of the station, then that of stories from beyond."""
    stories: tuple[SearchStory, ...]
    """In id order."""

    def with_texts(self, texts: Callable[[str], SearchTexts]) -> SearchFile:
        """The same, which gives a story's texts by its id. They are no part of the model: digests stand for them."""
        self.__dict__["texts"] = texts
        return self

    @property
    def texts(self) -> Callable[[str], SearchTexts]:
        texts: Callable[[str], SearchTexts] = self.__dict__["texts"]
        return texts


def search_data(
    published: Published, views: Views, drawer: Drawer, anew: Callable[[str], Story] | None = None
) -> SearchFile | None:
    """The archive as of the edition; None while it is empty. What `drawer` has is not worked out again. It gets what is worked out
    of texts, too, unless `anew` gives the records for them."""
    if not published.stories:
        return None
    ranks = {key: rank for rank, key in enumerate(views.county_refs)}

    def texts(name: str) -> SearchTexts:
        return _told(published.stories[name].story, drawer) if anew is None else _told(anew(name), NoDrawer())

    return SearchFile(
        address=addresses.SEARCH_DATA,
        language=published.newsroom.station.language,
        counties=tuple(views.county_refs.values()),
        stories=tuple(_story(each, views, ranks, drawer) for each in published.stories.values()),
    ).with_texts(texts)


def search_view(published: Published, views: Views) -> SearchView | None:
    """The search as the archive's page shows it; None while the archive is empty."""
    if not published.stories:
        return None
    return SearchView(addresses.SEARCH_DATA, tuple(views.county_refs.values()))


def _story(each: PublishedStory, views: Views, ranks: dict[str, int], drawer: Drawer) -> SearchStory:
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
        record=drawer.mark(story),
        asks=tuple(_ask(ask, views) for ask in live),
    )


TOLD = "told"
_TOLD = msgpack.Decoder(tuple[str, str, str])


def _told(story: Story, drawer: Drawer) -> SearchTexts:
    kept = drawer.take(TOLD, story)
    if kept is None:
        kept = words_of(story)
        drawer.put(TOLD, story, kept)
    return SearchTexts(*_TOLD.decode(kept))


def words_of(story: Story) -> bytes:
    """What a drawer keeps of a story under `TOLD`."""
    return msgpack.encode(
        (
            without_details(story.headline, story),
            without_details(story.summary, story),
            without_details(text_of(story.galley), story),
        )
    )


def _ask(each: PublishedAsk, views: Views) -> SearchAsk:
    line = views.ask_line(each)
    return SearchAsk(
        kind=line.kind,
        title=line.title,
        anchor=addresses.anchor(each.ask.key),
        timing=timing(line),
    )


# --- what ends with an ask ---------------------------------------------------------------------

_ADDRESS = re.compile(
    r"(?:https?://|www\.)\S+|\S+@\S+|\b[\w-]+(?:\.[\w-]+)*\.(?:com|org|net|edu|gov|info|tv)\b\S*", re.I
)
"""Web and mail addresses; hosts without `www.` by the endings that are usual on air (common practice, no source)."""
PHONE = re.compile(r"\d(?:[\s().\-–/\u00a0\u2010\u2011]{0,3}\d){6,}")
"""Seven digits or more, as phone numbers are written."""


_ENDING = re.compile(r"\.(?:com|org|net|edu|gov|info|tv)\b")


def _may_have_address(low: str) -> bool:
    """Quick to find out; `_ADDRESS` tries every word. `low`: the text in small letters."""
    return "@" in low or "//" in low or "www." in low or _ENDING.search(low) is not None


def without_details(text: str, story: Story) -> str:
    """The text without what its story's asks give to reach or to go to: numbers, addresses, streets."""
    plain = PHONE.sub(" ", _ADDRESS.sub(" ", text) if _may_have_address(_low(text)) else text)
    low = _low(plain)
    for look, details in _details(story):
        if look.search(low):
            plain = details.sub(" ", plain)
    return plain


_Sought: TypeAlias = tuple[re.Pattern[str], re.Pattern[str]]
"""What is in every text in small letters (`_low`) in which the second pattern finds anything, and quick to look for; and that pattern."""


def _details(story: Story) -> Iterator[_Sought]:
    for ask in story.asks:
        contact = ask.contact
        if contact is not None:
            for words in (contact.phone, contact.email, contact.web, contact.ship_to):
                if words:
                    yield _literally(words)
        for entry in ask.drop_off:
            yield from _of_place(entry.place)


def _of_place(place: Place) -> Iterator[_Sought]:
    for words in (place.phone, place.web):
        if words:
            yield _literally(words)
    if place.street:
        yield _street(place.street)


@lru_cache(maxsize=4096)
def _literally(words: str) -> _Sought:
    """The words in any case, whatever stands between them."""
    parts = re.findall(r"\w+", words)
    said = r"\W+".join(map(re.escape, parts)) if parts else r"(?!)"
    return _look(said), re.compile(rf"(?<!\w){said}(?!\w)", re.I)


@lru_cache(maxsize=4096)
def _street(street: str) -> _Sought:
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
    return _look(name), re.compile(rf"(?<!\w)(?:\d+\w?\W+)?{name}(?:\W+\d+\w?)?(?!\w)", re.I)


def _look(said: str) -> re.Pattern[str]:
    """The pattern for small letters; one that is in every text where it has letters beyond ASCII."""
    return re.compile(_CAPITAL.sub(lambda letter: letter[0].lower(), said) if said.isascii() else "")


_CAPITAL = re.compile(r"(?<!\\)[A-Z]")
"""Behind a backslash a letter is none."""


def _low(text: str) -> str:
    """The text in small letters, with plain ones for the few beyond ASCII that a pattern in any case takes for them."""
    low = text.lower()
    return low if low.isascii() else low.replace("i\u0307", "i").replace("\u0131", "i").replace("\u017f", "s")
