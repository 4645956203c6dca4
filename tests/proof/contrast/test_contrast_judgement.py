"""What the engine says of small pages: one row for each thing that matters to a verdict."""

from __future__ import annotations

from io import BytesIO
from typing import Final

import pytest

from sitegen.proof.checks.base import PageFinding
from sitegen.proof.contrast.engine import DEFAULT, ContrastEngine, Scenario, all_scenarios
from sitegen.proof.contrast.scenario import ALL_STATES
from sitegen.proof.document import parse

WITH_STATES: Final = (Scenario(states=ALL_STATES),)
EVERYTHING: Final = all_scenarios()


def page(body: str, style: str = "") -> str:
    return f'<!doctype html>\n<html lang="en"><head><title>Page</title><style>{style}</style></head>\n<body>\n{body}\n</body></html>'


def findings(
    body: str,
    style: str = "",
    scenarios: tuple[Scenario, ...] = DEFAULT,
    files: dict[str, bytes] | None = None,
) -> tuple[PageFinding, ...]:
    return ContrastEngine((files or {}).get).judge("page.html", parse(page(body, style)), scenarios)


def verdicts(found: tuple[PageFinding, ...]) -> set[tuple[str, str]]:
    return {(each.check, each.verdict) for each in found if each.level != "AAA"}


FAILS: Final = {("text-contrast", "fails")}
UNSURE: Final = {("text-contrast", "unsure")}
PASSES: Final[set[tuple[str, str]]] = set()

