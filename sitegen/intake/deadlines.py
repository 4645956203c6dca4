"""Which of the days that are said are deadlines: by the words before them, by what the sentence says of them, and by questions they answer."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise
from math import exp, log

from sitegen.intake.asking import addresses, asks, gives, hands_in, signs_up, wants
from sitegen.intake.dates import COUNTED_BACK, WEEKDAYS, Mention, find_days
from sitegen.intake.records import Deadline, EventDate, Said, Sentence
from sitegen.intake.weighing import weights
from sitegen.intake.wording import first, last, words_of

_APPOSITION = re.compile(
    r"(?:(?<=\bby )|(?<=\buntil )|(?<=\btill )|(?<=\bbefore )|(?<=\bthrough ))[^,.;]{3,40}, (?:that's|that is|that'll be|that'd be|which is|which falls|which begins|which starts|which comes|which'll be|which would be|it's)(?: on)?(?: the| this)? ?\Z"
)
"""What stands between `by` and its day: `by Spectacle Day, that's …`."""
_FIRM = re.compile(
    r"\b(?:until|till|'til|til|by|before|no later than|not later than|up to|up until|ahead of|prior to|between now and|on or before|through|thru)\b"
)
_RANGE = re.compile(
    r"(?<!\bweek )(?<!\bweeks )(?<!\bday )(?<!\bdays )(?<!\bmonth )(?<!\bmonths )\bfrom (?=(?:(?:the|this|next|about|about the) )*(?:\d|noon|dawn|\w+day\b|january|february|march|april|may|june|july|august|september|october|november|december|christmas|easter))(?:(?! (?:to|until|till|through) )[^.;]){1,60}(?: (?:to|until|till|through) (?:the )?)?\Z"
)
"""`From Monday to …`."""
_WEEKDAYS_ON = re.compile(r"\b(?:mon|tues|wednes|thurs|fri|satur|sun)days? (?:through|thru|to|until|till) \Z")
_IS_DEADLINE = re.compile(
    r"\b(?:deadline|cut-?off|(?:last|final) (?:day|chance|date|call|time|one|night|morning|afternoon|evening|weekend|(?:satur|sun|mon|tues|wednes|thurs|fri)day(?! (?:in|of)\b))|closing date|due(?: date| back| in)?|expir\w+|postmark\w*|last (?:that )?(?:i|we|they|you|he|she|anybody|anyone|people)(?:'ll|'d| can| could| will)\b|the last of (?:me|us|him|her|it|that|the|those|these|them|our|their)(?: \w+)?|(?:last|final) (?:pick-?up|collection|drop-?off|shipment|delivery|load|run|round|chances|hours?)|time(?:'s| is) up|time runs out)\b"
)
_SAID_BEFORE = re.compile(
    rf"{_IS_DEADLINE.pattern}[^.;?!]{{0,60}}(?:\b(?:is|are|was|will be|being|on|of|by|falls on)|'s|:) ?(?:on |the |this |next |for that is |now )*\Z"
)
_SAID_RIGHT_BEFORE = re.compile(rf"{_IS_DEADLINE.pattern},? ?(?:the |on |by |is |this )?\Z")
_SAID_AFTER = re.compile(
    rf"(?:(?!\w+day\b|\d+(?:st|nd|rd|th)\b)[^.;?!]){{0,30}}(?:\b(?:is|are|being)|'s|,) (?:the |our |their |your )?(?:absolute |very )?{_IS_DEADLINE.pattern}(?!(?: (?:of|for|to) (?:\w+ ?){{1,4}}?)?(?:'s| is| falls) (?:on |the |this |next )*(?:\w+day|\d|january|february|march|april|may|june|july|august|september|october|november|december|tomorrow)\b)"
    rf"| (?:the|our|their|your) {_IS_DEADLINE.pattern}|(?: night| morning)?(?:'s| is) (?:it|the end(?: of it)?)\b"
    r"|[^.;?!]{0,20}, (?:and )?that(?:'s| is) (?:it|that|all|the (?:end|finish|lot|last)(?: of (?:it|them))?)(?: for (?:this year|the year|good|now|us|the season|another year|this time|\d+))?(?= ?(?:[.,;:?!]|\Z))"
)
_CLOSES = re.compile(
    r"\b(?:clos(?:e|es|ing)|end(?:s|ing)?|wrap(?:s|ping)?(?: \w+)? up|wind(?:s|ing)? (?:up|down)|lock(?:s|ing)? (?:up|the doors?)|pack(?:s|ing)? up|com(?:e|es|ing) (?:down|to an end)|go(?:es)? away|get(?:s)? (?:picked up|hauled away)|(?:is|are) (?:picked up|hauled away)|stop(?:s|ping)?(?: (?:taking|accepting|collecting)(?: \w+){0,2})?|finish(?:es|ing)?|shut(?:s|ting)?(?: down)?|run(?:s|ning)? out|over|cuts? off|due|expires?)\b(?: (?:for good|up|down|its doors|at (?:the (?:end|close) of )?(?:the )?[\w:]+(?: [ap]m| o'?clock)?|the doors|, ?they say,?))? ?(?:on|at the|at)? ?(?:the )?\Z"
)
_YOURS = re.compile(r"\byou(?:'ve| have)(?: only| just| still)?(?: got)?(?: just| only| about| exactly)? \Z")
"""`You've got two weeks from …`."""
_WE_CLOSE = re.compile(r"\b(?:we|we'll|i|i'll|let's|us)\b[^,.]*\Z")
"""The programme that closes, or somebody's own doing."""
_ALL_THROUGH = re.compile(r"(?<!all )(?<!'s )(?<!is )(?<!be )\bover (?:the )?\Z")
"""`Over Memorial Day` is during it."""
_CLOSING_SUBJECT = re.compile(
    r"\b(?:collection|drive|sign-?ups?|registration|applications?|entries|nominations?|voting|enrollment|window|offer|sale|orders?|fund|donations?|appeal|campaign|contest|books?|scholarships?|grants?|programs?|lottery|raffle|auction|surveys?|polls?|ballots?|list|waitlist|portal|posting|bidding|competition|coupons?|deal|discount|swap|exchange|rolls|sheet|roster|permits?|hunt|hat|jar)\b"
)
_QUESTION_WHEN = re.compile(
    r"\b(?:until when|till when|by when|when by|for how long|(?:need|want|like|have|get|due) (?:\w+ )?(?:\w+ )?(?:by )?when\?|when (?:do|would|does|should|must|have) (?:you|they|she|he|we|people|folks|it|those|these) (?:\w+ ){0,2}?(?:need|want|have|like|due|be)|how (?:long|late|soon) (?:do|have|has|will|are|is|can|does)|by what (?:day|date)|what (?:day|date) (?:do|does|by)|(?:is there|'s there|there's) a (?:deadline|cut-?off|limit|last day|date|rush)|what's the (?:deadline|cut-?off|date|last)|when's the (?:deadline|cut-?off|last)|when is (?:the )?(?:deadline|last)|(?:is there|what's) a deadline|when (?:does|do) (?:it|they|that|you|this|sign-?ups?) (?:end|close|stop|run out)|when are you (?:closing|stopping)|how much time)\b"
)
_BARE_WHEN = re.compile(
    r"(?:(?:and|so|okay|oh|well|now),? )*(?:until|till|by|for how long|how long|until about) ?when[.!]?"
)
"""Captions may have a full stop for a question mark."""
_PAST = re.compile(
    r"\b(?:had (?:been|come|gone|filled|reached|given|run)|were (?:gone|closed|married|born)|was (?:closed|gone|born|built|open until|over)|has been|have been|didn't|wasn't|would have|used to|last (?:year|spring|summer|fall|winter|season)(?:'s)? (?:it|they|he|she))\b"
)
_RUNNING = re.compile(
    r"\b(?:lights?|show(?! (?:them|us|him|her|me|it|your|the|a|that|this)\b)|exhibit(?:ion)?|display|concerts?|performances?|play|film|market|fair|festival|carnival|they stay on|on view|museum|shines?|road|bridge|weather|rain|snow|warm)\b[^.]{0,50}\b(?:run|runs|stay|stays|on (?:view|display)|open|continues?|goes on|lasts?|through|until|closed)\b"
)
_THROUGH = re.compile(
    r"(?: (?:morning|afternoon|evening|night))?,? (?:through|thru|to|until|till)(?: (?:and including|the|this|on))* "
)
"""Between the two ends of a range: `Thursday through Sunday`."""
_REACH_BACK, _REACH_ON = 4, 2
"""Sentences around a day within which something must be asked for."""
BOLDNESS = 1.3
"""Added to the odds: a day too many is struck out in a moment, one too few must be heard again."""
SECOND = 3.5
"""So much more must speak for a second day: a story seldom has two deadlines."""


