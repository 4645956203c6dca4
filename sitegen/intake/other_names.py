"""Names of places that no known head gives away: kinds that no list holds, wares, families, landscapes, and what belongs to somebody."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence

from sitegen.intake.lexicon import CALENDAR, is_common, is_name
from sitegen.intake.noun_phrases import LEADS, NUMBER_WORDS, PARTS, STAFF, STREETS, Phrase, is_head
from sitegen.intake.vocabulary import (
    FUNCTION_WORDS,
    GOODS,
    STRONG_PLACE_HEADS,
    TITLES,
    TRADE_HEADS,
    WEAK_PLACE_HEADS,
    word_set,
)

_WHERE = r"(?P<lead>\b(?:at|to|by|into|in|inside|outside|behind|from|past|near|with|of|on|is|[Oo]r|[Aa]nd|[Tt]ry|[Ss]ee|[Vv]isit|called)\b|\b(?:[Tt]hat|[Tt]here|[Ii]t|[Hh]ere)(?:'s| is)\b|[,:])"
_ENDS = r"(?=[,.?!;:]|\Z| (?:on|in|at|or|and|until|till|by|before|during|any|will|is|has|have|had|are|takes?|keeps?|says|can|who|where|up|out|down|over|behind|across|next|they|he|she|you|every|all|right|just|for|from|with|to|too|as|so|but|instead|because|while|when|through|off|near|around|this|after|if|there|it|(?:mon|tues|wednes|thurs|fri|satur|sun)day)\b)"
_NO_KINDS = word_set(
    """time times hour hours day days night nights morning afternoon evening week weeks weekend month season year years moment minute end start middle top bottom side sides corner way rest best
    people folks kids children families family fellow fellows man men woman women lady ladies guy guys girl girls boy boys neighbors seniors students crew team crowd mayor captain
    fire flood storm accident wreck meeting sale game party parade dance concert supper dinner breakfast lunch show fair festival race contest drive raffle auction class classes wedding funeral
    sign signs box boxes bin bins barrel table tables list sheet form forms notice poster number phone door doors window windows gate floor wall roof line lines same one ones other others
    truck trucks bus van car cars boat boats ferry bell light lights water ice snow wind rain tide weather news house houses home homes place places spot street road town village county city
    building buildings map address paper money work job story picture traffic power world phone neighborhood country water air sun bottom stage stove counter desk register"""
)
"""Common words that stand before a town or a street and are no place."""


def _halls() -> str:
    """Heads that make a name of the town before them."""
    return "|".join(sorted(STRONG_PLACE_HEADS)) + "|town|village|city|high|fire|post|public"


def _streets() -> str:
    return "|".join(sorted(STREETS - {"row", "way", "drive", "route"}))


def other_kinds(
    text: str, known: Sequence[Phrase], towns: Collection[str], *, restored: bool
) -> Iterator[Phrase]:
    """Kinds of places that no list holds, where a town or street stands behind: `the lido in Heronsgate`, `the puddle dock on Water Street`."""
    any_of = "|".join(re.escape(town) for town in sorted(towns, key=len, reverse=True)) or "(?!)"
    street = rf"(?:[\w’'-]+ ){{1,2}}(?:{_streets()})" if restored else r"(?:[A-Z][\w’'-]+ ){1,2}[A-Z][a-z]+"
    pattern = re.compile(
        rf"{_WHERE} (?:the|our|that) (?P<name>(?:[a-z][a-z’'-]+ ){{0,2}}[a-z][a-z-]{{2,}}),? (?:(?:right|just|up|down|over|out|back) )*(?:(?:in|at) (?:the )?(?P<town>{any_of})\b(?!['’]s)|on (?P<street>{street})\b)(?! (?:[A-Z]|{_halls()}))"
    )
    for match in pattern.finditer(text):
        start, end = match.span("name")
        words = match["name"].split()
        last = words[-1]
        if (
            any(
                each.start < end and start < each.end
                for each in known
                if each.head or (restored and len(words) > 1)
            )
            or last in _NO_KINDS
            or last in STAFF
            or match["lead"] in ("by", "past", "near")  # What it lies beside.
            or last.endswith(("ing", "ed", "ly"))
            or is_head(last)
            or any(word in FUNCTION_WORDS or word.rstrip("'s") in ("who", "that") for word in words)
            or (match["street"] and match["street"].split()[-1].lower() not in STREETS)
        ):
            continue
        road = " ".join(word[:1].upper() + word[1:] for word in (match["street"] or "").split())
        lead = match["lead"]
        yield Phrase(
            start, end, tuple(words), last, lead if lead in LEADS else "", True, False, match["town"] or "", street=road, the=True
        )  # fmt: skip


_LANDSCAPES = word_set(
    "cove creek lake pond inlet lagoon bluff bluffs hill ridge hollow glen meadow meadows marsh woods forest grove falls springs brook shoals dunes flats island isle river spit narrows neck bend head sound reach hole knoll beach bay"
)
_THE_LANDSCAPE = re.compile(
    rf"(?P<lead>\b(?:at|to|by|from|past|near)) the (?P<name>[a-z]{{4,}} (?P<head>{'|'.join(sorted(_LANDSCAPES))}|grounds|shelter|memorial|statue|courts?|launch|rink|track|ramp))\b(?! (?:in|on|at) [A-Z]){_ENDS}"
)
_OF_THINGS = re.compile(
    r"(?:(?P<lead>\b(?:at|to|by|with|from|into|in|outside|inside)) )?\bthe (?P<name>(?:[a-z]+ )?(?P<head>registry|register|board|department|office|bureau|hall|house|council|chamber|museum|school|college|society) of [a-z]{4,}(?: and [a-z]{4,})?)(?:,? (?:(?:up|down|over|out) )?in (?P<town>[A-Z][\w’'-]+(?: [A-Z][\w’'-]+)?))?"
)


_TWO_AS_ONE = re.compile(
    r"(?:(?P<lead>\b(?:at|to|by|with|from|into|in|outside|inside|behind)) )?\bthe (?P<name>(?:[A-Z][\w’'-]+ ){0,2}(?P<head>park|bed|five|meat)[ -](?:and[ -](?:ride|breakfast|dime|three)))\b(?:,? (?:(?:up|down|over|out) )?in (?P<town>[A-Z][\w’'-]+(?: [A-Z][\w’'-]+)?))?"
)


def plain_names(text: str, known: Sequence[Phrase]) -> Iterator[Phrase]:
    """Names that are written small: `the skating pond`, `the registry of deeds in Oldfleet`."""
    every = (_THE_LANDSCAPE, _OF_THINGS, _TWO_AS_ONE)
    for match in (match for pattern in every for match in pattern.finditer(text)):
        start, end = match.span("name")
        words = match["name"].split()
        if words[0] in _NEVER_FIRST | FUNCTION_WORDS or any(
            each.start < end and start < each.end for each in known if len(each.words) > 1 or each.end >= end
        ):
            continue
        town = (match["town"] or "") if match.re is not _THE_LANDSCAPE else ""
        lead = match["lead"] or ""
        yield Phrase(
            start, end, tuple(words), match["head"], lead if lead in LEADS else "", True, False, town, the=True
        )  # fmt: skip


_WARES = "|".join(sorted(GOODS))
_NAMED_WARES = re.compile(
    rf"{_WHERE} (?:the )?(?P<name>[A-Z][\w’'-]+ (?:[A-Z][\w’'-]+ )?(?:{_WARES})){_ENDS}"
)
_COMMON_WARES = re.compile(
    rf"(?P<lead>\b(?:[Aa]t|[Tt]o|[Bb]y|[Vv]isit|[Tt]ry|[Oo]utside|[Ii]nside|[Bb]ehind)) (?P<name>[a-z]{{4,}} (?:{_WARES}|{'|'.join(sorted(TRADE_HEADS))})){_ENDS}"
)
_OUTLETS = "window|truck|trucks|boat|cart|van|trailer|stall|barge|caravan"
_WARES_AT = re.compile(
    rf"(?:(?P<owner>\b[A-Z][\w’-]+['’]s )|(?P<lead>\b(?:at|to|by|on|from|of|inside|outside|behind|with|or|and|that's|it's|there's|is)|[,:]) (?:the|our|that) )(?P<wares>(?:[a-z]{{3,}} )?(?:[a-z]{{3,}}))(?P<at> (?:{_OUTLETS}))(?=[,.?!;:]|\Z| (?:on|in|at|or|and|until|by|before|during|will|is|has|takes?|keeps?|can|who|where|every|when|whenever|for|down|over|up|out|across|behind)\b)"
)
_GOODS_SAID = GOODS | word_set(
    "book books taco pancake waffle hotdog pretzel popcorn soup lunch bait pump-out library coffee pizza donut seed seeds bread veg vegetable fruit flower sandwich burrito bagel lemonade cocoa"
)


def wares_at(text: str, known: Sequence[Phrase]) -> Iterator[Phrase]:
    """What wares are sold or lent from: `Nell's chowder window`, `the ice cream boat`, `the taco truck`."""
    for match in _WARES_AT.finditer(text):
        start = match.start("owner") if match["owner"] else match.start("wares")
        end = match.end("at")
        wares = match["wares"].split()
        last = wares[-1]
        if (
            not {last, f"{last}s", f"{last}es", "".join(wares)} & _GOODS_SAID
            or set(wares) & FUNCTION_WORDS
            or any(each.start < end and start < each.end for each in known if each.end >= end)
        ):
            continue
        if len(wares) > 1 and (wares[0] in _NEVER_FIRST or not is_common(wares[0])):
            wares = wares[1:]
        words = (
            *(match["owner"] or "").split(),
            *(word.capitalize() for word in (*wares, match["at"].strip())),
        )
        lead = match["lead"] or (text[:start].lower().split() or [""])[-1]
        yield Phrase(
            start, end, words, match["at"].strip(), lead if lead in LEADS else "", True, True, the=not match["owner"]
        )  # fmt: skip


_DEDICATIONS = re.compile(
    r"\b(?P<lead>at|to|by|in|of|inside|outside|behind|from|with|and|or|try|there's|it's|that's)(?: the)? (?P<name>(?:holy|sacred|blessed|precious|most holy) (?:trinity|family|cross|name|names|spirit|redeemer|rosary|angels|innocents|heart|blood|sacrament|savior|apostles|ghost|comforter|martyrs|wisdom)|our (?:savior|redeemer|shepherd)|knights of columbus|sons of (?:italy|norway|hermann|erin)|odd fellows|(?:good|risen) (?:shepherd|savior|lord|christ)|all (?:saints|souls|angels)|christ the (?:king|redeemer|good shepherd)|(?:the )?(?:immaculate|sacred) (?:conception|hearts)|star of the sea|mount (?:zion|olive|olivet|carmel|calvary|moriah|tabor|hermon)|(?:beth|temple|b'nai|anshe) (?:shalom|israel|el|emeth|am|tikvah|abraham|sinai|emanuel))(?: (?P<kind>church|school|parish|hall))?\b"
)


def dedications(text: str, known: Sequence[Phrase]) -> Iterator[Phrase]:
    """Churches by what they are dedicated to, which captions in capitals hide: `in the basement of holy cross`."""
    for match in _DEDICATIONS.finditer(text):
        start, end = match.span("name")
        if match["kind"] or any(each.start < end and start < each.end for each in known if each.head):
            continue
        words = [word if word in ("the", "of") else word.capitalize() for word in match["name"].split()]
        lead = match["lead"]
        yield Phrase(start, end, tuple(words), "", lead if lead in LEADS else "", True, True)


_NICKNAMED = re.compile(
    r"\b(?P<lead>at|to|by|of|outside|inside|behind|from|or|and|try|it's|that's|there's) (?P<name>(?P<nick>[a-z]{4,}) [A-Z][a-z]+['’]s)(?=[,.?!;:]|\Z| (?:on|in|at|or|and|until|has|takes|is|will|by|down|up|over|out)\b)"
)
_NO_NICKNAMES = word_set(
    "cousin uncle aunt grandma grandpa granny brother sister neighbor friend mister dear darling captain young over down back near behind beside past maybe named called either with from like that this they call"
)


def nicknamed(text: str, known: Sequence[Phrase]) -> Iterator[Phrase]:
    """An owner's name with a common word before it, which captions in capitals hide: `behind shanty Ned's`."""
    for match in _NICKNAMED.finditer(text):
        start, end = match.span("name")
        if match["nick"] in FUNCTION_WORDS | _NEVER_FIRST | _NO_NICKNAMES | TITLES | CALENDAR or any(
            each.start < end and start < each.end and (each.start <= start or each.end > end)
            for each in known
            if each.head
        ):
            continue
        nick, owner = match["name"].split()
        lead = match["lead"]
        yield Phrase(start, end, (nick.capitalize(), owner), "", lead if lead in LEADS else "", True, True)


_HEADS_FIRST = re.compile(
    rf"(?P<lead>\b(?:at|to|by|of|outside|inside|behind|or|and|try|in|that's|it's|there's)|,)(?: the)? (?P<name>(?:temple|camp|fort|chez|casa|café|cafe|hotel|mount|congregation) [a-z]{{3,}}(?: [a-z]{{3,}})?){_ENDS}"
)
_NAMED_LANDSCAPE = re.compile(
    rf"(?P<lead>\b(?:at|to|by|in|on|from|near|past|off)) (?P<name>[a-z]{{3,}}(?: [a-z]{{3,}})? (?:{'|'.join(sorted(_LANDSCAPES))})){_ENDS}"
)
_NEVER_FIRST = word_set(
    "next last first second third big little small old new hot cold good bad deep open high low long short fresh frozen salt both some main own whole full clean east west north south front back side rear bay loading kitchen stage"
)


def hidden_kinds(text: str, known: Sequence[Phrase]) -> Iterator[Phrase]:
    """What captions in capitals hide: names that end with wares (`Fontaine alterations`) or a landscape (`in spindle cove`)."""
    every = (_NAMED_WARES, _NAMED_LANDSCAPE, _COMMON_WARES, _HEADS_FIRST)
    for match in (match for pattern in every for match in pattern.finditer(text)):
        start, end = match.span("name")
        words = match["name"].split()
        first = words[0].lower().replace("’", "'")
        wares = words[0][:1].isupper()
        lead = match["lead"].lower()
        if (
            any(
                each.start < end and start < each.end
                for each in known
                if len(each.words) > 1 or (each.head and each.end >= end)
            )
            or first in FUNCTION_WORDS | CALENDAR | _NEVER_FIRST
            or first.removesuffix("'s") in CALENDAR
            or (wares and (is_common(first.removesuffix("'s")) or (lead == "in")))
            or (not wares and any(word in FUNCTION_WORDS or word.endswith("ly") for word in words))
        ):
            continue
        yield Phrase(
            start, end, tuple(word[:1].upper() + word[1:] for word in words), "", lead if lead in LEADS else "", True, True
        )  # fmt: skip


_TRADE = re.compile(
    r"(?:,? (?:(?:right|just|up|down|over|out|back) )*(?:in|on|at) (?:[A-Z][\w’'-]*)(?: [A-Z][\w’'-]*)*)?, (?:you know, )?(?:(?:that|it|which)(?:'s| is) |they're )?(?:in )?(?:the|that|your|our) (?P<kind>(?:[a-z-]+ )??[a-z-]+?)(?: (?:(?P<who>side|people|folks|place|man|guys?)|part|end|half|section|lady|fellow|woman|one|wing|department|window))?"
    + _ENDS
)
_KIND_BEFORE = re.compile(
    r"\b(?:[Tt]he|[Oo]ur|[Tt]hat) (?P<kind>(?:[a-z-]+ )??[a-z'’-]+)"
    r"(?:,? (?:(?:right|just|up|down|over|out|back) )*(?:in|on|at|by) (?!the\b)[\w’'-]+(?: (?!and\b|or\b)[\w’'-]+){0,2})?,? (?:(?:that's|that is|it's|it is|they're) )?\Z"
)
_PART_OF = re.compile(
    r"(?:\A|\b(?:the|our|his|her|their|my|your|a|own|old|big|little|new|back|side|front|red|green|white|blue|gray) )(?P<part>porch|garage|barn|driveway|carport|stoop|yard|shed|workshop|kitchen door)(?: at| of|, at) (?:(?:Mr|Mrs|Ms|Miss|Doctor|Dr)\.? )?\Z"
)
_WITH_WHOM = re.compile(
    r"(?P<kin> (?:brothers|sisters|twins|boys|girls|family|cousins|ladies))?(?P<kind>,? (?:over |down |up |out |back )?at the (?P<trade>(?:[a-z-]+ )?[a-z-]+))"
    + _ENDS
)
_HOLY = word_set("saint st holy sacred blessed our good all trinity grace calvary christ")
"""What churches' names begin with."""
_TRADES = (
    STRONG_PLACE_HEADS
    | TRADE_HEADS
    | GOODS
    | word_set("bar market counter stand truck club studio barber supply kitchen")
) - word_set(
    "library school elementary church chapel office station high union junior hall center mission headquarters branch hospital courthouse parish temple synagogue mosque college university grange armory depot terminal"
)
"""What is called by its owner."""


def with_trade(name: str, phrase: Phrase, text: str) -> str:
    """A name without a kind, with what the next words say that it is: `Dunleavy's, the ice cream`, `Tarbell's, up in Millrace, the pharmacy side`,
    `the Hask brothers, at the garage`."""
    if phrase.head or phrase.pair:
        return name  # `Finch and Daughter, the drugstore` says enough by its name.
    part = _PART_OF.search(text[: phrase.start])
    if part is not None and not phrase.the and phrase.words[0].lower().rstrip(".") not in _HOLY:
        owner = name if name.endswith(("'s", "’s")) else f"{name}'s"
        return f"{owner} {part['part'].capitalize()}"
    after = text[phrase.end :]
    if len(phrase.words) == 1 and name.endswith(("'s", "’s")) and re.match(r"[,.;:?!]|\Z", after):
        kind = _kind_before(text[: phrase.start])
        if kind:
            return " ".join((name, *(word.capitalize() for word in kind.split())))
    told = _TRADE.match(after)
    if (
        told is not None
        and told["who"]
        and (phrase.the or len(phrase.words) > 1)
        and not name.endswith(("'s", "’s"))
    ):
        told = None  # `The Samovar, the tea place`, has its name.
    if told is not None and not re.match(r" (?:with|where|who|for|from|there)\b", after[told.end() :]):
        kinds = told["kind"].split()
        if (kinds[-1] in _TRADES and not (len(kinds) == 1 and kinds[0] in PARTS)) or (
            (kinds[0] == "parish" and kinds[-1] in ("hall", "house"))
            or (told["who"] and not set(kinds) & (FUNCTION_WORDS | _NEVER_FIRST))
        ):
            return f"{name} {told['kind'].title()}"
    whom = _WITH_WHOM.match(after)
    kin = phrase.words[-1].lower() in _KINDRED
    if whom is not None and kin and whom["trade"].split()[-1] in _TRADES:
        return f"{name} {whom['trade'].title()}"
    if whom is None or (phrase.the and not whom["kin"]) or phrase.pair or phrase.back:
        return name
    if whom["trade"].split()[-1] not in _TRADES:
        return name
    if whom["kin"]:
        return f"{name}{whom['kin'].title()} {whom['trade'].title()}"
    if not whom["kind"].startswith(",") or name.endswith(("'s", "’s")) or is_common(name.split()[-1]):
        return name
    return f"{name}'s {whom['trade'].title()}"


def _kind_before(before: str) -> str:
    """What the words right before an owner's name say that it is: `the cleaner's in Lowgate, Hollis's`; empty for nothing."""
    if not before.endswith(", ") and not re.search(r", (?:that's|that is|it's|it is|they're) \Z", before):
        return ""
    for match in re.finditer(r"\b(?:[Tt]he|[Oo]ur|[Tt]hat) ", before[-60:]):
        told = _KIND_BEFORE.fullmatch(before[-60:][match.start() :])
        if told is None:
            continue
        kinds = told["kind"].replace("’", "'").split()
        last = kinds[-1].removesuffix("'s")
        kinds[-1] = "cleaners" if kinds[-1] == "cleaner's" else last
        if last in _TRADES and last not in PARTS:
            plain = len(kinds) > 1 and (
                kinds[0] in _NEVER_FIRST | FUNCTION_WORDS | {"other", "same"} or kinds[0].endswith("'s")
            )
            return kinds[-1] if plain else " ".join(kinds)
    return ""


_ELEMENTS = word_set("fire flood storm light lights bell water ice snow wind rain tide air sun")
"""Of which names are made."""
_KIND_FIRST = re.compile(
    r"\b(?:[Tt]he|(?:[Oo]ur|[Mm]y|[Hh]is|[Hh]er|[Tt]heir)(?: [a-z-]+['’]s)?|[Aa]) (?:[a-z-]+ )?(?P<kind>(?!(?:right|just|up|down|over|out|back) )[a-z-]+(?:'s)?)(?P<at>,? (?:(?:right|just|up|down|over|out|back) )*(?:in|on|at) [A-Z][\w’'-]+(?: [A-Z][\w’'-]+)?)?, (?:that's |that is |it's |it is |called )?(?P<name>[a-z][a-z'-]{2,} [a-z]{3,})(?:[.]|,(?! (?:who|whom|which|where)\b))"
)


_KIND_LAST = re.compile(
    rf"\b(?P<lead>at|to|by|inside|outside|behind|with|or|and|try|it's|that's|there's)(?P<the> the)? (?P<name>[a-z][a-z'-]{{2,}}(?: [a-z]{{2,}}){{1,3}}), (?:(?:that's|that is|it's|it is|you know|which is) )?(?:the|that|an?|our) (?:[a-z-]+ ){{0,2}}?(?P<kind>[a-z-]+)(?: (?P<who>place|shop|store|people|folks|one|joint))?{_ENDS}"
)


def named_before_kind(text: str, known: Sequence[Phrase]) -> Iterator[Phrase]:
    """Names of common words right before their kind, which captions in capitals hide: `at three cousins, the hair place`."""
    for match in _KIND_LAST.finditer(text):
        start, end = match.span("name")
        words = match["name"].split()
        if (
            not (
                match["kind"] in _TRADES
                or match["kind"] in STRONG_PLACE_HEADS
                or (match["who"] and match["kind"] in GOODS)
            )
            or words[0] in FUNCTION_WORDS | _NO_KINDS
            or words[-1] in FUNCTION_WORDS | _NO_KINDS | PARTS
            or {"and", "or", "in", "at", "on", "to", "from", "with"} & set(words)
            or any(is_head(word) for word in words)
            or any(word.endswith("ly") for word in words)
            or any(
                each.start < end and start < each.end and (each.start, each.end) != (start, end)
                for each in known
                if each.head or len(each.words) > 1
            )
        ):
            continue
        lead = match["lead"]
        yield Phrase(
            start, end, tuple(word if word in ("of", "the") else word.capitalize() for word in words), "", lead if lead in LEADS else "", True, True, the=bool(match["the"]),
        )  # fmt: skip


_TAKES_IN = r"(?:(?:has|have|keeps?) (?:got )?(?:a|an|one|the|another)(?: \w+)?(?: (?:box|bin|barrel|basket|bucket|can|jar|list|sheet|book|form|clipboard|crate|tub|rack|shelf|table|bag|cage|hamper|one))?\b|takes? (?:them|it|yours|those|any|in)\b|will (?:take|have)\b|(?:is|are) (?:taking|collecting|accepting|holding)\b)"
_COMMON_NAME = r"(?P<name>[A-Za-z][a-z'’-]{2,} (?:[a-z]{3,} )?[a-z]{3,})"


def common_names(text: str, known: Sequence[Phrase], towns: Collection[str]) -> Iterator[Phrase]:
    """Names of common words before a town or a street, or that take things in, which captions in capitals hide:
    `there's also the wool gatherer, on pilot street`, `loose ends has a basket`."""
    any_of = "|".join(re.escape(town) for town in sorted(towns, key=len, reverse=True)) or "(?!)"
    opens = r"(?:\A(?:(?:And|Or|So|Then) )?|[,;:] (?:and |or )?|\b(?:and|or|also|there's|there is|it's|it is|that's|called|shop is) )(?P<the>[Tt]he )?"
    before = re.compile(
        rf"{opens}{_COMMON_NAME}(?:, (?:(?:up|over|down|out|back) )?(?:in|at) (?:{any_of})\b|, (?:right |just )?(?:(?:up|down|across|over|along) the (?:street|road|block|hill|way|hall|lane)|next door|(?:two|three|four|a few|a couple of) doors (?:up|down|over|along)|around the corner|across from|upstairs from|next to)\b|,? on (?:[\w’'-]+ ){{1,2}}(?i:{_streets()})\b| {_TAKES_IN})"
    )
    called = re.compile(
        rf"(?:\bcalled |\b[Ii]n (?:{any_of}),?(?: it's| it is| that's| there's| there is)? )(?P<the>the )?(?P<name>[a-z]{{3,}} [a-z]{{3,}})(?=[,.;])"
    )
    for match in (*before.finditer(text), *called.finditer(text)):
        start, end = match.span("name")
        words = match["name"].lower().split()
        said_name = text[:start].lower().removesuffix("the ").endswith("called ")
        if (
            any(each.start < end and start < each.end for each in known if each.head or len(each.words) > 1)
            or any(word in FUNCTION_WORDS or word.endswith(("ly", "ing")) for word in words)
            or set(words) & (set(NUMBER_WORDS) | _NO_FAMILIES)
            or (
                not said_name
                and (
                    set(words) & _NO_KINDS
                    or words[0] in _NEVER_FIRST - {"second", "first", "third", "little"}
                )
            )
        ):
            continue
        yield Phrase(
            start, end, tuple(word.capitalize() for word in words), "", "", True, True, the=bool(match["the"])
        )  # fmt: skip


