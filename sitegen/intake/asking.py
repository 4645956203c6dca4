"""Whether people are asked for something: the grammar of requests on air.

A request is an imperative, `you can`, `can be dropped off`, a need (`they are short of`), or an offer with conditions (`is open to`).
Words are English of everyday requests, common practice, no source.
"""

from __future__ import annotations

import re

HANDING_IN = (
    r"(?:drop(?:ped|s|ping)?(?: \w+){0,3}? (?:off|by|in)|drop (?:a|the|them|it|things|yours?|new|your)|dropped at|drop-?offs?|hand(?:ed)? (?:yours |them |it |those )?in|turn(?:ed)? (?:them |it )?in"
    r"|bring(?:s|ing)?|brought|take (?:them|it|those|yours?|your|any|the|clean|new|a)|take things|people take|haul|donat\w+|deliver\w*|leave (?:them|it|yours?|your|a|things|the|any|new)|left (?:at|with|in|on)|be left"
    r"|collect(?:ing|ed|ion|ions|s)?|mail(?:ed)? (?:them|it|yours|to)|send (?:them|it|yours?|a|your)|contribut\w+|give (?:them|it|yours?|blood|your)|pull (?:right )?up|fill(?:ing)? (?:it|them) in|get (?:it|them|those|yours?|your \w+) (?:over |down |up |back |in )?to|(?:run|send|carry|cart|swing|ship) (?:it|them|those|yours?|your \w+) (?:over |down |up |by |around |in )?(?:to|at|by)|chip in|pitch in|accept(?:ed|ing|s)|receiv(?:e|es|ing)|agreed to take|taking (?:them|it|in|donations|(?:\w+ ){1,3}at)|unopened|box(?:es)? (?:is|are|stands?|at|in|outside)|bins?|barrels?|baskets?|donation)"
)
SIGNING_UP = (
    r"(?:sign(?:ed|ing)?[ -]?ups?|register(?:ed|ing)?|registration|enroll?\w*|apply|applications?|applying|entr(?:y|ies)|enter|nominat\w+|vot(?:e|es|ing)|order(?:s|ed)?|reserv\w+|book(?:ed)? (?:a|by|your|ahead|one)|rsvp|tickets?"
    r"|submit\w*|volunteer(?:s|ing)?|join|call(?:ing)?|phone|write to|email|let (?:them|us|her|him|the \w+|\w+) know|tell (?:them|us|the|her|him)|be included|raise your hand|leave your name|put your name|get in touch|contact|ask(?:ing)? for|spots?|pledge\w*|audition\w*|claim\w*|pick(?:ed)? up|forms?)"
)
NEEDING = r"(?:need(?:s|ed)?|wants?|would like|would be glad|short of|looking for|asking for|hop(?:e|es|ing) (?:for|to)|could use|after|begging for|still short|goal|run(?:ning)? out|be glad of|wish list|in search of|please|lacks?|in want of|ought to be|could do with|in demand|are welcome|is welcome|welcomes?)"

_DIRECT = re.compile(
    rf"\b(?:you(?:'d|'ll|'re)?(?: \w+){{0,2}} (?:can|could|may|should|must|have to|need to|'ll|might|want to)|you (?:can|could|may|should|have to)|if you|please|can be|may be|could be|should be|must be|are welcome|{HANDING_IN}|{SIGNING_UP})\b"
)
_NEED = re.compile(rf"\b{NEEDING}\b")
_HAND = re.compile(rf"\b{HANDING_IN}(?!\w)")
_SIGN = re.compile(rf"\b{SIGNING_UP}(?!\w)")

