"""Page models to bytes, by a theme's templates, words and dates.

A page's bytes are a pure function of its model, the theme and the program: no clock, no locale of the process, no
order of hashing has a say. Templates see only the page's model and the functions of `_Voice`.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from datetime import date, datetime
from functools import cache, lru_cache
from itertools import chain, groupby
from pathlib import PurePosixPath
from string import Formatter
from typing import TYPE_CHECKING, Any, Final, NamedTuple
from urllib.parse import urlsplit

from markupsafe import Markup, escape
from msgspec import msgpack

from sitegen.edition.calendars import CalendarFile
from sitegen.edition.models import (
    AskLine,
    AskView,
    Body,
    CountyPage,
    DatesView,
    DeadlinesPage,
    DropOffView,
    EpisodePage,
    File,
    FindPage,
    Frame,
    GetHelpPage,
    HomePage,
    IndexPage,
    LeadPage,
    ListingLine,
    Moment,
    NotFoundPage,
    Page,
    PlacePage,
    PlacesFile,
    PlaceTakes,
    PlaceView,
    Ref,
    ShareView,
    StoryListPage,
    StoryPage,
    TakeTerms,
    TextPage,
    TranscriptLine,
    WithdrawnPage,
)
from sitegen.edition.outlets import AsksFile, FeedFile
from sitegen.edition.searching import SearchFile
from sitegen.newsroom.phones import split_extension
from sitegen.newsroom.records import Hours, Kind
from sitegen.typeset.addresses import absolute, href
from sitegen.typeset.asksdata import asks_bytes
from sitegen.typeset.atom import Sizes, feed_bytes
from sitegen.typeset.calendars import CalendarSetter
from sitegen.typeset.cards import HEIGHT, MEDIA_TYPE, WIDTH, Card, Palette, drawable, palette_of
from sitegen.typeset.codes import code_drawing
from sitegen.typeset.dates import NO_BREAK, Dates, and_key, day_runs, last_day
from sitegen.typeset.files import render_file
from sitegen.typeset.linked import block_digest, linked_text
from sitegen.typeset.markdown import render_body
from sitegen.typeset.present import (
    finder_words,
    hours_code,
    lapsed_words,
    last_of,
    places_bytes,
    script_words,
    search_words,
)
from sitegen.typeset.searchdata import SearchBytes, SearchKept, index_search
from sitegen.typeset.theme import ASSETS, Theme, ThemeError
from sitegen.typeset.theme import TEMPLATES as TEMPLATES_FOLDER
from sitegen.typeset.words import Words, base_of, catalogue_for, load_words, sentence

if TYPE_CHECKING:
    from jinja2 import Environment, Template
    from jinja2.runtime import Context

__all__ = ["Typesetter", "href", "output_path"]

TEMPLATES: dict[type, str] = {
    HomePage: "home.html",
    CountyPage: "county.html",
    StoryListPage: "story-list.html",
    IndexPage: "index.html",
    GetHelpPage: "get-help.html",
    FindPage: "find.html",
    DeadlinesPage: "deadlines.html",
    StoryPage: "story.html",
    WithdrawnPage: "withdrawn.html",
    EpisodePage: "episode.html",
    PlacePage: "place.html",
    LeadPage: "lead.html",
    TextPage: "text.html",
    NotFoundPage: "not-found.html",
}
"""The template of each kind of page."""

ARTICLE = "article.html"
"""A story in its own language; `story.html` sets it into the page in the station's."""

PARTS = "parts/"
"""Folder of the templates whose macros every other calls as `parts.NAME`."""

BREATH_SECONDS = 30
"""A transcript begins a new paragraph at a new speaker, or once this long has passed since the last one began."""


def output_path(address: str) -> str:
    """The file that a server gives for a site address: `counties/x/` is `counties/x/index.html`."""
    return address + "index.html" if not address or address.endswith("/") else address


class Shared(NamedTuple):
    """A share picture as a page's head names it."""

    address: str
    width: int
    height: int
    media_type: str
    alternative: str


