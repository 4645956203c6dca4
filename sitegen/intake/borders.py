"""Where one story ends and the next begins, by the speech itself.

Every start of a sentence is weighed: signs of the trade (a captioner's mark, sign-offs, hand-offs, `next`, `finally`, greetings of a guest), how a story
opens and closes, how far the words before and after differ, whether they are of one kind (`kinship.py`), and the very words there (`turnings.py`); and the signs of its
neighbours. So is every stretch that may be a story, a greeting or a goodbye
(`stretches.py`). Their weights were fitted together, on whole divisions of the tuned programmes of `tests/samples/programmes`; `dividing.py` finds what is likely.

The change of vocabulary follows M. A. Hearst, "TextTiling" (Computational Linguistics 23 (1), 1997): the likeness of the words on both sides of a gap.
"""

from __future__ import annotations

import itertools
import math
import re
from bisect import bisect_left
from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from functools import lru_cache
from operator import mul

from sitegen.intake.asking import addresses, asks, gives, hands_in
from sitegen.intake.dividing import Worth, best_of, chances, likely_starts
from sitegen.intake.kinship import Place, kin_signs, kinship
from sitegen.intake.records import Sentence
from sitegen.intake.stretches import (
    CLOSING,
    CONTACT,
    GOODBYE_SIGNS,
    GREETING_SIGNS,
    LONGEST,
    OPENING,
    STORY_SIGNS,
    USUAL,
    goodbye_signs,
    greeting_signs,
    story_signs,
)
from sitegen.intake.turnings import (
    frame,
    frame_signs,
    freshness,
    newness,
    of_neighbours,
    turn_signs,
    wording_signs,
    wordings,
)
from sitegen.intake.vocabulary import FUNCTION_WORDS, VERBS_OF_SPEECH, word_set
from sitegen.intake.weighing import weights

WINDOW = 6
"""Sentences on each side whose words are compared."""

ENOUGH = 0.22
"""How likely a border must be: one too many is mended by one deletion, one too few hides a story (chosen so that recall is above precision on programmes left
out of the fit)."""
SURE = 0.9
"""How likely the goodbye must have begun: a story that loses its last words is worse than one that ends with a goodbye (chosen here)."""
MARK = 12.0
"""A captioner's `>>>`."""
GUESTS_STAY = 45
"""Sentences within which a guest's first and last word lie: whoever speaks later, too, presents the show (chosen here)."""

