"""Setting single pages and files of an edition for the preview: composed, typeset and checked when they are looked at.

Everything is made by what the build makes it with. Nothing is written but derived pictures, in a folder of the preview's own.
"""

from __future__ import annotations

import gc
from collections import OrderedDict
from collections.abc import Hashable, Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from threading import RLock
from typing import Generic, TypeVar

from msgspec import structs

from sitegen.desk.looking import CACHE, Look, files_of
from sitegen.desk.stepping import Steps, Truth
from sitegen.edition import addresses
from sitegen.edition.compose import Composer
from sitegen.edition.desk import DeskView, desk_view
from sitegen.edition.due import due
from sitegen.edition.models import (
    Asset,
    CopyAsset,
    EpisodePage,
    File,
    LeadPage,
    NotFoundPage,
    Page,
    PictureAsset,
    PlacePage,
    StoryPage,
    TextPage,
    WithdrawnPage,
)
from sitegen.edition.published import Kept
from sitegen.newsroom.keeping import MemoryDrawer
from sitegen.newsroom.records import Finding, Newsroom, Reading, Story
from sitegen.proof.checks.base import PageFinding
from sitegen.proof.copycheck import check_copy
from sitegen.proof.pagecheck import Judge, check_page, contrast_judge
from sitegen.site.accepted import Accepted
from sitegen.site.derived import DerivedStore
from sitegen.site.order import workshop_for
from sitegen.site.unsaid import Unsaid
from sitegen.typeset.cards import Card
from sitegen.typeset.pages import Typesetter
from sitegen.typeset.pictures import PictureError
from sitegen.typeset.theme import ThemeError

EDITIONS_KEPT = 4
SHEETS_KEPT = 400


class SettingError(Exception):
    """A page that cannot be set, in words: the theme or a picture is broken."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A page as it was set, and what is to be said about it."""

    page: Page
    data: bytes
    main: str
    """The file that it is about; empty for a list."""
    files: frozenset[str]
    """The files that its own words come from."""
    copy: tuple[Finding, ...]
    """What was found in these files, faults first; `Room.copy` knows more."""
    proof: tuple[PageFinding, ...]
    """What the checks of pages found in it."""


@dataclass(frozen=True, slots=True)
class Moment:
    """What of a station is looked at: its files as they were seen, a moment, and whether held stories are let through."""

    look: Look
    as_of: datetime
    """UTC."""
    held: bool = False


