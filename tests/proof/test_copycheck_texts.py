"""What texts say: an ask's details, words true on one day only, weekdays of dates; found where they stand."""

from __future__ import annotations

from calendar import day_name, month_abbr, month_name
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from sitegen.newsroom.records import (
    Ask,
    Contact,
    County,
    Finding,
    Kind,
    Newsroom,
    Origin,
    Spot,
    Station,
    StationContact,
    Story,
    Weight,
    When,
)
from sitegen.proof.copycheck import check_copy
from sitegen.proof.copychecks.dates import find_dates
from sitegen.proof.copychecks.outliving import street_in
from sitegen.proof.copychecks.texts import Text
from tests.samples.checked_copy import PLACE, ask, check, checks, moment, story

STORY = "stories/2026/coats.md"
STATION = Station(
    "Heron Flats Television",
    "Bright Side",
    "https://www.example.com/bright/",
    "America/New_York",
    "en-US",
    StationContact("desk@example.com", "237-555-0100"),
    (County("Heron Flats", "heron-flats"),),
)
AIRED = date(2026, 11, 21)
SATURDAY = "Saturday, November 28, 2026"


def said(
    body: str,
    *,
    aired: date = AIRED,
    language: str = "",
    deadline: date = date(2026, 12, 15),
    headline: str = "Coats for all",
    phone: str = "237-555-0142",
    as_of: str = "2026-11-23",
) -> list[Finding]:
    """What the checks say of a text beside an ask that nothing else is to be said against."""
    contact = Contact("Friends", phone, "coats@example.org", "https://www.friends.example.org/coats/")
    entry = Ask(
        "Bring a coat", Kind.VOLUNTEER, "coat", When(date(2027, 1, 1)), When(deadline), contact=contact
    )
    record = Story(
        "2026/coats", headline, When(aired), ("heron-flats",), language=language, asks=(entry,), body=body,
        body_line=10, origin=Origin(Spot("content/stories/2026/coats.md")),
    )  # fmt: skip
    # The ask begins after its deadline, so that nothing of it but its text counts as open.
    found = check_copy(Newsroom(STATION, stories=(record,)), moment(as_of))
    others = ("starts-after-deadline", "deadline-before-air", "story-folder-year")
    return [each for each in found if each.check not in others]


# --- text that outlives its ask --------------------------------------------------------------


@pytest.mark.parametrize(
    "body",
    [
        "Call 237-555-0142.",
        "Call (237) 555-0142, or come.",
        "Call 237.555.0142",
        "Call +1 237 555 0142 first.",
        "Call 555-0142.",
        "[Call](tel:237-555-0142) the Friends.",
        "Write to Coats@Example.org.",
        "See friends.example.org/coats for more.",
        "See [the list](https://www.friends.example.org/coats/).",
        "They take coats until Dec. 15.",
        "They take coats until December 15, 2026.",
        "They take coats until Tuesday, Dec. 15th.",
        "They take coats until 15 December.",
        "They take coats until the 15th of December.",
        "They take coats until 12/15.",
        "They take coats until 12/15/26.",
        "They take coats until 2026-12-15.",
        "Reciben abrigos hasta el 15 de diciembre.",
        "Reciben abrigos hasta el martes 15 de diciembre de 2026.",
        "They take coats Dec. 12-15.",
    ],
)
def test_a_text_that_repeats_what_an_ask_hides(body: str) -> None:
    found = said(body)
    assert checks(found) == ["text-outlives-ask"], found
    assert "'Bring a coat'" in found[0].message


