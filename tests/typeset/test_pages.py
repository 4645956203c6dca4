"""Pages of every kind, set from sample models: what must stand on them, and what must not."""

from __future__ import annotations

import dataclasses
import gzip
import hashlib
import os
import re
import subprocess
import sys
from datetime import date, datetime
from enum import Enum
from functools import cache
from html import unescape
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from bs4 import BeautifulSoup, Tag
from msgspec import Struct, structs

from sitegen.edition.models import ContactView, CountyPage, Ref
from sitegen.newsroom.records import Kind
from sitegen.typeset.pages import TEMPLATES, Typesetter, output_path, telephone_address
from sitegen.typeset.theme import load_theme
from tests.samples.page_models import (
    COATS,
    DAY_LONG,
    GIVE,
    GO,
    HELP,
    PARADE,
    PELLAM,
    PHOTO,
    STORY,
    sample_files,
    sample_pages,
)

ROOT = Path(__file__).parents[2]
NAMES = sorted(sample_pages())
FIRST_VIEW_BYTES = 14_600
"""Ten segments of 1,460 bytes: the initial window of RFC 6928."""


@cache
def typesetter(language: str = "en-US") -> Typesetter:
    return Typesetter(load_theme(ROOT, "tidetable"), language)


@cache
def html(name: str, language: str = "en-US") -> str:
    return typesetter(language).page(sample_pages()[name]).decode()


def soup(text: str) -> BeautifulSoup:
    return BeautifulSoup(text, "html.parser")


def read(name: str, language: str = "en-US") -> BeautifulSoup:
    return soup(html(name, language))


def one(found: Tag | BeautifulSoup, selector: str) -> Tag:
    tags = found.select(selector)
    assert len(tags) == 1, f"{len(tags)} of {selector}"
    return tags[0]


def words(tag: Tag) -> str:
    return " ".join(tag.get_text().split())


def set_story(**changes: Any) -> BeautifulSoup:
    return soup(typesetter().page(structs.replace(STORY, **changes)).decode())


# --- every page --------------------------------------------------------------------------------


@pytest.mark.parametrize("most", [1, 2])
def test_pages_are_the_same_however_few_of_their_parts_are_kept(
    monkeypatch: pytest.MonkeyPatch, most: int
) -> None:
    """What was set once is let go when there is too much of it, and set once more."""
    monkeypatch.setattr("sitegen.typeset.pages.MOST_SET", most)
    setter = Typesetter(load_theme(ROOT, "tidetable"), "en-US")
    pages = sample_pages()
    for name in (*NAMES, *NAMES):
        assert setter.page(pages[name]).decode() == html(name), name
        assert len(setter._fixed._parts) <= most


def test_a_part_that_was_set_is_taken_and_not_set_again(monkeypatch: pytest.MonkeyPatch) -> None:
    setter = Typesetter(load_theme(ROOT, "tidetable"), "en-US")
    setter.page(STORY)
    put: list[object] = []
    monkeypatch.setattr(setter._fixed, "put", lambda key, part: put.append(key))
    assert setter.page(STORY).decode() == typesetter().page(STORY).decode()
    assert put == []
    # Another frame's parts are its own.
    other = structs.replace(STORY, frame=structs.replace(STORY.frame, programme="Another Hour"))
    assert "Another Hour" in setter.page(other).decode() and put


def test_there_is_a_sample_of_every_kind_of_page() -> None:
    assert {type(page) for page in sample_pages().values()} == set(TEMPLATES)


@pytest.mark.parametrize("name", NAMES)
def test_a_page_is_well_formed(name: str) -> None:
    from html5lib import HTMLParser

    HTMLParser(strict=True).parse(html(name))


@pytest.mark.parametrize("language", ["en-US", "es"])
@pytest.mark.parametrize("name", NAMES)
def test_a_page_has_one_title_one_main_one_first_heading_and_no_level_skipped(
    name: str, language: str
) -> None:
    page = read(name, language)
    assert words(one(page, "head > title"))
    main = one(page, "main")
    assert len(page.select("h1")) == 1 and main.select("h1")
    levels = [int(tag.name[1]) for tag in page.select("h1,h2,h3,h4,h5,h6")]
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels)), levels
    assert all(words(tag) for tag in page.select("h1,h2,h3,h4,h5,h6"))


