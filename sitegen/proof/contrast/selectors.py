"""Compiles selectors into functions over the proof's elements, and notes what each selector looks at.

The parser and the specificities are those of the selector library; matching is our own because the proof must know which
facts a selector asks for, so that elements which look alike to every selector are styled once.
https://www.w3.org/TR/selectors-4/
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any, Final, TypeAlias

from sitegen.proof.contrast.names import names_in
from sitegen.proof.document import Element, Text

Test: TypeAlias = "Callable[[Element, Situation], bool]"

STATES: Final = names_in(
    "hover focus focus-visible focus-within active visited target target-within checked indeterminate"
    " invalid valid user-invalid user-valid in-range out-of-range autofill -webkit-autofill fullscreen"
    " modal popover-open open playing paused buffering stalled muted past current future picture-in-"
    " picture blank"
)
"""Pseudo-classes that come and go while a page is used."""

_PSEUDO_ELEMENTS: Final = names_in(
    "before after first-line first-letter marker placeholder selection file-selector-button backdrop"
    " target-text spelling-error grammar-error details-content cue part slotted highlight -webkit-input-"
    " placeholder -moz-placeholder -ms-input-placeholder view-transition scroll-marker scroll-button"
    " column checkmark picker-icon -webkit-scrollbar -webkit-scrollbar-thumb -webkit-scrollbar-track"
    " -webkit-search-cancel-button -webkit-search-decoration -webkit-inner-spin-button -webkit-outer-spin-"
    " button -webkit-file-upload-button -webkit-details-marker -webkit-calendar-picker-indicator -webkit-"
    " date-and-time-value -webkit-datetime-edit -webkit-slider-thumb -webkit-slider-runnable-track"
    " -webkit-progress-bar -webkit-progress-value -webkit-meter-bar"
)
PSEUDO_ELEMENT_ALIASES: Final = {
    "-webkit-input-placeholder": "placeholder",
    "-webkit-file-upload-button": "file-selector-button",
}

_WORDS = re.compile(r"[^ \t\r\n\f]+").findall


class InvalidSelectorError(ValueError):
    """The selector is invalid, which makes its whole rule invalid."""


class Situation:
    """Which elements are hovered, focused and so on while selectors are matched."""

    __slots__ = ("_chain", "_rows", "element", "inside", "is_asked_outside", "kinds", "neighbours")

    def __init__(
        self, kinds: frozenset[str] = frozenset(), element: Element | None = None, neighbours: bool = False
    ):
        self.kinds = kinds
        self.element = element
        self.neighbours = neighbours
        """Whether every element off the way to the root is in all states at once."""
        self.inside: frozenset[Element] | None = None
        """While a part of a page is looked at by itself, its elements."""
        self.is_asked_outside = False
        """Whether an answer depended on siblings outside of that part, or on what else stands in what is around it."""
        self._rows: dict[Element, tuple[list[Element], dict[Element, int]]] = {}
        self._chain: set[int] = set()
        if element is not None:
            self._chain = {id(element), *(id(above) for above in element.ancestors())}

    def row(self, element: Element) -> tuple[list[Element], dict[Element, int]]:
        """The element children of its parent, itself among them, and the place of each; worked out once a parent."""
        parent = element.parent
        if self.inside is not None and parent not in self.inside:
            self.is_asked_outside = True
        if parent is None:
            return [element], {element: 0}
        found = self._rows.get(parent)
        if found is None:
            row = [child for child in parent.children if isinstance(child, Element)]
            found = self._rows[parent] = row, dict(zip(row, range(len(row)), strict=True))
        return found

    def look_into(self, element: Element) -> None:
        """Say that what stands inside an element is asked about."""
        if self.inside is not None and element not in self.inside:
            self.is_asked_outside = True

    def before(self, element: Element) -> Element | None:
        """The element before it under the same parent."""
        row, places = self.row(element)
        place = places[element]
        return row[place - 1] if place else None

    def holds(self, element: Element, state: str) -> bool:
        """Whether an element is in a state."""
        if self.neighbours and id(element) not in self._chain:
            return state not in ("visited",)
        kinds = self.kinds
        if element is self.element and state in kinds:
            return True
        if id(element) in self._chain:
            if state in ("hover", "active"):
                return state in kinds
            if state == "focus-within":
                return "focus" in kinds or "focus-within" in kinds
            if state == "target-within":
                return "target" in kinds
        if state == "checked":
            return "checked" in element.attrs or "selected" in element.attrs
        if state == "open":
            return "open" in element.attrs
        return False


@dataclass(slots=True)
class Sight:
    """What some selectors look at."""

    classes: set[str] = field(default_factory=set)
    ids: set[str] = field(default_factory=set)
    attributes: dict[str, list[Callable[[str], bool]]] = field(default_factory=dict)
    """By lower-case name, the questions asked about its value; presence is always seen."""
    states: set[str] = field(default_factory=set)
    is_structural: bool = False
    """Whether siblings, children or an element's position among them are asked about."""
    is_wide: bool = False
    """Whether more is asked about than siblings and what stands inside, such as what an element stands in."""
    unknown: list[str] = field(default_factory=list)
    """Pseudo-classes the proof cannot decide."""


