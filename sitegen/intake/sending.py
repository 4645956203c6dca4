"""Whether the words send viewers to a place: how much speaks for it, sign by sign.

Every place that a story names is weighed: what the sentence asks of viewers, what stands before and behind the name, what was asked for around it, and what says that
something merely happened there, and what words stand around. Weights (`weights/places.txt`) were fitted on the tuned programmes of `tests/samples/programmes` and on `tests/samples/directions`.
Words are English of everyday requests, common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from sitegen.intake.asking import NEEDING, addresses, appeals, gives, hands_in, signs_up, wants
from sitegen.intake.lexicon import is_common, is_name
from sitegen.intake.noun_phrases import PARTS, Phrase
from sitegen.intake.records import Role, Sentence
from sitegen.intake.vocabulary import STRONG_PLACE_HEADS, TRADE_HEADS, WEAK_PLACE_HEADS, word_set
from sitegen.intake.weighing import weights
from sitegen.intake.wording import first, last, words_of

_VENUE = re.compile(
    r"\b(?:you(?: can|'ll| could)? meet|come (?:and )?meet|stop (?:by|in)|swing by|head (?:to|over|down)|come (?:to|by|on (?:by|down))|go to|walk in|show up|is held|being held|will be held|takes place|taking place|it(?:'s|'ll be) (?:at|on \w+|(?:next |this |this coming )?(?:saturday|sunday|friday|monday|tuesday|wednesday|thursday)|tonight|tomorrow)|they're at|served at|on sale at|for sale|are at|is at|be at|see (?:it|them) at|join (?:them|us)|concert|an evening to|can be (?:found|had|picked|bought)|pick (?:them|it|one|yours|up)|get (?:one|them|yours|it) at|available|sheet at|forms? (?:is|are)|tickets|doors open|kicks off|gather|your chance to|lineup|line up|clinic|performs?|performing|perform|give their|screening|shots?|in the parking lot|(?:will|going to|'ll|can) be (?:at|outside|inside|in front of|set up|open|out)|(?:stops?|stopping|parked?|parking|set up) (?:at|outside|in front of))\b"
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
    r"\b(?:mon|tues|wednes|thurs|fri|satur|sun)days?\b|\b(?:tonight|tomorrow|this weekend|next week)\b|\b\d{1,2}(?:st|nd|rd|th)\b|\bat (?:\d{1,2}(?::\d\d)?|noon)\b|\b(?:half past|quarter (?:past|to)) \w+\b|\b\w+ o'clock\b|\b(?:one|two|three|four|five|six|seven|eight|nine|ten|eleven|noon) to (?:one|two|three|four|five|six|seven|eight|nine|ten|eleven|noon|midnight)\b|\b(?:from|beginning|starting) (?:at )?\d"
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


def direction(sentences: Sequence[Sentence], number: int) -> Role | None:
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
    if answers_where(sentences, number):
        return Role.DROP_OFF
    if _SIGN_AT.search(text) or _VENUE.search(text):
        return Role.VENUE
    if _EVENT.search(text) and (_WHEN.search(text) or _WHEN.search(before)):
        return Role.VENUE
    if _ALSO.search(text) and number and (hands_in(before) or answers_where(sentences, number - 1)):
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
    r"\b(?:belong\w*|thanks|thank you|next|according|close|due|dedicated|related|prior|similar|known|used|went|gone|goes|money|proceeds|grew up|across from|away from) (?:to |in )?(?:the |our |an? )?\Z"
    r"|\b(?:to|for) (?:the )?(?:\w+ )?(?:families|patients|residents|children|kids|seniors|veterans|students|animals|dogs|guests|people|ones|babies|sailors|neighbors|mothers|women|men|boys|girls|folks|residents|campers|crews?) (?:down |up |over |out )?(?:at|in|from|of) (?:the |our )?\Z"
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


def answers_where(sentences: Sequence[Sentence], number: int) -> bool:
    if not number:
        return False
    question = sentences[number - 1].plain
    return question.endswith("?") and _WHERE.search(question) is not None


# --- rows -----


def listed(phrases: Sequence[Phrase], text: str, answers: bool) -> Iterator[Phrase]:
    """The phrases of a directing sentence that name where to go: behind a preposition, or in a row with one that is."""
    in_row = False
    previous_end = 0
    rows: list[Phrase] = []
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
        led = led and (
            _NO_DIRECTION.search(text[: phrase.start].lower()) is None
            or _IF_SO.search(text[: phrase.start].lower()) is not None
        )
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
        if not inside or phrase.named or phrase.town or (following is not None and not following.head):
            yield phrase


_BESIDE = re.compile(
    r"\b(?:next to|in front of|around the corner from|across the street at|opposite|over at|out at|down at|up at|inside of|outside of|go (?:in)?to|visit|try) (?:the |our )?\Z"
    r"|\b(?:lobby|foyer|entry|entryway|vestibule|hallway|window|kitchen|cellar|gate|rear|loft|annex|desk|counter|basement|office|parking lot|lot|branch|branches|gym|steps|porch|entrance|doors?|door|register|cafeteria|hallway|back|front|side|crew|folks|staff|people|any|both|all|all \w+|either|one|two|three|four|locations|corner) (?:of|at|from) (?:the |our )?\Z"
    r"|\b(?:place|spot|site|drop-?offs?|locations?|closest|nearest|easiest|bins?|boxes|one|another|second|places)(?: \w+ \w+)? (?:is|are|includes?|include|being)(?: probably| also| over at| still)? (?:the |our )?\Z"
    r"|\bor from (?:the |our )?\Z|\b(?:at|to|with|by), (?:the |our )?\Z"
)
"""Words before a place that say: there."""


def _subjects(phrases: Sequence[Phrase], text: str) -> frozenset[int]:
    """Where the phrases begin that take things in: `A, B and the C all have bins`."""
    found: set[int] = set()
    row: list[Phrase] = []
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


# --- signs -----------------------------------------------------------------------------------

_IMPERATIVE = re.compile(
    r"(?:\A|[,;:.] |\b(?:and|or|so|then|just|please|but|you|to|can|could|you'd|you'll|should|folks|people|must) )(?:just |please |simply |also |always |then )?"
    r"(?:bring|take|leave|drop|hand|give|send|put|mail|walk|carry|haul|toss|pass|run|swing|set|slip|stick|hang|slide|turn in|go|come|stop|head|see|ask|call|look|visit|try|get|pick|sign|register|meet|show up|tell|find|join|pull|park|stand|drive)\b"
)
_ANYBODY = re.compile(r"\byou(?:'ll|'d|'re|'ve)?\b|\byours?\b|\banybody\b|\banyone\b|\bfolks\b|\bpeople\b")
_OTHERS_DO = re.compile(
    r"\b(?:they|he|she|we|it|who|that|which|husband|wife|crew|club|guys?|[a-z]+s|[a-z]+'s) (?:(?:then|all|just|will|would|can|also|both|'ll|even|always|usually|already|still) ){0,2}"
    r"(?:sends?|sent|gets?|got|brings?|brought|takes?|took|delivers?|drives?|drove|trucks?|gives?|gave|hands?|ships?|hauls?|carr(?:y|ies)|goes?|went|meets?|works?|moves?|runs?|does|plays?|sings?|walks?|walked|met|worked|moved|ran|played|sang)\b[^.;:]{0,50}\Z"
    r"|\bi (?:then |just |always |usually |still )?(?:drive|drove|take|took|bring|brought|haul(?:ed)?|carr(?:y|ied)|work(?:ed)?|walk(?:ed)?|deliver(?:ed)?|teach|taught|live(?:d)?|grew)\b[^.;:]{0,50}\Z"
    r"|\b(?:[a-z]+|[a-z]+'s) (?:runs|works|leads|teaches|cooks|drives|sings|plays|lives|coaches|manages|heads|owns|tends|minds|directs|plows|delivers|studies|sleeps|sits|hangs)\b[^.;:]{0,50}\Z"
)
"""Somebody else who brings, goes or works there."""
_SOMEBODY_THERE = re.compile(
    r"\b(?:work(?:s|ed|ing)?|teach(?:es)?|taught|volunteer(?:s|ed)|job|student|students|principal|teacher|librarian|nurse|janitor|custodian|sings|sang|plays|played|cooks?|cooked|lives?|lived|living|staying|runs|ran|owns|owned|been|members?|director|manager|president|owner|coach|class|kids|guy|man|woman|chef|waitress|doctors?|families|patients|residents|guests|campers|players|two of the \w+|stagehands?)(?: \w+){0,2} (?:at|of|with|in|for|from)(?: the| our)? \Z|\b(?:talk|speak|listen|wave|according|married|belongs?|thanks) to(?: the)? \Z"
)
_HAPPENED = re.compile(
    r"\b(?:was|were|had|did|didn't|wasn't|weren't|went|came|gave|took|said|found|made|got|saw|knew|told|began|held|brought|left|sent|built|ran|sat|stood|lost|bought|paid|kept|heard|put up|\w{3,}ed)\b"
)
_HAPPENED_BEHIND = re.compile(
    r"(?:'s)?(?: (?!has\b|have\b)\w+)? (?:was|were|had|lost|gave|took|went|came|got|burned|closed|moved|found|made|held|started|opened|began|won|let|said|\w{3,}ed)\b"
)
_DENIED = re.compile(
    r"(?:\b(?:not(?! (?:just|only|merely|simply|even just)\b)|nothing|no longer|never|don't|can't|won't|isn't|aren't|instead of|rather than|except|used to)\b|n't\b)[^,.;:]{0,30}\Z"
)
_LANDMARK = re.compile(
    r"\b(?:next door to|across (?:the (?:street|road|way) )?from|next to|near|past|just past|opposite|(?:is|are|'s|right|up|floor|room|apartment|flat) over|(?:upstairs|downstairs|upriver|downriver|downhill|uphill|catty-corner|kitty-corner|down the (?:hall|block|road|street|hill)|up the (?:hall|block|road|street|hill)|two doors|a few doors|around the (?:corner|side|back)) from|above|on the way to|before you (?:get|come) to|after you pass|you(?:'ll)? pass|(?:go|drive|walk) past|(?:turn|left|right) (?:after|before|past)|(?:turn|turn left|turn right|hang a left|hang a right|a left|a right|bear left|bear right) at|towards?|halfway to|headed for|between|beyond|beside|up from|down from|a block from|over from|the street from)(?: the| our)? \Z"
)
_NOT_ONLY = re.compile(
    r"(?:\bnot|n't) (?:just|only|merely|simply)(?: (?:at|in|to|with|by|for))?(?: the| our)?(?: \w+)? \Z"
)
"""The place is one of several: `it's not just the bakery now`."""
_IF_SO = re.compile(
    r"\b(?:if|whatever you|anything you|when you|whenever you|should you)\b[^.;:]{0,45}, (?:it|they|that|those|them|these|the \w+|your \w+)(?:'ll| all| both| can| should| just| simply)* (?:go|goes) (?:straight |right |over |down |up |in |on )*(?:to|in|into|at|with)(?: the| our)? \Z"
    r"|\b(?:yours?(?: \w+)?|whatever you(?:'ve got| have| find| bring| don't \w+)?|anything you(?:'ve got| have| find| bring| don't \w+)?) (?:\w+ )?(?:go|goes) (?:straight |right |over |down |up |in |on )*(?:to|in|into|at|with)(?: the| our)? \Z"
)
"""Where a viewer's own things go: `if there's a jar, it goes to the bakery`."""
_BENEFITS = re.compile(
    r"\b(?:goes?|going|went|money|proceeds|benefits?|helps?|raised|raise|fund|delivered|sent|send them over|moved|drive(?:s)? them|trucks? them|goes out) (?:\w+ ){0,3}(?:to|for|at)(?: the| our)? \Z"
    r"|\b(?:benefits?|benefiting|supports?|supporting|in aid of|in support of|on behalf of|raised? (?:it |money |this |that )?for|raising (?:money )?for|it's all for|all of it's for|it all helps)(?: the| our)? \Z"
)
_ENTRY = re.compile(
    r"\b(?:(?:front|back|side|rear|bay|blue|red|green|yellow|white|black|loading|east|west|north|south|main|kitchen|stage|garage|barn|church|shoe|parts|service|ticket|box|post|lunch|meat|deli|checkout|drive-up|drive-through|drive-thru|help|circulation|reference|info|information|night|mail) "
    r"(?:doors?|entrance|desk|dock|counter|window|porch|steps|hall|office|lot|side|slot|lane|stairs)|counter|register|drive-up|drive-through|drive-thru|window|foyer|lobby|entrance|vestibule|upstairs|downstairs|basement|parking lot|out (?:back|front|behind)|around (?:back|the back|the side)|in the back|up front|by the door|ring the bell|buzzer|knock|ask for|holler|just inside|right inside|the porch|the shed|slot|mailbox)\b"
)
"""Doors, windows and counters: who says which, says where to go."""
_RAISED = re.compile(r"(?: \w+){0,3} (?:took in|raised|brought in|cleared|netted|earned)\b")
"""What came in there: `took in nine hundred dollars`."""
_STANDS = re.compile(
    r"\b(?:parked|set up|standing|box(?:es)?|bins?|barrels?|buckets?|tubs?|crates?|baskets?|jars?|racks?|shel(?:f|ves)|tables?|totes?|trailers?|trucks?|carts?|sheets?|clipboards?|coolers?|freezers?|cans?|bags?|slots?|chests?|hampers?|envelopes?|lists?|forms?|pads?|trees?|drop-?offs?|vans?|wagons?|one|another|some|two|others?|rest|collection|sign-?ups?|cards?|tickets?|pots?)(?:'s|'re)?"
    r"(?:,| is| are| set up| sitting| waiting| out| over| down| up| right| just| that's| stands?| inside| for \w+| marked \w+| back| behind| going)* (?:the \w+ (?:of|at|in|by) )?(?:at|in|on|by|outside|inside|behind|next to|with|under|near|from)(?: (?:the|its|their) (?:\w+ )?(?:counter|bar|desk|mantel|sill|ledge|windowsill|shelf|rail|railing|hook|hooks|steps|stairs|stoop|porch|wall|door|table|end|foot|top|back|front|window|entrance|lobby|foyer|hallway|till|register) (?:at|of|in|by|down at|over at|up at|inside))?(?: (?:the|our|both|either|old|each|all|every))*(?: \w+)? \Z"
)
"""Something that stands or lies there, ready: `there's a bin out behind`."""
_CONTAINER_BEFORE = re.compile(
    rf"(?:{_CONTAINER.pattern}|\b(?:drop-?offs?|window|desk|counter|slot|collection|clipboard|sign-up|list|form|hook|cooler|freezer|shed|dock|door|truck|van|bag|can|one|another)\b)[^.;:]{{0,32}}\Z"
)
_DOES_TAKE = re.compile(
    r"(?:'s|'ll|'d)? ?(?:,[^,]{2,40}, )?(?:on [\w ]{3,25}|in [\w ]{3,20}|over (?:on|in) [\w ]{3,20}|up (?:on|in) [\w ]{3,20})?,? ?(?:all |both |each |also |will |still |now |gladly |already |even |just |would |can |'ll )*(?:(?:is|are|be)(?: also| both| all| still| glad| happy)? (?:to )?)?"
    r"(?:take|takes|taking|takin'|hold|holds|holding|keep|keeps|keeping|accept|accepts|accepting|collect|collects|collecting|receive|receiving|has|have|have got|has got|'s got|got|get|gets|look|fix|want|wants|sell|sells|selling|put|puts|set|save|saves|saving|open|does|do|stays?|says)\b"
)
_TAKES_THEM = re.compile(
    r"(?:'s|'ll|'d|,)?(?: [\w']+){0,8}? ?\b(?:take|takes|taking|hold|holds|holding|holding on to|keep|keeps|keeping|accept|accepts|accepting|collect|collects|collecting|has|have|had|got|get|gets|fix|want|wants|sell|sells|selling|save|saves|saving|look|need|needs|loves?|likes?|use|uses|appreciate|welcomes?|buys?|set up|put out|set out)(?: on to| in| out| up| over| got| also| back)* "
    r"(?:them|it|those|these|whatever|any|anything|donations|a (?:\w+ )?(?:box|bin|barrel|shelf|table|crate|cart|bucket|jar|sheet|rack|basket|can|cooler|freezer|list|tub|bag)|one|two|some|the (?:\w+ )?(?:box|bin|barrel|shelf|crate|cart|form|forms|sheet|list)|yours?|all|your|'em|forms|tickets|boxes|bins|too|as well|applications)\b|(?: is| are|'s|'d be| would be| will be|'ll be| might be)(?: probably| likely| your| the)* (?:nearest|closest|handiest|easiest|quickest|best bet|handier|closer|nearer)\b|(?:'d| would| will|'ll) be (?:glad|happy|tickled|delighted|thrilled|grateful|thankful|pleased)\b(?! (?:to hear|if you))"
)
"""The place takes things in: `Kessler's is holding on to whatever comes in`."""
_GLAD_OF_THEM = re.compile(
    r"(?:'d| would| will|'ll)(?: \w+)? be (?:so |very |only too |really )?(?:glad|happy|tickled|delighted|thrilled|grateful|thankful|pleased) (?:to (?:have|take|get|see|receive|put)|of|for)\b"
)
"""A wish of the place for what is asked: `the clinic would be glad to have them`."""
_EVENT_AT = re.compile(
    r"\b(?:night|nights|supper|suppers|dinner|breakfast|lunch|brunch|sale|auction|raffle|concert|dance|show|play|fair|swap|drive|party|picnic|bingo|tournament|recital|bake-off|cook-off) (?:at|in)(?: the| our)? \Z"
)
_OPEN_WHEN = re.compile(
    r"\b(?:till|until|from|between|after|before|by|at) (?:about |half past |quarter (?:past|to) )?(?:\d|one\b|two\b|three\b|four\b|five\b|six\b|seven\b|eight\b|nine\b|ten\b|eleven\b|twelve\b|noon|midnight|dark|closing|lunch|supper)|\bany ?(?:time|day)\b|\bweek(?:days?|nights?|ends?)\b|\bevery (?:day|\w+day|night|morning|afternoon)\b|\b(?:mon|tues|wednes|thurs|fri|satur|sun)days\b|\baround the clock\b|\bday or night\b"
    r"|\b(?:mon|tues|wednes|thurs|fri|satur|sun)day (?:through|to)\b|\bduring\b|\bopen\b|\bafter hours\b|\bnine to five\b"
)
_STANDING_THERE = re.compile(
    r"\b(?:i'm|we're|he's|she's|i am|we are|i was|we were|[a-z]+ is|[a-z]+'s) (?:(?:here|live|out|over|back|down|up|just|standing|sitting|parked|waiting|somewhere|there) )*(?:at|in|outside|inside|on|from|behind)(?: (?:room \w+|the \w+(?: \w+)?) (?:of|at|in|behind|outside))?(?: the| our)? \Z"
)
_SO_DOES = re.compile(
    r"\b(?:and |or )?so (?:does|is|are|do|will|has|have|did)(?: the| our)? \Z|\bso's (?:the )?\Z|\b(?:same|ditto) (?:at|with|for)(?: the)? \Z"
)
_ON_A_STREET = re.compile(
    r",? (?:over |down |up |out |just |right )?(?:on|at) (?:the corner of )?(?:[a-z]+ ){1,3}(?:street|road|avenue|lane|route|row|highway|bypass|main)\b|,? on (?:main|route|highway|the)\b"
)
_ANY_NEED = re.compile(rf"\b{NEEDING}\b")
_UNTIL = re.compile(
    r"\b(?:until|till|deadline|no later than|last day|by (?:the )?(?:\d|mon|tue|wed|thu|fri|sat|sun|end|noon|jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)\w*|before (?:the|mon|tue|wed|thu|fri|sat|sun|thanks|christ)\w*)\b"
)
_CLAUSE_END = re.compile(r"[;:.,]|\bbut\b")
_GROUPS = word_set(
    "club society association committee circle council friends lions scouts rotary department league guild auxiliary chorus choir band team board foundation fund program project campaign coalition alliance network commission authority agency crew squad troop orchestra ensemble firefighters volunteers nurses teachers growers fishermen lobstermen veterans retirees neighbors students rangers cadets players singers dancers quilters knitters writers painters"
)
"""Ends of names of people together, not of places."""
_GEOGRAPHY = word_set(
    "bend head sound reach point landing falls creek river lake bay island hill valley cove gap ferry harbor beach woods mountain notch ridge junction crossing corner corners flats heights springs village township"
)
"""Ends of names of where people live."""
_KEEP_AWAY = re.compile(
    r"\b(?:stay(?:ing)? (?:away|clear|out)|keep(?:ing)? (?:away|clear|out)|steer clear) (?:from|of)\b[^.;:]{0,30}\Z|\b(?:skip|avoid|forget|never mind|instead of|rather than)(?: about)?(?: the| our| going to| bothering)*(?: \w+)? \Z"
    r"|\b(?:don't|do not|doesn't|didn't|shouldn't|not to|isn't|aren't|wasn't|won't|weren't) [^.;:,]{0,45}\Z|\bnot (?:at|to|in|with)(?: the| our)?(?: \w+)? \Z"
    r"|\b(?:quit|stop|stopped|no more) (?:taking|bringing|leaving|dropping|sending|calling|going|putting|hanging) [^.;:,]{0,40}\Z"
    r"|\b(?:anywhere|everywhere|anyplace|all|any of them|every one) (?:but|except|besides)(?: the| at the)? \Z|\b(?:except|other than|besides)(?: for| at| in)?(?: the| our)? \Z"
    r"|\b(?:nobody|no one|none of the \w+) (?:\w+ )?(?:at|in|from|over at) (?:the )?\Z"
    r"|\bthere(?:'s| is| are) (?:nobody|no one|nothing|none|no (?:more )?[\w-]+) (?:\w+ )?(?:at|in|by)(?: the)? \Z"
)
"""Words before it that keep givers from it: `stay away from the library`, `don't leave them at the school`."""
_NOT_NOW = re.compile(
    r"\A[^.;]{0,60}?\b(?:(?:ran|run|is|are|'s|'re) (?:all )?out(?: of| yesterday| already| for (?:now|today|good|the \w+)| again| just now| this \w+|\Z|[,.])|(?:has|have|'ve) (?:all |now |since )?(?:stopped|quit|folded|ended|finished|packed (?:it )?(?:up|in)|shut (?:down|up shop)|gone under|moved out)(?:,|\.|\Z| (?:for good|now))|(?:does|do|did|is|are|has|have|will|would|can|could)(?: not|n't)(?: \w+)?(?:,|\.|\Z)|not (?:until|till) [^,.]*|(?:that|this) one(?:'s| is) (?:\w+ )?(?:retired|done|full|gone|closed|over|shut|empty|out)|being (?:redone|rebuilt|painted|fixed|moved|torn down)|(?:new|its) (?:roof|floor|boiler|furnace) (?:put in|done|going in)|having its|torn up|under construction|(?:not|isn't|aren't) (?:coming|going) back|(?:begged|backed|bowed|opted) (?:off|out)|sat (?:it|this one) out|(?:has|have) (?:had )?enough(?! of)|(?:is|are|'s|'re) (?:all set\b|stuffed|swamped|bursting|up to (?:here|the|its|their)|at capacity|at (?:its|their) limit|maxed|no help|off the list)|asked (?:us|me|you) (?:to stop|not to)|said (?:stop|enough|uncle)\b|crossed off|off the list|thank(?:s| you),? you(?:'ve| have) been|(?:they|he|she|it) (?:said|says|told \w+) (?:no\b|not|next|maybe|they (?:can't|couldn't)|he (?:can't|couldn't)|she (?:can't|couldn't))|(?:won't|doesn't|isn't|not) (?:\w+ ){0,3}(?:open|ready|start|begin|up and running|up|out|there|set up|working)[^.;]{0,20} (?:until|till|before)|(?:been )?(?:given up|done away with|sold off|torn down|let go)\b|has a wedding|is getting a new|went missing|walked off|(?:was|were|got|been) (?:stolen|soaked|lost|washed out|flooded)|blew away)"
)
"""What is said of it tells that it is not there for anybody now."""
_NOT_THERE_NEXT = re.compile(
    r"\A[^.;?]{0,40}\b(?:(?:been|has|have|had|all|were|was|is|are|it's|they're|now) (?:all |both |long |already )*(?:emptied|taken|spoken for|given (?:away|out|up)|gone|full|sold|sold out|claimed|closed|shut|torn down|filled|cleared out|picked over|done)|ran out|no longer|any ?more)\b|\A(?:(?:oh|well|and|but|now|so),? )*(?:no\b|not (?:any ?more|now|this|yet|there)|nope|(?:please )?(?:don't|do not)(?:[,.]|\Z)|(?:they|it|that|that one|she|he)(?:'re|'s| are| is| was| were| did| had)?(?: all| been)* (?:full|closed|shut|out\b|done|stopped|retired|used to|can't|couldn't|don't|doesn't|didn't|ran out|gave up|filled))"
)
"""The next sentence takes it back."""
_FULL = re.compile(
    r"\b(?:full|filled|overflowing|closed|can't take|cannot take|shut until|picked bare|won't take|stopped taking|has no room|isn't taking|aren't taking|(?:been )?emptied|waiting list|sold (?:out|every)|booked (?:up|solid|out)|spoken for|no (?:more|places|seats|slots|openings)|(?:has|have|'ve) (?:all |now |since )?(?:stopped|quit|folded|ended|shut down|gone under)(?=[,.;]|\Z| for good| now)|been taken (?:up|down|away)|all gone|are (?:all )?taken(?=,))\b"
)
_REFUSED = re.compile(
    r"\b(?:no|nor|not any|nothing) (?:\w+ ){0,3}?(?:there|here|at that one)\b|\bnot there\b|\bno (?:room|space|place|storage)\b|\b(?:do not|don't|please don't|not to|won't) (?:be )?(?:bring|leave|leaving|drop|dropping|take|send|bringing|put|try)\b|\bnowhere to (?:put|store|keep)\b|\bstop (?:leaving|bringing|calling)\b|\b(?:don't|do not|please don't|nobody|never) (?:\w+ )?(?:go|come|bother|drive|head) (?:to|over|there|near|by|with)\b|\b(?:leave|let) (?:them|it|him|her|those folks|the poor \w+) (?:be|alone|rest)\b|\A, no\b|\b(?:not|isn't|aren't) (?:sending|telling) (?:you|anybody|anyone|people|folks)\b|\b(?:that's|it's|is|are) (?:called |all )?off(?=[,.;]|\Z)|\b(?:don't|do not|please don't) (?:\w+ )?(?:pester|bother|trouble|badger|hound|nag) (?:them|him|her|those|the)\b|\b(?:isn't|aren't|not) (?:a |one )?(?:drop-?off|collecting|taking|accepting)\b"
    r"|\b(?:hold|holding) off\b|\b(?:don't|do not|not) (?:make|waste|bother with) (?:the|a|your|that) (?:trip|drive|journey|walk|ride|gas)\b|\b(?:save|spare) (?:yourself|yourselves) (?:the|a|that)\b"
)
"""The clause that follows turns givers away: `but there's no room, so no coats there`."""
_OVER_WITH = re.compile(
    r"\A[^.;]{0,45}?\b(?:(?:that's|that is|it's|it is|is|are|they're|was|been) (?:all |now |been )*(?:gone|picked bare|shut|over|given up|taken down|moved)|(?:isn't|aren't|wasn't|not) (?:there|ready|open|up|out|in|here|set up|put out|done) yet|(?:give|gave|given) (?:it|that|them) up|(?:doesn't|don't|won't|can't|couldn't|hasn't|haven't) (?:do|take|have|got|want|usually|even)|(?:doesn't|don't|isn't|aren't|hasn't|haven't) (?:now|any ?more|any longer|got)|had (?:one|a \w+|it|them) (?:last|until|for a)|used to|did until|stopped|had to give|but they|but it's not)\b"
)
"""It is no longer so, or not yet."""
_FORMERLY = re.compile(
    r"\b(?:(?:there's|there is|it's|they're|is|are) (?:meant|supposed) to (?:be|have) (?:an?|one|another)|did have|used to|(?:was|were) (?:going|supposed|meant|hoping|planning|meaning) to|had (?:a|an|one|the)|was (?:a|an|one)|were (?:a|an)|getting one|be one|last (?:year|time|spring|fall|winter|summer))\b[^.;]{0,50}\Z"
)
_PERSON_BEHIND = re.compile(
    r"\A,? (?:(?:and|but) )?(?:he|she)(?:'s|'d|'ll)?\b|\A, (?:who|whose|the (?!(?:one|big|old|red|white|new)\b)|an? |our |his |her |their |my )|\A,? (?:says|said|thinks|told|figures|reckons|was born|grew up|turned|retired|married)\b|\A'?s? (?:mother|father|wife|husband|daughter|son|sister|brother|grandson|granddaughter)\b"
)
"""Words behind the name of somebody."""
_TO_SOMEBODY = re.compile(
    r"\b(?:(?:talk|talked|talking|speak|spoke|spoken|listen\w*|write|wrote|say hello|thanks?|belongs?|belonged|married|happened|goes|went) to|ask(?:ed)? for|(?:thank you|word|letter|call|check) (?:for|from|to)|made out to) \Z"
)
"""What is done to people: `talk to Jo Finch`."""
_PAST_CONTRAST = re.compile(
    r"(?: (?:on|in|at|over|down|up) [^,.;]{2,25})?,? (?:\w+ )?(?:had|did|was|were|took|ran|kept|held|tried|offered|started|wanted|hoped|meant|planned|agreed|helped|collected|gave|would (?:like|love|have)|used to|is trying)\b[^.;]{0,80}?,? "
    r"(?:but|only|except|though|until|till|and (?:that|those|it(?!(?:'s| is| was) (?:the|an?)\b)|they|he|she|then|now|the)|so that|and \w+ (?:is|are|was|were|has|have) (?:over|gone|done|full|past|finished)|(?:they|it|that|he|she)(?:'re|'s| are| is) (?:not\b|done|over|full|closed))\b"
)
"""What it had or did or wanted, with a but: `had one for years, but they're putting in an oven`."""
_BY_THE = re.compile(
    r"(?:, |\b(?:over|down|up|out|right|there|back|just|around|in|it's|is|are|one|close|gate|door|lot|table|box|bin|barrel|cart|rack|bench|tent|trailer|dock|entrance|driveway|path|stairs|steps|shelf|pile|pallet|spot) )(?:\w+ )?by the (?:\w+ )?\Z|\b(?:near|past|beyond|behind|under|beside) the \w+ (?:of|in) the \Z"
)
"""Where the place that is meant stands: `over by the ferry garage`."""
_SPOTS = word_set(
    "gate gates entrance entrances door doors counter counters desk desks window windows table tables stand stands booth booths stall stalls shelf shelves slot box office steps porch dock docks landing stairs corner lobby "
    "foyer hallway hall room rooms kitchen basement cellar attic loft lot end side back front entry bay wing floor register rack fountain cafeteria auditorium gym ramp drawer cart bin barrel tent trailer"
)
"""Spots within a place."""
_WITHIN = re.compile(
    r"(?:,? (?:in|on|over in|up in|down in|out in) [^,.;]{2,25})?(?:, [^,.;]{2,25}'s)?,? (?:(?:up|down|back|out|over|around|just|right|and|it's|that's) ){0,3}(?:in|on|inside|behind|under|beside|through|by|next to) (?:the |an? )"
    r"|(?:,? (?:in|on|over in|up in|down in|out in) [^,.;]{2,25})?, (?:(?:up|down|back|out|over|around|just|right) ){0,2}(?:at|to) the "
)
_EXPLAINS = re.compile(
    r"(?:\A|,) [^,.;]{0,40}?(?:,|\band) (?:it's|it is|she's|she is|he's|he is|they're|they are|that's|that is|which is) (?:just |right |really |actually |still |only )*(?:the|an?|that|this) \Z|\A, (?:it's|it is|she's|she is|he's|he is|they're|they are) (?:just |right |really |actually |still |only )*(?:the|an?|that|this) \Z"
)
"""What was just named is told from others: `the bus garage, it's the long green building`."""
_PLAIN_FIRST = word_set(
    "old new big little small tall wide short only other same last next main front back side whole nice free extra "
    "half one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred several many most"
)
_PLAIN_LAST = word_set(
    "one ones thing things way ways time times year years day days week weeks month months night nights feet foot inches inch miles mile yards pounds dollars cents minutes hours high long wide deep tall old apart away list map sign book end top bottom bit lot rest kind sort part"
)

