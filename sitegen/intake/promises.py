"""Sentences that send the viewer to the site or the screen: where it is, what is there, and who is sent.

Every sentence may be one. What speaks for it is weighed: where something is (the station's own site, its address, the screen, the place beside the
story), what is done with it there (we put it up, it is posted, you can see it, go and look), what it is, and what speaks against it (somebody
else's site, what was once, what is not there, a question); then its wording.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache

from sitegen.intake.contacts import contacts_in
from sitegen.intake.counted_places import places_counted
from sitegen.intake.plain import plain
from sitegen.intake.records import Said, Sentence, SpokenPromise
from sitegen.intake.weighing import weights
from sitegen.intake.wording import first, last, runs, words_of
from sitegen.newsroom.records import Station

BOLDNESS = 1.5
"""How much more than even odds are not asked for: a promise missed is a list that nobody makes, one too many is struck out at a glance."""

_SITE = r"(?:web ?-?sites?|sites?|web ?-?pages?|home ?-?pages?|pages?|web address|apps?|archive|blog)"
_PART = r"(?:(?:very )?(?:bottom|foot|top|corner|side|edge|left|right|lower \w+|upper \w+|base|middle|center) (?:part |side |half |corner |edge )?(?:of|on) )"
_OWN_NAME = "ownname"
_BODY = r"(?:chin|face|shoulders?|head|hands?|elbows?|name|left|right|ear|nose|tie|feet|arm|back)"
_MEDIA = {
    "address": re.compile(rf"\b(?:go(?:es)?|look|visit|log on|head|come|turn|over|down|find it|it's|there|up)(?: on| over)?(?: to| at| on)? {_OWN_NAME} at [a-z]+ dot [a-z]+|\b(?:www (?:dot )?)?{_OWN_NAME}(?: dot [a-z]+|\.[a-z]+|/\S+| slash \w+)+"),
    "ours": re.compile(
        rf"\b(?:our|(?:the|this) station's|the show's|the program(?:me)?'s|{_OWN_NAME}(?:'s)?) (?:own )?(?:\w+ ){{0,2}}?{_SITE}\b|\b{_SITE} of ours\b"
        rf"|\b(?:at|on|under|over at) {_OWN_NAME},? (?:on the web|online|on the internet)\b|\bup (?:\w+ )?(?:at|on) {_OWN_NAME}\b"
        r"|\bwhere(?:ver)? you(?:'d| would)? (?:always |usually |normally )?(?:find|see|get|watch|look for) (?:us|everything|it all|all of it|the rest|our)\b"
        rf"|\b(?:type|typing|put|search|look) (?:in|for|up|under) (?:our name|{_OWN_NAME})\b"
        r"|\b(?:we|i|our \w+(?: \w+)?)(?:'ve|'ll|'s| have| has| will)? (?:\w+ )?(?:ma[dk]e|built|build|put together|set up) (?:\w+ ){0,3}(?:web ?)?page\b"
    ),
    "ours_too": re.compile(r"\b(?:on|at|from|to|with) ours\b|\A(?:(?:and|but|now|on|at),? )*ours\b"),
    "the_site": re.compile(rf"\b(?:the|this|that|my|your) (?:(?!same|one)\w+ )?{_SITE}\b(?! (?:and \w+ (?!on |at |for )\w|of (?:the|a|his|her|their) (?:book|notebook|paper|album|magazine|diary|ledger)))|\bup on the (?:\w+ ){{2,4}}page\b|\bthe same (?:\w+ )?{_SITE} (?:as (?:always|ever|usual|before|last|the)|where|you|we)\b"),
    "web": re.compile(r"\b(?:online|on ?-?line|(?:on|over|onto|to) (?:the|your|a) (?:web|internet|computer)|the (?:web|internet))\b"),
    "screen": re.compile(
        rf"\b(?:on|onto|across|along|at|in|down|up|to|over|under|below|from) (?:the )?{_PART}?(?:your|the|our) (?:tv |television )?(?:screens?|sets?|(?<!the )pictures?|tvs?|televisions?)\b|\bon[ -]?screen\b|\b{_PART}your (?:tv |television )?(?:screens?|sets?|pictures?|tvs?|televisions?)\b|\byour (?:tv |television )?screens?\b|\b(?:bottom|foot|top|corner|side|edge) of the picture\b"
    ),
    "showing": re.compile(
        r"\b(?:we're|i'm|we are|we'll be|we have been|we've been) (?:just |also |now )?(?:showing|putting up|running) (?:it|them|that|those|this|these|you|the|her|his|their|a|some)\b(?: [\w']+){0,6} (?:right now|now|here|as we (?:speak|talk)|while (?:we|i|you|she|he)\b)"
        r"|\b(?:you're|you are) (?:looking at|seeing) (?:it|them|that|those|this|these|the|her|his|their|one|some)\b(?: [\w']+){0,4} (?:right now|now|here)\b"
        r"|\b(?:there|here)(?: (?:it is|they are|it goes|they go))?,? (?:up )?(?:now,? )?(?:in|at|across|along) the (?:lower |upper |bottom |top )?(?:corner|bottom|side|edge)\b"
    ),
    "beside": re.compile(
        rf"\b(?:under|underneath|beneath|below|beside|next to|behind|over|above|alongside|in front of) (?:me|us|my (?:\w+ )?{_BODY}|our {_BODY})\b|\b(?:down|right|just|there|here) (?:below|underneath)\b|\bbelow(?=[.,!])"
    ),
    "with_story": re.compile(
        r"\b(?:under|below|beside|with|next to|alongside|beneath|(?:bottom|foot|top) of) (?:this|the|that|tonight's|today's|our|her|his|their|each|every|this morning's) (?:same )?(?:story|stories|show|program|programme|piece|report|item|segment|broadcast|video|headline|heading)\b|\bthis story on\b"
    ),
    "code": re.compile(r"\bq ?r codes?\b|\b(?:square|code|link) (?:\w+ ){0,2}?(?:in the (?:\w+ )?corner|below|on (?:the|your) screen|you see)\b"),
}  # fmt: skip
"""Where something may be, by what it is called; the words are replaced by it in what wordings are made of."""
_BODIES = ("city", "town", "county", "school", "district", "state", "library", "hospital", "museum", "charity", "church", "group", "club", "agency", "department", "zoo", "shelter", "organization", "company", "fund", "team", "league", "college", "university", "bank", "store")  # fmt: skip
"""Whose sites hosts speak of: `the town's website` is not that of a programme called `Your Town`."""
_OTHERS = re.compile(
    rf"\b(?:their|his|her|its|(?!{_OWN_NAME}|station's|show's|program's|programme's|tonight's|today's|it's|that's|here's|there's|what's|let's|who's|everything's)[a-z]+'s|the (?:{'|'.join(_BODIES)})) (?:own )?(?:\w+ ){{0,1}}{_SITE}\b|\b{_SITE} of (?:its|their|his|her) own\b"
)
_PUBLISHED = r"(?:posted|listed|printed|typed|written|wrote|set|spelled|spelt|put|linked|laid|pinned|up|waiting|sitting|shown|published|scanned|copied|collected|gathered|kept|saved|mapped|stored|added|explained|described|available|there|all there|going up|ready|out)"
_ROLES = {
    "we_put": re.compile(
        r"\b(?:we|i|they|he|she|somebody|someone|\w+)(?:'ve|'ll|'re| have| will| has| had|'s|'m| are| am)?(?: (?:also|just|even|already|now|all|gone|going to|got|have|and)){0,3}"
        r" (?:put(?:ting|s)?|post(?:ed|ing|s)?|list(?:ed|ing|s)?|link(?:ed|ing)?|publish(?:ed|ing)?|shar(?:e|ed|ing)|stuck|typed|written|wrote|printed|scanned|copied|leav(?:e|ing)|left|keep(?:ing)?|kept|load(?:ed)?|upload(?:ed)?|add(?:ed)?|set|spelled|mapped|gathered|fixed|pinned|hung)\b"
    ),
    "we_post": re.compile(
        r"\b(?:we|i)(?:'ve|'ll|'re|'m| have| will| are| am)(?: (?:also|just|even|already|now|all|gone|going to|got|and|gonna|be)){0,3} (?:(?:post|list|link|publish|upload|scann)(?:ed|ing)?|put(?:ting)? (?!(?:you|him|her|us|people|folks|anybody|anyone|everybody|guests|visitors|families|campers|volunteers) up\b)(?:\w+ ){0,8}?up(?! with (?:it|that|them|him|her|me|us|you)\b)|typ(?:ed|ing) (?:\w+ ){0,4}up|writ(?:e|ten|ing) (?:\w+ ){0,4}(?:out|up))\b"
        r"|\b(?:we|i) (?:put|posted|hung) (?:\w+ ){1,6}up (?:for you|there|for everybody|for anybody)\b"
        r"|\b(?:we|i)(?:'ve|'ll| have| will)(?! keep)(?: got| have)? (?:\w+ ){1,8}?(?:posted|listed|linked|uploaded|waiting for you|ready for you|there for you|up for you)\b"
        r"|\b(?:we|i)(?:'ve|'ll have| have)(?: got)? (?:it|them|that|those|these|this|all|every\w*|the|his|her|their|our|your|my|an?|some|[a-z]+'s) (?:[\w']+ ){0,5}?up (?:next to|with (?:the|this|that|our|all|everything|tonight|today)|alongside|beside|under|underneath|below|there|now|already|too)\b"
    ),
    "we_have": re.compile(r"\b(?:we|i)(?:'ve got|'ve| have got| have|'ll have| will have| got)\b"),
    "published": re.compile(
        rf"\b(?:is|are|'s|'re|be|been|was|were|being|gets?|got|has|have|goes|go|went|stays?|'ll be) (?:(?:all|also|now|already|still|both|right|up|going|just|being|there|every bit of it|waiting) ){{0,2}}{_PUBLISHED}\b|'(?:s|re) (?:all |also |now |already |both |right )?{_PUBLISHED}\b"
    ),
    "you_see": re.compile(
        r"\b(?:you|viewers|folks|anyone|anybody|everybody)(?:'ll|'d| can| could| will| may| might| should| want to| care to|'re able to|'ll be able to|will be able to)?(?: (?:also|always|still|all|just|even|go and|go|have to|then|again)){0,2} (?:find|see|read|watch|look|get|check|hear|catch|download|print|reach|browse|view|follow|learn|sign|register|order|study|have a look|take a look|replay|listen)\b"
    ),
    "look": re.compile(
        r"(?:\A|[,;:.] |\b(?:and|or|so|then|just|please|but|to|now|well|first) )(?:just |please |go |go and |and |then |also )?(?:look|see|visit|check|go|head|log|find|read|watch|click|scan|tap|download|print|follow|search|stop|browse|turn|have a look|take a look|get|come|click|scroll)(?: (?:it|them|that|those|one|the|all|more|out|to|on|at|in|up|over|for|under|down|through|around|off))?\b"
    ),
    "content": re.compile(
        r"\b(?:list\w*|address\w*|detail\w*|information|info|hours|times?|timetable|schedule|map|maps|directions|links?|forms?|locations?|places|phone numbers?|numbers?|recipes?|patterns?|charts?|instructions|rules|sizes?|plans|drawings?|guide|calendar|names?|video|videos|footage|film|pictures?|photos?|photographs?|dates?|contacts?|applications?|signup|sign-up|tickets|poster|sheet|copy|route|menu|program|reel|how to|where to|what to|who to|when to)\b"
    ),
    "all_of_it": re.compile(
        r"\b(?:all (?:of )?(?:that|them|those|these|the|this|it|our)|everything|whatever|anything|every (?:one|bit|word|story|number|address|\w+)|both|the whole|the full|the rest|more|again)\b"
    ),
    "missed": re.compile(
        r"\b(?:miss(?:ed)?|didn't (?:catch|get|hear|write)|couldn't (?:catch|find|write|hear)|don't (?:have to|need to|bother to) (?:write|remember|copy)|went too fast|too fast|write (?:it|that|this|anything|them) down|wr(?:ote|itten) (?:it|that|this)? ?down|pencil|pen|slept through|can't remember|remember all)\b"
    ),
    "soon": re.compile(
        r"\b(?:(?:by|before|after|until|till|from|later|for) (?:tonight|today|tomorrow|noon|midnight|lunch\w*|supper\w*|dinner\w*|morning|the (?:show|program|break|weekend|end of the)|we're off|this evening|this afternoon)|as soon as|right after|the (?:second|minute|moment)|in a (?:second|moment|minute)|by \d|right now|now)\b"
    ),
    "more_about": re.compile(r"\b(?:for (?:more|details|the full|a full|a list|the list|the whole|all)|more (?:details|information|info|on this|on that|about)|(?:if|when) you(?:'d| would)? (?:want|like|need|care|know|think|have|can't|aren't|were)|to (?:see|find|sign|grab|order|register|apply|get|read|learn))\b"),
}  # fmt: skip
"""What is said of it."""
_STRONG = frozenset(("address", "ours", "ours_too", "the_site", "screen", "showing", "code"))
"""Of these, those that are hardly anybody else's."""
_LINK = re.compile(r"\b(?:links?|linked|url|download\w*|click\w*|scroll\w*|tap)\b")
_A_SITE = re.compile(rf"\b{_SITE}\b|\baddress\b| dot (?:org|com|net|tv|us)\b")
_AGAINST = {
    "once": re.compile(
        r"\b(?:used to|crashed|went (?:down|viral)|was (?:down|hacked)|met (?:him|her|them|each other)? ?online|(?:bought|sold|found|ordered|learned|saw|read|met|watched|looked) (?:\w+ ){0,4}(?:online|on the (?:web|internet|computer))|last year's site)\b"
    ),
    "not_there": re.compile(
        r"\b(?:not|isn't|aren't|wasn't|never|no longer|won't be|can't be|nowhere|haven't got|hasn't got|don't have|doesn't have|no|nothing|none|wrong) (?:\w+ ){0,3}(?:(?:on|at|to) )?(?:our |the |a |any )?(?:web ?-?sites?|sites?|online|internet|web|pages?|screens?)\b|\b(?:site|website|page)(?: is|'s) (?:wrong|down|old|out of date)\b"
    ),
    "big_screen": re.compile(r"\b(?:big|silver|wide|movie|drive-in|window|smoke|touch|computer|phone|giant|projection) screens?\b|\bscreen (?:door|porch|print\w*|time|saver|test|play)\b|\bdrive-in\b"),
    "ground": re.compile(
        r"\b(?:construction|building|job|work|camp|camping|drop-?off|collection|donation|burial|nesting|dig|crash|polling|voting|planting|landing|test|vaccination|clinic) sites?\b|\bsites? (?:of|where|in|along|near|manager|crew|plan|visit)\b|\bsites? on (?!the (?:page|site|web|screen))"
    ),
    "elsewhere": re.compile(
        r"\b(?:on|to|in|at|by|over) (?:the|their|his|her|its|every|each|a|my) (?:\w+ )?(?:doors?|walls?|boards?|poles?|fridge|refrigerator|counter|windows?|fence|gate|desk|table|shelf|shelves|bulletin|newspaper|paper|tree|post|sign|corkboard|chalkboard|clipboard|envelope|box|bin|trunk|attic|porch|roof|basement|freezer|mail|mailbox)\b"
    ),
    "near_me": re.compile(
        r"(?:'s|\bis|\bare|'re|\bwas) (?:right |just |directly )?(?:under|underneath|above|over|below|beneath) us\b|\b(?:sat|sit|sits|sitting|stood|stand|standing|stands|seated|man|woman|fellow|lady|guy|girl|boy|kid|one|people|person|somebody|someone|anyone|friend|neighbor|dog|seat|chair|desk|pew|table|car|truck|house|bed|stool|lane|driver|sleeps?|slept|walk\w*|rode|ride|riding|right here|is|are|was|were|live\w*|work\w*|parked|ahead) (?:down )?(?:right |just )?(?:beside|next to|behind|above|below|in front of|across from) (?:me|us)\b"
    ),
    "paper_page": re.compile(r"\b(?:\d+|one|two|front|back|last|first|next|blank|each|every|a|sports|editorial|title) pages?\b(?! (?:on|of ours|you can))"),
}  # fmt: skip
_THEIRS = re.compile(
    r"\A(?:(?:and|now|again),? )*(?:that's|that is|it's) (?:(?:\w+ ){0,3}not (?:ours|us)\b|their|his|hers?|the \w+'s) ?(?:own )?(?:web ?)?(?:address|site|page)?,?(?: not ours)?[.!]?\Z"
    r"|\A(?:(?:and|now|again),? )*(?:on )?(?:the |his |her )?\w+'s,? not (?:ours|yours|mine)\b"
)
"""The address that was just read is somebody else's: `That's their site, not ours`."""
_SO_IS = re.compile(
    r"\A(?:and |but |oh,? )?(?:so(?:'s| is| are| will| was)\b|(?:it|that|they|those|there|the \w+)(?:'s|'re|'ll| is| are| will)(?: \w+){0,3} (?:there|on there|up there|in there|same place|too)\b|(?:on|at) (?:the|our)\b)"
)
_LOOK_THERE = re.compile(
    r"\b(?:look|see|find|read|watch|check|get|hear|print|download|fill|order|register|copy|listen)\b[^.;]{0,30} (?:on |up |from |over )?there\b(?! is| are|'s)"
)
_ON_THERE = re.compile(
    r"(?:\b(?:is|are|was|were|be|been|got|stays?|goes|go|it|them|that|those|all|everything|put|posted|listed|see|find|look|watch|read)|'s|'re)(?: \w+){0,2} (?:up )?on there\b"
)
"""What is on a thing that was named before: `Her portrait is on there`."""
_BACK_THERE = 10
"""Sentences within which the site was named."""
_ANSWERS = re.compile(
    r"\A(?:well,? |oh,? |and )?(?:yes|yeah|yep|sure|we do|we have|we are|i did|i do|it is|it's|they are|they're|that's|on |at |right|go |just |look)"
)
_DENIED = re.compile(
    r"(?:\b(?:not|no|never|neither|nor|nowhere|nothing|none|without|cannot)\b|n't\b)[^,;:.]{0,40}?\b[a-z]+xx\b|\b[a-z]+xx\b[^;.]{0,40}(?:n't|\bnot|\bnothing) (?:\w+ )?(?:on )?there\b|\b(?:neither|nor) (?:on )?(?:theirs|ours)\b|\b(?:haven't|hasn't|ain't) (?:\w+ )?(?:got|had) (?:it|one|any)\b"
)
"""Where it is said that it is not there; the name of a place where it might be ends with `xx`."""
_NOTHING = re.compile(
    r"\b(?:nothing|none|no \w+) (?:(?:for us|for me|we have|we've got|we can|i can|i have) )?(?:to )?(?:show|give|put up|post|print|hand)\b"
)
"""Where it is said that there is nothing to put there."""
_NOT_DENIED = re.compile(
    r"\b(?:nothing|none|no \w+) (?:(?:for us|for me|we have|we've got|we can|i can|i have) )?(?:to )?(?:show|give|put up|post|print|hand)\b|\b(?:what(?:ever)?|who(?:ever)?|which|that|anything|everything|things|those|ones|stuff|where|foods?|items?) (?:(?!is |are |'s )[\w']+ ){0,3}(?:(?:[\w]+n't|not|never|cannot|no longer) ?)(?:(?!is\b|are\b)[\w']+,? ){0,6}?(?=(?:is|are|will be|can be|has been|have been|that's|it's|goes|go|we)\b)"
    r"|\b(?:(?:don't|needn't|won't) (?:\w+ )?(?:have to|need|copy|write|bother)|(?:if|when|whether|case|who|sure) [^,]*|why not|not only|not just|no (?:need|matter|problem)|can't (?:miss|go wrong))\b"
)
_NOT_YET = re.compile(
    r"\b(?:not|nothing|none|[a-z]+n't)\b[^;:.]{0,60}\b(?:till|until|before)\b[^;:.]{0,40},? (?:and |but )?then,?[^;:.]{0,30}(?:'ll| will| is| are|'s going|'re going)(?! not\b)\b|"
    r"\b(?:not|[a-z]+n't)\b(?:(?!\b(?:not|[a-z]+n't|nothing)\b)[^;:.]){0,50}\b(?:yet|until|till|right now|this minute)\b[^;:.]{0,25},? ?(?:but|though|only|and|yet|so) (?:it|they|that|those|we|the \w+)(?:'ll| will| should|'s going to|'re going to| is going to| are going to| ought to)(?! not\b)\b"
    r"|\b(?:not|[a-z]+n't)\b(?:(?!\b(?:not|[a-z]+n't|nothing)\b)[^;:.]){0,40},? ?(?:but|though|only|yet) (?:it|they|that|those)(?:'ll| will|'s going to|'re going to) (?:be|go)\b"
)
"""`That's not on our page yet, but it will be.`"""
_FOR_YOU = re.compile(r"\b(?:for you|you|your|yours|you're|you'll|you've|you'd)\b")
_WE = re.compile(r"\b(?:we|we've|we'll|we're|us|our|ours|i|i've|i'll|i'm|my|me)\b")
_PAST_TENSE = re.compile(
    r"\b(?:was|were|did|had|went|said|told|came|saw|thought|bought|sold|found|made|gave|took|ran|won|met|left|drove|built|heard|\w{3,}ed)\b"
)
_NOW = re.compile(
    r"\b(?:is|are|am|will|can|may|have|has|does|do|go|goes|see|look|find|want|wants|need|needs|there's|here's|it's|that's|what's)\b|'(?:ve|ll|re|m)\b|'s (?:on|at|up|still|there|all|in|now|been|got|\w+ed|\w+en)\b"
)
_PUT = re.compile(r"\b(?:put|posted|stuck|typed|scanned|printed|copied|uploaded)\b")
"""What was put on the station's site is there."""
_PLACES = re.compile(
    r"\b(?:places|locations?|addresses|address|drop-?offs?|sites|where to|map|spots|bins|barrels|boxes|branches|landings|those|both|all (?:three|four|five|six|seven|eight|nine|ten|of (?:them|those)|\d+))\b"
)
_SHOW = r"(?:show|program|programme|broadcast)"
_TODAY = r"(?:tonight|today|this morning|this evening|this afternoon|this week|this hour)"
_WHOLE_SHOW = re.compile(
    rf"\b(?:everything|anything|whatever|all of (?:it|this)|every(?:body|one| \w+)(?: and every \w+)?)(?: (?:that|we|in|from|about|of|else))? (?:{_TODAY}|(?:you|we|i)(?:'ve|'d|'ll)? (?:(?:just|have|had) )?(?:missed|heard|saw|seen|met|slept|talked|told|said|showed|mentioned|didn't|couldn't|went|might have))\b"
    rf"|\b(?:everything|every \w+(?: and (?:every )?\w+)?|all (?:of )?(?:that|them|those|it|the \w+)) from {_TODAY}\b"
    rf"|\b(?:if|should|in case) you(?:'ve| have)? (?:miss(?:ed)?|didn't (?:catch|get|hear|write)|couldn't (?:catch|find|hear)) [^.]*\b(?:all|every|everything|each)\b"
    rf"|\b(?:all|each|any|every one) of (?:{_TODAY}'s|our|these|the) (?:stories|reports|pieces|items|visits|people)\b|\ball (?:our|these|the|{_TODAY}'s) stories\b|\bevery story\b|\b(?<!with )(?:tonight|today|this morning|this week)'s (?:stories|visits|reports|{_SHOW})\b"
    rf"|\bwhole (?:of )?(?:(?:the|tonight's|today's|this) )?{_SHOW}\b|(?<!with )\bthis {_SHOW}\b|\bthe show again\b|\bpast (?:shows|episodes)\b|\b(?:any|all) of (?:these|it) (?:over )?again\b"
)


