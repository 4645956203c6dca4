"""Places that viewers are sent to: noun phrases with a place's head (`Library`, `Fire Station Two`), names in a direction, and shared places by name.

A place counts only where the words send somebody there: things are handed in, names are put down, something takes place or can be had there.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

from sitegen.intake.asking import NEEDING, hands_in, signs_up
from sitegen.intake.lexicon import is_common
from sitegen.intake.records import NamedPlace, Role, Said, Sentence
from sitegen.intake.vocabulary import FUNCTION_WORDS, STRONG_PLACE_HEADS, TITLES, WEAK_PLACE_HEADS, word_set
from sitegen.newsroom.records import Newsroom, Place

_TOKEN = re.compile(r"[\w’'&-]+(?:\.(?=\w))?|[^\w\s]")
_NUMBER_WORDS = {
    word: str(number)
    for number, word in enumerate(
        ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"], 1
    )
}
_LEADS = word_set("at to in into by behind outside inside from with near on past")
_LINKS = word_set("of the and de la del el los las")
"""Small words inside a name."""
_DETERMINERS = word_set("the a an our my your their any either both each every his her its that this")
_NOT_NAMES = word_set(
    "monday tuesday wednesday thursday friday saturday sunday january february march april may june july august september october "
    "november december noon midnight christmas thanksgiving halloween easter santa i"
)
_VERBS = word_set(
    "is are was were be been has have had will would can could do does did opens open closes takes take bring brings needs need wants want says said calls call "
    "gives give goes go comes come runs run helps help serves serve starts start collects collect accepts accept hosts host offers offer"
)
_VENUE = re.compile(
    r"\b(?:you(?: can|'ll| could)? meet|come (?:and )?meet|stop (?:by|in)|swing by|head (?:to|over|down)|come (?:to|by|on (?:by|down))|go to|walk in|show up|is held|being held|will be held|takes place|taking place|it(?:'s|'ll be) (?:at|on \w+|(?:next |this |this coming )?(?:saturday|sunday|friday|monday|tuesday|wednesday|thursday)|tonight|tomorrow)|they're at|served at|on sale at|for sale|are at|is at|be at|see (?:it|them) at|join (?:them|us)|concert|an evening to|can be (?:found|had|picked|bought)|pick (?:them|it|one|yours|up)|get (?:one|them|yours|it) at|available|sheet at|forms? (?:is|are)|tickets|doors open|kicks off|gather|your chance to|lineup|line up|clinic|performs?|performing|perform|give their|screening|shots?|in the parking lot|(?:will|going to|'ll|can) be (?:at|outside|inside|in front of|set up|open|out)|(?:stops?|stopping|parked?|parking|set up) (?:at|outside|in front of))\b"
)
_NO_PLACE_ENDS = word_set(
    "day eve week month season monday tuesday wednesday thursday friday saturday sunday county street road avenue"
)
_TAKES = re.compile(
    r"(?:, [^,]{3,40},)? ?(?:on [\w ]{3,25}|in [\w ]{3,20})?,? ?(?:all |both |each |also |will )*(?:is|are|will be|be|has been|have been)? ?(?:also |both |all )?(?:(?:have|has) agreed to (?:take|receive|accept|collect)|will (?:receive|collect)|receiving|taking|accepting|collecting|(?:would be|will be|is|are)? ?(?:glad|happy) to (?:have|take|see|accept)|(?:can|will|would|'ll) (?:gladly )?(?:take|use|accept|hold)|open (?:late|around|until|till|from|every|daily|all|day|weekdays|mornings|nights)|takes|accepts|collects|will take|will accept|(?:have|has)(?: got)? (?:an? |the |one |two |their |its )?(?:\w+ ){0,2}?(?:bins?|boxes|barrels?|forms?|applications?|jars?|one|it|them|shelf|tub|sheet|table|rack|bin|box|barrel|basket|bucket|jar|shelf|sign-up))\b"
)
"""What stands behind a place that is the sentence's subject: `Fire Station One is taking them in`."""
_SIGN_AT = re.compile(
    r"\b(?:sign(?:ed|ing)?[ -]?ups?|register(?:ed|ing)?|registration|enroll?\w*|apply|applications?|forms?|tickets?|leave your name|put your name|reserve|rsvp|pick(?:ed)? up|write to|auditions?|vot(?:e|ing)|enter)\b"
    r"|\byou (?:can|could|may|should|have to|must|might|'ll be able to) (?:[\w']+,? ){1,9}?(?:at |to the )|\byou (?:do|get|find|buy|give|pay for) (?:it|them|one|yours) at\b"
)
_EVENT = re.compile(
    r"\b(?:host(?:s|ing|ed)?|hold(?:s|ing)?|held|open house|breakfast|lunch|supper|dinner|potluck|fundraiser|fair|festival|workshop|class(?:es)?|meeting|auditions?|performances?|concert|show|sale|parade|ceremony|screening|swap|drive|clinic|rehearsals?|tournament|market|bake sale|auction|celebration|party|bloodmobile|van|truck|bus|ride|run|walk|hike|cleanup|clean-up|training|session|orientation|tour|lesson|game|reading|signing|service|vigil|rally|picnic|cookout)\b"
)
_WHEN = re.compile(
    r"\b(?:mon|tues|wednes|thurs|fri|satur|sun)days?\b|\b(?:tonight|tomorrow|this weekend|next week)\b|\b\d{1,2}(?:st|nd|rd|th)\b|\bat (?:\d{1,2}(?::\d\d)?|noon)\b|\b(?:from|beginning|starting) (?:at )?\d"
)
"""An event with a day or an hour is something to go to."""
_WHERE = re.compile(
    r"\b(?:where (?:do|can|should|does|could|would|will|is|are|might)|where's|where to)\b[^.]*\?\Z"
)
_ALSO = re.compile(
    r"\b(?:locations?|drop-?off (?:points?|sites?|spots?|places?)|sites|spots|places) (?:are|include|is|at)\b|\bso (?:is|does|will|are)\b|\bor\b|\balso\b|\btoo\b|\bas well\b|\banother\b|\bone (?:at|in)\b|\bthere(?:'s| is| are)\b"
)
_WENT = re.compile(
    r"\b(?:i|he|she|we|they) (?:went|was|were|worked|lived|grew|met|sang|played|drove|walked|found|saw|sat|stood|stopped|spent|arrived|came|began|started)\b|\b(?:arrived|began|grew up|was born|met|used to|worked|went to school|taught|graduated|was found|were found)\b"
)