@dataclass(slots=True, eq=False)
class Selector:
    """One compiled complex selector."""

    match: Test
    specificity: tuple[int, int, int]
    pseudo_element: str | None
    sight: Sight
    tag: str | None
    """The tag, id and class the subject must have, where the selector names them."""
    identifier: str | None
    class_name: str | None
    stateful: tuple[tuple[Test, frozenset[str]], ...]
    """For every compound that asks about states: a test of the rest of it, and the states."""
    possible: Test
    """Whether an element can match as far as it itself and what it lies in say, states, siblings and children left open."""
    is_state_left: bool
    """Whether a state is asked about of another element than the subject."""


def compile_selectors(tokens: Sequence[Any]) -> list[Selector]:
    """The selectors of a rule's prelude. Raises `InvalidSelectorError` where one of them is invalid."""
    from cssselect2 import parser

    try:
        parsed = list(parser.parse(_without_pseudo_elements(tokens), {"svg": "svg", "html": "html"}))
        parts = _pseudo_elements(tokens)
        return [_compiled(each, part) for each, part in zip(parsed, parts, strict=True)]
    except parser.SelectorError as problem:
        raise InvalidSelectorError(str(problem)) from problem


def _pseudo_elements(tokens: Sequence[Any]) -> list[str | None]:
    return [_divide(part)[1] for part in _selector_parts(tokens)]


def _selector_parts(tokens: Sequence[Any]) -> list[list[Any]]:
    parts: list[list[Any]] = [[]]
    for token in tokens:
        if token == ",":
            parts.append([])
        else:
            parts[-1].append(token)
    return parts


def _without_pseudo_elements(tokens: Sequence[Any]) -> list[Any]:
    kept: list[Any] = []
    comma = next((token for token in tokens if token == ","), None)
    for place, part in enumerate(_selector_parts(tokens)):
        if place:
            kept.append(comma)
        kept.extend(_divide(part)[0])
    return kept


def _divide(part: Sequence[Any]) -> tuple[list[Any], str | None]:
    """A selector's tokens without its pseudo-element, and the pseudo-element.

    The selector library knows only some of them; here all names are accepted and the unknown ones never match.
    """
    for place, token in enumerate(part):
        if token != ":":
            continue
        following = part[place + 1] if place + 1 < len(part) else None
        if following is None:
            raise InvalidSelectorError("a colon stands alone")
        if following == ":":
            named = part[place + 2] if place + 2 < len(part) else None
            if named is None or named.type not in ("ident", "function"):
                raise InvalidSelectorError("a pseudo-element has no name")
            name = named.lower_value if named.type == "ident" else named.lower_name
            rest = part[place + 3 :]
        elif following.type == "ident" and following.lower_value in (
            "before",
            "after",
            "first-line",
            "first-letter",
        ):
            name, rest = following.lower_value, part[place + 2 :]
        else:
            continue
        if name not in _PSEUDO_ELEMENTS and not name.startswith("-webkit-"):
            raise InvalidSelectorError(f"unknown pseudo-element {name}")
        # What follows can only be states of the pseudo-element itself, such as ::before:hover, or another pseudo-element.
        leftover = [each for each in rest if each.type not in ("whitespace", "comment")]
        name = PSEUDO_ELEMENT_ALIASES.get(name, name)
        before = list(part[:place])
        if not any(each.type not in ("whitespace", "comment") for each in before) or (
            before[-1].type == "whitespace" or before[-1] in (">", "+", "~")
        ):
            before.append(_universal(token))
        return before, f"{name}+" if leftover else name
    return list(part), None