_ENDS_OF_VERBS = word_set("up away out down off over")
"""With these, names are made of verbs: `Snip Away`."""


_ONE_BEHIND = re.compile(
    r"\b(?:[Tt]he|[Oo]ur|[Mm]y|[Aa]n?|(?:[Mm]y|[Hh]is|[Hh]er|[Tt]heir) [a-z-]+['’]s) (?P<kinds>(?:[a-z-]+ ){0,2}?[a-z-]+)(?: (?:in|on|over|by|behind|up in|out in|down in) [^,.;]{2,25})?, (?:that's |that is |it's |it is |called )?(?P<name>[A-Z][\w’-]{2,})(?=[.,;]|\Z)"
)


def single_behind(text: str, known: Sequence[Phrase], towns: Collection[str]) -> Iterator[Phrase]:
    """A name of one word right behind its kind: `the print shop, Inkwell`."""
    for match in _ONE_BEHIND.finditer(text):
        start, end = match.span("name")
        kinds, name = match["kinds"].split()[-2:], match["name"]
        kind = kinds[-1]
        if kinds[0] in _NEVER_FIRST | FUNCTION_WORDS | {"other", "same"}:
            kinds = kinds[1:]
        if (
            not kinds
            or (kind not in _TRADES and kind not in STRONG_PLACE_HEADS)
            or kind in PARTS
            or name in towns
            or name.lower() in CALENDAR | FUNCTION_WORDS | TITLES
            or is_name(name)
            or any(
                each.start < end and start < each.end for each in known if each.head or len(each.words) > 1
            )
        ):
            continue
        yield Phrase(start, end, (name, *(word.capitalize() for word in kinds)), "", "at", True, True)


