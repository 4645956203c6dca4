"""Turns readings into verdicts and findings: which texts fail, in which scenario, because of what, and what would pass."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Final, Literal, NamedTuple

from sitegen.proof.checks.base import PageFinding, Rule
from sitegen.proof.contrast.backdrop import PictureFinder
from sitegen.proof.contrast.exempt import Exemptions, belongs_to_language, own_text
from sitegen.proof.contrast.formulas import (
    ENHANCED_LARGE_TEXT,
    ENHANCED_TEXT,
    MINIMUM_LARGE_TEXT,
    MINIMUM_TEXT,
    hexadecimal,
    shown,
)
from sitegen.proof.contrast.placement import narrowed_layers
from sitegen.proof.contrast.reading import Pair, Reading, ink_property, narrowed_reading, reading_of
from sitegen.proof.contrast.style import Style
from sitegen.proof.contrast.stylesheets import Source
from sitegen.proof.contrast.theme import DOUBT_DEPTH, NEIGHBOUR_DEPTH, Node, Theme, Variant
from sitegen.proof.document import Document, Element, Text

MINIMUM: Final = Rule("text-contrast", "1.4.3", "AA", ("afw4f7",))
ENHANCED: Final = Rule("text-contrast-enhanced", "1.4.6", "AAA", ("09o5cg",))
STYLESHEET: Final = Rule("stylesheet-read", "1.4.3", "AA")

CHECKS: Final = (MINIMUM, ENHANCED, STYLESHEET)

# Content of these is shown only where the browser can't show the thing itself.
_REPLACED: Final = frozenset({"iframe", "video", "audio", "canvas", "object"})

_NOTHING: Final = ()
_OFTEN: Final = 8

Outcome = Literal["fails", "unsure"]


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
    pseudo: str
    """The pseudo-element the text is in, or ""."""
    reason: str
    """Why it is unsure, or ""."""


def needed_for(rule: Rule, is_large: bool) -> float:
    """The ratio a text needs."""
    if rule is ENHANCED:
        return ENHANCED_LARGE_TEXT if is_large else ENHANCED_TEXT
    return MINIMUM_LARGE_TEXT if is_large else MINIMUM_TEXT


class Judge:
    """Judges the pages of one theme."""

    def __init__(self, theme: Theme, find: PictureFinder, missing: Sequence[str]) -> None:
        self.theme = theme
        self.find = find
        self._missing = tuple(missing)

    def reading(self, style: Style) -> Reading:
        """The contrast of text directly inside something of this style."""
        return reading_of(style, self.find, self.theme.animated)

    def findings(self, address: str, document: Document, nodes: Sequence[Node]) -> Iterator[PageFinding]:
        """The findings on one page; `nodes` are those of its elements in order."""
        for path in self._missing:
            yield self._finding(
                address,
                1,
                STYLESHEET,
                "unsure",
                f"The stylesheet {path} cannot be read here, so what it does to the contrast is not known.",
                "Keep stylesheets within the site.",
            )
        exemptions: Exemptions | None = None
        elements = document.elements
        for place, node in enumerate(nodes):
            problems = node.judged
            if problems is _NOTHING:
                continue
            if problems is None:
                if not self._is_wanted(elements[place], node):
                    continue
                problems = node.judged = self._judge(node) or _NOTHING
            if problems:
                if exemptions is None:
                    exemptions = Exemptions(document)
                yield from self._report(address, elements[place], problems, exemptions)

    # -- one node

    def _is_wanted(self, element: Element, node: Node) -> bool:
        """Whether a node has to be judged: once any of its elements holds text, or has been asked of often enough."""
        node.asked += 1
        if node.asked > _OFTEN or node.pseudo:
            return True
        return any(type(child) is Text and not child.data.isspace() for child in element.children)

    def _judge(self, node: Node) -> tuple[Problem, ...]:
        found: list[Problem] = []
        if node.look.tag not in ("script", "style", "head", "meta", "link", "title", "html"):
            found.extend(self._of_variants(node.variants, ""))
        return tuple(found)

    def _of_variants(self, variants: Sequence[Variant], pseudo: str) -> Iterator[Problem]:
        readings: dict[Style, tuple[Reading, Variant, list[int]]] = {}
        for variant in variants:
            for number, style in enumerate(variant.styles):
                if style is None:
                    continue
                if style in readings:
                    if readings[style][1] is variant:
                        readings[style][2].append(number)
                    continue
                readings[style] = self.reading(style), variant, [number]
        is_seen_somewhere = any(reading.is_seen and not reading.is_same for reading, _, _ in readings.values())
        for style, (reading, variant, numbers) in readings.items():
            for rule in (MINIMUM, ENHANCED):
                needed = needed_for(rule, reading.is_large)
                outcome, reason = _outcome(reading, needed, is_seen_somewhere)
                if outcome is None:
                    continue
                if variant.depth in (DOUBT_DEPTH, NEIGHBOUR_DEPTH) and variant.reason:
                    outcome, reason = "unsure", variant.reason
                yield Problem(
                    rule, outcome, needed, reading, style, variant.kinds, tuple(numbers), pseudo, reason
                )

    # -- one element

    def _report(
        self, address: str, element: Element, problems: Sequence[Problem], exemptions: Exemptions
    ) -> Iterator[PageFinding]:
        text = own_text(element)
        if not text or element.namespace != "html":
            return
        if any(each.tag in _REPLACED for each in (element, *element.ancestors())):
            return
        if not belongs_to_language(element) or exemptions.is_disabled(element):
            return
        for rule in (MINIMUM, ENHANCED):
            of_rule = [
                narrowed
                for problem in problems
                if problem.rule is rule and (narrowed := self._narrowed(element, text, problem)) is not None
            ]
            if of_rule:
                yield self._text_finding(address, element, text, rule, of_rule)

    def _narrowed(self, element: Element, text: str, problem: Problem) -> Problem | None:
        """The problem as it is for the part of a background this text stands over; None where it is none there."""
        reading = problem.reading
        if problem.outcome == "fails" or problem.reason != "background-image" or problem.pseudo:
            return problem
        scenario = self.theme.scenarios[problem.scenarios[0]]
        narrowed = narrowed_layers(element, problem.style, text, scenario, self.find)
        if narrowed is None:
            return problem
        reading = narrowed_reading(problem.style, self.find, self.theme.animated, narrowed)
        outcome, reason = _outcome(reading, problem.needed, True)
        return None if outcome is None else problem._replace(outcome=outcome, reason=reason, reading=reading)

    def _text_finding(
        self, address: str, element: Element, text: str, rule: Rule, problems: Sequence[Problem]
    ) -> PageFinding:
        failing = [problem for problem in problems if problem.outcome == "fails"]
        chief = min(failing or problems, key=lambda problem: problem.reading.best.ratio if problem.reading.best else 0)
        message = self._message(text, chief)
        circumstances = self._circumstances(failing or problems)
        if circumstances:
            message += f" So it is in: {circumstances}."
        return self._finding(address, element.line, rule, chief.outcome, message, self._instead(chief))

    def _message(self, text: str, problem: Problem) -> str:
        quoted = text if len(text) <= 40 else text[:39] + "…"
        reading, needed = problem.reading, problem.needed
        subject = f"The text “{quoted}”"
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
            f"{self._sources(problem.style)}"
        )

    def _sources(self, style: Style) -> str:
        """Where the two colours come from."""
        ink = self._place(style.source(ink_property(style)) or style.source("color"))
        paper = None
        holder: Style | None = style
        while holder is not None and paper is None:
            for name in ("background-color", "background-image"):
                source = holder.source(name)
                if source is not None and holder.value(name) not in ("none", (0.0, 0.0, 0.0, 0.0)):
                    paper = self._place(source)
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
        if source.sheet == -1:
            return "the browser's own style"
        if source.sheet == -2:
            return f"{source.text} on the element itself"
        name = self.theme.sheets[source.sheet].name or "the page's style element"
        return f"{source.text} in {name}, line {source.line}"

    def _circumstances(self, problems: Sequence[Problem]) -> str:
        """The scenarios and states that don't pass; "" where that goes without saying."""
        scenarios = self.theme.scenarios
        words: list[str] = []
        for problem in problems:
            states = " and ".join(sorted(problem.kinds - {"focus-visible"}))
            if len(problem.scenarios) == len(scenarios):
                places = ["every scenario"] if len(scenarios) > 1 else []
            else:
                places = [scenarios[number].name for number in problem.scenarios]
            for place in places or [""]:
                word = ", ".join(part for part in (place, states) if part)
                if word and word not in words:
                    words.append(word)
        return "; ".join(words)

    def _instead(self, problem: Problem) -> str:
        from sitegen.proof.contrast.colours import nearest_passing

        reading = problem.reading
        if problem.outcome == "unsure" or reading.best is None or reading.is_same:
            return "Look at it in a browser, or give the text a plain background of its own."
        ink = nearest_passing(reading.best.ink, (reading.best.paper,), problem.needed)
        paper = nearest_passing(reading.best.paper, (reading.best.ink,), problem.needed)
        options = []
        if ink is not None:
            options.append(f"{hexadecimal(ink)} for the text")
        if paper is not None:
            options.append(f"{hexadecimal(paper)} for the background")
        return f"Use {' or '.join(options)}." if options else "Change both colours; neither alone can reach it."

    @staticmethod
    def _finding(
        address: str, line: int, rule: Rule, outcome: Outcome, message: str, instead: str
    ) -> PageFinding:
        return PageFinding(address, line, rule.check, rule.act, rule.criterion, rule.level, outcome, message, instead)


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
        return "fails", ""
    if reading.worst.ratio < needed:
        return "unsure", reading.varies
    return None, ""


Loader = Callable[[str], bytes | None]
