"""On-air graphics: nothing outside its box, nothing cut that must not be, codes that are read, pixels that can be told apart."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
import zxingcpp
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from sitegen.proof.cardcheck import contrast
from sitegen.proof.graphicscheck import check_graphics
from sitegen.typeset.cards import Palette, palette_of
from sitegen.typeset.graphics import (
    BOTTOM,
    CAPTIONS_TOP,
    EDGE,
    HEIGHT,
    LEAST_MODULE,
    LEFT,
    RIGHT,
    SHAPES,
    SMALLEST,
    TOP,
    WIDTH,
    Graphic,
    Layout,
    Shape,
    draw_graphic,
    drawable_graphic,
    lay_out,
)
from sitegen.typeset.lettering import BOLD, REGULAR, face, length
from sitegen.typeset.theme import load_theme

ROOT = Path(__file__).parents[2]
LONG = "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamtengesellschaft"


@cache
def palette() -> Palette:
    found = palette_of(load_theme(ROOT, "tidetable"))
    assert found is not None
    return found


def graphic(what: str = "Bring a new toy", **changes: object) -> Graphic:
    base = Graphic(
        palette(),
        what,
        ("Through Tuesday, Dec. 15",),
        ("www.example.org/small-wonders/toys", "www.example.org/small-wonders"),
        "https://www.example.org/small-wonders/toys/",
    )
    return replace(base, **changes)  # type: ignore[arg-type]


def picture(drawn: Graphic, shape: Shape, *, alpha: bool = False) -> Image.Image:
    image = Image.open(BytesIO(draw_graphic(drawn, shape, alpha=alpha)))
    assert (image.format, image.size, dict(image.info)) == ("PNG", (WIDTH, HEIGHT), {})
    assert image.mode == ("RGBA" if alpha else "RGB")
    return image


# --- the rules' own numbers ------------------------------------------------------------------


def test_the_safe_area_is_ninety_percent_of_the_picture() -> None:
    # SMPTE ST 2046-1:2009: the title-safe area is 90 % of width and height.
    assert (RIGHT - LEFT, HEIGHT - 2 * TOP) == (WIDTH * 9 // 10, HEIGHT * 9 // 10)
    assert LEFT == WIDTH - RIGHT
    assert BOTTOM <= HEIGHT - TOP


def test_the_captions_begin_where_the_rule_puts_their_twelfth_row() -> None:
    # 47 CFR 79.101 (d), line numbers from memory: rows of 13 lines from line 43; the picture has lines 22 to 262.
    twelfth = 43 + 11 * 13
    assert int((twelfth - 22) / (262 - 22 + 1) * HEIGHT) + 1 == CAPTIONS_TOP
    # The same rows laid over 80 % of the picture, as texts on captions have it, begin later.
    assert HEIGHT * (0.1 + 0.8 * 11 / 15) > CAPTIONS_TOP > BOTTOM


@pytest.mark.parametrize("weight", [REGULAR, BOLD])
def test_small_letters_are_as_high_as_the_rule_wants(weight: str) -> None:
    # BCAP's guidance as Clearcast publishes it: 30 lines of a picture of 1080.
    _, top, _, bottom = face(weight, SMALLEST).getbbox("x")
    assert bottom - top >= 30


# --- layout ----------------------------------------------------------------------------------


def boxes(layout: Layout) -> Iterator[tuple[float, float, float, float]]:
    """The ink's box of every line, the plates and the code with its light edge."""
    for line in layout.lines:
        font = face(line.weight, line.size)
        left, top, right, bottom = font.getbbox(line.words)
        yield line.x + left, line.y + top, line.x + max(right, font.getlength(line.words)), line.y + bottom


WORDS = st.lists(
    st.text("abcdefghijklmnoprstuvwzäöüßñéÅŠgjpqyWM", min_size=1, max_size=45), min_size=1, max_size=14
).map(" ".join)
LABEL = st.text("abcdefghijklmnopqrstuvwxyz0123456789-", min_size=1, max_size=40)
ADDRESSES = st.builds(
    lambda host, path: ("/".join([host, *path]), host),
    st.lists(LABEL, min_size=2, max_size=4).map(".".join),
    st.lists(LABEL, max_size=5),
)