def named_behind(text: str, known: Sequence[Phrase]) -> Iterator[Phrase]:
    """Names of common words right behind their kind, which captions in capitals hide: `the bookshop, second tide, and`."""
    for match in _KIND_FIRST.finditer(text):
        start, end = match.span("name")
        words = match["name"].split()
        if (
            match["kind"].removesuffix("'s") not in _TRADES
            and not (is_head(match["kind"]) and match["kind"] not in WEAK_PLACE_HEADS)
        ) or (
            any(
                word in FUNCTION_WORDS - _ENDS_OF_VERBS or word.endswith(("ly", "ing", "ed"))
                for word in words
            )
            or words[0] in NUMBER_WORDS
            or words[-1] in PARTS
            or (match["at"] and set(words) & (_NO_KINDS - _ELEMENTS | set(NUMBER_WORDS) | CALENDAR))
            or any(each.start < end and start < each.end for each in known if each.head in STRONG_PLACE_HEADS)
        ):
            continue
        yield Phrase(start, end, tuple(word.capitalize() for word in words), "", "", True, True)


_KIN = (
    "sons?|daughters?|brothers?|sisters?|cousins?|nephews?|nieces?|bros|company|co|associates|partners|family"
)
_FAMILIES = re.compile(
    rf"(?P<name>\b[A-Za-z][\w’-]{{2,}} (?:and|&) (?:{_KIN}))(?=[,.;:?!]|\Z| (?:on|in|at|or|until|by|has|have|will|is|are|takes?|up|down|over|out|says|who)\b)",
    re.IGNORECASE,
)
_NO_FAMILIES = word_set(
    "wife husband father mother parents parent mom dad mum grandmother grandfather grandma grandpa aunt uncle cousin cousins brother brothers sister sisters son sons daughter daughters friend friends family families kids children neighbor neighbors him her them me us you man men woman women mothers fathers wives husbands nephew nephews niece nieces boys girls owner owners founder partner partners"
)


