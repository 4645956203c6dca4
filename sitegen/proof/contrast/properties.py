"""The CSS properties the proof looks at: which are inherited, what they start as, and how shorthands divide.

A declared value is one of
- a colour, for colours that mean the same everywhere,
- a string, for a single keyword (lower case),
- a tuple of tokens, for anything else that is valid,
- a tuple of such tuples, for the layers of a background and other lists,
- `Unknown`, for what may be valid but isn't understood,
- `Pending`, for a value that holds `var()` and can be read only for a given element.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Final, TypeAlias

from sitegen.proof.contrast.colours import NeedsSurroundingsError, read_colour
from sitegen.proof.contrast.names import names_in
from sitegen.proof.contrast.values import (
    MATH_FUNCTIONS,
    TAKEN_OVER,
    Measures,
    NotANumberError,
    Token,
    Unknown,
    quantity,
    significant,
    split_on,
)

Value: TypeAlias = Any
"""A declared value as the module's first lines say."""


@dataclass(frozen=True, slots=True, eq=False)
class Pending:
    """A value with `var()` in it."""

    property: str
    """The property or shorthand that was written."""
    tokens: tuple[Token, ...]


SIDES: Final = ("top", "right", "bottom", "left")
WIDE_KEYWORDS: Final = TAKEN_OVER | {"initial"}

COLOURS: Final = frozenset(
    {
        "color",
        "background-color",
        "outline-color",
        "text-decoration-color",
        "-webkit-text-fill-color",
        "-webkit-text-stroke-color",
        "fill",
        "stroke",
        *(f"border-{side}-color" for side in SIDES),
    }
)

INITIAL: Final[dict[str, Value]] = {
    "color": "canvastext",
    "background-color": (0.0, 0.0, 0.0, 0.0),
    "background-image": "none",
    "background-position": (),
    "background-size": (),
    "background-repeat": (),
    "background-clip": (),
    "background-origin": (),
    "background-attachment": (),
    "background-blend-mode": "normal",
    "opacity": 1.0,
    "font-size": "medium",
    "font-weight": "normal",
    "font-family": "serif",
    "font-style": "normal",
    "text-decoration-line": "none",
    "text-decoration-color": "currentcolor",
    "text-decoration-style": "solid",
    "text-decoration-thickness": "auto",
    **{f"border-{side}-color": "currentcolor" for side in SIDES},
    **{f"border-{side}-style": "none" for side in SIDES},
    **{f"border-{side}-width": "medium" for side in SIDES},
    "border-image-source": "none",
    "outline-color": "auto",
    "outline-style": "none",
    "outline-width": "medium",
    "outline-offset": "0",
    "box-shadow": "none",
    "text-shadow": "none",
    "display": "inline",
    "visibility": "visible",
    "content-visibility": "visible",
    "position": "static",
    **dict.fromkeys(SIDES, "auto"),
    **{f"margin-{side}": "0" for side in SIDES},
    **{f"padding-{side}": "0" for side in SIDES},
    "box-sizing": "content-box",
    "width": "auto",
    "height": "auto",
    "min-width": "auto",
    "min-height": "auto",
    "max-height": "none",
    "max-width": "none",
    "overflow-x": "visible",
    "overflow-y": "visible",
    "clip": "auto",
    "clip-path": "none",
    "text-indent": "0",
    "text-align": "start",
    "direction": "ltr",
    "line-height": "normal",
    "letter-spacing": "normal",
    "word-spacing": "normal",
    "writing-mode": "horizontal-tb",
    "white-space": "normal",
    "text-wrap": "wrap",
    "float": "none",
    "z-index": "auto",
    "order": "0",
    "flex-direction": "row",
    "flex-wrap": "nowrap",
    "flex": "0 1 auto",
    "grid-template-areas": "none",
    "grid-row-start": "auto",
    "grid-column-start": "auto",
    "-webkit-text-fill-color": "currentcolor",
    "-webkit-text-stroke-color": "currentcolor",
    "-webkit-text-stroke-width": "0",
    "mix-blend-mode": "normal",
    "filter": "none",
    "backdrop-filter": "none",
    "mask-image": "none",
    "color-scheme": "normal",
    "content": "normal",
    "list-style-type": "disc",
    "list-style-image": "none",
    "transform": "none",
    "translate": "none",
    "scale": "none",
    "rotate": "none",
    "zoom": "1",
    "animation-name": "none",
    "forced-color-adjust": "auto",
    "print-color-adjust": "economy",
    "appearance": "none",
    "fill": (0.0, 0.0, 0.0, 1.0),
    "stroke": "none",
}