_OPENERS = re.compile(
    r"\A(?:(?:well|okay|ok|all right|and|but|so|now|oh|yes|right|listen|folks),? )*(?:(?:we|we'll|let's) (?:begin|start|open|turn|move|go|stay|head)\b|let's (?:talk|look|check|hear|meet|finish|end)\b|say hello to|it(?: all)? (?:started|began) (?:with|when|in|on|last)|switching gears|changing (?:gears|the subject)|on a (?:lighter|sweeter|happier|different|smaller) note|closer to home|staying in|it's (?:time|not every)|time (?:now )?for|i've been (?:waiting|wanting|meaning)|ask (?:anybody|anyone)|what would you do|i (?:want|'d like) to (?:start|bring|talk|introduce|turn)|i'm going to start|(?:our|the|my|tonight's|this) (?:next|first|last|final|top) (?:story|stop|guest|one|item)\b|next(?: up)?\b|up next|first up|first of all|first,|turning (?:now )?to|moving (?:on|along)|meanwhile|elsewhere|also (?:tonight|today|this)|in other|over (?:in|at|on)\b"
    r"|(?:and )?finally\b|last (?:one|thing|up|but)|one (?:last|more|final)|to (?:end|finish|close|begin|start)|a last\b|before we go|and (?:now (?:to|for|a|an|the|something|some|we|here|here's|let's)|here's)|now (?:to|for|a|an|here's)|here(?:'s| is) (?:an?|one|some|another|the|something)\b(?! (?:thing|problem|catch|trick|question|rub|deal|part)\b)|speaking of|from .{3,40} to \w+|back in|we (?:end|close|finish|begin|told you|brought you|showed you|introduced you|have an update|want to update)|(?:last (?:week|month|year)|back in \w+),? we (?:told|met|brought|showed|introduced|asked|had|heard|ran|reported|visited|took|were)|it's hard to believe|(?:some )?(?:good|great) news (?:for|from|tonight)|an update|remember (?:when|the)|you(?:'ll| all| folks)? (?:may|might|probably|surely|all|will)? ?(?:remember|recall)\b|you (?:may|might|probably|all) know|you(?:'ve| have) (?:all |both |probably )*(?:heard|seen|met|noticed|probably)|it's that time|welcome back|for the (?:1st|first) time|imagine|picture this|got an?\b|do you|did you ever|have you ever|ever (?:wonder|seen)|can we|can i (?:tell|do)|my turn|your turn|something (?:useful|different|else)|what do you|let me\b|(?:and )?we(?:'ll| will)? (?:leave|end|close|finish)|i'll tell you|this is [a-z]+\.|listen to|hang on|wait till you|check (?:this|it) out|see (?:that|this|those|him|her)\b|can you (?:see|hear|smell)|do you hear|how do you|stop number|real talk|(?:i|we) (?:love|like) this (?:one|next|story)|this (?:next )?one\b|you know (?:who|what|how|that)\b|my (?:next|last|first) guest|it's a funny|i(?:'ve)? (?:just |also )?(?:had|got|have)(?: got)? an? (?:\w+ )?(?:letter|note|call|postcard|correction|update|request|question for|story|picture|favor|confession|surprise)\b|(?:go (?:on|ahead),? )?(?:tell|show|give) (?:us|them|me|him|her|everybody|everyone|people|the \w+) (?:all |a little |more )*(?:about|what|how|who|why)\b|it's (?:nearly |almost |about |that )?(?:\w+ )?season\b|that's where we (?:start|begin)|i've (?:only )?got (?:one|some|something) (?:more|last|else|minutes?)|i'll let you go|when i say|(?:one )?more (?:thing|story)|down (?:by|at|in|on) the|with \w+ (?:\w+ )?(?:upon us|around the corner|on (?:its|the) way|coming))"
)
_WEAK_OPENERS = re.compile(
    r"\A(?:if|when) you(?:'ve|'re| have| are|r)? |\A(?:(?:well|okay|and|but|so|now|all right|oh),? )*(?:now\b|a (?:\w+ ){1,4}(?:has|have|is|are|from|in|who|out)|an? \w+|the (?:\w+ ){1,5}(?:has|have|is|are|was|were)|there(?:'s| is| are)|at (?:\d|the)|in (?:[a-z]+ ){1,2}|for \d|it(?:'s| is| was) (?:been|that|the|not every|a)|this (?:week|morning|is)|(?:\d+(?! dollars\.)(?= \w+ \w+ \w+)|students|volunteers|members|neighbors|firefighters|police|residents|officials|organizers)|(?:mon|tues|wednes|thurs|fri|satur|sun)day (?:is|was|marks|night)|last (?:spring|summer|fall|winter|week|night|year)|every (?:year|town|morning|\w+day)|when (?:the|a|his|her|their)|some of you|somebody|a retired|(?:up|over|out|down) (?:at|on|in) |on (?:mon|tues|wednes|thurs|fri|satur|sun)day|most of us|folks (?:in|at|around)|earlier this|after (?:\d+|almost|nearly|more than)|we get (?:a lot|letters|calls)|when [a-z]+ [a-z]+ (?:was|were|got|heard|moved|lost|retired|opened|bought|died|came|went|started)|if you (?:smelled|heard|saw|were|drove|noticed|looked|happened)|people (?:who|in|have)|it (?:dropped|rained|snowed|poured|hit|got)\b|(?:i|we) (?:was|were) (?:over|out|up|down|in|at) |we (?:all|have all) |ever since|who(?:'s| is) |i got |i need to|what does)"
)
_BACK = re.compile(r"\bback to you\b|\breporting (?:live )?(?:from|in|for)\b|\breporting\.?\Z")
_TELLS = re.compile(
    r"\b(?:has|have|had|was|were|says|said|lost|took|came|turned|began|wants|needs|asked|will|would|can|could|goes|went|got|made|gave|you|we|he|she|they|evening|welcome|hello|good)\b"
)
"""Words of a sentence that tells something: a sign-off has none."""
_HAND_OFF = re.compile(
    r"\b(?:here's (?:\w+'s )?[a-z]+ [a-z'-]+|[a-z]+ [a-z'-]+ (?:reports?|explains|has (?:the|more|that|her|his|their|this|our)(?: \w+)? ?(?:story|details|report)?|tells us|shows us|was there|went (?:to|along)|has been (?:to|doing|looking|finding|there|following)|joins us|takes us|took (?:the|a) \w+ (?:with|to)|can explain|found out|met (?:him|her|them)|is (?:there|live|in|on the)|was on the|again)|(?:has|have) (?:the|that|tonight's|our|her|his|their) story)\b"
)
_THANKS = re.compile(
    r"\A(?:(?:okay|well|all right|oh)[,.]? )?(?:thank(?:s| you)(?: so much| very much)?,? (?:[a-z]+)\b|i love that|of course (?:he|she|they) (?:did|was|were|is)|congratulations|good for (?:him|her|them)|wonderful|what a (?:story|great)|that's (?:great|wonderful|lovely))"
)
_GUEST = re.compile(
    r"\b(?:you came in|you've got|tell (?:me|everyone|us)|who's this|what have you (?:got|brought)|i (?:want to|need to|have to) (?:bring|ask|get)|let me (?:get|bring)|next to (?:him|her|me)|in the corner|under the table|joining (?:me|us)|welcome,|sit down|good to (?:see|have) you|is (?:here|with (?:me|us)))\b"
)
_ANAPHORA = re.compile(
    r"\A(?:(?:and|but|so|then|because|still|instead|well|yes|no|okay|right),? )?(?:he|she|it|they|them|his|her|hers|their|its|that|those|these|this|him|both|each|none|nobody|all of|some of (?:them|it|those)|so far|it's|he's|she's|they're|they've|he'd|that's|he'll|she'll|they'd|they'll|another|the (?:group|collection|club|number|deadline|list|first|last day|others?|same|whole|two|rest)|any|last (?:year|winter|christmas|time)|until|nearly|by (?:last|then)|since|why|how|what|where|when do)\b"
)
_PROMISE_LIKE = re.compile(r"\b(?:our (?:web ?)?site|website|our page|your screen|online|dot org|dot com)\b")
_TEASE = re.compile(
    r"\b(?:coming up|still to come|ahead (?:tonight|today|this)|later (?:on|tonight|today)?|when we come back|(?:tonight|today|this (?:morning|noon|evening|week))[,:]|we'll (?:meet|hear|show|visit|have|tell)|you'll (?:meet|hear|see)|we(?:'ve| have) (?:also )?(?:got )?an?\b|there's an?\b[^.]*,[^.]*\band an?\b|and an? \w+ (?:who|that|with))"
)
"""What announces stories that are yet to come."""
_STAY = re.compile(
    r"\b(?:stay (?:put|tuned|with us|right there|where you are|close)|stick (?:around|with us)|don't (?:go (?:away|anywhere|far)|touch that|move)|sit tight|hang on|(?:let's|we'll) (?:get (?:to it|started|going|on with it)|begin|dive in)|here we go|pull up a chair|pour yourself|settle in|right back|after this|be back)\b"
)
_MARKER = re.compile(r"\A(?:all right|alright|okay|anyway|anyhow|now then|so|well|now)\b")
_GAP = 10
"""Sentences that may lie between two uses of a word that hangs together (chosen here)."""
_EARLY = 110
"""Words within which a show says what is to come."""
_SUFFIX_LESS = re.compile(r"[a-z][a-z'-]{2,}")


