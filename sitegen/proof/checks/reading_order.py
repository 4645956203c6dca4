"""The order in which a page is read and walked through, against the order of its source.

A stylesheet may put things where the source does not have them. Whether that changes what they mean nobody can tell from bytes,
so what provably stands in another order is left for somebody to look at (WCAG 2.2, criteria 1.3.2 and 2.4.3; technique C27).
Provable are: `order` and reversed directions of flexible boxes, explicit rows, columns and areas of a grid, neighbours that
float to the far side, and positioned neighbours with offsets from the same edge. Columns without rows, dense packing and
single boxes moved by offsets are not followed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING, Final, NamedTuple

from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import WHITESPACE, Element, Text, whole_number
from sitegen.proof.styles import at_rest, is_rendered

if TYPE_CHECKING:
    from sitegen.proof.contrast.style import Style

READING = Rule("reading-order", "1.3.2", "A")
FOCUS = Rule("focus-order", "2.4.3", "A")

_REPLACED: Final = frozenset(
    {"audio", "button", "canvas", "embed", "iframe", "img", "input", "meter", "object", "progress", "select", "svg"}
    | {"textarea", "video"}
)  # fmt: skip


def _check(page: Page) -> Iterator[PageFinding]:
    yield from _tab_order(page)
    styles = page.semantics.styles
    if styles.is_plain:
        return
    moving = {node: facts.moves for node, facts in styles.notable.items() if facts.moves}
    if not moving:
        return
    holders: dict[Element, None] = {}
    paired: set[Element] = set()
    for element, node in styles.with_nodes(moving):
        how, parent = moving[node], element.parent
        if how == "inside":
            holders[element] = None
        if parent is not None:
            if how == "in pairs" and parent not in paired:
                paired.add(parent)
            else:
                holders[parent] = None
    for holder in holders:
        yield from _order_in(page, holder)


def _tab_order(page: Page) -> Iterator[PageFinding]:
    """Positive tab positions come before everything else (https://html.spec.whatwg.org/multipage/interaction.html#the-tabindex-attribute)."""
    if not any(_position(element) > 0 for element in page.document.having("tabindex")):
        return
    stops = [element for element in page.document.elements if page.semantics.takes_tab_focus(element)]
    walked = sorted(stops, key=lambda element: _position(element) or 1 << 30)
    for written, reached in zip(stops, walked, strict=True):
        if written is not reached:
            yield page.unsure(
                FOCUS,
                reached,
                f"tabindex={reached.attrs.get('tabindex', '')} lets the keyboard reach this {reached.tag} before the {written.tag} at line {written.line}.",
                "Take away tabindex, and write things in the order in which they are used.",
            )
            return


def _position(element: Element) -> int:
    return whole_number(element.attrs.get("tabindex", "").strip(WHITESPACE).removeprefix("+")) or 0


class _Item(NamedTuple):
    element: Element
    style: Style


def _order_in(page: Page, holder: Element) -> Iterator[PageFinding]:
    styles = page.semantics.styles
    node = styles.node(holder)
    children = [child for child in holder.children if isinstance(child, Element)]
    if len(children) < 2:
        return
    nodes = [styles.node(child) for child in children]
    seen: set[tuple[Style, ...]] = set()
    for number, scenario in enumerate(styles.scenarios):
        kept = (at_rest(node, number), *(at_rest(each, number) for each in nodes))
        if kept in seen:
            continue
        seen.add(kept)
        items = [
            _Item(child, style)
            for child, style in zip(children, kept[1:], strict=True)
            if is_rendered(style) and _holds_something(child)
        ]
        moved = _moved(kept[0], items)
        if moved is None:
            continue
        first, other, name = moved
        source = first.style.source(name) or kept[0].source(name)
        where = f" ({source.sheet or 'the page'}, line {source.line})" if source is not None else ""
        message = (
            f"{name}{where} shows this {first.element.tag} before the {other.element.tag} at line {other.element.line},"
            f" which the source has in another order ({scenario.name})."
        )
        yield page.unsure(
            READING, first.element, message, "Write both in the order in which they are to be read."
        )
        if all(_holds_tab_stop(page, each.element) for each in (first, other)):
            yield page.unsure(
                FOCUS, first.element, message, "Write both in the order in which they are to be reached."
            )
        return


def _holds_something(element: Element) -> bool:
    if element.tag in _REPLACED:
        return True
    return any(
        bool(node.data.strip()) if isinstance(node, Text) else node.tag in _REPLACED
        for node in element.descendants()
    )


def _holds_tab_stop(page: Page, element: Element) -> bool:
    return page.semantics.takes_tab_focus(element) or any(
        isinstance(node, Element) and page.semantics.takes_tab_focus(node) for node in element.descendants()
    )


_Moved = tuple[_Item, _Item, str]
"""What is seen earlier, what the source has before it, and the property that moves it."""


def _moved(holder: Style, items: Sequence[_Item]) -> _Moved | None:
    display = str(holder.value("display")).split()
    placed = [item for item in items if item.style.value("position") not in ("absolute", "fixed")]
    if any(word.endswith("flex") for word in display):
        return _in_flex(holder, placed)
    if any(word.endswith("grid") for word in display):
        return _in_grid(holder, placed)
    return _floated(items) or _positioned(items)


def _in_flex(holder: Style, items: Sequence[_Item]) -> _Moved | None:
    shown = sorted(items, key=lambda item: _integer(item.style, "order") or 0)
    name = "order"
    # Lines that wrap upward are in the opposite order too, where there is more than one.
    if str(holder.value("flex-direction")).endswith("-reverse"):
        shown.reverse()
        name = "flex-direction"
    elif holder.value("flex-wrap") == "wrap-reverse":
        shown.reverse()
        name = "flex-wrap"
    return _first_difference(items, shown, name)


def _first_difference(items: Sequence[_Item], shown: Sequence[_Item], name: str) -> _Moved | None:
    for written, seen in zip(items, shown, strict=True):
        if written is not seen:
            return seen, written, name
    return None


def _integer(style: Style, name: str) -> int | None:
    value = style.value(name)
    if value == "0":
        return 0
    if isinstance(value, tuple) and len(value) == 1 and value[0].type == "number" and value[0].is_integer:
        return int(value[0].value)
    return None


def _in_grid(holder: Style, items: Sequence[_Item]) -> _Moved | None:
    ordered = sorted(items, key=lambda item: _integer(item.style, "order") or 0)
    moved = _first_difference(items, ordered, "order")
    if moved is not None:
        return moved
    areas = _areas(holder)
    places = [(item, *_place(item.style, areas)) for item in items]
    for number, (item, row, column) in enumerate(places):
        for before, row_before, column_before in places[:number]:
            if row is not None and row_before is not None:
                comes_first = row < row_before or (
                    row == row_before
                    and column is not None
                    and column_before is not None
                    and column < column_before
                )
            else:
                # Nothing comes before the first cell, wherever the others are put.
                comes_first = (row, column) == (1, 1)
            if comes_first:
                return item, before, "grid-row-start"
    return None


def _areas(holder: Style) -> dict[str, tuple[int, int]]:
    """Where each named area begins: row and column, counted from 1."""
    value = holder.value("grid-template-areas")
    found: dict[str, tuple[int, int]] = {}
    for row, token in enumerate(value if isinstance(value, tuple) else (), 1):
        if token.type == "string":
            for column, name in enumerate(token.value.split(), 1):
                found.setdefault(name, (row, column))
    return found


def _place(style: Style, areas: dict[str, tuple[int, int]]) -> tuple[int | None, int | None]:
    """The row and column an item is put into; None for those left to the grid, and for lines counted from the end."""
    found: list[int | None] = []
    for axis, name in enumerate(("grid-row-start", "grid-column-start")):
        value = style.value(name)
        if isinstance(value, str) and value in areas:
            found.append(areas[value][axis])
            continue
        line = _integer(style, name)
        found.append(line if line is not None and line > 0 else None)
    return found[0], found[1]


def _floated(items: Sequence[_Item]) -> _Moved | None:
    """Neighbours that float to where a line ends stand in the opposite order."""
    for before, item in pairwise(items):
        far = "right" if item.style.value("direction") == "ltr" else "left"
        sides = {far, "inline-end"}
        if (
            item.style.value("float") in sides
            and before.style.value("float") in sides
            and _are_neighbours(before.element, item.element)
        ):
            return item, before, "float"
    return None


def _are_neighbours(before: Element, element: Element) -> bool:
    parent = element.parent
    if parent is None:
        return False
    between = parent.children[parent.children.index(before) + 1 : parent.children.index(element)]
    return all(isinstance(each, Text) and not each.data.strip() for each in between)


def _positioned(items: Sequence[_Item]) -> _Moved | None:
    """Neighbours placed by offsets from the same edges: the one higher up, or further to the front, is seen first."""
    from sitegen.proof.contrast.visible import Sight, sight_of

    placed = [
        item
        for item in items
        if item.style.value("position") in ("absolute", "fixed")
        and sight_of(item.style)[0] is not Sight.HIDDEN
    ]
    for before, item in pairwise(placed):
        if before.style.value("position") != item.style.value("position"):
            continue
        top, top_before = item.style.length("top"), before.style.length("top")
        if top is None or top_before is None:
            continue
        left, left_before = item.style.length("left"), before.style.length("left")
        if top < top_before or (
            top == top_before and left is not None and left_before is not None and left < left_before
        ):
            return item, before, "top" if top < top_before else "left"
    return None


FAMILY = Family((READING, FOCUS), _check)
