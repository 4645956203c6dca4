"""Caption files of three kinds, and what cannot be read of them."""

from __future__ import annotations

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


@given(st.integers(0, 3599), st.integers(0, 24))
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


def test_captions_that_begin_at_hour_ten_are_counted_from_there() -> None:
    cues, notes = read_any_captions("WEBVTT\n\n10:00:01.000 --> 10:00:02.000\nHello.\n")
    assert cues[0].start == 1000
    assert "hour 10" in notes[0]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "no captions"),
        ("Just words.", "no captions"),
        ("<tt><body>", "line 1"),
        ("<html/>", "not TTML"),
        (ttml('<p begin="soon" end="2s">x</p>'), "'soon'"),
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
