"""Places that viewers are sent to: which of the places that a story names."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

from sitegen.intake.asking import addresses, hands_in
from sitegen.intake.lexicon import is_common
from sitegen.intake.noun_phrases import (
    LEADS,
    PARTS,
    STAFF,
    Phrase,
    headless,
    hidden_names,
    hidden_words,
    introduced,
    is_head,
    pairs,
    phrases,
    with_hidden_names,
    with_shared_heads,
    without_contractions,
)
from sitegen.intake.other_names import (
    at_somebodys,
    common_names,
    dedications,
    families,
    hidden_kinds,
    kindred,
    named_before_kind,
    named_behind,
    nicknamed,
    of_official,
    official_in,
    other_kinds,
    person_in_full,
    plain_names,
    single_behind,
    wares_at,
    with_trade,
)
from sitegen.intake.place_names import Known, in_town_before, is_inside, lies_in, name_of, with_kind
from sitegen.intake.records import NamedPlace, Role, Said, Sentence
from sitegen.intake.sending import (
    TAKEN_BACK,
    is_part_of_next,
    is_plain,
    lines,
    listed,
    signs,
    weight,
    wording,
)
from sitegen.intake.shared_places import SharedPlaces, key_of
from sitegen.intake.vocabulary import GOODS, STRONG_PLACE_HEADS, TRADE_HEADS, word_set
from sitegen.newsroom.records import Newsroom, Place

_WEB = re.compile(
    r"(?: \w+){0,2} dot (?!the\b)\w|(?: \w+)?,? (?:up )?on the (?:web|internet|computer|website)\b| (?:web ?site|home ?page|page|online)\b"
)
_PAGE_OF = re.compile(r"\b(?:page|website|web site|online) (?:at|of|for) (?:[Tt]he )?\Z")


@dataclass(frozen=True, slots=True)
class Candidate:
    """A place that a story names, and what speaks for viewers' being sent there."""

    place: NamedPlace
    sentence: int
    phrase: Phrase
    signs: dict[str, float]


def places_in(
    sentences: Sequence[Sentence], newsroom: Newsroom, programme: Sequence[Sentence] = ()
) -> tuple[NamedPlace, ...]:
    """The places of a segment that viewers are sent to, each once, in the order in which they are said. `programme`: all that was
    said, which may name in full what the segment does not."""
    found = [each for each in candidates(sentences, newsroom, programme) if weight(each.signs) > 0]
    return tuple(chosen(found, [each.text for each in sentences]))


def chosen(found: Sequence[Candidate], texts: Sequence[str]) -> Iterator[NamedPlace]:
    """Each place once, of the candidates that viewers are sent to. `texts`: the sentences."""
    yield from once([each.place for each in _without_appositions(found, texts)])


_LIST_GOES_ON = re.compile(
    r"(?:, (?:(?!\w+['’]s |(?:\w+ )?(?:is|are|has|have|takes) )[^,.;:]){2,40})*,? (?:and|or)\b(?! (?:they|he|she|it|you|we|i|there|that|ask|say|tell|look|ring|knock|just|then|if|when|once|please)\b)"
)


def _without_appositions(found: Sequence[Candidate], texts: Sequence[str]) -> Iterator[Candidate]:
    """Without what the very next words name anew: `the bank, Farmers Trust`, `Doc Reed's, the animal clinic` where the station knows the clinic;
    and without what only tells what the last one is: `Crank and Saddle, the bicycle shop`."""
    before: Candidate | None = None
    for each, following in zip(found, [*found[1:], None], strict=False):
        text = without_contractions(texts[each.sentence])
        if (
            following is not None
            and following.sentence == each.sentence
            and (_is_named_anew(each, following, text) or _is_part(each, following, text))
        ):
            continue
        if before is not None and before.sentence == each.sentence and _is_explanation(before, each, text):
            continue
        before = each
        yield each


def _is_named_anew(each: Candidate, following: Candidate, text: str) -> bool:
    between = text[each.phrase.end : following.phrase.start]
    anew = (not each.phrase.named and following.phrase.named) or following.place.id != ""
    return (
        anew
        and (not each.place.id or (not following.phrase.head and not each.phrase.named))
        and re.fullmatch(
            r"(?: (?:in|on|across|over|up|down) [^,.;]{2,25})?,(?: that's| that is)? (?:the )?", between
        )
        is not None
        and _LIST_GOES_ON.match(text[following.phrase.end :]) is None
    )