_NEVER_NAMED = word_set(
    "something anything nothing everything somebody anybody nobody everybody someone anyone everyone whoever whatever he she they them it you we"
)


_NUMBERS = word_set(
    "two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred"
)
_MEASURES = word_set(
    "feet foot inches inch miles mile yards pounds dollars cents minutes hours days weeks months years degrees acres gallons quarts ounces tons cords"
)
_WARES = word_set(
    "bikes bicycles books toys paint food foods tires seed seeds produce music glass lumber furniture coffee records shoes coats clothes fabrics yarn pets crafts supply supplies goods instruments games puzzles plants garden"
)
_ROOMS_OF_PEOPLE = word_set(
    "kitchen house garage yard barn basement attic driveway backyard bedroom cellar cottage"
)
_WAY = re.compile(
    r"\b(?:walk|drive|go|come|turn|head|run|ride|climb|right|left|hike) (?:right |straight |back )?(?:up|down|along|over|across|through|out|onto|on) (?:the )?\Z"
)
"""By which way one comes to the place: `walk up Harbor Hill to the town hall`."""


def is_measure(words: Sequence[str]) -> bool:
    """`Thirty feet high`."""
    low = [word.lower() for word in words]
    return len(low) > 1 and low[0] in _NUMBERS and not _MEASURES.isdisjoint(low[1:])


