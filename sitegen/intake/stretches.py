"""What speaks for a stretch of sentences being one story, or a show's greeting or goodbye: its length, its words, and what it asks for.

How well a whole stretch holds together follows J. Eisenstein and R. Barzilay, "Bayesian Unsupervised Topic Segmentation" (EMNLP 2008): how likely its words are
if all were drawn by one habit that is not known (a Dirichlet compound multinomial). So a border in the middle of words that come again costs, wherever it stands.
"""

from __future__ import annotations

import itertools
import math
import re
from collections import Counter
from collections.abc import Iterable, Sequence

from sitegen.intake.asking import addresses, gives, wants
from sitegen.intake.records import Sentence
from sitegen.newsroom.times import MONTH_NAMES

LONGEST = 70
"""Sentences of the longest stretch that is considered."""
USUAL = 80.0
"""Seconds of a usual story (common practice in a quarter of an hour with ten stories, no source)."""
HABIT = 0.1
"""The pseudo-count of each word before a stretch has said it (chosen on programmes left out of the fit)."""
FEWEST = 180
"""Different words that a speaker chooses from, at least: a show of a few sentences would else seem to begin anew with each."""

_MONTHS = "|".join(MONTH_NAMES).lower()
_SITE = re.compile(
    r"\b(?:our (?:web ?)?site|website|web page|our page|home page|your screen|the screen|online|dot org|dot com|the site|on the web|the page)\b"
)
_LIMIT = re.compile(
    r"\b(?:by|until|till|through|before|deadline|no later than|last day|closes?|ends?)\b.{0,25}\b"
    rf"(?:(?:mon|tues|wednes|thurs|fri|satur|sun)day|{_MONTHS}|\d+(?:st|nd|rd|th)|tomorrow|midnight|noon|the end of)"
)
CONTACT = re.compile(r"\d{3}-\d{4}\b|\bdot (?:org|com|net)\b")
OPENING = re.compile(
    r"\b(?:good (?:evening|morning|afternoon|day)|hello|hi (?:there|everyone)|welcome (?:to|back)|i'm [a-z]+ [a-z'-]+|this is [a-z' ]+|tonight[,:]|coming up|ahead (?:tonight|in)|in the next|we've got|we have|stay (?:with us|tuned)|don't go|so let's|morning, everyone)\b"
)
CLOSING = re.compile(
    r"\b(?:good ?night|that's (?:our|the|it for|all|us|small|what we(?:'ve)? (?:got|have|had)|\w+ for (?:this|tonight))|see you (?:down|next|then|again|tomorrow)|thanks? (?:you )?for (?:watching|joining|tuning|being)|for all of us|until next|back next|we'll be back|have a (?:good|great|safe|wonderful|nice|lovely|fine)|for .{3,60},? (?:i'm|this has been|this is) [a-z]+ [a-z'-]+\.?\Z|bye\b|so long|take care|be (?:kind|good|nice) to|be kind|on that note|with that, we|come to the end|on behalf of|that's me\b|from all of us)\b"
)

_FACTS = ("site", "limit", "direction", "contact", "want")
STORY_SIGNS = (
    "story together", "story short", "story one", "story seconds", "story seconds off", "story seconds over", "story words", "story words off", "story words over",
    "story words under", "story turns", "story no turn", "story questions",
    *(f"story {fact}{what}" for fact in _FACTS for what in ("", " again", " long over", " spread")),
)  # fmt: skip
"""What is looked at in a stretch that may be a story, in the order of the numbers."""
GREETING_SIGNS = ("greeting", "greeting none", "greeting words", "greeting greets", "greeting long")  # fmt: skip
GOODBYE_SIGNS = ("goodbye", "goodbye none", "goodbye words", "goodbye closes", "goodbye long", "goodbye begins", "goodbye late")  # fmt: skip

Numbers = tuple[float, ...]