INHERITED: Final = names_in(
    "color font-size font-weight font-family font-style text-shadow visibility text-indent text-align"
    " direction line-height letter-spacing word-spacing writing-mode white-space text-wrap -webkit-text-fill-color -webkit-text-stroke-color"
    " -webkit-text-stroke-width color-scheme list-style-type list-style-image forced-color-adjust print-"
    " color-adjust fill stroke"
)

_LOGICAL_SIDES: Final = {
    "block-start": "top",
    "block-end": "bottom",
    "inline-start": "left",
    "inline-end": "right",
}
_AXES: Final = {"block": ("top", "bottom"), "inline": ("left", "right")}

# Names that mean a property of the table above, in horizontal writing from left to right.
_ALIASES: Final[dict[str, str]] = {
    "-webkit-appearance": "appearance",
    "-webkit-background-clip": "background-clip",
    "-webkit-background-size": "background-size",
    "-webkit-background-origin": "background-origin",
    "-webkit-box-shadow": "box-shadow",
    "-webkit-clip-path": "clip-path",
    "-webkit-filter": "filter",
    "-webkit-backdrop-filter": "backdrop-filter",
    "-webkit-mask-image": "mask-image",
    "-webkit-transform": "transform",
    "-webkit-animation-name": "animation-name",
    "-webkit-print-color-adjust": "print-color-adjust",
    "color-adjust": "print-color-adjust",
    "-webkit-opacity": "opacity",
    "inline-size": "width",
    "block-size": "height",
    "max-block-size": "max-height",
    "max-inline-size": "max-width",
    "min-block-size": "min-height",
    "min-inline-size": "min-width",
    "text-wrap-mode": "text-wrap",
    "flex-basis": "flex",
    "flex-grow": "flex",
    **{f"inset-{logical}": side for logical, side in _LOGICAL_SIDES.items()},
    **{f"padding-{logical}": f"padding-{side}" for logical, side in _LOGICAL_SIDES.items()},
    **{f"margin-{logical}": f"margin-{side}" for logical, side in _LOGICAL_SIDES.items()},
    **{
        f"border-{logical}-{part}": f"border-{side}-{part}"
        for logical, side in _LOGICAL_SIDES.items()
        for part in ("color", "style", "width")
    },
}

LINE_STYLES: Final = names_in(
    "none hidden dotted dashed solid double groove ridge inset outset"
)  # https://www.w3.org/TR/css-backgrounds-3/#typedef-line-style
_OUTLINE_STYLES: Final = (LINE_STYLES | {"auto"}) - {"hidden"}
_WIDTHS: Final = frozenset({"thin", "medium", "thick"})
_DECORATION_LINES: Final = frozenset(
    {"none", "underline", "overline", "line-through", "blink", "spelling-error", "grammar-error"}
)
_DECORATION_STYLES: Final = frozenset({"solid", "double", "dotted", "dashed", "wavy"})
_FONT_SIZES: Final = names_in(
    "xx-small x-small small medium large x-large xx-large xxx-large smaller larger math"
)
_DISPLAYS: Final = names_in(
    "none contents block inline inline-block flow flow-root flex inline-flex grid inline-grid table"
    " inline-table table-row table-cell table-row-group table-header-group table-footer-group table-column"
    " table-column-group table-caption list-item ruby ruby-base ruby-text ruby-base-container ruby-text-"
    " container run-in math -webkit-box -webkit-inline-box -webkit-flex -webkit-inline-flex masonry grid-"
    " lanes inline-grid-lanes"
)
_KEYWORDS: Final[dict[str, frozenset[str]]] = {
    "visibility": frozenset({"visible", "hidden", "collapse"}),
    "content-visibility": frozenset({"visible", "hidden", "auto"}),
    "position": frozenset({"static", "relative", "absolute", "fixed", "sticky", "-webkit-sticky"}),
    "font-style": frozenset({"normal", "italic", "oblique"}),
    "text-decoration-style": _DECORATION_STYLES,
    "outline-style": _OUTLINE_STYLES,
    "forced-color-adjust": frozenset({"auto", "none", "preserve-parent-color"}),
    "print-color-adjust": frozenset({"economy", "exact"}),
    "direction": frozenset({"ltr", "rtl"}),
    "flex-direction": frozenset({"row", "row-reverse", "column", "column-reverse"}),
    "flex-wrap": frozenset({"nowrap", "wrap", "wrap-reverse"}),
    **{f"border-{side}-style": LINE_STYLES for side in SIDES},
}
_LENGTHS_OR: Final[dict[str, frozenset[str]]] = {
    "font-size": _FONT_SIZES,
    "text-decoration-thickness": frozenset({"auto", "from-font"}),
    "letter-spacing": frozenset({"normal"}),
    "word-spacing": frozenset({"normal"}),
    "outline-width": _WIDTHS,
    "outline-offset": frozenset(),
    "-webkit-text-stroke-width": _WIDTHS,
    **{f"border-{side}-width": _WIDTHS for side in SIDES},
    **{
        side: frozenset({"auto"}) for side in (*SIDES, *(f"margin-{side}" for side in SIDES))
    },
}  # fmt: skip
_NEVER_NEGATIVE: Final = frozenset(
    {"font-size", "outline-width", "-webkit-text-stroke-width", *(f"border-{side}-width" for side in SIDES)}
)
_ROUGH_MEASURES: Final = Measures(16, 16, 1280, 720, 100)


