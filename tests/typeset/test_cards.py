"""Share pictures: their words, their size, letters with their accents, and nothing that is over."""

from __future__ import annotations

import dataclasses
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec import structs
from PIL import Image, ImageChops, ImageColor

from sitegen.edition.models import AskLine, DatesView, LeadPage, Ref, ShareView, StoryPage
from sitegen.newsroom.records import Kind
from sitegen.proof.cardcheck import contrast
from sitegen.typeset.cards import (
    HEIGHT,
    MARGIN,
    WIDTH,
    Card,
    Palette,
    draw_card,
    drawable,
    palette_of,
)
from sitegen.typeset.lettering import wrapped
from sitegen.typeset.pages import Typesetter
from sitegen.typeset.theme import Theme, load_theme
from tests.samples.page_models import BRING_LINE, GO_LINE, ONGOING_LINE, STORY, at, day_start, sample_pages

ROOT = Path(__file__).parents[2]


@cache
def typesetter(language: str = "en-US") -> Typesetter:
    return Typesetter(load_theme(ROOT, "tidetable"), language)


def palette() -> Palette:
    found = palette_of(load_theme(ROOT, "tidetable"))
    assert found is not None
    return found


def card(headline: str = "A library closet wants 400 coats", **texts: str) -> Card:
    base = Card(palette(), headline, "", "", "", "Small Wonders", "Saltmarsh Community Television")
    return with_texts(base, texts)


def with_texts(base: Card, texts: dict[str, str]) -> Card:
    changes: dict[str, Any] = dict(texts)
    return dataclasses.replace(base, **changes)


def picture(drawn: Card) -> Image.Image:
    image = Image.open(BytesIO(draw_card(drawn)))
    assert (image.format, image.size, dict(image.info)) == ("PNG", (WIDTH, HEIGHT), {})
    return image.convert("RGB")


def of_story(page: StoryPage, language: str = "en-US") -> Card:
    found = typesetter(language).card(page)
    assert found is not None
    return found


# --- what it says ------------------------------------------------------------------------------


def test_a_storys_picture_says_its_headline_county_programme_and_until_when() -> None:
    found = of_story(STORY)
    assert found.headline == STORY.headline
    assert all(ref.label in found.area for ref in STORY.counties)
    assert (found.programme, found.station) == (STORY.frame.programme, STORY.frame.station)
    assert found.doing == BRING_LINE.title
    assert found.when == "Until Saturday, Dec. 12, 2026, noon"  # its last place shuts before it closes
    for line in (found.headline, found.area, found.doing, found.when):
        assert line in found.alternative


@pytest.mark.parametrize(
    ("ask", "when"),
    [
        (structs.replace(BRING_LINE, last_place_closes=None), "Through Tuesday, Dec. 15, 2026"),
        (structs.replace(BRING_LINE, opens=day_start(2026, 12, 4)), "Opens Friday, Dec. 4, 2026"),
        (ONGOING_LINE, ""),
        (None, ""),
    ],
)
def test_when_is_said_with_its_year_or_not_at_all(ask: AskLine | None, when: str) -> None:
    assert of_story(structs.replace(STORY, share=ShareView(ask))).when == when


def test_an_event_says_when_it_is_over_and_a_broadcast_when_it_begins() -> None:
    event = structs.replace(GO_LINE, opens=None)
    found = of_story(structs.replace(STORY, share=ShareView(event))).when
    assert found == "Until Saturday, Jan. 2, 2027, 10 p.m."
    tune = structs.replace(
        GO_LINE, kind=Kind.TUNE_IN, opens=None, dates=(DatesView(at(2026, 12, 18, 19), at(2026, 12, 18, 19)),)
    )
    found = of_story(structs.replace(STORY, share=ShareView(tune))).when
    assert found == "Friday, Dec. 18, 2026, 7 p.m."


def test_a_story_that_is_over_and_long_aired_has_the_programmes_picture() -> None:
    home = typesetter().card(sample_pages()["home-full"])
    assert home is not None and home.headline == STORY.frame.programme and not home.when
    assert of_story(structs.replace(STORY, share=None)) == home


