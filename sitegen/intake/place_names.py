"""What a phrase of a story is called as a place: the station's own, its own name, or the one that something else in the story completes."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from sitegen.intake.lexicon import is_common, is_name
from sitegen.intake.noun_phrases import NUMBER_WORDS, PARTS, STREETS, Phrase, is_capital_name, is_several
from sitegen.intake.records import NamedPlace, Role, Said
from sitegen.intake.shared_places import SharedPlaces, key_of
from sitegen.intake.vocabulary import (
    FUNCTION_WORDS,
    GOODS,
    STRONG_PLACE_HEADS,
    TITLES,
    TRADE_HEADS,
    WEAK_PLACE_HEADS,
    word_set,
)
from sitegen.newsroom.records import Place

_AT_NAMES = word_set("at to by with in inside outside behind")
"""Before a name that may be a place's without a head."""
_ROOMS = word_set("office kitchen room lobby desk counter basement lot porch door yard")
"""Parts that are never the place itself."""
_NO_PLACE_ENDS = word_set(
    "day eve week month season monday tuesday wednesday thursday friday saturday sunday county street road avenue race ride rides hour walk run drive sweep sale parade auction raffle contest supper dinner breakfast night morning clerk marshal warden mayor captain manager librarian secretary treasurer janitor nurse window slot shelf rack floor party button tab link page form address number envelope website webpage homepage hotline newsletter app podcast channel"
)


@dataclass(frozen=True, slots=True)
class Known:
    """What a story has named when a phrase is said."""

    shared: SharedPlaces
    mentioned: Sequence[Place]
    """The station's places."""
    towns: Sequence[str]
    """The nearest one last."""
    before: Sequence[Sequence[Phrase]]
    """The phrases of each sentence so far."""
    led_by_article: bool
    """`The` stands before the phrase."""
    told: Collection[int] = ()
    """Where names begin of which the next words say that they are places."""

    def taken_up(self, words: Collection[str]) -> Place | None:
        """The place named before that these words are about: `the hall` of a story on Pellam Grange Hall."""
        wanted = key_of(" ".join(words))
        return next(
            (each for each in reversed(self.mentioned) if wanted and wanted <= key_of(each.name)), None
        )


def lies_in(place: Phrase, phrase: Phrase, text: str) -> bool:
    """True for where the place before it lies: `the Haskell store, in Coldwater Gap`."""
    between = text[place.end : phrase.start]
    return (
        between in (" in ", ", in ")
        and phrase.head not in STRONG_PLACE_HEADS | TRADE_HEADS
        and place.head not in PARTS
        and not phrase.by_town
        and not phrase.pair
    )


def is_inside(phrase: Phrase, following: Phrase, text: str) -> bool:
    """`The reading room at Millrace Library` is at the library, which the next phrase names."""
    return (
        phrase.head in PARTS - {"gym", "hall", "auditorium"}
        and not phrase.named
        and following.head != ""
        and following.named
        and text[phrase.end : following.start] == " at "
    )


def with_kind(place: NamedPlace, phrase: Phrase, following: Phrase, text: str, *, within: bool) -> NamedPlace:
    """A place with what the next words say of it: `Kolb's, the hardware store`, `the greenhouse at Orrin College`. `within`: the station knows the place behind."""
    between = text[phrase.end : following.start].lower().removesuffix("the ")
    between = re.sub(r"\A, (?:that's|that is|it's|it is) ", ", ", between)
    if place.id:
        return place
    if (
        not phrase.head
        and not (
            (len(phrase.words) > 1 or (phrase.the and following.head == "place"))
            and not phrase.words[-1].endswith(("'s", "’s"))
        )
        and between == ", "
        and following.head
        and following.head not in PARTS
        and not following.named
        and following.the
        and not _WITH_MORE.match(text[following.end :])
    ):
        kind = following.words[:-1] if following.head == "place" else following.words
        return replace(place, name=f"{place.name} {_capitals(kind)}".rstrip())
    if (
        phrase.head
        and between in (" at ", " of ")
        and not phrase.named
        and not phrase.town
        and (phrase.head not in PARTS or phrase.head == "gym")
        and (following.named or following.head)
        and not following.by_town
        and not (within and phrase.head != "gym")
    ):
        return replace(place, name=f"{_capitals(following.words)} {_capitals(phrase.words)}")
    if (
        phrase.head in _OUTBUILDINGS
        and not phrase.named
        and not phrase.town
        and phrase.the
        and following.head
        and (following.named or len(following.words) > 1)
        and not following.by_town
        and not within
        and _OUT_BACK.fullmatch(between)
    ):
        return replace(place, name=f"{_capitals(following.words)} {_capitals(phrase.words)}")
    return place