@dataclass(frozen=True, slots=True)
class _Phrase:
    """A noun phrase that may be a place."""

    start: int
    """Offset in the sentence's text."""
    end: int
    words: tuple[str, ...]
    """Without its article."""
    head: str
    lead: str
    """The preposition before it, or empty."""
    definite: bool
    """It is `the`, `our`, or named without an article."""
    named: bool
    """It has a word of its own beside its head."""
    town: str = ""


def places_in(sentences: Sequence[Sentence], newsroom: Newsroom) -> tuple[NamedPlace, ...]:
    """The places of a segment that viewers are sent to, each once, in the order in which they are said."""
    towns = {town.name for county in newsroom.station.counties for town in county.towns} | {
        county.name for county in newsroom.station.counties
    }
    shared = _Shared(newsroom.places, frozenset(towns))
    found: list[NamedPlace] = []
    spoken = sentences
    sentences = [replace(each, text=_without_contractions(each.text)) for each in sentences]
    phrases = [
        tuple(_with_shared_heads(each.text, tuple(_phrases(each.text, towns)), towns)) for each in sentences
    ]
    for number, sentence in enumerate(sentences):
        role = _direction(sentences, number)
        if role is None:
            continue
        answered = _answers_where(sentences, number)
        said = " ".join(each.text for each in sentences[: number + 1])
        named = [town for town in towns if town in said]
        every = phrases[number]
        if sentence.restored:
            more = shared.unseen_names(sentence.text, every)
            every = tuple(sorted((*every, *more), key=lambda each: each.start))
        if sentence.restored and role is Role.DROP_OFF:
            every = tuple(sorted((*every, *_headless(sentence.text, every)), key=lambda each: each.start))
        for phrase in _listed(every, sentence.text, answers=answered):
            place = _name(phrase, phrases[: number + 1], shared, named, answered)
            if place is not None:
                found.append(replace(place, said=Said(spoken[number].text, sentence.start), role=role))
    return tuple(_once(found))