@pytest.mark.parametrize(
    "body",
    [
        "Call 237-555-0143.",
        "Call 800-555-0142.",
        "Write to morecoats@example.org.",
        "Write to coats@example.org.uk.",
        "See friends.example.org, or friends.example.org/hats.",
        "See friends.example.org/coats/1998 for the first.",
        "On Nov. 15 they met.",
        "They met on Dec. 15, 2025.",
        "In May 15,000 people came, and 12/15ths of them sang.",
        "It took 12.15 hours and $12/15.",
        "The 15 in December were cold.",
        "They counted 2026-12-150.",
        "Questions about the program? Call 237-555-0100 or write to desk@example.com.",
    ],
)
def test_a_text_that_says_something_else(body: str) -> None:
    assert said(body) == []


def test_what_the_station_says_on_every_page_may_stand_in_a_text(tmp_path: Path) -> None:
    contact = "{name: The desk, phone: 237-555-0100, email: desk@example.com}"
    body = "Call 237-555-0100 or write to desk@example.com."
    assert check(tmp_path, {STORY: story(body=body, asks=ask(contact=contact))}) == []


def test_a_number_without_signs_is_still_the_number() -> None:
    assert checks(said("Text 2375550142.")) == ["text-outlives-ask"]


def test_a_date_before_the_story_aired_is_history() -> None:
    assert said("On Nov. 20 they met.", deadline=date(2026, 11, 20), as_of="2026-11-20 12:00") == []
    assert checks(said("Come by Nov. 21.", deadline=AIRED)) == ["text-outlives-ask"]


def test_it_says_whether_the_ask_is_over() -> None:
    (before,) = said("Come by Dec. 15.")
    (after,) = said("Come by Dec. 15.", as_of="2026-12-16")
    assert "which is over" not in before.message
    assert "which is over" in after.message


def test_each_part_of_a_story_is_read_and_named(tmp_path: Path) -> None:
    number = "237-555-0142"
    text = story(
        f"summary: Call {number}.\nphoto: {{file: coat.jpg, alt: 'A sign says {number}'}}",
        f"First line.\n\nAsk at {number}, or\nat {number}.",
        ask(),
        headline=f"Ring {number}",
    )
    picture = Path(__file__).parents[2] / "content" / "photos"
    data = next(picture.glob("*.jpg")).read_bytes()
    photos = tmp_path / "content" / "photos"
    photos.mkdir(parents=True)
    (photos / "coat.jpg").write_bytes(data)
    found = check(tmp_path, {STORY: text})
    assert checks(found) == ["text-outlives-ask"] * 5
    lines = text.splitlines()
    pointed = [lines[each.spot.line - 1][each.spot.column - 1 :] for each in found]
    assert pointed[0].startswith("Ring")
    assert pointed[1].startswith("Call")
    assert pointed[2].startswith("'A sign")
    assert pointed[3].startswith(f"{number}, or")
    assert pointed[4] == f"{number}."


def test_the_details_of_places_are_kept_out_of_texts_too(tmp_path: Path) -> None:
    body = "The hall, 4 Pier Ln., has a phone, 237-555-0188, and a page, hall.example.org/visit."
    found = check(tmp_path, {STORY: story(body=body, asks=ask())})
    assert sorted(each.spot.column for each in found) == sorted(
        body.index(words) + 1 for words in ("4 Pier", "237", "hall.example.org")
    )


def test_a_last_day_and_the_dates_of_an_event_are_kept_out_of_texts_too(tmp_path: Path) -> None:
    places = ask(drop_off="[{place: lowgate-hall, until: 2026-12-11}]")
    event = ask(
        kind="go", deadline=None, drop_off=None, where="[lowgate-hall]", dates="2026-11-27..2026-12-04"
    )
    body = "On Nov. 27, Dec. 1, Dec. 4 and Dec. 11."
    found = check(tmp_path, {STORY: story(body=body, asks=places + event.replace("Bring a coat", "See it"))})
    assert [each.spot.column for each in found] == [
        body.index(day) + 1 for day in ("Nov. 27", "Dec. 4", "Dec. 11")
    ]


