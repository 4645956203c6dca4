"""What a browser computes for the elements of a page, and where our styles differ from it.

The browser's side is worked out from its computed styles alone, and shares no code with what it is held against.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Final

from sitegen.proof.contrast.backdrop import backdrop_of
from sitegen.proof.contrast.drawings import NOT_DRAWN
from sitegen.proof.contrast.formulas import Colour
from sitegen.proof.contrast.scenario import Scenario
from sitegen.proof.contrast.style import Style
from sitegen.proof.contrast.theme import Node
from sitegen.proof.contrast.values import Unknown
from sitegen.proof.contrast.visible import Sight, sight_of
from sitegen.proof.document import Document, Element, Text

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

TOLERANCE: Final = 1.0001 / 255
# Every element in document order, and for each its colours as the browser computes them. As one string, which
# crosses over from the browser much faster than a list of records.
READ: Final = """() => {
  const all = [...document.querySelectorAll('*')], places = new Map(all.map((element, place) => [element, place]))
  return JSON.stringify(all.map(element => {
    const style = getComputedStyle(element)
    return {
      tag: element.localName, color: style.color, background: style.backgroundColor, image: style.backgroundImage,
      opacity: style.opacity, size: style.fontSize, weight: style.fontWeight, display: style.display,
      visibility: style.visibility, exact: style.printColorAdjust === 'exact',
      shown: element.checkVisibility ? element.checkVisibility() : true,
      folded: element.closest('details:not([open]) > :not(summary:first-of-type)') !== null,
      parent: places.get(element.parentElement) ?? -1,
    }
  }))
}"""
CANVAS: Final = """() => {
  const probe = document.createElement('span')
  probe.style.setProperty('color', 'canvas', 'important')
  probe.style.setProperty('color-scheme', 'inherit', 'important')
  document.documentElement.append(probe)
  const value = getComputedStyle(probe).color
  probe.remove()
  return value
}"""


def rows_of(page: Page) -> list[dict[str, Any]]:
    """What the browser computes for every element of a page, in document order; see `READ`."""
    found: list[dict[str, Any]] = json.loads(page.evaluate(READ))
    return found


@lru_cache(4096)
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


def browser_backdrop(
    rows: list[dict[str, Any]], place: int, canvas: Colour, is_print: bool, above: Colour | None = None
) -> Colour | None:
    """What lies behind an element's text, by walking the computed styles from the root; None with pictures in it.

    With a colour `above`, what is seen where that is painted over the element's own background.
    """
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
    if above is not None:
        groups[-1] = painted_over(above, groups[-1][0]), groups[-1][1]
    while len(groups) > 1:
        colour, opacity = groups.pop()
        groups[-1] = painted_over((*colour[:3], colour[3] * opacity), groups[-1][0]), groups[-1][1]
    return groups[0][0]


def alike(one: Colour, other: Colour) -> bool:
    def clip(value: float) -> float:
        return min(1.0, max(0.0, value))

    return all(abs(clip(first) - clip(second)) <= TOLERANCE for first, second in zip(one, other, strict=True))


def differences(
    document: Document,
    styles: Sequence[Style],
    rows: list[dict[str, Any]],
    canvas: Colour,
    scenario: Scenario,
    no_pictures: bool = False,
) -> Iterator[str]:
    """Where our styles of a page's texts are not the browser's, a line for each.

    A background with a picture in it is not compared; with `no_pictures`, one behind a text is a difference.
    """
    elements = document.elements
    assert [element.tag for element in elements] == [row["tag"] for row in rows]
    for place, (element, style, row) in enumerate(zip(elements, styles, rows, strict=True)):
        if not any(isinstance(child, Text) and child.data.strip() for child in element.children):
            continue
        # What describes a drawing is never drawn, whatever its styles are (SVG 2, 5.7).
        if element.namespace == "svg" and element.tag in NOT_DRAWN:
            if row["shown"]:
                yield f"{element!r} is shown"
            continue
        sight, hiding = sight_of(style)
        if sight is Sight.HIDDEN:
            # A browser counts as shown what is only clipped or moved away.
            if hiding in ("display", "visibility") and row["shown"] and row["visibility"] == "visible":
                yield f"{element!r} is shown"
            continue
        # What is folded away is shown as soon as the reader unfolds it, so it has to be as legible as the rest.
        if (
            not row["shown"]
            and not row["folded"]
            and element.tag != "option"
            and row["display"] != "contents"
        ):
            yield f"{element!r} is not shown"
            continue
        for each in unlike(style, rows, place, canvas, scenario):
            yield f"{element!r} {element.attrs} {scenario.name}: {each}"
        if no_pictures and browser_backdrop(rows, place, canvas, scenario.media == "print") is None:
            yield f"{element!r} {element.attrs} {scenario.name}: stands over a picture"


def unlike(
    style: Style, rows: list[dict[str, Any]], place: int, canvas: Colour, scenario: Scenario
) -> Iterator[str]:
    """What of a style is not as the browser computes it for the element at a place of its list."""
    row = rows[place]
    ours = style.colour("color")
    if isinstance(ours, Unknown) or not alike(ours, browser_colour(row["color"])):
        yield f"colour {ours}, browser {row['color']}"
    if abs(style.font_size - float(row["size"].removesuffix("px"))) > 0.01:
        yield f"size {style.font_size}, browser {row['size']}"
    if style.font_weight != float(row["weight"]):
        yield f"weight {style.font_weight}, browser {row['weight']}"
    theirs = browser_backdrop(rows, place, canvas, scenario.media == "print")
    if theirs is not None:
        worlds = backdrop_of(style, lambda address, style: Unknown("none here")).worlds
        if len(worlds) != 1 or not alike(worlds[0].seen(), theirs):
            yield f"backdrop {[world.seen() for world in worlds]}, browser {theirs}"


# --- one page in many media ------------------------------------------------------------------


class Window:
    """A page without its scripts in a browser's window, seen in one scenario after the other."""

    def __init__(self, browser: Browser) -> None:
        self._context = browser.new_context(java_script_enabled=False)
        self.page = self._context.new_page()

    def goto(self, address: str) -> None:
        self.page.goto(address)

    def turn(self, scenario: Scenario) -> None:
        """See the page as in a scenario from now on."""
        self.page.set_viewport_size({"width": scenario.width, "height": scenario.height})
        self.page.emulate_media(
            media=scenario.media,
            color_scheme=scenario.scheme,
            forced_colors="active" if scenario.forced_colors else "none",
            contrast="more" if scenario.contrast == "more" else "no-preference",
        )

    def rows(self) -> list[dict[str, Any]]:
        """What the browser computes for every element, in document order; see `READ`."""
        return rows_of(self.page)

    def canvas(self, scenario: Scenario) -> Colour:
        """The colour of the page before anything is painted on it."""
        if scenario.media == "print":
            return 1.0, 1.0, 1.0, 1.0
        return browser_colour(self.page.evaluate(CANVAS))

    def close(self) -> None:
        self._context.close()


