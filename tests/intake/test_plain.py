"""Numbers, ordinals, clock times and telephone numbers as they are said."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.intake.plain import plain

SMALL = "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen".split()  # noqa: SIM905
TENS = "x x twenty thirty forty fifty sixty seventy eighty ninety".split()  # noqa: SIM905


def in_words(number: int, conjunction: str = "") -> str:
    """A whole number below a million in English words."""
    if number < 20:
        return SMALL[number]
    if number < 100:
        return TENS[number // 10] + (f"-{SMALL[number % 10]}" if number % 10 else "")
    if number < 1000:
        rest = f"{conjunction} {in_words(number % 100)}" if number % 100 else ""
        return f"{SMALL[number // 100]} hundred{rest}"
    rest = f" {in_words(number % 1000, conjunction)}" if number % 1000 else ""
    return f"{in_words(number // 1000, conjunction)} thousand{rest}"


@given(st.integers(2, 999_999), st.sampled_from(("", " and")))
def test_numbers_in_words_become_digits(number: int, conjunction: str) -> None:
    assert plain(f"They want {in_words(number, conjunction)} coats.") == f"they want {number} coats."


@pytest.mark.parametrize(
    ("said", "read"),
    [
        ("A HUNDRED AND SIXTY-FOUR COATS", "164 coats"),
        ("thirty-six hundred cans", "3600 cans"),
        ("two dozen eggs, a dozen hats", "24 eggs, 12 hats"),
        ("since nineteen fifty-six", "since 1956"),
        ("1.5 million dollars", "1500000 dollars"),
        ("four thousand two hundred", "4200"),
        (f"{'9' * 5000} hundred, {'9' * 400}.5 million", f"{'9' * 5000} hundred, {'9' * 400}.5 million"),
        ("eleven thousand one-dollar pickles", "11000 one-dollar pickles"),
        ("the twenty-sixth of February", "the 26th of february"),
        ("October thirty-first, November second", "october 31st, november 2nd"),
        ("the second time, one of them, a third of it", "the second time, one of them, a third of it"),
        ("a ten-year-old in the fourth grade", "a 10-year-old in the 4th grade"),
        ("at seven forty, at half past five, at a quarter to nine", "at 7:40, at 5:30, at 8:45"),
        ("9 A.M. to 5:30 p.m.", "9 am to 5:30 pm"),
        ("five five five, oh one seven five", "555-0175"),
        ("two three seven, five five five, zero one double two", "237-555-0122"),
        ("“It’s 1,200,” he said", '"it\'s 1200," he said'),
    ],
)
def test_ways_of_saying(said: str, read: str) -> None:
    assert plain(said) == read


@given(st.text(max_size=120))
def test_any_text_can_be_read(text: str) -> None:
    assert plain(text) == " ".join(plain(text).split())