@pytest.mark.parametrize("name", NAMES)
def test_a_page_says_its_language_and_can_be_skipped_into(name: str) -> None:
    page = read(name)
    assert one(page, "html")["lang"] == "en-US"
    assert one(page, "a.skip")["href"] == "#" + str(one(page, "main")["id"])


@pytest.mark.parametrize("name", NAMES)
def test_landmarks_of_a_kind_have_names_of_their_own(name: str) -> None:
    page = read(name)
    labels = [str(nav["aria-label"]) for nav in page.select("nav")]
    assert len(labels) == len(set(labels)) and all(labels)
    for section in page.select("section[aria-labelledby]"):
        assert words(one(page, f"#{section['aria-labelledby']}"))


@pytest.mark.parametrize("name", NAMES)
def test_ids_are_unique_and_links_within_the_page_arrive(name: str) -> None:
    page = read(name)
    ids = [str(tag["id"]) for tag in page.select("[id]")]
    assert len(ids) == len(set(ids))
    for link in page.select('a[href^="#"]'):
        assert str(link["href"])[1:] in ids


@pytest.mark.parametrize("name", NAMES)
def test_links_have_words_and_stay_relative(name: str) -> None:
    page = read(name)
    for link in page.select("a"):
        named = page.find(id=str(link["aria-labelledby"])) if link.has_attr("aria-labelledby") else link
        assert isinstance(named, Tag) and words(named), link
        address = str(link["href"])
        assert (address and not re.match(r"/|http:", address)) or name.startswith("not-found"), address
    for tag in page.select("link[rel=stylesheet], link[rel=icon], img, track"):
        address = str(tag.get("href") or tag.get("src"))
        assert not re.match(r"/|https?:", address) or name.startswith("not-found"), address


@pytest.mark.parametrize("name", NAMES)
def test_times_can_be_read_by_machines(name: str) -> None:
    for tag in read(name).select("time"):
        written = str(tag["datetime"])
        if len(written) == 10:
            date.fromisoformat(written)
        else:
            assert datetime.fromisoformat(written).utcoffset() is not None
        assert words(tag)


@pytest.mark.parametrize("name", NAMES)
def test_only_the_themes_own_script_runs_and_nothing_comes_from_elsewhere(name: str) -> None:
    page = read(name)
    assert not page.select("style, iframe, object, embed, [style], [autoplay]")
    for script in page.select("script"):
        # The theme's own files and nothing written into the page: the policy needs no exception.
        assert "assets/" in str(script["src"]) and "//" not in str(script["src"]) and not script.get_text()
        assert script.has_attr("defer")
    assert not [tag for tag in page.find_all(True) for key in tag.attrs if key.startswith("on")]
    policy = str(one(page, 'meta[http-equiv="Content-Security-Policy"]')["content"])
    assert "default-src 'none'" in policy and "script-src 'self';" in policy and "unsafe" not in policy


@pytest.mark.parametrize("name", [name for name in NAMES if "bare" not in name])
def test_the_station_can_be_called_from_every_page(name: str) -> None:
    header = one(read(name), "body > header")
    assert one(header, 'a[href="tel:2375550100"]').get_text() == "237-555-0100"
    assert "Monday-Friday 9 a.m.-5 p.m." in words(header)
    assert header.select(".demo")


def test_a_bare_frame_leaves_out_what_it_has_not_got() -> None:
    page = read("story-bare")
    assert not page.select('.demo, .call, footer nav, footer address, a[href^="tel:"], a[href^="mailto:"]')


def test_nothing_written_by_the_newsroom_can_become_markup() -> None:
    for name, page in sample_pages().items():
        text = typesetter().page(hostile(page)).decode()
        assert not soup(text).select("evil"), name
        assert "<evil" not in text, name


def hostile(value: Any, field: str = "") -> Any:
    """The same model with every free text made hostile; words the models choose among stay."""
    if (
        isinstance(value, Enum)
        or field in ("word", "how", "iso", "goes_to", "galley")
        or value in KINDS_OF_LIST
    ):
        return value
    if isinstance(value, str):
        return f"{value}\"'><evil>&lt;" if value else value
    if isinstance(value, tuple):
        return tuple(hostile(part) for part in value)
    names: tuple[str, ...] = ()
    if isinstance(value, Struct):
        names = value.__struct_fields__
    elif dataclasses.is_dataclass(value) and not isinstance(value, type):
        names = tuple(part.name for part in dataclasses.fields(value))
    if names:
        changed = {name: hostile(getattr(value, name), name) for name in names}
        return (structs.replace if isinstance(value, Struct) else dataclasses.replace)(value, **changed)
    return value