_BROTHERS = re.compile(
    r"\b(?P<lead>[Aa]t|[Tt]o|[Bb]y|[Ww]ith|[Ii]nside|[Oo]utside|[Bb]ehind|[Ff]rom|[Oo]r|[Aa]nd|[Tt]ry|[Ii]t's|[Tt]hat's|[Tt]here's) (?P<name>[A-Za-z][a-z’-]{2,} (?:brothers|sisters|bros))(?=[,.;:?!]|\Z| (?:on|in|at|or|until|by|has|have|will|is|are|takes?|up|down|over|out|says|who|they)\b)"
)
_KINDRED = word_set("brothers sisters twins boys girls cousins family")
_KIN_OF = re.compile(
    rf"\b(?:(?P<lead>at|to|by|with|from) )?[Tt]he (?P<name>[A-Z][\w’-]+ (?:{'|'.join(sorted(_KINDRED))}))\b(?! (?:{'|'.join(sorted(GOODS))})\b)"
)


def kindred(text: str, known: Sequence[Phrase]) -> Iterator[Phrase]:
    """`The Pruitt sisters`, where the next words say of what."""
    for match in _KIN_OF.finditer(text):
        start, end = match.span("name")
        if _WITH_WHOM.match(text[end:]) is None or any(each.start < end < each.end for each in known):
            continue
        lead = match["lead"] or ""
        first, second = match["name"].split()
        yield Phrase(
            start, end, (first, second.capitalize()), "", lead if lead in LEADS else "", True, True, the=True
        )  # fmt: skip


