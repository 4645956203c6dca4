"""Our computed styles against a browser's: for every text of the sample pages, in every scenario and state."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

import pytest

from sitegen.proof.contrast.backdrop import backdrop_of
from sitegen.proof.contrast.engine import ContrastEngine
from sitegen.proof.contrast.formulas import Colour
from sitegen.proof.contrast.scenario import Scenario
from sitegen.proof.contrast.style import Style
from sitegen.proof.contrast.values import Unknown
from sitegen.proof.contrast.visible import Sight, sight_of
from sitegen.proof.document import Document, Element, Text, parse
from tests.samples.random_pages import Maker

pytest.importorskip("playwright.sync_api")
CHROMIUM: Final = Path("/usr/bin/chromium")
pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(not CHROMIUM.exists(), reason="there is no Chromium on this machine"),
    pytest.mark.filterwarnings("ignore::DeprecationWarning"),
]

PAGES: Final = Path(__file__).parents[1] / "proof" / "contrast" / "pages"
RANDOM_PAGES: Final = 80
TOLERANCE: Final = 1.0001 / 255
SCENARIOS: Final = (
    *(
        Scenario(scheme, width, media)
        for scheme in ("light", "dark")
        for width in (1280, 320)
        for media in ("screen", "print")
    ),
    Scenario(contrast="more"),
)

# Every element in document order, and for each its colours as the browser computes them.
READ: Final = """() => { const all = [...document.querySelectorAll('*')]; return all.map(element => {
  const style = getComputedStyle(element)
  return {
    tag: element.localName, color: style.color, background: style.backgroundColor, image: style.backgroundImage,
    opacity: style.opacity, size: style.fontSize, weight: style.fontWeight, display: style.display,
    visibility: style.visibility, exact: style.printColorAdjust === 'exact',
    shown: element.checkVisibility ? element.checkVisibility() : true,
    parent: all.indexOf(element.parentElement),
  }
})}"""
CANVAS: Final = """() => {
  const probe = document.createElement('span')
  probe.style.setProperty('color', 'canvas', 'important')
  probe.style.setProperty('color-scheme', 'inherit', 'important')
  document.documentElement.append(probe)
  const value = getComputedStyle(probe).color
  probe.remove()
  return value
}"""


def browser_colour(text: str) -> Colour:
    from coloraide import Color

    found = Color(text).convert("srgb")
    red, green, blue = (0.0 if value != value else float(value) for value in found.coords())
    return red, green, blue, float(found.alpha())


def painted_over(above: Colour, below: Colour) -> Colour:
    """Source-over, written out here so that it doesn't lean on what is tested."""
    alpha = above[3] + below[3] * (1 - above[3])
    if alpha == 0:
        return 0.0, 0.0, 0.0, 0.0
    red, green, blue = (
        (above[channel] * above[3] + below[channel] * below[3] * (1 - above[3])) / alpha
        for channel in range(3)
    )
    return red, green, blue, alpha


def browser_backdrop(rows: list[dict[str, Any]], place: int, canvas: Colour, is_print: bool) -> Colour | None:
    """What lies behind an element's text, by walking the computed styles from the root; None with pictures in it."""
    chain = []
    while place >= 0:
        chain.append(rows[place])
        place = rows[place]["parent"]
    groups: list[tuple[Colour, float]] = [(canvas, 1.0)]
    # Where the root has none, the body's background is the page's: it lies outside of the body's own group.
    is_bodys_the_pages = browser_colour(rows[0]["background"])[3] == 0
    for row in reversed(chain):
        if row["display"] == "contents":
            continue
        if row["image"] != "none":
            return None
        opens = float(row["opacity"]) < 1
        paints_first = row["tag"] == "body" and is_bodys_the_pages
        if opens and not paints_first:
            groups.append(((0.0, 0.0, 0.0, 0.0), float(row["opacity"])))
        if not is_print or row["exact"]:
            groups[-1] = painted_over(browser_colour(row["background"]), groups[-1][0]), groups[-1][1]
        if opens and paints_first:
            groups.append(((0.0, 0.0, 0.0, 0.0), float(row["opacity"])))
    while len(groups) > 1:
        colour, opacity = groups.pop()
        groups[-1] = painted_over((*colour[:3], colour[3] * opacity), groups[-1][0]), groups[-1][1]
    return groups[0][0]