def promises_in(sentences: Sequence[Sentence], station: Station) -> tuple[SpokenPromise, ...]:
    """The promises of a stretch of speech, in their order."""
    of = weights("promises")
    return tuple(
        SpokenPromise(
            Said(sentence.text, sentence.start),
            lists_places=_PLACES.search(sentence.plain) is not None,
            places=places_counted(sentence.plain),
            whole_show=_WHOLE_SHOW.search(sentence.plain) is not None,
        )
        for sentence, signs in zip(sentences, signs_of(sentences, station), strict=True)
        if of.odds(signs) + BOLDNESS > 0
    )


def signs_of(sentences: Sequence[Sentence], station: Station) -> Iterator[dict[str, float]]:
    """What speaks for each sentence's being a promise."""
    own = _own_names(station.programme, station.station, station.address)
    texts = [own.sub(_OWN_NAME, each.plain) for each in sentences]
    media = [_media(text, " ".join(texts[max(0, at - 3) : at])) for at, text in enumerate(texts)]
    for number, (sentence, text) in enumerate(zip(sentences, texts, strict=True)):
        asked = number > 0 and texts[number - 1].endswith("?")
        before = media[number - 1] if number else frozenset[str]()
        lately = frozenset[str]().union(*media[max(0, number - _BACK_THERE) : number])
        following = texts[number + 1] if number + 1 < len(texts) else ""
        yield dict.fromkeys(
            (
                *_grammar(sentence, text, media[number], before, following, lately, asked=asked),
                *_wording(_by_class(text)),
            ),
            1.0,
        )