KINDS_OF_LIST = (
    *("year", "county year", "topic", "topic year"),
    *("counties", "archive", "topics", "episodes", "places"),
    # Of maps: directions, and where words stand beside a mark.
    *("nw", "in", "start", "middle"),
    # Addresses whose name is the theme's own word.
    *("counties/beyond/", "archive/", "topics/"),
)


# --- same model, same bytes --------------------------------------------------------------------

_DIGEST = """
import hashlib, sys
from pathlib import Path
from tests.samples.page_models import sample_pages, sample_files
from sitegen.typeset.pages import Typesetter
from sitegen.typeset.theme import load_theme
setter = Typesetter(load_theme(Path(sys.argv[1]), "tidetable"), "en-US")
total = hashlib.sha256()
for page in sample_pages().values():
    total.update(setter.page(page))
for file in sample_files().values():
    total.update(setter.file(file))
total.update(repr(setter.theme_files).encode())
print(total.hexdigest())
"""


def test_bytes_do_not_hang_on_hashes_locale_or_zone() -> None:
    digests = set()
    for seed, zone, locale in (("1", "Asia/Kathmandu", "C"), ("2", "America/New_York", "es_ES.UTF-8")):
        surroundings = {**os.environ, "PYTHONHASHSEED": seed, "TZ": zone, "LANG": locale, "LC_ALL": locale}
        ran = subprocess.run(
            [sys.executable, "-c", _DIGEST, str(ROOT)],
            cwd=ROOT,
            env=surroundings,
            capture_output=True,
            text=True,
            check=True,
        )
        digests.add(ran.stdout)
    assert len(digests) == 1


def test_the_order_of_setting_does_not_show() -> None:
    pages = sample_pages()
    forward, backward = typesetter(), Typesetter(load_theme(ROOT, "tidetable"), "en-US")
    backwards = {name: backward.page(pages[name]) for name in reversed(NAMES)}
    assert all(forward.page(pages[name]) == backwards[name] for name in NAMES)


def test_the_themes_files_are_named_by_their_bytes() -> None:
    files = dict(typesetter().theme_files)
    assert len(files) >= 2
    for address, data in files.items():
        stem = address.removeprefix("assets/").split(".")[0]
        assert stem.endswith("-" + hashlib.sha256(data).hexdigest()[:10])
    assert any(address.endswith(".css") for address in files)


def test_every_page_links_the_stylesheet_that_is_published() -> None:
    css = next(address for address, _ in typesetter().theme_files if address.endswith(".css"))
    assert one(read("story-full"), "link[rel=stylesheet]")["href"] == f"../../../{css}"
    assert one(read("not-found-full"), "link[rel=stylesheet]")["href"] == f"/small-wonders/{css}"


def test_a_story_fits_one_round_trip() -> None:
    css = next(data for address, data in typesetter().theme_files if address.endswith(".css"))
    page = html("story-full").encode()
    assert len(gzip.compress(page, 6)) + len(gzip.compress(css, 6)) <= FIRST_VIEW_BYTES


def with_script(script: bytes) -> bytes:
    theme = load_theme(ROOT, "tidetable")
    setter = Typesetter(dataclasses.replace(theme, assets=(*theme.assets, ("extra.js", script))), "en-US")
    return next(data for address, data in setter.theme_files if "extra" in address)


def test_a_script_is_published_without_indents_unless_they_may_be_words() -> None:
    assert with_script(b"if (a) {\n  // Why.\n  b(`c`);\n\n}\n") == b"if (a) {\nb(`c`);\n}\n"
    spread = b"const words = `one\n  two`;\n"
    assert with_script(spread) == spread


# --- a story -----------------------------------------------------------------------------------


def test_what_you_can_do_comes_before_the_story_and_is_one_link_away() -> None:
    page = read("story-full")
    order = [tag.get("id") or tag.get("class") for tag in page.select('[href="#part-do"], #part-do, .copy')]
    assert order == [None, "part-do", ["copy"]]


def test_a_story_without_asks_has_no_such_section() -> None:
    assert not read("story-bare").select("#part-do, #part-help, .over, .jump, .tag")


