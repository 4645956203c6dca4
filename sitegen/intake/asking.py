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


def hands_in(text: str) -> bool:
    """The plain sentence speaks of things being taken somewhere."""
    return _HAND.search(text) is not None


def signs_up(text: str) -> bool:
    """The plain sentence speaks of putting one's name down."""
    return _SIGN.search(text) is not None


def asks(text: str) -> bool:
    """The plain sentence asks people for something, or says that it is wanted."""
    return _DIRECT.search(text) is not None or _NEED.search(text) is not None