class Typesetter:
    """Sets pages in one theme for a station of one language (BCP 47)."""

    def __init__(
        self, theme: Theme, language: str, *, is_sound: bool = False, searched: SearchKept | None = None
    ) -> None:
        """Raises ThemeError when a template is missing or cannot be read, or a catalogue cannot. Of a theme that `is_sound`,
        all of which has been read before, only the templates that are needed are read. `searched` has what the search can be
        made from."""
        self._theme = theme
        self._language = language
        self._spoken: dict[str, Dates] = {}
        self._places: dict[PlacesFile, bytes] = {}
        self._fixed = _Fixed()
        self._search: tuple[SearchFile, SearchBytes] | None = None
        self._search_kept = searched
        self._programme_cards: dict[tuple[str, str], Card | None] = {}
        self._card: tuple[Page, Card | None] | None = None
        self._files = {name: _without_comments(name, data) for name, data in theme.assets}
        self._assets = {name: _hashed_address(name, data) for name, data in self._files.items()}
        self._environment = template_environment(theme)
        self._homes = macro_homes(theme)
        if not is_sound:
            for name in (*TEMPLATES.values(), ARTICLE, *dict.fromkeys(self._homes.values())):
                self._template(name)
        self._palette = palette_of(theme)
        self._calendars = CalendarSetter(self._speaker)

    @property
    def theme_files(self) -> tuple[tuple[str, bytes], ...]:
        """(site address, bytes) of the theme's own files; the address carries a digest of the bytes."""
        return tuple((self._assets[name], data) for name, data in self._files.items())

    def page(self, page: Page) -> bytes:
        """The page's HTML, UTF-8. Raises ThemeError where a template or the words are not fit for it."""
        language = self._around(page)
        context = self._context(page, language)
        card = self.card(page)
        context["html_language"] = self._html_language if language == self._language else language
        context["linked"] = linked = self._linked(page)
        context["linked_digest"] = block_digest(linked)
        context["share"] = card and Shared(card.address, WIDTH, HEIGHT, MEDIA_TYPE, card.alternative)
        if isinstance(page, StoryPage):
            with told_where(self._theme):
                context["article"] = self._set_article(page, context)
        with told_where(self._theme):
            return self._template(TEMPLATES[type(page)]).render(context).encode() + b"\n"

    def _linked(self, page: Page) -> Markup:
        """The page's linked data as JSON; empty where it has none."""
        if not isinstance(page, HomePage | CountyPage | StoryPage | EpisodePage | PlacePage):
            return Markup("")
        return Markup(linked_text(page.linked, page.frame.address, self._dates_in(self._language).words))

    def card(self, page: Page) -> Card | None:
        """A page's share picture: a story's own, else the programme's. None when the theme has no colours for it,
        or its type no letters."""
        if self._palette is None:
            return None
        # Who has a page set asks for its picture, too, right after.
        last = self._card
        if last is None or last[0] is not page:
            last = self._card = (page, self._make_card(page, self._palette))
        return last[1]

    def _make_card(self, page: Page, palette: Palette) -> Card | None:
        if isinstance(page, StoryPage | LeadPage) and page.share is not None:
            written = page.language if isinstance(page, StoryPage) else page.story.language or self._language
            voice = self._voice(page, self._words_in(written))
            own = drawable(voice.story_card(page, page.share, palette))
            if own is not None:
                return own
        key = (page.frame.programme, page.frame.station)
        if key not in self._programme_cards:
            card = self._voice(page, self._language).programme_card(palette)
            self._programme_cards[key] = drawable(card)
        return self._programme_cards[key]

    def file(self, file: File, size_of: Sizes = lambda address: None) -> bytes:
        """The bytes of what is not a page. `size_of` tells the bytes of the edition's pictures by their address."""
        if isinstance(file, FeedFile):
            return feed_bytes(file, self._speaker, size_of)
        if isinstance(file, AsksFile):
            return asks_bytes(file, self._dates_in(self._language))
        if isinstance(file, PlacesFile):
            if file not in self._places:
                self._places[file] = places_bytes(file, self._dates_in(self._language))
            return self._places[file]
        if isinstance(file, CalendarFile):
            return self._calendars.calendar(file)
        if isinstance(file, SearchFile):
            return self._searched(file).directory
        return render_file(file)

    def file_address(self, file: File) -> str:
        """The path a file is published at: the finder's data carry a digest of their bytes in it."""
        if isinstance(file, PlacesFile):
            path = PurePosixPath(file.address)
            digest = hashlib.sha256(self.file(file)).hexdigest()[:10]
            return path.with_name(f"{path.stem}-{digest}{path.suffix}").as_posix()
        return output_path(file.address)

    def _template(self, name: str) -> Template:
        # The environment keeps what it has read.
        return _template(self._environment, self._theme, name)

    def parts(self, file: File) -> tuple[tuple[str, bytes], ...]:
        """(site address, bytes) of the files that a file leads to; each address carries a digest of its bytes."""
        return self._searched(file).parts if isinstance(file, SearchFile) else ()

    def _searched(self, file: SearchFile) -> SearchBytes:
        # The edition has one, and every caller the same record: to compare two archives whole would take its time.
        if self._search is None or self._search[0] is not file:
            dates, kept = self._dates_in(self._language), self._search_kept
            if kept is None:
                made, _ = index_search(file, dates)
            else:
                made, state = index_search(file, dates, kept.take(), kept.spread)
                kept.put(state)
            self._search = (file, made)
        return self._search[1]

    def _context(self, page: Page, language: str) -> dict[str, Any]:
        """What templates see of a page in the words of a language."""
        context = self._voice(page, language).context()
        names = {**self._environment.globals, **context}
        context["parts"] = names["parts"] = _Parts(self._homes, self._template, names)
        return context

    def _set_article(self, page: StoryPage, around: dict[str, Any]) -> Markup:
        """The story with the theme's words in its own language where the theme has them, so that a reader of that
        language can read the whole of it and a screen reader speaks it all in one voice; else in the station's.

        `around`: what the templates see of the page around it."""
        language = self._words_in(page.language)
        context = dict(around) if language == self._language else self._context(page, language)
        # The page around it is in the words of the station's language, or in those it falls back to.
        differs = page.language != self._html_language and self._speaks(page.language)
        context["article_language"] = page.language if differs else ""
        return Markup(self._template(ARTICLE).render(context))

    def _around(self, page: Page) -> str:
        """The language of the theme's words on a page: the station's, but for a list of the stories in another, which is for those who read
        that."""
        if isinstance(page, StoryListPage) and page.kind in ("language", "language year"):
            return self._words_in(page.subject)
        return self._language

    @property
    def _html_language(self) -> str:
        """The language of the theme's words on a page in the station's language: the station's, or the one that the theme falls back to."""
        speaks = self._speaks(self._language)
        return self._language if speaks else catalogue_for(self._theme, self._language)

    def _words_in(self, language: str) -> str:
        """The language of the theme's words in a story of that language: its own where the theme has it, else the
        station's."""
        return language if self._speaks(language) else self._language

    def _speaks(self, language: str) -> bool:
        """Whether the theme has a catalogue for a language."""
        return base_of(catalogue_for(self._theme, language)) == base_of(language)

    def _speaker(self, language: str) -> Dates:
        return self._dates_in(language if self._speaks(language) else self._language)

    def _voice(self, page: Page, language: str) -> _Voice:
        dates = self._dates_in(language)
        return _Voice(page, dates, self._assets, self.file_address, self._fixed, self._speaker)

    def _dates_in(self, language: str) -> Dates:
        if language not in self._spoken:
            region = _with_region(language, self._language)
            self._spoken[language] = Dates(load_words(self._theme, language), region)
        return self._spoken[language]