def _is_part(each: Candidate, following: Candidate, text: str) -> bool:
    """`The fruit stand in the Mercado`: viewers are sent to what it is in, whose name the next words give."""
    return (
        not each.place.id
        and is_part_of_next(each.phrase, following.phrase, text.lower())
        and (following.place.id != "" or following.phrase.head in STRONG_PLACE_HEADS | TRADE_HEADS)
    )


_TOLD_WHAT_IT_IS = re.compile(
    r"(?: (?:in|on|over|up|down|here in|out in) [^,.;]{2,25})?,? (?:that's|that is|it's|it is|which is|they're) (?:(?:in|at|on|up|down|over|just|right|really|still|behind) )*the (?:\w+ (?:of|at) (?:the )?)?"
)


_PLAIN = word_set(
    "old new big little small long tall low only other same last first next red green blue white brown yellow gray black brick stone glass wooden metal front back side upper lower corner former whole main"
)
"""What a name that is told to be something else does not begin with."""


def _is_explanation(before: Candidate, each: Candidate, text: str) -> bool:
    between = text[before.phrase.end : each.phrase.start]
    return (
        not each.phrase.named
        and not each.place.id
        and each.phrase.the
        and (
            (
                _TOLD_WHAT_IT_IS.fullmatch(between) is not None
                and (
                    len(each.phrase.words) == 1
                    or each.phrase.words[0] in _PLAIN
                    or (before.phrase.named and not before.phrase.head)
                )
            )
            or (
                (
                    not before.phrase.head
                    or before.phrase.head == each.phrase.head
                    or each.phrase.head in PARTS - {"hall"}
                )
                and before.phrase.named
                and re.fullmatch(r"(?: in [^,.;]{2,25})?, the ", between) is not None
            )
        )
        and (
            _LIST_GOES_ON.match(text[each.phrase.end :]) is None
            or (before.phrase.named and not before.phrase.head and _THAT_IS.fullmatch(between) is not None)
        )
    )


_THAT_IS = re.compile(r", (?:that's|that is|which is) the ")


def candidates(
    sentences: Sequence[Sentence], newsroom: Newsroom, programme: Sequence[Sentence] = ()
) -> Iterator[Candidate]:
    """Every place that a segment names, as often as it is named. `programme`: as in `places_in`."""
    found = list(_with_fuller_names(list(_candidates(sentences, newsroom))))
    found = list(_named_elsewhere(found, programme))
    named = Counter(each.place.name for each in found)
    taken_back: dict[str, list[Candidate]] = {}
    for each in found:
        if any(each.signs.get(sign) for sign in TAKEN_BACK):
            taken_back.setdefault(each.place.name, []).append(each)
    meant = {id(each) for each in _meant_by_there(sentences, found)}
    for each in found:
        how_often = {
            "there_later": float(id(each) in meant),
            "taken_back": float(
                any(
                    other is not each and other.sentence == each.sentence + 1
                    for other in taken_back.get(each.place.name, ())
                )
            ),
            "taken_back_here": float(
                any(
                    other is not each and other.sentence == each.sentence
                    for other in taken_back.get(each.place.name, ())
                )
            ),
            "part_of_story": float(
                not each.phrase.named
                and not each.place.id
                and each.phrase.head in PARTS
                and not each.phrase.ours
                and any(
                    0 <= each.sentence - other.sentence <= 4
                    and other.phrase.start < each.phrase.start + 10000 * (each.sentence - other.sentence)
                    and (other.place.id or (other.phrase.named and other.phrase.head in _KINDS - PARTS))
                    for other in found
                )
            ),
            "mentions": min(3, named[each.place.name] - 1) / 3,
            "places": min(8, len(named)) / 8,
        }
        yield replace(each, signs=each.signs | how_often)