def _direction(sentences: Sequence[Sentence], number: int) -> Role | None:
    """What the sentence sends viewers to a place for; None when it sends nobody."""
    text = sentences[number].plain
    before = sentences[number - 1].plain if number else ""
    if _WENT.search(text) and not re.search(r"\byou\b|\bcan be\b|\bplease\b", text):
        return None
    if re.search(r"\byou (?:can't|cannot|couldn't) \b", text):
        return None
    around = " ".join(each.plain for each in sentences[max(0, number - 3) : number + 2])
    if _OPEN_TO_ALL.search(text) and hands_in(around):
        return Role.DROP_OFF
    if hands_in(text) and _LEAD_IN.search(text):
        return Role.DROP_OFF
    if _answers_where(sentences, number):
        return Role.DROP_OFF
    if _SIGN_AT.search(text) or _VENUE.search(text):
        return Role.VENUE
    if _EVENT.search(text) and (_WHEN.search(text) or _WHEN.search(before)):
        return Role.VENUE
    if _ALSO.search(text) and number and (hands_in(before) or _answers_where(sentences, number - 1)):
        return Role.DROP_OFF
    return _in_the_middle_of_asking(text, around)


_CONTAINER = re.compile(
    r"\b(?:box|bin|barrel|bucket|tub|crate|basket|jar|rack|shelf|table|tote|hamper|mailbox|trailer|pallet|drum|cart|sheet)(?:es|s)?\b|\bshelves\b"
)
"""What things are put into, or names on."""
_SENDS = re.compile(
    r"\b(?:you(?:'ll|'re|'d)?|yours?|please|anyone|anybody|everyone|donors|they'(?:ll|re|ve)|there(?:'s| is| are)|(?:will|can|could) (?:be|go)|would be (?:glad|happy)|taking|all have|easiest|nearest|closest|drop-?offs?|(?:places?|spots?|sites?|locations?) (?:is|are|to)|the (?:second|other) one|second one)\b"
    r"|(?:\A|[,;:] )(?:(?:or|and|so|then|just|but|simply) ){0,2}(?:(?:bring|leave|take|drop|hand|haul|run|walk|carry|send|mail|swing|pop|head|stop|come|go|see|look|ask|try|find|get|visit|call|tell|pick|grab|put|set|toss|hang|ship|pass|meet|join)\b)"
)
"""Words that turn to the viewer, or say what is ready for them."""
_TOLD = re.compile(
    r"\b(?:was|were|had|did|didn't|wasn't|weren't|hadn't|went|came|gave|took|said|found|made|got its|ago|used to|yesterday|last (?:year|week|night|month|summer|spring|winter|fall)|has worked|being rebuilt|nobody)\b|\A[^,]{0,40}\b(?:stopped|walked|started|worked|lived|opened|pulled|moved|burned|turned|played|learned|arrived|gathered|celebrated)\b"
)
"""Words of telling what happened."""


def _in_the_middle_of_asking(text: str, around: str) -> Role | None:
    """What a sentence without a verb of giving sends people for: where something is asked for all around it, and it turns to the viewer or
    names what stands ready, it goes on about where."""
    if _TOLD.search(text) and not re.search(r"\byou(?:'ll)? (?:can|may|could)\b|\bplease\b", text):
        return None
    if not (_CONTAINER.search(text) or _SENDS.search(text)):
        return None
    if hands_in(around) or _CONTAINER.search(text) or _NEEDED.search(around):
        return Role.DROP_OFF
    return Role.VENUE if signs_up(around) else None


_NEEDED = re.compile(
    rf"\b(?:they|we|who|which|and|it|he|she|crew|club|group|shelter|pantry|school|school's|volunteers|drive|still|also|really|badly)(?:'re| are| is|'s|'d|'ve)? {NEEDING}\b"
)
"""Somebody is in want of something."""


_NO_DIRECTION = re.compile(
    r"\b(?:belong\w*|thanks|next|according|close|due|dedicated|related|prior|similar|known|used|went|gone|goes|money|proceeds|grew up|across from|away from) (?:to |in )?(?:the |our |an? )?\Z"
    r"|\b(?:to|for) (?:the )?(?:\w+ )?(?:families|patients|residents|children|kids|seniors|veterans|students|animals|dogs|guests|people) (?:at|in|from|of) (?:the |our )?\Z"
    r"|\b(?:proceeds|money|profits?|funds?|rest|raised|dollars?)\b[^.;]{0,40}\b(?:go(?:es)?|benefits?|help) (?:straight |directly )?(?:to )?(?:the |our )?\Z"
)
"""Words before a place that send nobody there."""
_TAKES_OR_SO = re.compile(
    r"\b(?:is|are|will be) (?:taking|accepting|collecting|receiving)\b|\b(?:will|can) (?:take|accept|collect|truck|deliver|pick)\b|\bso (?:is|does|will|are)\b"
)
_OPEN_TO_ALL = re.compile(
    r"\b(?:is|are) open (?:around|until|till|from|every|daily|all|day|weekdays|mornings|nights)\b|\b(?:is|are) (?:taking|accepting|collecting)\b"
)
_LEAD_IN = re.compile(r"\b(?:at|to|in|into|by|with|behind|outside|inside|on)\b|: ")


