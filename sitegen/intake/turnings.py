"""The very words around the start of a sentence, and who is new there, as signs of whether another story begins.

Names stand for one another by when they were met: one that is new, one of the last sentences, and one from long ago say different things.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence

from sitegen.intake.lexicon import is_common
from sitegen.intake.records import Sentence
from sitegen.intake.vocabulary import FUNCTION_WORDS
from sitegen.intake.wording import DAY, MONTH, NUMBER, first, last, words_of

LATELY = 10
"""Sentences within which a name was just met (chosen here)."""
_TOKEN = re.compile(r"[A-Za-z0-9’'$:.-]*[A-Za-z0-9]|[,;:?!.]")
_NO_NAMES = frozenset(("i", "i'm", "i've", "i'll", "i'd"))
_NEW, _SAME, _FAR = "new", "same", "far"
_WINDOW = 8
"""Sentences before and behind whose words are compared (chosen here)."""


def wordings(sentences: Sequence[Sentence], towns: Collection[str] = ()) -> list[list[str]]:
    """The words of each sentence, a name as `newNAME`, `sameNAME` or `farNAME`, of a town as `newTOWN` and so on, several in a row as one."""
    parts = {word.lower() for town in towns for word in town.split()}
    met: dict[str, int] = {}
    made: list[list[str]] = []
    for number, sentence in enumerate(sentences):
        tokens = _TOKEN.findall(sentence.text)
        found: list[str] = []
        for at, token in enumerate(tokens):
            low = token.lower().replace("’", "'")
            bare = low.removesuffix("'s")
            starts = at == 0 or tokens[at - 1] in ".?!:"
            if not token[:1].isupper() or low in _NO_NAMES or (starts and is_common(bare)):
                found += words_of(low)
                continue
            alike = words_of(low)
            if alike[:1] in ([DAY], [MONTH]):
                found += alike
                continue
            when = _NEW if bare not in met else _SAME if number - met[bare] <= LATELY else _FAR
            met[bare] = number
            name = f"{when}{'TOWN' if bare in parts else 'NAME'}"
            if found[-1:] != [name]:
                found.append(name)
        made.append(found)
    return made


def wording_signs(worded: Sequence[Sequence[str]], sentences: Sequence[Sentence], number: int) -> list[str]:
    """The signs of wording before a sentence: how it and its neighbours begin and end, and what words they have in any order."""
    here, before = worded[number], worded[number - 1]
    after = worded[number + 1] if number + 1 < len(worded) else ()
    signs = [*first(here, "f", 3), *last(before, "l", 2), *first(before, "bf", 2), *first(after, "n", 2)]
    if sentences[number].turn:
        signs += first(here, "tf", 2)
    for name, some in (
        ("h", (here,)),
        ("b", (before,)),
        ("a", (after,)),
        ("bb", worded[max(0, number - 3) : number]),
        ("aa", worded[number + 1 : number + 3]),
    ):
        signs += [f"{name}:{word}" for word in {word for words in some for word in words}]
    return signs


def frame_signs(frames: Sequence[Sequence[str]], number: int) -> list[str]:
    """How a sentence begins, and how its neighbours end and begin, by their frames."""
    after = frames[number + 1] if number + 1 < len(frames) else ()
    return [*first(frames[number], "ff", 5), *last(frames[number - 1], "fl", 3), *first(after, "fn", 3)]


def frame(words: Sequence[str]) -> list[str]:
    """The words of a sentence as `wordings` gives them, those that say what it is about by their ending alone: `a ~ ~s for newNAME`."""
    return [
        word
        if word in FUNCTION_WORDS
        or not word[0].isalpha()
        or word in (DAY, MONTH, NUMBER)
        or word.endswith(("NAME", "TOWN"))
        else "~" + next((end for end in _ENDINGS if word.endswith(end) and len(word) > len(end) + 2), "")
        for word in words
    ]


_ENDINGS = ("ing", "ed", "ly", "s")


NEIGHBOURS = (-1, 1, 2)
"""Whose signs speak for or against a border, too: what follows an opener is none, and what stands before one may round off (chosen on programmes left out of
the fit)."""


def of_neighbours(signs: Sequence[Mapping[str, float]], number: int) -> dict[str, float]:
    """The signs of the sentences around one, by name and place: `+1 opener`."""
    return {
        f"{at:+d} {name}": value
        for at in NEIGHBOURS
        if 0 < number + at < len(signs)
        for name, value in signs[number + at].items()
        if value
    }


def freshness(words: Sequence[Sequence[str]], number: int) -> Mapping[str, float]:
    """How many words around the start of a sentence are new, were just used, or come again. `words`: what each sentence is about."""
    here = set(words[number])
    two = here.union(*words[number + 1 : number + 2])
    past = {word for each in words[:number] for word in each}
    late = {word for each in words[max(0, number - _WINDOW) : number] for word in each}
    later = {word for each in words[number + 1 : number + 1 + _WINDOW] for word in each}
    behind_two = {word for each in words[number + 2 : number + 2 + _WINDOW] for word in each}
    before = set(words[number - 1])
    half = {word for each in words[max(0, number - _WINDOW // 2) : number] for word in each}
    soon = {word for each in words[number : number + _WINDOW // 2] for word in each}
    return {
        "fresh": len(here - past) / max(1, len(here)),
        "fresh_two": len(two - past) / max(1, len(two)),
        "carried": min(1.0, len(here & late) / 2),
        "carried_two": min(1.0, len(two & late) / 3),
        "foretold": min(1.0, len((here & later) - late) / 2),
        "foretold_two": min(1.0, len((two & behind_two) - late) / 3),
        "dropped": len(before - later - here) / max(1, len(before)),
        "both_sides": min(1.0, len(late & later.union(here)) / 5),
        "both_near": min(1.0, len(half & soon) / 3),
        "empty": float(not here),
    }


def newness(worded: Sequence[Sequence[str]], number: int) -> Mapping[str, float]:
    """How many names around the start of a sentence are new, and how many were just met."""

    def share(when: str, start: int, end: int, many: int) -> float:
        met = sum(word.startswith(when) and word.endswith(("NAME", "TOWN")) for words in worded[max(0, start) : end] for word in words)  # fmt: skip
        return min(1.0, met / many)

    return {
        "new_here": share(_NEW, number, number + 1, 2),
        "new_soon": share(_NEW, number, number + 3, 4),
        "new_before": share(_NEW, number - 3, number, 4),
        "met_here": share(_SAME, number, number + 1, 2),
        "met_soon": share(_SAME, number, number + 3, 3),
        "met_before": share(_SAME, number - 3, number, 3),
    }


def turn_signs(sentences: Sequence[Sentence], number: int) -> Mapping[str, float]:
    """Who begins to speak around the start of a sentence, and how long speakers speak there."""
    count = len(sentences)
    turn = float(sentences[number].turn)
    start = number - 1
    while start > 0 and not sentences[start].turn:
        start -= 1
    end = number + 1
    while end < count and not sentences[end].turn:
        end += 1
    before, after = (
        min(1.5, sum(len(each.plain.split()) for each in some) / 40)
        for some in (sentences[start:number], sentences[number:end])
    )
    follows = float(number + 1 < count and sentences[number + 1].turn)
    return {
        "turn": turn,
        "turn_next": follows,
        "turn_soon": float(number + 2 < count and sentences[number + 2].turn),
        "turn_before": float(sentences[number - 1].turn),
        "turn_twice": turn * follows,
        "speech_before": before,
        "speech_after": after,
        "turn_speech_before": turn * before,
        "turn_speech_after": turn * after,
        "length_before": min(1.0, len(sentences[number - 1].plain.split()) / 16),
    }
