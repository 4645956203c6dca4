"""Numbers that matter to an ask, with their units: the goal, what there is so far, what it came to last time.

The grammar: what somebody wants, needs or hopes for is a goal; `so far`, `already`, `as of`, `we've got` a count to date; `last year`, `last winter`,
`last time` the earlier figure. Of `nine thousand of the twenty thousand` the second is the goal, where the first is a count.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from sitegen.intake.records import Amount, Said, Sentence
from sitegen.intake.vocabulary import word_set

_NUMBER = re.compile(
    r"(?<![\w$.,:/-])(?P<money>\$)?(?P<number>\d{1,9}(?:\.\d+)?)(?![\d:/.]*\d)(?!(?:st|nd|rd|th)\b)(?!-\d)(?P<unit>(?: (?:more|new|clean|used|warm|empty|extra|other|whole|different|full))?(?: (?:pairs|boxes|bags|cans|pounds|tons|gallons|cases|sets|jars|miles|square feet) of)? [a-z][a-z'-]+)?"
)
_LAST = re.compile(
    r"\blast (?:year|winter|spring|summer|fall|autumn|season|time|christmas|thanksgiving|holiday|january|february|march|april|may|june|july|august|september|october|november|december|go-round|drive)\b|\ba year ago\b|\bthe year before\b|\bthe (?:1st|first) (?:year|winter|time|season|drive)\b"
)
_GOAL = re.compile(
    r"\b(?:goal|target|aim(?:s|ing)?|wants?|want(?:ed)? to (?:get|reach|collect)|needs?|needed|hop(?:e|es|ing)|would like|'d like|looking for|asking for|short of|shooting for|trying (?:to|for)|set out|get to|reach|could use|expect(?:s)? to need|we said we'd do|like it to be|could help another|they'd like|'re after|is after|by the time|to collect|to raise|to fill)\b"
)
_SO_FAR = re.compile(
    r"\b(?:so far|already|as of|to date|up to now|until now|at last count|by last count|has got|have got|we've got|they've got|has had|have been (?:filled|given|collected|raised)|had been (?:filled|given|collected|raised)|are in|is at|he's at|she's at|they're at|we're at|counted|have come in|stands at|they have|raised)\b"
)
_PART_OF = re.compile(r"\d of (?:the|its|their|his|her|a|that|those) \Z")
"""Before a number of which another is a part: `9000 of the 20000 dollars`."""
_NOT_UNIT = word_set("and or but of to in on at by for from with years year months month weeks week days day hours hour minutes minute oclock am pm percent % is are was were that who have had "
    "has so as the a an if when miles feet degrees th street road avenue times time ago old other until before after more than each every people's last this next because then since one "
    "inches acres thing things kinds ways reasons copies")  # fmt: skip


def amounts_in(sentences: Sequence[Sentence]) -> tuple[Amount, ...]:
    """The numbers of a segment that say how much is wanted, there, or was there; a unit not said is the one said before."""
    found: list[Amount] = []
    unit = ""
    for number, sentence in enumerate(sentences):
        text = sentence.plain
        before = sentences[number - 1].plain if number else ""
        for match in _NUMBER.finditer(text):
            if (
                re.match(r"(?:1[89]|20)\d\d\Z", match["number"])
                and not match["money"]
                and re.search(r"\b(?:in|since|of|from|until|year|by) \Z", text[: match.start()])
            ):
                continue
            if re.search(
                r"\b(?:january|february|march|april|may|june|july|august|september|october|november|december|station|number|route|grade|age|aged|size|sizes|bus|channel|page|fire) (?:the )?\Z",
                text[: match.start()],
            ):
                continue
            clause = _clause(text, match.start(), match.end())
            word = (match["unit"] or "").strip().split()
            own = "" if not word or word[-1] in _NOT_UNIT else " ".join(word)
            if (
                word
                and word[-1]
                in (
                    "year",
                    "years",
                    "minutes",
                    "hours",
                    "months",
                    "weeks",
                    "days",
                    "hour",
                    "miles",
                    "feet",
                    "degrees",
                    "times",
                    "percent",
                    "acres",
                    "inches",
                    "thing",
                    "things",
                    "kinds",
                    "ways",
                    "reasons",
                )
                and not own
            ):
                continue
            role = _role(clause, before)
            if role == "so_far" and _PART_OF.search(text[: match.start()]):
                role = "goal"
            if match["money"] or own in ("dollars", "dollar"):
                own = "dollars"
                role = role or "money"
            if not role:
                continue
            if role in ("goal", "so_far", "last_time") and float(match["number"]) < 2:
                continue
            unit = own or unit
            found.append(
                Amount(float(match["number"]), own or unit, role, Said(sentence.text, sentence.start))
            )
    return tuple(dict.fromkeys(found))


def _clause(text: str, start: int, end: int) -> str:
    """The part of a sentence that a number stands in."""
    left = max(text.rfind(sign, 0, start) for sign in (",", ";", ":", "."))
    right = min(
        (at for at in (text.find(sign, end) for sign in (",", ";", ":")) if at >= 0), default=len(text)
    )
    clause = text[left + 1 : right]
    # A clause of a few words is part of its neighbour: `last year, they got 210`.
    if len(clause.split()) < 4 or (_LAST.search(text[:start]) is not None and left < start):
        opening = re.match(r"[^,]{0,40},", text)
        if opening is not None and _LAST.search(opening[0]):
            clause = opening[0] + clause
    return clause if len(clause.split()) >= 4 else text


def _role(clause: str, before: str) -> str:
    if _LAST.search(clause):
        return "last_time"
    if _SO_FAR.search(clause):
        return "so_far"
    if _GOAL.search(clause):
        return "goal"
    if before.endswith("?") and re.search(r"\bhow many\b|\bhow much\b|\bhow far\b", before):
        return (
            "goal"
            if _GOAL.search(before)
            else "so_far"
            if re.search(r"\b(?:has|have|so far|got)\b", before)
            else ""
        )
    return ""
