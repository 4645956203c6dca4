"""The contrast engine: judges the contrast of a page in every scenario asked for.

An engine is made once and lives as long as the work: what it learns of stylesheets, looks and styles serves every later
page. A page like its neighbours costs a table look-up for each of its elements.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Final, NamedTuple
from urllib.parse import unquote, urlsplit

from sitegen.proof.checks.base import PageFinding
from sitegen.proof.contrast.judgement import CHECKS, CLEAN, SCRIPTED, Judge, finding
from sitegen.proof.contrast.origin import colour_scheme_of
from sitegen.proof.contrast.pictures import Picture, Pictures, decode
from sitegen.proof.contrast.scenario import DEFAULT, Scenario, all_scenarios
from sitegen.proof.contrast.shadow_roots import shadow_roots
from sitegen.proof.contrast.style import Style
from sitegen.proof.contrast.stylesheets import THE_ELEMENTS, Sheet, decode_sheet, parse_sheet, tokenizable
from sitegen.proof.contrast.theme import Node, PlacedSheet, Theme
from sitegen.proof.contrast.values import Unknown
from sitegen.proof.document import Document, Element, parse

__all__ = ["CHECKS", "DEFAULT", "ContrastEngine", "Scenario", "all_scenarios"]

_THEMES_KEPT: Final = 32
_THEMES_TOLD: Final = 8
_SHEETS_KEPT: Final = 128
_DEEPEST_IMPORT: Final = 8
_VIEWPORT_LENGTH: Final = re.compile(r"\d[sld]?v(?:w|h|i|b|min|max)\b", re.IGNORECASE)


class _Placed(NamedTuple):
    """A page's elements in their theme."""

    document: Document
    address: str
    scenarios: tuple[Scenario, ...]
    theme: Theme
    judge: Judge
    nodes: list[Node]


