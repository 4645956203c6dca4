"""Caption files of three kinds, and what cannot be read of them."""

from __future__ import annotations

from datetime import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.intake.captions import read_any_captions
from sitegen.intake.records import IntakeError

TT = '<tt xmlns="http://www.w3.org/ns/ttml" xmlns:ttp="http://www.w3.org/ns/ttml#parameter" xmlns:ttm="http://www.w3.org/ns/ttml#metadata" {}>{}<body><div>{}</div></body></tt>'


def ttml(body: str, parameters: str = "", head: str = "") -> str:
    return TT.format(parameters, head, body)


def starts(text: str) -> list[tuple[int, int, str]]:
    return [(cue.start, cue.end, cue.text) for cue in read_any_captions(text)[0]]


def test_srt_is_read_without_complaint() -> None:
    text = "1\n00:00:01,500 --> 00:00:04,000\n<i>Hello</i> {\\an8}there.\n\n2\n00:00:04,000 --> 00:00:06,000\nBye.\n"
    cues, notes = read_any_captions(text)
    assert [(cue.start, cue.text) for cue in cues] == [(1500, "Hello there."), (4000, "Bye.")]
    assert notes == ()


def test_windows_ends_of_lines_and_a_mark_of_order_are_read() -> None:
    assert starts("\ufeff1\r\n00:00:01,000 --> 00:00:02,000\r\nHello.\r\n") == [(1000, 2000, "Hello.")]


@pytest.mark.parametrize(
    ("parameters", "begin", "milliseconds"),
    [
        ("", "00:00:01.500", 1500),
        ("", "1.5s", 1500),
        ("", "1500ms", 1500),
        ("", "0.5m", 30000),
        ('ttp:frameRate="25"', "00:00:01:05", 1200),
        ('ttp:frameRate="30"', "45f", 1500),
        ('ttp:frameRate="30" ttp:frameRateMultiplier="1000 1001"', "00:00:10:00", 10000),
        ('ttp:frameRate="30" ttp:frameRateMultiplier="1000 1001"', "30f", 1001),
        ('ttp:tickRate="10000000"', "15000000t", 1500),
        ('ttp:frameRate="24" ttp:subFrameRate="2"', "00:00:01:12.1", 1521),
    ],
)
def test_every_way_of_counting_in_ttml(parameters: str, begin: str, milliseconds: int) -> None:
    text = ttml(f'<p begin="{begin}" end="00:59:00.000">Words</p>', parameters)
    assert starts(text)[0][0] == milliseconds


@given(st.integers(0, 3500), st.integers(0, 24))
def test_frames_come_after_their_second(seconds: int, frames: int) -> None:
    code = f"00:{seconds // 60:02d}:{seconds % 60:02d}:{frames:02d}"
    text = ttml(f'<p begin="{code}" dur="1s">Words</p>', 'ttp:frameRate="25"')
    assert starts(text) == [(seconds * 1000 + frames * 40, seconds * 1000 + frames * 40 + 1000, "Words")]


def test_times_count_from_the_parents_begin() -> None:
    text = ttml(
        '<p begin="10s" end="20s"><span begin="1s" end="3s">One<br/>two</span><span begin="3s">three</span></p>'
    )
    assert starts(text) == [(11000, 13000, "One two"), (13000, 20000, "three")]


def test_a_speaker_of_ttml_is_named() -> None:
    head = (
        '<head><metadata><ttm:agent xml:id="a1"><ttm:name>Ada Quill</ttm:name></ttm:agent></metadata></head>'
    )
    cues, _ = read_any_captions(ttml('<p begin="1s" end="2s" ttm:agent="a1">Hello.</p>', head=head))
    assert cues[0].speaker == "Ada Quill"


@pytest.mark.parametrize(
    ("first", "aired", "start"),
    [
        ("10:00:01", None, 1),
        ("10:00:01", time(18, 30), 1),
        ("09:59:58", None, -2),
        ("00:59:58", time(18, 0), -2),
        ("18:30:02", time(18, 30), 2),
        ("18:29:55", time(18, 30), -5),
        ("06:35:10", time(18, 35), 10),
        ("18:30:02", None, 2),
        ("18:42:00", time(18, 40), 120),
    ],
)
def test_captions_count_from_the_hour_or_the_air_time(first: str, aired: time | None, start: int) -> None:
    cues, notes = read_any_captions(f"WEBVTT\n\n{first}.000 --> {first}.900\nHello.\n", aired)
    assert cues[0].start == start * 1000
    assert f"{first.lstrip('0') if first[1] != '0' else first[1:]};" in notes[0]