# --- words -----------------------------------------------------------------------------------


@lru_cache(maxsize=1)
def _stemmer() -> object:
    import snowballstemmer

    return snowballstemmer.stemmer("english")


@lru_cache(maxsize=16384)
def _stem(word: str) -> str:
    return str(_stemmer().stemWord(word))  # type: ignore[attr-defined]


_EVERYDAY = word_set(
    "say said get got go went come came see look make made take took know think like want need time year day week thing people good new one two three old last first way little lot "
    "tell told ask give gave put call find night tonight work home man woman kid kids let still never always everybody somebody nobody something anything everything today"
)


def content_words(text: str) -> list[str]:
    """The stems of a plain sentence's words that say what it is about."""
    found: list[str] = []
    for match in _SUFFIX_LESS.finditer(text):
        word = match[0].removesuffix("'s").strip("'-")
        if (
            len(word) > 2
            and word not in FUNCTION_WORDS
            and word not in _EVERYDAY
            and word not in VERBS_OF_SPEECH
        ):
            found.append(_stem(word))
    return found


def _likeness(
    left: Sequence[Sequence[str]], right: Sequence[Sequence[str]], weight: Mapping[str, float]
) -> float:
    """How alike two stretches are, 0 to 1: the cosine of their words, rare ones weighing more."""
    one, two = Counter(w for words in left for w in words), Counter(w for words in right for w in words)
    dot = sum(one[w] * two[w] * weight[w] ** 2 for w in one.keys() & two.keys())
    size = math.sqrt(
        sum((n * weight[w]) ** 2 for w, n in one.items()) * sum((n * weight[w]) ** 2 for w, n in two.items())
    )
    return dot / size if size else 0.0


