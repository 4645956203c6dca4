"""What viewers may have noted down does not change without a word: each change is told once, with both values, and nothing else is."""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from sitegen.newsroom.records import Finding, Weight
from sitegen.proof.silent_edits import silent_edits
from sitegen.site.content import read_content
from tests.samples.checked_copy import PLACE, STATION, moment
from tests.samples.station_folder import write_folder

FRONT = """headline: Toys and carols
aired: 2026-11-21
county: Heron Flats
say_on_air: toys
"""
BRING = """  - title: Bring a toy
    kind: bring
    deadline: 2026-12-15
    contact: {name: Toy Room, phone: 237-555-0142, email: toys@example.org, web: 'https://toys.example.org/'}
    drop_off:
      - {place: lowgate-hall, from: 2026-12-01, until: 2026-12-12, hours: "Mo-Fr 10:00-12:00", closed: [2026-12-08], special_hours: {2026-12-09: "10:00-11:00"}}
      - {name: Quay Bakery, street: 2 Quay, town: Lowgate, county: Heron Flats, hours: "Mo-Sa 07:00-13:00", phone: 237-555-0150}
      - sandy-end
"""
GO = """  - title: Hear the carols
    kind: go
    dates: 2026-12-12 18:00
    where: [lowgate-hall]
"""
SEE = """  - title: See the lights
    kind: go
    dates: 2026-11-20..2026-12-26
    hours: "Mo-Su 17:00-21:00"
    where: [lowgate-hall]
"""
GIVE = """  - title: Help the toy room
    kind: give
    deadline: 2026-12-15
    payee: Toy Room
    goes_to: organization
    registration: HF 1234
    contact: {name: Toy Room, phone: 237-555-0142, email: toys@example.org, web: 'https://toys.example.org/'}
"""
STORY = "stories/2026/toys.md"
MOVED = "stories/2026/toy-drive.md"
CORRECTION = "corrections:\n  - {date: 2026-11-23, text: The day was wrong.}\n"
SANDY_END = 'name: Sandy End Library\nstreet: 9 Dune Way\ntown: Sandy End\ncounty: Gull Bank\nhours: "Mo-Fr 09:00-17:00"\n'


def story(front: str = FRONT, asks: str = BRING + GO + SEE + GIVE) -> str:
    return f"---\n{front}asks:\n{asks}---\nBody.\n"


@dataclass
class Archive:
    """A station as it was accepted; `told` is what is said of it once some files are others, and None stands for a deleted one."""

    folder: Path
    files: dict[str, str] = field(
        default_factory=lambda: {
            STORY: story(),
            "places/lowgate-hall.yaml": PLACE,
            "places/sandy-end.yaml": SANDY_END,
        }
    )

    def told(self, changes: Mapping[str, str | None], as_of: str = "2026-11-23 12:00") -> list[Finding]:
        now = {path: text for path, text in {**self.files, **changes}.items() if text is not None}
        shutil.rmtree(self.folder)
        readings = [
            read_content(write_folder(self.folder / name, files, STATION))
            for name, files in (("before", self.files), ("now", now))
        ]
        rooms = []
        for reading in readings:
            assert reading.faults == ()
            assert reading.newsroom is not None
            rooms.append(reading.newsroom)
        gone = {f"content/{path}" for path in self.files.keys() - now.keys()}
        added = {f"content/{path}" for path in now.keys() - self.files.keys()}
        found = list(silent_edits(rooms[0], rooms[1], moment(as_of), gone, added))
        assert all(each.weight is Weight.CONCERN and each.instead for each in found)
        return found

    def edited(self, old: str, new: str, path: str = STORY, as_of: str = "2026-11-23 12:00") -> list[Finding]:
        assert old in self.files[path]
        return self.told({path: self.files[path].replace(old, new)}, as_of)


@pytest.fixture
def archive(tmp_path: Path) -> Archive:
    return Archive(tmp_path)