class Room:
    """Sets pages for a station's root. Safe to ask from many threads; one page is set at a time."""

    def __init__(self, root: Path) -> None:
        self._root = root
        self._lock = RLock()
        self._kept = {False: Kept(), True: Kept()}
        self._composers: _Newest[Composer] = _Newest(EDITIONS_KEPT)
        self._sheets: _Newest[Sheet | None] = _Newest(SHEETS_KEPT)
        self._desks: _Newest[DeskView] = _Newest(EDITIONS_KEPT)
        self._findings: _Newest[tuple[Finding, ...]] = _Newest(EDITIONS_KEPT)
        self._released: tuple[Newsroom, Newsroom] | None = None
        self._typesetter: tuple[tuple[str, str], Typesetter, Judge] | None = None
        self._assets: dict[str, Asset] = {}
        """By their addresses, which name what they are made of: right for ever."""
        self._cards: dict[str, Card] = {}
        self._store = DerivedStore(root / CACHE / "pictures")
        self._steps = Steps()
        self._drawer = MemoryDrawer()
        self._silent: _Newest[tuple[Finding, ...]] = _Newest(EDITIONS_KEPT)
        self._unsaid = Unsaid(Accepted(workshop_for(root, None).accepted), root)

    def sheet(self, moment: Moment, address: str, root: str = "/") -> Sheet | None:
        """The page at a site address; None where the edition has none. `root` is where the page for the lost finds the site's
        root. Raises SettingError."""
        with self._lock:
            key = (moment.look.number, moment.as_of, moment.held, address, root)
            if key not in self._sheets:
                is_new = (moment.look.number, moment.as_of, moment.held) not in self._composers
                self._sheets[key] = self._set(moment, address, root)
                if is_new:
                    settle()
            return self._sheets[key]

    def file(self, moment: Moment, address: str) -> bytes | None:
        """A file of the site that is no page; None where the edition has none. Raises SettingError."""
        with self._lock:
            typesetter, _ = self._typeset(moment)
            own = dict(typesetter.theme_files)
            if address in own:
                return own[address]
            found = self._derived(address)
            if found is None:
                found = self._of_edition(moment, typesetter, address)
            if found is None and address.startswith((addresses.PICTURES, addresses.CAPTIONS)):
                # Of a page that was not looked at.
                composer = self._composer(moment)
                for page in composer.pages:
                    self._remember(composer, page, typesetter)
                found = self._derived(address)
            return found

    def has(self, moment: Moment, address: str) -> bool:
        """Whether the edition has a page at an address."""
        with self._lock:
            return self._composer(moment).has(address)

    def next_change(self, moment: Moment) -> datetime | None:
        """The first instant (UTC) after the moment at which any page would differ."""
        with self._lock:
            return self._steps.after(moment.as_of, (moment.look.number, moment.held), self._until_of(moment))

    def previous_change(self, moment: Moment) -> datetime | None:
        """The last instant (UTC) before the moment at which any page became another; None when there was none."""
        with self._lock:
            return self._steps.before(moment.as_of, (moment.look.number, moment.held), self._until_of(moment))

    def newsroom(self, moment: Moment) -> Newsroom:
        """The records that are shown, with nothing on hold where that is asked for. Raises SettingError."""
        newsroom = moment.look.newsroom
        if newsroom is None:
            raise SettingError("content/station.yaml cannot be read yet, so there is nothing to show.")
        if not moment.held:
            return newsroom
        if self._released is None or self._released[0] is not newsroom:
            self._released = (newsroom, without_holds(newsroom))
        return self._released[1]

    def desk(self, moment: Moment) -> DeskView:
        """What the desk shows. Raises SettingError."""
        with self._lock:
            key = (moment.look.number, moment.as_of)
            if key not in self._desks:
                newsroom, composer = self.newsroom(moment), self._composer(moment)
                what_is_due = due(newsroom, moment.as_of, composer)
                self._desks[key] = desk_view(newsroom, composer.published, what_is_due)
            return self._desks[key]

    def findings(self, moment: Moment) -> tuple[Finding, ...]:
        """Everything found in the copy, in the order of the files. Raises SettingError."""
        with self._lock:
            key = (moment.look.number, moment.as_of)
            if key not in self._findings:
                found = (
                    *moment.look.reading.findings,
                    *self._composer(moment).routes.findings,
                    *check_copy(self.newsroom(moment), moment.as_of, self._drawer),
                )
                self._findings[key] = tuple(found)
            found = (*self._findings[key], *self.unsaid(moment.look, moment.as_of))
            ordered = sorted(
                dict.fromkeys(found), key=lambda each: (each.spot.path, each.spot.line, each.spot.column)
            )
            return tuple(ordered)

    def copy(self, moment: Moment, sheet: Sheet) -> tuple[Finding, ...]:
        """What is to be said at this time of the files behind a page, faults first."""
        unsaid = (
            each
            for each in self.unsaid(moment.look, moment.as_of)
            if each.spot.path in sheet.files and each not in sheet.copy
        )
        return _faults_first((*sheet.copy, *unsaid))

    def unsaid(
        self, look: Look, as_of: datetime, reading: Reading | None = None, also: tuple[str, ...] = ()
    ) -> tuple[Finding, ...]:
        """What viewers may go by and was changed without a word since a build accepted it: in a look's reading, or in another one, which
        differs in some files."""
        if reading is not None or also:
            return self._unsaid.findings(reading or look.reading, look.sources, as_of, also)
        with self._lock:
            # A build may accept it at any moment.
            key = (self._unsaid.sign, look.number, as_of)
            if key not in self._silent:
                self._silent[key] = self._unsaid.findings(look.reading, look.sources, as_of)
            return self._silent[key]

    def accepted_copy(self, look: Look, path: str) -> str:
        """Where a file that is gone lies as the last build accepted it, from the root; empty for one that is there, or that no build has."""
        if path in look.sources.states or not self._unsaid.has(path):
            return ""
        copy = workshop_for(self._root, None).accepted / path
        return copy.relative_to(self._root).as_posix() if copy.is_file() else ""

    # --- making ---

    def _until_of(self, moment: Moment) -> Truth:
        newsroom, kept = self.newsroom(moment), self._kept[moment.held]
        return lambda as_of: Composer(newsroom, as_of, kept).true_until

    def _composer(self, moment: Moment) -> Composer:
        key = (moment.look.number, moment.as_of, moment.held)
        if key not in self._composers:
            kept = self._kept[moment.held]
            self._composers[key] = Composer(self.newsroom(moment), moment.as_of, kept, self._drawer)
        return self._composers[key]

    def _typeset(self, moment: Moment) -> tuple[Typesetter, Judge]:
        theme, language = moment.look.theme, self.newsroom(moment).station.language
        if theme is None:
            raise SettingError(f"The theme cannot be used: {moment.look.theme_problem}")
        key = (theme.digest, language)
        if self._typesetter is None or self._typesetter[0] != key:
            try:
                typesetter = Typesetter(theme, language)
            except ThemeError as error:
                raise SettingError(f"The theme cannot be used: {error}") from error
            files = dict(typesetter.theme_files)
            judge = contrast_judge(files.get, self.newsroom(moment).station.address)
            self._typesetter = (key, typesetter, judge)
            self._sheets.clear()
        return self._typesetter[1], self._typesetter[2]

    def _set(self, moment: Moment, address: str, root: str) -> Sheet | None:
        from jinja2 import TemplateError

        typesetter, judge = self._typeset(moment)
        composer = self._composer(moment)
        page = composer.page(address)
        if page is None:
            return None
        if isinstance(page, NotFoundPage):
            page = structs.replace(page, root=root)
        try:
            data = typesetter.page(page)
        except (TemplateError, ThemeError) as error:
            raise SettingError(f"The theme cannot set this page: {error}") from error
        self._remember(composer, page, typesetter)
        newsroom = self.newsroom(moment)
        main, files, stories = behind(page, newsroom)
        return Sheet(
            page,
            data,
            main,
            files,
            _found(moment, newsroom, files, stories, composer),
            check_page(page.address, data, judge).findings,
        )

    def _remember(self, composer: Composer, page: Page, typesetter: Typesetter) -> None:
        self._assets |= composer.gallery.assets
        card = typesetter.card(page)
        if card is not None:
            self._cards[card.address] = card

    def _derived(self, address: str) -> bytes | None:
        card = self._cards.get(address)
        if card is not None:
            return _bytes(self._store.card(card))
        asset = self._assets.get(address)
        if asset is None:
            return None
        try:
            if isinstance(asset, CopyAsset):
                data = (self._root / asset.source).read_bytes()
                return data if sha256(data).hexdigest() == asset.digest else None
            group = [
                each
                for each in self._assets.values()
                if isinstance(each, PictureAsset)
                and (each.source, each.digest, each.box) == (asset.source, asset.digest, asset.box)
            ]
            made = self._store.pictures(self._root / asset.source, group)
        except (OSError, PictureError):
            return None  # the file changed or went since; the page that names it will be set again
        return _bytes(made[group.index(asset)])

    def _of_edition(self, moment: Moment, typesetter: Typesetter, address: str) -> bytes | None:
        composer = self._composer(moment)
        files: list[File] = []
        if address.startswith("data/places"):
            files = [composer.finder]
        elif address == addresses.SEARCH_DATA or address.startswith(addresses.SEARCH_SHARDS):
            files = [composer.search] if composer.search is not None else []
        elif address.endswith((".atom", ".ics", ".json", ".xml", ".txt")):
            files = list(composer.files)
        for file in files:
            if typesetter.file_address(file) == address:
                return typesetter.file(file)
            parts = dict(typesetter.parts(file))
            if address in parts:
                return parts[address]
        return None


