"""From cues to words in the order they were spoken: repeats of roll-up captions go, signs of speakers, stories and sounds are read.

`>>` before a new speaker and `>>>` before a new story are common practice in captions of the United States, no source.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable, Sequence

from sitegen.intake.records import SpokenWord
from sitegen.newsroom.records import Cue

SILENCE = 3500
"""Milliseconds without words that part what lies before and after (chosen here)."""

_SOUND = re.compile(r"\[[^\]]*\]|\((?=[^)a-z]*\))[^)]*\)|\([a-z ]{3,40}\)|[♪♫#]+[^♪♫#]*[♪♫#]+|[♪♫]+", re.S)
_MARK = re.compile(r"(>{2,3})")
_LABEL = re.compile(r"((?:(?:[A-Z][\w.'’-]*|DR\.|MR\.|MRS\.|MS\.)\s+){0,2}[A-Z][\w.'’-]+):\Z")


def spoken_words(cues: Sequence[Cue]) -> tuple[SpokenWord, ...]:
    """The words of captions, each once, with the time at which it came up."""
    words: list[SpokenWord] = []
    before: list[str] = []
    rolls = _rolls_up(cues)
    pending = _Pending()
    speaker = ""
    last_end = 0
    for cue in cues:
        tokens = _tokens(cue.text)
        fresh = tokens[_repeated(before, tokens, rolls) :]
        # What still stands on the screen is what the next cue may repeat.
        before = tokens if len(tokens) >= len(fresh) else before
        if not fresh:
            last_end = max(last_end, cue.end)
            continue
        if cue.speaker and cue.speaker != speaker:
            speaker = cue.speaker
            pending.turn = True
        if words and cue.start - last_end > SILENCE:
            pending.sound = True
        span = max(1, cue.end - cue.start)
        spoken = [token for token in fresh if token not in (">>", ">>>", "[]")]
        at = 0
        for number, token in enumerate(fresh):
            if token == "[]":
                pending.sound = True
            elif token in (">>", ">>>"):
                pending.turn = True
                pending.story = pending.story or token == ">>>"
                if not cue.speaker:
                    speaker = ""
            elif pending.skip:
                pending.skip -= 1
            elif pending.turn and not cue.speaker and (label := _label(fresh, number)):
                speaker = label
                pending.skip = len(label.split()) - 1
            else:
                start = cue.start + span * at // max(1, len(spoken))
                words.append(SpokenWord(token, start, speaker, pending.turn, pending.story, pending.sound))
                pending = _Pending()
            at += token not in (">>", ">>>", "[]")
        last_end = max(last_end, cue.end)
    return tuple(words)


class _Pending:
    """Signs that stand before the next word."""

    def __init__(self) -> None:
        self.turn = False
        self.story = False
        self.sound = False
        self.skip = 0
        """Words of a speaker's label still to be passed over."""


def _tokens(text: str) -> list[str]:
    text = _SOUND.sub(" [] ", text)
    text = _MARK.sub(r" \1 ", text)
    return [token for token in text.split() if token not in ("-", "–", "—") or text.count(" ") > 1]


def _label(tokens: Sequence[str], at: int) -> str:
    """A speaker's name that ends with a colon, such as `ADA QUILL:`."""
    for length in (1, 2, 3):
        match = _LABEL.match(" ".join(tokens[at : at + length]))
        if match is not None and not match[1].endswith("."):
            return match[1].title() if match[1].isupper() else match[1]
    return ""


def _key(token: str) -> str:
    return token.casefold()


def _overlap(before: Sequence[str], after: Sequence[str]) -> int:
    """How many words at the start of a cue are the last of the one before."""
    for length in range(min(len(before), len(after)), 0, -1):
        if list(map(_key, before[-length:])) == list(map(_key, after[:length])):
            return length
    return 0


def _rolls_up(cues: Sequence[Cue]) -> bool:
    """True when cues keep repeating rows of the cue before: captions that roll up or are painted on."""
    tokens = [_tokens(cue.text) for cue in cues]
    repeats = sum(_overlap(one, two) >= 2 for one, two in itertools.pairwise(tokens))
    return repeats * 3 > len(cues)


def _repeated(before: Sequence[str], tokens: Sequence[str], rolls: bool) -> int:
    overlap = _overlap(before, tokens)
    if rolls:
        return overlap
    # Elsewhere a repeat counts only where a whole cue stands again: people do say a word twice.
    return overlap if overlap == len(before) and overlap >= 3 else 0


def lacks_case(words: Iterable[SpokenWord]) -> bool:
    """True for captions in capitals, or without any, whose case has to be restored."""
    large = small = 0
    for word in words:
        large += sum(sign.isupper() for sign in word.text)
        small += sum(sign.islower() for sign in word.text)
    # Ordinary text has a capital among twenty to forty letters.
    return large > 4 * small or large * 200 < small
