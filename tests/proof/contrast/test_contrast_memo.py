"""What an engine has learnt of earlier pages never changes what it says of a later one, and doesn't grow without end."""

from __future__ import annotations

from io import BytesIO

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some
from PIL import Image

from sitegen.proof.contrast import theme as theme_module
from sitegen.proof.contrast.engine import ContrastEngine, Scenario, all_scenarios
from sitegen.proof.contrast.scenario import ALL_STATES
from sitegen.proof.document import parse
from tests.counts import tries
from tests.samples.random_pages import Maker

SCENARIOS = (Scenario(states=ALL_STATES), Scenario("dark", 320, states=ALL_STATES), Scenario(media="print"))


def nothing(path: str) -> bytes | None:
    return None


@settings(max_examples=tries(25), deadline=None)
@given(some.integers(0, 10**6))
def test_pages_are_judged_alike_whatever_came_before(seed: int) -> None:
    maker = Maker(seed)
    sheet = (
        maker.sheet()
        + " li:first-child + li { color: #999 } p:hover { color: #aaa } :has(> b) > i { color: #888 }"
    )
    pages = [maker.page(sheet) for _ in range(4)]
    alone = [ContrastEngine(nothing).judge("p.html", parse(page), SCENARIOS) for page in pages]
    engine = ContrastEngine(nothing)
    for page, verdicts in (*zip(pages, alone, strict=True), *zip(pages[::-1], alone[::-1], strict=True)):
        assert engine.judge("p.html", parse(page), SCENARIOS) == verdicts


SIBLINGS = """<!doctype html><html lang="en"><head><title>t</title><style>{style}</style></head><body>{body}</body></html>"""


@pytest.mark.parametrize(
    ("style", "body", "lines"),
    [
        (
            "li:nth-child(even) { color: #ccc }",
            "<ul><li>one a\n<li>two b\n<li>three c\n<li>four d\n</ul>",
            [2, 4],
        ),
        (
            "p + p { color: #ccc }",
            "<p>one a</p>\n<p>two b</p>\n<div></div>\n<p>three c</p>\n<p>four d</p>",
            [2, 5],
        ),
        (
            "h2 ~ p { color: #ccc }",
            "<p>one a</p>\n<h2>two b</h2>\n<p>three c</p>\n<b>x y</b>\n<p>four d</p>",
            [3, 5],
        ),
        ("p:has(b) { color: #ccc }", "<p>one a</p>\n<p>two <i>b</i></p>\n<p>three <i><b></b></i></p>", [3]),
        ("p:last-of-type { color: #ccc }", "<p>one a</p>\n<p>two b</p>\n<div>three c</div>", [2]),
        ("div:empty + p { color: #ccc }", "<div></div>\n<p>one a</p>\n<div>x y</div>\n<p>two b</p>", [2]),
        (
            "p:only-child { color: #ccc }",
            "<div><p>one a</p></div>\n<div><p>two b</p><p>three c</p></div>",
            [1],
        ),
    ],
)
def test_elements_written_alike_are_told_apart_by_their_neighbours(
    style: str, body: str, lines: list[int]
) -> None:
    document = parse(SIBLINGS.format(style=style, body=body))
    found = ContrastEngine(nothing).judge("p.html", document)
    assert sorted({each.line for each in found if each.check == "text-contrast"}) == lines


def test_what_is_kept_does_not_grow_with_pages(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(theme_module, "MOST_LOOKS", 200)
    engine = ContrastEngine(nothing)
    style = " ".join(f".c{number} {{ color: #{number % 9}00 }}" for number in range(500))
    sizes = []
    for start in range(0, 400, 10):
        body = "".join(
            f'<p class="c{start + number}" title="{start}-{number}">Some words</p>' for number in range(10)
        )
        document = parse(SIBLINGS.format(style=style, body=body))
        expected = ContrastEngine(nothing).judge("p.html", document, SCENARIOS)
        assert engine.judge("p.html", document, SCENARIOS) == expected
        sizes.append(engine.judge_for("p.html", document, SCENARIOS).theme.size)
    assert max(sizes) < 200 + 50
    assert sizes[-1] < 250


def test_scenarios_that_make_no_difference_share_styles() -> None:
    document = parse(SIBLINGS.format(style="p { color: #222 }", body="<p>Some words</p>"))
    judge = ContrastEngine(nothing).judge_for("p.html", document, all_scenarios())
    node = judge.theme.nodes_of(document)[-1]
    screens = [style for style, each in zip(node.variants[0].styles, judge.theme.scenarios, strict=True)
               if each.media == "screen" and not each.forced_colors]  # fmt: skip
    assert len(screens) > 3
    assert len(set(screens)) == 1


def one_colour(grey: int) -> bytes:
    data = BytesIO()
    Image.new("RGB", (4, 4), (grey, grey, grey)).save(data, "PNG")
    return data.getvalue()


@pytest.mark.parametrize(
    "body",
    [
        '<p style="background-image: url(a.png); color: #222">Some words</p>',
        '<p style="background-image: URL(a.png); color: #222">Some words</p>',
        "<p style=\"background-image: image-set('a.png' 1x); color: #222\">Some words</p>",
        '<style>p { background: URL("a.png"); color: #222 }</style><p>Some words</p>',
        '<table><tr><td background="a.png" style="color: #222">Some words</td></tr></table>',
    ],
)
@pytest.mark.parametrize("order", [("dark/", "light/"), ("light/", "dark/")])
def test_a_page_shows_the_pictures_beside_it(body: str, order: tuple[str, str]) -> None:
    engine = ContrastEngine({"dark/a.png": one_colour(30), "light/a.png": one_colour(250)}.get)
    page = f'<!doctype html><html lang="en"><head><title>t</title></head><body>{body}</body></html>'
    failing = {address for address in order if engine.judge(address + "index.html", parse(page))}
    assert failing == {"dark/"}