_GIVE = (
    r"(?:bring|take|leave|drop|hand|give|send|get|put|mail|walk|carry|haul|toss|pass|run|swing|set|slip|stick|hang|slide|turn|load|dump|lug|tuck|pop|deliver|donate|return|ship|pile|fill|sign|sell|go|come"
    r"|stop|head|show up|meet|check in|park|pull|be|call|see|ask|try|pick|register|enter|apply|buy|find|line up|look|lean|pull up|roll|wheel|push|place|swap|trade|reserve|vote|join|pledge)"
)
"""Verbs of bringing, leaving and going, in the form that asks for it."""
_VIEWER = re.compile(
    r"\b(?:you|folks|people|anybody|anyone|everybody|everyone|donors|neighbors|viewers|bakers|volunteers|drivers|kids|families|parents|customers|members)(?:'d|'ll|'re|'ve)? "
    rf"(?:(?:can|could|may|should|might|must|will|would|want to|need to|have to|ought to|just|also|still|simply|always|either|then|both|going to|got to|gotta|are asked to|are welcome to|do|don't have to|all|only|got) ){{0,4}}{_GIVE}\b"
    rf"|(?:\A|[,;:.?!] |\b(?:and|or|so|then|just|please|but|simply|well|okay) )(?:(?:just|please|simply|also|then|and|or|so|go|either|you|well|okay|now|to) ){{0,3}}{_GIVE} (?:it|them|yours|your|those|that|one|a|an|the|any|'em|by|in|on|over|down|up|out|to|at|off|along|into|through|back|things|what|whatever|some|new|clean|used|old|cans|this|these|straight|right|around|behind|inside|past|for|with)\b"
    r"|\b(?:can|could|may|should|must|will|to|might) (?:also |still |all |just )?be (?:\w+ )?(?:left|dropped|taken|brought|handed|turned|mailed|sent|delivered|put|picked|signed|given|donated|found|had|entered|returned)\b"
)
"""Words that ask viewers to go or to give: a subject that means them, an imperative, a passive that leaves open who does it."""
_OBJECT = re.compile(
    r"\b(?:bring|brings|bringing|take|takes|leave|drop|hand|give|send|get|put|mail|walk|carry|haul|toss|pass|run|swing|set|slip|stick|hang|slide|turn|load|dump|lug|tuck|pop|sign|fill|pick) (?:them|it|yours?|those|one|that|any|a|an|your|whatever|'em|things|stuff|the|some|anything|everything|this|these|in|off)\b"
)
_WANTED = re.compile(
    r"\b(?:they|we|i|he|she|drive|club|crew|shelter|pantry|shelf|who|still|really|it|team|school|what)(?:'re|'s|'d|'m|'ve| is| are)? (?:(?:really|still|also|all|just|most|badly|always|only|in|would|could|now|down) ){0,3}(?:need|needs|want|wants|love|short|could use|use|looking|collecting|missing|asking|run out|out of|after|like|begging|hoping|desperate|gathering|taking|accepting|recruiting|hunting|hungry)\b"
    r"|\b(?:wanted|needed|goal|wish ?list|short of|shortage|run out of|in need of)\b"
)
_IF_YOU_HAVE = re.compile(
    r"\bif you(?:'ve| have)?(?: got| can)?\b|\bgot (?:an?|any|one)\b[^.]*\?|\bdonat|\bcollect|\bdrive\b|\bvolunteer|\bsign(?:ed)? up|\bregister|\bregistration|\bclean out\b|\byour (?:old|extra|used)\b"
)


def hands_in(text: str) -> bool:
    """The plain sentence speaks of things being taken somewhere."""
    return _HAND.search(text) is not None


def signs_up(text: str) -> bool:
    """The plain sentence speaks of putting one's name down."""
    return _SIGN.search(text) is not None


def asks(text: str) -> bool:
    """The plain sentence asks people for something, or says that it is wanted."""
    return _DIRECT.search(text) is not None or _NEED.search(text) is not None


def addresses(text: str) -> bool:
    """The plain words ask viewers to go or to give: a subject that means them, an imperative, or a passive that leaves open who does it."""
    return _VIEWER.search(text) is not None


def gives(text: str) -> bool:
    """The plain words have a verb of giving with its object: `bring them`."""
    return _OBJECT.search(text) is not None


def wants(text: str) -> bool:
    """The plain sentence says that somebody wants something now."""
    return _WANTED.search(text) is not None


def appeals(text: str) -> bool:
    """The plain sentence speaks of giving, collecting or signing up, or of what viewers may have."""
    return _IF_YOU_HAVE.search(text) is not None