_IN_HAND = re.compile(
    r"\b(?:be|have (?:them|it|those|these|yours|everything|your \w+)|get (?:them|it|those|yours|your \w+))(?: all)? (?:in(?: hand| the mail| their hands)?|turned in|postmarked|received|there)(?: here)?,? ?(?:on |by )?\Z"
)
"""Things that must be there on the day."""
_TOO_LATE = re.compile(
    r"[^.;?!]{0,12}\b(?:it's|it'll be|it will be|that's|they're|you're) (?:too late|over|gone|done|out of luck)\b"
    r"|[^.;?!]{0,50}\b(?:you'd (?:have to )?pay|you'll (?:have to )?pay|you pay|you'd be paying|full price|(?:price|fee|cost|it) goes up|it costs|it'll cost|you have to wait|you'd have to wait|you'll have to wait|you're waiting|nobody (?:can|will|gets)|no more|nothing (?:more|goes|gets))\b"
    r"|(?: (?:morning|noon|night|evening))?,? (?:we|they|i|you|he|she|it|there's|nobody|the \w+)(?: really| just)? ?(?:can't|cannot|won't|couldn't|no (?:more|longer)|'ll have to wait|goes? back)\b"
)


def deadlines_in(
    sentences: Sequence[Sentence], aired: date, country: str
) -> tuple[tuple[Deadline, ...], tuple[EventDate, ...]]:
    """(deadlines, other days ahead) of a segment, each once, in the order they are said."""
    every = list(days_in(sentences, aired, country))
    last = chosen([(each.day, weight(each.signs)) for each in every if each.day is not None])
    closing: dict[tuple[date | None, date | None], Deadline] = {}
    events: dict[date, EventDate] = {}
    surest: dict[tuple[date | None, date | None], float] = {}
    ranges = _ranges(every, last, sentences)
    within = {number + 1 for number in ranges}
    for number, each in enumerate(every):
        mention, sentence = each.mention, sentences[each.sentence]
        said = Said(sentence.text, sentence.start)
        if each.day in last if each.day is not None else _bound_closes(sentences, each.sentence):
            key, odds = (each.day, mention.latest), weight(each.signs)
            before = closing.get(key)
            clock = mention.clock or (before.clock if before is not None else None)
            if before is None or odds > surest[key]:
                closing[key] = Deadline(each.day, said, clock, mention.latest, mention.unsure)
                surest[key] = odds
            else:
                closing[key] = replace(before, clock=before.clock or clock)
        elif number in ranges and each.day is not None:
            end, doubt = ranges[number]
            events[each.day] = EventDate(each.day, said, mention.clock, end, doubt)
        elif each.day is not None and each.day not in events and number not in within:
            events[each.day] = EventDate(
                each.day, said, mention.clock, mention.last, mention.unsure, _is_passing(mention)
            )
    kept = list(_settled(list(closing.values())))
    days = {each.day for each in kept}
    return tuple(kept), tuple(each for day, each in events.items() if day not in days)


def _ranges(
    every: Sequence[Day], closing: Collection[date], sentences: Sequence[Sentence]
) -> dict[int, tuple[date, str]]:
    """Of days that are no deadlines: where a range begins, with its last day and why to look at it. A weekday that ends one
    is the first such day from its beginning on, not from the broadcast on."""
    found: dict[int, tuple[date, str]] = {}
    for number, (one, other) in enumerate(pairwise(every)):
        begins, ends = one.mention, other.mention
        if (
            one.day is None
            or other.day is None
            or one.sentence != other.sentence
            or begins.last is not None
            or ends.last is not None
            or one.day in closing
            or other.day in closing
            or number - 1 in found
            or _THROUGH.fullmatch(sentences[one.sentence].plain, begins.end, ends.start) is None
        ):
            continue
        end = other.day
        if ends.written in WEEKDAYS:
            end = one.day + timedelta(days=(end - one.day).days % 7)
        if end > one.day:
            weekly = begins.written in WEEKDAYS and ends.written in WEEKDAYS
            found[number] = end, "every week, or on these days alone?" if weekly else begins.unsure
    return found


def _is_passing(mention: Mention) -> bool:
    return mention.written in ("tonight", "today", "this evening") and mention.clock is None


def chosen(odds: Iterable[tuple[date, float]], boldness: float = BOLDNESS) -> set[date]:
    """Which of the days of a story are deadlines, given how much speaks for each as often as it is named: mostly one, if any."""
    together: dict[date, float] = defaultdict(float)
    for day, one in odds:
        together[day] += exp(one)
    ranked = sorted(together, key=lambda day: -together[day])
    return {
        day
        for number, day in enumerate(ranked)
        if log(together[day]) > -(boldness if number == 0 else boldness - SECOND)
    }


@dataclass(frozen=True, slots=True)
class Day:
    """A day ahead that a story names, and what speaks for its being a last one."""

    day: date | None
    """None where only a bound was said."""
    mention: Mention
    sentence: int
    signs: dict[str, float]


def days_in(sentences: Sequence[Sentence], aired: date, country: str) -> list[Day]:
    """Every day from the broadcast on that a segment names, as often as it is named."""
    every = list(_named_days(sentences, aired, country))
    return [
        replace(each, signs=each.signs | among(each, every, sentences)) if each.day is not None else each
        for each in every
    ]


def _named_days(sentences: Sequence[Sentence], aired: date, country: str) -> Iterator[Day]:
    named: list[date] = []
    limits: list[date] = []  # What is counted from is rather what takes place than what is asked for.
    for number, sentence in enumerate(sentences):
        known = (*limits, *named) or tuple(_days_next(sentences, number, aired, country))
        mentions = find_days(sentence.plain, aired, country, known)
        for mention in mentions:
            if mention.day is not None:
                before = sentence.plain[: mention.start]
                if _BY_ENDS.search(before):
                    limits.append(mention.day)
                elif _REPORTED.search(before) or _LAST_TIME.search(_ANEW.split(before)[-1]):
                    limits.insert(0, mention.day)
                else:
                    named.append(mention.day)
        for mention in mentions:
            day = mention.day
            if mention.last is not None and re.search(
                r"\b(?:through|thru)(?: all of)? \Z", sentence.plain[: mention.start]
            ):
                day = mention.last  # `Through the weekend` takes in its last day.
            if day is None or day >= aired:
                yield Day(
                    day,
                    mention,
                    number,
                    signs(sentences, number, mention, aired, is_last=mention is mentions[-1])
                    | wording(sentences, number, mention),
                )


def _days_next(sentences: Sequence[Sentence], number: int, aired: date, country: str) -> Iterator[date]:
    """What a day may be counted from that is told after it: `By the Monday before. The supper's on the tenth.`"""
    if COUNTED_BACK.search(sentences[number].plain) is None:
        return
    for each in sentences[number + 1 : number + 1 + _REACH_ON]:
        for mention in find_days(each.plain, aired, country):
            if mention.day is not None:
                yield mention.day
                return


def _settled(every: Sequence[Deadline]) -> Iterator[Deadline]:
    """Without bounds that a day in the same segment keeps."""
    days = [each.day for each in every if each.day is not None]
    for each in every:
        if each.day is None and each.latest is not None and any(day <= each.latest for day in days):
            continue
        yield each


def _bound_closes(sentences: Sequence[Sentence], number: int) -> bool:
    """`Less than two months away` is a deadline where one is spoken of."""
    return any(_IS_DEADLINE.search(_plain(sentences, at)) for at in (number, number - 1))


def _rule(sentences: Sequence[Sentence], number: int, mention: Mention, is_last: bool) -> str:
    """By which words the day is a last one; empty for none."""
    text = sentences[number].plain
    before, after = text[: mention.start], text[mention.end :]
    if _names_it(before, after):
        return "named"
    if (
        (_CLOSES.search(before) or _CLOSES_THEN.match(after))
        and not _WE_CLOSE.search(before)
        and not _SHUT_ALREADY.search(before)
        and not _ALL_THROUGH.search(before)
        and (_CLOSING_SUBJECT.search(before) or _OFFER.search(before) or _asked(sentences, number))
    ):
        return "" if _RUNNING.search(text) else "closes"
    # An answer leads up to its day: `school starts on the 30th, so we're saying the 25th`.
    answers = is_last and _BECAUSE.search(before) is None and _answers_when(sentences, number)
    return "answer" if answers else ""


# --- weighing --------------------------------------------------------------------------------

