"""Makes a station of any size for the benchmarks: stories with places, episodes and listings, as a real archive has them.

The same count and seed give the same files. A story's front matter has about 1.5 kB and its body 2.7 kB. Air dates go back
from `AS_OF` by weekly episodes, so that, as in a real archive, most of what was asked for is over.
"""

from __future__ import annotations

import random
from datetime import date, datetime, timedelta
from pathlib import Path

AS_OF = datetime(2025, 11, 26, 12, 0)
"""Local wall time of the station: a Wednesday noon."""
NEWEST_EPISODE = date(2025, 11, 22)
STORIES_A_WEEK = 10
MOST_WEEKS = 1000
"""Nineteen years; a larger station has fuller weeks."""
SHARED_BY = 40
"""How many stories name the one place that the benchmark edits."""
SHARED_PLACE = "the-shared-hall"
PICTURES = 12
COUNTIES = 24

WORDS = [
    "harbour",
    "light",
    "coat",
    "drive",
    "meal",
    "kitchen",
    "volunteer",
    "noon",
    "neighbour",
    "children",
    "warm",
    "winter",
    "library",
    "bread",
    "boat",
    "river",
    "garden",
    "school",
    "engine",
    "lantern",
    "market",
    "bridge",
    "quilt",
    "choir",
    "puppy",
    "orchard",
    "ferry",
    "bakery",
    "station",
    "window",
    "paper",
    "basket",
    "blanket",
    "supper",
    "table",
    "uncle",
    "sister",
    "kettle",
    "morning",
    "evening",
    "field",
    "barn",
    "wagon",
    "island",
    "corner",
    "letter",
    "promise",
    "hammer",
]


def make_station(root: Path, stories: int, seed: int = 1) -> None:
    """Writes a content folder below `root`."""
    _Maker(root, stories, random.Random(seed)).make()


def story_id(number: int, stories: int) -> str:
    """The id of a story by its number; 0 is the newest."""
    return f"{_aired(number, stories).year}/story-{number}"


