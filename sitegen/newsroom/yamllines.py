"""Lines of YAML for new files: texts in quotes where they need them, and blanks that say what is wanted."""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Iterable


def blank(key: str, words: str, example: str) -> str:
    """A key that must be written before the file can be published: the reader says so too, by line."""
    return f"{key}:   # fill in: {words}; such as {example}"


def values(texts: Iterable[str]) -> str:
    """One text, or a list of several in brackets."""
    written = [scalar(text) for text in texts]
    return written[0] if len(written) == 1 else f"[{', '.join(written)}]"


def clean(text: str) -> str:
    """A text on one line, without signs that no one typed on purpose."""
    # Cc: control characters; Cs: halves of characters; the bidirectional controls of UAX #9.
    kept = (
        sign
        for sign in text
        if sign.isspace()
        or not (
            unicodedata.category(sign) in ("Cc", "Cs", "Cn")
            or "\u202a" <= sign <= "\u202e"
            or "\u2066" <= sign <= "\u2069"
        )
    )
    return " ".join("".join(kept).split())


_PLAIN = re.compile(r"[^\W_](?:[\w ().;/+'’&!?–—%-]*[\w.)!?%])?\Z")
"""Texts that are themselves without quotes, inside brackets and braces too."""
_WORDS_OF_YAML = frozenset({"null", "true", "false", "yes", "no", "on", "off", "y", "n", "nan", "inf"})


def scalar(text: str) -> str:
    """A text as YAML, in quotes where it would otherwise be something else, to any reader."""
    if _PLAIN.match(text) and text.lower() not in _WORDS_OF_YAML:
        return text
    if re.fullmatch(r"\d{4}-\d\d-\d\d \d\d:\d\d", text):
        return text
    quoted = json.dumps(text, ensure_ascii=False)
    return "".join(
        sign
        if sign.isprintable()
        else f"\\u{ord(sign):04x}"
        if ord(sign) < 0x10000
        else f"\\U{ord(sign):08x}"
        for sign in quoted
    )