def families(text: str, known: Sequence[Phrase], *, restored: bool) -> Iterator[Phrase]:
    """`Sable and Sons`, wherever it stands; in captions in capitals also `at sable brothers`."""
    for match in _BROTHERS.finditer(text) if restored else ():
        start, end = match.span("name")
        first, second = match["name"].lower().split()
        if first in _NO_FAMILIES | FUNCTION_WORDS | _NEVER_FIRST | set(NUMBER_WORDS) or any(
            each.start < end and start < each.end for each in known if len(each.words) > 1
        ):
            continue
        lead = match["lead"].lower()
        yield Phrase(
            start, end, (first.capitalize(), second.capitalize()), "", lead if lead in LEADS else "", True, True, pair=True
        )  # fmt: skip
    for match in _FAMILIES.finditer(text):
        start, end = match.span("name")
        words = match["name"].split()
        led = text[:start].lower().removesuffix("the ").split()[-1:]
        if (
            any(each.start < end and start < each.end for each in known if each.pair or each.head)
            or words[0].lower() in _NO_FAMILIES | FUNCTION_WORDS
            or set(led) & {"his", "her", "their", "my", "our", "your", "its", "a", "an"}
            or not (restored or words[-1][:1].isupper())
            or (words[0].lower().endswith("s") and is_common(words[0]))
        ):
            continue
        yield Phrase(
            start, end, (words[0][:1].upper() + words[0][1:], "and", words[-1].capitalize()), "", "".join(set(led) & LEADS), True, True, pair=True
        )  # fmt: skip