# --- weighing --------------------------------------------------------------------------------


def border_scores(sentences: Sequence[Sentence], towns: Collection[str] = ()) -> list[float]:
    """How much speaks for a border before each sentence: logarithms of odds. `towns`: names of the station's towns and counties."""
    of = weights("borders")
    return [
        of.odds(signs) + MARK * sentence.story
        for signs, sentence in zip(border_signs(sentences, towns), sentences, strict=True)
    ]


def border_signs(
    sentences: Sequence[Sentence], towns: Collection[str] = (), kin: Mapping[str, Place] | None = None
) -> list[dict[str, float]]:
    """The signs before each sentence, by name; the first has none. `kin`: the places of words, if not those of the file."""
    words = [content_words(sentence.plain) for sentence in sentences]
    spread = Counter(w for each in words for w in set(each))
    rarity = {w: math.log(1 + len(sentences) / n) for w, n in spread.items()}
    # Where everybody talks at once, a new speaker says little.
    calm = max(0.0, 1 - 1.6 * sum(each.turn for each in sentences) / max(1, len(sentences)))
    host = _host(sentences)
    reporters = {
        name
        for each, following in zip(sentences, [*sentences[1:], None], strict=False)
        if _hands_on(each, following)
        for name in _NAME.findall(each.text)
    }
    reporters |= {match[1] for each in sentences if (match := _I_AM.search(each.text))}
    amid = _amid_guests(sentences)
    chains = _chains(sentences, words)
    worded = wordings(sentences, towns)
    frames = [frame(each) for each in worded]
    alike = kin_signs(words, kinship() if kin is None else kin)
    own = [
        {
            **_signs(sentences, words, rarity, number, host, calm, reporters, towns),
            "amid_guest": amid[number],
            **chains[number],
            **newness(worded, number),
            **freshness(words, number),
            **turn_signs(sentences, number),
            **alike[number],
        }
        if number
        else {}
        for number in range(len(sentences))
    ]
    return [
        {
            **own[number],
            **of_neighbours(own, number),
            **dict.fromkeys(wording_signs(worded, sentences, number), 1.0),
            **dict.fromkeys(frame_signs(frames, number), 1.0),
        }
        if number
        else {}
        for number in range(len(sentences))
    ]


