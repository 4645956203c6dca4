"""Values, colours, conditions and selectors: the parts the cascade is made of."""

from __future__ import annotations

from typing import Any

import pytest
import tinycss2

from sitegen.proof.contrast.colours import nearest_passing, read_colour
from sitegen.proof.contrast.conditions import media, supports
from sitegen.proof.contrast.engine import ContrastEngine, Scenario, all_scenarios
from sitegen.proof.contrast.formulas import WHITE, blend, contrast_ratio, hexadecimal
from sitegen.proof.contrast.palette import as_swatches, as_table, palette
from sitegen.proof.contrast.properties import declared
from sitegen.proof.contrast.selectors import InvalidSelectorError, compile_selectors
from sitegen.proof.contrast.values import Measures, NotANumberError, Unknown, quantity
from sitegen.proof.document import parse

MEASURES = Measures(20, 16, 1000, 500)


def tokens(text: str) -> list[Any]:
    return list(tinycss2.parse_component_value_list(text))


@pytest.mark.parametrize(
    ("text", "px"),
    [
        ("12px", 12), ("1.5em", 30), ("2rem", 32), ("10vw", 100), ("10svh", 50), ("5vmin", 25), ("1in", 96), ("18pt", 24),
        ("calc(1rem + 2px * 3)", 22), ("calc((1em - 4px) / 2)", 8), ("clamp(10px, 2vw, 15px)", 15), ("clamp(none, 2vw, 30px)", 20),
        ("min(10px, 1em)", 10), ("max(10px, 1em)", 20), ("round(down, 17px, 5px)", 15), ("abs(-3px)", 3), ("hypot(3px, 4px)", 5),
        ("calc(2px * pow(2, 3))", 16), ("mod(18px, 5px)", 3), ("calc(1px * e / e)", 1),
    ],
)  # fmt: skip
def test_lengths(text: str, px: float) -> None:
    found = quantity(tokens(text)[0], MEASURES)
    assert found.kind == "length"
    assert found.value == pytest.approx(px)


@pytest.mark.parametrize(
    "text",
    ["calc(1px + 1)", "calc(1px * 1px)", "calc()", "1nonsense", "nonsense", "min(1px, 1)", "calc(1px 2px)"],
)
def test_what_is_no_length(text: str) -> None:
    with pytest.raises(NotANumberError):
        quantity(tokens(text)[0], MEASURES)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("#abc", "#aabbcc"), ("#ABCD", "#aabbccdd"), ("RebeccaPurple", "#663399"), ("rgb(1 2 3)", "#010203"),
        ("rgba(10%, 20%, 30%, .5)", "#1a334d80"), ("rgb(calc(1 + 2) 0 0)", "#030000"), ("hsl(120 50% 25%)", "#206020"),
        ("hwb(0 0% 0%)", "#ff0000"), ("color(srgb 1 0 0 / 50%)", "#ff000080"), ("color-mix(in srgb, #fff, #000)", "#808080"),
        ("color-mix(in srgb, #fff 25%, #000)", "#404040"), ("color-mix(in srgb, #fff 25%, #000 25%)", "#80808080"),
        ("rgb(from #112233 b g r)", "#332211"), ("rgb(from #112233 calc(r * 2) g b / 50%)", "#22223380"), ("transparent", "#00000000"),
    ],
)  # fmt: skip
def test_colours(text: str, expected: str) -> None:
    found = read_colour(tokens(text), None)
    assert isinstance(found, tuple)
    assert hexadecimal(found) == expected


@pytest.mark.parametrize(
    "text", ["bleu", "#ab", "#ggg", "rgb(1,2)", "rgb(1 2, 3)", "red blue", "color-mix(in srgb, red)", "12px"]
)
def test_what_is_no_colour(text: str) -> None:
    assert read_colour(tokens(text), None) is None


def test_what_may_be_a_colour_is_not_passed_over() -> None:
    assert isinstance(read_colour(tokens("contrast-color(red)"), None), Unknown)


@pytest.mark.parametrize(
    ("ink", "paper", "needed"),
    [("#aaa", "#fff", 4.5), ("#777", "#000", 7.0), ("#6a8", "#eee", 4.5), ("#e33", "#fff", 7.0)],
)
def test_the_nearest_passing_colour_passes_only_just(ink: str, paper: str, needed: float) -> None:
    first, second = read_colour(tokens(ink), None), read_colour(tokens(paper), None)
    assert isinstance(first, tuple)
    assert isinstance(second, tuple)
    found = nearest_passing(first, (second,), needed)
    assert found is not None
    assert needed <= contrast_ratio(found, second) < needed + 0.2


def test_no_colour_passes_against_middle_grey_at_the_enhanced_level() -> None:
    assert nearest_passing(WHITE, ((0.5, 0.5, 0.5, 1.0),), 7.0) is None


def test_translucent_colours_blend() -> None:
    assert hexadecimal(blend((0.0, 0.0, 0.0, 0.5), WHITE)) == "#808080"
    assert blend((1.0, 0.0, 0.0, 0.5), (0.0, 0.0, 0.0, 0.0)) == (1.0, 0.0, 0.0, 0.5)


WIDE, NARROW, DARK, PAPER = Scenario(), Scenario(width=320), Scenario("dark"), Scenario(media="print")