def test_a_picture_speaks_the_language_of_its_story() -> None:
    page = sample_pages()["story-spanish"]
    assert isinstance(page, StoryPage)
    ask = structs.replace(BRING_LINE, last_place_closes=None)
    found = of_story(structs.replace(page, share=ShareView(ask)))
    assert found.when == "Hasta el martes 15 de diciembre de 2026 inclusive"


def test_pages_name_their_picture_for_those_who_pass_them_on() -> None:
    html = typesetter().page(STORY).decode()
    found = of_story(STORY)
    assert f'property="og:image" content="{STORY.frame.address}{found.address}"' in html
    assert 'property="og:image:width" content="1200"' in html
    assert 'property="og:type" content="article"' in html
    assert f'property="og:url" content="{STORY.frame.address}{STORY.address}"' in html
    for name, page in sample_pages().items():
        shown = "og:image" in typesetter().page(page).decode()
        assert shown == (not name.startswith(("withdrawn", "not-found"))), name


def test_a_short_address_previews_its_storys_own_picture() -> None:
    lead = sample_pages()["lead"]
    assert isinstance(lead, LeadPage)
    named = Ref(STORY.headline, STORY.address)
    leading = structs.replace(lead, story=named, counties=STORY.counties, share=STORY.share)
    assert typesetter().card(leading) == typesetter().card(STORY)
    assert typesetter().card(lead) == typesetter().card(sample_pages()["lead-bare"])


def test_each_page_has_its_own_picture_whichever_was_asked_for_last() -> None:
    setter, pages = typesetter(), [STORY, sample_pages()["home-full"], sample_pages()["story-spanish"]]
    shown = [setter.card(page) for page in pages]
    assert len(set(shown)) == len(pages) and [setter.card(page) for page in reversed(pages)] == shown[::-1]


def test_the_name_is_a_digest_of_all_that_is_drawn() -> None:
    base = card(area="Tidewick", doing="Bring a coat", when="Through Tuesday")
    assert base.address == dataclasses.replace(base).address
    assert base.address.startswith("pictures/share-") and base.address.endswith(".png")
    others = [
        with_texts(base, {name: "Another"})
        for name in ("headline", "area", "doing", "when", "programme", "station")
    ]
    others.append(dataclasses.replace(base, palette=dataclasses.replace(base.palette, ink="#000000")))
    assert len({each.address for each in (base, *others)}) == len(others) + 1


# --- how it is drawn ---------------------------------------------------------------------------

LONG = (
    "The harbour choir sings for the lifeboat crew and then for everyone who has ever waited up for one " * 4
)
FULL = {
    "area": "Tidewick and Pellam",
    "doing": "Bring a winter coat",
    "when": "Through Tuesday, Dec. 15, 2026",
}


@pytest.mark.parametrize("headline", ["Coats", LONG, "Pneumono" * 20, LONG[:90], "W " * 200])
@pytest.mark.parametrize("texts", [{}, FULL, {name: text * 8 for name, text in FULL.items()}])
def test_nothing_is_drawn_in_the_margins_or_over_other_lines(headline: str, texts: dict[str, str]) -> None:
    drawn = card(headline, **texts)
    image = picture(drawn)
    paper = ImageColor.getrgb(drawn.palette.paper)
    blank = Image.new("RGB", (WIDTH, HEIGHT), paper)
    bounds = ImageChops.difference(image, blank).getbbox()
    assert bounds is not None
    assert bounds[0] >= MARGIN - 4 and bounds[2] <= WIDTH - MARGIN + 4
    assert bounds[1] >= 40 and bounds[3] <= HEIGHT - 8
    rows = [
        any(image.getpixel((x, y)) != paper for x in range(MARGIN, WIDTH - MARGIN, 2)) for y in range(HEIGHT)
    ]
    # Above the double rule at the foot a few rows are free, whatever stands over it.
    assert not any(rows[530:547])
    assert len(draw_card(drawn)) < 80_000


def test_a_short_headline_is_larger_than_a_long_one_and_a_longer_one_is_cut_at_a_word() -> None:
    def ink_rows(headline: str) -> int:
        image = picture(card(headline))
        ink = ImageColor.getrgb(palette().ink)
        return sum(any(image.getpixel((x, y)) == ink for x in range(MARGIN, 700)) for y in range(92, 520))

    assert ink_rows("Coats") < ink_rows(LONG)