_THERE = re.compile(
    r"\b(?:(?:take|bring|leave|drop|carry|send|hand|get|put|set|give|haul|run)s? (?:it|them|one|those|yours|that|a \w+|your \w+)? ?(?:right |straight |on |back )?(?:there|by|in|over|off|up|down|to (?:them|her|him))"
    r"|go (?:there|in|by|over|on in|see)|(?:come|stop|drop|swing|walk|call|head|show|turn) (?:by|in|on in|over|down|up)|(?:be|get|stay|help|meet|pay|sign up|apply|ask|inside|right|up|over|down) there"
    r"|there (?:by|until|till|any|from|on|before|between)|(?:the|their) (?:front|side|back|kitchen|office) (?:door|desk|entrance|window|office))\b"
)
"""Where viewers are sent by words that stand for a place."""


def _meant_by_there(sentences: Sequence[Sentence], found: Sequence[Candidate]) -> Iterator[Candidate]:
    """The place named last before a sentence that sends viewers `there` and names none."""
    named = {each.sentence for each in found if each.place.id or each.phrase.head}
    for number, sentence in enumerate(sentences):
        if number in named or not _THERE.search(sentence.plain):
            continue
        if not (addresses(sentence.plain) or hands_in(sentence.plain)):
            continue
        before = [
            each
            for each in found
            if number - 4 <= each.sentence < number
            and (each.place.id or (each.phrase.named and each.phrase.head))
        ]
        if before:
            yield before[-1]


def _with_fuller_names(found: Sequence[Candidate]) -> Iterator[Candidate]:
    """`Marlow's` by the name that the story gives in full elsewhere: `Marlow's Grocery`."""
    full: dict[str, NamedPlace] = {}
    for each in found:
        words = each.place.name.split()
        for length in range(1, len(words)):
            rest = [word.lower() for word in words[length:]]
            if rest[-1] in _KINDS | GOODS and all(word in _KINDS | _OF_SHOPS | GOODS for word in rest):
                full.setdefault(" ".join(words[:length]), each.place)
    for each in found:
        fuller = full.get(each.place.name)
        if fuller is None or each.phrase.head or each.place.id:
            yield each
        else:
            yield replace(each, place=replace(each.place, name=fuller.name, id=fuller.id, town=fuller.town))


def _named_elsewhere(found: Sequence[Candidate], programme: Sequence[Sentence]) -> Iterator[Candidate]:
    """An owner's name with the one kind that the rest of the programme gives it: `Marlow's`, when a story before was of `Marlow's Grocery`."""
    for each in found:
        name = each.place.name.replace("’", "'")
        if each.place.id or each.phrase.head or len(each.phrase.words) > 1 or not name.endswith("'s"):
            yield each
            continue
        kinds: set[str] = set()
        for sentence in programme:
            text = sentence.text.replace("’", "'")
            for match in re.finditer(
                rf"\b{re.escape(name)} (?P<kind>(?:[\w-]+ )?[\w-]+)", text, re.IGNORECASE
            ):
                words = match["kind"].lower().split()
                whole = (
                    words
                    if len(words) > 1 and words[1] in _KINDS and words[0] in _KINDS | _OF_SHOPS
                    else words[:1]
                )
                if whole[-1] in _KINDS - PARTS:
                    kinds.add(" ".join(word.capitalize() for word in whole))
        yield each if len(kinds) != 1 else replace(
            each, place=replace(each.place, name=f"{each.place.name} {kinds.pop()}"), signs=each.signs | {"kind_told": 1.0}
        )  # fmt: skip


_KINDS = STRONG_PLACE_HEADS | TRADE_HEADS
_OF_SHOPS = word_set("thrift shoe yarn general hair barber book bike coffee gift coin corner country")


