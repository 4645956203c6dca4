"""YAML by the core rules of version 1.2: scalars stay their text; what is refused is refused where it stands."""

from __future__ import annotations

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.newsroom.fields import Fields, Findings
from sitegen.newsroom.matter import split_matter
from sitegen.newsroom.nodes import _UNPRINTABLE, MOST_LEVELS, Mapping, Problem, Scalar, Sequence, compose
from tests.counts import tries


def plain(text: str) -> Mapping:
    node, problems = compose(text)
    assert not problems and isinstance(node, Mapping)
    return node


def fields(text: str, *known: str) -> tuple[Fields, Findings]:
    findings = Findings()
    return Fields(plain(text), "f.yaml", findings, known or ("a",), "a test"), findings


def only(text: str) -> Problem:
    _, problems = compose(text)
    assert len(problems) == 1, problems
    assert problems[0].message
    return problems[0]


@pytest.mark.parametrize(
    "written",
    [
        "no", "yes", "on", "off", "No", "ON", "y", "n", "07", "0123", "12:30", "17:00", "1:35", "9:30", "02134", "1e3",
        "1.10", ".nan", ".inf", "0x1F", "0o17", "1_000", "2026-12-15", "2026-02-30", "2026-12-15 17:30", "=", "<<",
    ],
)  # fmt: skip
def test_scalars_stay_what_was_typed(written: str) -> None:
    """YAML 1.1 would make booleans, octal and base-60 numbers, dates and errors of these."""
    here, findings = fields(f"a: {written}\n")
    assert here.text("a") == written
    assert not findings.found


@pytest.mark.parametrize("written", ["", "~", "null", "Null", "NULL", "# only a comment"])
def test_the_forms_of_null(written: str) -> None:
    """YAML 1.2.2, 10.3.2 (https://yaml.org/spec/1.2.2/#1032-tag-resolution)."""
    here, findings = fields(f"a: {written}\n")
    assert not here.has("a") and here.text("a") == ""
    assert not here.require("a", "x") and len(findings.found) == 1


@pytest.mark.parametrize("written", ["nUll", "none", "None", "nil", "'~'", '"null"'])
def test_what_is_not_null(written: str) -> None:
    here, _ = fields(f"a: {written}\n")
    assert here.has("a") and here.text("a") == written.strip("'\"")


@pytest.mark.parametrize(("written", "value"), [("true", True), ("True", True), ("TRUE", True), ("false", False), ("False", False), ("FALSE", False)])  # fmt: skip
def test_true_and_false(written: str, value: bool) -> None:
    here, findings = fields(f"a: {written}\n")
    assert here.flag("a", not value) is value and not findings.found


@pytest.mark.parametrize("written", ["yes", "no", "on", "off", "1", "0", "tRUE", "y"])
def test_nothing_else_is_true_or_false(written: str) -> None:
    here, findings = fields(f"a: {written}\n")
    here.flag("a")
    (finding,) = findings.found
    assert "true" in finding.instead or "false" in finding.instead


@pytest.mark.parametrize("written", ["''", '""', '"   "', "'\u00a0'", "[]", "[~]", '[""]', "{}", "|\n"])
def test_a_required_key_cannot_be_empty_in_any_way(written: str) -> None:
    here, findings = fields(f"a: {written}\n")
    assert not here.require("a", "x")
    assert len(findings.found) == 1 and findings.found[0].spot.line == 1


def test_blocks_and_quotes() -> None:
    here, _ = fields(
        "a: >\n  one\n  two\nb: |\n  one\n  two\nc: \"say \\\"x\\\"\"\nd: 'it''s'\n", "a", "b", "c", "d"
    )
    assert [here.text(key) for key in "abcd"] == ["one two", "one two", 'say "x"', "it's"]


def test_lines_and_columns_are_those_of_an_editor() -> None:
    here, _ = fields("# a comment\na: one\nbb:   {a: [x, y]}\ncc:\n", "a", "bb", "cc")
    assert [(here.spot(key).line, here.spot(key).column) for key in ("a", "bb", "cc")] == [
        (2, 4),
        (3, 7),
        (4, 1),
    ]
    node, _ = compose("é😀: x", first_line=10)
    assert isinstance(node, Mapping)
    value = node.entries[0][1]
    assert (value.line, value.column) == (10, 5)  # in characters, not bytes


