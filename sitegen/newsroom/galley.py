"""Bodies as galleys: Markdown set in HTML but not made up, with what depends on the page it will stand on left open.

CommonMark 0.31.2 (https://spec.commonmark.org/0.31.2/) and tables, with these differences on purpose: raw HTML is shown as
text, links are left open, pictures give way to their alternative text, levels of headings are left open too, and tables
stand in a wrapper that can scroll. A body is parsed and set once, when it is read, and made up wherever it is shown.

What is left open stands between `OPEN` and `CLOSE`, two signs that no body can hold; the first letter says what it is:

- `#` and a number: the level of a heading as written; stands as the name of an element. `#` alone: that name again.
- `|` and a number or nothing: where a table's wrapper gets its name, with its number where the body has several.
- `a`, flags, the target as written, `BETWEEN` and further attributes: a link begins. `<` among the flags: it was written as an
  address in angle brackets; `!`: it has no words anyone could see or hear.
- `/` and the same flags: that link ends.
- `?` and `.`: a block begins and ends that says something only where one of its links without words leads anywhere.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from html import unescape
from typing import TYPE_CHECKING
from unicodedata import category

from sitegen.newsroom.body import links_of, parse, parser
from sitegen.newsroom.records import Link

if TYPE_CHECKING:
    from markdown_it.renderer import RendererHTML
    from markdown_it.token import Token

OPEN, CLOSE, BETWEEN = "\ufdd0", "\ufdd1", "\ufdd2"
WRITTEN_AS_ADDRESS, WITHOUT_WORDS = "<", "!"
_MARK = "html_inline"
"""The library's name for a token that is written as it stands; no body of ours has one of its own."""


def set_body(markdown: str, first_line: int = 1) -> tuple[str, tuple[Link, ...]]:
    """The galley of a body, and its links as `links_of` finds them; never an exception, whatever the text.

    `first_line` is the line of the file on which the body starts.
    """
    tokens = parse(markdown)
    links = links_of(tokens, markdown, first_line)
    return _set(tokens), links


def _set(tokens: Sequence[Token]) -> str:
    """The galley of a parsed body, whose tokens are used up by it."""
    for token in tokens:
        if token.children:
            token.children = list(_with_open_links(token.children))
    settled = list(_without_empty_blocks(tokens))
    _open_headings(settled)
    _number_tables(settled)
    return _renderer().render(settled, parser().options, {})


def text_of(galley: str) -> str:
    """A body's words as they are read: no targets, no markup, white space between blocks."""
    return unescape(_NO_WORDS.sub("", galley))


_NO_WORDS = re.compile(f"{OPEN}[^{CLOSE}]*{CLOSE}|<[^>]*>")


# --- links -------------------------------------------------------------------------------------


def _with_open_links(children: Sequence[Token]) -> Iterator[Token]:
    ends = _ends(children)
    flags: list[str] = []
    """Of each link that is open."""
    for number, child in enumerate(children):
        if child.type == "link_open":
            words = any(_is_visible(token) for token in children[number + 1 : ends[number]])
            flags.append(WRITTEN_AS_ADDRESS * (child.markup == "autolink") + WITHOUT_WORDS * (not words))
            target = str(child.attrs.pop("href"))
            yield _mark(f"a{flags[-1]}{BETWEEN}{target}{BETWEEN}{_renderer().renderAttrs(child)}")
        elif child.type == "link_close":
            yield _mark(f"/{flags.pop()}")
        elif child.type == "image":
            yield _text(_renderer().renderInlineAsText(child.children, parser().options, {}))
        else:
            yield child


def _ends(children: Sequence[Token]) -> dict[int, int]:
    """Where each link ends, by where it begins. An address in angle brackets may stand in the words of a link."""
    found: dict[int, int] = {}
    begun: list[int] = []
    for number, child in enumerate(children):
        if child.type == "link_open":
            begun.append(number)
        elif child.type == "link_close":
            found[begun.pop()] = number
    return found


def _is_visible(token: Token) -> bool:
    """False for white space and marks that only steer the text, such as joiners and direction signs."""
    return token.type != _MARK and any(
        not letter.isspace() and category(letter) not in ("Cf", "Cc") for letter in token.content
    )


def _text(words: str) -> Token:
    from markdown_it.token import Token

    return Token("text", "", 0, content=words)


def _mark(said: str) -> Token:
    from markdown_it.token import Token

    return Token(_MARK, "", 0, content=f"{OPEN}{said}{CLOSE}")


# --- blocks ------------------------------------------------------------------------------------


def _without_empty_blocks(tokens: Sequence[Token]) -> Iterator[Token]:
    """Without headings and paragraphs that say nothing, and with empty header cells made plain cells."""
    held: list[Token] = []
    """A heading, a paragraph or a cell as far as it has been seen."""
    for token in tokens:
        if not held and token.type not in ("heading_open", "paragraph_open", "th_open"):
            yield token
            continue
        held.append(token)
        if token.type not in ("heading_close", "paragraph_close", "th_close"):
            continue
        children = held[1].children or ()
        if any(map(_is_visible, children)):
            yield from held
        elif token.type == "th_close":
            held[0].tag = token.tag = "td"
            yield from held
        elif any(child.type == _MARK for child in children):
            # A paragraph of a tight list has no tags of its own that could stand empty.
            yield from held if held[0].hidden else (_mark("?"), *held, _mark("."))
        held.clear()


def _open_headings(tokens: Sequence[Token]) -> None:
    for token in tokens:
        if token.type == "heading_open":
            token.tag = f"{OPEN}#{token.tag[1]}{CLOSE}"
        elif token.type == "heading_close":
            token.tag = f"{OPEN}#{CLOSE}"


def _number_tables(tokens: Sequence[Token]) -> None:
    tables = [token for token in tokens if token.type == "table_open"]
    for number, table in enumerate(tables, 1):
        table.meta["number"] = number if len(tables) > 1 else ""


# --- HTML --------------------------------------------------------------------------------------

_SIDES = {"text-align:right": "to-right", "text-align:center": "to-centre"}


@lru_cache(maxsize=1)
def _renderer() -> RendererHTML:
    from markdown_it.renderer import RendererHTML

    class Renderer(RendererHTML):
        """The library calls the method that bears a token's name."""

        def table_open(self, tokens: Sequence[Token], index: int, *_: object) -> str:
            return f'<div class="table"{OPEN}|{tokens[index].meta["number"]}{CLOSE}>\n<table>\n'

        def table_close(self, *_: object) -> str:
            return "</table>\n</div>\n"

        def th_open(self, tokens: Sequence[Token], index: int, *_: object) -> str:
            # Alignment is a class, for a strict content policy bars styles in attributes.
            cell = tokens[index]
            side = _SIDES.get(str(cell.attrs.get("style", "")), "")
            scope = ' scope="col"' if cell.tag == "th" else ""
            align = f' class="{side}"' if side else ""
            return f"<{cell.tag}{scope}{align}>"

        td_open = th_open

    return Renderer()
