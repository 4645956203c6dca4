"""Sentences that send the viewer to the site or the screen: where it is, what is there, and who is sent.

Three things are looked for: the station's own site or screen, something to be found there, and a form that offers it (`you'll find`, `is on`,
`we've posted`, `go to`). Other people's sites, and things that were merely once online, are none.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from sitegen.intake.plain import plain
from sitegen.intake.records import Said, Sentence, SpokenPromise
from sitegen.newsroom.records import Station

_OWN = re.compile(
    r"\b(?:our|the station's|this station's|the show's|the program(?:me)?'s|my) (?:own )?(?:\w+ ){0,2}(?:web ?sites?|web-?sites?|site|web ?page|home ?page|page|app|web address|feed|archive)\b"
    r"|\b(?:on|at|to|visit|check|see|from|through|via|over (?:on|at)|in) (?:the|this) (?:web ?site|web-?site|site|web ?page|app|page for this story|story page|page)\b"
    r"|\b(?:on|onto|across|at the bottom of|in the corner of|up on) (?:your|the|our) (?:tv |television )?screens?\b|\byour screens?\b"
    r"|\b(?:q ?r code|the link below|the address below|link (?:is )?(?:below|under)|under this story|with this story|beside this story|next to this story)\b"
)
_SEEN_ONLINE = re.compile(
    r"\b(?:you(?:'ll| can| will|'re able to)(?: also)? (?:find|see|read|watch|look|get|check)|(?:find|see|check|read|watch|get) (?:it|them|that|those|the|all|more|both|everything|out)|(?:is|are|be|go|goes|'s|'re) (?:posted|listed|available|up|waiting|all)|more (?:details|information|info|on this|on that)|for (?:more|details|the full|a full|a list|the list))\b"
)
_ONLINE = re.compile(r"\b(?:online|on the web|on the internet)\b")
_OTHERS = re.compile(
    r"\b(?:their|his|her|its|your|(?!station's|show's|program's|programme's)[a-z]+'s|the (?:city|town|county|school|district|state|library|hospital|museum|charity|church|group|club|agency|department|zoo|shelter|organization|company)) (?:own )?(?:\w+ ){0,1}(?:web ?site|web-?site|site|web ?page|page|app)\b"
)
_OFFER = re.compile(
    r"\b(?:is|are|'s|'re|be|been|was going|go(?:es|ing)?|get|put(?:ting)?|post(?:ed|ing)?|list(?:ed|ing)?|link(?:ed|ing)?|publish\w*|shar(?:e|ed|ing)|find|found|see|look(?:ing)?|check(?: out)?|visit|head|go to|log on|click|scan|tap|download(?:ed)?|read|watch|sign up|register|follow|have|has|we've|we'll|learn|waiting|available|there's|apply|search|stop by|browse|order|view|catch|up on|directions|details|more)\b|'(?:s|re|ve|ll)\b"
)
_CONTENT = re.compile(
    r"\b(?:list\w*|address\w*|detail\w*|information|info|hours|times?|timetable|schedule|map|directions|links?|forms?|locations?|places|phone numbers?|numbers?|recipe|how to|where to|what to|more|full|complete|everything|all (?:of )?(?:that|them|those|these|the|this|\w+)|both|those|them|that|it|names?|video|pictures|photos|calendar|guide|contacts?|dates?|sign|signup|addresses|sizes|rules|tickets|instructions|whole|every)\b"
)
_WE_PUBLISH = re.compile(
    r"\b(?:we|i)(?:'ll| will|'ve| have|'re going to| are going to|'m going to|'re)(?: \w+){0,3}? (?:list(?:ed|ing)?|post(?:ed|ing)?|link(?:ed|ing)?|publish(?:ed|ing)?|put(?:ting)? [^.]{1,40}\bup|put(?:ting)? up|shar(?:e|ed|ing))\b"
    r"|\b(?:we|i)(?:'ll| will|'ve| have)(?: got| have)?(?: \w+){1,8}? (?:listed|posted|linked|waiting for you|ready for you|there for you)\b"
)
_THEIRS = re.compile(
    r"\A(?:(?:and|now|again),? )*(?:that's|that is|it's) (?:(?:\w+ ){0,3}not (?:ours|us)\b|their|his|hers?|the \w+'s) ?(?:own )?(?:web ?)?(?:address|site|page)?,?(?: not ours)?[.!]?\Z"
)
"""The address that was just read is somebody else's: `That's their site, not ours`."""
_OURS = re.compile(r"\A(?:(?:and|but|now|on|at),? )*ours\b")
_SITE = re.compile(r"\b(?:address|site|website|page|dot (?:org|com|net))\b")
_PAST = re.compile(
    r"\b(?:used to|crashed|went down|was down|met (?:him|her|them|each other)? ?online|bought|sold (?:it|them)? ?online|found (?:him|her|it|them|each other) online|learned \w+ online|last year's site|went viral)\b"
)
_NOT_THERE = re.compile(
    r"\b(?:not|isn't|aren't|never|no longer|won't be|can't be) (?:\w+ ){0,2}(?:on|at) (?:our|the) (?:web ?)?site\b"
)
_PLACES = re.compile(
    r"\b(?:places|locations?|addresses|address|drop-?offs?|sites|where to|map|spots|bins|barrels|boxes|branches|landings|those|both|all (?:three|four|five|six|seven|eight|nine|ten|of (?:them|those)|\d+))\b"
)
_WHOLE_SHOW = re.compile(
    r"\b(?:everything (?:you|we|in|that|from)|all (?:of )?(?:our|tonight's|today's|this week's|these|the) stories|any of (?:our|tonight's|these|the) stories|every story|tonight's (?:stories|show|program)|whole (?:show|program)|this (?:show|program|broadcast)|the show again|past (?:shows|episodes))\b"
)


def promises_in(sentences: Sequence[Sentence], station: Station) -> tuple[SpokenPromise, ...]:
    """The promises of a stretch of speech, in their order."""
    own = _own_address(station)
    found: list[SpokenPromise] = []
    for number, sentence in enumerate(sentences):
        text = sentence.plain
        near = [each.plain for each in sentences[max(0, number - 3) : number]]
        following = sentences[number + 1].plain if number + 1 < len(sentences) else ""
        if _THEIRS.search(following) and _OWN.search(text) is None:
            continue
        if _is_promise(text, own, near):
            found.append(
                SpokenPromise(
                    Said(sentence.text, sentence.start),
                    lists_places=_PLACES.search(text) is not None,
                    places=_count(text),
                    whole_show=_WHOLE_SHOW.search(text) is not None,
                )
            )
    return tuple(found)


_LIST_OF_PLACES = re.compile(
    r"\b(?:list|lists|map|rundown|roundup) of (?:\w+[ -]){0,3}?(?:places?|locations?|drop-?offs?|sites|spots|bins|boxes|barrels|stops|points)\b|\b(?:list|map|addresses|hours|locations) (?:of|for|to) (?:all|every|both|each)\b"
    r"|\b(?:drop-?off|collection|donation) (?:places|points|sites|spots|locations|boxes|bins|barrels)\b|\bwhere to (?:take|bring|drop|leave|donate|hand|turn|go)\b|\b(?:addresses|locations|places)\b(?! (?:at|in) the table)"
    r"|\b(?:all|every one of|those|these|both|each)(?: of)?(?: the| these| those)? ?(?:\d+ )?(?:\w+ )?(?:places|locations|addresses|drop-?offs|sites|spots|bins|barrels|boxes|branches|landings)\b"
)


def places_promised(said: str) -> int | None:
    """How many places a promise's words promise: 0 for a list of no said length, None when it promises no places."""
    text = plain(said)
    count = _count(text)
    if _LIST_OF_PLACES.search(text) is None:
        return None
    return count or 0


def _is_promise(text: str, own: re.Pattern[str], near: Sequence[str]) -> bool:
    if _PAST.search(text) or _NOT_THERE.search(text):
        return False
    if _OURS.search(text):
        return any(_SITE.search(each) for each in near[-1:]) and _OFFER.search(text) is not None
    if text.endswith("?") and not re.search(
        r"\b(?:why not|did you know|want|need|looking for|missed)\b", text
    ):
        return False
    rest = _OTHERS.sub(" ", text)
    if own.search(text):
        return True
    if _OWN.search(rest):
        return _OFFER.search(rest) is not None or _CONTENT.search(rest) is not None
    if _WE_PUBLISH.search(rest):
        return _CONTENT.search(rest) is not None and (
            _ONLINE.search(rest) is not None
            or re.search(r"\b(?:list|post|link|publish)(?:ed|ing)?\b|\b(?:put|putting)\b.*\bup\b", rest)
            is not None
        )
    if _ONLINE.search(rest) and rest == text:
        return _SEEN_ONLINE.search(rest) is not None and _CONTENT.search(rest) is not None
    return False


def _own_address(station: Station) -> re.Pattern[str]:
    """The station's address as a host reads it: its host, and the names of programme and station before `dot`."""
    host = re.sub(r"\Ahttps?://(?:www\.)?|/.*\Z", "", station.address.lower())
    spoken = re.escape(host).replace(r"\.", r"(?:\.| dot )")
    path = re.sub(r"\Ahttps?://[^/]+/?", "", station.address.lower()).strip("/")
    names = [re.escape(station.programme.lower()), re.escape(station.station.lower())]
    names += [re.escape(path.replace("-", " "))] if path else []
    dotted = "|".join(rf"(?<![\w@.]){name}(?: dot |\.)\w+" for name in names)
    dotted += "|" + "|".join(
        rf"\b{name}(?:'s)? (?:web ?site|site|web ?page|home ?page|page|app)\b" for name in names
    )
    slashed = rf"(?<!\bat )(?<![@.\w]){spoken}(?:/| slash )"
    return re.compile(
        rf"{slashed}|{dotted}|\b(?:log on to|go to|head to|visit|it's at|at|find us at|see) (?:www(?: dot |\.))?(?:\w+ ){{0,4}}dot \w+ dot (?:com|org|net|tv)\b(?<!@)"
    )


def _count(text: str) -> int | None:
    match = re.search(
        r"\b(?:all|the|those|these|of the|of our) (\d{1,3}) (?:\w+ ){0,2}?(?:places|locations?|addresses|drop-?offs?|sites|spots|bins|barrels|boxes|branches|landings|towns|stops|stores|churches|schools|libraries|stations)\b"
        r"|\ball (three|four|five|\d{1,2})\b(?= (?:of them|are|on|up|at)|[.,])",
        text,
    )
    if match is not None:
        word = match[1] or match[2]
        return int(word) if word.isdigit() else {"three": 3, "four": 4, "five": 5}.get(word)
    if re.search(r"\bboth\b", text):
        return 2
    return None
