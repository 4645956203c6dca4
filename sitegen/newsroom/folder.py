"""Reading a whole content folder: every record and every finding, in one run.

`contentfiles` opens the files; here it is decided which are read, in which order, and what of an earlier reading stands.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import Any, TypeVar

from msgspec import msgpack

from sitegen.newsroom.captions import read_captions
from sitegen.newsroom.contentfiles import CONTENT, MOST_DATA_BYTES, RENAME, ContentFiles, is_file, is_same
from sitegen.newsroom.context import Context
from sitegen.newsroom.crossreferences import check_links, check_names
from sitegen.newsroom.episodes import read_episode, read_page
from sitegen.newsroom.fields import Findings
from sitegen.newsroom.keeping import NoShelf, Record, Shelf
from sitegen.newsroom.listings import read_listing
from sitegen.newsroom.pictures import measure
from sitegen.newsroom.places import read_place
from sitegen.newsroom.records import (
    Area,
    Captions,
    Episode,
    Finding,
    ListingEntry,
    Newsroom,
    Picture,
    Place,
    Reading,
    Spot,
    Station,
    StationPage,
    Story,
    Weight,
)
from sitegen.newsroom.slugs import is_slug
from sitegen.newsroom.station import read_station
from sitegen.newsroom.stories import read_story
from sitegen.newsroom.strays import FOLDERS, strays
from sitegen.newsroom.visible import as_text

T = TypeVar("T")

MapReader = Callable[[str, Mapping[str, str]], tuple[tuple[Area, ...], tuple[tuple[int, str, str], ...]]]
"""Text of a map, counties' keys by name -> outlines, and problems as (line, message, what to write instead)."""


def read_newsroom(
    root: Path,
    read_map: MapReader,
    *,
    only: Collection[str] | None = None,
    station: Station | None = None,
    shelf: Shelf | None = None,
) -> Reading:
    """Everything under ROOT/content. Never raises for what a file holds or lacks.

    `read_map` is handed in, because maps are read by geography, and nothing here may depend on it. `only`: paths of the files
    of stories, episodes and places to read, None for all; places that these stories name are read too. `station` stands in for one whose file cannot be read. Stories that `shelf` has are not read
    again.
    """
    return _Folder(root, read_map, only, station, shelf or NoShelf()).read()


def read_as_if(root: Path, before: Reading, path: str, text: str) -> tuple[Newsroom, tuple[Finding, ...]]:
    """The newsroom as if a file held `text`, and everything that reading finds in that file and in what only it names.

    `before` is the newest reading, with a newsroom; `path` is that of a story, place, episode or station page, such as
    `content/stories/2026/coats.md`, which need not be there. Without a record of its own it is left out. The other files are not
    read again, but for stories that name a place that is read so; so this takes as long in a large station as in a small one.
    """
    return _Folder(root, lambda text, counties: ((), ()), None, None, NoShelf()).read_as_if(
        before, path, text
    )


def reread_newsroom(
    root: Path, read_map: MapReader, before: Reading, paths: Collection[str], shelf: Shelf | None = None
) -> Reading | None:
    """What `read_newsroom` would give now, where since `before` nothing but the text of these files has changed: of stories,
    shared places, episodes and station pages, each of which was there and still is.

    None where that cannot be told without reading the rest: when the records of others rest on one of these files in ways that
    their own records do not show, or something was found in a file that several share.
    """
    return _Folder(root, read_map, None, None, shelf or NoShelf()).reread(before, frozenset(paths))


_SHARED = (f"{CONTENT}/photos/", f"{CONTENT}/captions/", f"{CONTENT}/listings/")
"""Files in which a story's reading may find something."""


@dataclass(frozen=True, slots=True)
class _AskedStory:
    """A story to be read."""

    path: str
    around: bytes
    """Stands for all that it is read with beside files."""
    read: Callable[[str], Story | None]
    """None when it cannot be read or has no address."""


def _is_to_keep(found: Sequence[Finding]) -> bool:
    """What has faults is read again each time: it is about to be mended."""
    return not any(finding.weight is Weight.FAULT for finding in found)


