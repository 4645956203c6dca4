"""Parses stylesheets into flat rules: nesting, conditions and layers resolved as far as one sheet can say.

https://www.w3.org/TR/css-syntax-3/, https://www.w3.org/TR/css-nesting-1/, https://www.w3.org/TR/css-cascade-5/
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any, Final, NamedTuple, TypeAlias

from sitegen.proof.contrast.conditions import Answer, Condition, media, supports
from sitegen.proof.contrast.properties import Value, declared
from sitegen.proof.contrast.selectors import InvalidSelectorError, Selector, compile_selectors
from sitegen.proof.contrast.values import VIEWPORT_UNITS, significant, split_on


class Source(NamedTuple):
    """Where a declaration stands."""

    sheet: str
    """The path of its stylesheet within the site; "" for one in the page, or one of the two names below."""
    line: int
    """Counted from 1 within the sheet."""
    text: str
    """The declaration's property, such as "background"."""


THE_BROWSERS: Final = "(browser)"
THE_ELEMENTS: Final = "(element)"

Declarations: TypeAlias = dict[str, tuple[Value, Source]]

LayerName: TypeAlias = tuple[str, ...]


@dataclass(slots=True, eq=False)
class Block:
    """A rule's declarations."""

    normal: Declarations = field(default_factory=dict)
    important: Declarations = field(default_factory=dict)
    bearing: Any = None
    """What its declarations can do to how text is seen, once somebody asked."""

    def add(self, name: str, tokens: Sequence[Any], important: bool, source: Source) -> None:
        """Add one declaration, the last of a name winning; an invalid one changes nothing."""
        into = self.important if important else self.normal
        if name.startswith("--"):
            into[name] = tuple(tokens), source
            return
        for longhand, value in declared(name, tokens):
            into[longhand] = value, source


@dataclass(slots=True, eq=False)
class Rule:
    """A style rule with one selector and its circumstances."""

    selector: Selector
    block: Block
    conditions: tuple[Condition, ...]
    layer: LayerName
    doubt: str
    """Why it cannot be told whether the rule applies; "" where it can."""


class Import(NamedTuple):
    """An `@import`."""

    address: str
    conditions: tuple[Condition, ...]
    layer: LayerName | None


@dataclass(slots=True, eq=False)
class Sheet:
    """One parsed stylesheet."""

    rules: list[Rule] = field(default_factory=list)
    imports: list[Import] = field(default_factory=list)
    layers: list[LayerName] = field(default_factory=list)
    """In order of first appearance."""
    animated: dict[str, frozenset[str]] = field(default_factory=dict)
    """By name of `@keyframes`, the properties they set that bear on contrast."""
    registered: dict[str, tuple[bool, tuple[Any, ...] | None]] = field(default_factory=dict)
    """By custom property, whether it inherits and its initial value."""
    uses_viewport: bool = False
    """Whether a declaration depends on the viewport's size."""
    uses_scheme: bool = False
    """Whether a declaration names a colour scheme."""
    uses_orientation: bool = False
    """Whether a rule depends on how a device is held."""


class _Context(NamedTuple):
    parent: tuple[Any, ...] | None
    """The prelude of the rule this one is nested in."""
    conditions: tuple[Condition, ...]
    layer: LayerName
    doubt: str


# Where keyframes touch these, what is seen changes in ways only a browser can follow.
_ANIMATED_PROPERTIES: Final = frozenset(
    {
        "color",
        "background-color",
        "background-image",
        "opacity",
        "visibility",
        "font-size",
        "font-weight",
        "filter",
        "-webkit-text-fill-color",
        "text-shadow",
        "mix-blend-mode",
    }
)


def parse_sheet(text: str, name: str, place: int) -> Sheet:
    """Parse a stylesheet; `name` is kept in every `Source`, `place` tells its unnamed layers from other sheets'."""
    import tinycss2

    return _Reader(name, place).read(
        tinycss2.parse_stylesheet(tokenizable(text), skip_comments=True, skip_whitespace=True)
    )


_ENDLESS = re.compile(r"(?<![\w.\\#])0*(\d{400})\d*", re.ASCII)
"""Whole numbers alone: fractions and exponents of any length are read."""


def tokenizable(text: str) -> str:
    """A piece of CSS whose numbers the parser can read: it ends at one of more than 4,300 digits, and one of 400 is infinite to it."""
    return _ENDLESS.sub(r"\1", text)


def decode_sheet(data: bytes) -> str:
    """A stylesheet's text, by its byte order mark or `@charset`, else UTF-8."""
    import tinycss2

    text, _ = tinycss2.bytes.decode_stylesheet_bytes(data)
    return str(text)


def parse_attribute(text: str) -> Block:
    """The declarations of a `style` attribute."""
    import tinycss2

    block = Block()
    for item in tinycss2.parse_blocks_contents(tokenizable(text), skip_comments=True, skip_whitespace=True):
        if item.type == "declaration":
            block.add(
                _name(item), item.value, item.important, Source(THE_ELEMENTS, item.source_line, item.name)
            )
    return block


