"""Turns readings into verdicts and findings: which texts fail, in which scenario, because of what, and what would pass."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import compress
from typing import Final, Literal, NamedTuple, TypeAlias

from sitegen.proof.checks.base import PageFinding, Rule
from sitegen.proof.contrast import marks
from sitegen.proof.contrast.backdrop import PictureFinder
from sitegen.proof.contrast.drawings import (
    LETTERING,
    DrawingProblem,
    drawing_problem,
    stands_for_something,
)
from sitegen.proof.contrast.exempt import Exemptions, belongs_to_language, is_language, own_text
from sitegen.proof.contrast.formulas import (
    ENHANCED_LARGE_TEXT,
    ENHANCED_TEXT,
    MINIMUM_LARGE_TEXT,
    MINIMUM_TEXT,
    NON_TEXT,
    hexadecimal,
    shown,
)
from sitegen.proof.contrast.names import names_in
from sitegen.proof.contrast.placement import narrowed_layers
from sitegen.proof.contrast.reading import Pair, Reading, ink_property, narrowed_reading, reading_of
from sitegen.proof.contrast.selectors import input_type, is_link, is_typed_into
from sitegen.proof.contrast.style import Style
from sitegen.proof.contrast.stylesheets import THE_BROWSERS, THE_ELEMENTS, Source
from sitegen.proof.contrast.theme import DOUBT_DEPTH, NEIGHBOUR_DEPTH, Node, Theme, Variant
from sitegen.proof.contrast.values import significant
from sitegen.proof.document import Document, Element, Text

MINIMUM: Final = Rule("text-contrast", "1.4.3", "AA", ("afw4f7",))
ENHANCED: Final = Rule("text-contrast-enhanced", "1.4.6", "AAA", ("09o5cg",))
# Text the ACT rules leave out, because it is in no text node of an HTML element: the criteria hold for it all the same.
MINIMUM_BEYOND: Final = Rule("text-contrast", "1.4.3", "AA")
ENHANCED_BEYOND: Final = Rule("text-contrast-enhanced", "1.4.6", "AAA")
SIGN: Final = Rule("sign-contrast", "1.4.11", "AA")
STYLESHEET: Final = Rule("stylesheet-read", "1.4.3", "AA")
# Text that isn't in the page's bytes can fail either rule.
SCRIPTED: Final = Rule("scripted-text", "1.4.3", "AA", (*MINIMUM.act, *ENHANCED.act))

CHECKS: Final = (MINIMUM, ENHANCED, SIGN, STYLESHEET, SCRIPTED, *marks.RULES)

_BEYOND: Final = {MINIMUM: MINIMUM_BEYOND, ENHANCED: ENHANCED_BEYOND}

# Content of these is shown only where the browser can't show the thing itself.
_REPLACED: Final = frozenset({"iframe", "video", "audio", "canvas", "object"})
_WITHOUT_TEXT: Final = frozenset({"script", "style", "head", "meta", "link", "title", "html", "template"})
_CONTROLS: Final = frozenset({"a", "area", "button", "input", "select", "textarea", "summary"})
# Pseudo-elements with text of their own, or through which an element's text is seen.
_GENERATED: Final = (
    "before",
    "after",
    "marker",
    "placeholder",
    "selection",
    "first-letter",
    "first-line",
    "file-selector-button",
)
_MOST_NAMED: Final = 4
_MOST_DRAWN: Final = 2_000
_OFTEN: Final = 8

Outcome = Literal["fails", "unsure"]
DrawingCases: TypeAlias = tuple[tuple[DrawingProblem, tuple[int, ...]], ...]
"""What does not pass of a drawing, each with the numbers of the scenarios."""


class Problem(NamedTuple):
    """A text of one style that does not pass one rule."""

    rule: Rule
    outcome: Outcome
    needed: float
    reading: Reading
    style: Style
    kinds: frozenset[str]
    """States of the variant it was found in."""
    scenarios: tuple[int, ...]
    """Numbers of the theme's scenarios."""
    reason: str
    """Why it is unsure, or ""."""
    pseudo: str = ""
    """The pseudo-element the text is in, or ""."""