_NAME = re.compile(r"\b[A-Z][a-z’'-]+ [A-Z][\w’'-]+")
_SUBJECT = re.compile(
    r"(?:(?:All right|Okay|Now|Well|So|And|But),? )?([A-Z][a-z’']+) ([A-Z][a-z’'-]+)(?= (?!County|Street|Road|Avenue)[a-z])"
)
"""Somebody with first and last name of whom a sentence tells."""
_CALL = re.compile(r"\A[A-Z][a-z]+(?: [A-Z][a-z]+)?[?,.]?\Z")


def _is_call(sentence: Sentence) -> bool:
    """It is a name and no more: one presenter gives the other the word."""
    return sentence.text.endswith("?") and _CALL.match(sentence.text) is not None


_I_AM = re.compile(r"\b(?:I'm|I’m|I am|This is) ([A-Z][a-z’'-]+ [A-Z][\w’'-]+)")


_HANDED = re.compile(
    r"\A(?:(?:And|But|Here's|Here is|Our|Reporter|Correspondent|Producer|Photographer|The|[A-Z][\w ]{2,20}['’]s)\s+){0,3}[A-Z][a-z’'-]+ [A-Z][\w’'-]+ (?!of\b|and\b|is \w+-|who\b)"
)
_PRONOUNS = word_set(
    "he she they him her them his their theirs he's she's they're he'd she'd they'd he'll she'll they'll they've himself herself themselves"
)


def _hands_on(sentence: Sentence, following: Sentence | None = None) -> bool:
    """It gives the word to a reporter, who then tells the same story: by the words of a hand-off, or by a name with a verb right before somebody
    else speaks."""
    count = len(sentence.plain.split())
    if _HAND_OFF.search(sentence.plain) is not None and count < 30:
        return True
    return (
        following is not None
        and following.turn
        and 3 <= count <= 14
        and _HANDED.search(sentence.text) is not None
    )


def _signs_off(sentence: Sentence, reporters: Collection[str]) -> bool:
    """A reporter's last words: his or her name, a place or the programme, and no more."""
    if len(sentence.text.split()) > 14 or _hands_on(sentence):
        return False
    if _BACK.search(sentence.plain):
        return True
    return any(name in sentence.text for name in reporters) and not _TELLS.search(sentence.plain)


def _host(sentences: Sequence[Sentence]) -> str:
    """Who speaks most, where captions name speakers."""
    spoken = Counter(sentence.speaker for sentence in sentences if sentence.speaker)
    return spoken.most_common(1)[0][0] if spoken else ""


def _amid_guests(sentences: Sequence[Sentence]) -> list[float]:
    """For each sentence, 1 where somebody who speaks in one story alone has spoken and will again, as far as captions name speakers."""
    spoken: dict[str, list[int]] = {}
    for number, sentence in enumerate(sentences):
        if sentence.speaker:
            spoken.setdefault(sentence.speaker, []).append(number)
    made = [0.0] * len(sentences)
    for numbers in spoken.values():
        for before, after in itertools.pairwise(numbers):
            if numbers[-1] - numbers[0] > GUESTS_STAY:
                break
            for number in range(before + 1, after + 1):
                made[number] = 1.0
    return made