class ContrastEngine:
    """Judges pages one after the other."""

    def __init__(self, load: Callable[[str], bytes | None], prefix: str = "", learnt: bytes = b"") -> None:
        """`load` gives the bytes of a stylesheet or picture by its path within the site, without a leading slash.

        It answers None for what the site doesn't have, and is asked at most once for each path while that is kept.
        `prefix` is where the site lies on its host, such as "archive/" for https://www.example.org/archive/.
        `learnt` is what an engine of the same program and libraries had learnt, or nothing. It may be of other stylesheets.
        """
        self._load = load
        self._prefix = prefix.lstrip("/")
        self._pictures = Pictures(load)
        self._sheets: dict[tuple[str, str, int], Sheet] = {}
        self._linked: dict[str, str | None] = {}
        self._themes: dict[object, tuple[Theme, Judge]] = {}
        self._told: dict[bytes, bytes] = {}
        """What earlier engines learnt of themes, by what these were made of."""
        if learnt:
            from sitegen.proof.contrast.learnt import unpack

            told = unpack(learnt)
            self._told = {} if told is None else told.themes
        self._latest: _Placed | None = None
        self._latest_theme: tuple[object, tuple[Theme, Judge]] | None = None

    def judge(
        self, address: str, document: Document, scenarios: Sequence[Scenario] = DEFAULT
    ) -> tuple[PageFinding, ...]:
        """Everything about a page's contrast that fails or cannot be told, in the order of the elements.

        `address` is the page's path within the site.
        """
        _, judge, nodes = self._placed_in_theme(address, document, tuple(scenarios))
        self._latest = None
        elements = document.elements
        if document.has_shadow_trees:
            found = self._with_shadow_roots(address, document, tuple(scenarios), judge, nodes)
            return tuple(sorted(found, key=lambda each: each.line))
        return tuple(judge.findings(address, document, elements, nodes))

    def styled(
        self, address: str, document: Document, scenarios: Sequence[Scenario] = DEFAULT
    ) -> tuple[tuple[Scenario, ...], list[Node]]:
        """The scenarios, and the node of every element in the order of the elements, for checks of other things than colour.

        A judgement of the same document right afterwards takes the same nodes.
        """
        theme, _, nodes = self._placed_in_theme(address, document, tuple(scenarios))
        return theme.scenarios, nodes

    def asks_for_orientation(self, address: str, document: Document, scenarios: Sequence[Scenario]) -> bool:
        """Whether any style of the page depends on how a device is held."""
        theme = self._placed_in_theme(address, document, tuple(scenarios))[0]
        return theme.uses_orientation

    def _placed_in_theme(
        self, address: str, document: Document, scenarios: tuple[Scenario, ...]
    ) -> tuple[Theme, Judge, list[Node]]:
        latest = self._latest
        if latest is not None and latest.document is document and latest[1:3] == (address, scenarios):
            return latest[3:]
        theme, judge = self._theme(address, document, scenarios)
        theme.tidy()
        nodes = theme.nodes_of(document)
        self._latest = _Placed(document, address, scenarios, theme, judge, nodes)
        return theme, judge, nodes

    def _with_shadow_roots(
        self,
        address: str,
        document: Document,
        scenarios: tuple[Scenario, ...],
        judge: Judge,
        nodes: list[Node],
    ) -> Iterator[PageFinding]:
        """The findings on a page with shadow trees, which replace what their hosts hold."""
        roots, unread = shadow_roots(document)
        for script in unread:
            yield finding(
                address,
                script.line,
                SCRIPTED,
                "unsure",
                "This script adds text in a shadow tree, which the page's bytes do not show.",
                "Write the shadow tree in the page, or look at it in a browser.",
            )
        places = {element: place for place, element in enumerate(document.elements)}
        replaced: set[Element] = set()
        for root in roots:
            inner = parse(
                f"<!doctype html><html><head><title>-</title></head><body>{root.markup}</body></html>"
            )
            if not inner.tagged("slot"):
                replaced.add(root.host)
            theme, inner_judge = self._theme(address, inner, scenarios)
            body = inner.tagged("body")[0]
            inside = [node for node in body.descendants() if isinstance(node, Element)]
            host = nodes[places[root.host]]
            for each in inner_judge.findings(address, inner, inside, theme.nodes_within(body, host)):
                yield replace(each, line=root.host.line)
            if ":host" in root.markup or "::slotted" in root.markup:
                yield finding(
                    address,
                    root.host.line,
                    SCRIPTED,
                    "unsure",
                    "Styles of this shadow tree reach out of it, which the proof does not follow.",
                    "Style the host from outside.",
                )
        kept = [
            place
            for place, element in enumerate(document.elements)
            if not any(above in replaced for above in (element, *element.ancestors()))
        ]
        elements = [document.elements[place] for place in kept]
        yield from judge.findings(address, document, elements, [nodes[place] for place in kept])

    def judge_for(self, address: str, document: Document, scenarios: Sequence[Scenario] = DEFAULT) -> Judge:
        """The judge of a page's theme, for those who ask more than findings."""
        return self._theme(address, document, tuple(scenarios))[1]

    # -- what was learnt

    @property
    def news(self) -> int:
        """How many nodes were worked out here that nobody had told of."""
        return sum(theme.news for theme, _ in self._themes.values())

    def learnt(self) -> bytes | None:
        """What a later engine may be told, so that its first pages cost less; None where that is no more than this one was told.

        What depends on the pixels of a picture is left out.
        """
        from sitegen.proof.contrast.learnt import Learnt, name_of, pack, told_by

        news: dict[bytes, bytes] = {}
        for key, (theme, _) in self._themes.items():
            if theme.news and not theme.shows_pictures:
                news[name_of(theme, key)] = told_by(theme, CLEAN)
        if not news:
            return None
        # The newest last, so that what nobody uses any more goes.
        kept = {name: told for name, told in self._told.items() if name not in news} | news
        return pack(Learnt(dict(list(kept.items())[-_THEMES_TOLD:])))

    # -- themes

    def _theme(
        self, address: str, document: Document, scenarios: tuple[Scenario, ...]
    ) -> tuple[Theme, Judge]:
        folder = _folder(address, document)
        written = self._written_sheets(document, folder)
        # Only addresses inside the page itself depend on where the page lies.
        base = folder if _has_addresses_in_styles(document) else ""
        page_schemes = colour_scheme_of(document.tagged("meta")) if "color-scheme" in document.source else ""
        # Sizes that depend on the window are noticed in sheets; those in attributes have to be looked for.
        is_fluid = any(
            _VIEWPORT_LENGTH.search(element.attrs["style"]) for element in document.having("style")
        )
        key = (base, tuple(written), scenarios, page_schemes, is_fluid)
        # Most pages of a site have the same theme as the one before; to compare it costs less than to hash the scenarios.
        if self._latest_theme is not None and self._latest_theme[0] == key:
            return self._latest_theme[1]
        known = self._themes.get(key)
        if known is None:
            sheets, missing = self._placed(written, folder)
            theme = Theme(sheets, scenarios, page_schemes, is_fluid)
            if self._told:
                self._tell(theme, key)
            theme.uses_orientation = any(placed.sheet.uses_orientation for placed in sheets) or any(
                "orientation" in media for _, _, media in written
            )
            known = theme, Judge(theme, self._finder(folder, theme), missing)
            while len(self._themes) >= _THEMES_KEPT:
                self._themes.pop(next(iter(self._themes)))
            self._themes[key] = known
        self._latest_theme = key, known
        return known

    def _tell(self, theme: Theme, key: object) -> None:
        from sitegen.proof.contrast.learnt import name_of, tell

        told = self._told.get(name_of(theme, key))
        if told is None:
            return
        try:
            tell(theme, told, CLEAN)
        except (ValueError, IndexError):
            theme.forget()

    def _written_sheets(self, document: Document, folder: str) -> list[tuple[str, str, str]]:
        """The page's stylesheets in order: ("style", text, media), ("link", path, media) or ("elsewhere", address, media)."""
        found: list[tuple[int, str, str, str]] = []
        for element in document.tagged("style"):
            if element.attrs.get("type", "text/css").strip().lower() in ("", "text/css"):
                found.append((element.offset, "style", element.text(), element.attrs.get("media", "")))
        for element in document.tagged("link"):
            relations = element.attrs.get("rel", "").lower().split()
            if "stylesheet" in relations and "alternate" not in relations and "disabled" not in element.attrs:
                address = element.attrs.get("href", "")
                path = None if address.startswith("data:") else self._resolve(address, folder)
                kind = "elsewhere" if path is None else "link"
                found.append((element.offset, kind, path or address, element.attrs.get("media", "")))
        found.sort(key=lambda each: each[0])
        return [each[1:] for each in found]

    def _placed(
        self, written: Sequence[tuple[str, str, str]], folder: str
    ) -> tuple[list[PlacedSheet], list[str]]:
        placed: list[PlacedSheet] = []
        missing: list[str] = []
        for kind, content, media_text in written:
            conditions = _media_conditions(media_text)
            if kind == "style":
                self._place(content, "", folder, conditions, (), placed, missing, 0)
            else:
                self._link(content, kind == "link", conditions, (), placed, missing, 0)
        return placed, missing

    def _link(
        self,
        path: str,
        is_within: bool,
        conditions: tuple[Callable[[Scenario], bool | None], ...],
        layer: tuple[str, ...],
        placed: list[PlacedSheet],
        missing: list[str],
        depth: int,
    ) -> None:
        text: str | None = None
        if is_within:
            text = self._sheet_text(path)
        elif path.startswith("data:"):
            data = _data_address(path)
            text = None if data is None else decode_sheet(data)
        if text is None:
            missing.append(path)
            return
        name = path if is_within else ""
        self._place(text, name, posixpath.dirname(name), conditions, layer, placed, missing, depth)

    def _sheet_text(self, path: str) -> str | None:
        if path not in self._linked:
            if len(self._linked) >= _SHEETS_KEPT:
                self._linked.clear()
            data = self._load(path)
            self._linked[path] = None if data is None else decode_sheet(data)
        return self._linked[path]

    def _place(
        self,
        text: str,
        name: str,
        folder: str,
        conditions: tuple[Callable[[Scenario], bool | None], ...],
        layer: tuple[str, ...],
        placed: list[PlacedSheet],
        missing: list[str],
        depth: int,
    ) -> None:
        """Place a sheet after those it imports; imports are numbered before their importer is parsed."""
        imports = self._parsed(text, name, -1).imports if "@import" in text else []
        for each in imports:
            if depth < _DEEPEST_IMPORT:
                inner = layer if each.layer is None else (*layer, *each.layer)
                path = None if each.address.startswith("data:") else self._resolve(each.address, folder)
                held = (*conditions, *each.conditions)
                self._link(path or each.address, path is not None, held, inner, placed, missing, depth + 1)
        place = len(placed)
        placed.append(PlacedSheet(self._parsed(text, name, place), place, name, conditions, layer, text))

    def _parsed(self, text: str, name: str, place: int) -> Sheet:
        key = text, name, place
        if key not in self._sheets:
            if len(self._sheets) >= _SHEETS_KEPT:
                self._sheets.clear()
            self._sheets[key] = parse_sheet(text, name, place)
        return self._sheets[key]

    def _resolve(self, written: str, folder: str) -> str | None:
        """The path within the site of an address; None for addresses elsewhere."""
        path = resolve(written, folder)
        if path is not None and written.startswith("/"):
            path = path.removeprefix(self._prefix)
        return path

    def _finder(self, folder: str, theme: Theme) -> Callable[[str, Style], Picture | Unknown]:
        def find(written: str, style: Style) -> Picture | Unknown:
            theme.shows_pictures = True
            if written.startswith("data:"):
                data = _data_address(written)
                return (
                    Unknown("a picture in a data address")
                    if data is None
                    else decode(data, "in a data address")
                )
            source = style.source("background-image")
            base = folder
            if source is not None and source.sheet not in ("", THE_ELEMENTS):
                base = posixpath.dirname(source.sheet)
            path = self._resolve(written, base)
            return (
                Unknown(f"the picture {written}, which is not part of the site")
                if path is None
                else self._pictures.at(path)
            )

        return find


