"""Caption files: WebVTT as the W3C defines it (https://www.w3.org/TR/webvtt1/), and the usual mistakes in words.

Where a browser would quietly drop a caption or its words, a problem says so. Where the meaning is plain all the
same, as with the commas of SRT times, the caption is read and the problem stands beside it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from html import unescape

from sitegen.newsroom.body import fit_for_html
from sitegen.newsroom.records import Cue

Problem = tuple[int, str, str]
"""(line from 1, what is wrong, what to write instead)"""

_HEADER = re.compile(r"WEBVTT(?:[ \t].*)?\Z")
_NOTE = re.compile(r"NOTE(?:[ \t]|\Z)")
_DEFINITION = re.compile(r"(?:STYLE|REGION)[ \t]*\Z")
_STRICT_TIME = re.compile(r"(?:(\d{2,6}):)?([0-5]\d):([0-5]\d)\.(\d{3})\Z", re.A)
_LOOSE_TIME = re.compile(r"(?:(\d{1,6}):)?(\d{1,2}):(\d{1,2})(?:[.,](\d{1,3}))?\Z", re.A)
_FRAMES = re.compile(r"\d{1,2}:\d\d:\d\d[:;]\d\d\Z", re.A)
_TWO_TIMES = re.compile(r"\s*[\d:.,;]*\d:\d\d\S*\s*\D{0,4}?\s*[\d:.,;]*\d:\d\d\S*\s*\Z", re.A)
_SETTING = re.compile(r"(?:vertical|line|position|size|align|region):\S+\Z")
_TAG = re.compile(r"<([^>]*)(>?)")
_VOICE = re.compile(r"v(?:\.[^\s.]+)*(?:\s+(.*))?\Z", re.S)
_OTHER_TAG = re.compile(r"/?(?:[cibu]|ruby|rt|lang|v)(?:\.[^\s]*)?(?:\s.*)?\Z|[\d:.]+\Z|/?\Z", re.S | re.A)


@dataclass(slots=True)
class _Problems:
    """Problems as they are found. A mistake that runs through a whole file is told once, with how often."""

    found: list[Problem] = field(default_factory=list)
    lost: list[Problem] = field(default_factory=list)
    """Those of them by which words are lost."""
    throughout: dict[str, tuple[int, int, str, str]] = field(default_factory=dict)

    def add(self, line: int, message: str, instead: str) -> None:
        self.found.append((line, message, instead))

    def add_lost(self, line: int, message: str, instead: str) -> None:
        self.add(line, message, instead)
        self.lost.append((line, message, instead))

    def add_once(self, kind: str, line: int, message: str, instead: str) -> None:
        first, times, *words = self.throughout.get(kind, (line, 0, message, instead))
        self.throughout[kind] = (first, times + 1, words[0], words[1])

    def all(self) -> tuple[Problem, ...]:
        for line, times, message, instead in self.throughout.values():
            others = f" There are {times - 1} more like it." if times > 1 else ""
            self.found.append((line, message + others, instead))
        return tuple(sorted(self.found))


@dataclass(slots=True)
class _Block:
    """A time line and the lines of words under it."""

    line: int
    times: str
    words: list[str] = field(default_factory=list)


def read_captions(text: str) -> tuple[tuple[Cue, ...], tuple[Problem, ...]]:
    """(cues by their start, problems by line) of a caption file's text.

    A caption in which several people speak becomes one cue for each, with the same times. Captions that end no
    later than they start, or say nothing, are not among the cues.
    """
    cues, problems = _read(text, every_word=False)
    return cues, problems.all()


def read_words(text: str) -> tuple[tuple[Cue, ...], tuple[Problem, ...]]:
    """(cues by their start, problems by which words are lost) of a caption file whose words matter and not what is seen of them.

    As `read_captions`, but a caption that ends no later than it starts is there, and ends where it starts.
    """
    cues, problems = _read(text, every_word=True)
    return cues, tuple(sorted(problems.lost))


def _read(text: str, *, every_word: bool) -> tuple[tuple[Cue, ...], _Problems]:
    problems = _Problems()
    lines = fit_for_html(text.removeprefix("\ufeff")).replace("\r\n", "\n").replace("\r", "\n").split("\n")
    if not text.strip("\ufeff \t\r\n"):
        problems.add(1, "The caption file is empty.", "Export the captions again as WebVTT.")
        return (), problems

    cues: list[Cue] = []
    latest = 0
    body = _after_header(lines, problems)
    blocks = list(_blocks(lines, body, problems))
    for block in blocks:
        span = _span(block, problems)
        if span is None:
            continue
        start, end = span
        if end <= start:
            problems.add(
                block.line,
                f"This caption ends at {_clock(end)}, no later than it starts, at {_clock(start)}.",
                "Give the end a later time than the start.",
            )
            if not every_word:
                continue
            end = start
        if start < latest:
            problems.add(
                block.line,
                f"This caption starts at {_clock(start)}, before one that stands above it ({_clock(latest)}).",
                "Put the captions in the order of their starts.",
            )
        latest = max(latest, start)
        cues += [Cue(start, end, said, speaker) for speaker, said in _voices(block, problems)]
    if not blocks:
        problems.add(1, "The file has no captions.", "Write times such as 00:00:01.000 --> 00:00:04.000.")
    return tuple(sorted(cues, key=lambda cue: cue.start)), problems


def _after_header(lines: list[str], problems: _Problems) -> int:
    """The index of the first line after the header, which ends with a blank line."""
    if _HEADER.match(lines[0]):
        for index in range(1, len(lines)):
            if "-->" in lines[index]:
                problems.add(
                    index + 1,
                    "There is no blank line after WEBVTT.",
                    "Put a blank line under the first line.",
                )
                return index
            if not lines[index]:
                return index
        return len(lines)
    if any("-->" in line and "," in line for line in lines[:20]):
        message = (
            "These are SRT captions: the first line must be WEBVTT, and times have a point, not a comma."
        )
        problems.add(1, message, "Export the captions as WebVTT.")
    else:
        problems.add(1, "The first line is not WEBVTT.", "Write WEBVTT as the first line, then a blank line.")
    return 0


def _blocks(lines: list[str], index: int, problems: _Problems) -> Iterator[_Block]:
    """Every caption's time line with its words; comments and definitions are passed over."""
    while index < len(lines):
        if not lines[index].strip():
            index += 1
            continue
        first = index
        while index < len(lines) and lines[index].strip():
            index += 1
        part = lines[first:index]
        times = [offset for offset, line in enumerate(part) if "-->" in line]
        if "-->" not in part[0] and (_NOTE.match(part[0]) or _DEFINITION.match(part[0])):
            if not times:
                continue
            problems.add(
                first + times[0] + 1,
                "An arrow stands in a comment: browsers show what follows as a caption.",
                "Take the caption out, or write the comment without -->.",
            )
        if not times:
            # A first line that should have been the header has its problem already.
            if first > 0:
                _explain_lost_words(first + 1, part, problems)
            continue
        for number, offset in enumerate(times):
            following = times[number + 1] if number + 1 < len(times) else len(part)
            words = part[offset + 1 : following]
            if number + 1 < len(times):
                problems.add(
                    first + following + 1,
                    "There is no blank line before this caption.",
                    "Put a blank line between captions.",
                )
                if words and words[-1].strip().isdigit():
                    del words[-1]  # the next caption's number, not words of this one
            yield _Block(first + offset + 1, part[offset], list(words))


