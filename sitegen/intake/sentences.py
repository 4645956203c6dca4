"""Sentences out of words: where one ends, when it was said, and how it is written."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from sitegen.intake.casing import sentence_case, surnames
from sitegen.intake.plain import plain
from sitegen.intake.records import Sentence, SpokenWord
from sitegen.intake.speech import lacks_case
from sitegen.intake.vocabulary import word_set

_END = re.compile(r"""[.?!…]+["'”’)\]]*\Z""")
_SHORTENED = re.compile(
    r"(?:mr|mrs|ms|dr|st|rev|sgt|lt|col|gov|sen|rep|jr|sr|no|ave|blvd|rd|co|inc|vs|jan|feb|mar|apr|jun|jul|aug|sept|sep|oct|nov|dec|[a-z])\.\Z",
    re.IGNORECASE,
)
_INITIAL = re.compile(r"[A-Z]\.\Z")
_MERIDIEM = re.compile(r"[ap]\.m\.\Z", re.IGNORECASE)
_GOES_ON = word_set(
    "to until till through on at and or in for every each sharp this next that so with by but monday tuesday wednesday thursday friday saturday sunday daily weekdays"
)
LONGEST = 28
"""Words after which a sentence without any full stop is cut at the next chance."""
PAUSE = 900
"""Milliseconds of silence that end a sentence where captions have no full stops."""


def sentences(words: Sequence[SpokenWord], names: Mapping[str, str]) -> tuple[Sentence, ...]:
    """The sentences of a programme, in sentence case. `names`: how the station spells what it knows."""
    groups = list(_groups(words))
    capitals = lacks_case(words)
    texts = [" ".join(word.text for word in group) for group in groups]
    people = surnames(texts) if capitals else frozenset[str]()
    made: list[Sentence] = []
    for number, group in enumerate(groups):
        text = sentence_case(texts[number], names, people) if capitals else texts[number]
        first, last = group[0], group[-1]
        following = groups[number + 1][0].start if number + 1 < len(groups) else last.start + 2000
        made.append(
            Sentence(
                text=text,
                plain=plain(text),
                start=first.start,
                end=min(max(following, last.start), last.start + 3000),
                speaker=first.speaker,
                turn=first.turn,
                story=first.story,
                after_sound=first.after_sound,
                restored=capitals,
            )
        )
    return tuple(made)


def _groups(words: Sequence[SpokenWord]) -> Iterator[list[SpokenWord]]:
    stops = sum(bool(_END.search(word.text)) for word in words)
    punctuated = stops * 40 > len(words)
    group: list[SpokenWord] = []
    for number, word in enumerate(words):
        if group and (word.turn or word.story or (not punctuated and _pauses(group, word))):
            yield group
            group = []
        group.append(word)
        following = words[number + 1].text if number + 1 < len(words) else ""
        before = group[-2].text if len(group) > 1 else ""
        if punctuated and _ends(word.text, before, following):
            yield group
            group = []
    if group:
        yield group


def _pauses(group: Sequence[SpokenWord], word: SpokenWord) -> bool:
    gap = word.start - group[-1].start
    return (
        word.after_sound
        or gap > PAUSE + 400
        or (len(group) >= LONGEST and gap > 300)
        or len(group) > 2 * LONGEST
    )


def _ends(text: str, before: str, following: str) -> bool:
    if not _END.search(text):
        return False
    if _MERIDIEM.search(text):
        return following.strip("\"'").lower().rstrip(".,") not in _GOES_ON and not (
            following[:1].islower() and following != ""
        )
    if text[-1] == "." and _SHORTENED.match(text.lstrip("\"'(“")):
        if text.upper() == "I.":  # who speaks, far oftener than a name's letter
            return following != "" and not (_INITIAL.match(following) or _INITIAL.match(before))
        return text.upper() == "NO." and not following[:1].isdigit()
    return not (text.endswith("...") and following[:1].islower())
