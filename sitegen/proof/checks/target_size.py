"""Targets for a finger: at least 24 by 24 CSS pixels, or room around them (WCAG 2.2, criterion 2.5.8).

Decided where a stylesheet fixes a size: a box with an explicit or greatest height or width, and lines of links one below the other
whose text its author sized. Targets inline in a sentence, sizes left to the browser, drawings, controls with a label that can
be pressed instead, and targets enlarged by a positioned `::before` or `::after` are left alone. A target too small fails where its neighbour is
provably so near that circles of 24 pixels around their middles meet; elsewhere somebody must look, unless it is the page's only one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Final, TypeAlias

from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import Element, Text
from sitegen.proof.semantics import input_type
from sitegen.proof.styles import TALLEST_LETTERS, at_rest, line_height

if TYPE_CHECKING:
    from sitegen.proof.contrast.style import Style

HalfHeight: TypeAlias = "Callable[[Element, Style], float | None]"

TARGET = Rule("target-size", "2.5.8", "AA")

_PRESSED: Final = ("a", "button", "input", "select", "summary", "textarea")
NEEDED_PX: Final = 24.0
"""WCAG 2.2, criterion 2.5.8."""
# Elements that browsers size with their border and padding (https://html.spec.whatwg.org/multipage/rendering.html#form-controls).
_BORDER_BOX: Final = frozenset({"button", "select"})
_BORDER_BOX_INPUTS: Final = frozenset({"button", "checkbox", "color", "radio", "reset", "search", "submit"})
_REPLACED: Final = frozenset(
    {"audio", "canvas", "embed", "iframe", "img", "input", "object", "select", "svg", "textarea", "video"}
)
_BLOCKS: Final = frozenset({"block", "list-item", "flow-root"})
# As for the spacing of text: common practice, no source.
_WIDEST_LETTER: Final = 0.65
_NARROWEST_PX: Final = 320.0


def _check(page: Page) -> Iterator[PageFinding]:
    styles = page.semantics.styles
    if styles.is_plain:
        return
    document = page.document
    sized = {node for node, facts in styles.notable.items() if facts.is_sized}
    tight = {node for node, facts in styles.notable.items() if facts.line < NEEDED_PX}
    focused = [*document.having("tabindex"), *document.having("contenteditable")]
    if not focused and not any(node.look.tag in _PRESSED for node in sized | tight):
        return
    pressed = [
        *document.tagged(*_PRESSED),
        *focused,
    ]
    if not any(styles.node(element) in sized or styles.node(element) in tight for element in pressed):
        return
    # Where the standard makes several elements of one tag, they all begin at one offset: only the document has their order.
    wanted = {element for element in pressed if _is_target(page, element)}
    targets = [element for element in document.elements if element in wanted]
    for place, element in enumerate(targets):
        node = styles.node(element)
        if ("before" in node.pseudo or "after" in node.pseudo) and _is_enlarged(page, element):
            continue
        if node in sized:
            yield from _judge_box(page, element, targets)
        elif place and node in tight and styles.node(targets[place - 1]) in tight:
            yield from _judge_line(page, targets[place - 1], element)


def _is_target(page: Page, element: Element) -> bool:
    return (
        element.namespace == "html"
        and element.tag not in {"area", "body", "html", "iframe"}
        and page.semantics.is_focusable(element)
        and page.semantics.is_visible(element)
    )


def _is_enlarged(page: Page, element: Element) -> bool:
    node = page.semantics.styles.node(element)
    return any(
        style is not None and style.value("position") in ("absolute", "fixed")
        for name in ("before", "after")
        for variant in node.pseudo.get(name, ())[:1]
        for style in variant.styles
    )


def _judge_box(page: Page, element: Element, targets: list[Element]) -> Iterator[PageFinding]:
    if len(targets) == 1 or (element.tag == "input" and page.names.labels(element)):
        return
    if any(isinstance(node, Element) and node.tag in _REPLACED for node in element.descendants()):
        return
    styles = page.semantics.styles
    node = styles.node(element)
    for number, scenario in enumerate(styles.scenarios):
        if scenario.media != "screen":
            continue
        style = at_rest(node, number)
        for name in ("height", "width"):
            size = largest(element, style, name)
            if size is None or size >= NEEDED_PX or size <= 0:
                continue
            near = _too_near(page, element, targets, number)
            judge = page.unsure if near is None else page.fails
            source = style.source(name) or style.source(f"max-{name}")
            where = f" ({source.sheet or 'the page'}, line {source.line})" if source is not None else ""
            beside = "" if near is None else f", and the {near.tag} at line {near.line} is too near"
            yield judge(
                TARGET,
                element,
                f"The {name} of this {element.tag} is {size:.3g} px{where}{beside}; a finger needs 24 px, or room around it ({scenario.name}).",
                "Make it at least 24 px high and wide.",
            )
            return


def largest(element: Element, style: Style, name: str) -> float | None:
    """The greatest used height or width ("height" or "width") of an element's border box in px, as its style fixes it; None where it does not."""
    display = str(style.value("display"))
    if display in {"contents", "none"} or display.startswith("table"):
        return None
    is_replaced = element.tag in _REPLACED or element.tag == "button"
    if display == "inline" and not is_replaced and style.value("float") == "none":
        return None
    if style.value("transform") != "none" or style.value("zoom") != "1" or style.value("scale") != "none":
        return None
    parent = style.parent
    if parent is not None and "flex" in str(parent.value("display")) and style.declared_by_author("flex"):
        return None
    sides = ("top", "bottom") if name == "height" else ("left", "right")
    between = 0.0
    for side in sides:
        padding = style.length(f"padding-{side}")
        if padding is None:
            return None
        between += padding
        if style.value(f"border-{side}-style") not in ("none", "hidden"):
            between += style.length(f"border-{side}-width") or 0.0
    counts_border = style.value("box-sizing") == "border-box" or (
        style.declared_by_author("box-sizing") is None
        and (
            element.tag in _BORDER_BOX
            or (element.tag == "input" and input_type(element) in _BORDER_BOX_INPUTS)
        )
    )

    def border_box(size: float) -> float:
        return max(size, between) if counts_border else size + between

    sizes = [
        border_box(size)
        for each in (name, f"max-{name}")
        if style.declared_by_author(each) and (size := style.length(each)) is not None
    ]
    if not sizes:
        return None
    least = style.length(f"min-{name}")
    if least is None and style.value(f"min-{name}") != "auto":
        return None
    return max(min(sizes), border_box(least) if least else 0.0)