def settle() -> None:
    """What is there now is there to stay, and is made of trees: the collector, which would search all of it again and again
    for a second at a time, needs not look at it any more."""
    gc.collect(1)
    gc.freeze()


def without_holds(newsroom: Newsroom) -> Newsroom:
    """The records as if nobody had put anything on hold: what is released when is as written."""
    return replace(
        newsroom,
        stories=tuple(replace(story, hold=False) if story.hold else story for story in newsroom.stories),
        episodes=tuple(replace(each, hold=False) if each.hold else each for each in newsroom.episodes),
    )


def behind(page: Page, newsroom: Newsroom) -> tuple[str, frozenset[str], tuple[Story, ...]]:
    """The file that a page is about, all files that its own words come from, and the stories among them.

    A list is made of all stories; it is about no file, and of those behind it only the station's counts.
    """

    def story_at(address: str) -> Story:
        return next(story for story in newsroom.stories if addresses.story(story.id) == address)

    match page:
        case StoryPage() | WithdrawnPage():
            story = story_at(page.address)
            airing = (each.origin.spot.path for each in newsroom.episodes if each.id in story.episodes)
            return story.origin.spot.path, files_of(story) | frozenset(airing), (story,)
        case LeadPage():
            story = story_at(page.story.address)
            return story.origin.spot.path, frozenset({story.origin.spot.path}), (story,)
        case EpisodePage():
            episode = next(each for each in newsroom.episodes if addresses.episode(each.id) == page.address)
            files = {episode.origin.spot.path}
            if episode.video is not None and episode.video.captions is not None:
                files.add(episode.video.captions.file)
            return episode.origin.spot.path, frozenset(files), ()
        case PlacePage():
            found = [each.origin for each in newsroom.places if addresses.place(each.id) == page.address]
        case TextPage():
            found = [each.origin for each in newsroom.pages if page.address.startswith(f"{each.id}/")]
        case _:
            return "", frozenset({newsroom.station.origin.spot.path}), ()
    return found[0].spot.path, frozenset({found[0].spot.path}), ()