# --- states ----------------------------------------------------------------------------------

STATES: Final = frozenset({"hover", "active", "focus", "focus-visible"})
"""The states that a browser can be told to show."""


def forced_states(kinds: frozenset[str]) -> tuple[list[str], list[str]]:
    """Pseudo-classes to force on the element itself and on those around it."""
    own: list[str] = [kind for kind in ("hover", "active", "focus", "focus-visible") if kind in kinds]
    around: list[str] = [kind for kind in ("hover", "active") if kind in kinds]
    if "focus" in kinds:
        own.append("focus-within")
        around.append("focus-within")
    return own, around


def state_differences(
    window: Window,
    document: Document,
    nodes: Sequence[Node],
    scenario: Scenario,
    number: int,
    most: int | None = None,
) -> tuple[int, list[str]]:
    """(how many were compared, where the browser differs), for elements while they or what holds them are in a state.

    `window` shows the page in `scenario`, which is the theme's scenario `number`. Of elements with the same styles, one is looked at;
    of the pairs of a holder and a state, at most the first `most`.
    """
    protocol = window.page.context.new_cdp_session(window.page)
    protocol.send("DOM.enable")
    protocol.send("CSS.enable")
    root = protocol.send("DOM.getDocument", {"depth": -1})["root"]["nodeId"]
    ids = protocol.send("DOM.querySelectorAll", {"nodeId": root, "selector": "*"})["nodeIds"]

    def force(elements: Sequence[Element], own: list[str], around: list[str]) -> None:
        for each in elements:
            classes = own if each is elements[0] else around
            protocol.send(
                "CSS.forcePseudoState", {"nodeId": ids[places[each]], "forcedPseudoClasses": classes}
            )

    canvas = window.canvas(scenario)
    places = {element: place for place, element in enumerate(document.elements)}
    cases: dict[tuple[Element, frozenset[str]], list[tuple[int, Style]]] = {}
    seen: set[tuple[Node, int, frozenset[str]]] = set()
    for place, (element, node) in enumerate(zip(document.elements, nodes, strict=True)):
        for variant in node.variants[1:]:
            style = variant.styles[number]
            key = node, variant.depth, variant.kinds
            if style is None or variant.depth < 0 or not variant.kinds <= STATES or key in seen:
                continue
            seen.add(key)
            holder = element
            for _ in range(node.depth - variant.depth):
                assert holder.parent is not None
                holder = holder.parent
            cases.setdefault((holder, variant.kinds), []).append((place, style))
    compared = 0
    found: list[str] = []
    for (holder, kinds), changed in list(cases.items())[:most]:
        touched = [holder, *holder.ancestors()]
        force(touched, *forced_states(kinds))
        rows = window.rows()
        force(touched, [], [])
        for place, style in changed:
            compared += 1
            name = f"{document.elements[place]!r} while {holder!r} has {sorted(kinds)}"
            found.extend(f"{name}: {each}" for each in unlike(style, rows, place, canvas, scenario))
    return compared, found