def is_plain(words: Sequence[str]) -> bool:
    """What captions in capitals make look like a name: `thirty feet high`, `the little one`, `the big atlas`."""
    low = [word.lower() for word in words]
    return all(is_common(word) and "'" not in word for word in low) and (
        low[0] in _PLAIN_FIRST or low[-1] in _PLAIN_LAST
    )


_NO_NEXT = re.compile(
    r"(?:(?:oh|well|and|but|now|so|god|lord|heavens|mercy|i'm afraid|sorry|bless them),? )*(?:no|nope|not|nah|afraid not|they (?:don't|can't|won't|do not|aren't)|it (?:doesn't|can't|isn't|won't)|she (?:doesn't|can't)|he (?:doesn't|can't))\b"
)
"""The answer is no."""
_ASKED_WHETHER = re.compile(
    r"\b(?:ask(?:s|ed|ing)?|wonder(?:s|ed|ing)?|want(?:s|ed)? to know)(?: us| me| him| her| them)? (?:if|whether|could|can|might|may|should|would|about|was|is)\b[^.;]{0,60}\Z"
)
"""A question that is only told of."""
_YOU_WOULD_THINK = re.compile(
    r"\b(?:you'd|you would|you might|you may|i'd|i would|i) (?:think|thought|have thought|expect|guess|guessed|say|have said|figure|figured|suppose)(?: it's| it was| of| that)*(?: the| our)? \Z"
    r"|\b(?:you|we|they|folks|people|everybody|anybody|everyone) (?:all )?used to\b[^.;]{0,60}\Z"
    r"|\bused to be(?: that)? (?:you|we|they|folks|people|anybody|everybody)(?:'d| could| would| went| took| brought| left)\b[^.;]{0,60}\Z"
)
_BUT_NO = re.compile(
    r"[^.;,]{0,30},? (?:but|and|well,?|only) (?:no|nope|not so|alas no|they won't)(?:[,.!]|\Z)"
)
_FOR_YEARS = re.compile(
    r"[^,.;]{0,45},? (?:(?:for|going on|these|over|in) (?:[\w-]+ ){1,4}(?:years|months|decades|seasons|winters|summers)|all (?:his|her|their|my) life|since (?:nineteen|before|he|she|i was|\d|the (?:war|flood|fire|day|year)))\b"
)
"""So long it has been so: told, not asked."""
_TOO_FAR = re.compile(
    r"(?:'s| is| are)?(?: just| only| a little| a bit| kind of)? (?:too |so |such )?(?:far|out of (?:your|the) way|an? (?:\w+ )?(?:haul|hike|drive|trek|stretch|trip|ride)|not handy|no good|a long way|inconvenient|on the wrong)\b|,? (?:then )?(?:you've|you have) (?:gone|driven|walked|come) (?:too|right) (?:far|past)\b"
)
"""Who will not go so far is told of another: `if Fallow Bridge is too far`."""
_TOLD_YOU = re.compile(
    r"\b(?:we|i) (?:then |also |had |have |just |already )?(?:told you|announced|reported|mentioned|showed you|asked you|ran|brought you|introduced you)\b|\b(?:you'll|you may|you might|you) remember\b|\bremember (?:when|the|that|last)\b|\bas we (?:said|told|reported)\b"
)
"""It goes over what was told before."""
_ON_SITE = re.compile(
    r"[^,.;]{0,40} on (?:our|the|their|this|your|its|his|her)(?: own| station's)? (?:web ?site|site|web ?page|page|screen|phone|app)\b"
)
_HAS_SITE = re.compile(
    r"(?: has|'s)?(?: got)? (?:its|their|his|her|an?|the) (?:own )?(?:\w+ )?(?:web ?site|site|page|phone|number|hotline|newsletter|app)\b"
)
_SOMEBODY_DOES = re.compile(
    r"\b(?:got|broke|wandered|crawled|climbed|flew|walked|escaped|sneaked|snuck|slipped|crashed|rolled|marched|swam|hopped|galloped) (?:in|into|out of|onto|through|loose in|off of)(?: the| our)? \Z|"
    r"\b(?:somebody|someone|nobody|an? (?:[\w-]+ ){0,2}(?:man|woman|fellow|lady|guy|kid|boy|girl|stranger|teenager|driver|neighbor|couple|family|deckhand|nurse|teacher|janitor|librarian|farmer|fisherman|rancher|baker|plumber|carpenter|painter|retiree|widow|widower|grandmother|grandfather|student|crew|mailman|trucker|pilot|sailor|soldier|cook|clerk|mechanic|runner|tourist|hiker|caller|viewer|child|toddler|dog|cat|goat|horse|cow|moose|seal|bear|gull|pigeon|goose|parrot|heron|duck|swan|pelican|otter|raccoon|skunk|porcupine|pig|sheep|llama|donkey|mule|bat|owl|hawk|eagle|rooster|hen|chicken|turkey|fox|coyote|squirrel|rabbit|turtle|snake|whale|puppy|kitten)|(?:a (?:bunch|couple|group|few|handful)|one|some|two|three|four|most|all|half|none) of (?:us|the|our|my|them|his|her|their))\b"
    r"[^,.;]{0,50} (?:\w+ed|slid|gets?|got|drives?|brings?|takes?|hauls?|drops?|walks?|puts?|sends?|works?|sits?|sat|stood|lives?|keeps?|kept|runs?|ran|drove|brought|took|left|sent|gave|came|went|lost|found|split|saw|made|built|bought|won|began|met|flew|swam|fell|slept|ate|wrote|read|sang|held|caught|stole|hid|rode|grew)\b[^.;]{0,75}\Z"
)
"""What some one or other does or did there."""
_SOMEONE_BEHIND = re.compile(
    r"[^.;]{0,30},? (?:there's|there is|there are|they've|they have|he has|she has|we have|we've) (?:got )?(?:an?|one|this|[\w-]+) [^.;]{0,50}?\b(?:named|called|call|calls|who|whose|by the name of)\b"
)
"""Of whom the tale is, that is there: `at the school there's a janitor named …`."""
_AFTERWARD = re.compile(
    r"[^.;,]{0,25},? (?:afterwards?|after that|later on|in the end|eventually|when (?:they're|it's|we're|she's|he's|they are|it is|we are) (?:all )?(?:done|finished|through)|once (?:they're|it's|we're|she's|he's|they are|it is) )"
)
"""Where things go in the end."""
_GAINS = re.compile(
    r" (?:(?:also|then|always) )?(?:gets?|got|receives?|will get|ends? up with|splits?|shares?) (?:the (?:most|rest|money|lot|bulk|profits?|proceeds|difference|benefit|other half)|whatever's|what's left|(?:the |all |most |half |some )?(?:of )?(?:it|the rest|the money) all|all of (?:it|them|that)|most of|every (?:penny|dollar|cent|last)|half|a (?:share|cut|third|quarter|tenth))\b"
    r"| (?:(?:then|also|always) )?(?:hands?|gives?|passes?|deals?|ships?) (?:them|it|those|these|everything) (?:all )?(?:out|away|on|along)\b"
)
"""Whom what came in is for: `the pantry gets the most of it`."""
_VIEWERS_DID = re.compile(
    r"(?<!if )(?<!once )(?<!when )(?<!whatever )(?<!what )(?<!anything )(?<!that )\b(?:you|you all|so many of you|a lot of you|lots of you|some of you|viewers)(?: all| already| folks)? (?:dropped|brought|gave|filled|sent|bought|turned|signed|came|voted|donated|packed|showed|lined|raised|knitted|mailed|stuffed|answered|remembered)\b[^.;]{0,70}\Z"
)
"""What viewers did there before now."""
_LOCATES = re.compile(
    r"(?: (?:in|on) (?!\w+days?\b)[^,.;]{2,25})?,? (?:(?:that's|that is|which is|it's|it is|they're|right|just|out|up|down|over|back) )*(?:in back of|in front of|behind|back of|beside|across from|next to|next door to|up from|down from|near|past|opposite|under|above|around from|up behind|down behind|out behind|kitty-corner from|a block from) (?:the |our |that )?"
)
"""Between a place and what tells where it lies: `the wood yard, that's in back of the old creamery`."""
_YET_TO_COME = re.compile(
    r"(?<!you )(?<!you'd )(?<!you'll )(?<!you do )(?<!you might )\b(?:wants?|hopes?|hoping|plans?|planning|trying|would (?:like|love)|they'd (?:like|love)|talking|talk|dreams?|dreaming)(?: to| of| about| on)+ (?:start|open|set up|begin|build|starting|opening|building|setting up)\b(?! (?:it|them|yours?|rid) )[^.;]{0,30}\Z"
)
"""What somebody would have there some day."""
_NOT_IT = re.compile(
    r"(?:\A|[.;:] |, )(?:(?:and|but|so|just|only|please),? )*not (?:to |at |in |with |by )?(?:the |our )?\Z|\bplease (?:do not|don't)\b[^.;:,]{0,40}\Z|\bdon't (?:take|bring|carry|leave|drop|send|haul|put) (?:them|it|those|yours?|any|anything) (?:over |down |up |out )?(?:to|at|in|by|with) (?:the )?\Z"
)
"""Which one it is not: `not the library`."""
_KEEP_GOING = re.compile(
    r"\b(?:people|folks|they|you|you all|everybody|everyone|some of you|half of you|donors|somebody)(?:'ve| have)? (?:keep|keeps|kept|are still|will keep) (?:on )?(?:going|bringing|leaving|taking|dropping|sending|calling|driving|showing up|turning up|hauling|coming|asking|putting|stopping)\b[^.;]{0,45}\Z"
)
"""What people do wrongly: `folks keep bringing them to the bank`."""
_ONCE = re.compile(
    r"\b(?:there was a time|time was|back when|in the old days|once upon a time|in those days|years ago|when i was|back then)\b[^.;,]{0,50}\Z"
)
"""How it was long ago."""
_WORD_FROM = re.compile(
    r"\b(?:thanks?|thank-yous?|thank you|greetings|word|news|a note|a letter|letters|a card|hello|regards|report|update|bulletin|tale|story) from (?:the |our )?\Z"
)
"""Who sends word."""
_MOVED_TO = re.compile(
    r"\b(?:that|it|this|which|everything|class|classes|sale|supper|show|meeting|clinic|drive|swap|dance|dinner|breakfast|concert|game|pickup|registration|sign-ups?|party|fair|reading)(?:'s| is| has| was| have| will be|'ll be)? (?:all |now |been |just )*(?:moved|moving|switched|relocated|shifted)\b[^.;,]{0,25} (?:to|into|over to|inside|at) (?:the )?\Z"
)
"""Where an event is instead: `so that has moved up the hill to the chapel`."""
_BUILDING = re.compile(
    r"[^.;]{0,12}(?:has|have|'ve|'s|is) (?:got |having )?(?:its|their|the|his|her|no) (?:old |new )?(?:furnace|heat|boiler|roof|ceiling|floors?|power|lights|water|pipes|lift|elevator|wiring|windows|walls|lot|plumbing) ?(?:is |are |being )?(?:out|off|down|up|torn up|in pieces|done|redone|replaced|fixed|painted|paved)\b"
)
"""It is being mended, and nobody can go: `they've got the ceiling down`."""
_DOORS_OF = re.compile(
    r"\b(?:doors?|entrance|driveway|alley|steps|stairs|path|gate|bench|tree|lamp post|sign) (?:right |just |out )?(?:behind|beside|next to|across from|past|under|opposite|near) (?:the )?\Z"
)
"""What lies near the door that is meant."""
_FOLKS_WHO = re.compile(
    r"\b(?:folks|people|crew|guys|ladies|kids|staff|nurses|women|men|students|teachers) (?:\w+ )?(?:at|from|of|in) (?:the |our )?\Z"
)
_WHO_DID = re.compile(
    r",? who (?!will\b|would\b|can\b|takes?\b|has\b|have\b|keeps?\b|are\b|is\b|know\b|wants?\b|needs?\b)[a-z]+\b"
)
"""Who did something: `the folks at the bakery who thought of it`."""
_SAYS_HELLO = re.compile(
    r"(?: who)? (?:says?|sends?|sent|said|wrote|writes) (?:hello|hi\b|thanks|thank you|in\b|us\b|to say|to us|their (?:love|best|regards|thanks)|love\b)"
)
_SHIPPED = re.compile(
    r"\b(?:it|they|that|those|them|everything|all of (?:it|them|that)|every \w+|the \w+)(?:'ll| will|'s| is| are|'re)? (?:all |then |both |later )*(?:be |being |get |gets )?(?:all |then )?(?:driven|trucked|hauled|shipped|flown|delivered|carted|ferried|barged|bused|wheeled) (?:straight |right |on |over |up |down |out |along |off )*(?:to|into|for)(?: the| our)? \Z"
)
"""Where others take it all: `it'll all be driven over to the shelter`."""
_I_DID = re.compile(
    r"\b(?:i|he|she|we|they|my (?:\w+)|her (?:mother|father|sister|brother|husband|son|daughter)|his (?:mother|father|sister|brother|wife|son|daughter)) (?:once |just |even |only |all |first )?(?:bought|saw|heard|ate|lost|found|won|learned|learnt|sang|slept|waited|cried|danced|fell|bowled|skated|voted|studied|proposed|married|graduated|retired)\b[^.;,]{0,35} (?:at|in|from|to|into|outside|inside|by|past)(?: the| our)? \Z"
)
"""What somebody did there himself."""
_SPONSORS = re.compile(
    r",? (?:(?:is|are|will be|'ll be|has been|have been) )?(?:(?:also|even|kindly) )?(?:paying|matching|sponsoring|covering|footing|donating|throwing in|pays|matches|sponsors|covers|foots|paid|matched|sponsored|covered|footed|donated|threw in|put up|picked up) (?:for|the|every|all|half|a|it|us|them|in|what)\b"
)
_SPONSORED_BY = re.compile(
    r"\b(?:paid for|paid|sponsored|funded|matched|donated|provided|covered|underwritten|backed|lent|built|given) by (?:the |our )?\Z|\b(?:courtesy|compliments) of (?:the |our )?\Z"
)
"""Who pays."""
_WORKED_ON = re.compile(
    r"\b(?:tearing down|tore down|torn down|repairing|repaired|rebuilding|rebuilt|fixing up|fixed up|restoring|restored|remodeling|remodeled|renaming|renamed|reroofing|repainting|repainted|selling off|sold off|bought up|naming|named|renovating|renovated|knocking down|pulling down|bulldozing|shutting down|cut (?:a|the) ribbon (?:at|on|for))(?: the| our| that)?(?: old| new)? \Z"
)
"""What is done to the building."""
_BEHIND_ME = re.compile(
    r"(?:'s)?,? (?:(?:right|there|just|up|over) )*(?:behind (?:me|us|you|him|her)|over my shoulder|in the background|in (?:this|that|the) (?:picture|photo|photograph|shot|painting|postcard))\b"
)
"""It is only seen."""
_SURNAMES = word_set(
    "park field mill hall house church temple barn lodge chapel branch banks post garden gardens green woods lake hill stone book books court shore beach forest bridge ford wells store lane"
)
_OTHERS_GO = re.compile(
    r"\b(?:the|all the|half the|any|every|each|every last|most of the|some of the|whatever's|what's|whatever|all) (?:others?|other (?:half|ones|part|two|three)|rest|extras?|leftovers?|left|left over|over|money|cash|proceeds|remainder|surplus|profits?|dollars?|nickels?|cents?|dimes?|quarters?|penny|pennies|scraps|excess)(?: of (?:it|them|that)| we raise| they raise| raised)? (?:\w+ )?(?:go|goes|went|is going|are going|gets?|will go|end|ends|heads?|headed)\b[^.;]{0,40}\Z"
    r"|\b(?:the|all the|our|their) (?:finished|completed|sorted|mended|packed|knitted|filled|extra|remaining|leftover|winning|collected|cleaned|repaired|unsold|unclaimed) (?:\w+ )?\w+ (?:\w+ )?(?:go|goes|get sent|are sent|are going|will go|end up|head)\b[^.;]{0,40}\Z"
)
"""Where what is left goes afterwards."""
_GOES_TO = re.compile(
    r"\b(?:go|goes|going|come|comes|get|is) (?:\w+ )?(?:to|into|in|at|with)(?: the| our)? \Z"
)
_OR_TO = re.compile(r"[^.;]{0,60},? or (?:else |over |up |down )*(?:to|at|the|into|in|with|if)\b")
"""With a choice behind it, where things go is where viewers take them: `goes to the bank, or to the diner`."""
_HAS_NO = re.compile(
    r"[^.;,]{0,40}?,? (?:(?:itself|also|still|just|really|there) )*(?:(?:has|have|had|with|got|is|are|was|'s|'re) (?:got )?(?:no|nothing|nowhere|not)\b|(?:hasn't|haven't|hadn't) (?:got )?(?:an?|any|the|room|space|no)\b|(?:doesn't|don't|didn't|can't|couldn't|won't|wouldn't|does not|do not|cannot|will not) (?:want|like|take|have|need|accept|allow|hold|keep|do|let|collect|store|manage|spare)\b|(?:wants?|needs?) (?:its|their|the|his|her) (?:own )?(?:\w+ ){1,2}(?:back|for|themselves|itself)\b)"
)
"""It lacks what is needed, or will not have it: `the library doesn't want them left`."""
_MAKES_ROOM = re.compile(
    r"(?:,? who)?[^,.;]{0,30}\b(?:has|have|is|are|'s|'re|'ve|will|they've|she's|he's) (?:also |just |kindly |even )*(?:cleared|clearing|made|making|set aside|setting aside|found|given|giving|lent|lending|saved|saving|emptied|kept|keeping|put aside|turned over) (?:us |them |you |me |over |up |out |off )?(?:an?|the|one|some|room|space|its|their|his|her|half|part) ?(?:\w+ )?(?:corner|room|space|shelf|table|drawer|spot|closet|end|wall|counter|back|front|part|half|hook|rack|window|basement|kitchen|hallway|porch|stall|bay)?\b"
)
"""It has made a place for what is brought."""
_AT_SOMEWHERE = re.compile(r",? (?:over |down |up |out |back )?(?:at|on|in|behind) ")
_YOU_KNOW = re.compile(
    r"\b(?:you know|remember|you've seen|ever (?:seen|been|walked|driven))\b[^.;:]{0,40}\Z"
)
_DONE_THERE = re.compile(
    r"\b(?:is|are|gets?|be|being) (?:then |all |later )?(?:packed|sorted|stored|sewn|made|cooked|baked|counted|weighed|washed|repaired|wrapped|built|kept|trained|raised|sent|driven|trucked|shipped|carried|handed|given)(?: \w+)? (?:up |on |over |out )?(?:at|to|in|by)(?: the)? \Z"
    r"|\b(?:ends? up|winds? up|started|hangs|then goes?|goes? on)(?: \w+)? (?:at|in|to|on)(?: the)? \Z"
)
"""What is done there with what was given, or goes on there."""
_OF_HIM = re.compile(r"\A(?:(?:and|but|so|well|now),? )*(?:he|she)(?:'s|'d|'ll)?\b")
_HE_IS_IN = re.compile(
    r"\b(?:he's|she's|he is|she is|he was|she was) (?:(?:back|out|over|up|down|now|there|usually|always) )*(?:in|on|outside)(?: the)? \Z"
    r"|\b(?:(?:see|hear|catch|run into|bump into|meet) (?:him|her)|(?:perform|play|sing|danc|speak)(?:s|es|ing)?) (?:(?:back|out|over|up|down|live|now|there|usually|always|tonight) )*(?:at|in|on|outside|inside)(?: the)? \Z"
)
"""Where somebody is, or performs."""
_LONG_AGO = re.compile(
    r"\b(?:in|since|of|until|around|back in) (?:1[5-9]\d\d|200\d|nineteen (?:\w+teen|\w+ty)\b)"
)
"""A year long gone: `they met at the library in 1954`."""
_HE_OR_SHE = re.compile(r"\A(?:(?:and|but|so|then|well|now|oh),? )*(?:he|she|they|i|we)\b")