@given(
    WORDS,
    st.lists(WORDS, max_size=2),
    ADDRESSES,
    st.sampled_from(["", "Call 237-555-0119", "Call " + LONG]),
    st.lists(WORDS, max_size=2),
)
def test_nothing_ever_leaves_its_box_or_meets_something_else(
    what: str, whens: list[str], addresses: tuple[str, ...], call: str, wheres: list[str]
) -> None:
    made = graphic(
        what,
        whens=tuple(whens),
        addresses=addresses,
        leads_to=f"https://{addresses[0]}/",
        call=call,
        wheres=tuple(wheres),
    )
    for shape in SHAPES:
        layout = lay_out(made, shape)
        left, top, right, bottom = layout.box
        assert left == LEFT and right == RIGHT and top >= TOP and bottom == BOTTOM < CAPTIONS_TOP
        inks = list(boxes(layout))
        for ink in inks:
            assert left + EDGE <= ink[0] and top + EDGE <= ink[1] and ink[3] <= bottom - EDGE, ink
            assert ink[2] <= (layout.code[0] if layout.code else right - EDGE), ink
        for above, below in zip(layout.lines, layout.lines[1:], strict=False):
            assert below.y - above.y >= above.size  # a line's own height: no letters touch
        assert all(line.size >= SMALLEST for line in layout.lines)
        if layout.code is not None:
            x, y, module = layout.code
            assert module >= LEAST_MODULE and x > left and y >= top + EDGE
        words = " ".join(line.words for line in layout.lines)
        assert not layout.when or (layout.when in whens and layout.when in words)
        assert layout.where in ("", *wheres) and layout.where in words
        # No place costs a word of the headline, a date or an address.
        without = lay_out(replace(made, wheres=()), shape)
        assert (without.when, without.address) == (layout.when, layout.address)
        if layout.where:
            assert shape == "full"
            shown = "".join(line.words for line in layout.lines).replace(" ", "")
            assert shown.startswith(what.replace(" ", ""))
        else:
            assert layout == without
        assert layout.address in ("", *addresses)
        assert not layout.address or layout.address in "".join(line.words for line in layout.lines)
        assert layout.lines[0].words


def test_the_full_screen_names_the_place_where_it_fits_and_the_strip_never_does() -> None:
    place = "At Lowgate Hall, Lowgate"
    made = graphic(wheres=(place, "Lowgate Hall, Lowgate"))
    assert lay_out(made, "full").where == place and place in [
        line.words for line in lay_out(made, "full").lines
    ]
    assert lay_out(made, "strip").where == ""
    assert lay_out(graphic(wheres=(f"At {LONG}, {LONG}, Lowgate", "Lowgate")), "full").where == "Lowgate"
    long = graphic(" ".join(["a quilt for every bed"] * 6), call="Call 237-555-0119", wheres=(place,))
    assert lay_out(long, "full").where == ""
    kept = drawable_graphic(graphic(wheres=("At 猫, Lowgate",)))
    assert kept is not None and kept.wheres == ()


def test_a_long_headline_is_cut_at_a_word_and_says_so() -> None:
    words = " ".join(["a quilt for every bed in the county"] * 8)
    for shape in SHAPES:
        lines = [line.words for line in lay_out(graphic(words), shape).lines]
        shown = [line for line in lines if "quilt" in line or "…" in line]
        assert shown[-1].endswith("…") and shown[-1].rstrip("…").split(" ")[-1] in words.split(" ")


def test_a_date_is_never_cut() -> None:
    short = "Until Dec. 12"
    for shape in SHAPES:
        layout = lay_out(graphic(whens=(" ".join([LONG] * 2), short)), shape)
        assert layout.when == short and any(line.words == short and line.plate for line in layout.lines)
        assert lay_out(graphic(whens=(f"Until {LONG}",)), shape).when == ""


def test_an_address_is_shown_whole_or_the_next_one_is() -> None:
    host = "www.example.org"
    for shape in SHAPES:
        layout = lay_out(graphic(addresses=(f"{host}/{LONG}{LONG}", host)), shape)
        assert layout.address == host
        assert lay_out(graphic(addresses=(f"{LONG}.{LONG}.example.org",)), shape).address == ""
        assert "…" not in "".join(line.words for line in layout.lines)


def test_an_address_breaks_after_a_slash_only() -> None:
    layout = lay_out(
        graphic(addresses=("www.example.org/a-rather-long-folder/of-the-station/coats",)), "full"
    )
    lines = [line.words for line in layout.lines if line.weight == REGULAR]
    assert len(lines) == 2 and lines[0].endswith("/") and "".join(lines) == layout.address


# --- pixels ----------------------------------------------------------------------------------


@pytest.mark.parametrize("shape", SHAPES)
def test_outside_of_the_box_nothing_is_drawn(shape: Shape) -> None:
    made = graphic(f"{LONG} {LONG}", call="Call 237-555-0119")
    box = lay_out(made, shape).box
    clear = picture(made, shape, alpha=True)
    assert clear.getchannel("A").getbbox() == box
    assert clear.getchannel("A").crop(box).getextrema() == (255, 255)
    opaque = picture(made, shape)
    ground: Any = opaque.getpixel((0, 0))
    opaque.paste(ground, box)
    assert opaque.getcolors(1) == [(WIDTH * HEIGHT, ground)]


@pytest.mark.parametrize("shape", SHAPES)
def test_with_and_without_alpha_the_box_is_the_same(shape: Shape) -> None:
    box = lay_out(graphic(), shape).box
    one, other = picture(graphic(), shape), picture(graphic(), shape, alpha=True).convert("RGB")
    assert one.crop(box).tobytes() == other.crop(box).tobytes()


def read(image: Image.Image) -> list[str]:
    return [found.text for found in zxingcpp.read_barcodes(image)]