_UNTIL_ENDS = re.compile(
    r"\b(?:until|till|'til|til|up to|up until|(?:through|thru)(?! on\b)|right through)(?: \w+){0,2} ?\Z"
)
_BY_ENDS = re.compile(
    r"\b(?:by|no later than|not later than|before|ahead of|prior to|on or before)(?: (?:about|around|the|this|next|noon|midnight|close|end|of|day|business|dark|dawn|sundown|sunset|nightfall|suppertime|supper|dinner|dinnertime|lunch|lunchtime|breakfast|closing|time|oclock|on|morning|afternoon|evening|night|first|thing|\d{1,2}(?::\d\d)?(?: ?[ap]m)?)){0,5},? ?\Z"
)
_UNTIL_THAT = re.compile(
    r"\b(?:before|until|till|by the time|when) (?:they|it|she|he|we|the \w+) [^.,;]{3,40}\Z"
)
"""`Before they lock up on Wednesday`."""
_AFTER_ENDS = re.compile(
    r"\b(?:can't|cannot|won't|not|no|nothing|don't|couldn't|too late)\b(?!,)(?:(?! (?:un)?till? |, (?:it's|that's|i'm|so|but|and)\b)[^.;]){0,45}\b(?:after|past|beyond) (?:the |this )?\Z|\b(?:anything|whatever|whoever|anybody|anyone|any|those|ones?)\b[^.;]{0,40}\bafter (?:the |this )?\Z"
)
_OTHER_ANNOUNCED = re.compile(
    r"\b(?:we|i|you)(?:'d|'ve| had)? (?:said|told (?:you|everybody|everyone|folks|people)|(?:\w+ ){0,4}last week and (?:said|told)|heard|were told|announced|heard me say|set|used to)\b|(?<!\bfor the )\blast (?:year|time|winter|spring|summer|fall|month)\b|\b(?:was|were|wanted|needed|had) [^.;]{0,30}\blast week\b|\b(?:it|that|which|deadline|date) was (?:on |the |for )*\Z|\bused to\b|\ba year ago\b|\bback (?:then|in (?:the (?:\d+s?|\w+ties|day|days|old days|war|winter|summer|spring|fall)\b|\d{4}|january|february|march|april|may|june|july|august|september|october|november|december))\b|\b(?:always|usually|normally|ordinarily|other years|most years)\b|\b(?:was|were|had been) (?:supposed|going|due|set|originally)\b|\bthey'd (?:set|planned|said|meant)\b|\boriginally\b|\bwould (?:wrap|close|end|be over|stop)\b|\bran until\b"
)
"""What was said once: last year's day, or one that has been moved."""
_LAST_TIME = re.compile(
    r"\b(?:last (?:year|time|winter|spring|summer|fall|autumn|season)|the year before|years? ago|months? ago|other years)\b"
)
_ONCE_SAID = re.compile(
    r"\b(?:last (?:week|month|year|\w+day)|\w+ ago|yesterday|the other (?:day|night|week)|we'd|i'd|we had|i had)\b[^.;]{0,50}\b(?:said|told|announced|asked|reported|read)\b[^.;]*\Z"
    r"|\b(?:told|said|reported|announced)\b[^.;]{0,30}\b(?:last (?:week|month|year|\w+day)|ago)\b[^.;]*\Z"
)
_REPORTED = re.compile(
    r"\b(?:flyers?|posters?|paper|letter|leaflets?|bulletin|calendar|sign|card|notice)\b[^.;]{0,60}\b(?:says?|said|has|had)\b|\bit (?:says?|said|read)\b|\b(?:thought|heard|figured|assumed)\b"
)
"""What somebody read or believes."""
_BECAUSE = re.compile(
    r"\b(?:because|'cause|since|so that|that's when)\b(?:(?!, (?:and |but )?(?:so|you|you've|you'll|please|it's|that's)\b)[^.;])*\Z"
)
_AMENDED = re.compile(
    r"\b(?:forget that|not this (?:time|year)|scratch that|moved|pushed (?:it )?back|extended|more (?:days|time)|another \w+|instead|this year|this time|now it's|change of|still going|longer|a week early|earlier)\b"
)
_SETTLES = re.compile(
    r"\b(?:(?:new|real|right|correct|final|only) (?:date|day)(?:'s| is)|the date(?:'s| is)|that's|that'd be|that is|which is|it's|so it's|call it|make it|we're saying|let's say|they're saying|they've settled on|settled on|(?:he's|she's|i'm|they've been) (?:saying|calling it|going with|telling (?:people|folks|everybody|them))|(?:we're|they're) (?:calling it|going with|telling (?:people|folks|everybody|you))|\A(?:and |well,? |okay,? )*so,?|moved (?:it )?to|pushed (?:it |that )?(?:back )?to|extended (?:it )?(?:to|until|through)|now)(?: (?:on|the|this|next|for|going to be|until))*,? ?\Z"
)
_WRONG_DAY = re.compile(
    r"\b(?:wrong|misprint|mistake|(?:don't|do not) (?:believe|trust|mind|go by)|never mind|ignore|forget)\b[^.;?!]{0,40}\Z"
)
"""Before the day that is right: `the poster says the first, don't believe the poster, it's the eighth`."""
_STRETCHES = re.compile(
    r"\b(?:have|has|'ve|got|given?|giving|good|open|keep\w*|kept|run\w*|extend\w*|wait\w*|hold\w*|taking|take|accept\w*|collect\w*|stay\w*|goes|going|here|there|out|up)\b[^.;,]{0,30}(?:\b(?:until|till|'til|through|thru)(?: \w+){0,2}|(?<!up)(?<!from) to(?: the)?) ?\Z|\b(?:stretch|push|mov|extend|put)(?:e?d|es|ing|s)?\b[^.;,]{0,20}\b(?:to|until|till)(?: the)? ?\Z"
)
_HAS_TO_BE = re.compile(
    r"(?<!\bthere)(?<!\bthere )(?<!\bif you )(?<!\bif they )(?<!\bsomebody )(?<!\bsomeone )\b(?:need|needs|has to|have to|had to|have got to|has got to|'ve got to|'s got to|got to|must|like|want|wants|should|asking|ask|hoping|supposed to)\b[^.;]{0,60}\Z"
)
_GOES_AWAY = re.compile(
    r"\b(?:com(?:e|es|ing) down|go(?:es)? (?:out|away|off|to the|into the|on the)|(?:pulls?|heads?|rolls?|drives?) (?:out|off|away)|(?:get|gets|be|are|is|being) (?:counted|picked up|collected|hauled|drawn|opened|tallied|boxed|shipped|sent|sorted|packed|loaded|locked|taken down|judged|emptied|sold|auctioned|given away|thrown (?:out|away)|recycled|scrapped|shredded|erased|wiped)|clos(?:e|es|ing)|shuts?|ends?|draw(?:s|ing)? (?:the )?(?:names?|routes)|leaves?|leaving|mov(?:e|es|ing) on|going (?:home|off|away|back)|(?:headed|heading|pulling|shipping|packing) (?:home|off|out|up)|sails?|ships?|stops?|quits?|wraps?|finish\w*|retires)\b(?!'s)[^.;]{0,30}\Z"
)
_SOMETHING_ELSE_UNTIL = re.compile(
    r"(?:\b(?:it|that|weather)(?:'s|'ll| is| will)) (?:be |going to be |gonna be |getting |staying )?(?:\w+ )?(?:cold|hot|warm|wet|icy|windy|cloudy|foggy|nice|clear|dry|cooler|warmer|colder|like this|gray|raw|freezing|frozen)\b[^,.;]{0,25}\b(?:until|till|through)(?: \w+){0,2} ?\Z|(?:\b(?:is|are|was|were|be|been|being|stays?|stayed)|'s|'re) (?:\w+ )?(?:out|shut|closed|away|gone|down|off|for repairs?|on view|running|in town|home|asleep|busy|hidden)\b[^,.;]{0,25}\b(?:until|till|through)(?: \w+){0,2} ?\Z"
    r"|\b(?:lasts?|pay(?:s|ing)?|full (?:fare|price)|rain\w*|snow\w*|visiting|waited|slept|stood|worked|stayed|sat|sang|danced)\b[^,.;]{0,25}\b(?:until|till|through)(?: \w+){0,2} ?\Z|(?:\bnot|n't|\bnever|\bno|\bnothing|\bnobody)\b(?! (?:\w+ )?(?:clos|stop|end|over|due|too late|quit|finish))(?: \w+){0,4} (?:until|till) ?(?: \w+)? ?\Z"
)
_EFFECT = re.compile(
    r"\b(?:he|she|it)(?:'s)? (?:hopes?|plans?|means|expects?|aims?|intends?|hoping|planning|expecting) (?:to|on) (?!have|get|hear|see|know|collect|fill|raise|gather)[^.;,]{0,40}\b(?:by|before) (?:about |the |this |next )*\Z|\b(?:it|that|he|she|they|\w+s|the \w+)(?:'s|'re| is| are) (?:\w+ )?(?:going to|gonna|expected to|set to|bound to|supposed to)(?! (?:need|want|close|stop|end|shut|quit|cut|pick|draw|empty|be (?:closed|gone|over|picked|full)|have to)\b) (?:[\w'-]+ ){0,7}(?:by|before) (?:about |the |this |next )*\Z"
    r"|\b(?:it|that|they|he|she|you|we|everybody|everyone|somebody|\w+s|the \w+)(?:'ll| will| would|'d)(?! (?:all )?(?:be (?:gone|sold|over|closed|too late|hauled|taken|off)|need|want|like|have to|love|ask|prefer)) (?:[\w'-]+ ){0,7}(?:by|before) (?:about |the |this |next )*\Z"
)
"""What a gift will have done by then: `it'll be on somebody's bed by tonight`."""
_SHUT_ALREADY = re.compile(
    r"\b(?:fund|drive|collection|appeal|campaign|window|offer|sale|contest|office|list|book|line|sign-up|registration|enrollment|voting|he|she|it) (?:\w+ )?(?:shut|quit|cut|closed|ended|finished|stopped|wrapped|ran out)\b[^.;]{0,30}\Z|\b(?:reached|passed|met|made|hit) (?:its|the|their|our) goal\b"
)
"""What is over: one thing that `shut`, and does not `shuts`."""
_OFFER = re.compile(
    r"\b(?:no|free|half|waived?|waiving|cuts?|cutting|off|discount\w*|reduced) (?:\w+ ){0,2}?(?:fees?|charges?|cost|price|admission|tickets?|off|of charge)\b|\b(?:fees?|admission|charges?|fares?|tickets?|tolls?|rides?|entry|parking|costs?|fines?|deposits?|rent|dues)(?:'s|'re| is| are| will be|'ll be)(?: being| all| \w+ly)? (?:waived|free|half|off|cut|reduced|forgiven|dropped|nothing|covered|paid|on (?:us|the house|them))\b|\bfor (?:nothing|free)\b|\b(?:is|are|be|goes?|gets? in|it's|they're) free\b|\b(?:match|double|triple)(?:s|ing)?\b|\Afree\b|\bfree (?:\w+ ){1,3}(?:at|in|from|for|to)\b|\b(?:giv(?:e|es|ing)|hand(?:s|ing)?|pass(?:es|ing)?) (?:\w+ )?(?:away|out)\b|\byours for the (?:asking|taking)\b|\bhelp yourself\b|\b(?:coupons?|offer|deal)(?:'s| is| are)? (?:good|valid|on|for|until|through)\b|\b(?:half|two for one|won't cost)\b"
)
"""What viewers are offered, whether or not a verb asks them."""
_BETWEEN_NOW = re.compile(
    r"\bbetween (?:now|today) and(?: \w+){0,3} ?\Z|\bfrom now (?:until|till|to|through)(?: \w+){0,3} ?\Z"
)
_HAD_BY_THEN = re.compile(
    r"\A,? ?(?:noon|night|morning)?,? ?(?:they|he|she|it|we|there|i|every|all|nobody|everybody|the \w+)\b[^.,;]{0,40}\b(?:had|was|were|is|are|has|have|'d|'ll have|will have)\b|\A,? you(?:'ll| will) (?:be|have|find|see|know|hear)\b"
)
_TAKES_PLACE = re.compile(
    r"\b(?:there's|there is|there'll be|it's|it'll be|is|are|will be|held|happens?|starts?|begins?|opens?|gets? in|arrives?|comes? home|returns?|kicks off|meets?|see you|come|back|here|comes|playing|play|sing\w*|party)(?: (?:on|at|this|next|again|out|back|\d{1,2}(?::\d\d)?))* ?(?:the )?\Z"
)