def _found(
    moment: Moment,
    newsroom: Newsroom,
    files: frozenset[str],
    stories: tuple[Story, ...],
    composer: Composer,
) -> tuple[Finding, ...]:
    """What is to be said of some files: by the reading, by the routes, and by the checks of copy on these files' own records.
    The checks of all ten thousand stories would keep the page waiting; the desk has them."""
    episodes = tuple(
        each
        for each in newsroom.episodes
        if each.origin.spot.path in files or any(each.id in story.episodes for story in stories)
    )
    named = {
        name
        for each in episodes
        for name in (*(row.story for row in each.rundown), *(kept.kept_by for kept in each.promises))
    }
    named |= {name for story in stories for name in (story.id, story.translates)}
    near = replace(
        newsroom,
        stories=tuple(story for story in newsroom.stories if story.id in named),
        episodes=episodes,
        places=tuple(place for place in newsroom.places if place.origin.spot.path in files),
    )
    found = [each for path in sorted(files) for each in moment.look.findings_by_file.get(path, ())]
    found += [each for each in composer.routes.findings if each.spot.path in files]
    found += [each for each in check_copy(near, moment.as_of) if each.spot.path in files]
    return _faults_first(found)


def _faults_first(found: Iterable[Finding]) -> tuple[Finding, ...]:
    return tuple(
        sorted(
            dict.fromkeys(found),
            key=lambda each: (each.weight != "fault", each.spot.path, each.spot.line, each.spot.column),
        )
    )


def _bytes(content: bytes | Path) -> bytes:
    return content if isinstance(content, bytes) else content.read_bytes()


T = TypeVar("T")


class _Newest(Generic[T]):
    """The things last put in, by key."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._there: OrderedDict[Hashable, T] = OrderedDict()

    def __contains__(self, key: Hashable) -> bool:
        return key in self._there

    def __getitem__(self, key: Hashable) -> T:
        self._there.move_to_end(key)
        return self._there[key]

    def __setitem__(self, key: Hashable, value: T) -> None:
        self._there[key] = value
        if len(self._there) > self._most:
            self._there.popitem(last=False)

    def clear(self) -> None:
        self._there.clear()