@pytest.mark.parametrize("first", ["00:00:03", "00:29:00", "00:45:00"])
def test_captions_of_the_first_hour_count_from_its_start(first: str) -> None:
    cues, notes = read_any_captions(f"WEBVTT\n\n{first}.000 --> {first}.900\nHello.\n", time(18, 30))
    hours, minutes, seconds = map(int, first.split(":"))
    assert (cues[0].start, notes) == ((hours * 3600 + minutes * 60 + seconds) * 1000, ())


@pytest.mark.parametrize("end", ["00:00:04", "00:00:03"])
@pytest.mark.parametrize("sign", [",", "."])
def test_words_of_captions_without_an_end_are_kept(end: str, sign: str) -> None:
    head = "WEBVTT\n\n" if sign == "." else ""
    text = f"{head}00:00:04{sign}000 --> {end}{sign}000\nWool socks\n\n00:00:06{sign}000 --> 00:00:07{sign}000\nare wanted.\n"
    cues, notes = read_any_captions(text)
    assert [(cue.start, cue.text) for cue in cues] == [(4000, "Wool socks"), (6000, "are wanted.")]
    assert 4000 < cues[0].end <= 6000
    assert len(notes) == 1 and notes[0].startswith("1 captions")


def test_words_that_are_lost_are_told_of_srt_too() -> None:
    text = "1\n00:00:01,000 --> 00:00:02,000\nHello.\n\n2\n00:00:03:12 --> 00:00:04:00\nGone.\n"
    cues, notes = read_any_captions(text)
    assert [cue.text for cue in cues] == ["Hello."]
    assert "line 6" in notes[0]