def _too_near(page: Page, element: Element, targets: list[Element], number: int) -> Element | None:
    """A target whose middle is provably nearer to this one's than 24 px: the one below or above it in a stack of blocks."""
    place = targets.index(element)
    for other in targets[max(0, place - 1) : place] + targets[place + 1 : place + 2]:
        first, second = (other, element) if other.offset < element.offset else (element, other)
        distance = _distance(page, first, second, number, _half_of_box)
        if distance is not None and distance < NEEDED_PX:
            return other
    return None


def _half_of_box(element: Element, style: Style) -> float | None:
    height = largest(element, style, "height")
    return None if height is None or str(style.value("display")) not in _BLOCKS else height / 2


def _half_of_line(element: Element, style: Style) -> float | None:
    height = line_height(style)
    return None if height is None else height / 2


def _distance(page: Page, first: Element, second: Element, number: int, half: HalfHeight) -> float | None:
    """How far the middles of two targets lie apart at most, where each stands alone in blocks that follow one another."""
    styles = page.semantics.styles
    parts: list[float] = []
    tops: list[Element] = []
    for element, edge in ((first, "bottom"), (second, "top")):
        own = half(element, at_rest(styles.node(element), number))
        if own is None:
            return None
        parts.append(own)
        below = element
        while True:
            style = at_rest(styles.node(below), number)
            if below is not element or str(style.value("display")) in _BLOCKS:
                if str(style.value("display")) not in _BLOCKS or style.value("float") != "none":
                    return None
                if style.value("position") not in ("static", "relative"):
                    return None
                if below is not element and (_has_fixed_height(style) or style.value("height") != "auto"):
                    return None
                margin = style.length(f"margin-{edge}")
                if margin is None:
                    return None
                # Margins of neighbours collapse; counting both gives the greatest distance.
                parts.append(max(0.0, margin))
            above = below.parent
            if above is None or _holds_more_than(above, below):
                tops.append(below)
                break
            padding = at_rest(styles.node(above), number).length(f"padding-{edge}")
            border = at_rest(styles.node(above), number).length(f"border-{edge}-width")
            if padding is None:
                return None
            parts.append(padding)
            if at_rest(styles.node(above), number).value(f"border-{edge}-style") not in ("none", "hidden"):
                parts.append(border or 0.0)
            below = above
    if tops[0].parent is None or tops[0].parent is not tops[1].parent:
        return None
    holder = tops[0].parent
    if str(at_rest(styles.node(holder), number).value("display")) not in _BLOCKS:
        return None
    elements = [child for child in holder.children if isinstance(child, Element)]
    if elements.index(tops[1]) != elements.index(tops[0]) + 1:
        return None
    if any(str(at_rest(styles.node(top), number).value("display")) not in _BLOCKS for top in tops):
        return None
    return sum(parts)


def _has_fixed_height(style: Style) -> bool:
    return bool(style.length("min-height"))


def _holds_more_than(holder: Element, element: Element) -> bool:
    return any(
        child is not element and (isinstance(child, Element) or child.data.strip())
        for child in holder.children
    )


def _judge_line(page: Page, before: Element, element: Element) -> Iterator[PageFinding]:
    """Two links, each the only thing on its line, the lines one below the other."""
    if before.tag != "a" or element.parent is before.parent:
        return
    styles = page.semantics.styles
    for number, scenario in enumerate(styles.scenarios):
        if scenario.media != "screen":
            continue
        if not all(_is_short_line(page, each, number) for each in (before, element)):
            continue
        distance = _distance(page, before, element, number, _half_of_line)
        if distance is not None and distance < NEEDED_PX:
            yield page.fails(
                TARGET,
                element,
                f"This link's line lies {distance:.3g} px below that of the link at line {before.line}; a finger needs 24 px ({scenario.name}).",
                "Give the lines more height, or the links padding.",
            )
            return


def _is_short_line(page: Page, element: Element, number: int) -> bool:
    """Whether a link is one line of plain text, less than 24 px high, in a size its author chose."""
    style = at_rest(page.semantics.styles.node(element), number)
    if str(style.value("display")) not in {"inline", *_BLOCKS} or _has_fixed_height(style):
        return False
    if any(isinstance(node, Element) and node.tag in _REPLACED for node in element.descendants()):
        return False
    if any(style.length(f"padding-{side}") != 0 for side in ("top", "bottom")):
        return False
    text = " ".join(node.data for node in element.descendants() if isinstance(node, Text)).split()
    letters = len(" ".join(text))
    height = line_height(style)
    if height is None or letters == 0:
        return False
    if str(style.value("display")) == "inline":
        height = style.font_size * TALLEST_LETTERS
    return letters * style.font_size * _WIDEST_LETTER <= _NARROWEST_PX and height < NEEDED_PX


FAMILY = Family((TARGET,), _check)