def test_an_ask_says_what_then_where_then_until_when() -> None:
    tag = one(read("story-full"), "#bring-a-winter-coat")
    terms = [words(term) for term in tag.select("dt")]
    assert terms[:3] == ["What", "Where", "Until when"]
    assert "through Tuesday, Dec. 15" in words(tag)


@pytest.mark.parametrize("name", NAMES)
def test_an_asks_kind_and_its_title_do_not_run_together_for_ears(name: str) -> None:
    for kind in read(name).select(".kind"):
        assert kind.get_text().endswith(":") and words(one(kind, ".unseen")) == ":"


def test_money_carries_its_sign_every_time() -> None:
    assert "Wanted: $5,000. So far: $1,250.50." in words(one(read("story-full"), f"#{GIVE.anchor}"))


def test_a_coming_ask_says_when_it_opens_before_any_address() -> None:
    text = words(one(read("story-full"), "#see-the-lights"))
    assert 0 < text.index("Opens Friday, Dec. 4, 5:30 p.m.") < text.index("12 Weir Lane")


def test_an_ended_ask_is_one_line_without_a_way_to_reach_anyone() -> None:
    page = read("story-full")
    ended = one(page, ".over")
    lines = ended.select("li")
    assert len(lines) == len(STORY.ended)
    for ask, line in zip(STORY.ended, lines, strict=True):
        assert ask.title in words(line) and not line.select("p, dl, ul")
        reach = line.select('a[href^="tel:"], a[href^="mailto:"], a[href^="http"]')
        assert bool(reach) == bool(ask.ending and ask.ending.phone)
    assert "ended Dec. 1, 2026" in words(lines[0])
    assert "ended Dec. 1, 2026" in words(lines[1])  # its end is the midnight that ends that day
    assert "The fund is full. Give to the reading fund." in words(lines[2])
    assert "Check first: Ada Quill, 237-555-0150" in words(lines[4])


def test_help_stands_apart_from_giving_with_the_phone_first() -> None:
    page = read("story-full")
    part = one(page, "#part-help")
    assert not part.select(".care") and not one(page, "#part-do").select(f"#{HELP.anchor}")
    row = part.select("dl > div")[0]
    assert one(row, "a")["href"] == "tel:2375550142"


def test_giving_money_comes_with_cautions() -> None:
    page = read("story-full")
    care = one(one(page, f"#{GIVE.anchor}"), ".care")
    assert "regulator" in words(care) and "tax adviser" in words(care)
    assert one(care, "a")["href"] == "../../../giving-safely/"
    organization = set_story(asks=(structs.replace(GIVE, goes_to="organization"),))
    assert "regulator" in words(one(organization, ".care")) and "tax" not in words(one(organization, ".care"))
    frame = structs.replace(STORY.frame, giving_safely=None)
    assert not one(set_story(asks=(GIVE,), frame=frame), ".care").select("a")
    assert not set_story(asks=(GO,)).select(".care")


def test_places_say_what_a_viewer_needs_at_the_door() -> None:
    doors = one(read("story-full"), "#bring-a-winter-coat").select(".doors > li")
    assert len(doors) == 3
    first, second, refuge = (words(door) for door in doors)
    for fact in (
        "Millrace Library",
        "12 Weir Lane, Millrace SC-104, Tidewick",
        "Monday-Friday 9 a.m.-noon and 1-5 p.m.",
        "Saturday, Dec. 12: 8 a.m.-noon",
        "Closed Thursday, Nov. 26 and Friday, Dec. 25",
        "Last chance Saturday, Dec. 12, noon",
        "Ring the side bell",
        "Step-free entrance",
        "237-555-0142 ext. 3",
    ):
        assert fact in first
    assert "From Saturday, Nov. 28" in second and "call first" in second and "Last chance" not in second
    assert "Millrace, Tidewick" in refuge and "Address given when you call" in refuge


def test_a_video_waits_for_a_press_and_has_captions() -> None:
    page = read("story-full")
    video = one(page, "video")
    assert video["preload"] == "none" and "controls" in video.attrs and "playsinline" in video.attrs
    track = one(video, 'track[kind="captions"]')
    assert (
        track["src"] == "../../../captions/coats-1a2b3c4d5e.vtt"
        and track["srclang"] == "en"
        and track["label"]
    )
    assert one(page, "details.transcript").select("li")[0].select("b")
    policy = str(one(page, 'meta[http-equiv="Content-Security-Policy"]')["content"])
    assert "media-src 'self' https://video.example.org;" in policy
    assert not read("story-waits").select("video") and read("story-waits").select(".waits")


