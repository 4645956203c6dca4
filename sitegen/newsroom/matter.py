"""Front matter and body of a Markdown file, with the lines of both, through python-frontmatter."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

import frontmatter
from frontmatter.default_handlers import BaseHandler

from sitegen.newsroom.nodes import Mapping, Node, Problem, compose, is_like_fence

_BLANK_LINES = re.compile(r"\A(?:[^\S\n]*\n)+")
_KEYS = re.compile(r"\w+:|[-#]|\s+\S")
"""How a line of front matter begins, in the middle or at its end."""
_FENCE = re.compile(r"^---[ \t]*$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Matter:
    """A file cut in two."""

    node: Mapping | None
    """The front matter; None when it could not be read."""
    body: str = ""
    body_line: int = 1
    """The file's line the body starts on."""
    problems: tuple[Problem, ...] = ()


@dataclass(slots=True)
class _NodeHandler(BaseHandler):
    """Gives python-frontmatter a loader that keeps every scalar's text and line."""

    first_line: int
    node: Node | None = None
    body: str = ""
    """With its first line's indentation, which is code in CommonMark and which the library strips."""
    body_line: int = 1
    problems: list[Problem] = field(default_factory=list)

    def detect(self, text: str) -> bool:
        return _FENCE.match(text) is not None

    def split(self, text: str) -> tuple[str, str]:
        opening = _FENCE.match(text)
        closing = _FENCE.search(text, opening.end()) if opening is not None else None
        if opening is None or closing is None:
            raise ValueError("no front matter")
        content = text[closing.end() :]
        self.body = _BLANK_LINES.sub("", content).rstrip()
        self.body_line = self.first_line + text.count("\n", 0, len(text) - len(content.lstrip()))
        return text[opening.end() : closing.start()].removeprefix("\n"), content

    def load(self, fm: str) -> dict[str, object]:
        self.node, self.problems = compose(fm, self.first_line + 1)
        return {}


def parts_of(text: str) -> tuple[int, int, int, int] | None:
    """Indices of (the front matter's first character, its end, the body's first character, its end) in a file's text; None
    without front matter. The body's are equal when there is none."""
    first = len(text) - len(text.removeprefix("\ufeff").lstrip())
    opening = _FENCE.match(text, first)
    closing = _FENCE.search(text, opening.end()) if opening is not None else None
    if opening is None or closing is None:
        return None
    start = opening.end() + text.startswith("\n", opening.end())
    blank = _BLANK_LINES.match(text[closing.end() :])
    body = closing.end() + (blank.end() if blank is not None else 0)
    return start, max(closing.start(), start), body, max(len(text.rstrip()), body)


def split_matter(text: str) -> Matter:
    """Front matter and body of a file's text; problems say what keeps it from being read."""
    if not text.strip():
        return Matter(
            None,
            problems=(
                Problem(
                    1,
                    1,
                    "The file is empty.",
                    "Begin with ---, then one `key: value` a line, then ---.",
                    "empty-file",
                ),
            ),
        )
    first_line = 1 + text[: len(text) - len(text.lstrip())].count("\n")
    start = text.lstrip()
    handler = _NodeHandler(first_line)
    if not handler.detect(start):
        return Matter(
            None,
            problems=(
                Problem(
                    first_line,
                    1,
                    "The file does not begin with front matter.",
                    "Begin with a line that holds only ---, and end the front matter with another.",
                    "front-matter",
                ),
            ),
        )
    opening = _FENCE.match(start)
    if opening is None or _FENCE.search(start, opening.end()) is None:
        lines = start.split("\n")
        for index in range(1, len(lines)):
            written = lines[index].strip()
            spaced = written == "---"
            if (spaced or is_like_fence(lines[index])) and _KEYS.match(lines[index - 1]):
                return Matter(
                    None,
                    problems=(
                        Problem(
                            first_line + index,
                            lines[index].index(written) + 1,
                            "Spaces stand before the --- that is to end the front matter."
                            if spaced
                            else f"'{written}' does not end the front matter; three hyphens do.",
                            "Write --- at the start of this line." if spaced else "Write --- on this line.",
                            "front-matter",
                        ),
                    ),
                )
        return Matter(
            None,
            problems=(
                Problem(
                    first_line,
                    1,
                    "The front matter that begins here has no end.",
                    "Write a line that holds only --- below its last key.",
                    "front-matter",
                ),
            ),
        )
    frontmatter.parse(text, handler=handler)
    problems = tuple(handler.problems)
    if handler.node is None and not problems:
        problems = (
            Problem(
                first_line,
                1,
                "The front matter is empty.",
                "Write one `key: value` a line between the two --- lines.",
                "front-matter",
            ),
        )
    if handler.node is not None and not isinstance(handler.node, Mapping):
        problems = (
            *problems,
            Problem(
                first_line + 1,
                1,
                "The front matter is not a set of keys.",
                "Write one `key: value` a line.",
                "front-matter",
            ),
        )
        return Matter(None, handler.body, handler.body_line, problems)
    return Matter(handler.node, handler.body, handler.body_line, problems)