def _name(declaration: Any) -> str:
    name = str(declaration.name)
    return name if name.startswith("--") else str(declaration.lower_name)


class _Reader:
    def __init__(self, name: str, place: int) -> None:
        self._name = name
        self._place = place
        self._sheet = Sheet()
        self._anonymous = 0

    def read(self, items: Iterable[Any]) -> Sheet:
        self._rules(items, _Context(None, (), (), ""))
        return self._sheet

    def _rules(self, items: Iterable[Any], context: _Context) -> None:
        for item in items:
            if item.type == "qualified-rule":
                self._style_rule(item, context)
            elif item.type == "at-rule":
                self._at_rule(item, context)

    # -- style rules

    def _style_rule(self, rule: Any, context: _Context) -> None:
        prelude = tuple(rule.prelude)
        if context.parent is not None:
            prelude = tuple(_nested_prelude(prelude, context.parent))
        try:
            selectors = compile_selectors(prelude)
        except InvalidSelectorError:
            return
        self._contents(_block_items(rule.content), selectors, context._replace(parent=prelude))

    def _contents(self, items: Iterable[Any], selectors: list[Selector], context: _Context) -> None:
        """Declarations and nested rules of one block; declarations after a nested rule count after it."""
        block = Block()
        for item in items:
            if item.type == "declaration":
                self._declaration(item, block)
            elif item.type in ("qualified-rule", "at-rule"):
                self._close(block, selectors, context)
                block = Block()
                if item.type == "qualified-rule":
                    self._style_rule(item, context)
                else:
                    self._at_rule(item, context, selectors)
        self._close(block, selectors, context)

    def _declaration(self, item: Any, block: Block) -> None:
        name = _name(item)
        self._note_dependencies(name, item.value)
        block.add(name, item.value, item.important, Source(self._name, item.source_line, item.name))

    def _note_dependencies(self, name: str, tokens: Sequence[Any]) -> None:
        if name == "color-scheme":
            self._sheet.uses_scheme = True
        for token in tokens:
            if token.type == "dimension" and token.lower_unit in VIEWPORT_UNITS:
                self._sheet.uses_viewport = True
            elif token.type == "function":
                self._note_dependencies("", token.arguments)
            elif token.type in ("() block", "{} block"):
                self._note_dependencies("", token.content)

    def _close(self, block: Block, selectors: list[Selector], context: _Context) -> None:
        if not block.normal and not block.important:
            return
        for selector in selectors:
            doubt = context.doubt
            if selector.sight.unknown:
                doubt = doubt or f"the selector {selector.sight.unknown[0]}"
            self._sheet.rules.append(Rule(selector, block, context.conditions, context.layer, doubt))

    # -- at-rules

    def _at_rule(self, rule: Any, context: _Context, selectors: list[Selector] | None = None) -> None:
        name = rule.lower_at_keyword
        read = {
            "media": self._media,
            "supports": self._supports,
            "layer": self._layer,
            "container": self._container,
            "scope": self._scope,
            "import": self._import,
            "nest": self._nest,
        }.get(name)
        if read is not None:
            read(rule, context, selectors)
        elif name in ("keyframes", "-webkit-keyframes"):
            self._keyframes(rule)
        elif name == "property":
            self._property(rule)

    def _group(self, rule: Any, context: _Context, selectors: list[Selector] | None) -> None:
        if rule.content is None:
            return
        if selectors is not None:
            self._contents(_block_items(rule.content), selectors, context)
        else:
            import tinycss2

            self._rules(
                tinycss2.parse_rule_list(rule.content, skip_comments=True, skip_whitespace=True), context
            )

    def _media(self, rule: Any, context: _Context, selectors: list[Selector] | None) -> None:
        conditions = (*context.conditions, media(rule.prelude))
        self._note_orientation(rule.prelude)
        self._group(rule, context._replace(conditions=conditions), selectors)

    def _note_orientation(self, prelude: Sequence[Any]) -> None:
        import tinycss2

        if "orientation" in tinycss2.serialize(prelude).lower():
            self._sheet.uses_orientation = True

    def _supports(self, rule: Any, context: _Context, selectors: list[Selector] | None) -> None:
        answer: Answer = supports(rule.prelude)
        if answer is False:
            return
        doubt = context.doubt or ("" if answer else "@supports")
        self._group(rule, context._replace(doubt=doubt), selectors)

    def _container(self, rule: Any, context: _Context, selectors: list[Selector] | None) -> None:
        self._group(rule, context._replace(doubt=context.doubt or "@container"), selectors)

    def _scope(self, rule: Any, context: _Context, selectors: list[Selector] | None) -> None:
        self._group(rule, context._replace(doubt=context.doubt or "@scope"), selectors)

    def _nest(self, rule: Any, context: _Context, selectors: list[Selector] | None) -> None:
        self._style_rule(rule, context)

    def _layer(self, rule: Any, context: _Context, selectors: list[Selector] | None) -> None:
        names = [_layer_name(part) for part in split_on(rule.prelude, ",")]
        if rule.content is None:
            for name in names:
                self._sheet.layers.append((*context.layer, *name))
            return
        path = names[0] if names and names[0] else self._anonymous_layer()
        layer = (*context.layer, *path)
        self._sheet.layers.append(layer)
        self._group(rule, context._replace(layer=layer), selectors)

    def _anonymous_layer(self) -> LayerName:
        self._anonymous += 1
        return (f"({self._place}.{self._anonymous})",)

    def _import(self, rule: Any, context: _Context, selectors: list[Selector] | None) -> None:
        tokens = significant(rule.prelude)
        if not tokens or context.parent is not None:
            return
        first, rest = tokens[0], tokens[1:]
        if first.type in ("string", "url"):
            address = first.value
        elif first.type == "function" and first.lower_name == "url":
            inner = significant(first.arguments)
            address = inner[0].value if inner and inner[0].type == "string" else ""
        else:
            return
        layer: LayerName | None = None
        if rest and rest[0].type == "ident" and rest[0].lower_value == "layer":
            layer, rest = self._anonymous_layer(), rest[1:]
        elif rest and rest[0].type == "function" and rest[0].lower_name == "layer":
            layer, rest = _layer_name(rest[0].arguments), rest[1:]
        conditions: tuple[Condition, ...] = ()
        if rest and rest[0].type == "function" and rest[0].lower_name == "supports":
            answer = supports(rest[0].arguments)
            conditions, rest = (lambda scenario: answer,), rest[1:]
        if layer is not None:
            self._sheet.layers.append(layer)
        self._note_orientation(rest)
        self._sheet.imports.append(Import(address, (*conditions, media(rest)), layer))

    def _keyframes(self, rule: Any) -> None:
        import tinycss2

        name = "".join(
            token.value for token in significant(rule.prelude) if token.type in ("ident", "string")
        )
        touched: set[str] = set()
        frames = tinycss2.parse_rule_list(rule.content or [], skip_comments=True, skip_whitespace=True)
        for frame in frames:
            if frame.type != "qualified-rule":
                continue
            for item in _block_items(frame.content):
                if item.type == "declaration":
                    touched.update(longhand for longhand, _ in declared(_name(item), item.value))
        self._sheet.animated[name] = frozenset(touched & _ANIMATED_PROPERTIES)

    def _property(self, rule: Any) -> None:
        name = "".join(token.value for token in significant(rule.prelude) if token.type == "ident")
        inherits, initial = True, None
        for item in _block_items(rule.content or []):
            if item.type != "declaration":
                continue
            if item.lower_name == "inherits":
                inherits = "false" not in [getattr(token, "lower_value", "") for token in item.value]
            elif item.lower_name == "initial-value":
                initial = tuple(item.value)
        if name.startswith("--"):
            self._sheet.registered[name] = inherits, initial


