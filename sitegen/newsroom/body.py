"""Bodies: the one way Markdown is parsed, where the links in a body lead, and which may leave the site.

The same parse is set (`galley.py`), so a link found here and a link on the page never differ.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from sitegen.newsroom.records import Link

if TYPE_CHECKING:
    from collections.abc import Callable

    from markdown_it import MarkdownIt
    from markdown_it.rules_inline import StateInline
    from markdown_it.token import Token

# Characters that are parse errors wherever they stand in HTML: controls that are not white space,
# surrogates and noncharacters. https://html.spec.whatwg.org/multipage/parsing.html#preprocessing-the-input-stream
_UNFIT = re.compile(
    "[\x00-\x08\x0b\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufdd0-\ufdef\ufffe\uffff"
    + "".join(f"{chr(plane * 0x10000 + 0xFFFE)}{chr(plane * 0x10000 + 0xFFFF)}" for plane in range(1, 17))
    + "]"
)


def fit_for_html(text: str) -> str:
    """The text with every character that HTML forbids replaced by U+FFFD."""
    # Nearly every text is printable but for its line ends, which is found out in a tenth of the time.
    return text if text.replace("\n", " ").isprintable() else _UNFIT.sub("\ufffd", text)


@lru_cache(maxsize=1)
def parser() -> MarkdownIt:
    """CommonMark with tables and without raw HTML, which is left standing as text.

    Targets are kept as written: none is refused or rewritten here, so that the proof can speak of each. Links
    and pictures carry `meta["at"]`, their offset in the text of their paragraph, heading or cell.
    """
    from markdown_it import MarkdownIt
    from markdown_it.rules_inline import autolink, image, link

    class Parser(MarkdownIt):
        def validateLink(self, url: str) -> bool:  # noqa: N802 - the library's name
            return True

        def normalizeLink(self, url: str) -> str:  # noqa: N802 - the library's name
            return url

        def normalizeLinkText(self, link: str) -> str:  # noqa: N802 - the library's name
            return link

    markdown = Parser("commonmark", {"html": False, "xhtmlOut": False}).enable("table")
    for name, rule, kind in (
        ("link", link, "link_open"),
        ("image", image, "image"),
        ("autolink", autolink, "link_open"),
    ):
        markdown.inline.ruler.at(name, _placed(rule, kind))
    return markdown


def _placed(rule: Callable[[StateInline, bool], bool], kind: str) -> Callable[[StateInline, bool], bool]:
    """The rule, noting in its token where in the text it began."""

    def place(state: StateInline, silent: bool) -> bool:
        at, known = state.pos, len(state.tokens)
        if not rule(state, silent):
            return False
        if not silent:
            # The first such token is the rule's own: a text before it may have been flushed, and
            # whatever the link holds comes after.
            own = next(token for token in state.tokens[known:] if token.type == kind)
            own.meta["at"] = at
        return True

    return place


def parse(markdown: str) -> list[Token]:
    """The body's tokens; any text gives some, in finite time."""
    return parser().parse(fit_for_html(markdown))


def links_of(tokens: Sequence[Token], markdown: str, first_line: int) -> tuple[Link, ...]:
    """Every link and picture of a body in reading order, with its target as written; `tokens` as `parse` gives them.

    `first_line` is the line of the file on which the body starts; lines are those of the file.
    """
    return tuple(_links(tokens, first_line, _LINE_END.split(markdown)))


def _links(tokens: Sequence[Token], first_line: int, lines: Sequence[str]) -> Iterator[Link]:
    for token in tokens:
        if token.type != "inline" or not token.children or token.map is None:
            continue
        line_ends: list[int] | None = None
        for child in token.children:
            if child.type not in ("link_open", "image"):
                continue
            if line_ends is None:
                line_ends = [at for at, letter in enumerate(token.content) if letter == "\n"]
            row = bisect_right(line_ends, child.meta["at"])
            start = line_ends[row - 1] + 1 if row else 0
            written = token.content[start:].split("\n", 1)[0]
            # Signs of quotations and lists stand before the text of a block, and are no part of it.
            number = token.map[0] + row
            before = lines[number].find(written) if number < len(lines) else -1
            column = before + child.meta["at"] - start + 1 if before >= 0 else 1
            picture = child.type == "image"
            yield Link(str(child.attrs["src" if picture else "href"]), first_line + number, picture, column)


_LINE_END = re.compile(r"\r\n?|\n")


# --- leaving the site --------------------------------------------------------------------------

# RFC 3986: what may stand in a path, query or fragment, percent signs having been made whole before.
_REST = r"[A-Za-z0-9\-._~:/?@!$&'()*+,;=%]*"
_LABEL = r"[A-Za-z0-9_](?:[A-Za-z0-9_-]{0,61}[A-Za-z0-9_])?"
_WEB = re.compile(
    rf"(?P<scheme>https?)://(?P<host>{_LABEL}(?:\.{_LABEL})*)\.?(?::(?P<port>[0-9]{{1,5}}))?"
    rf"(?:[/?]{_REST})?(?:#{_REST})?\Z",
    re.I,
)
_MAIL = re.compile(rf"mailto:[A-Za-z0-9.!$&'*+/=?^_{{|}}~%-]+@{_LABEL}(?:\.{_LABEL})*(?:\?{_REST})?\Z", re.I)
_PHONE = re.compile(r"tel:\+?[0-9().-]*[0-9][0-9().-]*(?:;[A-Za-z0-9=;.+-]+)?\Z", re.I)
_FOUR_NUMBERS = re.compile(
    r"(?:(?:25[0-5]|2[0-4][0-9]|1?[0-9]?[0-9])\.){3}(?:25[0-5]|2[0-4][0-9]|1?[0-9]?[0-9])\Z"
)


@lru_cache(maxsize=4096)
def outside_address(target: str) -> str:
    """The address to link to for a target that leaves the site; empty for one that may not.

    Only `https:`, `http:`, `mailto:` and `tel:` leave the site. An address with a user name before its host is
    refused, for it can be made to look like another host's. The result is a valid URL: international hosts in
    their ASCII form, other letters percent-encoded.
    """
    scheme = target.partition(":")[0].lower()
    if scheme == "tel":
        plain = re.sub(r"[\s\u00a0\u2010-\u2015]+", "-", target.strip())
        return plain if _PHONE.match(plain) else ""
    if scheme not in ("https", "http", "mailto"):
        return ""

    from markdown_it.common.normalize_url import normalizeLink

    try:
        address = normalizeLink(target)
    except ValueError:
        return ""
    if scheme == "mailto":
        return address if _MAIL.match(address) else ""
    main, sign, fragment = address.partition("#")
    address = main + sign + fragment.replace("#", "%23")
    match = _WEB.match(address)
    if match is None or int(match["port"] or 0) > 65535:
        return ""
    # A host that ends in a number is an IPv4 address or nothing: https://url.spec.whatwg.org/#host-parsing
    if match["host"].rpartition(".")[2].isdigit() and not _FOUR_NUMBERS.match(match["host"]):
        return ""
    return address