_SITE = re.compile(r"\b(?:web ?site|site|web|online|page|on ?screen|dot (?:org|com|net)|link|watch|video)\b")
_THEN = re.compile(r"\b(?:before|by|until|till) (?:then|that)\b(?! \w+ing\b)")
_BEFORE_THING = re.compile(
    r"\b(?:before|ahead of|by the time) (?:that|the|this|those|these) (?P<thing>\w{4,})\b"
)
_HOURS = re.compile(
    r"(?:\b\d[\d:]*(?: [ap]m)?|\bnoon|\boclock|\bmorning) (?:to|till|until|through) \d[\d:]*(?: [ap]m)?,?(?: on| this)? \Z"
)
"""`Ten till three tomorrow`."""
_CLOSES_THEN = re.compile(
    r",? (?:it|that|they|she|he|we|the \w+)(?: all)?(?: (?:closes?|ends?|shuts?|stops?)\b|(?:'s|'re| is| are) (?:over|done|closed|finished)\b| comes? down\b)"
)
_CLAUSE = re.compile(r"[,;:]")
_FAR = 9
_SUBJECT_NEXT = re.compile(
    r"(?: (?:morning|night|afternoon|evening|noon))? (?:they|we|he|she|i|it|you)(?:'ll|'re|'m|'s|'d)? \w+"
)
"""`Tuesday I can sort them out`."""
_SUBJECT = r"(?:i|you|he|she|it|we|they|who|that|which|everybody|everyone|people|folks)"
_WISHES = r"(?:like|love|want|need|prefer|rather|ask|appreciate|best|better|have to|be (?:glad|happy|grateful)|really|just)\b"
_TENSED = re.compile(
    r"(?P<past>\b(?:was|were|had|did|didn't|wasn't|weren't|hadn't|kept|ran|came|went|said|told|gave|took|sat|wrote|made|stood|left|fell|knew|thought|heard|stayed|bought|brought|sold|meant|began|spent|closed)\b"
    rf"|\b{_SUBJECT} (?:just |only |first |also |once |always )?(?:got(?! to)|(?!need)\w{{2,}}ed)\b)"
    rf"|(?P<would>(?:\bwould(?:n't)?|(?<!\bi)(?<!\bif you)'d)\b(?! {_WISHES}))"
    rf"|(?P<present>\b(?:is|are|am|isn't|aren't|has|(?<!had to )have|can|can't|cannot|must|should|will|won't|needs|wants|may|might|does|don't|doesn't|gets|says|takes|closes|ends|goes|stops|please|your?)\b|[,:] (?:please |just |and )?(?:tell|call|bring|get|send|ask|come|put|give|let|write|drop|sign|take|leave)\b|'(?:s|re|ve|ll|m)\b|(?:\bwould|'d) {_WISHES})"
    r"|(?P<anew>[,;:] (?:and |but )?(?:so|but|then)\b)"
)
"""Verbs by their time: the last one of its clause before a day governs it."""
_ANEW = re.compile(
    r" (?=(?:and|but) (?:it's|that's|really|actually)\b)|, (?=(?:and |but )?(?:so|but|it's|that's|don't|only|now)\b)"
)
"""Where a sentence turns from what was said elsewhere to what holds."""
_ASIDE = re.compile(r", (?:as|like|i) [^,]{1,40},")
"""`The drive ends, as you'd suppose, on leap day`."""
_PERFECT = re.compile(
    r"(?:\b(?:have|has|be|been|being|is|are|get|gets|got|to|not|never)|'(?:ve|s|re|d))(?: \w+ly| just| now| only| already| always| also)? \Z"
)
"""What makes a past form another time's: `they've said`, `be brought`."""
_MOVED = re.compile(
    r"\b(?:gave|given|giving|give|mov(?:e|ed|ing)|push(?:ed|ing)?|extend(?:ed|ing)?|stretch(?:ed|ing)?|bump(?:ed|ing)?|chang(?:ed|ing)|settl(?:ed|ing)|put|set|kick(?:ed|ing)|slid|shift(?:ed|ing)?)\b(?: (?:it|that|them|everything|things|us|you|people|folks|everybody|everyone|the \w+)){0,2}(?: (?:off|back|up|out|all|over|ahead|forward|down|on)){0,2} (?:to|until|till|through|for)(?: (?:the|this|next))? ?\Z"
)
"""`They gave it to the last day of January`: what was decided anew."""
_AT_LATEST = re.compile(
    r"[^.;?!]{0,16}(?:,? at (?:the )?(?:very )?(?:latest|outside)|,? tops\b|,? or (?:sooner|before|it's too late)|,? (?:and )?(?:not|no) (?:after|later|a (?:day|minute) (?:more|later))|,? sharp\b)"
)
_THEN_CLOSES = re.compile(
    r"(?: (?:morning|night|afternoon|evening))?,? (?:and )?(?:then|after that|after which) (?:it|they|we|she|he|i|the \w+)(?:'s|'re|'m|'ll| is| are| will)?(?: be| all)? (?:gone|done|over|finished|through|mov\w+|leav\w+|clos\w+|head\w*|pack\w*|off|home|goes?|going|stops?|shuts?)\b"
    r"|(?: (?:morning|night|afternoon|evening))?(?:,? at (?:the )?[\w:]+(?: [ap]m| oclock)?)?,?(?: is when| 's when|'s when)? (?:they|we|he|she|i|it|the \w+)(?:'ll| will|'s|'re|'m| are| is)? (?:\w+ )?(?:lock|clos|shut|empt|count|draw|load|rope|chain|board|crate|bag|gather|fetch|pull (?:it|them|those|the)|roll (?:it|them) up|pick\w* (?:them|it|those|everything)|haul|tak(?:e|es|ing) (?:it|them|those) down|com(?:e|es|ing) down|leav|pack|ship|sort|order|stop|quit|pull|(?:put|slam|nail|screw)\w* (?:the|a|on the) (?:lid|hatch|lock|padlock|cover)|seal|tap(?:e|ing) (?:it|them) (?:up|shut))"
)
_WITHDRAWN = re.compile(
    r"\b(?:forget|don't go by|never mind|scratch|ignore|wrong|moved|pushed|extended|changed|any ?more|no longer|that was|not now|now it's|instead|this time|this year|not again|it isn't|it's not|it is not|isn't now|too soon|too early|th(?:ink|ought|inking) (?:again|better)|chang(?:e|ed|ing) (?:his|her|their|our|my|its) minds?|mistaken|correction|sooner|after all)\b"
)
_DENIES = re.compile(
    r"\A(?:oh,? |uh,? |um,? |well,? |or,? |but,? )*(?:(?:no|nope)(?= ?(?:[.,;:?!]|\Z)| (?:wait|sorry|they|we|it|he|she|i|that|it's|that's|the|on|by)\b| \w+day\b)|not (?:on|by|until|till|(?:(?!every|a|any|one)\w+ )?(?:\w*day|eve)\b|christmas|easter|thanksgiving|halloween|the \d)|(?:wait|actually|sorry|make (?:it|that)|i mean)\b)"
)
_DENIED_HERE = re.compile(
    r"(?: (?:morning|afternoon|evening|night))?,? (?:oh,? |or,? )?(?:no|nope|sorry|wait|i mean|or rather|make that)\b,? "
)
"""Right behind a day: another one is meant."""
_OR_ELSE = re.compile(
    r"\bif (?:nobody|no one|no-one|none|nothing)\b[^.;,?!]{0,50}\Z|\b(?:if|unless) (?:it|they|you|we|he|she|i|yours?|that|those|the \w+|nobody|somebody|anybody)\b(?:(?!n't|\bnot\b|\bnever\b)[^.;,?!]){0,20}(?:n't|\bnot|\bnever)\b[^.;,?!]{0,50}\Z"
    r"|\bunless (?:it's|they're|it is|they are|(?:you|we|i)(?:'ve| have| get))\b[^.;,?!]{0,50}\Z"
    r"|\b(?:anything|whatever|anybody|anyone|whoever|those|ones?) (?:that |who |which )?(?:isn't|aren't|hasn't|haven't|doesn't|don't|is not|are not|has not)\b[^.;,?!]{0,50}\Z"
)
"""What is not there on the day is too late: `if it isn't on the truck by Friday`."""
_BY_THAT_DAY = re.compile(
    r"\b(?:by|before|until|till|no later than)(?: (?!then\b)[\w:]+){0,3} that (?:same )?(?:day|morning|afternoon|evening|night)\b"
)
"""The limit of a day named before: `by noon that day`."""
_NO_LIMIT = re.compile(
    r"\b(?:no|not any|isn't any|isn't a|not a) (?:rush|hurry|deadline|cut-?off|last day|closing date|end date|time limit)\b|\ball (?:the )?year (?:round|long|around)\b|\byear-?round\b|\Awhenever(?: you (?:like|can|want|please))?[.,;!]"
)
"""It is said that there is no last day."""
_LENT = re.compile(
    r"\b(?:borrow(?:s|ed|ing)?|lend(?:s|ing)?|lent|on loan|loan(?:s|ed|er)?|(?:keep|have|use) (?:it|one|them|him|her))\b"
)
_ONLY_UNTIL = re.compile(
    r"\A(?:oh,? |well,? |you can |you )*(?:(?:keep|have|borrow|use) (?:it|one|them|him|her) )?(?:until|till|through)(?: the| about)? \Z"
)
"""How long something is lent: `And you just borrow one? Till Easter.`"""
_SHOWN_UNTIL = re.compile(
    r"\b(?:stay(?:s|ing)?|is|are|be|up|post(?:ed|ing)|leav(?:e|es|ing)|keep(?:s|ing)?)(?: \w+)? (?:on|at) (?:our|the|their|its|my) (?:\w+ )?(?:page|site|web ?site|screen|channel)\b[^.;,]{0,15}\b(?:until|till|through|to)(?: the)? \Z|\b(?:lights?|candles?|lanterns?|decorations?|the (?:big )?tree|display|windows?|star)\b[^.;,]{0,25}\b(?:stays? (?:lit|on|up)|burns?|shines?|glows?|are (?:lit|on)|is (?:lit|on))\b[^.;,]{0,25}\b(?:through|until|till)(?: the)? \Z|'(?:s|re) (?:on|up on) (?:our|the|their|its|my) (?:\w+ )?(?:page|site|web ?site|screen|channel)\b[^.;,]{0,15}\b(?:until|till|through|to)(?: the)? \Z"
)
"""How long something can be read or seen: `it's on our page through Easter`, `the lights burn every night until New Year's`."""
_DATES_ON = re.compile(
    r"\bthe \d{1,2}(?:st|nd|rd|th) (?:right )?(?:through|thru|to|until|till)(?: to)?(?: and including)?(?: the)? \Z"
)
"""`The 23rd through to …`."""
_WANTED_IN = re.compile(
    r"\b(?:want|need|like)(?: to have)? (?:it|them|those|everything|(?:my|our|the|your|all the|all of the) \w+)(?: \w+)?(?: all)? (?:in|here|there|full|done|ready|packed|back|ready to go|in hand)(?: (?:on|for))?(?: the| this)? \Z"
)
"""`I want them in on the Friday`."""
_SO = re.compile(r"\bso\b")
_BEGINS = re.compile(
    r"(?<!\bdays )(?<!\bday )(?<!\bweeks )(?<!\bweek )(?<!\bmonths )(?<!\bmonth )\b(?:from|starting|beginning|as of|no (?:sooner|earlier) than|not (?:\w+ ){0,2}?(?:before|till|until)"
    r"|(?:don't|do not|can't|cannot|won't|isn't|aren't|didn't|wouldn't|couldn't)(?! (?:\w+ )?(?:forget|wait|delay|miss|hesitate|put it off|have to wait|leave it))(?: (?!until|till|before|by)[\w']+){1,4}? (?:before|until|till)|(?:it's|it'd be|that's|it'll be|sometime|some time) after)(?: (?:on|about|around|the|this|next))* \Z"
)
"""`From the 1st`, `not before the 26th`, `we can't take them until Monday`: when something begins."""
_ENDS_THEN = re.compile(r"[^.;,]{0,24} (?:to|until|till|through|thru)\b")
_IN_TIME = re.compile(
    r"\bif (?![^.;]{0,40}\b(?:be|turns?|turned|'s|is) \d)(?:it|they|that|those|these|yours|you|we|he|she|your \w+|the \w+|somebody|anybody)(?:'s|'re|'ve| is| are| has| have)?(?!n't)(?: (?!not\b)[\w']+){0,6} (?:by|before) [^.;?!]{0,24}\Z"
)
"""`If it's on the pallet by Saturday noon, it's in a box.`"""
_THEN_IN = re.compile(
    r"[^.;?!]{0,16}, ?(?:then )?(?:it|they|you|we|that|yours|he|she|i|there)(?:'s|'re|'ll|'ve)?\b"
)
_CLOSES_IT = re.compile(
    r"\b(?:clos|shut|lock|seal|empty|empti|draw|count|open|freez|end|stop|pull|tak|clear|tip)(?:e|es|ing|s|ting|ping)?(?: (?:off|up|down|out|in))? (?:the|our|their|her|his|my|that|this) (?:\w+ )?(?:basket|box|boxes|books?|list|lid|window|sign-?up|sheet|polls?|till|door|doors|jar|bin|bins|barrels?|crate|bag|bucket|order\w*|voting|ballots?|registers?|rolls|phones?|phone lines?|lines?|tub|trunk|envelopes|entries|hat|pot|pail|kettle|cup|mailbag|mailbox|chest|trailer|trucks?|vans?|carts?|wagon|crates|shed|tent|table|tables|roster|lottery|raffle|poll|form|gate|slot|drive|collection|contest|count)(?: (?:off|up|down|out|in))?,? ?(?:on |at )?(?:the |this |next )*\Z"
)
"""`We close the basket on …`."""
_ONLY_BY = re.compile(r"\bonly\b[^.;,?!]{0,60}\b(?:by|until|till|before|through)(?: \w+){0,3} \Z")
_YOURS_UNTIL = re.compile(
    r"\b(?:(?:you|folks|people|viewers|everybody|everyone|you all|y'all|kids|families|they|we)(?: only| just| still| all)?(?:'ve| have|'ll have)(?: all)?(?: only| just| still)?(?: got)?|(?:gives?|giving|leaves?|leaving) (?:you|us|folks|people|everybody|everyone|them)|you all have|still have)(?: only| just| right| up| clear| all the way){0,2} (?:until|till|'til|til|through)(?: [\w']+){0,7} \Z"
)
"""`You have until …`."""
_TOLD_YOU = re.compile(
    r"\b(?:we|i|they)(?:'d| had)? (?:told (?:you|everybody|everyone|folks|people)|reported|announced)\b(?:(?![,;:] (?:and )?(?:but|now|so it's|it's)\b)[^.;])*\Z"
)
_SUBJECT_IS = re.compile(
    r"(?: (?:morning|night|afternoon|evening|noon))?(?:'s| is| was) (?!when\b|it\b|the (?:last|end|cut|dead|final)|your last|our last|as late)"
)
_STARTS = re.compile(r"(?:(?:and|but|so|now|well|okay|oh),? )*(?:the |this |next )*\Z")
_FOR_IT = re.compile(r"(?<!deadline )(?<!cutoff )(?<!until )\bfor (?:the |this |next )*\Z")
_THAT_IS_WHY_NOT = re.compile(
    r"\b(?:because|'cause|since)(?: of course)?,? (?:that's|that is|it's|it is|then it's)(?: the| also| \w+ly)? \Z"
)
"""`Not this Saturday, because that's Easter.`"""
_EVERY_YEAR = re.compile(r"\b(?:every|each|any|most|some|many)(?: (?:single|other|second|third))? \Z")
_LEADS_UP = re.compile(
    r"\b(?:open|start|begin|kick off|go on|perform|play|sail|fly|set out|march|ride|race|judge|meet)s?(?: (?:on|at|in|by|again))*(?: the| this| next)? \Z"
)
"""What an answer tells first: `We open on the 12th, so by the Monday before`."""
_CAN_UNTIL = re.compile(
    r"\byou(?:'ll|'d)? (?:can|could|may|still|be able to)(?: still| always| just)? (?!see\b|visit\b|watch\b|hear\b|find\b|look\b|walk\b|catch\b)[^.;,?!]{0,70}\b(?:until|till|through|up to)(?: [\w']+){0,2} \Z"
)
_AFTER = re.compile(r"\b(?:after|past|once it's|come)(?: the| this)? \Z")
_BY_THEN = re.compile(
    r"\b(?:you|your|yours|please|has|have|must|needs?|want|wants|get|go|bring|sign|call|put|if|ask|send|so|like|should|ought|would)\b[^.;]{0,90}\b(?:(?:before|by|until|till) (?:then|that)\b(?! time|\w)|(?:before|by the time) (?:they|he|she|it|we|i) (?!can|could)\w+)"
)
"""`The draw is on the tenth, so have your name in before then.`"""
_YOURS_THEN = re.compile(
    r"\b(?:you|folks|people|they|we)(?:'ve| have|'ll have)?(?: only| just| still)? (?:got |get |have )?(?:until|till|'til|up to|through) (?:then|that)\b|\b(?:that's|it's|that is) (?:when|the day|the date)\b[^.;]{0,40}\b(?:has to|have to|must|needs? to|due|deadline|you'd want|want it|want them|close|closes)\b"
)
"""In the next sentence: `You've got till then.` `That's when it has to be there.`"""
_MUST_BE_THERE = re.compile(
    r"(?<!\byou )(?<!\bwe )(?<!\bi )(?<!\bhe )(?<!\bshe )\b(?:has|have|needs?|must|got|ought)(?: to)? (?:(?:be|get|arrive|come|land|go) (?:all )?(?:there|in|at|on|here|back|with|to|down|up|over|off|into|under|through|inside)|reach)\b[^.;,]{0,40} (?:on |the (?:morning|night|evening|afternoon) of )?(?:the |this )?\Z"
)
_ONLY_TODAY = re.compile(r"(?:only|just)(?: for)? \Z")
_INVITES = re.compile(
    r"\b(?:room for|(?:spots?|seats?|places|slots|openings?|chairs|beds|tickets) (?:left|open|for|still)|still taking|tell (?:me|her|him|us|them)|let (?:me|her|him) know|one of (?:them|these|those)'s yours|if (?:it's|that's|they're|one's) yours|everybody's welcome|anybody's welcome|open to (?:anybody|anyone|all|every)|appl(?:y|ies|ications?)|scholarships?|grants?|nominat\w+|volunteers?|donat\w+|unclaimed|lost and found|come and get|pick (?:it|them|one|yours) up)\b"
)
"""What else asks or offers."""
_MUST_TELL = re.compile(
    r"\b(?:i|we|she|he|they|who|\w+s)(?:'ve| have|'s| has|'re| are)?(?: got| need| needs| having)? to (?:tell|give|order|send|hand|turn|know|let|report|phone|mail|file)\b(?! you\b)[^.;]{0,50}(?:\bon )?(?:the |this )?\Z"
)
"""`I've to tell the company how many on Wednesday.`"""
_USED_TO = re.compile(r"\b(?:used to|(?:it|that) was always)\b[^.;]*\Z")
_HURRY = re.compile(
    r"\b(?:hurry|(?:be|better be) quick|get a move on|while you (?:still )?can|(?:don't|do not|wouldn't) (?:wait|dawdle|put it off|hang about|leave it|dally)|step lively|right away)\b"
)
_NEW_DATE = re.compile(
    r"\b(?:new|right|real|correct|final|actual) (?:date|day|one)(?:'s| is) (?:the |on )?\Z"
)
_OPEN_UNTIL_IT = re.compile(
    r"\b(?:taking|takes?|accept\w*|open|collect\w*|keep\w*|on sale|for sale|good|available|up)\b[^.;,]{0,30}\b(?:until|till) (?:the |they |he |she |it |we |i |school |church )(?:[\w']+ ){1,5}(?:on )?(?:the |this )?\Z"
)
"""`She's taking names until the bell rings on Wednesday.`"""
_LEFT = re.compile(r"\b(?:more|another|next)\b.*\b(?:days?|weeks?|months?)\b")
_DRIVE_RANGE = re.compile(
    rf"{_CLOSING_SUBJECT.pattern}[^.;?!]{{0,50}}\bfrom\b[^.;?!]{{1,50}}\b(?:to|until|till|through|thru)(?: and including)?(?: the)? \Z"
)
"""`The collection runs from Monday to …`."""
_NO_LATER = re.compile(
    r"\b(?:no|not|never) (?:a day |a minute |any |one day |much )?later than (?:\w+ ){0,4}\Z"
)
_GOOD_FOR = re.compile(
    r"\b(?:good|valid|open|here|available|up|running|run|runs|last|lasts|going|goes|on)(?: for)?(?: only| just| about| exactly)?(?: the next| another)? ?\Z"
)
"""`The offer's good for ten more days.`"""
_SOONER = re.compile(
    r"\b(?:sooner|earlier|before that|ahead of that|in advance|beforehand)(?:, that's|, so)?,? ?(?:on |by )?(?:the |this )?\Z"
)
"""`That one comes down a week sooner, on the 19th`."""
_COME_ALONG = re.compile(
    r"\b(?:(?<!to )(?<!must )(?<!first )come (?!down\b|out of|off\b|in by|in (?:the|on)\b|to\b|up short)(?:and |on |along |over )?\w+|join (?:us|them|in)|we(?:'re|'ll be| are) (?:all )?(?:back|here|on again|live)|see you|meet (?:us|them|me)|be there|turn up|show up)\b[^.;]{0,45}\Z"
)
_AND_YOU = re.compile(
    r"[^.;,?!]{0,16},? (?:and|or) (?:you|you'll|you're|we'll|they'll|he'll|she'll|i'll|it's yours|it's free|your \w+)\b|[^.;,?!]{0,16},? or (?:i'm|it's|it goes|they're|they go|he's|she's|we're|the \w+|else)\b"
)
"""`Show your card by Sunday, and you ride free.`"""


