"""Reading a whole content folder: every record and every finding, in one run.

The only room of the newsroom that opens files. Whatever is wrong with a file becomes a located fault; no
file can stop the reading of the others.
"""

from __future__ import annotations

import hashlib
import os
import re
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from collections.abc import Mapping as MappingLike
from dataclasses import dataclass, replace
from difflib import get_close_matches
from functools import cached_property
from pathlib import Path
from stat import S_ISDIR, S_ISREG
from typing import Any, TypeVar

from msgspec import msgpack

from sitegen.newsroom.body import outside_address
from sitegen.newsroom.captions import read_captions
from sitegen.newsroom.comments import words_in_comments
from sitegen.newsroom.context import Context
from sitegen.newsroom.episodes import read_episode, read_page
from sitegen.newsroom.fields import Findings, did_you_mean
from sitegen.newsroom.freenames import free_name, is_passed_over, looks_the_same
from sitegen.newsroom.keeping import NoShelf, Record, Shelf
from sitegen.newsroom.listings import read_listing
from sitegen.newsroom.matter import Matter, split_matter
from sitegen.newsroom.nodes import TAB, Mapping, Node, compose
from sitegen.newsroom.pictures import measure
from sitegen.newsroom.places import read_place
from sitegen.newsroom.records import (
    Area,
    Captions,
    Episode,
    Finding,
    Link,
    ListingEntry,
    Newsroom,
    Origin,
    Picture,
    Place,
    Reading,
    Spot,
    Station,
    StationPage,
    Story,
    Weight,
)
from sitegen.newsroom.slugs import is_slug, slug
from sitegen.newsroom.station import read_station
from sitegen.newsroom.stories import read_story
from sitegen.newsroom.strays import FOLDERS, is_text_file, strays
from sitegen.newsroom.unseen import control_in, unseen_in
from sitegen.newsroom.visible import as_text

CONTENT = "content"
MOST_BYTES = 1_000_000
"""Of one text a person writes; the longest story of the demonstration has under 10,000."""
MOST_DATA_BYTES = 20_000_000
"""Of a map or a caption file."""
_RENAME = "Rename it with small letters, digits and hyphens."
_SEPARATORS = re.compile("[\x85\u2028\u2029]")
"""What ends a line in YAML 1.1 readers and in no editor."""


T = TypeVar("T")