def _explain_lost_words(line: int, part: list[str], problems: _Problems) -> None:
    for offset, words in enumerate(part[:2]):
        if _TWO_TIMES.match(words):
            problems.add_lost(
                line + offset, "There is no arrow between these times.", "Write --> between them."
            )
            return
    problems.add_lost(
        line,
        f"These words have no time, so nobody will see them: '{part[0].strip()[:40]}'.",
        "Put a time above them; if they belong to the caption before, take out the blank line.",
    )


# --- times -------------------------------------------------------------------------------------


def _span(block: _Block, problems: _Problems) -> tuple[int, int] | None:
    """(start, end) in milliseconds; None when they cannot be made out."""
    left, _, right = block.times.partition("-->")
    end, *settings = right.split() or [""]
    strange = [setting for setting in settings if not _SETTING.match(setting)]
    if strange:
        problems.add_lost(
            block.line,
            f"'{' '.join(strange)[:40]}' stands after the time, where nobody will see it.",
            "Put the words on the next line.",
        )
    times = [_time(written.strip(), block.line, problems) for written in (left, end)]
    if times[0] is None or times[1] is None:
        return None
    return times[0], times[1]


def _time(written: str, line: int, problems: _Problems) -> int | None:
    strict = _STRICT_TIME.match(written)
    loose = strict or _LOOSE_TIME.match(written)
    if loose is None:
        frames = " The last number counts frames." if _FRAMES.match(written) else ""
        problems.add_lost(
            line,
            f"'{written[:40]}' is not a caption time.{frames}"
            if written
            else "A time is missing beside -->.",
            "Write hours, minutes, seconds and thousandths: 00:01:05.250.",
        )
        return None
    hours, minutes, seconds = int(loose[1] or 0), int(loose[2]), int(loose[3])
    if minutes > 59 or seconds > 59:
        problems.add_lost(
            line, f"'{written}' has more than 59 minutes or seconds.", "Write hours, minutes and seconds: 01:05:10.000."
        )  # fmt: skip
        return None
    # Digits after the point are a fraction, so that `.5` is half a second.
    thousandths = int((loose[4] or "").ljust(3, "0"))
    total = ((hours * 60 + minutes) * 60 + seconds) * 1000 + thousandths
    if strict is None:
        if "," in written:
            problems.add_once(
                "comma",
                line,
                f"The time '{written}' has a comma.",
                f"Write it with a point: {_clock(total)}.",
            )
        else:
            problems.add_once(
                "digits", line, f"The time '{written}' has too few digits.", f"Write {_clock(total)}."
            )
    return total


