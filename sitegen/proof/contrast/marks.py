"""Judges what is not text: edges of fields, marks of the focus, and links told apart from the text around them.

WCAG 2.2, 1.4.1 (https://www.w3.org/TR/WCAG22/#use-of-color), 1.4.11 (https://www.w3.org/TR/WCAG22/#non-text-contrast) and
2.4.7 (https://www.w3.org/TR/WCAG22/#focus-visible). What a browser draws by itself is not judged: 1.4.11 leaves it out.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, NamedTuple

from sitegen.proof.checks.base import Rule
from sitegen.proof.contrast.backdrop import PictureFinder, backdrop_of, is_painted, opacity_of
from sitegen.proof.contrast.formulas import (
    LINK_AGAINST_TEXT,
    NON_TEXT,
    TRANSPARENT,
    Colour,
    clipped,
    contrast_ratio,
    hexadecimal,
    shown,
)
from sitegen.proof.contrast.names import names_in
from sitegen.proof.contrast.properties import SIDES
from sitegen.proof.contrast.selectors import is_link
from sitegen.proof.contrast.shadows import read_shadows
from sitegen.proof.contrast.style import LINE_WIDTHS, Style
from sitegen.proof.contrast.stylesheets import THE_BROWSERS
from sitegen.proof.contrast.theme import Node, Theme
from sitegen.proof.contrast.values import Unknown
from sitegen.proof.contrast.visible import Sight, sight_of
from sitegen.proof.document import Element

CONTROL: Final = Rule("control-contrast", "1.4.11", "AA")
FOCUS: Final = Rule("focus-mark", "2.4.7", "AA")
FOCUS_CONTRAST: Final = Rule("focus-mark-contrast", "1.4.11", "AA")
LINK: Final = Rule("link-in-text", "1.4.1", "A")

RULES: Final = (CONTROL, FOCUS, FOCUS_CONTRAST, LINK)

_FIELDS: Final = frozenset({"select", "textarea"})
_FIELD_TYPES: Final = names_in(
    "text search url tel email password date month week time datetime-local number checkbox radio"
)
_LEAST_CHANGE: Final = 1.05
"""Below this ratio two colours count as the same to the eye (our own choice)."""


class MarkProblem(NamedTuple):
    """Something that is not text and does not pass in some scenario."""

    rule: Rule
    outcome: str
    message: str
    instead: str
    scenario: int
    states: str


def mark_problems(theme: Theme, node: Node, element: Element, find: PictureFinder) -> Iterator[MarkProblem]:
    """What of an element's marks fails; the same for all elements of its node, but for links, which depend on their text."""
    rest = node.variants[0].styles
    done: set[tuple[Style | None, ...]] = set()
    for number, style in enumerate(rest):
        # Paper has no focus and no links to follow.
        if style is None or style.surrounding.is_print or sight_of(style)[0] is not Sight.SEEN:
            continue
        parent = style.parent
        if _is_field(element) and (style,) not in done:
            done.add((style,))
            yield from _field(style, number, find)
        focused = _variant_style(node, frozenset({"focus", "focus-visible"}), number)
        if focused is not None and (style, focused) not in done:
            done.add((style, focused))
            yield from _focus(style, focused, number, find)
        if is_link(element) and parent is not None and style.value("display") == "inline":
            hovered = _variant_style(node, frozenset({"hover"}), number)
            if (style, hovered, focused) not in done:
                done.add((style, hovered, focused))
                yield from _link(theme, node, style, hovered, focused, number)


def _variant_style(node: Node, kinds: frozenset[str], number: int) -> Style | None:
    for variant in node.variants:
        if variant.kinds == kinds and variant.depth == node.depth:
            return variant.styles[number]
    return None


def _seen(style: Style, find: PictureFinder, above: Colour = TRANSPARENT) -> list[Colour] | None:
    """The colours there can be inside an element, with something painted over its background; None where not known."""
    backdrop = backdrop_of(style, find)
    if backdrop.unknown:
        return None
    return list(dict.fromkeys(clipped(world.seen(above)) for world in backdrop.worlds))


def _outside(style: Style, find: PictureFinder) -> list[Colour] | None:
    """The colours right outside of an element."""
    if style.parent is None:
        return None
    return _seen(style.parent, find)


