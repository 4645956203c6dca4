"""Targets too small for a finger, where the stylesheet says so."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from sitegen.proof.checks.base import Page
from sitegen.proof.checks.target_size import FAMILY
from sitegen.proof.document import parse

Verdicts = Callable[..., dict[str, str]]

LIST = '<ul><li><a href="/a/">North pier</a></li><li><a href="/b/">South pier</a></li></ul>'
BLOCK = "a { display: block; height: 20px }"


def found(verdicts: Verdicts, body: str, css: str) -> str | None:
    return verdicts(body, f"<title>t</title><style>{css}</style>").get("target-size")


@pytest.mark.parametrize(
    ("css", "verdict"),
    [
        (BLOCK, "fails"),
        ("a { display: block; height: 24px }", None),
        ("a { display: block; height: 20px; padding: 2px }", None),
        ("a { display: block; height: 20px; padding: 2px; box-sizing: border-box }", "fails"),
        ("a { display: block; height: 20px; border: 2px solid }", None),
        ("a { display: block; height: 20px; min-height: 2em }", None),
        ("a { display: block; max-height: 20px }", "fails"),
        ("a { display: block; height: 1rem }", "fails"),
        ("a { display: block; height: 50% }", None),
        ("a { height: 20px }", None),  # no height on what is inline
        (BLOCK + " li { margin: 2px 0 }", "unsure"),  # margins may collapse: 22 or 24 px apart
        (BLOCK + " li { padding: 10px 0 }", "unsure"),
        (BLOCK + " a { transform: scale(2) }", None),
        (BLOCK + " a { position: relative } a::after { content: ''; position: absolute; inset: -5px }", None),
        (BLOCK + " a { display: none }", None),
        (BLOCK + " ul { display: flex }", "unsure"),
        ("a { display: inline-block; width: 20px }", "unsure"),
        ("a { display: inline-block; width: 1.5em }", None),
        ("li { display: flex } a { display: block; flex: 1; height: 9px }", None),
    ],
)
def test_boxes_of_fixed_size(verdicts: Verdicts, css: str, verdict: str | None) -> None:
    assert found(verdicts, LIST, css) == verdict


@pytest.mark.parametrize(
    ("css", "verdict"),
    [
        ("body { line-height: 1.2 }", "fails"),
        ("body { font-size: 14px }", "fails"),
        ("body { line-height: 1.5 }", None),
        ("body { line-height: 1.2 } li { padding: 3px 0 }", None),
        ("body { line-height: 1.2 } a { padding: 9px }", None),
        ("body { line-height: 1.2 } li { display: inline }", None),
        ("body { line-height: 1.2 } a { display: block; min-height: 44px }", None),
        ("body { line-height: 1 } a { font-size: 30px }", None),
        ("body { color: black }", None),  # left to the browser
        ("", None),
    ],
)
def test_lines_of_links(verdicts: Verdicts, css: str, verdict: str | None) -> None:
    assert found(verdicts, LIST, css) == verdict


def test_what_is_left_alone(verdicts: Verdicts) -> None:
    button = "<button class=x>Go</button>"
    small = ".x { height: 16px; width: 16px }"
    assert found(verdicts, f"{button}<a href=a>A</a>", small) == "unsure"
    assert found(verdicts, button, small) is None  # nothing else to press
    assert found(verdicts, f"<button class=x disabled>Go</button>{LIST}", small) is None
    assert found(verdicts, f"<label><input type=checkbox class=x> Lights</label>{LIST}", small) is None
    assert found(verdicts, f"<input type=checkbox class=x aria-label=a>{LIST}", small) == "unsure"
    assert (
        found(
            verdicts,
            "<p>Take the <a href=a>ferry</a> to the <a href=b>pier</a>.</p>",
            "p { line-height: 1 }",
        )
        is None
    )
    assert found(verdicts, f"<svg class=x><a href=a><text>A</text></a></svg>{LIST}", small) is None
    picture = '<a class=x style="display: block" href=a><img src=a alt=a width=90 height=90></a>'
    assert found(verdicts, picture + LIST, small) is None


def test_buttons_count_their_border_by_themselves(verdicts: Verdicts) -> None:
    two = "<button>Go</button><button>Stay</button>"
    assert found(verdicts, two, "button { height: 23px; padding: 5px }") == "unsure"
    assert found(verdicts, two, "button { height: 23px; padding: 5px; box-sizing: content-box }") is None
    assert found(verdicts, two, "button { display: block; height: 16px }") == "fails"


def test_targets_the_standard_makes_of_one_tag_are_judged_in_their_order() -> None:
    # Each div closes the link and opens it again (the adoption agency algorithm), all at the offset of its one tag.
    page = parse(
        f"<!doctype html><title>t</title><style>a {{ display: block; height: 9px }}</style><a href=x>{'<div>y' * 9}</a>"
    )
    assert len({link.offset for link in page.tagged("a")}) == 1 < len(page.tagged("a"))
    judged = {tuple(FAMILY.check(Page("", parse(page.source)))) for _ in range(30)}
    assert len(judged) == 1