def _candidates(sentences: Sequence[Sentence], newsroom: Newsroom) -> Iterator[Candidate]:
    towns = {town.name for county in newsroom.station.counties for town in county.towns}
    short = _short_names(towns)
    areas = towns | short | {county.name for county in newsroom.station.counties}
    # The programme is on the air, not a place.
    own = {newsroom.station.programme, newsroom.station.station}
    shared = SharedPlaces(
        newsroom.places, frozenset(areas | own | {each.removeprefix("The ") for each in own})
    )
    stations = "|".join(re.escape(each.removeprefix("The ")) for each in sorted(own) if each)
    at_ours = re.compile(
        rf",? (?:right |just |down )?(?:here\b|(?:at|of) (?:(?:the )?(?:{stations})|(?:this|our|your) (?:own )?(?:station|studios?|building|channel))\b)",
        re.IGNORECASE,
    )
    desk = shared.of_kind(("lobby",), ())
    own_street = re.escape(re.sub(r"\A\d+\w*\s+", "", desk.street)) if desk and desk.street else "(?!)"
    on_ours = re.compile(rf",? (?:(?:right |just |down )?here )?on {own_street}\b", re.IGNORECASE)
    spoken = sentences
    sentences = [replace(each, text=without_contractions(each.text)) for each in sentences]
    found = [
        tuple(with_shared_heads(each.text, tuple(phrases(each.text, areas)), areas)) for each in sentences
    ]
    every = lines(sentences)
    mentioned: list[Place] = []
    past: list[str] = []
    person = official = ""
    home: Candidate | None = None
    """Towns named so far, the last one last."""
    for number, sentence in enumerate(sentences):
        here = found[number]
        if sentence.restored:
            here = tuple(with_hidden_names(sentence.text, here))
        here = (*here, *shared.unseen_names(sentence.text, here, restored=sentence.restored))
        here = (*here, *wares_at(sentence.text, here))
        hidden: frozenset[int] = frozenset()
        told_next: list[Phrase] = []
        if sentence.restored:
            line = every[number]
            more = list(hidden_names(sentence.text, here))
            if (
                line.role
                or line.viewer
                or line.gives
                or line.container
                or line.hands
                or line.signs
                or line.entry
            ):
                more += headless(sentence.text, (*here, *more))
                more += hidden_words(sentence.text, (*here, *more))
            more += hidden_kinds(sentence.text, (*here, *more))
            more += common_names(sentence.text, (*here, *more), areas)
            more += dedications(sentence.text, (*here, *more))
            more += nicknamed(sentence.text, (*here, *more))
            if more:
                hidden = frozenset(each.start for each in more)
                covered = [each for each in more if each.head]
                here = (
                    *(
                        each
                        for each in here
                        if not any(new.start <= each.start and each.end <= new.end for new in covered)
                    ),
                    *more,
                )
        here = (*here, *pairs(sentence.text, here, areas, restored=sentence.restored))
        here = (*here, *families(sentence.text, here, restored=sentence.restored))
        here = (*here, *kindred(sentence.text, here))
        if sentence.restored:
            here = (*here, *named_behind(sentence.text, here))
            told_next = list(named_before_kind(sentence.text, here))
            here = (*here, *told_next)
        unlisted = (
            *other_kinds(sentence.text, here, towns, restored=sentence.restored),
            *plain_names(sentence.text, here),
        )
        here = (*here, *unlisted)
        if not sentence.restored:
            here = (*here, *single_behind(sentence.text, here, areas))
        here = (*here, *introduced(sentence.text, here))
        said_towns = list(_towns_said(sentence, towns))
        kinds = [_kinds_said(each.text) for each in sentences[max(0, number - 20) : number + 1]]
        here = (*here, *_by_town(sentence.text, here, found[:number], said_towns, shared, kinds))
        person = person_in_full(sentence.text) or person
        here = (*here, *_whose(sentence.text, home, here))
        here = (*here, *at_somebodys(sentence.text, person, here))
        official = official_in(sentence.text) or official
        here = (*here, *of_official(sentence.text, official, here))
        here = tuple(sorted(here, key=lambda each: (each.start, each.end)))
        in_list = frozenset(each.start for each in listed(here, sentence.text, answers=every[number].answers))
        ours_until = 0
        for at, phrase in enumerate(here):
            if phrase.start < ours_until:
                continue  # The station of `the lobby of the station`
            if _WEB.match(sentence.text[phrase.end :]) or _PAGE_OF.search(sentence.text[: phrase.start]):
                continue  # `Harbor House dot example dot org` is an address.
            known = Known(
                shared,
                mentioned,
                [
                    *(town for start, _, town in said_towns if start > phrase.start),
                    *past,
                    *(town for start, _, town in said_towns if start <= phrase.start),
                ],
                found[: number + 1],
                sentence.text[: phrase.start].lower().endswith("the ")
                or sentence.text[phrase.start :].lower().startswith("the "),
                frozenset(
                    (
                        *(each.start for each in told_next),
                        *([phrase.start] if _is_house(phrase, sentence) else ()),
                    )
                ),
            )
            if phrase.head in ("lobby", "studio") and at_ours.match(sentence.text[phrase.end :]):
                phrase = replace(phrase, ours=True, definite=True)  # `the lobby right here`
            if (
                phrase.head in ("lobby", "desk")
                and not phrase.named
                and (_AT_THE_STATION.match(after := sentence.text[phrase.end :]) or on_ours.match(after))
                and (
                    _OUR_STATION.match(after)
                    or on_ours.match(after)
                    or not any(_is_other_station(each) for earlier in found[:number] for each in earlier)
                )
            ):
                phrase = replace(phrase, words=("lobby",), head="lobby", ours=True, definite=True)
                station = _AT_THE_STATION.match(after)
                ours_until = phrase.end + station.end() if station else 0
            if phrase.ours and home is None and desk and phrase.words in _OUR_DESKS:
                phrase = replace(phrase, words=("lobby",), head="lobby")
            phrase = in_town_before(
                phrase, here[:at], sentence.text, said_towns, shared.areas, restored=sentence.restored
            )
            if at and lies_in(here[at - 1], phrase, sentence.text):
                continue
            if phrase.words[-1].endswith(("'s", "’s")) and _OWNS.match(sentence.text[phrase.end :]):
                continue  # `The clerk's window`
            place = home.place if phrase.back and home else name_of(phrase, known, hidden=sentence.restored)
            if at + 1 < len(here) and is_inside(phrase, here[at + 1], sentence.text):
                continue
            if _ON_SCREEN.match(sentence.text[phrase.end :]):
                continue
            if (
                len(phrase.words) == 1
                and not phrase.the
                and re.search(r"\b[Oo]n \Z", sentence.text[: phrase.start])
                and at
                and re.fullmatch(
                    r",? (?:over |up |down |out |right |here )?on ",
                    sentence.text[here[at - 1].end : phrase.start],
                )
            ):
                continue  # `Marsh Hardware, on Ropewalk`
            if place is not None and place.id and _is_other_thing(phrase, sentence.text):
                continue
            if (
                _ON_THE_AIR.search(sentence.text[: phrase.start])
                and re.match(r"[,.?!;]", sentence.text[phrase.end :])
            ) or (not sentence.restored and _is_of_goods(phrase, sentence.text)):
                continue
            if home and place is not None and not place.id and phrase.ours and phrase.head in _OUR_PARTS:
                place = home.place  # `Our front desk`, in somebody's letter
            if place is not None and at + 1 < len(here):
                behind = name_of(here[at + 1], known, hidden=sentence.restored)
                within = behind is not None and behind.id != ""
                place = with_kind(place, phrase, here[at + 1], sentence.text, within=within)
            if place is not None and not place.id and place.name == " ".join(phrase.words):
                place = replace(place, name=with_trade(place.name, phrase, sentence.text))
            told = place is not None and _is_told(place.name, phrase)
            if place is not None:
                if place.id:
                    mentioned.append(next(each for each in newsroom.places if each.id == place.id))
                candidate = Candidate(
                    replace(
                        place,
                        said=Said(spoken[number].text, sentence.start),
                        role=every[number].role or Role.DROP_OFF,
                    ),
                    number,
                    phrase,
                    signs(
                        sentences,
                        every,
                        number,
                        here,
                        at,
                        in_list,
                        known=bool(place.id),
                        one_word=len(key_of(place.name)) == 1 and phrase.head not in _NAMES_ALONE,
                        hidden=phrase.start in hidden,
                    )
                    | wording(sentences, number, phrase)
                    | ({"unlisted_kind": 1.0} if phrase in unlisted else {})
                    | ({"kind_told": 1.0} if told else {}),
                )
                yield candidate
                whose = phrase.head or (len(phrase.words) > 1 and phrase.start not in hidden)
                if (
                    phrase.named
                    and whose
                    and not phrase.back
                    and not is_plain(phrase.words)
                    and _OF_THEIRS.search(sentence.text[: phrase.start])
                ):
                    home = candidate
        past += [town for _, _, town in said_towns]


