"""Accessible names, by the published computation and its examples."""

from __future__ import annotations

import pytest

from sitegen.proof.document import parse
from sitegen.proof.names import Names
from sitegen.proof.semantics import Semantics


def name_of(body: str, identifier: str = "x") -> str:
    document = parse(f"<!doctype html><html lang=en><head><title>t</title></head><body>{body}</body></html>")
    return Names(Semantics(document)).name(document.ids[identifier])


# Examples of Accessible Name and Description Computation 1.2 (https://www.w3.org/TR/accname-1.2/), by step.
@pytest.mark.parametrize(
    ("body", "identifier", "expected"),
    [
        # 2B: an element may point at itself and at another
        (
            '<ul><li><a id="file_row1" href="./files/Documentation.pdf">Documentation.pdf</a>'
            '<span role="button" tabindex="0" id="del_row1" aria-label="Delete" aria-labelledby="del_row1 file_row1"></span></li></ul>',
            "del_row1",
            "Delete Documentation.pdf",
        ),
        # 2B: what was pointed at is not followed further
        ('<div id="el1" role="group" aria-labelledby="el3"></div><div id="el2" role="group" aria-labelledby="el1"></div><div id="el3">hello</div>', "el1", "hello"),
        ('<div id="el1" role="group" aria-labelledby="el3"></div><div id="el2" role="group" aria-labelledby="el1"></div><div id="el3">hello</div>', "el2", ""),
        # 2C: controls inside a label give their value
        (
            '<div role="checkbox" aria-checked="true" id="x">Flash the screen <span role="textbox" aria-multiline="false"> 5 </span> times</div>',
            "x",
            "Flash the screen 5 times",
        ),
        (
            '<label for="flash"><input type="checkbox" id="flash"> Flash the screen '
            '<span tabindex="0" role="textbox" aria-label="number of times" contenteditable>5</span> times.</label>',
            "flash",
            "Flash the screen 5 times.",
        ),
        (
            '<input type="checkbox" id="flash"><label for="flash">Flash the screen <select size="1"><option selected="selected">1</option>'
            '<option value="2">2</option></select> times.</label>',
            "flash",
            "Flash the screen 1 times.",
        ),
        (
            '<input type="checkbox" id="flash"><label for="flash">Flash the screen <input type="range" min="1" max="5" value="5" '
            'aria-valuetext="five" aria-label="number"> times.</label>',
            "flash",
            "Flash the screen five times.",
        ),
        # 2A: hidden content does not count, but where it is pointed at
        ('<button id="x">Save <span hidden>never</span></button>', "x", "Save"),
        ('<button id="x" aria-labelledby="h">Save</button><span id="h" hidden>Keep <b>it</b></span>', "x", "Keep it"),
        ('<button id="x" aria-labelledby="v">Save</button><span id="v">Keep <b hidden>not</b> it</span>', "x", "Keep it"),
        # 2F: blocks stand apart, inline content does not
        ('<a id="x" href="y"><span>Up</span><span>date</span></a>', "x", "Update"),
        ('<a id="x" href="y"><div>Up</div><div>date</div></a>', "x", "Up date"),
        ('<a id="x" href="y">Up<br>date</a>', "x", "Up date"),
        ('<div role="heading" aria-level="2" id="x" aria-owns="o">One</div><div id="o">Two</div>', "x", "One Two"),
        # 2I
        ('<a id="x" href="y" title="tip"></a>', "x", "tip"),
    ],
)  # fmt: skip
def test_examples_of_the_computation(body: str, identifier: str, expected: str) -> None:
    assert name_of(body, identifier) == expected


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        ('<img id="x" src="a.jpg" alt=" A  rack ">', "A rack"),
        ('<img id="x" src="a.jpg" alt="" title="tip">', "tip"),
        ('<img id="x" src="a.jpg" title="tip">', "tip"),
        ('<img id="x" src="a.jpg" alt="alt" aria-label="label">', "label"),
        ('<label>First <b>name</b> <input id="x"></label>', "First name"),
        ('<label for="x">A</label> <input id="x"> <label for="x">B</label>', "A B"),
        ('<input id="x" placeholder="hint">', "hint"),
        ('<input id="x" placeholder="hint" title="tip">', "tip"),
        ('<input id="x" type="submit">', "Submit"),
        ('<input id="x" type="reset">', "Reset"),
        ('<input id="x" type="submit" value="Send it">', "Send it"),
        ('<input id="x" type="submit" value="">', ""),
        ('<input id="x" type="button">', ""),
        ('<input id="x" type="image" alt="Find">', "Find"),
        ('<input id="x" type="image" src="find.png">', ""),
        ('<button id="x" value="no"></button>', ""),
        ('<button id="x"><img src=a alt="Find"></button>', "Find"),
        ('<fieldset id="x"><legend>Where <i>to</i></legend><input></fieldset>', "Where to"),
        ('<table id="x"><caption>Hours</caption><tr><td>9</td></tr></table>', "Hours"),
        ('<figure id="x"><img alt="a" src=a><figcaption>Coats</figcaption></figure>', "Coats"),
        ('<iframe id="x" src=a title="Map"></iframe>', "Map"),
        ('<iframe id="x" src=a>text</iframe>', ""),
        ('<object id="x" data=a><img alt="no" src=a></object>', ""),
        ('<details><summary id="x">More</summary></details>', "More"),
        ('<a id="x" href=y aria-label=" ">text</a>', "text"),
        ('<a id="x" href=y aria-labelledby="gone">text</a>', "text"),
        ('<section id="x" aria-labelledby="a b"><h2 id="a">One</h2><h3 id="b">Two</h3></section>', "One Two"),
        ('<a id="x" href=y aria-labelledby="e">text</a><i id="e"></i>', "text"),
        ('<a id="x" href=y><svg><title>Up</title><path d="M0 0"/></svg></a>', "Up"),
        ('<svg id="x" role="img"><title>Chart</title></svg>', "Chart"),
        ('<a id="x" href=y><img src=a alt=""> Read</a>', "Read"),
        ('<a id="x" href=y><span aria-hidden="true">→</span></a>', ""),
        ('<a id="x" href=y><span style="display: none">no</span><i style="visibility:hidden">no</i>yes</a>', "yes"),
        ('<style>.off { display: none } p > b { visibility: hidden }</style><a id="x" href=y><span class="off">no</span>yes</a>', "yes"),
        ('<style>@media print { .off { display: none } }</style><a id="x" href=y><span class="off">yes</span></a>', "yes"),
        ('<p hidden>a</p><img id="x" src=a alt="A">', "A"),
        ('<img id="x" src=a alt="A" hidden>', ""),
        ('<label>Where <span role="combobox" aria-expanded="false">Skerry</span> <input id="x"></label>', "Where Skerry"),
        ('<map name=m><area id="x" href=y alt="North"></map>', "North"),
        ('<div id="x">text</div>', ""),
        ('<div id="x" role="textbox">value</div>', ""),
        ('<select><optgroup id="x" label="Coast"><option>a</option></optgroup></select>', "Coast"),
        ('<h2 id="x">Deadlines <a href=y>for <em>coats</em></a></h2>', "Deadlines for coats"),
        ('<p id="a" aria-labelledby="x">a</p><button id="x" aria-labelledby="a">b</button>', "a"),
    ],
)  # fmt: skip
def test_what_html_gives_names_from(body: str, expected: str) -> None:
    assert name_of(body) == expected


def test_names_that_point_at_each_other_come_to_an_end() -> None:
    assert name_of('<button id="x" aria-owns="y">a</button><button id="y" aria-owns="x">b</button>') == "a b"


def test_deep_content_is_no_trouble() -> None:
    assert name_of('<a id="x" href=y>' + "<span>" * 5000 + "deep" + "</span>" * 5000 + "</a>") in ("", "deep")
