"""The tree of a page, and that the two readers agree."""

from __future__ import annotations

import json
from pathlib import Path

import html5lib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.proof.document import Document, Element, Text, parse
from sitegen.proof.lenient_reader import read_leniently
from sitegen.proof.strict_reader import read_strictly
from tests.counts import LONG

CASES = Path(__file__).parents[3] / "shared" / "act" / "cases.json"
XHTML = "{http://www.w3.org/1999/xhtml}"


def flat(document: Document) -> list[object]:
    """The tree as one list; neighbouring runs of text as one, templates without their content."""
    told: list[object] = []

    def tell(element: Element) -> None:
        told.append((element.tag, sorted(element.attrs.items()), element.namespace))
        text = ""
        for child in () if element.tag == "template" else element.children:
            if isinstance(child, Text):
                text += child.data
                continue
            if text:
                told.append(text)
                text = ""
            tell(child)
        if text:
            told.append(text)
        told.append("/")

    tell(document.root)
    return told


def judged(source: str) -> list[object]:
    """The same list made by html5lib."""
    names = {"http://www.w3.org/1999/xhtml": "html", "http://www.w3.org/2000/svg": "svg"}
    told: list[object] = []

    def tell(node: object) -> None:
        tag = node.tag  # type: ignore[attr-defined]
        if not isinstance(tag, str):
            return
        namespace, _, name = tag[1:].partition("}")
        attrs = sorted((key.lower(), value) for key, value in node.attrib.items())  # type: ignore[attr-defined]
        told.append((name.lower(), attrs, names[namespace]))
        text = node.text or ""  # type: ignore[attr-defined]
        for child in () if name == "template" else node:  # type: ignore[attr-defined]
            if isinstance(child.tag, str):
                if text:
                    told.append(text)
                    text = ""
                tell(child)
            text += child.tail or ""
        if text and name != "template":
            told.append(text)
        told.append("/")

    tell(html5lib.parse(source))
    return told


def page(body: str, head: str = "<title>t</title>") -> str:
    return f'<!doctype html>\n<html lang="en">\n<head>{head}</head>\n<body>{body}</body>\n</html>\n'


def strict(source: str) -> Document | None:
    return read_strictly(source, [])


def lenient(source: str) -> Document:
    return read_leniently(source, [])


PLAIN = [
    "",
    "<p>a</p>\n<p>b &amp; c &#8212; &nbsp; & d</p>",
    "<a href=\"/x?a=1&amp;b=2\">x</a><a href='y' class=z disabled>y</a>",
    "<ul><li>a<ul><li>b</li></ul></li><li>c</li></ul>",
    "<dl><div><dt>a</dt><dd>b</dd></div><dt>c</dt><dd>d<dl><dt>e</dt></dl></dd></dl>",
    "<table><caption>c</caption><colgroup><col></colgroup>\n<thead><tr><th>a</th></tr></thead> <tbody>"
    "<tr><td>b<table><tbody><tr><td><a href=x>y</a></td></tr></tbody></table></td></tr></tbody></table>",
    "<select><option>a</option><optgroup label=x><option selected>b</option></optgroup></select>",
    "<pre>\n\nx</pre><pre>y\n</pre><textarea>\n a &lt; b <b></textarea>",
    "<script>if (a < b && c) { '<p>' }</script><style>a > b { }</style>",
    '<p><b><svg viewBox="0 0 1 1"><desc id="d">a &amp; b\n</desc><desc/><desc></desc><g><desc>c<!-- d --></desc></g></svg></b></p>',
    '<svg viewBox="0 0 1 1"><title>t</title><linearGradient id="g"/><path d="M0 0"/><g><a href="x"><text>y</text></a></g></svg><p>z</p>',
    "<p>a<!-- <p> --> b</p>",
    "<img src=x alt=''><br/><hr><input value='>'>",
    "<details><summary><h3>x</h3></summary><p>y</p></details><my-element a=b>z</my-element>",
    "<template><li>a</li></template>",
    "<div>\xa0</div>",
    "<h1><span>a</span></h1><form><button>b</button></form>",
    "<ruby>a<rp>(</rp><rt>b</rt><rp>)</rp></ruby>",
    "<button><span>a</span></button><button>b</button>",
    "<svg><g><g/>a</g><g>b</g></svg><EM>a</EM><em>b</EM><div>a &lt; b\n</div><span></span><i>a</i >",
    "<table><tbody> </tbody><tbody>\n<tr>\n</tr></tbody></table><select> </select><svg> </svg><svg>a</svg><pre>\n</pre><PRE>\n</PRE>",
    "<noscript><p>a</p></noscript><iframe src=x></iframe><p><i>a</i> <i><b>c</b></i></p>",
]