@given(
    st.integers(2_000_000_000, 9_999_999_999),
    st.lists(st.sampled_from(["", "-", " ", ".", " - ", ") ", "/"]), min_size=9, max_size=9),
)
def test_phones_compare_by_their_digits(number: int, signs: list[str]) -> None:
    digits = str(number)
    written = "".join(digit + sign for digit, sign in zip(digits, [*signs, ""], strict=True))
    phone = f"{digits[:3]}-{digits[3:6]}-{digits[6:]}"
    assert "text-outlives-ask" in checks(said(f"Call {written} now.", phone=phone))
    other = f"{digits[:9]}{(int(digits[9]) + 1) % 10}"
    assert "text-outlives-ask" not in checks(said(f"Call {other} now.", phone=phone))


DAYS = st.dates(date(2026, 11, 22), date(2027, 11, 20))
MONTHS_IN_SPANISH = (
    "enero", "febrero", "marzo", "abril", "mayo", "junio",
    "julio", "agosto", "septiembre", "octubre", "noviembre", "diciembre",
)  # fmt: skip
WAYS = (
    lambda day: f"{month_name[day.month]} {day.day}",
    lambda day: f"{month_name[day.month].upper()} {day.day}",
    lambda day: f"{month_abbr[day.month]}. {day.day}, {day.year}",
    lambda day: f"{day.day} {month_name[day.month]}",
    lambda day: f"{day.month}/{day.day}",
    lambda day: f"{day.month:02d}/{day.day:02d}/{day.year}",
    lambda day: day.isoformat(),
    lambda day: f"{day.day} de {MONTHS_IN_SPANISH[day.month - 1]}",
    lambda day: f"{day.day} de {MONTHS_IN_SPANISH[day.month - 1]} de {day.year}",
)


@given(DAYS, DAYS, st.sampled_from(WAYS), st.sampled_from(["on {}.", "by {}, or", "({})", "{}"]))
def test_a_deadline_is_found_however_it_is_written(
    deadline: date, other: date, way: object, around: str
) -> None:
    assert callable(way)
    text = around.format(way(deadline))
    assert "text-outlives-ask" in checks(said(text, deadline=deadline))
    expected = (other.month, other.day) == (deadline.month, deadline.day)
    assert ("text-outlives-ask" in checks(said(around.format(way(other)), deadline=deadline))) is expected


@given(st.text(), st.booleans())
@example("Dec. 15 of 15 December, 12/15", False)
def test_any_text_has_dates_that_stand_in_it(text: str, day_first: bool) -> None:
    for mention in find_dates(text, day_first):
        assert 0 <= mention.start < mention.end <= len(text)
        assert 1 <= mention.month <= 12
        assert 1 <= mention.day <= 31


# --- an address that is withheld -------------------------------------------------------------


def test_a_withheld_street_in_any_text_stops_the_build(tmp_path: Path) -> None:
    place = PLACE + "address: withheld\n"
    front = story(body="It is at 4 Pier Lane.", asks=ask(title="Bring it to 4 pier ln"))
    found = check(tmp_path / "told", {STORY: front, "places/lowgate-hall.yaml": place})
    assert checks(found) == ["withheld-address"] * 2
    assert all(each.weight is Weight.FAULT for each in found)
    assert "Lowgate" in found[0].instead
    files = {STORY: story(body="It is at 14 Pier Lane.", asks=ask()), "places/lowgate-hall.yaml": place}
    assert check(tmp_path / "kept", files) == []


@pytest.mark.parametrize(
    ("text", "stands"),
    [
        ("at 4 hill road.", True),
        ("at 4 hill rd., by the pond", True),
        ("at 4 hill\nroad", True),
        ("at 14 hill road", False),
        ("at 4 hillside road", False),
        ("at 4 hill lane", False),
        ("4 hill climbs, then 4 hill rd", True),
    ],
)
def test_a_street_is_known_by_its_number_and_name(text: str, stands: bool) -> None:
    assert (street_in(text, "4 Hill Road") >= 0) is stands


# --- words true on one day only --------------------------------------------------------------


