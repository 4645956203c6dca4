"""Noun phrases that may be places: with the head of a place's name (`Library`, `Fire Station Two`), or a name of their own."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

from sitegen.intake.lexicon import is_common
from sitegen.intake.vocabulary import (
    FUNCTION_WORDS,
    GOODS,
    STRONG_PLACE_HEADS,
    TRADE_HEADS,
    WEAK_PLACE_HEADS,
    word_set,
)

_TOKEN = re.compile(r"(?:St|Mt|Ft)\.(?= [A-Z])|[\w’'&-]+(?:\.(?=\w))?|[^\w\s]")
NUMBER_WORDS = {
    word: str(number)
    for number, word in enumerate(
        ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"], 1
    )
}
LEADS = word_set("at to in into by behind outside inside from with near on past")
_LINKS = word_set("of the and de la del el los las")
"""Small words inside a name."""
_DETERMINERS = word_set("the a an our my your their any either both each every his her its that this")
_NOT_NAMES = word_set(
    "monday tuesday wednesday thursday friday saturday sunday january february march april may june july august september october "
    "november december mondays tuesdays wednesdays thursdays fridays saturdays sundays noon midnight christmas thanksgiving halloween easter santa i"
)
_VERBS = word_set(
    "is are was were be been has have had will would can could do does did opens open closes takes take bring brings needs need wants want says said calls call "
    "got get gets getting see try visit ask find gives give goes go comes come runs run helps help serves serve starts start collects collect accepts accept hosts host offers offer"
)


@dataclass(frozen=True, slots=True)
class Phrase:
    """A noun phrase that may be a place."""

    start: int
    """Offset in the sentence's text."""
    end: int
    words: tuple[str, ...]
    """Without its article."""
    head: str
    lead: str
    """The preposition before it, or empty."""
    definite: bool
    """It is `the`, `our`, or named without an article."""
    named: bool
    """It has a word of its own beside its head."""
    town: str = ""
    bare: bool = False
    """Several words without an article behind a preposition: a name, even where captions in capitals hide it."""
    ours: bool = False
    """The speaker's own: `our front desk`."""
    street: str = ""
    """Where words right behind it name one: `the annex on First Street`."""
    by_town: bool = False
    """Only its town was said: `then Quillow, then Heronsgate`."""
    the: bool = False
    """`The` stands before it."""
    pair: bool = False
    """Its name is two things joined: `Lock and Key`."""
    back: bool = False
    """Only whose it is was said: `bring it to us`, `my office`."""


def phrases(text: str, towns: set[str]) -> Iterator[Phrase]:
    """Every noun phrase of a sentence with the head of a place, or with a name of its own after a preposition."""
    tokens = [(match.start(), match.end(), match[0]) for match in _TOKEN.finditer(text)]
    low = [token.lower().replace("’", "'") for _, _, token in tokens]
    at = 0
    while at < len(tokens):
        if not _starts(low, tokens, at):
            at += 1
            continue
        phrase, after = _phrase_at(tokens, low, at, towns)
        if phrase is not None:
            yield phrase
        at = max(after, at + 1)


def _starts(low: list[str], tokens: list[tuple[int, int, str]], at: int) -> bool:
    word = low[at]
    if not word[0].isalnum():
        return False
    if word in FUNCTION_WORDS and word not in _DETERMINERS:
        return False
    return word not in _VERBS