def signs(
    sentences: Sequence[Sentence], number: int, mention: Mention, aired: date, *, is_last: bool
) -> dict[str, float]:
    """What speaks for a day's being the last on which something is wanted, by name."""
    text = sentences[number].plain
    before, after = text[: mention.start], text[mention.end :]
    clause = before[max(before.rfind(sign) for sign in (",", ";", ":")) + 1 :] + re.split(r"[,;:]", after)[0]
    announced = any(
        pattern.search(part) is not None
        for pattern, part in ((_OTHER_ANNOUNCED, clause), (_ONCE_SAID, before), (_TOLD_YOU, before))
    )
    # What was announced once may not hold any more, whatever its words.
    rule = "" if announced else _rule(sentences, number, mention, is_last)
    around = [each.plain for each in sentences[max(0, number - _REACH_BACK) : number + _REACH_ON + 1]]
    previous, following = _plain(sentences, number - 1), _plain(sentences, number + 1)
    tense = _tense(before)
    led_in = _APPOSITION.sub("", before)
    until, by = _UNTIL_ENDS.search(led_in) is not None, _BY_ENDS.search(led_in) is not None
    until = until and _HOURS.search(before) is None
    ahead = (mention.day - aired).days if mention.day is not None else 0
    between_now = _BETWEEN_NOW.search(before) is not None
    begins = (
        not between_now
        and _BEGINS.search(before) is not None
        and _DATES_ON.search(before) is None
        and _ENDS_THEN.match(after) is None
    )
    until, by = until and not begins, by and not begins
    limited = until or by
    or_else = _OR_ELSE.search(before) is not None
    too_late = _AFTER.search(before) is not None and _TOO_LATE.match(after) is not None
    in_time = by and _IN_TIME.search(before) is not None and _THEN_IN.match(after) is not None
    settles_anew = (
        _SETTLES.search(before) is not None
        and not announced
        and _gave_up(
            f"{_plain(sentences, number - 3)} {_plain(sentences, number - 2)} {previous} {before}",
            f"{previous} {before}",
        )
    )
    found: dict[str, bool | float] = {
        **{f"rule_{name}": rule == name for name in ("named", "closes", "answer")},
        "until": until,
        "by": by,
        "nothing_asked": not any(_OFFER.search(each) or asks(each) or addresses(each) or signs_up(each) or wants(each) or re.search(r"\byour?\b", each) or _INVITES.search(each) for each in around),
        "if_clause": not (or_else or in_time) and re.search(r"\bif [^,.;]{0,60}\Z", before) is not None,
        "in_time": in_time,
        "begins": begins,
        "closes_it": _CLOSES_IT.search(before) is not None and not announced,
        "only_by": _ONLY_BY.search(before) is not None,
        "yours_until": _YOURS_UNTIL.search(before) is not None,
        "subject_is": not (limited or rule) and _STARTS.fullmatch(before) is not None and _SUBJECT_IS.match(after) is not None,
        "every_year": _EVERY_YEAR.search(before) is not None,
        "leads_up": rule == "answer" and not limited and _LEADS_UP.search(before) is not None,
        "can_until": until and _CAN_UNTIL.search(before) is not None,
        "that_is_why": _THAT_IS_WHY_NOT.search(before) is not None,
        "sooner": not announced and (_SOONER.search(before) is not None or re.search(r"\b(?:sooner|earlier)\b", mention.written) is not None),
        "come_along": not (limited or rule) and _COME_ALONG.search(before) is not None,
        "for_it": not limited and _FOR_IT.search(before) is not None,
        "and_you": by and _AND_YOU.match(after) is not None,
        "until_that": _UNTIL_THAT.search(before) is not None,
        "not_after": _AFTER_ENDS.search(before) is not None,
        "too_late": too_late,
        "in_hand": not limited and (_IN_HAND.search(before) is not None or _WANTED_IN.search(before) is not None),
        "or_else": or_else,
        "by_that_day": is_last and (_BY_THAT_DAY.search(after) is not None or _BY_THAT_DAY.search(following) is not None),
        "no_limit": limited and not rule and any(_NO_LIMIT.search(each.plain) for each in sentences),
        "lent": limited and _ONLY_UNTIL.search(before) is not None and any(_LENT.search(each) for each in (previous, before)),
        "shown": _SHOWN_UNTIL.search(before) is not None,
        "stretches": _STRETCHES.search(before) is not None,
        "has_to_be": _HAS_TO_BE.search(before) is not None,
        "goes_away": _GOES_AWAY.search(before) is not None
        and _SHUT_ALREADY.search(before) is None
        and _BEGINS.search(before) is None,
        "settles": _SETTLES.search(before) is not None,
        "settles_limit": _SETTLES.search(before) is not None and (_FIRM.search(before) is not None or re.search(r"\b(?:then|by)\b", previous) is not None),
        "answers": _answers_when(sentences, number),
        "announced": announced,
        "amended": _AMENDED.search(text) is not None or _AMENDED.search(previous) is not None,
        "settles_anew": settles_anew,
        "after_that": _SOMETHING_ELSE_UNTIL.search(before) is None and re.search(r"\b(?:after|past) (?:that|then)\b|\b(?:before|by) then\b|\b(?:night|day) before\b|\bso (?:your|you|get|have|bring|it's got)\b", after) is not None,
        "during": _ALL_THROUGH.search(before) is not None,
        "something_else": _SOMETHING_ELSE_UNTIL.search(before) is not None or _RUNNING.search(text) is not None,
        "had_by_then": limited and _HAD_BY_THEN.match(after) is not None,
        "takes_place": not (limited or rule or (settles_anew and _IS_DEADLINE.search(previous))) and _UNTIL_THAT.search(before) is None and _NEW_DATE.search(before) is None and _WRONG_DAY.search(before) is None and _TAKES_PLACE.search(before) is not None,
        "effect": _EFFECT.search(before) is not None and re.search(r"\bplease\b", text) is None,
        "shut_already": _SHUT_ALREADY.search(before) is not None,
        "offered": (limited or between_now) and any(_OFFER.search(each) for each in (previous, text)),
        "between_now": between_now,
        "past": _PAST.search(text) is not None and not asks(text),
        "asks": asks(text),
        "addresses_around": any(addresses(each) for each in around),
        "gives_around": any(gives(each) or hands_in(each) for each in around),
        "signs_up": signs_up(text),
        "signs_around": any(signs_up(each) for each in around),
        "limit_asked": limited and (asks(text) or addresses(text)),
        "vague": mention.vague and not (rule or limited),
        "clock": mention.clock is not None,
        "today": ahead == 0,
        "today_dated": ahead == 0 and mention.written not in ("today", "tonight", "this evening", "this afternoon"),
        "weeks_ahead": min(1.0, ahead / 30),
        "range": _HOURS.search(before) is not None or (_RANGE.search(before) is not None and _BETWEEN_NOW.search(before) is None) or _WEEKDAYS_ON.search(before) is not None or (_DATES_ON.search(before) is not None and _MOVED.search(before) is None) or re.match(r" (?:to|through|and) (?:\w+day|the \d)", after) is not None,
        "question": text.endswith("?"),
        "left": mention.left or _YOURS.search(before) is not None,
        "by_then": not limited and is_last and _BY_THEN.search(after) is not None,
        "yours_then": is_last and any(_YOURS_THEN.search(each) for each in (after, following)),
        "until_it_ends": _OPEN_UNTIL_IT.search(before) is not None and not announced,
        "must_be_there": not limited and _MUST_BE_THERE.search(before) is not None,
        "today_only": ahead <= 1 and (re.match(r",? only\b", after) is not None or _ONLY_TODAY.search(before) is not None),
        "new_date": _NEW_DATE.search(before) is not None,
        "hurry": any(_HURRY.search(each) for each in (previous, text, following)),
        "must_tell": not limited and _MUST_TELL.search(before) is not None,
        "used_to": _USED_TO.search(_ANEW.split(before)[-1]) is not None,
        "good_for": _LEFT.search(mention.written) is not None and _GOOD_FOR.search(before) is not None,
        "range_of_drive": _DRIVE_RANGE.search(before) is not None and mention.written not in WEEKDAYS,
        "yours_from": _YOURS.search(before) is not None,
        "at_latest": _AT_LATEST.match(after) is not None or _NO_LATER.search(before) is not None,
        "then_closes": not limited and _THEN_CLOSES.match(after) is not None,
        "negated": re.search(r"\b(?:not|isn't|wasn't) (?:on |this |the )*\Z", before) is not None,
        "weekdays_on": mention.vague and mention.written.split()[-1] in WEEKDAYS and _WEEKDAYS_ON.search(before) is not None,
        "since": re.search(r"\b(?:since|as of) (?:last |the |about )*\Z", before) is not None,
        "far": min(1.0, max(0, ahead - 45) / 60),
        "site": _SITE.search(text) is not None,
        "denied_next": (_DENIES.match(following) is not None and not _denies_another(following, mention)) or re.match(r",? (?:and |but )?not (?:this (?:time|year)|any ?more|now)\b", after) is not None or _DENIED_HERE.match(after) is not None,
        "reported": _REPORTED.search(_ANEW.split(before)[-1]) is not None or re.match(r",? (?:it|they) (?:said|says?)\b", after) is not None,
        "told_past": tense == "past",
        "told_would": tense == "would",
        "moved": _MOVED.search(before) is not None,
        "now_after": re.match(r",? (?:now|instead|this (?:year|time))\b", after) is not None,
        "subject_next": not (limited or too_late) and _SUBJECT_NEXT.match(after) is not None,
        "weekend": mention.last is not None and not limited,
        "before_then": _before_then(sentences, number, is_last=is_last),
        "before_thing": _before_thing(sentences, number, before, after),
        "because": _BECAUSE.search(before) is not None,
        "fragment": len(words_of(re.sub(r"\b(?:until|by|till|through|please|the|on|so|oh|well|yes|no|then|about)\b|[,.;:?!]", "", f"{before} {after}"))) <= 1,
        "position": number / (len(sentences) - 1) if len(sentences) > 1 else 1.0,
    }  # fmt: skip
    return {name: float(value) for name, value in found.items()}