def _is_told(name: str, phrase: Phrase) -> bool:
    """True for a name without a kind to which the words around gave one: `Hollis's, the shoe repair`."""
    own = " ".join(phrase.words)
    return not phrase.head and name.startswith(f"{own} ") and is_head(name.split()[-1].lower())


# --- names -----


def _short_names(towns: Collection[str]) -> set[str]:
    """First words of towns that stand for them: `Netherby` of `Netherby Sound`."""
    firsts = [town.split()[0] for town in towns if " " in town]
    return {each for each in firsts if firsts.count(each) == 1 and not is_common(each)}


def _towns_said(sentence: Sentence, towns: Collection[str]) -> Iterator[tuple[int, int, str]]:
    """Where a sentence names which town."""
    if not towns:
        return
    any_of = "|".join(re.escape(town) for town in sorted(towns, key=len, reverse=True))
    for match in re.finditer(
        rf"\b(?:{any_of})\b", sentence.text, re.IGNORECASE if sentence.restored else re.NOFLAG
    ):
        town = next(each for each in towns if each.lower() == match[0].lower())
        yield match.start(), match.end(), town


_OF_THEIRS = re.compile(
    r"\b(?:from|runs?|running|owns?|manages?|heads|directs|director of|head of|manager of|owner of|with|at|of|inside|outside|in)(?: the| our)? \Z",
    re.IGNORECASE,
)
"""Before the place of somebody who is introduced: `Ruth Amory, who runs the Lowgate Diner`."""
_AT_THE_STATION = re.compile(
    r",? (?:right |just |down )?(?:at|of|here at) (?:(?:this|our|your)(?: own| here)?|the) (?:television |tv |t v )?(?:station|studios?|channel)\b",
    re.IGNORECASE,
)
_ON_SCREEN = re.compile(r" of (?:your|the|our) (?:screen|page|picture|set|television|tv|website)\b")
_NAMES_ALONE = word_set("y vfw ymca ywca legion")
"""Kinds that are one house's name."""
_BAR_OF = re.compile(
    r"\b(?:box office|bar|counter|lobby|doors?|window|porch|basement|steps|doorway|kitchen|foyer|entry|entrance|till|register|desk|(?:front|back|side|folks|people|crew|guys|girls|staff) (?:of|at)) (?:of |at |in )?the \Z"
)
_HAS_FOR_YOU = re.compile(
    r"(?: (?:on|in) [A-Z][^,.;]{2,25})?,? (?:(?:also|too|still|,) ){0,2}(?:(?:will|would|'d|'ll|can) (?:\w+ )?(?:take|have|hold|be (?:glad|happy)|keep|collect|accept|lend)|(?:has|have|is|takes?|keeps?) (?:got )?(?:an?|one|them|those|yours|it|taking|collecting|holding|in on it))\b"
)