def _universal(near: Any) -> Any:
    from tinycss2.ast import LiteralToken

    return LiteralToken(near.source_line, near.source_column, "*")


def _compiled(parsed: Any, pseudo_element: str | None) -> Selector:
    sight = Sight()
    match = _complex(parsed.parsed_tree, sight)
    first, second, third = _specificity(parsed.parsed_tree)
    subject = parsed.parsed_tree
    compounds = list(_compounds(subject))
    rightmost = compounds[0]
    tag = identifier = class_name = None
    for simple in rightmost.simple_selectors:
        kind = type(simple).__name__
        if kind == "LocalNameSelector":
            tag = simple.lower_local_name
        elif kind == "IDSelector":
            identifier = simple.ident
        elif kind == "ClassSelector":
            class_name = simple.class_name
    stateful = []
    is_state_left = False
    for place, compound in enumerate(compounds) if sight.states else ():
        asked = Sight()
        still = []
        for simple in compound.simple_selectors:
            own = Sight()
            test = _simple(simple, own)
            if own.states:
                asked.states |= own.states
                # A state further inside, as in :is(.card:hover .x) or :has(:focus), belongs to another element.
                is_state_left = is_state_left or type(simple).__name__ not in ("PseudoClassSelector",)
            else:
                still.append(test)
        if asked.states:
            is_state_left = is_state_left or place > 0
            stateful.append((_all_of(still), frozenset(asked.states)))
    return Selector(
        match,
        (first, second, third + (pseudo_element is not None)),
        pseudo_element,
        sight,
        tag,
        identifier,
        class_name,
        tuple(stateful),
        # Without siblings and states nothing is left open.
        _possible(parsed.parsed_tree) if sight.is_structural or sight.states else match,
        is_state_left,
    )


def _specificity(tree: Any) -> tuple[int, int, int]:
    """https://www.w3.org/TR/selectors-4/#specificity-rules; unlike the library's, it counts what `:nth-child(… of …)` names."""
    kind = type(tree).__name__
    if kind == "CombinedSelector":
        return _added(_specificity(tree.left), _specificity(tree.right))
    if kind == "CompoundSelector":
        total = (0, 0, 0)
        for simple in tree.simple_selectors:
            total = _added(total, _specificity(simple))
        return total
    if kind in ("MatchesAnySelector", "NegationSelector", "RelationalSelector"):
        inner = [getattr(each, "selector", each).parsed_tree for each in tree.selector_list]
        return max((_specificity(each) for each in inner), default=(0, 0, 0))
    if kind == "FunctionalPseudoClassSelector" and tree.name in ("nth-child", "nth-last-child"):
        _, among = _nth_parts(tree.arguments)
        return _added(
            (0, 1, 0),
            max((_specificity(each) for each in _trees(among)), default=(0, 0, 0)) if among else (0, 0, 0),
        )
    found: tuple[int, int, int] = tree.specificity
    return found


def _added(one: tuple[int, int, int], other: tuple[int, int, int]) -> tuple[int, int, int]:
    return one[0] + other[0], one[1] + other[1], one[2] + other[2]


def _nth_parts(arguments: Sequence[Any]) -> tuple[list[Any], list[Any]]:
    """The two halves of the argument of `:nth-child()`, before and after "of"."""
    for place, token in enumerate(arguments):
        if token.type == "ident" and token.lower_value == "of":
            return list(arguments[:place]), list(arguments[place + 1 :])
    return list(arguments), []


def _possible(tree: Any) -> Test:
    """A selector without what it asks about states, siblings and children."""
    if type(tree).__name__ != "CombinedSelector":
        return _possible_compound(tree)
    right = _possible_compound(tree.right)
    return _all_of([right, _possible_around(tree)])


def _possible_compound(compound: Any) -> Test:
    kept = []
    for simple in compound.simple_selectors:
        sight = Sight()
        test = _simple(simple, sight)
        if not sight.states and not sight.is_structural:
            kept.append(test)
    return _all_of(kept)


