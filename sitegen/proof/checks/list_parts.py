"""What lists are made of: items in lists and lists of items, terms and their descriptions.

HTML's content models (https://html.spec.whatwg.org/multipage/grouping-content.html) say so; a list that is not made so
is not announced as one, which success criterion 1.3.1 asks for.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import WHITESPACE, Element, Text

LIST = Rule("list-parts", "1.3.1", "A")
ITEM = Rule("list-item-place", "1.3.1", "A")
DESCRIPTIONS = Rule("description-list-parts", "1.3.1", "A")
TERM = Rule("description-place", "1.3.1", "A")

_ANYWHERE: Final = frozenset({"script", "template"})
_LISTS: Final = frozenset({"ul", "ol", "menu"})
_ITEMS: Final = frozenset({"li"})
_DESCRIPTIONS: Final = frozenset({"dl"})
_TERMS: Final = frozenset({"dt", "dd"})
_GROUPS: Final = frozenset({"div"})


def _check(page: Page) -> Iterator[PageFinding]:
    document, semantics = page.document, page.semantics
    for holder in document.chosen(_odd_lists):
        if semantics.role(holder) != "list" or semantics.is_hidden(holder):
            continue
        odd = _odd_part(page, holder, _ITEMS, roles_are_judged=True)
        if odd:
            yield page.fails(
                LIST,
                holder,
                f"This list holds {odd} beside its items.",
                "Put everything in it into li elements.",
            )
    for item in document.chosen(_odd_items):
        around = item.parent
        if around is None or semantics.is_hidden(item):
            continue
        if around.tag not in _LISTS and semantics.role(around) != "list":
            yield page.fails(
                ITEM,
                item,
                f"This item stands in a {around.tag}, not in a list.",
                "Put it into a ul or an ol.",
            )
        elif semantics.role(around) not in ("list", "none") and "role" in around.attrs:
            yield page.fails(
                ITEM,
                item,
                f"This item's list says that it is a {semantics.role(around)}, so it is no list's item.",
                "Give the item the role that belongs there, or take the list's role away.",
            )
    for holder in document.chosen(_odd_descriptions):
        if not semantics.is_hidden(holder):
            yield from _descriptions(page, holder)
    for part in document.chosen(_odd_terms):
        around = part.parent
        if around is None or semantics.is_hidden(part):
            continue
        if around.tag == "div" and around.parent is not None and "role" not in around.attrs:
            around = around.parent
        if around.tag != "dl" or ("role" in around.attrs and semantics.role(around) != "list"):
            yield page.fails(
                TERM, part, f"This {part.tag} does not stand in a list of descriptions.", "Put it into a dl."
            )


# By far the most lists, items and descriptions are as they should be by themselves; these need a look at the page.


def _odd_lists(elements: Sequence[Element]) -> list[Element]:
    return [each for each in elements if each.tag in _LISTS and not _holds_alone(each, _ITEMS)]


def _odd_items(elements: Sequence[Element]) -> list[Element]:
    return [
        each
        for each in elements
        if each.tag == "li" and "role" not in each.attrs and not _is_in(each, _LISTS)
    ]


def _odd_descriptions(elements: Sequence[Element]) -> list[Element]:
    return [
        each
        for each in elements
        if each.tag == "dl"
        and "role" not in each.attrs
        and not (
            _describes(each)
            or (
                _holds_alone(each, _GROUPS)
                and all(_describes(child) for child in each.children if isinstance(child, Element))
            )
        )
    ]


def _odd_terms(elements: Sequence[Element]) -> list[Element]:
    return [each for each in elements if each.tag in _TERMS and not _is_in(each, _DESCRIPTIONS)]


def _is_in(part: Element, holders: frozenset[str]) -> bool:
    around = part.parent
    return around is not None and around.tag in holders and "role" not in around.attrs


def _holds_alone(holder: Element, tags: frozenset[str]) -> bool:
    for child in holder.children:
        if isinstance(child, Text):
            if child.data.strip(WHITESPACE):
                return False
        elif child.tag not in tags or "role" in child.attrs:
            return False
    return True


def _describes(holder: Element) -> bool:
    return _holds_alone(holder, _TERMS) and _are_in_pairs(
        [child.tag for child in holder.children if isinstance(child, Element)]
    )


def _are_in_pairs(tags: Sequence[str]) -> bool:
    """Whether terms come before their descriptions, and descriptions after their terms."""
    return not tags or (tags[0] == "dt" and tags[-1] == "dd")


def _odd_part(page: Page, holder: Element, tags: frozenset[str], *, roles_are_judged: bool = False) -> str:
    """What a list holds that is none of its parts, in words; "" where there is nothing.

    `roles_are_judged` where the rules of ARIA judge the parts that have a written role.
    """
    for child in holder.children:
        if isinstance(child, Text):
            if child.data.strip(WHITESPACE):
                return "text"
        elif child.tag in _ANYWHERE or page.semantics.is_hidden(child):
            continue
        elif "role" in child.attrs:
            if not roles_are_judged:
                return f"a {child.tag} with role {child.attrs['role']}"
        elif child.tag not in tags:
            return f"a {child.tag}"
    return ""


def _descriptions(page: Page, holder: Element) -> Iterator[PageFinding]:
    odd = _odd_part(page, holder, frozenset({"dt", "dd", "div"}))
    parts = [child for child in holder.children if isinstance(child, Element) and child.tag not in _ANYWHERE]
    groups = [part for part in parts if part.tag == "div"]
    if not odd:
        odd = next((odd for group in groups if (odd := _odd_part(page, group, _TERMS))), "")
    if odd:
        yield page.fails(
            DESCRIPTIONS,
            holder,
            f"This list of descriptions holds {odd}.",
            "Keep dt, dd, and div elements around them.",
        )
        return
    for sequence in [parts] if not groups else [list(_elements(group)) for group in groups]:
        tags = [part.tag for part in sequence if part.tag in ("dt", "dd")]
        if not _are_in_pairs(tags):
            yield page.fails(
                DESCRIPTIONS,
                holder,
                "In this list of descriptions a dd has no dt before it, or a dt no dd after it.",
                "Begin each group with dt and end it with dd.",
            )
            return


def _elements(holder: Element) -> Iterator[Element]:
    return (child for child in holder.children if isinstance(child, Element))


FAMILY = Family((LIST, ITEM, DESCRIPTIONS, TERM), _check)