_OUTBUILDINGS = word_set(
    "greenhouse barn shed garage annex hut cabin trailer garden yard lot stable workshop kitchen hall chapel pavilion tent carport bunkhouse cottage kennel hothouse loft"
)
_OUT_BACK = re.compile(
    r" (?:(?:just|right|out|around|round) )?(?:behind|in back of|back of|in the back of|at the back of|in the rear of|alongside|beside|attached to|belonging to|next to) "
)
"""Between a small building and the house that it belongs to."""
_WITH_MORE = re.compile(r" (?:with|where|that|who|you|we)\b")


def name_of(phrase: Phrase, known: Known, *, hidden: bool) -> NamedPlace | None:
    """A phrase as a place: the shared one, its own name, or the name an earlier phrase with its head has."""
    shared, towns = known.shared, known.towns
    phrase = _house_of(phrase)
    words, town = phrase.words, phrase.town
    owner = words[0].removesuffix("'s").removesuffix("’s")
    if len(words) > 2 and words[0] in _BEFORE_NAMES and all(is_capital_name(word) for word in words[1:]):
        words = words[1:]  # `The old Bargemen's Hall`, by its name
        owner = words[0].removesuffix("'s").removesuffix("’s")
    if (
        len(words) > 1
        and owner != words[0]
        and owner.islower()
        and phrase.head in _CIVIC
        and not owner.endswith(("men", "people", "folk", "children"))
    ):
        words = (owner.title(), *words[1:])  # `The landing's town hall` of Tolland Landing
    if _NUMBER_FIRST.match(words[0].lower()) and (
        (hidden and not phrase.head and not (phrase.start in known.told and len(words) > 1))
        or "-" in words[0]
        or is_several(words[-1])
    ):
        return None  # `sixteen inches`
    if words[0].isdigit() and len(words) > 1:
        return None  # `31 Depot Avenue` is where a place is, and none.
    of_area: Sequence[str] = ()
    if len(words) > 1 and owner != words[0] and owner.title() in shared.areas:
        words, town = words[1:], town or owner.title()  # `Bellwether's village hall`
        of_area = words
    for length in (2, 3):
        area = " ".join(words[:length])
        if len(words) > length and area.endswith(("'s", "’s")) and area[:-2] in shared.areas:
            words, town = words[length:], town or area[:-2]  # `Low Candle's chapel`
            of_area = words
            name = " ".join(words)
    whose = _house_of_owner(phrase, words)
    if whose:
        # `The Mill's box office` is at the Mill.
        house = shared.find(" ".join(whose), town) or shared.of_kind(whose, towns)
        if house is not None:
            return NamedPlace(house.name, Said("", 0), Role.DROP_OFF, house.id, house.town)
    if len(words) > 1 and words[0].lower() in ("same", "other"):
        words = words[1:]
    name = " ".join(words)
    if (
        words[0].lower() in TITLES - {"st", "saint"}
        and phrase.named
        and not name.endswith(("'s", "’s"))
        and not (phrase.head in _OF_DOCTORS and any(word.endswith(("'s", "’s")) for word in words))
        and not known.led_by_article
    ):
        return None  # `Sheriff Otis Branch` is somebody.
    if len(words) > 2 and not phrase.head and words[1].lower() in TITLES and not name.endswith(("'s", "’s")):
        return None  # `Fire Chief Dot Marlow`
    if (
        hidden
        and phrase.named
        and len(words) > 2
        and words[0].lower() in _DONE
        and not is_capital_name(words[0])
    ):
        return None  # `They've put eleven hundred used tires in rows`
    if hidden and len(words) == 2 and words[1].lower() in _ENTRIES and words[0].lower() in _WAYS_IN:
        return None  # `The armory, east doors`
    if words[0].lower() == "dear" or (phrase.head == "place" and _NUMBER_FIRST.match(words[0].lower())):
        return None  # `Dear neighbors`, `all in one place`
    if (
        words[-1].lower() in ("slip", "slips")
        and len(words) > 1
        and (hidden or words[-2].islower())
        and words[-2].lower() not in _BOATS
    ):
        return None  # `The yellow slip` is of paper.
    if len(words) == 2 and (
        (
            words[1].islower()
            and (words[0].islower() or not phrase.start)
            and (phrase.named or phrase.bare)
            and words[0].lower() in _OF_ANY
        )
        or (words[0].lower() == "loading" and phrase.head in ("dock", "bay"))
        or (words[0].lower() in ("first", "second", "third", "last") and phrase.head == "shed")
    ):
        return None  # `Flat tires`, `late church`
    if words[0].lower().replace("’", "'") in _ANYBODYS:
        return None  # `Somebody's spare room`
    if len(words) > 2 and "own" in words[1:-1] and words[words.index("own") - 1].endswith(("'s", "’s")):
        words = tuple(word for word in words if word != "own")  # `The housing trust's own office`
        name = " ".join(words)
    if {"own", "else's"} & {word.lower() for word in words} or name.lower() in _DAYS_OF:
        return None  # `One's own school`, `at New Year's`
    if (
        name in shared.areas
        or (not phrase.head and owner in shared.areas and len(words) == 1)
        or name.removesuffix("'s") in shared.areas
        or _is_area(name)
        or not (phrase.definite or phrase.named)
    ):
        return None  # `Any fire station` is none that could be listed.
    if phrase.head in _OFFICIALS and len(words) < 3 and words[-1].lower().startswith(phrase.head):
        office = " ".join(
            (
                *((town,) if town else ()),
                *(word.title() for word in words[:-1]),
                f"{phrase.head.title()}'s Office",
            )
        )
        return NamedPlace(office, Said("", 0), Role.DROP_OFF, town=town)  # `The harbormaster's in Lowgate`
    fuller: Phrase | None = None
    if not phrase.named and not town and not phrase.street and phrase.head:
        fuller = _fuller(phrase, known.before)
    found = shared.find(name, town) if fuller is None else shared.find(" ".join(fuller.words), fuller.town)
    if found is None and phrase.street:
        found = shared.find(f"{name} {phrase.street}", "") or shared.on_street(words, phrase.street)
    nothing = Said("", 0)
    if found is not None and (phrase.named or len(words) > 1 or town or phrase.street or fuller):
        # A place found by its town alone keeps the name that was said.
        said, whole = key_of(name), key_of(found.name)
        misheard = len(said) <= len(whole) and len((said & whole) - key_of(found.town)) > 1
        of_town = key_of(found.town)
        # `Sandy End Station` is no other than the `Sandy Fire Station 9` of Sandy End.
        begins = found.town != "" and found.name.split()[0] == found.town.split()[0]
        same = phrase.head in _CIVIC and begins and said - of_town <= whole
        strange = not (said <= whole or same)
        own = _capitals(words) if phrase.named and strange and not misheard else found.name
        return NamedPlace(own, nothing, Role.DROP_OFF, found.id, found.town)
    if not phrase.named and is_several(words[-1]):
        return None  # `Any of the grocery stores` are none that could be listed.
    if (
        phrase.head in PARTS
        and not (phrase.named or phrase.ours or _is_authority(phrase))
        and (phrase.lead == "in" or phrase.head in _ROOMS or words[0].lower() in _WITHIN)
        and not (phrase.head == "hall" and len(words) > 1 and words[0].lower() not in _WITHIN)
        and not (phrase.head == "kitchen" and len(words) > 1 and words[-2].lower() in _HALLS)
        and not (len(words) > 1 and (town or phrase.street) and words[0].lower() not in _WITHIN)
        and not (phrase.head == "hall" and len(words) > 1 and words[-2].lower() in _HALLS and town)
        and not _is_yard(phrase)
        and not (town and words[0].lower() == "ticket")
        and (phrase.head != "room" or len(words) < 2 or words[0].lower() in _WITHIN)
    ):
        return None  # `at the school, in the front office`
    if not phrase.head:
        # A name without a head needs more than a person's name has.
        first = words[0].lower().rstrip(".")
        if (
            first in TITLES
            and first not in ("st", "saint")
            and not (name.endswith(("'s", "’s")) and phrase.lead in ("at", "to", "by", "behind", "outside"))
        ) or not phrase.definite:
            return None
        if words[-1].lower() in _NO_PLACE_ENDS or len(name) < 2:
            return None
        homely = shared.of_kind(words, towns) if len(words) == 1 else None
        if homely is None and name.endswith(("'s", "’s")):
            # `The Bellwether vet's`
            homely = shared.find(name[:-2], town) if len(words) > 1 else None
        if homely is not None:
            return NamedPlace(homely.name, nothing, Role.DROP_OFF, homely.id, homely.town)
        if len(words) == 1 and not (
            phrase.lead in _AT_NAMES or name.endswith(("'s", "’s")) or phrase.start in known.told
        ):
            return None
        return NamedPlace(name, nothing, Role.DROP_OFF, town=town)
    if phrase.named:
        if words[-1].lower() in _ON_SCREENS:
            return None  # `The Big Green Button`
        if (
            phrase.head in WEAK_PLACE_HEADS | TRADE_HEADS
            and not any(is_capital_name(word) for word in words[:-1])
            and not (
                hidden
                and (
                    phrase.bare
                    or len(words) > 2
                    or words[-1].lower() in NUMBER_WORDS
                    or ((town or phrase.street) and not phrase.the)
                )
            )
        ):
            return None
        if of_area and all(hidden or word.islower() for word in of_area):
            # `Sandy End's bakery`
            return NamedPlace(f"{town} {_capitals(words)}", nothing, Role.DROP_OFF, town=town)
        return NamedPlace(_capitals(words), nothing, Role.DROP_OFF, town=town)
    if not phrase.definite or name.lower() == "home":
        return None
    if phrase.head == "place" and not (len(words) > 1 and (town or phrase.street)):
        return None
    if phrase.ours and phrase.head in PARTS:
        # `Our front desk` is the station's.
        ours = shared.of_kind(words, ()) or shared.of_kind(
            [word for word in words if word.lower() not in _WITHIN], ()
        )
        if ours is None and phrase.head == "office":
            return None  # A guest's front office
        if ours is None:
            return NamedPlace(name, nothing, Role.DROP_OFF)
        return NamedPlace(ours.name, nothing, Role.DROP_OFF, ours.id, ours.town)
    if _is_authority(phrase):
        full = f"{town} " if town else ""
        return NamedPlace(f"{full}{_capitals(words)}", nothing, Role.DROP_OFF, town=town)
    if fuller is not None:
        return NamedPlace(_capitals(fuller.words), nothing, Role.DROP_OFF, town=fuller.town)
    weak = phrase.head in WEAK_PLACE_HEADS | TRADE_HEADS and phrase.head not in ("porch", "lobby", "mill")
    if not town and not phrase.street and phrase.head not in PARTS:
        taken_up = known.taken_up(words)
        if taken_up is not None:
            return NamedPlace(taken_up.name, nothing, Role.DROP_OFF, taken_up.id, taken_up.town)
        homely = shared.of_kind(words, towns) if not weak or len(words) > 1 else None
        if homely is not None and name.lower() == "mill" and not phrase.the:
            homely = None  # `On Mill Road`
        if homely is not None and homely.town not in towns and _town_of_story(phrase, known):
            homely = None  # The story is of somewhere else.
        if homely is not None:
            return NamedPlace(homely.name, nothing, Role.DROP_OFF, homely.id, homely.town)
    if (
        len(words) == 1
        and phrase.head in _BUSINESSES
        and (phrase.head != "bar" or phrase.lead in _AT_NAMES)
        and not town
        and not phrase.street
    ):
        named_before = _named_before(phrase, known)
        if named_before is not None:
            return NamedPlace(named_before, nothing, Role.DROP_OFF)
    if len(words) == 1 and phrase.head in _OF_SAINTS and not town and not phrase.street:
        saint = _saint_before(phrase, known)
        if saint:
            return NamedPlace(f"{saint} {_capitals(words)}", nothing, Role.DROP_OFF)
    if phrase.street and not town:
        return NamedPlace(f"{_capitals(words)} on {phrase.street}", nothing, Role.DROP_OFF)
    if (
        weak
        and not town
        and (
            len(words) < 2
            or words[0].lower() in ("same", "other", "own")
            or (phrase.head in PARTS and phrase.head != "room" and not _is_yard(phrase))
            or phrase.head in TRADE_HEADS - {"company"}
        )
    ):
        return None
    if len(words) == 1 and not town:
        town = _town_of_story(phrase, known)
    # `The post office in Pipers Reach` is a name by its town.
    full = f"{town} {_capitals(words)}" if town else name
    return NamedPlace(full, nothing, Role.DROP_OFF, town=town)