def test_accents_are_drawn_however_they_are_written() -> None:
    composed, apart = "Niño, œuvre, Łódź, año", "Nin\u0303o, œuvre, Ło\u0301dz\u0301, an\u0303o"
    kept = drawable(card(apart))
    assert kept is not None and kept.headline == composed
    assert draw_card(kept) == draw_card(card(composed))
    for one, other in (("ñ", "n"), ("é", "e"), ("ü", "u"), ("ş", "s"), ("¿", "?"), ("Å", "A")):
        assert draw_card(card(one)) != draw_card(card(other))
        assert draw_card(card(one)) != draw_card(card("\U0010fffe")), "the box for what is lacking"


def test_symbols_without_a_letter_are_left_out_and_scripts_without_letters_leave_it_to_the_programme() -> (
    None
):
    kept = drawable(card("Coats \u2665\ufe0f for all\u00ad"))
    assert kept is not None and kept.headline.split() == ["Coats", "for", "all"]
    assert drawable(card("冬のコート")) is None
    assert drawable(card("\u2665")) is None
    page = structs.replace(STORY, headline="冬のコート")
    assert of_story(page) == typesetter().card(sample_pages()["home-full"])


def test_the_same_card_gives_the_same_bytes() -> None:
    assert draw_card(card(**FULL)) == draw_card(card(**FULL))


@given(st.text(st.sampled_from("abcdeil "), max_size=80), st.integers(5, 40))
def test_lines_keep_every_word_and_fit_where_words_do(text: str, width: int) -> None:
    words = " ".join(text.split())
    lines = wrapped(words, len, width)
    assert " ".join(lines) == words
    assert all(len(line) <= width or " " not in line for line in lines)
    fewest = 1
    length = -1
    for word in words.split(" "):
        if length >= 0 and length + 1 + len(word) > width:
            fewest, length = fewest + 1, len(word)
        else:
            length += 1 + len(word)
    assert len(lines) == fewest


# --- its colours -------------------------------------------------------------------------------


def test_every_text_is_at_least_seven_to_one() -> None:
    inks = card(**FULL).inks
    assert len(inks) == 6
    for words, ink, ground in inks:
        assert contrast(ink, ground) >= 7, words


def test_what_is_drawn_is_what_was_judged() -> None:
    """Each text by itself: beside the card without it, new pixels hold its colour, and its ground or steps between."""
    plain = card()
    for name, text in FULL.items():
        drawn = with_texts(plain, {name: text})
        _, ink, ground = next(each for each in drawn.inks if each[0] == text)
        image = picture(drawn)
        top, bottom = {"area": (92, 140), "doing": (460, 520), "when": (462, 526)}[name]
        part = image.crop((MARGIN, top, WIDTH - MARGIN, bottom))
        found = {colour for _, colour in part.getcolors(4096) or []}
        assert ImageColor.getrgb(ink) in found and ImageColor.getrgb(ground) in found


def test_a_theme_without_the_colours_has_no_share_pictures() -> None:
    theme = load_theme(ROOT, "tidetable")
    css = dict(theme.assets)["tidetable.css"].decode()
    for lacking in ("--lamp:", "--ink:"):
        bare = dataclasses.replace(
            theme, assets=(*((n, d) for n, d in theme.assets if n != "tidetable.css"), ("tidetable.css", css.replace(lacking, "--other:").encode()))
        )  # fmt: skip
        assert palette_of(bare) is None
        assert "og:image" not in Typesetter(bare, "en-US").page(STORY).decode()


def test_the_light_colours_are_taken() -> None:
    css = b":root{--paper:#ffffff;--ink: #000000; --soft:#222222;--lamp:#ffCC00;--on-lamp:#000000;--edge:#777777}"
    theme = Theme("x", "", (), (), (("x.css", css + b"@media x{:root{--paper:#000000}}"),))
    assert palette_of(theme) == Palette("#ffffff", "#000000", "#222222", "#ffcc00", "#000000", "#777777")
