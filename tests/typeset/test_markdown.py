"""Bodies as HTML: safe, valid, fitted to their page, for any text whatever."""

from __future__ import annotations

import re
import time
from itertools import pairwise

import html5lib
import pytest
from bs4 import BeautifulSoup
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.edition.models import Body
from sitegen.newsroom.galley import set_body
from sitegen.typeset.markdown import render_body
from tests.counts import tries

PAGE = "stories/2026/coat-closet/"
LINKS = (("2025/coat-closet", "stories/2025/coat-closet/"), ("2026/held", ""), ("about", "about/"))


def render(markdown: str, base_level: int = 2, table_word: str = "") -> str:
    return render_body(Body(set_body(markdown)[0], LINKS), PAGE, base_level, table_word)


# --- links -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("markdown", "html"),
    [
        ("[last year](2025/coat-closet)", '<p><a href="../../2025/coat-closet/">last year</a></p>\n'),
        ("[us][a]\n\n[a]: about", '<p><a href="../../../about/">us</a></p>\n'),
        ("[not *yet*](2026/held)", "<p>not <em>yet</em></p>\n"),
        ("[who](2026/nobody) and [up](../x)", "<p>who and up</p>\n"),
        ("[x](javascript:alert(1))", "<p>x</p>\n"),
        ("[x](&#106;avascript:alert(1))", "<p>x</p>\n"),
        ("[x](//evil.example/)", "<p>x</p>\n"),
        ("[x](data:text/html,x)", "<p>x</p>\n"),
        ("<javascript:alert(1)>", "<p>&lt;javascript:alert(1)&gt;</p>\n"),
        ("[call](tel:237-555-0142)", '<p><a href="tel:237-555-0142">call</a></p>\n'),
        ("<coats@example.org>", '<p><a href="mailto:coats@example.org">coats@example.org</a></p>\n'),
        ("[](https://a.example/)", '<p><a href="https://a.example/">https://a.example/</a></p>\n'),
        ("[\u200b](https://a.example/)", '<p><a href="https://a.example/">\u200bhttps://a.example/</a></p>\n'),
        ("[see <https://b.example/>](about)", '<p><a href="../../../about/">see https://b.example/</a></p>\n'),
        ("[see <javascript:x>](about)", '<p><a href="../../../about/">see javascript:x</a></p>\n'),
        ("[<https://a.example/> now](2026/held)", '<p><a href="https://a.example/">https://a.example/</a> now</p>\n'),
        ("![A rail of coats](coats.jpg)", "<p>A rail of coats</p>\n"),
        ("[![A *rail*](coats.jpg)](about)", '<p><a href="../../../about/">A rail</a></p>\n'),
        ("![x](javascript:alert(1))", "<p>x</p>\n"),
        ('[x](about "a \\"b\\" <c>")', '<p><a href="../../../about/" title="a &quot;b&quot; &lt;c&gt;">x</a></p>\n'),
    ],
)  # fmt: skip
def test_links_lead_only_where_a_body_may_link(markdown: str, html: str) -> None:
    assert render(markdown) == html


@pytest.mark.parametrize(
    "raw", ["<script>alert(1)</script>", "a <b onclick=x>b</b>", "<!-- x -->", "<?php ?>"]
)
def test_raw_html_is_shown_as_text(raw: str) -> None:
    html = render(raw)
    assert BeautifulSoup(html, "html.parser").get_text().strip() == raw
    assert {tag.name for tag in BeautifulSoup(html, "html.parser").find_all()} == {"p"}


# --- headings ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("written", "base_level", "fitted"),
    [
        ([1, 4], 2, [2, 3]),
        ([2, 2, 3], 2, [2, 2, 3]),
        ([1, 4, 3, 4, 1], 2, [2, 3, 3, 4, 2]),
        ([3, 2, 3], 3, [3, 3, 4]),
        ([1, 2, 3, 4, 5, 6], 4, [4, 5, 6, 6, 6, 6]),
        ([6], 2, [2]),
        ([1, 3, 5], 6, [6, 6, 6]),
    ],
)
def test_headings_fit_under_the_page(written: list[int], base_level: int, fitted: list[int]) -> None:
    html = render("\n\n".join("#" * level + " Words" for level in written), base_level)
    assert [int(level) for level in re.findall(r"<h(\d)>Words</h\1>", html)] == fitted


@given(st.lists(st.integers(1, 6), min_size=1, max_size=12), st.integers(2, 6))
def test_no_heading_level_is_skipped_downward(written: list[int], base_level: int) -> None:
    html = render("\n\n".join("#" * level + " Words" for level in written), base_level)
    fitted = [int(level) for level in re.findall(r"<h(\d)>", html)]
    assert len(fitted) == len(written)
    assert fitted[written.index(min(written))] == base_level == min(fitted)
    for before, after in zip([base_level - 1, *fitted], fitted, strict=False):
        assert after <= before + 1
    for (a, b), (x, y) in zip(pairwise(written), pairwise(fitted), strict=True):
        assert a != b or x == y  # neighbours written alike stay alike
        assert a < b or x >= y  # nothing written shallower than its neighbour becomes deeper