def _signs(
    sentences: Sequence[Sentence],
    words: Sequence[Sequence[str]],
    rarity: Mapping[str, float],
    number: int,
    host: str,
    calm: float,
    reporters: Collection[str],
    towns: Collection[str],
) -> dict[str, float]:
    sentence, before = sentences[number], sentences[number - 1]
    tossed = _is_call(before) and number > 1
    if tossed:
        before = sentences[number - 2]  # `… on our website. Dana?` gives the word back.
    text = sentence.plain
    after = sentences[number + 1].plain if number + 1 < len(sentences) else ""
    two = " ".join(each.plain for each in sentences[number : number + 2])
    opener = _OPENERS.search(text) is not None
    lately = " ".join(each.text for each in sentences[max(0, number - 10) : number])
    persons = re.findall(r"(?<!\A)\b[A-Z][a-z’']+(?: [A-Z][\w’']+)+", sentence.text)
    soon = " ".join(each.text for each in sentences[number : number + 3])
    subject = _SUBJECT.match(sentence.text)
    directs = addresses(text) or gives(text) or hands_in(text)
    here = [town for town in towns if town in sentence.text]
    left, right = words[max(0, number - WINDOW) : number], words[number : number + WINDOW]
    asked = sum(
        asks(each.plain) or _PROMISE_LIKE.search(each.plain) is not None
        for each in sentences[max(0, number - 3) : number]
    )
    asked_on = sum(asks(each.plain) for each in sentences[number : number + 3])
    common = math.log(1 + len(sentences) / 6)  # Words of more than five sentences say little.
    last_two = {w for each in words[max(0, number - 3) : number] for w in each}
    own = {word for word in words[number] if rarity[word] > common}
    first_pronoun = next(
        (at for at, word in enumerate(text.replace(",", "").split()) if word in _PRONOUNS), -1
    )
    heard = [each.speaker for each in sentences[:number] if host and each.speaker not in ("", host)]
    guest_before = heard[-1] if heard else ""
    guest_on = next(
        (each.speaker for each in sentences[number : number + 9] if host and each.speaker not in ("", host)),
        "",
    )
    return {
        "sign_off": float(number > 3 and _signs_off(before, reporters)),
        "opener": float(opener),
        "weak_opener": float(not opener and _WEAK_OPENERS.search(text) is not None),
        "directs_on": float(
            directs and any(asks(each.plain) for each in sentences[max(0, number - 2) : number])
        ),
        "call": float(_is_call(sentence)),
        "tossed": float(tossed),
        "new_subject": float(subject is not None and subject[2] not in lately),
        "promise_goes_on": float(
            _PROMISE_LIKE.search(before.plain) is not None
            and (_ANAPHORA.search(text) is not None or -1 < first_pronoun < 3)
        ),
        "thanks": float(_THANKS.search(text) is not None) * (1.0 if sentence.turn else 0.5),
        "hand_off": float(any(_HAND_OFF.search(each.plain) for each in sentences[number : number + 3])),
        "guest": float((not host or sentence.speaker == host) and _GUEST.search(two) is not None),
        "anaphora": float(_ANAPHORA.search(text) is not None),
        "question": float(before.plain.endswith("?")),
        "promise_before": float(
            _PROMISE_LIKE.search(before.plain) is not None and _PROMISE_LIKE.search(text) is None
        ),
        "ask_over": max(-1.0, min(1.0, (asked - asked_on) / 2)),
        "host_turn": float(bool(host) and sentence.speaker == host and sentence.turn),
        "guest_speaks": float(bool(host) and sentence.speaker != host),
        "other_turn": float(not host and sentence.turn) * calm,
        "sound": float(sentence.after_sound),
        "shift": 1.0 - min(1.0, 3 * _likeness(left, right, rarity)),
        "near_shift": 1.0 - min(1.0, 3 * _likeness(left[-2:], right[:3], rarity)),
        "person": float(bool(persons) and all(name not in lately for name in persons)),
        "town": float(bool(here) and all(town not in lately for town in here)),
        "leads_on": float(_ANAPHORA.search(after) is not None),
        "long": min(1.0, len(text.split()) / 16),
        "short_before": float(len(before.plain.split()) <= 6),
        "definite": float(re.match(r"(?:and |but |so )?the\b", text) is not None),
        "quoted_you": float(re.search(r"\b(?:you can|you'll|please)\b", text) is not None),
        "shares": float(bool(own & last_two)),
        "reply_first": float(
            sentence.turn
            and len(text.split()) <= 7
            and bool(_OPENERS.search(after) or _WEAK_OPENERS.search(after))
        ),
        "town_soon": float(any(town in soon and town not in lately for town in towns)),
        "past_link": float(
            re.search(
                r"\b(?:also|too|either|again|other|another|then|still|even|either|same|instead|anyway|though)\b",
                text,
            )
            is not None
        ),
        "same_guest": float(guest_on != "" and guest_on == guest_before),
        "new_guest": float(guest_on != "" and guest_on not in heard),
        "handed_on": float(_hands_on(before, sentence)),
        "short_question": float(text.endswith("?") and len(text.split()) <= 9),
        "goes_on": float(
            not opener and re.match(r"(?:and|but|or|so|because|then|also|plus)\b", text) is not None
        ),
        "contact_before": float(CONTACT.search(before.plain) is not None),
        "late_pronoun": float(first_pronoun >= 5),
        "answer": float(before.plain.endswith("?") and sentence.turn),
        "pronoun": float(
            re.search(r"\b(?:he|she|they|him|her|them|his|their|theirs|himself|herself|themselves)\b", text)
            is not None
            and not (subject is not None and subject[2] not in lately)
        ),
    }


