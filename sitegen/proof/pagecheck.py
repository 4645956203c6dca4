"""Checks pages: each by itself from its bytes, then the links between them from what each page told.

Everything here is pure but `check_folder`, which reads a folder of pages, ours or anybody's.
"""

from __future__ import annotations

import os
import posixpath
import re
from collections.abc import Callable, Container, Iterable, Iterator, Mapping
from dataclasses import dataclass
from operator import attrgetter
from pathlib import Path
from typing import Final, Protocol
from urllib.parse import quote, unquote, urljoin, urlsplit

from sitegen.proof.checks import FAMILIES
from sitegen.proof.checks.base import Page, PageFinding, Rule, Verdict
from sitegen.proof.collector import seldom_collecting
from sitegen.proof.document import WHITESPACE, Document, Element, parse
from sitegen.proof.report import Report
from sitegen.proof.shadow import shadow_findings
from sitegen.proof.styles import Styles, styles_alone, styles_by

__all__ = ["Extract", "PageFinding", "PageProof", "check_folder", "check_links", "check_page"]

BROKEN_LINK: Final = Rule("link-target")
BROKEN_FRAGMENT: Final = Rule("link-fragment")
BROKEN_ASSET: Final = Rule("asset-target")
TOO_DEEP: Final = Rule("nesting")
NOT_READ: Final = Rule("not-read")


@dataclass(frozen=True, slots=True)
class Extract:
    """What the rest of the edition needs to know of a page; plain data, fit to be stored."""

    title: str
    """Its title with runs of white space made one space; "" without one."""
    lang: str
    """As written on `html`; "" without one."""
    ids: tuple[str, ...]
    """What a fragment may point at, in document order: every id, and every name of an `a`."""
    links: tuple[tuple[str, int], ...]
    """Where it leads: addresses of links, areas, forms and frames as written, each with its line, in document order."""
    assets: tuple[tuple[str, int], ...]
    """What it loads or refers to: pictures, styles, scripts, media, captions, `link` elements; as `links`."""
    base: str = ""
    """The address of its `base` element; "" without one."""


@dataclass(frozen=True, slots=True)
class PageProof:
    """The verdict on one page."""

    findings: tuple[PageFinding, ...]
    """In the order of their lines."""
    extract: Extract


class Judge(Protocol):
    """Who knows a site's stylesheets and judges what they do to its pages, such as the contrast engine."""

    def styles(self, address: str, document: Document) -> Styles:
        """The styles of a page's elements."""

    def findings(self, address: str, document: Document) -> Iterable[PageFinding]:
        """What fails on a page that no other check looks at."""


def check_page(address: str, source: bytes, judge: Judge | None = None) -> PageProof:
    """Every check that one page's bytes and stylesheets decide, and what `judge` finds on the same tree.

    `address` names the page in the findings, and tells the judge where its stylesheets lie. Without a judge the page's own
    styles count. Where a page shows different things in different scenarios, it is checked as it is in each.
    """
    document = parse(source)
    try:
        findings = list(_findings(address, document, judge))
    except RecursionError:
        # Styles ask what they stand in. No browser nests elements that deep either: they end at 512.
        findings = [_too_deep(address, document)]
    findings.sort(key=lambda finding: finding.line)
    proof = PageProof(tuple(findings), extract(document))
    document.let_go()
    return proof


def _findings(address: str, document: Document, judge: Judge | None) -> Iterable[PageFinding]:
    styles = styles_alone(document) if judge is None else judge.styles(address, document)
    views = styles.views()
    findings: list[PageFinding] = []
    for view in views:
        page = Page(address, document, view)
        findings += [finding for family in FAMILIES for finding in family.check(page)]
    if len(views) > 1:
        findings = list(dict.fromkeys(findings))
    if document.has_shadow_trees:
        findings += shadow_findings(address, document)
    if judge is not None:
        findings += judge.findings(address, document)
    return findings


def _too_deep(address: str, document: Document) -> PageFinding:
    depths: dict[Element | None, int] = {None: 0}
    for element in document.elements:
        depths[element] = depths[element.parent] + 1
    deepest = max(document.elements, key=depths.__getitem__)
    return PageFinding(
        address, deepest.line, TOO_DEEP.check, (), "", "", "unsure",
        f"Elements stand in one another {depths[deepest]} levels deep here; the page cannot be judged.",
        "Close the elements that are open, or take out what does nothing.",
    )  # fmt: skip


