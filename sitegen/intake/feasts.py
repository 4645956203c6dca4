"""Days that have names, by the year: holidays as the `holidays` library has them, by country, and others that people count by."""

from __future__ import annotations

import re
from calendar import isleap
from datetime import date, timedelta
from functools import lru_cache

_SPOKEN = {
    "mlk day": "Martin Luther King", "martin luther king jr. day": "Martin Luther King", "martin luther king junior day": "Martin Luther King", "veterans' day": "Veterans Day",
    "christmas eve": "Christmas Eve", "christmas day": "Christmas Day", "christmas": "Christmas Day", "boxing day": "Boxing Day",
    "new year's eve": "New Year's Eve", "new year's day": "New Year's Day", "new year's": "New Year's Day",
    "thanksgiving day": "Thanksgiving", "thanksgiving": "Thanksgiving", "halloween": "Halloween", "labor day": "Labor Day",
    "labour day": "Labour Day", "memorial day": "Memorial Day", "veterans day": "Veterans Day", "good friday": "Good Friday",
    "easter sunday": "Easter Sunday", "easter monday": "Easter Monday", "easter": "Easter Sunday", "mother's day": "Mother's Day",
    "father's day": "Father's Day", "valentine's day": "Valentine's Day", "valentine's": "Valentine's Day",
    "independence day": "Independence Day", "the 4th of july": "Independence Day", "july 4th": "Independence Day",
    "groundhog day": "Groundhog Day", "saint patrick's day": "Saint Patrick's Day", "saint patrick's": "Saint Patrick's Day",
    "columbus day": "Columbus Day", "juneteenth": "Juneteenth", "presidents' day": "Washington's Birthday",
    "presidents day": "Washington's Birthday", "martin luther king day": "Martin Luther King", "canada day": "Canada Day",
    "anzac day": "ANZAC Day",
}  # fmt: skip
_BY_EASTER = {
    "shrove tuesday": -47, "mardi gras": -47, "fat tuesday": -47, "pancake day": -47, "ash wednesday": -46, "palm sunday": -7, "holy week": -6, "maundy thursday": -3, "holy thursday": -3,
    "holy saturday": -1, "easter eve": -1, "ascension day": 39, "pentecost": 49, "whit sunday": 49, "whit monday": 50, "trinity sunday": 56,
}  # fmt: skip
"""Days before and after Easter Sunday (the churches' calendar)."""
_FIXED = {
    "twelfth night": (1, 5), "12th night": (1, 5), "candlemas": (2, 2), "pi day": (3, 14), "april fools' day": (4, 1), "april fool's day": (4, 1), "earth day": (4, 22),
    "may day": (5, 1), "cinco de mayo": (5, 5), "flag day": (6, 14), "midsummer": (6, 24), "michaelmas": (9, 29), "all saints' day": (11, 1), "all souls' day": (11, 2), "armistice day": (11, 11),
    "remembrance day": (11, 11), "martinmas": (11, 11), "saint nicholas' day": (12, 6), "saint nicholas day": (12, 6), "saint lucy's day": (12, 13), "kwanzaa": (12, 26), "leap day": (2, 29),
    "epiphany": (1, 6), "three kings day": (1, 6), "3 kings day": (1, 6), "three kings": (1, 6), "3 kings": (1, 6), "burns night": (1, 25), "st. david's day": (3, 1), "saint david's day": (3, 1), "saint joseph's day": (3, 19), "saint george's day": (4, 23), "d-day": (6, 6),
    "midsummer's day": (6, 24), "midsummer day": (6, 24), "bastille day": (7, 14), "constitution day": (9, 17), "all hallows' eve": (10, 31), "the day of the dead": (11, 2), "day of the dead": (11, 2), "bonfire night": (11, 5), "guy fawkes night": (11, 5), "saint andrew's day": (11, 30), "pearl harbor day": (12, 7),
    "the winter solstice": (12, 21), "winter solstice": (12, 21), "the summer solstice": (6, 21), "summer solstice": (6, 21), "the shortest day": (12, 21), "the longest day": (6, 21),
}  # fmt: skip
_BY_WEEKDAY = {
    "patriots' day": (4, 15, 0), "election day": (11, 2, 1), "indigenous peoples' day": (10, 8, 0), "grandparents' day": (9, 7, 6),
}  # fmt: skip
"""American days: the first such weekday from a day of a month on."""
_BY_MOON = {
    "passover": ("IL", "Pesach"), "purim": ("IL", "Purim"), "shavuot": ("IL", "Shavuot"), "rosh hashanah": ("IL", "Rosh Hashanah"), "yom kippur": ("IL", "Yom Kippur"), "sukkot": ("IL", "Sukkot"),
    "hanukkah": ("IL", "Hanukkah"), "lunar new year": ("SG", "Chinese New Year"), "chinese new year": ("SG", "Chinese New Year"), "diwali": ("IN", "Diwali"), "eid al-fitr": ("SG", "Eid al-Fitr"),
}  # fmt: skip
"""Feasts by the moon, by the country whose law names their days."""
FEASTS = (
    *_SPOKEN,
    *_BY_EASTER,
    *_FIXED,
    *_BY_WEEKDAY,
    *_BY_MOON,
    "black friday",
    "giving tuesday",
    "advent sunday",
    "advent",
    "small business saturday",
    "cyber monday",
    "arbor day",
    "tax day",
)
"""Every name, in small letters."""
_WITHOUT_MARKS = {name.replace("'", ""): name for name in FEASTS}
"""Captions leave apostrophes out."""
_YEARS = 9
"""In so many there is a leap day, even about a century's end."""