def line_of(text: str, part: str) -> int:
    return text[: text.index(part)].count("\n") + 1


EDITS = [
    ("dates: 2026-12-12 18:00", "dates: 2026-12-13 15:00", ("2026-12-12 18:00", "2026-12-13 15:00")),
    ("2026-11-20..2026-12-26", "2026-11-20..2026-12-20", ("2026-11-20..2026-12-26", "2026-11-20..2026-12-20")),
    ("2026-11-20..2026-12-26", "2026-11-20..2026-12-26\n    closed: [2026-12-24]", ("See the lights", "closed 2026-12-24")),
    ("      - sandy-end\n", "", ("Sandy End Library", "Bring a toy", "stopped")),
    ("- sandy-end", "- {place: sandy-end, until: 2026-12-10}", ("Sandy End Library", "not said", "2026-12-10")),
    ("until: 2026-12-12", "until: 2026-12-11", ("Lowgate Hall", "2026-12-12", "2026-12-11")),
    ("from: 2026-12-01", "from: 2026-12-03", ("Lowgate Hall", "2026-12-01", "2026-12-03")),
    ("Mo-Fr 10:00-12:00", "Mo-Fr 10:00-11:30", ("Mo-Fr 10:00-12:00", "Mo-Fr 10:00-11:30")),
    ("closed: [2026-12-08]", "closed: [2026-12-07, 2026-12-08]", ("2026-12-07", "10:00-12:00", "closed")),
    ("closed: [2026-12-08], ", "", ("2026-12-08", "closed", "10:00-12:00")),
    ("10:00-11:00", "11:00-12:00", ("2026-12-09", "10:00-11:00", "11:00-12:00")),
    ("Mo-Sa 07:00-13:00", "Mo-Sa 08:00-13:00", ("Quay Bakery", "Mo-Sa 07:00-13:00", "Mo-Sa 08:00-13:00")),
    ("2 Quay", "4 Quay", ("2 Quay", "4 Quay")),
    ("payee: Toy Room", "payee: Ann Reed", ("Toy Room", "Ann Reed")),
    ("HF 1234", "HF 4321", ("HF 1234", "HF 4321")),
    ("deadline: 2026-12-15\n    payee", "deadline: 2026-12-10\n    payee", ("2026-12-15", "2026-12-10")),
    ("title: Bring a toy\n    kind: bring\n    deadline: 2026-12-15", "title: Bring a game\n    kind: bring\n    deadline: 2026-12-10", ("Bring a toy", "Bring a game", "2026-12-15", "2026-12-10")),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "values"), EDITS, ids=[new for _, new, _ in EDITS])
def test_an_edit_is_told_once_with_both_values(
    archive: Archive, old: str, new: str, values: tuple[str, ...]
) -> None:
    (found,) = archive.edited(old, new)
    assert found.check == "silent-edit"
    assert found.spot.path == f"content/{STORY}"
    assert all(value in found.message + found.instead for value in values)
    assert "corrections" in found.instead


@pytest.mark.parametrize(("old", "new", "values"), EDITS, ids=[new for _, new, _ in EDITS])
def test_a_correction_says_it_all(archive: Archive, old: str, new: str, values: tuple[str, ...]) -> None:
    archive.files[STORY] = archive.files[STORY].replace(
        "county: Heron Flats\nsay", "county: Heron Flats\nsay"
    )
    text = archive.files[STORY].replace(old, new).replace("asks:\n", f"{CORRECTION}asks:\n", 1)
    assert archive.told({STORY: text}) == []


