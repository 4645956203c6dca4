"""Where one story ends and the next begins, by the speech itself.

Every start of a sentence is weighed: signs of the trade (a captioner's mark, sign-offs, hand-offs, `next`, `finally`, greetings of a guest), how a story
opens and closes, and how far the words before and after differ. Weights were set on the tuned programmes of `tests/samples/programmes`. The best
division is then found over the whole programme at once, with a cost for stories that are very short or very long.

The change of vocabulary follows M. A. Hearst, "TextTiling" (Computational Linguistics 23 (1), 1997): the likeness of the words on both sides of a gap.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from sitegen.intake.records import Sentence
from sitegen.intake.vocabulary import FUNCTION_WORDS, VERBS_OF_SPEECH

WINDOW = 6
"""Sentences on each side whose words are compared."""


@dataclass(frozen=True, slots=True)
class Weights:
    """What each sign is worth; a border needs `threshold` in all."""

    mark: float = 12.0
    sign_off: float = 3.0
    opener: float = 2.2
    weak_opener: float = 0.8
    hand_off: float = 2.0
    guest: float = 2.0
    shift: float = 3.2
    host: float = 0.8
    same_turn: float = -0.7
    sound: float = 0.3
    anaphora: float = -1.6
    question: float = -1.2
    promise: float = 1.2
    new_names: float = 0.9
    place: float = 0.8
    address: float = 1.0
    threshold: float = 3.3
    shortest: float = 12.0
    """Seconds; a shorter story costs."""


WEIGHTS = Weights()

_OPENERS = re.compile(
    r"\A(?:(?:well|okay|ok|all right|and|but|so|now|oh|yes|right|listen|folks),? )*(?:(?:we|let's) (?:begin|start|open|turn|move|go|stay|head)|i (?:want|'d like) to (?:start|bring|talk|introduce|turn)|i'm going to start|our (?:next|first|last|final|top) (?:story|stop|guest)|next(?: up)?\b|up next|first up|first of all|turning (?:now )?to|moving (?:on|along)|meanwhile|elsewhere|also (?:tonight|today|this)|in other|over (?:in|at|on)\b"
    r"|(?:and )?finally\b|last (?:one|thing|up|but)|one (?:last|more|final)|to (?:end|finish|close|begin|start)|a last\b|before we go|and (?:now|here's)|now (?:to|for|here's)|here(?:'s| is) (?:a|an|one|some|another|the|something)|speaking of|from .{3,40} to \w+|back in|you may (?:remember|recall)|you(?:'ve| have) (?:heard|probably)|it's that time|(?:if|when) you(?:'ve| have|'re| are)? |for the (?:1st|first) time|imagine|picture this|got an?\b|do you|did you ever|have you ever|ever (?:wonder|seen)|can we|can i (?:tell|do)|my turn|your turn|something (?:useful|different|else)|what do you|let me\b|and we(?:'ll| will) leave|we(?:'ll| will) (?:leave|end|close|finish)|i'll tell you|this is [a-z]+\.|listen to|look at)"
)
_WEAK_OPENERS = re.compile(
    r"\A(?:(?:well|okay|and|but|so|now|all right|oh),? )*(?:now\b|a (?:\w+ ){1,4}(?:has|have|is|are|from|in|who|out)|an? \w+|the (?:\w+ ){1,5}(?:has|have|is|are|was|were)|there(?:'s| is| are)|at (?:\d|the)|in (?:[a-z]+ ){1,2}|for \d|it(?:'s| is| was) (?:been|that|prom|tax|the)|this (?:week|morning|is)|(?:\d+|forty|students|volunteers|members|neighbors|firefighters)|last (?:spring|summer|fall|winter|week|night|year)|every (?:year|town|morning|\w+day)|when (?:the|a|his|her|their)|some of you|somebody|a retired|who(?:'s| is) |i got |i need to|what does)"
)
_SIGN_OFF = re.compile(
    r"(?:\b(?:i'm [a-z]+ [a-z'-]+(?:, (?:for )?.{2,40})?|(?:reporting|live) (?:from|in) .{2,40}|(?:for|in|at|from|up|on) .{2,40}, (?:i'm )?[a-z]+ [a-z'-]+(?:,.{2,30})?|[a-z]+ [a-z'-]+, .{2,30}(?:news|wonders|hour|mile|side|desk|now|today|tonight))|\bback to you\b.*|\breporting\b)\.?\Z"
)
_HAND_OFF = re.compile(
    r"\b(?:here's [a-z]+ [a-z'-]+|[a-z]+ [a-z'-]+ (?:reports|explains|has (?:the|more|that) (?:story|details)?|tells us|shows us|was there|went (?:to|along)|has been|joins us|takes us|can explain|found out|is (?:there|live|in))|has (?:the|that|tonight's|our) story|thank(?:s| you),? (?:very much,? )?[a-z]+\b)"
)
_THANKS = re.compile(r"\A(?:(?:okay|well|all right|oh)[,.]? )?(?:thank(?:s| you)(?: so much| very much)?,? (?:[a-z]+)\b|i love that|of course he did|congratulations|good for (?:him|her|them)|wonderful|what a (?:story|great)|that's (?:great|wonderful|lovely))")
_GUEST = re.compile(
    r"\b(?:you came in|you've got|tell (?:me|everyone|us)|who's this|what have you (?:got|brought)|i (?:want to|need to|have to) (?:bring|ask|get)|let me (?:get|bring)|next to (?:him|her|me)|in the corner|under the table|joining (?:me|us)|welcome,|sit down|good to (?:see|have) you|is (?:here|with (?:me|us)))\b"
)
_ANAPHORA = re.compile(
    r"\A(?:(?:and|but|so|then|because|still|instead|well|yes|no|okay|right),? )?(?:he|she|it|they|them|his|her|hers|their|its|that|those|these|this|him|both|each|none|nobody|all of|some of (?:them|it|those)|so far|it's|he's|she's|they're|they've|he'd|that's|he'll|she'll|they'd|they'll|another|the (?:group|collection|club|number|deadline|list|first|last day|other|same|whole|two|dogs|kids|haircuts|advice)|clean|any|last (?:year|winter|christmas|time)|until|to (?:drive|sign)|nearly|by (?:last|then)|since|why|how|what|where|when do)\b"
)
_CLOSING = re.compile(
    r"\b(?:good ?night|that's (?:our|the|it for|all|us|small|\w+ for (?:this|tonight))|see you (?:down|next|then|again|tomorrow)|thanks? (?:you )?for (?:watching|joining|tuning|being)|for all of us|until next|back next|we'll be back|have a (?:good|great|safe)|bye\b|so long|take care|be kind|on that note|from all of us)\b"
)
_OPENING = re.compile(
    r"\b(?:good (?:evening|morning|afternoon|day)|hello|hi (?:there|everyone)|welcome (?:to|back)|i'm [a-z]+ [a-z'-]+|this is [a-z' ]+|tonight[,:]|coming up|ahead (?:tonight|in)|in the next|we've got|we have|stay (?:with us|tuned)|don't go|so let's|morning, everyone)\b"
)
_PROMISE_LIKE = re.compile(r"\b(?:our (?:web ?)?site|website|our page|your screen|online|dot org|dot com)\b")
_SUFFIX_LESS = re.compile(r"[a-z][a-z'-]{2,}")


# --- words -----------------------------------------------------------------------------------


@lru_cache(maxsize=1)
def _stemmer() -> object:
    import snowballstemmer

    return snowballstemmer.stemmer("english")


@lru_cache(maxsize=16384)
def _stem(word: str) -> str:
    return str(_stemmer().stemWord(word))  # type: ignore[attr-defined]


_EVERYDAY = frozenset(
    "say said get got go went come came see look make made take took know think like want need time year day week thing people good new one two three old last first way little lot "
    "tell told ask give gave put call find night tonight work home man woman kid kids let still never always everybody somebody nobody something anything everything today".split()
)


def content_words(text: str) -> list[str]:
    """The stems of a plain sentence's words that say what it is about."""
    found: list[str] = []
    for match in _SUFFIX_LESS.finditer(text):
        word = match[0].removesuffix("'s").strip("'-")
        if len(word) > 2 and word not in FUNCTION_WORDS and word not in _EVERYDAY and word not in VERBS_OF_SPEECH:
            found.append(_stem(word))
    return found


