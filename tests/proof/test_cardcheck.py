"""Share pictures whose letters are too much like their ground."""

from __future__ import annotations

import pytest

from sitegen.proof.cardcheck import check_cards, contrast


@pytest.mark.parametrize(
    ("ink", "ground", "ratio"),
    [("#000000", "#ffffff", 21.0), ("#ffffff", "#ffffff", 1.0), ("#767676", "#ffffff", 4.54), ("#ff0000", "#ffffff", 3.99)],
)  # fmt: skip
def test_contrast_as_published_for_known_pairs(ink: str, ground: str, ratio: float) -> None:
    """#767676 is the lightest grey that is enough on white, and red fails: common knowledge of the field."""
    assert abs(contrast(ink, ground) - ratio) < 0.01
    assert contrast(ink, ground) == contrast(ground, ink)


def test_each_pair_is_told_once_with_its_level() -> None:
    cards = [
        ("pictures/a.png", (("Coats", "#777777", "#ffffff"), ("Fine", "#000000", "#ffffff"))),
        ("pictures/b.png", (("Others", "#777777", "#ffffff"), ("Nearly", "#666666", "#ffffff"))),
    ]
    first, second = check_cards(cards)
    assert (first.page, first.criterion, first.level, first.verdict) == (
        "pictures/a.png",
        "1.4.3",
        "AA",
        "fails",
    )
    assert (second.page, second.criterion, second.level) == ("pictures/b.png", "1.4.6", "AAA")
    assert "4.47:1" in first.message and "Coats" in first.message
