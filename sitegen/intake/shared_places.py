"""The station's own places, found by what is said of them: by their names, parts of them, their kind and town, or their street."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterator, Sequence
from functools import lru_cache

from sitegen.intake.noun_phrases import LEADS, NUMBER_WORDS, Phrase
from sitegen.intake.vocabulary import word_set
from sitegen.newsroom.records import Place


@lru_cache(maxsize=8192)
def _long_words(name: str) -> frozenset[str]:
    return frozenset(re.findall(r"[^\W\d_]{3,}", name.lower()))


class SharedPlaces:
    """The station's places, by what their names hold."""

    def __init__(self, places: Sequence[Place], areas: frozenset[str]) -> None:
        self.areas = areas
        self._places = [(place, key_of(place.name)) for place in places]
        self._long_words = [(place, _long_words(place.name)) for place in places]

    def of_kind(self, words: Collection[str], towns: Sequence[str]) -> Place | None:
        """The one place with these words in the town that was named last and has one, or the only one there is: `the library` of a story from Millrace."""
        wanted = key_of(" ".join(words)) - {"old", "new", "local", "public", "town"}
        if "depot" in wanted:
            wanted -= {"bus", "train", "railroad", "railway", "rail"}
        if wanted & {"elementary", "high", "middle"}:
            wanted -= {"school"}
        if not wanted:
            return None
        every = [place for place, key in self._places if wanted <= key]
        foreign = [
            place
            for place in every
            if all(word.lower() in _ALIASES for word in words) and _says(place.name, words)
        ]
        if len(foreign) == 1:
            return foreign[0]  # `The Mercado` is no market of another town.
        for town in reversed(towns):
            near = [place for place in every if place.town == town]
            if len(near) == 1:
                return near[0]
        return every[0] if len(every) == 1 and (len(wanted) > 1 or wanted & _ONE_OF_ITS_KIND) else None

    def on_street(self, words: Collection[str], street: str) -> Place | None:
        """The one place with a word of these on that street: `the library on Anchor Row`."""
        wanted = key_of(" ".join(words))
        near = [
            place for place, key in self._places if wanted & key and street.lower() in place.street.lower()
        ]
        return near[0] if len(near) == 1 else None

    def unseen_names(self, text: str, known: Sequence[Phrase], *, restored: bool) -> Iterator[Phrase]:
        """The station's places by less than their names: `Anchor and Awl` without its head, `the light at Skerry Head`; and in captions in capitals by names of common words."""
        low = text.lower()
        said = set(re.findall(r"[^\W\d_]{3,}", low))
        for place, long_words in self._long_words:
            if not said & long_words:
                continue
            words = place.name.split()
            at = (
                re.search(rf"\b{re.escape(place.name.lower())}\b", low)
                if restored and len(words) > 1
                else None
            )
            if at is None and len(words) > 2 and words[1] in ("&", "and"):
                at = re.search(
                    rf"\b{re.escape(words[0].lower())} (?:and|&) {re.escape(words[2].lower())}\b(?: {re.escape(words[-1].lower())}\b)?",
                    low,
                )
            if at is None and place.town:
                rest = [word for word in words if len(word) > 3 and word not in place.town.split()]
                if rest and len(rest) < len(words):
                    any_of = "|".join(re.escape(word.lower()) for word in rest)
                    at = re.search(
                        rf"\b(?:{any_of})(?: \w+)? (?:(?:up|out|over|down) )?(?:in|at|on) {re.escape(place.town.lower())}\b",
                        low,
                    )
            if at is None or any(
                each.start < at.end() and at.start() < each.end for each in known if each.head
            ):
                continue
            lead = low[: at.start()].removesuffix("the ").split()[-1:]
            yield Phrase(
                at.start(), at.end(), tuple(words), "", "".join(set(lead) & LEADS), True, True, place.town
            )

    def find(self, name: str, town: str) -> Place | None:
        """The one place whose name is this, or has all its words, or lacks only common ones of it."""
        wanted = key_of(name)
        if not wanted:
            return None
        exact = [place for place, key in self._places if key == wanted]
        if exact:
            return exact[0]
        if len(wanted) < 2 and not town:
            return None
        with_town = wanted | key_of(town)
        near = [
            place
            for place, key in self._places
            if (len(wanted) > 1 and (wanted <= key | key_of(place.town) or key <= with_town))
            or (
                town
                and (wanted <= key or (wanted == {"school"} and key & _SCHOOLS))
                and (place.town == town or place.town.split()[:1] == [town])
            )
        ]
        if town:
            near = [place for place in near if _may_lie_in(place, town)]
            near = [place for place in near if place.town == town] or near
        return near[0] if len(near) == 1 else (None if near else self._misheard(name, wanted))

    def _misheard(self, name: str, wanted: frozenset[str]) -> Place | None:
        """The one place whose name sounds alike: `Salt Works Museum` of `Saltern Works Museum`, `Boat House`."""
        joined = _joined(name)
        near = [place for place, key in self._places if _joined(place.name) == joined]
        if not near and len(wanted) > 2:
            near = [place for place, key in self._places if len(key) == len(wanted) and _is_slip(key, wanted)]
        if not near and len(wanted) == 2:
            near = [place for place, key in self._places if _is_short_slip(key, wanted)]
        if not near and wanted & _ALIKE.keys():
            other = frozenset(_ALIKE.get(word, word) for word in wanted)
            near = [
                place
                for place, key in self._places
                if other <= key and other & key_of(place.town.split()[0] if place.town else "")
            ]
        return near[0] if len(near) == 1 else None