@dataclass(frozen=True, slots=True)
class Line:
    """What a sentence of a story is, in itself."""

    role: Role | None
    answers: bool
    hands: bool
    signs: bool
    needs: bool
    wants: bool
    asks_for: bool
    gives: bool
    viewer: bool
    anybody: bool
    container: bool
    told: bool
    limit: bool
    entry: bool


def lines(sentences: Sequence[Sentence]) -> tuple[Line, ...]:
    """Each sentence of a story by itself."""
    return tuple(
        Line(
            role=direction(sentences, number),
            answers=answers_where(sentences, number),
            hands=hands_in(each.plain),
            signs=signs_up(each.plain),
            needs=_ANY_NEED.search(each.plain) is not None,
            wants=wants(each.plain),
            asks_for=appeals(each.plain),
            gives=gives(each.plain),
            viewer=addresses(each.plain),
            anybody=_ANYBODY.search(each.plain) is not None,
            container=_CONTAINER.search(each.plain) is not None,
            told=_TOLD.search(each.plain) is not None,
            limit=_UNTIL.search(each.plain) is not None,
            entry=_ENTRY.search(each.plain) is not None,
        )
        for number, each in enumerate(sentences)
    )


NEAR_WORDS = 10
"""Words before and behind a name that count wherever they stand."""
REACH = 160
"""Characters before and behind a name that say what it is there for."""