class Judged(NamedTuple):
    """What is wrong with a node's elements, as far as that doesn't depend on the element."""

    texts: tuple[Problem, ...]
    generated: tuple[Problem, ...]
    marks: tuple[marks.MarkProblem, ...]
    over: tuple[Problem, ...]
    """Texts that would pass but may lie over something else than what is around them."""


CLEAN: Final = ()
"""The judgement of a node whose elements have nothing wrong with them."""


def needed_for(rule: Rule, is_large: bool) -> float:
    """The ratio a text needs."""
    if rule.level == "AAA":
        return ENHANCED_LARGE_TEXT if is_large else ENHANCED_TEXT
    return MINIMUM_LARGE_TEXT if is_large else MINIMUM_TEXT


class Judge:
    """Judges the pages of one theme."""

    def __init__(self, theme: Theme, find: PictureFinder, missing: Sequence[str]) -> None:
        self.theme = theme
        self.find = find
        self._missing = tuple(missing)
        self._drawn: dict[tuple[bool, tuple[Node, ...], tuple[str, ...]], DrawingCases] = {}

    def drawing_cases(self, svg: Element, nodes: Sequence[Node], places: dict[Element, int]) -> DrawingCases:
        """What does not pass of a drawing, and in which scenarios."""
        inside = [svg, *_elements_in(svg)]
        # Drawings of the same nodes, in the same order, have the same styles and stand in one another in the same way.
        key = (
            stands_for_something(svg),
            tuple([nodes[places[each]] for each in inside]),
            tuple([own_text(each) for each in inside if each.tag in LETTERING]),
        )
        known = self._drawn.get(key)
        if known is None:
            if len(self._drawn) >= _MOST_DRAWN:
                self._drawn.clear()
            known = self._drawn[key] = self._drawing_cases(svg, nodes, places, key[0])
        return known

    def _drawing_cases(
        self, svg: Element, nodes: Sequence[Node], places: dict[Element, int], stands: bool
    ) -> DrawingCases:
        cases: dict[DrawingProblem, list[int]] = {}
        inside = [nodes[places[each]].rest for each in (svg, *_elements_in(svg))]
        # Scenarios that agree in every style of a drawing agree in what is found there.
        found_with: dict[tuple[Style | None, ...], tuple[DrawingProblem, ...]] = {}
        for number, styles in enumerate(zip(*inside, strict=True)):
            problems = found_with.get(styles)
            if problems is None:
                problems = found_with[styles] = tuple(
                    drawing_problem(svg, nodes, places, number, self.find, stands)
                )
            for found in problems:
                cases.setdefault(found, []).append(number)
        return tuple((problem, tuple(numbers)) for problem, numbers in cases.items())

    def reading(self, style: Style) -> Reading:
        """The contrast of text directly inside something of this style."""
        return reading_of(style, self.find, self.theme.animated)

    def findings(
        self, address: str, document: Document, elements: Sequence[Element], nodes: Sequence[Node]
    ) -> Iterator[PageFinding]:
        """The findings on a page's elements; `nodes` are theirs, in the same order."""
        for path in self._missing:
            yield finding(
                address,
                1,
                STYLESHEET,
                "unsure",
                f"The stylesheet {path} cannot be read here, so what it does to the contrast is not known.",
                "Keep stylesheets within the site.",
            )
        page: _Page | None = None
        # A page has far fewer nodes than elements.
        unclear = {node for node in set(nodes) if node.judged is not CLEAN}
        for place in compress(range(len(nodes)), map(unclear.__contains__, nodes)) if unclear else ():
            node = nodes[place]
            judged = node.judged
            if judged is CLEAN:  # since an earlier element of this page was judged
                continue
            if judged is None:
                if not self._is_wanted(elements[place], node):
                    continue
                judged = node.judged = self._judge(node, elements[place])
                if judged is CLEAN:
                    continue
            if page is None:
                page = _Page(self, address, document)
            yield from page.report(elements[place], judged)
        drawings = document.tagged("svg")
        if drawings:
            page = page or _Page(self, address, document)
            places = dict(zip(elements, range(len(elements)), strict=True))
            for element in drawings:
                if element in places:
                    yield from page.drawing(element, nodes, places)

    # -- one node

    def _is_wanted(self, element: Element, node: Node) -> bool:
        """Whether a node has to be judged: once any of its elements holds text, or has been asked of often enough."""
        node.asked += 1
        if node.asked > _OFTEN or node.pseudo or element.tag in _CONTROLS or "tabindex" in element.attrs:
            return True
        return any(type(child) is Text and not child.data.isspace() for child in element.children)

    def _judge(self, node: Node, element: Element) -> Judged | tuple[()]:
        if node.look.tag in _WITHOUT_TEXT or element.namespace != "html":
            return CLEAN
        texts, over = self._of_variants(node.variants, "")
        generated: list[Problem] = []
        for name in _GENERATED:
            if name in node.pseudo:
                generated += self._of_variants(node.pseudo[name], name)[0]
        found = tuple(marks.mark_problems(self.theme, node, element, self.find))
        if texts or generated or found or over:
            return Judged(tuple(texts), tuple(generated), found, tuple(over))
        return CLEAN

    def _of_variants(self, variants: Sequence[Variant], pseudo: str) -> tuple[list[Problem], list[Problem]]:
        readings: dict[Style, tuple[Reading, Variant, list[int]]] = {}
        for variant in variants:
            for number, style in enumerate(variant.styles):
                if style is None:
                    continue
                if style not in readings:
                    readings[style] = self.reading(style), variant, [number]
                elif readings[style][1] is variant:
                    readings[style][2].append(number)
        is_seen_somewhere = any(
            reading.is_seen and not reading.is_same for reading, _, _ in readings.values()
        )
        problems: list[Problem] = []
        over: list[Problem] = []
        for style, (reading, variant, numbers) in readings.items():
            for rule in (MINIMUM, ENHANCED):
                needed = needed_for(rule, reading.is_large)
                outcome, reason = _outcome(reading, needed, is_seen_somewhere)
                if outcome is None:
                    if reading.over and reading.is_seen and not reading.is_same:
                        over.append(
                            Problem(
                                rule,
                                "unsure",
                                needed,
                                reading,
                                style,
                                variant.kinds,
                                tuple(numbers),
                                reading.over,
                                pseudo,
                            )
                        )
                    continue
                if variant.depth in (DOUBT_DEPTH, NEIGHBOUR_DEPTH) and variant.reason:
                    outcome, reason = "unsure", variant.reason
                problems.append(
                    Problem(
                        rule, outcome, needed, reading, style, variant.kinds, tuple(numbers), reason, pseudo
                    )
                )
        return problems, over

    # -- words

    def sources(self, style: Style) -> str:
        """Where the colours of a text and its background come from, as a sentence; "" where nothing says."""
        ink = self._place(style.source(ink_property(style)) or style.source("color"))
        paper = ""
        holder: Style | None = style
        while holder is not None and not paper:
            for name in ("background-image", "background-color"):
                if holder.value(name) not in ("none", (0.0, 0.0, 0.0, 0.0)) and not paper:
                    paper = self._place(holder.source(name))
            holder = holder.parent
        words = []
        if ink:
            words.append(f"the text's colour by {ink}")
        if paper:
            words.append(f"the background by {paper}")
        if not words:
            return ""
        joined = " and ".join(words)
        return f" {joined[0].upper()}{joined[1:]}."

    def _place(self, source: Source | None) -> str:
        if source is None:
            return ""
        if source.sheet == THE_BROWSERS:
            return "the browser's own style"
        if source.sheet == THE_ELEMENTS:
            return f"{source.text} on the element itself"
        name = source.sheet or "the page's style element"
        return f"{source.text} in {name}, line {source.line}"

    def circumstances(self, cases: Iterable[tuple[str, tuple[int, ...]]]) -> str:
        """Scenarios and states as words for a report; "" where that goes without saying."""
        scenarios = self.theme.scenarios
        by_states: dict[str, set[int]] = {}
        for states, found in cases:
            by_states.setdefault(states, set()).update(found)
        if len(by_states.get("", ())) == len(scenarios):
            return ""
        words = []
        for states, numbers in by_states.items():
            if len(numbers) == len(scenarios):
                place = "every scenario" if len(scenarios) > 1 else ""
            else:
                names = [scenarios[number].name for number in sorted(numbers)]
                more = len(names) - _MOST_NAMED
                place = " and ".join(names[:_MOST_NAMED]) + (f" and {more} more" if more > 0 else "")
            word = f"{place} on {states}" if place and states else place or (f"on {states}" if states else "")
            if word:
                words.append(word)
        return "; ".join(words)


