"""Cells of data tables: headers that say something, scopes that mean something, captions said once, and big tables that
have headers at all.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import Element

EMPTY_HEADER = Rule("table-header-name")
SCOPE = Rule("table-scope")
CAPTION_TWICE = Rule("table-caption-once")
NO_HEADERS = Rule("table-without-headers", "1.3.1", "A")

_SCOPES: Final = frozenset({"row", "col", "rowgroup", "colgroup"})
_BIG: Final = 3
"""Rows and columns that no layout has by chance (our own choice)."""


def _check(page: Page) -> Iterator[PageFinding]:
    document, semantics = page.document, page.semantics
    tables = document.tagged("table")
    if not tables:
        return
    for header in document.tagged("th"):
        if semantics.role(header) not in ("columnheader", "rowheader", "cell") or semantics.is_hidden(header):
            continue
        if not page.names.name(header) and not _holds_control(page, header):
            yield page.fails(
                EMPTY_HEADER, header, "This header says nothing.", "Name the row or column, or make it a td."
            )
    for cell in document.having("scope"):
        scope = cell.attrs["scope"].strip().lower()
        if cell.tag not in ("th", "td") or semantics.is_hidden(cell):
            continue
        if cell.tag == "td" or scope not in _SCOPES:
            yield page.fails(
                SCOPE,
                cell,
                f'scope="{scope}" means nothing on this {cell.tag}.',
                "Write scope on th elements alone, as row, col, rowgroup or colgroup.",
            )
    for table in tables:
        if semantics.is_hidden(table):
            continue
        caption = next((child for child in _within(table, "caption")), None)
        summary = " ".join(table.attrs.get("summary", "").lower().split())
        if summary and caption is not None and summary == " ".join(caption.text().lower().split()):
            yield page.fails(
                CAPTION_TWICE, table, "Its summary says the same as its caption.", "Remove the summary."
            )
        if semantics.role(table) == "table" and _is_big(table) and not _has_headers(page, table):
            yield page.unsure(
                NO_HEADERS,
                table,
                "No cell of this table is a header.",
                'Make the cells that name rows or columns th elements, or say role="presentation" if it is no table.',
            )


def _within(table: Element, *tags: str) -> Iterator[Element]:
    """Elements of a table with these names, those of tables inside it left out."""
    waiting: list[Element] = [table]
    while waiting:
        for child in waiting.pop().children:
            if isinstance(child, Element):
                if child.tag in tags:
                    yield child
                if child.tag != "table":
                    waiting.append(child)


def _is_big(table: Element) -> bool:
    rows = list(_within(table, "tr"))
    most = max((sum(isinstance(cell, Element) for cell in row.children) for row in rows), default=0)
    return len(rows) >= _BIG and most >= _BIG


def _has_headers(page: Page, table: Element) -> bool:
    return any(
        cell.tag == "th" or page.semantics.role(cell) in ("columnheader", "rowheader")
        for cell in _within(table, "th", "td")
    )


def _holds_control(page: Page, header: Element) -> bool:
    return any(
        isinstance(node, Element) and page.semantics.is_focusable(node) for node in header.descendants()
    )


FAMILY = Family((EMPTY_HEADER, SCOPE, CAPTION_TWICE, NO_HEADERS), _check)
