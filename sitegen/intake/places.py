"""Places that viewers are sent to: which of the places that a story names, and by what name."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

from sitegen.intake.lexicon import is_common
from sitegen.intake.noun_phrases import (
    LEADS,
    NUMBER_WORDS,
    PARTS,
    STREETS,
    Phrase,
    headless,
    is_capital_name,
    is_several,
    phrases,
    with_shared_heads,
    without_contractions,
)
from sitegen.intake.records import NamedPlace, Role, Said, Sentence
from sitegen.intake.sending import lines, listed, signs, weight, wording
from sitegen.intake.vocabulary import TITLES, WEAK_PLACE_HEADS, word_set
from sitegen.newsroom.records import Newsroom, Place

_AT_NAMES = word_set("at to by with in inside outside behind")
"""Before a name that may be a place's without a head."""
_ROOMS = word_set("office kitchen room lobby desk counter basement lot porch door yard")
"""Parts that are never the place itself."""
_NO_PLACE_ENDS = word_set(
    "day eve week month season monday tuesday wednesday thursday friday saturday sunday county street road avenue race ride rides hour walk run drive sweep sale parade auction raffle contest supper dinner breakfast night morning"
)


@dataclass(frozen=True, slots=True)
class Candidate:
    """A place that a story names, and what speaks for viewers' being sent there."""

    place: NamedPlace
    sentence: int
    phrase: Phrase
    signs: dict[str, float]


def places_in(sentences: Sequence[Sentence], newsroom: Newsroom) -> tuple[NamedPlace, ...]:
    """The places of a segment that viewers are sent to, each once, in the order in which they are said."""
    found = [each for each in candidates(sentences, newsroom) if weight(each.signs) > 0]
    texts = [without_contractions(each.text) for each in sentences]
    return tuple(once([each.place for each in _without_appositions(found, texts)]))


_LIST_GOES_ON = re.compile(r"(?:,[^,.;:]{2,40})*,? (?:and|or)\b")


def _without_appositions(found: Sequence[Candidate], texts: Sequence[str]) -> Iterator[Candidate]:
    """Without what the very next words name anew: `the bank, Farmers Trust`, `Doc Reed's, the animal clinic` where the station knows the clinic."""
    for each, following in zip(found, [*found[1:], None], strict=False):
        if following is not None and following.sentence == each.sentence:
            text = texts[each.sentence]
            between = text[each.phrase.end : following.phrase.start]
            anew = (not each.phrase.named and following.phrase.named) or following.place.id != ""
            if (
                anew
                and not each.place.id
                and re.fullmatch(r",(?: that's| that is)? (?:the )?", between)
                and not _LIST_GOES_ON.match(text[following.phrase.end :])
            ):
                continue
        yield each


def candidates(sentences: Sequence[Sentence], newsroom: Newsroom) -> Iterator[Candidate]:
    """Every place that a segment names, as often as it is named."""
    towns = {town.name for county in newsroom.station.counties for town in county.towns} | {
        county.name for county in newsroom.station.counties
    }
    # The programme is on the air, not a place.
    own = {newsroom.station.programme, newsroom.station.station}
    shared = _Shared(newsroom.places, frozenset(towns | own | {each.removeprefix("The ") for each in own}))
    spoken = sentences
    sentences = [replace(each, text=without_contractions(each.text)) for each in sentences]
    found = [
        tuple(with_shared_heads(each.text, tuple(phrases(each.text, towns)), towns)) for each in sentences
    ]
    every = lines(sentences)
    for number, sentence in enumerate(sentences):
        said = " ".join(each.text for each in sentences[: number + 1])
        named = [town for town in towns if town in said]
        here = found[number]
        hidden: frozenset[int] = frozenset()
        if sentence.restored:
            here = (*here, *shared.unseen_names(sentence.text, here))
            line = every[number]
            if line.role is Role.DROP_OFF or line.viewer or line.gives or line.container:
                more = tuple(headless(sentence.text, here))
                hidden = frozenset(each.start for each in more)
                here = (*here, *more)
            here = tuple(sorted(here, key=lambda each: each.start))
        in_list = frozenset(each.start for each in listed(here, sentence.text, answers=every[number].answers))
        for at, phrase in enumerate(here):
            if sentence.text[phrase.end :].startswith(" dot "):
                continue  # `Harbor House dot example dot org` is an address.
            place = _name(
                phrase, found[: number + 1], shared, named, every[number].answers, hidden=sentence.restored
            )
            if place is not None:
                yield Candidate(
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
                        hidden=phrase.start in hidden,
                    )
                    | wording(sentences, number, phrase),
                )