def _as_seen(style: Style, colour: Colour, find: PictureFinder, is_outside: bool) -> list[Colour] | None:
    """A colour drawn outside or over an element's own background, with the opacity of its group."""
    if not is_outside or style.parent is None:
        return _seen(style, find, colour)
    red, green, blue, alpha = colour
    return _seen(style.parent, find, (red, green, blue, alpha * opacity_of(style)))


def _least(one: list[Colour], other: list[Colour]) -> float:
    return min(contrast_ratio(first, second) for first in one for second in other)


# ---------------------------------------------------------------------------------------------------------------------
# Fields


def _is_field(element: Element) -> bool:
    return element.tag in _FIELDS or (
        element.tag == "input" and element.attrs.get("type", "text").lower() in _FIELD_TYPES
    )


def _is_browsers_own(style: Style, names: tuple[str, ...]) -> bool:
    for name in names:
        source = style.source(name)
        if source is not None and source.sheet != THE_BROWSERS:
            return False
    return True


_EDGE_PROPERTIES: Final = (
    "background-color",
    "background-image",
    "appearance",
    *(f"border-{side}-{part}" for side in SIDES for part in ("color", "style", "width")),
)


def _field(style: Style, number: int, find: PictureFinder) -> Iterator[MarkProblem]:
    if _is_browsers_own(style, _EDGE_PROPERTIES):
        return
    best = 1.0
    pair: tuple[Colour, Colour] | None = None
    holder: Style | None = style
    # A field may have its edge from the box around it, such as a search field with its button in one frame.
    for _ in range(3):
        if holder is None or holder.parent is None:
            break
        for ratio, one, other in _edges(holder, find):
            if ratio >= NON_TEXT:
                return
            if ratio > best:
                best, pair = ratio, (one, other)
        holder = holder.parent
    if _outside(style, find) is None:
        yield MarkProblem(
            CONTROL,
            "unsure",
            "Whether the edge of this field can be seen cannot be told because of what lies behind it.",
            "Look at it in a browser, or put the field on a plain background.",
            number,
            "",
        )
        return
    if pair is None or best < _LEAST_CHANGE:
        yield MarkProblem(
            CONTROL,
            "unsure",
            "This field has no edge and no background of its own that would show where it is.",
            "Give it a border that reaches 3:1 against what is around it.",
            number,
            "",
        )
        return
    yield MarkProblem(
        CONTROL,
        "fails",
        f"The edge of this field has a contrast of {shown(best)} ({hexadecimal(pair[0])} beside {hexadecimal(pair[1])});"
        f" {NON_TEXT:g}:1 is needed.",
        _instead(pair[0], pair[1]),
        number,
        "",
    )


def _edges(style: Style, find: PictureFinder) -> Iterator[tuple[float, Colour, Colour]]:
    """Everything that can show where a box ends: its ratio, its colour and the colour beside it."""
    outside = _outside(style, find)
    if outside is None or not is_painted(style):
        return
    inside = _seen(style, find)
    if inside is not None:
        yield _least(inside, outside), inside[0], outside[0]
    for side in SIDES:
        colour = _line_colour(style, f"border-{side}")
        if colour is not None:
            drawn = _seen(style, find, colour)
            if drawn is not None:
                yield _least(drawn, outside), drawn[0], outside[0]
                if inside is not None:
                    yield _least(drawn, inside), drawn[0], inside[0]
    for colour, is_outside in (*_shadow_rings(style), *_outline(style)):
        drawn = _as_seen(style, colour, find, is_outside)
        beside = outside if is_outside else inside
        if drawn is not None and beside is not None:
            yield _least(drawn, beside), drawn[0], beside[0]


def _line_colour(style: Style, prefix: str) -> Colour | None:
    """The colour of a border or outline that is drawn."""
    if style.value(f"{prefix}-style") in ("none", "hidden"):
        return None
    width = style.length(f"{prefix}-width")
    if width is not None and width <= 0:
        return None
    colour = style.colour(f"{prefix}-color")
    return colour if isinstance(colour, tuple) and colour[3] > 0 else None