_ANYBODYS = word_set(
    "somebody's someone's anybody's anyone's everybody's everyone's nobody's whoever's people's another's one's"
)
_DAYS_OF = frozenset(
    (
        "new year's",
        "valentine's",
        "mother's",
        "father's",
        "presidents'",
        "saint patrick's",
        "veterans'",
        "all saints'",
    )
)
"""Days that are called by whose they are."""
_HALLS = word_set(
    "town village city parish church union grange legion veterans veterans' community fire soup"
)
"""What makes a hall a house of its own."""
_INSIDE = word_set("door doors basement lobby kitchen counter desk porch office lot gym")


def _house_of(phrase: Phrase) -> Phrase:
    """`The church basement` is at the church: the house that a part of it is said of."""
    words = phrase.words
    if (
        len(words) < 2
        or phrase.named
        or words[-1].lower() not in _INSIDE
        or words[-2].lower() not in STRONG_PLACE_HEADS - {"office"}
    ):
        return phrase
    return replace(phrase, words=words[:-1], head=words[-2].lower())


def in_town_before(
    phrase: Phrase,
    before: Sequence[Phrase],
    text: str,
    said: Sequence[tuple[int, int, str]],
    areas: frozenset[str],
    *,
    restored: bool,
) -> Phrase:
    """With the town that stands before it, unless a place before lies there: `over in Quillow, the vet`; or with one behind it that captions in
    capitals hide."""
    if not phrase.head or phrase.named or phrase.town:
        return phrase
    taken = {each.town for each in before}
    for start, end, town in said:
        if (
            town not in taken
            and (
                re.search(r"\b(?:[Ii]n|[Aa]t|[Ff]or) \Z", text[:start])
                or (_OF_TOWN.search(text[:start]) and text[end : end + 2] in (", ", ": "))
            )
            and _IN_TOWN_IT_IS.fullmatch(text[end : phrase.start])
        ):
            return replace(phrase, town=town)
        if (
            start < phrase.start
            and phrase.head in _CIVIC
            and not phrase.the
            and text[: phrase.start].endswith((" their ", " its "))
        ):
            phrase = replace(
                phrase, town=town, definite=True
            )  # `The Lowgate people like it, so their library as well`
        if town not in taken and _PEOPLE_OF_TOWN.fullmatch(text[end : phrase.start]):
            return replace(phrase, town=town, definite=True)
    unlisted = _IN_ANY_TOWN.search(text[: phrase.start])
    if (
        unlisted
        and all(is_capital_name(word) for word in unlisted["town"].split())
        and not _is_area(unlisted["town"])
        and unlisted["town"] not in areas | _TONGUES | taken
    ):
        return replace(phrase, town=unlisted["town"])
    behind = _IN_HIDDEN_TOWN.match(text[phrase.end :]) if restored else None
    if behind and not any(
        word in FUNCTION_WORDS | _NO_TOWNS
        or _is_area(word)
        or (word.endswith("ing") and word not in ("landing", "crossing"))
        for word in behind["town"].split()
    ):
        return replace(phrase, town=_capitals(behind["town"].split()))
    return phrase


