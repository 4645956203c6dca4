"""The words of the newsroom that a page keeps for good, each with its place in the files.

Link targets are blanked in `words`, so that an address never reads as prose; positions are those of the text as
written.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from sitegen.newsroom.records import Ask, Episode, Origin, Spot, Story

_ADDRESS = re.compile(
    r"\]\([^()\s]*(?:\([^()\s]*\)[^()\s]*)*\)|https?://[^\s<>]+|[\w.+-]+@[\w-]+(?:\.[\w-]+)+"
)
_QUOTED = re.compile(r"“[^”]*(?:”|\Z)|«[^»]*(?:»|\Z)|\"[^\"]*(?:\"|\Z)")
_PARAGRAPH = re.compile(r"\n[ \t>]*\n")


@dataclass(frozen=True, slots=True)
class Text:
    """One text, where it begins, and what to call it."""

    name: str
    """As a message begins with it: `The summary`."""
    text: str
    spot: Spot
    body: bool = False
    """Positions inside it can be told: it stands in the file as it is."""

    @property
    def words(self) -> str:
        """The text with link targets, web and mail addresses blanked, as long as the text itself."""
        if "/" not in self.text and "@" not in self.text and "](" not in self.text:
            return self.text
        return _ADDRESS.sub(lambda match: " " * len(match.group()), self.text)

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


def story_texts(story: Story) -> Iterator[Text]:
    """Headline, summary, the words for the photo, and the body: what stays when the asks are over."""
    yield Text("The headline", story.headline, story.origin.of("headline"))
    if story.summary:
        yield Text("The summary", story.summary, story.origin.of("summary"))
    if story.photo is not None and story.photo.alt:
        yield Text("The text for the photo", story.photo.alt, story.photo.origin.of("alt"))
    if story.body:
        yield Text("The story", story.body, Spot(story.origin.spot.path, story.body_line, 1), body=True)


def episode_texts(episode: Episode) -> Iterator[Text]:
    """Title and body."""
    if episode.title:
        yield Text("The title", episode.title, episode.origin.of("title"))
    if episode.body:
        yield Text("The text", episode.body, Spot(episode.origin.spot.path, episode.body_line, 1), body=True)


def ask_texts(ask: Ask) -> Iterator[Text]:
    """What an ask says in free words, as long as it stands."""
    origin = ask.origin
    yield Text("The ask's title", ask.title, origin.of("title"))
    for key, text in (
        ("who_for", ask.who_for),
        ("cost", ask.cost),
        ("bring", ask.bring),
        ("if_too_much", ask.if_too_much),
    ):
        yield from _written(f"'{key}'", text, origin, key)
    for key, texts in (("accepts", ask.accepts), ("not_accepted", ask.not_accepted)):
        for text in texts:
            yield from _written(f"'{key}'", text, origin, key)
    if ask.contact is not None:
        yield from _written("'pick_up'", ask.contact.pick_up, origin, "contact")
    if ask.stopped is not None:
        yield from _written("'say' of the stop", ask.stopped.say, origin, "stopped")
        yield from _written("'instead' of the stop", ask.stopped.instead, origin, "stopped")
    for entry in ask.drop_off:
        note = entry.origin if entry.origin.keys else entry.place.origin
        yield from _written(f"The note for {entry.place.name}", entry.place.note, note, "note")
        if entry.stopped is not None:
            yield from _written("'say' of the stop", entry.stopped.say, entry.origin, "stopped")
            yield from _written("'instead' of the stop", entry.stopped.instead, entry.origin, "stopped")


def _written(name: str, text: str, origin: Origin, key: str) -> Iterator[Text]:
    if text:
        yield Text(name, text, origin.of(key))