def _possible_around(tree: Any) -> Test:
    """What a combined selector asks of the elements around its subject; siblings share them."""
    if type(tree).__name__ != "CombinedSelector":
        return lambda element, situation: True
    if tree.combinator in ("+", "~"):
        return _possible_around(tree.left)
    left = _possible(tree.left)
    if tree.combinator == ">":
        return lambda element, situation: element.parent is not None and left(element.parent, situation)
    return lambda element, situation: any(left(above, situation) for above in element.ancestors())


def _compounds(tree: Any) -> Iterator[Any]:
    """Compound selectors from right to left."""
    while type(tree).__name__ == "CombinedSelector":
        yield tree.right
        tree = tree.left
    yield tree


def _all_of(tests: Sequence[Test]) -> Test:
    if not tests:
        return lambda element, situation: True
    if len(tests) == 1:
        return tests[0]
    if len(tests) == 2:
        one, two = tests
        return lambda element, situation: one(element, situation) and two(element, situation)
    return lambda element, situation: all(test(element, situation) for test in tests)


def _any_of(tests: Sequence[Test]) -> Test:
    if len(tests) == 1:
        return tests[0]
    return lambda element, situation: any(test(element, situation) for test in tests)


def _complex(tree: Any, sight: Sight) -> Test:
    if type(tree).__name__ != "CombinedSelector":
        return _compound(tree, sight)
    left = _complex(tree.left, sight)
    right = _compound(tree.right, sight)
    combinator = tree.combinator
    if combinator == ">":

        def child(element: Element, situation: Situation) -> bool:
            parent = element.parent
            return right(element, situation) and parent is not None and left(parent, situation)

        return child
    if combinator == " ":

        def descendant(element: Element, situation: Situation) -> bool:
            if not right(element, situation):
                return False
            above = element.parent
            while above is not None:
                if left(above, situation):
                    return True
                above = above.parent
            return False

        return descendant
    sight.is_structural = True
    if combinator == "+":

        def next_sibling(element: Element, situation: Situation) -> bool:
            if not right(element, situation):
                return False
            before = situation.before(element)
            return before is not None and left(before, situation)

        return next_sibling

    def later_sibling(element: Element, situation: Situation) -> bool:
        if not right(element, situation):
            return False
        for other in situation.row(element)[0]:
            if other is element:
                break
            if left(other, situation):
                return True
        return False

    return later_sibling


def _compound(compound: Any, sight: Sight) -> Test:
    return _all_of([_simple(simple, sight) for simple in compound.simple_selectors])


def _simple(simple: Any, sight: Sight) -> Test:
    kind = type(simple).__name__
    if kind == "LocalNameSelector":
        name = simple.lower_local_name
        return lambda element, situation: element.tag == name
    if kind == "ClassSelector":
        class_name = simple.class_name
        sight.classes.add(class_name)

        def has_class(element: Element, situation: Situation) -> bool:
            written = element.attrs.get("class")
            return written is not None and class_name in written and class_name in _WORDS(written)

        return has_class
    if kind == "IDSelector":
        identifier = simple.ident
        sight.ids.add(identifier)
        return lambda element, situation: element.attrs.get("id") == identifier
    if kind == "AttributeSelector":
        return _attribute(simple, sight)
    if kind == "NamespaceSelector":
        namespace = simple.namespace
        return lambda element, situation: namespace in ("", element.namespace)
    if kind == "PseudoClassSelector":
        return _pseudo_class(simple.name, sight)
    if kind == "FunctionalPseudoClassSelector":
        return _functional(simple, sight)
    if kind in ("MatchesAnySelector", "SpecificityAdjustmentSelector", "NegationSelector"):
        if not simple.selector_list:
            return lambda element, situation: False
        inner = _any_of([_complex(each.parsed_tree, sight) for each in simple.selector_list])
        if kind == "NegationSelector":
            return lambda element, situation: not inner(element, situation)
        return inner
    if kind == "RelationalSelector":
        return _relational(simple, sight)
    raise InvalidSelectorError(f"a selector of the kind {kind}")


# Attributes of HTML whose values selectors compare without regard to case:
# https://html.spec.whatwg.org/multipage/semantics-other.html#case-sensitivity-of-selectors
_VALUES_WITHOUT_CASE: Final = names_in(
    "accept accept-charset align alink axis bgcolor charset checked clear codetype color compact declare"
    " defer dir direction disabled enctype face frame hreflang http-equiv lang language link media method"
    " multiple nohref noresize noshade nowrap readonly rel rev rules scope scrolling selected shape target"
    " text type valign valuetype vlink"
)


