"""What the cascade makes of a page's elements, as the checks ask for it: shown or not, where it stands, how it is spaced.

The styles come from the contrast engine, which reads the page's own stylesheets and, where it can load them, linked ones, in
every scenario the page is judged in. A page without any style of its own asks nothing of the engine: HTML's own styles are
known here.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Callable, Container, Iterator, Sequence
from functools import lru_cache
from itertools import compress
from operator import attrgetter
from typing import TYPE_CHECKING, Final

from sitegen.proof.contrast.facts import Facts
from sitegen.proof.contrast.names import names_in
from sitegen.proof.document import Document, Element

if TYPE_CHECKING:
    from sitegen.proof.contrast.engine import ContrastEngine
    from sitegen.proof.contrast.scenario import Scenario
    from sitegen.proof.contrast.style import Style
    from sitegen.proof.contrast.theme import Node


_offset: Final = attrgetter("offset")
_OFTEN: Final = 24
"""So many elements are searched for before a table of all of them pays."""


class Styles:
    """The styles of one document's elements, seen in one of its scenarios and, where asked, in all."""

    __slots__ = (
        "_asked",
        "_by_element",
        "_notable_elements",
        "_number",
        "_pair",
        "document",
        "nodes",
        "notable",
        "scenarios",
    )

    def __init__(
        self,
        document: Document,
        nodes: Sequence[Node] = (),
        scenarios: Sequence[Scenario] = (),
        number: int = 0,
        pair: Callable[[], Sequence[Node]] | None = None,
    ) -> None:
        """`nodes` go with the document's elements; none for a page without styles. `number` is the scenario looked at.

        `pair` gives the nodes of a device held upright and held across, where the page's styles tell these apart.
        """
        self.document = document
        self.nodes = nodes
        self.scenarios = tuple(scenarios)
        """What the page is judged in; empty for a page without styles."""
        count = len(self.scenarios)
        self.notable: dict[Node, Facts] = {
            node: facts
            for node in frozenset(nodes)
            if (facts := node.facts or facts_of(node, count)).is_notable
        }
        """The nodes with anything unusual about them, with what it is."""
        self._notable_elements: list[tuple[Element, Node]] | None = None
        self._number = number
        self._pair = pair
        self._asked = 0
        self._by_element: dict[Element, Node] | None = None

    @property
    def is_plain(self) -> bool:
        """Whether nothing but HTML's own styles applies."""
        return not self.nodes

    def with_nodes(self, wanted: Container[Node]) -> list[tuple[Element, Node]]:
        """The elements of some of the notable nodes, each with its node, in document order."""
        notable = self._notable_elements
        if notable is None:
            is_notable = map(self.notable.__contains__, self.nodes)
            pairs = zip(self.document.elements, self.nodes, strict=True)
            notable = self._notable_elements = list(compress(pairs, is_notable))
        return [each for each in notable if each[1] in wanted]

    def node(self, element: Element) -> Node:
        """The engine's node of an element of a page with styles."""
        if self._by_element is None:
            self._asked += 1
            if self._asked < _OFTEN:
                # Where elements stand in the order in which they are written, a search among their places finds it.
                elements = self.document.elements
                place = bisect_left(elements, element.offset, key=_offset)
                if place < len(elements) and elements[place] is element:
                    return self.nodes[place]
            self._by_element = dict(zip(self.document.elements, self.nodes, strict=True))
        return self._by_element[element]

    def of(self, element: Element) -> Style:
        """The computed style of an element at rest; only for a page with styles."""
        return at_rest(self.node(element), self._number)

    def display(self, element: Element) -> str:
        """The `display` an author declared for an element, "" where HTML's own stands."""
        if not self.nodes:
            return ""
        style = self.of(element)
        return "" if style.declared_by_author("display") is None else str(style.value("display"))

    def font_family(self, element: Element) -> str:
        """The families a text is set in, as written, in lower case."""
        value = self.of(element).value("font-family")
        if isinstance(value, str):
            return value
        import tinycss2

        return str(tinycss2.serialize(value)).lower() if isinstance(value, tuple) else ""

    def unrendered(self) -> frozenset[Element]:
        """Elements that are not displayed, or invisible, by themselves or from above.

        `area` elements, which HTML never displays, go with what they stand in: browsers expose them. What stands in a closed
        `details` counts as rendered, since anybody can open it.
        """
        number = self._number
        hiding = {node for node, facts in self.notable.items() if not facts.rendered >> number & 1}
        if not hiding:
            return frozenset()
        hidden = [element for element, _ in self.with_nodes(hiding)]
        if not self.document.tagged("area"):
            return frozenset(hidden)
        found: set[Element] = set()
        for element in hidden:
            if element.tag != "area" or element.parent in found:
                found.add(element)
        return frozenset(found)

    def is_out_of_sight(self, element: Element) -> bool:
        """Whether an element is moved off the screen, clipped to nothing or transparent, by itself or from above."""
        facts = facts_of(self.node(element), len(self.scenarios))
        return bool(facts.out_of_sight >> self._number & 1)

    def turning(self) -> Iterator[tuple[Element, Style, Style]]:
        """The elements whose styles depend on how a device is held, with their styles upright and across."""
        nodes = () if self._pair is None else self._pair()
        for element, node in zip(self.document.elements, nodes, strict=False):
            upright, across = node.rest[:2]
            if upright is not None and across is not None and upright is not across:
                yield element, upright, across

    def views(self) -> tuple[Styles, ...]:
        """These styles in as many scenarios on a screen as differ in what is rendered, this one first."""
        if not self.nodes:
            return (self,)
        screens = tuple([scenario.media == "screen" for scenario in self.scenarios])
        found = _that_differ(frozenset([facts.rendered for facts in self.notable.values()]), screens)
        if len(found) < 2:
            return (self,)
        return tuple(
            Styles(self.document, self.nodes, self.scenarios, number, self._pair) for number in found
        )