def _gave_up(said: str, just: str) -> bool:
    """It is told before a day what was announced once, or that something is new."""
    return _OTHER_ANNOUNCED.search(said) is not None or _AMENDED.search(just) is not None


def _denies_another(following: str, mention: Mention) -> bool:
    """`By Thursday. Not Friday, I'm away`: what is denied is another weekday."""
    denied = _NOT_WEEKDAY.match(following)
    return denied is not None and denied[1] not in mention.written


_NOT_WEEKDAY = re.compile(
    rf"(?:(?:and|but|oh|well),? )*not (?:on |by |till |until |the |this )*({'|'.join(WEEKDAYS)}|\\d{{1,2}}(?:st|nd|rd|th)|first|second|third|fourth)\b"
)


def _before_then(sentences: Sequence[Sentence], number: int, *, is_last: bool) -> bool:
    """One of the next sentences says `before then` of the day."""
    return is_last and any(_THEN.search(_plain(sentences, after)) for after in (number + 1, number + 2))


def _before_thing(sentences: Sequence[Sentence], number: int, before: str, after: str) -> bool:
    """It is told what comes on the day, and later that something must be done before it: `before that truck pulls in`."""
    about = {
        each for each in words_of(f"{_CLAUSE.split(before)[-1]} {_CLAUSE.split(after)[0]}") if len(each) > 3
    }
    return any(
        match["thing"] in about
        for each in sentences[number + 1 : number + _FAR]
        for match in _BEFORE_THING.finditer(each.plain)
    )


