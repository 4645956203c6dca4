"""Borders between stories: laws of the division, and signs that leave no doubt."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from sitegen.intake.borders import FEATURES, WEIGHTS, divide, features, is_closing, is_opening
from tests.intake.said import sentences

TEXTS = st.lists(
    st.sampled_from(
        ["Good evening.", "A library wants coats.", "It is cold.", "She said so.", "And finally, a goat.", "Why?", "The list is on our website."]
    ),
    max_size=40,
)  # fmt: skip


@given(TEXTS)
def test_a_division_begins_at_the_start_and_goes_on_in_order(texts: list[str]) -> None:
    starts = divide(sentences(*texts))
    assert starts == sorted(set(starts))
    assert starts[:1] == ([0] if texts else [])
    assert all(0 <= start < len(texts) for start in starts)


def test_every_sign_has_a_weight() -> None:
    assert set(WEIGHTS) == set(FEATURES)
    assert all(set(each) == set(FEATURES) for each in features(sentences("One.", "Two.", "Three.")))


def test_a_captioners_marks_are_the_borders() -> None:
    spoken = [
        replace(each, story=number % 5 == 0)
        for number, each in enumerate(sentences(*[f"Sentence {number} of a story." for number in range(30)]))
    ]
    assert divide(spoken) == [0, 5, 10, 15, 20, 25]


def test_openings_and_goodbyes_are_no_stories() -> None:
    assert is_opening(sentences("Good evening, and welcome.", "I'm Ada Quill.", "Coming up, a goat."))
    assert not is_opening(sentences("A library in Lowgate wants coats.", "It is cold.", "Bring one."))
    assert is_closing(sentences("That's our program.", "I'm Ada Quill.", "Good night."))
    assert not is_closing(
        sentences(
            "It is lambing time.",
            "They are small.",
            "Bring the children.",
            "Book now.",
            "It is free.",
            "Good night.",
        )
    )


def test_a_few_sentences_that_share_no_word_are_one_story() -> None:
    spoken = sentences(
        "The Friends of Lowgate Library want four hundred coats.",
        "Last year they collected two hundred and ten.",
        "You can drop them off at Lowgate Hall until December 15th.",
        "The number is 237-555-0142.",
        "The list of places is on our website.",
    )
    assert divide(spoken) == [0]
