"""The very words around a thing, as signs: what a regression may learn of wordings that nobody thought of.

Days, months and numbers stand for one another, so that `by Friday the 3rd` and `by Monday the 12th` are one wording.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache

from sitegen.intake.vocabulary import word_set

_WORD = re.compile(r"[a-z0-9'$:.-]*[a-z0-9']|[,;:?!.]")
_NUMBER = re.compile(r"[$]?\d[\d:.,-]*(?:st|nd|rd|th|s)?")
_DAYS = frozenset(
    f"{day}{ending}"
    for day in ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
    for ending in ("", "s", "'s")
)
_MONTHS = word_set("january february april june july august september october november december")
"""Without two that are verbs as well."""
DAY, MONTH, NUMBER = "DAY", "MONTH", "NUMBER"
EDGE = "|"
"""What stands before the first word and behind the last."""


@lru_cache(maxsize=8192)
def _alike(word: str) -> str:
    if word in _DAYS:
        return DAY
    if word in _MONTHS:
        return MONTH
    return NUMBER if _NUMBER.fullmatch(word) else word


def words_of(text: str) -> list[str]:
    """The words and marks of a text, in small letters, those that are alike as one."""
    return [_alike(word) for word in _WORD.findall(text.lower().replace("’", "'"))]


def runs(words: Sequence[str], name: str, longest: int) -> Iterator[str]:
    """Every run of one to so many words: `name:by the`."""
    for length in range(1, longest + 1):
        for at in range(len(words) - length + 1):
            yield f"{name}{length}:{' '.join(words[at : at + length])}"


def first(words: Sequence[str], name: str, longest: int) -> Iterator[str]:
    """The first word, the first two, and so on."""
    padded = (*words, *[EDGE] * longest)
    for length in range(1, longest + 1):
        yield f"{name}{length}:{' '.join(padded[:length])}"


def last(words: Sequence[str], name: str, longest: int) -> Iterator[str]:
    """The last word, the last two, and so on."""
    padded = (*[EDGE] * longest, *words)
    for length in range(1, longest + 1):
        yield f"{name}{length}:{' '.join(padded[-length:])}"