@pytest.mark.parametrize(
    ("body", "phrase", "date_words"),
    [
        ("The closet opens today.", "today", "November 21"),
        ("Today the closet opens.", "Today", "November 21"),
        ("Come tonight!", "tonight", "November 21"),
        ("It opens tomorrow.", "tomorrow", "November 22"),
        ("It opened yesterday.", "yesterday", "November 20"),
        ("Come this Saturday.", "this Saturday", SATURDAY),
        ("Come this\nSaturday.", "this Saturday", SATURDAY),
        ("Come next Friday.", "next Friday", "November 27"),
        ("Come this coming Monday.", "this coming Monday", "November 23"),
        ("They met last week.", "last week", "the date"),
        ("They meet next week.", "next week", "the date"),
        ("The fair is this weekend.", "this weekend", "the date"),
        ("Only 3 days left.", "3 days left", "the date"),
        ("They began two weeks ago.", "two weeks ago", "the date"),
        ("> **Tomorrow** they begin.", "Tomorrow", "November 22"),
        ('"Come this Saturday," she said.', "this Saturday", "quoted"),
    ],
)
def test_words_true_on_one_day_only(body: str, phrase: str, date_words: str) -> None:
    found = said(body)
    assert checks(found) == ["relative-time"], found
    assert f"'{phrase}'" in found[0].message
    assert date_words in found[0].instead


@pytest.mark.parametrize(
    "body",
    [
        "The last Saturday of the month is for hats.",
        "Last week of November, first week of December.",
        "The next morning they came again.",
        "It was full by the last week, and every next Saturday.",
        "He gave it to the Tomorrow Fund.",
        '"I could not do it today," she said. "Yesterday I could."',
        "“I left yesterday,” he said.",
        "This closet, this town, this century.",
        "Todays and yesterdays.",
        "See [the list](2026/open-today) or https://example.org/today.",
        "Ten years ago it was a barn.",
        "Three days a week it is open.",
        "Every Saturday they come.",
        "Hoy es tarde.",  # Spanish in an English story is a name or a quotation.
    ],
)
def test_words_that_stay_true(body: str) -> None:
    assert said(body) == []


@pytest.mark.parametrize(
    ("body", "phrase"),
    [
        ("Abren hoy.", "hoy"),
        ("Hoy abren.", "Hoy"),
        ("Abren mañana.", "mañana"),
        ("Mañana por la tarde abren.", "Mañana"),
        ("Abren pasado mañana.", "pasado mañana"),
        ("Abrieron ayer.", "ayer"),
        ("Vengan este sábado.", "este sábado"),
        ("Vengan el próximo sábado.", "el próximo sábado"),
        ("Vengan el sábado que viene.", "el sábado que viene"),
        ("Es esta mañana.", "esta mañana"),
        ("Es este fin de semana.", "este fin de semana"),
        ("Empezaron hace dos semanas.", "hace dos semanas"),
        ("¿Vienes hoy?", "hoy"),
    ],
)
def test_words_true_on_one_day_only_in_spanish(body: str, phrase: str) -> None:
    found = said(body, language="es")
    assert checks(found) == ["relative-time"], found
    assert f"'{phrase}'" in found[0].message


@pytest.mark.parametrize(
    "body",
    [
        "Abren por la mañana.",
        "A las diez de la mañana.",
        "A la mañana siguiente volvieron.",
        "Una mañana llegó.",
        "Hoy en día son cien.",
        "«Hoy no puedo», dijo.",
        "Cada sábado vienen.",
        "Hace dos años era un granero.",
        "The closet is open today.",
    ],
)
def test_words_that_stay_true_in_spanish(body: str) -> None:
    assert said(body, language="es") == []


def test_a_quotation_left_open_ends_with_its_paragraph() -> None:
    found = said('"I came today.\n\nIt opens today, he said.')
    assert [each.spot.line for each in found] == [12]