def _is_length(token: Token) -> bool:
    try:
        found = quantity(token, _ROUGH_MEASURES)
    except NotANumberError:
        return False
    return found.kind == "length" or (token.type == "number" and token.value == 0)


def has_variable(tokens: Sequence[Token]) -> bool:
    """Whether `var()` or another function that is replaced later occurs anywhere in the tokens."""
    for token in tokens:
        kind = token.type
        if kind == "function":
            if token.lower_name in ("var", "env", "attr", "if", "random", "inherit") or has_variable(
                token.arguments
            ):
                return True
        elif kind in ("() block", "[] block", "{} block") and has_variable(token.content):
            return True
    return False


def declared(name: str, tokens: Sequence[Token]) -> Iterator[tuple[str, Value]]:
    """The longhands one declaration sets, with their values; nothing where it is invalid or of no interest.

    `name` is in lower case. https://www.w3.org/TR/css-cascade-5/#shorthand
    """
    name = _ALIASES.get(name, name)
    longhands = longhands_of(name)
    if longhands is None:
        return
    kept = significant(tokens)
    if not kept:
        return
    if has_variable(kept):
        pending = Pending(name, tuple(tokens))
        for longhand in longhands:
            yield longhand, pending
        return
    if len(kept) == 1 and kept[0].type == "ident" and kept[0].lower_value in WIDE_KEYWORDS:
        for longhand in longhands:
            yield longhand, kept[0].lower_value
        return
    yield from _expanded(name, kept)


def longhands_of(name: str) -> Sequence[str] | None:
    """The longhands a property sets; None for a property of no interest."""
    if name in INITIAL:
        return (name,)
    return _SHORTHANDS[name][0] if name in _SHORTHANDS else None


def _expanded(name: str, kept: list[Token]) -> Iterator[tuple[str, Value]]:
    if name in INITIAL:
        value = _longhand(name, kept)
        if value is not None:
            yield name, value
        return
    divide = _SHORTHANDS[name][1]
    found = divide(name, kept)
    if found is not None:
        yield from found.items()


def expanded(pending: Pending, tokens: Sequence[Token]) -> dict[str, Value]:
    """The longhands a pending value sets once its variables have been replaced; none where that is invalid."""
    kept = significant(tokens)
    if len(kept) == 1 and kept[0].type == "ident" and kept[0].lower_value in WIDE_KEYWORDS:
        return dict.fromkeys(longhands_of(pending.property) or (), kept[0].lower_value)
    return dict(_expanded(pending.property, kept)) if kept else {}


# ---------------------------------------------------------------------------------------------------------------------
# Longhands


def _colour(tokens: Sequence[Token]) -> Value | None:
    try:
        found = read_colour(tokens, None)
    except NeedsSurroundingsError:
        if tokens[0].type == "ident":
            return tokens[0].lower_value
        return tuple(tokens)
    return found