def _chains(sentences: Sequence[Sentence], words: Sequence[Sequence[str]]) -> list[dict[str, float]]:
    """For each sentence, how the uses of words hang together around the gap before it, and how the talk turns there.

    A chain is a word that comes again within a few sentences. A story's chains begin at its start and end at its end, and none goes across a border
    (the idea is J. Morris and G. Hirst, "Lexical Cohesion Computed by Thesaural Relations", Computational Linguistics 17 (1), 1991). Words
    that many parts of the show use, such as names of its hosts, hold nothing together.
    """
    count = len(sentences)
    uses: dict[str, list[int]] = {}
    for number, each in enumerate(words):
        for word in set(each):
            uses.setdefault(word, []).append(number)
    capitals = {
        word.lower().removesuffix("'s").removesuffix("’s")
        for each in sentences
        for word in re.findall(r"(?<=[a-z,] )[A-Z][a-z’']+", each.text)
    }
    named = {_stem(word) for word in capitals}
    across, begin, end, names = ([0.0] * (count + 1) for _ in range(4))
    for word, numbers in uses.items():
        runs: list[list[int]] = [[numbers[0]]]
        for number in numbers[1:]:
            if number - runs[-1][-1] <= _GAP:
                runs[-1].append(number)
            else:
                runs.append([number])
        if len(runs) > 3:
            continue
        for run in runs:
            if len(run) < 2:
                continue
            begin[run[0]] += 1
            end[run[-1] + 1] += 1
            for number in range(run[0] + 1, run[-1] + 1):
                (names if word in named else across)[number] += 1
    early = 0
    total = 0
    while early < count and total < _EARLY:
        total += len(sentences[early].plain.split())
        early += 1
    return [
        {
            "chains_across": min(1.0, across[number] / 3),
            "chains_begin": min(1.0, sum(begin[number : number + 3]) / 4),
            "chains_end": min(1.0, sum(end[max(0, number - 2) : number + 1]) / 4),
            "names_across": min(1.0, names[number] / 2),
            "tease": float(number < early and _TEASE.search(sentences[number].plain) is not None),
            "stay_before": float(number > 0 and _STAY.search(sentences[number - 1].plain) is not None),
            "marker": float(_MARKER.search(sentences[number].plain) is not None),
            "i_speak": float(
                _OPENERS.search(sentences[number].plain) is None
                and re.match(
                    r"(?:(?:and|but|so|well),? )?(?:i|i'm|i've|i'd|i'll|my|me)\b", sentences[number].plain
                )
                is not None
            ),
        }
        for number in range(count)
    ]