def _phrase_at(
    tokens: list[tuple[int, int, str]], low: list[str], at: int, towns: set[str]
) -> tuple[Phrase | None, int]:
    first = at
    article = low[at] if low[at] in _DETERMINERS else ""
    if article:
        at += 1
        if low[at : at + 1] == ["own"] and article not in ("the", "a", "an"):
            at += 1  # `Our own lobby` is `our lobby`.
    begin = at
    head_at = -1
    joined = 0
    while at < len(tokens) and at - begin < 7:
        word = low[at]
        if (
            not word[0].isalnum()
            or (word in _VERBS and not (at > begin and tokens[at][2][:1].isupper()))
            or (word in FUNCTION_WORDS and word != "of" and not _lies_in_name(tokens, low, at, begin))
            or word in _NOT_NAMES
        ):
            break
        if word == "of":
            # `Church of the Redeemer`, `branch of Harbor Savings Bank`.
            following = at + 2 if at + 1 < len(low) and low[at + 1] == "the" else at + 1
            if at == begin or following >= len(tokens) or not tokens[following][2][:1].isupper():
                break
            if low[at - 1] not in STRONG_PLACE_HEADS | WEAK_PLACE_HEADS | _OF_MEMBERS:
                break
            if low[at - 1] in PARTS and not tokens[at - 1][2][:1].isupper():
                break  # `The front desk of the Armory` is at the Armory.
            if low[at + 1] == "the":
                at += 1
        elif _lies_in_name(tokens, low, at, begin):
            at += 2  # `Church on the Green`
            joined = at + 1
        elif (
            is_head(word)
            or (at > begin and is_capital_name(tokens[at - 1][2]) and _of_several(word))
            or (at > begin and word in _LENDERS and low[at - 1] in _LENT)
            or (word == "y" and article == "the" and at == begin)
        ):
            head_at = at
        elif (
            head_at == at - 1 >= begin
            and (low[head_at] in _NUMBERED or (at + 1 < len(low) and is_head(low[at + 1])))
            and (word.isdigit() or word in NUMBER_WORDS)
        ):
            if at + 1 < len(low) and is_head(low[at + 1]):
                at += 1
                continue  # `Harbor Five studios`
            head_at = at
            at += 1
            break
        elif (
            head_at == at - 1 >= begin
            and not tokens[at][2][:1].isupper()
            and not (low[at + 1 : at + 2] in (["shop"], ["store"]) and word in _SOLD)
        ):
            break  # What comes after the head is no part of the name: `the library closet`.
        at += 1
    end = at
    named_by_capitals = _capital_run(tokens, low, begin, end)
    if head_at < begin:
        if not named_by_capitals:
            return None, max(begin + 1, first + 1)
        last = named_by_capitals
        head = ""
    else:
        last = max(head_at + 1, named_by_capitals)
        last = max(last, joined)
        if last == head_at + 1 < end and low[head_at] in _HEADS_FIRST:
            while last < end and is_capital_name(tokens[last][2]):
                last += 1  # `Café Amapola`
        # A lower-case word behind the head makes it something else: `library card`, `school bus`.
        if (
            last < end
            and last == head_at + 1
            and not tokens[last][2][:1].isupper()
            and low[last] not in FUNCTION_WORDS
        ):
            return None, end
        head = (
            low[head_at]
            if is_head(low[head_at]) or low[head_at] in _LENDERS | {"y"}
            else _of_several(low[head_at]) or low[head_at - 1]
        )
    if _two_wares(tokens, low, begin, last):
        last += 2
    words = tuple(token for _, _, token in tokens[begin:last])
    if head.endswith("'s") and article:
        head = head[:-2]
        if first and low[first - 1] != ",":
            words = (*words[:-1], words[-1][:-2])
    if not words:
        return None, max(end, first + 1)
    if article == "our" and head in PARTS and _is_channel(low, last):
        # `Our lobby at Channel Four` is the station's.
        words = (*(token.capitalize() for _, _, token in tokens[last + 1 : last + 3]), *words)
        last += 3
    led = first
    while led > 0 and low[led - 1] in ("back", "front", "side", "rear", "main", "the", "a"):
        led -= 1  # `at the back door`
    lead = low[led - 1] if led else ""
    town = _town_after(tokens, low, last, towns)
    named = any(is_capital_name(token) for token in words if token.lower() != head) or (
        len(words) > 1 and not article
    )
    phrase = Phrase(
        tokens[begin][0], tokens[last - 1][1], words, head, lead if lead in LEADS else "",
        article in ("the", "our", "") or (article == "your" and head in _OF_THE_STATION) or (article in _SOMEBODY_S and town != ""), named, town, not article and led > 0 and (low[led - 1] in LEADS or (low[led - 1] == "of" and led > 1 and low[led - 2] in _WHOLES)) and last - begin > 1, article == "our" or (article == "your" and head in _OF_THE_STATION), _street_after(tokens, low, last), the=article == "the",
    )  # fmt: skip
    return phrase, last


def _two_wares(tokens: list[tuple[int, int, str]], low: list[str], begin: int, last: int) -> bool:
    """`Plunk Feed and Seed`, `Hubbard's Five and Dime`: a name that ends with two common words joined."""
    return (
        last - begin > 1
        and last + 1 < len(tokens)
        and low[last] in ("and", "&")
        and low[last - 1] not in STRONG_PLACE_HEADS
        and all(is_capital_name(tokens[at][2]) and is_common(low[at]) for at in (last - 1, last + 1))
        and not (last + 2 < len(tokens) and is_capital_name(tokens[last + 2][2]))
    )


_WHOLES = word_set(
    "branch branches office offices lobby basement counter door doors front back side steps lot porch window kitchen hall gym entrance locations stores any all both either each"
)
"""Of what follows them: `any branch of Harbor Trust`."""
_LENDERS = word_set("shelf closet cupboard")
_LENT = word_set(
    "food clothing clothes coat coats toy toys diaper loan prom linen hygiene uniform community lending book tool"
)
"""With one of these before it a shelf is an institution: `the Lowgate food shelf`."""
_OF_MEMBERS = word_set("friends knights sons daughters chamber order top house disciples brotherhood sisters")
_SOLD = word_set("gift thrift book coffee snack supply")
_HEADS_FIRST = word_set("café cafe camp fort temple villa casa iglesia mercado hotel chez plaza club")
"""Heads before a name."""
_SOMEBODY_S = word_set("my your")
_OF_THE_STATION = word_set("lobby studio")
"""What guests mean by `your lobby`."""


def _is_channel(low: list[str], at: int) -> bool:
    return (
        low[at : at + 2] in (["at", "channel"], ["of", "channel"])
        and at + 2 < len(low)
        and (low[at + 2].isdigit() or low[at + 2] in NUMBER_WORDS)
    )