def state_words(kinds: frozenset[str]) -> str:
    """States as a report names them."""
    if "active" in kinds:
        return "press"
    return " and ".join(sorted(kinds - {"focus-visible"}))


class _Page:
    """Findings on the elements of one page."""

    def __init__(self, judge: Judge, address: str, document: Document) -> None:
        self._judge = judge
        self._address = address
        self._document = document
        self._exemptions = Exemptions(document)

    def report(self, element: Element, judged: Judged) -> Iterator[PageFinding]:
        """The findings on one element."""
        # What is exempt is asked last: it takes the longest to answer, and most problems are none for other reasons.
        found: list[PageFinding] = []
        if judged.texts or judged.over:
            found += self._texts(element, judged)
        if judged.generated:
            found += self._generated(element, judged.generated)
        if judged.marks:
            found += self._marks(element, judged.marks)
        if not found or any(each.tag in _REPLACED for each in element.ancestors()):
            return
        if not self._exemptions.is_disabled(element):
            yield from found

    def _texts(self, element: Element, judged: Judged) -> Iterator[PageFinding]:
        text = own_text(element)
        typed = "" if text and element.tag != "textarea" else _value_text(element)
        if not (text or typed) or element.tag in _REPLACED:
            return
        problems = list(judged.texts)
        if judged.over and self._lies_over_something(element):
            problems += judged.over
        if not problems:
            return
        if text and not belongs_to_language(element):
            yield from self._sign(element, text, judged.texts)
            return
        yield from self._by_rule(element, text or typed, problems, bool(text))

    def _by_rule(
        self, element: Element, text: str, problems: Sequence[Problem], is_text_node: bool
    ) -> Iterator[PageFinding]:
        for rule in (MINIMUM, ENHANCED):
            kept = []
            for problem in problems:
                if problem.rule is rule:
                    narrowed = self._narrowed(element, text, problem)
                    if narrowed is not None:
                        kept.append(narrowed)
            if kept:
                yield self._text_finding(element, text, rule if is_text_node else _BEYOND[rule], kept)

    def _narrowed(self, element: Element, text: str, problem: Problem) -> Problem | None:
        """The problem as it is for the part of a background this text stands over; None where it is none there."""
        if problem.outcome == "fails" or problem.reason != "background-image" or problem.pseudo:
            return problem
        judge = self._judge
        scenario = judge.theme.scenarios[problem.scenarios[0]]
        narrowed = narrowed_layers(element, problem.style, text, scenario, judge.find)
        if narrowed is None:
            return problem
        reading = narrowed_reading(problem.style, judge.find, judge.theme.animated, narrowed)
        outcome, reason = _outcome(reading, problem.needed, True)
        return None if outcome is None else problem._replace(outcome=outcome, reason=reason, reading=reading)

    def _lies_over_something(self, element: Element) -> bool:
        """Whether there is anything a positioned text could lie over: pictures and the like, outside of itself."""
        pictured = self._document.tagged(
            "img", "picture", "video", "svg", "canvas", "iframe", "object", "embed"
        )
        if not pictured:
            return False
        inside = {element, *element.ancestors()}
        return any(
            each not in inside and all(above is not element for above in each.ancestors())
            for each in pictured
        )

    def _sign(self, element: Element, text: str, problems: Sequence[Problem]) -> Iterator[PageFinding]:
        """A sign on a control, such as an X that closes something, is judged as a graphic."""
        if not any(
            each.tag in _CONTROLS or each.attrs.get("role") in ("button", "link", "tab", "menuitem")
            for each in (element, *element.ancestors())
        ):
            return
        failing = [
            problem
            for problem in problems
            if problem.rule is MINIMUM
            and problem.outcome == "fails"
            and problem.reading.best is not None
            and problem.reading.best.ratio < NON_TEXT
        ]
        if failing:
            chief = _chief(failing)
            yield self._text_finding(
                element, text, SIGN, [each._replace(needed=NON_TEXT) for each in failing], chief
            )

    def _generated(self, element: Element, problems: Sequence[Problem]) -> Iterator[PageFinding]:
        for name in dict.fromkeys(problem.pseudo for problem in problems):
            of_name = [problem for problem in problems if problem.pseudo == name]
            text = _generated_text(name, element, of_name[0].style)
            if text:
                yield from self._by_rule(element, text, of_name, False)

    def _text_finding(
        self,
        element: Element,
        text: str,
        rule: Rule,
        problems: Sequence[Problem],
        chief: Problem | None = None,
    ) -> PageFinding:
        failing = [problem for problem in problems if problem.outcome == "fails"] or list(problems)
        chief = _chief(failing) if chief is None else chief._replace(needed=NON_TEXT)
        message = _message(text, chief) + (
            self._judge.sources(chief.style) if chief.outcome == "fails" else ""
        )
        where = self._judge.circumstances((state_words(each.kinds), each.scenarios) for each in failing)
        if where:
            message += f" So it is in: {where}."
        return finding(self._address, element.line, rule, chief.outcome, message, _instead(chief))

    # -- marks

    def _marks(self, element: Element, problems: Sequence[marks.MarkProblem]) -> Iterator[PageFinding]:
        for rule in dict.fromkeys(problem.rule for problem in problems):
            of_rule = [problem for problem in problems if problem.rule is rule]
            if rule is marks.LINK and not self._stands_in_text(element):
                continue
            failing = [problem for problem in of_rule if problem.outcome == "fails"] or of_rule
            chief = failing[0]
            where = self._judge.circumstances((each.states, (each.scenario,)) for each in failing)
            message = chief.message + (
                f" So it is in: {where}." if where and len(self._judge.theme.scenarios) > 1 else ""
            )
            outcome: Outcome = "fails" if chief.outcome == "fails" else "unsure"
            yield finding(self._address, element.line, rule, outcome, message, chief.instead)

    def _stands_in_text(self, link: Element) -> bool:
        """Whether there are words beside a link in the same block that belong to no link."""
        if not is_language(link.text()) or any(True for _ in _pictures_inside(link)):
            return False
        around = link.parent
        while around is not None and around.tag in _INLINE:
            around = around.parent
        return around is not None and _has_words_beside_links(around)

    # -- drawings

    def drawing(
        self, element: Element, nodes: Sequence[Node], places: dict[Element, int]
    ) -> Iterator[PageFinding]:
        """The texts of an `svg`, and the drawing itself where it stands for something."""
        judge = self._judge
        cases = judge.drawing_cases(element, nodes, places)
        for (outcome, message, instead), numbers in cases:
            where = judge.circumstances([("", numbers)])
            is_text = message.startswith("The text")
            yield finding(
                self._address,
                element.line,
                MINIMUM_BEYOND if is_text else SIGN,
                "fails" if outcome == "fails" else "unsure",
                message + (f" So it is in: {where}." if where else ""),
                instead,
            )