def _is_house(phrase: Phrase, sentence: Sentence) -> bool:
    """`The Periwinkle would be glad of them`, `the box office of the Bijou`: one word with a capital that takes things in or has rooms."""
    return (
        len(phrase.words) == 1
        and not phrase.head
        and phrase.the
        and not sentence.restored
        and phrase.words[0][:1].isupper()
        and (
            _HAS_FOR_YOU.match(sentence.text[phrase.end :]) is not None
            or _BAR_OF.search(sentence.text[: phrase.start]) is not None
        )
    )


_OWNS = re.compile(r" (?:window|counter|desk|office|door|table|box|basement|entrance|slot|side)\b")
"""Behind somebody's name, what of his is meant."""
_OUR_STATION = re.compile(
    r",? (?:right |just |down )?(?:at|of|here at) (?:this|our|your|the (?:tv|television))\b", re.IGNORECASE
)


def _is_other_station(phrase: Phrase) -> bool:
    """`Fire Station Two`, `the bus station`: what else `the station` may be."""
    return phrase.head in ("station", "firehouse", "depot") and len(phrase.words) > 1


_TO_US = re.compile(
    r"\b(?P<lead>to|at|with|by|see|find|on|in|into|past|outside) (?P<us>us|me|(?:our|my)(?: own| front)? (?:place|shop|store|office|door|porch|barn|counter|desk|window|building|clinic|kitchen|church))\b(?! (?:know|a|an|the|your|about|that|your|how|what|if|some)\b)"
    r"|(?P<here>\b(?:right |over |down |in )?here)\b(?!['’]s| (?:is|are|in|at|on|with|comes|we|for|to)\b)"
)
"""Where only whose place it is is said."""