_OFFICIAL = re.compile(
    r"\b(?P<of>(?:[A-Z][\w’'-]+ ){0,3}(?:[Cc]ounty|[Tt]own|[Cc]ity|[Vv]illage) |[A-Z][\w’'-]+(?: [A-Z][\w’'-]+)?(?:['’]s)? )?(?P<who>(?:[Tt]own |[Cc]ity |[Cc]ounty |[Vv]illage )?[Cc]lerk|[Ss]heriff|[Ff]ire [Mm]arshal|[Aa]ssessor|[Rr]egistrar(?: of [Vv]oters)?|[Tt]reasurer|[Hh]arbor ?[Mm]aster|[Hh]arbou?rmaster|[Gg]ame [Ww]arden|[Tt]ree [Ww]arden|[Ff]orester|[Cc]oroner|[Ee]xtension [Aa]gent|[Vv]eterans(?:['’])? (?:[Ss]ervice )?(?:[Oo]fficer|[Aa]gent)|[Aa]nimal [Cc]ontrol [Oo]fficer|[Bb]uilding [Ii]nspector|[Tt]ax [Cc]ollector|[Hh]ealth [Oo]fficer|[Pp]ublic [Dd]efender|[Cc]ounty [Aa]gent|[Rr]oad [Cc]ommissioner|[Aa]ttorney [Gg]eneral|[Rr]egister of [Dd]eeds)\b(?!['’]s|s\b)"
)
_MY_OFFICE = re.compile(
    r"\b(?P<lead>at|to|by|in|into|outside|inside|through) (?P<mine>(?:my|our) (?:own )?office)\b(?![’'])"
)