def _lies_in_name(tokens: list[tuple[int, int, str]], low: list[str], at: int, begin: int) -> bool:
    """`on` in `Church on the Green`: a name that says where it lies."""
    return (
        at > begin
        and low[at] in ("on", "by")
        and at + 2 < len(tokens)
        and low[at + 1] == "the"
        and is_head(low[at - 1])
        and tokens[at - 1][2][:1].isupper()
        and is_capital_name(tokens[at + 2][2])
        and not _is_street(low, at + 2)
    )


def _is_street(low: list[str], at: int) -> bool:
    return any(word in STREETS for word in low[at : at + 3])


STREETS = word_set("street road avenue lane route highway boulevard drive row way parkway turnpike pike")

_NAME_OF = r"[A-Z][\w’'ñ-]*(?: [A-Z][\w’'ñ-]*)*"
_SHARED_HEAD = re.compile(
    rf"\b(?P<names>{_NAME_OF}(?:, {_NAME_OF})*,? (?:and|or) {_NAME_OF}) (?P<kind>(?:[a-z]+ )?)(?P<heads>[a-z]+)\b"
)
"""`The Millrace and Pellam libraries`."""
_HEAD_FIRST = re.compile(
    rf"\b(?P<kind>(?:fire|police|post|town|village|high|grade|elementary|middle|train|bus|senior) )?(?P<heads>[a-z]+)(?:,? in|:|, at|,)(?: the)? (?P<names>{_NAME_OF}(?:, (?:in )?{_NAME_OF})*,? (?:and|or) (?:in )?{_NAME_OF})\b(?! (?:it's|it is|that's|there's|there is|you|try)\b)"
)
"""`The libraries in Millrace and Pellam`, `all three schools: Millrace, …`."""
_THE_ONE = re.compile(
    rf"\b(?:(?:the (?:other |second )?)?one|the (?:other|second) (?:branch|store|shop|location)|another(?: one)?|the other)(?: up| over| out| down)? (?P<link>in|on)(?P<the> the)? (?P<names>{_NAME_OF})"
)
"""`The one in Quillow`, `the one on Ferry Street`, `another in Pellam`."""
STAFF = {
    "librarian": "library", "librarians": "library", "libraries": "library", "library": "library", "firefighter": "station", "firefighters": "station", "fireman": "station", "firemen": "station",
    "firehouses": "station", "firehouse": "station", "pastor": "church", "pastors": "church", "priest": "church", "churches": "church", "postmaster": "office", "pantries": "pantry",
}  # fmt: skip
"""Kinds of places by who works there, and of several."""


def with_shared_heads(text: str, known: Sequence[Phrase], towns: Collection[str]) -> Sequence[Phrase]:
    """With the places of a row that shares one head, in place of what was read of them."""
    made: list[Phrase] = []
    for pattern in (_SHARED_HEAD, _HEAD_FIRST):
        for match in pattern.finditer(text):
            head = _of_several(match["heads"].lower())
            if not head and pattern is _HEAD_FIRST and re.search(r" (?:and|or) in |\bor\b", match[0]):
                # `The library in Lowgate, in Sandy End or in Bankfoot`: the head is said once for each.
                head = match["heads"].lower() if match["heads"].lower() in STRONG_PLACE_HEADS else ""
            if not head and pattern is _HEAD_FIRST and match["heads"].lower().endswith("s"):
                head = STAFF.get(match["heads"].lower(), "")
            names = [part for part in re.split(r",? (?:and |or )(?:in )?|, (?:in )?", match["names"]) if part]
            if not head or any(name not in towns and not _may_be_town(name) for name in names):
                continue
            kind = (match["kind"] or "").title().split()
            kind = kind if kind and not {word.lower() for word in kind} & FUNCTION_WORDS else []
            at = match.start("names")
            for name in names:
                words = (*name.split(), *kind, head.capitalize())
                start = text.index(name, at)
                made.append(Phrase(start, start + len(name), words, head, "at", True, True))
                at = start + len(name)
    for match in _THE_ONE.finditer(text):
        before = [each for each in known if each.head and each.end <= match.start()]
        if not before:
            continue
        last = before[-1].words
        street = match["names"].lower().split()[-1] in STREETS
        if match["names"].endswith(("'", "’", "'s", "’s")):
            continue  # `One in Dutch's shed`
        if match["the"] and not (match["link"] == "on" and len(last) == 1 and not street):
            continue
        if match["link"] == "on" and (match["the"] or (before[-1].named and street)):
            # `The church, the one on the Green`
            words = (*last, "on", *(["the"] if match["the"] else []), *match["names"].split())
            made.append(Phrase(match.start(), match.end(), words, before[-1].head, "at", True, True))
        elif match["link"] == "in" and (match["names"] in towns or _may_be_town(match["names"])):
            kind = [
                word for word in last if word.lower() in (before[-1].head, "fire", "police", "post", "town")
            ]
            words = (*match["names"].split(), *(word.capitalize() for word in kind))
            made.append(Phrase(match.start(), match.end(), words, before[-1].head, "at", True, True))
    kept = [each for each in known if all(each.end <= new.start or each.start >= new.end for new in made)]
    kept = [each for each in kept if not (made and _of_several(each.words[-1].lower()))]
    return sorted((*kept, *made), key=lambda each: each.start)