class _Fixed:
    """Parts of pages that were set once: their text in pieces, and the site addresses that stand between them. An archive has a
    part for each story, so they are held as bytes under digests, and no more than `MOST_SET`."""

    def __init__(self) -> None:
        self._frame: Frame | None = None
        self._parts: dict[bytes, bytes] = {}

    def take(self, frame: Frame, key: tuple[object, ...]) -> list[str] | None:
        """The part that was set for pages with this frame: pieces and addresses by turns, a piece first and last; None without it."""
        if frame is not self._frame:
            self._frame, self._parts = frame, {}
        packed = self._parts.get(_digest(key))
        return packed.decode().split(_GAP) if packed is not None else None

    def put(self, key: tuple[object, ...], part: list[str]) -> None:
        """Keeps a part for pages with the frame that was asked for last."""
        if len(self._parts) >= MOST_SET:
            self._parts.clear()
        self._parts[_digest(key)] = _GAP.join(part).encode()


MOST_SET = 20_000
"""Parts that are kept set at a time."""


def _digest(key: tuple[object, ...]) -> bytes:
    # A template's own words are of a class that the packer does not know.
    return hashlib.blake2b(msgpack.encode(key, enc_hook=str), digest_size=16).digest()


_NOTHING = Markup("")

_GAP = "\0"
"""Stands for a link in a part that is being set for many pages; no text of a page may hold it."""


