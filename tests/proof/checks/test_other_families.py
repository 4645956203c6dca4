"""The checks of structure, languages, forms, tables, spacing, media and of what sounds alike."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from sitegen.proof.checks.forms import is_autocomplete
from sitegen.proof.checks.languages import is_known_language
from sitegen.proof.checks.sameness import is_label_in_name
from sitegen.proof.checks.whole_page import refresh_delay, viewport_settings

Verdicts = Callable[..., dict[str, str]]

NAV = "<nav><a href=x>Home</a></nav>"


@pytest.mark.parametrize("tag", ["en", "EN-us", "fr-CA", "gsw", "yue-Hant", "qaa", "en-nosuch"])
def test_languages_of_the_registry(tag: str) -> None:
    assert is_known_language(tag)


@pytest.mark.parametrize("tag", ["", " ", "english", "eng", "em-US", "i-lux", "x-own", "en_US", "#1"])
def test_what_is_no_language(tag: str) -> None:
    assert not is_known_language(tag)


@pytest.mark.parametrize(
    ("body", "fails"),
    [
        ("<p lang=dutch>Dag</p>", True),
        ("<p lang=nl>Dag</p>", False),
        ("<p lang=dutch></p>", False),
        ("<p lang=dutch><img src=a alt=Dag></p>", True),
        ("<p lang=dutch><b lang=nl>Dag</b></p>", False),
        ("<p lang=dutch hidden>Dag</p>", False),
        ("<p lang=dutch><b aria-hidden=true>Dag</b></p>", True),
        ("<p lang=''>Dag</p>", False),
    ],
)
def test_languages_of_parts(verdicts: Verdicts, body: str, fails: bool) -> None:
    assert ("part-language" in verdicts(body)) == fails


def test_two_languages_of_a_page_must_agree(verdicts: Verdicts) -> None:
    assert "page-language-agrees" in verdicts("", html=' lang="en" xml:lang="fr"')
    assert "page-language-agrees" not in verdicts("", html=' lang="en" xml:lang="en-GB"')
    assert "page-language" in verdicts("", html=' xml:lang="en"')


@pytest.mark.parametrize(
    ("content", "fails"),
    [
        ("width=device-width, initial-scale=1", False),
        ("user-scalable=no", True),
        ("user-scalable = 0", True),
        ("user-scalable=yes", False),
        ("user-scalable=1.5", False),
        ("user-scalable=nonsense", True),
        ("maximum-scale=1", True),
        ("maximum-scale=1.99;width=100", True),
        ("maximum-scale=2", False),
        ("maximum-scale=-1", False),
        ("maximum-scale=yes", True),
        ("maximum-scale=device-height", False),
        ("", False),
    ],
)
def test_zooming(verdicts: Verdicts, content: str, fails: bool) -> None:
    assert ("viewport-zoom" in verdicts("", f'<meta name="Viewport" content="{content}">')) == fails


def test_the_last_of_two_settings_counts() -> None:
    assert viewport_settings("maximum-scale=1 , maximum-scale=3")["maximum-scale"] == "3"


@pytest.mark.parametrize(
    ("content", "seconds"),
    [
        ("0; url=x", 0), ("30", 30), (" 5 ;x", 5), ("5,x", 5), ("0.9; x", 0), ("5 x", 5), (".5; x", 0), ("72000", 72000),
        ("-1; x", None), ("+5; x", None), ("x", None), ("", None), ("5x", None), ("0: x", None), ("; x", None),
    ],
)  # fmt: skip
def test_refresh_as_browsers_read_it(content: str, seconds: int | None) -> None:
    assert refresh_delay(content) == seconds


def test_only_the_first_valid_refresh_counts(verdicts: Verdicts) -> None:
    now, later = '<meta http-equiv=refresh content="0; x">', '<meta http-equiv=Refresh content="9; x">'
    invalid = '<meta http-equiv=refresh content="x">'
    assert not {"refresh-delay", "refresh-any"} & verdicts("", now + later).keys()
    assert {"refresh-delay", "refresh-any"} <= verdicts("", invalid + later + now).keys()
    after_a_day = verdicts("", '<meta http-equiv=refresh content="72001">')
    assert "refresh-any" in after_a_day
    assert "refresh-delay" not in after_a_day


@pytest.mark.parametrize(
    ("value", "right"),
    [
        ("email", True), ("EMAIL", True), ("section-a shipping home tel", True), ("billing address-line1", True),
        ("username webauthn", True), ("bday-day", True), ("work email", True),
        ("work", False), ("home street-address", False), ("home shipping tel", False), ("email,tel", False), ("email tel", False),
        ("mail", False), ("section-a", False), ("webauthn", False),
    ],
)  # fmt: skip
def test_autocomplete_words(verdicts: Verdicts, value: str, right: bool) -> None:
    assert is_autocomplete(value) == right
    assert ("autocomplete" in verdicts(f'<input aria-label=a autocomplete="{value}">')) != right


@pytest.mark.parametrize(
    "field",
    [
        "<input autocomplete=bad disabled>", "<input autocomplete=bad type=hidden>", "<button autocomplete=bad>a</button>",
        "<input autocomplete=' '>", "<input autocomplete=off>", "<input autocomplete=bad style='display:none'>",
        "<input autocomplete=bad aria-disabled=true>",
        "<input autocomplete=bad aria-hidden=true style='position:absolute;left:-9999px'>", "<input autocomplete=bad role=note tabindex=-1>",
    ],
)  # fmt: skip
def test_fields_nobody_fills_in(verdicts: Verdicts, field: str) -> None:
    assert "autocomplete" not in verdicts(field)


def table(rows: str, attributes: str = "") -> str:
    return f"<table{attributes}>{rows}</table>"


@pytest.mark.parametrize(
    ("rows", "verdict"),
    [
        ("<tr><th id=a>A</th></tr><tr><td headers=a>1</td></tr>", None),
        ("<tr><th id=a>A</th></tr><tr><td headers='a gone'>1</td></tr>", "fails"),
        ("<tr><th id=a headers=a>A</th></tr><tr><td>1</td></tr>", "fails"),
        ("<tr><td id=a role=columnheader>A</td></tr><tr><td headers=a>1</td></tr>", None),
        ("<tr><td id=a>A</td></tr><tr><td headers=a>1</td></tr>", None),
        ("<tr><th>A</th></tr><tr><td headers=other>1</td></tr>", "fails"),
    ],
)
def test_headers(verdicts: Verdicts, rows: str, verdict: str | None) -> None:
    assert verdicts("<p id=other>x</p>" + table(rows)).get("table-headers") == verdict


def test_headers_should_be_header_cells(verdicts: Verdicts) -> None:
    rows = "<tr><{0} id=a>A</{0}></tr><tr><td headers=a>1</td></tr>"
    assert verdicts(table(rows.format("td"))).get("table-headers-are-th") == "unsure"
    assert "table-headers-are-th" not in verdicts(table(rows.format("th")))


@pytest.mark.parametrize(
    ("rows", "fails"),
    [
        ("<tr><th>A</th><th>B</th></tr><tr><td>1</td><td>2</td></tr>", False),
        ("<tr><th>A</th><th>B</th></tr><tr><td colspan=2>1</td></tr>", False),
        ("<tr><th colspan=2>A</th></tr><tr><th>B</th><th>C</th></tr><tr><td>1</td><td>2</td></tr>", False),
        ("<tr><th>A</th></tr>", True),
        ("<tr><th>A</th><th>B</th></tr><tr><td>1</td></tr>", True),
        ("<tr><td>1</td></tr><tr><th scope=col>A</th></tr>", True),
        ("<tr><td>1</td><th scope=row>A</th></tr>", True),
        ("<tr><th scope=row>A</th><td>1</td></tr>", False),
        ("<tr><th rowspan=2>A</th><td>1</td></tr><tr><td>2</td></tr>", False),
        ("<tr><td></td><th>A</th></tr><tr><th>B</th><td>1</td></tr>", False),
        ("<tr><th>Corner</th><th>A</th></tr><tr><th>B</th><td>1</td></tr>", False),
        ("<tr><th id=a>A</th><th id=b>B</th></tr><tr><td>1</td><td headers=a>2</td></tr>", True),
        ("<tr><th>A</th></tr><tr><td>1</td></tr><tr><th>B</th></tr><tr><td>2</td></tr>", False),
    ],
)
def test_header_cells_head_something(verdicts: Verdicts, rows: str, fails: bool) -> None:
    assert ("table-header-assigned" in verdicts(table(rows))) == fails
    assert "table-header-assigned" not in verdicts(table(rows, " role=none"))
    assert "table-header-assigned" not in verdicts(table(rows, " hidden"))


def test_a_grid_without_table_elements_is_laid_out_too(verdicts: Verdicts) -> None:
    grid = "<div role=grid><div role=row><b role=columnheader>A</b>{}</div><div role=row><b role=gridcell>1</b></div></div>"
    assert "table-header-assigned" not in verdicts(grid.format(""))
    assert "table-header-assigned" in verdicts(grid.format("<b role=columnheader>B</b>"))


LONG = "The tide comes in twice a day and the ferry waits for it at the end of the long pier."


@pytest.mark.parametrize(
    ("style", "check", "verdict"),
    [
        ("letter-spacing: 0.1em !important", "letter-spacing", "fails"),
        ("letter-spacing: 0.12em !important", "letter-spacing", None),
        ("letter-spacing: 0.1em", "letter-spacing", None),
        ("letter-spacing: 1px !important", "letter-spacing", "fails"),
        ("font-size: 8px; letter-spacing: 1px !important", "letter-spacing", None),
        ("letter-spacing: calc(1px + 1em) !important", "letter-spacing", None),
        ("letter-spacing: min(1px, 1em) !important", "letter-spacing", "fails"),
        ("letter-spacing: 20% !important", "letter-spacing", "unsure"),
        ("letter-spacing: normal !important", "letter-spacing", "fails"),
        ("letter-spacing: inherit !important", "letter-spacing", None),
        ("letter-spacing: 0.2em !important; letter-spacing: 0.1em", "letter-spacing", None),
        ("word-spacing: 0.15em !important", "word-spacing", "fails"),
        ("word-spacing: 0.16em !important", "word-spacing", None),
        ("line-height: 1.4 !important", "line-height", "fails"),
        ("line-height: 150% !important", "line-height", None),
        ("line-height: normal !important", "line-height", "fails"),
        ("line-height: 1 !important; white-space: nowrap", "line-height", None),
        ("line-height: 1 !important; display: none", "line-height", None),
        ("line-height: 1 !important; position: absolute; left: -9999px", "line-height", None),
    ],
)
def test_spacing(verdicts: Verdicts, style: str, check: str, verdict: str | None) -> None:
    assert verdicts(f'<p style="{style}">{LONG}</p>').get(check) == verdict


def test_a_line_that_never_wraps_needs_no_height(verdicts: Verdicts) -> None:
    assert "line-height" not in verdicts('<p style="line-height: 1 !important">High tide</p>')
    assert "line-height" in verdicts('<p style="line-height: 1 !important; max-width: 60px">High tide</p>')


@pytest.mark.parametrize(
    ("rule", "fails"),
    [
        ("body { transform: rotate(90deg) }", True),
        ("body { rotate: -0.25turn }", True),
        ("body { transform: matrix(0, 1, -1, 0, 0, 0) }", True),
        ("body { transform: rotate(180deg) }", False),
        ("body { transform: rotate3d(0, 0, 1, 270deg) }", True),
        (".nothing { transform: rotate(90deg) }", False),
    ],
)
def test_orientation(verdicts: Verdicts, rule: str, fails: bool) -> None:
    head = "<title>t</title><style>@media (orientation: portrait) { " + rule + " }</style>"
    assert ("orientation-lock" in verdicts("<p>a</p>", head)) == fails
    assert "orientation-lock" not in verdicts("<p>a</p>", f"<title>t</title><style>{rule}</style>")


@pytest.mark.parametrize(
    ("label", "name", "contained"),
    [
        ("Send", "Send the form", True),
        ("send  it", "Please SEND it now", True),
        ("Send now", "Send it now", False),
        ("Discover It", "Discover Italy", False),
        ("Date (YYYY-MM-DD)", "Date", True),
        ("Next…", "Next page", True),
        ("nonstandard", "non-standard", True),
        ("Harbour Ave.", "Harbour Avenue", True),
        ("X", "Close", True),
        ("", "Close", True),
        ("2 × 2", "two by two", False),
        ("検索する", "商品を検索する", True),
        ("検索", "探す", False),
    ],
)
def test_labels_in_names(label: str, name: str, contained: bool) -> None:
    assert is_label_in_name(label, name) == contained


@pytest.mark.parametrize(
    ("body", "fails"),
    [
        ("<a href=x aria-label='Home page'>Start</a>", True),
        ("<button aria-label='Find a place'>Find</button>", False),
        ("<button aria-labelledby=a>Find</button><i id=a>Search</i>", True),
        ("<a href=x aria-label=Home><img src=a alt=Start></a>", False),
        ("<a href=x aria-label=Home>Home<span style='display:none'> start</span></a>", False),
        ("<button aria-label=Find style=\"font-family:'Sign Icons'\">search</button>", False),
        ("<button aria-label=Find><i class='tide-icon'>search</i></button>", False),
        ("<input aria-label=Name value=Ann>", False),
        ("<a href=x aria-label='Read more'><div>Read</div><div>more</div></a>", False),
        (
            "<a href=x aria-label=Tide><b style='display:inline'>Ti</b><div style='display:inline'>de</div></a>",
            False,
        ),
    ],
)
def test_what_is_seen_on_a_control_is_in_its_name(verdicts: Verdicts, body: str, fails: bool) -> None:
    assert ("label-in-name" in verdicts(body)) == fails


def test_links_that_sound_alike(verdicts: Verdicts) -> None:
    same = "<p><a href=a>Call us</a> <a href=a>Call us</a></p>"
    apart = "<p><a href=a>Call us</a></p><p><a href=b>call us</a></p>"
    together = "<p><a href=a>Call us</a> <a href=b>Call us</a></p>"
    assert not {"links-alike", "links-alike-here"} & verdicts(same).keys()
    assert verdicts(apart)["links-alike"] == "unsure"
    assert "links-alike-here" not in verdicts(apart)
    assert verdicts(together)["links-alike-here"] == "unsure"


def test_frames_that_sound_alike_or_cannot_be_reached(verdicts: Verdicts) -> None:
    assert (
        verdicts("<iframe title=a src=x></iframe><iframe title=a src=y></iframe>")["frames-alike"] == "unsure"
    )
    assert "frames-alike" not in verdicts("<iframe title=a src=x></iframe><iframe title=a src=x></iframe>")
    inside = '<iframe tabindex=-1 srcdoc="{}"></iframe>'
    assert verdicts(inside.format("<a href='x'>a</a>"))["frame-reachable"] == "fails"
    assert "frame-reachable" not in verdicts(inside.format("<p>a</p>"))


@pytest.mark.parametrize(
    ("body", "found"),
    [
        (
            "<video controls src=a></video>",
            {"video-captions", "video-alternative", "silent-video-alternative"},
        ),
        ("<video controls src=a><track kind=captions src=c></video><a href=t>Transcript</a>", set()),
        ("<video controls src=a><track src=c></video><a href=t>La transcripción</a>", {"video-captions"}),
        ("<video src=a></video>", set()),
        ("<video src=a controls hidden></video>", set()),
        ("<audio controls src=a></audio>", {"audio-alternative"}),
        ("<audio autoplay src=a></audio><h2>Transcript</h2>", {"plays-by-itself"}),
        ("<audio autoplay controls src=a></audio><h2>Transcript</h2>", set()),
        ("<audio autoplay muted src=a></audio><h2>Transcript</h2>", set()),
    ],
)
def test_media(verdicts: Verdicts, body: str, found: set[str]) -> None:
    checks = {
        "video-captions",
        "video-alternative",
        "silent-video-alternative",
        "audio-alternative",
        "plays-by-itself",
    }
    verdict = verdicts(body)
    assert checks & verdict.keys() == found
    assert all(verdict[check] == "unsure" for check in found)


@pytest.mark.parametrize(
    ("body", "found"),
    [
        (f"<a href=#c>Skip</a>{NAV}<main id=c><h1>A</h1></main>", set()),
        (f"{NAV}<main><h1>A</h1></main>", {"skip-link"}),
        ("<main><h1>A</h1><a href=x>b</a></main>", set()),
        (f"<a href=#gone>Skip</a>{NAV}<main id=c><h1>A</h1></main>", {"skip-link"}),
        (f"{NAV}<a href=#c>Skip</a><main id=c><h1>A</h1></main>", {"skip-link"}),
        (f"{NAV}<div><h1>A</h1></div>", {"skip-link", "content-landmark", "one-main"}),
        (
            f"{NAV}<div><p>A</p></div>",
            {"skip-link", "content-landmark", "content-heading", "bypass", "one-main"},
        ),
        (
            f"<a href=#c>Skip</a>{NAV}<main id=c hidden><h1>A</h1></main>",
            {"content-landmark", "content-heading", "one-main"},
        ),
    ],
)
def test_ways_past_what_pages_repeat(verdicts: Verdicts, body: str, found: set[str]) -> None:
    checks = {"skip-link", "content-landmark", "content-heading", "bypass", "one-main"}
    assert checks & verdicts(body).keys() == found


def test_landmarks_of_one_kind_have_names_of_their_own(verdicts: Verdicts) -> None:
    assert "landmark-names" in verdicts("<nav>a</nav><nav>b</nav>")
    assert "landmark-names" not in verdicts("<nav>a</nav><nav aria-label=Years>b</nav>")
    assert "landmark-names" not in verdicts("<nav>a</nav><nav hidden>b</nav>")
    assert "landmark-names" in verdicts("<nav aria-label=years>a</nav><nav aria-label=Years>b</nav>")


def test_hidden_headings_are_not_counted(verdicts: Verdicts) -> None:
    assert "one-first-heading" not in verdicts("<main><h1>A</h1><h1 hidden>B</h1><h2>C</h2></main>")
    assert "heading-order" in verdicts("<main><h1>A</h1><div role=heading aria-level=3>B</div></main>")