def feast(spoken: str, aired: date, country: str) -> date | None:
    """The next day of a name on or after the broadcast; None in a country where nobody calls a day so."""
    name = _WITHOUT_MARKS[re.sub(r"\Ast\.? ", "saint ", spoken).replace("'", "")]
    years = range(aired.year, aired.year + (_YEARS if name == "leap day" else 2))
    return next((day for year in years for day in _in_year(name, year, country) if day >= aired), None)


_AMERICAN_CLOCKS = frozenset(("US", "CA"))
_EUROPEAN_CLOCKS = frozenset(("AT", "BE", "BG", "CH", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GB", "GR", "HR", "HU", "IE", "IT", "LT", "LU", "LV", "MT", "NL", "NO", "PL", "PT", "RO", "SE", "SI", "SK"))  # fmt: skip


def clock_change(way: str, aired: date, country: str) -> date | None:
    """The Sunday on or after the broadcast on which clocks go `ahead`, `back`, or either where `way` is empty; None where the rule of the country is
    not known here (the rules of the Energy Policy Act of 2005 and of Directive 2000/84/EC; the tests hold them to the zone data)."""
    if country in _AMERICAN_CLOCKS:
        ahead, back = (3, 8), (11, 1)
    elif country in _EUROPEAN_CLOCKS:
        ahead, back = (3, 25), (10, 25)
    else:
        return None
    wanted = {"ahead": (ahead,), "back": (back,)}.get(way, (ahead, back))
    days = (_first(date(year, *each), 6) for year in (aired.year, aired.year + 1) for each in wanted)
    return min(day for day in days if day >= aired)


def _in_year(name: str, year: int, country: str) -> tuple[date, ...]:
    if name in _SPOKEN:
        return _named_days(country, year).get(_SPOKEN[name], ())
    if name in _FIXED:
        month, day = _FIXED[name]
        return () if name == "leap day" and not isleap(year) else (date(year, month, day),)
    if name in _BY_EASTER:
        fridays = _named_days(country, year).get("Good Friday", ())
        return tuple(day + timedelta(days=2 + _BY_EASTER[name]) for day in fridays)
    if name in _BY_MOON:
        return _listed(*_BY_MOON[name], year)[:1]
    if name in ("advent sunday", "advent"):
        return (_first(date(year, 11, 27), 6),)
    if country != "US":
        return ()
    if name == "arbor day":
        return (_first(date(year, 4, 24), 4),)
    if name == "tax day":
        return (_tax_day(year),)
    if name in _BY_WEEKDAY:
        month, day, weekday = _BY_WEEKDAY[name]
        return (_first(date(year, month, day), weekday),)
    thanksgivings = _named_days(country, year)["Thanksgiving"]
    return tuple(
        day
        + timedelta(
            days={"black friday": 1, "small business saturday": 2, "cyber monday": 4, "giving tuesday": 5}[
                name
            ]
        )
        for day in thanksgivings
    )


def _tax_day(year: int) -> date:
    """The fifteenth of April, or the next day that is neither of a weekend nor the capital's Emancipation Day, the sixteenth, or the weekday beside it
    on which that is kept (United States Code, title 26, sections 6072 and 7503)."""
    day, kept = date(year, 4, 15), date(year, 4, 16)
    kept += timedelta(days={5: -1, 6: 1}.get(kept.weekday(), 0))
    while day.weekday() >= 5 or day == kept:
        day += timedelta(days=1)
    return day


def _first(day: date, weekday: int) -> date:
    """The first such weekday from a day on."""
    return day + timedelta(days=(weekday - day.weekday()) % 7)


@lru_cache(maxsize=64)
def _listed(country: str, name: str, year: int) -> tuple[date, ...]:
    """The days of a name in another country."""
    import holidays

    kinds = holidays.country_holidays(country).supported_categories
    every = holidays.country_holidays(country, years=year, categories=kinds, observed=False, language="en_US")
    return tuple(sorted(day for day, names in every.items() if name in names.split("; ")))


@lru_cache(maxsize=64)
def _named_days(country: str, year: int) -> dict[str, tuple[date, ...]]:
    import holidays

    try:
        kinds = holidays.country_holidays(country).supported_categories
        listed = holidays.country_holidays(
            country,
            years=year,
            categories=kinds,
            observed=False,
            language="en_US" if country == "US" else None,
        )
    except (NotImplementedError, KeyError, ValueError):
        return {}
    found: dict[str, list[date]] = {}
    for day, names in listed.items():
        for each in names.split("; "):
            for name in set(_SPOKEN.values()):
                if each == name or each.startswith(f"{name} "):
                    found.setdefault(name, []).append(day)
    if "Christmas Day" in found:
        # Days that everybody names where Christmas is kept, holidays or not.
        found.setdefault("Christmas Eve", [date(year, 12, 24)])
        found.setdefault("New Year's Eve", [date(year, 12, 31)])
        found.setdefault("Halloween", [date(year, 10, 31)])
        found.setdefault("Valentine's Day", [date(year, 2, 14)])
    return {name: tuple(sorted(days)) for name, days in found.items()}
