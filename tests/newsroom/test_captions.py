"""Caption files: read as browsers read them, and mistakes named where they stand."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.newsroom.captions import read_captions, read_words
from sitegen.newsroom.records import Cue
from tests.counts import tries

WHOLE = """\
WEBVTT - Small Wonders
Kind: captions

NOTE For the newsroom: checked
by ear.

STYLE
::cue { color: white }

REGION
id:low

1
00:01.000 --> 00:02.500 align:start position:10%
<v.loud Ada Quill>Coats, <i>coats</i> &amp; more
coats</v>

hundreds
100:00:03.000 --> 100:00:04.000
4 &lt; 5 <00:03.500><c.yellow.big>so</c>&nbsp;it is
"""


def test_a_whole_file_is_read() -> None:
    assert read_captions(WHOLE) == (
        (
            Cue(1000, 2500, "Coats, coats & more coats", "Ada Quill"),
            Cue(360_003_000, 360_004_000, "4 < 5 so it is", ""),
        ),
        (),
    )


@pytest.mark.parametrize("change", [lambda text: "\ufeff" + text, lambda text: text.replace("\n", "\r\n"),
                                    lambda text: text.replace("\n", "\r"), lambda text: text.rstrip("\n")])  # fmt: skip
def test_marks_and_line_ends_change_nothing(change) -> None:  # type: ignore[no-untyped-def]
    assert read_captions(change(WHOLE)) == read_captions(WHOLE)


def test_each_voice_is_a_cue_of_its_own() -> None:
    text = "WEBVTT\n\n00:01.000 --> 00:02.000\n(bell)\n<v Ada>Here?\n<v Bo &amp; Cy>There.</v> (laughs)\n"
    assert read_captions(text)[0] == (
        Cue(1000, 2000, "(bell)", ""),
        Cue(1000, 2000, "Here?", "Ada"),
        Cue(1000, 2000, "There.", "Bo & Cy"),
        Cue(1000, 2000, "(laughs)", ""),
    )


def test_srt_captions_are_read_and_said_to_be_srt() -> None:
    cues, problems = read_captions(
        "1\n00:00:01,000 --> 00:00:02,000\nHi\n\n2\n00:00:03,000 --> 00:00:04,500\nHo\n"
    )
    assert cues == (Cue(1000, 2000, "Hi"), Cue(3000, 4500, "Ho"))
    assert [line for line, _, _ in problems] == [1, 2]  # the header, and the commas once for all four
    assert "SRT" in problems[0][1] and "WEBVTT" in problems[0][1]
    assert "3 more" in problems[1][1] and "00:00:01.000" in problems[1][2]


def cue(times: str, words: str = "words") -> str:
    return f"WEBVTT\n\n{times}\n{words}\n"


@pytest.mark.parametrize(
    ("text", "line", "cues"),
    [
        ("", 1, 0),
        ("\ufeff\r\n \n", 1, 0),
        ("WEBVTT\n", 1, 0),
        ("webvtt\n\n00:01.000 --> 00:02.000\nx", 1, 1),
        ("WEBVTTX\n\n00:01.000 --> 00:02.000\nx", 1, 1),
        ("00:01.000 --> 00:02.000\nx", 1, 1),
        ("WEBVTT\n00:01.000 --> 00:02.000\nx", 2, 1),
        (cue("00:02.000 --> 00:01.000"), 3, 0),
        (cue("00:02.000 --> 00:02.000"), 3, 0),
        (cue("00:02.000 -->"), 3, 0),
        (cue("--> 00:02.000"), 3, 0),
        (cue("00:01:02:10 --> 00:01:04:00"), 3, 0),
        (cue("00:01:02.000 -> 00:01:04.000"), 3, 0),
        (cue("00:01:02.000 — 00:01:04.000"), 3, 0),
        (cue("00:75.000 --> 00:80.000"), 3, 0),
        (cue("99:00.000 --> 99:01.000"), 3, 0),
        (cue("0:01:02.000 --> 0:01:04.000"), 3, 1),
        (cue("00:01:02 --> 00:01:04"), 3, 1),
        (cue("00:01.5 --> 00:02.5"), 3, 1),
        (cue("00:01.000 --> 00:02.000 Hello there"), 3, 1),
        (cue("00:01.000 --> 00:02.000", "one\ntwo < three"), 5, 1),
        (cue("00:01.000 --> 00:02.000", "<font color=red>one</u>"), 4, 1),
        (cue("00:01.000 --> 00:02.000", "one\n\ntwo"), 6, 1),
        (cue("00:01.000 --> 00:02.000", "one\n2\n00:02.000 --> 00:03.000\ntwo"), 6, 2),
        (cue("00:05.000 --> 00:06.000", "one\n\n00:01.000 --> 00:02.000\ntwo"), 6, 2),
        ("WEBVTT\n\nNOTE left out\n00:01.000 --> 00:02.000\nx", 4, 1),
    ],
)  # fmt: skip
def test_mistakes_are_named_where_they_stand(text: str, line: int, cues: int) -> None:
    found, problems = read_captions(text)
    assert line in [at for at, _, _ in problems]
    assert all(message.endswith((".", ")")) and instead.endswith(".") for _, message, instead in problems)
    assert len(found) == cues


@pytest.mark.parametrize(
    ("written", "start"),
    [("00:00:01,250", 1250), ("00:01.5", 1500), ("1:02:03.004", 3_723_004), ("00:00:02", 2000)],
)
def test_plain_meanings_are_read_all_the_same(written: str, start: int) -> None:
    cues, problems = read_captions(cue(f"{written} --> 02:00:00.000"))
    assert [found.start for found in cues] == [start]
    assert len(problems) == 1


def test_a_number_run_into_the_next_caption_is_not_among_the_words() -> None:
    cues, _ = read_captions(cue("00:01.000 --> 00:02.000", "one\n2\n00:02.000 --> 00:03.000\ntwo"))
    assert [found.text for found in cues] == ["one", "two"]


def test_captions_out_of_order_are_put_in_order() -> None:
    text = cue("00:05.000 --> 00:06.000", "late\n\n00:01.000 --> 00:02.000\nearly")
    assert [found.text for found in read_captions(text)[0]] == ["early", "late"]


def test_every_caption_before_its_time_is_named() -> None:
    starts = ("00:05", "00:01", "00:03", "00:05", "00:06")
    text = "WEBVTT\n\n" + "".join(f"{start}.000 --> 00:09.000\nwords\n\n" for start in starts)
    assert [line for line, _, _ in read_captions(text)[1]] == [6, 9]


def test_captions_that_say_nothing_are_no_cues() -> None:
    assert read_captions(cue("00:01.000 --> 00:02.000", "<v Ada></v>"))[0] == ()


TIMES = st.integers(0, 99 * 3_600_000 + 3_599_999)
NAMES = st.text("abcdefgh'é", min_size=1, max_size=8)
WORDS = st.lists(st.text("abc&<>é.-1", min_size=1, max_size=6), min_size=1, max_size=6)


def clock(milliseconds: int) -> str:
    seconds, rest = divmod(milliseconds, 1000)
    return f"{seconds // 3600:02d}:{seconds // 60 % 60:02d}:{seconds % 60:02d}.{rest:03d}"


@given(st.lists(st.tuples(TIMES, st.integers(1, 5000), NAMES | st.just(""), WORDS), min_size=1, max_size=8))
def test_what_is_written_is_read_back(said: list[tuple[int, int, str, list[str]]]) -> None:
    said.sort(key=lambda one: one[0])
    lines, expected = ["WEBVTT", ""], []
    for start, length, speaker, words in said:
        escaped = [word.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;") for word in words]
        voice = f"<v {speaker}>" if speaker else ""
        lines += [f"{clock(start)} --> {clock(start + length)}", voice + "\n".join(escaped), ""]
        expected.append(Cue(start, start + length, " ".join(words), speaker))
    assert read_captions("\n".join(lines)) == (tuple(expected), ())


PIECES = ["WEBVTT", "\n", "\n\n", "-->", " --> ", "00:01.000", "00:02.000", "1:2,5", "NOTE", "STYLE", "<v Ada>", "</v>", "<", ">", "&", "&lt;", "&#1;", "&#xFFFE;", "words", " ", "\ufeff", "\x00", "\r", "9" * 30, ":", "align:start"]  # fmt: skip


@settings(max_examples=tries(300))
@given(st.lists(st.sampled_from(PIECES), max_size=40).map("".join) | st.text(max_size=80))
def test_any_text_gives_ordered_cues_or_problems(text: str) -> None:
    cues, problems = read_captions(text)
    assert cues or problems or "-->" in text
    assert list(cues) == sorted(cues, key=lambda one: one.start)
    lines = text.count("\n") + text.count("\r") + 1
    for found in cues:
        assert 0 <= found.start < found.end and found.text == " ".join(found.text.split())
        assert found.text and not set(found.text) & {"\x00", "\x01", "\ufffe"}
    for line, message, instead in problems:
        assert 1 <= line <= lines and message and instead


@pytest.mark.parametrize(
    "piece", ["<", "<v ", "-->\n", "&", "0:00 ", "<a>\n", "\n", "9", "00:00.000 --> 00:00.001\n"]
)
def test_hostile_text_gives_no_more_than_it_has(piece: str) -> None:
    """However often a piece comes, each line adds a few problems of a bounded length, and no word is said twice."""
    for text in ("WEBVTT\n\n00:00.000 --> 00:01.000\n" + piece * 20_000, piece * 20_000):
        cues, problems = read_captions(text)
        told, lines = Counter(line for line, _, _ in problems), text.count("\n") + 1
        assert max(told.values(), default=0) <= 3
        assert all(1 <= line <= lines for line in told)
        assert all(len(message) + len(instead) <= 200 for _, message, instead in problems)
        assert len(cues) <= text.count("-->")
        assert sum(len(cue.text) for cue in cues) <= len(text)


def test_markup_is_named_on_its_own_line() -> None:
    text = cue("00:01.000 --> 00:02.000", "one <a>\n<i>two</i>\n<b\nc> <u>three <d>\nfour\n<e")
    assert [(line, message.partition(" is taken")[0]) for line, message, _ in read_captions(text)[1]] == [
        (4, "'<a>'"), (7, "'<d>'"), (9, "'<e'"),
    ]  # fmt: skip


def test_for_words_alone_captions_without_an_end_are_there() -> None:
    text = cue("00:02.000 --> 00:01.000", "Backward\n\nlost")
    assert read_captions(text)[0] == ()
    cues, lost = read_words(text)
    assert [(each.start, each.end, each.text) for each in cues] == [(2000, 2000, "Backward")]
    assert len(read_captions(text)[1]) == 2 and len(lost) == 1