_PEOPLE_OF_TOWN = re.compile(
    r" (?:people|folks|residents|viewers|families),? (?:(?:it is|that is|you have|you have got|there is|try|go to|you want|use|yours is|can use|can go to|should go to|can take (?:them|it|yours) to|can bring (?:them|it|yours) to) )?(?:the |your )?"
)
"""`Lowgate people, your fire hall`."""
_IN_TOWN_IT_IS = re.compile(
    r",(?: it's| that's| it is| there's| try)?(?: at)?(?: the)? "
    r"|,? (?:there's|there is|they've got|they have|you'll find|you'd find|look for) (?:an?|one|the|another)(?: [\w-]+){0,2} (?:at|in|inside|outside|behind|by|on)(?: the)? "
    r"|,? (?:is|are|goes|go) (?:over |up |down |out )?(?:at|in|behind|outside|to)(?: the)? "
    r"|:(?: it's| that's)?(?: at)?(?: the)? "
)
_OF_TOWN = re.compile(r"(?:\A|[.;:,] )(?:(?:[Aa]nd|[Oo]r|[Tt]hen|[Ss]o|[Ff]or|[Nn]ow),? )*\Z")

_IN_HIDDEN_TOWN = re.compile(
    r",?(?: up| over| out| down)? in (?P<town>[a-z][a-z']{2,}(?: [a-z]{3,})?)(?=[,.;?!]| (?:has|have|had|is|are|was|were|will|would|can|could|does|did|takes?|took|got|gets|goes|went|said|says|you|who|where|that|for|with|on|at|by|until|from|and|or|instead|too)\b)"
)
"""Captions in capitals hide it."""
_NO_TOWNS = word_set(
    "town back front case person spring summer fall winter time mind question plain school church january february march april may june july august september october november december morning evening afternoon half advance need use two three four five place action business trouble line"
)
_IN_ANY_TOWN = re.compile(
    r"\b[Ii]n (?P<town>[A-Z][\w’'-]+(?: [A-Z][\w’'-]+)?)(?:,| there's| it's)(?: it's| that's| it is| there's)?(?: at)? the \Z"
)
_ON_SCREENS = word_set("button tab link page form")
_BEFORE_NAMES = word_set("old new big little great former whole good dear local nearby")
"""What a speaker says before a name, and is none of it."""
_CIVIC = word_set("hall library school station firehouse church")
_NUMBER_FIRST = re.compile(
    r"(?:one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\w{2,5}teen|(?:twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety)(?:-\w+)?|hundred|thousand)\Z"
)


