"""Invented programmes with marked answers, and the caption files and rundowns made of them.

A programme is a script in a `.txt` file beside this one: a few `key: value` lines, then pieces that begin with `=== slug` (a story)
or `--- word` (opening, closing), then lines `SPEAKER: words` and sounds in brackets. In the words stand the answers: `<d 2026-12-15>…</d>` is a
deadline, `<p Millrace Library>…</p>` a place that viewers are sent to, `<s>…</s>` a sentence that sends them to the site.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta
from pathlib import Path
from random import Random

FOLDER = Path(__file__).parent
SHOW_SECONDS = 14.5 * 60
PACE = 0.42
"""Seconds a word: 143 words a minute (common practice for scripts read on air is 120 to 180, no source)."""
ROW = 32
"""Characters of a caption row on a television screen (CEA-608)."""

_TAG = re.compile(r"<(/?)([dps])(?: ([^>]*))?>")


@dataclass(frozen=True, slots=True)
class Word:
    text: str
    at: float
    """Seconds from the start of the captions, the lag included."""
    speaker: str
    """Empty for a sound in brackets."""
    starts: bool
    """The first of its speaker's line."""
    opens: bool = False
    """The first of a piece."""


@dataclass(frozen=True, slots=True)
class Marked:
    """What a reader of the captions must find. Stories are counted from 0."""

    stories: tuple[str, ...]
    borders: tuple[float, ...]
    """When each story begins, in seconds of the captions."""
    ends: float
    """When the last story is over."""
    deadlines: frozenset[tuple[int, date]]
    places: frozenset[tuple[int, str]]
    promises: tuple[tuple[float, float], ...]
    """(first word, last word), in seconds of the captions."""


@dataclass(frozen=True, slots=True)
class Programme:
    name: str
    group: str
    """`tuned`, or a name of the set that was kept apart."""
    hand: str
    """Who wrote it, by a letter; `a` wrote the first recognisers, too."""
    title: str
    """The programme's name, or empty for the demonstration's."""
    aired: datetime
    suffix: str
    captions: str
    rundown: str
    """CSV, or empty."""
    marked: Marked


@dataclass(slots=True)
class _Script:
    keys: dict[str, str] = field(default_factory=dict)
    pieces: list[tuple[str, bool, list[tuple[str, str]]]] = field(default_factory=list)
    """(slug, is a story, lines of (speaker, words))."""


def programmes() -> list[Programme]:
    """Every programme, by name."""
    return [read_programme(path) for path in sorted(FOLDER.glob("*.txt"))]


def read_programme(path: Path) -> Programme:
    script = _script(path.read_text("utf-8"))
    keys = script.keys
    aired = datetime.strptime(keys["aired"], "%Y-%m-%d %H:%M")
    chance = Random(path.stem)
    words, marked, starts = _spoken(script, chance)
    captions = _captions(words, keys)
    rundown = _rundown(keys.get("rundown", ""), starts, marked.ends, float(keys["lag"]), aired, chance)
    suffix = "ttml" if keys["format"].startswith("ttml") else keys["format"]
    return Programme(
        path.stem,
        keys["set"],
        keys.get("hand", "a"),
        keys.get("title", ""),
        aired,
        suffix,
        captions,
        rundown,
        marked,
    )


def _script(text: str) -> _Script:
    script = _Script()
    for line in text.splitlines():
        if not line.strip() or line.startswith("#"):
            continue
        if line.startswith(("=== ", "--- ")):
            script.pieces.append((line[4:].strip(), line.startswith("="), []))
        elif not script.pieces:
            key, _, value = line.partition(":")
            script.keys[key.strip()] = value.strip()
        elif line.startswith("["):
            script.pieces[-1][2].append(("", line.strip()))
        else:
            speaker, _, words = line.partition(": ")
            script.pieces[-1][2].append((speaker, words.strip()))
    return script