class _Voice:
    """What a template may call, bound to one page and one language. Everything it returns is safe HTML."""

    def __init__(
        self,
        page: Page,
        dates: Dates,
        assets: dict[str, str],
        file_address: Callable[[File], str],
        fixed: _Fixed,
        speaker: Callable[[str], Dates],
    ) -> None:
        """`speaker` gives the words and dates of a story's language."""
        self._page = page
        self._speaker = speaker
        self._fixed = fixed
        self._gaps: list[str] | None = None
        """Addresses of the links in the part that is being set for many pages; None outside of such a part."""
        self._file_address = file_address
        self._dates = dates
        self._words: Words = dates.words
        self._assets = assets
        self._year = _year_understood(page)
        self._attributes: dict[str, Markup] = {}
        """The `lang` attribute for what is written in a language."""
        self._hrefs: dict[str, str] = {}

    def context(self) -> dict[str, Any]:
        return {
            "page": self._page,
            "frame": self._page.frame,
            "t": self.t,
            "href": self.href,
            "asset": self.asset,
            "canonical": self.canonical,
            "lang": self._words.language,
            "area": self.area,
            "areas": self.areas,
            "body": self.body,
            "fixed": self.fixed,
            "together": self.together,
            "copy": self.copy,
            "copy_language": self.copy_language,
            "speech": self.speech,
            "episode_day": self.episode_day,
            "tel": telephone_address,
            "web_words": web_words,
            "typed": typed,
            "host": host_of,
            "day": self.day,
            "month": self._dates.month,
            "moment": self.moment,
            "beginning": self.beginning,
            "aired": self.aired,
            "until": self.until,
            "unmarked": unmarked,
            "closing_hour": self.closing_hour,
            "deadline_day": self.deadline_day,
            "span": self.span,
            "hours": self.hours,
            "weekdays": self._dates.weekdays,
            "closed_days": self.closed_days,
            "day_hours": self.day_hours,
            "amount": self._dates.amount,
            "measure": self._dates.measure,
            "running": self._dates.running,
            "language_name": self._dates.language_name,
            "language_names": self.language_names,
            "told_in": self.told_in,
            "ended_at": self.ended_at,
            "entry_span": self.entry_span,
            "repeats": self.repeats,
            "by_last_day": by_last_day,
            "paragraphs": transcript_paragraphs,
            "sentence": sentence,
            "script_words": self.script_words,
            "finder_words": lambda: finder_words(self._words, self._dates.language),
            "finder_data": self.finder_data,
            "search_words": lambda: search_words(self._words),
            "hours_code": hours_code,
            "last_of": last_of,
            "ended_words": self.ended_words,
            "then": self.then,
            "places_words": self.places_words,
            "places_then": self.places_then,
            "code": code_drawing,
        }

    def fixed(self, *key: object, caller: Callable[[], Markup]) -> Markup:
        """A part of a page that is set once for all pages of one frame, language and `key`: for `{% call fixed("top") %}`.

        The part may read the frame, the words and its key, and of the page nothing, so no date whose year may go without
        saying; its links are set for each page.
        """
        whole = (self._dates.language, *key)
        part = self._fixed.take(self._page.frame, whole)
        if part is None:
            self._gaps = []
            first, *pieces = str(caller()).split(_GAP)
            part = [first]
            for address, piece in zip(self._gaps, pieces, strict=True):
                part += (address, piece)
            self._gaps = None
            self._fixed.put(whole, part)
        said = part.copy()
        said[1::2] = (str(escape(self.href(address))) for address in part[1::2])
        return Markup("".join(said))

    # --- words -------------------------------------------------------------------------------

    def t(self, key: str, **parameters: object) -> Markup:
        """A message of the catalogue; parameters are escaped unless they are HTML already."""
        if not parameters:
            return _said(self._words.form(key))
        count = parameters.get("count")
        if isinstance(count, int | float):
            form = self._words.form(key, count)
            parameters["count"] = self._dates.number(count)
        else:
            form = self._words.form(key)
        return Markup("".join(escape(parameters[part]) if named else part for part, named in _parts(form)))

    def area(self) -> str:
        """The station's word for a county, in this language where it is one the catalogue knows."""
        word = self._page.frame.area_word
        return self._words.known(f"area.{word}", word)

    def areas(self) -> str:
        """The same for several; a word the catalogue does not know stands as the station wrote it."""
        word = self._page.frame.area_word
        return self._words.known(f"areas.{word}", word)

    def together(self, parts: Iterable[object]) -> Markup:
        """`one, two and three`, of words or of HTML."""
        *others, last = [escape(part) for part in parts]
        if not others:
            return last
        key = and_key(last.striptags())
        return self.t(key, others=self.t("list.comma").join(others), last=last)

    def speech(self, ref: Ref) -> Markup:
        """The `lang` attribute for a label in another language than the words around it; empty for most."""
        if not ref.label or self.episode_day(ref) or ref.address.startswith("counties/"):
            return _NOTHING  # named in the theme's words, or by a proper name, which is of no language
        return self.copy_language(ref.language)

    def copy(self, words: str, language: str = "") -> Markup:
        """What the newsroom wrote, marked where the theme's words around it are in another language.

        `language` is that of the writing; empty for the station's.
        """
        attribute = self.copy_language(language)
        return Markup(f"<span{attribute}>{escape(words)}</span>") if attribute and words else escape(words)

    def copy_language(self, language: str = "") -> Markup:
        """The `lang` attribute for an element that holds what the newsroom wrote; empty for most."""
        known = self._attributes.get(language)
        if known is None:
            written = language or self._page.frame.language
            same = base_of(written) == base_of(self._words.language)
            known = self._attributes[language] = Markup("" if same else f' lang="{escape(written)}"')
        return known

    def told_in(self, tag: str) -> Markup:
        """The name of the list of stories in a language, in that language, marked."""
        dates = self._speaker(tag)
        words = dates.words.say("archive.language", language=dates.language_name(tag))
        return self.copy(words, dates.words.language)

    def episode_day(self, ref: Ref) -> str:
        """The name of an episode that has no title but its date; empty for every other link."""
        if not ref.address.startswith("episodes/"):
            return ""
        try:
            aired = date.fromisoformat(ref.label)
        except ValueError:
            return ""
        words = self._dates.day(aired, year=True)
        return self._words.say("episode.untitled", programme=self._page.frame.programme, day=words)

    def body(self, body: Body, base_level: int) -> Markup:
        return Markup(render_body(body, self._page.address, base_level, self._words.say("body.table")))

    # --- the share picture -------------------------------------------------------------------

    def story_card(self, page: StoryPage | LeadPage, share: ShareView, palette: Palette) -> Card:
        """The same for a story and for the short addresses that lead to it."""
        counties = [ref.label or self._words.say("county.beyond") for ref in page.counties]
        return Card(
            palette=palette,
            headline=page.headline if isinstance(page, StoryPage) else page.story.label,
            area=self._dates.together(counties),
            doing=share.ask.title if share.ask else "",
            when=self._card_when(share.ask) if share.ask else "",
            programme=page.frame.programme,
            station=page.frame.station,
        )

    def programme_card(self, palette: Palette) -> Card:
        frame = self._page.frame
        lead = self._words.say("home.lead", programme=frame.programme)
        return Card(palette, frame.programme, "", lead, "", frame.programme, frame.station)

    def _card_when(self, ask: AskLine) -> str:
        """When an ask opens, happens or ends, always with its year: a picture travels far from its page."""
        end = ask.last_place_closes or ask.closes
        if ask.no_places_left and not ask.dates:
            words = self.t("ask.no_places_left")
        elif ask.opens:
            words = self.t("ask.opens", moment=self._dates.beginning(ask.opens, year=True))
        elif ask.kind is Kind.TUNE_IN and ask.dates:
            key, first, last = self._dates.span(ask.dates[0], year=True)
            words = self.t(key, first=first, last=last)
        elif end:
            key, moment = self._dates.until(end, year=True)
            words = self.t(key, moment=moment)
        else:
            return ""
        said = words.unescape()
        return said[:1].upper() + said[1:]

    # --- what the script says ----------------------------------------------------------------

    def script_words(self, *, with_zone: bool = True) -> Markup:
        return script_words(self._words, self._page.frame.time_zone if with_zone else "")

    def finder_data(self) -> str:
        """The address of the finder's data; empty where there are none."""
        data = self._page.data if isinstance(self._page, FindPage) else None
        return self.href(self._file_address(data)) if data is not None else ""

    def ended_words(self, ask: AskView | AskLine) -> str:
        """The words that will stand for a live ask once it is over, as `parts.ended` says them."""
        if ask.closes is not None:
            return self.t("ended.ended", moment=self._dates.ended(ask.closes)).unescape()
        return lapsed_words(ask.contact, self._words)

    def then(self, key: str, changes: Iterable[tuple[str, int | None]], none_key: str = "") -> str:
        """A count's changes to come, in words, as the script reads them; with `none_key`, words of its own for 0."""
        said = []
        for at, count in changes:
            words = "" if count is None else self.t(none_key if none_key and not count else key, count=count)
            said.append(f"{at}|{Markup(words).unescape()}")
        return "||".join(said)

    def places_words(self, places: Sequence[DropOffView]) -> Markup:
        """How many places an ask has, and in which towns; or that it has none any more."""
        if not places:
            return self.t("ask.no_places_left")
        return self.t("ask.places", count=len(places), towns=self.together(towns_of(places)))

    def places_then(self, ask: AskView) -> str:
        """What `places_words` is to say as one of an ask's places after the other shuts for good, as the script reads it."""
        end = ask.closes or ask.check_again_by
        said = []
        for last in sorted({datetime.fromisoformat(each.last_chance.iso) for each in ask.places}):
            # With its last place an ask may be over itself, and then says no more.
            if end and datetime.fromisoformat(end.iso) <= last:
                break
            left = [each for each in ask.places if datetime.fromisoformat(each.last_chance.iso) > last]
            said.append(f"{last.isoformat()}|{self.places_words(left).unescape()}")
        return "||".join(said)

    # --- addresses ---------------------------------------------------------------------------

    def href(self, address: str) -> str:
        if self._gaps is not None:
            self._gaps.append(address)
            return _GAP
        if address not in self._hrefs:
            self._hrefs[address] = self._way_to(address)
        return self._hrefs[address]

    def _way_to(self, address: str) -> str:
        if isinstance(self._page, NotFoundPage):
            return self._page.root + address  # served at any depth, so only the host's root is sure
        return href(self._page.address, address)

    def asset(self, name: str) -> str:
        return self.href(self._assets[name])

    def canonical(self, address: str) -> str:
        return absolute(self._page.frame.address, address)

    # --- when --------------------------------------------------------------------------------

    def day(self, day: date, *, weekday: bool = False, year: bool = True) -> Markup:
        words = self._dates.whole(self._dates.day(day, weekday=weekday, year=year))
        return Markup(f'<time datetime="{day.isoformat()}">{escape(words)}</time>')

    def moment(self, moment: Moment, *, weekday: bool = True, year: bool | None = None) -> Markup:
        shown = self._with_year(moment.day) if year is None else year
        return self._time(moment, self._dates.moment(moment, weekday=weekday, year=shown))

    def aired(self, moment: Moment) -> Markup:
        """The day of a broadcast, as the archive says it; the instant stands in `datetime`."""
        return self._time(moment, self._dates.day(moment.day, year=True))

    def beginning(self, moment: Moment) -> Markup:
        return self._time(moment, self._dates.beginning(moment, year=self._with_year(moment.day)))

    def until(self, moment: Moment) -> Markup:
        key, words = self._dates.until(moment, year=self._with_year(moment.day))
        return self.t(key, moment=self._time(moment, words))

    def deadline_day(self, day: date) -> Markup:
        """The heading over what ends on a day."""
        return self.day(day, weekday=True, year=self._with_year(day))

    def closing_hour(self, moment: Moment) -> Markup:
        """The hour of an end, under a heading that says its day."""
        return self._time(moment, self._dates.closing_hour(moment))

    def ended_at(self, moment: Moment) -> Markup:
        """When something ended or stopped, with its year: what is over belongs to the archive."""
        return self._time(moment, self._dates.ended(moment))

    def entry_span(self, line: ListingLine) -> Markup:
        return self.span(DatesView(line.starts or line.ends, line.ends))

    def repeats(self, moments: Iterable[Moment]) -> Markup:
        return self.together(self.moment(moment) for moment in moments)

    def language_names(self, tags: Iterable[str]) -> list[str]:
        return [self._dates.language_name(tag) for tag in tags]

    def span(self, view: DatesView) -> Markup:
        key, first, last = self._dates.span(view, year=self._with_year(view.last.day))
        start = self._time(view.first, first)
        return (
            self.t(key, first=start, last=self._time(view.last, last)) if last else self.t(key, first=start)
        )

    def closed_days(self, days: Sequence[date]) -> Markup:
        def said(day: date) -> Markup:
            return self.day(day, weekday=True, year=self._with_year(day))

        runs = day_runs(days)
        if len(runs) == len(days):
            return self.together(said(day) for day in days)
        return Markup("; ").join(
            said(first) if first == last else self.t("span.days", first=said(first), last=said(last))
            for first, last in runs
        )

    def day_hours(self, special: Any) -> Markup:
        words = self._dates.day_hours(special, year=self._with_year(special.day))
        return with_ranges_whole(self._dates.whole(words))

    def hours(self, hours: Hours) -> list[Markup]:
        return [with_ranges_whole(self._dates.whole(line)) for line in self._dates.hours(hours)]

    def _time(self, moment: Moment, words: str) -> Markup:
        whole = self._dates.whole(words)
        return Markup(f'<time datetime="{escape(moment.iso)}">{_breakable(whole)}</time>')

    def _with_year(self, day: date) -> bool:
        return self._year is not None and day.year != self._year