def signs(
    sentences: Sequence[Sentence],
    every: Sequence[Line],
    number: int,
    phrases: Sequence[Phrase],
    at: int,
    in_list: frozenset[int],
    *,
    known: bool,
    one_word: bool,
    hidden: bool,
) -> dict[str, float]:
    """The signs of phrase `at` of a sentence's `phrases`, by name. `in_list`: where those begin that a direction lists; `known`: it is a shared place; `hidden`: captions in capitals hid its name."""
    phrase, here = phrases[at], every[number]
    low = sentences[number].text.lower().replace("’", "'")
    text = sentences[number].plain
    before, after = low[max(0, phrase.start - REACH) : phrase.start], low[phrase.end : phrase.end + REACH]
    # What is said of `the firehouse in Lowgate` stands behind the town.
    beyond = (
        re.sub(rf"\A,? (?:\w+ )?in {re.escape(phrase.town.lower())}\b", "", after) if phrase.town else after
    )
    ends = list(_CLAUSE_END.finditer(before))
    clause = before[ends[-1].end() :] if ends else before
    around = every[max(0, number - 1) : number + 2]
    near = every[max(0, number - 3) : number + 3]
    is_listed = phrase.start in in_list
    viewer_clause = addresses(clause)
    turned = (
        here.viewer
        or here.hands
        or here.container
        or here.gives
        or here.signs
        or here.answers
        or _SENDS.search(text) is not None
    )
    is_alone = len(words_of(before + after)) < 4
    previous = phrases[at - 1] if at else None
    not_only = _NOT_ONLY.search(before)
    found: dict[str, bool | float] = {
        "role_drop": here.role is Role.DROP_OFF,
        "role_venue": here.role is Role.VENUE,
        "listed": is_listed,
        "listed_asked": is_listed and (here.hands or here.container or here.gives or _IMPERATIVE.search(text) is not None),
        "row": previous is not None and previous.start in in_list and re.fullmatch(r"[^.;:]{0,45}", low[previous.end : phrase.start]) is not None,
        "hands": here.hands,
        "hands_around": any(each.hands for each in around),
        "hands_near": any(each.hands for each in near),
        "needs_near": any(each.needs for each in every[max(0, number - 4) : number + 2]),
        "signs": here.signs,
        "signs_around": any(each.signs for each in around),
        "gives_around": any(each.gives for each in around),
        "viewer": here.viewer,
        "viewer_around": any(each.viewer for each in around),
        "viewer_gives": here.viewer and (here.hands or here.gives),
        "others_do": not viewer_clause and _OTHERS_DO.search(clause) is not None,
        "long_ago": _LONG_AGO.search(text) is not None,
        "others_tell": _HE_OR_SHE.search(text) is not None and not here.viewer and not here.hands,
        "told": here.told,
        "told_around": sum(each.told for each in around) / 3,
        "went": _WENT.search(text) is not None,
        "happened": _HAPPENED.search(clause) is not None and re.search(r"\byou|can be|could be|'ve (?:set|put|got)", clause) is None,
        "happened_behind": _HAPPENED_BEHIND.match(beyond) is not None,
        "told_behind": _HAPPENED_BEHIND.match(beyond) is not None and not here.viewer,
        "denied": not_only is None and _DENIED.search(before) is not None,
        "question": text.endswith("?"),
        "answers": here.answers,
        "container": here.container,
        "container_before": _CONTAINER_BEFORE.search(before) is not None,
        "container_around": any(each.container for each in around),
        "stands": _STANDS.search(before) is not None,
        "lead_at": phrase.lead == "at",
        "lead_to": phrase.lead == "to",
        "lead_in": phrase.lead == "in",
        "lead_by": phrase.lead in ("by", "with"),
        "lead_none": phrase.lead == "",
        "takes": _DOES_TAKE.match(after) is not None,
        "takes_them": _TAKES_THEM.match(after) is not None,
        "subject_takes": phrase.lead == "" and _TAKES_THEM.match(after) is not None,
        "glad_of_them": _GLAD_OF_THEM.match(after) is not None,
        "event_was": _EVENT_AT.search(before) is not None and _HAPPENED_BEHIND.match(beyond) is not None,
        "landmark": _LANDMARK.search(before) is not None and _STANDS.search(before) is None,
        "beside": _BESIDE.search(before) is not None,
        "benefits": (_IF_SO.search(before) is None and _MOVED_TO.search(before) is None and (_NO_DIRECTION.search(before) is not None or _BENEFITS.search(before) is not None)) or _RAISED.match(beyond) is not None,
        "somebody_there": _SOMEBODY_THERE.search(before) is not None,
        "named": phrase.named or phrase.town != "" or phrase.street != "",
        "strong": phrase.head in STRONG_PLACE_HEADS,
        "no_head": not phrase.head and not known,
        "ours": phrase.ours and not phrase.back,
        "back": phrase.back,
        "back_asked": phrase.back and (here.hands or here.viewer or here.answers or here.gives),
        "no_head_there": not phrase.head and phrase.lead in ("at", "inside", "outside", "behind"),
        "no_head_common": not phrase.head and not known and is_common(phrase.words[-1]),
        "single": not phrase.head and len(phrase.words) == 1 and not known,
        "known": known,
        "hidden": hidden,
        "hidden_the": hidden and phrase.the,
        "by_town": phrase.by_town,
        "pair": phrase.pair,
        "one_word": one_word and phrase.head != "",
        "in_no_head": phrase.lead == "in" and not phrase.head,
        "apposed_kind": not phrase.head and len(phrases) > at + 1 and low[phrase.end : phrases[at + 1].start] in (", the ", ", ") and phrases[at + 1].head != "" and not phrases[at + 1].named,
        "kind_of": not phrase.named and previous is not None and not previous.head and low[previous.end : phrase.start] in (", the ", ", "),
        "part_behind": not phrase.named and previous is not None and previous.head != "" and low[previous.end : phrase.start] in (", the ", ", "),
        "inside_next": not phrase.named and len(phrases) > at + 1 and re.fullmatch(r" (?:at|of|in) (?:the )?", low[phrase.end : phrases[at + 1].start]) is not None,
        "hidden_long": sentences[number].restored and not phrase.named and len(phrase.words) > 2,
        "if_in": re.search(r"\b(?:if you(?:'re| are| live| get)?|people|folks|anybody|anyone|somebody|families) (?:\w+ )?(?:in|from|around|near|by) (?:the )?\Z|\bout \Z", before) is not None,
        "weak": not phrase.named and phrase.head in WEAK_PLACE_HEADS and not phrase.town,
        "trade": phrase.head in TRADE_HEADS,
        "part": phrase.head in PARTS,
        "unturned": not turned,
        "listed_unturned": is_listed and not turned,
        "listed_others": is_listed and not turned and (_OTHERS_DO.search(clause) is not None or _SOMEBODY_THERE.search(before) is not None or _DONE_THERE.search(before) is not None or _BENEFITS.search(before) is not None or _HE_OR_SHE.search(text) is not None),
        "done_there": _DONE_THERE.search(before) is not None,
        "owner_at": not phrase.head and len(phrase.words) == 1 and phrase.words[0].endswith(("'s", "’s")) and phrase.lead in ("at", "by", "to", "with"),
        "alone": is_alone,
        "alone_asked": is_alone and any(each.hands or each.container or each.viewer or each.answers for each in every[max(0, number - 2) : number + 3]),
        "somebody_at": not phrase.head and len(phrase.words) == 1 and is_name(phrase.words[0]) and not phrase.words[0].endswith(("'s", "’s")) and phrase.lead in ("to", "with") and _AT_SOMEWHERE.match(after) is not None,
        "you_know": _YOU_KNOW.search(before) is not None,
        "comes_from": re.search(r"\bfrom (?:the )?\Z", before) is not None and not viewer_clause,
        "mine": re.search(r"\b(?:my|his|her) [a-z]+ (?:at|in|over at) (?:the )?\Z", before) is not None,
        "first_name": not phrase.head and not known and not phrase.pair and not phrase.words[-1].endswith(("'s", "’s")) and is_name(phrase.words[0]) and len(phrase.words) < 3,
        "over_with": _OVER_WITH.search(after) is not None,
        "formerly": _FORMERLY.search(before) is not None,
        "bare_word": not phrase.named and len(phrase.words) == 1 and re.search(r"\b(?:the|our|your) \Z", low[: phrase.start]) is None and not re.match(r"(?:the|our|your)\b", low[phrase.start :]),
        "that_is": re.search(r"(?:that's|it's|is|are) (?:just |over |up |down |out |right |the |our |here )*(?:\w+ ){0,2}(?:of |at |in )?(?:the )?\Z", clause) is not None,
        "or": re.search(r"\bor (?:\w+ ){0,3}\Z", before) is not None,
        "comma": after.startswith(","),
        "position": number / (len(sentences) - 1) if len(sentences) > 1 else 1.0,
        "first": number == 0,
        "story_asks": min(1.0, sum(each.asks_for for each in every) / 2),
        "story_wants": min(1.0, sum(each.wants for each in every) / 2),
        "story_you": min(1.0, sum(each.anybody for each in every) / 4),
        "limit_around": any(each.limit for each in every[max(0, number - 2) : number + 3]),
        "event": _EVENT.search(text) is not None and _WHEN.search(text) is not None,
        "entry": here.entry,
        "entry_next": any(each.entry for each in every[number : number + 2]),
        "too": re.match(r"[^.;]{0,25}\b(?:too|as well|also)\b", after) is not None,
        "open": _OPEN_WHEN.search(text) is not None,
        "open_behind": _OPEN_WHEN.search(after[:45]) is not None,
        "standing_there": _STANDING_THERE.search(before) is not None,
        "so_does": _SO_DOES.search(before) is not None,
        "street": _ON_A_STREET.match(after) is not None,
        "group": phrase.words[-1].lower() in _GROUPS,
        "nothing_asked": not any(each.viewer or each.wants or each.asks_for or each.role for each in every),
        "little_asked": len(every) > 3 and sum(each.viewer or each.wants or each.asks_for or each.limit for each in every) <= 1,
        "that_is_named": phrase.named and re.search(r"\b(?:that's|it's|it is|which is) (?:at )?(?:the )?\Z", before) is not None,
        "geography": not phrase.head and phrase.words[-1].lower() in _GEOGRAPHY,
        "apposed": phrase.named and previous is not None and not previous.named and low[previous.end : phrase.start].rstrip() == "," and (previous.head != "" or previous.start in in_list),
        "full": _FULL.search(after[:75]) is not None,
        "refused": _REFUSED.search(after) is not None and not here.answers,
        "person": (previous is None or low[previous.end : phrase.start].rstrip() != ",") and _is_somebody(sentences, number, phrase, before, after),
        "he_is_in": _HE_IS_IN.search(before) is not None,
        "keep_away": not_only is None and _KEEP_AWAY.search(before) is not None,
        "not_now": _NOT_NOW.search(beyond) is not None,
        "not_there_next": not_only is None and number + 1 < len(sentences) and _NOT_THERE_NEXT.search(sentences[number + 1].plain) is not None,
        "past_contrast": _PAST_CONTRAST.match(beyond) is not None,
        "by_the": _BY_THE.search(before) is not None,
        "one_at": not phrase.head and len(phrase.words) == 1 and not phrase.words[0].endswith(("'s", "’s")) and phrase.lead in ("to", "with", "by") and _AT_SOMEWHERE.match(after) is not None,
        "part_of_previous": previous is not None and _is_part_of_previous(phrase, previous, low, hidden=hidden),
        "explains": previous is not None and _EXPLAINS.search(low[previous.end : phrase.start]) is not None and (not phrase.named or hidden) and not known,
        "plain_words": phrase.named and not known and ((sentences[number].restored and is_plain(phrase.words)) or is_measure(phrase.words) or not _NEVER_NAMED.isdisjoint(word.lower() for word in phrase.words)),
        "wares": before == "" and phrase.named and not phrase.the and not known and phrase.words[-1].lower() in _WARES and all(is_common(re.sub(r"'s?\Z", "", word.lower().replace("’", "'"))) for word in phrase.words),
        "pair_loose": phrase.pair and phrase.lead == "" and not phrase.the and not known and all(is_common(word) for word in phrase.words),
        "is_there": not phrase.head and len(phrase.words) == 1 and phrase.words[0].endswith(("'s", "’s")) and re.match(r" (?:there|here|home|in (?:all|from|every|till|until)|out (?:back|front)|on (?:duty|nights|days|the)|always|usually|got|been|the one|your|my|her|his|around)\b", after) is not None,
        "trade_bare": phrase.head in TRADE_HEADS and phrase.head != "vet" and not phrase.named and not known,
        "someone_behind": _SOMEONE_BEHIND.match(beyond) is not None and not here.viewer,
        "not_it": not_only is None and _NOT_IT.search(before) is not None,
        "keep_going": _KEEP_GOING.search(before) is not None,
        "once": _ONCE.search(before) is not None,
        "word_from": _WORD_FROM.search(before) is not None or _SAYS_HELLO.match(beyond) is not None,
        "moved_to": _MOVED_TO.search(before) is not None,
        "building": _BUILDING.match(beyond) is not None or (_BUILDING.match(re.sub(r"\A,", "", beyond)) is not None),
        "doors_of": _DOORS_OF.search(before) is not None,
        "folks_who": _FOLKS_WHO.search(before) is not None and _WHO_DID.match(beyond) is not None,
        "shipped": _SHIPPED.search(before) is not None,
        "i_did": _I_DID.search(before) is not None,
        "sponsors": _SPONSORS.match(beyond) is not None or _SPONSORED_BY.search(before) is not None,
        "worked_on": _WORKED_ON.search(before) is not None,
        "behind_me": _BEHIND_ME.match(beyond) is not None,
        "afterward": _AFTERWARD.match(after) is not None and not here.viewer,
        "gains": _GAINS.match(beyond) is not None,
        "viewers_did": _VIEWERS_DID.search(before) is not None,
        "locates": previous is not None and not known and previous.head not in PARTS | {""} and (previous.named or previous.town != "" or (previous.the and low[previous.end : previous.end + 1] == ",")) and _LOCATES.fullmatch(low[previous.end : phrase.start]) is not None,
        "yet_to_come": _YET_TO_COME.search(before) is not None,
        "person_head": phrase.head in _SURNAMES and not known and not phrase.the and len(phrase.words) == 2 and phrase.lead in ("by", "with", "") and is_name(phrase.words[0]) and not phrase.words[0].endswith(("'s", "’s")),
        "others_go": _OTHERS_GO.search(before) is not None,
        "goes_or": _GOES_TO.search(before) is not None and _OR_TO.match(after) is not None,
        "way_to": _WAY.search(before) is not None and re.match(r" (?:to|toward|towards|past|until|till)\b", after) is not None,
        "side_of": re.match(r" (?:side|end)\b", after) is not None,
        "persons_room": phrase.head in _ROOMS_OF_PEOPLE and len(phrase.words) > 2 and phrase.words[-2].endswith(("'s", "’s")) and is_name(phrase.words[0]),
        "too_far": _TOO_FAR.match(after) is not None,
        "indefinite": phrase.named and re.search(r"\b(?:an?|another|some) \Z", low[: phrase.start]) is not None,
        "told_you": _TOLD_YOU.search(text) is not None,
        "on_site": _ON_SITE.match(after) is not None,
        "apposed_name": not phrase.head and not known and phrase.named and previous is not None and not previous.named and low[previous.end : phrase.start].rstrip() == "," and previous.head != "",
        "asked_no": (text.endswith("?") or _ASKED_WHETHER.search(before) is not None) and number + 1 < len(sentences) and _NO_NEXT.match(sentences[number + 1].plain) is not None,
        "thought_no": _YOU_WOULD_THINK.search(before) is not None or _BUT_NO.match(beyond) is not None,
        "for_years": _FOR_YEARS.match(beyond) is not None,
        "has_site": _HAS_SITE.match(beyond) is not None,
        "this_is": re.search(r"\bthis (?:is|was) (?:the )?\Z", before) is not None,
        "somebody_does": not viewer_clause and _SOMEBODY_DOES.search(before) is not None,
        "has_no": _HAS_NO.match(beyond) is not None,
        "makes_room": _MAKES_ROOM.match(beyond) is not None,
        "not_only": not_only is not None,
        "after_colon": re.search(r"(?:: |\b(?:you want|try|it'll be) )(?:the )?\Z", before) is not None,
    }  # fmt: skip
    return {name: float(value) for name, value in found.items()}