def _shadow_rings(style: Style) -> Iterator[tuple[Colour, bool]]:
    """Box shadows sharp enough to act as an edge, and whether they lie outside."""
    value = style.value("box-shadow")
    if not isinstance(value, tuple) or style.are_colours_forced:
        return
    found = read_shadows(value, style)
    if isinstance(found, Unknown):
        return
    for shadow in found:
        reach = shadow.spread + max(abs(shadow.across), abs(shadow.down))
        if reach >= 1 and shadow.blur <= 2 * reach and shadow.colour[3] > 0:
            yield shadow.colour, not shadow.is_inset


def _outline(style: Style) -> Iterator[tuple[Colour, bool]]:
    colour = _line_colour(style, "outline")
    if colour is None:
        return
    offset = style.length("outline-offset") or 0.0
    width = style.length("outline-width") or LINE_WIDTHS["medium"]
    yield colour, offset > -width


def _instead(colour: Colour, beside: Colour) -> str:
    from sitegen.proof.contrast.colours import nearest_passing

    found = nearest_passing(colour, (beside,), NON_TEXT)
    return (
        f"Use {hexadecimal(found)} for it." if found else "Change both colours; neither alone can reach it."
    )


# ---------------------------------------------------------------------------------------------------------------------
# The focus


def _focus(rest: Style, focused: Style, number: int, find: PictureFinder) -> Iterator[MarkProblem]:
    if sight_of(focused)[0] is Sight.HIDDEN:
        return
    weak: list[tuple[float, Colour, Colour]] = []
    one: Style | None = rest
    other: Style | None = focused
    unknown = ""
    while one is not None and other is not None and one is not other:
        verdict = _mark(one, other, find)
        if isinstance(verdict, list):
            weak += verdict
        elif isinstance(verdict, str):
            unknown = unknown or verdict
        else:
            return
        one, other = one.parent, other.parent
    states = "focus"
    if unknown:
        yield MarkProblem(
            FOCUS,
            "unsure",
            f"Whether the focus can be seen here cannot be told because of {unknown}.",
            "Look at it with the keyboard, or draw an outline.",
            number,
            states,
        )
    elif weak:
        ratio, colour, beside = max(weak)
        yield MarkProblem(
            FOCUS_CONTRAST,
            "fails",
            f"The mark of the focus has a contrast of {shown(ratio)} ({hexadecimal(colour)} beside {hexadecimal(beside)});"
            f" {NON_TEXT:g}:1 is needed.",
            _instead(colour, beside),
            number,
            states,
        )
    else:
        yield MarkProblem(
            FOCUS,
            "fails",
            "Nothing shows that this has the focus: it looks the same with it and without it.",
            "Draw an outline with :focus-visible, or leave the browser's own in place.",
            number,
            states,
        )


_CHANGES_WITHOUT_COLOUR: Final = (
    "text-decoration-line",
    "text-decoration-style",
    "text-decoration-thickness",
    "font-style",
    "visibility",
    "display",
)
_CHANGES_NOT_FOLLOWED: Final = (
    "background-image",
    "filter",
    "transform",
    "scale",
    "clip-path",
    "border-image-source",
    "opacity",
)