def _answers_where(sentences: Sequence[Sentence], number: int) -> bool:
    if not number:
        return False
    question = sentences[number - 1].plain
    return question.endswith("?") and _WHERE.search(question) is not None


_CONTRACTED = re.compile(
    r"(?<=\w)['’]s(?= (got|taking|accepting|collecting|open|also|where|been|happy|glad|going)\b)"
)


def _without_contractions(text: str) -> str:
    """`The diner's taking them` as `The diner is taking them`: else its head is hidden."""
    return _CONTRACTED.sub(lambda match: " has" if match[1] in ("got", "been") else " is", text)


# --- phrases ---------------------------------------------------------------------------------


def _phrases(text: str, towns: set[str]) -> Iterator[_Phrase]:
    """Every noun phrase of a sentence with the head of a place, or with a name of its own after a preposition."""
    tokens = [(match.start(), match.end(), match[0]) for match in _TOKEN.finditer(text)]
    low = [token.lower().replace("’", "'") for _, _, token in tokens]
    at = 0
    while at < len(tokens):
        if not _starts(low, tokens, at):
            at += 1
            continue
        phrase, after = _phrase_at(tokens, low, at, towns)
        if phrase is not None:
            yield phrase
        at = max(after, at + 1)


def _starts(low: list[str], tokens: list[tuple[int, int, str]], at: int) -> bool:
    word = low[at]
    if not word[0].isalnum():
        return False
    if word in FUNCTION_WORDS and word not in _DETERMINERS:
        return False
    return word not in _VERBS


def _phrase_at(
    tokens: list[tuple[int, int, str]], low: list[str], at: int, towns: set[str]
) -> tuple[_Phrase | None, int]:
    first = at
    article = low[at] if low[at] in _DETERMINERS else ""
    if article:
        at += 1
    begin = at
    head_at = -1
    while at < len(tokens) and at - begin < 7:
        word = low[at]
        if (
            not word[0].isalnum()
            or word in _VERBS
            or (word in FUNCTION_WORDS and word != "of")
            or word in _NOT_NAMES
        ):
            break
        if word == "of":
            # `Church of the Redeemer`, `branch of Harbor Savings Bank`.
            following = at + 2 if at + 1 < len(low) and low[at + 1] == "the" else at + 1
            if at == begin or following >= len(tokens) or not tokens[following][2][:1].isupper():
                break
            if low[at - 1] not in STRONG_PLACE_HEADS | WEAK_PLACE_HEADS | {"friends", "knights", "sons"}:
                break
            if low[at - 1] in _PARTS and not tokens[at - 1][2][:1].isupper():
                break  # `The front desk of the Armory` is at the Armory.
            if low[at + 1] == "the":
                at += 1
        elif _is_head(word) or (at > begin and _names(tokens[at - 1][2]) and _of_several(word)):
            head_at = at
        elif (
            head_at == at - 1 >= begin
            and low[head_at] in _NUMBERED
            and (word.isdigit() or word in _NUMBER_WORDS)
        ):
            if at + 1 < len(low) and _is_head(low[at + 1]):
                at += 1
                continue  # `Harbor Five studios`
            head_at = at
            at += 1
            break
        elif head_at == at - 1 >= begin and not tokens[at][2][:1].isupper():
            break  # What comes after the head is no part of the name: `the library closet`.
        at += 1
    end = at
    named_by_capitals = _capital_run(tokens, low, begin, end)
    if head_at < begin:
        if not named_by_capitals:
            return None, max(end, first + 1)
        last = named_by_capitals
        head = ""
    else:
        last = max(head_at + 1, named_by_capitals)
        # A lower-case word behind the head makes it something else: `library card`, `school bus`.
        if (
            last < end
            and last == head_at + 1
            and not tokens[last][2][:1].isupper()
            and low[last] not in FUNCTION_WORDS
        ):
            return None, end
        head = low[head_at] if _is_head(low[head_at]) else _of_several(low[head_at]) or low[head_at - 1]
    words = tuple(token for _, _, token in tokens[begin:last])
    if not words:
        return None, max(end, first + 1)
    led = first
    while led > 0 and low[led - 1] in ("back", "front", "side", "rear", "main", "the", "a"):
        led -= 1  # `at the back door`
    lead = low[led - 1] if led else ""
    town = _town_after(tokens, low, last, towns)
    named = any(_names(token) for token in words if token.lower() != head) or (len(words) > 1 and not article)
    phrase = _Phrase(
        tokens[begin][0], tokens[last - 1][1], words, head, lead if lead in _LEADS else "",
        article in ("the", "our", "my", "your", ""), named, town,
    )  # fmt: skip
    return phrase, last