@lru_cache(maxsize=4096)
def _parts(form: str) -> tuple[tuple[str, bool], ...]:
    """A message in pieces: (HTML, False) for its own words and (name, True) for each parameter."""
    parts: list[tuple[str, bool]] = []
    for words, name, _, _ in Formatter().parse(form):
        if words:
            parts.append((str(escape(words)), False))
        if name:
            parts.append((name, True))
    return tuple(parts)


@lru_cache(maxsize=4096)
def _said(form: str) -> Markup:
    """A message without parameters, as HTML."""
    return Markup("".join(_unnamed(*part) for part in _parts(form)))


def _unnamed(words: str, is_named: bool) -> str:
    if is_named:
        raise KeyError(words)
    return words


def _breakable(words: str) -> str:
    """As HTML, with the places marked at which a narrow column may break: `Dec. 15` and `5 p.m.` stay whole."""
    return str(escape(words)).replace(", ", ", <wbr>")


_RANGE = re.compile(rf"\d[\d:]*-\d[\d:]*{NO_BREAK}[^\s;,-]+")


def with_ranges_whole(words: str) -> Markup:
    """With `4-6 p.m.` marked as one thing: a browser would break it after its hyphen."""
    return Markup(_RANGE.sub(r'<span class="one">\g<0></span>', str(escape(words))))


