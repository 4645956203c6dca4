"""What a set of stylesheets makes of pages: a tree of looks, shared by all pages that use the same sheets.

A `Look` is an element as the selectors see it. A `Node` is a look in its place: the same looks from the root down,
and the same answers of the selectors that ask about siblings or children. All elements of a node have the same styles, so
selectors are matched and styles computed for the first of them alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any, Final, NamedTuple

from sitegen.proof.contrast.origin import (
    ORIGIN_SHEET,
    SEEN_PRESENT,
    SEEN_WHOLE,
    hint_text,
)
from sitegen.proof.contrast.scenario import Scenario
from sitegen.proof.contrast.selectors import Selector, Situation, is_disabled, is_link
from sitegen.proof.contrast.style import AUTHOR, BODY, BROWSER, HINT, Entry, Style, Surrounding
from sitegen.proof.contrast.stylesheets import THE_BROWSERS, Block, Rule, Sheet, parse_attribute, parse_sheet
from sitegen.proof.document import Document, Element, Part, Shape

MOST_LOOKS: Final = 6_000
"""Looks and nodes kept before a theme starts afresh, so that memory does not grow with pages."""
_MOST_ATTRIBUTES: Final = 4_000
_MOST_PARTS: Final = 4_000

_HOVERING: Final = {
    "hover": frozenset({"hover"}),
    "focus": frozenset({"focus", "focus-visible"}),
    "active": frozenset({"hover", "active", "focus"}),
    "visited": frozenset({"visited"}),
}
_IMPLIED_BY: Final = {
    "hover": ("hover",),
    "active": ("active",),
    "focus": ("focus",),
    "focus-visible": ("focus",),
    "focus-within": ("focus-within",),
    "visited": ("visited",),
    "target-within": ("target",),
}


class Look:
    """An element as the selectors see it."""

    __slots__ = ("asks_around", "candidates", "entries", "namespace", "seen", "stateful", "structural", "tag")

    def __init__(self, tag: str, namespace: str) -> None:
        self.tag = tag
        self.namespace = namespace
        self.seen: dict[str, str] = {}
        """Attributes that give an element this look, without what nobody looks at."""
        self.candidates: list[_Matchable] = []
        """Rules without states or structure whose subject may be this element."""
        self.structural: list[_Matchable] = []
        """Rules that ask about siblings and children, matched for every element by itself."""
        self.stateful: list[_Matchable] = []
        self.asks_around = False
        """Whether what is around an element of this look can matter to its styles."""
        self.entries: list[Entry] = []
        """The `style` attribute and attributes that stand for styles."""


_NO_PLAN: Final[tuple[tuple[()], tuple[()]]] = ((), ())


class Way(NamedTuple):
    """What one of a node's variants is made of."""

    kinds: frozenset[str]
    depth: int
    place: int
    """The parent's variant whose styles it goes on from."""
    reason: str
    rules: tuple[_Matchable, ...]


class Variant(NamedTuple):
    """A node's styles while an element on the way to it, or itself, is in some state."""

    kinds: frozenset[str]
    depth: int
    """Of the element in that state; -1 at rest, -2 for a rule that cannot be decided, -3 for states of neighbours."""
    styles: tuple[Style | None, ...]
    """One for each scenario of the theme; None where a scenario leaves the state out."""
    reason: str = ""
    """Why it is a matter of doubt, or ""."""


REST_DEPTH: Final = -1
DOUBT_DEPTH: Final = -2
NEIGHBOUR_DEPTH: Final = -3