@pytest.mark.parametrize("sign", [":", ";"])
@pytest.mark.parametrize("head", ["", "WEBVTT\n\n"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_frames_in_times_are_read_and_their_rate_is_told(sign: str, head: str, end: str) -> None:
    text = f"{head}1\n00:00:01{sign}15 --> 00:00:03{sign}00\nHello.\n\n2\n0:00:03{sign}00 --> 00:00:05{sign}29\nBye.\n"
    cues, notes = read_any_captions(text.replace("\n", end))
    assert [(cue.start, cue.end, cue.text) for cue in cues] == [(1500, 3000, "Hello."), (3000, 5967, "Bye.")]
    assert len(notes) == 1 and "30 a second" in notes[0]


@given(st.lists(st.tuples(st.integers(0, 3500), st.integers(0, 29)), min_size=1, max_size=20))
def test_frames_are_read_as_in_ttml(times: list[tuple[int, int]]) -> None:
    codes = [f"00:{seconds // 60:02d}:{seconds % 60:02d}:{frames:02d}" for seconds, frames in times]
    lines = "".join(
        f"{number}\n{code} --> 00:59:00:00\nWord {number}\n\n" for number, code in enumerate(codes)
    )
    body = "".join(f'<p begin="{code}" end="00:59:00:00">Word {n}</p>' for n, code in enumerate(codes))
    assert starts(lines) == starts(ttml(body, 'ttp:frameRate="30"'))


def test_a_rate_that_was_assumed_is_off_by_no_more_than_the_note_says() -> None:
    starts_at = [
        start
        for frame in range(25)
        for start, _, _ in starts(f"00:00:01:{frame:02d} --> 00:00:09:00\nHello.\n")
    ]
    assert all(
        abs(start - 1000 - frame * 1000 / rate) <= 200
        for rate in (24, 25)
        for frame, start in enumerate(starts_at[:rate])
    )


def test_ends_of_lines_that_were_turned_twice_are_read() -> None:
    text = "1\n00:00:01,000 --> 00:00:02,000\nHello\nthere.\n\n2\n00:00:03,000 --> 00:00:04,000\nBye.\n"
    assert (
        starts(text.replace("\n", "\r\r\n"))
        == starts(text)
        == [(1000, 2000, "Hello there."), (3000, 4000, "Bye.")]
    )


def test_blank_lines_within_captions_lose_no_words() -> None:
    text = "1\n00:00:01,000 --> 00:00:02,000\n\nHELLO\n\nTHERE.\n\n\n2\n\n00:00:03,000 --> 00:00:04,000\n\nBYE.\n\nNOTE checked\n"
    cues, notes = read_any_captions(text)
    assert [cue.text for cue in cues] == ["HELLO THERE.", "BYE."]
    assert len(notes) == 1 and notes[0].startswith("2 captions")


def test_captions_of_ttml_without_an_end_last_until_the_next() -> None:
    text = ttml('<p begin="1s">One two three four</p><p begin="2s">Five</p>')
    assert [each[2] for each in starts(text)] == ["One two three four", "Five"]
    assert starts(text)[0][:2] == (1000, 2000)


def test_the_encoding_that_a_decoded_ttml_names_is_passed_over() -> None:
    text = ttml('<p begin="1s" end="2s">Rosalía’s café</p>')
    for declared in (
        "<?xml version='1.0' encoding='ISO-8859-1'?>",
        '<?xml version="1.0" encoding="UTF-16"?>',
    ):
        assert starts(declared + "\n" + text) == [(1000, 2000, "Rosalía’s café")]


TWO = (
    '</div><div xml:lang="en"><p begin="1s" end="2s">Good evening.</p><p begin="3s" end="4s">Welcome.</p></div>'
    '<div xml:lang="es-US"><p begin="{0}s" end="{1}s">Buenas noches.</p>'
)


@pytest.mark.parametrize(("language", "words"), [("en-US", 2), ("es", 1), ("", 2), ("fr", 2)])
def test_of_captions_in_two_languages_one_is_taken(language: str, words: int) -> None:
    cues, notes = read_any_captions(ttml(TWO.format(1, 2)), None, language)
    assert len(cues) == words
    assert "several languages" in notes[0]


def test_a_speaker_of_another_language_stays() -> None:
    cues, notes = read_any_captions(ttml(TWO.format(2, 3)), None, "en-US")
    assert [cue.text for cue in cues] == ["Good evening.", "Buenas noches.", "Welcome."]
    assert notes == ()


def of_cues(kind: str, cues: list[str]) -> str:
    if kind == "ttml":
        return ttml(
            "".join(
                f'<p begin="{2 * n}s" end="{2 * n + 2}s">{"<br/>".join(cue.split(chr(10)))}</p>'
                for n, cue in enumerate(cues)
            )
        )
    sign = "," if kind == "srt" else "."
    body = "".join(
        f"00:00:{2 * n:02d}{sign}000 --> 00:00:{2 * n + 2:02d}{sign}000\n{cue}\n\n"
        for n, cue in enumerate(cues)
    )
    return body if kind == "srt" else f"WEBVTT\n\n{body}"


@pytest.mark.parametrize("kind", ["srt", "vtt", "ttml"])
@pytest.mark.parametrize("dash", ["- ", "-", "\u2013 ", "\u2014"])
def test_a_dash_at_the_start_of_a_line_is_a_new_speaker(kind: str, dash: str) -> None:
    cues = [
        f"{dash}Good evening and\nwelcome.",
        f"{dash}And I'm Piers.",
        f"Well.\n{dash}In Oldfleet it rains.",
        f"{dash}tomorrow, too.",
    ]
    marked = [cue.text for cue in read_any_captions(of_cues(kind, cues))[0]]
    assert marked == [
        ">> Good evening and welcome.",
        ">> And I'm Piers.",
        "Well. >> In Oldfleet it rains.",
        ">> tomorrow, too.",
    ]


@pytest.mark.parametrize(
    "cue",
    ["-12 degrees tonight.", "We went home\n- all of us - and slept.", "He said\n\u2014 Finally \u2014 that it rains.", "Wait\n-- no.", "WE WENT HOME\n- ALL OF US - AND SLEPT."],
)  # fmt: skip
def test_other_dashes_are_words(cue: str) -> None:
    cues, _ = read_any_captions(of_cues("srt", ["Hello.", cue]))
    assert cues[1].text == " ".join(cue.split())


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "no captions"),
        ("Just words.", "no captions"),
        ("<tt><body>", "line 1"),
        ("<html/>", "not TTML"),
        ("<!DOCTYPE html><html><br></html>", "web page"),
        ("<feed/>", "not TTML"),
        ("1\n00:00:03:00 --> 00:00:06:30\nHello.\n", "line 2: .*hundredths.*00:01:05,250"),
        ('{"cues": [1]}', "cues"),
        (ttml('<p begin="soon" end="2s">x</p>'), "'soon'"),
        (ttml(f'<p begin="{"9" * 5000}s" end="2s">x</p>'), "no time|not a time"),
        (ttml(f'<p begin="{"9" * 5000}:00:01" end="2s">x</p>'), "not a time"),
        (ttml("<div>" * 1500 + '<p begin="1s" end="2s">x</p>' + "</div>" * 1500), "deep"),
        (ttml('<p begin="1f" end="2f">x</p>', 'ttp:frameRate="0"'), "above 0"),
        (ttml("<p>Nothing has a time.</p>"), "no captions"),
        ("\x00\x01\x02", "no captions"),
    ],
)
def test_what_cannot_be_read_is_told(text: str, says: str) -> None:
    with pytest.raises(IntakeError, match=says):
        read_any_captions(text)


@given(st.text(max_size=200))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        cues, _ = read_any_captions(text)
    except IntakeError:
        return
    assert cues
