"""What the readers and the copy's checks say of a file that is being written, each beside the field it is about."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path

from sitegen.desk.write.wording import in_form
from sitegen.newsroom.editing import Trail, yaml_part
from sitegen.newsroom.fields import WHILE_HELD
from sitegen.newsroom.folder import read_as_if
from sitegen.newsroom.forms import Form
from sitegen.newsroom.records import Finding, Newsroom, Place, Reading, Story, Weight
from sitegen.newsroom.spans import Group, Row, Span, Word, spans
from sitegen.newsroom.times import zone_named
from sitegen.proof.copycheck import check_copy
from sitegen.proof.copychecks.base import LATELY, latest_end
from sitegen.proof.copychecks.stories import own_texts
from sitegen.proof.copychecks.twice import Identity, identity

BODY = "body"
"""The name of the field that holds the text below the front matter."""


@dataclass(frozen=True, slots=True)
class Told:
    """A finding beside its field."""

    name: str
    """Of the field, as in the form; empty for the whole file."""
    finding: Finding
    instead: str
    """What to write instead, beside a field in words for the form."""

    @property
    def is_fault(self) -> bool:
        return self.finding.weight is Weight.FAULT


def check(
    root: Path,
    before: Reading,
    as_of: datetime,
    path: str,
    text: str,
    unsaid: Callable[[Reading], Iterable[Finding]] = lambda reading: (),
) -> tuple[Finding, ...]:
    """Every finding about a file as if it held `text`, as of a moment (UTC): what reading and the checks of the copy say of it, and
    `unsaid` of what was changed without a word.

    `before` is the newest reading, with a newsroom.
    """
    changed, found = read_as_if(root, before, path, text)
    elsewhere = (finding for finding in before.findings if finding.spot.path != path)
    copy = (
        *check_copy(_near(changed, path, as_of), as_of),
        *unsaid(Reading(changed, (*found, *elsewhere))),
    )
    mine = [finding for finding in copy if finding.spot.path == path]
    return (*found, *(finding for finding in mine if finding not in found))


def _near(newsroom: Newsroom, path: str, as_of: datetime) -> Newsroom:
    """A newsroom in which the checks of the copy find of one file what they would in the whole: with the stories that have a say
    in it. In an archive of ten thousand the others would take all the time."""
    here = next((story for story in newsroom.stories if story.origin.spot.path == path), None)
    named: set[str] = set()
    sounds: set[str] = set()
    written: set[Identity] = set()
    """Places that stand in the file itself."""
    texts: set[str] = set()
    place = path.removeprefix("content/places/").removesuffix(".yaml")
    for episode in newsroom.episodes:
        if episode.origin.spot.path == path:
            named |= {entry.story for entry in episode.rundown} | {
                promise.kept_by for promise in episode.promises
            }
    if here is not None:
        named |= {here.id, here.translates}
        sounds = set(_sounds(here))
        written = {identity(each) for each in _written_places(here)}
        texts = set(own_texts(here).values())

    zone = zone_named(newsroom.station.time_zone)
    lately = (as_of - LATELY).date() - timedelta(days=2)
    aired_lately = {
        entry.story
        for episode in newsroom.episodes
        if episode.aired.day >= lately
        for entry in episode.rundown
    }

    def may_be_current(story: Story) -> bool:
        """True for all stories whose words are compared, and for few others."""
        days = [story.aired.day, *([story.embargo.day] if story.embargo is not None else [])]
        return (
            max(days) >= lately
            or story.id in aired_lately
            or any(latest_end(ask, zone) > as_of for ask in story.asks)
        )

    def shares_something(story: Story) -> bool:
        """True for one with a word that sounds alike, a place that is written out here too, or the same text."""
        return bool(
            (sounds and not sounds.isdisjoint(_sounds(story)))
            or (written and not written.isdisjoint(identity(each) for each in _written_places(story)))
            or (texts and not texts.isdisjoint(own_texts(story).values()))
        )

    def has_a_say(story: Story) -> bool:
        if story.id in named or (here is not None and may_be_current(story) and shares_something(story)):
            return True
        # A withheld address must stand in nobody's text.
        return any(
            each.place.withheld or each.place.id == place for ask in story.asks for each in ask.drop_off
        )

    return replace(newsroom, stories=tuple(story for story in newsroom.stories if has_a_say(story)))


def _written_places(story: Story) -> Iterator[Place]:
    """The places that a story's asks write out."""
    return (entry.place for ask in story.asks for entry in ask.drop_off if not entry.place.id)