def test_a_poster_that_is_the_photo_is_shown_once_and_credited() -> None:
    page = read("story-full")
    assert not page.select("article img") and "Ada Quill" in words(one(page, ".film figcaption"))
    other = structs.replace(STORY.photo or pytest.fail("no photo"), original="another")
    image = one(set_story(photo=other), "article img")
    # After the story's words nobody sees it before scrolling.
    assert (image["alt"], image["loading"]) == (other.alt, "lazy")


def test_a_photo_is_offered_in_two_formats_and_three_widths_with_its_size() -> None:
    page = set_story(video=None)
    image = one(page, ".film-or-photo picture img")
    assert (image["width"], image["height"], image["alt"]) == ("1600", "1067", PHOTO.alt)
    assert image["src"] == "../../../pictures/1a2b3c4d5e6f7a8b9c0d-960.jpg"
    assert "loading" not in image.attrs
    source = one(page, ".film-or-photo picture source")
    assert source["type"] == "image/webp"
    for tag, ending in ((source, "webp"), (image, "jpg")):
        offered = [part.split() for part in str(tag["srcset"]).split(", ")]
        assert [width for _, width in offered] == ["480w", "960w", "1600w"]
        assert all(
            address.startswith("../../../pictures/") and address.endswith(ending) for address, _ in offered
        )
        assert tag["sizes"]


def test_an_aired_story_says_so_with_its_year() -> None:
    assert "Aired Nov. 21, 2026; some details have ended." in words(one(read("story-full"), "article"))
    assert "Aired May 5, 2024." in words(one(read("story-bare"), "article"))


def test_a_date_in_another_year_than_the_story_says_its_year() -> None:
    text = words(one(read("story-full"), "#see-the-lights"))
    assert "Saturday, Jan. 2, 2027" in text and "Dec. 26, 2026" not in text


def test_a_story_in_a_language_of_the_theme_is_set_in_it_whole() -> None:
    page = read("story-spanish")
    article = one(page, "article")
    assert article["lang"] == "es" and one(page, "html")["lang"] == "en-US"
    assert "Qué puede hacer usted" in words(article) and "What you can do" not in words(article)
    assert "martes 15 de diciembre" in words(article)
    assert "Deadlines" in words(one(page, "body > header"))


def test_a_story_in_a_language_the_theme_has_not_got_marks_only_the_newsrooms_words() -> None:
    page = read("story-unspoken")
    assert "lang" not in one(page, "article").attrs
    assert one(page, "h1")["lang"] == "cy" and one(page, ".copy")["lang"] == "cy"
    assert "What you can do" in words(one(page, "article"))


def test_headlines_in_another_language_are_marked_in_lists() -> None:
    page = sample_pages()["county-beyond"]
    assert isinstance(page, CountyPage)
    line = structs.replace(page.archive[0], story=Ref("Abrigos", COATS.address, "es"))
    found = soup(typesetter().page(structs.replace(page, archive=(line,))).decode())
    assert one(found, ".log .what a")["lang"] == "es"
    assert "lang" not in one(read("county-beyond"), ".log .what a").attrs


@pytest.mark.parametrize("name", ["story-full", "place-full", "find-full"])
def test_what_the_script_says_of_a_door_stands_after_all_of_its_hours(name: str) -> None:
    doors = [words(door) for door in read(name).select(".hours[data-hours]")]
    special = [door for door in doors if "Dec. 12: 8 a.m.-noon" in door]
    assert special and all("Monday" in door and "Closed" in door for door in special)


def test_a_round_up_is_read_by_town_and_says_what_is_called_off() -> None:
    page = read("story-full")
    towns = [words(tag) for tag in page.select("#part-do h4")]
    assert towns == ["Millrace, Tidewick", "Pellam Cross, Pellam"]
    # The heading says where; a row that said it again would be half as long again on paper.
    rows = [words(row) for row in page.select("#part-do .by-town li")]
    assert rows and not [row for row in rows if "Millrace" in row or "Pellam" in row]
    two = set_story(listing=(PARADE, structs.replace(PARADE, county=PELLAM)))
    assert words(one(two, "#part-do h4")) == "Millrace"
    assert [words(row) for row in two.select(".by-town li .of")] == ["Tidewick", "Pellam"]
    text = words(one(page, "#part-do"))
    assert "Saturday, Dec. 5, 6-8:30 p.m." in text
    assert "Called off for the weather. Come to the carols." in text
    gone = set_story(listing=(), had_listing=True, asks=())
    assert "has passed" in words(one(gone, "p.over"))
    assert DAY_LONG.what in text