@pytest.mark.parametrize(
    ("text", "check", "line", "column"),
    [
        ("a: 1\nb: &x 2\n", "yaml-anchor", 2, 4),
        ("a: 1\nb: *x\n", "yaml-anchor", 2, 4),
        ("a: !!str 1\n", "yaml-tag", 1, 4),
        ("a: !x 1\n", "yaml-tag", 1, 4),
        ("a: !!python/object/apply:os.system [x]\n", "yaml-tag", 1, 4),
        ("a: 1\nb: 2\na: 3\n", "key-twice", 3, 1),
        ("a: {b: 1, b: 2}\n", "key-twice", 1, 11),
        ("a: 1\n---\nb: 2\n", "yaml", 2, 1),
        ("[x]: 1\n", "yaml", 1, 1),
        ("a: 1\nheadline\nb: 2\n", "yaml", 2, 1),
        ("a: 1\nheadline Coats\n", "yaml", 2, 1),
        ("headline:Coats\nb: 2\n", "yaml", 1, 1),
        ("a: one: two\n", "yaml", 1, 7),
        ("a: 'open\nb: 2\n", "yaml", 1, 4),
        ('a: "open\n', "yaml", 1, 4),
        ("a: [x, y\nb: 2\n", "yaml", 1, 4),
        ("a: {x: 1\nb: 2\n", "yaml", 1, 4),
        ("a: 1\n  b: 2\n", "yaml", 2, 4),
        ("a: 1\n b: 2\n", "yaml", 2, 3),
        ("a:\n  - x\n - y\n", "yaml", 3, 2),
        ("a: @home\n", "yaml", 1, 4),
        ("a: `x`\n", "yaml", 1, 4),
        ("a: %x\n", "yaml", 1, 4),
        ('a: "\\q"\n', "yaml", 1, 5),
        ("a: \x01\n", "control-character", 1, 4),
        ("a: one\nb: t\x1bwo\n", "control-character", 2, 5),
        ("é: ü\nb: t\x7fwo\n", "control-character", 2, 5),
    ],
)
def test_what_cannot_be_read_is_told_where_it_stands(text: str, check: str, line: int, column: int) -> None:
    problem = only(text)
    assert (problem.check, problem.line, problem.column) == (check, line, column)
    assert problem.instead


def test_a_tab_may_not_indent() -> None:
    problem = only("a:\n\tb: 1\n")
    assert problem.line == 2 and "tab" in problem.message.lower()


def test_first_of_two_keys_counts() -> None:
    node, _ = compose("a: 1\na: 2\n")
    assert isinstance(node, Mapping)
    assert [(key.text, value) for key, value in node.entries] == [("a", Scalar("1", 1, 4))]


def test_bombs_are_refused_cheaply() -> None:
    levels = "".join(f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9) if n else 'x'}]\n" for n in range(9))
    _, problems = compose(levels)
    assert problems and all(problem.check == "yaml-anchor" for problem in problems)
    for deep in (
        "[" * 100_000,
        "{a: " * 100_000,
        "- " * 5_000 + "x",
        "a: " + "[" * (MOST_LEVELS + 1) + "]" * (MOST_LEVELS + 1),
    ):
        node, problems = compose(deep)
        assert node is None and len(problems) == 1
    node, problems = compose("a: [" + "x, " * 60_000 + "x]")
    assert node is None and len(problems) == 1
    within = "a: " + "[" * (MOST_LEVELS - 1) + "]" * (MOST_LEVELS - 1)
    assert compose(within)[1] == []


def test_an_anchor_that_holds_itself() -> None:
    _, problems = compose("a: &x [*x]\n")
    assert [problem.check for problem in problems] == ["yaml-anchor", "yaml-anchor"]


@settings(max_examples=tries(300), deadline=None)
@given(st.text(max_size=60) | st.text("ab:-[]{}#&*!|>'\"%@`, \n\t?0", max_size=40))
def test_any_text_gives_a_tree_or_located_problems(text: str) -> None:
    node, problems = compose(text)
    lines = text.count("\n") + 1
    for problem in problems:
        assert problem.message and problem.column >= 1
    if not any(letter in text for letter in "\r\x85\u2028\u2029"):
        assert all(1 <= problem.line <= lines for problem in problems)
    assert node is None or isinstance(node, (Scalar, Sequence, Mapping))


WORDS = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Zl", "Zp")), max_size=12)
TREES = st.recursive(
    WORDS, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(WORDS, inner, max_size=3), max_leaves=8
)


@settings(max_examples=tries(150), deadline=None)
@given(TREES)
def test_a_quoted_tree_reads_back(tree: object) -> None:
    """Whatever is written in double quotes arrives letter for letter, in the same shape and order."""

    def write(value: object) -> str:
        if isinstance(value, str):
            return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'
        if isinstance(value, list):
            return "[" + ", ".join(write(each) for each in value) + "]"
        assert isinstance(value, dict)
        return "{" + ", ".join(f"? {write(key)} : {write(each)}" for key, each in value.items()) + "}"

    def read(node: object) -> object:
        if isinstance(node, Scalar):
            return node.text
        if isinstance(node, Sequence):
            return [read(each) for each in node.items]
        assert isinstance(node, Mapping)
        return {key.text: read(each) for key, each in node.entries}

    text = write(tree)
    if "\ufeff" in text or any("\ufffe" <= letter <= "\uffff" for letter in text):
        return
    node, problems = compose("a: " + text)
    assert not problems and isinstance(node, Mapping)
    assert read(node.entries[0][1]) == tree


