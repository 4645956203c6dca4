"""Rules that cannot bear on how text is seen are left out of the question, and no answer changes."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from sitegen.proof.contrast import backdrop, reading, visible
from sitegen.proof.contrast.bearers import ASKED, bearer_of
from sitegen.proof.contrast.engine import ContrastEngine, Scenario, all_scenarios
from sitegen.proof.contrast.reading import Reading
from sitegen.proof.contrast.style import Style
from sitegen.proof.document import parse
from tests.counts import tries
from tests.samples.random_pages import Maker

BOXES = (
    "margin-left: -9999px", "margin-top: -6000px", "margin: 1em", "margin: inherit", "margin-left: -1em", "margin: var(--m)",
    "display: none", "display: inline", "display: contents", "display: inherit", "display: block", "display: unset", "all: inherit",
    "overflow: hidden", "overflow: visible", "height: 1px", "height: 0", "width: 2px", "width: inherit", "max-height: 20em",
    "position: absolute", "position: relative", "position: static", "top: -9999px", "top: inherit", "left: -1000px", "left: auto",
    "text-indent: -9999px", "transform: translate(-1000px)", "clip-path: inset(50%)", "opacity: .4", "padding: 3px", "border: 1px solid",
    "outline: 1px dotted", "line-height: 2", "filter: blur(1px)", "text-shadow: 0 0 2px #777", "background: #ddd", "--m: inherit",
    "--m: -9999px", "float: left", "letter-spacing: 1px", "animation: fade 1s", "border-radius: 3px", "background: linear-gradient(#111, #eee)",
    "-webkit-text-stroke: 1px red", "color-scheme: dark", "visibility: hidden", "visibility: visible",
)  # fmt: skip


def nothing(path: str) -> bytes | None:
    return None


@contextmanager
def asking_the_style_itself() -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        for module in (backdrop, reading, visible):
            patch.setattr(module, "bearer_of", lambda style: style)
        yield


def readings(page: str, scenarios: tuple[Scenario, ...]) -> list[tuple[Reading, Any]]:
    document = parse(page)
    judge = ContrastEngine(nothing).judge_for("p.html", document, scenarios)
    return [
        (judge.reading(style), visible.sight_of(style))
        for node in judge.theme.nodes_of(document)
        for variant in node.variants
        for style in variant.styles
        if style is not None
    ]


def a_page(seed: int) -> str:
    maker = Maker(seed)
    choose = maker.choose.choice
    wheres = ("p", "div", "li", "ul", "span", "a", ".c0", ".c1", ".c2", "div div", "p b")
    boxes = "".join(
        f"{choose(wheres)} {{ {choose(BOXES)}{choose((' !important', '', '', ''))} }}\n"
        for _ in range(maker.choose.randint(1, 25))
    )
    frames = "@keyframes fade { from { opacity: 0 } }\n"
    return maker.page(maker.sheet() + frames + boxes + " a:hover { outline: 1px solid; margin: 2px }")


@settings(max_examples=tries(40), deadline=None)
@given(some.integers(0, 10**6))
def test_a_text_is_read_as_if_every_rule_were_looked_at(seed: int) -> None:
    page = a_page(seed)
    found = readings(page, all_scenarios())
    with asking_the_style_itself():
        assert readings(page, all_scenarios()) == found


@settings(max_examples=tries(30), deadline=None)
@given(some.integers(0, 10**6))
def test_nothing_is_asked_for_that_may_be_left_out(seed: int) -> None:
    asked: set[str] = set()
    specified, declares = Style._specified, Style.declares_none_of

    def specified_noted(style: Style, name: str) -> Any:
        asked.add(name)
        return specified(style, name)

    def declares_noted(style: Style, names: frozenset[str]) -> bool:
        asked.update(names)
        return declares(style, names)

    with asking_the_style_itself(), pytest.MonkeyPatch.context() as patch:
        patch.setattr(Style, "_specified", specified_noted)
        patch.setattr(Style, "declares_none_of", declares_noted)
        readings(a_page(seed), (Scenario(), Scenario("dark"), Scenario(forced_colors=True)))
    assert "display" in asked
    assert asked <= ASKED


@pytest.mark.parametrize(
    ("style", "is_seen"),
    [
        (".b { top: -9999px } p { position: absolute }", False),
        ("p { top: -9999px } .b { position: absolute } .a { top: auto }", True),
        (".b { height: 0 } p { overflow: hidden }", False),
        (".b { height: 0; display: inline } p { overflow: hidden }", True),
        ("div { width: 1px } p { overflow: hidden; width: inherit }", False),
        ("div { top: -9999px } p { position: absolute; top: inherit }", False),
        ("p { margin-left: -9999px } .b { margin-left: 0 } .a { margin-left: -9999px; color: red }", False),
        ("p { margin-left: -9999px; color: red } .b { margin-left: 0 }", True),
        ("p { margin-left: -9999px !important } .b { margin-left: 0 }", False),
        ("p { display: none } .b { display: block }", True),
        ("p { display: block } .b { display: none }", False),
        ("div { --away: -9999px } p { margin-left: var(--away) }", False),
        ("p { margin-top: calc(-3000px * 2) } .b { padding: 1px }", False),
    ],
)
def test_what_matters_only_with_something_else_is_kept(style: str, is_seen: bool) -> None:
    page = (
        f'<!doctype html><html lang="en"><head><title>t</title><style>{style}</style></head><body><main>'
        '<div><p class="a b">Some words</p></div></main></body></html>'
    )
    document = parse(page)
    judge = ContrastEngine(nothing).judge_for("p.html", document, (Scenario(),))
    style_of = judge.theme.nodes_of(document)[-1].variants[0].styles[0]
    assert style_of is not None
    assert judge.reading(style_of).is_seen == is_seen


def test_a_rule_that_cannot_matter_makes_no_second_reading() -> None:
    style = "a:hover { text-decoration-thickness: 2px } li + li { margin-top: 1em } .b { padding: 1px; border: 1px solid }"
    page = (
        f'<!doctype html><html lang="en"><head><title>t</title><style>{style}</style></head><body><main>'
        "<ul><li>one <a href=x>two</a><li class=b>three</ul></main></body></html>"
    )
    document = parse(page)
    judge = ContrastEngine(nothing).judge_for("p.html", document, all_scenarios())
    nodes = dict(zip(document.elements, judge.theme.nodes_of(document), strict=True))
    one, other = (nodes[item].variants[0].styles[0] for item in document.tagged("li"))
    assert one is not None and other is not None
    assert one is not other
    assert bearer_of(one) is bearer_of(other)
    link = nodes[document.tagged("a")[0]]
    by_kinds = {variant.kinds: variant.styles[0] for variant in link.variants}
    rest, hovered = by_kinds[frozenset()], by_kinds[frozenset({"hover"})]
    assert rest is not None and hovered is not None
    assert rest is not hovered
    assert bearer_of(rest) is bearer_of(hovered)
