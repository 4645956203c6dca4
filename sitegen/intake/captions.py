"""Caption files of every kind a playout system exports: WebVTT, SRT and TTML, read into cues.

WebVTT and SRT go through the newsroom's reader; TTML times are those of TTML2, 12.3.1 (https://www.w3.org/TR/ttml2/#timing-value-time-expression):
clock times with a fraction or with frames, and offsets in hours, minutes, seconds, milliseconds, frames and ticks.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from sitegen.intake.records import IntakeError
from sitegen.newsroom.captions import read_captions
from sitegen.newsroom.records import Cue

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

_SRT_TIMES = re.compile(
    r"^(\s*\d{1,3}:\d\d:\d\d)[,.](\d{1,3})\s*-->\s*(\d{1,3}:\d\d:\d\d)[,.](\d{1,3})", re.MULTILINE
)
_SRT_MARKUP = re.compile(r"\{\\[^}]*\}|</?font[^>]*>", re.IGNORECASE)
_PARAMETER = "http://www.w3.org/ns/ttml#parameter"
_CLOCK = re.compile(r"(\d{2,}):(\d\d):(\d\d)(?:(\.\d+)|[:;](\d{2,})(?:\.(\d+))?)?\Z", re.ASCII)
_OFFSET = re.compile(r"(\d+(?:\.\d+)?)(h|ms|m|s|f|t)\Z", re.ASCII)
_SHOWN = frozenset({"p", "span", "div", "body"})


def read_any_captions(text: str) -> tuple[tuple[Cue, ...], tuple[str, ...]]:
    """(cues by their start, notes on what had to be guessed) of a caption file's text.

    Raises IntakeError when there are no captions in it.
    """
    start = text.lstrip("\ufeff \t\r\n")
    if start.startswith("<"):
        cues = _read_ttml(start)
        notes: tuple[str, ...] = ()
    else:
        is_srt = not start.startswith("WEBVTT")
        cues, problems = read_captions(_as_webvtt(start) if is_srt else start)
        # Faults that drop no words are the caption file's own affair: `sitegen proof` tells them where it is used.
        notes = (
            (
                f"The caption file has {len(problems)} problems, the first on line {problems[0][0]}: {problems[0][1]}",
            )
            if problems and not is_srt
            else ()
        )
    if not cues:
        raise IntakeError("There are no captions in this file. Export them as WebVTT, SRT or TTML.")
    hour = cues[0].start // 3600000
    if hour:
        shift = hour * 3600000
        cues = tuple(Cue(cue.start - shift, cue.end - shift, cue.text, cue.speaker) for cue in cues)
        notes += (
            f"The captions begin at hour {hour}; {hour}:00:00 is taken for the start of the programme.",
        )
    return cues, notes


def _as_webvtt(text: str) -> str:
    """SRT, which is WebVTT but for its commas, numbers and lack of a header (common practice, no source)."""
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    text = _SRT_TIMES.sub(
        lambda match: f"{match[1].strip():0>8}.{match[2]:0<3} --> {match[3]:0>8}.{match[4]:0<3}", text
    )
    text = _SRT_MARKUP.sub("", text)
    return f"WEBVTT\n\n{text}"


# --- TTML ------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Rates:
    frames: Fraction
    """Frames a second, the multiplier applied."""
    sub_frames: int
    ticks: Fraction
    """Ticks a second."""


def _read_ttml(text: str) -> tuple[Cue, ...]:
    from xml.etree import ElementTree

    try:
        root = ElementTree.fromstring(text.encode("utf-8") if 'encoding="' not in text[:200] else _utf8(text))
    except ElementTree.ParseError as error:
        line, column = error.position
        raise IntakeError(
            f"The caption file begins like TTML and cannot be read at line {line}, column {column + 1}. "
            "Export it again as TTML, WebVTT or SRT."
        ) from None
    if _local(root.tag) != "tt":
        raise IntakeError(
            f"The caption file is XML but not TTML: its first element is <{_local(root.tag)}>, not <tt>. "
            "Export it as TTML, WebVTT or SRT."
        )
    rates = _rates(root)
    names = {
        agent.get("{http://www.w3.org/XML/1998/namespace}id", ""): _text(agent)
        for agent in root.iter()
        if _local(agent.tag) == "agent"
    }
    cues: list[Cue] = []
    for child in root:
        if _local(child.tag) == "body":
            cues += _cues(child, Fraction(0), None, rates, names)
    return tuple(sorted((cue for cue in cues if cue.text), key=lambda cue: cue.start))


def _utf8(text: str) -> bytes:
    """The bytes of a text whose declaration may name another encoding: it is decoded already."""
    return re.sub(r'(<\?xml[^>]*encoding=")[^"]*(")', r"\1UTF-8\2", text, count=1).encode("utf-8")


def _cues(
    element: Element, base: Fraction, end: Fraction | None, rates: _Rates, names: dict[str, str]
) -> Iterator[Cue]:
    begin, until = _span(element, base, end, rates)
    timed_below = any(
        below is not element and below.get("begin") is not None and _local(below.tag) in _SHOWN
        for below in element.iter()
    )
    if _local(element.tag) in ("p", "span") and not timed_below:
        if until is not None and until > begin:
            yield Cue(
                _thousandths(begin), _thousandths(until), _text(element), names.get(_agent(element), "")
            )
        return
    if _local(element.tag) == "p" and element.text and element.text.strip() and until is not None:
        yield Cue(_thousandths(begin), _thousandths(until), " ".join(element.text.split()))
    for child in element:
        if _local(child.tag) in _SHOWN:
            yield from _cues(child, begin, until, rates, names)


def _span(
    element: Element, base: Fraction, end: Fraction | None, rates: _Rates
) -> tuple[Fraction, Fraction | None]:
    """Begin and end of an element, whose times count from its parent's begin (TTML2, 12.1)."""
    written = {key: _seconds(element.get(key, ""), rates) for key in ("begin", "end", "dur")}
    begin = base + (written["begin"] or 0)
    ends = [end] if end is not None else []
    if written["end"] is not None:
        ends.append(base + written["end"])
    if written["dur"] is not None:
        ends.append(begin + written["dur"])
    return begin, min(ends, default=None)