# --- names -----


class _Shared:
    """The station's places, by what their names hold."""

    def __init__(self, places: Sequence[Place], areas: frozenset[str]) -> None:
        self.areas = areas
        self._places = [(place, _key(place.name)) for place in places]

    def of_kind(self, words: Collection[str], towns: Collection[str]) -> Place | None:
        """The one place with these words in the towns that were named: `the library` of a story from Millrace."""
        wanted = _key(" ".join(words)) - {"old", "new", "local", "public", "town"}
        near = [place for place, key in self._places if wanted and wanted <= key and place.town in towns]
        return near[0] if len(near) == 1 else None

    def on_street(self, words: Collection[str], street: str) -> Place | None:
        """The one place with a word of these on that street: `the library on Anchor Row`."""
        wanted = _key(" ".join(words))
        near = [
            place for place, key in self._places if wanted & key and street.lower() in place.street.lower()
        ]
        return near[0] if len(near) == 1 else None

    def unseen_names(self, text: str, known: Sequence[Phrase]) -> Iterator[Phrase]:
        """The station's places whose names are common words, which captions in capitals hide."""
        low = text.lower()
        for place, _ in self._places:
            words = place.name.split()
            at = re.search(rf"\b{re.escape(place.name.lower())}\b", low) if len(words) > 1 else None
            if at is None or any(each.start < at.end() and at.start() < each.end for each in known):
                continue
            lead = low[: at.start()].removesuffix("the ").split()[-1:]
            yield Phrase(
                at.start(), at.end(), tuple(words), "", "".join(set(lead) & LEADS), True, True, place.town
            )

    def find(self, name: str, town: str) -> Place | None:
        """The one place whose name is this, or has all its words, or lacks only common ones of it."""
        wanted = _key(name)
        if not wanted:
            return None
        exact = [place for place, key in self._places if key == wanted]
        if exact:
            return exact[0]
        if len(wanted) < 2 and not town:
            return None
        with_town = wanted | _key(town)
        near = [
            place
            for place, key in self._places
            if (len(wanted) > 1 and (wanted <= key | _key(place.town) or key <= with_town))
            or (town and wanted <= key and place.town == town)
        ]
        return near[0] if len(near) == 1 else None


def _key(name: str) -> frozenset[str]:
    folded = "".join(
        sign for sign in unicodedata.normalize("NFKD", name.lower()) if not unicodedata.combining(sign)
    )
    words = re.findall(
        r"[a-z0-9]+", folded.replace("'s", "s").replace("’s", "s").replace("fire house", "firehouse")
    )
    return frozenset(
        NUMBER_WORDS.get(word, word) for word in words if word not in ("the", "of", "in", "at", "a", "and")
    )