_NAME_OF = r"[A-Z][\w’'ñ-]*(?: [A-Z][\w’'ñ-]*)*"
_SHARED_HEAD = re.compile(
    rf"\b(?P<names>{_NAME_OF}(?:, {_NAME_OF})*,? (?:and|or) {_NAME_OF}) (?P<kind>(?:[a-z]+ )?)(?P<heads>[a-z]+)\b"
)
"""`The Millrace and Pellam libraries`."""
_HEAD_FIRST = re.compile(
    rf"\b(?P<kind>(?:fire|police|post|town|village|high|grade|elementary|middle|train|bus|senior) )?(?P<heads>[a-z]+)(?:,? in|:|, at|,)(?: the)? (?P<names>{_NAME_OF}(?:, (?:in )?{_NAME_OF})*,? (?:and|or) (?:in )?{_NAME_OF})"
)
"""`The libraries in Millrace and Pellam`, `all three schools: Millrace, …`."""
_THE_ONE = re.compile(rf"\bthe (?:one|other)(?: one)? (?:in|over in|out in) (?P<names>{_NAME_OF})")


def _with_shared_heads(text: str, known: Sequence[_Phrase], towns: Collection[str]) -> Sequence[_Phrase]:
    """With the places of a row that shares one head, in place of what was read of them."""
    made: list[_Phrase] = []
    for pattern in (_SHARED_HEAD, _HEAD_FIRST):
        for match in pattern.finditer(text):
            head = _of_several(match["heads"].lower())
            names = [part for part in re.split(r",? (?:and |or )(?:in )?|, (?:in )?", match["names"]) if part]
            if not head or any(name not in towns for name in names):
                continue
            kind = (match["kind"] or "").title().split()
            kind = kind if kind and not {word.lower() for word in kind} & FUNCTION_WORDS else []
            at = match.start("names")
            for name in names:
                words = (*name.split(), *kind, head.capitalize())
                start = text.index(name, at)
                made.append(_Phrase(start, start + len(name), words, head, "at", True, True))
                at = start + len(name)
    for match in _THE_ONE.finditer(text):
        before = [each for each in known if each.head and each.end <= match.start()]
        if before and match["names"] in towns:
            last = before[-1].words
            kind = [
                word for word in last if word.lower() in (before[-1].head, "fire", "police", "post", "town")
            ]
            words = (*match["names"].split(), *(word.capitalize() for word in kind))
            made.append(_Phrase(match.start(), match.end(), words, before[-1].head, "at", True, True))
    kept = [each for each in known if all(each.end <= new.start or each.start >= new.end for new in made)]
    kept = [each for each in kept if not (made and _of_several(each.words[-1].lower()))]
    return sorted((*kept, *made), key=lambda each: each.start)


_HEADLESS = re.compile(
    r"\b(?:to|at) ((?:[a-z][a-z'’&-]+ ){1,2}[a-z][a-z'’&-]+)(?= (?:on|in|at|or|until|by|before|during|and) |[,.])"
)
_SOMEBODY = word_set(
    "one two three four five six seven eight nine ten eleven twelve twenty thirty forty fifty hundred thousand people kids children families anyone anybody everyone everybody us them students seniors veterans school work home least first last once"
)


def _headless(text: str, known: Sequence[_Phrase]) -> Iterator[_Phrase]:
    """Names that captions in capitals hide: words without article behind `to` or `at` where things are handed in."""
    for match in _HEADLESS.finditer(text):
        words = match[1].split()
        taken = any(each.start < match.end() and match.start(1) < each.end for each in known)
        if taken or any(
            word in FUNCTION_WORDS or word in _SOMEBODY or word in _VERBS or word in _NOT_NAMES
            for word in words
        ):
            continue
        yield _Phrase(
            match.start(1), match.end(1), tuple(word.capitalize() for word in words), "", "at", True, True
        )


_NUMBERED = word_set(
    "station school post pier firehouse house hall building dock gate company elementary harbor studio bay"
)
"""Heads that a number may follow."""


def _is_head(word: str) -> bool:
    return (
        word in STRONG_PLACE_HEADS
        or word in WEAK_PLACE_HEADS
        or word.removesuffix("s") in _OF_MANY_ROOMS
        or (word.endswith(_COMPOUNDS) and word not in _NO_COMPOUNDS and is_common(word))
    )