def _longhand(name: str, kept: list[Token]) -> Value | None:
    """A valid value of a longhand, or None."""
    first = kept[0]
    keyword = first.lower_value if len(kept) == 1 and first.type == "ident" else None
    if name in COLOURS:
        if name == "outline-color" and keyword in ("auto", "invert"):
            return "auto"
        if name in ("fill", "stroke"):
            return keyword if keyword == "none" else _colour(kept) or tuple(kept)
        return _colour(kept)
    if name in _KEYWORDS:
        if name == "font-style" and first.type == "ident" and first.lower_value == "oblique":
            return "oblique"
        return keyword if keyword in _KEYWORDS[name] else None
    if name in _LENGTHS_OR:
        if keyword in _LENGTHS_OR[name]:
            return keyword
        if len(kept) == 1 and _is_length(first):
            is_negative = first.type in ("dimension", "percentage", "number") and first.value < 0
            return None if is_negative and name in _NEVER_NEGATIVE else tuple(kept)
        # `anchor()` and the like
        return tuple(kept) if first.type == "function" and first.lower_name not in MATH_FUNCTIONS else None
    if name == "display":
        if all(token.type == "ident" and token.lower_value in _DISPLAYS for token in kept):
            return " ".join(token.lower_value for token in kept)
        return None
    if name == "opacity":
        return _opacity(kept)
    if name == "font-weight":
        return _weight(kept)
    if name == "text-decoration-line":
        words = [token.lower_value if token.type == "ident" else "" for token in kept]
        return " ".join(words) if all(word in _DECORATION_LINES for word in words) else None
    if name.startswith("background-"):
        return _background_list(kept, keyword)
    if keyword is not None:
        return keyword
    return tuple(kept)


def _opacity(kept: list[Token]) -> float | None:
    if len(kept) != 1:
        return None
    try:
        found = quantity(kept[0], None)
    except NotANumberError:
        return None
    if found.kind not in ("number", "percent"):
        return None
    return min(1.0, max(0.0, found.value / (100 if found.kind == "percent" else 1)))


def _weight(kept: list[Token]) -> str | float | None:
    if len(kept) != 1:
        return None
    if kept[0].type == "ident":
        word = str(kept[0].lower_value)
        return word if word in ("normal", "bold", "bolder", "lighter") else None
    try:
        found = quantity(kept[0], None)
    except NotANumberError:
        return None
    return found.value if found.kind == "number" and 1 <= found.value <= 1000 else None


def _background_list(kept: list[Token], keyword: str | None) -> Value | None:
    if keyword == "none":
        return keyword
    parts = tuple(tuple(significant(part)) for part in split_on(kept, ","))
    return parts if all(parts) else None


# ---------------------------------------------------------------------------------------------------------------------
# Shorthands. Each divider returns longhands and values, or None where the whole is invalid.

_Divided: TypeAlias = dict[str, Value] | None


def _four_sides(pattern: str) -> Callable[[str, list[Token]], _Divided]:
    """One to four values for top, right, bottom and left: https://www.w3.org/TR/css-box-4/#margin-shorthand"""

    def divide(name: str, kept: list[Token]) -> _Divided:
        if len(kept) > 4:
            return None
        top = [kept[0]]
        right = [kept[1]] if len(kept) > 1 else top
        bottom = [kept[2]] if len(kept) > 2 else top
        left = [kept[3]] if len(kept) > 3 else right
        found = {
            pattern.format(side): _longhand(pattern.format(side), value)
            for side, value in zip(SIDES, (top, right, bottom, left), strict=True)
        }
        return None if any(value is None for value in found.values()) else found

    return divide


def _two_sides(pattern: str, axis: str) -> Callable[[str, list[Token]], _Divided]:
    def divide(name: str, kept: list[Token]) -> _Divided:
        if len(kept) > 2:
            return None
        found = {
            pattern.format(side): _longhand(pattern.format(side), [value])
            for side, value in zip(_AXES[axis], (kept[0], kept[-1]), strict=True)
        }
        return None if any(value is None for value in found.values()) else found

    return divide