_INLINE: Final = names_in(
    "a abbr b bdi bdo big cite code data del dfn em font i ins kbd mark nobr q s samp small span strike"
    " strong sub sup time tt u var"
)


def _elements_in(element: Element) -> Iterator[Element]:
    return (node for node in element.descendants() if isinstance(node, Element))


def _pictures_inside(link: Element) -> Iterator[Element]:
    for node in link.descendants():
        if isinstance(node, Element) and node.tag in ("img", "svg", "picture"):
            yield node


def _has_words_beside_links(block: Element) -> bool:
    waiting: list[Element] = [block]
    while waiting:
        element = waiting.pop()
        for child in element.children:
            if isinstance(child, Text):
                if is_language(child.data):
                    return True
            elif child.tag in _INLINE and not is_link(child):
                waiting.append(child)
    return False


def _value_text(element: Element) -> str:
    """The text a viewer sees in a form control that has no text node for it."""
    if is_typed_into(element):
        return element.attrs.get("value") or "what is typed in"
    if element.tag == "input" and input_type(element) in ("submit", "reset", "button"):
        return element.attrs.get("value") or input_type(element)
    return ""


def _generated_text(name: str, element: Element, style: Style) -> str:
    """The text a pseudo-element shows, or ""."""
    if name in ("before", "after"):
        value = style.value("content")
        words = [value] if isinstance(value, str) else value
        parts = []
        for token in words:
            if isinstance(token, str):
                continue
            if token.type == "string":
                parts.append(str(token.value))
            elif token.type == "function" and token.lower_name == "attr":
                named = significant(token.arguments)
                parts.append(element.attrs.get(named[0].value.lower(), "") if named else "")
            elif token.type == "function" and token.lower_name in ("counter", "counters"):
                parts.append("12")
            elif token.type == "literal" and token.value == "/":
                break
        text = " ".join("".join(parts).split())
        return text if is_language(text) else ""
    if name == "placeholder":
        return element.attrs.get("placeholder", "").strip() if is_typed_into(element) else ""
    if name == "file-selector-button":
        return "choose a file" if element.tag == "input" and input_type(element) == "file" else ""
    if name == "marker":
        kind = style.parent.value("list-style-type") if style.parent is not None else "none"
        is_numbered = kind not in ("none", "disc", "circle", "square", "disclosure-open", "disclosure-closed")
        return "the item's number" if is_numbered and element.tag == "li" else ""
    text = own_text(element)
    if name == "first-letter":
        text = text[:1]
    return text if belongs_to_language(element) else ""


