"""The checks of landmarks, lists, table cells, widget names, boxes that scroll, and of what keeps readers from working a page."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Verdicts = Callable[..., dict[str, str]]

WHOLE = "<header>Top</header><main><h1>Words</h1></main><footer>Foot</footer>"


@pytest.mark.parametrize(
    ("body", "check"),
    [
        (WHOLE, ""),
        ("<main><article><header>Not the page's</header></article></main>", ""),
        ("<main><div role=banner>Top</div></main>", "landmark-place"),
        ("<section aria-label=All><main>Words</main></section>", "landmark-place"),
        ("<section><main>Words</main></section>", ""),
        ("<header>One</header><header>Two</header><main>Words</main>", "landmark-once"),
        ("<footer>One</footer><main>Words</main><footer>Two</footer>", "landmark-once"),
        ("<header>One</header><header hidden>Two</header><main>Words</main>", ""),
        ("<p>Words</p><main>Words</main>", "outside-landmarks"),
        ("<div><main>Words</main>words</div>", "outside-landmarks"),
        ("<div><img src=a alt=Map></div><main>Words</main>", "outside-landmarks"),
        ("<div><img src=a alt=''></div><main>Words</main>", ""),
        ("<a href='#m'>Skip</a><main id=m>Words</main>", ""),
        ("<div role=alert>Words</div><main>Words</main>", ""),
        ("<div hidden>Words</div><script>words</script><main>Words</main>", ""),
        ("<div><header>Top</header></div><div><main>Words</main></div>", ""),
        ("<p>Words</p>", ""),  # without a main part, that is said instead
    ],
)
def test_landmarks(verdicts: Verdicts, body: str, check: str) -> None:
    found = {"landmark-place", "landmark-once", "outside-landmarks"} & set(verdicts(body))
    assert found == ({check} if check else set())


@pytest.mark.parametrize(
    ("body", "check"),
    [
        ("<ul><li>One</li><script></script><template></template></ul>", ""),
        ("<ul><li>One</li><div>Two</div></ul>", "list-parts"),
        ("<ol>Words<li>One</li></ol>", "list-parts"),
        ("<ul><li>One</li><div hidden>Two</div></ul>", ""),
        ("<ul role=tablist><div>Two</div></ul>", ""),
        ("<div><li>One</li></div>", "list-item-place"),
        ("<div role=list><li>One</li></div>", ""),
        ("<ul role=tablist><li>One</li></ul>", "list-item-place"),
        ("<ul role=none><li>One</li></ul>", ""),
        ("<dl><dt>Day</dt><dd>One</dd><dd>Two</dd></dl>", ""),
        ("<dl><div><dt>Day</dt><dd>One</dd></div></dl>", ""),
        ("<dl><dt>Day</dt><dd>One</dd><p>Two</p></dl>", "description-list-parts"),
        ("<dl><dd>One</dd><dt>Day</dt></dl>", "description-list-parts"),
        ("<dl><div><dt>Day</dt></div></dl>", "description-list-parts"),
        ("<div><dt>Day</dt></div>", "description-place"),
    ],
)
def test_parts_of_lists(verdicts: Verdicts, body: str, check: str) -> None:
    checks = {"list-parts", "list-item-place", "description-list-parts", "description-place"}
    assert checks & set(verdicts(body)) == ({check} if check else set())


ROWS = "<tr><td>a<td>b<td>c</tr>" * 3


@pytest.mark.parametrize(
    ("body", "check"),
    [
        ("<table><tr><th>Day<th>Hours<tr><td>One<td>Two</table>", ""),
        ("<table><tr><th><th>Hours<tr><td>One<td>Two</table>", "table-header-name"),
        ("<table><tr><th><button>Sort</button><th>Hours<tr><td>One<td>Two</table>", ""),
        ("<table><tr><th scope=col>Day<tr><td>One</table>", ""),
        ("<table><tr><th scope=column>Day<tr><td>One</table>", "table-scope"),
        ("<table><tr><td scope=row>Day<th>Hours<tr><td>One<td>Two</table>", "table-scope"),
        ("<table summary=Hours><caption>Hours</caption><tr><th>Day<tr><td>1</table>", "table-caption-once"),
        ("<table summary='By day'><caption>Hours</caption><tr><th>Day<tr><td>1</table>", ""),
        (f"<table>{ROWS}</table>", "table-without-headers"),
        (f"<table role=presentation>{ROWS}</table>", ""),
        (f"<table><tr><th>Day<th>Hours<th>Place</tr>{ROWS}</table>", ""),
    ],
)
def test_cells_of_tables(verdicts: Verdicts, body: str, check: str) -> None:
    checks = {"table-header-name", "table-scope", "table-caption-once", "table-without-headers"}
    assert checks & set(verdicts(body)) == ({check} if check else set())


@pytest.mark.parametrize(
    ("body", "check"),
    [
        ("<div role=tablist><button role=tab></button></div>", "widget-name"),
        ("<div role=tablist><button role=tab>One</button></div>", ""),
        ("<div role=dialog>Words</div>", "widget-name"),
        ("<div role=dialog aria-label=More>Words</div>", ""),
        ("<dialog>Never opened</dialog>", ""),
        ("<progress value=1></progress>", "gauge-name"),
        ("<label>Raised <meter value=.5></meter></label>", ""),
        ("<input title=Town>", "field-label-seen"),
        ("<label>Town <input title='Where you live'></label>", ""),
        ("<input type=submit title=Go>", ""),
        ("<a href=x accesskey=u>Up</a><a href=y accesskey=U>On</a>", "access-key-once"),
        ("<a href=x accesskey=u>Up</a><a href=y accesskey=o>On</a>", ""),
        ("<a href=x><img src=a alt=Map ismap></a>", "server-side-map"),
        ("<img src=a alt=Map ismap>", ""),
        ("<marquee>Words</marquee>", "moving-text"),
        ("<ul role=directory><li>One</li></ul>", "role-deprecated"),
        ("<input type=checkbox aria-label=More aria-checked=true>", "aria-contradicts"),
        ("<div role=checkbox tabindex=0 aria-checked=true>More</div>", ""),
        ("<h2 aria-brailleroledescription=hd>Words</h2>", "aria-braille"),
    ],
)
def test_names_and_ways_of_working(verdicts: Verdicts, body: str, check: str) -> None:
    checks = {
        "widget-name", "gauge-name", "field-label-seen", "access-key-once", "server-side-map", "moving-text",
        "role-deprecated", "aria-contradicts", "aria-braille",
    }  # fmt: skip
    assert checks & set(verdicts(body)) == ({check} if check else set())


@pytest.mark.parametrize(
    ("style", "inside", "is_unsure"),
    [
        ("height: 90px; overflow: auto", "<p>Words</p>", True),
        ("max-height: 90px; overflow-y: scroll", "<p>Words</p>", True),
        ("height: 90px; overflow: hidden", "<p>Words</p>", False),
        ("overflow: auto", "<p>Words</p>", False),
        ("height: 90px; overflow: auto", "<p>Words <a href=x>and a link</a></p>", False),
        ("height: 90px; overflow: auto", "", False),
    ],
)
def test_boxes_that_scroll(verdicts: Verdicts, style: str, inside: str, is_unsure: bool) -> None:
    found = verdicts(f'<style>.box {{ {style} }}</style><div class="box">{inside}</div>')
    assert found.get("scroll-by-keyboard") == ("unsure" if is_unsure else None)
    assert "scroll-by-keyboard" not in verdicts(f'<div tabindex=0 style="{style}">{inside}</div>')


def test_a_page_hidden_from_listeners(verdicts: Verdicts) -> None:
    assert verdicts('</body><body aria-hidden="true"><p>Words</p>').get("page-hidden") == "fails"
    assert "page-hidden" not in verdicts("<p>Words</p>")
