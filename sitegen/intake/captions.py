"""Caption files of every kind a playout system exports: WebVTT, SRT and TTML, read into cues that count from the programme's start."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import time

from sitegen.intake.captionlines import closed_up, with_speakers
from sitegen.intake.clockings import time_of_day_near
from sitegen.intake.records import IntakeError
from sitegen.intake.ttml import read_ttml
from sitegen.newsroom.captions import read_words
from sitegen.newsroom.records import Cue

_SRT_TIMES = re.compile(
    r"^(\s*\d{1,3}:\d\d:\d\d)[,.](\d{1,3})\s*-->\s*(\d{1,3}:\d\d:\d\d)[,.](\d{1,3})", re.MULTILINE
)
_FRAME_TIME = r"(\d{1,3}:\d\d:\d\d)[:;](\d\d)"
_FRAME_TIMES = re.compile(
    rf"^[ \t]*{_FRAME_TIME}[ \t]*-->[ \t]*{_FRAME_TIME}(?=\s|\Z)", re.MULTILINE | re.ASCII
)
_FRACTION_TIMES = re.compile(r"^.*\d[,.]\d+\s*-->|-->\s*[\d:]*\d[,.]\d", re.MULTILINE)
_FRAMES = 30
"""Frames a second where the last number of a time counts them: TTML's own default (TTML2, 7.2.3), the count of American television, and the most
that a time code of broadcasts goes to (common practice, no source)."""
_SRT_MARKUP = re.compile(r"\{\\[^}]*\}|\{/?[biu]\}|</?font[^>]*>", re.IGNORECASE)
_HOUR, _HALF_HOUR = 3600, 1800
_BEFORE = 60
"""Seconds before a full hour, or half hour of a later one, from which captions count to it (chosen here)."""
_WORD = 420
"""Milliseconds of a word (143 words a minute; common practice is 120 to 180, no source)."""


def read_any_captions(
    text: str, aired: time | None = None, language: str = ""
) -> tuple[tuple[Cue, ...], tuple[str, ...]]:
    """(cues by their start, notes on what had to be guessed) of a caption file's text.

    `aired`: the time of day at which the programme began, for captions that count the time of day; `language`: the station's, for captions in
    several. Raises IntakeError when there are no captions in it.
    """
    # Some tools turn the ends of lines into those of another system twice.
    start = re.sub(r"\r+\n", "\n", text).replace("\r", "\n").lstrip("\ufeff \t\n")
    if start.startswith("<"):
        cues, notes = read_ttml(start, language)
        if not cues:
            raise IntakeError(
                "There are no captions in this TTML: none of its <p> has words and a begin. Export them as WebVTT, SRT or TTML."
            )
    else:
        cues, notes = _read_lines(start)
    endless = sum(cue.end <= cue.start for cue in cues)
    if endless:
        notes += (f"{endless} captions have no end after their start; their words were kept.",)
    return _from_start(_lasting(cues), notes, aired)


def _read_lines(text: str) -> tuple[tuple[Cue, ...], tuple[str, ...]]:
    """WebVTT and SRT, which go through the newsroom's reader."""
    is_srt = not text.startswith("WEBVTT")
    text, notes = _frames_as_thousandths(text)
    lines, closed = closed_up((_as_webvtt(text) if is_srt else text).split("\n"))
    cues, lost = read_words("\n".join(with_speakers(lines)))
    # Before SRT stand two lines that make it WebVTT.
    told = [(line - 2 if is_srt else line, message, instead) for line, message, instead in lost]
    if not cues:
        if told and "-->" in text:
            why = f"line {told[0][0]}: {told[0][1]} {told[0][2]}"
        else:
            first = text.partition("\n")[0].strip()[:40]
            why = "no line has times such as 00:00:01.000 --> 00:00:04.000" + (
                f", and the first reads '{first}'." if first else "."
            )
        raise IntakeError(f"There are no captions in this file: {why} Export them as WebVTT, SRT or TTML.")
    if told:
        notes += (
            f"Words of the captions are lost in {len(told)} places, the first on line {told[0][0]}: {told[0][1]}",
        )
    if closed:
        notes += (f"{closed} captions have blank lines in them; the words below were counted to them.",)
    return cues, notes


def _frames_as_thousandths(text: str) -> tuple[str, tuple[str, ...]]:
    """(the text, notes): times whose last number counts frames (`00:01:05:12`, a common export; common practice, no source) with thousandths instead.

    Nothing is changed where other times of the file have a fraction: then they are mistakes. Raises IntakeError where the number may not
    count frames.
    """
    times = list(_FRAME_TIMES.finditer(text))
    if not times or _FRACTION_TIMES.search(text) is not None:
        return text, ()
    for match in times:
        if max(int(match[2]), int(match[4])) >= _FRAMES:
            line = text.count("\n", 0, match.start()) + 1
            raise IntakeError(
                f"The captions cannot be read at line {line}: the last numbers of '{match[0].strip()}' may count frames or hundredths of a second, and nothing tells which. "
                "Export the captions with thousandths, such as 00:01:05,250, as SRT, WebVTT or TTML."
            )

    def in_thousandths(clock: str, frames: str) -> str:
        return f"{clock:0>8}.{round(int(frames) * 1000 / _FRAMES):03d}"

    changed = _FRAME_TIMES.sub(
        lambda match: f"{in_thousandths(match[1], match[2])} --> {in_thousandths(match[3], match[4])}", text
    )
    return changed, (
        f"The last numbers of the times count frames; {_FRAMES} a second were assumed. With 24 or 25 no time would be wrong by more than a "
        "fifth of a second.",
    )


def _as_webvtt(text: str) -> str:
    """SRT, which is WebVTT but for its commas, numbers and lack of a header (common practice, no source)."""
    text = _SRT_TIMES.sub(
        lambda match: f"{match[1].strip():0>8}.{match[2]:0<3} --> {match[3]:0>8}.{match[4]:0<3}", text
    )
    text = _SRT_MARKUP.sub("", text)
    return f"WEBVTT\n\n{text}"


def _lasting(cues: Sequence[Cue]) -> tuple[Cue, ...]:
    """Cues of which those without an end last as long as their words do, or until the next begins."""
    lasting: list[Cue] = []
    for number, cue in enumerate(cues):
        if cue.end <= cue.start:
            words = cue.start + _WORD * max(1, len(cue.text.split()))
            following = next((each.start for each in cues[number + 1 :] if each.start > cue.start), words)
            cue = replace(cue, end=min(words, following))
        lasting.append(cue)
    return tuple(lasting)


def _from_start(
    cues: tuple[Cue, ...], notes: tuple[str, ...], aired: time | None
) -> tuple[tuple[Cue, ...], tuple[str, ...]]:
    """Cues that count from the programme's start, some from before it: the air time, where the first is near it, or a full hour, or a half hour of the day."""
    first = cues[0].start // 1000
    base = time_of_day_near(first, aired)
    if base is None:
        step = _HALF_HOUR if first >= _HOUR else _HOUR
        base = (first + _BEFORE) // step * step
    if not base:
        return cues, notes
    shift = int(base) * 1000
    counted = tuple(replace(cue, start=cue.start - shift, end=cue.end - shift) for cue in cues)
    return counted, (
        *notes,
        f"The captions begin at {_clock(first)}; {_clock(int(base))} is taken for the start of the programme.",
    )


def _clock(seconds: int) -> str:
    return f"{seconds // 3600}:{seconds // 60 % 60:02d}:{seconds % 60:02d}"