# --- the year that goes without saying ---------------------------------------------------------


def _year_understood(page: Page) -> int | None:
    """The year a reader takes live dates of the page to be in: a story's own, else the earliest on the page.

    Dates of any other year say theirs. Dates of the archive always do.
    """
    match page:
        case StoryPage() | EpisodePage():
            return page.aired.day.year
        case _:
            return min((day.year for day in _live_days(page)), default=None)


def _live_days(page: Page) -> Iterator[date]:
    """The days that a page tells of what is still to come."""
    match page:
        case HomePage():
            yield from _of_lines(chain(page.closing_next, page.open_now, page.coming))
        case CountyPage():
            yield from _of_lines(chain(page.open_now, page.help, page.coming))
            yield from (line.ends.day for line in page.listing)
            yield from _of_places(page.places)
        case DeadlinesPage():
            yield from _of_lines(chain(*(month.asks for month in page.months), page.ongoing, page.coming))
        case FindPage():
            for county in page.counties:
                for town in county.towns:
                    yield from _of_places(town.places)
        case PlacePage():
            yield from _of_takes((*page.takes, *page.help))
            yield from _of_door(page.place)
        case GetHelpPage():
            asks = (ask for county in page.counties for town in county.towns for ask in town.asks)
            for ask in asks:
                yield from _days(ask.opens, ask.closes, ask.check_again_by)
                for entry in ask.places:
                    yield from _days(entry.from_, entry.last_chance)
                    yield from _of_door(entry.place)