@pytest.mark.parametrize(
    "state", ["hold: true", "embargo: 2026-11-24", "withdrawn: {date: 2026-11-22, notice: Gone.}"]
)
@pytest.mark.parametrize("of", ["before", "now"])
def test_what_nobody_has_seen_is_not_told(archive: Archive, state: str, of: str) -> None:
    hidden = story(f"{FRONT}{state}\n")
    changed = story().replace("until: 2026-12-12", "until: 2026-12-11").replace("say_on_air: toys\n", "")
    if of == "before":
        archive.files[STORY] = hidden
    else:
        changed = hidden.replace("until: 2026-12-12", "until: 2026-12-11").replace("say_on_air: toys\n", "")
    assert archive.told({STORY: changed}) == []


@pytest.mark.parametrize(
    ("old", "new", "as_of"),
    [
        ("deadline: 2026-12-15\n    contact", "deadline: 2026-12-20\n    contact", "2026-12-16 00:00"),
        ("      - sandy-end\n", "", "2026-12-16 00:00"),
        ("until: 2026-12-12", "until: 2026-12-14", "2026-12-12 00:00"),
        ("dates: 2026-12-12 18:00", "dates: 2026-12-13 15:00", "2026-12-13 00:00"),
        ("payee: Toy Room", "payee: Ann Reed", "2026-12-16 00:00"),
        ("say_on_air: toys", "say_on_air: gifts", "2026-12-28 00:00"),
    ],
)
def test_what_was_over_is_not_told(archive: Archive, old: str, new: str, as_of: str) -> None:
    assert archive.edited(old, new, as_of=as_of) == []


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("- sandy-end", '- {place: sandy-end, stopped: {when: 2026-11-23, say: They are full.}}'),
        ("- sandy-end", "- sandy-end\n      - {name: Pier Shop, town: Lowgate, county: Heron Flats, hours: by appointment}"),
        ("- sandy-end", "- {place: sandy-end, until: 2026-12-15}"),
        ("- sandy-end", "- {place: sandy-end, from: 2026-11-20}"),
        ("- sandy-end", "- {place: sandy-end, closed: [2026-12-05]}"),
        ("- sandy-end", "- {place: sandy-end, closed: [2026-12-25]}"),
        ("- sandy-end", "- {place: sandy-end, closed: [2026-11-20, 2026-12-18]}"),
        ("name: Quay Bakery", "name: The Quay Bakery"),
        ("dates: 2026-12-12 18:00", "dates: [2026-12-12 18:00, 2026-12-13 18:00]"),
        ("2026-11-20..2026-12-26", "2026-11-23..2026-12-27"),
        ("2026-11-20..2026-12-26", "[2026-11-20..2026-12-10, 2026-12-11..2026-12-26]"),
        ("2026-11-20..2026-12-26", "2026-11-20..2026-12-26\n    closed: [2026-12-25]"),
        ("title: Bring a toy", "title: Bring a game"),
        ("registration: HF 1234\n    contact: {name: Toy Room, phone: 237-555-0142, email: toys@example.org, web: 'https://toys.example.org/'}",
         "registration: HF 1234\n    contact: {name: Toy Room, phone: 237-555-0142, email: Toys@example.org, web: 'https://toys.example.org'}"),
        ("say_on_air: toys", "say_on_air: gifts\nheard_as: [toys]"),
        ("say_on_air: toys", "say_on_air: gifts\nold_addresses: [/toys/]"),
        ("kind: go\n    dates: 2026-12-12", "kind: go\n    contact: {phone: 237-555-0143}\n    goal: {number: 90}\n    dates: 2026-12-12"),
        (", phone: 237-555-0142, email: toys@example.org, web: 'https://toys.example.org/'}\n    drop", ", phone: 237-555-0142, email: gifts@example.org}\n    drop"),
        ("Body.", "Other words."),
    ],
)  # fmt: skip
def test_what_takes_nothing_from_anybody_is_not_told(archive: Archive, old: str, new: str) -> None:
    assert archive.edited(old, new) == []