_WITHIN = word_set(
    "front back main side rear waiting living dining meeting story boiler locker supply storage break control green box ticket head home school church principal's principals pastor's boss's his her their little new old same whole whose central nearest"
)
"""What makes an office a room of the house that was named."""


def _house_of_owner(phrase: Phrase, words: Sequence[str]) -> tuple[str, ...]:
    """The house whose room is spoken of, by what is said before `'s`."""
    if phrase.head not in PARTS | {"dock", "bay", "stand"}:
        return ()
    at = next((at for at, word in enumerate(words[:-1]) if word.endswith(("'s", "’s"))), -1)
    if at < 0 or len(words) - at > 4 or any(word[:1].isupper() for word in words[at + 1 : -1]):
        return ()
    return (*words[:at], words[at][:-2])


def _is_yard(phrase: Phrase) -> bool:
    """`The lumber yard`, `the bus garage`, `the toll booth`: parts of places that are places with a word before them."""
    words = [word.lower() for word in phrase.words]
    return (
        phrase.head in ("yard", "garage", "booth")
        and len(words) > 1
        and words[-2] not in _WITHIN | _PLAIN_YARDS
        and not words[-2].endswith(("'s", "’s"))
    )


_PLAIN_YARDS = word_set("big side small fenced phone photo information recording voting")