def _may_be_town(name: str) -> bool:
    """A name that nothing says is anything else."""
    words = name.lower().split()
    return not any(
        (is_head(word) and word not in _IN_TOWNS_NAMES) or word in _NOT_NAMES | STREETS for word in words
    )


_HEADLESS = re.compile(
    r"(?:(?P<the>\b(?:[Aa]t|[Tt]o|[Bb]y|of|[Oo]utside|[Ii]nside|[Bb]ehind|[Tt]here's|[Tt]here is|[Ii]t is|[Oo]r|[Tt]ry|[Ss]ee|[Vv]isit) the|\A(?:And |Or |Then |So )*[Tt]he)|\b(?P<lead>[Tt]o|[Aa]t|[Bb]y|[Ii]nto|[Oo]utside|[Ii]nside|[Bb]ehind)|\b(?:[Oo]r|of|[Tt]here's|[Tt]here is)) "
    r"(?=(?P<name>(?:[\w'’&-]+ ){1,3}?[\w'’&-]+|[a-z]{3,} (?:one|two|three|four|five|six|seven|eight|nine))(?= (?:on|in|at|or|until|till|by|before|during|and|any|will|is|has|have|had|are|takes?|keeps?|holds?|says|can|who|for|where|under|out|up|down|they|they've|there's|you|he's|she's|it's|we've) |[,.?!;]))"
)
_SOMEBODY = word_set(
    "herself himself themselves itself yourself half past last unopened form forms system hold food suppertime lunchtime dinnertime bedtime noontime own else else's somebody's everybody's nobody's anybody's somebody nobody someone enough always plenty lots several whatever whoever heavy next instead together one two three four five six seven eight nine ten eleven twelve twenty thirty forty fifty hundred thousand people kids children families anyone anybody everyone everybody us them students seniors veterans school work home least first last once"
)


_NEVER_IN_NAMES = word_set(
    "herself himself themselves itself yourself half unopened own else else's somebody's everybody's nobody's anybody's always enough whoever whatever"
)


def headless(text: str, known: Sequence[Phrase]) -> Iterator[Phrase]:
    """Names that captions in capitals hide: several words in a row without a head behind `to`, `at` and the like, `the` before them or not."""
    for match in _HEADLESS.finditer(text):
        start, end = match.span("name")
        words = match["name"].split()
        if words[-1] in NUMBER_WORDS:
            words = words[:-1]
        if (
            any(each.start < end and start < each.end for each in known if each.head or len(each.words) > 1)
            or any(
                word in FUNCTION_WORDS or word in _VERBS or word in _NOT_NAMES
                for word in (each.lower() for each in words)
            )
            or words[-1].lower() in _SOMEBODY | _ORDINALS
            or any(word.endswith("ly") or word in _NEVER_IN_NAMES for word in words)
            or words[0].lower() == "same"
            or (len(words) == 1 and words[0].lower() in _NO_NAMES)
            or (words[-1].lower() in _NO_NAMES and words[0].lower() in _ORDINALS | _TOLD_APART)
            or (text[:start].endswith("by the ") and not _DROPS_BY.search(text[:start]))
            or (text[:start].endswith("by the ") and words[-1].lower() in _NO_NAMES)
        ):
            continue
        yield Phrase(
            start, end, tuple(word[:1].upper() + word[1:] for word in match["name"].split()), "", (match["lead"] or "at").lower(), True, True, the=match["the"] is not None
        )  # fmt: skip