_Media = frozenset[str]


def _media(text: str, before: str) -> _Media:
    rest = _OTHERS.sub(" ", text)
    found = {name for name, pattern in _MEDIA.items() if pattern.search(rest)}
    if found & {"ours", "address"}:
        found.discard("the_site")
    if rest != text:
        found.add("others")
    if "ours_too" in found and not _A_SITE.search(f"{before} {text}"):
        found.discard("ours_too")  # `Ours is the house with the blue door.`
    return frozenset(found)


def _grammar(
    sentence: Sentence,
    text: str,
    media: _Media,
    before: _Media,
    following: str,
    lately: _Media,
    *,
    asked: bool,
) -> Iterator[str]:
    found = set(media)
    if "address" not in found:
        found |= {f"{each.kind}_address" for each in contacts_in((sentence,)) if each.kind != "phone"}
    denied = (
        _DENIED.search(_NOT_DENIED.sub(" ", _by_class(_NOT_YET.sub(" ", text)))) is not None
        or _NOTHING.search(text) is not None
    )
    roles = [] if denied else [name for name, pattern in _ROLES.items() if pattern.search(text)]
    against = [name for name, pattern in _AGAINST.items() if pattern.search(_NOT_YET.sub(" ", text))]
    yield from found
    yield from against
    if denied:
        yield "denied"
    if found - {"others", "email_address"}:
        yield "somewhere"
        if not found & _STRONG:
            yield "perhaps_elsewhere"
        for role in roles:
            yield f"somewhere+{role}"
        if _FOR_YOU.search(text):
            yield "somewhere+you"
        elif _WE.search(text):
            yield "somewhere+we"
        if _PAST_TENSE.search(text) and not _NOW.search(text):
            if not found & _STRONG:
                yield "told_of_elsewhere"  # `She sold it online.`
            elif not _PUT.search(text):
                yield "told"
    else:
        yield from roles
    if _LINK.search(text):
        yield "link"
    if text.endswith("?"):
        yield "question"
    if _OWN_NAME in text:
        yield "named"
    if _LOOK_THERE.search(text) and not found:
        yield from (f"look_there_after_{where}" for where in before & {"ours", "address", "the_site"})
    if not (found or denied) and _ON_THERE.search(text) and lately & {"ours", "address", "the_site"}:
        yield "on_there"
    if _SO_IS.search(text):
        yield "so_is"
        yield from (f"so_is_after_{where}" for where in before)
    if asked and before and _ANSWERS.search(text):
        yield from (f"answers_of_{where}" for where in before)
    if _THEIRS.search(following) and not media & {"ours", "ours_too"}:
        yield "said_to_be_theirs"