@pytest.mark.parametrize(
    ("query", "answers"),
    [
        ("", (True, True, True, True)),
        ("screen", (True, True, True, False)),
        ("not print", (True, True, True, False)),
        ("(max-width: 600px)", (False, True, False, False)),
        ("screen and (min-width: 40em)", (True, False, True, False)),
        ("(300px <= width < 900px)", (False, True, False, False)),
        ("(900px > width)", (False, True, False, False)),
        ("(prefers-color-scheme: dark)", (False, False, True, False)),
        ("print, (prefers-color-scheme: dark)", (False, False, True, True)),
        ("not (prefers-color-scheme: dark)", (True, True, False, True)),
        ("(orientation: portrait)", (False, True, False, False)),
        ("(width > 100px) and (not (width > 900px))", (False, True, False, False)),
        ("(hover: hover) or (prefers-color-scheme: dark)", (True, False, True, False)),
        ("(made-up: thing)", (None, None, None, None)),
        ("screen or print", (False, False, False, False)),
    ],
)  # fmt: skip
def test_media_queries(query: str, answers: tuple[bool | None, ...]) -> None:
    condition = media(tokens(query))
    assert tuple(condition(scenario) for scenario in (WIDE, NARROW, DARK, PAPER)) == answers


@pytest.mark.parametrize(
    ("condition", "answer"),
    [
        ("(display: grid)", True), ("(color: oklch(50% 0.1 20))", True), ("(color: nonsense)", False), ("not (display: grid)", False),
        ("(display: grid) and (color: nonsense)", False), ("(display: nonsense) or (gap: 1px)", True), ("selector(:has(a))", True),
        ("selector(a:::b)", False), ("(invented-property: 1)", None), ("not (invented-property: 1)", None), ("(--any: thing)", True),
        ("(-moz-appearance: none)", False),
    ],
)  # fmt: skip
def test_supports(condition: str, answer: bool | None) -> None:
    assert supports(tokens(condition)) is answer


@pytest.mark.parametrize(
    ("selector", "specificity"),
    [
        ("a", (0, 0, 1)), ("#a .b c", (1, 1, 1)), (":where(#a) b", (0, 0, 1)), (":is(#a, b) c", (1, 0, 1)), (":not(.a, #b)", (1, 0, 0)),
        ("a::before", (0, 0, 2)), (":nth-child(2n)", (0, 1, 0)), (":nth-child(2n of #a, b)", (1, 1, 0)), ("[a]:hover", (0, 2, 0)),
        (":has(> .a)", (0, 1, 0)),
    ],
)  # fmt: skip
def test_specificity(selector: str, specificity: tuple[int, int, int]) -> None:
    (found,) = compile_selectors(tokens(selector))
    assert found.specificity == specificity


@pytest.mark.parametrize("selector", ["a,", "..b", "a >", ":not()x(", "a::invented", "[=b]", ":nth-child(x)"])
def test_invalid_selectors_void_their_rule(selector: str) -> None:
    with pytest.raises(InvalidSelectorError):
        compile_selectors(tokens(selector))


@pytest.mark.parametrize(
    ("name", "value", "longhand", "expected"),
    [
        ("background", "url(a.png) no-repeat 10px 20px / cover, #123", "background-color", (1 / 15, 2 / 15, 3 / 15, 1.0)),
        ("background", "none", "background-image", "none"),
        ("border", "solid", "border-left-style", "solid"),
        ("border-color", "red transparent", "border-bottom-color", (1.0, 0.0, 0.0, 1.0)),
        ("border-inline", "1px solid red", "border-right-style", "solid"),
        ("font", "bold 12px/1.5 monospace", "font-family", "monospace"),
        ("font", "bold 12px/1.5 monospace", "font-weight", "bold"),
        ("text-decoration", "underline red", "text-decoration-line", "underline"),
        ("outline", "none", "outline-style", "none"),
        ("inset", "0 auto", "left", "auto"),
        ("all", "revert", "color", "revert"),
    ],
)  # fmt: skip
def test_shorthands(name: str, value: str, longhand: str, expected: object) -> None:
    assert dict(declared(name, tokens(value)))[longhand] == expected


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("background", "red red"),
        ("border", "solid dotted"),
        ("font", "12px"),
        ("color", "1"),
        ("font-size", "-1px"),
        ("outline", "x"),
    ],
)
def test_invalid_declarations_set_nothing(name: str, value: str) -> None:
    assert list(declared(name, tokens(value))) == []


def test_the_palette_lists_every_pair_once() -> None:
    style = (
        "body { color: #222; background: #fff } h1 { color: #777 } a { color: #aaa } a:hover { color: #000 }"
    )
    page = f'<!doctype html><html lang="en"><head><title>t</title><style>{style}</style></head><body><h1>Big words</h1><p>Some words</p><p>More words <a href="/a">link</a></p></body></html>'
    pairs = palette(ContrastEngine(lambda path: None), [("p.html", parse(page))], all_scenarios())
    light = {(hexadecimal(pair.ink), pair.is_large): pair for pair in pairs if pair.scheme == "light"}
    assert light["#222222", False].uses == 2
    assert light["#777777", True].grade == "AA"
    assert light["#aaaaaa", False].grade == "fails"
    assert light["#000000", False].states != ("",)
    assert "2.32:1" in as_table(pairs)
    sheet = as_swatches(pairs)
    assert "#aaaaaa" in sheet
    assert parse(sheet).read_strictly