def _is_authority(phrase: Phrase) -> bool:
    """`The parks office`, `the clerk's office`: an office of its own, which captions rarely write with capitals."""
    words = [word.lower().replace("’", "'") for word in phrase.words]
    return phrase.head == "office" and len(words) >= 2 and (words[-2] == "post" or not set(words) & _WITHIN)


def _is_area(name: str) -> bool:
    return name.lower().split()[-1] in STREETS | {"county"}


def _fuller(phrase: Phrase, before: Sequence[Sequence[Phrase]]) -> Phrase | None:
    """An earlier phrase of the segment that names what `the library` is."""
    rest = {word.lower() for word in phrase.words} - {phrase.head, "old", "new", "local", "fire"}
    for earlier in reversed(before):
        for each in reversed(earlier):
            if (
                each is not phrase
                and len(each.words) > len(phrase.words)
                and (each.named or each.definite)
                and _kind(each) == _kind(phrase)
                and rest <= {word.lower() for word in each.words}
            ):
                return each
    return None


_OF_TOWNS = word_set(
    "general store town village city hall public free community center senior fire station department firehouse post office high elementary middle school library police grange hardware diner"
)
"""What is called by its town: `Squannet General Store`."""


def _town_of_story(phrase: Phrase, known: Known) -> str:
    """The town the story is in, where the station does not list it: `the library` of a story that named the Squannet General Store, or somebody in Squannet."""
    for earlier in reversed(known.before):
        for each in reversed(earlier):
            if each is phrase:
                continue
            if (
                each.town
                and each.town[:1].isupper()
                and each.town not in known.shared.areas
                and each.town not in _TONGUES
            ):
                return each.town
            if not each.head and each.lead == "in" and not each.the and is_capital_name(each.words[0]):
                name = " ".join(each.words)
                if (
                    name not in known.shared.areas
                    and not any(word.lower() in STREETS | GOODS for word in each.words)
                    and name not in _TONGUES
                    and not _is_area(name)
                ):
                    return name
            if (
                len(each.words) > 1
                and each.words[0][:1].isupper()
                and not is_common(each.words[0])
                and not is_name(each.words[0])
                and each.words[0] not in known.shared.areas
                and {word.lower() for word in each.words[1:]} <= _OF_TOWNS
            ):
                return each.words[0]
            if (
                phrase.head in ("fairgrounds", "courthouse", "jail")
                and each.words[-1].lower() == "county"
                and len(each.words) > 1
            ):
                return _capitals(each.words)
    return ""


