"""Which of the days that are said are deadlines: by the words before them, by what the sentence says of them, and by questions they answer."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import date

from sitegen.intake.asking import asks, hands_in, signs_up
from sitegen.intake.dates import Mention, find_days
from sitegen.intake.records import Deadline, EventDate, Said, Sentence

_LIMIT = re.compile(
    r"\b(?:until|till|'til|til|through|thru|by|before|no later than|not later than|up to(?: and including)?|up until|ahead of|prior to|between now and|not after|on or before"
    r"|any (?:day|time) (?:before|until|up to)|as late as|as of|to)(?: (?:about|around|the|this|next|midnight|noon|close|on|closing time|the close of business|business|\d{1,2}(?::\d\d)?(?: ?[ap]m)?|oclock|,|end of day|the end of|say|\w+day|night|afternoon|morning|evening|the (?:afternoon|morning|evening|night) of))*,? ?\Z"
)
_APPOSITION = re.compile(
    r"(?:(?<=\bby )|(?<=\buntil )|(?<=\btill )|(?<=\bbefore )|(?<=\bthrough ))[^,.;]{3,40}, (?:that's|that is|which is|which falls)(?: on)? ?\Z"
)
"""What stands between `by` and its day: `by Spectacle Day, that's …`."""
_FIRM = re.compile(
    r"\b(?:until|till|'til|til|by|before|no later than|not later than|up to|up until|ahead of|prior to|between now and|on or before|through|thru)\b"
)
_RANGE = re.compile(r"\bfrom\b[^.;]{0,60}\Z")
_WEEKDAYS_ON = re.compile(r"days? (?:through|thru|to|until) \Z")
_IS_DEADLINE = re.compile(
    r"\b(?:deadline|cut-?off|last (?:day|chance|date|call|night|morning|saturday|sunday|weekend|monday|friday)|final (?:day|chance|date)|closing date|due(?: date| back| in)?|expir\w+|(?:last|final) (?:pick-?up|collection|drop-?off|shipment|delivery|load|run|round|chances|hours?)|time(?:'s| is) up|time runs out)\b"
)
_SAID_BEFORE = re.compile(
    rf"{_IS_DEADLINE.pattern}[^.;?!]{{0,60}}(?:\b(?:is|are|was|will be|being|on|of|by|falls on)|'s|:) ?(?:on |the |this |next |for that is |now )*\Z"
)
_SAID_RIGHT_BEFORE = re.compile(rf"{_IS_DEADLINE.pattern},? ?(?:the |on |by |is |this )?\Z")
_SAID_AFTER = re.compile(
    rf"[^.;?!]{{0,30}}(?:\b(?:is|are|being)|'s|,) (?:the |our |their |your )?(?:absolute |very )?{_IS_DEADLINE.pattern}"
)
_CLOSES = re.compile(
    r"\b(?:clos(?:e|es|ing)|end(?:s|ing)?|wrap(?:s|ping)?(?: \w+)? up|wind(?:s|ing)? (?:up|down)|com(?:e|es|ing) (?:down|to an end)|go(?:es)? away|get(?:s)? (?:picked up|hauled away)|(?:is|are) (?:picked up|hauled away)|stop(?:s|ping)?(?: (?:taking|accepting|collecting)(?: \w+){0,2})?|finish(?:es|ing)?|shut(?:s|ting)?(?: down)?|run(?:s|ning)? out|over|cuts? off|due|expires?)\b(?: (?:for good|up|down|its doors|at (?:the (?:end|close) of )?[\w:]+(?: [ap]m| o'?clock)?|the doors|, ?they say,?))? ?(?:on|at the|at)? ?(?:the )?\Z"
)
_YOURS = re.compile(r"\byou(?:'ve| have)(?: only| just| still)?(?: got)?(?: just| only| about| exactly)? \Z")
"""`You've got two weeks from …`."""
_IN_HAND = re.compile(
    r"\b(?:be|have (?:them|it|those|these|yours|everything|your \w+)|get (?:them|it|those|yours|your \w+))(?: all)? (?:in(?: hand| the mail| their hands)?|turned in|postmarked|received|there)(?: here)?,? ?(?:on |by )?\Z"
)
"""Things that must be there on the day."""
_TOO_LATE = re.compile(
    r"[^.;?!]{0,12}\b(?:it's|it'll be|it will be|that's|they're|you're) (?:too late|over|gone|done|out of luck)\b"
)
_BEFORE_THEN = re.compile(r"\b(?:before|by) (?:then|that)\b")
_WE_CLOSE = re.compile(r"\b(?:we|we'll|i|i'll|let's|us)\b[^,.]*\Z")
"""The programme that closes, or somebody's own doing."""
_CLOSING_SUBJECT = re.compile(
    r"\b(?:collection|drive|sign-?ups?|registration|applications?|entries|nominations?|voting|enrollment|window|offer|sale|orders?|fund|donations?|appeal|campaign|contest|books?)\b"
)
_QUESTION_WHEN = re.compile(
    r"\b(?:until when|till when|by when|when do (?:you|they) (?:need|want|have)|how long (?:do|have|will|are|is|can)|what's the (?:deadline|cut-?off)|when's the (?:deadline|cut-?off|last)|when is (?:the )?(?:deadline|last)|(?:is there|what's) a deadline|when (?:does|do) (?:it|they|that|you|this|sign-?ups?) (?:end|close|stop|run out)|when are you (?:closing|stopping)|how much time)\b"
)
_PAST = re.compile(
    r"\b(?:had (?:been|come|gone|filled|reached|given|run)|were (?:gone|closed|married|born)|was (?:closed|gone|born|built|open until|over)|has been|have been|since|didn't|wasn't|would have|used to|last (?:year|spring|summer|fall|winter|season)(?:'s)? (?:it|they|he|she))\b"
)
_RUNNING = re.compile(
    r"\b(?:lights?|show|exhibit(?:ion)?|display|concerts?|performances?|play|film|market|fair|festival|carnival|they stay on|on view|museum|shines?|road|bridge|weather|rain|snow|warm)\b[^.]{0,50}\b(?:run|runs|stay|stays|on (?:view|display)|open|continues?|goes on|lasts?|through|until|closed)\b"
)
_REACH_BACK, _REACH_ON = 4, 2
"""Sentences around a day within which something must be asked for."""
_PRESENT_GOAL = re.compile(
    r"\b(?:collecting|counting|taking|sewing|selling|accepting|open|there|out|up|have|has|got|run|runs|available|free|stand|welcome|goes|needs?|deadline)\b"
)