# Attributes that hold an address, by element, each with whether it leads somewhere; the others load or refer to something.
_ADDRESSED: Final[dict[str, tuple[tuple[str, bool], ...]]] = {
    "a": (("href", True), ("xlink:href", True)),
    "area": (("href", True),),
    "audio": (("src", False),),
    "embed": (("src", False),),
    "form": (("action", True),),
    "iframe": (("src", True),),
    "image": (("href", False), ("xlink:href", False)),
    "img": (("src", False), ("srcset", False)),
    "input": (("src", False),),
    "link": (("href", False), ("imagesrcset", False)),
    "object": (("data", False),),
    "script": (("src", False),),
    "source": (("src", False), ("srcset", False)),
    "track": (("src", False),),
    "use": (("href", False), ("xlink:href", False)),
    "video": (("src", False), ("poster", False)),
}


_SETS: Final = frozenset({"imagesrcset", "srcset"})
"""Attributes that hold several addresses."""


def extract(document: Document) -> Extract:
    """What a page tells the rest of the edition."""
    titles = document.tagged("title")
    # A second look at every link of a page is left out where no element at all has a name.
    anchors = document.tagged("a") if document.having("name") else []
    names = [anchor.attrs["name"] for anchor in anchors if anchor.attrs.get("name")]
    bases = [base.attrs["href"] for base in document.tagged("base") if "href" in base.attrs]
    links, assets = _addresses(document)
    return Extract(
        title=" ".join(titles[0].text().split()) if titles else "",
        lang=document.root.attrs.get("lang", ""),
        ids=(*document.ids, *(name for name in names if name not in document.ids)),
        links=links,
        assets=assets,
        base=bases[0].strip(WHITESPACE) if bases else "",
    )


_offset: Final = attrgetter("offset")


_Addresses = tuple[list[tuple[str, int]], list[tuple[str, int]]]
"""Addresses that lead somewhere and addresses of what is loaded, each with its line."""


def _addresses(document: Document) -> tuple[tuple[tuple[str, int], ...], tuple[tuple[str, int], ...]]:
    links: list[tuple[str, int]] = []
    assets: list[tuple[str, int]] = []
    told, source, elements = (links, assets), document.source, document.elements
    if not document.parts:
        addressed = [element for tag in _ADDRESSED for element in document.tagged(tag)]
        addressed.sort(key=_offset)
        _tell(addressed, source, 0, 1, told)
        return tuple(links), tuple(assets)
    # Only pages read strictly have parts, and in these elements stand in the order in which they are written.
    place = before = 0
    line = 1
    for start, part in document.parts:
        line, before = _tell(elements[place:start], source, before, line, told)
        begin = part.elements[0].offset
        line += source.count("\n", before, begin)
        before = begin
        kept = part.kept_addresses
        if kept is None:
            kept = part.kept_addresses = ([], [])
            _tell(part.elements, source, begin, 0, kept)
        links += [(address, line + lines) for address, lines in kept[0]]
        assets += [(address, line + lines) for address, lines in kept[1]]
        place = start + len(part.elements)
    _tell(elements[place:], source, before, line, told)
    return tuple(links), tuple(assets)


def _tell(
    elements: Iterable[Element], source: str, before: int, line: int, told: _Addresses
) -> tuple[int, int]:
    """Tell the addresses of elements in the order written, `line` being that of the offset `before`; gives both for the last one."""
    links, assets = told
    for element in [each for each in elements if each.tag in _ADDRESSED]:
        attrs = element.attrs
        for name, leads_there in _ADDRESSED[element.tag]:
            if name not in attrs:
                continue
            offset = element.offset
            line += source.count("\n", before, offset)
            before = offset
            address = attrs[name]
            if leads_there:
                links.append((address.strip(WHITESPACE), line))
            elif name in _SETS:
                assets += [(candidate, line) for candidate in _srcset(address)]
            else:
                assets.append((address.strip(WHITESPACE), line))
    return line, before


def _srcset(value: str) -> Iterator[str]:
    """The addresses of a srcset (https://html.spec.whatwg.org/multipage/images.html#srcset-attributes)."""
    for candidate in value.replace(",\n", ", ").split(", "):
        words = candidate.strip(WHITESPACE + ",").split()
        if words:
            yield words[0]


# Steps up, then names that need no quoting and no second look (a dot alone would), then perhaps a slash.
_PLAINLY_RELATIVE: Final = re.compile(r"(?:\.\./)*(?:[a-z0-9][a-z0-9_.-]*/)*(?:[a-z0-9][a-z0-9_.-]*)?\Z")

