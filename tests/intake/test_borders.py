"""Borders between stories: laws of the division, and signs that leave no doubt."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from sitegen.intake.borders import border_signs, divide, divide_into, is_closing, is_opening
from sitegen.intake.stretches import STORY_SIGNS, story_signs
from sitegen.intake.turnings import frame, freshness, newness, of_neighbours, wordings
from tests.intake.said import sentences

TEXTS = st.lists(
    st.sampled_from(
        ["Good evening.", "A library wants coats.", "It is cold.", "She said so.", "And finally, a goat.", "Why?", "The list is on our website."]
    ),
    max_size=40,
)  # fmt: skip


@given(TEXTS)
def test_a_division_has_a_story_and_goes_on_in_order(texts: list[str]) -> None:
    starts, end = divide(sentences(*texts))
    assert starts == sorted(set(starts))
    assert bool(starts) == bool(texts)
    assert all(0 <= start < end <= len(texts) for start in starts)


@given(TEXTS.filter(bool), st.data())
def test_a_division_into_a_number_of_stories_has_that_many(texts: list[str], data: st.DataObject) -> None:
    count = data.draw(st.integers(1, len(texts)))
    starts, end = divide_into(sentences(*texts), count)
    assert len(set(starts)) == count and starts == sorted(starts)
    assert starts[0] >= 0 and starts[-1] < end <= len(texts)


GOATS = [
    "A goat got out in Lowgate.",
    "The goat ate a hat.",
    "Nobody has caught the goat, and the hat is gone.",
    "The goat is at large.",
]
BREAD = [
    "A baker in Bankfoot needs jars.",
    "The baker fills jars with jam.",
    "Jam keeps in jars, the baker says.",
    "Jars go to the bakery.",
]


def test_a_number_of_stories_leaves_greeting_and_goodbye_out() -> None:
    spoken = sentences(
        "Good evening, and welcome to the show.", *GOATS, *BREAD, "That's our show.", "Good night."
    )
    assert divide_into(spoken, 2) == ([1, 5], 9)


def test_a_number_of_stories_goes_before_their_usual_length() -> None:
    one = [f"The goat of farm {number} ate the hat of farm {number}." for number in range(60)]
    two = [f"The baker fills jar {number} with jam, and jar {number} is sold." for number in range(60)]
    assert divide_into(sentences(*one, *two), 2) == ([0, 60], 120)
    assert divide_into(sentences(*one, *two), 1) == ([0], 120)


def test_a_captioners_marks_are_the_borders() -> None:
    spoken = [
        replace(each, story=number % 5 == 0)
        for number, each in enumerate(sentences(*[f"Sentence {number} of a story." for number in range(30)]))
    ]
    assert divide(spoken) == ([0, 5, 10, 15, 20, 25], 30)


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
    assert divide(spoken) == ([0], 5)


def test_words_that_come_again_hold_a_story_together() -> None:
    spoken = sentences(*GOATS, *BREAD)
    found = border_signs(spoken)
    inside, border = found[2], found[len(GOATS)]
    assert inside["chains_across"] > border["chains_across"] == 0
    assert border["chains_begin"] > inside["chains_begin"]
    assert border["chains_end"] > 0


def test_a_name_alone_gives_the_word_back_and_begins_no_story() -> None:
    spoken = sentences(
        "A goat got out.",
        "It ate a hat.",
        "The list is on our website.",
        "Nora?",
        "A baker in Bankfoot needs jars.",
    )
    found = border_signs(spoken)
    assert [each.get("call", 0) for each in found] == [0, 0, 0, 1, 0]
    # What the promise says of a border is said of the sentence behind the name.
    assert found[4]["promise_before"] == 1 and found[4]["question"] == 0


def test_what_is_announced_before_a_break_is_no_story() -> None:
    spoken = sentences(
        "Good evening.",
        "We've got a pig that swims, and a baker who wants your jars.",
        "So stay right there.",
        *GOATS,
    )
    found = border_signs(spoken)
    assert found[1]["tease"] == 1 and found[3]["stay_before"] == 1
    assert found[4]["tease"] == found[4]["stay_before"] == 0


def test_his_of_a_man_who_is_named_first_is_no_going_on() -> None:
    named, going_on = (
        border_signs(sentences("The list is on our website.", each))[1]["pronoun"]
        for each in ("Otto Brandt swept his last chimney.", "The sweep put down his brush.")
    )
    assert named == 0 and going_on == 1


def test_the_captioners_greeting_and_goodbye_are_left_out() -> None:
    texts = ["Good evening, and welcome.", "I'm Ada Quill.", *GOATS, *BREAD, *GOATS, *BREAD, "Good night."]
    spoken = [
        replace(each, story=number in (2, 6, 10, 14, 18)) for number, each in enumerate(sentences(*texts))
    ]
    assert divide(spoken) == ([2, 6, 10, 14], 18)


def test_names_are_told_by_when_they_were_met() -> None:
    lines = ["We met Otto Brandt in Lowgate.", "Then Brandt sang.", *["It rained."] * 12, "Brandt is back."]
    worded = wordings(sentences(*lines), {"Lowgate"})
    assert worded[0] == ["we", "met", "newNAME", "in", "newTOWN", "."]
    assert worded[1] == ["then", "sameNAME", "sang", "."]
    assert worded[-1] == ["farNAME", "is", "back", "."]
    found = [newness(worded, number) for number in (1, 14)]
    assert [each["new_before"] for each in found] == [0.5, 0] and [each["met_here"] for each in found] == [
        0.5,
        0,
    ]


def test_a_frame_keeps_the_small_words_and_the_endings() -> None:
    words = wordings(sentences("A baker was quickly filling jars for Otto Brandt."))[0]
    assert frame(words) == ["a", "~", "was", "~ly", "~ing", "~s", "for", "newNAME", "."]


def test_neighbours_signs_are_told_by_where_they_stand() -> None:
    signs = [{}, {"opener": 1.0}, {"turn": 1.0, "sound": 0.0}, {"long": 0.5}]
    assert of_neighbours(signs, 1) == {"+1 turn": 1.0, "+2 long": 0.5}
    assert of_neighbours(signs, 3) == {"-1 turn": 1.0}


def test_what_follows_an_opener_knows_of_it() -> None:
    found = border_signs(sentences("It ate a hat.", "And finally, a baker.", "He needs jars."))
    assert found[1]["opener"] == found[2]["-1 opener"] == 1.0
    assert found[0] == {}


def test_words_that_were_not_yet_said_are_fresh() -> None:
    words = [["goat", "hat"], ["goat"], ["baker", "jar"], ["jar"]]
    inside, border = freshness(words, 1), freshness(words, 2)
    assert inside["fresh"] == 0 and inside["carried"] == 0.5 and inside["dropped"] == 0.5
    assert border["fresh"] == 1 and border["carried"] == 0 and border["foretold"] == 0.5


def test_a_story_knows_how_often_it_asks_and_how_long_that_has_been_over() -> None:
    spoken = sentences(
        "A goat got out.", "The list is on our website.", "It ate a hat.", "It is on our website."
    )
    row = story_signs(spoken, [[]] * 4)[0]
    signs = [dict(zip(STORY_SIGNS, each, strict=True)) for each in row]
    assert [each["story site"] for each in signs] == [0, 1, 1, 1]
    assert [each["story site again"] for each in signs] == [0, 0, 0, 0.3]
    assert [each["story site long over"] for each in signs] == [0, 0, 0.125, 0]
