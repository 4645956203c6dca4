"""Signs in a text that nobody sees and that copied text brings along.

Pure. Those of the first kind have no place in a text at all, and stand on a page as a sign for what cannot be shown, or turn the
words round; those of the second do no more harm than to part a word for whoever searches, listens or calls.
"""

from __future__ import annotations

import re
import unicodedata

from sitegen.newsroom.nodes import Problem

CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f\x80-\x9f\ufffe\uffff\u202a-\u202e\u2066-\u2069]")
"""Control functions of ISO 6429 without tab and line feed, noncharacters, and the embeddings, overrides and isolates of UAX #9."""
_UNSEEN = re.compile("[\u200b\u2060\ufeff]")
"""Zero width space, word joiner, and the mark of byte order where no file begins. Joiners that letters and emoji need, and the
soft hyphen, are none."""


def control_in(text: str, first_line: int) -> Problem | None:
    """The first control of a text that begins on a line of its file."""
    found = CONTROL.search(text)
    if found is None:
        return None
    name = " of a word processor's line break" if found[0] in "\x0b\x0c" else ""
    return Problem(
        *_place(text, found.start(), first_line),
        f"An invisible control character{name} stands here (U+{ord(found[0]):04X}).",
        "Delete it, and begin a paragraph with a blank line."
        if name
        else "Delete it; retyping the text helps.",
        "control-character",
    )


def unseen_in(text: str) -> Problem | None:
    """The first unseen sign of a file's text, with how many there are."""
    found = None if text.isascii() else _UNSEEN.search(text)
    if found is None:
        return None
    more = len(_UNSEEN.findall(text)) - 1
    name = unicodedata.name(found[0]).lower()
    return Problem(
        *_place(text, found.start(), 1),
        f"An invisible sign stands here ({name}, U+{ord(found[0]):04X}); it parts a word for those who search or listen."
        + (f" {more} more in this file." if more else ""),
        "Delete it; retyping the word helps.",
        "unseen-sign",
    )


def _place(text: str, at: int, first_line: int) -> tuple[int, int]:
    return text.count("\n", 0, at) + first_line, at - text.rfind("\n", 0, at)
