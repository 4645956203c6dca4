"""How many places a promise's words promise."""

from __future__ import annotations

import pytest

from sitegen.intake.counted_places import places_promised


@pytest.mark.parametrize(
    ("said", "count"),
    [
        ("The list of drop-off places is on our website.", 0),
        ("All three places are on our website.", 3),
        ("We've got both locations on our website.", 2),
        ("Every one of the eleven landings is listed, all eleven landings, on our website.", 11),
        ("The recipe is on our website.", None),
        ("The address is on your screen.", None),
    ],
)
def test_how_many_places_are_promised(said: str, count: int | None) -> None:
    assert places_promised(said) == count
