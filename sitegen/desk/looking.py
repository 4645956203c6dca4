"""Looking at a station's files again and again: only what changed is read again, and the last good reading is remembered.

A `Look` is all that one look came to. It is numbered and never changed.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, replace
from datetime import datetime
from functools import cached_property
from pathlib import Path

from sitegen.geography.shapes import read_map
from sitegen.newsroom.folder import reread_newsroom
from sitegen.newsroom.keeping import ReadAhead, Record
from sitegen.newsroom.records import Episode, Finding, Newsroom, Place, Reading, Story
from sitegen.site.content import read_content
from sitegen.site.errors import RefusedError
from sitegen.site.order import Order, Sources, ground_of, look, workshop_for
from sitegen.site.shelf import RecordShelf
from sitegen.site.states import UNKNOWN, State, state_of
from sitegen.typeset.theme import Theme, ThemeError, load_theme

CONTENT, THEMES = "content/", "themes/"
CACHE = Path("build") / "preview"
"""Below the root: records of stories, so that the next start is quick. Never the site's own folder."""


@dataclass(frozen=True)
class Look:
    """The station's files as they were at one moment."""

    number: int
    """Rises by one with every change that was seen; from 1."""
    reading: Reading
    """The newest reading, with every finding in it."""
    sources: Sources
    """The states of the files that were read."""
    newsroom: Newsroom | None
    """What is shown: the newest reading, but of records that cannot be read as they stand now their last good one. None until
    station.yaml could be read once."""
    stale: frozenset[str] = frozenset()
    """Paths of the files whose records are shown as they were before."""
    theme: Theme | None = None
    theme_problem: str = ""
    """Why the theme cannot be used, in words; then `theme` is the last good one."""

    @cached_property
    def findings_by_file(self) -> dict[str, tuple[Finding, ...]]:
        """What the reading found, by path such as `content/stories/2026/coats.md`."""
        found: dict[str, list[Finding]] = {}
        for finding in self.reading.findings:
            found.setdefault(finding.spot.path, []).append(finding)
        return {path: tuple(each) for path, each in found.items()}


class Looker:
    """Looks at one root. Not to be used by two threads at once."""

    def __init__(self, root: Path, present: datetime) -> None:
        """`present` (UTC) as in `look`."""
        self._root = root
        self._shelf = _MemoryShelf()
        self._sources = look(root, present)
        self._look: Look | None = None
        self._look = self._after(None, self._read(present))

    @property
    def newest(self) -> Look:
        assert self._look is not None  # looked at first when it was made
        return self._look

    def again(self, present: datetime, paths: Iterable[str] | None = None) -> Look:
        """The newest look. `paths`, relative to the root, are all that may have changed; None when anything may have."""
        before = self._sources.states
        changed = self._changed_among(paths) if paths is not None else None
        if changed is None:
            self._sources = look(self._root, present)
            states = self._sources.states
            changed = {path for path in before.keys() | states.keys() if before.get(path) != states.get(path)}
        if not changed:
            return self.newest
        is_known = changed <= before.keys() & self._sources.states.keys()
        reading: Reading | None = self.newest.reading
        if any(path.startswith(CONTENT) for path in changed):
            reading = None
            if is_known:
                self._shelf.states = self._sources.states
                reading = reread_newsroom(
                    self._root,
                    read_map,
                    self.newest.reading,
                    {path for path in changed if path.startswith(CONTENT)},
                    self._shelf,
                )
        try:
            reading = reading if reading is not None else self._read(present)
        except RefusedError:
            # The folder is away, as when a whole checkout is changed; when it is back, that is a change too.
            return self.newest
        self._look = self._after(self.newest, reading, changed)
        return self._look

    def _changed_among(self, paths: Iterable[str]) -> set[str] | None:
        """Which of the paths changed, their states brought up to date; None when files came or went."""
        states = dict(self._sources.states)
        changed: set[str] = set()
        for path in set(paths):
            now = state_of(str(self._root / path))
            if path not in states or now == UNKNOWN:
                return None
            if now != states[path]:
                states[path] = now
                changed.add(path)
        self._sources = Sources(states, self._sources.looked_at)
        return changed

    def _read(self, present: datetime) -> Reading:
        self._shelf.states = self._sources.states
        before = self._look.newsroom if self._look is not None else None
        with ExitStack() as stack:
            if not self._shelf.rows:
                # Read for the first time: what an earlier run left is taken in.
                workshop = workshop_for(self._root, None)
                ground = ground_of(Order(self._root, workshop, "", present))
                self._shelf.below = stack.enter_context(
                    RecordShelf(self._root / CACHE, ground, self._sources)
                )
            reading = read_content(self._root, shelf=self._shelf)
        self._shelf.below = None
        if reading.newsroom is None and before is not None:
            # Of a station whose own file is broken the rest can still be read, with what was known of it.
            read_on = read_content(self._root, station=before.station, shelf=self._shelf)
            findings = dict.fromkeys((*reading.findings, *read_on.findings))
            reading = Reading(read_on.newsroom, tuple(findings))
        return reading

    def _after(self, before: Look | None, reading: Reading, changed: Collection[str] = ()) -> Look:
        newsroom, stale = reading.newsroom, frozenset[str]()
        if before is not None and before.newsroom is not None and reading.newsroom is not None:
            newsroom, stale = with_last_good(before.newsroom, reading)
        theme, problem = (before.theme, before.theme_problem) if before is not None else (None, "")
        if newsroom is not None:
            name = newsroom.station.theme
            if theme is None or theme.name != name or any(THEMES in path for path in changed):
                try:
                    theme, problem = load_theme(self._root, name), ""
                except ThemeError as error:
                    problem = str(error)
        number = before.number + 1 if before is not None else 1
        return Look(number, reading, self._sources, newsroom, stale, theme, problem)