def _attribute(simple: Any, sight: Sight) -> Test:
    name = simple.lower_name
    questions = sight.attributes.setdefault(name, [])
    operator = simple.operator
    if operator is None:
        return lambda element, situation: name in element.attrs
    wanted = simple.value
    folds = simple.case_sensitive is False or (simple.case_sensitive is None and name in _VALUES_WITHOUT_CASE)
    if folds:
        wanted = wanted.lower()
    ask = _question(operator, wanted)
    question: Callable[[str], bool] = (lambda value: ask(value.lower())) if folds else ask
    questions.append(question)

    def has(element: Element, situation: Situation) -> bool:
        value = element.attrs.get(name)
        return value is not None and question(value)

    return has


def _question(operator: str, wanted: str) -> Callable[[str], bool]:
    if operator == "=":
        return lambda value: value == wanted
    if operator == "~=":
        return lambda value: wanted in _WORDS(value)
    if operator == "|=":
        return lambda value: value == wanted or value.startswith(wanted + "-")
    if not wanted:
        return lambda value: False
    if operator == "^=":
        return lambda value: value.startswith(wanted)
    if operator == "$=":
        return lambda value: value.endswith(wanted)
    return lambda value: wanted in value


# ---------------------------------------------------------------------------------------------------------------------
# Pseudo-classes


def is_link(element: Element) -> bool:
    """Whether it is a hyperlink: https://html.spec.whatwg.org/multipage/semantics-other.html#selector-link"""
    return element.tag in ("a", "area") and "href" in element.attrs


_CAN_BE_DISABLED: Final = frozenset(
    {"button", "input", "select", "textarea", "optgroup", "option", "fieldset"}
)


def is_disabled(element: Element) -> bool:
    """Whether it is actually disabled: https://html.spec.whatwg.org/multipage/semantics-other.html#concept-element-disabled"""
    tag = element.tag
    if tag not in _CAN_BE_DISABLED:
        return False
    if "disabled" in element.attrs:
        return True
    if tag == "option":
        return (
            element.parent is not None
            and element.parent.tag == "optgroup"
            and "disabled" in element.parent.attrs
        )
    if tag == "optgroup":
        return False
    inside = element
    for above in element.ancestors():
        if above.tag == "fieldset" and "disabled" in above.attrs:
            first = next(
                (child for child in above.children if isinstance(child, Element) and child.tag == "legend"),
                None,
            )
            if inside is not first:
                return True
        inside = above
    return False


_TYPED_INTO: Final = frozenset(
    {
        "text",
        "search",
        "url",
        "tel",
        "email",
        "password",
        "date",
        "month",
        "week",
        "time",
        "datetime-local",
        "number",
    }
)
_KNOWN_TYPES: Final = _TYPED_INTO | names_in(
    "hidden range color checkbox radio file submit image reset button"
)


def input_type(element: Element) -> str:
    """The type of an `input` element."""
    written = element.attrs.get("type", "text").lower()
    return written if written in _KNOWN_TYPES else "text"


def is_typed_into(element: Element) -> bool:
    """Whether a viewer types text into it."""
    return element.tag == "textarea" or (element.tag == "input" and input_type(element) in _TYPED_INTO)


def _is_editable(element: Element) -> bool:
    if is_typed_into(element):
        return "readonly" not in element.attrs and not is_disabled(element)
    for each in (element, *element.ancestors()):
        written = each.attrs.get("contenteditable")
        if written is not None:
            return written.lower() in ("", "true", "plaintext-only")
    return False


def _is_placeholder_shown(element: Element) -> bool:
    if not is_typed_into(element) or "placeholder" not in element.attrs:
        return False
    return not (element.text() if element.tag == "textarea" else element.attrs.get("value", ""))


def _is_empty(element: Element, situation: Situation) -> bool:
    situation.look_into(element)
    return not any(isinstance(child, Element) or child.data for child in element.children)


def _can_be_required(element: Element) -> bool:
    return element.tag in ("select", "textarea") or (
        element.tag == "input"
        and input_type(element) not in ("hidden", "range", "color", "submit", "image", "reset", "button")
    )


