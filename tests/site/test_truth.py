"""The promise itself: a station that is not the demonstration, in three time zones, built at moments just before,
at and just after each of its deadlines, shows exactly what is true, and no word of what must not be shown.

What is true is worked out here by plain means: wall times through the standard library's zones, doors by walking
minute by minute. Nothing of the code under test is asked.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from html import unescape
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from sitegen.newsroom.records import Reading, Weight
from sitegen.site.build import make
from sitegen.site.content import read_content
from sitegen.site.derived import DerivedStore
from sitegen.site.proofkept import LearntShelf
from tests.counts import LONG, SEED

ZONES = ("America/New_York", "Europe/London", "Australia/Lord_Howe")
# Each zone's window lies around a change of its clocks.
BEGINS = {
    "America/New_York": date(2026, 10, 24),
    "Europe/London": date(2026, 10, 17),
    "Australia/Lord_Howe": date(2027, 3, 27),
}
DAYS = 16
STORIES = 60 if LONG else 9


@dataclass
class Door:
    """An inline place and what it takes to work out its last chance."""

    street: str
    weekdays: tuple[int, ...]
    opens: int
    closes: int
    until: date | None


@dataclass
class Ask:
    title: str
    kind: str
    organizer: str
    email: str
    accepts: str
    start: datetime | None
    """Naive wall time."""
    end: datetime
    """Naive wall time of the first moment that is too late."""
    ongoing: bool
    stop: datetime | None
    stop_words: str
    doors: list[Door] = field(default_factory=list)


@dataclass
class Told:
    """One story."""

    name: str
    word: str
    """Stands in its headline, its body and its address."""
    state: str
    """`shown`, `held`, `embargoed` or `withdrawn`."""
    asks: list[Ask] = field(default_factory=list)


def instant(wall: datetime, zone: ZoneInfo) -> datetime:
    return wall.replace(tzinfo=zone, fold=0).astimezone(UTC)


def last_chance(door: Door, ask: Ask, zone: ZoneInfo) -> datetime | None:
    """The first minute after the last one in which the door is open inside the windows, walking backward."""
    end = instant(ask.end, zone)
    if ask.stop is not None:
        end = min(end, instant(ask.stop, zone))
    if door.until is not None:
        end = min(end, instant(datetime.combine(door.until + timedelta(days=1), time()), zone))
    start = instant(ask.start, zone) if ask.start is not None else None
    if ask.ongoing and end == instant(ask.end, zone):
        return end  # the day of checking again is nobody's last chance
    minute = end
    for _ in range(60 * 24 * 30):
        minute -= timedelta(minutes=1)
        if start is not None and minute < start:
            return None
        local = minute.astimezone(zone)
        if local.weekday() in door.weekdays and door.opens <= local.hour * 60 + local.minute < door.closes:
            return minute + timedelta(minutes=1)
    return None


def live(ask: Ask, moment: datetime, zone: ZoneInfo) -> bool:
    if ask.stop is not None and moment >= instant(ask.stop, zone):
        return False
    return moment < instant(ask.end, zone)


def make_station(zone_name: str, seed: int) -> list[Told]:
    """The first station drawn from the seed in which every case comes up; one of few stories may lack one."""
    pick = random.Random(f"{seed} {zone_name}")
    drawn = (draw_station(zone_name, pick) for _ in range(100))
    return next(stories for stories in drawn if has_every_case(stories, ZoneInfo(zone_name)))


def has_every_case(stories: list[Told], zone: ZoneInfo) -> bool:
    """A check proves nothing about a case that never comes up."""
    asks = [ask for told in stories if told.state == "shown" for ask in told.asks]
    doors = [(door, ask) for ask in asks for door in ask.doors]
    early = [
        door
        for door, ask in doors
        if (last := last_chance(door, ask, zone)) and last < instant(ask.end, zone)
    ]
    each = (any(ask.stop for ask in asks), any(ask.start for ask in asks), any(ask.ongoing for ask in asks))
    return all(each) and len(early) > len(doors) // 3


def draw_station(zone_name: str, pick: random.Random) -> list[Told]:
    begins = BEGINS[zone_name]
    stories = []
    number = 0
    for index in range(STORIES):
        state = "shown" if index >= 3 else ("held", "embargoed", "withdrawn")[index]
        told = Told(f"tale-{index}", f"Quokkaword{index}x", state)
        for kind in pick.sample(("bring", "volunteer", "get help", "give"), 3):
            number += 1
            day = begins + timedelta(days=pick.randrange(2, DAYS))
            bare = pick.random() < 0.5
            end = (
                datetime.combine(day + timedelta(days=1), time())
                if bare
                else datetime.combine(day, time(pick.choice((9, 12, 17, 21)), pick.choice((0, 30))))
            )
            start = (
                datetime.combine(begins + timedelta(days=pick.randrange(0, 5)), time())
                if pick.random() < 0.3
                else None
            )
            stop = None
            if pick.random() < 0.2:
                stop = datetime.combine(day - timedelta(days=1), time(15, 0))
            ask = Ask(
                title=f"Do thing {number}",
                kind=kind,
                organizer=f"Orgname{number}q",
                email=f"mail{number}q@example.org",
                accepts=f"Accepted{number}q goods",
                start=start,
                end=end,
                ongoing=bare and pick.random() < 0.2,
                stop=stop,
                stop_words=f"Stopwords{number}q",
            )
            if kind != "give":
                for each in range(pick.randrange(0, 3)):
                    opens = pick.choice((8, 9, 10)) * 60
                    ask.doors.append(
                        Door(
                            street=f"{number} Streetname{number}q{each} Lane",
                            weekdays=tuple(sorted(pick.sample(range(7), pick.randrange(1, 6)))),
                            opens=opens,
                            closes=opens + pick.choice((120, 240, 420)),
                            until=day - timedelta(days=2) if pick.random() < 0.3 else None,
                        )
                    )
            told.asks.append(ask)
        stories.append(told)
    return stories


NAMES = ("Mo", "Tu", "We", "Th", "Fr", "Sa", "Su")


def clock(minutes: int) -> str:
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def write_station(root: Path, zone_name: str, stories: list[Told]) -> None:
    content = root / "content"
    (content / "stories" / "2026").mkdir(parents=True)
    (content / "station.yaml").write_text(
        f"""station: Heron Flats Television
