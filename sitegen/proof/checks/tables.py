"""Tables: header cells that head something, and cells that name their headers rightly.

Cells are laid out and headers assigned as the HTML Standard does it
(https://html.spec.whatwg.org/multipage/tables.html#table-processing-model).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import WHITESPACE, Element, whole_number

HEADERS = Rule("table-headers", "1.3.1", "A", ("a25f45",))
# HTML wants a header cell there; the ACT rule is content with any cell.
HEADERS_ARE_HEADERS = Rule("table-headers-are-th", "1.3.1", "A")
ASSIGNED = Rule("table-header-assigned", "1.3.1", "A", ("d0f69e",))

_TABLE_ROLES: Final = frozenset({"table", "grid", "treegrid"})
_HEADER_ROLES: Final = frozenset({"columnheader", "rowheader"})
_CELL_ROLES: Final = frozenset({"cell", "gridcell"}) | _HEADER_ROLES
_ROW_GROUPS: Final = frozenset({"thead", "tbody", "tfoot"})
# https://html.spec.whatwg.org/multipage/tables.html: a span is at most this many columns or rows.
_MOST_COLUMNS, _MOST_ROWS = 1000, 65534


class Cell:
    """A cell in its place."""

    __slots__ = ("column", "element", "height", "is_header", "row", "scope", "width")

    def __init__(
        self, element: Element, column: int, row: int, width: int, height: int, is_header: bool, scope: str
    ) -> None:
        self.element = element
        self.column = column
        self.row = row
        self.width = width
        self.height = height
        self.is_header = is_header
        self.scope = scope
        """"row", "col", "rowgroup", "colgroup" or "" for automatic."""


class Grid:
    """The cells of one table by slot."""

    __slots__ = ("_data_columns", "_data_rows", "cells", "slots")

    def __init__(self) -> None:
        self.cells: list[Cell] = []
        self.slots: dict[tuple[int, int], Cell] = {}
        self._data_rows: set[int] = set()
        self._data_columns: set[int] = set()

    def add(self, cell: Cell) -> None:
        self.cells.append(cell)
        if cell.width == 1 == cell.height:
            self.slots.setdefault((cell.column, cell.row), cell)
            if not cell.is_header and _says_something(cell.element):
                self._data_rows.add(cell.row)
                self._data_columns.add(cell.column)
            return
        for row in range(cell.row, cell.row + cell.height):
            for column in range(cell.column, cell.column + cell.width):
                self.slots.setdefault((column, row), cell)
        # The standard counts an empty corner as data, and the headers beside it as none. Browsers and readers do not.
        if not cell.is_header and _says_something(cell.element):
            self._data_rows.update(range(cell.row, cell.row + cell.height))
            self._data_columns.update(range(cell.column, cell.column + cell.width))

    def is_column_header(self, cell: Cell) -> bool:
        if cell.scope:
            return cell.scope == "col"
        return self._data_rows.isdisjoint(range(cell.row, cell.row + cell.height))

    def is_row_header(self, cell: Cell) -> bool:
        if cell.scope:
            return cell.scope == "row"
        return not self.is_column_header(cell) and self._data_columns.isdisjoint(
            range(cell.column, cell.column + cell.width)
        )

    def scan(self, principal: Cell, column: int, row: int, step_x: int, step_y: int) -> Iterator[Cell]:
        """The headers found on the way from a slot, by the standard's scanning algorithm."""
        opaque: list[Cell] = []
        block = [principal] if principal.is_header else []
        in_block = principal.is_header
        column, row = column + step_x, row + step_y
        while column >= 0 and row >= 0:
            current = self.slots.get((column, row))
            column, row = column + step_x, row + step_y
            if current is None:
                continue
            if not current.is_header:
                if in_block:
                    in_block = False
                    opaque += block
                    block = []
                continue
            in_block = True
            block.append(current)
            if step_x == 0:
                blocked = any(o.column == current.column and o.width == current.width for o in opaque)
                blocked = blocked or not self.is_column_header(current)
            else:
                blocked = any(o.row == current.row and o.height == current.height for o in opaque)
                blocked = blocked or not self.is_row_header(current)
            if not blocked:
                yield current


def _says_something(cell: Element) -> bool:
    children = cell.children
    return len(children) > 1 or (
        len(children) == 1 and (isinstance(children[0], Element) or not children[0].data.isspace())
    )


def _span(element: Element, name: str, most: int) -> int:
    for written in (element.attrs.get(name), element.attrs.get(f"aria-{name}")):
        if written is None:
            continue
        number = whole_number(written.strip(WHITESPACE))
        if number:
            return min(number, most)
    return 1


def _rows(page: Page, table: Element) -> list[tuple[Element, list[Element]]]:
    """Each row with its cells, in order; inner tables left alone."""
    if not page.document.having("role"):
        groups = [
            group for group in table.children if isinstance(group, Element) and group.tag in _ROW_GROUPS
        ]
        return [
            (row, [cell for cell in row.children if isinstance(cell, Element) and cell.tag in {"td", "th"}])
            for group in groups
            for row in group.children
            if isinstance(row, Element) and row.tag == "tr"
        ]
    rows: list[tuple[Element, list[Element]]] = []
    waiting = [child for child in reversed(table.children) if isinstance(child, Element)]
    while waiting:
        node = waiting.pop()
        role = page.semantics.role(node)
        if role in _TABLE_ROLES or node.tag == "table":
            continue
        if node.tag == "tr" or role == "row":
            rows.append((node, []))
        elif node.tag in {"td", "th"} or role in _CELL_ROLES:
            if rows:
                rows[-1][1].append(node)
            continue
        waiting.extend(child for child in reversed(node.children) if isinstance(child, Element))
    return rows