_SAID_TO = re.compile(
    r"\b(?:said|says?|saying|talk\w*|speak\w*|spoke|spoken|listen\w*|explain\w*|matter\w*|happen\w*|mean\w*|look\w*|seem\w*|occur\w*|belong\w*|wrote|written|promis\w*|s[aiu]ng|singing|whisper\w*|next|close|kind|good|nice|news|new|dear|important|thanks|agree\w*|disagree\w*|stay\w*|live[sd]?|sat|sit|work\w*|bear|come along|along) \Z"
)
"""Where somebody is only spoken to, or stays: `she said to me`."""


def _whose(text: str, home: Candidate | None, known: Sequence[Phrase]) -> Iterator[Phrase]:
    """`Bring it to us`, `my office`, `right here`: the place of whoever was introduced."""
    if home is None:
        return
    for match in _TO_US.finditer(text):
        start, end = match.span("us" if match["us"] else "here")
        if (
            match["us"]
            and match["lead"] in ("to", "with", "by")
            and _SAID_TO.search(text[: match.start()].lower())
        ):
            continue
        if any(each.start < end and start < each.end and each.ours for each in known):
            continue
        lead = match["lead"] or "at"
        yield Phrase(
            start, end, home.phrase.words, home.phrase.head, lead if lead in LEADS else "", True, True, ours=True, back=True
        )  # fmt: skip


_WORD = re.compile(r"[a-z]+")


def _kinds_said(text: str) -> Sequence[tuple[int, str]]:
    """Kinds of places a sentence speaks of, by those who work there or in the plural, and where: `librarians`."""
    return [(match.start(), STAFF[match[0]]) for match in _WORD.finditer(text.lower()) if match[0] in STAFF]


def _by_town(
    text: str,
    here: Sequence[Phrase],
    before: Sequence[Sequence[Phrase]],
    said: Sequence[tuple[int, int, str]],
    shared: SharedPlaces,
    spoken: Sequence[Sequence[tuple[int, str]]],
) -> Iterator[Phrase]:
    """Places of which only the town is said, where one of their kind was named: `the Quillow library sends them over, Heronsgate's does too`."""
    for start, end, town in said:
        if any(each.start < end and start < each.end for each in here if each.head):
            continue
        if any(each.town == town and each.end <= start < each.end + 16 for each in here):
            continue  # `The library up in Quillow` has its town.
        if text[end:].lower().startswith(" county") or _NAMED_AFTER_TOWN.match(text[end:].lower()):
            continue
        if _IN_TOWN_THERE_IS.search(text[:start].lower()) and any(
            each.head
            and each.start > end
            and not each.named
            and re.fullmatch(
                r",(?: (?:it is|that is|there is|try|at|go to))* the ", text[end : each.start].lower()
            )
            for each in here
        ):
            continue  # `If you're over in Lowgate, the vet`
        if _IN_TOWN_THERE_IS.search(text[:start].lower()) and any(
            each.named and each.head and not each.town and text[end : each.start] == ", " for each in here
        ):
            continue  # `If you're over in Lowgate, Fire Station Two has a barrel`
        if _IN_TOWN_THERE_IS.search(text[:start].lower()) and _IT_IS.match(text[end:]):
            continue  # `And in Lowgate it's Marsh Hardware`
        if re.search(
            r"(?:\A|[.:;,] )[A-Z][\w’'-]+ [A-Z][\w’'-]+, (?:of |from )?\Z", text[:start]
        ) and re.match(r"[.,?!]|\Z", text[end:]):
            continue  # `Dot Marlow, Bankfoot.`
        if _CLOSE_TO.search(text[:start].lower()):
            continue
        if re.search(r"\b(?:from|between) \Z", text[:start]) and re.match(r" (?:to|and) ", text[end:]):
            continue
        kinds = [
            each
            for each in here
            if each.head and re.fullmatch(r",? (?:and|or) (?:at |to )?(?:the )?", text[end : each.start])
        ]  # `At Millrace or at the Quillow Library`
        kinds += [each for each in reversed(here) if each.head and each.start < start]
        kinds += [each for earlier in reversed(before[-8:]) for each in reversed(earlier) if each.head]
        heads = [each.head for each in kinds]
        heads += [head for at, head in spoken[-1] if at < start]
        heads += [head for earlier in reversed(spoken[:-1]) for _, head in reversed(earlier)]
        for head in dict.fromkeys(heads):
            place = shared.find(head, town)
            if place is not None:
                lead = text[:start].lower().removesuffix("the ").split()[-1:]
                behind = text[end:]
                if behind.startswith((" one", "'s", "’s")):
                    end += 4 if behind.startswith(" one") else 2
                yield Phrase(
                    start, end, tuple(place.name.split()), head, "".join(set(lead) & LEADS), True, True, by_town=True,
                )  # fmt: skip
                break