def _says(name: str, words: Collection[str]) -> bool:
    return {_folded(word.lower()) for word in words} <= set(_folded(name.lower()).split())


def _joined(name: str) -> str:
    return re.sub(r"[^a-z0-9]", "", name.lower())


def _is_slip(known: frozenset[str], said: frozenset[str]) -> bool:
    """True for names that differ by the end of a single word."""
    one, other = known - said, said - known
    if len(one) != 1 or len(other) != 1:
        return False
    short, long = sorted((*one, *other), key=len)
    return len(short) > 3 and long.startswith(short)


_ALIKE = {"shop": "store", "grocery": "store", "church": "chapel"}
"""What a place is called loosely, in a town where the station knows one of the other kind."""


def _is_short_slip(known: frozenset[str], said: frozenset[str]) -> bool:
    """`Salt museum` of `Saltern Works Museum`: a kind, and the beginning of another word or a word that begins so."""
    one, other = said & known, said - known
    if len(one) != 1 or len(other) != 1 or not one & _RARE_KINDS:
        return False
    (slip,) = other
    return any(
        min(len(slip), len(word)) > 3 and (word.startswith(slip) or slip.startswith(word))
        for word in known - said
    )


_RARE_KINDS = word_set("museum theater armory chapel depot marina laundry cooperative bakery")
_SCHOOLS = word_set("elementary high middle academy")


def _may_lie_in(place: Place, town: str) -> bool:
    """False for the credit union of one town where that of another is spoken of."""
    said = key_of(town)
    return bool(said & (key_of(place.town) | key_of(place.name))) or not place.town


_ONE_OF_ITS_KIND = word_set("grange boathouse depot marina laundry armory co-op cannery lobby ferry mill")
"""Of these a region has mostly one."""
_ALIASES = {
    "clinica": "clinic",
    "biblioteca": "library",
    "escuela": "school",
    "iglesia": "church",
    "mercado": "market",
    "tienda": "store",
    "centro": "center",
    "laundromat": "laundry",
    "vet": "clinic",
    "veterinarian": "clinic",
}
"""Words for the same kind of place."""


_SAME_KINDS = {"fire": "fire station", "vet": "animal clinic", "film": "theater"}
_SAME_KIND = re.compile(
    r"\b(?:(?P<fire>fire ?(?:house|hall))|(?P<vet>animal hospital|veterinary (?:clinic|hospital))|(?P<film>movie (?:house|theater|theatre)|theatre))\b"
)


def _folded(text: str) -> str:
    return "".join(sign for sign in unicodedata.normalize("NFKD", text) if not unicodedata.combining(sign))


@lru_cache(maxsize=8192)
def key_of(name: str) -> frozenset[str]:
    folded = _folded(name.lower())
    words = re.findall(
        r"[a-z0-9]+",
        _SAME_KIND.sub(
            lambda match: _SAME_KINDS[match.lastgroup or ""], folded.replace("'s", "s").replace("’s", "s")
        ),
    )
    return frozenset(
        NUMBER_WORDS.get(word, _ALIASES.get(word, word))
        for word in words
        if word not in ("the", "of", "in", "at", "a", "and")
    )
