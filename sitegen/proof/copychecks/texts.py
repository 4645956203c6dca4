"""The words of the newsroom that a page keeps for good, each with its place in the files.

Link targets are blanked in `words`, so that an address never reads as prose; positions are those of the text as
written.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import cached_property, partial

from sitegen.newsroom.records import Ask, Episode, Origin, Spot, StationPage, Story
from sitegen.proof.copychecks.dates import DateMention, find_dates

_WEB = r"\]\([^()\s]*(?:\([^()\s]*\)[^()\s]*)*\)|https?://[^\s<>]+"
_WEB_ADDRESS = re.compile(_WEB)
_ADDRESS = re.compile(rf"{_WEB}|[\w.+-]+@[\w-]+(?:\.[\w-]+)+")
"""Twenty times slower, for it tries every word: only for texts with a mail address."""
_QUOTED = re.compile(r"“[^”]*(?:”|\Z)|«[^»]*(?:»|\Z)|\"[^\"]*(?:\"|\Z)")
_PARAGRAPH = re.compile(r"\n[ \t>]*\n")


@dataclass(frozen=True)
class Text:
    """One text, where it begins, and what to call it.

    Not slotted: what several checks look for in it is worked out once and kept.
    """

    name: str
    """As a message begins with it: `The summary`."""
    text: str
    spot: Spot
    aired: date
    """When it was said: what `today` in it means."""
    language: str
    """BCP 47."""
    body: bool = False
    """Positions inside it can be told: it stands in the file as it is."""

    @cached_property
    def words(self) -> str:
        """The text with link targets, web and mail addresses blanked, as long as the text itself."""
        if "/" not in self.text and "@" not in self.text:
            return self.text
        pattern = _ADDRESS if "@" in self.text else _WEB_ADDRESS
        return pattern.sub(lambda match: " " * len(match.group()), self.text)

    @cached_property
    def dates(self) -> tuple[DateMention, ...]:
        """The dates it mentions. In the English of the United States the month of `1/2` comes first (common
        practice, no source)."""
        return tuple(find_dates(self.words, day_first=self.language.lower() not in ("en", "en-us")))

    def at(self, offset: int) -> Spot:
        """The spot of a character of the text; of the whole text in front matter, where quoting and folding
        hide how it was written."""
        if not self.body:
            return self.spot
        line = self.text.count("\n", 0, offset)
        return Spot(self.spot.path, self.spot.line + line, offset - self.text.rfind("\n", 0, offset))

    def quotations(self) -> tuple[tuple[int, int], ...]:
        """(start, end) of everything between quotation marks; one left open runs to its paragraph's end."""
        if not any(mark in self.text for mark in '"“«'):
            return ()
        found: list[tuple[int, int]] = []
        start = 0
        for end in [*(match.start() for match in _PARAGRAPH.finditer(self.text)), len(self.text)]:
            found += [
                (start + match.start(), start + match.end())
                for match in _QUOTED.finditer(self.text[start:end])
            ]
            start = end
        return tuple(found)


def story_texts(story: Story, language: str) -> Iterator[Text]:
    """Headline, summary, the words for the photo, and the body: what stays when the asks are over.

    `language`: the station's, for stories that do not say theirs.
    """
    make = partial(Text, aired=story.aired.day, language=story.language or language)
    yield make("The headline", story.headline, story.origin.of("headline"))
    if story.summary:
        yield make("The summary", story.summary, story.origin.of("summary"))
    if story.photo is not None and story.photo.alt:
        yield make("The text for the photo", story.photo.alt, story.photo.origin.of("alt"))
    if story.body:
        yield make("The story", story.body, Spot(story.origin.spot.path, story.body_line, 1), body=True)


def episode_texts(episode: Episode, language: str) -> Iterator[Text]:
    """Title and body. `language`: the station's."""
    make = partial(Text, aired=episode.aired.day, language=language)
    if episode.title:
        yield make("The title", episode.title, episode.origin.of("title"))
    if episode.body:
        yield make("The text", episode.body, Spot(episode.origin.spot.path, episode.body_line, 1), body=True)


def station_page_texts(page: StationPage, day: date, language: str) -> Iterator[Text]:
    """Title, summary and body. A page of the station has no air date: `day` is that of the moment. `language`: the station's."""
    make = partial(Text, aired=day, language=page.language or language)
    yield make("The title", page.title, page.origin.of("title"))
    if page.summary:
        yield make("The summary", page.summary, page.origin.of("summary"))
    if page.body:
        yield make("The text", page.body, Spot(page.origin.spot.path, page.body_line, 1), body=True)


def ask_texts(ask: Ask, story: Story, language: str) -> Iterator[Text]:
    """What an ask of a story says in free words, as long as it stands. `language`: the station's."""
    for name, text, origin, key in _ask_words(ask):
        if text:
            yield Text(name, text, origin.of(key), story.aired.day, story.language or language)


def _ask_words(ask: Ask) -> Iterator[tuple[str, str, Origin, str]]:
    origin = ask.origin
    yield "The ask's title", ask.title, origin, "title"
    yield "'who_for'", ask.who_for, origin, "who_for"
    yield "'cost'", ask.cost, origin, "cost"
    yield "'bring'", ask.bring, origin, "bring"
    yield "'if_too_much'", ask.if_too_much, origin, "if_too_much"
    for key, texts in (("accepts", ask.accepts), ("not_accepted", ask.not_accepted)):
        for text in texts:
            yield f"'{key}'", text, origin, key
    if ask.contact is not None:
        yield "'pick_up'", ask.contact.pick_up, origin, "contact"
    if ask.stopped is not None:
        yield "'say' of the stop", ask.stopped.say, origin, "stopped"
        yield "'instead' of the stop", ask.stopped.instead, origin, "stopped"
    for entry in ask.drop_off:
        yield f"The note for {entry.place.name}", entry.note, entry.origin, "note"
        yield f"The note for {entry.place.name}", entry.place.note, entry.place.origin, "note"
        if entry.stopped is not None:
            yield "'say' of the stop", entry.stopped.say, entry.origin, "stopped"
            yield "'instead' of the stop", entry.stopped.instead, entry.origin, "stopped"