def _likeness(left: Sequence[Sequence[str]], right: Sequence[Sequence[str]], weight: Mapping[str, float]) -> float:
    """How alike two stretches are, 0 to 1: the cosine of their words, rare ones weighing more."""
    one, two = Counter(w for words in left for w in words), Counter(w for words in right for w in words)
    dot = sum(one[w] * two[w] * weight[w] ** 2 for w in one.keys() & two.keys())
    size = math.sqrt(sum((n * weight[w]) ** 2 for w, n in one.items()) * sum((n * weight[w]) ** 2 for w, n in two.items()))
    return dot / size if size else 0.0


# --- weighing --------------------------------------------------------------------------------


def border_scores(sentences: Sequence[Sentence], weights: Weights = WEIGHTS) -> list[float]:
    """How much speaks for a border before each sentence."""
    words = [content_words(sentence.plain) for sentence in sentences]
    spread = Counter(w for each in words for w in set(each))
    rarity = {w: math.log(1 + len(sentences) / n) for w, n in spread.items()}
    host = _host(sentences)
    scores: list[float] = []
    for number in range(len(sentences)):
        scores.append(_score(sentences, words, rarity, number, host, weights) if number else 0.0)
    return scores


def _host(sentences: Sequence[Sentence]) -> str:
    """Who speaks most, where captions name speakers."""
    spoken = Counter(sentence.speaker for sentence in sentences if sentence.speaker)
    return spoken.most_common(1)[0][0] if spoken else ""