_TOLD_APART = word_set(
    "first last next other only far near big little long short tall old new front back main top bottom left right red blue green white black yellow brown gray wooden metal plastic folding card"
)
"""What tells one thing in a place from others there."""
_DROPS_BY = re.compile(
    r"\b(?:stop(?:ped|ping)?|drop(?:ped|ping)?|swing(?:ing)?|come|pop|go|run) (?:it |them |yours? |on )?by the \Z"
)
"""Without such a verb, `by the` tells where in a place a thing stands."""
_HIDDEN_OWNER = re.compile(
    r"(?:\b(?P<lead>[Aa]t|[Tt]o|[Bb]y|[Ww]ith|[Ff]rom|[Oo]utside|[Ii]nside|[Bb]ehind|[Pp]ast|[Nn]ear|[Ii]n)|\b(?:[Tt]here's|[Ii]t's|[Tt]hat's|is|are|[Tt]ry|[Oo]r|[Aa]nd|(?:out|in)side of|front of|next to|[Ss]ee|[Vv]isit|called)|,) (?P<name>[a-z]{3,}['’]s)(?=[,.?!;]| (?:on|in|at|over|has|have|will|is|are|who|until|till|for|or|and|by)\b)"
)
_HIDDEN_OF = re.compile(
    r"\b(?:the|at|to) (?P<name>(?P<head>hall|house|church|museum|school|academy|institute|center|temple|palace|department|registry|office|college|board) of [a-z]{4,}(?: and [a-z]{4,})?)\b"
)
_UP_TO = r"(?=[,.?!;:]| (?:on|in|at|or|until|till|by|before|during|and|any|will|is|has|have|are|takes?|keeps?|holds?|says|can|who|where|under|out|up|down|there|right|just|from|too|as|with|every|all|after|off|across|next|if|so|but|because|this|when|through|he's|she's|they're|it's)\b)"
_NUMBERS = frozenset(NUMBER_WORDS) | word_set("thirteen fourteen fifteen sixteen twenty thirty forty fifty")
_HIDDEN_ONE = re.compile(
    rf"(?:\b(?P<lead>at|to|by|in|into|inside|outside|behind|past|from) the|\b(?:gate|doors?|back|side|front|steps|counter|lobby|desk|window|entry|entrance|lot|porch|basement|end|corner) of the|\b(?P<bare>at)) (?P<name>(?:[a-z]{{4,}} )?[a-z]{{4,}}(?: (?:{'|'.join(sorted(_NUMBERS))}))?){_UP_TO}"
)
_NO_NAMES = word_set(
    "time times moment minute minutes hour hours morning afternoon evening night nights weekend month months year years season day days week weeks beginning middle end start finish way ways same others bottom rest past future phone world country weather news "
    "table tables register window bench fence wall tree trees scale scales stairs floor till bell gate truck trucks van bus car cars wagon trailer tent list sheet board poster screen computer ceiling sidewalk curb basket bin barrel box bucket jar crate envelope slot mailbox drawer hook rail freezer cooler fridge machine dryer washer closing opening dawn dusk sunrise sunset sundown dark lunch supper intermission halftime kickoff south north east west inside outside"
)
"""What is never a place's name."""
_KIN = word_set(
    "whoever's mother's father's mom's dad's sister's brother's aunt's uncle's grandma's grandpa's grandmother's grandfather's daughter's son's wife's husband's neighbor's cousin's friend's lady's guy's man's woman's children's women's men's people's today's tomorrow's tonight's yesterday's year's week's month's everybody's somebody's nobody's anybody's everyone's someone's anyone's else's other's one's"
)


def hidden_words(text: str, known: Sequence[Phrase]) -> Iterator[Phrase]:
    """Common words that may be names where captions in capitals hide it: `to the anchor`, `at quarterdeck`."""
    for match in _HIDDEN_ONE.finditer(text):
        start, end = match.span("name")
        words = match["name"].split()
        if any(each.start < end and start < each.end for each in known) or any(
            word in FUNCTION_WORDS
            or word in _VERBS
            or word in _NOT_NAMES
            or word in _SOMEBODY
            or word in _NO_NAMES
            or word in _ORDINALS
            or (word in STREETS and word != "row")
            for word in words[: -1 if words[-1] in _NUMBERS else None]
        ):
            continue
        yield Phrase(
            start, end, tuple(word.capitalize() for word in words), "", match["lead"] or match["bare"] or "at", True, True, the=match["bare"] is None
        )  # fmt: skip


def hidden_names(text: str, known: Sequence[Phrase]) -> Iterator[Phrase]:
    """More names that captions in capitals hide: of an owner alone (`there's sudsy's, on ninth`) and with `of` (`the hall of records`)."""
    for match in (*_HIDDEN_OWNER.finditer(text), *_HIDDEN_OF.finditer(text)):
        start, end = match.span("name")
        words = [word.replace("’", "'") for word in match["name"].split()]
        head = match["head"] if "head" in match.re.groupindex else ""
        owner = words[0].removesuffix("'s")
        if any(each.start < end and start < each.end and len(each.words) > 1 for each in known) or (
            not head
            and (words[0] in _KIN or owner in FUNCTION_WORDS or owner in _NOT_NAMES or owner in _VERBS)
        ):
            continue
        lead = match["lead"] or "" if not head else text[:start].removesuffix("the ").split()[-1:]
        led = lead.lower() if isinstance(lead, str) else "".join(set(lead) & LEADS)
        yield Phrase(
            start, end, tuple(word if word in ("of", "and") else word[:1].upper() + word[1:] for word in words), head, led if led in LEADS else "", True, True, the=bool(head)
        )  # fmt: skip


def with_hidden_names(text: str, found: Sequence[Phrase]) -> Iterator[Phrase]:
    """Phrases with what stands before them in captions in capitals, where only a verb's look parts it from them: `the slate run grange`."""
    for each in found:
        match = _PARTED.search(text[: each.start]) if len(each.words) == 1 and each.head else None
        if match is None or any(other.start < each.start <= other.end + 1 for other in found):
            yield each
        else:
            words = (*match["name"].split(), *each.words)
            yield replace(each, start=match.start("name"), words=words, the=True, definite=True)


_PARTED = re.compile(
    r"\bthe (?P<name>(?:[a-z]{3,} )?(?:run|help|start|open|gives?|calls?|visit|find|ask) )\Z"
)


