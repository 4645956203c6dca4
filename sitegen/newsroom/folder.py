"""Reading a whole content folder: every record and every finding, in one run.

The only room of the newsroom that opens files. Whatever is wrong with a file becomes a located fault; no
file can stop the reading of the others.
"""

from __future__ import annotations

import hashlib
import os
import re
from collections.abc import Callable, Collection, Iterator
from collections.abc import Mapping as MappingLike
from datetime import date, time
from difflib import get_close_matches
from functools import cached_property
from pathlib import Path
from stat import S_ISDIR, S_ISREG
from typing import Any

from msgspec import msgpack

from sitegen.newsroom.body import outside_address
from sitegen.newsroom.captions import read_captions
from sitegen.newsroom.context import Context
from sitegen.newsroom.episodes import read_episode, read_page
from sitegen.newsroom.fields import Findings, did_you_mean
from sitegen.newsroom.keeping import NoShelf, Shelf
from sitegen.newsroom.listings import read_listing
from sitegen.newsroom.matter import Matter, split_matter
from sitegen.newsroom.nodes import Mapping, compose
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
    When,
)
from sitegen.newsroom.slugs import is_slug, slug
from sitegen.newsroom.station import read_station
from sitegen.newsroom.stories import read_story

CONTENT = "content"
MOST_BYTES = 1_000_000
"""Of one text a person writes; the longest story of the demonstration has under 10,000."""
MOST_DATA_BYTES = 20_000_000
"""Of a map or a caption file."""
_SEPARATORS = re.compile("[\x85\u2028\u2029]")
"""What ends a line in YAML 1.1 readers and in no editor."""


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

    `read_map` is handed in, because maps are read by geography, and nothing here may depend on it. `only`: paths of the story
    files to read, None for all. `station` stands in for one whose file cannot be read. Stories that `shelf` has are not read
    again.
    """
    return _Folder(root, read_map, only, station, shelf or NoShelf()).read()


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
        self.findings = Findings()
        self.context = Context(self.findings, None)
        self._pictures: dict[str, Picture | None] = {}
        self._captions: dict[str, Captions | None] = {}
        self._known_stories: frozenset[str] = frozenset()

    def read(self) -> Reading:
        station = self._station() or self.stand_in
        self.context = Context(self.findings, station)
        self._places()
        episodes = self._episodes()
        stories = self._stories(episodes)
        pages = self._pages()
        areas = self._areas(station)
        self._check_links(stories, episodes, pages)
        found = tuple(sorted(set(self.findings.found), key=_finding_order))
        if station is None:
            return Reading(None, found)
        places = tuple(place for _, place in sorted(self.context.places.items()))
        return Reading(Newsroom(station, places, stories, episodes, pages, areas), found)

    # --- files ---

    def _shown(self, path: Path) -> str:
        return path.relative_to(self.root).as_posix()

    def _files(self, name: str, suffix: str, deep: bool = False) -> Iterator[Path]:
        """The files of a folder under content with a suffix, sorted; what else lies there is reported."""
        yield from self._walk(self.content / name, suffix, deep)

    def _walk(self, folder: Path, suffix: str, deep: bool) -> Iterator[Path]:
        try:
            entries = sorted(os.scandir(folder), key=lambda entry: entry.name)
        except FileNotFoundError:
            return
        except OSError as error:
            self.findings.fault(
                Spot(self._shown(folder)),
                "unreadable",
                f"This folder cannot be read ({error.strerror or error}).",
                "Check that it is a folder, and its permissions.",
            )
            return
        for entry in entries:
            path = Path(entry.path)
            if entry.name.startswith(".") or entry.name.endswith(("~", ".swp", ".bak", ".orig")):
                continue
            if not _is_text(entry.name):
                name = entry.name.encode("utf-8", "backslashreplace").decode()
                self.findings.fault(
                    Spot(f"{self._shown(folder)}/{name}"),
                    "file-name",
                    "The name of this file is not UTF-8 text.",
                    "Rename it with small letters, digits and hyphens.",
                )
                continue
            spot = Spot(self._shown(path))
            if entry.is_symlink() and not self._leads_inside(path, spot):
                continue
            if entry.is_dir():
                if entry.name.endswith(suffix):
                    self.findings.fault(
                        spot,
                        "folder-not-file",
                        f"{entry.name} is a folder; a file is expected here.",
                        f"Rename the folder so that it does not end in {suffix}.",
                    )
                elif deep:
                    yield from self._walk(path, suffix, deep)
                else:
                    self.findings.concern(
                        spot, "not-read", "This folder is not read.", "Move its files up, or remove it."
                    )
            elif entry.name.endswith(suffix):
                yield path
            else:
                self.findings.concern(
                    spot,
                    "not-read",
                    f"This file is not read; files here end in {suffix}.",
                    f"Rename it to {path.stem}{suffix}, or move it.",
                )

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

    def _text(self, path: Path, most: int = MOST_BYTES, strict: bool = True) -> str | None:
        """A file's text with line feeds, or None with a fault. `strict` texts are those people write by hand."""
        shown = self._shown(path)
        data = self._bytes(path, most, Spot(shown))
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
                "The file holds a NUL character.",
                "Delete it, or save the file as plain text.",
            )
            return None
        return text

    def _check_tabs(self, shown: str, text: str, first_line: int = 1) -> None:
        index = text.find("\t")
        if index >= 0:
            line = text.count("\n", 0, index)
            column = index - (text.rfind("\n", 0, index) + 1) + 1
            self.findings.fault(
                Spot(shown, first_line + line, column),
                "tab",
                "A tab stands in the front matter or YAML.",
                "Write spaces instead.",
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

    def _yaml(self, path: Path, what: str) -> Mapping | None:
        text = self._text(path)
        if text is None:
            return None
        shown = self._shown(path)
        if not text.strip():
            self.findings.fault(
                Spot(shown), "empty-file", "The file is empty.", f"Write {what} with one `key: value` a line."
            )
            return None
        self._check_tabs(shown, text)
        text = self._without_separators(shown, text)
        node, problems = compose(text)
        self.findings.problems(shown, problems)
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

    def _matter(self, path: Path) -> Matter:
        text = self._text(path)
        if text is None:
            return Matter(None)
        shown = self._shown(path)
        end = max(text.find("\n---", text.find("---") + 3), 0)
        self._check_tabs(shown, text[:end])
        matter = split_matter(self._without_separators(shown, text[:end]) + text[end:])
        self.findings.problems(shown, matter.problems)
        return matter

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
        node = self._yaml(path, "the station")
        return read_station(node, self._shown(path), self.findings) if node is not None else None

    def _id(self, path: Path, folder: str) -> str | None:
        """A file's path under its folder without suffix, when each part can stand in an address."""
        relative = path.relative_to(self.content / folder).with_suffix("").as_posix()
        if all(is_slug(part) for part in relative.split("/")):
            return relative
        good = "/".join(slug(part) or "…" for part in relative.split("/"))
        self.findings.fault(
            Spot(self._shown(path)),
            "file-name",
            f"The name of {path.name} cannot stand in an address: only small letters, digits and hyphens can.",
            f"Rename it to {good}{path.suffix}",
        )
        return None

    def _places(self) -> None:
        places: dict[str, Place] = {}
        broken: set[str] = set()
        for path in self._files("places", ".yaml"):
            place_id = self._id(path, "places")
            node = self._yaml(path, "the place")
            if place_id is None:
                broken.add(path.stem)
                continue
            place = read_place(node, self._shown(path), place_id, self.context) if node is not None else None
            if place is None:
                broken.add(place_id)
            else:
                places[place_id] = place
        self.context = Context(
            self.findings,
            self.context.station,
            _Noting(places, self._used),
            frozenset(broken),
            self._picture,
            self._captions_of,
            self._listing,
        )

    def _episodes(self) -> tuple[Episode, ...]:
        episodes: list[Episode] = []
        for path in self._files("episodes", ".md"):
            episode_id, matter = self._id(path, "episodes"), self._matter(path)
            episode = read_episode(matter, self._shown(path), episode_id or "", self.context)
            if episode is not None and episode_id is not None:
                episodes.append(episode)
        return tuple(episodes)

    def _stories(self, episodes: tuple[Episode, ...]) -> tuple[Story, ...]:
        in_episodes: dict[str, list[Episode]] = {}
        for episode in episodes:
            for entry in episode.rundown:
                in_episodes.setdefault(entry.story, []).append(episode)
        stories: list[Story] = []
        known: set[str] = set()
        for path in self._files("stories", ".md", deep=True):
            if self.only is not None and self._shown(path) not in self.only:
                continue
            story_id = self._id(path, "stories")
            if story_id is not None:
                known.add(story_id)
            holding = in_episodes.get(story_id or "", [])
            story = self._story(path, story_id, holding)
            if story is not None:
                stories.append(story)
        self._check_names(stories, episodes, known)
        return tuple(sorted(stories, key=lambda story: story.id))

    def _story(self, path: Path, story_id: str | None, holding: list[Episode]) -> Story | None:
        """A story's record, from the shelf where it is there; None when it cannot be read or has no address."""
        shown = self._shown(path)
        aired = min((episode.aired for episode in holding), key=_when_order, default=None)
        ids = tuple(dict.fromkeys(episode.id for episode in holding))
        around = self._station_digest + msgpack.encode((aired, ids))
        kept = self.shelf.take(shown, around)
        if kept is not None:
            self.findings.found += kept[1]
            return kept[0]
        before = len(self.findings.found)
        self._used.clear()
        story = read_story(self._matter(path), shown, story_id or "", aired, ids, self.context)
        if story is None or story_id is None:
            return None
        found = tuple(self.findings.found[before:])
        if not any(finding.weight is Weight.FAULT for finding in found):
            self.shelf.put(shown, around, frozenset({shown, *self._used}), story, found)
        return story

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
            page_id, matter = self._id(path, "pages"), self._matter(path)
            page = read_page(matter, self._shown(path), page_id or "", self.context)
            if page is not None and page_id is not None:
                pages.append(page)
        return tuple(pages)

    def _picture(self, name: str, spot: Spot) -> Picture | None:
        self._used.add(f"{CONTENT}/photos/{name}")
        if name not in self._pictures:
            path = self._named("photos", name, spot)
            if path is None:
                return None
            picture, message, instead = measure(path, self._shown(path))
            if picture is None:
                self.findings.fault(Spot(self._shown(path)), "picture", message, instead)
            self._pictures[name] = picture
        return self._pictures[name]

    def _captions_of(self, name: str, spot: Spot) -> Captions | None:
        self._used.add(f"{CONTENT}/captions/{name}")
        if name not in self._captions:
            path = self._named("captions", name, spot)
            if path is None:
                return None
            self._captions[name] = self._read_captions(path)
        return self._captions[name]

    def _read_captions(self, path: Path) -> Captions | None:
        shown = self._shown(path)
        text = self._text(path, MOST_DATA_BYTES, strict=False)
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
        text = self._text(path, MOST_DATA_BYTES, strict=False) if path is not None else None
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
        text = self._text(path, MOST_DATA_BYTES, strict=False)
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
                self._check_link(link, Spot(record.origin.spot.path, link.line, 1))

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
            if name not in self._known_stories:
                self.findings.fault(
                    spot,
                    "unknown-story",
                    f"The link leads to '{target[:60]}', and there is no such story.",
                    did_you_mean(name, sorted(self._known_stories), limit=0)
                    or "Write a story's path under content/stories, without .md",
                )


class _Noting(dict[str, Place]):
    """The places by id, noting the file of each that is asked for."""

    def __init__(self, places: dict[str, Place], used: set[str]) -> None:
        super().__init__(places)
        self._used = used

    def get(self, key: str, default: Any = None) -> Any:
        self._used.add(f"{CONTENT}/places/{key}.yaml")
        return super().get(key, default)


def _is_file(path: Path) -> bool:
    """False also for a name too long for the disk."""
    try:
        return path.is_file()
    except OSError:
        return False


def _is_text(name: str) -> bool:
    """False for a file name whose bytes are not UTF-8; the system hands them on as lone surrogates."""
    return not any("\ud800" <= letter <= "\udfff" for letter in name)


def _when_order(when: When) -> tuple[date, time]:
    return (when.day, when.clock or time.min)


def _finding_order(finding: Finding) -> tuple[str, int, int, str, str, str]:
    spot = finding.spot
    return (spot.path, spot.line, spot.column, finding.weight, finding.check, finding.message)