_COMPOUNDS = ("house", "yard", "shop", "hall")
"""Ends of words for places: `boatyard`, `meetinghouse`."""
_NO_COMPOUNDS = word_set(
    "house yard shop hall shall workshop bishop archbishop vineyard backyard birdhouse doghouse outhouse powerhouse halyard steelyard"
)


def _of_several(word: str) -> str:
    """The head that stands here in the plural: `libraries` has `library`; empty for none."""
    for ending, singular in (("ies", "y"), ("ches", "ch"), ("sses", "ss"), ("s", "")):
        if word.endswith(ending):
            head = word.removesuffix(ending) + singular
            return head if head in STRONG_PLACE_HEADS else ""
    return ""


_OF_MANY_ROOMS = word_set("studio office garden ground apartment store branch")
"""Heads that stand in the plural for one place."""


def _names(token: str) -> bool:
    return token[:1].isupper() and token.lower() not in FUNCTION_WORDS and token.lower() not in _NOT_NAMES


def _capital_run(tokens: list[tuple[int, int, str]], low: list[str], begin: int, end: int) -> int:
    """The index behind a run of words with capitals that begins a phrase; 0 for none."""
    at = begin
    while at < end and (_names(tokens[at][2]) or (at > begin and low[at] in _LINKS)):
        at += 1
    while at > begin and low[at - 1] in _LINKS:
        at -= 1
    return at if at > begin and not (begin == 0 and at == 1) else 0


def _town_after(tokens: list[tuple[int, int, str]], low: list[str], at: int, towns: set[str]) -> str:
    if at + 1 < len(tokens) and low[at] == "in":
        for length in (3, 2, 1):
            name = " ".join(token for _, _, token in tokens[at + 1 : at + 1 + length])
            if name in towns:
                return name
    return ""


def _listed(phrases: Sequence[_Phrase], text: str, answers: bool) -> Iterator[_Phrase]:
    """The phrases of a directing sentence that name where to go: behind a preposition, or in a row with one that is."""
    in_row = False
    previous_end = 0
    rows: list[_Phrase] = []
    subjects = _subjects(phrases, text)
    for phrase in phrases:
        between = text[previous_end : phrase.start].lower()
        # A row goes on over commas, `and`, `or`, articles, towns and days.
        joined = in_row and re.fullmatch(
            r"(?:\s|,|;|\band\b|\bor\b|\bat\b|\bthe\b|\bin\b|\bto\b|\bof\b|\bour\b|\balso\b|\bone\b|\bthat's\b|\bboth\b|[\w’' ]{0,40}?[,;]? (?:and|or|at)(?: at)?(?: the| our)?\s?|,? (?:and|or),? [^.,;]{3,45}, (?:at )?(?:the )?)*",
            between,
        )
        led = phrase.lead in ("at", "to", "into", "with", "by", "behind", "outside", "inside", "in", "past")
        led = led or _BESIDE.search(text[: phrase.start].lower()) is not None
        led = led and _NO_DIRECTION.search(text[: phrase.start].lower()) is None
        # In a sentence that sends people somewhere, a place that is named with an article after a comma or a conjunction is one more.
        led = led or (
            phrase.named
            and phrase.head in STRONG_PLACE_HEADS
            and re.search(
                r"(?:, |\bso |\band so (?:is|does|will|are) |\bor |\band )(?:the |our )?\Z", between
            )
            is not None
            and _TAKES_OR_SO.search(text.lower()) is not None
        )
        led = led or re.search(r": (?:the )?\Z", between) is not None  # `at any of the three: …`
        led = (
            led
            or re.search(
                r"\b(?:start\w*|leav\w+|depart\w*|sets? off|begin\w*|available|pick(?:ed)? up|free) from (?:the )?\Z",
                between,
            )
            is not None
        )
        led = led or phrase.start in subjects
        in_row = bool(
            led
            or joined
            or (answers and not previous_end)
            or (answers and re.search(r"that's $|it's $|, $", between))
        )
        if in_row:
            rows.append(phrase)
        previous_end = phrase.end
    for phrase, following in zip(rows, [*rows[1:], None], strict=False):
        # `The gym at Netherby School` is at the school.
        inside = following is not None and re.fullmatch(
            r" (?:at|of|in) (?:the )?", text[phrase.end : following.start].lower()
        )
        if not inside or phrase.named or phrase.town:
            yield phrase


