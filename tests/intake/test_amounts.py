"""Goals, counts and last year's figures, with their units."""

from __future__ import annotations

import pytest

from sitegen.intake.amounts import amounts_in
from tests.intake.said import sentences


@pytest.mark.parametrize(
    ("said", "found"),
    [
        (("They want four hundred coats.",), [("goal", 400, "coats")]),
        (("The goal is 800 boxes.",), [("goal", 800, "boxes")]),
        (("Last year they collected two hundred and ten coats.",), [("last_time", 210, "coats")]),
        (("So far, they have a hundred and twenty coats.",), [("so_far", 120, "coats")]),
        (("They want four hundred coats.", "Last winter they got 210."), [("goal", 400, "coats"), ("last_time", 210, "coats")]),
        (("They hope to raise $5,000.",), [("goal", 5000, "dollars")]),
        (("As of this afternoon, they've got 305 pairs.",), [("so_far", 305, "pairs")]),
        (("They have raised nine thousand of the twenty thousand dollars.",), [("so_far", 9000, ""), ("goal", 20000, "dollars")]),
        (("So far there are 9 of the 20 cots.",), [("so_far", 9, ""), ("goal", 20, "cots")]),
        (("She is 93 years old.", "He was born in 1951."), []),
        (("Meet us at 7:30 on December 12th.",), []),
        (("Fire Station 2 needs your help.",), []),
    ],
)  # fmt: skip
def test_amounts_by_their_role(said: tuple[str, ...], found: list[tuple[str, float, str]]) -> None:
    assert [(each.role, each.number, each.unit) for each in amounts_in(sentences(*said))] == found
