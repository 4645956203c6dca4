"""Towns and counties the station knows, and organizations, in what was said."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from sitegen.intake.lexicon import folded, is_common
from sitegen.intake.records import Named, Said, Sentence
from sitegen.newsroom.records import Newsroom

_ORGANIZATION = re.compile(
    r"\b(?:(?:the )?(?P<of>(?:Friends|Knights|Sons|Daughters|Sisters|Society|Order) of (?:the )?(?:[A-Z][\w'’-]+ ?)+)"
    r"|(?P<head>(?:[A-Z][\w'’&.-]+ (?:of |and |the )?)+(?:Club|Society|Association|Foundation|Fund|League|Council|Committee|Union|Guild|Legion|Auxiliary|Grange|Pantry|Food Bank|Shelter|Clinic|Library|Church|Chapel|Parish|Mission|Project|Watch|Coalition|Alliance|Ministries|Kitchen|Center|Hospital|School|Department|Co-op|Coop|Trust|Team|Crew|Choir|Band))\b)"
)  # fmt: skip


def towns_and_counties(
    sentences: Sequence[Sentence], newsroom: Newsroom
) -> tuple[tuple[Named, ...], tuple[Named, ...]]:
    """(towns, counties) of the station that a segment names, in the order they are said."""
    area = newsroom.station.area_word.lower()
    towns: dict[str, Named] = {}
    counties: dict[str, Named] = {}
    for sentence in sentences:
        said = Said(sentence.text, sentence.start)
        text = folded(sentence.text)
        for county in newsroom.station.counties:
            for town in county.towns:
                if _stands(folded(town.name), text):
                    towns.setdefault(town.name, Named(town.name, said))
            name = folded(county.name)
            is_town = any(town.name == county.name for town in county.towns)
            if f"{name} {area}".lower() in text.lower() or (not is_town and _stands(name, text, alone=True)):
                counties.setdefault(county.name, Named(county.name, said))
    return tuple(towns.values()), tuple(counties.values())


def _stands(name: str, text: str, alone: bool = False) -> bool:
    if name not in text:
        return False
    for match in re.finditer(rf"(?<![\w’'-]){re.escape(name)}(?![\w-])", text):
        after = text[match.end() :]
        if alone and re.match(r" [A-Z]", after) and not re.match(r" (?:County|Parish)", after):
            continue  # `Pellam Grange` is no county.
        if (
            " " not in name
            and is_common(name)
            and not re.search(r"\b(?:in|from|to|near|of|at|through) \Z", text[: match.start()])
        ):
            continue
        return True
    return False


def organizations(sentences: Sequence[Sentence], newsroom: Newsroom) -> tuple[Named, ...]:
    """Names that read like an organization's, and those of the station's earlier asks."""
    known = {
        ask.contact.name
        for story in newsroom.stories
        for ask in story.asks
        if ask.contact is not None and ask.contact.name
    }
    found: dict[str, Named] = {}
    for sentence in sentences:
        said = Said(sentence.text, sentence.start)
        for name in (*_by_form(sentence.text), *(each for each in known if each in sentence.text)):
            if not any(name in other for other in found):
                for shorter in [other for other in found if other in name]:
                    del found[shorter]
                found[name] = Named(name, said)
    return tuple(found.values())


def _by_form(text: str) -> Iterator[str]:
    for match in _ORGANIZATION.finditer(text):
        name = (match["of"] or match["head"]).strip()
        first = name.split()[0]
        if match.start() == 0 and is_common(first) and match["head"]:
            name = name.partition(" ")[2].removeprefix("the ")  # A sentence's first word.
        if " " in name:
            yield re.sub(r"['’]s\Z", "", name)