_BYTES: Final = "surrogateescape"
"""How names of files that are not UTF-8 keep their bytes, in Python and in addresses."""

# A stand-in where a folder of pages has no public address; RFC 2606 keeps the name from ever being anyone's.
_NOWHERE: Final = "http://folder.invalid/"


def check_links(
    extracts: Mapping[str, Extract], files: Container[str], base: str, of: Container[str] | None = None
) -> tuple[PageFinding, ...]:
    """Every link and asset inside the edition leads to something in it, and every fragment to an id.

    `extracts` has each page by its site address without a leading slash ("", "stories/2026/coats/", "404.html"); `files` says
    of any such address whether the edition has it as a file. `base` is the site's public address, ending with a slash; ""
    for a folder that has none. Addresses outside `base` are not looked at. Findings stand in the order of the pages. `of` are
    the pages whose links are looked at; None for all.
    """
    known = _Edition(extracts, files)
    base = base or _NOWHERE
    findings: list[PageFinding] = []
    for address in extracts:
        if of is not None and address not in of:
            continue
        told = extracts[address]
        here = base + quote(address, errors=_BYTES)
        page_base = urljoin(here, told.base) if told.base else here
        resolved: dict[str, tuple[Rule, Verdict, str, str] | None] = {}
        folder = address.split("/")[:-1]
        for written_addresses, is_asset in ((told.links, False), (told.assets, True)):
            for written, line in written_addresses:
                if written not in resolved:
                    if not told.base and known.has_plainly(folder, written):
                        resolved[written] = None
                        continue
                    resolved[written] = known.problem(written, page_base, base, address, is_asset)
                problem = resolved[written]
                if problem is not None:
                    rule, verdict, message, instead = problem
                    findings.append(
                        PageFinding(address, line, rule.check, (), "", "", verdict, message, instead)
                    )
    return tuple(findings)


class _Edition:
    """The addresses that exist."""

    __slots__ = ("_files", "_ids", "_pages")

    def __init__(self, extracts: Mapping[str, Extract], files: Container[str]) -> None:
        self._pages = extracts
        self._files = files
        self._ids: dict[str, frozenset[str]] = {}

    def has_plainly(self, folder: list[str], written: str) -> bool:
        """True where an address is a relative one of the plainest kind, and leads to something here. False says nothing.

        Nine of ten addresses of our own pages are such, and resolving them by the whole rules took a tenth of a build.
        """
        if not written or _PLAINLY_RELATIVE.match(written) is None:
            return False
        steps = written.split("/")
        up = steps.count("..")
        if up > len(folder):
            return False
        path = "/".join([*folder[: len(folder) - up], *steps[up:]])
        return path in self._pages or path in self._files

    def problem(
        self, written: str, page_base: str, base: str, address: str, is_asset: bool
    ) -> tuple[Rule, Verdict, str, str] | None:
        """What is wrong with an address as written: (rule, verdict, message, instead); None where nothing is."""
        rule = BROKEN_ASSET if is_asset else BROKEN_LINK
        try:
            whole = urljoin(page_base, written)
            parts = urlsplit(whole)
        except ValueError:
            return (
                rule,
                "fails",
                f'"{written}" is not an address.',
                "Write it like ../stories/ or https://example.org/.",
            )
        if not whole.startswith(base) and whole + "/" != base:
            return None
        path = unquote(parts._replace(query="", fragment="").geturl()[len(base) :], errors=_BYTES)
        fragment = unquote(parts.fragment)
        target = self._page(path)
        if target is None:
            if path in self._files:
                return None
            if path and not path.endswith("/") and self._page(path + "/") is not None:
                return (
                    rule,
                    "unsure",
                    f'"{written}" leaves out the slash at its end; not every host adds it.',
                    "Put the slash at its end.",
                )
            return (
                rule,
                "fails",
                f'"{written}" leads nowhere: there is no "{path}" here.',
                "Correct or remove it.",
            )
        if not fragment or fragment.lower() == "top" or fragment.startswith(":~:"):
            return None
        fragment = fragment.partition(":~:")[0]
        if target not in self._ids:
            self._ids[target] = frozenset(self._pages[target].ids)
        if fragment in self._ids[target] or urlsplit(whole).fragment in self._ids[target]:
            return None
        there = "on this page" if target == address else f'on "{target}"'
        return (
            BROKEN_FRAGMENT,
            "fails",
            f'"{written}" points at "{fragment}", which is not {there}.',
            "Use an id it has.",
        )

    def _page(self, path: str) -> str | None:
        for candidate in (path, path + "index.html" if not path or path.endswith("/") else path):
            if candidate in self._pages:
                return candidate
        if path == "index.html" or path.endswith("/index.html"):
            folder = path.removesuffix("index.html")
            if folder in self._pages:
                return folder
        return None