class Node:
    """All elements that have the same styles for the same reasons."""

    __slots__ = (
        "asked",
        "children",
        "depth",
        "facts",
        "judged",
        "look",
        "parent",
        "parts",
        "plans",
        "pseudo",
        "rest",
        "theme",
        "variants",
        "ways",
    )

    variants: tuple[Variant, ...]
    rest: tuple[Style | None, ...]
    """The styles of the first variant: nothing hovered, focused or visited."""
    pseudo: dict[str, tuple[Variant, ...]]
    """By pseudo-element, its variants in the order of `variants`."""

    def __init__(self, parent: Node | None, look: Look, theme: Theme | None = None) -> None:
        """`theme` works out the variants when they are first asked for; without one they are set by whoever makes the node."""
        self.parent = parent
        self.look = look
        self.depth: int = 0 if parent is None else parent.depth + 1
        self.children: dict[Any, Node] = {}
        self.plans: dict[Look, tuple[tuple[_Matchable, ...], tuple[_Matchable, ...]]] = {}
        """By look of a child, the rules that may match it here, depending on its siblings and children."""
        self.parts: dict[Shape, list[Node] | None] = {}
        """By the shape of a part whose outermost element has this node, the nodes inside; None where those depend on more."""
        self.ways: tuple[Way, ...] = ()
        """What the variants are made of, in their order."""
        self.theme = theme
        self.asked = 0
        """How often the question came up whether its text is to be judged."""
        self.judged: Any = None
        """What the judgement of its text found, once it was asked for."""
        self.facts: Any = None
        """What checks of other things than colour keep of its styles."""

    def __getattr__(self, name: str) -> Any:
        # Only what is not there yet comes here: what an earlier process told of a node is mostly all that is asked of it.
        if self.theme is not None:
            if name == "rest":
                self.rest = self.theme.variant(self, self.ways[0]).styles
                return self.rest
            if name in ("variants", "pseudo"):
                self.theme.work_out(self)
                return getattr(self, name)
        raise AttributeError(name)


@dataclass(slots=True, eq=False)
class _Matchable:
    selector: Selector
    entry: Entry
    pseudo: str | None
    has_states: bool
    is_structural: bool
    is_wide: bool


@dataclass(slots=True, eq=False)
class PlacedSheet:
    """A sheet of a page with the conditions and the layer it is bound to."""

    sheet: Sheet
    place: int
    name: str
    """Its address within the site, or "" for one inside the page."""
    conditions: tuple[Callable[[Scenario], bool | None], ...] = ()
    layer: tuple[str, ...] = ()
    text: str = ""
    """What it was parsed from."""


@dataclass(slots=True)
class _Buckets:
    by_id: dict[str, list[_Matchable]] = field(default_factory=dict)
    by_class: dict[str, list[_Matchable]] = field(default_factory=dict)
    by_tag: dict[str, list[_Matchable]] = field(default_factory=dict)
    rest: list[_Matchable] = field(default_factory=list)

    def add(self, rule: _Matchable) -> None:
        selector = rule.selector
        if selector.identifier is not None:
            self.by_id.setdefault(selector.identifier, []).append(rule)
        elif selector.class_name is not None:
            self.by_class.setdefault(selector.class_name, []).append(rule)
        elif selector.tag is not None:
            self.by_tag.setdefault(selector.tag, []).append(rule)
        else:
            self.rest.append(rule)

    def of(self, element: Element) -> Iterable[_Matchable]:
        identifier = element.attrs.get("id")
        if identifier is not None:
            yield from self.by_id.get(identifier, ())
        classes = element.attrs.get("class")
        if classes:
            for name in set(classes.split()):
                yield from self.by_class.get(name, ())
        yield from self.by_tag.get(element.tag, ())
        yield from self.rest


@lru_cache(maxsize=1)
def _origin_rules() -> tuple[Rule, ...]:
    return tuple(parse_sheet(ORIGIN_SHEET, THE_BROWSERS, -1).rules)


@lru_cache(maxsize=2048)
def _attribute_block(text: str) -> Block:
    return parse_attribute(text)