def _spoken(script: _Script, chance: Random) -> tuple[list[Word], Marked, list[tuple[str, float]]]:
    """(words with their times, answers, when each piece begins on air).

    What a script lacks to a whole show is sound without words, after sentences drawn by lot: at borders no more
    often than elsewhere.
    """
    texts = [_TAG.sub("", words) for _, _, lines in script.pieces for _, words in lines]
    count = sum(len(text.split()) for text in texts)
    ends_of_sentences = sum(len(re.findall(r"[.?!](?=\s|\Z)", text)) for text in texts)
    share = 0.3
    silence = max(0.0, SHOW_SECONDS - count * PACE) / (ends_of_sentences * share)
    lag = float(script.keys["lag"])
    now = 1.0
    words: list[Word] = []
    starts: list[tuple[str, float]] = []
    borders: list[float] = []
    stories: list[str] = []
    deadlines: set[tuple[int, date]] = set()
    places: set[tuple[int, str]] = set()
    promises: list[tuple[float, float]] = []
    ends = 0.0
    for slug, is_story, lines in script.pieces:
        starts.append((slug, now))
        if is_story:
            stories.append(slug)
            borders.append(now + lag)
        opens = True
        for speaker, marked in lines:
            first = True
            promised = 0.0
            for part in re.split(r"(</?[dps][^>]*>)", marked):
                tag = _TAG.fullmatch(part)
                if tag is not None:
                    if tag[2] == "s":
                        if tag[1]:
                            promises.append((promised, now + lag))
                        promised = now + lag
                    elif tag[2] == "d" and not tag[1]:
                        deadlines.add((len(stories) - 1, date.fromisoformat(tag[3])))
                    elif tag[2] == "p" and not tag[1]:
                        places.add((len(stories) - 1, tag[3]))
                    continue
                # A mark may stand between a word and its comma.
                glued = (
                    bool(words)
                    and not first
                    and bool(part)
                    and not part[0].isspace()
                    and not part[0].isalnum()
                )
                for number, text in enumerate(part.split()):
                    if glued and number == 0:
                        last = words[-1]
                        words[-1] = replace(last, text=last.text + text)
                        continue
                    words.append(Word(text, now + lag, speaker, first, opens and bool(speaker)))
                    opens = opens and not speaker
                    first = False
                    now += PACE
                    if text[-1] in ".?!" and chance.random() < share:
                        now += silence * chance.uniform(0.3, 1.7)
        if is_story:
            ends = now + lag
    answers = Marked(
        tuple(stories), tuple(borders), ends, frozenset(deadlines), frozenset(places), tuple(promises)
    )
    return words, answers, starts


# --- caption files ---------------------------------------------------------------------------


def _captions(words: list[Word], keys: dict[str, str]) -> str:
    shown = _marked_up(words, keys)
    rows = _rows(shown, ROW if keys.get("rollup") else 2 * ROW)
    cues: list[tuple[float, float, str]] = []
    for number, (start, row) in enumerate(rows):
        end = rows[number + 1][0] if number + 1 < len(rows) else start + 3.0
        end = min(end, start + PACE * len(row.split()) + 2.0)
        text = row
        if keys.get("rollup") and number:
            text = f"{rows[number - 1][1]}\n{row}"
        cues.append((start, end, text))
    writer = {"vtt": _vtt, "srt": _srt, "ttml-frames": _ttml_frames, "ttml-ticks": _ttml_ticks}[
        keys["format"]
    ]
    return writer(cues)


def _marked_up(words: list[Word], keys: dict[str, str]) -> list[tuple[str, float, bool]]:
    """(word as captioned, its time, begins a row)."""
    shown: list[tuple[str, float, bool]] = []
    before = ""
    for word in words:
        text = word.text.upper() if keys["case"] == "capitals" else word.text
        breaks = False
        if word.starts and word.speaker:
            changed = word.speaker != before
            before = word.speaker
            if keys.get("stories") and word.opens:
                text = f">>> {text}"
                breaks = True
            elif keys["speakers"] == "marks" and changed:
                text = f">> {text}"
                breaks = True
            elif keys["speakers"] == "voices":
                text = f"<v {word.speaker}>{text}"
                breaks = True
        elif word.starts:
            breaks = True
        shown.append((text, word.at, breaks))
    return shown