def test_other_languages_are_left_alone() -> None:
    assert said("Today and hoy.", language="fr") == []


def test_headlines_asks_and_episodes_are_read_too(tmp_path: Path) -> None:
    assert checks(said("Body.", headline="Coats today")) == ["relative-time"]
    wanted = ask(title="Come this Saturday", who_for=None)
    assert checks(check(tmp_path / "ask", {STORY: story(asks=wanted)})) == ["relative-time"]
    episode = "---\naired: 2026-11-21 18:30\ntitle: Coats tonight\n---\nTomorrow.\n"
    assert checks(check(tmp_path / "episode", {"episodes/2026-11-21.md": episode})) == ["relative-time"] * 2


@given(st.text(alphabet='ab"“”«»\n ', max_size=60), st.integers(0, 59))
def test_every_quotation_stands_in_its_text(words: str, at: int) -> None:
    quotations = Text("The story", words, Spot("x"), AIRED, "en", body=True).quotations()
    for start, end in quotations:
        assert 0 <= start < end <= len(words)
        assert "\n\n" not in words[start:end]
    assert list(quotations) == sorted(quotations)


@given(st.text(alphabet="ab\n", max_size=60), st.data())
def test_a_spot_in_a_body_leads_back_to_its_character(words: str, data: st.DataObject) -> None:
    offset = data.draw(st.integers(0, max(len(words) - 1, 0)))
    spot = Text("The story", words, Spot("x", 10), AIRED, "en", body=True).at(offset)
    lines = words.split("\n")
    assert sum(len(line) + 1 for line in lines[: spot.line - 10]) + spot.column - 1 == offset


# --- weekdays --------------------------------------------------------------------------------


@given(DAYS, st.integers(0, 6), st.booleans())
def test_a_weekday_must_be_that_of_its_date(day: date, weekday: int, with_year: bool) -> None:
    # Aired just before, so that a date without a year means one day only.
    aired = day - timedelta(days=3)
    year = f", {day.year}" if with_year else ""
    text = f"They open {day_name[weekday]}, {month_name[day.month]} {day.day}{year}."
    found = said(text, aired=aired, deadline=aired - timedelta(days=30), as_of="2027-12-01")
    # The year of airing may be meant as well as the nearest date.
    also = date(aired.year, day.month, day.day) if not with_year and (day.month, day.day) != (2, 29) else day
    expected = [] if weekday in (day.weekday(), also.weekday()) else ["weekday-mismatch"]
    assert [each for each in checks(found) if each == "weekday-mismatch"] == expected
    for each in found:
        if each.check == "weekday-mismatch":
            assert f"{day_name[weekday]}, " in each.instead


@pytest.mark.parametrize(
    ("text", "language"),
    [
        ("They open Friday, December 22.", "en"),
        ("They open Fri., Dec. 22.", "en"),
        ("They open Friday the 22nd of December.", "en"),
        ("They open Friday 12/22.", "en"),
        ("Abren el viernes 22 de diciembre.", "es"),
        ("Abren el viernes 22/12.", "es"),
        ("They open Friday, Feb. 30, 2027.", "en"),
    ],
)
def test_a_wrong_weekday_is_found_however_it_is_written(text: str, language: str) -> None:
    found = said(text, language=language)
    assert checks(found) == ["weekday-mismatch"], found
    assert found[0].spot.column in (text.index("Fri") + 1 if "Fri" in text else text.index("viernes") + 1,)


@pytest.mark.parametrize(
    "text",
    [
        "They open Tuesday, December 22.",
        "They open Saturday and Sunday, Dec. 19 and 20.",
        "They open Friday through Sunday, Dec. 18-20.",
        "They met Sunday, March 15, 2026.",
        "They met Thursday, March 5.",  # Of the year it aired in, though next March is nearer.
        "On Friday. December 22 is another day.",
    ],
)
def test_weekdays_that_are_right_or_of_another_date(text: str) -> None:
    assert said(text) == []
