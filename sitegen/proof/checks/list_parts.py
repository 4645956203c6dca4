"""What lists are made of: items in lists and lists of items, terms and their descriptions.

HTML's content models (https://html.spec.whatwg.org/multipage/grouping-content.html) say so; a list that is not made so
is not announced as one, which success criterion 1.3.1 asks for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
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
    for element in page.document.chosen(_odd):
        if element.tag in _LISTS:
            yield from _list(page, element)
        elif page.semantics.is_hidden(element) or element.parent is None:
            continue
        elif element.tag == "dl":
            yield from _descriptions(page, element)
        elif element.tag == "li":
            yield from _item(page, element, element.parent)
        else:
            yield from _term(page, element, element.parent)


def _list(page: Page, holder: Element) -> Iterator[PageFinding]:
    if page.semantics.role(holder) != "list" or page.semantics.is_hidden(holder):
        return
    odd = _odd_part(page, holder, _ITEMS, roles_are_judged=True)
    if odd:
        yield page.fails(
            LIST,
            holder,
            f"This list holds {odd} beside its items.",
            "Put everything in it into li elements.",
        )


def _item(page: Page, item: Element, around: Element) -> Iterator[PageFinding]:
    role = page.semantics.role(around)
    if around.tag not in _LISTS and role != "list":
        yield page.fails(
            ITEM,
            item,
            f"This item stands in a {around.tag}, not in a list.",
            "Put it into a ul or an ol.",
        )
    elif role not in ("list", "none") and "role" in around.attrs:
        yield page.fails(
            ITEM,
            item,
            f"This item's list says that it is a {role}, so it is no list's item.",
            "Give the item the role that belongs there, or take the list's role away.",
        )


def _term(page: Page, part: Element, around: Element) -> Iterator[PageFinding]:
    if around.tag == "div" and around.parent is not None and "role" not in around.attrs:
        around = around.parent
    if around.tag != "dl" or ("role" in around.attrs and page.semantics.role(around) != "list"):
        yield page.fails(
            TERM, part, f"This {part.tag} does not stand in a list of descriptions.", "Put it into a dl."
        )


# By far the most lists, items and descriptions are as they should be by themselves; these need a look at the page.


def _odd(elements: Sequence[Element]) -> list[Element]:
    return [each for each in elements if each.tag in _LOOKED_AT and _LOOKED_AT[each.tag](each)]


def _is_odd_list(holder: Element) -> bool:
    return not _holds_alone(holder, _ITEMS)


def _is_odd_item(item: Element) -> bool:
    return "role" not in item.attrs and not _is_in(item, _LISTS)


def _are_odd_descriptions(holder: Element) -> bool:
    return "role" not in holder.attrs and not (
        _describes(holder)
        or (
            _holds_alone(holder, _GROUPS)
            and all(_describes(child) for child in holder.children if isinstance(child, Element))
        )
    )


def _is_odd_term(part: Element) -> bool:
    return not _is_in(part, _DESCRIPTIONS)


_LOOKED_AT: Final[dict[str, Callable[[Element], bool]]] = {
    **dict.fromkeys(_LISTS, _is_odd_list),
    **dict.fromkeys(_ITEMS, _is_odd_item),
    **dict.fromkeys(_DESCRIPTIONS, _are_odd_descriptions),
    **dict.fromkeys(_TERMS, _is_odd_term),
}


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