# name: (what the body holds, the stylesheet, what is found)
CASES: Final[dict[str, tuple[str, str, set[tuple[str, str]]]]] = {
    "plain": ("<p>Some words</p>", "", PASSES),
    "faint": ("<p>Some words</p>", "p { color: #aaa }", FAILS),
    "exactly enough": ("<p>Some words</p>", "p { color: #767676 }", PASSES),
    "just short": ("<p>Some words</p>", "p { color: #777 }", FAILS),
    "large needs less": ("<p>Some words</p>", "p { color: #949494; font-size: 24px }", PASSES),
    "bold needs less from 14 points": ("<p>Some words</p>", "p { color: #949494; font: bold 14pt serif }", PASSES),
    "not quite large": ("<p>Some words</p>", "p { color: #949494; font-size: 23px }", FAILS),
    "large still needs something": ("<p>Some words</p>", "p { color: #999; font-size: 30px }", FAILS),
    "alpha": ("<p>Some words</p>", "p { color: rgb(0 0 0 / 30%) }", FAILS),
    "opacity of a group": ("<div><p>Some words</p></div>", "div { opacity: 0.4; background: #000; color: #fff }", FAILS),
    "backgrounds add up": (
        "<div><p>Some words</p></div>",
        "div { background: rgb(0 0 0 / 50%) } p { background: rgb(0 0 0 / 50%); color: #fff }",
        PASSES,
    ),
    "inherited colour, own background": ("<div>A b c<p>Some words</p></div>", "div { color: #000 } p { background: #333 }", FAILS),
    "important beats an attribute": ('<p style="color: #000">Some words</p>', "p { color: #ccc !important }", FAILS),
    "layers turn round for important": (
        "<p>Some words</p>",
        "@layer a, b; @layer a { p { color: #000 !important } } @layer b { p { color: #ccc !important } }",
        PASSES,
    ),
    "variables": ("<p>Some words</p>", ":root { --a: var(--b, #ccc) } p { color: var(--a) }", FAILS),
    "a cycle is no value": ("<p>Some words</p>", ":root { --a: var(--b); --b: var(--a) } p { color: var(--a, #ccc) }", FAILS),
    "gradient, best point fails": (
        "<p>Some words</p>",
        "p { color: #aaa; background: linear-gradient(to right, #fff, #00f) }",
        FAILS,
    ),
    "gradient, worst point fails": (
        "<span>Some words</span>",
        "span { color: #555; background: linear-gradient(to right, #fff, #000) }",
        UNSURE,
    ),
    "gradient, everything passes": ("<p>Some words</p>", "p { background: linear-gradient(#fff, #ddd) }", PASSES),
    "gradient, a hard stop in the middle": (
        "<span>Some words</span>",
        "span { color: #222; background: linear-gradient(#fff 50%, #222 50%, #fff 60%) }",
        UNSURE,
    ),
    "gradient, text over its good part": (
        "<p>Some words</p>",
        "p { width: 900px; background: linear-gradient(to right, #fff 50%, #000) }",
        PASSES,
    ),
    "an opaque background hides a gradient": (
        "<div><p>Some words</p></div>",
        "div { background: linear-gradient(#000, #fff) } p { background: #fff }",
        PASSES,
    ),
    "colours in the letters": (
        "<p>Some words</p>",
        "p { background: linear-gradient(#ddd, #ccc) text; color: transparent }",
        FAILS,
    ),
    "a shadow saves": ("<p>Some words</p>", "p { background: #737373; text-shadow: #fff 0 0 3px }", PASSES),
    "a shadow ruins": (
        "<p>Some words</p>",
        "p { color: #666; text-shadow: #aaa 2px 2px 4px, #aaa -2px 2px 4px, #aaa 2px -2px 4px, #aaa -2px -2px 4px }",
        FAILS,
    ),
    "not displayed": ("<p>Some words</p>", "p { color: #ccc; display: none }", PASSES),
    "not visible": ("<p>Some words</p>", "p { color: #ccc; visibility: hidden }", PASSES),
    "visible again": ("<div><p>Some words</p></div>", "div { visibility: hidden } p { color: #ccc; visibility: visible }", FAILS),
    "hidden": ("<p hidden>Some words</p>", "p { color: #ccc }", PASSES),
    "faded to nothing": ("<div><b><i>Some words</i></b></div>", "* { opacity: 0.06 }", FAILS),
    "of its background's colour in a faded group": ("<div><p>Some words</p></div>", "div { opacity: 0.5; background: #123; color: #123 }", PASSES),
    "transparent group": ("<div><p>Some words</p></div>", "div { opacity: 0 } p { color: #ccc }", PASSES),
    "off the screen": ("<p>Some words</p>", "p { color: #ccc; position: absolute; left: -9999px }", PASSES),
    "perhaps off the screen": ("<p>Some words</p>", "p { color: #ccc; position: absolute; top: -40px }", UNSURE),
    "clipped away": (
        "<p>Some words</p>",
        "p { color: #ccc; position: absolute; width: 1px; height: 1px; overflow: hidden; clip: rect(0 0 0 0) }",
        PASSES,
    ),
    "clipped by a path": ("<p>Some words</p>", "p { color: #ccc; clip-path: inset(50%) }", PASSES),
    "of its background's colour": ("<p>Some words</p>", "p { color: #fff }", PASSES),
    "one letter": ("<button>X</button>", "button { color: #777; background: #fff }", PASSES),
    "one letter that can't be seen": ("<button>X</button>", "button { color: #ccc; background: #fff }", {("sign-contrast", "fails")}),
    "a large first letter is part of a word": ("<p><span>O</span>nce more</p>", "span { color: #ccc }", FAILS),
    "signs are no language": ("<p>→</p>", "p { color: #ccc }", PASSES),
    "commas between links": ('<p><a href="/a">One thing</a>, <a href="/b">another</a></p>', "p { color: #ccc } a { color: #000 }", FAILS),
    "bars between links": ('<p><a href="/a">One thing</a> | <a href="/b">another</a></p>', "p { color: #ccc } a { color: #000 }", PASSES),
    "a lone ideograph is a word": ("<p>出</p>", "p { color: #ccc }", FAILS),
    "disabled": ("<button disabled>Some words</button>", "button { color: #ccc }", PASSES),
    "disabled by its group": ("<fieldset disabled><label>Name <input></label></fieldset>", "label { color: #ccc }", PASSES),
    "its legend is not disabled": (
        "<fieldset disabled><legend>Some words</legend><input></fieldset>",
        "legend { color: #ccc }",
        FAILS,
    ),
    "label of a disabled control": ('<label for="a">Name</label><input id="a" disabled>', "label { color: #ccc }", PASSES),
    "label of another": ('<label for="a">Name</label><input id="a">', "label { color: #ccc }", FAILS),
    "names a disabled control": (
        '<p id="a">Name</p><div role="textbox" aria-labelledby="a" aria-disabled="true">x y</div>',
        "p { color: #ccc }",
        PASSES,
    ),
    "only controls can be disabled": ('<p aria-disabled="true">Some words</p>', "p { color: #ccc }", FAILS),
    "unknown function": ("<p>Some words</p>", "p { color: contrast-color(#777) }", UNSURE),
    "blending": ("<p>Some words</p>", "p { mix-blend-mode: difference }", UNSURE),
    "filter": ("<div><p>Some words</p></div>", "div { filter: brightness(2) }", UNSURE),
    "a filter reaches into backgrounds inside": (
        "<div><p>Some words</p></div>",
        "div { filter: invert(1) } p { background: #fff; color: #000 }",
        UNSURE,
    ),
    "a translucent body's background is the page's": (
        "<p>Some words</p>",
        "body { background: #000; color: #fff; opacity: 0.5 }",
        PASSES,
    ),
    "a translucent body over the root's background": (
        "<p>Some words</p>",
        "html { background: #fff } body { background: #000; color: #fff; opacity: 0.5 }",
        FAILS,
    ),
    "filter that leaves colours alone": ("<p>Some words</p>", "p { filter: drop-shadow(0 0 2px #000) }", PASSES),
    "animated colour": ("<p>Some words</p>", "@keyframes a { to { color: #ccc } } p { animation: a 2s }", UNSURE),
    "animated elsewhere": ("<p>Some words</p>", "@keyframes a { to { left: 0 } } p { animation: a 2s }", PASSES),
    "container that matters": ("<p>Some words</p>", "@container (width > 1px) { p { color: #ccc } }", UNSURE),
    "container that doesn't": ("<p>Some words</p>", "@container (width > 1px) { p { color: #111 } }", PASSES),
    "picture that isn't there": ("<p>Some words</p>", "p { background: url(no.png) }", UNSURE),
    "over a picture": (
        '<div><img src="a.png" alt="A"><p>Some words</p></div>',
        "div { position: relative } p { position: absolute; bottom: 0 }",
        UNSURE,
    ),
    "over a picture, with a background": (
        '<div><img src="a.png" alt="A"><p>Some words</p></div>',
        "div { position: relative } p { position: absolute; bottom: 0; background: #fff }",
        PASSES,
    ),
    "generated text": ("<p>Some words</p>", 'p::before { content: "Note"; color: #ccc }', FAILS),
    "generated sign": ("<p>Some words</p>", 'p::before { content: "→"; color: #ccc }', PASSES),
    "generated text without content": ("<p>Some words</p>", "p::before { color: #ccc }", PASSES),
    "placeholder": ('<input placeholder="Some words">', "::placeholder { color: #ccc }", FAILS),
    "no placeholder": ("<input>", "::placeholder { color: #ccc }", PASSES),
    "marker": ("<ol><li>Some words</ol>", "li::marker { color: #ccc }", FAILS),
    "selection": ("<p>Some words</p>", "::selection { color: #ccc; background: #fff }", FAILS),
    "text of a drawing": ('<svg><text fill="#ccc">Some words</text></svg>', "", FAILS),
    "faded text of a drawing": ("<svg><g><text>Some words</text></g></svg>", "g { opacity: 0.2 }", FAILS),
    "text of a faded drawing": ("<svg><text>Some words</text></svg>", "svg { opacity: 0.2 }", FAILS),
    "text of a drawing faded a little": ("<svg><text>Some words</text></svg>", "svg { opacity: 0.9 }", PASSES),
    "text over a shape": ('<svg><rect fill="#000"/><text fill="#ccc">Some words</text></svg>', "", UNSURE),
    "text of a drawing that passes everywhere": ('<svg><rect fill="#eee"/><text>Some words</text></svg>', "", PASSES),
    "legacy colours": ('<table bgcolor="#333"><tr><td>Some words</table>', "", FAILS),
    "legacy font": ('<p><font color="silver">Some words</font></p>', "", FAILS),
    "fallback of a video": ("<video><p>Some words</p></video>", "p { color: #ccc }", PASSES),
    "written shadow tree": ('<div><template shadowrootmode="open"><p>Some words</p></template></div>', "div { color: #ccc }", FAILS),
    "styles stay out of a shadow tree": (
        '<div><template shadowrootmode="open"><p>Some words</p></template></div>',
        "p { color: #ccc }",
        PASSES,
    ),
    "plainly attached shadow tree": (
        '<div id="a"></div><script>const s = document.getElementById("a").attachShadow({mode: "open"});'
        " s.innerHTML = '<p style=\"color: #ccc\">Some words</p>'</script>",
        "",
        FAILS,
    ),
    "shadow tree nobody can read": (
        '<div id="a"></div><script>make(document.getElementById("a").attachShadow({mode: "open"}))</script>',
        "",
        {("scripted-text", "unsure")},
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_verdicts(name: str) -> None:
    body, style, expected = CASES[name]
    assert verdicts(findings(body, style)) == expected


MARKS: Final[dict[str, tuple[str, str, set[tuple[str, str]]]]] = {
    "browser's own field": ('<input aria-label="a">', "", PASSES),
    "field without an edge": ('<input aria-label="a">', "input { border: 0; background: #fff }", {("control-contrast", "unsure")}),
    "faint edge": ('<input aria-label="a">', "input { border: 1px solid #ccc }", {("control-contrast", "fails")}),
    "clear edge": ('<input aria-label="a">', "input { border: 1px solid #767676 }", PASSES),
    "one clear side": ('<input aria-label="a">', "input { border: 0; border-bottom: 2px solid #555 }", PASSES),
    "edge of the box around it": (
        '<div><input aria-label="a"></div>',
        "input { border: 0; background: none } div { border: 1px solid #555 }",
        PASSES,
    ),
    "dark field": ('<input aria-label="a">', "input { border: 0; background: #444; color: #fff } ::placeholder { color: #fff }", PASSES),
    "browser's own ring": ('<a href="/a">Some words</a>', "", PASSES),
    "no ring": ('<a href="/a">Some words</a>', "a { outline: none }", {("focus-mark", "fails")}),
    "faint ring": ('<a href="/a">Some words</a>', "a:focus { outline: 2px solid #ddd }", {("focus-mark-contrast", "fails")}),
    "clear ring": ('<a href="/a">Some words</a>', "a:focus { outline: 2px solid #333 }", PASSES),
    "ring made of a shadow": (
        '<a href="/a">Some words</a>',
        "a:focus { outline: none; box-shadow: 0 0 0 3px #222 }",
        PASSES,
    ),
    "background instead": ('<a href="/a">Some words</a>', "a:focus { outline: none; background: #222; color: #fff }", PASSES),
    "background too alike": (
        '<a href="/a">Some words</a>',
        "a:focus { outline: none; background: #eee }",
        {("focus-mark-contrast", "fails")},
    ),
    "the card around it shows": (
        '<div><a href="/a">Some words</a></div>',
        "a { outline: none } div:focus-within { outline: 3px solid #222 }",
        PASSES,
    ),
    "link by colour alone": (
        '<p>Some words <a href="/a">and a link</a> in text</p>',
        "a { text-decoration: none; color: #00c }",
        {("link-in-text", "fails")},
    ),
    "link by colour enough, but nothing on hover": (
        '<p>Some words <a href="/a">and a link</a> in text</p>',
        "a { text-decoration: none; color: #767676 }",
        {("link-in-text", "unsure")},
    ),
    "link by colour enough, underlined on hover": (
        '<p>Some words <a href="/a">and a link</a> in text</p>',
        "a { text-decoration: none; color: #767676 } a:hover { text-decoration: underline }",
        PASSES,
    ),
    "bold link": ('<p>Some words <a href="/a">and a link</a></p>', "a { text-decoration: none; color: #00c; font-weight: bold }", PASSES),
    "link by itself": ('<ul><li><a href="/a">A link</a></li></ul>', "a { text-decoration: none; color: #00c }", PASSES),
    "nothing but signs beside it": ('<p><a href="/a">A link</a> | <a href="/b">Another</a></p>', "a { text-decoration: none; color: #00c }", PASSES),
    "faint icon": ('<button><svg><path fill="#ddd" d="M0 0"/></svg></button>', "", {("sign-contrast", "fails")}),
    "faded icon": ('<button><svg><path d="M0 0"/></svg></button>', "svg { opacity: 0.2 }", {("sign-contrast", "fails")}),
    "decoration": ('<svg aria-hidden="true"><path fill="#ddd" d="M0 0"/></svg>', "", PASSES),
}  # fmt: skip


@pytest.mark.parametrize("name", MARKS)
def test_verdicts_on_marks(name: str) -> None:
    body, style, expected = MARKS[name]
    assert verdicts(findings(body, style, WITH_STATES)) == expected


STATES: Final[dict[str, tuple[str, str, str]]] = {
    "hover": ('<p><a href="/a">Some words</a></p>', "a:hover { color: #aaa }", "hover"),
    "visited": ('<p><a href="/a">Some words</a></p>', "a:visited { color: #aaa }", "visited"),
    "active": ('<p><a href="/a">Some words</a></p>', "a:active { color: #aaa }", "press"),
    "focus": ('<p><a href="/a">Some words</a></p>', "a:focus-visible { color: #aaa }", "focus"),
    "hover around": ("<div><p>Some words</p></div>", "div:hover { background: #555 }", "hover"),
    "hover asked from outside": ("<div><p>Some words</p></div>", "div:hover p { color: #aaa }", "hover"),
    "visited while hovered": (
        '<p><a href="/a">Some words</a></p>',
        "a:visited { color: #fff; background: #000 } a:hover { background: #eee }",
        "hover and visited",
    ),
}


@pytest.mark.parametrize("name", STATES)
def test_states_are_judged_and_named(name: str) -> None:
    body, style, state = STATES[name]
    assert not verdicts(findings(body, style)) - {("link-in-text", "fails")}
    found = [each for each in findings(body, style, WITH_STATES) if each.check == "text-contrast"]
    assert [each.verdict for each in found] == ["fails"]
    assert state in found[0].message


def test_states_of_a_neighbour_are_judged() -> None:
    style = "input:checked + label { color: #bbb }"
    body = '<input type="checkbox" id="a"><label for="a">Some words</label>'
    assert verdicts(findings(body, style)) == PASSES
    assert verdicts(findings(body, style, WITH_STATES)) == FAILS


def test_the_failing_scenario_is_named() -> None:
    style = ":root { color-scheme: light dark } p { color: light-dark(#000, #444) }"
    (found,) = (
        each for each in findings("<p>Some words</p>", style, EVERYTHING) if each.check == "text-contrast"
    )
    assert "dark" in found.message
    assert "light" not in found.message
    narrow = "@media (max-width: 400px) { p { color: #999 } }"
    (found,) = (
        each for each in findings("<p>Some words</p>", narrow, EVERYTHING) if each.check == "text-contrast"
    )
    assert "320 px" in found.message
    assert "1280 px" not in found.message


def test_text_that_vanishes_in_one_scheme_fails() -> None:
    style = ":root { color-scheme: light dark } body { background: light-dark(#fff, #000) } p { color: #000 }"
    (found,) = (
        each for each in findings("<p>Some words</p>", style, EVERYTHING) if each.check == "text-contrast"
    )
    assert found.verdict == "fails"


def test_paper_shows_no_backgrounds() -> None:
    style = "div { background: #000; color: #fff }"
    paper = (Scenario(media="print"),)
    # White on white in a browser that prints no backgrounds; said to be wanted, it prints them.
    both = (Scenario(), Scenario(media="print"))
    assert verdicts(findings("<div>Some words</div>", style, both)) == FAILS
    assert (
        verdicts(findings("<div>Some words</div>", style + "div { print-color-adjust: exact }", both))
        == PASSES
    )
    assert verdicts(findings("<div>Some words</div>", "div { color: #ccc }", paper)) == FAILS


def test_forced_colours_replace_the_pages_own() -> None:
    forced = (Scenario(forced_colors=True),)
    assert verdicts(findings("<p>Some words</p>", "p { color: #ccc }", forced)) == PASSES
    style = "p { color: #ccc; background: #fff; forced-color-adjust: none }"
    assert verdicts(findings("<p>Some words</p>", style, forced)) == FAILS


def test_a_finding_says_what_where_and_what_instead() -> None:
    style = "\n\nbody { background: #fefefe }\np { color: #aaaaaa }"
    found = [
        each for each in findings("<div>\n<p>Some words</p></div>", style) if each.check == "text-contrast"
    ]
    (one,) = found
    assert (one.line, one.criterion, one.level, one.act) == (8, "1.4.3", "AA", ("afw4f7",))
    for part in ("#aaaaaa", "#fefefe", "2.30:1", "4.5:1", "line 3", "line 4", "Some words"):
        assert part in one.message
    assert "#767676" in one.instead


def test_linked_sheets_are_read_and_named() -> None:
    files = {
        "site/a.css": b"@import 'more/b.css';\np { background: #fff }",
        "site/more/b.css": b"\n\np { color: #bbb }",
    }
    source = '<!doctype html><html lang="en"><head><title>P</title><link rel="stylesheet" href="../a.css"></head><body><p>Some words</p></body></html>'
    found = ContrastEngine(files.get).judge("site/stories/page.html", parse(source))
    (one,) = (each for each in found if each.check == "text-contrast")
    assert "site/more/b.css, line 3" in one.message


def test_a_sheet_that_cannot_be_read_is_said_to_be() -> None:
    source = '<!doctype html><html lang="en"><head><title>P</title><link rel="stylesheet" href="https://example.org/a.css"></head><body><p>Some words</p></body></html>'
    found = ContrastEngine(lambda path: None).judge("page.html", parse(source))
    assert [(each.check, each.verdict) for each in found] == [("stylesheet-read", "unsure")]


def test_addresses_below_a_prefix() -> None:
    source = '<!doctype html><html lang="en"><head><title>P</title><link rel="stylesheet" href="/archive/a.css"></head><body><p>Some words</p></body></html>'
    engine = ContrastEngine({"a.css": b"p { color: #ccc }"}.get, "archive/")
    assert verdicts(engine.judge("404.html", parse(source))) == FAILS


def picture(left: tuple[int, int, int], right: tuple[int, int, int]) -> bytes:
    from PIL import Image

    image = Image.new("RGB", (400, 100), left)
    image.paste(right, (300, 0, 400, 100))
    target = BytesIO()
    image.save(target, "PNG")
    return target.getvalue()


@pytest.mark.parametrize(
    ("colours", "style", "expected"),
    [
        (((255, 255, 255), (250, 250, 250)), "", PASSES),
        (((10, 10, 10), (0, 0, 0)), "", FAILS),
        (((255, 255, 255), (0, 0, 0)), "background-size: 50px 10px", UNSURE),
        # The text stands over the left part alone.
        (((255, 255, 255), (0, 0, 0)), "background-repeat: no-repeat; height: 40px", PASSES),
        (((0, 0, 0), (255, 255, 255)), "background-repeat: no-repeat; height: 40px", FAILS),
        (
            ((255, 255, 255), (0, 0, 0)),
            "background-repeat: no-repeat; height: 40px; text-align: right",
            PASSES,
        ),
        (
            ((255, 255, 255), (0, 0, 0)),
            "background-repeat: no-repeat; height: 40px; background-position: -300px 0",
            FAILS,
        ),
    ],
)
def test_pictures_are_measured(
    colours: tuple[tuple[int, int, int], tuple[int, int, int]], style: str, expected: set[tuple[str, str]]
) -> None:
    files = {"a.png": picture(*colours)}
    body = f'<p style="background-image: url(a.png); color: #222; {style}">Some words</p>'
    assert verdicts(findings(body, files=files)) == expected