_INTRODUCED = re.compile(
    r"(?:\A|[,;:] )(?:(?:And|But|So|Then|and|but|so|then),? )*(?:the )?(?P<name>[A-Z][\w’'-]+(?: [\w’'-]+){0,2}), (?:that's|that is|it's|it is|which is) (?:just )?(?:the|a|an) (?P<kind>[a-z-]+(?: [a-z-]+){0,2})\b"
)


def introduced(text: str, known: Sequence[Phrase]) -> Iterator[Phrase]:
    """Names that the next words explain: `Third Rung, that's the thrift store on Tern Street`."""
    for match in _INTRODUCED.finditer(text):
        start, end = match.span("name")
        words = match["name"].split()
        kinds = match["kind"].split()
        if (
            not any(word in STRONG_PLACE_HEADS for word in kinds)
            or any(
                each.start < end and start < each.end and (each.head or len(each.words) >= len(words))
                for each in known
            )
            or any(word.lower() in FUNCTION_WORDS | _VERBS | _NOT_NAMES for word in words)
        ):
            continue
        yield Phrase(start, end, tuple(word[:1].upper() + word[1:] for word in words), "", "", True, True)


_LADY = re.compile(
    r"\bour (?P<name>lady of (?:the )?\w+(?: \w+(?= (?:church|school|parish|hall)))?)\b", re.IGNORECASE
)
_ORDINALS = word_set("second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth")
_PAIR = r"(?:and|&|on)"
_OF_WARES = "|".join(sorted(GOODS | TRADE_HEADS))
_ASKED_OF_GOERS = word_set(
    "left right holler knock ring wave yell shout turn look wait push pull climb walk stop duck leave go straight smile sign drive park keep follow listen whistle honk"
)
"""`Past the stage door and holler`, `the second door and left`."""
_NO_PAIRS = word_set(
    "black white red blue green yellow gray brown ones twos threes fours fives sixes sevens eights nines tens dozens hundreds rain shine pen paper soap water salt pepper bread butter coffee cake cream sugar hats coats gloves mittens scarves hammer nails needle thread men women boys girls kids parents cats dogs husband wife"
)
"""Two of these are no name."""
_FAMILY = word_set("son sons daughter daughters brothers sisters")
_NAMED_PAIR = re.compile(
    rf"(?:(?P<lead>\b(?:[Aa]t|[Tt]o|[Ww]ith|[Bb]y|[Ii]nside|[Oo]utside|[Bb]ehind|of|[Ff]rom|[Pp]ast|is|[Tt]hat's|[Ii]t's|[Tt]here's|called|[Oo]r|[Aa]nd|[Tt]ry|[Vv]isit|got)\b|[,:]) (?:the )?|\A(?:(?:And|Or|So|But|Then|Now|Or else),? )?The )(?P<name>[A-Z][\w’'-]*(?: [A-Z][\w’'-]*)? {_PAIR} [A-Z][\w’'-]*)"
)
_HIDDEN_PAIR = re.compile(
    rf"(?:(?P<lead>\b(?:[Aa]t|[Tt]o|[Ii]n|[Ww]ith|[Bb]y|[Ii]nside|[Oo]utside|[Bb]ehind|of|[Pp]ast|is|[Oo]r|[Tt]here's|it's|[Tt]hat's|[Tt]ry)\b|[,:]) (?:the )?|\A(?:(?:And|Or|So|But|Then|Now|Or else),? )?[Tt]he )(?P<name>(?!(?:that's|it's|there's|that|it|and|or|at|to) )[A-Za-z][\w’'-]+(?: [a-z][\w’'-]+)? {_PAIR} [A-Za-z][\w’'-]+(?: (?:{_OF_WARES}))?)"
    r"(?=[,.;]| (?:in|on|at|or|until|by|before|during|says?|has|have|will|is|are|takes?|up|down|over|out|hardware)\b)"
)


def pairs(text: str, known: Sequence[Phrase], towns: Collection[str], *, restored: bool) -> Iterator[Phrase]:
    """Names of two things joined: `Haskell and Daughters`; in captions in capitals also `suds on main`."""
    for match in _LADY.finditer(text):
        name = [
            "Our",
            *(word if word in ("of", "the") else word.capitalize() for word in match["name"].lower().split()),
        ]
        led = text[: match.start()].lower().split()[-1:]
        yield Phrase(
            match.start(), match.end(), tuple(name), "", "".join(set(led) & LEADS), True, True, pair=True
        )
    for match in (_HIDDEN_PAIR if restored else _NAMED_PAIR).finditer(text):
        start, end = match.span("name")
        words = match["name"].split()
        low = [word.lower().replace("’", "'") for word in words]
        link = next(at for at, word in enumerate(low) if at and word in ("and", "&", "on"))
        sides = low[:link] + low[link + 1 :]
        if (
            any(
                word in FUNCTION_WORDS
                or word in _SOMEBODY
                or word in _NOT_NAMES
                or word in _VERBS
                or (word in _ORDINALS and (restored or word == sides[0]))
                for word in sides
            )
            or sides[-1] in _ASKED_OF_GOERS
            or all(word in _NO_PAIRS for word in (sides[0], sides[-1]))
            or text[:start].endswith("corner of ")
            or (
                text[:start].endswith("to ")
                and restored
                and all(is_common(f"{low[at]}ing") for at in (0, -1))
            )
            or sides[-1].endswith("'s")
            or " ".join(words[:link]) in towns
            or " ".join(words[link + 1 :]) in towns
            or (low[link] == "on" and (is_head(low[link - 1]) or _is_street(low, link)))
        ):
            continue
        if low[-1] in _FAMILY:
            for each in known:
                if each.start < end < each.end and each.head and len(each.words) < 4:
                    end, words = each.end, [*words[:-1], *each.words]  # `Pruitt and Sons Plumbing`
        inside = [each for each in known if each.start < end and start < each.end]
        if low[-1] in _FAMILY:
            inside = [each for each in inside if each.end < end]
        if any(
            each.end > end
            or (
                each.head in STRONG_PLACE_HEADS
                and not each.pair
                and not (each.end == end and len(each.words) == 1)
            )
            for each in inside
        ):
            continue
        lead = (match["lead"] or "").lower()
        yield Phrase(
            start, end, tuple(word if word in ("and", "on") else word[:1].upper() + word[1:] for word in words), "", lead if lead in LEADS else "", True, True, pair=True,
        )  # fmt: skip