class _Folder:
    def __init__(
        self,
        root: Path,
        read_map: MapReader,
        only: Collection[str] | None,
        station: Station | None,
        shelf: Shelf,
    ) -> None:
        self.only = only
        self.stand_in = station
        self.shelf = shelf
        self._used: set[str] = set()
        """Paths of the files that the story being read named."""
        self.read_map = read_map
        self.findings = Findings()
        self.files = ContentFiles(root, self.findings)
        self.context = Context(self.findings, None)
        self._pictures: dict[str, tuple[Picture | None, list[Finding]]] = {}
        self._captions: dict[str, tuple[Captions | None, list[Finding]]] = {}
        self._known_stories: frozenset[str] = frozenset()

    def read(self) -> Reading:
        station = self._station() or self.stand_in
        self.context = Context(self.findings, station)
        self._places()
        episodes = self._episodes()
        stories = self._stories(episodes)
        pages = self._pages()
        areas = self._areas(station)
        check_links(self.findings, (*stories, *episodes, *pages), self._known_stories)
        if self.only is None and station is not None:
            self._check_strays(station, stories)
        found = tuple(sorted(set(self.findings.found), key=_finding_order))
        if station is None:
            return Reading(None, found)
        places = tuple(place for _, place in sorted(self.context.places.items()))
        return Reading(Newsroom(station, places, stories, episodes, pages, areas), found)

    def read_as_if(self, before: Reading, path: str, text: str) -> tuple[Newsroom, tuple[Finding, ...]]:
        """As in the function of that name."""
        room = before.newsroom
        assert room is not None
        self.files.as_if = {path: text}
        folder = path.split("/")[1]
        places = {place.id: place for place in room.places}
        faulty = {
            Path(finding.spot.path).stem
            for finding in before.faults
            if finding.spot.path.startswith(f"{CONTENT}/places/")
        }
        self.context = self._context(room.station, places, frozenset(faulty - places.keys()))
        name = self.files.id(path, folder)
        found: list[Finding] = []
        in_episodes = _in_episodes(room.episodes)
        if folder == "places":
            places.pop(name or "", None)
            node = self.files.yaml(path, "the place")
            place = read_place(node, path, name or "", self.context) if node is not None else None
            found += self.findings.found
            if place is None or name is None:
                return replace(
                    room, places=tuple(each for each in room.places if each.id != name)
                ), _in_place(found)
            places[name] = place
            stories = []
            for story in room.stories:
                names_it = any(each.place.id == name for ask in story.asks for each in ask.drop_off)
                again = (
                    self._story(story.origin.spot.path, story.id, in_episodes.get(story.id, []))
                    if names_it
                    else None
                )
                stories.append(again or story)
            sorted_places = tuple(each for _, each in sorted(places.items()))
            return replace(room, places=sorted_places, stories=tuple(stories)), _in_place(found)
        record: Story | Episode | StationPage | None
        if folder == "stories":
            record = self._story(path, name, in_episodes.get(name or "", []))
        elif folder == "episodes":
            record = read_episode(self.files.matter(path), path, name or "", self.context)
        else:
            record = read_page(self.files.matter(path), path, name or "", self.context)
        found += self.findings.found
        self.findings.found.clear()
        everything: list[Story | Episode | StationPage] = [*room.stories, *room.episodes, *room.pages]
        kept = [each for each in everything if each.origin.spot.path != path]
        if record is not None and name is not None:
            kept.append(record)
            originals = [
                each
                for each in kept
                if isinstance(each, Story) and isinstance(record, Story) and each.id == record.translates
            ]
            mine = [record] if isinstance(record, Story) else []
            self._check_names(
                [*originals, *mine],
                (record,) if isinstance(record, Episode) else (),
                self._names_known(before, room, {path}),
            )
            check_links(self.findings, (record,), self._known_stories)
        found += [finding for finding in self.findings.found if finding.spot.path == path]
        changed = replace(
            room,
            stories=tuple(
                sorted((each for each in kept if isinstance(each, Story)), key=lambda each: each.id)
            ),
            episodes=tuple(
                sorted((each for each in kept if isinstance(each, Episode)), key=lambda each: each.id)
            ),
            pages=tuple(
                sorted((each for each in kept if isinstance(each, StationPage)), key=lambda each: each.id)
            ),
        )
        return changed, _in_place(found)

    def reread(self, before: Reading, paths: frozenset[str]) -> Reading | None:
        """As in `reread_newsroom`."""
        room = before.newsroom
        rests_on_others = (*_SHARED, f"{CONTENT}/places/", f"{CONTENT}/episodes/", f"{CONTENT}/station.yaml")
        if room is None or any(finding.spot.path.startswith(rests_on_others) for finding in before.faults):
            return None
        if any(finding.spot.path.startswith(_SHARED) for finding in before.findings):
            return None
        of = {name: sorted(_below(paths, name)) for name in ("stories", "places", "episodes", "pages")}
        if sum(map(len, of.values())) != len(paths):
            return None
        places = {place.id: place for place in room.places}
        episodes = {episode.origin.spot.path: episode for episode in room.episodes}
        pages = {page.origin.spot.path: page for page in room.pages}
        self.context = self._context(room.station, {}, frozenset())
        if not self._reread_places(of["places"], places):
            return None
        self.context = self._context(room.station, places, frozenset())
        rundowns = [entry.story for path in of["episodes"] for entry in episodes[path].rundown]
        for path in of["episodes"]:
            episode = self._episode(path)
            if episode is None:
                return None
            episodes[path] = episode
            rundowns += [entry.story for entry in episode.rundown]
        for path in of["pages"]:
            page = self._page(path)
            if page is None or path not in pages:
                return None
            pages[path] = page
        touched = {path.removeprefix(f"{CONTENT}/places/").removesuffix(".yaml") for path in of["places"]}
        again = {*of["stories"], *_resting(before, room, touched, frozenset(rundowns))}
        stories = self._reread_stories(room, tuple(episodes.values()), again)
        if stories is None or any(story.listing for story in room.stories if story.origin.spot.path in again):
            return None  # a round-up may have lost the story that shows it
        changed = [episodes[path] for path in of["episodes"]]
        self._check_names(stories[1], tuple(changed), self._names_known(before, room, again))
        reread: list[Story | Episode | StationPage] = [
            *stories[1],
            *changed,
            *(pages[path] for path in of["pages"]),
        ]
        check_links(self.findings, reread, self._known_stories)
        read = {*paths, *again}
        if any(finding.spot.path not in read for finding in self.findings.found):
            return None
        kept = (finding for finding in before.findings if finding.spot.path not in read)
        found = tuple(sorted({*self.findings.found, *kept}, key=_finding_order))
        newsroom = replace(
            room,
            places=tuple(place for _, place in sorted(places.items())) if of["places"] else room.places,
            stories=stories[0],
            episodes=tuple(episodes.values()) if of["episodes"] else room.episodes,
            pages=tuple(pages.values()) if of["pages"] else room.pages,
        )
        return Reading(newsroom, found)

    def _reread_places(self, paths: Collection[str], places: dict[str, Place]) -> bool:
        """Puts places read again in the place of the old ones; False when one has faults now, which all that name it would feel."""
        for path in paths:
            place_id = self.files.id(path, "places")
            node = self.files.yaml(path, "the place")
            place = read_place(node, path, place_id, self.context) if node is not None and place_id else None
            if place is None or place.id not in places:
                return False
            places[place.id] = place
        return not any(finding.weight is Weight.FAULT for finding in self.findings.found)

    def _reread_stories(
        self, room: Newsroom, episodes: tuple[Episode, ...], paths: set[str]
    ) -> tuple[tuple[Story, ...], list[Story]] | None:
        """All stories, and those among them that were read again; None when a translation rests on one of these."""
        originals = {story.translates for story in room.stories if story.translates}
        written = {story.origin.spot.path: story for story in room.stories}
        in_episodes = _in_episodes(episodes)
        read: list[Story] = []
        for path in sorted(paths):
            story_id = self.files.id(path, "stories")
            story = self._story(path, story_id, in_episodes.get(story_id or "", []))
            old = written.pop(path, None)
            if story is not None:
                read.append(story)
            if any(each is not None and (each.translates or each.id in originals) for each in (old, story)):
                return None
        return tuple(sorted((*written.values(), *read), key=lambda story: story.id)), read

    def _names_known(self, before: Reading, room: Newsroom, paths: set[str]) -> set[str]:
        """The ids of all stories; a file that could not be read is no story, but its name is known."""
        known = {story.id for story in room.stories}
        for path in {finding.spot.path for finding in before.findings} | paths:
            if path.startswith(f"{CONTENT}/stories/") and path.endswith(".md"):
                name = path.removeprefix(f"{CONTENT}/stories/").removesuffix(".md")
                known |= {name} if all(is_slug(part) for part in name.split("/")) else set()
        return known

    def _check_strays(self, station: Station, stories: tuple[Story, ...]) -> None:
        """What lies in content and is on no page, because nothing reads it or can name it."""
        for name, message, instead in strays(self.files.entries_of(""), station.map):
            if name.lower() in FOLDERS and is_same(
                self.files.content / name, self.files.content / name.lower()
            ):
                continue  # some systems know a folder by small and capital letters alike
            self._concern_stray(name, message, instead)
        named = ("photos", "captions", "listings")
        lying = [
            f"{folder}/{name}"
            for folder in named
            for name, is_folder in self.files.entries_of(folder)
            if not is_folder
        ]
        for name in lying:
            if as_text(name) != name:
                self._concern_stray(
                    as_text(name), "No story can name this file: its name is not UTF-8 text.", RENAME
                )
        faulty = {finding.spot.path for finding in self.findings.found if finding.weight is Weight.FAULT}
        if any(path.startswith(f"{CONTENT}/stories/") for path in faulty):
            return  # one of these may name a round-up
        known = faulty | {entry.origin.spot.path for story in stories for entry in story.listing}
        for name in lying:
            if name.startswith("listings/") and as_text(name) == name and f"{CONTENT}/{name}" not in known:
                self._concern_stray(
                    name,
                    "Nothing of this round-up is shown: no story names it, or it has no rows.",
                    f"Name it in the story that it belongs to: listing: {name.removeprefix('listings/')}",
                )

    def _concern_stray(self, name: str, message: str, instead: str) -> None:
        self.findings.concern(Spot(f"{CONTENT}/{name}"), "not-read", message, instead)

    # --- records ---

    def _station(self) -> Station | None:
        path = self.files.content / "station.yaml"
        if path.is_symlink() and not self.files.leads_inside(path, Spot(self.files.shown(path))):
            return None
        if not path.exists():
            self.findings.fault(
                Spot(f"{CONTENT}/station.yaml"),
                "missing",
                "There is no content/station.yaml.",
                "Write it as the README shows: station, programme, address, time_zone, language, contact, counties.",
            )
            return None
        node = self.files.yaml(self.files.shown(path), "the station")
        return read_station(node, self.files.shown(path), self.findings) if node is not None else None

    def _places(self) -> None:
        places: dict[str, Place] = {}
        broken: set[str] = set()
        for path in self.files.below("places", ".yaml"):
            if not self._is_asked_for(path):
                continue
            place = self._kept(path, self._station_digest, Place, self._place)
            if place is None:
                broken.add(Path(path).stem)
            else:
                places[place.id] = place
        self.context = self._context(self.context.station, places, frozenset(broken))

    def _is_asked_for(self, shown: str) -> bool:
        return self.only is None or shown in self.only

    def _named_place(self, name: str) -> Place | None:
        """A place that was not asked for and that a story names."""
        shown = f"{CONTENT}/places/{name}.yaml"
        if (
            self.only is None
            or not is_slug(name)
            or shown in self.only
            or not is_file(self.files.root / shown)
        ):
            return None
        return self._place(shown)

    def _place(self, shown: str) -> Place | None:
        place_id, node = self.files.id(shown, "places"), self.files.yaml(shown, "the place")
        if place_id is None or node is None:
            return None
        return read_place(node, shown, place_id, self.context)

    def _context(self, station: Station | None, places: dict[str, Place], broken: frozenset[str]) -> Context:
        return Context(
            self.findings,
            station,
            _Noting(places, self._used, self._named_place),
            broken,
            self._picture,
            self._captions_of,
            self._listing,
        )

    def _episodes(self) -> tuple[Episode, ...]:
        episodes: list[Episode] = []
        for path in self.files.below("episodes", ".md"):
            if not self._is_asked_for(path):
                continue
            episode = self._kept(path, self._station_digest, Episode, self._episode)
            if episode is not None:
                episodes.append(episode)
        return tuple(episodes)

    def _episode(self, shown: str) -> Episode | None:
        episode_id, matter = self.files.id(shown, "episodes"), self.files.matter(shown)
        episode = read_episode(matter, shown, episode_id or "", self.context)
        return episode if episode_id is not None else None

    def _stories(self, episodes: tuple[Episode, ...]) -> tuple[Story, ...]:
        in_episodes = _in_episodes(episodes)
        asked: list[_AskedStory] = []
        known: set[str] = set()
        for path in self.files.below("stories", ".md", deep=True):
            story_id = self.files.id(path, "stories")
            if story_id is not None:
                known.add(story_id)
            if self._is_asked_for(path):
                asked.append(self._asked(path, story_id, in_episodes.get(story_id or "", [])))
        self.shelf.ahead(
            [(each.path, each.around) for each in asked],
            lambda number: self._to_keep(asked[number].path, asked[number].read),
        )
        stories = [story for each in asked if (story := self._taken(each)) is not None]
        self._check_names(stories, episodes, known)
        return tuple(sorted(stories, key=lambda story: story.id))

    def _story(self, path: str, story_id: str | None, holding: list[Episode]) -> Story | None:
        """A story's record; None when it cannot be read or has no address."""
        return self._taken(self._asked(path, story_id, holding))

    def _taken(self, asked: _AskedStory) -> Story | None:
        return self._kept(asked.path, asked.around, Story, asked.read)

    def _asked(self, path: str, story_id: str | None, holding: list[Episode]) -> _AskedStory:
        aired = min((episode.aired for episode in holding), key=lambda when: when.order, default=None)
        ids = tuple(dict.fromkeys(episode.id for episode in holding))

        def read(path: str) -> Story | None:
            story = read_story(self.files.matter(path), path, story_id or "", aired, ids, self.context)
            return story if story_id is not None else None

        return _AskedStory(path, self._station_digest + msgpack.encode((aired, ids)), read)

    def _kept(
        self, path: str, around: bytes, kind: type[Record], read: Callable[[str], Record | None]
    ) -> Record | None:
        """A file's record, from the shelf where it is there; None when it cannot be read. `around` stands for all that it is
        read with beside files."""
        kept = self.shelf.take(path, around, kind)
        if kept is not None:
            self.findings.found += kept[1]
            return kept[0]
        used, record, found = self._read_anew(path, read)
        if record is not None and _is_to_keep(found):
            self.shelf.put(path, around, used, record, found)
        return record

    def _read_anew(
        self, path: str, read: Callable[[str], Record | None]
    ) -> tuple[frozenset[str], Record | None, tuple[Finding, ...]]:
        """The files that were used, the record, what was found."""
        before = len(self.findings.found)
        self._used.clear()
        record = read(path)
        return frozenset({path, *self._used}), record, tuple(self.findings.found[before:])

    def _to_keep(
        self, path: str, read: Callable[[str], Record | None]
    ) -> tuple[frozenset[str], Record, tuple[Finding, ...]] | None:
        """What a shelf may keep of a file that is read ahead; what was found is told when it is taken."""
        before = len(self.findings.found)
        used, record, found = self._read_anew(path, read)
        del self.findings.found[before:]
        return (used, record, found) if record is not None and _is_to_keep(found) else None

    @cached_property
    def _station_digest(self) -> bytes:
        return hashlib.sha256(msgpack.encode(self.context.station)).digest()

    def _check_names(
        self, stories: Sequence[Story], episodes: Sequence[Episode], known: Collection[str]
    ) -> None:
        station = self.context.station
        check_names(self.findings, stories, episodes, known, station.language if station is not None else "")
        self._known_stories = frozenset(known)

    def _pages(self) -> tuple[StationPage, ...]:
        pages: list[StationPage] = []
        for path in self.files.below("pages", ".md"):
            page = self._page(path)
            if page is not None:
                pages.append(page)
        return tuple(pages)

    def _page(self, shown: str) -> StationPage | None:
        page_id, matter = self.files.id(shown, "pages"), self.files.matter(shown)
        page = read_page(matter, shown, page_id or "", self.context)
        return page if page_id is not None else None

    def _picture(self, name: str, spot: Spot) -> Picture | None:
        self._used.add(f"{CONTENT}/photos/{name}")
        path = None if name in self._pictures else self.files.named("photos", name, spot)
        if path is not None:
            before = len(self.findings.found)
            picture, message, instead = measure(path, self.files.shown(path))
            if picture is None:
                self.findings.fault(Spot(self.files.shown(path)), "picture", message, instead)
            self._pictures[name] = picture, self.findings.found[before:]
        return self._shared(self._pictures.get(name))

    def _captions_of(self, name: str, spot: Spot) -> Captions | None:
        self._used.add(f"{CONTENT}/captions/{name}")
        path = None if name in self._captions else self.files.named("captions", name, spot)
        if path is not None:
            before = len(self.findings.found)
            captions = self._read_captions(path)
            self._captions[name] = captions, self.findings.found[before:]
        return self._shared(self._captions.get(name))

    def _shared(self, known: tuple[T | None, list[Finding]] | None) -> T | None:
        """What was read once for all records that name it; each tells what was found in it, for the others may not be read
        the next time. Findings told twice count once in the end."""
        if known is None:
            return None
        self.findings.found += known[1]
        return known[0]

    def _read_captions(self, path: Path) -> Captions | None:
        shown = self.files.shown(path)
        text = self.files.text(shown, MOST_DATA_BYTES, strict=False)
        if text is None:
            return None
        cues, problems = read_captions(text)
        for line, message, instead in problems:
            self.findings.fault(Spot(shown, line, 1), "captions", message, instead)
        data = self.files.bytes(path, MOST_DATA_BYTES, Spot(shown))
        return (
            Captions(shown, hashlib.sha256(data).hexdigest(), cues)
            if data is not None and not problems
            else None
        )

    def _listing(self, name: str, spot: Spot) -> tuple[ListingEntry, ...]:
        self._used.add(f"{CONTENT}/listings/{name}")
        path = self.files.named("listings", name, spot)
        text = (
            self.files.text(self.files.shown(path), MOST_DATA_BYTES, strict=False)
            if path is not None
            else None
        )
        return (
            read_listing(text, self.files.shown(path), self.context)
            if path is not None and text is not None
            else ()
        )

    def _areas(self, station: Station | None) -> tuple[Area, ...]:
        if station is None or not station.map:
            return ()
        spot = station.origin.of("map")
        if "/" in station.map or not is_file(self.files.content / station.map):
            self.findings.fault(
                spot,
                "unknown-file",
                f"There is no file content/{station.map}.",
                "Put the map there, or remove the line.",
            )
            return ()
        path = self.files.content / station.map
        if path.is_symlink() and not self.files.leads_inside(path, Spot(self.files.shown(path))):
            return ()
        text = self.files.text(self.files.shown(path), MOST_DATA_BYTES, strict=False)
        if text is None:
            return ()
        areas, problems = self.read_map(text, {county.name: county.key for county in station.counties})
        for line, message, instead in problems:
            self.findings.fault(Spot(self.files.shown(path), line, 1), "map", message, instead)
        return areas