programme: Bright Side
address: https://www.example.com/bright/
time_zone: {zone_name}
language: en-US
contact: {{email: desk@example.com}}
counties:
  - {{name: Heron Flats, towns: [Lowgate]}}
""",
        "utf-8",
    )
    aired = BEGINS[zone_name] - timedelta(days=1)
    for told in stories:
        lines = ["---", f"headline: The tale of {told.word}", f"aired: {aired}", "county: Heron Flats"]
        lines.append(f"say_on_air: {told.word.lower()}")
        lines.append(f"desk: {{secret: Deskword{told.word}}}")
        if told.state == "held":
            lines.append("hold: true")
        if told.state == "embargoed":
            lines.append("embargo: 2030-01-01")
        if told.state == "withdrawn":
            lines.append(f"withdrawn: {{date: {aired}, notice: Gone at the owner's wish.}}")
        lines.append("asks:")
        for ask in told.asks:
            lines += [f"  - title: {ask.title}", f"    kind: {ask.kind}"]
            shown = ask.end - timedelta(days=1) if ask.end.time() == time() else ask.end
            written = f"{shown:%Y-%m-%d}" if ask.end.time() == time() else f"{shown:%Y-%m-%d %H:%M}"
            if ask.ongoing:
                lines += ["    deadline: ongoing", f"    check_again_by: {written}"]
            else:
                lines.append(f"    deadline: {written}")
            if ask.start is not None:
                lines.append(f"    starts: {ask.start:%Y-%m-%d}")
            if ask.stop is not None:
                lines.append(f"    stopped: {{when: {ask.stop:%Y-%m-%d %H:%M}, say: {ask.stop_words}}}")
            lines.append(f"    accepts: [{ask.accepts}]")
            lines.append(f"    contact: {{name: {ask.organizer}, email: {ask.email}}}")
            lines.append(f"    confirmed: {{date: {aired}, with: Confirmword{told.word}}}")
            if ask.doors:
                lines.append("    drop_off:" if ask.kind == "bring" else "    where:")
            for door in ask.doors:
                until = f", until: {door.until}" if door.until is not None else ""
                days = ",".join(NAMES[day] for day in door.weekdays)
                lines.append(
                    f"      - {{name: Hall, street: {door.street}, town: Lowgate, county: Heron Flats, "
                    f'hours: "{days} {clock(door.opens)}-{clock(door.closes)}"{until}}}'
                )
        lines += ["---", f"The body speaks of {told.word} and of nothing else."]
        (content / "stories" / "2026" / f"{told.name}.md").write_text("\n".join(lines) + "\n", "utf-8")


def moments_of(stories: list[Told], zone: ZoneInfo) -> list[datetime]:
    """Just before, at and just after every instant at which something must change."""
    edges: set[datetime] = set()
    for told in stories:
        for ask in told.asks:
            edges.add(instant(ask.end, zone))
            edges |= {instant(wall, zone) for wall in (ask.start, ask.stop) if wall is not None}
            edges |= {last for door in ask.doors if (last := last_chance(door, ask, zone)) is not None}
    second = timedelta(seconds=1)
    return sorted({edge + step for edge in edges for step in (-second, timedelta(), second)})


def learnt_of_theme(reading: Reading, root: Path, moment: datetime, store: DerivedStore) -> bytes:
    """What the proof learns of the theme in one build, so that the others need not learn it again."""
    spool = root / "spool"
    spool.mkdir()
    make(reading, root, moment, store, spool=spool)
    shelf = LearntShelf(root, "the same program")
    shelf.keep_of(spool)
    return shelf.take()


@pytest.fixture(scope="module", params=ZONES)
def station(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> tuple[Path, ZoneInfo, list[Told]]:
    zone_name: str = request.param
    root = tmp_path_factory.mktemp("station")
    stories = make_station(zone_name, SEED)
    write_station(root, zone_name, stories)
    return root, ZoneInfo(zone_name), stories


def test_pages_show_exactly_what_is_true_around_every_deadline(
    station: tuple[Path, ZoneInfo, list[Told]],
) -> None:
    root, zone, stories = station
    reading = read_content(root)
    assert not reading.faults
    chances = {
        id(door): last_chance(door, ask, zone) for told in stories for ask in told.asks for door in ask.doors
    }
    released = instant(datetime.combine(BEGINS[zone.key] - timedelta(days=1), time()), zone)
    moments = [moment for moment in moments_of(stories, zone) if moment >= released]
    pick = random.Random(SEED)
    chosen = moments if LONG else sorted(pick.sample(moments, min(len(moments), 12)))
    print(f"seed {SEED}: {len(chosen)} of {len(moments)} moments in {zone.key}")
    store = DerivedStore(root / "derived")
    learnt = learnt_of_theme(reading, root, chosen[0], store)
    for moment in chosen:
        made = make(reading, root, moment, store, learnt=learnt)
        assert not made.report.stops("AA"), (moment, made.report.pages[:3])
        files = {path: bytes(data).decode() for path, data in made.files.items() if isinstance(data, bytes)}
        # What share pictures say is in their pages, as `og:image:alt`; the files lie in the store.
        whole = "\n".join(files.values())

        def nowhere(word: str, why: str, whole: str = whole, moment: datetime = moment) -> None:
            assert word not in whole, f"{word} is published at {moment} ({why})"

        for told in stories:
            nowhere(f"Deskword{told.word}", "the desk's")
            nowhere(f"Confirmword{told.word}", "the desk's")
            if told.state != "shown":
                check_hidden(told, nowhere, files)
                continue
            page = files[f"stories/2026/{told.name}/index.html"]
            for ask in told.asks:
                check_ask(ask, moment, zone, page, files, chances, nowhere)


def check_hidden(told: Told, nowhere: Callable[[str, str], None], files: dict[str, str]) -> None:
    nowhere(told.word, told.state)
    nowhere(told.word.lower(), told.state)
    for ask in told.asks:
        for word in (
            ask.organizer,
            ask.email,
            ask.accepts,
            ask.stop_words,
            *(door.street for door in ask.doors),
        ):
            nowhere(word, told.state)
    path = f"stories/2026/{told.name}/index.html"
    assert (path in files) == (told.state == "withdrawn")
    if told.state == "withdrawn":
        assert "Gone at the owner" in files[path]


def check_ask(
    ask: Ask,
    moment: datetime,
    zone: ZoneInfo,
    page: str,
    files: dict[str, str],
    chances: dict[int, datetime | None],
    nowhere: Callable[[str, str], None],
) -> None:
    deadlines, help_page, find = (
        files["deadlines/index.html"],
        files["get-help/index.html"],
        "".join(text for path, text in files.items() if path.startswith("find/")),
    )
    is_help = ask.kind == "get help"
    search = "".join(text for path, text in files.items() if path.startswith("data/search/"))
    if not live(ask, moment, zone):
        stopped = ask.stop is not None and ask.stop < ask.end
        lapsed = ask.ongoing and not stopped
        nowhere(ask.email, "over")
        nowhere(ask.accepts, "over")
        for door in ask.doors:
            nowhere(door.street, "over")
        assert (ask.organizer in page) == lapsed
        assert (ask.stop_words in page) == stopped
        for listing in (
            deadlines,
            help_page,
            find,
            files["index.html"],
            files["counties/heron-flats/index.html"],
        ):
            assert f"{ask.title}<" not in listing
        assert f'"{ask.title}"' not in files["data/asks.json"] + search
        assert f"{ask.title}<" not in unescape(files["feed.atom"])
        return
    assert f'"{ask.title}"' in search
    nowhere(ask.stop_words, "not stopped yet")
    assert ask.email in page and ask.organizer in page
    assert f"{ask.title}<" in files["counties/heron-flats/index.html"]
    assert (f"{ask.title}<" in deadlines) == (not is_help)
    assert (ask.organizer in help_page) == is_help
    data, feed = files["data/asks.json"], files["feed.atom"]
    assert f'"{ask.title}"' in data and ask.email in data
    # A copy of a feed cannot be called back: it says what is asked, and not whom to reach or where to go.
    assert f">{ask.title}<" in unescape(feed) and ask.email not in feed
    for door in ask.doors:
        last = chances[id(door)]
        shown = last is not None and moment < last
        assert (door.street in page) == shown, (ask.title, door, moment)
        assert (door.street in find) == (shown and not is_help and ask.kind != "tune in")
        assert (door.street in help_page) == (shown and is_help)
        assert (door.street in data) == shown and door.street not in feed
        if not shown:
            nowhere(door.street, "its last chance is past")


def test_the_generated_station_has_every_case_and_no_fault(
    station: tuple[Path, ZoneInfo, list[Told]],
) -> None:
    root, zone, stories = station
    assert has_every_case(stories, zone)
    assert all(finding.weight is Weight.CONCERN for finding in read_content(root).findings)
