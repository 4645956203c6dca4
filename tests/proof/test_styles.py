"""Styles of linked sheets: what they hide, space and turn is seen by every check, in every scenario."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.proof.pagecheck import check_folder, check_page, contrast_judge
from sitegen.proof.report import Report

LONG = "The ferry leaves the long pier at the turn of every tide and comes back before the next one does."


def page(body: str) -> str:
    return (
        '<!doctype html>\n<html lang="en">\n<head><title>Tides</title><link rel="stylesheet" href="css/site.css"></head>\n'
        f"<body><main><h1>Tides</h1>{body}</main></body>\n</html>"
    )


def report(folder: Path, css: str, body: str, every_scenario: bool = False) -> Report:
    (folder / "css").mkdir()
    (folder / "css" / "site.css").write_text(css, "utf-8")
    (folder / "page.html").write_text(page(body), "utf-8")
    return check_folder(folder, every_scenario=every_scenario)


def found(folder: Path, css: str, body: str, every_scenario: bool = False) -> dict[str, str]:
    return {finding.check: finding.verdict for finding in report(folder, css, body, every_scenario).pages}


@pytest.mark.parametrize(
    ("css", "is_judged"),
    [
        ("", True),
        (".x { display: none }", False),
        ("main .x { visibility: hidden }", False),
        (".x { visibility: hidden } .x img { visibility: visible }", True),
        (".x { display: none } p.x { display: block }", True),
        ("@layer a { p.x { display: block } } .x { display: none }", False),
        (".x:not(.y) { display: none }", False),
        ("@import 'more.css'; .x { color: black }", True),
        ("@media print { .x { display: none } }", True),
        ("@media screen { .x { display: none } }", False),
        (".x { --d: none; display: var(--d) }", False),
        (".x { content-visibility: hidden }", False),
    ],
)
def test_what_a_linked_sheet_hides_needs_no_name(tmp_path: Path, css: str, is_judged: bool) -> None:
    assert ("picture-name" in found(tmp_path, css, "<p class=x><img src=a.png></p>")) == is_judged


def test_a_sheet_moves_tables_out_of_sight(tmp_path: Path) -> None:
    css = "table { position: absolute; left: -200rem }"
    assert "table-headers" not in found(tmp_path, css, "<table><tr><td headers=no>1</td></tr></table>")


def test_names_are_apart_where_a_sheet_puts_things_apart(tmp_path: Path) -> None:
    body = '<button aria-label="high water"><span>high</span><span>water</span></button>'
    assert "label-in-name" in found(tmp_path, "b { color: black }", body)


def test_names_follow_a_sheet(tmp_path: Path) -> None:
    body = '<button aria-label="high water"><span>high</span><span>water</span></button>'
    assert "label-in-name" not in found(tmp_path, "span { display: block }", body)


@pytest.mark.parametrize(
    ("css", "check"),
    [
        ("p { line-height: 1 !important }", "line-height"),
        ("main { letter-spacing: 0 !important } p { letter-spacing: inherit !important }", None),
        ("p { letter-spacing: .1em !important }", "letter-spacing"),
        ("p { word-spacing: 0 !important }", "word-spacing"),
        ("p { word-spacing: .2em !important; letter-spacing: .12em !important; line-height: 1.5 !important }", None),
        ("p { line-height: 1; letter-spacing: 0; word-spacing: 0 }", None),
        ("p { line-height: 1 !important } main p { line-height: 2 !important }", None),
    ],
)  # fmt: skip
def test_spacing_made_important_in_a_sheet_is_looked_at(tmp_path: Path, css: str, check: str | None) -> None:
    checks = {"line-height", "letter-spacing", "word-spacing"}
    findings = [f for f in report(tmp_path, css, f"<p>{LONG}</p>").pages if f.check in checks]
    assert [f.check for f in findings] == ([] if check is None else [check])
    for finding in findings:
        # The rules of ACT are about style attributes alone.
        assert (finding.verdict, finding.act, finding.criterion) == ("unsure", (), "1.4.12")
        assert "css/site.css, line 1" in finding.message


@pytest.mark.parametrize(
    ("css", "is_turned"),
    [
        ("@media (orientation: portrait) { body { transform: rotate(90deg) } }", True),
        ("@media (orientation: landscape) { main { rotate: -0.25turn } }", True),
        ("body { rotate: 2deg } @media (orientation: landscape) { body { rotate: 92deg } }", True),
        ("@media (orientation: portrait) { body { transform: matrix(0, 1, -1, 0, 0, 0) } }", True),
        ("@media (orientation: portrait) { body { transform: rotate3d(0, 0, 1, 1.5708rad) } }", True),
        ("@media (orientation: portrait) { body { transform: rotate(180deg) } }", False),
        ("@media (orientation: portrait) { body { transform: rotate3d(1, 0, 0, 90deg) } }", False),
        ("@media (min-width: 599px) { body { rotate: 90deg } }", False),
        ("body { rotate: 90deg } @media (orientation: portrait) { p { color: black } }", False),
        ("main { display: none } @media (orientation: portrait) { main { rotate: 90deg } }", False),
    ],
)
def test_pages_that_turn_with_the_device(tmp_path: Path, css: str, is_turned: bool) -> None:
    assert found(tmp_path, css, "<p>Tides</p>").get("orientation-lock") == ("fails" if is_turned else None)


def test_what_only_a_narrow_window_shows_is_checked_too(tmp_path: Path) -> None:
    css = ".menu { display: none } @media (max-width: 400px) { .menu { display: block } .list { display: none } }"
    body = '<button class="menu"></button><ul class="list"><li><a href="#"></a></ul>'
    assert {"button-name", "link-name"} <= found(tmp_path, css, body, every_scenario=True).keys()


def test_what_only_print_shows_is_not_checked(tmp_path: Path) -> None:
    css = ".x { display: none } @media print { .x { display: block } }"
    assert "picture-name" not in found(tmp_path, css, "<p class=x><img src=a.png></p>", every_scenario=True)


@pytest.mark.parametrize(
    ("css", "is_judged"), [("p { color: black }", True), ("map { display: none }", False)]
)
def test_areas_go_with_what_they_stand_in(tmp_path: Path, css: str, is_judged: bool) -> None:
    body = '<img src="m.png" alt="Map" usemap="#m"><map name="m"><area href="#"></map>'
    assert ("link-name" in found(tmp_path, css, body)) == is_judged


def test_only_the_usual_window_is_looked_at_otherwise(tmp_path: Path) -> None:
    css = ".menu { display: none } @media (max-width: 400px) { .menu { display: block } }"
    assert "button-name" not in found(tmp_path, css, '<button class="menu"></button>')


def test_a_finding_common_to_all_windows_is_told_once(tmp_path: Path) -> None:
    css = ".a { display: none } @media (max-width: 400px) { .a { display: block } }"
    findings = report(tmp_path, css, "<p class=a>Menu</p><img src=a.png>", every_scenario=True).pages
    assert [f.check for f in findings].count("picture-name") == 1


def test_sheets_are_found_from_where_the_page_lies() -> None:
    files = {"css/site.css": b".x { display: none }"}
    source = page("<p class=x><img src=a.png></p>").replace("css/site.css", "../../css/site.css")
    judge = contrast_judge(files.get, every_scenario=False)
    assert "picture-name" not in {
        f.check for f in check_page("a/b/index.html", source.encode(), judge).findings
    }
    # Without a judge nobody can load the sheet.
    assert "picture-name" in {f.check for f in check_page("a/b/index.html", source.encode()).findings}