def _days(*moments: Moment | None) -> Iterator[date]:
    return (moment.day for moment in moments if moment is not None)


def _of_lines(lines: Iterable[AskLine]) -> Iterator[date]:
    for line in lines:
        yield from _days(line.opens, line.closes, line.check_again_by, *(span.first for span in line.dates))


def _of_places(places: Iterable[PlaceTakes]) -> Iterator[date]:
    for each in places:
        yield from _of_takes(each.takes)
        yield from _of_door(each.place)


def _of_takes(takes: Iterable[tuple[AskLine, Moment]]) -> Iterator[date]:
    for line, last in takes:
        yield last.day
        yield from _of_lines((line,))
        yield from _of_door(line.terms)


def _of_door(door: PlaceView | TakeTerms | None) -> Iterator[date]:
    if door is not None:
        yield from door.closed
        yield from (each.day for each in door.special_hours)


# --- small things templates need ---------------------------------------------------------------

_KEYPAD = str.maketrans("ABCDEFGHIJKLMNOPQRSTUVWXYZ", "22233344455566677778889999")


def telephone_address(phone: str) -> str:
    """A phone number as written, as a `tel:` address (RFC 3966); empty when nothing in it can be dialled.

    Letters become the digits of the keypad (ITU-T E.161), an extension becomes `;ext=`.
    """
    number, extension = split_extension(phone)
    dialled = re.sub(r"[^0-9+]", "", number.upper().translate(_KEYPAD))
    dialled = dialled[:1] + dialled[1:].replace("+", "")
    if not any(sign.isdigit() for sign in dialled):
        return ""
    return f"tel:{dialled};ext={extension}" if extension else f"tel:{dialled}"


def web_words(address: str) -> str:
    """A web address as people say it: without its scheme and last slash."""
    return re.sub(r"^https?://", "", address).rstrip("/")


def typed(address: str) -> Markup:
    """A web address to be typed from paper: no words of any language, and in pieces that keep their hyphens to themselves."""
    pieces = re.findall(r"[^/]+/?", web_words(address))
    spans = "".join(f"<span>{escape(piece)}</span>" for piece in pieces)
    return Markup(f'<bdi translate="no">{spans}</bdi>')


def host_of(address: str) -> str:
    """Scheme and host of an absolute address, as a content policy names a source."""
    parts = urlsplit(address)
    return f"{parts.scheme}://{parts.netloc}"


_MARKS = re.compile("<[^>]*>")


def unmarked(words: Markup) -> Markup:
    """Words without their marks, for an attribute; their spaces stay as they are."""
    return Markup(_MARKS.sub("", words))


def by_last_day(asks: Iterable[AskLine]) -> list[tuple[date, list[AskLine]]]:
    """Asks in the order of their ends, those that have one, under the last day of each."""
    ending = ((last_day(ask.closes), ask) for ask in asks if ask.closes is not None)
    return [(day, [ask for _, ask in group]) for day, group in groupby(ending, key=lambda pair: pair[0])]


def towns_of(places: Iterable[DropOffView]) -> tuple[str, ...]:
    """The towns of an ask's places, each once, in order."""
    return tuple(dict.fromkeys(drop_off.place.town for drop_off in places))


def transcript_paragraphs(lines: Iterable[TranscriptLine]) -> list[tuple[int, str, str]]:
    """(start in seconds, speaker, text) of paragraphs: captions are cut to fit a screen, not to be read."""
    paragraphs: list[tuple[int, str, str]] = []
    for line in lines:
        if paragraphs:
            start, speaker, text = paragraphs[-1]
            if speaker == line.speaker and line.start - start < BREATH_SECONDS:
                paragraphs[-1] = (start, speaker, f"{text} {line.text}")
                continue
        paragraphs.append((line.start, line.speaker, line.text))
    return paragraphs


# --- the theme's side --------------------------------------------------------------------------

_MACRO = re.compile(r"\{%-?\s*macro\s+(\w+)")


def macro_homes(theme: Theme) -> dict[str, str]:
    """The template of each macro in the theme's parts, by the macro's name."""
    return {
        name: template
        for template, text in theme.templates
        if template.startswith(PARTS)
        for name in _MACRO.findall(text)
    }