def _a_week(stories: int) -> int:
    return max(STORIES_A_WEEK, -(-stories // MOST_WEEKS))


def _aired(number: int, stories: int) -> date:
    return NEWEST_EPISODE - timedelta(weeks=number // _a_week(stories))


class _Maker:
    def __init__(self, root: Path, stories: int, chance: random.Random) -> None:
        self.content = root / "content"
        self.stories = stories
        self.chance = chance
        self.counties = [f"County {_name(number)}" for number in range(COUNTIES)]
        self.towns = [[f"Town {_name(number * 3 + each)}" for each in range(3)] for number in range(COUNTIES)]
        self.places = [f"place-{number}" for number in range(max(60, stories // 50))]

    def make(self) -> None:
        for name in ("stories", "places", "episodes", "listings", "pages", "photos"):
            (self.content / name).mkdir(parents=True, exist_ok=True)
        self._station()
        self._pictures()
        for number, place in enumerate([*self.places, SHARED_PLACE]):
            self._place(number, place)
        for number in range(self.stories):
            self._story(number)
        self._episodes()
        for page in ("about", "corrections", "giving-safely"):
            text = f"---\ntitle: {page.replace('-', ' ').capitalize()}\n---\n{self._body(1200)}\n"
            self._write(f"pages/{page}.md", text)

    def _write(self, path: str, text: str) -> None:
        target = self.content / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, "utf-8")

    def _words(self, count: int) -> str:
        return " ".join(self.chance.choices(WORDS, k=count))

    def _body(self, length: int) -> str:
        parts: list[str] = []
        while sum(map(len, parts)) < length:
            words = self._words(30)
            parts.append(f"{words.capitalize()}, *{self._words(2)}*, {self._words(25)}.")
            if self.chance.random() < 0.15:
                parts.append(f"## {self._words(4).capitalize()}")
            if self.chance.random() < 0.2:
                parts.append("\n".join(f"- {self._words(6)}" for _ in range(3)))
            if self.chance.random() < 0.1:
                parts.append(
                    f"> {self._words(14)}, [{self._words(3)}](https://www.example.org/{self._words(1)}/)."
                )
        return "\n\n".join(parts)

    def _station(self) -> None:
        lines = [
            "station: Saltmarsh Community Television",
            "programme: Small Wonders",
            "address: https://www.example.org/small-wonders/",
            "time_zone: America/New_York",
            "language: en-US",
            'contact: {email: goodnews@example.org, phone: 237-555-0100, answers: "Mo-Fr 09:00-17:00"}',
            "holidays: [2025-12-25, 2026-01-01]",
            "counties:",
        ]
        for number, county in enumerate(self.counties):
            towns = ", ".join(
                f"{{name: {town}, position: [{34 + number / 16:.2f}, {-62 + each * 0.7:.2f}], postal_codes: [SC-{number * 3 + each}]}}"
                for each, town in enumerate(self.towns[number])
            )
            lines.append(f"  - {{name: {county}, towns: [{towns}]}}")
        self._write("station.yaml", "\n".join(lines) + "\n")

    def _pictures(self) -> None:
        from PIL import Image

        for number in range(PICTURES):
            Image.effect_noise((640, 360), 20 + number).convert("RGB").save(
                self.content / "photos" / f"picture-{number}.jpg", quality=80
            )

    def _place(self, number: int, name: str) -> None:
        county = number % COUNTIES
        self._write(
            f"places/{name}.yaml",
            f"name: {name.replace('-', ' ').title()}\nstreet: {number + 1} {self._words(1).capitalize()} Street\n"
            f"town: {self.towns[county][number % 3]}\ncounty: {self.counties[county]}\n"
            f"position: [{34 + number % 200 / 100:.2f}, {-62 + number % 300 / 100:.2f}]\n"
            'hours: "Mo-Fr 09:00-17:00; Sa 10:00-14:00"\nclosed: [2025-12-25]\nstep_free: yes\n'
            f"parking: {self._words(5)}\nphone: 237-555-01{number % 100:02}\n",
        )

    def _story(self, number: int) -> None:
        chance = self.chance
        aired = _aired(number, self.stories)
        county = chance.randrange(COUNTIES)
        places = chance.sample(self.places, 3)
        # Spread evenly, so that the shared place stands in old stories and new ones.
        if (
            number % max(self.stories // SHARED_BY, 1) == 0
            and number // max(self.stories // SHARED_BY, 1) < SHARED_BY
        ):
            places[0] = SHARED_PLACE
        deadline = aired + timedelta(days=chance.choice((9, 16, 23, 30, 44)))
        event = aired + timedelta(days=chance.randrange(5, 30))
        number_wanted = chance.randrange(50, 900)
        front = [
            "---",
            f"headline: {self._words(8).capitalize()}",
            f'summary: "{self._words(18).capitalize()}."',
            f"aired: {aired}",
            f"county: {self.counties[county]}",
            f"town: {chance.choice(self.towns[county])}",
            "reporter: Ada Quill",
            f"topics: [{', '.join(dict.fromkeys(chance.choices(WORDS, k=3)))}]",
        ]
        if number % 7 == 0:
            front.append(f"say_on_air: word-{number}")
        if number % 2 == 0:
            front.append(
                f'photo: {{file: picture-{number % PICTURES}.jpg, alt: "{self._words(9).capitalize()}", credit: Ada Quill}}'
            )
        if number % 25 == 0:
            front += [
                "corrections:",
                f"  - {{date: {aired + timedelta(days=3)}, kind: correction, text: An earlier version gave the wrong hour.}}",
            ]
        if number % 20 == 3 and number + 50 < self.stories:
            front.append(f"follows: {story_id(number + 50, self.stories)}")
        if number % 100 == 5:
            front.append(f"listing: round-up-{number}.csv")
            self._listing(number, aired)
        front += [
            "asks:",
            f"  - title: Bring {self._words(2)}",
            "    kind: bring",
            f"    starts: {aired - timedelta(days=4)}",
            f"    deadline: {deadline}",
            f"    accepts: [{self._words(3)}, {self._words(2)}, {self._words(3)}]",
            f"    not_accepted: [{self._words(2)}]",
            f"    goal: {{number: {number_wanted}, unit: {self._words(1)}s, so_far: {number_wanted // 3}, counted_on: {aired}}}",
            f"    contact: {{name: Friends of {self._words(2).title()}, phone: 237-555-01{number % 100:02}, email: friends@example.org, web: https://friends.example.org/}}",
            f"    confirmed: {{date: {aired}, with: branch manager}}",
            "    drop_off:",
            f"      - {places[0]}",
            f"      - {{place: {places[1]}, until: {deadline - timedelta(days=2)}, note: {self._words(4)}}}",
            f'      - {{name: {self._words(2).title()}, street: 4 Hill Road, town: {self.towns[county][0]}, county: {self.counties[county]}, position: [34.8, -60.2], hours: "Mo-Fr 09:00-17:00"}}',
        ]
        if number % 3 == 0:
            front += [
                f"  - title: See {self._words(2)}",
                "    kind: go",
                f"    dates: {event}..{event + timedelta(days=2)}",
                '    hours: "Mo-Su 17:30-22:00"',
                f"    where: [{places[2]}]",
                f"    contact: {{phone: 237-555-01{number % 90:02}}}",
            ]
        if number % 5 == 0:
            front += [
                f"  - title: Help with {self._words(2)}",
                "    kind: get help",
                f"    deadline: {deadline}",
                "    who_for: anyone, no papers asked",
                "    cost: free",
                f"    where: [{places[2]}]",
                "    contact: {phone: 237-555-0199, email: help@example.org, languages: [en, es]}",
            ]
        self._write(
            f"stories/{story_id(number, self.stories)}.md",
            "\n".join([*front, "---", self._body(2600)]) + "\n",
        )

    def _listing(self, number: int, aired: date) -> None:
        rows = ["what,town,county,date,starts,ends,place,note,stopped"]
        for _ in range(12):
            county = self.chance.randrange(COUNTIES)
            day = aired + timedelta(days=self.chance.randrange(1, 40))
            rows.append(
                f"{self._words(3)},{self.chance.choice(self.towns[county])},{self.counties[county]},{day},17:00,18:30,{self._words(2)},,"
            )
        self._write(f"listings/round-up-{number}.csv", "\n".join(rows) + "\n")

    def _episodes(self) -> None:
        a_week = _a_week(self.stories)
        for first in range(0, self.stories, a_week):
            aired = _aired(first, self.stories)
            rundown = [
                f'  - {{time: "00:{each * 13 // 10 % 60:02}:{each * 7 % 60:02}", story: {story_id(number, self.stories)}}}'
                for each, number in enumerate(range(first, min(first + a_week, self.stories)))
            ]
            text = [
                "---",
                f"aired: {aired} 18:30",
                f"title: {self._words(5).capitalize()}",
                "rundown:",
                *rundown,
                "---",
            ]
            self._write(f"episodes/{aired}.md", "\n".join([*text, self._body(300)]) + "\n")


def _name(number: int) -> str:
    """A name that no other number has: `Aba`, `Abe`."""
    consonants, vowels = "bdfghklmnprstvw", "aeiou"
    first, rest = divmod(number, len(consonants) * len(vowels))
    middle, last = divmod(rest, len(vowels))
    return f"{'AEIOU'[first % 5]}{consonants[middle]}{vowels[last]}"