def _line(prefixes: Sequence[str]) -> Callable[[str, list[Token]], _Divided]:
    """Width, style and colour of one or more lines, in any order."""

    def divide(name: str, kept: list[Token]) -> _Divided:
        parts: dict[str, Value] = {}
        for token in kept:
            for part in ("style", "width", "color"):
                value = _longhand(f"{prefixes[0]}-{part}", [token])
                if value is not None and part not in parts:
                    parts[part] = value
                    break
            else:
                return None
        return {
            f"{prefix}-{part}": parts.get(part, INITIAL[f"{prefix}-{part}"])
            for prefix in prefixes
            for part in ("style", "width", "color")
        }

    return divide


def _border(name: str, kept: list[Token]) -> _Divided:
    found = _line([f"border-{side}" for side in SIDES])(name, kept)
    return None if found is None else {**found, "border-image-source": "none"}


def _text_decoration(name: str, kept: list[Token]) -> _Divided:
    lines: list[str] = []
    found: dict[str, Value] = {}
    for token in kept:
        word = token.lower_value if token.type == "ident" else None
        if word in _DECORATION_LINES:
            lines.append(word)
        elif word in _DECORATION_STYLES:
            found["text-decoration-style"] = word
        elif word in ("auto", "from-font") or _is_length(token):
            found["text-decoration-thickness"] = word or (token,)
        else:
            colour = _colour([token])
            if colour is None:
                return None
            found["text-decoration-color"] = colour
    found["text-decoration-line"] = " ".join(lines) or "none"
    return {longhand: found.get(longhand, INITIAL[longhand]) for longhand in _DECORATION}


_DECORATION: Final = tuple(f"text-decoration-{part}" for part in ("line", "color", "style", "thickness"))


def _font(name: str, kept: list[Token]) -> _Divided:
    # https://www.w3.org/TR/css-fonts-4/#font-prop
    found: dict[str, Value] = {longhand: INITIAL[longhand] for longhand in _FONT}
    if len(kept) == 1:
        word = kept[0].lower_value if kept[0].type == "ident" else ""
        if word in ("caption", "icon", "menu", "message-box", "small-caption", "status-bar"):
            return {**found, "font-size": Unknown(f"font: {word}"), "font-family": "system-ui"}
        return None
    for position, token in enumerate(kept):
        word = token.lower_value if token.type == "ident" else None
        if word in ("italic", "oblique"):
            found["font-style"] = word
        elif word is not None and word not in _FONT_SIZES and word not in ("bold", "bolder", "lighter"):
            if position + 1 == len(kept):
                return None
        elif (weight := _weight([token])) is not None:
            found["font-weight"] = weight
        else:
            size = _longhand("font-size", [token])
            rest = kept[position + 1 :]
            if size is None:
                return None
            if rest and rest[0].type == "literal" and rest[0].value == "/":
                if len(rest) < 2:
                    return None
                found["line-height"] = rest[1].lower_value if rest[1].type == "ident" else (rest[1],)
                rest = rest[2:]
            if not rest:
                return None
            found["font-size"] = size
            found["font-family"] = _longhand("font-family", rest)
            return found
    return None


_FONT: Final = ("font-style", "font-weight", "font-size", "line-height", "font-family")

_BOXES: Final = frozenset({"border-box", "padding-box", "content-box", "text", "border-area"})
_REPEATS: Final = frozenset({"repeat", "no-repeat", "repeat-x", "repeat-y", "space", "round"})
_BACKGROUND: Final = tuple(
    f"background-{part}"
    for part in ("color", "image", "position", "size", "repeat", "clip", "origin", "attachment")
)


def is_image(token: Token) -> bool:
    """Whether a token stands for a picture or gradient."""
    if token.type == "url":
        return True
    return token.type == "function" and (
        token.lower_name in ("url", "src", "image", "element", "cross-fade", "paint", "-webkit-gradient")
        or token.lower_name.endswith(("-gradient", "image-set"))
    )


