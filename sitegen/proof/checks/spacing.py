"""Styles a reader cannot override: spacing marked important, a page turned by its orientation."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final, NamedTuple

from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.contrast.values import TAKEN_OVER, Measures, NotANumberError, quantity
from sitegen.proof.document import Element, Text

if TYPE_CHECKING:
    from sitegen.proof.contrast.style import Style
    from sitegen.proof.contrast.values import Token

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
# In a sheet an important declaration can still lose to one of higher specificity or of a later sheet, such as one that a reader's
# tool adds, so the ACT rules leave it out; somebody has to look.
_IN_A_SHEET: Final = {spacing.rule.check: Rule(spacing.rule.check, "1.4.12", "AA") for spacing in _SPACINGS}


def _check(page: Page) -> Iterator[PageFinding]:
    styles = page.semantics.styles
    if styles.is_plain:
        return
    important = {node for node, facts in styles.notable.items() if facts.is_fixed}
    if important:
        for element, _ in styles.with_nodes(important):
            if element.namespace == "html":
                style = styles.of(element)
                for spacing in _SPACINGS:
                    yield from _spacing(page, element, style, spacing)
    yield from _orientation(page)


def _spacing(page: Page, element: Element, style: Style, spacing: _Spacing) -> Iterator[PageFinding]:
    if not style.is_important(spacing.name):
        return
    source = style.declared_by_author(spacing.name)
    # What is inherited or rolled back is some other declaration's value, which is not important here.
    if source is None or style.declared[spacing.name][0] in TAKEN_OVER:
        return
    text = " ".join(child.data for child in element.children if isinstance(child, Text)).split()
    if not text or not page.semantics.is_visible(element):
        return
    if spacing.rule is LINES and (len(text) < 2 or _never_wraps(page, element, style, len(" ".join(text)))):
        return
    times = _times(style, spacing)
    in_sheet = source.sheet != _ATTRIBUTE
    rule = _IN_A_SHEET[spacing.rule.check] if in_sheet else spacing.rule
    where = f" in {source.sheet or 'a style element'}, line {source.line}," if in_sheet else ""
    if times is None:
        yield page.unsure(
            rule,
            element,
            f"{spacing.name}{where} is important; its size is not known here.",
            "Drop !important.",
        )
    elif times < spacing.needed - 1e-9:
        judge = page.unsure if in_sheet else page.fails
        yield judge(
            rule,
            element,
            f"{spacing.name}{where} is fixed at {math.floor(times * 1000) / 1000:g} times the font size; readers who need {spacing.needed:g} "
            f"{'may not' if in_sheet else 'cannot'} have it.",
            "Drop !important, or give at least that much.",
        )


_ATTRIBUTE: Final = "(element)"
"""What the engine calls the sheet of a style attribute."""


def _times(style: Style, spacing: _Spacing) -> float | None:
    """How many times the font size a spacing amounts to; None where that is not known."""
    value = style.value(spacing.name)
    if value == "normal":
        return spacing.normal if spacing.normal is not None else 1.2
    if spacing.rule is LINES and isinstance(value, tuple) and len(value) == 1 and value[0].type == "number":
        return float(value[0].value)
    pixels = style.length(spacing.name, style.font_size if spacing.rule is LINES else None)
    return None if pixels is None or not style.font_size else pixels / style.font_size


# WCAG 2.2, criterion 1.4.10 asks for no narrower page than this.
_NARROWEST_PX: Final = 320.0
# No usual typeface is wider on average; common practice, no source.
_WIDEST_LETTER: Final = 0.65


def _never_wraps(page: Page, element: Element, style: Style, letters: int) -> bool:
    """Whether its text keeps its lines at any width: too short, no wrapping, or a fixed width in something that scrolls."""
    if style.value("white-space") in {"nowrap", "pre"} or style.value("text-wrap") == "nowrap":
        return True
    above = [page.semantics.styles.of(each) for each in element.ancestors()]
    fixed = style.length("width")
    widths = [each.length(name) for each in (style, *above) for name in ("width", "max-width")]
    room = min([_NARROWEST_PX, *(width for width in widths if width is not None)])
    if letters * style.font_size * _WIDEST_LETTER <= room:
        return True
    return fixed is not None and any(each.value("overflow-x") in {"scroll", "auto"} for each in above)


# A page turned by its device's orientation

_TURNING: Final = frozenset({"rotate", "rotatez", "rotate3d", "matrix", "matrix3d"})
# Turns are written in rounded numbers, such as 1.5708rad.
_NEARLY: Final = 1.0


def _orientation(page: Page) -> Iterator[PageFinding]:
    """ACT b33eff: turned by a quarter of a circle from one way of holding the device to the other."""
    for element, upright, across in page.semantics.styles.turning():
        if element.namespace != "html":
            continue
        one, other = _turned(upright), _turned(across)
        if one is None and other is None:
            continue
        degrees = (other or 0.0) - (one or 0.0)
        if abs(degrees % 180 - 90) > _NEARLY:
            continue
        if page.semantics.is_visible(element) and element.text().strip():
            yield page.fails(
                ORIENTATION,
                element,
                f"Held the other way, the page turns this {element.tag} by {degrees:.3g} degrees.",
                "Let the page follow the way the device is held.",
            )


def _turned(style: Style) -> float | None:
    """By how many degrees a style turns its element, in the plane of the page; None where it says nothing of that."""
    degrees = 0.0
    known = False
    transform = style.value("transform")
    for function in transform if isinstance(transform, tuple) else ():
        if function.type == "function" and function.lower_name in _TURNING:
            known = True
            degrees += _of_function(function.lower_name, _numbers(function.arguments))
    rotate = style.value("rotate")
    if isinstance(rotate, tuple):
        *axis, angle = _numbers(rotate) or [0.0]
        words = [token.lower_value for token in rotate if token.type == "ident"]
        known = True
        if words in ([], ["z"]) and axis in ([], [0.0, 0.0, 1.0]):
            degrees += angle
    return degrees if known else None


def _numbers(tokens: Sequence[Token]) -> list[float]:
    """The numbers, lengths and angles among tokens; angles in degrees."""
    found: list[float] = []
    for token in tokens:
        try:
            found.append(quantity(token, _ANY).value)
        except NotANumberError:
            continue
    return found


_ANY: Final = Measures(16, 16, 1280, 720, 100)


def _of_function(name: str, numbers: list[float]) -> float:
    if name == "rotate3d":
        return numbers[3] if len(numbers) == 4 and numbers[:2] == [0.0, 0.0] and numbers[2] > 0 else 0.0
    if name.startswith("matrix"):
        return math.degrees(math.atan2(numbers[1], numbers[0])) if len(numbers) in (6, 16) else 0.0
    return numbers[0] if len(numbers) == 1 else 0.0


FAMILY = Family((LETTERS, WORDS, LINES, ORIENTATION), _check)