def is_part_of_next(phrase: Phrase, following: Phrase, low: str) -> bool:
    """`The fruit stand in the Mercado`, `the main gate, Gullhill Cemetery`: what the next words name is the place."""
    is_spot = phrase.words[-1].lower() in _SPOTS - {"office", "hall"}
    if (phrase.named and not is_spot) or following.by_town:
        return False
    between = low[phrase.end : following.start]
    if re.fullmatch(
        r" (?:(?:down|up|over|out|just|right|back|here) )?(?:at|of|in|inside|behind|outside) (?:the |our )?",
        between,
    ):
        return True
    if is_spot:
        return re.fullmatch(
            r",? (?:(?:down|up|over|out|back|here) )?(?:at|of|in|inside) (?:the |our )?", between
        ) is not None or (following.named and re.fullmatch(r", (?:the )?", between) is not None)
    is_whole = phrase.head in STRONG_PLACE_HEADS | TRADE_HEADS
    return not is_whole and re.fullmatch(r", (?:down|up|over|out|back) (?:at|in) the ", between) is not None


def _is_part_of_previous(phrase: Phrase, previous: Phrase, low: str, *, hidden: bool) -> bool:
    """`The town hall, up in the council room`, `the library, behind the big atlas`: where in the place named just before."""
    kind = phrase.words[-1].lower()
    return (
        (previous.named or previous.head not in PARTS | {""})
        and (
            kind in _SPOTS or ((hidden or not phrase.named) and kind not in STRONG_PLACE_HEADS | TRADE_HEADS)
        )
        and kind != "hall"
        and not phrase.town
        and not phrase.by_town
        and _WITHIN.fullmatch(low[previous.end : phrase.start]) is not None
    )