def with_last_good(before: Newsroom, reading: Reading) -> tuple[Newsroom, frozenset[str]]:
    """A reading's records, where those with faults are as they were before if they were; and the files of these."""
    now = reading.newsroom
    assert now is not None  # the caller has looked
    faulty = frozenset(finding.spot.path for finding in reading.faults)
    if not faulty:
        return now, frozenset()
    known = {story.origin.spot.path: story for story in before.stories}
    stories = {story.origin.spot.path: story for story in now.stories}
    stale = {path for path, story in known.items() if not faulty.isdisjoint(files_of(story))}
    stories |= {path: known[path] for path in stale}
    broken = [place for place in before.places if place.origin.spot.path in faulty]
    places = {place.id: place for place in (*now.places, *broken)}
    spoiled = [episode for episode in before.episodes if episode.origin.spot.path in faulty]
    episodes = {episode.id: episode for episode in (*now.episodes, *spoiled)}
    torn = [page for page in before.pages if page.origin.spot.path in faulty]
    pages = {page.id: page for page in (*now.pages, *torn)}
    origins = (
        [each.origin for each in broken] + [each.origin for each in spoiled] + [each.origin for each in torn]
    )
    stale |= {origin.spot.path for origin in origins}
    newsroom = replace(
        now,
        stories=tuple(sorted(stories.values(), key=lambda story: story.id)),
        places=tuple(places[name] for name in sorted(places)),
        episodes=tuple(episodes[name] for name in sorted(episodes)),
        pages=tuple(pages[name] for name in sorted(pages)),
        areas=now.areas or before.areas,
    )
    return newsroom, frozenset(stale)


def files_of(story: Story) -> frozenset[str]:
    """The files that a story's record was read from, its episodes' aside."""
    files = {story.origin.spot.path}
    for ask in story.asks:
        files |= {
            entry.place.origin.spot.path
            for entry in ask.drop_off
            if entry.place.id and entry.place.origin.spot.path
        }
    if story.photo is not None and story.photo.picture is not None:
        files.add(story.photo.picture.file)
    if story.video is not None:
        files |= {each.file for each in (story.video.captions, story.video.poster) if each is not None}
    return frozenset(files | {row.origin.spot.path for row in story.listing})


@dataclass(frozen=True, slots=True)
class _Row:
    around: bytes
    used: dict[str, State]
    record: Story | Episode | Place
    found: tuple[Finding, ...]


class _MemoryShelf:
    """Records as they were read, by what they were read from; equal ones are the same object from look to look."""

    def __init__(self) -> None:
        self.rows: dict[str, _Row] = {}
        self.states: dict[str, State] = {}
        self.below: RecordShelf | None = None
        """What an earlier run left, while everything is read for the first time."""

    def ahead(self, wanted: Sequence[tuple[str, bytes]], read: ReadAhead) -> None:
        """Nothing: other threads run here, and a process forked beside them may wait for ever."""

    def take(self, path: str, around: bytes, kind: type[Record]) -> tuple[Record, tuple[Finding, ...]] | None:
        row = self.rows.get(path)
        if row is not None and row.around == around and isinstance(row.record, kind):
            states = self.states
            if all(states.get(used) == state for used, state in row.used.items()):
                return row.record, row.found
        kept = self.below.take(path, around, kind) if self.below is not None else None
        if kept is not None and self.below is not None:
            self._keep(path, around, self.below.used(path), *kept)
        return kept

    def put(
        self, path: str, around: bytes, used: frozenset[str], record: Record, found: tuple[Finding, ...]
    ) -> None:
        self._keep(path, around, used, record, found)
        if self.below is not None:
            self.below.put(path, around, used, record, found)

    def _keep(
        self,
        path: str,
        around: bytes,
        used: frozenset[str],
        record: Story | Episode | Place,
        found: tuple[Finding, ...],
    ) -> None:
        self.rows[path] = _Row(around, {each: self.states.get(each, UNKNOWN) for each in used}, record, found)
