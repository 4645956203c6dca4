"""Captions in capitals, put into sentence case: names from the station's files and from a dictionary that keeps capitals.

What no dictionary knows is a name; what is both (`Marsh`, `Grace`) is one beside a name, after a title, or in a name's pattern.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence

from sitegen.intake.lexicon import CALENDAR, is_common, is_name, is_shouted
from sitegen.intake.vocabulary import (
    FUNCTION_WORDS,
    STRONG_PLACE_HEADS,
    TITLES,
    VERBS_OF_SPEECH,
    WEAK_PLACE_HEADS,
    word_set,
)

_WORD = re.compile(r"[\w’']+(?:[.&][\w’']+)*", re.UNICODE)
_MONTHS_THAT_ARE_WORDS = frozenset({"march", "may", "august"})
_ROMAN = frozenset({"ii", "iii", "iv", "vi", "vii", "viii", "ix", "xi", "xii"})
_GROUP_HEADS = word_set(
    "club society association foundation fund league council committee union guild department company church library "
    "academy university college institute museum project program center centre county street road avenue lane drive "
    "river island lake bay creek hill mountain route"
)
"""Words before which a name's other words stand with capitals too."""
_DETERMINERS = word_set("a an this that their our its every any my your his her")
_PREPOSITIONS = word_set("at to from of by near outside behind")
_NUMBERS = word_set("one two three four five six seven eight nine ten eleven twelve")


def sentence_case(text: str, names: Mapping[str, str], people: Collection[str] = ()) -> str:
    """A sentence in capitals as it would be written. `names`: spelling by small letters; `people`: small surnames
    that the programme has shown to be names."""
    words = [(match.start(), match.end(), match[0].lower()) for match in _WORD.finditer(text)]
    strange = sum(not is_common(word) and not word[0].isdigit() for _, _, word in words)
    if len(words) >= 4 and strange * 2 > len(words):
        # Another language: what is unknown is no name.
        return _capital(text.lower())
    shapes = ["" for _ in words]
    _known(words, shapes, names, text)
    for number, (_, _, _word) in enumerate(words):
        if not shapes[number]:
            shapes[number] = _shape(words, number, people)
    _neighbours(words, shapes, text)
    pieces: list[str] = []
    at = 0
    for (start, end, _), shape in zip(words, shapes, strict=True):
        pieces += [text[at:start].lower(), shape]
        at = end
    pieces.append(text[at:].lower())
    return _capital("".join(pieces))


def surnames(sentences: Sequence[str]) -> frozenset[str]:
    """Words that follow a first name somewhere and are not otherwise used in a sentence: surnames of the programme."""
    found: set[str] = set()
    for text in sentences:
        words = [match[0].lower() for match in _WORD.finditer(text)]
        for one, two, three in zip(words, words[1:], [*words[2:], ""], strict=False):
            if not (is_name(one) and one not in CALENDAR) or two in FUNCTION_WORDS or two in CALENDAR:
                continue
            if two.endswith(("ing", "ed", "ly", "'s")) or two[0].isdigit() or not is_common(two):
                continue
            if three in VERBS_OF_SPEECH or three in (
                "is",
                "was",
                "has",
                "who",
                "and",
                "of",
                "in",
                "had",
                "will",
                "to",
            ):
                found.add(two)
    return frozenset(found)


def _known(words: list[tuple[int, int, str]], shapes: list[str], names: Mapping[str, str], text: str) -> None:
    """Names of the station's files, the longest first."""
    for length in range(6, 0, -1):
        for at in range(len(words) - length + 1):
            if any(shapes[at : at + length]):
                continue
            phrase = " ".join(text[words[at][0] : words[at + length - 1][1]].lower().split())
            bare = phrase.removesuffix("'s")
            name = names.get(phrase) or names.get(bare)
            if name is None or bare in FUNCTION_WORDS:
                continue
            if length == 1 and is_common(bare) and not _stands_as_name(words, at):
                continue
            spelled = _WORD.findall(name + ("'s" if phrase != bare and phrase not in names else ""))
            if len(spelled) == length:
                shapes[at : at + length] = spelled


def _stands_as_name(words: list[tuple[int, int, str]], at: int) -> bool:
    """True where a word of the dictionary stands as a town does: after a preposition of place, without an article."""
    return (
        at > 0
        and words[at - 1][2] in ("in", "from", "to", "near", "of", "at")
        and (
            at + 1 == len(words)
            or words[at + 1][2] in FUNCTION_WORDS
            or words[at + 1][2] in ("county", *VERBS_OF_SPEECH)
        )
    )


