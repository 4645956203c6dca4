"""Where sentences end, in captions with full stops that end none."""

from __future__ import annotations

import pytest

from tests.intake.said import captioned


@pytest.mark.parametrize(
    ("said", "texts"),
    [
        ("My sister must, and so must I. The list is on our site.", ["My sister must, and so must I.", "The list is on our site."]),
        ("Nobody was happier than I. We ate it all.", ["Nobody was happier than I.", "We ate it all."]),
        ("Mr. Tolliver and Dr. E. I. Quill came.", ["Mr. Tolliver and Dr. E. I. Quill came."]),
        ("Come to No. 4 Quay Street.", ["Come to No. 4 Quay Street."]),
        ("Is it full? No. Bring yours.", ["Is it full?", "No.", "Bring yours."]),
        ("It is open until 5 p.m. Bring a hat.", ["It is open until 5 p.m.", "Bring a hat."]),
    ],
)  # fmt: skip
def test_sentences_end_where_they_do(said: str, texts: list[str]) -> None:
    assert [each.text for each in captioned(said, capitals=False)] == texts