_BY_ATTRIBUTE: Final[dict[str, tuple[Callable[[Element], bool], tuple[str, ...]]]] = {
    # name: (test, attributes it looks at)
    "link": (is_link, ("href",)),
    "any-link": (is_link, ("href",)),
    "-webkit-any-link": (is_link, ("href",)),
    "required": (lambda element: _can_be_required(element) and "required" in element.attrs, ("required",)),
    "optional": (
        lambda element: _can_be_required(element) and "required" not in element.attrs,
        ("required",),
    ),
    "root": (lambda element: element.parent is None, ()),
    "scope": (lambda element: element.parent is None, ()),
    "defined": (lambda element: "-" not in element.tag, ()),
    "host": (lambda element: False, ()),
}
_BY_STRUCTURE: Final[dict[str, Test]] = {
    "empty": lambda element, situation: _is_empty(element, situation),
    "disabled": lambda element, situation: is_disabled(element),
    "enabled": lambda element, situation: element.tag in _CAN_BE_DISABLED and not is_disabled(element),
    "read-write": lambda element, situation: _is_editable(element),
    "read-only": lambda element, situation: not _is_editable(element),
    "placeholder-shown": lambda element, situation: _is_placeholder_shown(element),
    "default": lambda element, situation: "checked" in element.attrs or "selected" in element.attrs,
    "first-child": lambda element, situation: situation.row(element)[0][0] is element,
    "last-child": lambda element, situation: situation.row(element)[0][-1] is element,
    "only-child": lambda element, situation: len(situation.row(element)[0]) == 1,
    "first-of-type": lambda element, situation: _alike(element, situation)[0] is element,
    "last-of-type": lambda element, situation: _alike(element, situation)[-1] is element,
    "only-of-type": lambda element, situation: len(_alike(element, situation)) == 1,
}


_ABOUT_SIBLINGS: Final = names_in("first-child last-child only-child first-of-type last-of-type only-of-type")
_ABOUT_INSIDE: Final = names_in("empty")


def _alike(element: Element, situation: Situation) -> list[Element]:
    tag, namespace = element.tag, element.namespace
    return [other for other in situation.row(element)[0] if other.tag == tag and other.namespace == namespace]


def _pseudo_class(name: str, sight: Sight) -> Test:
    if name in STATES:
        sight.states.add(name)
        if name in ("target", "target-within"):
            sight.attributes.setdefault("id", [])
        if name in ("checked", "open"):
            for attribute in ("checked", "selected", "open"):
                sight.attributes.setdefault(attribute, [])
        if name == "visited":
            return lambda element, situation: is_link(element) and situation.holds(element, "visited")
        return lambda element, situation: situation.holds(element, name)
    if name in _BY_ATTRIBUTE:
        test, attributes = _BY_ATTRIBUTE[name]
        for attribute in attributes:
            sight.attributes.setdefault(attribute, [])
        if name == "link":
            return lambda element, situation: test(element) and not situation.holds(element, "visited")
        return lambda element, situation: test(element)
    if name in _BY_STRUCTURE:
        sight.is_structural = True
        sight.is_wide = sight.is_wide or name not in _ABOUT_SIBLINGS | _ABOUT_INSIDE
        return _BY_STRUCTURE[name]
    if name.startswith(("-moz-", "-ms-")):
        raise InvalidSelectorError(f"the pseudo-class :{name}")
    sight.unknown.append(f":{name}")
    return lambda element, situation: True


def _functional(simple: Any, sight: Sight) -> Test:
    name = simple.name
    if name in ("nth-child", "nth-last-child", "nth-of-type", "nth-last-of-type"):
        return _nth(name, simple.arguments, sight)
    if name == "lang":
        return _language(simple.arguments, sight)
    if name == "dir":
        return _direction(simple.arguments, sight)
    if name in ("host", "host-context", "slotted"):
        return lambda element, situation: False
    if name in ("matches", "-webkit-any", "-moz-any", "any"):
        return _any_of([_complex(each, sight) for each in _trees(simple.arguments)])
    sight.unknown.append(f":{name}()")
    return lambda element, situation: True


