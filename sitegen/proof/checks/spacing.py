"""Styles a reader cannot override: spacing marked important in a style attribute, a page turned by its orientation."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from typing import Final, NamedTuple

from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import Element, Text
from sitegen.proof.styles import Declared, StyleRule, font_size, length, style_attribute

LETTERS = Rule("letter-spacing", "1.4.12", "AA", ("24afc2",))
WORDS = Rule("word-spacing", "1.4.12", "AA", ("9e45ec",))
LINES = Rule("line-height", "1.4.12", "AA", ("78fd32",))
ORIENTATION = Rule("orientation-lock", "1.3.4", "AA", ("b33eff",))


class _Spacing(NamedTuple):
    rule: Rule
    name: str
    needed: float
    """Times the font size (WCAG 2.2, criterion 1.4.12)."""
    normal: float | None
    """What the initial value amounts to, times the font size; None where a browser chooses, below what is needed."""


_SPACINGS: Final = (
    _Spacing(LETTERS, "letter-spacing", 0.12, 0.0),
    _Spacing(WORDS, "word-spacing", 0.16, 0.0),
    _Spacing(LINES, "line-height", 1.5, None),
)
_INHERITED: Final = frozenset({"inherit", "unset", "revert", "revert-layer"})


def _check(page: Page) -> Iterator[PageFinding]:
    for element in page.document.having("style"):
        written = element.attrs["style"]
        if "!" not in written or element.namespace != "html":
            continue
        for spacing in _SPACINGS:
            declared = style_attribute(written).get(spacing.name)
            if declared is not None and declared.important and declared.value not in _INHERITED:
                winner = page.semantics.styles.of(element).get(spacing.name)
                if winner is not None and winner.in_attribute:
                    yield from _spacing(page, element, spacing, declared)
    yield from _orientation(page)


def _spacing(page: Page, element: Element, spacing: _Spacing, declared: Declared) -> Iterator[PageFinding]:
    text = " ".join(child.data for child in element.children if isinstance(child, Text)).split()
    if not text or not page.semantics.is_visible(element):
        return
    size = font_size(element, page.semantics.styles)
    if spacing.rule is LINES and (len(text) < 2 or _never_wraps(page, element, len(" ".join(text)), size)):
        return
    times = _times(declared.value, spacing, size)
    if times is None:
        yield page.unsure(
            spacing.rule,
            element,
            f"{spacing.name}: {declared.value} is important; its size is not known here.",
            "Drop !important.",
        )
    elif times < spacing.needed - 1e-9:
        yield page.fails(
            spacing.rule,
            element,
            f"{spacing.name} is fixed at {math.floor(times * 1000) / 1000:g} times the font size; readers who need {spacing.needed:g} cannot have it.",
            "Drop !important, or give at least that much.",
        )


def _times(value: str, spacing: _Spacing, size: float | None) -> float | None:
    if value in {"normal", "initial"}:
        return spacing.normal if spacing.normal is not None else 1.2
    if spacing.rule is LINES and re.fullmatch(r"\d*\.?\d+", value):
        return float(value)
    relative = re.fullmatch(r"([-+]?\d*\.?\d+)(em|%)", value)
    if relative is not None:
        if relative[2] == "%" and spacing.rule is not LINES:
            return None
        return float(relative[1]) / (100 if relative[2] == "%" else 1)
    pixels = length(value)
    return None if pixels is None or not size else pixels / size


# WCAG 2.2, criterion 1.4.10 asks for no narrower page than this.
_NARROWEST_PX: Final = 320.0
# No usual typeface is wider on average; common practice, no source.
_WIDEST_LETTER: Final = 0.65


def _never_wraps(page: Page, element: Element, letters: int, size: float | None) -> bool:
    """Whether its text keeps its lines at any width: too short, no wrapping, or a fixed width in something that scrolls."""
    styles = page.semantics.styles
    for each in (element, *element.ancestors()):
        if (
            styles.value(each, "white-space") in {"nowrap", "pre"}
            or styles.value(each, "text-wrap") == "nowrap"
        ):
            return True
    fixed = length(styles.value(element, "width"))
    widths = [
        length(styles.value(each, name))
        for each in (element, *element.ancestors())
        for name in ("width", "max-width")
    ]
    room = min([_NARROWEST_PX, *(width for width in widths if width is not None)])
    if size is not None and letters * size * _WIDEST_LETTER <= room:
        return True
    return fixed is not None and any(
        styles.value(above, name) in {"scroll", "auto"}
        for above in element.ancestors()
        for name in ("overflow", "overflow-x")
    )


# A page turned by its device's orientation

_TURN: Final = re.compile(
    r"rotate[z]?\(\s*([-+]?[\d.]+)(deg|grad|rad|turn)\s*\)|rotate3d\(([^)]*)\)|matrix(3d)?\(([^)]*)\)"
)
_ANGLE: Final = re.compile(r"(?:z\s+|0\s+0\s+1\s+)?([-+]?[\d.]+)(deg|grad|rad|turn)(?:\s+z)?")
_DEGREES: Final = {"deg": 1.0, "grad": 0.9, "rad": 180 / math.pi, "turn": 360.0}


def _orientation(page: Page) -> Iterator[PageFinding]:
    rules = [rule for rule in page.semantics.styles.rules if "orientation" in rule.media]
    if not rules:
        return
    from sitegen.proof.styles import matches

    for rule in rules:
        degrees = _turned(rule)
        if degrees is None or abs(degrees % 180 - 90) > 1e-6:
            continue
        for element in page.document.elements:
            if (
                matches(rule.selector, element)
                and page.semantics.is_visible(element)
                and element.text().strip()
            ):
                yield page.fails(
                    ORIENTATION,
                    element,
                    f"Held the other way, the page turns this {element.tag} by {degrees:g} degrees.",
                    "Let the page follow the way the device is held.",
                )
                break


def _turned(rule: StyleRule) -> float | None:
    """By how many degrees a rule turns what it matches, in the plane of the page."""
    degrees = 0.0
    known = False
    transform = rule.declared.get("transform")
    if transform is not None:
        for found in _TURN.finditer(transform.value):
            known = True
            if found[1] is not None:
                degrees += float(found[1]) * _DEGREES[found[2]]
            elif found[3] is not None:
                *axis, angle = (part.strip() for part in found[3].split(","))
                turn = _ANGLE.fullmatch(angle)
                if turn is not None and [part.lstrip("+") for part in axis] == ["0", "0", "1"]:
                    degrees += float(turn[1]) * _DEGREES[turn[2]]
            else:
                degrees += _of_matrix(found[5])
    rotate = rule.declared.get("rotate")
    if rotate is not None:
        turn = _ANGLE.fullmatch(rotate.value)
        if turn is not None:
            known = True
            degrees += float(turn[1]) * _DEGREES[turn[2]]
    return degrees if known else None


def _of_matrix(written: str) -> float:
    try:
        numbers = [float(part) for part in written.split(",")]
    except ValueError:
        return 0.0
    return math.degrees(math.atan2(numbers[1], numbers[0])) if len(numbers) in (6, 16) else 0.0


FAMILY = Family((LETTERS, WORDS, LINES, ORIENTATION), _check)