def _tense(before: str) -> str:
    """`past`, `would` or `present`: the time of the last verb in these words that shows one; empty without any."""
    kind = ""
    for match in _TENSED.finditer(_ASIDE.sub(",", before)):
        if match["past"] and _PERFECT.search(match.string[: match.start()]):
            continue
        if not (match["present"] == "have" and kind == "would"):
            kind = match.lastgroup or ""
    return kind


def among(one: Day, every: Sequence[Day], sentences: Sequence[Sentence]) -> dict[str, float]:
    """What the other days of its story say of a day."""
    assert one.day is not None
    others = [each for each in every if each.day is not None and each.day != one.day]
    limits = [each for each in others if _limited(each)]
    earlier = [each for each in others if _place(each) < _place(one)]
    later = [each for each in others if _place(each) > _place(one)]
    again = not _once(one) and any(_once(each) for each in every if each.day == one.day)
    found = {
        "corrects": any(_corrects(one, each, sentences) and _limited(each) for each in others),
        "corrected": _limited(one) and any(_corrects(each, one, sentences) for each in others),
        "restates": any(_restates(one, each, sentences) and _limited(each) for each in others),
        "restated": _limited(one) and any(_restates(each, one, sentences) for each in others),
        "superseded": any(
            0 < each.sentence - one.sentence <= 4 and _withdrawn(sentences, one.sentence, each.sentence)
            for each in limits
        ),
        "supersedes": _limited(one)
        and any(
            0 < one.sentence - each.sentence <= 4 and _withdrawn(sentences, each.sentence, one.sentence)
            for each in others
        ),
        "taken_back": any(_takes_back(other, one, sentences) for other in later),
        "taken_instead": any(_takes_back(one, other, sentences) for other in earlier)
        and not any(_takes_back(other, one, sentences) for other in later),
        "so_sooner": not _limited(one) and any(_so_sooner(one, other, sentences) for other in later),
        "leads_on": bool(one.signs["answers"])
        and not _limited(one)
        and any(
            _limited(each) and each.day and each.day < one.day and each.sentence - one.sentence <= _REACH_ON
            for each in later
        ),
        "parallel": bool(one.signs["until"] or one.signs["by"])
        and any(
            _limited(each) and each.sentence == one.sentence and _side_by_side(one, each, sentences)
            for each in others
        ),
        "so_sooner_yet": _limited(one)
        and any(_so_sooner(one, other, sentences) and _limited(other) for other in later),
        "not_that": bool(one.signs["negated"])
        and any(not each.signs["negated"] and each.sentence - one.sentence <= _REACH_ON for each in later),
        "settled_sooner": any(
            _so_sooner(one, other, sentences) and (other.signs["settles"] or other.signs["has_to_be"])
            for other in later
        ),
        "before_last": not _limited(one)
        and any(
            each.signs["rule_named"] and each.sentence == one.sentence and each.day and each.day > one.day
            for each in later
        ),
        "follows_limit": not _limited(one)
        and any(
            _limited(each)
            and each.day is not None
            and 0 < (one.day - each.day).days <= _SOON_AFTER
            and one.sentence - each.sentence <= _REACH_ON
            for each in earlier
        ),
        "given_up": _once(one) and any(not _once(each) and _says_last(each) for each in later),
        "given_instead": _says_last(one)
        and not (_once(one) or again)
        and any(_once(each) and _was_limit(each) for each in earlier),
        "once_elsewhere": again,
        "so_then": bool(one.signs["subject_next"])
        and any(_limited(each) and each.sentence == one.sentence for each in earlier),
        "only": not others,
        "limit_later": any(each.sentence > one.sentence for each in limits),
        "limit_earlier": any(each.sentence < one.sentence for each in limits),
        "event_after": any(each.day > one.day for each in others if not _limited(each) and each.day),
    }
    return {name: float(value) for name, value in found.items()}


