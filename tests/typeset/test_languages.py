"""Languages: Spanish whole on every kind of page, plurals by the language's own rule, and an honest fallback."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterator
from enum import Enum
from functools import cache
from io import BytesIO, StringIO
from pathlib import Path
from string import Formatter
from typing import Any

import msgspec
import pytest
from babel import Locale
from babel.messages.pofile import read_po, write_po
from bs4 import BeautifulSoup

from sitegen.edition.models import Page, Ref
from sitegen.typeset.pages import Typesetter
from sitegen.typeset.theme import Theme, load_theme
from sitegen.typeset.words import load_words
from tests.samples.page_models import COAT_STORY, STORY, sample_pages

ROOT = Path(__file__).parents[2]
NAMES = sorted(sample_pages())

# --- every word of a page is the catalogue's or the newsroom's -----------------------------------

CYRILLIC = str.maketrans(
    dict.fromkeys("abcdefghijklmnopqrstuvwxyz", "ж") | dict.fromkeys("ABCDEFGHIJKLMNOPQRSTUVWXYZ", "Ж")
)
KEPT = {
    # Addresses, instants and the words that models choose among: never shown as they are.
    *("address", "page", "anchor", "src", "captions", "root", "iso", "then", "ends", "places_change"),
    *(
        "word",
        "how",
        "goes_to",
        "direction",
        "kind",
        "area_word",
        "time_zone",
        "language",
        "media_type",
        "sources",
        "original",
    ),
}


def in_cyrillic(value: Any, field: str = "") -> Any:
    """The same model with every letter that the newsroom wrote made Cyrillic; languages that Babel names left out."""
    if isinstance(value, Enum) or field in KEPT:
        return "es" if field == "language" and value else value
    if field == "languages":
        return ()
    if field == "galley":
        # Its words alone: neither its tags nor what stands for them.
        return re.sub(
            r"(<[^>]*>|\ufdd0[^\ufdd1]*\ufdd1)|[^<\ufdd0]+",
            lambda found: found[1] or found[0].translate(CYRILLIC),
            value,
        )
    if isinstance(value, str):
        return value.translate(CYRILLIC)
    if isinstance(value, tuple):
        return tuple(in_cyrillic(part) for part in value)
    names: tuple[str, ...] = ()
    if isinstance(value, msgspec.Struct):
        names = value.__struct_fields__
    elif dataclasses.is_dataclass(value):
        names = tuple(part.name for part in dataclasses.fields(value) if part.init)
    if names:
        changed = {name: in_cyrillic(getattr(value, name), name) for name in names}
        change = msgspec.structs.replace if isinstance(value, msgspec.Struct) else dataclasses.replace
        return change(value, **changed)
    return value


def spoken(text: str) -> Iterator[str]:
    """All that a page says, seen or heard, or tells those who pass it on."""
    soup = BeautifulSoup(text, "html.parser")
    # What is not to be translated is not words.
    for hidden in soup.select("script, style, [translate=no]"):
        hidden.decompose()
    yield from soup.stripped_strings
    for tag in soup.find_all(True):
        for name in ("alt", "title", "aria-label", "aria-description", "label", "placeholder"):
            if tag.get(name):
                yield str(tag[name])
        if tag.name == "meta" and (tag.get("name") == "description" or str(tag.get("property")) in SHARED):
            yield str(tag["content"])


SHARED = ("og:title", "og:description", "og:site_name", "og:image:alt")


def with_catalogue(theme: Theme, language: str, text: str) -> Theme:
    others = tuple(each for each in theme.catalogues if each[0] != language)
    return dataclasses.replace(theme, catalogues=(*others, (language, text)))


def greek(form: str) -> str:
    """A message with every letter of its own made Greek; the names of its parameters stay."""
    letters = re.compile(r"[^\W\d_]")
    return "".join(
        letters.sub("ω", words) + ("" if name is None else f"{{{name}}}")
        for words, name, _, _ in Formatter().parse(form)
    )


@cache
def in_greek() -> Typesetter:
    theme = load_theme(ROOT, "tidetable")
    catalogue = read_po(StringIO(dict(theme.catalogues)["es"]))
    for message in catalogue:
        if message.id:
            message.string = (
                greek(message.string)
                if isinstance(message.string, str)
                else tuple(map(greek, message.string or ()))
            )
    written = BytesIO()
    write_po(written, catalogue)
    return Typesetter(with_catalogue(theme, "es", written.getvalue().decode()), "es")


@cache
def typesetter(language: str) -> Typesetter:
    return Typesetter(load_theme(ROOT, "tidetable"), language)


def station_page(name: str) -> Page:
    page: Page = in_cyrillic(sample_pages()[name])
    return page


@pytest.mark.parametrize("name", NAMES)
def test_every_word_of_a_page_is_the_catalogues_or_the_newsrooms(name: str) -> None:
    """With the newsroom in Cyrillic and the catalogue in Greek, a Latin letter is a word that no catalogue can change."""
    said = list(spoken(in_greek().page(station_page(name)).decode()))
    assert any("ω" in each for each in said)
    assert not [each for each in said if re.search(r"[A-Za-z]", each)]


@cache
def only_english() -> tuple[str, ...]:
    """Runs of words of the English catalogue that the Spanish one has nowhere."""
    theme = load_theme(ROOT, "tidetable")
    english, spanish = load_words(theme, "en"), load_words(theme, "es")
    every_spanish = "\n".join(form for forms in spanish.messages.values() for form in forms)
    runs = {
        words.strip(" .,:;?!()")
        for forms in english.messages.values()
        for form in forms
        for words, _, _, _ in Formatter().parse(form)
    }
    return tuple(
        sorted(run for run in runs if len(run) > 3 and re.search("[a-z]", run) and run not in every_spanish)
    )


@pytest.mark.parametrize("name", NAMES)
def test_a_page_set_in_spanish_has_no_english_left(name: str) -> None:
    said = "\n".join(spoken(typesetter("es").page(station_page(name)).decode()))
    assert len(only_english()) > 150
    assert not [run for run in only_english() if re.search(rf"(?<!\w){re.escape(run)}(?!\w)", said)]


def test_the_spanish_of_a_message_is_not_its_english() -> None:
    theme = load_theme(ROOT, "tidetable")
    english, spanish = load_words(theme, "en").messages, load_words(theme, "es").messages
    alike = {
        key
        for key, forms in english.items()
        if forms == spanish[key] and re.search(r"[A-Za-z]{2}", re.sub(r"\{.*?\}", "", forms[0]))
    }
    assert alike <= SAME_IN_BOTH, alike - SAME_IN_BOTH


SAME_IN_BOTH = {"video.label", "find.miles", "find.kilometres"}
"""Messages that are the same in Spanish and English."""


@pytest.mark.parametrize("language", ["en", "es"])
def test_plurals_follow_the_rule_of_the_language(language: str) -> None:
    """Against CLDR's rules as Babel holds them; Spanish has a form for whole millions that two forms of a message
    cannot tell apart, and no count here comes near one."""
    words = load_words(load_theme(ROOT, "tidetable"), language)
    rule = Locale.parse(language).plural_form
    for count in range(20_000):
        assert (words.plural(count) == 0) == (rule(count) == "one"), count


# --- a station whose language the theme has not got ----------------------------------------------


def welsh(name: str) -> BeautifulSoup:
    page = sample_pages()[name]
    frame = msgspec.structs.replace(page.frame, language="cy")
    changes: dict[str, Any] = {"frame": frame}
    if hasattr(page, "language"):
        changes["language"] = "cy"
    return BeautifulSoup(typesetter("cy").page(msgspec.structs.replace(page, **changes)), "html.parser")


def language_of(tag: Any) -> str:
    while tag is not None:
        if tag.get("lang"):
            return str(tag["lang"])
        tag = tag.parent
    raise AssertionError("no language")


def test_a_station_in_another_language_has_the_themes_words_in_english_and_says_so() -> None:
    page = welsh("story-full")
    assert page.html is not None and page.html["lang"] == "en"
    assert language_of(page.select_one("#part-do-name")) == "en"
    assert language_of(page.select_one(".kind")) == "en"
    for text in (
        STORY.headline,
        STORY.summary,
        STORY.asks[0].title,
        STORY.asks[0].accepts[0],
        STORY.corrections[0].text,
    ):
        found = [node.parent for node in page.main.find_all(string=text)] if page.main else []
        assert found and all(language_of(tag) == "cy" for tag in found), text
    assert language_of(page.select_one(".copy p")) == "cy"


@pytest.mark.parametrize("name", NAMES)
def test_every_page_of_such_a_station_keeps_its_own_names_apart_from_the_themes(name: str) -> None:
    page = welsh(name)
    assert page.html is not None and page.html["lang"] == "en"
    title = page.select_one(".mast .title a")
    assert title is not None and language_of(title.find(True) or title) == "cy"
    # No element says again what its parent said.
    for tag in page.select("[lang] [lang]"):
        assert tag["lang"] != language_of(tag.parent) or tag["lang"] == "cy"


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("language", ["en-US", "es"])
def test_a_station_the_theme_can_speak_to_marks_nothing_of_its_own(name: str, language: str) -> None:
    page = sample_pages()[name]
    marked = msgspec.structs.replace(page, frame=msgspec.structs.replace(page.frame, language=language))
    soup = BeautifulSoup(typesetter(language).page(marked), "html.parser")
    assert soup.html is not None and soup.html["lang"] == language
    own = [
        tag for tag in soup.select("body [lang]") if str(tag["lang"]).split("-")[0] == language.split("-")[0]
    ]
    inside = [tag for tag in own if language_of(tag.parent).split("-")[0] == language.split("-")[0]]
    assert not inside


# --- the lists of stories in another language ----------------------------------------------------


def listed_in(subject: str, station: str = "en-US") -> BeautifulSoup:
    """The list of stories in a language, at a station of another."""
    page = sample_pages()["story-list-language"]
    changed = msgspec.structs.replace(
        page,
        subject=subject,
        stories=(msgspec.structs.replace(COAT_STORY, story=Ref("Un armario", "stories/2026/a/", subject)),),
        frame=msgspec.structs.replace(page.frame, language=station),
    )
    return BeautifulSoup(typesetter(station).page(changed), "html.parser")


def test_a_list_of_stories_in_a_language_is_in_its_words_and_marked_so() -> None:
    page = listed_in("es")
    assert page.html is not None and page.html["lang"] == "es"
    said = page.select_one("h1")
    assert said is not None and said.get_text() == "Historias en español" and language_of(said) == "es"
    assert page.title is not None and page.title.get_text().startswith("Historias en español |")
    # What the station wrote is not Spanish, and its stories need no mark.
    title = page.select_one(".mast .title a span")
    assert title is not None and language_of(title) == "en-US"
    link = page.find("a", string="Un armario")
    assert link is not None and language_of(link) == "es"
    words = page.select_one(".ways a")
    assert words is not None and words.get_text() == "Inicio"


def test_a_list_in_a_language_that_the_theme_has_no_words_of_is_in_the_station_s() -> None:
    page = listed_in("vi")
    said = page.select_one("h1")
    assert said is not None and said.get_text() == "Stories in Vietnamese" and language_of(said) == "en-US"
    link = page.find("a", string="Un armario")
    assert link is not None and language_of(link) == "vi"


@pytest.mark.parametrize(
    ("name", "station"),
    [("home-full", "en-US"), ("index-search", "en-US"), ("story-spanish", "en-US"), ("home-full", "cy")],
)
def test_a_list_in_another_language_is_named_in_it_where_it_is_linked(name: str, station: str) -> None:
    page = sample_pages()[name]
    changed = msgspec.structs.replace(page, frame=msgspec.structs.replace(page.frame, language=station))
    soup = BeautifulSoup(typesetter(station).page(changed), "html.parser")
    (link,) = soup.select('main a[hreflang="es"][href$="es/"]')
    assert link.get_text() == "Historias en español"
    assert language_of(link.find(True) or link) == "es"