class _Parts:
    """The macros of a theme's parts, for one page in one language. A template is read, and its macros are bound to the page,
    when the first of them is wanted: most pages call few, and reading all takes as long as setting some thirty pages."""

    def __init__(
        self, homes: dict[str, str], template: Callable[[str], Template], names: dict[str, Any]
    ) -> None:
        self._homes = homes
        self._template = template
        self._names = names

    def __getattr__(self, name: str) -> object:
        home = self._homes.get(name)
        if home is None:
            raise AttributeError(name)
        module = self._template(home).make_module(self._names, shared=True)
        for each, of in self._homes.items():
            if of == home:
                setattr(self, each, getattr(module, each))
        return self.__dict__[name]


@lru_cache(maxsize=2)
def template_environment(theme: Theme) -> Environment:
    """A theme's templates, strict about undefined names. Kept, with all that it has read: a process that sets a theme's pages
    sets them again."""
    from jinja2 import FunctionLoader, StrictUndefined

    from sitegen.typeset.compiled import environment_of

    texts = dict(theme.templates)

    def load(name: str) -> tuple[str, str, Callable[[], bool]] | None:
        return (texts[name], f"{TEMPLATES_FOLDER}/{name}", lambda: True) if name in texts else None

    environment = environment_of(
        FunctionLoader(load),
        lambda name: theme.source_of(f"{TEMPLATES_FOLDER}/{name}"),
        __file__,
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
        cache_size=-1,
        # It looks in every expression for what could be worked out beforehand; ours hold nothing of the kind.
        optimized=False,
    )
    environment.context_class = _plain_context()
    return environment


@cache
def _plain_context() -> type[Context]:
    """A template's names, whose calls are plain ones: nothing that our templates call asks for the context, and the library
    would look for that at every call."""
    from jinja2.runtime import Context

    class PlainContext(Context):
        def call(self, called: Callable[..., Any], /, *args: Any, **given: Any) -> Any:
            given.pop("_loop_vars", None)
            given.pop("_block_vars", None)
            return called(*args, **given)

    return PlainContext


def _template(environment: Environment, theme: Theme, name: str) -> Template:
    from jinja2 import TemplateNotFound, TemplateSyntaxError

    try:
        return environment.get_template(name)
    except TemplateNotFound as error:
        raise ThemeError(f"the theme {theme.name!r} has no template {error.name}") from error
    except TemplateSyntaxError as error:
        where = f"templates/{error.name or name}, line {error.lineno}"
        raise ThemeError(
            f"the theme {theme.name!r} has a template that cannot be read: {where}: {error}"
        ) from error


_IN_A_TEMPLATE: Final = (LookupError, TypeError, ValueError, AttributeError, ArithmeticError)
"""What an expression of a template may end in, beside what the template library says itself."""


@contextmanager
def told_where(theme: Theme) -> Iterator[None]:
    """Tells of what goes wrong in a line of a template where that is, as a ThemeError."""
    from traceback import extract_tb

    from jinja2 import TemplateError

    try:
        yield
    except (TemplateError, *_IN_A_TEMPLATE) as error:
        lines = [
            (frame.filename, frame.lineno)
            for frame in extract_tb(error.__traceback__)
            if frame.filename.startswith(f"{TEMPLATES_FOLDER}/")
        ]
        if not lines:
            raise
        file, line = lines[-1]
        what = f"{type(error).__name__}: {error}"
        raise ThemeError(
            f"the theme {theme.name!r} cannot set a page: {file}, line {line}: {what}"
        ) from error


_COMMENT_LINES = re.compile(rb"^[ \t]*(?:/\*.*?\*/|//[^\n]*)[ \t]*\n", re.DOTALL | re.MULTILINE)


_INDENTS = re.compile(rb"^[ \t]+|^\n", re.MULTILINE)


def _without_comments(name: str, data: bytes) -> bytes:
    """A script or stylesheet as published: comments that have lines of their own, and indents, are for those who work
    on it. Indents stay in a script in which a template literal may go over several lines: there they are words."""
    if not name.endswith((".js", ".css")):
        return data
    plain = _COMMENT_LINES.sub(b"", data)
    inside = plain.split(b"`")[1::2] if name.endswith(".js") else []
    return plain if any(b"\n" in literal for literal in inside) else _INDENTS.sub(b"", plain)


def _hashed_address(name: str, data: bytes) -> str:
    path = PurePosixPath(name)
    digest = hashlib.sha256(data).hexdigest()[:10]
    return f"{ASSETS}/{path.with_name(f'{path.stem}-{digest}{path.suffix}').as_posix()}"


def _with_region(language: str, station: str) -> str:
    """A story's bare language as the station's region writes it: numbers in `es` of an `en-US` station are `es-US`'s."""
    region = next((part for part in station.split("-")[1:] if re.fullmatch(r"[A-Za-z]{2}|\d{3}", part)), "")
    return f"{language}-{region}" if region and "-" not in language else language