def lay_out(page: Page, table: Element) -> Grid:
    """Puts the cells of a table into their slots."""
    grid = Grid()
    rows = _rows(page, table)
    for y, (_, cells) in enumerate(rows):
        x = 0
        for element in cells:
            while (x, y) in grid.slots:
                x += 1
            width = height = 1
            if element.attrs:
                width = _span(element, "colspan", _MOST_COLUMNS)
                height = min(_span(element, "rowspan", _MOST_ROWS), len(rows) - y)
                if element.attrs.get("rowspan", "").strip(WHITESPACE) == "0":
                    height = len(rows) - y
            role = page.semantics.role(element) if "role" in element.attrs else ""
            is_header = role in _HEADER_ROLES or (element.tag == "th" and role not in {"cell", "gridcell"})
            scope = element.attrs.get("scope", "").strip(WHITESPACE).lower()
            if scope not in {"row", "col", "rowgroup", "colgroup"} or element.tag != "th":
                scope = ""
            written = page.semantics.written_role(element) if role else ""
            if not scope and written in _HEADER_ROLES:
                scope = "row" if written == "rowheader" else "col"
            grid.add(Cell(element, x, y, width, height, is_header, scope))
            x += width
    return grid


def _check(page: Page) -> Iterator[PageFinding]:
    semantics = page.semantics
    for table in page.document.tagged("table") + [
        e for e in page.document.having("role") if e.tag != "table"
    ]:
        if (
            semantics.role(table) not in _TABLE_ROLES
            or semantics.is_hidden(table)
            or not semantics.is_visible(table)
        ):
            continue
        grid = lay_out(page, table)
        own = {cell.element: cell for cell in grid.cells}
        for cell in grid.cells:
            # The attribute has no meaning but on a table's own cells.
            if cell.element.tag in {"td", "th"} and cell.element.attrs.get("headers", "").strip(WHITESPACE):
                yield from _headers(page, cell, own)
        if any(cell.is_header for cell in grid.cells):
            yield from _assigned(page, grid, own)


def _headers(page: Page, cell: Cell, own: dict[Element, Cell]) -> Iterator[PageFinding]:
    for identifier in cell.element.attrs["headers"].split():
        target = page.document.ids.get(identifier)
        header = own.get(target) if target is not None else None
        if header is None:
            problem = "which is no cell of this table"
        elif header is cell:
            problem = "which is the cell itself"
        elif not header.is_header:
            yield page.unsure(
                HEADERS_ARE_HEADERS,
                cell.element,
                f'headers names "{identifier}", which is no header cell.',
                "Make that cell a th.",
            )
            return
        else:
            continue
        yield page.fails(
            HEADERS,
            cell.element,
            f'headers names "{identifier}", {problem}.',
            "Use the id of a th of this table.",
        )
        return


def _heads_its_neighbour(grid: Grid, cell: Cell) -> bool:
    """Whether the cell below or beside it, which nothing can keep it from, is headed by it: most headers need no scan."""
    below = grid.slots.get((cell.column, cell.row + cell.height))
    if below is not None and "headers" not in below.element.attrs and grid.is_column_header(cell):
        return True
    beside = grid.slots.get((cell.column + cell.width, cell.row))
    return beside is not None and "headers" not in beside.element.attrs and grid.is_row_header(cell)


def _assigned(page: Page, grid: Grid, own: dict[Element, Cell]) -> Iterator[PageFinding]:
    waiting = {cell for cell in grid.cells if cell.is_header and not _heads_its_neighbour(grid, cell)}
    for cell in grid.cells:
        if not waiting:
            return
        if "headers" in cell.element.attrs:
            for identifier in cell.element.attrs["headers"].split():
                target = page.document.ids.get(identifier)
                header = own.get(target) if target is not None else None
                if header is not None and header is not cell:
                    waiting.discard(header)
            continue
        for y in range(cell.row, cell.row + cell.height):
            waiting.difference_update(grid.scan(cell, cell.column, y, -1, 0))
        for x in range(cell.column, cell.column + cell.width):
            waiting.difference_update(grid.scan(cell, x, cell.row, 0, -1))
        # Headers of groups head everything after them in their group; the group's edges are not drawn here.
        waiting.difference_update(
            header
            for header in tuple(waiting)
            if header.scope in {"rowgroup", "colgroup"}
            and header is not cell
            and header.row <= cell.row
            and header.column <= cell.column
        )
    for header in grid.cells:
        if header in waiting and not page.semantics.is_hidden(header.element):
            yield page.fails(
                ASSIGNED,
                header.element,
                "This header cell heads no cell.",
                "Make it a td, or correct scope and headers.",
            )


FAMILY = Family((HEADERS, HEADERS_ARE_HEADERS, ASSIGNED), _check)