@pytest.mark.parametrize(
    ("written", "column", "instead"),
    [
        ("headline: 'Don't wait'", 15, '"Don\'t wait"'),
        ("headline: 'It's Ann's idea'", 14, "\"It's Ann's idea\""),
        ('headline: "She said "hi" twice"', 21, "'She said \"hi\" twice'"),
        ('headline: "Don\'t say "hi""', 22, "'Don''t say \"hi\"'"),
        ('headline: "Coats" wanted again', 17, "'\"Coats\" wanted again'"),
        ('accepts:\n  - "x" y', 7, "'\"x\" y'"),
        # Where the text is to end cannot be known, nothing is guessed.
        ('headline: "Coats" and "hats"', 17, '\\"'),
        ("headline: 'Coats' wanted, Ann's idea'", 17, "''"),
        ("photo: {alt: 'Don't wait', credit: Ann}", 18, "''"),
        ('accepts: ["x" y, z]', 13, '\\"'),
        ('"Coats" wanted: x', 7, '\\"'),
    ],
)
def test_a_quotation_mark_that_ends_a_text_too_early_is_named(
    written: str, column: int, instead: str
) -> None:
    problem = only(f"a: b\n{written}\nc: d\n")
    assert (problem.line, problem.column) == (2 + written.count("\n"), column)
    assert "quotation mark" in problem.message
    assert instead in problem.instead
    guess = problem.instead.removeprefix("Write instead: ")
    if guess != problem.instead:
        assert isinstance(plain(f"a: {guess}\n").entries[0][1], Scalar)


@pytest.mark.parametrize("written", ['a: ["x" "y"]', 'a: {b: "x" c: "y"}', 'a: ["x" [y]]'])
def test_an_entry_that_lacks_its_comma_is_called_so(written: str) -> None:
    assert "comma" in only(written + "\n").message


def test_a_text_that_begins_with_a_hyphen() -> None:
    problem = only("summary: - bold\nb: c\n")
    assert (problem.line, problem.column) == (1, 10)
    assert '"- bold"' in problem.instead
    assert "block" not in problem.message


def test_a_comment_that_takes_the_closing_bracket_with_it() -> None:
    problem = only("a: b\nphoto: {alt: Rail #2, credit: Ann}\nc: d\n")
    assert (problem.line, problem.column) == (2, 19)
    assert "comment" in problem.message


@pytest.mark.parametrize("line", ["—", "----", "——", "–", "-—"])
@pytest.mark.parametrize("rest", ["Text.\n", "Text.\n\n---\n\nMore.\n"])
def test_a_line_that_does_not_end_the_front_matter_is_named(line: str, rest: str) -> None:
    (problem,) = split_matter(f"---\nheadline: Coats\n{line}\n{rest}").problems
    assert (problem.line, problem.column) == (3, 1)
    assert f"'{line}'" in problem.message and "---" in problem.instead


def test_an_end_of_the_front_matter_behind_spaces_is_named() -> None:
    (problem,) = split_matter("---\nheadline: Coats\n ---\nText.\n").problems
    assert (problem.line, problem.column) == (3, 2)


def test_dashes_in_the_text_are_not_taken_for_the_end_of_the_front_matter() -> None:
    (problem,) = split_matter("---\nheadline: Coats\n\nText.\n\n----\n\nMore.\n").problems
    assert problem.line == 1


@pytest.mark.parametrize("space", ["\xa0", "\u2009", "\u3000"])
@pytest.mark.parametrize(
    ("text", "line", "column"),
    [
        ("a: b\nc:_d\n", 2, 3),
        ("a:\n  -_b: c\n  - d: e\n", 2, 4),
        ("a:\n__b: c\n__d: e: f\n", 2, 1),
        ("a: {b:_c, d: [}\n", 1, 7),
    ],
)
def test_a_space_that_is_none_is_told_where_it_stands(text: str, line: int, column: int, space: str) -> None:
    _, problems = compose(text.replace("_", space))
    assert [(each.check, each.line, each.column) for each in problems] == [("wrong-space", line, column)]


def test_such_a_space_inside_of_words_is_not_what_is_wrong() -> None:
    _, problems = compose('summary: "5\xa0p.m.,\xa0so:\xa0they say"\nx: [\n')
    assert [each.check for each in problems] == ["yaml"]


@pytest.mark.parametrize(
    ("text", "column", "says"),
    [
        ("a: *b*\n", 4, "'*'"),
        ("a: ? b\n", 4, "'?'"),
        ("a: {b: c: d}\n", 9, "colon"),
        ("a: {b: O'Neil: d, e: f}\n", 14, "colon"),
    ],
)
def test_the_sign_that_is_wrong_is_named(text: str, column: int, says: str) -> None:
    _, problems = compose(text)
    assert [(each.line, each.column) for each in problems] == [(1, column)]
    assert says in problems[0].message and "quotes" in problems[0].instead


def test_what_yaml_cannot_hold_is_what_its_reader_refuses() -> None:
    every = "".join(map(chr, range(0x110000)))
    assert _UNPRINTABLE.findall(every) == yaml.reader.Reader.NON_PRINTABLE.findall(every)