@pytest.mark.parametrize(
    ("old", "new", "values"),
    [
        ("email: toys@", "email: gifts@", ("toys@example.org", "gifts@example.org")),
        ("https://toys.", "https://gifts.", ("https://toys.example.org/", "https://gifts.example.org/")),
    ],
)
def test_where_money_goes_is_told_of_asks_for_money(
    archive: Archive, old: str, new: str, values: tuple[str, ...]
) -> None:
    (found,) = archive.edited(old, new)
    assert "Help the toy room" in found.message
    assert all(value in found.message for value in values)


def test_a_place_that_another_replaces_is_gone(archive: Archive) -> None:
    archive.files["places/pier.yaml"] = SANDY_END.replace("Sandy End Library", "Pier Shop").replace(
        "9 Dune", "1 Pier"
    )
    (found,) = archive.edited("- sandy-end", "- pier")
    assert "Sandy End Library" in found.message
    assert found.spot.line == line_of(story(), "drop_off:") + 1


def test_two_places_of_one_name_are_kept_apart(archive: Archive) -> None:
    shop = "      - {{name: Food Shop, street: {}, town: {}, county: {}, hours: by appointment}}\n"
    one, two = (
        shop.format("1 Pier", "Lowgate", "Heron Flats"),
        shop.format("2 Dune", "Sandy End", "Gull Bank"),
    )
    archive.files[STORY] = story(asks=BRING + one + two)
    assert archive.told({STORY: story(asks=BRING + two + one)}) == []
    (found,) = archive.told({STORY: story(asks=BRING + two)})
    assert "Food Shop was among" in found.message
    (found,) = archive.told({STORY: story(asks=BRING + one + two.replace("2 Dune", "3 Dune"))})
    assert "2 Dune" in found.message
    assert "3 Dune" in found.message


def test_a_new_title_hides_nothing_only_where_the_ask_is_surely_the_same(archive: Archive) -> None:
    other = BRING.replace("Bring a toy", "Bring a game").replace("2026-12-15", "2026-12-10")
    assert "Bring a toy" in archive.told({STORY: story(asks=other + GO + SEE + GIVE)})[0].message
    for asks, gone in (
        (GO + other + SEE + GIVE, ["'Bring a toy'"]),
        (other + GO + SEE, ["'Bring a toy'", "'Help the toy room'"]),
        (GIVE.replace("toy room", "toy fund") + GO + SEE + GIVE, ["'Bring a toy'"]),
    ):
        told = archive.told({STORY: story(asks=asks)})
        assert [found.message.split(" was asked for")[0] for found in told] == gone


# --- addresses -------------------------------------------------------------------------------


def test_a_word_that_was_read_on_air_is_kept(archive: Archive) -> None:
    (found,) = archive.edited("say_on_air: toys", "say_on_air: gifts\nheard_as: [presents]")
    assert "/toys/" in found.message
    assert "/gifts/" in found.message
    assert "heard_as: [presents, toys]" in found.instead
    assert found.spot.line == line_of(story(), "say_on_air")


def test_a_correction_brings_no_address_back(archive: Archive) -> None:
    (found,) = archive.edited("say_on_air: toys\n", CORRECTION)
    assert "say_on_air: toys" in found.instead


def test_a_word_may_go_to_a_newer_story_and_not_back_to_an_older_one(archive: Archive) -> None:
    changed = story().replace("say_on_air: toys", "say_on_air: gifts")
    newer = story().replace("2026-11-21", "2026-11-22").replace("Toys and carols", "Toys once more")
    assert archive.told({STORY: changed, "stories/2026/more.md": newer}) == []
    archive.files["stories/2025/toys.md"] = story(FRONT.replace("2026", "2025"), GO)
    (found,) = archive.told({STORY: changed})
    assert "heard_as: [toys]" in found.instead


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("Body.", "Other words."),
        ("Toys and carols", "Toys, carols and lights"),
        ("Bring a toy", "Bring a game"),
    ],
)
def test_a_moved_story_keeps_its_address(archive: Archive, old: str, new: str) -> None:
    (found,) = archive.told({STORY: None, MOVED: story().replace(old, new)})
    assert "/stories/2026/toys/" in found.message
    assert "/stories/2026/toy-drive/" in found.message
    assert found.instead == "Write: old_addresses: [/stories/2026/toys/]"
    assert found.spot.path == f"content/{MOVED}"


