"""Words that YAML takes for a comment where their writer did not: `We need 50 #1 coats` is read as `We need 50`.

A comment on purpose is set off by two spaces before its sign and one behind it, as new files and the README have them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from collections.abc import Sequence as SequenceLike

from sitegen.newsroom.nodes import Mapping, Node, Problem, Scalar
from sitegen.newsroom.yamllines import scalar

SHOWN = frozenset(
    (
        "headline", "summary", "title", "alt", "credit", "courtesy", "described", "reporter", "sponsored_by", "text", "notice",
        "note", "say", "instead", "who_for", "cost", "bring", "accepts", "not_accepted", "if_too_much", "payee", "registration",
        "unit", "name", "street", "transit", "parking", "phone", "pick_up", "ship_to", "station", "programme", "answers", "mail",
    )
)  # fmt: skip
"""Keys whose texts viewers read."""
_UNSEEN = frozenset(("desk", "promises", "confirmed"))
"""Groups that are never published."""
_COMMENT = re.compile(r"(?P<gap> +)#(?P<space> *)(?P<words>.*\S)")


def words_in_comments(node: Node, text: str) -> list[Problem]:
    """Comments behind texts without quotes that look like words of these texts.

    `text` is the whole file's, from which `node` was read; lines and columns are those of the file.
    """
    if " #" not in text:
        return []
    return list(_of(node, "", text.split("\n")))


def _of(node: Node, key: str, lines: SequenceLike[str]) -> Iterator[Problem]:
    if isinstance(node, Mapping):
        for name, value in node.entries:
            if name.text not in _UNSEEN:
                yield from _of(value, name.text, lines)
    elif not isinstance(node, Scalar):
        for item in node.items:
            yield from _of(item, key, lines)
    elif node.plain and key in SHOWN:
        end = _end(node, lines)
        match = _COMMENT.match(lines[end[0]], end[1]) if end is not None else None
        if end is None or match is None:
            return
        close = len(match["gap"]) == 1
        # A blank has its comment at any distance, as `note: # ask them`; `note: #1 Mill Lane` is no blank.
        if match["words"].startswith("#") or (match["space"] and not (close and node.text)):
            return
        lost = f"#{match['space']}{match['words']}"
        # In braces and brackets the last sign may be theirs.
        whole = "" if lost[-1] in ",}]" else f": {scalar(f'{node.text} {lost}'.strip())}"
        on_purpose = "two spaces before" if match["space"] else "two spaces before and one behind"
        yield Problem(
            end[0] + 1,
            match.end("gap") + 1,
            f"A # after a space begins a comment: '{lost[:60]}' is not part of '{key}' and is not published.",
            f"Put the text in quotes{whole}; a comment has {on_purpose} its #.",
            "words-in-comment",
        )


def _end(node: Scalar, lines: SequenceLike[str]) -> tuple[int, int] | None:
    """(index of the line, of the character) behind a text without quotes, which may go over several lines."""
    row, start, left = node.line - 1, node.column - 1, node.text
    while row < len(lines):
        if lines[row].startswith(left, start):
            return row, start + len(left)
        part = lines[row][start:].rstrip()
        if not left.startswith(part):
            return None
        left = left[len(part) :].lstrip()
        row += 1
        start = len(lines[row]) - len(lines[row].lstrip()) if row < len(lines) else 0
    return None
