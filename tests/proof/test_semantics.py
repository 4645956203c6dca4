"""Roles, hiding and focus."""

from __future__ import annotations

import pytest

from sitegen.proof.document import Element, parse
from sitegen.proof.semantics import Semantics


def semantics_of(body: str) -> tuple[Semantics, Element]:
    document = parse(f"<!doctype html><html lang=en><head><title>t</title></head><body>{body}</body></html>")
    return Semantics(document), document.ids["x"]


@pytest.mark.parametrize(
    ("body", "role"),
    [
        ("<a id=x href=y>a</a>", "link"),
        ("<a id=x>a</a>", "generic"),
        ("<header id=x></header>", "banner"),
        ("<article><header id=x></header></article>", "generic"),
        ("<div role=main><footer id=x></footer></div>", "generic"),
        ("<section id=x></section>", "generic"),
        ("<section id=x aria-label=a></section>", "region"),
        ('<img id=x src=a alt="">', "none"),
        ("<img id=x src=a>", "img"),
        ('<img id=x src=a alt="" tabindex=0>', "img"),
        ("<input id=x type=EMAIL>", "textbox"),
        ("<input id=x type=nosuch>", "textbox"),
        ("<input id=x list=l>", "combobox"),
        ("<input id=x type=password>", ""),
        ("<select id=x multiple></select>", "listbox"),
        ("<select id=x></select>", "combobox"),
        ("<ul><li id=x>a</li></ul>", "listitem"),
        ("<ul role=none><li id=x>a</li></ul>", "none"),
        ("<div role='nosuch button' id=x>a</div>", "button"),
        ("<div role=presentation id=x>a</div>", "none"),
        ("<button role=none id=x>a</button>", "button"),
        ("<nav role=none aria-label=a id=x></nav>", "navigation"),
        ("<h1 role=none aria-hidden=false id=x>a</h1>", "none"),
        ("<table><tr><th id=x scope=row>a</th></tr></table>", "rowheader"),
        ("<table role=grid><tr><td id=x>a</td></tr></table>", "gridcell"),
        ("<table role=none><tr><td id=x>a</td></tr></table>", "none"),
        ("<svg id=x></svg>", "graphics-document"),
        ("<video id=x></video>", ""),
    ],
)
def test_roles(body: str, role: str) -> None:
    semantics, element = semantics_of(body)
    assert semantics.role(element) == role


@pytest.mark.parametrize(
    ("body", "hidden"),
    [
        ("<p id=x>a</p>", False),
        ("<p id=x hidden>a</p>", True),
        ("<div hidden><p id=x>a</p></div>", True),
        ("<div aria-hidden=true><p id=x aria-hidden=false>a</p></div>", True),
        ("<p id=x style='display:none'>a</p>", True),
        ("<p id=x hidden style='display:block'>a</p>", False),
        ("<div style='visibility:hidden'><p id=x>a</p></div>", True),
        ("<div style='visibility:hidden'><p id=x style='visibility:visible'>a</p></div>", False),
        ("<style>#x { display: none } p { display: block }</style><p id=x>a</p>", True),
        ("<style>#x { display: none } p { display: block !important }</style><p id=x>a</p>", False),
        ("<style>div p { display: none }</style><div><b><p id=x>a</p></b></div>", True),
        ("<style>div > p { display: none }</style><div><section><p id=x>a</p></section></div>", False),
        ("<style>h2 + p { display: none }</style><h2>a</h2><p id=x>a</p>", True),
        ("<style>h2 ~ p[data-a='1'] { display: none }</style><h2>a</h2><b>c</b><p id=x data-a=1>a</p>", True),
        ("<style>p:hover { display: none } .y { display: none }</style><p id=x>a</p>", False),
        ("<style>@media print { p { display: none } } @import 'a';</style><p id=x>a</p>", False),
        ("<style>@import 'a'; p { display: none }</style><p id=x>a</p>", True),
        ("<style>/* } */ p { content: '}'; display: none }</style><p id=x>a</p>", True),
        ("<dialog><p id=x>a</p></dialog>", True),
        ("<dialog open><p id=x>a</p></dialog>", False),
        ("<details><p id=x>a</p></details>", False),
        ("<input id=x type=hidden>", True),
        ("<div inert><p id=x>a</p></div>", True),
    ],
)
def test_hiding(body: str, hidden: bool) -> None:
    semantics, element = semantics_of(body)
    assert semantics.is_hidden(element) == hidden


@pytest.mark.parametrize(
    ("body", "reached"),
    [
        ("<a id=x href=y>a</a>", True),
        ("<a id=x>a</a>", False),
        ("<a id=x href=y tabindex=-1>a</a>", False),
        ("<div id=x tabindex=0>a</div>", True),
        ("<div id=x tabindex=x>a</div>", False),
        ("<button id=x disabled>a</button>", False),
        ("<button id=x aria-disabled=true>a</button>", True),
        ("<fieldset disabled><input id=x></fieldset>", False),
        ("<fieldset disabled><legend><input id=x></legend></fieldset>", True),
        ("<input id=x type=hidden>", False),
        ("<a id=x href=y hidden>a</a>", False),
        ("<details><summary id=x>a</summary></details>", True),
        ("<svg><a id=x xlink:href=y></a></svg>", True),
        ("<a id=x xlink:href=y>a</a>", False),
        ("<summary id=x>a</summary>", False),
        ("<p id=x contenteditable>a</p>", True),
        ("<video id=x controls></video>", True),
        ("<div inert><a id=x href=y>a</a></div>", False),
    ],
)
def test_keyboard_focus(body: str, reached: bool) -> None:
    semantics, element = semantics_of(body)
    assert semantics.takes_tab_focus(element) == reached


def test_ownership_follows_aria_owns_and_passes_over_presentation() -> None:
    semantics, element = semantics_of(
        "<ul id=x role=menu aria-owns=o><li role=none><b role=menuitem>a</b></li><li hidden>b</li></ul><i id=o role=menuitem>c</i>"
    )
    assert [owned.tag for owned in semantics.owned_elements(element)] == ["b", "i"]
    assert semantics.owner(semantics.document.ids["o"]) is element