@lru_cache(maxsize=256)
def _that_differ(patterns: frozenset[int], screens: tuple[bool, ...]) -> tuple[int, ...]:
    """The scenarios on a screen that differ in what is rendered; bit n of each pattern says whether something is in scenario n."""
    found: dict[tuple[int, ...], int] = {}
    ordered = sorted(patterns)
    for number, is_screen in enumerate(screens):
        if is_screen:
            found.setdefault(tuple(pattern >> number & 1 for pattern in ordered), number)
    return tuple(found.values())


def at_rest(node: Node, number: int) -> Style:
    """A node's style in a scenario, nothing hovered, focused or visited."""
    style = node.rest[number]
    assert style is not None  # only states are left out of a scenario
    return style


SIZES: Final = names_in("height width max-height max-width")
SPACING: Final = frozenset({"letter-spacing", "word-spacing", "line-height"})
_NOTABLE_LINE_PX: Final = 24.0
"""The least height of a target (WCAG 2.2, criterion 2.5.8); higher lines need no look."""


def facts_of(node: Node, scenarios: int) -> Facts:
    """The facts of a node of a page judged in so many scenarios; kept with the node."""
    found: Facts | None = node.facts
    if found is None:
        from sitegen.proof.contrast.visible import Sight, sight_of

        styles = list(dict.fromkeys(at_rest(node, number) for number in range(scenarios)))
        rendered = sum(is_rendered(at_rest(node, number)) << number for number in range(scenarios))
        is_sized = any(style.declared_by_author(name) for style in styles for name in SIZES)
        ways = [_way_of_moving(style) for style in styles]
        moves = next((way for way in ("inside", "alone", "in pairs") if way in ways), "")
        is_fixed = any(style.is_important(name) for style in styles for name in SPACING)
        lines = [line_height(style) for style in styles if not style.surrounding.is_print]
        line = min((line for line in lines if line is not None), default=math.inf)
        is_notable = (
            rendered != (1 << scenarios) - 1 or is_sized or bool(moves) or is_fixed or line < _NOTABLE_LINE_PX
        )
        scrolls = is_sized and any(_scrolls(style) for style in styles if not style.surrounding.is_print)
        hidden = {style: sight_of(style)[0] is Sight.HIDDEN for style in styles}
        out_of_sight = sum(hidden[at_rest(node, number)] << number for number in range(scenarios))
        found = node.facts = Facts(
            rendered, out_of_sight, is_sized, moves, is_fixed, line, scrolls, is_notable
        )
    return found


