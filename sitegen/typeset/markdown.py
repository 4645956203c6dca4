"""Bodies of stories and pages: from Markdown to HTML that fits under its page's own heading.

CommonMark 0.31.2 (https://spec.commonmark.org/0.31.2/) and tables, with these differences on purpose: raw HTML
is shown as text, links lead only where a body may link, pictures give way to their alternative text, headings are
fitted to the page, and tables stand in a wrapper that can scroll.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from html import escape
from typing import TYPE_CHECKING
from unicodedata import category

from sitegen.edition.models import Body
from sitegen.newsroom.body import outside_address, parse, parser
from sitegen.typeset.addresses import absolute, href

if TYPE_CHECKING:
    from markdown_it.renderer import RendererHTML
    from markdown_it.token import Token

DEEPEST = 6
"""HTML's last heading level."""


def render_body(body: Body, page_address: str, base_level: int, table_word: str = "", base: str = "") -> str:
    """The body as HTML, a pure function of its arguments; never an exception, whatever the text.

    `page_address` is the site address of the page it stands on, to which links are made relative. The shallowest
    heading becomes level `base_level` (1 to 6) and no level is skipped on the way down. `table_word`, such as `Table`,
    names a table's wrapper so that it can be scrolled by keyboard; without one the wrapper has neither role nor name.
    `base`, the site's public address, makes links into the site absolute, for copies that are read elsewhere.
    """
    tokens = parse(body.markdown)
    _settle_links(
        tokens,
        dict(body.links),
        lambda address: absolute(base, address) if base else href(page_address, address),
    )
    tokens = _without_empty_blocks(tokens)
    _fit_headings(tokens, base_level)
    _name_tables(tokens, table_word)
    return _renderer().render(tokens, parser().options, {})


# --- links -------------------------------------------------------------------------------------


def _settle_links(tokens: Sequence[Token], site_links: Mapping[str, str], lead: Callable[[str], str]) -> None:
    for token in tokens:
        if token.children:
            token.children = _with_settled_links(token.children, site_links, lead)


def _with_settled_links(
    children: Sequence[Token], site_links: Mapping[str, str], lead: Callable[[str], str]
) -> list[Token]:
    """Every link with where it leads; those that may lead nowhere, and pictures, give way to their words.

    An address in angle brackets may stand in the words of a link: HTML knows no link in a link, so the outer one leads.
    """
    settled: list[Token] = []
    open_links: list[tuple[str, int]] = []
    """Of each link that is open: where it leads, empty for one that gives way, and how many tokens stood before it."""
    for child in children:
        if child.type == "link_open":
            target = str(child.attrs["href"])
            nested = any(address for address, _ in open_links)
            address = "" if nested else _leads_to(target, site_links, lead)
            if address:
                child.attrs["href"] = address
                settled.append(child)
            elif child.markup == "autolink" and not nested:
                settled.append(_text("<"))
            open_links.append((address, len(settled)))
        elif child.type == "image":
            settled.append(_text(_renderer().renderInlineAsText(child.children, parser().options, {})))
        elif child.type == "link_close":
            address, opened = open_links.pop()
            if address:
                if not any(_is_visible(token.content) for token in settled[opened:]):
                    settled.append(_text(address))  # a link nobody could hear or see says where it goes
                settled.append(child)
            elif child.markup == "autolink" and not any(outer for outer, _ in open_links):
                settled.append(_text(">"))
        else:
            settled.append(child)
    return settled


def _leads_to(target: str, site_links: Mapping[str, str], lead: Callable[[str], str]) -> str:
    if target in site_links:
        return lead(site_links[target]) if site_links[target] else ""
    return outside_address(target)


def _is_visible(words: str) -> bool:
    """False for white space and marks that only steer the text, such as joiners and direction signs."""
    return any(not letter.isspace() and category(letter) not in ("Cf", "Cc") for letter in words)


def _text(words: str) -> Token:
    from markdown_it.token import Token

    return Token("text", "", 0, content=words)


# --- blocks ------------------------------------------------------------------------------------


def _without_empty_blocks(tokens: Sequence[Token]) -> list[Token]:
    """Without headings and paragraphs that say nothing, and with empty header cells made plain cells."""
    kept: list[Token] = []
    for token in tokens:
        kept.append(token)
        if token.type in ("heading_close", "paragraph_close") and _says_nothing(kept[-2]):
            del kept[-3:]
        elif token.type == "th_close" and _says_nothing(kept[-2]):
            kept[-3].tag = token.tag = "td"
    return kept


def _says_nothing(inline: Token) -> bool:
    return not any(_is_visible(child.content) for child in inline.children or ())


def _fit_headings(tokens: Sequence[Token], base_level: int) -> None:
    """Levels by depth: a heading stands one level under the nearest earlier one that is shallower as written."""
    above: list[int] = []
    tag = ""
    for token in tokens:
        if token.type == "heading_open":
            written = int(token.tag[1])
            while above and above[-1] >= written:
                above.pop()
            tag = f"h{min(base_level + len(above), DEEPEST)}"
            above.append(written)
            token.tag = tag
        elif token.type == "heading_close":
            token.tag = tag


def _name_tables(tokens: Sequence[Token], table_word: str) -> None:
    tables = [token for token in tokens if token.type == "table_open"]
    if table_word:
        for number, table in enumerate(tables, 1):
            table.meta["name"] = table_word if len(tables) == 1 else f"{table_word} {number}"


# --- HTML --------------------------------------------------------------------------------------

_SIDES = {"text-align:right": "to-right", "text-align:center": "to-centre"}


@lru_cache(maxsize=1)
def _renderer() -> RendererHTML:
    from markdown_it.renderer import RendererHTML

    class Renderer(RendererHTML):
        """The library calls the method that bears a token's name."""

        def table_open(self, tokens: Sequence[Token], index: int, *_: object) -> str:
            name = tokens[index].meta.get("name", "")
            role = f' role="region" aria-label="{escape(name)}" tabindex="0"' if name else ""
            return f'<div class="table"{role}>\n<table>\n'

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
