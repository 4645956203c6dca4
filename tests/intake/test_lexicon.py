"""What words are, whatever their letters."""

from __future__ import annotations

import pytest

from sitegen.intake.lexicon import is_common, is_name, is_shouted


@pytest.mark.parametrize("word", ["Ǵ", "猫", "Łódź", "ελληνικός", "\U0001f410"])
def test_letters_the_dictionary_cannot_be_asked_about_make_no_word_of_it(word: str) -> None:
    assert not is_common(word) and not is_name(word) and not is_shouted(word)


def test_words_and_names_are_told_apart() -> None:
    assert is_common("coats") and not is_name("coats")
    assert is_name("barbara") and not is_common("Barbara")