_NUMBERED = word_set(
    "station school post pier berth engine firehouse house hall building dock gate company elementary harbor studio bay"
)
"""Heads that a number may follow."""


_KEEPERS = word_set(
    "vet dentist doctor butcher baker barber florist grocer tailor cobbler jeweler optician chemist printer framer upholsterer locksmith veterinarian pharmacist druggist hairdresser clerk cleaner orthodontist podiatrist harbormaster assessor sheriff registrar watchmaker clockmaker shoemaker bootmaker dressmaker cabinetmaker blacksmith gunsmith goldsmith silversmith saddler stationer draper greengrocer chandler milliner confectioner fishmonger cheesemonger ironmonger undertaker groomer luthier chiropractor acupuncturist"
)
"""Who is found at a place that is called after him: `the dentist's on Tern Street`."""


def is_head(word: str) -> bool:
    return (
        word in STRONG_PLACE_HEADS
        or word in WEAK_PLACE_HEADS
        or word in TRADE_HEADS
        or word.removesuffix("s") in _OF_MANY_ROOMS
        or (word.endswith("'s") and word[:-2] in _KEEPERS)
        or (word.endswith(_COMPOUNDS) and word not in _NO_COMPOUNDS and is_common(word))
        or _is_new_compound(word)
    )


def _is_new_compound(word: str) -> bool:
    """`Sailhouse`, `netshed`: compounds that no dictionary has."""
    for end in ("house", "shop", "shed", "yard"):
        first = word.removesuffix(end)
        if first != word:
            return len(first) > 2 and is_common(first) and word not in _NO_COMPOUNDS and not is_common(word)
    return False


_COMPOUNDS = ("house", "yard", "shop", "hall")
"""Ends of words for places: `boatyard`, `meetinghouse`."""
_NO_COMPOUNDS = word_set(
    "house yard shop hall shall workshop bishop archbishop vineyard backyard birdhouse doghouse outhouse powerhouse halyard steelyard "
    "waterhouse whitehouse stonehouse woodhouse moorhouse hillhouse newhouse bullyard ballyard"
)


def _of_several(word: str) -> str:
    """The head that stands here in the plural: `libraries` has `library`; empty for none."""
    for ending, singular in (("ies", "y"), ("ches", "ch"), ("sses", "ss"), ("s", "")):
        if word.endswith(ending):
            head = word.removesuffix(ending) + singular
            return head if head in STRONG_PLACE_HEADS else ""
    return ""


def is_several(word: str) -> bool:
    """True for a head in the plural that is not one place's own: `stores`."""
    return word.lower() not in STRONG_PLACE_HEADS and _of_several(word.lower()) not in (
        "",
        "office",
        "studio",
    )


_OF_MANY_ROOMS = word_set("studio office garden ground apartment store branch")
"""Heads that stand in the plural for one place."""


def is_capital_name(token: str) -> bool:
    return token[:1].isupper() and token.lower() not in FUNCTION_WORDS and token.lower() not in _NOT_NAMES


def _capital_run(tokens: list[tuple[int, int, str]], low: list[str], begin: int, end: int) -> int:
    """The index behind a run of words with capitals that begins a phrase; 0 for none."""
    at = begin
    while at < end and (is_capital_name(tokens[at][2]) or (at > begin and low[at] in _LINKS)):
        at += 1
    while at > begin and low[at - 1] in _LINKS:
        at -= 1
    if begin == 0 and at == 1:
        opens = (
            low[0].endswith("'s") and low[0] not in _KIN and low[0][:-2] not in _NOT_NAMES | FUNCTION_WORDS
        )
        return at if opens and low[1:2] and low[1] in _BEHIND_OWNERS and low[0] not in _CONTRACTIONS else 0
    return at if at > begin else 0