def _block_items(content: Sequence[Any]) -> list[Any]:
    import tinycss2

    return list(tinycss2.parse_blocks_contents(content, skip_comments=True, skip_whitespace=True))


def _layer_name(tokens: Iterable[Any]) -> LayerName:
    return tuple(token.value for token in significant(tokens) if token.type == "ident")


def _nested_prelude(prelude: Sequence[Any], parent: Sequence[Any]) -> list[Any]:
    """A nested rule's selectors with `&` replaced by the outer ones, as `:is()` of them."""
    import tinycss2
    from tinycss2.ast import FunctionBlock, LiteralToken, WhitespaceToken

    line, column = prelude[0].source_line, prelude[0].source_column
    outer = [
        LiteralToken(line, column, ":"),
        FunctionBlock(line, column, "is", list(parent)),
    ]

    def replaced(tokens: Sequence[Any]) -> tuple[list[Any], bool]:
        result: list[Any] = []
        found = False
        for token in tokens:
            if token == "&":
                # A type selector may follow "&" directly only in front of it; `:is()` can stand anywhere.
                result.extend(outer)
                found = True
            elif token.type == "function":
                inner, has = replaced(token.arguments)
                result.append(
                    FunctionBlock(token.source_line, token.source_column, token.name, inner) if has else token
                )
                found = found or has
            else:
                result.append(token)
        return result, found

    parts = []
    for part in split_on(prelude, ","):
        tokens, found = replaced(part)
        if not found or (tokens and tokens[0] in (">", "+", "~")):
            tokens = [*outer, WhitespaceToken(line, column, " "), *tokens]
        parts.append(tokens)
    joined: list[Any] = []
    for place, tokens in enumerate(parts):
        if place:
            joined.append(LiteralToken(line, column, ","))
        joined.extend(tokens)
    # Written out and read again, so that an `:is()` made of tokens is parsed as any other.
    return list(tinycss2.parse_component_value_list(tinycss2.serialize(joined)))
