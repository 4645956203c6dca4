"""The checks of a page and of the links between pages."""

from __future__ import annotations

import json
import os
from itertools import product
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.proof.checks.markup import is_machine_readable
from sitegen.proof.pagecheck import Extract, _Edition, check_folder, check_links, check_page, contrast_judge
from sitegen.proof.report import as_json, as_sarif

GOOD = (
    '<!doctype html>\n<html lang="en">\n<head><title>Coats</title></head>\n<body>\n<main><h1>Coats</h1>\n'
    '<p id="when"><time datetime="2026-11-25">today</time> <a href="#when">when</a></p>\n<h2>Where</h2>\n'
    '<img src="a.jpg" alt="A rack of coats"></main>\n</body>\n</html>\n'
)


def checks(source: str) -> list[str]:
    return [finding.check for finding in check_page("a.html", source.encode()).findings]


def test_a_page_in_order_has_no_finding() -> None:
    assert checks(GOOD) == []


@pytest.mark.parametrize(
    ("old", "new", "check", "line"),
    [
        ("<!doctype html>", "", "doctype", 1),
        ("<title>Coats</title>", "", "page-title", 2),
        ("<title>Coats</title>", "<title> </title>", "page-title", 3),
        ("</head>", "<title>Two</title></head>", "one-title", 3),
        ("<main>", "<div>", "one-main", 2),
        ("</body>", "<main></main></body>", "one-main", 9),
        ("<h1>Coats</h1>", "<h3>Coats</h3>", "one-first-heading", 2),
        ("<h2>Where</h2>", "<h1>Where</h1>", "one-first-heading", 7),
        ("<h2>Where</h2>", "<h3>Where</h3>", "heading-order", 7),
        ('alt="A rack of coats"', "", "picture-name", 8),
        (">when<", "> <", "link-name", 6),
        ("<h2>", '<h2 id="when">', "id-unique", 7),
        ("<h2>", '<h2 id="two words">', "id-without-space", 7),
        (' lang="en"', "", "page-language", 2),
        ('"en"', '" "', "page-language", 2),
        ('"en"', '"english"', "page-language-known", 2),
        ("2026-11-25", "25 November", "time-readable", 6),
        ("<h2>", '<h2 class="a" class="b">', "attribute-twice", 7),
    ],
)
def test_one_change_gives_its_finding(old: str, new: str, check: str, line: int) -> None:
    assert old in GOOD
    broken = check_page("a.html", GOOD.replace(old, new, 1).encode()).findings
    assert (check, line) in [(finding.check, finding.line) for finding in broken]


def test_bytes_that_are_not_utf8_are_told() -> None:
    assert [
        f.check for f in check_page("a.html", GOOD.replace("A rack", "\xe9").encode("latin-1")).findings
    ] == ["encoding"]


# The examples of the HTML Standard's section on the time element, and its neighbours that are not allowed.
@pytest.mark.parametrize(
    "value",
    [
        "2011-11", "2011-11-18", "11-18", "14:54", "14:54:39", "14:54:39.929", "2011-11-18T14:54", "2011-11-18 14:54:39.929",
        "Z", "+0000", "+00:00", "-08:00", "2011-11-18T14:54Z", "2011-11-18 14:54-0800", "2011-W47", "0001", "2011",
        "PT4H18M3S", "P2D", "4h 18m 3s", "2024-02-29", "02-29", "2020-W53", "12026-01-01",
    ],
)  # fmt: skip
def test_times_the_standard_allows(value: str) -> None:
    assert is_machine_readable(value)


@pytest.mark.parametrize(
    "value",
    [
        "", "today", "2011-13", "2011-11-31", "2023-02-29", "1900-02-29", "24:00", "12:60", "2011-11-18T14", "2011-11-18T14:54+8",
        "2011-W54", "2021-W53", "0000", "PT", "P", "P1Y", "02-30", "0000-W01", "2011-W00", "5 pm", "2011/11/18", "２０１１-11-18", "0000-01-01",
    ],
)  # fmt: skip
def test_times_the_standard_does_not_allow(value: str) -> None:
    assert not is_machine_readable(value)


def told(*links: str, ids: tuple[str, ...] = (), assets: tuple[str, ...] = (), base: str = "") -> Extract:
    return Extract(
        "t",
        "en",
        ids,
        tuple((link, line) for line, link in enumerate(links, 1)),
        tuple((asset, 1) for asset in assets),
        base,
    )


SITE = "https://station.example.org/good/"
EDITION = {
    "": told(ids=("top-story",)),
    "stories/a/": told(ids=("where", "plâce")),
    "404.html": told(),
    "counties/x/": told(),
}
FILES = {"style.css", "pictures/a.jpg", "feed.atom"}