def _sounds(story: Story) -> Iterator[str]:
    """How the words of a story's short addresses sound, as `word_sounds_like_another` hears them."""
    if story.say_on_air or story.heard_as:
        from jellyfish import metaphone

        for word in (story.say_on_air, *story.heard_as):
            yield metaphone(word.replace("-", ""))


def beside(
    form: Form, text: str, names: Mapping[Trail, str], findings: Iterable[Finding], path: str
) -> tuple[Told, ...]:
    """Findings with the names of their fields. `names` are the form's, by where their values stand in the file."""
    spots, body_line = _spots(text, form.has_body)
    found: list[Told] = []
    for finding in findings:
        name = _name(finding, spots, names, body_line, path)
        # What is wrong with a file beside this one is mended there.
        instead = in_form(form, name, finding) if finding.spot.path == path else finding.instead
        found.append(Told(name, finding, instead))
    return tuple(found)


_NAMED_BY = {"photos": "file", "captions": "captions", "listings": "listing"}
"""The key that names a file of another folder, by the folder."""
_KEY = re.compile(r"'([a-z_]+)'|\b([a-z_]+):")


def _name(
    finding: Finding,
    spots: Mapping[tuple[int, int], list[Trail]],
    names: Mapping[Trail, str],
    body_line: int,
    path: str,
) -> str:
    spot = finding.spot
    if spot.path != path:
        key = _NAMED_BY.get(spot.path.split("/")[1], "")
        return next((name for trail, name in names.items() if trail[-1] == key), "")
    if spot.line >= body_line:
        return BODY
    trails = spots.get((spot.line, spot.column), [])
    if not trails:
        before = [at for at in spots if at[0] == spot.line and at[1] <= spot.column]
        trails = spots[max(before)] if before else []
    # A group begins where its first key does: what is said of the group names the key it is about.
    groups = [
        trail
        for trail in trails
        if any(len(each) == len(trail) + 1 and each[: len(trail)] == trail for each in names)
    ]
    words = [word for pair in _KEY.findall(f"{finding.message} {finding.instead}") for word in pair if word]
    for trail in groups or [()] if finding.check in ("missing", WHILE_HELD) else []:
        for word in words:
            if (*trail, word) in names:
                return names[(*trail, word)]
    for trail in sorted(trails, key=len, reverse=True):
        while trail:
            if trail in names:
                # A place may be written as its name alone, and has a field for it all the same.
                return (
                    names.get((*trail, "place"), names[trail])
                    if finding.check == "unknown-place"
                    else names[trail]
                )
            trail = trail[:-1]
    return ""


def _spots(text: str, has_body: bool) -> tuple[dict[tuple[int, int], list[Trail]], int]:
    """Where in the file, by (line, column) from 1, each key and value stands, and the line from which the body does."""
    start, end = yaml_part(text, has_body)
    root, _ = spans(text[start:end])
    found: dict[tuple[int, int], list[Trail]] = {}

    def note(at: int, trail: Trail) -> None:
        at += start
        line = text.count("\n", 0, at) + 1
        found.setdefault((line, at - (text.rfind("\n", 0, at) + 1) + 1), []).append(trail)

    def walk(span: Span, trail: Trail) -> None:
        if not (isinstance(span, Word) and span.start == span.end):
            note(span.start, trail)
        if isinstance(span, Group):
            for key, value in span.entries:
                note(key.start, (*trail, key.text))
                walk(value, (*trail, key.text))
        elif isinstance(span, Row):
            for index, item in enumerate(span.items):
                walk(item, (*trail, index))

    if root is not None:
        walk(root, ())
    return found, text.count("\n", 0, end) + 2 if has_body else 10**9