def _below(paths: Collection[str], name: str) -> Iterator[str]:
    """The paths of texts in a folder of the content."""
    suffix = ".yaml" if name == "places" else ".md"
    return (path for path in paths if path.startswith(f"{CONTENT}/{name}/") and path.endswith(suffix))


def _resting(before: Reading, room: Newsroom, places: set[str], rundowns: frozenset[str]) -> set[str]:
    """The files of stories that are made of these places or stand in these rundowns. Where there are any, also of those with
    faults: their records do not show all that they name."""
    if not places and not rundowns:
        return set()
    found = {
        story.origin.spot.path
        for story in room.stories
        if story.id in rundowns
        or any(entry.place.id in places for ask in story.asks for entry in ask.drop_off if entry.place.id)
    }
    return found | {
        finding.spot.path for finding in before.faults if finding.spot.path.startswith(f"{CONTENT}/stories/")
    }


def _in_episodes(episodes: tuple[Episode, ...]) -> dict[str, list[Episode]]:
    """The episodes whose rundown has a story, by its id."""
    found: dict[str, list[Episode]] = {}
    for episode in episodes:
        for entry in episode.rundown:
            found.setdefault(entry.story, []).append(episode)
    return found


class _Noting(dict[str, Place]):
    """The places by id, noting the file of each that is asked for."""

    def __init__(self, places: dict[str, Place], used: set[str], read: Callable[[str], Place | None]) -> None:
        """`read` reads a place that is not there yet."""
        super().__init__(places)
        self._used = used
        self._read = read

    def get(self, key: str, default: Any = None) -> Any:
        if key not in self and (place := self._read(key)) is not None:
            self[key] = place
        self._used.add(f"{CONTENT}/places/{key}.yaml")
        return super().get(key, default)


def _in_place(found: Iterable[Finding]) -> tuple[Finding, ...]:
    return tuple(sorted(set(found), key=_finding_order))


def _finding_order(finding: Finding) -> tuple[str, int, int, str, str, str]:
    spot = finding.spot
    return (spot.path, spot.line, spot.column, finding.weight, finding.check, finding.message)