def _shape(words: list[tuple[int, int, str]], number: int, people: Collection[str]) -> str:
    word = words[number][2]
    before = words[number - 1][2] if number else ""
    after = words[number + 1][2] if number + 1 < len(words) else ""
    if word == "i" or word.startswith(("i'", "i’")):
        return "I" + word[1:]
    if word[0].isdigit():
        return word
    if re.fullmatch(r"(?:[ap]\.m|[a-z](?:\.[a-z])+)", word):
        return word if word in ("a.m", "p.m") else word.upper()
    if word in CALENDAR or (word in _ROMAN and before not in FUNCTION_WORDS):
        return word.upper() if word in _ROMAN else _capital(word)
    if word in _MONTHS_THAT_ARE_WORDS:
        beside = (
            after[:1].isdigit()
            or before[:1].isdigit()
            or before in ("of", "early", "late", "mid", "until", "since", "in")
        )
        beside = beside or after in (
            "first",
            "second",
            "third",
            "fourth",
            "fifth",
            "sixth",
            "tenth",
            "twelfth",
            "the",
        )
        return (
            _capital(word)
            if beside and not (word == "may" and after == "the" and before not in ("of", "in"))
            else word
        )
    if word.rstrip(".") in TITLES:
        address = before not in (
            "my",
            "his",
            "her",
            "their",
            "our",
            "a",
            "an",
            "the",
            "another",
            "every",
        ) or is_name(after)
        return (
            _capital(word)
            if address and after and after not in FUNCTION_WORDS and not is_verb_like(after)
            else word
        )
    if word.removesuffix("'s") in people and before and (is_name(before) or before in TITLES):
        return _capital(word)
    if is_common(word):
        return word
    if is_shouted(word):
        return word.upper()
    return _capital(word)


def _neighbours(words: list[tuple[int, int, str]], shapes: list[str], text: str) -> None:
    """Common words that are part of a name: those between a name and a head such as `Library`, and the head itself."""
    for number, (_, _, word) in enumerate(words):
        bare = word.removesuffix("'s")
        strong = bare in STRONG_PLACE_HEADS
        if number == 0 or not (strong or bare in WEAK_PLACE_HEADS or bare in _GROUP_HEADS):
            continue
        first = number
        while first > 0 and number - first < 4:
            gap = text[words[first - 1][1] : words[first][0]]
            previous = words[first - 1][2]
            if gap.strip() or previous in FUNCTION_WORDS or previous[0].isdigit() or previous in CALENDAR:
                break
            first -= 1
        if first == number:
            continue
        before = words[first - 1][2] if first else ""
        named = [
            each for each in range(first, number) if shapes[each][:1].isupper() and not _opens(words, each)
        ]
        if named and (strong or named[-1] == number - 1) and before not in _DETERMINERS:
            begin = named[0]
        elif (
            before in _PREPOSITIONS
            and not named
            and (strong or bare in _GROUP_HEADS | {"mill", "quilts", "park", "bay"})
        ):
            begin = first  # A thing that can be counted, named without an article: `at harbor savings bank`.
        else:
            continue
        for each in range(begin, number + 1):
            shapes[each] = _capital(shapes[each])
        if number + 1 < len(words) and words[number + 1][2] in _NUMBERS:
            shapes[number + 1] = _capital(shapes[number + 1])
    for number in range(1, len(words)):
        # A title's name is a name.
        if (
            shapes[number - 1][:1].isupper()
            and words[number - 1][2].rstrip(".") in TITLES
            and words[number][2] not in FUNCTION_WORDS
            and not is_verb_like(words[number][2])
        ):
            shapes[number] = _capital(shapes[number])


def is_verb_like(word: str) -> bool:
    return word in VERBS_OF_SPEECH or word.endswith(("ed", "ing", "n't"))


def _opens(words: list[tuple[int, int, str]], number: int) -> bool:
    """True for a word whose capital may only be that of a sentence's start."""
    return number == 0 and is_common(words[0][2])


def _capital(text: str) -> str:
    for index, sign in enumerate(text):
        if sign.isalpha():
            return text[:index] + sign.upper() + text[index + 1 :]
        if sign.isdigit():
            return text
    return text
