"""Evaluates the numbers of CSS: lengths in every unit, and the math functions `calc()`, `min()`, `clamp()` and their kin.

https://www.w3.org/TR/css-values-4/
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, NamedTuple, TypeAlias

from sitegen.proof.contrast.names import names_in

if TYPE_CHECKING:
    from tinycss2.ast import Node

Token: TypeAlias = Any
"""A component value of tinycss2; its classes share no attributes a type checker could use."""
TAKEN_OVER: Final = frozenset({"inherit", "unset", "revert", "revert-layer"})
"""Keywords of every property that may stand for what is inherited, or for what another sheet says."""


@dataclass(frozen=True, slots=True)
class Unknown:
    """Something this proof does not understand, and why, in words for a report."""

    reason: str


class Quantity(NamedTuple):
    """A number with what it measures."""

    value: float
    kind: str
    """"number", "length" (px), "percent" (100 is the whole), "angle" (degrees)."""


@dataclass(frozen=True, slots=True)
class Measures:
    """What relative lengths are relative to, all in px."""

    em: float
    rem: float
    viewport_width: float
    viewport_height: float
    hundred_percent: float | None = None
    """What 100 % stands for; None leaves percentages unresolved."""


# https://www.w3.org/TR/css-values-4/#absolute-lengths
_ABSOLUTE: Final = {
    "px": 1.0,
    "in": 96.0,
    "cm": 96 / 2.54,
    "mm": 9.6 / 2.54,
    "q": 2.4 / 2.54,
    "pt": 96 / 72,
    "pc": 16.0,
}
_ANGLES: Final = {"deg": 1.0, "grad": 0.9, "rad": 180 / math.pi, "turn": 360.0}
_VIEWPORT: Final = {
    prefix + unit: unit for prefix in ("", "s", "l", "d") for unit in ("vw", "vh", "vi", "vb", "vmin", "vmax")
}
VIEWPORT_UNITS: Final = frozenset(_VIEWPORT)
_CONSTANTS: Final = {
    "e": math.e,
    "pi": math.pi,
    "infinity": math.inf,
    "-infinity": -math.inf,
    "nan": math.nan,
}
MATH_FUNCTIONS: Final = names_in(
    "calc -webkit-calc min max clamp round mod rem sin cos tan asin acos atan atan2 pow sqrt hypot log"
    " exp abs sign"
)


class NotANumberError(Exception):
    """The tokens are no number, length or calculation this module can evaluate."""


def significant(tokens: Iterable[Node]) -> list[Token]:
    """The tokens without whitespace and comments."""
    return [token for token in tokens if token.type not in ("whitespace", "comment")]


def split_on(tokens: Iterable[Node], separator: str) -> list[list[Token]]:
    """The tokens divided at a literal such as ",", without whitespace and comments around them."""
    parts: list[list[Token]] = [[]]
    for token in tokens:
        if token.type == "literal" and token.value == separator:
            parts.append([])
        elif token.type != "comment":
            parts[-1].append(token)
    for part in parts:
        while part and part[0].type == "whitespace":
            del part[0]
        while part and part[-1].type == "whitespace":
            del part[-1]
    return parts


def quantity(token: Token, measures: Measures | None, names: dict[str, float] | None = None) -> Quantity:
    """The value of one token.

    `measures` None leaves lengths that depend on the element unreadable; `names` gives the values of identifiers such as
    the channels of a relative colour. Raises `NotANumberError`.
    """
    kind = token.type
    if kind == "number":
        return Quantity(token.value, "number")
    if kind == "percentage":
        if measures is not None and measures.hundred_percent is not None:
            return Quantity(token.value / 100 * measures.hundred_percent, "length")
        return Quantity(token.value, "percent")
    if kind == "dimension":
        return _dimension(token.value, token.lower_unit, measures)
    if kind == "ident":
        name = token.lower_value
        if names is not None and name in names:
            return Quantity(names[name], "number")
        if name in _CONSTANTS:
            return Quantity(_CONSTANTS[name], "number")
    if kind == "() block":
        return _Calculation(token.content, measures, names).whole()
    if kind == "function" and token.lower_name in MATH_FUNCTIONS:
        return _function(token, measures, names)
    raise NotANumberError


def _dimension(value: float, unit: str, measures: Measures | None) -> Quantity:
    if unit in _ABSOLUTE:
        return Quantity(value * _ABSOLUTE[unit], "length")
    if unit in _ANGLES:
        return Quantity(value * _ANGLES[unit], "angle")
    if measures is None:
        raise NotANumberError
    if unit == "em":
        return Quantity(value * measures.em, "length")
    if unit == "rem":
        return Quantity(value * measures.rem, "length")
    if unit in ("ex", "ch"):
        # Half an em where the font's own measures are not known: https://www.w3.org/TR/css-values-4/#font-relative-lengths
        return Quantity(value * measures.em / 2, "length")
    if unit in ("cap", "ic"):
        return Quantity(value * measures.em, "length")
    if unit in ("rex", "rch"):
        return Quantity(value * measures.rem / 2, "length")
    if unit in ("lh", "rlh"):
        # `normal` line height is about 1.2 (common practice, no source)
        return Quantity(value * 1.2 * (measures.em if unit == "lh" else measures.rem), "length")
    axis = _VIEWPORT.get(unit)
    if axis is None:
        raise NotANumberError
    width, height = measures.viewport_width, measures.viewport_height
    base = {
        "vw": width,
        "vi": width,
        "vh": height,
        "vb": height,
        "vmin": min(width, height),
        "vmax": max(width, height),
    }[axis]
    return Quantity(value * base / 100, "length")


class _Calculation:
    """A calculation as written between brackets: sums of products. https://www.w3.org/TR/css-values-4/#calc-syntax"""

    def __init__(
        self, tokens: Iterable[Node], measures: Measures | None, names: dict[str, float] | None
    ) -> None:
        self._tokens = significant(tokens)
        self._measures = measures
        self._names = names

    def whole(self) -> Quantity:
        if not self._tokens:
            raise NotANumberError
        result = self._sum()
        if self._tokens:
            raise NotANumberError
        return result

    def _operator(self, allowed: str) -> str | None:
        if self._tokens and self._tokens[0].type == "literal" and self._tokens[0].value in allowed:
            return str(self._tokens.pop(0).value)
        return None

    def _sum(self) -> Quantity:
        total = self._product()
        while operator := self._operator("+-"):
            term = self._product()
            if term.kind != total.kind:
                raise NotANumberError
            total = Quantity(total.value + (term.value if operator == "+" else -term.value), total.kind)
        return total

    def _product(self) -> Quantity:
        result = self._value()
        while operator := self._operator("*/"):
            factor = self._value()
            if operator == "*":
                if result.kind != "number" and factor.kind != "number":
                    raise NotANumberError
                kind = factor.kind if result.kind == "number" else result.kind
                result = Quantity(result.value * factor.value, kind)
            else:
                kind = "number" if factor.kind == result.kind else result.kind
                if factor.kind not in ("number", result.kind):
                    raise NotANumberError
                result = Quantity(result.value / factor.value if factor.value else math.inf, kind)
        return result

    def _value(self) -> Quantity:
        if not self._tokens:
            raise NotANumberError
        return quantity(self._tokens.pop(0), self._measures, self._names)