def _name(
    phrase: Phrase,
    before: Sequence[Sequence[Phrase]],
    shared: _Shared,
    towns: Collection[str],
    answered: bool,
    *,
    hidden: bool,
) -> NamedPlace | None:
    """A phrase as a place: the shared one, its own name, or the name an earlier phrase with its head has."""
    name = " ".join(phrase.words)
    if name in shared.areas or _is_area(name) or not (phrase.definite or phrase.named):
        return None  # `Any fire station` is none that could be listed.
    known = shared.find(name, phrase.town)
    if known is None and phrase.street:
        known = shared.find(f"{name} {phrase.street}", "") or shared.on_street(phrase.words, phrase.street)
    nothing = Said("", 0)
    if known is not None and (phrase.named or len(phrase.words) > 1 or phrase.town or phrase.street):
        # A place found by its town alone keeps the name that was said.
        own = _capitals(phrase.words) if phrase.named and not _key(name) <= _key(known.name) else known.name
        return NamedPlace(own, nothing, Role.DROP_OFF, known.id, known.town)
    if not phrase.named and is_several(phrase.words[-1]):
        return None  # `Any of the grocery stores` are none that could be listed.
    if (
        phrase.head in PARTS
        and not (phrase.named or phrase.ours or _is_authority(phrase))
        and (phrase.lead == "in" or phrase.head in _ROOMS)
    ):
        return None  # `at the school, in the front office`
    if not phrase.head:
        # A name without a head needs more than a person's name has.
        first = phrase.words[0].lower().rstrip(".")
        if (first in TITLES and first not in ("st", "saint")) or not phrase.definite:
            return None
        if phrase.words[-1].lower() in _NO_PLACE_ENDS:
            return None
        homely = shared.of_kind(phrase.words, towns) if len(phrase.words) == 1 else None
        if homely is not None:
            return NamedPlace(homely.name, nothing, Role.DROP_OFF, homely.id, homely.town)
        owned = name.endswith(("'s", "’s"))
        if len(phrase.words) == 1 and not (owned and phrase.lead in _AT_NAMES):
            return None
        if not (
            phrase.lead in _AT_NAMES
            or "'s" in name
            or "’s" in name
            or answered
            or is_common(phrase.words[-1])
        ):
            return None
        return NamedPlace(name, nothing, Role.DROP_OFF, town=phrase.town)
    if phrase.named:
        if (
            phrase.head in WEAK_PLACE_HEADS
            and not any(is_capital_name(word) for word in phrase.words[:-1])
            and not (hidden and phrase.bare)
        ):
            return None
        return NamedPlace(_capitals(phrase.words), nothing, Role.DROP_OFF, town=phrase.town)
    if not phrase.definite:
        return None
    if phrase.ours and phrase.head in PARTS:
        return NamedPlace(
            " ".join(phrase.words), nothing, Role.DROP_OFF
        )  # `Our front desk` is the station's.
    if _is_authority(phrase):
        town = f"{phrase.town} " if phrase.town else ""
        return NamedPlace(f"{town}{_capitals(phrase.words)}", nothing, Role.DROP_OFF, town=phrase.town)
    fuller = _fuller(phrase, before)
    if phrase.head in WEAK_PLACE_HEADS and phrase.head not in ("porch", "lobby", "mill"):
        # `The post` of a story that named it.
        fuller = fuller if fuller is not None and fuller.named and phrase.head not in PARTS else None
        if fuller is None:
            return None
    if fuller is not None:
        found = shared.find(" ".join(fuller.words), fuller.town)
        if found is not None:
            return NamedPlace(_capitals(fuller.words), nothing, Role.DROP_OFF, found.id, found.town)
        return NamedPlace(_capitals(fuller.words), nothing, Role.DROP_OFF, town=fuller.town)
    homely = shared.of_kind(phrase.words, towns)
    if homely is not None:
        return NamedPlace(homely.name, nothing, Role.DROP_OFF, homely.id, homely.town)
    if phrase.street and not phrase.town:
        return NamedPlace(f"{_capitals(phrase.words)} on {phrase.street}", nothing, Role.DROP_OFF)
    # `The post office in Pipers Reach` is a name by its town.
    full = f"{phrase.town} {_capitals(phrase.words)}" if phrase.town else name
    return NamedPlace(full, nothing, Role.DROP_OFF, town=phrase.town)


_WITHIN = word_set(
    "front back main side rear box ticket head home school church principal's principals pastor's boss's his her their little new old same whole whose central nearest"
)
"""What makes an office a room of the house that was named."""


def _is_authority(phrase: Phrase) -> bool:
    """`The parks office`, `the clerk's office`: an office of its own, which captions rarely write with capitals."""
    return (
        phrase.head == "office"
        and len(phrase.words) >= 2
        and not {word.lower().replace("’", "'") for word in phrase.words} & _WITHIN
    )


def _is_area(name: str) -> bool:
    return name.lower().split()[-1] in STREETS | {"county"}


def _fuller(phrase: Phrase, before: Sequence[Sequence[Phrase]]) -> Phrase | None:
    """An earlier phrase of the segment that names what `the library` is."""
    for earlier in reversed(before):
        for each in reversed(earlier):
            if (
                each is not phrase
                and len(each.words) > len(phrase.words)
                and (each.named or each.definite)
                and _ALIKE.get(each.head, each.head) == _ALIKE.get(phrase.head, phrase.head)
            ):
                return each
    return None


_ALIKE = {
    "high": "school", "elementary": "school", "academy": "school", "firehouse": "station", "chapel": "church", "parish": "church",
    "gymnasium": "gym", "fairground": "fairgrounds", "pharmacy": "drugstore", "supermarket": "store", "shop": "store",
}  # fmt: skip
"""Heads that speak of one another: `Heronsgate High` is `the school`."""


def _capitals(words: Sequence[str]) -> str:
    return " ".join(
        word if word in ("of", "the", "and", "in", "on", "by") else word[:1].upper() + word[1:]
        for word in words
    )


def once(found: Sequence[NamedPlace]) -> Iterator[NamedPlace]:
    """Each place once; a shorter name of one that is there already is the same."""
    kept: list[NamedPlace] = []
    for place in found:
        key = _key(place.name)
        same = next(
            (other for other in kept if key == _key(other.name) or (place.id and place.id == other.id)), None
        )
        if same is None and not any(key < _key(other.name) for other in kept):
            kept = [other for other in kept if not (_key(other.name) < key and not other.id)]
            kept.append(place)
    yield from kept