MapReader = Callable[[str, MappingLike[str, str]], tuple[tuple[Area, ...], tuple[tuple[int, str, str], ...]]]
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
        self.root = root
        self.only = only
        self.stand_in = station
        self.shelf = shelf
        self._used: set[str] = set()
        """Paths of the files that the story being read named."""
        self.read_map = read_map
        self.content = root / CONTENT
        self._before = len(os.fspath(self.content)) - len(CONTENT)
        """Characters of a path before `content/`."""
        self.findings = Findings()
        self.context = Context(self.findings, None)
        self._pictures: dict[str, tuple[Picture | None, list[Finding]]] = {}
        self._captions: dict[str, tuple[Captions | None, list[Finding]]] = {}
        self._known_stories: frozenset[str] = frozenset()
        self._as_if: dict[str, str] = {}
        """Texts that stand in for files, by path."""

    def read(self) -> Reading:
        station = self._station() or self.stand_in
        self.context = Context(self.findings, station)
        self._places()
        episodes = self._episodes()
        stories = self._stories(episodes)
        pages = self._pages()
        areas = self._areas(station)
        self._check_links(stories, episodes, pages)
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
        self._as_if = {path: text}
        folder = path.split("/")[1]
        places = {place.id: place for place in room.places}
        faulty = {
            Path(finding.spot.path).stem
            for finding in before.faults
            if finding.spot.path.startswith(f"{CONTENT}/places/")
        }
        self.context = self._context(room.station, places, frozenset(faulty - places.keys()))
        name = self._id(path, folder)
        found: list[Finding] = []
        in_episodes = _in_episodes(room.episodes)
        if folder == "places":
            places.pop(name or "", None)
            node = self._yaml(path, "the place")
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
            record = read_episode(self._matter(path), path, name or "", self.context)
        else:
            record = read_page(self._matter(path), path, name or "", self.context)
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
            for link in record.links:
                self._check_link(link, link.spot(path))
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
        self._check_links(tuple(stories[1]), tuple(changed), tuple(pages[path] for path in of["pages"]))
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
            place_id = self._id(path, "places")
            node = self._yaml(path, "the place")
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
            story_id = self._id(path, "stories")
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

    # --- files ---

    def _shown(self, path: Path) -> str:
        return os.fspath(path)[self._before :].replace(os.sep, "/")

    def _check_strays(self, station: Station, stories: tuple[Story, ...]) -> None:
        """What lies in content and is on no page, because nothing reads it or can name it."""
        for name, message, instead in strays(self._entries_of(""), station.map):
            if name.lower() in FOLDERS and _is_same(self.content / name, self.content / name.lower()):
                continue  # some systems know a folder by small and capital letters alike
            self._concern_stray(name, message, instead)
        named = ("photos", "captions", "listings")
        lying = [
            f"{folder}/{name}"
            for folder in named
            for name, is_folder in self._entries_of(folder)
            if not is_folder
        ]
        for name in lying:
            if as_text(name) != name:
                self._concern_stray(
                    as_text(name), "No story can name this file: its name is not UTF-8 text.", _RENAME
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

    def _entries_of(self, name: str) -> list[tuple[str, bool]]:
        """What lies in a folder of content, and whether each is a folder; nothing where it cannot be looked into."""
        try:
            entries = sorted(os.scandir(self.content / name), key=lambda entry: entry.name)
        except OSError:
            return []
        return [(entry.name, entry.is_dir()) for entry in entries if not is_passed_over(entry.name)]

    def _files(self, name: str, suffix: str, deep: bool = False) -> Iterator[str]:
        """The files of a folder under content with a suffix, sorted, as they are shown; what else lies there is reported.

        Strings, not paths: of tens of thousands of files hardly one is opened, and taking paths apart would cost more than
        looking for them.
        """
        shown = f"{CONTENT}/{name}"
        folder = self.content / name
        if not folder.is_symlink() or self._leads_inside(folder, Spot(shown)):
            yield from self._walk(os.fspath(folder), shown, suffix, deep)

    def _walk(self, folder: str, above: str, suffix: str, deep: bool) -> Iterator[str]:
        """As `_files`; `above` is the folder as it is shown."""
        try:
            entries = sorted(os.scandir(folder), key=lambda entry: entry.name)
        except FileNotFoundError:
            return
        except OSError as error:
            self.findings.fault(
                Spot(above),
                "unreadable",
                f"This folder cannot be read ({error.strerror or error}).",
                "Check that it is a folder, and its permissions.",
            )
            return
        for entry in entries:
            if is_passed_over(entry.name):
                continue
            if not _is_text(entry.name):
                self.findings.fault(
                    Spot(f"{above}/{as_text(entry.name)}"),
                    "file-name",
                    "The name of this file is not UTF-8 text.",
                    _RENAME,
                )
                continue
            shown = f"{above}/{entry.name}"
            if entry.is_symlink() and not self._leads_inside(Path(entry.path), Spot(shown)):
                continue
            if entry.is_dir():
                if entry.name.endswith(suffix):
                    self.findings.fault(
                        Spot(shown),
                        "folder-not-file",
                        f"{entry.name} is a folder; a file is expected here.",
                        f"Rename the folder so that it does not end in {suffix}.",
                    )
                elif deep:
                    yield from self._walk(entry.path, shown, suffix, deep)
                else:
                    self.findings.concern(
                        Spot(shown),
                        "not-read",
                        "This folder is not read.",
                        "Move its files up, or remove it.",
                    )
            elif entry.name.endswith(suffix):
                yield shown
            else:
                good = free_name(entry.name, suffix, _names_in(Path(folder)))
                message = f"This file is not read; files here end in {suffix}."
                if not is_text_file(entry.name):
                    instead = f"Save what it says as plain text that ends in {suffix}, or move it: another name makes no text of it."
                else:
                    instead = f"Rename it to {good}, or move it." if good else "Rename it, or move it."
                self.findings.concern(Spot(shown), "not-read", message, instead)

    def _leads_inside(self, path: Path, spot: Spot) -> bool:
        """False, with a fault, for a link that leads out of content, nowhere, or to a folder."""
        try:
            target = path.resolve(strict=True)
            inside = target.is_relative_to(self.content.resolve())
        except (OSError, RuntimeError):
            self.findings.fault(
                spot, "broken-link", "This is a link that leads nowhere.", "Put the file itself here."
            )
            return False
        if not inside:
            self.findings.fault(
                spot,
                "link-outside",
                "This is a link out of the content folder; such files are not read.",
                "Put the file itself here.",
            )
            return False
        if target.is_dir():
            self.findings.fault(
                spot,
                "link-outside",
                "This is a link to a folder; such links are not followed.",
                "Put the files themselves here.",
            )
            return False
        return True

    def _bytes(self, path: Path, most: int, spot: Spot) -> bytes | None:
        try:
            status = path.stat()
            if not S_ISREG(status.st_mode) and not S_ISDIR(status.st_mode):
                self.findings.fault(
                    spot, "unreadable", "This is a pipe or device, not a file.", "Put the file itself here."
                )
                return None
            if status.st_size > most:
                self.findings.fault(
                    spot,
                    "huge-file",
                    f"The file is larger than {most // 1000:,} kB.",
                    "Check that it is the right file, or split it.",
                )
                return None
            return path.read_bytes()
        except IsADirectoryError:
            self.findings.fault(
                spot,
                "folder-not-file",
                f"{path.name} is a folder; a file is expected here.",
                "Remove or rename the folder.",
            )
        except OSError as error:
            self.findings.fault(
                spot,
                "unreadable",
                f"The file cannot be read ({error.strerror or error}).",
                "Check that it exists, and its permissions.",
            )
        return None

    def _text(self, shown: str, most: int = MOST_BYTES, strict: bool = True) -> str | None:
        """A file's text with line feeds, or None with a fault. `strict` texts are those people write by hand."""
        as_if = self._as_if.get(shown)
        data = as_if.encode() if as_if is not None else self._bytes(self.root / shown, most, Spot(shown))
        if data is None:
            return None
        if data.startswith(b"\xef\xbb\xbf"):
            if strict:
                self.findings.fault(
                    Spot(shown),
                    "byte-order-mark",
                    "The file begins with an invisible byte-order mark.",
                    "Save it as UTF-8 without BOM.",
                )
            data = data[3:]
        try:
            text = data.decode("utf-8")
        except UnicodeDecodeError as error:
            before = data[: error.start].decode("utf-8")
            line = before.count("\n") + 1
            column = len(before) - (before.rfind("\n") + 1) + 1
            self.findings.fault(
                Spot(shown, line, column),
                "not-utf-8",
                f"The byte 0x{data[error.start]:02X} here is not UTF-8 text.",
                "Save the file as UTF-8.",
            )
            return None
        if "\r" in text:
            if strict:
                line = text.count("\n", 0, text.index("\r")) + 1
                self.findings.fault(
                    Spot(shown, line, 1),
                    "line-ends",
                    "The lines of this file end in carriage returns (CRLF).",
                    "Save it with Unix line ends (LF).",
                )
            text = text.replace("\r\n", "\n").replace("\r", "\n")
        if "\0" in text:
            line = text.count("\n", 0, text.index("\0")) + 1
            self.findings.fault(
                Spot(shown, line, 1),
                "control-character",
                "The file holds a NUL character: it is no plain text, or text in another encoding.",
                "Save what it says as plain text in UTF-8.",
            )
            return None
        unseen = unseen_in(text) if strict else None
        if unseen is not None:
            spot = Spot(shown, unseen.line, unseen.column)
            self.findings.concern(spot, unseen.check, unseen.message, unseen.instead)
        return text

    def _check_tabs(self, shown: str, text: str, first_line: int = 1) -> None:
        index = text.find("\t")
        if index >= 0:
            line = text.count("\n", 0, index)
            column = index - (text.rfind("\n", 0, index) + 1) + 1
            self.findings.fault(
                Spot(shown, first_line + line, column),
                "tab",
                *TAB,
            )

    def _without_separators(self, shown: str, text: str) -> str:
        """Spaces for the invisible characters that end a line in YAML and in no editor; a fault for the first."""
        found = _SEPARATORS.search(text)
        if found is None:
            return text
        before = text[: found.start()]
        self.findings.fault(
            Spot(shown, before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1),
            "control-character",
            f"An invisible line separator stands here (U+{ord(found[0]):04X}).",
            "Delete it, or press Enter there instead.",
        )
        return _SEPARATORS.sub(" ", text)

    def _yaml(self, shown: str, what: str) -> Mapping | None:
        text = self._text(shown)
        if text is None:
            return None
        if not text.strip():
            self.findings.fault(
                Spot(shown), "empty-file", "The file is empty.", f"Write {what} with one `key: value` a line."
            )
            return None
        self._check_tabs(shown, text)
        text = self._without_separators(shown, text)
        node, problems = compose(text)
        self.findings.problems(shown, problems)
        if node is not None:
            self._check_comments(shown, node, text)
        if node is not None and not isinstance(node, Mapping):
            self.findings.fault(
                Spot(shown, node.line, node.column),
                "wrong-shape",
                "The file is not a set of keys.",
                f"Write {what} with one `key: value` a line.",
            )
            return None
        if node is None and not problems:
            self.findings.fault(
                Spot(shown),
                "empty-file",
                "The file holds only comments.",
                f"Write {what} with one `key: value` a line.",
            )
        return node

    def _matter(self, shown: str) -> Matter:
        text = self._text(shown)
        if text is None:
            return Matter(None)
        end = max(text.find("\n---", text.find("---") + 3), 0)
        self._check_tabs(shown, text[:end])
        matter = split_matter(self._without_separators(shown, text[:end]) + text[end:])
        self.findings.problems(shown, matter.problems)
        control = control_in(matter.body, matter.body_line)
        if control is not None:
            self.findings.problems(shown, [control])
        if matter.node is not None and " #" in text[:end]:
            self._check_comments(shown, matter.node, text)
        return matter

    def _check_comments(self, shown: str, node: Node, text: str) -> None:
        for problem in words_in_comments(node, text):
            self.findings.concern(
                Spot(shown, problem.line, problem.column), problem.check, problem.message, problem.instead
            )

    def _named(self, folder: str, name: str, spot: Spot) -> Path | None:
        """A file that another names, inside its folder; a fault with the nearest name otherwise."""
        parts = name.split("/")
        path = self.content / folder / name
        if name.startswith("/") or "\\" in name or any(part in ("", ".", "..") for part in parts):
            self.findings.fault(
                spot,
                "file-name",
                f"'{name}' is not a file's name inside content/{folder}/.",
                "Write the file's name only.",
            )
            return None
        if not _is_file(path):
            twin = looks_the_same(path.name, _names_in(path.parent))
            if twin:
                good = free_name(twin, path.suffix, _names_in(path.parent))
                self.findings.fault(
                    spot,
                    "unknown-file",
                    f"The file content/{folder}/{name} has its accents in other signs than this name, though both look the same.",
                    f"Rename the file to {good} and write: {name[: -len(path.name)]}{good}"
                    if good
                    else "Rename the file in plain letters, and write that name.",
                )
                return None
            known = sorted(
                each.name
                for each in (self.content / folder).glob("*")
                if each.is_file() and _is_text(each.name)
            )
            close = get_close_matches(name, known, n=1, cutoff=0.5)
            self.findings.fault(
                spot,
                "unknown-file",
                f"There is no file content/{folder}/{name}.",
                f"Did you mean '{close[0]}'?" if close else "Put the file there, or remove its name here.",
            )
            return None
        shown = Spot(self._shown(path))
        resolved = path.resolve()
        if not resolved.is_relative_to(self.content.resolve()):
            self.findings.fault(
                shown,
                "link-outside",
                "This is a link out of the content folder; such files are not read.",
                "Put the file itself here.",
            )
            return None
        return path

    # --- records ---

    def _station(self) -> Station | None:
        path = self.content / "station.yaml"
        if path.is_symlink() and not self._leads_inside(path, Spot(self._shown(path))):
            return None
        if not path.exists():
            self.findings.fault(
                Spot(f"{CONTENT}/station.yaml"),
                "missing",
                "There is no content/station.yaml.",
                "Write it as the README shows: station, programme, address, time_zone, language, contact, counties.",
            )
            return None
        node = self._yaml(self._shown(path), "the station")
        return read_station(node, self._shown(path), self.findings) if node is not None else None

    def _id(self, shown: str, folder: str) -> str | None:
        """A file's path under its folder without suffix, when each part can stand in an address."""
        relative = shown[len(f"{CONTENT}/{folder}/") :].rpartition(".")[0]
        if all(is_slug(part) for part in relative.split("/")):
            return relative
        path = self.root / shown
        *folders, _ = relative.split("/")
        above = [slug(part) for part in folders]
        target = self.content.joinpath(folder, *above)
        # In a folder of another name it may be called what it is, unless that folder is there too and has one.
        beside = _names_in(target) | (_names_in(path.parent) - ({path.name} if above != folders else set()))
        good = free_name(path.name, path.suffix, beside)
        self.findings.fault(
            Spot(shown),
            "file-name",
            f"The name of {path.name} cannot stand in an address: only small letters, digits and hyphens can.",
            f"Rename it to {'/'.join([*above, good])}"
            if good and all(above)
            else f"Rename it with small letters, digits and hyphens, and {path.suffix} at the end.",
        )
        return None

    def _places(self) -> None:
        places: dict[str, Place] = {}
        broken: set[str] = set()
        for path in self._files("places", ".yaml"):
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
        if self.only is None or not is_slug(name) or shown in self.only or not _is_file(self.root / shown):
            return None
        return self._place(shown)

    def _place(self, shown: str) -> Place | None:
        place_id, node = self._id(shown, "places"), self._yaml(shown, "the place")
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
        for path in self._files("episodes", ".md"):
            if not self._is_asked_for(path):
                continue
            episode = self._kept(path, self._station_digest, Episode, self._episode)
            if episode is not None:
                episodes.append(episode)
        return tuple(episodes)

    def _episode(self, shown: str) -> Episode | None:
        episode_id, matter = self._id(shown, "episodes"), self._matter(shown)
        episode = read_episode(matter, shown, episode_id or "", self.context)
        return episode if episode_id is not None else None

    def _stories(self, episodes: tuple[Episode, ...]) -> tuple[Story, ...]:
        in_episodes = _in_episodes(episodes)
        asked: list[_AskedStory] = []
        known: set[str] = set()
        for path in self._files("stories", ".md", deep=True):
            story_id = self._id(path, "stories")
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
            story = read_story(self._matter(path), path, story_id or "", aired, ids, self.context)
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

    def _check_names(self, stories: list[Story], episodes: tuple[Episode, ...], known: set[str]) -> None:
        """Every story that another file names must exist."""
        ids = sorted(known)

        def check(name: str, origin: Origin, key: str) -> None:
            if name and name not in known:
                self.findings.fault(
                    origin.of(key),
                    "unknown-story",
                    f"There is no story {name}.",
                    did_you_mean(name, ids, limit=0)
                    or "Write a story's path under content/stories, without .md",
                )

        for episode in episodes:
            told: set[str] = set()
            for entry in episode.rundown:
                check(entry.story, entry.origin, "story")
                if entry.story in told:
                    self.findings.concern(
                        entry.origin.of("story"),
                        "story-twice",
                        f"{entry.story} stands twice in this rundown.",
                        "Remove one of them.",
                    )
                told.add(entry.story)
            for promise in episode.promises:
                # An episode's own name stands for all its stories.
                if promise.kept_by != episode.id:
                    check(promise.kept_by, promise.origin, "kept_by")
        for story in stories:
            check(story.follows, story.origin, "follows")
            if story.follows == story.id:
                self.findings.fault(
                    story.origin.of("follows"),
                    "unknown-story",
                    "A story cannot follow itself.",
                    "Name the earlier story, or remove the line.",
                )
            check(story.translates, story.origin, "translates")
        self._check_translations(stories)
        self._known_stories = frozenset(known)

    def _check_translations(self, stories: list[Story]) -> None:
        """A translation names a story that is none itself, in another language."""
        by_id = {story.id: story for story in stories}
        station = self.context.station.language if self.context.station is not None else ""
        for story in stories:
            original = by_id.get(story.translates)
            if original is None:
                continue
            spot = story.origin.of("translates")
            if original.translates:
                self.findings.fault(
                    spot,
                    "translation",
                    f"{original.id} is a translation itself."
                    if original is not story
                    else "A story cannot be a translation of itself.",
                    "Name the story that was told first, or remove the line.",
                )
            elif (story.language or station).lower() == (original.language or station).lower():
                self.findings.fault(
                    spot,
                    "translation",
                    f"{original.id} is in the same language as this story.",
                    "Write this story's language, such as: language: es",
                )

    def _pages(self) -> tuple[StationPage, ...]:
        pages: list[StationPage] = []
        for path in self._files("pages", ".md"):
            page = self._page(path)
            if page is not None:
                pages.append(page)
        return tuple(pages)

    def _page(self, shown: str) -> StationPage | None:
        page_id, matter = self._id(shown, "pages"), self._matter(shown)
        page = read_page(matter, shown, page_id or "", self.context)
        return page if page_id is not None else None

    def _picture(self, name: str, spot: Spot) -> Picture | None:
        self._used.add(f"{CONTENT}/photos/{name}")
        path = None if name in self._pictures else self._named("photos", name, spot)
        if path is not None:
            before = len(self.findings.found)
            picture, message, instead = measure(path, self._shown(path))
            if picture is None:
                self.findings.fault(Spot(self._shown(path)), "picture", message, instead)
            self._pictures[name] = picture, self.findings.found[before:]
        return self._shared(self._pictures.get(name))

    def _captions_of(self, name: str, spot: Spot) -> Captions | None:
        self._used.add(f"{CONTENT}/captions/{name}")
        path = None if name in self._captions else self._named("captions", name, spot)
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
        shown = self._shown(path)
        text = self._text(shown, MOST_DATA_BYTES, strict=False)
        if text is None:
            return None
        cues, problems = read_captions(text)
        for line, message, instead in problems:
            self.findings.fault(Spot(shown, line, 1), "captions", message, instead)
        data = self._bytes(path, MOST_DATA_BYTES, Spot(shown))
        return (
            Captions(shown, hashlib.sha256(data).hexdigest(), cues)
            if data is not None and not problems
            else None
        )

    def _listing(self, name: str, spot: Spot) -> tuple[ListingEntry, ...]:
        self._used.add(f"{CONTENT}/listings/{name}")
        path = self._named("listings", name, spot)
        text = self._text(self._shown(path), MOST_DATA_BYTES, strict=False) if path is not None else None
        return (
            read_listing(text, self._shown(path), self.context)
            if path is not None and text is not None
            else ()
        )

    def _areas(self, station: Station | None) -> tuple[Area, ...]:
        if station is None or not station.map:
            return ()
        spot = station.origin.of("map")
        if "/" in station.map or not _is_file(self.content / station.map):
            self.findings.fault(
                spot,
                "unknown-file",
                f"There is no file content/{station.map}.",
                "Put the map there, or remove the line.",
            )
            return ()
        path = self.content / station.map
        if path.is_symlink() and not self._leads_inside(path, Spot(self._shown(path))):
            return ()
        text = self._text(self._shown(path), MOST_DATA_BYTES, strict=False)
        if text is None:
            return ()
        areas, problems = self.read_map(text, {county.name: county.key for county in station.counties})
        for line, message, instead in problems:
            self.findings.fault(Spot(self._shown(path), line, 1), "map", message, instead)
        return areas

    def _check_links(
        self, stories: tuple[Story, ...], episodes: tuple[Episode, ...], pages: tuple[StationPage, ...]
    ) -> None:
        records: list[Story | Episode | StationPage] = [*stories, *episodes, *pages]
        for record in records:
            for link in record.links:
                self._check_link(link, link.spot(record.origin.spot.path))

    def _check_link(self, link: Link, spot: Spot) -> None:
        target = link.target.strip()
        if link.picture:
            self.findings.concern(
                spot,
                "picture-in-body",
                "A picture inside the text is not shown; only its words are.",
                "Name the picture under photo: in the front matter.",
            )
        elif target.startswith("#"):
            self.findings.concern(
                spot,
                "link-in-page",
                f"The link to '{target[:60]}' leads to a part of its own page; such links are not made.",
                "Remove it, or name the story or address that is meant.",
            )
        elif target.startswith("/") and not target.startswith("//"):
            return  # the edition knows the addresses of the site, and checks it
        elif target.startswith("//") or ":" in target.split("/", 1)[0]:
            # Asked of the function that makes the link, so that what is refused there is told here.
            if not outside_address(target):
                self.findings.fault(
                    spot,
                    "link-scheme",
                    f"The link to '{target[:60]}' is not one this site makes.",
                    "Use a whole https:, http:, mailto: or tel: address, or a story's name such as 2026/coat-closet",
                )
        else:
            name = target.split("#", 1)[0]
            whole = "" if name in self._known_stories else _meant_as_address(target)
            if whole:
                self.findings.fault(
                    spot,
                    "link-scheme",
                    f"The link leads to '{target[:60]}', which is not a whole address.",
                    f"Write instead: {whole}",
                )
            elif not target:
                self.findings.fault(
                    spot,
                    "unknown-story",
                    "The link has no address: nothing stands between its brackets.",
                    "Write a whole address there, or a story's path such as 2026/coat-closet; or take the brackets away.",
                )
            elif name not in self._known_stories:
                meant = _story_meant(name, self._known_stories)
                self.findings.fault(
                    spot,
                    "unknown-story",
                    f"The link leads to '{target[:60]}', and there is no such story.",
                    (
                        f"Write instead: {meant}"
                        if meant
                        else did_you_mean(name, sorted(self._known_stories), limit=0)
                    )
                    or "Write a story's path under content/stories, without .md",
                )


_HOST = re.compile(
    r"(?:[a-z0-9-]+\.)+(?:com|org|net|edu|gov|info|us|example)(?:[:/?#]|\Z)|www\.", re.IGNORECASE
)
"""How an address begins that lacks its `https://`: with `www.`, or with a host under a usual name (common practice, no source)."""


def _meant_as_address(target: str) -> str:
    """The address that leaves the site for a target without its scheme; empty for one that is none."""
    if _HOST.match(target):
        whole = f"https://{target}"
    elif re.fullmatch(r"[^\s@/]+@[^\s@/]+\.[^\s@/]+", target):
        whole = f"mailto:{target}"
    else:
        return ""
    return whole if outside_address(whole) else ""


def _story_meant(target: str, known: Collection[str]) -> str:
    """The one story whose file a link names: by its path from elsewhere, with `.md`, or by its last part; empty for none or several."""
    name = re.sub(r"\A(?:\.{0,2}/)*(?:content/)?(?:stories/)?", "", target.removesuffix(".md"))
    meant = [each for each in known if name and (each == name or each.endswith(f"/{name}"))]
    return meant[0] if len(meant) == 1 else ""


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


def _is_file(path: Path) -> bool:
    """False also for a name too long for the disk."""
    try:
        return path.is_file()
    except OSError:
        return False


def _is_same(one: Path, other: Path) -> bool:
    try:
        return one.samefile(other)
    except OSError:
        return False


def _names_in(folder: Path) -> set[str]:
    """The names of what lies in a folder; of one that cannot be looked into, none."""
    try:
        return {each.name for each in folder.iterdir() if _is_text(each.name)}
    except OSError:
        return set()


def _is_text(name: str) -> bool:
    """False for a file name whose bytes are not UTF-8; the system hands them on as lone surrogates."""
    return as_text(name) == name


def _in_place(found: Iterable[Finding]) -> tuple[Finding, ...]:
    return tuple(sorted(set(found), key=_finding_order))


def _finding_order(finding: Finding) -> tuple[str, int, int, str, str, str]:
    spot = finding.spot
    return (spot.path, spot.line, spot.column, finding.weight, finding.check, finding.message)