_SCROLLING: Final = frozenset({"auto", "scroll"})
_LEAST_SCROLLED_PX: Final = 2.0
"""A box no higher than this hides what it holds; it doesn't scroll it."""


def _scrolls(style: Style) -> bool:
    if style.value("overflow-y") not in _SCROLLING or style.value("display") in (
        "none",
        "contents",
        "inline",
    ):
        return False
    heights = [style.length(name) for name in ("height", "max-height")]
    return any(height is not None and height > _LEAST_SCROLLED_PX for height in heights)


_MOVING: Final = names_in("order flex-direction flex-wrap float position grid-row-start grid-column-start")


def _way_of_moving(style: Style) -> str:
    if style.declares_none_of(_MOVING):
        return ""
    if str(style.value("flex-direction")).endswith("-reverse") or style.value("flex-wrap") == "wrap-reverse":
        return "inside"
    if style.value("order") != "0" or any(
        style.value(f"grid-{axis}-start") != "auto" for axis in ("row", "column")
    ):
        return "alone"
    is_placed = style.value("position") in ("absolute", "fixed") and style.value("top") != "auto"
    return "in pairs" if is_placed or style.value("float") != "none" else ""


# Letters of usual faces reach no further than this from the top of their line to its foot; common practice, no source.
TALLEST_LETTERS: Final = 1.4


def line_height(style: Style) -> float | None:
    """The height of a line of text in px, of a normal one the greatest usual; None where no author sized the text, or unknown."""
    above: Style | None = style
    while above is not None and not (
        above.declared_by_author("line-height") or above.declared_by_author("font-size")
    ):
        above = above.parent
    if above is None:
        return None
    value = style.value("line-height")
    if value == "normal":
        return style.font_size * TALLEST_LETTERS
    if isinstance(value, tuple) and len(value) == 1 and value[0].type == "number":
        return float(value[0].value) * style.font_size
    return style.length("line-height", style.font_size)


def is_rendered(style: Style) -> bool:
    """Whether an element with this style is displayed and visible."""
    return _is_displayed(style) and style.value("visibility") == "visible"


def _is_displayed(style: Style) -> bool:
    found: bool | None = style.kept("displayed")
    if found is None:
        above = style.parent
        found = style.keep(
            "displayed",
            style.value("display") != "none"
            and (above is None or (above.value("content-visibility") != "hidden" and _is_displayed(above))),
        )
    return found


def styles_alone(document: Document) -> Styles:
    """The styles of a page by itself, whose linked stylesheets nobody can load."""
    if not document.having("style") and not document.tagged("style"):
        return Styles(document)
    from sitegen.proof.contrast.engine import ContrastEngine

    return styles_by(ContrastEngine(lambda path: None), "", document)


def styles_by(
    engine: ContrastEngine, address: str, document: Document, scenarios: Sequence[Scenario] = ()
) -> Styles:
    """The styles of a page as an engine works them out, in these scenarios or the usual one."""
    from sitegen.proof.contrast.scenario import DEFAULT, HELD_ACROSS, HELD_UPRIGHT

    if not document.having("style") and not document.tagged("style") and not document.tagged("link"):
        return Styles(document)
    judged = tuple(scenarios) or DEFAULT
    known, nodes = engine.styled(address, document, judged)
    pair: Callable[[], Sequence[Node]] | None = None
    if engine.asks_for_orientation(address, document, judged):
        held = HELD_UPRIGHT, HELD_ACROSS
        pair = lambda: engine.styled(address, document, held)[1]  # noqa: E731 - one expression, used once
    return Styles(document, nodes, known, 0, pair)