def test_moving_hides_no_other_edit(archive: Archive) -> None:
    found = archive.told({STORY: None, MOVED: story().replace("until: 2026-12-12", "until: 2026-12-11")})
    assert len(found) == 2
    assert any("2026-12-11" in each.message for each in found)


def test_the_first_old_address_stays_the_first(archive: Archive) -> None:
    archive.files[STORY] = story(f"{FRONT}old_addresses: [/old/toys/]\n")
    (found,) = archive.told({STORY: None, MOVED: archive.files[STORY]})
    assert found.instead == "Write: old_addresses: [/old/toys/, /stories/2026/toys/]"


def test_a_moved_story_that_keeps_its_old_address_is_not_told(archive: Archive) -> None:
    assert archive.told({STORY: None, MOVED: story(f"{FRONT}old_addresses: [/stories/2026/toys/]\n")}) == []


@pytest.mark.parametrize(
    "others",
    [
        {MOVED: story().replace("2026-11-21", "2026-11-22")},
        {MOVED: story(asks=GO).replace("Toys and carols", "Other carols")},
        {MOVED: story(), "stories/2026/once-more.md": story().replace("say_on_air: toys\n", "")},
        {},
    ],
    ids=["aired on another day", "another story", "which of two", "deleted"],
)
def test_a_story_that_may_be_another_is_not_taken_for_the_moved_one(
    archive: Archive, others: dict[str, str]
) -> None:
    assert [
        "/stories/2026/toys/ is no longer there" in each.message
        for each in archive.told({STORY: None, **others})
    ] == [True]


# --- shared places ---------------------------------------------------------------------------


def test_a_shared_place_is_told_once_for_all_that_send_people_there(archive: Archive) -> None:
    archive.files["stories/2026/more.md"] = story(FRONT.replace("toys", "more"), GO)
    (found,) = archive.edited("4 Pier Lane", "6 Pier Lane", "places/lowgate-hall.yaml")
    assert "4 Pier Lane" in found.message
    assert "2026/more, 2026/toys" in found.message


def test_hours_that_no_ask_rests_on_are_not_told(archive: Archive) -> None:
    archive.files[STORY] = story(asks=BRING + SEE)
    assert archive.edited("Mo-Fr 09", "Mo-Fr 08", "places/lowgate-hall.yaml") == []
    (found,) = archive.edited("Mo-Fr 09", "Mo-Fr 08", "places/sandy-end.yaml")
    assert "Mo-Fr 09:00-17:00" in found.message


def test_a_shared_place_is_not_told_of_stories_that_are_corrected_over_or_unseen(archive: Archive) -> None:
    moved = {"places/sandy-end.yaml": SANDY_END.replace("9 Dune Way", "11 Dune Way")}
    assert len(archive.told({**moved})) == 1
    assert archive.told({**moved, STORY: story(FRONT + CORRECTION)}) == []
    assert archive.told({**moved}, "2026-12-16 00:00") == []
    assert archive.told({**moved, STORY: story(f"{FRONT}hold: true\n")}) == []
    archive.files[STORY] = story(f"{FRONT}hold: true\n")
    assert archive.told({**moved, STORY: story()}) == []
    del archive.files[STORY]
    assert archive.told({**moved, STORY: story()}) == []


def test_days_of_a_shared_place_are_not_told_as_an_asks_own(archive: Archive) -> None:
    assert (
        archive.edited("closed: [2026-12-25]", "closed: [2026-12-07, 2026-12-25]", "places/lowgate-hall.yaml")
        == []
    )


