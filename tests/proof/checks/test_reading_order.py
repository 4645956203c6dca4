"""Reading order and tab order: what a stylesheet provably puts elsewhere than the source, and what it leaves in place."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Verdicts = Callable[..., dict[str, str]]

TWO = "<p class=a>High water</p><p class=b>Low water</p>"
LINKS = '<a class=a href="/high/">High</a><a class=b href="/low/">Low</a>'
FLEX = "main { display: flex }"
GRID = "main { display: grid }"
AREAS = 'main { display: grid; grid-template-areas: "top top" "left right" }'


@pytest.mark.parametrize(
    ("css", "is_moved"),
    [
        (FLEX + " .b { order: -1 }", True),
        (FLEX + " .a { order: 2 }", True),
        (FLEX + " .b { order: 2 }", False),
        (" .b { order: -1 }", False),  # not in a flexible box or grid
        (FLEX + " .b { order: -1 } .a { display: none }", False),
        (FLEX + " main { flex-direction: row-reverse }", True),
        (FLEX + " main { flex-flow: column-reverse nowrap }", True),
        (FLEX + " main { flex-direction: row-reverse } .b { order: -1 }", False),
        (FLEX + " main { flex-wrap: wrap-reverse }", True),
        (FLEX + " main { flex-wrap: wrap }", False),
        (GRID + " .b { order: -1 }", True),
        (GRID + " .a { grid-row: 2 } .b { grid-row: 1 }", True),
        (GRID + " .a { grid-row: 1 } .b { grid-row: 2 }", False),
        (GRID + " .a { grid-area: 1 / 2 } .b { grid-area: 1 / 1 }", True),
        (GRID + " .a { grid-area: 1 / 1 / 2 / 3 } .b { grid-area: 1 / 3 }", False),
        (GRID + " .b { grid-area: 1 / 1 }", True),
        (GRID + " .a { grid-column: 2 } .b { grid-column: 1 }", False),  # goes to the next row
        (AREAS + " .a { grid-area: left } .b { grid-area: top }", True),
        (AREAS + " .a { grid-area: left } .b { grid-area: right }", False),
        (AREAS + " .a { grid-area: right } .b { grid-area: left }", True),
        ("p { float: right }", True),
        ("p { float: left }", False),
        (".a { float: right }", False),
        ("main { direction: rtl } p { float: right }", False),
        ("p { position: absolute; top: 0 } .a { top: 50px }", True),
        ("p { position: absolute; top: 0 } .b { top: 50px }", False),
        ("p { position: absolute; top: 0; left: 9px } .b { left: 0 }", True),
        ("p { position: absolute; top: 9px } .b { top: -9999px }", False),
        ("@media (max-width: 400px) { main { display: flex } .b { order: -1 } }", False),
    ],
)
def test_what_a_stylesheet_moves(verdicts: Verdicts, css: str, is_moved: bool) -> None:
    found = verdicts(f"<main>{TWO}</main>", f"<title>t</title><style>{css}</style>")
    assert found.get("reading-order") == ("unsure" if is_moved else None)
    assert "focus-order" not in found


def test_nothing_is_moved_past_what_holds_nothing(verdicts: Verdicts) -> None:
    head = f"<title>t</title><style>{FLEX} .b {{ order: -1 }}</style>"
    assert "reading-order" not in verdicts("<main><p>High water</p><p class=b></p></main>", head)
    assert "reading-order" in verdicts("<main><p>High</p><p class=b><img src=a alt=b></p></main>", head)


def test_text_between_keeps_floating_things_from_being_neighbours(verdicts: Verdicts) -> None:
    head = "<title>t</title><style>b { float: right }</style>"
    assert "reading-order" in verdicts("<p><b>High</b> <b>Low</b></p>", head)
    assert "reading-order" not in verdicts("<p><b>High</b> and then <b>Low</b></p>", head)


def test_moved_links_are_reached_in_another_order(verdicts: Verdicts) -> None:
    found = verdicts(f"<main>{LINKS}</main>", f"<title>t</title><style>{FLEX} .b {{ order: -1 }}</style>")
    assert (found["reading-order"], found["focus-order"]) == ("unsure", "unsure")


@pytest.mark.parametrize(
    ("body", "is_moved"),
    [
        ("<a href=a>A</a><a href=b tabindex=1>B</a>", True),
        ("<a href=a tabindex=1>A</a><a href=b>B</a>", False),
        ("<a href=a tabindex=2>A</a><a href=b tabindex=1>B</a>", True),
        ("<a href=a tabindex=1>A</a><a href=b tabindex=1>B</a>", False),
        ("<a href=a tabindex=0>A</a><a href=b tabindex=-1>B</a>", False),
        ("<a href=a>A</a><p tabindex=3 hidden>B</p>", False),
        ("<a href=a>A</a><a href=b tabindex=x1>B</a>", False),
    ],
)
def test_tab_positions(verdicts: Verdicts, body: str, is_moved: bool) -> None:
    assert verdicts(body).get("focus-order") == ("unsure" if is_moved else None)
