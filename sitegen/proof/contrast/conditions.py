"""Decides the conditions stylesheets set: `@media` for a scenario, `@supports` for a browser of today.

Answers are True, False or None for "cannot tell"; `not` of None is None.
https://www.w3.org/TR/mediaqueries-5/, https://www.w3.org/TR/css-conditional-4/
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, Final, TypeAlias

from sitegen.proof.contrast.colours import NeedsSurroundingsError, read_colour
from sitegen.proof.contrast.names import names_in
from sitegen.proof.contrast.properties import COLOURS, declared, longhands_of
from sitegen.proof.contrast.scenario import Scenario
from sitegen.proof.contrast.selectors import InvalidSelectorError, compile_selectors
from sitegen.proof.contrast.values import Measures, NotANumberError, Unknown, quantity, significant, split_on

Answer: TypeAlias = bool | None
Condition: TypeAlias = Callable[[Scenario], Answer]


def both(one: Answer, other: Answer) -> Answer:
    """`and` of two answers."""
    if one is False or other is False:
        return False
    return None if one is None or other is None else True


def either(one: Answer, other: Answer) -> Answer:
    """`or` of two answers."""
    if one is True or other is True:
        return True
    return None if one is None or other is None else False


def opposite(answer: Answer) -> Answer:
    """`not` of an answer."""
    return None if answer is None else not answer


def _always(answer: Answer) -> Condition:
    return lambda scenario: answer


def media(tokens: Sequence[Any]) -> Condition:
    """A media query list; an empty one is true."""
    queries = [significant(part) for part in split_on(tokens, ",")]
    if queries == [[]]:
        return _always(True)
    compiled = [_query(query) for query in queries]

    def any_of_them(scenario: Scenario) -> Answer:
        answer: Answer = False
        for query in compiled:
            answer = either(answer, query(scenario))
        return answer

    return any_of_them


def _word(token: Any) -> str | None:
    return str(token.lower_value) if token.type == "ident" else None


def _query(tokens: list[Any]) -> Condition:
    if not tokens:
        return _always(False)
    first = _word(tokens[0])
    negated = False
    rest = tokens
    if first in ("not", "only") and len(tokens) > 1 and _word(tokens[1]) is not None:
        negated = first == "not"
        rest = tokens[1:]
        first = _word(rest[0])
    if first is None or first == "not":
        return _media_condition(rest)
    kind = first
    after = rest[1:]
    condition = _always(True)
    if after:
        if _word(after[0]) != "and" or len(after) < 2:
            return _always(False)  # a malformed query stands for "not all"
        condition = _media_condition(after[1:])

    def with_type(scenario: Scenario) -> Answer:
        answer = both(kind in ("all", scenario.media), condition(scenario))
        return opposite(answer) if negated else answer

    return with_type


def _media_condition(tokens: list[Any]) -> Condition:
    """`not (…)`, or terms joined by all `and` or all `or`."""
    if not tokens:
        return _always(False)
    if _word(tokens[0]) == "not":
        inner = _media_condition(tokens[1:])
        return lambda scenario: opposite(inner(scenario))
    terms = [_term(tokens[0])]
    joiner = None
    rest = tokens[1:]
    while rest:
        word = _word(rest[0])
        if word not in ("and", "or") or (joiner or word) != word or len(rest) < 2:
            return _always(False)
        joiner = word
        terms.append(_term(rest[1]))
        rest = rest[2:]

    def joined(scenario: Scenario) -> Answer:
        answer = terms[0](scenario)
        for term in terms[1:]:
            answer = (either if joiner == "or" else both)(answer, term(scenario))
        return answer

    return joined


def _term(token: Any) -> Condition:
    if token.type != "() block":
        return _always(None)
    inner = significant(token.content)
    if not inner:
        return _always(None)
    if inner[0].type == "() block" or _word(inner[0]) == "not":
        return _media_condition(inner)
    return _feature(inner)


_COMPARISONS: Final[dict[str, Callable[[float, float], bool]]] = {
    "<": lambda one, other: one < other,
    "<=": lambda one, other: one <= other,
    ">": lambda one, other: one > other,
    ">=": lambda one, other: one >= other,
    "=": lambda one, other: one == other,
}
_MIRRORED: Final = {"<": ">", "<=": ">=", ">": "<", ">=": "<=", "=": "="}


def _range_value(name: str, scenario: Scenario) -> float | None:
    if name in ("width", "device-width"):
        return scenario.width
    if name in ("height", "device-height"):
        return scenario.height
    if name in ("aspect-ratio", "device-aspect-ratio"):
        return scenario.width / scenario.height
    if name in ("resolution", "-webkit-device-pixel-ratio"):
        return 1.0
    return {"color": 8.0, "monochrome": 0.0, "color-index": 0.0, "grid": 0.0}.get(name)


def _discrete_value(name: str, scenario: Scenario) -> str | None:
    on_screen = scenario.media == "screen"
    is_touched = scenario.width < 600
    return {
        "prefers-color-scheme": scenario.scheme,
        "prefers-contrast": "custom" if scenario.forced_colors else scenario.contrast,
        "forced-colors": "active" if scenario.forced_colors else "none",
        "-ms-high-contrast": "",
        "orientation": "portrait" if scenario.width <= scenario.height else "landscape",
        "prefers-reduced-motion": "no-preference",
        "prefers-reduced-transparency": "no-preference",
        "prefers-reduced-data": "no-preference",
        "inverted-colors": "none",
        "scripting": "enabled",
        "update": "fast" if on_screen else "none",
        "hover": "none" if is_touched or not on_screen else "hover",
        "any-hover": "none" if is_touched or not on_screen else "hover",
        "pointer": ("coarse" if is_touched else "fine") if on_screen else "none",
        "any-pointer": ("coarse" if is_touched else "fine") if on_screen else "none",
        "overflow-block": "scroll" if on_screen else "paged",
        "overflow-inline": "scroll" if on_screen else "none",
        "color-gamut": "srgb",
        "dynamic-range": "standard",
        "video-dynamic-range": "standard",
        "display-mode": "browser",
        "scan": "progressive",
    }.get(name)


def _feature(tokens: list[Any]) -> Condition:
    name = _word(tokens[0])
    if len(tokens) == 1 and name is not None:
        return _boolean(name)
    if name is not None and tokens[1] == ":":
        return _plain(name, tokens[2:])
    return _range(tokens)


def _boolean(name: str) -> Condition:
    def holds(scenario: Scenario) -> Answer:
        value = _range_value(name, scenario)
        if value is not None:
            return value != 0
        word = _discrete_value(name, scenario)
        return None if word is None else word not in ("none", "no-preference", "")

    return holds


def _amount(tokens: Sequence[Any]) -> float | None:
    """A length in px (an em of a media query is 16 px), a ratio, a resolution in dots per px, or a number."""
    parts = split_on(tokens, "/")
    try:
        numbers = [
            token.value * {"dppx": 1, "x": 1, "dpi": 1 / 96, "dpcm": 2.54 / 96}[token.lower_unit]
            if token.type == "dimension" and token.lower_unit in ("dppx", "x", "dpi", "dpcm")
            else quantity(token, Measures(16, 16, 0, 0)).value
            for (token,) in (significant(part) for part in parts)
        ]
    except (NotANumberError, ValueError):
        return None
    if len(numbers) == 2:
        return numbers[0] / numbers[1] if numbers[1] else None
    return numbers[0] if len(numbers) == 1 else None


def _plain(name: str, tokens: list[Any]) -> Condition:
    comparison, bare = "=", name
    for prefix, sign in (("min-", ">="), ("max-", "<="), ("-webkit-min-", ">="), ("-webkit-max-", "<=")):
        if name.startswith(prefix):
            comparison, bare = sign, name.removeprefix(prefix)
            break
    if bare.startswith("device-pixel-ratio"):
        bare = "-webkit-device-pixel-ratio"
    word = _word(tokens[0]) if len(tokens) == 1 else None
    amount = _amount(tokens) if tokens else None

    def holds(scenario: Scenario) -> Answer:
        actual = _range_value(bare, scenario)
        if actual is not None:
            return None if amount is None else _COMPARISONS[comparison](actual, amount)
        value = _discrete_value(bare, scenario)
        if value is None or word is None:
            return None
        return word == value

    return holds


def _range(tokens: list[Any]) -> Condition:
    """`(400px <= width < 900px)` and its shorter forms."""
    sides: list[list[Any]] = [[]]
    signs: list[str] = []
    for token in tokens:
        if token.type == "literal" and token.value in ("<", ">", "=", "<=", ">="):
            # The tokenizer leaves "<=" as two literals.
            if token.value == "=" and signs and not sides[-1]:
                signs[-1] += "="
            else:
                signs.append(token.value)
                sides.append([])
        else:
            sides[-1].append(token)
    names = [_word(side[0]) if len(side) == 1 else None for side in sides]
    place = next((index for index, name in enumerate(names) if name is not None), None)
    amounts = [None if names[index] is not None else _amount(side) for index, side in enumerate(sides)]
    if place is None or len(sides) not in (2, 3) or any(sign not in _COMPARISONS for sign in signs):
        return _always(None)
    name = names[place] or ""

    def holds(scenario: Scenario) -> Answer:
        actual = _range_value(name, scenario)
        if actual is None:
            return None
        answer: Answer = True
        for index, sign in enumerate(signs):
            # Each sign stands between side `index` and the next; turn it so that the feature is on the left.
            other = index + 1 if index == place else index
            turned = sign if index == place else _MIRRORED[sign]
            amount = amounts[other]
            answer = both(answer, None if amount is None else _COMPARISONS[turned](actual, amount))
        return answer

    return holds


# ---------------------------------------------------------------------------------------------------------------------
# @supports

# Properties a browser of today has beside those the proof reads itself; enough for the usual questions.
_SUPPORTED: Final = names_in(
    "accent-color align-content align-items align-self animation-timeline aspect-ratio backface-"
    " visibility block-size border-radius bottom box-sizing break-inside caret-color column-count column-"
    " gap columns contain container container-name container-type counter-reset cursor field-sizing flex"
    " flex-basis flex-direction flex-flow flex-grow flex-shrink flex-wrap font-feature-settings font-"
    " optical-sizing font-palette font-stretch font-synthesis font-variant-numeric font-variation-settings"
    " gap grid grid-area grid-auto-flow grid-column grid-row grid-template grid-template-areas grid-"
    " template-columns grid-template-rows hyphens image-rendering initial-letter inline-size interpolate-"
    " size isolation justify-content justify-items justify-self letter-spacing margin margin-trim max-"
    " width min-width mix-blend-mode object-fit object-position offset-path order outline overscroll-"
    " behavior padding perspective place-content place-items pointer-events resize row-gap scroll-behavior"
    " scroll-margin scroll-padding scroll-snap-type scroll-timeline scrollbar-color scrollbar-gutter"
    " scrollbar-width shape-outside tab-size text-overflow text-size-adjust text-transform text-underline-"
    " offset text-wrap touch-action transform-style transition user-select vertical-align view-timeline"
    " view-transition-name will-change word-break"
) - {"margin-trim"}


def supports(tokens: Sequence[Any]) -> Answer:
    """The answer to a `@supports` condition."""
    kept = significant(tokens)
    if not kept:
        return None
    if _word(kept[0]) == "not":
        return opposite(supports(kept[1:]))
    answer = _supports_term(kept[0])
    rest = kept[1:]
    if rest and _word(rest[0]) is None and kept[0].type == "ident":
        return _supports_declaration(kept)
    while len(rest) >= 2 and _word(rest[0]) in ("and", "or"):
        answer = (either if _word(rest[0]) == "or" else both)(answer, _supports_term(rest[1]))
        rest = rest[2:]
    return answer


def _supports_term(token: Any) -> Answer:
    if token.type == "function":
        if token.lower_name == "selector":
            try:
                found = compile_selectors(token.arguments)
            except InvalidSelectorError:
                return False
            return None if any(each.sight.unknown for each in found) else True
        return None
    if token.type != "() block":
        return None
    inner = significant(token.content)
    if inner and inner[0].type == "ident" and len(inner) > 1 and inner[1] == ":":
        return _supports_declaration(inner)
    return supports(inner)


def _supports_declaration(tokens: list[Any]) -> Answer:
    name = str(tokens[0].lower_value)
    value = tokens[2:]
    if name.startswith("--"):
        return True
    if name in COLOURS:
        try:
            found = read_colour(value, None)
        except NeedsSurroundingsError:
            return True
        return None if isinstance(found, Unknown) else found is not None
    if longhands_of(name) is not None:
        return bool(list(declared(name, value)))
    if name.startswith(("-moz-", "-ms-", "-o-")):
        return False
    return True if name in _SUPPORTED else None