ADDRESSES_TO_READ = (
    "https://www.example.org/small-wonders/toys/",
    "https://extraordinarily-long-name.example.org/small-wonders/stories/2026/lighthouse-stairs-and-more/",
)


@pytest.mark.parametrize("address", ADDRESSES_TO_READ)
@pytest.mark.parametrize("alpha", [False, True])
@pytest.mark.parametrize("shape", SHAPES)
def test_the_code_is_read_from_a_picture_of_480_lines(
    shape: Shape, alpha: bool, address: str, tmp_path: Path
) -> None:
    drawn = picture(graphic(leads_to=address), shape, alpha=alpha)
    if alpha:
        # Over a busy picture, as a mixer would lay it.
        busy = Image.effect_noise((WIDTH, HEIGHT), 120).convert("RGB")
        busy.paste(drawn, (0, 0), drawn)
        drawn = busy
    # The frame itself, wide pixels (720 × 480) and square ones (854 × 480).
    for size in ((WIDTH, HEIGHT), (720, 480), (854, 480)):
        small = drawn.convert("RGB").resize(size, Image.Resampling.BILINEAR)
        assert read(small) == [address], size
    if shutil.which("zbarimg"):
        small.save(tmp_path / "frame.png")
        told = subprocess.run(
            ["zbarimg", "-q", "--raw", str(tmp_path / "frame.png")],
            capture_output=True,
            text=True,
            check=True,
        )
        assert told.stdout.strip() == address


@pytest.mark.parametrize("shape", SHAPES)
def test_the_code_has_four_light_modules_around_and_two_colours(shape: Shape) -> None:
    made = graphic()
    code = lay_out(made, shape).code
    assert code is not None
    left, top, module = code
    # Readers forgive a missing edge (zxing does), so it is counted on the pixels.
    image = picture(made, shape)
    side = next(x for x in range(left, RIGHT) if image.getpixel((x, top)) != (255, 255, 255)) - left
    assert side % module == 0
    edge = 4 * module
    whole = image.crop((left, top, left + side, top + side))
    inner = whole.crop((edge, edge, side - edge, side - edge))
    assert {colour for _, colour in inner.getcolors() or []} == {(0, 0, 0), (255, 255, 255)}
    assert inner.getpixel((0, 0)) == inner.getpixel((0, side - 2 * edge - 1)) == (0, 0, 0)
    whole.paste((255, 255, 255), (edge, edge, side - edge, side - edge))
    assert whole.getcolors(1) == [(side * side, (255, 255, 255))]


@pytest.mark.parametrize("shape", SHAPES)
def test_letters_stand_seven_to_one_on_their_pixels(shape: Shape) -> None:
    """The darkest and the lightest pixel of every line: the ink that was drawn, and the ground it was drawn on."""
    made = graphic(call="Call 237-555-0119")
    image = picture(made, shape)
    for line in lay_out(made, shape).lines:
        font = face(line.weight, line.size)
        left, top, right, bottom = font.getbbox(line.words)
        part = image.crop((line.x + int(left), line.y + int(top), line.x + int(right), line.y + int(bottom)))
        colours: list[Any] = sorted(part.getcolors(1 << 20) or [], reverse=True)
        hexes = [f"#{r:02x}{g:02x}{b:02x}" for _, (r, g, b) in colours]
        # The two commonest colours are the ground and the ink; whatever is between them is the letters' edges.
        assert contrast(hexes[0], hexes[1]) >= 7, (line.words, hexes[:2])


def test_colours_too_much_alike_are_told() -> None:
    pale = graphic(palette=replace(palette(), ink="#777777"))
    (found, *more) = check_graphics([("01-toys", pale.inks)])
    assert found.criterion == "1.4.6" and "#777777" in found.message and not more
    assert not check_graphics([("01-toys", graphic().inks)])


def test_a_code_too_dense_to_read_is_left_out_of_the_strip_and_kept_on_the_full_screen() -> None:
    address = "https://www.example.org/" + "x" * 250
    assert lay_out(graphic(leads_to=address), "strip").code is None
    layout = lay_out(graphic(leads_to=address), "full")
    assert layout.code is not None
    assert read(picture(graphic(leads_to=address), "full").resize((854, 480), Image.Resampling.BILINEAR)) == [
        address
    ]
    far = "https://www.example.org/" + "x" * 4000
    assert lay_out(graphic(leads_to=far), "full").code is None


def test_letters_the_type_lacks_make_no_picture_and_symbols_are_left_out() -> None:
    assert drawable_graphic(graphic("请带一件大衣")) is None
    kept = drawable_graphic(graphic("Bring a coat 🧥", addresses=("www.example.org/猫", "www.example.org")))
    assert kept is not None and kept.what == "Bring a coat" and kept.addresses == ("www.example.org",)


def test_the_same_words_give_the_same_bytes() -> None:
    for shape in SHAPES:
        assert draw_graphic(graphic(), shape, alpha=True) == draw_graphic(graphic(), shape, alpha=True)


def test_lengths_are_measured_to_the_last_ink() -> None:
    font = face(BOLD, SMALLEST)
    assert length(font, "f") >= font.getbbox("f")[2]