@pytest.mark.parametrize(
    "link",
    [
        "../../", "../../#top-story", "../a/", "#where", "#pl%C3%A2ce", "#", "#top", "", "?page=2", "../../404.html", "../../feed.atom",
        "https://station.example.org/good/stories/a/#where", "/good/counties/x/", "https://elsewhere.example.org/nothing",
        "mailto:a@example.org", "tel:555-555-0100", "/other/", "../../index.html", "https://station.example.org/good",
        "#where:~:text=coats", "//station.example.org/good/", "../a/index.html#where",
    ],
)  # fmt: skip
def test_links_that_lead_somewhere(link: str) -> None:
    assert check_links({**EDITION, "stories/a/": told(link, ids=("where", "plâce"))}, FILES, SITE) == ()


@pytest.mark.parametrize(
    ("link", "check", "verdict"),
    [
        ("../b/", "link-target", "fails"),
        ("/good/counties/y/", "link-target", "fails"),
        ("https://station.example.org/good/b.html", "link-target", "fails"),
        ("../../#nowhere", "link-fragment", "fails"),
        ("#nowhere", "link-fragment", "fails"),
        ("../../counties/x", "link-target", "unsure"),
        ("http://[", "link-target", "fails"),
        ("../../style.csss", "link-target", "fails"),
    ],
)
def test_links_that_do_not(link: str, check: str, verdict: str) -> None:
    found = check_links({**EDITION, "stories/a/": told("", link, ids=("where",))}, FILES, SITE)
    assert [(f.page, f.line, f.check, f.verdict) for f in found] == [("stories/a/", 2, check, verdict)]


def test_assets_are_looked_for_too() -> None:
    pages = {"stories/a/": told(assets=("../../style.css", "../../pictures/a.jpg?v=1", "b.jpg"))}
    assert [finding.check for finding in check_links(pages, FILES, SITE)] == ["asset-target"]


def test_a_base_element_moves_every_link() -> None:
    assert check_links({"": told(), "stories/a/": told("", base="/good/")}, FILES, SITE) == ()
    assert check_links({"": told(), "stories/a/": told("./style.css", base="/good/")}, FILES, SITE) == ()
    assert len(check_links({"": told(), "stories/a/": told("./style.css")}, FILES, SITE)) == 1


def test_the_extract_tells_what_a_page_refers_to() -> None:
    source = (
        '<!doctype html><html lang="en"><head><title> Two\n words </title><link rel="stylesheet" href="s.css">'
        '<base href="/x/"></head><body><a name="old" id="new" href="a">a</a>\n<svg><a href="b"><text>b</text></a></svg>'
        '<img src="p.jpg" srcset="p-1.jpg 1x,\np-2.jpg 2x" alt=""><form action="f"></form><video src="v.mp4"></video></body></html>'
    )
    extract = check_page("a.html", source.encode()).extract
    assert (extract.title, extract.lang, extract.ids, extract.base) == (
        "Two words",
        "en",
        ("new", "old"),
        "/x/",
    )
    assert extract.links == (("a", 2), ("b", 3), ("f", 4))
    assert extract.assets == (("s.css", 2), ("p.jpg", 3), ("p-1.jpg", 3), ("p-2.jpg", 3), ("v.mp4", 4))


def test_a_folder_is_read_with_its_links(tmp_path: Path) -> None:
    (tmp_path / "a").mkdir()
    (tmp_path / "index.html").write_text(GOOD.replace("#when", "/a/").replace("a.jpg", "a/p.jpg"), "utf-8")
    (tmp_path / "a" / "index.html").write_text(
        GOOD.replace("#when", "../#where").replace("a.jpg", "p.jpg"), "utf-8"
    )
    (tmp_path / "a" / "p.jpg").write_bytes(b"")
    (tmp_path / "notes.txt").write_text("<p>not a page", "utf-8")
    found = check_folder(tmp_path).pages
    assert [(finding.page, finding.check, finding.line) for finding in found] == [
        ("a/index.html", "link-fragment", 6)
    ]
    (tmp_path / "index.html").write_text(
        GOOD.replace("#when", "/good/a/").replace("a.jpg", "/good/a/p.jpg"), "utf-8"
    )
    assert len(check_folder(tmp_path).pages) == 3
    assert len(check_folder(tmp_path, SITE).pages) == 1


