"""Computes the styles of elements: the cascade, inheritance, variables, and values made absolute.

A `Style` belongs to everything that has the same parent style and the same rules, so each is worked out once however
many elements, pages and scenarios share it. https://www.w3.org/TR/css-cascade-5/, https://www.w3.org/TR/css-variables-1/
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, Final, NamedTuple, TypeVar

from sitegen.proof.contrast.colours import read_colour, system_colour
from sitegen.proof.contrast.formulas import BLACK, Colour
from sitegen.proof.contrast.properties import INHERITED, INITIAL, WIDE_KEYWORDS, Pending, Value, expanded
from sitegen.proof.contrast.stylesheets import THE_BROWSERS, Block, Declarations, Source
from sitegen.proof.contrast.values import Measures, NotANumberError, Token, Unknown, quantity, significant

# Origins, in the order of the cascade: https://www.w3.org/TR/css-cascade-5/#cascading-origins
BROWSER: Final = 0
HINT: Final = 1
AUTHOR: Final = 2
_UNLAYERED: Final = (1 << 30,)

BODY: Final = "is body"
"""The name under which a theme keeps in a style that it is the body's."""


@dataclass(slots=True, eq=False)
class Entry:
    """A rule, a `style` attribute or presentational attributes, with its rank in the cascade."""

    block: Block
    origin: int
    layer: tuple[int, ...] = _UNLAYERED
    """Ranks of the layer and the layers around it; a layer's own rules come after its sublayers'."""
    is_attribute: bool = False
    specificity: tuple[int, int, int] = (0, 0, 0)
    order: int = 0
    mask: int = -1
    """Bit n says whether its conditions hold in the theme's scenario n."""
    doubt: str = ""
    rank: tuple[Any, ...] = field(init=False)
    """Sorts normal declarations, the last winning."""
    important_rank: tuple[Any, ...] = field(init=False)

    def __post_init__(self) -> None:
        # Attributes beat every layer. For important declarations origins and layers are taken in reverse:
        # https://www.w3.org/TR/css-cascade-5/#cascade-layering
        self.rank = (self.origin, self.is_attribute, self.layer, self.specificity, self.order)
        reversed_layer = tuple(-rank for rank in self.layer)
        self.important_rank = (-self.origin, self.is_attribute, reversed_layer, self.specificity, self.order)


Kept = TypeVar("Kept")


class Surrounding(NamedTuple):
    """What styles depend on besides rules; scenarios that agree in it share styles."""

    prefers_dark: bool
    viewport_width: float
    viewport_height: float
    are_colours_forced: bool
    is_print: bool
    page_schemes: str
    """The page's `meta name=color-scheme`, "" where it has none."""


class _Inherit:
    """Stands for "take the parent's value"."""


_INHERIT: Final = _Inherit()
_NOT_READ: Final = object()
_CYCLE: Final = object()

_SIZES: Final = {
    # https://www.w3.org/TR/css-fonts-4/#absolute-size-mapping, with the 9 px and 10 px browsers give the smallest
    "xx-small": 9.0,
    "x-small": 10.0,
    "small": 13.0,
    "medium": 16.0,
    "large": 18.0,
    "x-large": 24.0,
    "xx-large": 32.0,
    "xxx-large": 48.0,
}
# What browsers use for text whose only family is monospace (Chromium 156).
_MONOSPACE_SIZES: Final = {
    "xx-small": 9.0,
    "x-small": 10.0,
    "small": 12.0,
    "medium": 13.0,
    "large": 16.0,
    "x-large": 20.0,
    "xx-large": 26.0,
    "xxx-large": 39.0,
}
_MONOSPACE_SCALE: Final = 13 / 16
LINE_WIDTHS: Final = {"thin": 1.0, "medium": 3.0, "thick": 5.0}


class _FontSize(NamedTuple):
    px: float
    keyword: str | None
    """The keyword the size comes from, unchanged since."""
    is_absolute: bool
    is_monospace: bool