def alike(one: Colour, other: Colour) -> bool:
    def clip(value: float) -> float:
        return min(1.0, max(0.0, value))

    return all(abs(clip(first) - clip(second)) <= TOLERANCE for first, second in zip(one, other, strict=True))


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=str(CHROMIUM), args=["--no-sandbox"])
        yield started
        started.close()


def load(path: str) -> bytes | None:
    file = PAGES / path
    return file.read_bytes() if file.is_file() else None


def opened(browser: Any, path: Path, scenario: Scenario) -> Any:
    context = browser.new_context(
        viewport={"width": scenario.width, "height": scenario.height},
        color_scheme=scenario.scheme,
        contrast="more" if scenario.contrast == "more" else "no-preference",
        java_script_enabled=False,
    )
    page = context.new_page()
    page.emulate_media(media=scenario.media)
    page.goto(path.as_uri())
    return page


def differences(
    document: Document, styles: list[Style], rows: list[dict[str, Any]], canvas: Colour, scenario: Scenario
) -> Iterator[str]:
    elements = document.elements
    assert [element.tag for element in elements] == [row["tag"] for row in rows]
    for place, (element, style, row) in enumerate(zip(elements, styles, rows, strict=True)):
        if not any(isinstance(child, Text) and child.data.strip() for child in element.children):
            continue
        sight, hiding = sight_of(style)
        if sight is Sight.HIDDEN:
            # A browser counts as shown what is only clipped or moved away.
            if hiding in ("display", "visibility") and row["shown"] and row["visibility"] == "visible":
                yield f"{element!r} is shown"
            continue
        if not row["shown"] and element.tag != "option" and row["display"] != "contents":
            yield f"{element!r} is not shown"
            continue
        name = f"{element!r} {element.attrs} {scenario.name}"
        ours = style.colour("color")
        if isinstance(ours, Unknown) or not alike(ours, browser_colour(row["color"])):
            yield f"{name}: colour {ours}, browser {row['color']}"
        if abs(style.font_size - float(row["size"].removesuffix("px"))) > 0.01:
            yield f"{name}: size {style.font_size}, browser {row['size']}"
        if style.font_weight != float(row["weight"]):
            yield f"{name}: weight {style.font_weight}, browser {row['weight']}"
        theirs = browser_backdrop(rows, place, canvas, scenario.media == "print")
        if theirs is not None:
            worlds = backdrop_of(style, lambda address, style: Unknown("none here")).worlds
            if len(worlds) != 1 or not alike(worlds[0].seen(), theirs):
                yield f"{name}: backdrop {[world.seen() for world in worlds]}, browser {theirs}"


def ours_of(document: Document, path: str, scenario: Scenario) -> list[Style]:
    engine = ContrastEngine(load)
    theme = engine.judge_for(path, document, (scenario,)).theme
    styles = [node.variants[0].styles[0] for node in theme.nodes_of(document)]
    return [style for style in styles if style is not None]


@pytest.mark.parametrize("path", sorted(PAGES.glob("*.html")), ids=lambda path: path.stem)
def test_every_text_is_styled_as_in_a_browser(browser: Any, path: Path) -> None:
    document = parse(path.read_bytes())
    found: list[str] = []
    for scenario in SCENARIOS:
        page = opened(browser, path, scenario)
        rows = page.evaluate(READ)
        canvas = (1.0, 1.0, 1.0, 1.0) if scenario.media == "print" else browser_colour(page.evaluate(CANVAS))
        page.context.close()
        found.extend(differences(document, ours_of(document, path.name, scenario), rows, canvas, scenario))
    assert not found, "\n".join(found)