@pytest.mark.parametrize(
    ("days", "values"),
    [
        ("closed: [2026-12-07]", ("2026-12-07", "09:00-17:00", "closed")),
        ('special_hours: {2026-12-08: "11:00-14:00"}', ("2026-12-08", "09:00-17:00", "11:00-14:00")),
        ('special_hours: {2026-12-05: "10:00-12:00"}', ("2026-12-05", "closed", "10:00-12:00")),
    ],
)
def test_a_day_of_a_shared_place_is_told_with_both_hours(
    archive: Archive, days: str, values: tuple[str, ...]
) -> None:
    archive.files["stories/2026/more.md"] = story(FRONT.replace("toys", "more"), BRING)
    (found,) = archive.told({"places/sandy-end.yaml": f"{SANDY_END}{days}\n"})
    assert found.spot.path == "content/places/sandy-end.yaml"
    assert found.spot.line == line_of(f"{SANDY_END}{days}\n", days[:6])
    assert all(value in found.message for value in values)
    assert "2026/more, 2026/toys" in found.message


def test_days_of_a_shared_place_that_take_nothing_from_anybody_are_not_told(archive: Archive) -> None:
    def told(days: str, asks: str = BRING) -> list[Finding]:
        archive.files[STORY] = story(asks=asks)
        return archive.told({"places/sandy-end.yaml": f"{SANDY_END}{days}\n"})

    assert (
        told("closed: [2026-11-20, 2026-12-05, 2026-12-18]") == []
    )  # gone by, shut anyway, after the deadline
    assert told('special_hours: {2026-12-08: "09:00-17:00"}') == []
    assert (
        told("closed: [2026-12-07]", BRING.replace("- sandy-end", "- {place: sandy-end, until: 2026-12-05}"))
        == []
    )
    own = '- {place: sandy-end, special_hours: {2026-12-07: "10:00-11:00"}}'
    assert told('special_hours: {2026-12-07: "12:00-13:00"}', BRING.replace("- sandy-end", own)) == []
    assert told("closed: [2026-12-07]", SEE.replace("lowgate-hall", "sandy-end")) == []
    assert len(told("closed: [2026-12-07]")) == 1


# --- what is gone ----------------------------------------------------------------------------


def test_an_ask_that_is_gone_is_told_while_it_was_not_over(archive: Archive) -> None:
    fewer = {STORY: story(asks=BRING + GO + SEE)}
    (found,) = archive.told(fewer)
    assert found.spot.line == line_of(fewer[STORY], "asks:") + 1
    assert "Help the toy room" in found.message
    assert "stopped" in found.instead
    assert archive.told(fewer, "2026-12-16 00:00") == []
    assert archive.told({STORY: story(FRONT + CORRECTION, BRING + GO + SEE)}) == []
    assert archive.told({STORY: story(f"{FRONT}hold: true\n", BRING + GO + SEE)}) == []


def test_a_deleted_story_is_told_while_nothing_leads_from_its_address(archive: Archive) -> None:
    (found,) = archive.told({STORY: None})
    assert found.spot.path == f"content/{STORY}"
    assert "/stories/2026/toys/" in found.message
    assert "withdrawn: {date: 2026-11-23" in found.instead
    other = story(f"{FRONT}old_addresses: [/stories/2026/toys/]\n".replace("Toys and", "Other"), GO)
    assert archive.told({STORY: None, "stories/2026/other.md": other}) == []
    assert archive.told({STORY: None, MOVED: story(f"{FRONT}hold: true\n")}) == []
    archive.files[STORY] = story(f"{FRONT}hold: true\n")
    assert archive.told({STORY: None}) == []


def test_many_deleted_stories_are_told_at_once(archive: Archive) -> None:
    for number in range(9):
        archive.files[f"stories/2026/toys-{number}.md"] = story(FRONT.replace("toys", f"toys-{number}"), GO)
    (found,) = archive.told({path: None for path in archive.files if path.startswith("stories/")})
    assert "10 published stories" in found.message