def official_in(text: str) -> str:
    """Whose office an official speaks of as `my office`, where a sentence names one: `the Gull Bank County Fire Marshal`; or nothing."""
    last = ""
    for match in _OFFICIAL.finditer(text):
        of = (match["of"] or "").strip().removesuffix("'s").removesuffix("’s")
        words = [
            word for word in of.split() if word not in ("The", "A", "An", "And", "Our", "But", "So", "Now")
        ]
        if words and (words[0].lower() in TITLES or words[0].lower() in FUNCTION_WORDS):
            words = []
        last = " ".join(
            word[:1].upper() + word[1:] if word != "of" else word for word in (*words, *match["who"].split())
        )
    return last


def of_official(text: str, official: str, known: Sequence[Phrase]) -> Iterator[Phrase]:
    """`My office`, of an official who was introduced."""
    for match in _MY_OFFICE.finditer(text) if official else ():
        start, end = match.span("mine")
        if any(each.start < end and start < each.end and each.back for each in known):
            continue
        lead = match["lead"]
        *words, last = official.split()
        yield Phrase(
            start, end, (*words, f"{last}'s", "Office"), "office", lead if lead in LEADS else "", True, True
        )  # fmt: skip


_AT_MINE = re.compile(
    r"\b(?P<lead>at|to|on|by|in|into|outside|behind) (?P<mine>(?:my|our)(?: own)?(?: front| back| side)? (?P<part>porch|garage|barn|driveway|house|place|yard|carport|stoop|steps|kitchen|shed|garden|workshop|studio|farm|shop))\b(?![’'])"
)
_IN_FULL = re.compile(
    r"\b(?P<first>[A-Z][a-z’'ñéíóáú-]+) (?P<last>[A-Z][\w’'-]+)(?=[,.;:?!]|\Z| (?:is|was|has|who|says?|and|of|from|in|at|to|did|does|makes?|started|wants|will|had)\b)"
)


def person_in_full(text: str) -> str:
    """The last person whom a sentence names in full, or nothing."""
    last = ""
    for match in _IN_FULL.finditer(text):
        low = match["first"].lower(), match["last"].lower()
        if not (
            set(low) & (FUNCTION_WORDS | CALENDAR | STREETS | TITLES)
            or any(is_head(word) for word in low[1:])
            or is_common(low[0])
            or match["last"].endswith(("'s", "’s"))
        ):
            last = match[0]
    return last


def at_somebodys(text: str, person: str, known: Sequence[Phrase]) -> Iterator[Phrase]:
    """`At my porch`, by the name of whoever was introduced."""
    for match in _AT_MINE.finditer(text) if person else ():
        start, end = match.span("mine")
        if any(each.start < end and start < each.end and each.back for each in known):
            continue
        lead = match["lead"]
        first, last = person.split()
        yield Phrase(
            start, end, (first, f"{last}'s", match["part"].capitalize()), "", lead if lead in LEADS else "", True, True, back=False
        )  # fmt: skip