def _seconds(written: str, rates: _Rates) -> Fraction | None:
    if not written:
        return None
    clock = _CLOCK.match(written.strip())
    if clock is not None:
        seconds = Fraction(int(clock[1]) * 3600 + int(clock[2]) * 60 + int(clock[3]))
        if clock[4]:
            return seconds + Fraction(clock[4])
        if clock[5]:
            frames = int(clock[5]) + Fraction(int(clock[6] or 0), rates.sub_frames)
            return seconds + frames / rates.frames
        return seconds
    offset = _OFFSET.match(written.strip())
    if offset is None:
        raise IntakeError(
            f"'{written[:40]}' is not a time of TTML. Write, for example, 00:01:05.250, 00:01:05:12 or 65.25s."
        )
    number = Fraction(offset[1])
    each = {
        "h": Fraction(3600), "m": Fraction(60), "s": Fraction(1), "ms": Fraction(1, 1000),
        "f": 1 / rates.frames, "t": 1 / rates.ticks,
    }  # fmt: skip
    return number * each[offset[2]]


def _rates(root: Element) -> _Rates:
    """The rates a file counts in; the defaults are those of TTML2, 7.2."""

    def of(name: str) -> str:
        for namespace in (_PARAMETER, "http://www.w3.org/2006/10/ttaf1#parameter"):
            value = root.get(f"{{{namespace}}}{name}")
            if value:
                return value
        return ""

    try:
        rate = Fraction(of("frameRate") or "30")
        multiplied = (of("frameRateMultiplier") or "1 1").replace(":", " ").split()
        frames = rate * Fraction(multiplied[0]) / Fraction(multiplied[-1] if len(multiplied) > 1 else "1")
        sub_frames = int(of("subFrameRate") or "1")
        default = frames * sub_frames if of("frameRate") else Fraction(1)
        ticks = Fraction(of("tickRate")) if of("tickRate") else default
        if frames <= 0 or ticks <= 0 or sub_frames <= 0:
            raise ValueError
    except (ValueError, ZeroDivisionError):
        raise IntakeError(
            "The caption file's frame or tick rate is not a number above 0. Export it again, or write the rate it was made with."
        ) from None
    return _Rates(frames, sub_frames, ticks)


def _text(element: Element) -> str:
    parts: list[str] = [element.text or ""]
    for child in element:
        parts.append(
            " " if _local(child.tag) == "br" else _text(child) if _local(child.tag) == "span" else ""
        )
        parts.append(child.tail or "")
    if _local(element.tag) == "agent":
        parts += [_text(child) for child in element]
    return " ".join("".join(parts).split())


def _agent(element: Element) -> str:
    return next((value for key, value in element.attrib.items() if _local(key) == "agent"), "")


def _local(tag: object) -> str:
    return tag.rpartition("}")[2] if isinstance(tag, str) else ""


def _thousandths(seconds: Fraction) -> int:
    return round(seconds * 1000)
