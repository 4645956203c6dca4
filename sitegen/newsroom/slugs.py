"""Slugs: the words of an address, made from names people write."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

BEYOND = "beyond"
"""The county value of stories from outside the station's area."""

UNDIVIDED = str.maketrans(
    {
        "œ": "oe",
        "Œ": "oe",
        "æ": "ae",
        "Æ": "ae",
        "ø": "o",
        "Ø": "o",
        "ß": "ss",
        "ł": "l",
        "Ł": "l",
        "đ": "d",
        "Đ": "d",
    }
)
"""Letters that Unicode does not decompose into a base letter and marks, and how they are written without. Common practice, no source."""
_DROPPED = re.compile(r"['’‘ʻʼ`.]")
_OTHERS = re.compile(r"[^a-z0-9]+")
_SLUG = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*\Z")


@lru_cache(maxsize=4096)
def slug(name: str) -> str:
    """Lower-case ASCII letters and digits joined by hyphens; empty when the name has neither.

    Accents are folded, apostrophes and dots dropped, everything else becomes a hyphen:
    `St. Mary's` is `st-marys`, `Peña Baja` is `pena-baja`.
    """
    plain = unicodedata.normalize("NFKD", name.translate(UNDIVIDED))
    plain = "".join(letter for letter in plain if not unicodedata.combining(letter)).lower()
    return _OTHERS.sub("-", _DROPPED.sub("", plain)).strip("-")


def is_slug(text: str) -> bool:
    """True for a text that is already the slug of itself."""
    return _SLUG.match(text) is not None