class ContrastJudge:
    """The contrast engine as a judge of pages; made by `contrast_judge`."""

    def __init__(
        self, load: Callable[[str], bytes | None], base: str, every_scenario: bool, learnt: bytes
    ) -> None:
        from sitegen.proof.contrast.engine import DEFAULT, ContrastEngine, all_scenarios

        self._scenarios = all_scenarios() if every_scenario else DEFAULT
        self._engine = ContrastEngine(load, urlsplit(base).path.lstrip("/"), learnt)

    def styles(self, address: str, document: Document) -> Styles:
        return styles_by(self._engine, address, document, self._scenarios)

    def findings(self, address: str, document: Document) -> Iterable[PageFinding]:
        return self._engine.judge(address, document, self._scenarios)

    @property
    def news(self) -> int:
        """How much was found out here that nobody had told: it says when `learnt` is worth its time."""
        return self._engine.news

    def learnt(self) -> bytes | None:
        """What a later process of the same program and libraries may be told (`contrast_judge`), so that its first pages cost
        little more than all others; None where that is no more than this one was told. Plain data, in bytes."""
        return self._engine.learnt()


def contrast_judge(
    load: Callable[[str], bytes | None], base: str = "", every_scenario: bool = True, learnt: bytes = b""
) -> ContrastJudge:
    """The contrast engine as a judge of pages. `load` gives a file of the site by its path; `base` is the site's public
    address. In every scenario a page of ours must pass, or only light, wide, on a screen, at rest.

    `learnt` is what a judge of the same program and libraries gave by its own `learnt`, in whichever process and of whichever
    stylesheets: what does not fit, or is not whole, is not used. Verdicts do not depend on it.
    """
    return ContrastJudge(load, base, every_scenario, learnt)


_PAGES: Final = frozenset({".html", ".htm"})
_NOT_READ: Final = frozenset({".xhtml", ".xht"})
"""XML, which other rules read."""


def _suffix(name: str) -> str:
    return posixpath.splitext(name)[1].lower()


def _files_below(folder: Path) -> Iterator[str]:
    """Every file below a folder, with forward slashes. Raises OSError where a folder can't be read."""

    def fail(problem: OSError) -> None:
        raise problem

    for above, _, names in os.walk(folder, onerror=fail):
        for name in names:
            path = Path(above, name)
            if path.is_file():
                yield path.relative_to(folder).as_posix()


def has_pages(folder: Path) -> bool:
    """Whether there is anything below a folder that `check_folder` would speak of. Raises OSError as that does."""
    return any(_suffix(name) in _PAGES | _NOT_READ for name in _files_below(folder))


def check_folder(folder: Path, base: str = "", every_scenario: bool = False) -> Report:
    """Checks every page (.html, .htm) below a folder, and the links among them; of XHTML it says that it was not read.

    `base` is the folder's public address, ending with a slash; without one, addresses that begin with "/" are relative to
    the folder. Raises OSError where a file or folder can't be read.
    """
    findings: list[PageFinding] = []
    extracts: dict[str, Extract] = {}
    files = frozenset(_files_below(folder))
    pages = sorted(name for name in files if _suffix(name) in _PAGES)
    findings += [
        PageFinding(
            name, 1, NOT_READ.check, (), "", "", "unsure",
            "This page was not read: only .html and .htm are.", "Check it by other means, or leave it out.",
        )
        for name in sorted(files) if _suffix(name) in _NOT_READ
    ]  # fmt: skip

    def load(path: str) -> bytes | None:
        # Only what was listed below the folder: a page's addresses never lead out of it.
        return (folder / path).read_bytes() if path in files else None

    judge = contrast_judge(load, base, every_scenario)
    with seldom_collecting():
        for name in pages:
            proof = check_page(name, (folder / name).read_bytes(), judge)
            findings += proof.findings
            extracts[name] = proof.extract
    findings += check_links(extracts, files, base)
    return Report(pages=tuple(findings))