_CLASSES = {name: f" {name.replace('_', '')}xx " for name in _MEDIA}


def _by_class(text: str) -> str:
    """The text with the words of where something is as one: `it's on oursxx .`"""
    for name, pattern in _MEDIA.items():
        text = pattern.sub(_CLASSES[name], text)
    return _OTHERS.sub(" othersxx ", text)


def _wording(text: str) -> Iterator[str]:
    """The words, and what stands around those of where something is."""
    words = words_of(text)
    yield from runs(words, "w", 1)
    for at, word in enumerate(words):
        if word.endswith("xx"):
            yield from last(words[max(0, at - 3) : at], "b", 3)
            yield from first(words[at + 1 : at + 3], "a", 2)


@lru_cache(maxsize=64)
def _own_names(programme: str, station: str, address: str) -> re.Pattern[str]:
    """What the station calls itself on air, whole, and in part before ` dot ` and before `page`, and its address as a host reads it up to the first
    slash. Spaces may be missing."""
    path = re.sub(r"\Ahttps?://[^/]+/?", "", address.lower()).strip("/")
    host = re.sub(r"\Ahttps?://(?:www\.)?|/.*\Z", "", address.lower())
    names = [
        plain(each).removeprefix("the ").removeprefix("a ").split() for each in (programme, station) if each
    ]
    names += [_in_two(name) for name in names if any(_THREE_DIGITS.fullmatch(word) for word in name)]
    ends = {tuple(name[start:]) for name in names for start in range(len(name))}
    parts = {tuple(name[:end]) for name in names for end in range(1, len(name))} | ends
    hosts = {part for part in parts if len(part) > 1 or len(part[0]) >= _TELLING} | set(map(tuple, names))
    hosts |= {
        (name[-1],)
        for name in names
        if len(name[-1]) >= _TELLING_LAST and name[-1] not in (*_BODIES, *_TRADE)
    }
    if path:
        hosts.add(tuple(re.split("[-/]", path)))
    whole = _any_of(map(tuple, names))
    sited = _any_of(
        {part for part in ends if part[0] not in _BODIES} | {part for part in parts if len(part) > 1}
    )
    hosted = re.escape(host).replace(r"\.", r"(?:\.| dot )")
    return re.compile(
        rf"(?<![\w@.])(?:www(?: dot |\.))?(?:{hosted}(?=/| slash )|(?:(?:the|a) )?(?:{_any_of(hosts)}(?= dot |\.\w)|{sited}(?=(?:'s)? (?:own )?{_SITE}\b)|{whole}(?![\w-])))"
    )


_THREE_DIGITS = re.compile(r"[1-9][1-9]\d")


def _in_two(name: Sequence[str]) -> list[str]:
    """A name with its number as people say it: `Room 118` as `Room One-Eighteen`."""
    halves = ((("one" if word[0] == "1" else word[0]), word[1:]) if _THREE_DIGITS.fullmatch(word) else (word,) for word in name)  # fmt: skip
    return [each for part in halves for each in part]


_TELLING, _TELLING_LAST = 7, 5
"""Letters of a word that stands for a name alone, and of one with which a name ends."""
_TRADE = ("today", "tonight", "morning", "evening", "report", "reports", "journal", "review", "update", "local", "county", "sound", "hours", "times", "notes", "story", "stories", "light", "lights", "water", "house", "street", "road")  # fmt: skip
"""Words with which names of programmes end, and others' addresses begin."""


def _any_of(names: Iterable[tuple[str, ...]]) -> str:
    """A pattern of names, the longest first."""
    spaced = sorted(("[ -]?".join(map(re.escape, name)) for name in names), key=lambda one: (-len(one), one))
    return f"(?:{'|'.join(spaced)})"