class Style:
    """Computed values of one element or pseudo-element in one scenario."""

    __slots__ = (
        "_cache",
        "_custom",
        "children",
        "declared",
        "entries",
        "parent",
        "registered",
        "surrounding",
    )

    def __init__(
        self,
        parent: Style | None,
        entries: tuple[Entry, ...],
        surrounding: Surrounding,
        registered: dict[str, tuple[bool, tuple[Any, ...] | None]],
    ) -> None:
        """`entries` come sorted by `rank`."""
        self.parent = parent
        self.entries = entries
        self.surrounding = surrounding
        self.registered = registered
        self.children: dict[tuple[Entry, ...], Style] = {}
        self._cache: dict[str, Any] = {}

    def __getattr__(self, name: str) -> Any:
        # Only what is not there yet comes here: the cascade is worked out for styles that are looked at.
        if name == "declared":
            self.declared = self._cascade()
            return self.declared
        if name == "_custom":
            self._custom: dict[str, Any] = {}
            return self._custom
        raise AttributeError(name)

    def _cascade(self) -> Declarations:
        declared: Declarations = {}
        important: list[Entry] | None = None
        for entry in self.entries:
            block = entry.block
            declared.update(block.normal)
            if block.important:
                if important is None:
                    important = []
                important.append(entry)
        if important is not None:
            important.sort(key=lambda entry: entry.important_rank)
            for entry in important:
                declared.update(entry.block.important)
        return declared

    def child(self, entries: tuple[Entry, ...]) -> Style:
        """The style of something inside, with these rules."""
        found = self.children.get(entries)
        if found is None:
            found = self.children[entries] = Style(self, entries, self.surrounding, self.registered)
        return found

    def kept(self, name: str) -> Any:
        """What was kept under a name, or None."""
        return self._cache.get(name)

    def keep(self, name: str, value: Kept) -> Kept:
        """Keep something worked out from this style alone, and return it."""
        self._cache[name] = value
        return value

    # -- the cascade

    def _specified(self, name: str) -> Value | _Inherit:
        found = self.declared.get(name)
        value: Value = "unset" if found is None else found[0]
        if isinstance(value, Pending):
            value = self._resolved(value, name)
        if value == "revert" or value == "revert-layer":
            value = self._rolled_back(name)
            if value == "unset" and self.parent is None:
                value = "initial"
        if name == "color" and self.parent is None and found is not None and value in ("unset", "inherit"):
            return BLACK  # as `currentcolor` at the root
        if value == "unset":
            value = "inherit" if name in INHERITED else "initial"
        if value == "inherit":
            return INITIAL[name] if self.parent is None else _INHERIT
        return INITIAL[name] if value == "initial" else value

    def _resolved(self, pending: Pending, name: str) -> Value:
        key = f"pending {id(pending)}"  # the declaration is kept by the entries, so its id stays its own
        found = self._cache.get(key)
        if found is None:
            tokens = self.substituted(pending.tokens)
            # Without a value it is invalid at computed-value time, which means `unset`.
            found = (
                {} if tokens is None else tokens if isinstance(tokens, Unknown) else expanded(pending, tokens)
            )
            self._cache[key] = found
        return found if isinstance(found, Unknown) else found.get(name, "unset")

    def declares_none_of(self, names: frozenset[str]) -> bool:
        """Whether no rule says anything of these properties here."""
        return self.declared.keys().isdisjoint(names)

    def is_important(self, name: str) -> bool:
        """Whether the declaration that wins here is marked important."""
        return any(name in entry.block.important for entry in self.entries)

    def declared_by_author(self, name: str) -> Source | None:
        """Where the page's author declared what wins here; None for what a browser's own sheet says, or nobody."""
        found = self.declared.get(name)
        return None if found is None or found[1].sheet == THE_BROWSERS else found[1]

    def _rolled_back(self, name: str) -> Value:
        """What the cascade gives without the origin or layer that said `revert` or `revert-layer`."""
        candidates: list[tuple[Value, Entry, bool]] = []
        for entry in self.entries:
            if name in entry.block.normal:
                candidates.append((entry.block.normal[name][0], entry, False))
        for entry in sorted(self.entries, key=lambda entry: entry.important_rank):
            if name in entry.block.important:
                candidates.append((entry.block.important[name][0], entry, True))
        while candidates:
            value, entry, _ = candidates.pop()
            if isinstance(value, Pending):
                value = self._resolved(value, name)
            if value == "revert":
                # Presentational attributes go with the author's origin here.
                limit = BROWSER if entry.origin != BROWSER else -1
                candidates = [each for each in candidates if each[1].origin <= limit]
            elif value == "revert-layer":
                same = entry.origin, entry.is_attribute, entry.layer
                candidates = [
                    each
                    for each in candidates
                    if (each[1].origin, each[1].is_attribute, each[1].layer) != same
                ]
            else:
                return value
        return "unset"

    def source(self, name: str) -> Source | None:
        """Where the value of a property was declared, for an inherited one by the ancestor that has it."""
        style: Style | None = self
        while style is not None:
            found = style.declared.get(name)
            if found is not None and found[0] not in ("inherit", "unset"):
                return found[1]
            if name not in INHERITED and (found is None or found[0] == "unset"):
                return None
            style = style.parent
        return None

    # -- variables

    def custom(self, name: str) -> Sequence[Token] | Unknown | None:
        """The tokens of a custom property, or None where it is not set or in a cycle."""
        found: Any = self._custom.get(name, _NOT_READ)
        if found is _CYCLE:
            self._custom[name] = None
            return None
        if found is not _NOT_READ:
            kept: Sequence[Token] | Unknown | None = found
            return kept
        self._custom[name] = _CYCLE
        value = self._custom_value(name)
        if self._custom[name] is None:
            value = None  # a cycle was met on the way: every property in it is invalid
        self._custom[name] = value
        return value

    def _custom_value(self, name: str) -> Sequence[Token] | Unknown | None:
        inherits, initial = self.registered.get(name, (True, None))
        declared = self.declared.get(name)
        if declared is not None:
            tokens: Any = declared[0]
            kept = significant(tokens)
            keyword = kept[0].lower_value if len(kept) == 1 and kept[0].type == "ident" else ""
            if keyword == "initial" or (keyword == "unset" and not inherits):
                return initial
            if keyword not in ("inherit", "unset", "revert", "revert-layer"):
                replaced = self.substituted(tokens)
                if replaced is not None or name not in self.registered:
                    return replaced
            elif keyword == "inherit":
                inherits = True
        if inherits and self.parent is not None:
            return self.parent.custom(name)
        return initial

    def substituted(self, tokens: Sequence[Token]) -> list[Token] | Unknown | None:
        """The tokens with every `var()` replaced; None where one has no value and no fallback."""
        result: list[Token] = []
        for token in tokens:
            kind = token.type
            if kind == "function":
                name = token.lower_name
                if name in ("var", "env"):
                    found = self._variable(name, token.arguments)
                    if found is None or isinstance(found, Unknown):
                        return found
                    result.extend(found)
                    continue
                if name in ("attr", "if", "random", "inherit"):
                    return Unknown(f"{name}()")
            contents = token.arguments if kind == "function" else getattr(token, "content", None)
            if contents:
                inner = self.substituted(contents)
                if inner is None or isinstance(inner, Unknown):
                    return inner
                result.append(_with_contents(token, inner))
            else:
                result.append(token)
        return result

    def _variable(self, kind: str, arguments: Sequence[Token]) -> list[Token] | Unknown | None:
        name = ""
        fallback: Sequence[Token] | None = None
        for place, token in enumerate(arguments):
            if token.type == "literal" and token.value == ",":
                fallback = arguments[place + 1 :]
                break
            if token.type == "ident":
                name = token.value
        found: Sequence[Token] | Unknown | None = self.custom(name) if kind == "var" else None
        if isinstance(found, Unknown):
            return found
        if found is not None:
            return list(found)
        if fallback is not None:
            return self.substituted(fallback)
        return Unknown(f"env({name})") if kind == "env" else None

    # -- computed values

    def value(self, name: str) -> Value:
        """The computed value of a property as declared: a keyword, a number or tokens."""
        if name not in self.declared and name not in INHERITED:
            return INITIAL[name]
        found = self._cache.get(name, _NOT_READ)
        if found is _NOT_READ:
            specified = self._specified(name)
            if isinstance(specified, _Inherit):
                assert self.parent is not None
                specified = self.parent.value(name)
            found = self._cache[name] = specified
        return found

    def colour(self, name: str) -> Colour | Unknown:
        """The computed value of a colour property."""
        key = "colour " + name
        found: Colour | Unknown | None = self._cache.get(key)
        if found is None:
            found = self._cache[key] = self._colour(name)
        return found

    def _colour(self, name: str) -> Colour | Unknown:
        forced = self._forced_colour(name)
        if forced is not None:
            return forced
        specified = self._specified(name)
        if isinstance(specified, _Inherit):
            assert self.parent is not None
            if self.parent.value(name) != "currentcolor":
                return self.parent.colour(name)
            specified = "currentcolor"
        return self.resolve_colour(specified, name)

    def resolve_colour(self, specified: Value, name: str = "") -> Colour | Unknown:
        """A declared colour as it is for this element; `name` is the property it is declared for."""
        if isinstance(specified, Unknown):
            return specified
        if isinstance(specified, str):
            if specified == "currentcolor":
                if name != "color":
                    return self.colour("color")
                return _Parental(self).current_colour()
            if specified == "auto":  # only an outline's
                return self.colour("color")
            if specified in ("none", "canvastext"):
                return system_colour("canvastext", self)
            return system_colour(specified, self)
        if specified and isinstance(specified[0], float | int):
            plain: Colour = specified
            return plain
        surroundings = self if name != "color" else _Parental(self)
        found = read_colour(specified, surroundings)
        return Unknown(f"the value of {name}") if found is None else found

    def _forced_colour(self, name: str) -> Colour | Unknown | None:
        """The viewer's colour where those replace the page's; None where they don't.

        https://www.w3.org/TR/css-color-adjust-1/#forced-colors-properties
        """
        if not self.are_colours_forced or name in ("fill", "stroke"):
            return None
        specified = self._specified(name)
        if isinstance(specified, str) and specified not in ("currentcolor", "auto", "none"):
            return system_colour(specified, self)  # one of the viewer's own already, so it stays
        browsers = self._browsers_colour(name)
        if name == "background-color":
            own = (0.0,) * 4 if isinstance(specified, _Inherit) else self.resolve_colour(specified, name)
            alpha = own[3] if isinstance(own, tuple) else 1.0
            red, green, blue, _ = browsers or system_colour("canvas", self)
            return red, green, blue, alpha
        if browsers is not None:
            return browsers
        if name == "color":
            return system_colour("canvastext", self) if self.parent is None else self.parent.colour("color")
        return self.colour("color")

    def _browsers_colour(self, name: str) -> Colour | None:
        for entry in reversed(self.entries):
            if entry.origin == BROWSER and name in entry.block.normal:
                value = entry.block.normal[name][0]
                if (
                    isinstance(value, str)
                    and value not in WIDE_KEYWORDS
                    and value not in ("currentcolor", "auto")
                ):
                    return system_colour(value, self)
                return None
        return None

    @property
    def is_dark(self) -> bool:
        """Whether the used colour scheme is dark: https://www.w3.org/TR/css-color-adjust-1/#color-scheme-prop"""
        found = self._cache.get("is_dark")
        if found is None:
            found = self._cache["is_dark"] = self._is_dark()
        return bool(found)

    def _is_dark(self) -> bool:
        if self.surrounding.are_colours_forced:
            return self.surrounding.prefers_dark
        schemes = self.value("color-scheme")
        words = (
            [schemes]
            if isinstance(schemes, str)
            else [getattr(token, "lower_value", "") for token in schemes]
        )
        if words == ["normal"]:
            words = self.surrounding.page_schemes.lower().split()
        if self.surrounding.prefers_dark:
            return "dark" in words
        return "dark" in words and "light" not in words

    @property
    def are_colours_forced(self) -> bool:
        """Whether the viewer's colours replace the page's here."""
        return self.surrounding.are_colours_forced and self.value("forced-color-adjust") == "auto"

    def current_colour(self) -> Colour | Unknown:
        """What `currentcolor` stands for."""
        return (
            self.colour("color")
            if self.parent is not None or "color" in self.declared
            else system_colour("canvastext", self)
        )

    @property
    def font_size(self) -> float:
        """In px."""
        return self._font_size().px

    def _font_size(self) -> _FontSize:
        found: _FontSize | None = self._cache.get("font_size")
        if found is None:
            found = self._cache["font_size"] = self._computed_font_size()
        return found

    def _is_monospace(self) -> bool:
        family = self.value("font-family")
        return bool(family == "monospace")

    def _computed_font_size(self) -> _FontSize:
        parent = _FontSize(16.0, "medium", False, False) if self.parent is None else self.parent._font_size()
        monospace = self._is_monospace()
        sizes = _MONOSPACE_SIZES if monospace else _SIZES
        specified = self._specified("font-size")
        if isinstance(specified, str) and specified in sizes:
            return _FontSize(sizes[specified], specified, False, monospace)
        if isinstance(specified, _Inherit | Unknown):
            px, keyword, absolute = parent.px, parent.keyword, parent.is_absolute
        elif specified in ("larger", "smaller"):
            px = parent.px * 1.2 if specified == "larger" else parent.px / 1.2
            keyword, absolute = None, parent.is_absolute
        elif isinstance(specified, tuple):
            px, keyword, absolute = self._font_length(specified[0], parent)
        else:
            px, keyword, absolute = parent.px, None, parent.is_absolute
        if monospace != parent.is_monospace and not absolute:
            # As Chromium does where only the family changes and the size isn't an absolute one.
            if keyword is not None:
                px = sizes[keyword]
            else:
                px = px * _MONOSPACE_SCALE if monospace else px / _MONOSPACE_SCALE
        return _FontSize(px, keyword, absolute, monospace)

    def _font_length(self, token: Token, parent: _FontSize) -> tuple[float, str | None, bool]:
        root = self.root.font_size if self.parent is not None else 16.0
        measures = Measures(
            parent.px, root, self.surrounding.viewport_width, self.surrounding.viewport_height, parent.px
        )
        try:
            px = quantity(token, measures).value
        except NotANumberError:
            return parent.px, None, parent.is_absolute
        relative = token.type == "percentage" or (
            token.type == "dimension" and token.lower_unit in ("em", "ex", "ch", "cap", "ic")
        )
        return max(0.0, px), None, parent.is_absolute if relative else True

    @property
    def root(self) -> Style:
        """The style of the root element."""
        found: Style | None = self._cache.get("root")
        if found is None:
            found = self if self.parent is None else self.parent.root
            self._cache["root"] = found
        return found

    @property
    def font_weight(self) -> float:
        """100 to 900, mostly: https://www.w3.org/TR/css-fonts-4/#relative-weights"""
        found = self._cache.get("font_weight")
        if found is None:
            found = self._cache["font_weight"] = self._font_weight()
        return float(found)

    def _font_weight(self) -> float:
        specified = self._specified("font-weight")
        if isinstance(specified, _Inherit):
            assert self.parent is not None
            return self.parent.font_weight
        if specified == "normal":
            return 400.0
        if specified == "bold":
            return 700.0
        inherited = 400.0 if self.parent is None else self.parent.font_weight
        if specified == "bolder":
            return (
                400.0
                if inherited < 350
                else 700.0
                if inherited < 550
                else 900.0
                if inherited < 900
                else inherited
            )
        if specified == "lighter":
            return (
                inherited
                if inherited < 100
                else 100.0
                if inherited < 550
                else 400.0
                if inherited < 750
                else 700.0
            )
        return float(specified) if isinstance(specified, float | int) else inherited

    @property
    def measures(self) -> Measures:
        """What this element's own relative lengths stand for; percentages stay open."""
        found: Measures | None = self._cache.get("measures")
        if found is None:
            found = self._cache["measures"] = Measures(
                self.font_size,
                self.root.font_size,
                self.surrounding.viewport_width,
                self.surrounding.viewport_height,
            )
        return found

    def length(self, name: str, whole: float | None = None) -> float | None:
        """A length property in px; None for keywords, and for percentages where `whole` doesn't say what 100 % is."""
        value = self.value(name)
        if value == "0":
            return 0.0
        if isinstance(value, str):
            return LINE_WIDTHS.get(value)
        if not isinstance(value, tuple) or len(value) != 1:
            return None
        measures = self.measures
        if whole is not None:
            measures = Measures(
                measures.em, measures.rem, measures.viewport_width, measures.viewport_height, whole
            )
        try:
            found = quantity(value[0], measures)
        except NotANumberError:
            return None
        return found.value if found.kind == "length" or found.value == 0 else None


class _Parental:
    """The surroundings in which `color` itself is read: `currentcolor` is the parent's colour."""

    __slots__ = ("_style",)

    def __init__(self, style: Style) -> None:
        self._style = style

    @property
    def is_dark(self) -> bool:
        return self._style.is_dark

    @property
    def are_colours_forced(self) -> bool:
        return self._style.are_colours_forced

    def current_colour(self) -> Colour | Unknown:
        parent = self._style.parent
        # What the root would inherit is the initial value, which browsers take in the light scheme.
        return BLACK if parent is None else parent.colour("color")


def _with_contents(token: Token, contents: list[Token]) -> Token:
    from tinycss2 import ast

    line, column = token.source_line, token.source_column
    if token.type == "function":
        return ast.FunctionBlock(line, column, token.name, contents)
    blocks = {
        "() block": ast.ParenthesesBlock,
        "[] block": ast.SquareBracketsBlock,
        "{} block": ast.CurlyBracketsBlock,
    }
    return blocks[token.type](line, column, contents)
