"""What every check is made of: the rule it answers to, the page it reads, and the finding it gives."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from sitegen.proof.aria import SIMPLE_ROLES
from sitegen.proof.document import Choice, Document, Element, Text
from sitegen.proof.names import Names
from sitegen.proof.semantics import Semantics
from sitegen.proof.styles import Styles

_DRAWING: Final = re.compile(
    r"\s*(?:<\?xml[^>]*>\s*|<!--.*?-->\s*)*<(?:svg|math)\b(?!.*<(?:html|body)\b)", re.DOTALL | re.IGNORECASE
)

_NONE: Final[frozenset[str]] = frozenset()
_SIMPLE: Final = {
    role: frozenset(tag for tag, its_role in SIMPLE_ROLES.items() if its_role == role)
    for role in ("heading", "main", "button", "progressbar", "meter", "dialog")
}
"""Elements that have a role whatever stands in or around them, by role."""


def _links(elements: Sequence[Element]) -> list[Element]:
    return [
        each
        for each in elements
        if each.tag in _MAY_LEAD
        and "role" not in each.attrs
        and (
            "href" in each.attrs
            if each.namespace == "html"
            else each.namespace == "svg"
            and each.tag == "a"
            and ("href" in each.attrs or "xlink:href" in each.attrs)
        )
    ]


def _headings(elements: Sequence[Element]) -> list[Element]:
    headings = _SIMPLE["heading"]
    return [
        each
        for each in elements
        if each.tag in headings and "role" not in each.attrs and each.namespace == "html"
    ]


_MAY_LEAD: Final = frozenset({"a", "area"})
_CHOICES: Final[dict[str, Choice]] = {"link": _links, "heading": _headings}
"""Roles that many elements have and that nothing around an element changes: those who have them by themselves."""

Level: TypeAlias = Literal["A", "AA", "AAA", ""]
Verdict: TypeAlias = Literal["fails", "unsure"]


@dataclass(frozen=True, slots=True)
class Rule:
    """What a check answers to."""

    check: str
    """The check's own name, as reports show it."""
    criterion: str = ""
    """The success criterion of WCAG 2.2, such as "1.1.1"; empty for good practice and for the standards of HTML and ARIA."""
    level: Level = ""
    """That criterion's level; empty where there is no criterion."""
    act: tuple[str, ...] = ()
    """Ids of the ACT rules (https://www.w3.org/WAI/standards-guidelines/act/rules/) this check decides."""


@dataclass(frozen=True, slots=True)
class PageFinding:
    """One thing on one page that fails, or that bytes alone cannot decide."""

    page: str
    """The page's address as it was given."""
    line: int
    """Counted from 1."""
    check: str
    act: tuple[str, ...]
    criterion: str
    level: Level
    verdict: Verdict
    message: str
    """What is wrong, in one sentence."""
    instead: str
    """What to write instead; may be empty where the message says it."""


class Page:
    """A page as the checks read it: the tree, and what several checks ask for, worked out once."""

    __slots__ = ("_by_role", "_by_written_role", "address", "document", "names", "semantics")

    def __init__(self, address: str, document: Document, styles: Styles | None = None) -> None:
        """`styles` as for `Semantics`."""
        self.address = address
        self.document = document
        self.semantics = Semantics(document, styles)
        self.names = Names(self.semantics)
        self._by_role: dict[str, list[Element]] = {}
        self._by_written_role: dict[str, list[Element]] = {}
        for element in document.having("role"):
            self._by_written_role.setdefault(self.semantics.role(element), []).append(element)

    @property
    def is_drawing(self) -> bool:
        """Whether the source is a drawing or formula by itself, to which rules about HTML pages don't apply."""
        return _DRAWING.match(self.document.source) is not None

    def with_role(self, role: str, *tags: str) -> list[Element]:
        """Elements that have this role and are not hidden; `tags` are all names of elements that have it by themselves."""
        known = self._by_role.get(role)
        if known is None:
            semantics, implicit_role = self.semantics, self.semantics.implicit_role
            simple = _SIMPLE.get(role, _NONE)
            choice = _CHOICES.get(role)
            if choice is not None:
                known = self.document.chosen(choice)
            else:
                known = [
                    element
                    for element in (self.document.tagged(*tags) if tags else ())
                    if "role" not in element.attrs
                    and (
                        (element.tag in simple and element.namespace == "html")
                        or implicit_role(element) == role
                    )
                ]
            known += self._by_written_role.get(role, ())
            if known and not semantics.hides_nothing:
                known = semantics.unhidden(known)
            self._by_role[role] = known
        return known

    def fails(self, rule: Rule, where: Element | Text | int, message: str, instead: str = "") -> PageFinding:
        """A finding that the page fails `rule`."""
        return self._finding(rule, where, "fails", message, instead)

    def unsure(self, rule: Rule, where: Element | Text | int, message: str, instead: str = "") -> PageFinding:
        """A finding that somebody must look: the bytes do not decide."""
        return self._finding(rule, where, "unsure", message, instead)

    def _finding(
        self, rule: Rule, where: Element | Text | int, verdict: Verdict, message: str, instead: str
    ) -> PageFinding:
        line = where if isinstance(where, int) else where.line
        return PageFinding(
            self.address, line, rule.check, rule.act, rule.criterion, rule.level, verdict, message, instead
        )


@dataclass(frozen=True, slots=True)
class Family:
    """Checks that belong together: the rules they answer to and the function that applies them all."""

    rules: tuple[Rule, ...]
    check: Callable[[Page], Iterator[PageFinding]]
