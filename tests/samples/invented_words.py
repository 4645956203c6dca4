"""Words that nobody ever spoke, used as often as words are: for archives of any size with the spread of a language.

The nth word is used in proportion to 1 / (n + 2.7), Mandelbrot's form of Zipf's law (B. Mandelbrot, "An Informational Theory of
the Statistical Structure of Language", 1953; the constant from memory). First words are short, as in languages.
"""

from __future__ import annotations

from bisect import bisect
from itertools import accumulate
from random import Random

VOWELS = "aaaeeeeiiooou"
CONSONANTS = "bcdfghklmnnprrsssttvwy"
ENDINGS = ("", "", "", "s", "er", "ing", "ed", "ly")


class Vocabulary:
    """So many different words, drawn by their frequency."""

    def __init__(self, size: int, chance: Random) -> None:
        words: dict[str, None] = {}
        while len(words) < size:
            syllables = (
                1 + (len(words) > 60) + (len(words) > 1500) * chance.randrange(2) + (chance.random() < 0.1)
            )
            word = "".join(chance.choice(CONSONANTS) + chance.choice(VOWELS) for _ in range(syllables))
            words.setdefault(
                word + chance.choice(CONSONANTS) * (chance.random() < 0.6) + chance.choice(ENDINGS)
            )
        self.words = list(words)
        self._sums = list(accumulate(1 / (rank + 2.7) for rank in range(size)))
        self._chance = chance

    def draw(self) -> str:
        return self.words[bisect(self._sums, self._chance.random() * self._sums[-1])]

    def text(self, count: int) -> str:
        return " ".join(self.draw() for _ in range(count))
