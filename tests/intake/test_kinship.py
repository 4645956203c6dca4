"""Kinship of words: alike are stretches about one thing, whatever their words."""

from __future__ import annotations

import pytest

from sitegen.intake.kinship import ZERO, kin_signs, kinship, read_kinship

PLACES = {
    "coat": (9.0, 1.0),
    "glove": (8.0, 0.0),
    "scarf": (7.0, 1.0),
    "trout": (0.0, 9.0),
    "river": (1.0, 8.0),
    "net": (0.0, 7.0),
}
TALK = [["coat"], ["glove"], ["scarf"], ["trout"], ["river"], ["net"]]


def test_talk_turns_where_words_are_no_kin() -> None:
    signs = kin_signs(TALK, PLACES)
    assert min(range(1, 6), key=lambda number: signs[number]["kin_near"]) == 3
    assert signs[3]["kin"] < 0.5 < signs[1]["kin_joins"]
    assert signs[3]["kin_leads"] > signs[3]["kin_before_leads"]


def test_words_without_a_place_say_nothing() -> None:
    assert all(set(each.values()) == {0.0} for each in kin_signs([["quern"], [], ["quern"]], PLACES))
    assert all(set(each.values()) == {0.0} for each in kin_signs(TALK, {}))


def test_a_place_is_a_row_of_letters() -> None:
    letters = "".join(chr(ZERO + step) for step in (-3, 0, 12))
    assert read_kinship(f"coat\t{letters}\nnet\t{letters}\n") == {
        "coat": (-3.0, 0.0, 12.0),
        "net": (-3.0, 0.0, 12.0),
    }


def test_every_word_of_the_file_has_a_place_in_one_space() -> None:
    places = kinship()
    assert len({len(place) for place in places.values()}) == 1
    assert all(any(place) for place in places.values())


@pytest.mark.parametrize(("word", "kin", "stranger"), [("coat", "warm", "blood"), ("dog", "shelter", "tax")])
def test_kin_lie_nearer_than_strangers(word: str, kin: str, stranger: str) -> None:
    def alike(other: str) -> float:
        return kin_signs([[word], [other]], kinship())[1]["kin_joins"]

    assert alike(kin) > alike(stranger)
