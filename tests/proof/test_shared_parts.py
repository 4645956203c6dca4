"""Parts of pages that were read before: they are found again, and never change what is read or found."""

from __future__ import annotations

from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from sitegen.proof import shared_parts, strict_reader
from sitegen.proof.document import Document, Element, Text, parse
from sitegen.proof.lenient_reader import read_leniently
from sitegen.proof.pagecheck import check_page, contrast_judge
from sitegen.proof.shared_parts import SharedParts
from tests.counts import tries
from tests.samples.random_pages import Maker


@pytest.fixture(autouse=True)
def nothing_known(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(strict_reader, "_parts", SharedParts())


def page(body: str, head: str = "<title>t</title>") -> str:
    return f'<!doctype html>\n<html lang="en">\n<head>\n{head}\n</head>\n<body>\n{body}\n</body>\n</html>\n'


def told(document: Document) -> list[object]:
    """Everything the tree says, with the place and the parent of each node."""
    places: dict[Element, int] = {element: place for place, element in enumerate(document.elements)}
    found: list[object] = []
    for element in document.elements:
        above = None if element.parent is None else places[element.parent]
        found.append((element.tag, tuple(element.attrs.items()), element.namespace, element.offset, above))
        found.append([child.data if isinstance(child, Text) else places[child] for child in element.children])
    return found


def read_without_memory(source: str) -> Document:
    """The page as the strict reader reads it when it knows nothing."""
    known = strict_reader._parts
    strict_reader._parts = SharedParts()
    try:
        return parse(source)
    finally:
        strict_reader._parts = known


HEADER = (
    '<header class="top">\n<p><a href="/">Home &amp; more</a></p>\n<nav aria-label="Main">\n<ul>\n<li><a href="/a/">A</a></li>\n'
    '<li><a href="/b/">B</a></li>\n</ul>\n</nav>\n</header>'
)


def test_a_part_met_often_is_the_same_objects_again() -> None:
    headers = []
    for number in range(6):
        document = parse(page(f"{HEADER}\n<main>\n<h1>Page {number}</h1>\n</main>"))
        headers.append(document.tagged("header")[0])
        assert told(document) == told(read_without_memory(document.source))
        document.let_go()
    assert headers[-1] is headers[-2]
    assert headers[0] is not headers[-1]


def test_a_part_stands_where_its_page_has_it() -> None:
    for number in range(8):
        source = page("\n" * number + f"<p>{'x' * number}</p>\n{HEADER}\n{HEADER}")
        document = parse(source)
        assert [source[element.offset :].startswith("<header") for element in document.tagged("header")] == [
            True,
            True,
        ]
        assert [element.line for element in document.tagged("nav")] == [10 + number, 19 + number]
        texts = [node for node in document.root.descendants() if isinstance(node, Text) and node.data == "A"]
        assert [text.line for text in texts] == [12 + number, 21 + number]
        assert document.tagged("header")[0] is not document.tagged("header")[1]
        document.let_go()


def test_a_page_that_is_kept_keeps_its_parts() -> None:
    pages = [parse(page(f"{HEADER}\n<p>{number}</p>")) for number in range(6)]
    headers = {id(document.tagged("header")[0]) for document in pages}
    assert len(headers) == len(pages)
    for document in pages:
        assert told(document) == told(read_without_memory(document.source))


ITEM = "<li>\n<a href=x>y</a>\n<b>z</b>\n<i>z</i>\n<u>z</u>\n<s>z</s>\n<q>z</q>\n<em>z</em>\n</li>"
TERM = "<div>\n<dt>a <b>b</b></dt>\n<dd><i>c</i> <u>d</u></dd>\n<dd><i>c</i> <u>d</u></dd>\n</div>"
BOX = "<div>\n<p>a</p>\n<p>b</p>\n<p>c</p>\n<a href=x>d</a>\n<b>e</b>\n<i>f</i>\n<u>g</u>\n</div>"


@pytest.mark.parametrize(
    ("known", "elsewhere"),
    [
        (f"<ul>\n{ITEM}\n</ul>", f"<div>\n{ITEM}\n</div>"),
        (f"<dl>\n{TERM}\n</dl>", f"<section>\n{TERM}\n</section>"),
        (BOX, f"<p>\n{BOX}\n</p>"),
        (BOX, f"<a href=y>\n{BOX}\n</a>"),
        (BOX, f"<svg>\n{BOX}\n</svg>"),
        (BOX, f"<table>\n{BOX}\n</table>"),
        (BOX, f"<pre>\n{BOX}\n</pre>"),
        (BOX, f"<!--\n{BOX}\n-->"),
        (BOX, f"<textarea>\n{BOX}\n</textarea>"),
        (BOX, f'<p title="\n{BOX}\n">x</p>'),
    ],
)
def test_a_known_part_is_not_taken_where_it_means_something_else(known: str, elsewhere: str) -> None:
    for _ in range(5):
        parse(page(known)).let_go()
    source = page(elsewhere)
    document = parse(source)
    assert [element.tag for element in document.elements] == [
        element.tag for element in read_leniently(source, []).elements
    ]
    assert told(document) == told(read_without_memory(source))


TAGS = "<div> </div> <section> </section> <ul> </ul> <dl> </dl> <p> </p> <pre> </pre> <svg> </svg> <form> </form>"
LINES = some.sampled_from(
    [*TAGS.split(" "), "<li><a href=x>a</a> <b>b</b></li>", "<p>x &amp; <i>y</i></p>", "<div><dt>a</dt><dd>b</dd></div>",
     "text", "", "<br>", "<textarea>", "</textarea>", "<!-- a", "-->", "<h2 id=i>z</h2>", "<table>", "</table>", "<tbody>",
     "</tbody>", "<a href=y>", "</a>", "<img src=x alt=''", ">", "& &copy; &#39;", *HEADER.split("\n")]
)  # fmt: skip
BLOCKS = some.sampled_from(
    [HEADER, f"<ul>\n{ITEM}\n{ITEM}\n</ul>", f"<dl>\n{TERM}\n</dl>", BOX, f"<div>\n{BOX}\n</div>"]
)


def test_parts_that_begin_alike_are_all_found() -> None:
    """Whichever was met first: the shorter, the longer, or one that turns away half-way."""
    ways = [
        [b"<ul>", b"a", b"b", b"c", b"</ul>"],
        [b"<ul>", b"a", b"b"],
        [b"<ul>", b"a", b"x", b"</ul>"],
        [b"<ul>"],
    ]
    for order in permutations(ways):
        shared = SharedParts()
        for lines in order:
            for _ in range(2):  # the second meeting counts
                shared.learn(lines, 0, len(lines) - 1, "main")
        for lines in order:
            found = shared.find(lines, 0, "main")
            assert found is not None and found[1] == len(lines) - 1
        assert shared.find([b"<ul>", b"a", b"b", b"d"], 0, "main") == shared.find(ways[1], 0, "main")
        assert shared.find([b"<ul>", b"a"], 0, "nav") is None


@settings(max_examples=tries(60), deadline=None)
@given(some.lists(some.lists(some.one_of(LINES, BLOCKS), max_size=8).map("\n".join), min_size=1, max_size=3))
def test_what_was_read_before_never_changes_what_is_read(bodies: list[str]) -> None:
    shared = SharedParts()
    strict_reader._parts = shared  # put back after each test
    for body in [*bodies, *bodies, *reversed(bodies), *bodies]:
        document = parse(page(body))
        assert told(document) == told(read_without_memory(page(body)))
        alone = read_without_memory(page(body))
        assert set(document.aria_attributes) == set(alone.aria_attributes)
        assert [element.offset for element in document.tagged("a", "li", "b")] == [
            element.offset for element in alone.tagged("a", "li", "b")
        ]
        document.let_go()


@settings(max_examples=tries(8), deadline=None)
@given(some.integers(0, 10**6))
def test_the_verdict_on_a_page_is_the_same_whatever_came_before(seed: int) -> None:
    maker = Maker(seed)
    sheet = (
        maker.sheet() + " p + p { color: #999 } .c1 ~ .c2 b { color: #aaa } div:has(> i) a { color: #bbb }"
    )
    blocks = [maker.tree(0).replace("><", ">\n<") for _ in range(3)] + [HEADER]
    bodies = ["\n".join(maker.choose.choice(blocks) for _ in range(4)) for _ in range(4)]
    pages = [page(body, f"<title>t</title>\n<style>{sheet}</style>") for body in bodies]
    judge = contrast_judge(lambda path: None)
    alone = {}
    for source in pages:
        strict_reader._parts = SharedParts()
        proof = check_page("page.html", source.encode(), contrast_judge(lambda path: None))
        alone[source] = proof
    strict_reader._parts = SharedParts()
    for source in [*pages, *pages, *reversed(pages), *pages, *pages]:
        assert check_page("page.html", source.encode(), judge) == alone[source]


def test_what_is_kept_of_parts_does_not_grow_with_pages(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shared_parts, "_MOST_LINES_KEPT", 300)
    monkeypatch.setattr(shared_parts, "_MOST_ELEMENTS", 500)
    monkeypatch.setattr(shared_parts, "_MOST_MET", 100)
    parts = SharedParts()
    monkeypatch.setattr(strict_reader, "_parts", parts)
    for number in range(60):
        source = page(HEADER.replace("more", f"more {number}"))
        for _ in range(5):
            parse(source).let_go()
        assert parts.size < (300 + 64, 500 + 64, 101)


@pytest.mark.parametrize(
    "selector",
    [
        "section:has(> i) p", "section:has(> i) p:empty", "section:has(b) > div p", "section:not(:has(> i)) p", "div:has(> b) p",
        "div:has(.x b) p", "p:has(section b)", "section:empty p", "div:empty + p", "section:has(> i) div > :first-child",
        "section:has(+ i) p", "fieldset:has(> i) p",
    ],
)  # fmt: skip
def test_what_selectors_ask_of_what_stands_around_a_part_is_asked_on_every_page(selector: str) -> None:
    sheet = f"{selector} {{ color: #ccc }}"
    part = '<div class="part">\n<p>a</p>\n<p>some words <b>c</b></p>\n<b>d</b>\n<div></div>\n<p>e</p>\n</div>'
    arounds = (
        f"<section>\n{part}\n</section>", f"<section>\n<i>x</i>\n{part}\n</section>", f"<section>\n{part}\n</section><i>x</i>",
        f'<section class="x">\n{part}\n</section>', f"<fieldset>\n{part}\n</fieldset>", f"<fieldset>\n{part}\n<i>x</i>\n</fieldset>",
        part, f"<section>\n{part}\n{part}\n<i>x</i>\n</section>",
    )  # fmt: skip
    pages = [page(around, f"<title>t</title>\n<style>{sheet}</style>").encode() for around in arounds]
    alone = {}
    for source in pages:
        strict_reader._parts = SharedParts()
        alone[source] = check_page("page.html", source, contrast_judge(lambda path: None))
    strict_reader._parts = SharedParts()
    judge = contrast_judge(lambda path: None)
    for source in [*pages, *pages[::-1]] * 4:
        assert check_page("page.html", source, judge) == alone[source]


BLOCK = "<div>\n<p><a href=x>a</a></p>\n<p>b</p>\n<p>c</p>\n</div>"
PHRASES = "<span>\n<i>a</i>\n<b>b</b>\n<b>c</b>\n</span>"


@pytest.mark.parametrize(
    ("often", "then"),
    [
        (f"<section>\n{BLOCK}\n</section>", f"<a href=y><section>\n{BLOCK}\n</section></a>"),
        (f"<i>\n{BLOCK}\n</i>", f"<p><i>\n{BLOCK}\n</i></p>"),
        (f"<g>\n{PHRASES}\n</g>", f"<svg><g>\n{PHRASES}\n</g></svg>"),
        (f"<svg><g>\n{PHRASES.replace('span', 'x').replace('<b>', '<y>').replace('</b>', '</y>').replace('i>', 'z>')}\n</g></svg>",
         f"<g>\n{PHRASES.replace('span', 'x').replace('<b>', '<y>').replace('</b>', '</y>').replace('i>', 'z>')}\n</g>"),
        (f"<pre>x\n{PHRASES}\n</pre>", f"<pre>\n{PHRASES}\n</pre>"),
        (f"<pre>\n{PHRASES}\n</pre>", f"<pre>x\n{PHRASES}\n</pre>"),
        (f"<section>x {BLOCK}\n</section>", f"<section>\nx {BLOCK}\n</section>"),
        (f"<section>\nx {BLOCK}\n</section>", f"<section>\nx {BLOCK}\n</section>"),
        (f"<section>\n{BLOCK} x\n</section>", f"<section>\n{BLOCK} x\n</section>"),
        (f"<section>\n{BLOCK}\n</section>", f"<section>\n<script>\n{BLOCK}\n</script>\n</section>"),
        (f"<section>\n{BLOCK}\n</section>", f'<section title="\n{BLOCK}\n">\n{BLOCK}\n</section>'),
        (f"<section>\n{BLOCK}\n</section>", f"<section>\n<!--\n{BLOCK}\n-->\n</section>"),
    ],
)  # fmt: skip
def test_lines_of_a_known_part_are_read_by_what_they_stand_in(often: str, then: str) -> None:
    for number in range(5):  # so that the part is the inner one
        before, _, end = often.rpartition("\n")
        parse(page(f"{before}\n{number}\n{end}")).let_go()
    document = parse(page(then))
    alone = read_without_memory(page(then))
    assert told(document) == told(alone)
    assert document.read_strictly == alone.read_strictly
    assert told(document) == told(read_leniently(page(then), []))


def test_what_is_written_twice_in_a_part_is_told_of_every_page() -> None:
    twice = BLOCK.replace("<p>b", "<p title=b title=c>b")
    for _ in range(6):
        document = parse(page(f"<section>\n{twice}\n</section>"))
        assert [name for _, _, name in document.duplicates] == ["title"]
        document.let_go()


DRAWING = (
    '<div class="map">\n<p>a</p>\n<svg viewBox="0 0 9 9" role="img" aria-label="Map of it all">\n<path d="M0 0h9v9h-9z"/>\n'
    '<text x="1" y="1">Words</text>\n</svg>\n<p>b</p>\n</div>'
)


def test_a_drawing_that_pages_share_is_judged_where_it_stands() -> None:
    sheet = ".pale { background: #eee } .dim { background: #444 } path { fill: #bbb } text { fill: #999 }"
    pages = [
        page(
            f'<section class="{around}">\n{DRAWING}\n</section>', f"<title>t</title>\n<style>{sheet}</style>"
        ).encode()
        for around in ("pale", "dim", "plain")
    ]
    alone = {}
    for source in pages:
        strict_reader._parts = SharedParts()
        alone[source] = check_page("page.html", source, contrast_judge(lambda path: None))
    assert len({proof.findings for proof in alone.values()}) > 1
    strict_reader._parts = SharedParts()
    judge = contrast_judge(lambda path: None)
    for source in pages * 8:
        assert check_page("page.html", source, judge) == alone[source]
    document = parse(pages[0].decode())
    assert any(part.elements[0].tag in ("section", "div") for _, part in document.parts)


def test_drawings_of_one_style_are_judged_by_what_they_say_and_stand_for() -> None:
    sheet = "text { fill: #eee } path { fill: #ddd }"
    drawn = [
        '<svg viewBox="0 0 9 9"><text>Some</text></svg>',
        '<svg viewBox="0 0 9 9"><text>Other</text></svg>',
        '<svg viewBox="0 0 9 9"><text>Some</text><path d="M0 0h9v9h-9z"/></svg>',
        '<svg viewBox="0 0 9 9" aria-hidden="true"><path d="M0 0h9v9h-9z"/></svg>',
        '<svg viewBox="0 0 9 9" role="img" aria-label="A map"><path d="M0 0h9v9h-9z"/></svg>',
    ]
    head = f"<title>t</title>\n<style>{sheet}</style>"

    def messages(*drawings: str) -> list[str]:
        judge = contrast_judge(lambda path: None)
        found = check_page("page.html", page("\n".join(drawings), head).encode(), judge).findings
        return [each.message for each in found if "drawing" in each.message and "contrast" in each.message]

    alone = [messages(each) for each in drawn]
    assert [len(each) for each in alone] == [1, 1, 1, 0, 1]
    assert messages(*drawn) == [message for each in alone for message in each]
