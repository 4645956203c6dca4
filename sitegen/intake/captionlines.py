"""The lines of caption files: blank ones within a caption, and dashes that stand for a new speaker.

A dash before each speaker's words is common practice in captions, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

_ARROW = "-->"
_NO_WORDS = "<i></i>"
"""Stands for a blank line, so that those below keep their numbers."""
_COMMENT = re.compile(r"(?:NOTE|STYLE|REGION)(?:\s|\Z)")
_DASH = re.compile(r"((?:\s|<[^<>]*>)*)([-\u2010\u2013\u2014])(?![-\u2010\u2013\u2014>])(\s*)(?=\S)")
_ENDED = re.compile(r"[.?!:\u2026\u266a\])\"\u201d\u2019'>\u2014-]\s*\Z")
_TAG = re.compile(r"<[^<>]*>")


def closed_up(lines: Sequence[str]) -> tuple[list[str], int]:
    """(as many lines, without blank ones within captions; how many captions had some): what stands between two times belongs to the first.

    A line right before a time is its number or name, and a comment is none of its words.
    """
    kept = list(lines)
    closed: set[int] = set()
    caption = -1
    gap: list[int] = []
    for number, line in enumerate(lines):
        if not line.strip():
            gap.append(number)
            continue
        if _ARROW in line:
            caption = number
        elif gap and caption >= 0:
            following = next((each for each in lines[number + 1 :] if each.strip()), "")
            if _COMMENT.match(line):
                caption = -1
            elif _ARROW in following and line.strip().isdigit():
                # The number of the next one, be there a blank line below it or not.
                kept[number] = "" if not lines[number + 1].strip() else line
            elif number + 1 >= len(lines) or _ARROW not in lines[number + 1]:
                closed.add(caption)
                for blank in gap:
                    kept[blank] = _NO_WORDS
        gap = []
    return kept, len(closed)


def with_speakers(lines: Iterable[str]) -> list[str]:
    """The lines of a file of captions, with signs of new speakers for dashes among their words."""
    speakers = Speakers()
    read: list[str] = []
    within = False
    for line in lines:
        if _ARROW in line or not line.strip():
            within = _ARROW in line
        elif within and not line.strip().isdigit():
            line = speakers.line(line)
        read.append(line)
    return read


class Speakers:
    """Reads dashes at the starts of lines, one after the other: a new speaker, where a sentence is over or one plainly begins."""

    def __init__(self) -> None:
        self._ended = True
        self._small = False
        """The line before has small letters, so that a capital says something."""
        self._read: set[str] = set()
        """Lines with a speaker: where rows roll up they come again."""

    def line(self, line: str) -> str:
        """A line with `>>` for a dash that stands for a speaker."""
        plain = _TAG.sub("", line).strip()
        match = _DASH.match(line)
        speaker = match is not None and (plain in self._read or self._begins(match, plain))
        if plain:
            self._ended = _ENDED.search(plain) is not None
            self._small = plain != plain.upper()
        if match is None or not speaker:
            return line
        self._read.add(plain)
        return f"{match[1]}>> {line[match.end() :]}"

    def joined(self, lines: Iterable[str]) -> str:
        """The lines of one caption as one."""
        return " ".join(self.line(line) for line in lines if line.strip())

    def _begins(self, match: re.Match[str], plain: str) -> bool:
        words = plain[1:].lstrip()
        if words[:1].isdigit() and not match[3]:
            return False  # a number below zero
        # A dash within a sentence, with spaces around it, may come to stand at the start of a line.
        capital = words[:1].isupper() and self._small and match[2] != "\u2014"
        return self._ended or capital