def _background(name: str, kept: list[Token]) -> _Divided:
    # https://www.w3.org/TR/css-backgrounds-3/#background
    found: dict[str, list[tuple[Token, ...] | str]] = {
        part: [] for part in ("image", "position", "size", "repeat", "clip", "origin", "attachment")
    }
    colour: Value = INITIAL["background-color"]
    layers = split_on(kept, ",")
    for place, layer in enumerate(layers):
        parts: dict[str, list[Token]] = {part: [] for part in found}
        has_colour = False
        into_size = False
        for token in layer:
            if token.type == "whitespace":
                continue
            word = token.lower_value if token.type == "ident" else None
            if token.type == "literal" and token.value == "/":
                if not parts["position"] or into_size:
                    return None
                into_size = True
            elif is_image(token) or word == "none":
                if parts["image"]:
                    return None
                parts["image"].append(token)
            elif word in _BOXES:
                if word not in ("text", "border-area"):
                    parts["origin" if not parts["origin"] else "clip"].append(token)
                else:
                    parts["clip"].append(token)
            elif word in ("scroll", "fixed", "local"):
                parts["attachment"].append(token)
            elif word in _REPEATS:
                parts["repeat"].append(token)
            elif word in ("cover", "contain", "auto") and into_size:
                parts["size"].append(token)
            elif word in ("top", "right", "bottom", "left", "center"):
                parts["position"].append(token)
            elif word is None and _is_length(token):
                parts["size" if into_size and len(parts["size"]) < 2 else "position"].append(token)
            else:
                value = _colour([token])
                if value is None or has_colour or place + 1 < len(layers):
                    return None
                colour, has_colour = value, True
        if not any(parts.values()) and not has_colour:
            return None
        if parts["origin"] and not parts["clip"]:
            parts["clip"] = parts["origin"]
        for part, tokens in parts.items():
            found[part].append(tuple(tokens))
    result: dict[str, Value] = {f"background-{part}": tuple(tokens) for part, tokens in found.items()}
    if not any(layer and layer[0].type != "ident" for layer in found["image"] if not isinstance(layer, str)):
        result["background-image"] = "none"
    result["background-color"] = colour
    return result


def _list_style(name: str, kept: list[Token]) -> _Divided:
    found: dict[str, Value] = {"list-style-type": "disc", "list-style-image": "none"}
    for token in kept:
        if is_image(token):
            found["list-style-image"] = (token,)
        elif token.type == "ident" and token.lower_value in ("inside", "outside"):
            pass
        elif token.type == "ident":
            found["list-style-type"] = token.lower_value
        else:
            found["list-style-type"] = (token,)
    return found


def _overflow(name: str, kept: list[Token]) -> _Divided:
    if len(kept) > 2 or any(token.type != "ident" for token in kept):
        return None
    return {"overflow-x": kept[0].lower_value, "overflow-y": kept[-1].lower_value}


def _flex_flow(name: str, kept: list[Token]) -> _Divided:
    found: dict[str, Value] = {"flex-direction": "row", "flex-wrap": "nowrap"}
    for token in kept:
        for longhand in found:
            value = _longhand(longhand, [token])
            if value is not None:
                found[longhand] = value
                break
        else:
            return None
    return found


def _grid_lines(*longhands: str) -> Callable[[str, list[Token]], _Divided]:
    """The lines at which an item of a grid begins; those at which it ends are of no interest
    (https://www.w3.org/TR/css-grid-2/#placement-shorthands)."""

    def divide(name: str, kept: list[Token]) -> _Divided:
        parts = split_on(kept, "/")
        if len(parts) > 2 * len(longhands) or not all(parts):
            return None
        found: dict[str, Value] = {}
        for place, longhand in enumerate(longhands):
            # A line left out is what the first one says where that is a name, else automatic.
            given = parts[min(place, len(parts) - 1)]
            is_name = len(given) == 1 and given[0].type == "ident"
            found[longhand] = _longhand(longhand, given) if place < len(parts) or is_name else "auto"
        return found

    return divide


def _grid_template(name: str, kept: list[Token]) -> _Divided:
    # Only the areas it names are of interest.
    strings = tuple(token for token in kept if token.type == "string")
    return {"grid-template-areas": strings or "none"}


def _text_stroke(name: str, kept: list[Token]) -> _Divided:
    found = {
        "-webkit-text-stroke-width": INITIAL["-webkit-text-stroke-width"],
        "-webkit-text-stroke-color": INITIAL["-webkit-text-stroke-color"],
    }
    for token in kept:
        width = _longhand("-webkit-text-stroke-width", [token])
        if width is not None:
            found["-webkit-text-stroke-width"] = width
            continue
        colour = _colour([token])
        if colour is None:
            return None
        found["-webkit-text-stroke-color"] = colour
    return found