def _corrects(one: Day, other: Day, sentences: Sequence[Sentence]) -> bool:
    """A day is denied, and another one said, in one of the next sentences: `No, Friday.`"""
    return (
        0 < one.sentence - other.sentence <= _REACH_ON
        and not one.signs["negated"]
        and _DENIES.match(sentences[one.sentence].plain) is not None
    )


def _restates(one: Day, other: Day, sentences: Sequence[Sentence]) -> bool:
    """Nothing but another weekday is said next, as by somebody who knows better: `You've got till Monday.` `Friday.`"""
    said = sentences[one.sentence].plain
    return (
        one.sentence - other.sentence == 1
        and _WORDS_OF_LIMITS.sub("", f"{said[: one.mention.start]}{said[one.mention.end :]}") == ""
        and all(each.mention.written.split()[-1] in WEEKDAYS for each in (one, other))
    )


_WORDS_OF_LIMITS = re.compile(r"\b(?:until|by|till|through|on|the|this|it's)\b|[ ,.;:?!]")


def _takes_back(one: Day, other: Day, sentences: Sequence[Sentence]) -> bool:
    """A day is said in place of another one that might have been a last day: `till Friday, no, Saturday`."""
    if one.signs["negated"] or not _may_be_last(other):
        return False
    if one.sentence == other.sentence:
        between = sentences[one.sentence].plain[other.mention.end : one.mention.start]
        return _DENIED_HERE.match(between) is not None and len(between) <= _SHORT
    return (
        one.sentence == other.sentence + 1
        and _DENIES.match(sentences[one.sentence].plain) is not None
        and one.mention.start <= _SHORT
    )


_SOON_AFTER = 4
"""Days within which something takes place for which things had to be there by a limit."""
_SHORT = 40
"""Characters between a denial and the day that holds."""


def _so_sooner(one: Day, other: Day, sentences: Sequence[Sentence]) -> bool:
    """`They choose on Friday, so have it there by Wednesday`: what takes place, and therefore a day before it."""
    if one.day is None or other.day is None or other.day >= one.day:
        return False
    if one.sentence == other.sentence:
        return _SO.search(sentences[one.sentence].plain, one.mention.end, other.mention.start) is not None
    return other.sentence == one.sentence + 1 and sentences[other.sentence].plain.startswith(
        ("so ", "so, ", "and so ")
    )


def _side_by_side(one: Day, other: Day, sentences: Sequence[Sentence]) -> bool:
    """Each is somebody else's last day: `children have until the fifth, their parents until the twelfth`."""
    first, second = sorted((one, other), key=_place)
    between = sentences[one.sentence].plain[first.mention.end : second.mention.start]
    return _OTHERS_DAY.fullmatch(between) is not None


_OTHERS_DAY = re.compile(
    r"(?: to [\w ]{2,30})?,? (?:and |but |while )?(?:(?!so |or |no |not |then |now |it |that |because )[a-z][\w'-]+ ){1,5}(?:have |has |get |till |until |by |through |is ){1,3}(?:the |next )?"
)


def _may_be_last(day: Day) -> bool:
    return _limited(day) or any(
        day.signs[name]
        for name in ("goes_away", "in_hand", "stretches", "settles", "answers", "moved", "has_to_be")
    )


def _place(day: Day) -> tuple[int, int]:
    """Where a day is named, to compare."""
    return day.sentence, day.mention.start


def _once(day: Day) -> bool:
    """It is told as what was once planned or said."""
    return bool(
        day.signs["announced"]
        or day.signs["reported"]
        or ((day.signs["told_past"] or day.signs["told_would"]) and not day.signs["moved"])
    )


def _was_limit(day: Day) -> bool:
    return _limited(day) or bool(day.signs["announced"] or day.signs["reported"] or day.signs["told_would"])


def _says_last(day: Day) -> bool:
    return _limited(day) or bool(day.signs["settles"] or day.signs["moved"] or day.signs["answers"])


def _withdrawn(sentences: Sequence[Sentence], first: int, last: int) -> bool:
    """Something is taken back between two sentences, or by the latter."""
    return any(_WITHDRAWN.search(each.plain) for each in sentences[first + 1 : last + 1])


def _limited(day: Day) -> bool:
    return any(
        day.signs[name] for name in ("until", "by", "not_after", "rule_named", "rule_closes", "between_now")
    )


NEAR_WORDS = 10
"""Words before and behind a day that count wherever they stand."""


def wording(sentences: Sequence[Sentence], number: int, mention: Mention) -> dict[str, float]:
    """The words around a day, as signs: nearest ones in their order, farther ones in any."""
    text = sentences[number].plain
    before, after = words_of(text[: mention.start]), words_of(text[mention.end :])
    found = [f"said:{' '.join(words_of(text[mention.start : mention.end]))}"]
    found += last(before, "before", 3)
    found += first(after, "after", 3)
    found += {f"somewhere before:{word}" for word in before[-NEAR_WORDS:]}
    found += {f"somewhere after:{word}" for word in after[:NEAR_WORDS]}
    signs = dict.fromkeys(found, 1.0)
    for name, at in (("sentence before", number - 1), ("sentence after", number + 1)):
        signs |= {f"{name}:{word}": 0.5 for word in words_of(_plain(sentences, at))}
    return signs


def weight(found: Mapping[str, float]) -> float:
    """How much speaks for a last day with these signs: logarithms of odds."""
    return weights("deadlines").odds(found)


def _names_it(before: str, after: str) -> bool:
    """The day is what is said to be the last: `the deadline is …`, `… is the last day`."""
    tail = before[-70:]
    return bool(_SAID_BEFORE.search(tail) or _SAID_RIGHT_BEFORE.search(tail) or _SAID_AFTER.match(after))


def _asked(sentences: Sequence[Sentence], number: int) -> bool:
    near = sentences[max(0, number - _REACH_BACK) : number + _REACH_ON + 1]
    return any(asks(each.plain) for each in near)


def _answers_when(sentences: Sequence[Sentence], number: int) -> bool:
    """The sentence, or the few words before it, answers `until when?`."""
    for back in (1, 2):
        question = _plain(sentences, number - back)
        if _BARE_WHEN.fullmatch(question):
            return True
        if question.endswith("?") and _QUESTION_WHEN.search(question):
            return True
        if question.endswith("?"):
            return False
    return False


def _plain(sentences: Sequence[Sentence], number: int) -> str:
    return sentences[number].plain if 0 <= number < len(sentences) else ""