def story_signs(
    sentences: Sequence[Sentence],
    words: Sequence[Sequence[str]],
    usual: float = USUAL,
    longest: int = LONGEST,
) -> list[list[Numbers]]:
    """For each sentence, by how many more a story that begins with it has: its signs in the order of `STORY_SIGNS`.

    `words`: what each sentence is about; `usual`: seconds of a usual story.
    """
    count = len(sentences)
    together = _cohesion(words, longest)
    spoken = _sums(len(each.plain.split()) for each in sentences)
    turns = _sums(each.turn for each in sentences)
    questions = _sums(each.plain.endswith("?") for each in sentences)
    seconds = (sentences[-1].end - sentences[0].start) / 1000 if sentences else 0.0
    usual_words = usual * spoken[-1] / max(60.0, seconds)
    facts = [
        _Fact(kind)
        for kind in (
            [_SITE.search(each.plain) is not None for each in sentences],
            [_LIMIT.search(each.plain) is not None for each in sentences],
            [addresses(each.plain) or gives(each.plain) for each in sentences],
            [CONTACT.search(each.plain) is not None for each in sentences],
            [wants(each.plain) for each in sentences],
        )
    ]
    made: list[list[Numbers]] = []
    for start in range(count):
        row: list[Numbers] = []
        for end in range(start + 1, min(count, start + longest) + 1):
            long = math.log(max(4.0, (sentences[end - 1].end - sentences[start].start) / 1000) / usual)
            wordy = math.log(max(8.0, spoken[end] - spoken[start]) / usual_words)
            turned = turns[end] - turns[start]
            row.append(
                (
                    together[start][end - start - 1] / 5,
                    float(end - start < 3),
                    float(end - start == 1),
                    long,
                    long**2,
                    max(0.0, long) ** 2,
                    wordy,
                    wordy**2,
                    max(0.0, wordy) ** 2,
                    max(0.0, -wordy - 1),
                    math.log1p(turned),
                    float(turned == 0),
                    min(3, questions[end] - questions[start]) / 3,
                    *itertools.chain.from_iterable([each.within(start, end) for each in facts]),
                )
            )
        made.append(row)
    return made


def greeting_signs(sentences: Sequence[Sentence]) -> list[Numbers]:
    """By the number of its sentences, 0 for none: the signs of a greeting in the order of `GREETING_SIGNS`."""
    spoken = _sums(len(each.plain.split()) for each in sentences)
    greets = _sums(OPENING.search(each.plain) is not None for each in sentences)
    made: list[Numbers] = [(0.0, 1.0, 0.0, 0.0, 0.0)]
    for end in range(1, len(sentences) + 1):
        words = spoken[end]
        made.append((1.0, 0.0, words / 50, greets[end] / end, max(0, words - 90) / 30))
    return made


def goodbye_signs(sentences: Sequence[Sentence]) -> list[Numbers]:
    """By the sentence it begins with, the number of sentences for none: the signs of a goodbye in the order of `GOODBYE_SIGNS`."""
    count = len(sentences)
    spoken = _sums(len(each.plain.split()) for each in sentences)
    closes = _sums(CLOSING.search(each.plain) is not None for each in sentences)
    made: list[Numbers] = []
    for start in range(count):
        words, left = spoken[count] - spoken[start], count - start
        closed = closes[count] - closes[start]
        begins = closes[start + 1] - closes[start]
        late = float(closes[start] > closes[max(0, start - 3)])
        made.append((1.0, 0.0, words / 50, closed / left, max(0, words - 70) / 30, begins, late))
    return [*made, (0.0, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0)]


def _sums(numbers: Iterable[int]) -> list[int]:
    """What the first so many come to."""
    return [0, *itertools.accumulate(numbers)]


class _Fact:
    """Where one kind of fact is spoken of."""

    def __init__(self, spoken_of: Sequence[bool]) -> None:
        self._sums = _sums(spoken_of)
        self._next = [0] * (len(spoken_of) + 1)
        self._last = [-1] * (len(spoken_of) + 1)
        for number, each in enumerate(spoken_of):
            self._last[number + 1] = number if each else self._last[number]
        for number in range(len(spoken_of) - 1, -1, -1):
            self._next[number] = number if spoken_of[number] else self._next[number + 1]

    def within(self, start: int, end: int) -> Numbers:
        """Signs of the stretch: that it is there; how often it comes again; how long it has been over at the end; how far its mentions lie apart."""
        times = self._sums[end] - self._sums[start]
        if not times:
            return (0.0, 0.0, 0.0, 0.0)
        over = end - 1 - self._last[end]
        apart = self._last[end] - self._next[start]
        return (1.0, 0.3 * (times - 1), min(8, over) / 8, max(0, apart - 4) / 8)


def _cohesion(words: Sequence[Sequence[str]], longest: int) -> list[list[float]]:
    """For each start, by the number of sentences from there on (the first: one): the logarithm of how likely their words are together."""
    vocabulary = max(FEWEST, len({word for each in words for word in each}))
    made: list[list[float]] = []
    for start in range(len(words)):
        seen: Counter[str] = Counter()
        total, likely = 0, 0.0
        row: list[float] = []
        for each in words[start : start + longest]:
            for word in each:
                likely += math.log((seen[word] + HABIT) / (total + vocabulary * HABIT))
                seen[word] += 1
                total += 1
            row.append(likely)
        made.append(row)
    return made