def _chief(problems: Sequence[Problem]) -> Problem:
    """The problem to describe: the one with the lowest contrast."""
    return min(problems, key=lambda problem: problem.reading.best.ratio if problem.reading.best else 0.0)


def _message(text: str, problem: Problem) -> str:
    quoted = text if len(text) <= 40 else text[:39] + "…"
    reading, needed = problem.reading, problem.needed
    subject = f"The text “{quoted}”" + (f" (::{problem.pseudo})" if problem.pseudo else "")
    if reading.best is None or reading.worst is None:
        return f"{subject}: its contrast cannot be told because of {problem.reason}."
    best, worst = reading.best, reading.worst
    if problem.outcome == "unsure" and problem.reason == reading.varies:
        return (
            f"{subject} has a contrast of {shown(worst.ratio)} ({_pair(worst)}) to {shown(best.ratio)} ({_pair(best)})"
            f" because of {reading.varies}; {needed:g}:1 is needed throughout."
        )
    if problem.outcome == "unsure":
        return (
            f"{subject} seems to have a contrast of {shown(best.ratio)} ({_pair(best)}), but that cannot be told"
            f" because of {problem.reason}; {needed:g}:1 is needed."
        )
    at_best = "at best " if best.ratio != worst.ratio else ""
    return (
        f"{subject} has a contrast of {at_best}{shown(best.ratio)} ({_pair(best)}); {needed:g}:1 is needed."
    )