_CONTRACTIONS = word_set(
    "it's that's there's here's what's who's where's how's he's she's let's when's why's"
)
_BEHIND_OWNERS = word_set(", . ; has will would takes is can on in at over up down too also says keeps")
"""After an owner's name that opens a sentence: `Tull's, too, has a jar`."""


_IN_TOWNS_NAMES = word_set("landing point harbor beach bay mill corner green park square")
_ENDS_OF_TOWNS = word_set(
    "landing crossing gap hollow creek ferry falls notch ridge valley springs corners cove junction bend mills narrows sound"
)
_IN_TOWN = ("in", "at", "on")


def _town_after(tokens: list[tuple[int, int, str]], low: list[str], at: int, towns: set[str]) -> str:
    """The town that words right behind a name say it is in: `the library up in Cutter's Gap`, `the marina, in Cala Nueva`."""
    if low[at : at + 1] and low[at] in _GROUNDS:
        at += 1  # `The courthouse steps in Lowgate`
    if low[at : at + 2] == ["on", "the"] and low[at + 2 : at + 3] and low[at + 2] in _LIES_ON:
        at += 3  # `The grange on the hill in Lowgate`
    comma = at + 1 < len(tokens) and low[at] == ","
    explained = False
    if comma:
        at += 1
        for told in _TOLD_WHERE:
            if low[at : at + len(told)] == told:
                at += len(told)
                explained = True
    if low[at : at + 2] == ["right", "here"]:
        at += 1
    if (
        at + 1 < len(tokens)
        and low[at] in ("up", "over", "out", "down", "here", "back")
        and low[at + 1] in _IN_TOWN
    ):
        at += 1
    if at + 1 < len(tokens) and low[at] in _IN_TOWN:
        for length in (3, 2, 1):
            name = " ".join(token for _, _, token in tokens[at + 1 : at + 1 + length])
            if name in towns:
                behind = at + 1 + length
                if (
                    low[at] == "at"
                    and behind < len(low)
                    and (is_head(low[behind]) or is_capital_name(tokens[behind][2]))
                ):
                    return ""  # `The reading room at Millrace Library`
                return name
        if low[at] != "in" or explained:
            return ""
        # A town that the station does not list.
        end = at + 1
        while end < len(tokens) and end < at + 4 and is_capital_name(tokens[end][2]):
            end += 1
        if comma and end < len(tokens) and low[end] not in (",", ".", ";", "?", "!"):
            return ""  # `The library, in Mrs. Finch's words`
        if end > at + 1 and not any(
            is_head(word) and word not in _IN_TOWNS_NAMES for word in low[at + 1 : end]
        ):
            if end < len(tokens) and low[end] in _ENDS_OF_TOWNS:
                end += 1  # Captions in capitals hide it.
            return " ".join(token[:1].upper() + token[1:] for _, _, token in tokens[at + 1 : end])
    return ""


def _street_after(tokens: list[tuple[int, int, str]], low: list[str], at: int) -> str:
    """The street that words right behind a name say it is on; captions in capitals leave it in small letters."""
    led = at
    while at < len(low) and low[at] in _UP_AND_DOWN:
        at += 1
    is_street = at > led and low[at - 1] in ("up", "down", "along", "off")
    if low[at : at + 2] in (["at", "the"], ["by", "the"], ["near", "the"], ["on", "the"]):
        is_street = at + 3 < len(low) and low[at + 2] in _ENDS_OF_STREETS and low[at + 3] == "of"
        at += 4
    elif low[at : at + 1] == ["on"]:
        is_street = True
        at += 1
    end = at
    while (
        end < min(len(tokens), at + 3) and low[end][0].isalnum() and low[end] not in FUNCTION_WORDS | STREETS
    ):
        end += 1
    if is_street and at < end < len(tokens) and low[end] in STREETS:
        words = [token for _, _, token in tokens[at : end + 1]]
        return " ".join(word[:1].upper() + word[1:] for word in words)
    return ""


_LIES_ON = word_set(
    "hill green square corner water river harbor waterfront point pier common wharf bay highway bluff"
)
_GROUNDS = word_set("steps lawn grounds doors entrance stairs")
_TOLD_WHERE = (["that's"], ["that", "is"], ["it's"], ["the", "one"])
"""Between a place and where it is said to be: `the annex, that's in Lowgate`."""
_UP_AND_DOWN = word_set("over up down out just right back way halfway along off")
_ENDS_OF_STREETS = word_set("end foot head top bottom corner start bend crook turn elbow")
"""Where on a street a thing lies."""


PARTS = word_set(
    "booth office lobby desk counter basement lot room kitchen gym porch hall door garage yard auditorium cafeteria"
)
"""Parts of a place."""


_CONTRACTED = re.compile(
    r"(?<=\w)['’]s(?= (got|taking|accepting|collecting|open|also|where|been|happy|glad|going|the|a|an|your|being|holding|keeping|having|letting|saving|giving|putting|running|doing|hosting|closed|shut|full|still|not|one)\b)"
)


def without_contractions(text: str) -> str:
    """`The diner's taking them` as `The diner is taking them`: else its head is hidden."""
    return _CONTRACTED.sub(lambda match: " has" if match[1] in ("got", "been") else " is", text)