def _rows(shown: list[tuple[str, float, bool]], width: int) -> list[tuple[float, str]]:
    rows: list[tuple[float, str]] = []
    voice = ""
    before = 0.0
    for text, at, breaks in shown:
        breaks = breaks or at - before > 2.0
        before = at
        tag = re.match(r"<v [^>]*>", text)
        if tag is not None:
            voice = tag[0]
        if rows and not breaks and len(_TAG.sub("", rows[-1][1])) + len(text) + 1 <= width + len(voice):
            rows[-1] = (rows[-1][0], f"{rows[-1][1]} {text}")
        else:
            rows.append((at, text if tag is not None else f"{voice}{text}"))
    return rows


def _stamp(seconds: float, sign: str) -> str:
    whole = round(seconds * 1000)
    return (
        f"{whole // 3600000:02d}:{whole // 60000 % 60:02d}:{whole // 1000 % 60:02d}{sign}{whole % 1000:03d}"
    )


def _vtt(cues: list[tuple[float, float, str]]) -> str:
    blocks = [f"{_stamp(start, '.')} --> {_stamp(end, '.')}\n{_escaped(text)}\n" for start, end, text in cues]
    return "WEBVTT\n\n" + "\n".join(blocks)


def _escaped(text: str) -> str:
    return re.sub(r">>", "&gt;&gt;", text.replace("&", "&amp;"))


def _srt(cues: list[tuple[float, float, str]]) -> str:
    blocks = [
        f"{number}\n{_stamp(start, ',')} --> {_stamp(end, ',')}\n{text}\n"
        for number, (start, end, text) in enumerate(cues, 1)
    ]
    return "\n".join(blocks)


def _ttml(cues: list[tuple[str, str, str]], parameters: str) -> str:
    lines = [
        f'<p begin="{start}" end="{end}">{text.replace("&", "&amp;").replace(">", "&gt;")}</p>'
        for start, end, text in cues
    ]
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        '<tt xmlns="http://www.w3.org/ns/ttml" xmlns:ttp="http://www.w3.org/ns/ttml#parameter" '
        f'xml:lang="en" {parameters}>\n<body><div>\n' + "\n".join(lines) + "\n</div></body></tt>\n"
    )


def _ttml_frames(cues: list[tuple[float, float, str]]) -> str:
    rate = 30000 / 1001

    def code(seconds: float) -> str:
        frames = round(seconds * rate)
        whole, rest = divmod(frames, 30)
        return f"{whole // 3600:02d}:{whole // 60 % 60:02d}:{whole % 60:02d}:{rest:02d}"

    return _ttml(
        [(code(start), code(end), text) for start, end, text in cues],
        'ttp:frameRate="30" ttp:frameRateMultiplier="1000 1001" ttp:timeBase="media"',
    )


def _ttml_ticks(cues: list[tuple[float, float, str]]) -> str:
    return _ttml(
        [(f"{round(start * 10000000)}t", f"{round(end * 10000000)}t", text) for start, end, text in cues],
        'ttp:tickRate="10000000"',
    )


# --- rundowns --------------------------------------------------------------------------------


def _rundown(
    kind: str, starts: list[tuple[str, float]], ends: float, lag: float, aired: datetime, chance: Random
) -> str:
    """A rundown as it was planned: some seconds beside what was aired."""
    if not kind:
        return ""
    if kind == "clock":
        rows = ["Page,Slug,Clock,Anchor"]
        for number, (slug, start) in enumerate(starts):
            at = aired + timedelta(seconds=start + chance.uniform(-5, 5))
            rows.append(f"A{number:02d},{slug.upper()},{at:%H:%M:%S},MARA")
        return "\n".join(rows) + "\n"
    rows = ["SLUG;TRT;WRITER"]
    following = [start for _, start in starts[1:]] + [ends - lag]
    for (slug, start), end in zip(starts, following, strict=True):
        length = max(1, round(end - start + chance.uniform(-2, 2)))
        rows.append(f"{slug};{length // 60}:{length % 60:02d};TR")
    return "\n".join(rows) + "\n"