def _instead(problem: Problem) -> str:
    from sitegen.proof.contrast.colours import nearest_passing

    reading = problem.reading
    if problem.outcome == "unsure" or reading.best is None:
        return "Look at it in a browser, or give the text a plain background of its own."
    ink = nearest_passing(reading.best.ink, (reading.best.paper,), problem.needed)
    paper = nearest_passing(reading.best.paper, (reading.best.ink,), problem.needed)
    options = []
    if ink is not None:
        options.append(f"{hexadecimal(ink)} for the text")
    if paper is not None:
        options.append(f"{hexadecimal(paper)} for the background")
    return f"Use {' or '.join(options)}." if options else "Change both colours; neither alone can reach it."


def finding(address: str, line: int, rule: Rule, outcome: Outcome, message: str, instead: str) -> PageFinding:
    return PageFinding(
        address, line, rule.check, rule.act, rule.criterion, rule.level, outcome, message, instead
    )


def _pair(pair: Pair) -> str:
    return f"{hexadecimal(pair.ink)} on {hexadecimal(pair.paper)}"


def _outcome(reading: Reading, needed: float, is_seen_somewhere: bool) -> tuple[Outcome | None, str]:
    """What a reading means for a rule, and why it is unsure where it is."""
    if not reading.is_seen:
        return None, ""
    if reading.best is None or reading.worst is None:
        return "unsure", reading.unknown
    if reading.is_same and not is_seen_somewhere:
        return None, ""  # invisible on purpose
    if reading.unknown:
        return "unsure", reading.unknown
    if reading.best.ratio < needed:
        return ("unsure", reading.hidden_by) if reading.hidden_by else ("fails", "")
    if reading.worst.ratio < needed:
        return "unsure", reading.varies
    return None, ""
