"""Slugs: accents folded, ligatures spelled out, apostrophes and dots dropped, the rest hyphens."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.newsroom.slugs import is_slug, slug


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("St. Mary's", "st-marys"),
        ("St. Mary’s", "st-marys"),
        ("O'Brien", "obrien"),
        ("Peña Baja", "pena-baja"),
        ("Añasco", "anasco"),
        ("Cœur de Mer", "coeur-de-mer"),
        ("Miami-Dade", "miami-dade"),
        ("Hoonah–Angoon", "hoonah-angoon"),
        ("De Witt", "de-witt"),
        ("DeWitt", "dewitt"),
        ("  Sandy   End  ", "sandy-end"),
        ("Coats & Hats", "coats-hats"),
        ("ﬁsh", "fish"),
        ("Łódź", "lodz"),
        ("Straße", "strasse"),
        ("2nd Street", "2nd-street"),
        ("İzmir", "izmir"),
        ("東京", ""),
        ("---", ""),
        ("", ""),
    ],
)
def test_names_people_write(name: str, expected: str) -> None:
    assert slug(name) == expected


@given(st.text(max_size=40))
def test_every_text_gives_a_slug_of_itself_or_nothing(text: str) -> None:
    found = slug(text)
    assert slug(found) == found
    assert is_slug(found) == bool(found)
    assert found == "" or re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", found)


@pytest.mark.parametrize("text", ["", "-", "a-", "-a", "a--b", "A", "a b", "a/b", "ä", "a.b", "a\n", "a_b"])
def test_what_is_no_slug(text: str) -> None:
    assert not is_slug(text)