def _remainder(value: float, step: float) -> float:
    return math.fmod(value, step) if step else math.nan


def _modulo(value: float, step: float) -> float:
    return value - step * math.floor(value / step) if step else math.nan


_ROUNDINGS: Final[dict[str, Callable[[float], float]]] = {
    "nearest": lambda value: math.floor(value + 0.5),
    "up": math.ceil,
    "down": math.floor,
    "to-zero": math.trunc,
}


def _function(token: Token, measures: Measures | None, names: dict[str, float] | None) -> Quantity:
    name = token.lower_name
    parts = split_on(token.arguments, ",")
    rounding = "nearest"
    if name == "round" and len(parts[0]) == 1 and getattr(parts[0][0], "lower_value", None) in _ROUNDINGS:
        rounding = parts.pop(0)[0].lower_value
    if name == "clamp" and len(parts) == 3:
        for place, edge in ((0, -math.inf), (2, math.inf)):
            if len(parts[place]) == 1 and getattr(parts[place][0], "lower_value", None) == "none":
                middle = _Calculation(parts[1], measures, names).whole()
                parts[place] = []
                bound = Quantity(edge, middle.kind)
                other = 2 - place
                rest = _Calculation(parts[other], measures, names).whole() if parts[other] else bound
                low, high = (bound, rest) if place == 0 else (rest, bound)
                return Quantity(max(low.value, min(middle.value, high.value)), middle.kind)
    found = [_Calculation(part, measures, names).whole() for part in parts]
    first = found[0]
    values = [each.value for each in found]
    kinds = {each.kind for each in found}
    if name in ("calc", "-webkit-calc") and len(found) == 1:
        return first
    if name in ("abs", "sign") and len(found) == 1:
        if name == "abs":
            return Quantity(abs(first.value), first.kind)
        return Quantity(math.copysign(1, first.value) if first.value else 0.0, "number")
    if name in ("sin", "cos", "tan") and len(found) == 1:
        angle = math.radians(first.value) if first.kind == "angle" else first.value
        return Quantity({"sin": math.sin, "cos": math.cos, "tan": math.tan}[name](angle), "number")
    if len(kinds) != 1:
        raise NotANumberError
    try:
        return _same_kind_function(name, values, first.kind, rounding)
    except (ValueError, OverflowError, ZeroDivisionError) as problem:
        raise NotANumberError from problem