def _mark(
    rest: Style, focused: Style, find: PictureFinder
) -> bool | str | list[tuple[float, Colour, Colour]]:
    """True where focusing shows clearly; a property where that isn't known; else the marks that are too faint."""
    if _is_browsers_outline(focused):
        return True
    for name in _CHANGES_WITHOUT_COLOUR:
        if rest.value(name) != focused.value(name):
            return True
    if rest.font_weight != focused.font_weight or rest.font_size != focused.font_size:
        return True
    weak: list[tuple[float, Colour, Colour]] = []
    outside = _outside(focused, find)
    inside = _seen(focused, find)
    if outside is None or inside is None:
        return "what lies behind it"
    before = _seen(rest, find)
    drawn: list[tuple[Colour, bool]] = []
    drawn += [each for each in _outline(focused) if each not in list(_outline(rest))]
    drawn += [each for each in _shadow_rings(focused) if each not in list(_shadow_rings(rest))]
    for colour, is_outside in drawn:
        seen = _as_seen(focused, colour, find, is_outside)
        beside = outside if is_outside else inside
        if seen is not None:
            weak.append((_least(seen, beside), seen[0], beside[0]))
    for side in SIDES:
        now, then = _line_colour(focused, f"border-{side}"), _line_colour(rest, f"border-{side}")
        width_changes = now is not None and focused.length(f"border-{side}-width") != rest.length(
            f"border-{side}-width"
        )
        if now is not None and (now != then or width_changes):
            seen = _seen(focused, find, now)
            past = outside if then is None or before is None else _seen(rest, find, then)
            if seen is not None and past is not None:
                change = _least(seen, past) if not width_changes else NON_TEXT
                weak.append((min(change, max(_least(seen, outside), _least(seen, inside))), seen[0], past[0]))
    if before is not None and inside != before:
        weak.append((_least(inside, before), inside[0], before[0]))
    ink_now, ink_then = focused.colour("color"), rest.colour("color")
    if isinstance(ink_now, tuple) and isinstance(ink_then, tuple) and ink_now != ink_then:
        seen, past = _seen(focused, find, ink_now), _seen(rest, find, ink_then)
        if seen is not None and past is not None:
            weak.append((_least(seen, past), seen[0], past[0]))
    if any(ratio >= NON_TEXT for ratio, _, _ in weak):
        return True
    for name in _CHANGES_NOT_FOLLOWED:
        if rest.value(name) != focused.value(name):
            return name
    return [each for each in weak if each[0] >= _LEAST_CHANGE]


def _is_browsers_outline(style: Style) -> bool:
    """Whether the outline is the browser's own ring, which it draws so that it can be seen anywhere."""
    if style.value("outline-style") != "auto":
        return False
    width = style.length("outline-width")
    source = style.source("outline-color")
    colour = style.value("outline-color")
    return (width is None or width > 0) and (
        source is None or source.sheet == THE_BROWSERS or colour == "auto"
    )


# ---------------------------------------------------------------------------------------------------------------------
# Links


def _link(
    theme: Theme, node: Node, rest: Style, hovered: Style | None, focused: Style | None, number: int
) -> Iterator[MarkProblem]:
    around = rest.parent
    assert around is not None
    if _has_cue(rest, around) or node.pseudo.get("before") or node.pseudo.get("after"):
        return
    ink, text = rest.colour("color"), around.colour("color")
    if not isinstance(ink, tuple) or not isinstance(text, tuple):
        return  # the text's own contrast is reported as unsure already
    ratio = contrast_ratio(clipped(ink), clipped(text))
    if ratio < LINK_AGAINST_TEXT:
        yield MarkProblem(
            LINK,
            "fails",
            f"Only its colour tells this link from the text around it, with a contrast of {shown(ratio)}"
            f" ({hexadecimal(ink)} beside {hexadecimal(text)}); {LINK_AGAINST_TEXT:g}:1 is needed.",
            "Underline links in text.",
            number,
            "",
        )
        return
    for state, style in (("hover", hovered), ("focus", focused)):
        if state in theme.states and (style is None or not _changes(rest, style)):
            yield MarkProblem(
                LINK,
                "unsure",
                f"Only its colour tells this link from the text around it, and nothing is added on {state}.",
                "Underline links in text, or at least on hover and focus (technique G183).",
                number,
                state,
            )
            return


def _has_cue(style: Style, around: Style) -> bool:
    """Whether something besides colour sets a link apart."""
    line = style.value("text-decoration-line")
    if (
        line != "none"
        and line != around.value("text-decoration-line")
        and not _is_clear(style, "text-decoration-color")
    ):
        return True
    if style.value("font-style") != around.value("font-style"):
        return True
    if abs(style.font_weight - around.font_weight) >= 200:
        return True
    if style.font_size >= around.font_size * 1.2:
        return True
    if any(_line_colour(style, f"border-{side}") is not None for side in SIDES):
        return True
    if style.value("background-image") not in ("none",):
        return True
    colour = style.colour("background-color")
    return isinstance(colour, tuple) and colour[3] > 0


def _is_clear(style: Style, name: str) -> bool:
    colour = style.colour(name)
    return isinstance(colour, tuple) and colour[3] <= 0


def _changes(rest: Style, style: Style) -> bool:
    return _is_browsers_outline(style) or _has_cue(style, rest) or _line_colour(style, "outline") is not None