def _clock(milliseconds: int) -> str:
    seconds, thousandths = divmod(milliseconds, 1000)
    return f"{seconds // 3600:02d}:{seconds // 60 % 60:02d}:{seconds % 60:02d}.{thousandths:03d}"


# --- words -------------------------------------------------------------------------------------


def _voices(block: _Block, problems: _Problems) -> list[tuple[str, str]]:
    """(speaker, words) in order; the speaker is empty where none is named."""
    text = "\n".join(block.words)
    spoken: list[tuple[str, list[str]]] = [("", [])]
    at, line = 0, block.line + 1
    for tag in _TAG.finditer(text):
        spoken[-1][1].append(text[at : tag.start()])
        line += text.count("\n", at, tag.start())
        voice = _VOICE.match(tag[1])
        if not tag[2] or not (voice or _OTHER_TAG.match(tag[1])):
            problems.add_lost(
                line,
                f"'{tag[0][:40]}' is taken for markup, so nobody will see it.",
                "Write &lt; for the sign <, or take the markup out.",
            )
        elif voice:
            spoken.append((_plain(voice[1] or ""), []))
        elif tag[1].startswith("/v"):
            spoken.append(("", []))
        at, line = tag.end(), line + tag[0].count("\n")
    spoken[-1][1].append(text[at:])
    plain = [(speaker, _plain("".join(parts))) for speaker, parts in spoken]
    return [(speaker, words) for speaker, words in plain if words]


def _plain(marked: str) -> str:
    return " ".join(unescape(marked).split())