NOT_PLAIN = [
    "<p>a<p>b",
    "<p><div>a</div></p>",
    "<b><i>a</b></i>",
    "<ul><li>a<li>b</ul>",
    "<div><li>a</li></div>",
    "<table><tr><td>a</td></tr></table>",
    "<table>a<tbody></tbody></table>",
    "<table><p>a</p></table>",
    "<a href=x>a<a href=y>b</a></a>",
    "<button><button>a</button></button>",
    "<form><form></form></form>",
    "<h1><h2>a</h2></h1>",
    "<div/>a",
    "&copy 2026",
    "&nosuch; &#x80; &#0;",
    "<a href='?a&copy=1'>x</a>",
    "<svg><p>a</p></svg>",
    "<svg><desc><p>a</p></desc></svg>",
    "<svg><desc>a<title>b</title></desc></svg>",
    "<math><mi>x</mi></math>",
    "<image src=x>",
    "<SCRIPT>a<b</SCRIPT>",
    "<script><!-- <script> </script> --></script>",
    "<p>a</p></div>",
    "<body class=x>",
    "<!-- a --!> b --><!--> c -->",
    "<select><option>a<option>b</select>",
    "<select><div>a</div></select>",
    "<dd>a<dd>b",
    "<plaintext>a</p>",
    "<p title=a title=b\n>x</p",
    "a < b",
    "<p>a\0b</p>",
    "<frameset></frameset>",
    "<template><template></template></template>",
    "<li>a</li>",
    "<nobr>a<nobr>b</nobr>",
    "<p title='a'class='b'>x</p>",
    "<p>a<br>b</br></p>",
    "<a href=x><b>a</b><a>b</a></a>",
    "<p>a<p>b</p></p>",
    "<table><tbody>a</tbody></table>",
    "<br><body>",
    "<br><body>a</body>",
    "<div><head></head></div>",
    "<TABLE>a</TABLE>",
]


@pytest.mark.parametrize("body", PLAIN)
def test_the_strict_reader_takes_plain_html_and_is_right(body: str) -> None:
    read = strict(page(body))
    assert read is not None
    assert flat(read) == flat(lenient(page(body)))
    assert flat(read) == judged(page(body))


@pytest.mark.parametrize("body", PLAIN)
def test_both_readers_give_every_element_its_place(body: str) -> None:
    ours, theirs = parse(page(body)), lenient(page(body))
    assert ours.read_strictly
    where = [(element.tag, element.line, element.column) for element in ours.elements]
    assert where == [(element.tag, element.line, element.column) for element in theirs.elements]
    for element in ours.elements:
        assert ours.source[element.offset :].lower().startswith("<" + element.tag)


@pytest.mark.parametrize("body", NOT_PLAIN)
def test_what_is_not_plain_is_left_to_the_standard(body: str) -> None:
    assert strict(page(body)) is None
    assert parse(page(body)).root.tag == "html"


@pytest.mark.parametrize(
    "source",
    [
        "",
        "x",
        "<p>x",
        "<!doctype html>",
        "<html><body></body></html>",
        page("") + "x",
        page("") + "<p>x</p>",
        "<!-- a -->" + page(""),
    ],
)
def test_any_bytes_make_a_page(source: str) -> None:
    assert strict(source) is None
    read = parse(source)
    assert [element.tag for element in read.root.children if isinstance(element, Element)] == ["head", "body"]