# --- dividing --------------------------------------------------------------------------------


def divide(sentences: Sequence[Sentence], towns: Collection[str] = ()) -> tuple[list[int], int]:
    """(indexes of the sentences that begin a story, the index behind the last story).

    What lies before the first and behind the last is greeting and goodbye.
    """
    count = len(sentences)
    if count == 0:
        return [], 0
    if sum(sentence.story for sentence in sentences) >= 4:
        # The captioner marked stories; whoever does it marks all.
        return _as_marked(sentences)
    likely = chances(worth(sentences, border_scores(sentences, towns)))
    starts = likely_starts(likely.starts, [each.start / 1000 for each in sentences], ENOUGH)
    sums = list(itertools.accumulate(likely.goodbye[starts[-1] + 1 :]))
    end = starts[-1] + 1 + bisect_left(sums, SURE * sums[-1])
    return starts, end


def divide_into(
    sentences: Sequence[Sentence], count: int, towns: Collection[str] = ()
) -> tuple[list[int], int]:
    """The same, with exactly `count` stories. Needs at least `count` sentences, and `count` at least 1."""
    usual = max(4.0, (sentences[-1].end - sentences[0].start) / 1000 / count)
    starts, end = best_of(worth(sentences, border_scores(sentences, towns), usual, len(sentences)), count)
    if end == len(sentences):  # Words of goodbye at the very end are no story's, however short the show.
        end = starts[-1] + closing_start(sentences[starts[-1] :], 0)
    return starts, end


def worth(
    sentences: Sequence[Sentence], scores: Sequence[float], usual: float = USUAL, longest: int = LONGEST
) -> Worth:
    """What every border and every stretch is worth. `usual`: seconds of a usual story."""
    of = weights("borders").of
    words = [content_words(each.plain) for each in sentences]
    story, greeting, goodbye = ([of.get(name, 0.0) for name in names] for names in (STORY_SIGNS, GREETING_SIGNS, GOODBYE_SIGNS))  # fmt: skip
    return Worth(
        [0.0, *scores[1:]],
        [
            [sum(map(mul, story, signs)) for signs in row]
            for row in story_signs(sentences, words, usual, longest)
        ],
        [sum(map(mul, greeting, signs)) for signs in greeting_signs(sentences)],
        [sum(map(mul, goodbye, signs)) for signs in goodbye_signs(sentences)],
    )


def _as_marked(sentences: Sequence[Sentence]) -> tuple[list[int], int]:
    """By the captioner's marks; the words before the first are a story where they do not greet."""
    count = len(sentences)
    starts = sorted({0, *(number for number, each in enumerate(sentences) if each.story)})
    if is_opening(sentences[: starts[1]]):
        del starts[0]
    last = sentences[starts[-1] :]
    if is_closing(last):
        return starts[:-1], starts[-1]
    return starts, starts[-1] + closing_start(last, 0) if closing_start(last, 0) < len(last) else count


def is_opening(sentences: Sequence[Sentence]) -> bool:
    """A first stretch that greets and announces, and tells no story yet."""
    hits = [OPENING.search(each.plain) is not None for each in sentences]
    words = sum(len(each.plain.split()) for each in sentences)
    return (sum(hits) * 3 >= len(sentences) and words < 90) or (any(hits[:3]) and words < 60)


def is_closing(sentences: Sequence[Sentence]) -> bool:
    """A last stretch that says goodbye from its start on, or is hardly more than that."""
    begins = closing_start(sentences, -1)
    return begins <= 1 or (begins < len(sentences) and begins * 2 <= len(sentences) <= 5)


def closing_start(sentences: Sequence[Sentence], start: int) -> int:
    """The index at which the goodbye begins within the last stretch; its length when there is none."""
    for number in range(max(start + 1, len(sentences) - 8), len(sentences)):
        if CLOSING.search(sentences[number].plain):
            return number
    return len(sentences)