def _trees(tokens: Sequence[Any]) -> list[Any]:
    from cssselect2 import parser

    try:
        return [each.parsed_tree for each in parser.parse(list(tokens))]
    except parser.SelectorError as problem:
        raise InvalidSelectorError(str(problem)) from problem


def _nth(name: str, arguments: Sequence[Any], sight: Sight) -> Test:
    from tinycss2.nth import parse_nth

    counted, rest = _nth_parts(arguments)
    step_and_offset = parse_nth(counted)
    if step_and_offset is None:
        raise InvalidSelectorError(f"the argument of :{name}()")
    step: int = step_and_offset[0]
    offset: int = step_and_offset[1]
    sight.is_structural = True
    among = _any_of([_complex(tree, sight) for tree in _trees(rest)]) if rest else None
    by_type = name.endswith("of-type")
    from_end = "last" in name

    def counts(element: Element, situation: Situation) -> bool:
        if among is None and not by_type:
            row, places = situation.row(element)
            number = len(row) - places[element] if from_end else places[element] + 1
        else:
            if among is not None and not among(element, situation):
                return False
            others = _alike(element, situation) if by_type else situation.row(element)[0]
            if among is not None:
                others = [other for other in others if among(other, situation)]
            place = next(index for index, other in enumerate(others) if other is element)
            number = len(others) - place if from_end else place + 1
        if step == 0:
            return number == offset
        turns, left_over = divmod(number - offset, step)
        return left_over == 0 and turns >= 0

    return counts


def _language(arguments: Sequence[Any], sight: Sight) -> Test:
    wanted = [str(token.value).lower() for token in arguments if token.type in ("ident", "string")]
    sight.attributes.setdefault("lang", []).extend(_question("|=", word) for word in wanted)

    def speaks(element: Element, situation: Situation) -> bool:
        for each in (element, *element.ancestors()):
            if "lang" in each.attrs:
                spoken = each.attrs["lang"].lower()
                return any(spoken == word or spoken.startswith(f"{word}-") for word in wanted)
        return False

    sight.attributes["lang"].append(lambda value: any(value.lower().startswith(word) for word in wanted))
    return speaks


def _direction(arguments: Sequence[Any], sight: Sight) -> Test:
    wanted = [str(token.lower_value) for token in arguments if token.type == "ident"]
    sight.attributes.setdefault("dir", []).extend((_question("=", "rtl"), _question("=", "ltr")))

    def goes(element: Element, situation: Situation) -> bool:
        for each in (element, *element.ancestors()):
            written = each.attrs.get("dir", "").lower()
            if written in ("ltr", "rtl"):
                return written in wanted
        return "ltr" in wanted

    return goes


def _relational(simple: Any, sight: Sight) -> Test:
    sight.is_structural = True
    alternatives = []
    for relative in simple.selector_list:
        sight.is_wide = sight.is_wide or not _asks_inside_alone(relative)
        # Only classes and the like inside :has() matter for the anchor, whose own facts come from the whole test.
        inner = Sight()
        alternatives.append((relative.combinator, _complex(relative.selector.parsed_tree, inner)))
        sight.states |= inner.states
        sight.unknown += inner.unknown

    def has(element: Element, situation: Situation) -> bool:
        situation.look_into(element)
        return any(
            any(test(other, situation) for other in _related(element, combinator, situation))
            for combinator, test in alternatives
        )

    return has


_PLAIN_KINDS: Final = frozenset(
    {"LocalNameSelector", "ClassSelector", "IDSelector", "AttributeSelector", "NamespaceSelector"}
)


def _asks_inside_alone(relative: Any) -> bool:
    """Whether one argument of `:has()` looks at elements inside by themselves, and at nothing that these stand in."""
    tree = relative.selector.parsed_tree
    return (
        relative.combinator in (" ", ">")
        and type(tree).__name__ == "CompoundSelector"
        and all(type(simple).__name__ in _PLAIN_KINDS for simple in tree.simple_selectors)
    )


def _related(element: Element, combinator: str, situation: Situation) -> Iterator[Element]:
    if combinator == " ":
        for node in element.descendants():
            if not isinstance(node, Text):
                yield node
    elif combinator == ">":
        for child in element.children:
            if not isinstance(child, Text):
                yield child
    else:
        row, places = situation.row(element)
        after = row[places[element] + 1 :]
        yield from after[:1] if combinator == "+" else after