FRAGMENTS = st.sampled_from(
    [
        *[
            "<p>",
            "</p>",
            "<div>",
            "</div>",
            "<a",
            "href=x>",
            "</a>",
            "<b>",
            "</b>",
            "<ul>",
            "</ul>",
            "<li>",
            "</li>",
            "<table>",
            "</table>",
            "<tr>",
            "<td>",
            "</td>",
            "<select>",
        ],
        *[
            "</select>",
            "<option>",
            "</option>",
            "<svg>",
            "</svg>",
            "<path/>",
            "<br>",
            "<title>",
            "</title>",
            "<script>",
            "</script>",
            "<h2>",
            "</h2>",
            "<tbody>",
        ],
        *[
            "</tbody>",
            "</tr>",
            "<dl>",
            "</dl>",
            "<dt>",
            "</dt>",
            "<button>",
            "</button>",
            "<!--",
            "-->",
            "<template>",
            "</template>",
            "<style>",
            "</style>",
        ],
        *[
            "&amp;",
            "&lt",
            "&bogus;",
            "x",
            "\n",
            "<",
            ">",
            "</body>",
            "</html>",
            "<body>",
            "<pre>",
            "</pre>",
            "<i",
            "class='a'>",
            "</i>",
            "<textarea>",
            "</textarea>",
        ],
    ]
)


@given(st.lists(FRAGMENTS, max_size=12).map("".join))
@settings(max_examples=3000 if LONG else 600, deadline=None)
def test_where_the_strict_reader_answers_it_agrees_with_lexbor(body: str) -> None:
    read = strict(page(body))
    if read is not None:
        assert flat(read) == flat(lenient(page(body)))
        where = [(element.tag, element.offset) for element in read.elements]
        assert where == [(element.tag, element.offset) for element in lenient(page(body)).elements]


ATTRIBUTES = st.lists(
    st.tuples(
        st.sampled_from(["title", "lang", "TITLE", "a:b", ""]),
        st.sampled_from(['="%s"', '="%s"', "='%s'", "=%s", ""]),
        st.text(st.sampled_from("ab<>\"'=/ &;\n"), max_size=3)
        | st.sampled_from(["&amp;", "&lt", "&nosuch;", '"a"']),
    ),
    max_size=3,
).map(lambda each: "".join(" " + name + (form % value if form else "") for name, form, value in each))


@given(st.lists(st.tuples(st.sampled_from(["p", "i", "br"]), ATTRIBUTES), max_size=6))
@settings(max_examples=3000 if LONG else 300, deadline=None)
def test_tags_that_differ_in_their_values_alone_are_read_right(tags: list[tuple[str, str]]) -> None:
    body = "".join(
        f"<div><{name}{written}>{'' if name == 'br' else f'x</{name}>'}</div>" for name, written in tags
    )
    for source in (page(body), page(body.replace("a", "b"))):
        read = strict(source)
        if read is not None:
            assert flat(read) == flat(lenient(source))


def test_a_bracket_in_a_value_is_left_to_the_standard_whatever_was_read_before() -> None:
    assert strict(page('<p title="a">x</p>')) is not None
    assert strict(page('<p title="a<b">x</p>')) is None


@pytest.mark.parametrize("form", ["<p title='\"%s\"'>x</p>", '<p lang="a" title=\'"%s"\'>x</p>'])
def test_quotation_marks_inside_others_belong_to_the_value(form: str) -> None:
    for word in ("a", "b"):
        assert flat(parse(page(form % word))) == flat(lenient(page(form % word)))


