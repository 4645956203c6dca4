"""Bodies: where links stand, and which may leave the site."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.newsroom.body import fit_for_html, links_of, outside_address, parse
from sitegen.newsroom.records import Link

BODY = """\
# A [heading](2025/one)

Words and `code
that goes on` then [two](2025/two) and
![alt](pic.jpg "title") with <https://a.example/>.

> quoted
> [three][ref] text

| a | [four](2025/four) |
|---|---|
| 1 | [five](<2025/a b>) |

- item
  [![inner](in.png)](2025/six)

      [not](code)

[ref]: javascript:alert(1)
"""


def links_in(markdown: str, first_line: int) -> tuple[Link, ...]:
    return links_of(parse(markdown), markdown, first_line)


def test_links_come_with_the_lines_of_the_file() -> None:
    assert links_in(BODY, 8) == (
        Link("2025/one", 8),
        Link("2025/two", 11),
        Link("pic.jpg", 12, picture=True),
        Link("https://a.example/", 12),
        Link("javascript:alert(1)", 15),
        Link("2025/four", 17),
        Link("2025/a b", 19),
        Link("2025/six", 22),
        Link("in.png", 22, picture=True),
    )


def test_links_come_with_their_columns() -> None:
    lines = BODY.splitlines()
    found = links_in(BODY, 1)
    told = {link.target: lines[link.line - 1][link.column - 1 :] for link in found}
    assert told["2025/one"].startswith("[heading]")
    assert told["2025/two"].startswith("[two]")
    assert told["pic.jpg"].startswith("![alt]")
    assert told["https://a.example/"].startswith("<https")
    assert told["javascript:alert(1)"].startswith("[three]")
    assert told["2025/four"].startswith("[four]")
    assert told["2025/six"].startswith("[![inner]")


def test_line_ends_of_any_kind_count_once() -> None:
    assert [link.line for link in links_in("a\r\nb\r\n[c](d)\n\r\n[e](f)", 1)] == [3, 5]


@pytest.mark.parametrize(
    ("target", "address"),
    [
        ("https://friends.example.org/coats?size=m&new=1#how", "https://friends.example.org/coats?size=m&new=1#how"),
        ("HTTP://example.org", "HTTP://example.org"),
        ("https://example.org:8443/a b", "https://example.org:8443/a%20b"),
        ("https://example.org/café|x", "https://example.org/caf%C3%A9%7Cx"),
        ("https://example.org/%zz#a#b", "https://example.org/%25zz#a%23b"),
        ("https://bücher.example/", "https://xn--bcher-kva.example/"),  # RFC 3492 encodes it so
        ("https://192.0.2.7/", "https://192.0.2.7/"),
        ("mailto:coats@example.org?subject=Coats", "mailto:coats@example.org?subject=Coats"),
        ("tel:237-555-0142", "tel:237-555-0142"),
        ("tel:+1 237 555 0142", "tel:+1-237-555-0142"),
    ],
)  # fmt: skip
def test_what_may_leave_the_site_does(target: str, address: str) -> None:
    assert outside_address(target) == address
    assert outside_address(address) == address


@pytest.mark.parametrize(
    "target",
    [
        "", "#", "2025/coat-closet", "/about/", "//example.org/", r"\\example.org", "https:example.org", "https:///x",
        "javascript:alert(1)", "JaVaScRiPt:alert(1)", "java\nscript:alert(1)", " javascript:alert(1)", "\x01javascript:x",
        "vbscript:x", "data:text/html,x", "data:image/png;base64,AA", "file:///etc/passwd", "ftp://example.org/",
        "blob:https://example.org/x", "https://bank.example@evil.example/", "https://a b/", "https://a..b/",
        "https://example.org:99999/", "https://1.2.3/", "https://1.2.3.999/", "https://-a.example/", "mailto:", "mailto:a",
        "mailto:@example.org", "tel:", "tel:abc", "tel:--", "https://[::1]/", "https://",
    ],
)  # fmt: skip
def test_nothing_else_leaves_the_site(target: str) -> None:
    assert outside_address(target) == ""


@given(
    st.text(st.characters(), max_size=60),
    st.sampled_from(["", "https://", "mailto:", "tel:", "http://a.example/"]),
)
def test_an_address_is_plain_ascii_of_a_known_scheme_or_nothing(text: str, start: str) -> None:
    address = outside_address(start + text)
    assert address.isascii() and address.isprintable() and not set(address) & set(" \"'<>`\\") - {"'"}
    assert not address or address.split(":")[0].lower() in {"https", "http", "mailto", "tel"}


def test_characters_that_html_forbids_are_replaced_one_for_one() -> None:
    assert fit_for_html("a\x00b\x0b\x7f\x85\ud800\ufdd0\uffff\U0001ffffc\t\n\x0c é") == "a\ufffdb" + "\ufffd" * 7 + "c\t\n\x0c é"  # fmt: skip


PIECES = ["[", "]", "(", ")", "!", "<", ">", "`", "*", "_", "\n", "\n\n", "> ", "- ", "|", "\\", "#", "a", " ", "https://a.example", "\x00", "\u202e", '"', "    ", "[a]: b\n"]  # fmt: skip


@given(st.lists(st.sampled_from(PIECES), max_size=60).map("".join), st.integers(1, 500))
def test_any_text_has_links_only_on_its_own_lines(text: str, first: int) -> None:
    for link in links_in(text, first):
        assert first <= link.line <= first + text.count("\n")


@given(st.lists(st.sampled_from(["word", "`a\nb`", "*so*", "![p](q)", "\\\n"]), max_size=12))
def test_a_link_is_found_on_the_very_line_it_is_written(before: list[str]) -> None:
    text = "\n".join(["x", *before, "[here](target)"])
    assert links_in(text, 1)[-1] == Link("target", 1 + text[: text.index("[here]")].count("\n"))