_BESIDE = re.compile(
    r"\b(?:next to|in front of|around the corner from|across the street at|opposite|over at|out at|down at|up at|inside of|outside of|go (?:in)?to|visit|try) (?:the |our )?\Z"
    r"|\b(?:lobby|foyer|desk|counter|basement|office|parking lot|lot|branch|branches|gym|steps|porch|entrance|doors?|door|register|cafeteria|hallway|back|front|side|crew|folks|staff|people|any|both|all|all \w+|either|one|two|three|four|locations|corner) (?:of|at|from) (?:the |our )?\Z"
    r"|\b(?:place|spot|site|drop-?offs?|locations?|closest|nearest|easiest|bins?|boxes|one|another|second|places)(?: \w+ \w+)? (?:is|are|includes?|include|being)(?: probably| also| over at| still)? (?:the |our )?\Z"
    r"|\bor from (?:the |our )?\Z|\b(?:at|to|with|by), (?:the |our )?\Z"
)
"""Words before a place that say: there."""


def _subjects(phrases: Sequence[_Phrase], text: str) -> frozenset[int]:
    """Where the phrases begin that take things in: `A, B and the C all have bins`."""
    found: set[int] = set()
    row: list[_Phrase] = []
    for phrase in phrases:
        between = text[row[-1].end : phrase.start].lower() if row else ""
        if not row or not re.fullmatch(r",? ?(?:and |or )?(?:the |our )?", between):
            row = []
        row.append(phrase)
        opens = text[: row[0].start].lower()
        if _CLAUSE.search(opens) and _TAKES.match(text[phrase.end :].lower()):
            found |= {each.start for each in row}
    return frozenset(found)


_CLAUSE = re.compile(
    r"(?:\A|[,;:] |\b(?:and|or|but|so|now|also|as|that|where|because|says|say) )(?:the |our |both |either )?\Z"
)
"""What stands before the subject of a clause."""


# --- names -----------------------------------------------------------------------------------


class _Shared:
    """The station's places, by what their names hold."""

    def __init__(self, places: Sequence[Place], areas: frozenset[str]) -> None:
        self.areas = areas
        self._places = [(place, _key(place.name)) for place in places]

    def of_kind(self, words: Collection[str], towns: Collection[str]) -> Place | None:
        """The one place with these words in the towns that were named: `the library` of a story from Millrace."""
        wanted = _key(" ".join(words)) - {"old", "new", "local", "public", "town"}
        near = [place for place, key in self._places if wanted and wanted <= key and place.town in towns]
        return near[0] if len(near) == 1 else None

    def unseen_names(self, text: str, known: Sequence[_Phrase]) -> Iterator[_Phrase]:
        """The station's places whose names are common words, which captions in capitals hide."""
        low = text.lower()
        for place, _ in self._places:
            words = place.name.split()
            at = re.search(rf"\b{re.escape(place.name.lower())}\b", low) if len(words) > 1 else None
            if at is None or any(each.start < at.end() and at.start() < each.end for each in known):
                continue
            lead = low[: at.start()].removesuffix("the ").split()[-1:]
            yield _Phrase(
                at.start(), at.end(), tuple(words), "", "".join(set(lead) & _LEADS), True, True, place.town
            )

    def find(self, name: str, town: str) -> Place | None:
        """The one place whose name is this, or has all its words, or lacks only common ones of it."""
        wanted = _key(name)
        if not wanted:
            return None
        exact = [place for place, key in self._places if key == wanted]
        if exact:
            return exact[0]
        if len(wanted) < 2 and not town:
            return None
        with_town = wanted | _key(town)
        near = [
            place
            for place, key in self._places
            if (len(wanted) > 1 and (wanted <= key | _key(place.town) or key <= with_town))
            or (town and wanted <= key and place.town == town)
        ]
        return near[0] if len(near) == 1 else None


def _key(name: str) -> frozenset[str]:
    folded = "".join(
        sign for sign in unicodedata.normalize("NFKD", name.lower()) if not unicodedata.combining(sign)
    )
    words = re.findall(
        r"[a-z0-9]+", folded.replace("'s", "s").replace("’s", "s").replace("fire house", "firehouse")
    )
    return frozenset(
        _NUMBER_WORDS.get(word, word) for word in words if word not in ("the", "of", "in", "at", "a", "and")
    )


