"""TTML read into cues. Its times are those of TTML2, 12.3.1 (https://www.w3.org/TR/ttml2/#timing-value-time-expression): clock times with a fraction
or with frames, and offsets in hours, minutes, seconds, milliseconds, frames and ticks."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from sitegen.intake.captionlines import Speakers
from sitegen.intake.records import IntakeError
from sitegen.newsroom.records import Cue

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

_PARAMETER = "http://www.w3.org/ns/ttml#parameter"
_CLOCK = re.compile(r"(\d{2,9}):(\d\d):(\d\d)(?:(\.\d{1,30})|[:;](\d{2,9})(?:\.(\d{1,9}))?)?\Z", re.ASCII)
_OFFSET = re.compile(r"(\d{1,30}(?:\.\d{1,30})?)(h|ms|m|s|f|t)\Z", re.ASCII)
# No time has more digits than these, and no program's number either: Python refuses to read thousands of them.
_XML = "http://www.w3.org/XML/1998/namespace"
_LANGUAGE = f"{{{_XML}}}lang"
_WEB_PAGE = re.compile(r"<(?:!doctype\s+html|html)\b", re.IGNORECASE)
_SHOWN = frozenset({"p", "span", "div", "body"})


@dataclass(frozen=True, slots=True)
class _Rates:
    frames: Fraction
    """Frames a second, the multiplier applied."""
    sub_frames: int
    ticks: Fraction
    """Ticks a second."""


@dataclass(frozen=True, slots=True)
class _Shown:
    """A cue and the language it stands in."""

    cue: Cue
    language: str


def read_ttml(text: str, language: str) -> tuple[tuple[Cue, ...], tuple[str, ...]]:
    """(cues by their start, notes) of a TTML document, decoded already. A cue without an end ends where it starts.

    `language`: the one that is taken, as its tag begins, where a document says the same in several; without it the first is.
    Raises IntakeError for what is no TTML.
    """
    from xml.etree import ElementTree

    if _WEB_PAGE.match(text):
        raise IntakeError(
            "This file is a web page, not TTML: perhaps a page to log in was saved in the place of the captions. Download the captions again."
        )
    try:
        # Of a text, the encoding that its declaration names is passed over.
        root = ElementTree.fromstring(text)
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
        agent.get(f"{{{_XML}}}id", ""): _text(agent) for agent in root.iter() if _local(agent.tag) == "agent"
    }
    shown: list[_Shown] = []
    try:
        for child in root:
            if _local(child.tag) == "body":
                shown += _cues(child, Fraction(0), None, rates, names, root.get(_LANGUAGE, ""))
    except RecursionError:
        raise IntakeError(
            "The caption file's elements stand in one another hundreds of levels deep, which no captions need. Export it again."
        ) from None
    shown = sorted((each for each in shown if each.cue.text.strip()), key=lambda each: each.cue.start)
    cues, notes = _of_one_language(shown, language)
    speakers = Speakers()
    return tuple(replace(cue, text=speakers.joined(cue.text.split("\n"))) for cue in cues), notes


def _of_one_language(shown: Sequence[_Shown], language: str) -> tuple[list[Cue], tuple[str, ...]]:
    """(cues, notes) without those that say in another language what is shown at the same time; speakers of other languages stay."""
    cues = [each.cue for each in shown]
    spoken = Counter(each.language for each in shown)
    if len(spoken) < 2:
        return cues, ()
    wanted = language.partition("-")[0].lower()
    main = wanted if wanted in spoken else shown[0].language
    of_main = [each.cue for each in shown if each.language == main]
    others: list[str] = []
    for other in spoken.keys() - {main}:
        theirs = [each.cue for each in shown if each.language == other]
        if _beside(theirs, of_main) or _beside(of_main, theirs):
            others.append(other)
    if not others:
        return cues, ()
    said = " and ".join(sorted(each or "no named language" for each in others))
    return (
        [each.cue for each in shown if each.language not in others],
        (f"The captions say the same in several languages: '{main}' was taken, and not {said}.",),
    )


def _beside(some: Sequence[Cue], others: Sequence[Cue]) -> bool:
    """True where most of some cues are shown together with one of the others."""
    together = sum(any(cue.start < each.end and each.start < cue.end for each in others) for cue in some)
    return together * 2 > len(some)


def _cues(
    element: Element,
    base: Fraction,
    end: Fraction | None,
    rates: _Rates,
    names: dict[str, str],
    language: str,
) -> Iterator[_Shown]:
    language = element.get(_LANGUAGE, language)
    begin, until = _span(element, base, end, rates)
    timed_below = any(
        below is not element and below.get("begin") is not None and _local(below.tag) in _SHOWN
        for below in element.iter()
    )
    last = max(begin, until) if until is not None else begin

    def shown(text: str, speaker: str = "") -> _Shown:
        return _Shown(
            Cue(_thousandths(begin), _thousandths(last), text, speaker), language.partition("-")[0].lower()
        )

    if _local(element.tag) in ("p", "span") and not timed_below:
        if until is not None or element.get("begin") is not None:
            yield shown(_text(element), names.get(_agent(element), ""))
        return
    if _local(element.tag) == "p" and element.text and element.text.strip() and until is not None:
        yield shown(" ".join(element.text.split()))
    for child in element:
        if _local(child.tag) in _SHOWN:
            yield from _cues(child, begin, until, rates, names, language)


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
    """An element's words, a line of them for each that is shown."""
    lines = "".join(_pieces(element)).split("\v")
    return "\n".join(" ".join(line.split()) for line in lines)


def _pieces(element: Element) -> Iterator[str]:
    yield element.text or ""
    for child in element:
        if _local(child.tag) == "br":
            yield "\v"
        elif _local(child.tag) == "span" or _local(element.tag) == "agent":
            yield from _pieces(child)
        yield child.tail or ""


def _agent(element: Element) -> str:
    return next((value for key, value in element.attrib.items() if _local(key) == "agent"), "")


def _local(tag: object) -> str:
    return tag.rpartition("}")[2] if isinstance(tag, str) else ""


def _thousandths(seconds: Fraction) -> int:
    return round(seconds * 1000)