def _animation(name: str, kept: list[Token]) -> _Divided:
    # Which word is the name is settled by the keyframes there are; all words are kept for that.
    if len(kept) == 1 and kept[0].type == "ident":
        return {"animation-name": kept[0].lower_value}
    return {"animation-name": tuple(kept)}


def _mask(name: str, kept: list[Token]) -> _Divided:
    return {"mask-image": tuple(kept) if any(is_image(token) for token in kept) else "none"}


def _border_image(name: str, kept: list[Token]) -> _Divided:
    return {"border-image-source": tuple(kept) if any(is_image(token) for token in kept) else "none"}


def _all(name: str, kept: list[Token]) -> _Divided:
    return None  # only the keywords every property takes are valid, and they are read before this


_BORDER_PARTS: Final = ("style", "width", "color")


def _border_longhands(*sides: str) -> tuple[str, ...]:
    return tuple(f"border-{side}-{part}" for side in sides for part in _BORDER_PARTS)


_SHORTHANDS: Final[dict[str, tuple[tuple[str, ...], Callable[[str, list[Token]], _Divided]]]] = {
    "background": (_BACKGROUND, _background),
    "border": ((*_border_longhands(*SIDES), "border-image-source"), _border),
    **{f"border-{side}": (_border_longhands(side), _line([f"border-{side}"])) for side in SIDES},
    **{
        f"border-{logical}": (_border_longhands(side), _line([f"border-{side}"]))
        for logical, side in _LOGICAL_SIDES.items()
    },
    **{
        f"border-{axis}": (_border_longhands(*sides), _line([f"border-{side}" for side in sides]))
        for axis, sides in _AXES.items()
    },
    **{
        f"border-{part}": (
            tuple(f"border-{side}-{part}" for side in SIDES),
            _four_sides(f"border-{{}}-{part}"),
        )
        for part in _BORDER_PARTS
    },
    **{
        f"border-{axis}-{part}": (
            tuple(f"border-{side}-{part}" for side in sides),
            _two_sides(f"border-{{}}-{part}", axis),
        )
        for axis, sides in _AXES.items()
        for part in _BORDER_PARTS
    },
    "border-image": (("border-image-source",), _border_image),
    "outline": (tuple(f"outline-{part}" for part in _BORDER_PARTS), _line(["outline"])),
    "text-decoration": (_DECORATION, _text_decoration),
    "-webkit-text-decoration": (_DECORATION, _text_decoration),
    "font": (_FONT, _font),
    "list-style": (("list-style-type", "list-style-image"), _list_style),
    "inset": (SIDES, _four_sides("{}")),
    **{f"inset-{axis}": (sides, _two_sides("{}", axis)) for axis, sides in _AXES.items()},
    "padding": (tuple(f"padding-{side}" for side in SIDES), _four_sides("padding-{}")),
    "margin": (tuple(f"margin-{side}" for side in SIDES), _four_sides("margin-{}")),
    **{
        f"{box}-{axis}": (tuple(f"{box}-{side}" for side in sides), _two_sides(f"{box}-{{}}", axis))
        for box in ("padding", "margin")
        for axis, sides in _AXES.items()
    },
    "overflow": (("overflow-x", "overflow-y"), _overflow),
    "flex-flow": (("flex-direction", "flex-wrap"), _flex_flow),
    "grid-row": (("grid-row-start",), _grid_lines("grid-row-start")),
    "grid-column": (("grid-column-start",), _grid_lines("grid-column-start")),
    "grid-area": (
        ("grid-row-start", "grid-column-start"),
        _grid_lines("grid-row-start", "grid-column-start"),
    ),
    "grid-template": (("grid-template-areas",), _grid_template),
    "grid": (("grid-template-areas",), _grid_template),
    "-webkit-text-stroke": (("-webkit-text-stroke-width", "-webkit-text-stroke-color"), _text_stroke),
    "animation": (("animation-name",), _animation),
    "-webkit-animation": (("animation-name",), _animation),
    "mask": (("mask-image",), _mask),
    "-webkit-mask": (("mask-image",), _mask),
    "all": (tuple(name for name in INITIAL if name != "direction"), _all),
}