def _score(
    sentences: Sequence[Sentence],
    words: Sequence[Sequence[str]],
    rarity: Mapping[str, float],
    number: int,
    host: str,
    weights: Weights,
) -> float:
    sentence, before = sentences[number], sentences[number - 1]
    score = 0.0
    if sentence.story:
        score += weights.mark
    if _SIGN_OFF.search(before.plain) and len(before.plain.split()) < 22 and number > 3:
        score += weights.sign_off
    if _OPENERS.search(sentence.plain):
        score += weights.opener
    elif _WEAK_OPENERS.search(sentence.plain):
        score += weights.weak_opener
    if _THANKS.search(sentence.plain):
        score += weights.hand_off * (0.8 if sentence.turn else 0.4)
    if any(_HAND_OFF.search(each.plain) for each in sentences[number : number + 3]):
        score += weights.hand_off * 0.5
    if host and sentence.speaker == host and _GUEST.search(" ".join(each.plain for each in sentences[number : number + 2])):
        score += weights.guest
    if _ANAPHORA.search(sentence.plain):
        score += weights.anaphora
    if before.plain.endswith("?"):
        score += weights.question
    if _PROMISE_LIKE.search(before.plain) and not _PROMISE_LIKE.search(sentence.plain):
        score += weights.promise
    if sentence.after_sound:
        score += weights.sound
    if host and sentence.turn:
        score += weights.host if sentence.speaker == host else -weights.host * 2
    if not sentence.turn and any(each.turn for each in sentences[number + 1 : number + 3]):
        score += 0.0
    score += weights.shift * _shift(words, rarity, number)
    if _names_something_new(sentences, number):
        score += weights.new_names
    return score


def _shift(words: Sequence[Sequence[str]], rarity: Mapping[str, float], number: int) -> float:
    """How much the vocabulary changes before a sentence, about 0 to 1."""
    left, right = words[max(0, number - WINDOW) : number], words[number : number + WINDOW]
    across = _likeness(left, right, rarity)
    near = _likeness(left[-2:], right[:3], rarity)
    inside = (_likeness(left[: len(left) // 2], left[len(left) // 2 :], rarity) + _likeness(right[: len(right) // 2], right[len(right) // 2 :], rarity)) / 2
    return max(-1.0, min(1.2, 0.75 - 4.0 * across - 2.0 * near + 1.5 * inside))


def _names_something_new(sentences: Sequence[Sentence], number: int) -> bool:
    """The sentence names a person or town that was not named lately."""
    names = set(re.findall(r"(?<!\A)\b[A-Z][a-z’']+(?: [A-Z][\w’']+)+", sentences[number].text))
    lately = " ".join(each.text for each in sentences[max(0, number - 10) : number])
    return bool(names) and all(name not in lately for name in names)


# --- dividing --------------------------------------------------------------------------------


def divide(sentences: Sequence[Sentence], weights: Weights = WEIGHTS) -> list[int]:
    """Indexes of the sentences that begin a stretch, the first one (0) included."""
    count = len(sentences)
    if count == 0:
        return []
    scores = border_scores(sentences, weights)
    marked = sum(sentence.story for sentence in sentences)
    if marked >= 4:
        # The captioner marked stories; whoever does it marks all.
        return sorted({0, *(number for number, sentence in enumerate(sentences) if sentence.story)})
    best = [-math.inf] * (count + 1)
    back = [0] * (count + 1)
    best[0] = 0.0
    for end in range(1, count + 1):
        for start in range(max(0, end - 60), end):
            gain = best[start] + (scores[start] - weights.threshold if start else 0.0) - _length_cost(sentences, start, end, weights)
            if gain > best[end]:
                best[end], back[end] = gain, start
    starts: list[int] = []
    end = count
    while end > 0:
        end = back[end]
        starts.append(end)
    return sorted(starts)


def _length_cost(sentences: Sequence[Sentence], start: int, end: int, weights: Weights) -> float:
    words = sum(len(each.plain.split()) for each in sentences[start:end])
    lines = end - start
    cost = 0.0
    if start and end < len(sentences):
        if words < 35:
            cost += (35 - words) / 10
        if lines < 3:
            cost += 1.5
    if words > 190:
        cost += (words - 190) / 30
    return cost


def is_opening(sentences: Sequence[Sentence]) -> bool:
    """A first stretch that greets and announces, and tells no story yet."""
    hits = sum(_OPENING.search(each.plain) is not None for each in sentences)
    return hits * 3 >= len(sentences) and sum(len(each.plain.split()) for each in sentences) < 90


def is_closing(sentences: Sequence[Sentence]) -> bool:
    """A last stretch that says goodbye."""
    hits = sum(_CLOSING.search(each.plain) is not None for each in sentences)
    return hits >= 1 and len(sentences) <= 8


def closing_start(sentences: Sequence[Sentence], start: int) -> int:
    """The index at which the goodbye begins within the last stretch; its length when there is none."""
    for number in range(max(start + 1, len(sentences) - 8), len(sentences)):
        if _CLOSING.search(sentences[number].plain):
            return number
    return len(sentences)