# --- other pages -------------------------------------------------------------------------------


def test_deadlines_are_a_table_for_each_month() -> None:
    page = read("deadlines-full")
    tables = page.select("table")
    assert [words(table.select("caption")[0]) for table in tables] == [
        "What closes in December 2026",
        "What closes in January 2027",
    ]
    days = [[words(th) for th in table.select('th[scope="rowgroup"]')] for table in tables]
    assert (days[0][0], days[1]) == ("Tuesday, Dec. 15", ["Saturday, Jan. 2, 2027"])
    assert words(tables[0].select("td time")[0]) == "end of day"
    assert words(tables[1].select("td time")[0]) == "10 p.m."


def test_a_place_where_nothing_is_wanted_shows_no_door() -> None:
    page = read("place-bare")
    assert not page.select('main .hours, main a[href^="tel:"]')
    assert "Port Tidewick" in words(one(page, "main"))


def test_help_at_places_in_other_counties_says_so_in_its_heading() -> None:
    page = read("get-help-full")
    assert [words(tag) for tag in page.select("main :is(h2, h3)")] == [
        "Tidewick",
        "Port Tidewick",
        "Wherever you are",
        "Outside Tidewick",
        "Pellam",
        "Pellam Cross",
    ]


def test_get_help_has_no_ids_that_could_clash_and_names_the_story() -> None:
    page = read("get-help-full")
    assert page.select(".tag") and not page.select(".tag[id]")
    assert all(tag.select(f'a[href="../{COATS.address}"]') for tag in page.select(".tag"))


@pytest.mark.parametrize(
    "name",
    [
        "home-bare",
        "county-bare",
        "get-help-empty",
        "find-bare",
        "deadlines-bare",
        "index-bare",
        "place-bare",
        "episode-bare",
        "story-list-bare",
    ],
)
def test_an_empty_page_says_where_to_go_next(name: str) -> None:
    assert one(read(name), "main").select("a")


def test_a_short_address_leads_on_at_once_and_by_a_link() -> None:
    page = read("lead")
    assert one(page, 'meta[http-equiv="refresh"]')["content"] == "0; url=../stories/2026/coat-closet/"
    assert one(page, "main a")["href"] == "../stories/2026/coat-closet/"
    # For search engines and link previews it is its story.
    assert str(one(page, 'link[rel="canonical"]')["href"]).endswith("/stories/2026/coat-closet/")
    assert str(one(page, 'meta[property="og:url"]')["content"]).endswith("/stories/2026/coat-closet/")
    assert not page.select('meta[name="robots"]')


def test_a_short_address_says_its_word_and_a_moved_one_that_it_moved() -> None:
    said, moved = read("lead"), read("lead-bare")
    assert "coats" in words(one(said, "title")) and "coats" in words(one(said, "h1"))
    assert words(one(said, "h1")) != words(one(moved, "h1"))
    assert words(one(said, "h1 + p")) != words(one(moved, "h1 + p"))


def test_a_story_names_its_translations_and_the_words_it_passed_on() -> None:
    page = read("story-full")
    other = one(page, 'article a[hreflang="es"]')
    assert other["href"] == "../abrigos/" and words(other).startswith("In Spanish:")
    assert not other.has_attr("lang") and one(other, '[lang="es"]').get_text().startswith("Una biblioteca")
    pairs = {
        str(link["hreflang"]): str(link["href"]).rpartition("stories/")[2]
        for link in page.select('link[rel="alternate"][hreflang]')
    }
    assert pairs == {"en-US": "2026/coat-closet/", "es": "2026/abrigos/"}
    (passed,) = [tag for tag in page.select("article header p") if "“coat”" in words(tag)]
    assert one(passed, "a")["href"] == "../../2027/coat-closet/"
    assert not read("story-bare").select("[hreflang]")


