"""Bodies of stories and pages: galleys made up for the page they stand on, where it is known how deep headings go and where links lead."""

from __future__ import annotations

import re
from html import escape

from sitegen.edition.models import Body
from sitegen.newsroom.body import outside_address
from sitegen.newsroom.galley import BETWEEN, CLOSE, OPEN, WITHOUT_WORDS, WRITTEN_AS_ADDRESS
from sitegen.typeset.addresses import absolute, href

DEEPEST = 6
"""HTML's last heading level."""
_LEFT_OPEN = re.compile(f"{OPEN}([^{CLOSE}]*){CLOSE}")


def render_body(body: Body, page_address: str, base_level: int, table_word: str = "", base: str = "") -> str:
    """The body as HTML that fits under its page's own heading, a pure function of its arguments.

    `page_address` is the site address of the page it stands on, to which links are made relative. The shallowest
    heading becomes level `base_level` (1 to 6) and no level is skipped on the way down. `table_word`, such as `Table`,
    names a table's wrapper so that it can be scrolled by keyboard; without one the wrapper has neither role nor name.
    `base`, the site's public address, makes links into the site absolute, for copies that are read elsewhere.
    """
    site_links = dict(body.links)
    set_: list[str] = []
    open_links: list[str] = []
    """Of each link that is open: where it leads, empty for one that gives way. An address in angle brackets may stand in the
    words of a link: HTML knows no link in a link, so the outer one leads."""
    block, leads = 0, False
    """Where the block began that says something only if one of its links leads somewhere, and whether one did."""
    above: list[int] = []
    """Levels as written: of each heading that a next one may stand under. A heading stands one level under the nearest earlier one
    that is shallower as written."""
    before: list[int] = []
    """The same where the block began."""

    def lead(target: str) -> str:
        if target not in site_links:
            return outside_address(target)
        address = site_links[target]
        if not address:
            return ""
        return absolute(base, address) if base else href(page_address, address)

    # Every second piece is one that was left open.
    for number, piece in enumerate(_LEFT_OPEN.split(body.galley)):
        if not number % 2:
            set_.append(piece)
            continue
        match piece[0]:
            case "#":
                if len(piece) > 1:
                    above = [level for level in above if level < int(piece[1:])] + [int(piece[1:])]
                set_.append(f"h{min(base_level + len(above) - 1, DEEPEST)}")
            case "|":
                if table_word:
                    name = _escaped(f"{table_word} {piece[1:]}".rstrip())
                    set_.append(f' role="region" aria-label="{name}" tabindex="0"')
            case "a":
                flags, target, attributes = piece[1:].split(BETWEEN)
                is_inner = any(open_links)
                address = "" if is_inner else lead(target)
                open_links.append(address)
                if address:
                    set_.append(f'<a href="{_escaped(address)}"{attributes}>')
                elif WRITTEN_AS_ADDRESS in flags and not is_inner:
                    set_.append("&lt;")
            case "/":
                address = open_links.pop()
                if address:
                    leads = True
                    # A link nobody could hear or see says where it goes.
                    set_.append(f"{_escaped(address)}</a>" if WITHOUT_WORDS in piece else "</a>")
                elif WRITTEN_AS_ADDRESS in piece and not any(open_links):
                    set_.append("&gt;")
            case "?":
                block, leads, before = len(set_), False, above
            case _:
                if not leads:
                    del set_[block:]
                    above = before
    return "".join(set_)


def _escaped(words: str) -> str:
    return escape(words, quote=False).replace('"', "&quot;")