_TONGUES = word_set(
    "English Spanish Portuguese French German Polish Italian Russian Arabic Chinese Somali Vietnamese Latin"
)
"""What is spoken, not lived in."""
_BUSINESSES = word_set(
    "shop store restaurant diner café cafe bakery barbershop laundromat bar cinema bookstore tavern pub deli salon garage farm"
)
"""Heads that speak of a name without a head: `the Blue Carp` is `the restaurant`."""


def _named_before(phrase: Phrase, known: Known) -> str | None:
    """The last name without a head that may be a business's."""
    for earlier in reversed(known.before):
        for each in reversed(earlier):
            name = " ".join(each.words)
            if (
                each is not phrase
                and not each.head
                and name not in known.shared.areas
                and not _is_area(name)
                and (name.endswith(("'s", "’s")) or (len(each.words) > 1 and (each.the or each.pair)))
                and each.words[0].lower().rstrip(".") not in TITLES
            ):
                return name
    return None


_OF_DOCTORS = word_set(
    "office clinic surgery practice house farm barn studio school kitchen porch yard garage store shop"
)
"""What somebody with a title has."""
_OFFICIALS = word_set("harbormaster assessor sheriff registrar")
"""At whose office one is, by what they are."""
_ENTRIES = word_set("door doors entrance gate gates steps stairs window windows side end lot")
_WAYS_IN = word_set(
    "east west north south front back side rear main stage loading bay kitchen red blue green white first second third upper lower"
)
_DONE = word_set(
    "put used sold bought made gave left took kept cut set hung lost found built brought given sewing selling making buying wearing owns own run ran held hold getting given filled stacked packed"
)
_BOATS = word_set("boat ferry shrimp lobster clam dock marina launch fish oil coal")
_OF_ANY = word_set(
    "flat wet dry rough high low late early big small little single double clean fresh hot cold good bad extra used broken full empty grade middle elementary"
)
"""Before a head without an article they make no name."""
_OF_SAINTS = word_set("rectory church chapel parish convent")


def _saint_before(phrase: Phrase, known: Known) -> str:
    """`Saint Brannoc's`, of which `the rectory` is."""
    for earlier in reversed(known.before):
        for each in reversed(earlier):
            if (
                each is not phrase
                and not each.head
                and len(each.words) > 1
                and each.words[0].lower().rstrip(".") in ("saint", "st", "holy")
            ):
                return " ".join(each.words)
    return ""


def _kind(phrase: Phrase) -> str:
    if phrase.head == "company":
        return "station" if "fire" in (word.lower() for word in phrase.words) else "company"
    return _ALIKE.get(phrase.head, phrase.head)


_ALIKE = {
    "high": "school", "elementary": "school", "academy": "school", "firehouse": "station", "chapel": "church", "parish": "church",
    "gymnasium": "gym", "fairground": "fairgrounds", "pharmacy": "drugstore", "supermarket": "store", "shop": "store", "laundromat": "laundry",
}  # fmt: skip
"""Heads that speak of one another: `Heronsgate High` is `the school`."""


def _capitals(words: Sequence[str]) -> str:
    return " ".join(
        word if word in ("of", "the", "and", "in", "on", "by") else word[:1].upper() + word[1:]
        for word in words
    )