def test_pages_name_the_feed_and_a_countys_first_page_its_own() -> None:
    def feeds(name: str) -> list[str]:
        return [str(link["href"]) for link in read(name).select('link[type="application/atom+xml"]')]

    assert feeds("home-full") == ["feed.atom"] and feeds("story-full") == ["../../../feed.atom"]
    assert feeds("county-bare") == ["feed.atom", "../../feed.atom"]
    assert feeds("county-full") == ["../../../feed.atom"]  # a later page of its list
    assert read("home-full").select('main a[href="feed.atom"]')
    assert read("county-bare").select('main a[href="feed.atom"]')
    assert feeds("withdrawn") == []


def test_a_withdrawn_story_leaves_its_notice_its_date_and_a_way_on() -> None:
    main = one(read("withdrawn"), "main")
    assert "The raffle was not ours to announce." in words(main) and "Sept. 8, 2025" in words(main)
    assert main.select("a")


def test_404_links_from_the_hosts_root_and_lists_the_words() -> None:
    page = read("not-found-full")
    assert all(re.match(r"/small-wonders/|#|tel:|mailto:", str(link["href"])) for link in page.select("a"))
    assert [words(link) for link in page.select(".words a")] == ["coats", "lights"]


def test_pages_of_a_list_know_which_of_them_they_are() -> None:
    page = read("story-list-year")
    for nav in page.select("nav.paging"):
        assert words(one(nav, '[aria-current="page"]')) == "2"
    assert "page 2 of 3" in words(one(page, "title"))
    assert not read("story-list-topic").select("nav.paging")


def test_an_episode_without_a_title_is_named_by_its_day_wherever_it_is_linked() -> None:
    assert words(one(read("episode-waits"), "h1")) == "Small Wonders, Nov. 28, 2026"
    page = set_story(episodes=(Ref("2026-11-28", "episodes/2026-11-28/"),))
    assert words(one(page, 'a[href="../../../episodes/2026-11-28/"]')) == "Small Wonders, Nov. 28, 2026"


def test_an_index_counts_what_its_kind_counts() -> None:
    assert "1 open ask" in words(one(read("index-counties"), "main"))
    assert "1,234 stories" in words(one(read("index-topics"), "main"))


@pytest.mark.parametrize("kind", list(Kind))
def test_every_kind_of_ask_has_a_word(kind: Kind) -> None:
    page = set_story(asks=(structs.replace(GIVE, kind=kind),), help=())
    assert words(one(page, ".tag .kind"))


# --- small things ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("address", "path"),
    [
        ("", "index.html"),
        ("counties/x/", "counties/x/index.html"),
        ("404.html", "404.html"),
        ("robots.txt", "robots.txt"),
    ],
)
def test_output_path(address: str, path: str) -> None:
    assert output_path(address) == path


@pytest.mark.parametrize(
    ("written", "dialled"),
    [
        ("237-555-0142", "tel:2375550142"),
        ("+1 (237) 555-0142", "tel:+12375550142"),
        ("237.555.0142 ext. 3", "tel:2375550142;ext=3"),
        ("237-555-0142 x12", "tel:2375550142;ext=12"),
        ("1-800-555-COAT", "tel:18005552628"),
        ("", ""),
        ("+", ""),
    ],
)
def test_telephone_address(written: str, dialled: str) -> None:
    assert telephone_address(written) == dialled


def test_a_phone_that_cannot_be_dialled_is_still_shown() -> None:
    help_ask = structs.replace(HELP, contact=ContactView(phone="—"))
    row = set_story(help=(help_ask,)).select("#part-help dl > div")[0]
    assert "—" in words(row) and not row.select("a")


def test_descriptions_are_escaped_once() -> None:
    page = soup(typesetter().page(structs.replace(STORY, summary='Salt & "light"')).decode())
    assert unescape(str(one(page, 'meta[name="description"]')["content"])) == 'Salt & "light"'


def test_files_are_set_too() -> None:
    for file in sample_files().values():
        assert typesetter().file(file)


@pytest.mark.parametrize("name", NAMES)
def test_no_line_breaks_inside_an_hour_or_a_range_of_hours(name: str) -> None:
    page = read(name)
    for written in page.select(".copy, template, script"):
        written.decompose()  # what the newsroom wrote stays as it is written
    assert page.body is not None
    assert not re.search(r"\d [ap]\.m\.", page.body.get_text())
    for kept in page.select(".one"):
        kept.decompose()
    assert not re.search(r"\d-\d[\d:]*\u00a0[ap]\.m\.", page.body.get_text())