def _same_kind_function(name: str, values: Sequence[float], kind: str, rounding: str) -> Quantity:
    count = len(values)
    if name == "min":
        return Quantity(min(values), kind)
    if name == "max":
        return Quantity(max(values), kind)
    if name == "clamp" and count == 3:
        return Quantity(max(values[0], min(values[1], values[2])), kind)
    if name == "hypot":
        return Quantity(math.hypot(*values), kind)
    if name == "round" and count <= 2:
        step = values[1] if count == 2 else 1.0
        return Quantity(_ROUNDINGS[rounding](values[0] / step) * step, kind)
    if name in ("mod", "rem") and count == 2:
        return Quantity((_modulo if name == "mod" else _remainder)(values[0], values[1]), kind)
    if name == "atan2" and count == 2:
        return Quantity(math.degrees(math.atan2(values[0], values[1])), "angle")
    if kind != "number":
        raise NotANumberError
    if name in ("asin", "acos", "atan") and count == 1:
        turn = {"asin": math.asin, "acos": math.acos, "atan": math.atan}[name]
        return Quantity(math.degrees(turn(values[0])), "angle")
    if name == "pow" and count == 2:
        return Quantity(math.pow(values[0], values[1]), kind)
    if name == "sqrt" and count == 1:
        return Quantity(math.sqrt(values[0]), kind)
    if name == "exp" and count == 1:
        return Quantity(math.exp(values[0]), kind)
    if name == "log" and count in (1, 2):
        return Quantity(math.log(*values), kind)
    raise NotANumberError


def length(token: Token, measures: Measures | None) -> float | None:
    """A length in px, or None where the token is none; a bare zero is a length."""
    try:
        found = quantity(token, measures)
    except NotANumberError:
        return None
    if found.kind == "length" or (found.kind == "number" and found.value == 0 and token.type == "number"):
        return found.value
    return None


def number(token: Token) -> float | None:
    """A plain number or a calculation of one, or None."""
    try:
        found = quantity(token, None)
    except NotANumberError:
        return None
    return found.value if found.kind == "number" else None