def _is_somebody(sentences: Sequence[Sentence], number: int, phrase: Phrase, before: str, after: str) -> bool:
    """Two or three words with capitals, not in the possessive, of whom is spoken as of a person: `That's Jo Finch, she …`, `talk to Jo Finch`."""
    name = phrase.words
    if phrase.head or not 2 <= len(name) <= 3 or name[-1].endswith(("'s", "’s")):
        return False
    if before.endswith("the ") or phrase.by_town:
        return False
    if _TO_SOMEBODY.search(before) and not is_common(name[-1]):
        return True
    if phrase.lead:
        return False
    following = sentences[number + 1].plain if number + 1 < len(sentences) else ""
    if _PERSON_BEHIND.search(after) or (re.match(r"\A[.!?]?\Z", after.strip()) and _OF_HIM.search(following)):
        return True
    first = re.escape(name[0])
    return any(re.search(rf"\b{first}(?:['’]s (?:got|been|the|a|in|on|going)\b| (?:says|said|has|had|was|is|thinks|wants|will|does|did|took|came|went)\b)", each.text) for each in sentences)  # fmt: skip


TAKEN_BACK = (
    "denied",
    "refused",
    "keep_away",
    "not_now",
    "past_contrast",
    "has_no",
    "over_with",
    "full",
    "thought_no",
    "asked_no",
)
"""Signs of a place that say viewers are not sent there, wherever else it is named close by."""
BOLDNESS = 1.2
"""Added to the odds: a place too many is struck out in a moment, one too few must be heard again."""


def wording(sentences: Sequence[Sentence], number: int, phrase: Phrase) -> dict[str, float]:
    """The words around a phrase of a sentence, as signs: nearest ones in their order, farther ones in any."""
    text = sentences[number].text
    before, after = words_of(text[: phrase.start]), words_of(text[phrase.end :])
    found = [f"head:{phrase.head}" if phrase.head else f"last:{phrase.words[-1].lower()}"]
    found += last(before, "before", 3)
    found += first(after, "after", 3)
    found += {f"somewhere before:{word}" for word in before[-NEAR_WORDS:]}
    found += {f"somewhere after:{word}" for word in after[:NEAR_WORDS]}
    signs = dict.fromkeys(found, 1.0)
    for name, at in (("sentence before", number - 1), ("sentence after", number + 1)):
        if 0 <= at < len(sentences):
            signs |= {f"{name}:{word}": 0.5 for word in words_of(sentences[at].text)}
    return signs


def weight(found: Mapping[str, float]) -> float:
    """How much speaks for a place with these signs: logarithms of odds."""
    return weights("places").odds(found) + BOLDNESS
