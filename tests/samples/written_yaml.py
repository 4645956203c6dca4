"""Random records written the ways people write YAML: in lines and in braces, quoted and plain, with comments anywhere."""

from __future__ import annotations

from collections.abc import Mapping
from random import Random

from hypothesis import strategies as st

from sitegen.newsroom.editing import scalar
from sitegen.newsroom.spans import Value

KEYS = ("headline", "town", "until", "hours", "note", "asks", "goal", "2026-12-12", "so far")
TRICKY = (
    "no", "on", "off", "yes", "07", "12:30", "2026-12-15", "2026-12-15 17:00", "2026-11-27..2026-12-26", "a # b", "#1", "a: b",
    "a:", ": a", "- a", "-1.5", "null", "~", "", "true", "[a", "b]", "{c}", "a, b", "'", '"', "it's", 'say "hi"', "*a", "&a", "!a",
    "|", ">", "%", "@", "`", "?", "? a", "...", "---", "--- a", "https://www.example.org/a#b", "tel:555", "Mo-Fr 09:00-17:00; Sa 10:00-14:00",
    "two\nlines", "tab\there", "é ü 猫 🐈", "a\u2028b", "\xa0", " lead", "trail ", "a  b", "\x07", "=", "<<", "0x1F", "a\\b", "a:b", "a,b", "x" * 200,
)  # fmt: skip

words = st.one_of(
    st.sampled_from(TRICKY),
    st.text(st.characters(exclude_categories=("Cs", "Cn", "Co")), max_size=12),
    st.text("ab :#,-'\"[]{}|>&*!%@`?.\n\t\\", max_size=8),
)
"""Texts of scalars, most of them hard to write."""


def values(depth: int = 3) -> st.SearchStrategy[Value]:
    """Values as files hold them: scalars, lists, groups."""
    leaf: st.SearchStrategy[Value] = st.one_of(words, st.none())
    if depth == 0:
        return leaf
    inner = values(depth - 1)
    return st.one_of(
        leaf,
        st.lists(inner, min_size=1, max_size=3).map(tuple),
        st.dictionaries(st.sampled_from(KEYS), inner, min_size=1, max_size=4),
    )


records = st.dictionaries(st.sampled_from(KEYS), values(), min_size=1, max_size=5)
"""What a file says."""


@st.composite
def records_with_a_list(draw: st.DrawFn) -> dict[str, Value]:
    """What a file says that holds a list of several entries."""
    record = draw(records)
    row = draw(st.lists(values(2), min_size=2, max_size=4))
    return {**record, draw(st.sampled_from(KEYS)): tuple(row)}


class Writer:
    """Writes a record with a new choice at every turn."""

    def __init__(self, choices: Random, may_be_literal: bool = True) -> None:
        self.choices = choices
        self.may_be_literal = may_be_literal
        self.comments = 0
        self.is_behind_literal = False

    def chance(self, of: int = 2) -> bool:
        return self.choices.randrange(of) == 0

    def comment(self) -> str:
        self.comments += 1
        return f"# remark {self.comments}: is it, so? 'x"

    def between(self, margin: int) -> str:
        """Blank lines and comments, as they stand before a line."""
        text = ""
        while self.chance(4):
            # As far in as a literal text it would be part of that text.
            columns = (0,) if self.is_behind_literal else (0, margin, margin + 2)
            text += (" " * self.choices.choice(columns) + self.comment() if self.chance() else "") + "\n"
        self.is_behind_literal = False
        return text

    def end(self) -> str:
        return (f"  {self.comment()}" if self.chance(4) else "") + "\n"

    def word(self, text: str | None, in_flow: bool) -> str:
        if text is None:
            # Nothing at all is left for places where it can stand.
            return self.choices.choice(("null", "~"))
        style = self.choices.choice(("", "", "'", '"'))
        if style == '"':
            return scalar(text, in_flow, '"')
        return scalar(text, in_flow, style)

    def flow(self, value: Value) -> str:
        gap = self.choices.choice(("", " "))
        if isinstance(value, Mapping):
            parts = [f"{self.word(key, True)}: {self.flow(each)}" for key, each in value.items()]
            return "{" + gap + f",{gap or ' '}".join(parts) + gap + "}"
        if isinstance(value, tuple):
            return "[" + gap + ", ".join(self.flow(each) for each in value) + gap + "]"
        return self.word(value, True)

    def value(self, value: Value, margin: int) -> str:
        """What stands behind a key's colon, to the end of its last line."""
        if isinstance(value, (Mapping, tuple)) and self.chance():
            return " " + self.flow(value) + self.end()
        if isinstance(value, Mapping):
            inner = margin + self.choices.choice((2, 4))
            return self.end() + self.group(value, inner)
        if isinstance(value, tuple):
            inner = margin + self.choices.choice((0, 2, 4))
            return self.end() + self.row(value, inner)
        if value is None and self.chance():
            return self.end()
        if value is not None and self.may_be_literal and self.chance(5) and is_literal(value):
            head = "|" if value.endswith("\n") else "|-"
            self.is_behind_literal = True
            lines = value.removesuffix("\n").split("\n")
            return f" {head}\n" + "".join(" " * (margin + 2) + line + "\n" for line in lines)
        return " " * self.choices.randint(1, 3) + self.word(value, False) + self.end()

    def group(self, value: Mapping[str, Value], margin: int, first: str = "") -> str:
        text = ""
        for number, (key, each) in enumerate(value.items()):
            lead = first if first and not number else self.between(margin) + " " * margin
            text += lead + self.word(key, False) + ":" + self.value(each, margin)
        return text

    def row(self, value: tuple[Value, ...], margin: int) -> str:
        text = ""
        for each in value:
            text += self.between(margin)
            dash = " " * margin + "- "
            if isinstance(each, Mapping) and self.chance():
                text += self.group(each, margin + 2, dash)
            elif isinstance(each, (Mapping, tuple)):
                text += dash + self.flow(each) + self.end()
            else:
                text += dash + self.word(each, False) + self.end()
        return text


def is_literal(text: str) -> bool:
    """True for what a literal block can hold without further marks."""
    lines = text.removesuffix("\n").split("\n")
    return (
        all(line.strip() and line[0] not in " \t" and line.isprintable() for line in lines) and text.isascii()
    )


@st.composite
def written(
    draw: st.DrawFn, said: st.SearchStrategy[dict[str, Value]] = records, may_be_literal: bool = True
) -> tuple[str, Mapping[str, Value]]:
    """(text, what it says) of a random file without body."""
    record = draw(said)
    writer = Writer(Random(draw(st.integers(0, 2**32))), may_be_literal)
    text = writer.group(record, 0)
    # Without the end of its last line a literal text says something else.
    may_end_bare = not writer.is_behind_literal
    text += writer.between(0)
    return text.rstrip("\n") if may_end_bare and writer.chance(5) else text, record