_NAMED_AFTER_TOWN = re.compile(
    r" (?:road|street|highway|turnpike|pike|lane|line|ferry|bridge|bus|train|railcar|boat|river|creek|lake|pond|bay|hills?|woods|side|way|area|people|folks?|residents|families|kids|children|boys?|girls?|men|women|man|woman|ladies|lady|fellow|crowd|crew|team|band|choir|news|paper|mayor|council|police|firemen|tigers|accent)\b"
)
"""What is called after a town, and is no place of its own: `on the Lowgate road`."""


_IT_IS = re.compile(r",? (?:it's|it is|that's|that is|try|you want|go to|there's) (?:the )?[A-Z]")
_CLOSE_TO = re.compile(
    r"\b(?:(?:down|out|over|up|close|off|somewhere|farm|house|field|road|shop|place) by|near|past|outside|outside of|towards?|halfway to|this side of) \Z"
)
"""Before a town that only tells where something lies: `a farm down by Lowgate`."""
_IN_TOWN_THERE_IS = re.compile(
    r"(?:(?:\A|[,;:] |\b(?:and|or|but|so|then) )in|\b(?:if (?:you're|you are|you live|it's)(?: \w+){0,3}|clear over|way (?:out|over|up|down)) in) \Z"
)
"""Before a town of which a place is about to be named."""


def _is_other_thing(phrase: Phrase, text: str) -> bool:
    """`On the Lowgate road`, `it only gets the one station`: the words of a known place, of something else."""
    if not phrase.head and not phrase.by_town and _NAMED_AFTER_TOWN.match(text[phrase.end :].lower()):
        return len(phrase.words) == 1
    return len(phrase.words) > 1 and phrase.words[0].lower() == "one" and phrase.the


_ON_THE_AIR = re.compile(
    r"(?:\A|[.,;:] )(?:[Aa]nd |[Ss]o |[Nn]ow )?(?:[Yy]ou're|[Yy]ou are) (?:(?:back|live|now|still) )*on (?:the |The )?\Z|\b(?:listening|tuned(?: in)?|tuning in) to (?:the |The )?\Z"
)
"""Before the name of a programme."""
_OUR_DESKS = (
    ("front", "desk"),
    ("desk",),
    ("reception", "desk"),
    ("reception",),
    ("front", "counter"),
    ("information", "desk"),
)
"""Where a station takes things in, which stands in its lobby."""
_OUR_PARTS = word_set("desk lobby counter porch office door kitchen basement")


def _is_of_goods(phrase: Phrase, text: str) -> bool:
    """`They fill school bags`, `kitchen chairs`: a kind of place before what is only of such a kind."""
    return (
        not phrase.the
        and not phrase.lead
        and not phrase.ours
        and " ".join(phrase.words).islower()
        and text[phrase.start : phrase.end].islower()
        and _GOODS_BEHIND.match(text[phrase.end :]) is not None
    )


_GOODS_BEHIND = re.compile(
    r" (?!(?:is|has|takes|does|was|keeps|opens|closes|holds|gets|needs|wants|says|sells|gives|serves|runs|hosts|collects|accepts|across|downstairs|upstairs|doors|hours|always|sometimes|weekdays|[a-z]*days|mornings|afternoons|evenings|nights)\b)[a-z]{2,}s\b"
)


def once(found: Sequence[NamedPlace]) -> Iterator[NamedPlace]:
    """Each place once; a shorter name of one that is there already is the same."""
    kept: list[NamedPlace] = []
    for place in found:
        key = key_of(place.name)
        same = next(
            (other for other in kept if key == key_of(other.name) or (place.id and place.id == other.id)),
            None,
        )
        if same is None and not any(key < key_of(other.name) for other in kept):
            kept = [other for other in kept if not (key_of(other.name) < key and not other.id)]
            kept.append(place)
    yield from kept
