"""Words out of cues: each once, with its speaker, whatever way the captions were shown."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from sitegen.intake.sentences import sentences
from sitegen.intake.speech import spoken_words
from sitegen.newsroom.records import Cue

WORDS = st.lists(
    st.sampled_from(
        ["COATS", "ARE", "WANTED", "AT", "THE", "OLD", "MILL", "BY", "FRIDAY", "VERY", "GOOD", "NEWS."]
    ),
    min_size=12,
    max_size=80,
)


def rows_of(words: list[str], width: int = 28) -> list[str]:
    rows = [""]
    for word in words:
        if rows[-1] and len(rows[-1]) + len(word) + 1 > width:
            rows.append("")
        rows[-1] = f"{rows[-1]} {word}".strip()
    return rows


def rolled(rows: list[str], shown: int) -> list[Cue]:
    """Captions that roll up: each cue shows the rows that were shown before it."""
    return [
        Cue(number * 2000, number * 2000 + 2000, " ".join(rows[max(0, number - shown + 1) : number + 1]))
        for number in range(len(rows))
    ]


@given(WORDS, st.sampled_from((2, 3)))
def test_rows_that_roll_up_are_read_once(words: list[str], shown: int) -> None:
    """Numbered words, for a text that repeats itself cannot be told from rows that do."""
    numbered = [f"{word}{number}" for number, word in enumerate(words)]
    assert [each.text for each in spoken_words(rolled(rows_of(numbered), shown))] == numbered


@given(WORDS)
def test_words_that_are_painted_on_are_read_once(words: list[str]) -> None:
    numbered = [f"{word}{number}" for number, word in enumerate(words)]
    cues = [
        Cue(number * 300, number * 300 + 300, " ".join(numbered[: number + 1]))
        for number in range(len(numbered))
    ]
    assert [each.text for each in spoken_words(cues)] == numbered


def test_people_who_repeat_themselves_are_left_alone() -> None:
    cues = [Cue(0, 1000, "It was very"), Cue(1000, 2000, "very good."), Cue(2000, 3000, "Very good indeed.")]
    assert " ".join(each.text for each in spoken_words(cues)) == "It was very very good. Very good indeed."


def test_signs_of_speakers_stories_and_sounds_are_read() -> None:
    cues = [
        Cue(0, 1000, ">>> GOOD EVENING."),
        Cue(1000, 2000, "[MUSIC] >> ADA QUILL: HELLO."),
        Cue(9000, 9500, "STILL HERE."),
    ]
    words = spoken_words(cues)
    assert [each.text for each in words] == ["GOOD", "EVENING.", "HELLO.", "STILL", "HERE."]
    assert [each.story for each in words][:1] == [True]
    assert (words[2].turn, words[2].after_sound, words[2].speaker) == (True, True, "Ada Quill")
    assert words[3].after_sound


def test_sentences_have_case_and_times() -> None:
    cues = [
        Cue(0, 2000, "MR. WREN LIVES AT 4 ST. ANNE'S ROAD."),
        Cue(2000, 4000, "IT OPENS AT 9 A.M. ON MONDAY. BARBARA SAID SO."),
    ]
    found = sentences(spoken_words(cues), {"st. anne's road": "St. Anne's Road"})
    assert [each.text for each in found] == [
        "Mr. Wren lives at 4 St. Anne's Road.",
        "It opens at 9 a.m. on Monday.",
        "Barbara said so.",
    ]
    assert found[0].start == 0 and 2000 <= found[1].start < found[2].start < 4000


def test_captions_without_full_stops_are_cut_at_pauses() -> None:
    cues = [
        Cue(
            number * 3000,
            number * 3000 + 1500,
            f"on day {number} we went to the mill and found {number} of them",
        )
        for number in range(6)
    ]
    assert len(sentences(spoken_words(cues), {})) == 6


def test_another_language_has_no_names_of_unknown_words() -> None:
    cues = [Cue(0, 2000, "YO TRAÍA LAS NOTICIAS DE TODOS EN LA TARDE.")]
    text = sentences(spoken_words(cues), {})[0].text
    assert text == "Yo traía las noticias de todos en la tarde."


def test_captions_without_capitals_get_their_case_too() -> None:
    cues = [
        Cue(0, 3000, "on saturday barbara walked to boston and back."),
        Cue(3000, 6000, "it was cold, and she said so."),
    ]
    assert [each.text for each in sentences(spoken_words(cues), {})] == [
        "On Saturday Barbara walked to Boston and back.",
        "It was cold, and she said so.",
    ]