class Theme:
    """A set of stylesheets judged in a set of scenarios."""

    def __init__(
        self,
        sheets: Sequence[PlacedSheet],
        scenarios: Sequence[Scenario],
        page_schemes: str,
        is_fluid: bool = False,
    ) -> None:
        """`is_fluid` says whether a `style` attribute depends on the size of the window."""
        self.sheets = tuple(sheets)
        self.scenarios = tuple(scenarios)
        self.states = frozenset(state for scenario in scenarios for state in scenario.states)
        self.shows_pictures = False
        """Whether anything was found out from a picture's pixels."""
        self.uses_orientation = False
        """Whether a style depends on how a device is held."""
        self.animated: dict[str, frozenset[str]] = {}
        self.registered: dict[str, tuple[bool, tuple[Any, ...] | None]] = {}
        self._page_schemes = page_schemes
        self._is_fluid = is_fluid
        self._classes: set[str] = set()
        self._ids: set[str] = set()
        self._attributes: dict[str, list[Callable[[str], bool]]] = {}
        self._buckets = _Buckets()
        self._state_questions: list[tuple[Any, frozenset[str]]] = []
        self.rules: list[_Matchable] = []
        """Every rule that may hold in one of the scenarios, in order."""
        self._keeps_quiet_states = False
        """Whether a state of one element can matter to another."""
        self.doubts: list[Entry] = []
        self._neighbour_states = False
        self._everything = (1 << len(self.scenarios)) - 1
        self._with_rules()
        self._set_surroundings()
        self.forget()

    # -- building

    def _with_rules(self) -> None:
        layers = self._layer_ranks()
        order = 0
        rules: list[tuple[Rule, int, tuple[int, ...], int]] = [
            (rule, BROWSER, (1 << 30,), self._everything) for rule in _origin_rules()
        ]
        for placed in self.sheets:
            outer = self._mask(placed.conditions)
            self.animated.update(placed.sheet.animated)
            self.registered.update(placed.sheet.registered)
            for rule in placed.sheet.rules:
                rank = layers.get((*placed.layer, *rule.layer), (1 << 30,))
                rules.append((rule, AUTHOR, rank, outer))
        masks: dict[tuple[int, ...], tuple[int, bool]] = {}
        for rule, origin, layer, outer in rules:
            key = tuple(id(condition) for condition in rule.conditions)
            if key not in masks:
                masks[key] = self._mask_and_doubt(rule.conditions)
            mask, is_doubtful = masks[key]
            mask &= outer
            if not mask:
                continue
            order += 1
            doubt = rule.doubt or ("a condition of @media" if is_doubtful else "")
            entry = Entry(rule.block, origin, layer, False, rule.selector.specificity, order, mask, doubt)
            self._add(rule.selector, entry)

    def _mask(self, conditions: Iterable[Callable[[Scenario], bool | None]]) -> int:
        return self._mask_and_doubt(conditions)[0]

    def _mask_and_doubt(self, conditions: Iterable[Callable[[Scenario], bool | None]]) -> tuple[int, bool]:
        """The scenarios in which all conditions hold or may hold, and whether any is undecided there."""
        mask, doubtful = 0, False
        kept = tuple(conditions)
        for place, scenario in enumerate(self.scenarios):
            answers = [condition(scenario) for condition in kept]
            if False not in answers:
                mask |= 1 << place
                doubtful = doubtful or None in answers
        return mask, doubtful

    def _layer_ranks(self) -> dict[tuple[str, ...], tuple[int, ...]]:
        """By full name, the ranks of a layer and those around it; what is outside of all layers comes last."""
        numbers: dict[tuple[str, ...], int] = {}
        counts: dict[tuple[str, ...], int] = {}
        for placed in self.sheets:
            named = [placed.layer] if placed.layer else []
            for full in [*named, *((*placed.layer, *name) for name in placed.sheet.layers)]:
                for length in range(1, len(full) + 1):
                    path = full[:length]
                    if path not in numbers:
                        outer = path[:-1]
                        numbers[path] = counts.get(outer, 0)
                        counts[outer] = numbers[path] + 1
        return {
            path: (*(numbers[path[:length]] for length in range(1, len(path) + 1)), 1 << 30)
            for path in numbers
        }

    def _add(self, selector: Selector, entry: Entry) -> None:
        sight = selector.sight
        self._classes |= sight.classes
        self._ids |= sight.ids
        for name, questions in sight.attributes.items():
            self._attributes.setdefault(name, []).extend(questions)
        rule = _Matchable(
            selector,
            entry,
            selector.pseudo_element,
            bool(sight.states),
            sight.is_structural,
            sight.is_wide,
        )
        self.rules.append(rule)
        self._buckets.add(rule)
        if entry.doubt:
            self.doubts.append(entry)
        if sight.states and entry.origin == AUTHOR:
            self._state_questions.extend(selector.stateful)
            self._keeps_quiet_states = self._keeps_quiet_states or selector.is_state_left
            self._neighbour_states = self._neighbour_states or (
                sight.is_structural and selector.is_state_left
            )

    def _set_surroundings(self) -> None:
        uses_scheme = bool(self._page_schemes) or any(placed.sheet.uses_scheme for placed in self.sheets)
        uses_viewport = self._is_fluid or any(placed.sheet.uses_viewport for placed in self.sheets)
        self.surroundings = tuple(
            Surrounding(
                scenario.scheme == "dark" and (uses_scheme or scenario.forced_colors),
                float(scenario.width) if uses_viewport else 0.0,
                float(scenario.height) if uses_viewport else 0.0,
                scenario.forced_colors,
                scenario.media == "print",
                self._page_schemes,
            )
            for scenario in self.scenarios
        )

    def forget(self) -> None:
        """Start afresh."""
        self._looks: dict[Any, Look] = {}
        self._by_attributes: dict[int, Look] = {}
        self._attributes_kept: list[dict[str, str]] = []
        self.roots: dict[Any, Node] = {}
        self._root_plans: dict[Look, tuple[tuple[_Matchable, ...], tuple[_Matchable, ...]]] = {}
        self._root_styles: dict[tuple[Surrounding, tuple[Entry, ...]], Style] = {}
        self._attribute_entries: dict[tuple[str, int], Entry] = {}
        self._nodes_with_parts: list[Node] = []
        self.size = 0
        self.news = 0
        """Nodes that were worked out here, not told by an earlier process."""

    def tidy(self) -> None:
        """Start afresh where too much has been kept; to be called between pages."""
        if self.size > MOST_LOOKS:
            self.forget()

    @property
    def looks(self) -> Iterable[Look]:
        """Every look that is known."""
        return self._looks.values()

    # -- looks

    def look_of(self, element: Element) -> Look:
        """The element as the selectors see it."""
        key = self._sight_of(element)
        look = self._looks.get(key)
        if look is None:
            look = self._looks[key] = self._new_look(element)
            look.seen = {name: value for name, value in element.attrs.items() if self._is_seen(name)}
            self.size += 1
        if len(self._attributes_kept) > _MOST_ATTRIBUTES:
            self._by_attributes.clear()
            self._attributes_kept.clear()
        # Elements written alike share their attributes. Those are kept, so that no other ones can come to have the same id.
        self._attributes_kept.append(element.attrs)
        self._by_attributes[id(element.attrs)] = look
        return look

    def _sight_of(self, element: Element) -> Any:
        attrs = element.attrs
        if not attrs:
            return element.tag, element.namespace
        seen: list[Any] = [element.tag, element.namespace]
        for name in sorted(attrs):
            value = attrs[name]
            if name == "class":
                seen.append(("class", frozenset(value.split()) & self._classes))
            elif name == "id" and "id" not in self._attributes:
                if value in self._ids:
                    seen.append(("id", value))
                continue
            elif name in SEEN_WHOLE:
                seen.append((name, value))
            elif name in SEEN_PRESENT or name == "id":
                seen.append((name, bool(value), value if value in self._ids and name == "id" else ""))
            if name in self._attributes:
                seen.append((name, tuple(question(value) for question in self._attributes[name])))
        return tuple(seen)

    def _is_seen(self, name: str) -> bool:
        return (
            name in ("class", "id") or name in SEEN_WHOLE or name in SEEN_PRESENT or name in self._attributes
        )

    def _new_look(self, element: Element) -> Look:
        look = Look(element.tag, element.namespace)
        for rule in self._buckets.of(element):
            if rule.selector.tag is not None and rule.selector.tag != element.tag:
                continue
            if rule.has_states:
                look.stateful.append(rule)
            elif rule.is_structural:
                look.structural.append(rule)
            else:
                look.candidates.append(rule)
        look.asks_around = bool(look.structural) or (self._neighbour_states and bool(look.stateful))
        hints = hint_text(element)
        if hints:
            look.entries.append(self._attribute_entry(hints, HINT))
        written = element.attrs.get("style")
        if written:
            look.entries.append(self._attribute_entry(written, AUTHOR))
        return look

    def _attribute_entry(self, text: str, origin: int) -> Entry:
        key = text, origin
        if key not in self._attribute_entries:
            self._attribute_entries[key] = Entry(
                _attribute_block(text), origin, is_attribute=origin == AUTHOR, mask=self._everything
            )
        return self._attribute_entries[key]

    # -- nodes

    def nodes_of(self, document: Document) -> list[Node]:
        """The node of every element, in the order of `document.elements`."""
        top = Node(None, Look("", ""))
        top.children = self.roots
        top.plans = self._root_plans
        elements = document.elements
        nodes: dict[Element | None, Node] = {None: top}
        found: list[Node] = []
        rest = Situation()
        place = 0
        for start, part in document.parts:
            # The outermost element has siblings outside of the part; they are looked at for each page.
            self._place(elements[place : start + 1], nodes, found, rest)
            place = start + len(part.elements)
            outermost = found[-1]
            if part.shape not in outermost.parts:
                self._look_inside(part, outermost, nodes, rest)
            known = outermost.parts[part.shape]
            if known is None:
                self._place(part.elements[1:], nodes, found, rest)
            else:
                found += known
        self._place(elements[place:] if place else elements, nodes, found, rest)
        return found

    def nodes_within(self, body: Element, host: Node) -> list[Node]:
        """The nodes of everything inside `body`, as if it stood inside the host of a shadow tree."""
        found: list[Node] = []
        inside = [node for node in body.descendants() if isinstance(node, Element)]
        self._place(inside, {body: host}, found, Situation())
        return found

    def _look_inside(
        self, part: Part, outermost: Node, nodes: dict[Element | None, Node], rest: Situation
    ) -> None:
        """Find out whether the nodes inside a part are the same wherever its outermost element has this node, and keep them then."""
        if len(self._nodes_with_parts) >= _MOST_PARTS:
            for each in self._nodes_with_parts:
                each.parts.clear()
            self._nodes_with_parts.clear()
        found: list[Node] = []
        rest.inside, rest.is_asked_outside = frozenset(part.elements), False
        is_by_itself = self._place(part.elements[1:], nodes, found, rest)
        outermost.parts[part.shape] = found if is_by_itself and not rest.is_asked_outside else None
        self._nodes_with_parts.append(outermost)
        rest.inside = None

    def _place(
        self,
        elements: Sequence[Element],
        nodes: dict[Element | None, Node],
        found: list[Node],
        rest: Situation,
    ) -> bool:
        """Find the node of every element, those of their parents being known.

        While a part is looked at by itself, False where one of them depends on more around the element than its siblings and those
        of what it stands in.
        """
        # Everything here happens for every element of every page, hence the plain look-ups.
        known = self._by_attributes
        asks_siblings_at_most = True
        for element in elements:
            look = known.get(id(element.attrs))
            if look is None or look.tag != element.tag or look.namespace != element.namespace:
                look = self.look_of(element)
            parent = nodes[element.parent]
            if look.asks_around and parent.plans.get(look) != _NO_PLAN:
                node = self._node_by_facts(element, parent, look, rest)
                if rest.inside is not None:
                    structural, stateful = parent.plans[look]
                    if stateful or any(rule.is_wide for rule in structural):
                        asks_siblings_at_most = False
            else:
                try:
                    node = parent.children[look]
                except KeyError:
                    node = parent.children[look] = self._new_node(element, parent, look, (), rest)
            nodes[element] = node
            found.append(node)
        return asks_siblings_at_most

    def _node_by_facts(self, element: Element, parent: Node, look: Look, rest: Situation) -> Node:
        """The node of an element whose siblings or children matter."""
        plan = parent.plans.get(look)
        if plan is None:
            plan = parent.plans[look] = (
                tuple(rule for rule in look.structural if rule.selector.possible(element, rest)),
                tuple(
                    rule
                    for rule in look.stateful
                    if self._neighbour_states and rule.is_structural and rule.selector.possible(element, rest)
                ),
            )
        matched = tuple([rule for rule in plan[0] if rule.selector.match(element, rest)])
        key: Any = (look, matched) if matched else look
        if plan[1]:
            # States of neighbours depend on who the neighbours are.
            around = Situation(frozenset(), element, True)
            facts = tuple(
                [
                    (rule, rule.selector.match(element, rest))
                    for rule in plan[1]
                    if rule.selector.match(element, around)
                ]
            )
            if facts:
                key = look, matched, facts
        node = parent.children.get(key)
        if node is None:
            node = parent.children[key] = self._new_node(element, parent, look, matched, rest)
        return node

    def _new_node(
        self,
        element: Element,
        above: Node,
        look: Look,
        structural: tuple[_Matchable, ...],
        rest: Situation,
    ) -> Node:
        self.size += 1
        self.news += 1
        parent = above if above.look.tag else None
        node = Node(parent, look)
        matched = [rule for rule in look.candidates if rule.selector.match(element, rest)]
        matched.extend(structural)
        certain = [rule for rule in matched if not rule.entry.doubt]
        at_rest = certain + [
            rule for rule in look.stateful if not rule.entry.doubt and rule.selector.match(element, rest)
        ]
        ways = [Way(frozenset(), REST_DEPTH, 0, "", tuple(at_rest))]
        variants = [self.variant(node, ways[0])]
        for kinds, depth, place, reason in self._situations(element, node, rest):
            situation = rest if depth == DOUBT_DEPTH else self._situation(element, node, kinds, depth)
            rules = certain + [
                rule
                for rule in look.stateful
                if (not rule.entry.doubt or depth == DOUBT_DEPTH) and rule.selector.match(element, situation)
            ]
            if depth == DOUBT_DEPTH:
                rules += [rule for rule in matched if rule.entry.doubt]
                reason = reason or next((rule.entry.doubt for rule in rules if rule.entry.doubt), "")
            way = Way(kinds, depth, place, reason, tuple(rules))
            variant = self.variant(node, way)
            # A variant without effect here is kept where rules further down may ask about it.
            is_kept = self._keeps_quiet_states or depth < 0 or any(rule.pseudo for rule in look.stateful)
            if is_kept or variant.styles != variants[0].styles:
                variants.append(variant)
                ways.append(way)
        node.ways = tuple(ways)
        node.variants = tuple(variants)
        node.rest = variants[0].styles
        self._add_pseudo_elements(node)
        return node

    def work_out(self, node: Node) -> None:
        """The variants of a node of which only the ways are known."""
        node.variants = tuple([self.variant(node, way) for way in node.ways])
        self._add_pseudo_elements(node)

    def variant(self, node: Node, way: Way) -> Variant:
        """What a way comes to."""
        styles = self._styles(node.parent, way.place, way.rules, node.look, way.kinds & self.states)
        return Variant(way.kinds, way.depth, styles, way.reason)

    def _situations(
        self, element: Element, node: Node, rest: Situation
    ) -> Iterable[tuple[frozenset[str], int, int, str]]:
        """What may be different from rest here: kinds of states, whose depth, the parent's variant, the reason of a doubt."""
        parent = node.parent
        if parent is not None:
            for place, variant in enumerate(parent.variants[1:], 1):
                yield variant.kinds, variant.depth, place, variant.reason
        elif self.doubts:
            yield frozenset(), DOUBT_DEPTH, 0, ""
        if not self.states:
            return
        if parent is None and self._neighbour_states:
            yield frozenset(), NEIGHBOUR_DEPTH, 0, ""
        asked: set[str] = set()
        for test, states in self._state_questions:
            if not states <= asked and test(element, rest):
                asked |= states
        wanted = {kind for state in asked for kind in _IMPLIED_BY.get(state, (state,))}
        can_be_visited = is_link(element)
        if can_be_visited and "visited" in self.states:
            wanted.add("visited")
        if self.is_focusable(element) and "focus" in self.states:
            wanted.add("focus")
        sets = []
        for kind in sorted(wanted):
            if (kind == "visited" and not can_be_visited) or (kind == "target" and "id" not in element.attrs):
                continue
            if kind == "focus" and not self.is_focusable(element):
                continue
            if (kind in _HOVERING and kind not in self.states) or (
                kind == "focus-within" and "focus" not in self.states
            ):
                continue
            if kind in ("checked", "indeterminate") and not (
                element.tag == "option" or element.attrs.get("type", "").lower() in ("checkbox", "radio")
            ):
                continue
            sets.append(_HOVERING.get(kind, frozenset({kind})))
        if "hover" in wanted and can_be_visited and "visited" in self.states and "hover" in self.states:
            sets.append(frozenset({"visited", "hover"}))
        for kinds in sets:
            yield kinds, node.depth, self._place_around(parent, kinds), ""

    @staticmethod
    def _place_around(parent: Node | None, kinds: frozenset[str]) -> int:
        """The parent's variant that goes with a state of its child: what is around a hovered element is hovered too."""
        if parent is None:
            return 0
        wanted = [kinds - {"visited"}]
        if "hover" in kinds:
            wanted.append(_HOVERING["hover"])
        elif "focus" in kinds:
            wanted.append(frozenset({"focus-within"}))
        for each in wanted:
            if each and each != _HOVERING["focus"]:
                places = [place for place, variant in enumerate(parent.variants) if variant.kinds == each]
                if places:
                    return max(places, key=lambda place: parent.variants[place].depth)
        return 0

    @staticmethod
    def is_focusable(element: Element) -> bool:
        """Whether it can have the focus: https://html.spec.whatwg.org/multipage/interaction.html#focusable-area"""
        tag, attrs = element.tag, element.attrs
        if tag in ("button", "input", "select", "textarea"):
            return not is_disabled(element) and attrs.get("type", "").lower() != "hidden"
        return (
            is_link(element)
            or tag in ("summary", "iframe")
            or "tabindex" in attrs
            or attrs.get("contenteditable", "false").lower() in ("", "true", "plaintext-only")
            or (tag in ("audio", "video") and "controls" in attrs)
        )

    @staticmethod
    def _situation(element: Element, node: Node, kinds: frozenset[str], depth: int) -> Situation:
        if depth == NEIGHBOUR_DEPTH:
            return Situation(frozenset(), element, True)
        holder: Element = element
        for _ in range(node.depth - depth):
            if holder.parent is None:  # the holder lies outside the shadow tree
                break
            holder = holder.parent
        return Situation(kinds, holder)

    def _styles(
        self,
        parent: Node | None,
        place: int,
        rules: Sequence[_Matchable],
        look: Look,
        states: frozenset[str] = frozenset(),
    ) -> tuple[Style | None, ...]:
        """The styles in every scenario; `place` is the parent's variant they go on from."""
        entries = [rule.entry for rule in rules if rule.pseudo is None]
        entries.extend(look.entries)
        entries.sort(key=lambda entry: entry.rank)
        whole = tuple(entries)
        same_everywhere = all(entry.mask == self._everything for entry in entries)
        result: list[Style | None] = []
        above = None if parent is None else parent.variants[place].styles if place else parent.rest
        for number, scenario in enumerate(self.scenarios):
            if states and not states & set(scenario.states):
                result.append(None)
                continue
            kept = whole if same_everywhere else tuple(entry for entry in entries if entry.mask >> number & 1)
            if above is None:
                key = self.surroundings[number], kept
                if key not in self._root_styles:
                    self._root_styles[key] = Style(None, kept, self.surroundings[number], self.registered)
                result.append(self._root_styles[key])
                continue
            outer = above[number]
            if outer is None:
                result.append(None)
            else:
                result.append(outer.child(kept))
        if look.tag == "body":
            for style in result:
                if style is not None:
                    style.keep(BODY, True)
        return tuple(result)

    def _add_pseudo_elements(self, node: Node) -> None:
        node.pseudo = {}
        rules_of = [way.rules for way in node.ways]
        names = {rule.pseudo for rules in rules_of for rule in rules if rule.pseudo is not None}
        for name in names:
            if not _can_have(node.look, name):
                continue
            if name in _NEEDS_CONTENT and not any(
                rule.pseudo == name
                and ("content" in rule.entry.block.normal or "content" in rule.entry.block.important)
                for rules in rules_of
                for rule in rules
            ):
                continue
            variants = []
            for variant, rules in zip(node.variants, rules_of, strict=True):
                entries = sorted(
                    (rule.entry for rule in rules if rule.pseudo == name), key=lambda entry: entry.rank
                )
                styles = tuple(
                    None
                    if style is None
                    else style.child(tuple(entry for entry in entries if entry.mask >> number & 1))
                    for number, style in enumerate(variant.styles)
                )
                variants.append(variant._replace(styles=styles))
            node.pseudo[name] = tuple(variants)


_NEEDS_CONTENT: Final = ("before", "after")
_PSEUDO_HOLDERS: Final = {
    "placeholder": ("input", "textarea"),
    "file-selector-button": ("input",),
    "marker": ("li", "summary"),
}


def _can_have(look: Look, pseudo: str) -> bool:
    """Whether an element has such a pseudo-element; a plus sign stands for one in a state of its own."""
    return not pseudo.endswith("+") and look.tag in _PSEUDO_HOLDERS.get(pseudo, (look.tag,))