@pytest.mark.parametrize("first", range(0, RANDOM_PAGES, 20))
def test_random_stylesheets_are_read_as_by_a_browser(browser: Any, first: int) -> None:
    scenario = Scenario("dark" if first // 20 % 2 else "light", 700)
    page = opened(browser, PAGES / "stacks.html", scenario)
    found: list[str] = []
    for seed in range(first, first + 20):
        source = Maker(seed).page()
        document = parse(source)
        page.set_content(source)
        rows = page.evaluate(READ)
        canvas = browser_colour(page.evaluate(CANVAS))
        ours = ours_of(document, "page.html", scenario)
        found.extend(f"seed {seed}: {each}" for each in differences(document, ours, rows, canvas, scenario))
    page.context.close()
    assert not found, "\n".join(found)


def forced_states(kinds: frozenset[str]) -> tuple[list[str], list[str]]:
    """Pseudo-classes to force on the element itself and on those around it."""
    own: list[str] = [kind for kind in ("hover", "active", "focus", "focus-visible") if kind in kinds]
    around: list[str] = [kind for kind in ("hover", "active") if kind in kinds]
    if "focus" in kinds:
        own.append("focus-within")
        around.append("focus-within")
    return own, around


def test_states_are_styled_as_in_a_browser(browser: Any) -> None:
    path = PAGES / "states.html"
    scenario = Scenario(states=("hover", "focus", "active"))
    document = parse(path.read_bytes())
    engine = ContrastEngine(load)
    theme = engine.judge_for(path.name, document, (scenario,)).theme
    nodes = theme.nodes_of(document)
    page = opened(browser, path, scenario)
    protocol = page.context.new_cdp_session(page)
    protocol.send("DOM.enable")
    protocol.send("CSS.enable")
    root = protocol.send("DOM.getDocument", {"depth": -1})["root"]["nodeId"]
    ids = protocol.send("DOM.querySelectorAll", {"nodeId": root, "selector": "*"})["nodeIds"]
    canvas = browser_colour(page.evaluate(CANVAS))
    places = {element: place for place, element in enumerate(document.elements)}
    found, compared = [], 0
    for place, (element, node) in enumerate(zip(document.elements, nodes, strict=True)):
        for variant in node.variants[1:]:
            style = variant.styles[0]
            if (
                style is None
                or variant.depth < 0
                or not variant.kinds <= {"hover", "active", "focus", "focus-visible"}
            ):
                continue
            holder: Element = element
            for _ in range(node.depth - variant.depth):
                assert holder.parent is not None
                holder = holder.parent
            own, around = forced_states(variant.kinds)
            touched = [holder, *holder.ancestors()]
            for each in touched:
                classes = own if each is holder else around
                protocol.send(
                    "CSS.forcePseudoState", {"nodeId": ids[places[each]], "forcedPseudoClasses": classes}
                )
            rows = page.evaluate(READ)
            for each in touched:
                protocol.send(
                    "CSS.forcePseudoState", {"nodeId": ids[places[each]], "forcedPseudoClasses": []}
                )
            row = rows[place]
            compared += 1
            name = f"{element!r} while {holder!r} has {sorted(variant.kinds)}"
            ours = style.colour("color")
            if isinstance(ours, Unknown) or not alike(ours, browser_colour(row["color"])):
                found.append(f"{name}: colour {ours}, browser {row['color']}")
            if style.font_weight != float(row["weight"]):
                found.append(f"{name}: weight {style.font_weight}, browser {row['weight']}")
            theirs = browser_backdrop(rows, place, canvas, False)
            worlds = backdrop_of(style, lambda address, style: Unknown("none here")).worlds
            if theirs is None or not alike(worlds[0].seen(), theirs):
                found.append(f"{name}: backdrop {worlds[0].seen()}, browser {theirs}")
    page.context.close()
    assert compared > 20
    assert not found, "\n".join(found)