def test_headings_that_say_nothing_are_left_out() -> None:
    assert render("#\n\n## \u200b\n\n# [](2026/held)\n\n### Coats") == "<h2>Coats</h2>\n"


# --- tables ------------------------------------------------------------------------------------

TABLE = "| Size | Coats | |\n|:---|---:|:---:|\n| small | 12 | |\n"


def test_tables_have_scoped_headings_and_a_wrapper() -> None:
    soup = BeautifulSoup(render(TABLE), "html.parser")
    assert [div.attrs for div in soup.select("div")] == [{"class": ["table"]}]
    assert [(cell.name, cell.get("scope"), cell.get_text()) for cell in soup.select("thead tr > *")] == [
        ("th", "col", "Size"),
        ("th", "col", "Coats"),
        ("td", None, ""),
    ]
    assert [cell.get("class") for cell in soup.select("tbody td")] == [None, ["to-right"], ["to-centre"]]
    assert "style" not in render(TABLE)


def test_named_tables_can_be_reached_by_keyboard_and_told_apart() -> None:
    soup = BeautifulSoup(render(f"{TABLE}\nand\n\n{TABLE}", table_word='T"'), "html.parser")
    assert [(div["role"], div["tabindex"], div["aria-label"]) for div in soup.select("div.table")] == [
        ("region", "0", 'T" 1'),
        ("region", "0", 'T" 2'),
    ]


# --- any text ----------------------------------------------------------------------------------

HOSTILE = [
    *(piece * 40_000 for piece in ("[", "![", "[](", "*")),
    *(piece * 20_000 for piece in ("_a ", "`", "<", ">", "- ", "|", "\\", "&", "\x00", "\u202e", "(", "#")),
    "[" * 50_000 + "]" * 50_000,
    "".join("  " * depth + "- a\n" for depth in range(300)),
    "".join("`" * (n % 60 + 1) + "a" for n in range(3000)),
    "|a" * 400 + "\n" + "|-" * 400 + "\n" + "|\n" * 2000,
    "[a]: b\n" * 10_000 + "[a]" * 10_000,
    "\ud800\udfff\ufdd0\U0010ffff\x1b[31m",
]


@pytest.mark.parametrize("number", range(len(HOSTILE)))
def test_hostile_text_ends_soon_and_well(number: int) -> None:
    began = time.process_time()
    html = render(HOSTILE[number])
    assert time.process_time() - began < 60
    assert not re.search("[\x00-\x08\x0b\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufdd0\U0010ffff]", html)


PIECES = [
    "[", "]", "(", ")", "!", "<", ">", "`", "*", "_", "\n", "\n\n", "> ", "- ", "1. ", "|", "|-|\n", "\\", "# ", "### ",
    "a", "b c", " ", "&amp;", "&#1;", "&", '"', "'", "    ", "~~~\n", "```x\"y <z\n", "===\n", "---\n", "\x00", "\x0b", "\u202e",
    "[a](about)", "[a](2026/held)", "[](2026/held)", "![a](b)", "<script>", "</p>", "<b>", "<https://a.example/>", "[a]: about\n",
    "[x](https://a.example/?b=\"c&d)", "](https://b.example/)", "](2026/held)", "[y](javascript:x)", "| a | b |\n|---|:-:|\n| c | d |\n",
]  # fmt: skip
ALLOWED = {
    "p": set(), "em": set(), "strong": set(), "code": {"class"}, "pre": set(), "a": {"href", "title"}, "br": set(),
    "h2": set(), "h3": set(), "h4": set(), "h5": set(), "h6": set(), "ul": set(), "ol": {"start"}, "li": set(), "hr": set(),
    "blockquote": set(), "div": {"class"}, "table": set(), "thead": set(), "tbody": set(), "tr": set(),
    "th": {"scope", "class"}, "td": {"class"},
}  # fmt: skip


@settings(max_examples=tries(300), deadline=None)
@given(st.lists(st.sampled_from(PIECES), max_size=40).map("".join))
def test_any_text_gives_valid_html_of_known_parts(text: str) -> None:
    html = render(text)
    html5lib.HTMLParser(strict=True).parse(f"<!DOCTYPE html><title>x</title><body>{html}")
    for tag in BeautifulSoup(html, "html.parser").find_all():
        assert set(tag.attrs) <= ALLOWED[tag.name]
        if tag.name == "a":
            assert re.match(r"https?://|mailto:|tel:|\.\./", str(tag["href"]))
            assert tag.get_text().strip()
        if re.fullmatch(r"h\d|p|th", tag.name):
            assert tag.get_text().strip("\u200b \n\x0c") or tag.find("code")


@given(st.text(st.characters(), max_size=200))
def test_any_characters_give_the_same_html_twice(text: str) -> None:
    assert render(text) == render(text)
    render(text).encode("utf-8")


def test_an_empty_body_is_empty() -> None:
    assert render(" \n\n") == ""