def test_a_folder_is_read_whole_or_it_is_said(tmp_path: Path) -> None:
    page = GOOD.replace("#when", "%FF.html").replace("a.jpg", "b.htm").replace(' id="when"', "")
    (tmp_path / "a.html").write_text(page, "utf-8")
    (tmp_path / "b.htm").write_text(GOOD.replace(' alt="A rack of coats"', ""), "utf-8")
    (tmp_path / "c.xhtml").write_text("<html/>", "utf-8")
    Path(os.fsdecode(os.fsencode(tmp_path) + b"/\xff.html")).write_text("x", "utf-8")
    report = check_folder(tmp_path)
    found = {(finding.page, finding.check) for finding in report.pages}
    assert any(page == "b.htm" for page, _ in found)
    assert ("c.xhtml", "not-read") in found
    assert any(page == "\udcff.html" for page, _ in found)
    assert not any(page == "a.html" for page, _ in found)  # its link leads to the file whose name is no UTF-8
    assert json.loads(as_json(report).encode("utf-8"))["findings"]
    assert "%FF.html" in as_sarif(report).encode("utf-8").decode("utf-8")


def test_a_folder_that_cannot_be_read_is_no_good_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "index.html").write_text(GOOD, "utf-8")
    shut = tmp_path / "shut"
    shut.mkdir()
    scandir = os.scandir

    def refuse(path: str) -> object:
        if os.fspath(path) == str(shut):
            raise PermissionError(13, "Permission denied", str(shut))
        return scandir(path)

    monkeypatch.setattr(os, "scandir", refuse)
    with pytest.raises(PermissionError):
        check_folder(tmp_path)


@pytest.mark.parametrize("tag", ["div", "font color=red", "span style='color:#123'"])
@pytest.mark.parametrize("deep", [600, 3_000])
def test_elements_that_stand_too_deep_in_one_another_are_told(tag: str, deep: int) -> None:
    name = tag.split()[0]
    source = GOOD.replace("<h2>", f"<{tag}>\n" * deep + "<p>x</p>" + f"</{name}>" * deep + "<h2>")
    found = check_page("a.html", source.encode(), contrast_judge(lambda path: None)).findings
    assert [(finding.check, finding.verdict) for finding in found] == [("nesting", "unsure")]
    assert found[0].line > 400
    # What it left behind does not bear on the next page.
    assert check_page("a.html", GOOD.encode(), contrast_judge(lambda path: None)).findings == ()


@pytest.mark.parametrize(
    "written",
    [
        "<select size={0} aria-label=x><option>x</select>",
        "<table><tr><th scope=col>a<tr><td colspan={0}>x</table>",
        "<div role=heading aria-level={0}>x</div>",
        "<a href='#when' tabindex={0}>x</a><div tabindex=-{0}>x</div>",
        "<time datetime={0}-12-12>x</time><time datetime={0}>x</time><time datetime={0}-02-30>x</time>",
        "<meta http-equiv=refresh content='{0}; url=x'>",
        "<style>p::before {{ content: '\\{0}'; color: rgb({0} 0 0); width: {0}px }}</style>",
        "<p style='color: rgb(0 {0} 0)'>x</p>",
        "<style media='(width: {0}px)'>p {{ color: red }}</style>",
    ],
)
def test_a_number_without_end_is_a_very_large_one(written: str) -> None:
    def found(number: str) -> list[tuple[str, str]]:
        source = GOOD.replace("</main>", written.format(number) + "</main>").encode()
        proof = check_page("a.html", source, contrast_judge(lambda path: None))
        return [(finding.check, finding.verdict) for finding in proof.findings]

    assert found("9" * 5000) == found("9" * 20) == found("0" * 5000 + "9" * 20)


def test_a_base_element_moves_fragments_too() -> None:
    pages = {
        "": told(ids=("top-story",)),
        "stories/a/": told("#here", "#top-story", ids=("here",), base="/good/"),
    }
    assert [(finding.check, finding.line) for finding in check_links(pages, FILES, SITE)] == [
        ("link-fragment", 1)
    ]


def test_addresses_with_signs_of_their_own_are_found() -> None:
    pages = {
        "100% true?.html": told("#a", "", "plain.html", ids=("a",)),
        "plain.html": told("100%25%20true%3F.html#a"),
    }
    assert check_links(pages, FILES, SITE) == ()


PARTS = st.sampled_from(["a", "b-2", "c.html", "..", ".", "", "A", "a b", "%61", "index.html", "?q", "#x"])
NAMES = ("a", "b-2", "c.html", "index.html", "A")
EVERY_FILE = {
    "/".join(names) + end for names in (*product(NAMES), *product(NAMES, repeat=2)) for end in ("", "/")
}


@given(
    st.sets(st.sampled_from(sorted(EVERY_FILE)), min_size=len(EVERY_FILE) - 3),
    st.lists(PARTS, max_size=3).map("/".join),
    st.sampled_from(["", "a/", "a/b-2/", "b-2/c.html"]),
)
def test_the_short_way_to_a_link_ends_where_the_long_one_does(
    files: set[str], written: str, address: str
) -> None:
    known = _Edition({}, files - {address})
    if known.has_plainly(address.split("/")[:-1], written):
        base = "https://www.example.org/site/"
        assert known.problem(written, base + address, base, address, False) is None