def deadlines_in(
    sentences: Sequence[Sentence], aired: date, country: str
) -> tuple[tuple[Deadline, ...], tuple[EventDate, ...]]:
    """(deadlines, other days ahead) of a segment, each once, in the order they are said."""
    closing: dict[tuple[date | None, date | None], Deadline] = {}
    events: dict[date, EventDate] = {}
    for number, sentence in enumerate(sentences):
        mentions = find_days(sentence.plain, aired, country)
        for mention in mentions:
            day = mention.day
            if mention.last is not None and re.search(
                r"\b(?:through|thru)(?: all of)? \Z", sentence.plain[: mention.start]
            ):
                day = mention.last  # `Through the weekend` takes in its last day.
            if day is not None and day < aired:
                continue
            said = Said(sentence.text, sentence.start)
            if _closes(sentences, number, mention, is_last=mention is mentions[-1]):
                found = Deadline(day, said, mention.clock, mention.latest, mention.unsure)
                before = closing.get((day, mention.latest))
                if before is None or (before.clock is None and found.clock is not None):
                    closing[day, mention.latest] = found
            elif day is not None and day not in events:
                events[day] = EventDate(day, said, mention.clock, mention.last)
    kept = list(_settled(list(closing.values())))
    days = {each.day for each in kept}
    return tuple(kept), tuple(each for day, each in events.items() if day not in days)


def _settled(every: Sequence[Deadline]) -> Iterator[Deadline]:
    """Without bounds that a day in the same segment keeps."""
    days = [each.day for each in every if each.day is not None]
    for each in every:
        if each.day is None and each.latest is not None and any(day <= each.latest for day in days):
            continue
        yield each


def _closes(sentences: Sequence[Sentence], number: int, mention: Mention, is_last: bool) -> bool:
    text = sentences[number].plain
    before, after = text[: mention.start], text[mention.end :]
    if mention.day is None:
        return (
            _IS_DEADLINE.search(text) is not None
            or _IS_DEADLINE.search(_plain(sentences, number - 1)) is not None
        )
    if _IS_DEADLINE.search(text) and _names_it(before, after):
        return True
    if (
        _CLOSES.search(before)
        and not _WE_CLOSE.search(before)
        and (_CLOSING_SUBJECT.search(before) or _asked(sentences, number))
    ):
        return not _RUNNING.search(text)
    if mention.left or _YOURS.search(before):
        return _asked(sentences, number)
    if _IN_HAND.search(before) or (_TOO_LATE.match(after) and before.endswith("after ")):
        return _asked(sentences, number)
    if _BEFORE_THEN.search(after) and asks(after):
        return True
    limit = _LIMIT.search(_APPOSITION.sub("", before))
    if limit is not None and _FIRM.search(limit[0]):
        if limit[0].startswith("to"):
            return False
        if _RANGE.search(before) and not re.search(r"\b(?:until|by|before|no later)\b", limit[0]):
            return False  # `from the 5th through the 9th` is when it takes place.
        if mention.vague and mention.clock is None and _WEEKDAYS_ON.search(before):
            return False  # `Thursday through Sunday`: days of every week.
        if _PAST.search(text) and not asks(text):
            return False
        if _RUNNING.search(text) and not (hands_in(text) or signs_up(text)):
            return False
        return _asked(sentences, number)
    # An answer leads up to its day: `school starts on the 30th, so we're saying the 25th`.
    return is_last and _answers_when(sentences, number)


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
        if question.endswith("?") and _QUESTION_WHEN.search(question):
            return True
        if question.endswith("?"):
            return False
    return False


def _plain(sentences: Sequence[Sentence], number: int) -> str:
    return sentences[number].plain if 0 <= number < len(sentences) else ""