def _name(
    phrase: _Phrase,
    before: Sequence[Sequence[_Phrase]],
    shared: _Shared,
    towns: Collection[str],
    answered: bool,
) -> NamedPlace | None:
    """A phrase as a place: the shared one, its own name, or the name an earlier phrase with its head has."""
    name = " ".join(phrase.words)
    if name in shared.areas or not (phrase.definite or phrase.named):
        return None  # `Any fire station` is none that could be listed.
    known = shared.find(name, phrase.town)
    nothing = Said("", 0)
    if known is not None and (phrase.named or len(phrase.words) > 1 or phrase.town):
        # A place found by its town alone keeps the name that was said.
        own = _capitals(phrase.words) if phrase.named and not _key(name) <= _key(known.name) else known.name
        return NamedPlace(own, nothing, Role.DROP_OFF, known.id, known.town)
    if phrase.head in _PARTS and not phrase.named and phrase.lead == "in":
        return None  # `at the school, in the front office`
    if not phrase.head:
        # A name without a head needs more than a person's name has.
        first = phrase.words[0].lower().rstrip(".")
        if (first in TITLES and first not in ("st", "saint")) or not phrase.definite:
            return None
        if phrase.lead not in ("at", "to", "by", "with", "in", "") or _is_area(name):
            return None
        if phrase.words[-1].lower() in _NO_PLACE_ENDS:
            return None
        if (phrase.lead != "at" and "'s" not in name and "’s" not in name and not answered) or len(
            phrase.words
        ) == 1:
            return None
        return NamedPlace(name, nothing, Role.DROP_OFF, town=phrase.town)
    if phrase.named:
        if phrase.head in WEAK_PLACE_HEADS and not any(_names(word) for word in phrase.words[:-1]):
            return None
        return NamedPlace(_capitals(phrase.words), nothing, Role.DROP_OFF, town=phrase.town)
    if not phrase.definite or (
        phrase.head in WEAK_PLACE_HEADS and phrase.head not in ("porch", "lobby", "mill")
    ):
        return None
    fuller = _fuller(phrase, before)
    if fuller is not None:
        found = shared.find(" ".join(fuller.words), fuller.town)
        if found is not None:
            return NamedPlace(_capitals(fuller.words), nothing, Role.DROP_OFF, found.id, found.town)
        return NamedPlace(_capitals(fuller.words), nothing, Role.DROP_OFF, town=fuller.town)
    homely = shared.of_kind(phrase.words, towns)
    if homely is not None:
        return NamedPlace(homely.name, nothing, Role.DROP_OFF, homely.id, homely.town)
    # `The post office in Pipers Reach` is a name by its town.
    full = f"{phrase.town} {_capitals(phrase.words)}" if phrase.town else name
    return NamedPlace(full, nothing, Role.DROP_OFF, town=phrase.town)


def _is_area(name: str) -> bool:
    return name.endswith((" County", " Street", " Road", " Avenue", " Lane"))


def _fuller(phrase: _Phrase, before: Sequence[Sequence[_Phrase]]) -> _Phrase | None:
    """An earlier phrase of the segment that names what `the library` is."""
    for earlier in reversed(before):
        for each in reversed(earlier):
            if (
                each is not phrase
                and each.named
                and len(each.words) > 1
                and _ALIKE.get(each.head, each.head) == _ALIKE.get(phrase.head, phrase.head)
            ):
                return each
    return None


_PARTS = word_set(
    "office lobby desk counter basement lot room kitchen gym porch hall door garage yard auditorium"
)
"""Parts of a place."""
_ALIKE = {
    "high": "school", "elementary": "school", "academy": "school", "firehouse": "station", "chapel": "church", "parish": "church",
    "gymnasium": "gym", "fairground": "fairgrounds", "pharmacy": "drugstore", "supermarket": "store", "shop": "store",
}  # fmt: skip
"""Heads that speak of one another: `Heronsgate High` is `the school`."""


def _capitals(words: Sequence[str]) -> str:
    return " ".join(
        word if word.lower() in ("of", "the", "and", "in") else word[:1].upper() + word[1:] for word in words
    )


def _once(found: Sequence[NamedPlace]) -> Iterator[NamedPlace]:
    """Each place once; a shorter name of one that is there already is the same."""
    kept: list[NamedPlace] = []
    for place in found:
        key = _key(place.name)
        same = next(
            (other for other in kept if key == _key(other.name) or (place.id and place.id == other.id)), None
        )
        if same is None and not any(key < _key(other.name) for other in kept):
            kept = [other for other in kept if not (_key(other.name) < key and not other.id)]
            kept.append(place)
    yield from kept


def looks_like_name(word: str) -> bool:
    """True for a word that no dictionary has as a common one."""
    return word[:1].isupper() and not is_common(word)