def nested(children: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    tags = st.sampled_from(
        [
            "p",
            "div",
            "a",
            "em",
            "li",
            "ul",
            "section",
            "h2",
            "button",
            "table",
            "tbody",
            "tr",
            "td",
            "dl",
            "dd",
        ]
    )
    return st.builds(
        lambda tag, inside: f"<{tag}>{''.join(inside)}</{tag}>", tags, st.lists(children, max_size=3)
    )


@given(
    st.lists(
        st.recursive(st.sampled_from(["x", " ", "\n", "<br>", "&lt;"]), nested, max_leaves=12), max_size=4
    ).map("".join)
)
@settings(max_examples=3000 if LONG else 600, deadline=None)
def test_closed_elements_make_the_same_tree_in_every_reader(body: str) -> None:
    read = strict(page(body))
    if read is not None:
        assert flat(read) == judged(page(body)) == flat(lenient(page(body)))


@pytest.mark.skipif(
    not CASES.is_file(), reason="the published accessibility cases are not beside this checkout"
)
def test_both_readers_agree_on_published_pages() -> None:
    accepted = 0
    for case in json.loads(CASES.read_text("utf-8")):
        read = strict(case["html"])
        if read is not None:
            accepted += 1
            assert flat(read) == flat(lenient(case["html"])), case["id"]
    assert accepted > 250


def test_lines_and_columns_count_from_one() -> None:
    read = parse("<!doctype html>\r\n<html>\r\n <head></head>\r\n<body>\n\n  <p>x</p></body></html>")
    assert [(element.tag, element.line, element.column) for element in read.elements] == [
        ("html", 2, 1), ("head", 3, 2), ("body", 4, 1), ("p", 6, 3),
    ]  # fmt: skip


def test_duplicate_attributes_are_told_by_both_readers() -> None:
    plain = page('<p>a</p>\n<img alt="a" src=x alt="b">')
    assert parse(plain).read_strictly
    assert parse(plain).duplicates == [(5, "img", "alt")]
    assert parse(plain).ids == {}
    assert lenient(plain).duplicates == [(5, "img", "alt")]
    assert next(iter(parse(plain).tagged("img"))).attrs["alt"] == "a"
    assert parse(plain.replace("<p>a</p>", "<p>a")).duplicates == [(5, "img", "alt")]


def test_ids_names_and_attributes_are_indexed() -> None:
    read = parse(page('<p id="a">x</p><p id="b">y</p><div id="a" lang="es" data-kept="1"></div>'))
    assert list(read.ids) == ["a", "b"]
    assert read.ids["a"].tag == "p"
    assert [element.tag for element in read.repeated_ids] == ["div"]
    assert len(read.tagged("p")) == 2
    assert [element.tag for element in read.having("lang")] == ["html", "div"]
    assert [element.tag for element in read.having("data-kept")] == ["div"]
    assert read.having("aria-label") == read.having("class") == read.tagged("nav", "i") == []


def test_raw_data_stays_raw() -> None:
    read = parse(page("<template><p id=x>a &amp; b</p></template><script>a &amp;&amp; b</script>"))
    assert [element.tag for element in read.elements[-2:]] == ["template", "script"]
    assert read.elements[-1].text() == "a &amp;&amp; b"
    assert "x" not in read.ids


@pytest.mark.parametrize(
    ("source", "word"),
    [
        (b"<p>caf\xc3\xa9", "café"),
        (b"\xef\xbb\xbf<p>caf\xc3\xa9", "café"),
        (b"<p>caf\xe9", "café"),
        (b"<meta charset=iso-8859-2><p>\xb1", "ą"),
        ("\ufeff<p>café".encode("utf-16-le"), "café"),
        (b"<meta charset=nosuch><p>caf\xe9", "café"),
    ],
)
def test_bytes_are_decoded_as_a_browser_would(source: bytes, word: str) -> None:
    read = parse(source)
    assert read.root.text() == word
    assert bool(read.notes) == (b"\xe9" in source or b"\xb1" in source or source[:2] == b"\xff\xfe")


def test_deep_pages_are_read() -> None:
    body = "<div>" * 3000 + "x" + "</div>" * 3000
    for read in (parse(page(body)), lenient(page(body))):
        assert read.root.text().strip() == "t\nx" or "x" in read.root.text()