def _has_addresses_in_styles(document: Document) -> bool:
    """Whether a page's own styles, or attributes that stand for some, name files."""
    written = [
        *(each.attrs["style"] for each in document.having("style")),
        *(each.text() for each in document.tagged("style")),
    ]
    return bool(document.having("background")) or any(
        "url(" in text or "@import" in text or "image-set(" in text
        for text in [each.lower() for each in written]
    )


def _media_conditions(text: str) -> tuple[Callable[[Scenario], bool | None], ...]:
    if not text.strip():
        return ()
    import tinycss2

    from sitegen.proof.contrast.conditions import media

    return (media(tinycss2.parse_component_value_list(tokenizable(text))),)


def _folder(address: str, document: Document) -> str:
    folder = posixpath.dirname(address.lstrip("/"))
    for element in document.tagged("base"):
        if "href" in element.attrs:
            found = resolve(element.attrs["href"], folder)
            return folder if found is None else posixpath.dirname(found + "x")
    return folder


@lru_cache(maxsize=1024)
def resolve(written: str, folder: str) -> str | None:
    """The path within the site of an address written in a file of `folder`; None for addresses elsewhere."""
    try:
        parts = urlsplit(written.strip())
    except ValueError:
        return None
    if parts.scheme or parts.netloc or not parts.path:
        return None
    path = unquote(parts.path)
    joined = path.lstrip("/") if path.startswith("/") else posixpath.join(folder, path)
    normal = posixpath.normpath(joined)
    while normal.startswith("../"):  # above the top is the top, as in any address
        normal = normal[3:]
    return normal


def _data_address(written: str) -> bytes | None:
    """The bytes of a `data:` address: https://www.rfc-editor.org/rfc/rfc2397"""
    import base64
    import binascii

    head, comma, body = written.partition(",")
    if not comma:
        return None
    if head.rstrip().lower().endswith(";base64"):
        try:
            return base64.b64decode(unquote(body) + "===", validate=False)
        except (binascii.Error, ValueError):
            return None
    return unquote(body).encode("utf-8", "surrogateescape")
