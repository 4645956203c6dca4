"""A thousand ways to break a valid station: each turns one file of the whole station into one with a fault.

Every breaker takes a source of chance and gives the path of the file it breaks, below content/, with the
file's new bytes, or with something done to the folder instead.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from random import Random

from sitegen.newsroom.nodes import Mapping, Node, Scalar, Sequence, compose
from tests.newsroom.whole_station import FILES, LISTING, MAP, STORY

STORY_PATH = "stories/2026/coat-closet.md"
LISTING_PATH = "listings/parades-2026.csv"
YAML_PATHS = tuple(path for path in FILES if path.endswith((".yaml", ".md")))


@dataclass(frozen=True, slots=True)
class Break:
    path: str
    data: bytes | None = None
    act: Callable[[Path], None] | None = None
    """What is done at the file's place when it is not simply given new bytes."""
    line: int | None = None
    """Where a fault must stand, when there is only one right line."""


def changed(path: str, text: str, line: int | None = None) -> Break:
    return Break(path, text.encode("utf-8"), line=line)


# --- where things stand in the valid files ---------------------------------------------------


@dataclass(frozen=True, slots=True)
class Written:
    """A key or a value of a valid file."""

    path: str
    start: int
    end: int
    key: str
    """The key, or the key whose value this is."""

    @property
    def text(self) -> str:
        return FILES[self.path][self.start : self.end]

    def replaced(self, by: str) -> str:
        text = FILES[self.path]
        return text[: self.start] + by + text[self.end :]

    @property
    def line(self) -> int:
        return FILES[self.path].count("\n", 0, self.start) + 1


def _front(path: str) -> tuple[str, int]:
    """The YAML of a file, and the file's line it starts on."""
    text = FILES[path]
    return (text.split("---\n")[1], 2) if path.endswith(".md") else (text, 1)


def _offset(text: str, line: int, column: int) -> int:
    return sum(len(row) for row in text.splitlines(keepends=True)[: line - 1]) + column - 1


def _walk(path: str) -> Iterator[tuple[bool, Written]]:
    """(is it a key, where) of every key and every scalar value, outside of `desk`, which nobody checks."""
    front, first = _front(path)
    node, problems = compose(front, first)
    assert node is not None and not problems
    whole = FILES[path]

    def spot(scalar: Scalar, key: str) -> Written:
        start = _offset(whole, scalar.line, scalar.column)
        length = len(scalar.text)
        if not scalar.plain:
            length = re.compile(r'"[^"]*"|\'[^\']*\'').match(whole, start).end() - start  # type: ignore[union-attr]
        return Written(path, start, start + length, key)

    def visit(node: Node, key: str) -> Iterator[tuple[bool, Written]]:
        if isinstance(node, Mapping):
            for name, value in node.entries:
                if name.text != "desk":
                    yield True, spot(name, name.text)
                    yield from visit(value, name.text)
        elif isinstance(node, Sequence):
            for item in node.items:
                yield from visit(item, key)
        elif not node.is_nothing:
            yield False, spot(node, key)

    yield from visit(node, "")


KEYS = tuple(where for path in YAML_PATHS for is_key, where in _walk(path) if is_key)
VALUES = tuple(where for path in YAML_PATHS for is_key, where in _walk(path) if not is_key)
KNOWN = frozenset(where.key for where in KEYS)


def values(*keys: str) -> tuple[Written, ...]:
    found = tuple(where for where in VALUES if where.key in keys)
    assert found, keys
    return found


def block_lines(path: str) -> list[tuple[int, str]]:
    """(index, line) of the lines of a file's YAML that begin with a key."""
    front, first = _front(path)
    return [
        (number + first - 1, line)
        for number, line in enumerate(front.splitlines())
        if re.match(r"\s*(?:- )?[a-z_]+:(?: |$)", line) and "desk:" not in line
    ]


def with_line(path: str, index: int, line: str) -> str:
    lines = FILES[path].splitlines(keepends=True)
    lines[index] = line
    return "".join(lines)


# --- breakers --------------------------------------------------------------------------------

Breaker = Callable[[Random], Break]
BREAKERS: list[Breaker] = []


def breaker(function: Breaker) -> Breaker:
    BREAKERS.append(function)
    return function


def misspelt(word: str, pick: Random) -> str:
    """A word with one slip of the hand."""
    at = pick.randrange(len(word))
    slips = [
        word[:at] + word[at + 1 :],
        word[:at] + word[at] + word[at:],
        word[: max(at - 1, 0)] + word[at : at + 1] + word[max(at - 1, 0) : at] + word[at + 1 :],
        word[:at] + "q" + word[at + 1 :],
        word.capitalize() if word[0].islower() else word.lower(),
    ]
    slips = [slip for slip in slips if slip not in (word, "")]
    return pick.choice(slips)


REQUIRED = {
    "station.yaml": ("station", "programme", "address", "time_zone", "language", "contact", "counties"),
    "places/millrace-library.yaml": ("name", "town", "county", "hours"),
    "places/oakes-porch.yaml": ("name", "town", "county", "hours"),
    STORY_PATH: ("headline", "title", "kind", "dates", "minutes", "payee", "check_again_by", "number", "file", "when", "say"),
    "stories/2025/coat-closet.md": ("headline", "county"),
    "episodes/2026-11-21.md": ("aired", "story", "said", "file"),
    "pages/about.md": ("title",),
}  # fmt: skip


@breaker
def drop_a_required_key(pick: Random) -> Break:
    path = pick.choice(sorted(REQUIRED))
    lines = FILES[path].splitlines(keepends=True)
    candidates = [
        (index, line)
        for index, line in block_lines(path)
        if line.strip().removeprefix("- ").split(":")[0] in REQUIRED[path]
    ]
    index, line = pick.choice(candidates)
    end = index + 1
    if line.rstrip().endswith(":"):  # a key with its list below it
        while end < len(lines) and lines[end].startswith(" "):
            end += 1
    # The first key of an entry leaves its dash to the next.
    rest = "".join(lines[end:])
    if line.lstrip().startswith("- "):
        rest = re.sub(r"\A(\s*)  (\S)", r"\1- \2", rest)
        rest = re.sub(r"\A\s{4}", "  ", rest) if not rest.lstrip().startswith("- ") else rest
    return changed(path, "".join(lines[:index]) + rest)


@breaker
def empty_a_required_key(pick: Random) -> Break:
    found = [
        where
        for where in VALUES
        # The kind of a correction may be left out.
        if where.key in REQUIRED.get(where.path, ()) and where.text not in ("update", "clarification")
    ]
    where = pick.choice(found)
    return changed(
        where.path, where.replaced(pick.choice(["''", '""', '"  "', "~", "null", "[]", "{}", "[~]"]))
    )


@breaker
def misspell_a_key(pick: Random) -> Break:
    candidates = [where for where in KEYS if not where.text[0].isdigit()]
    where = pick.choice(candidates)
    word = misspelt(where.text, pick)
    while word in KNOWN:
        word += "q"
    return changed(where.path, where.replaced(word), where.line)


@breaker
def add_an_unknown_key(pick: Random) -> Break:
    path = pick.choice(YAML_PATHS)
    index, line = pick.choice(block_lines(path))
    indent = " " * (len(line) - len(line.lstrip(" -")))
    if line.lstrip().startswith("- ") or not indent:
        index, indent = (0 if path.endswith(".yaml") else 1), ""
    text = f"{indent}{pick.choice(('weather', 'Headline', 'deadlines', 'x', 'ünï', '0'))}: y\n"
    return changed(
        path, with_line(path, index, text + FILES[path].splitlines(keepends=True)[index]), index + 1
    )


@breaker
def misspell_a_name(pick: Random) -> Break:
    """A county, a place, a story, a picture, captions, a listing, a zone, a theme's or map's file."""
    where = pick.choice(
        [
            *(each for each in values("county", "helps", "follows", "translates", "story", "kept_by", "time_zone", "map", "listing", "captions", "poster") if each.text != "beyond"),
            *(each for each in values("file") if each.text.endswith(".png")),
            *values("place", "where"),
            *(each for each in values("drop_off") if each.path == STORY_PATH),
        ]
    )  # fmt: skip
    word = misspelt(where.text, pick)
    if word.lower().replace("_", "-") == where.text.lower().replace("_", "-"):
        word = where.text + "q"
    return changed(where.path, where.replaced(word), where.line)


WHENS = (
    "aired", "embargo", "rights_end", "starts", "deadline", "check_again_by", "when", "dates", "repeats", "from", "until",
    "expires", "as_of",
)  # fmt: skip
DAYS = ("holidays", "closed", "consent", "date", "counted_on")


@breaker
def write_an_impossible_date(pick: Random) -> Break:
    where = pick.choice([each for each in values(*WHENS, *DAYS) if re.match(r"\d{4}-", each.text)])
    bad = pick.choice(
        ["2026-02-30", "2026-13-01", "2026-00-01", "2026-11-00", "2025-02-29", "9999-12-31", "1066-10-14", "26-12-15", "tomorrow",
         "12/15/2026", "2026-12-15 25:00", "2026-12-15 12:60", "2026-12-15 24:00", "2026-12-15T", "2026-1-5", "20261215", "+1d", "-"]
    )  # fmt: skip
    return changed(where.path, where.replaced(bad))


@breaker
def write_a_time_in_a_clock_gap(pick: Random) -> Break:
    where = pick.choice([each for each in values(*WHENS) if re.match(r"\d{4}-", each.text)])
    text = f"{pick.choice(('2026-03-08', '2027-03-14', '2025-03-09'))} 02:{pick.randrange(60):02d}"
    return changed(where.path, where.replaced(text), where.line)


@breaker
def write_special_hours_of_no_day(pick: Random) -> Break:
    where = pick.choice([each for each in KEYS if each.text[0].isdigit()])
    return changed(
        where.path, where.replaced(pick.choice(("2026-02-30", "Sunday", "1", "2026-12"))), where.line
    )


@breaker
def write_a_wrong_shape(pick: Random) -> Break:
    where = pick.choice([each for each in VALUES if each.text not in ("~",)])
    return changed(
        where.path, where.replaced(pick.choice(("[[x, y]]", "{q: 1}", "[{q: 1}, [z]]", "[x, [y]]")))
    )


@breaker
def flatten_a_list_or_group(pick: Random) -> Break:
    path, key = pick.choice(
        [
            *(("station.yaml", key) for key in ("contact", "counties", "security")),
            *((STORY_PATH, key) for key in ("photo", "video", "withdrawn", "corrections", "asks")),
            *(("episodes/2026-11-21.md", key) for key in ("video", "rundown", "promises")),
            ("places/millrace-library.yaml", "special_hours"),
            ("places/oakes-porch.yaml", "home"),
            ("places/millrace-library.yaml", "position"),
        ]
    )
    text = FILES[path]
    found = re.search(rf"^{key}:.*\n(?:[ ]+.*\n)*", text, re.MULTILINE)
    assert found is not None
    return changed(path, text[: found.start()] + f"{key}: all of it\n" + text[found.end() :])


BAD_WORDS = {
    "kind": ("brng", "Bring", "donate", "help", "go out"),
    "goes_to": ("nobody", "organisation", "person"),
    "step_free": ("maybe", "true", "Yes"),
    "drive_up": ("true", "1"),
    "address": ("hidden", "www.example.org", "ftp://example.org", "Withheld"),
    "use": ("everywhere", "air", "web"),
    "hold": ("yes", "no", "1", "on", "maybe"),
    "children": ("yes", "some", "0"),
    "language": ("English", "e", "en_US", "12"),
    "languages": ("English please", "e"),
    "number": ("four hundred", "4oo", "-1", "1,000.5", "1e3", "٤٠"),
    "so_far": ("lots", "-1"),
    "last_time": ("~1", "0x1F"),
    "minutes": ("0", "-60", "1.5", "an hour", "99999999"),
    "last_days": ("-1", "1.5", "three", "99999999999"),
    "recheck_days": ("0", "weekly", "367"),
    "position": ("north", "134.0", "1e2"),
    "focus": ("2", "-0.1", "left", "nan"),
    "runs": ("95", "1:99", "1:2:3:4", "-0:10", "long"),
    "web_offset": ("10", "--0:10", "0:99"),
    "time": ("9", "00:99:20", "at 9", "-0:00:10"),
    "hours": ('"Mo-Fr 9-25"', '"9-5"', '"Mo-Fr"x', "sometimes", '"Mo 09:00-09:00"', '"Thrusday 9-5"', '"6th Sa 10:00-12:00"'),
    "answers": ("daytime", '"1-5"'),
    "quieter": ("mostly", '"2nd Th"'),
    "phone": ("none", "12", "call us"),
    "email": ("coats", "coats@example", "a b@example.org", "@example.org"),
    "web": ("friends.example.org", "ftp://friends.example.org", "javascript:alert(1)", "https://", "data:text/html,x"),
    "media_host": ("http://video.example.org", "video.example.org", "https://video.example.org/path"),
    "theme": ("../tidetable", "My Theme", "Ä"),
    "say_on_air": ("The Coats", "coats!", "[coats, coat]", "Ä"),
    "heard_as": ("the coat", "cöat", "a/b"),
    "key": ("The Drive", "UPPER", "a b"),
    "old_addresses": ("old/coats", "/Old/", "/", "/a//b/", "https://www.example.org/old/", "/a/../b/"),
    "topics": ("'???'", "'…'"),
    "dates": ("2026-12-26..2026-11-27", "2026-12-01..2026-12-02..2026-12-03", "2026-12-05 19:00..2026-12-05 18:00", "weekends"),
}  # fmt: skip


@breaker
def write_a_bad_word(pick: Random) -> Break:
    key = pick.choice(sorted(BAD_WORDS))
    where = pick.choice(values(key))
    return changed(where.path, where.replaced(pick.choice(BAD_WORDS[key])), where.line)


@breaker
def forget_a_colon(pick: Random) -> Break:
    path = pick.choice(YAML_PATHS)
    index, line = pick.choice(block_lines(path))
    bad = pick.choice(
        (line.replace(":", "", 1), line.replace(": ", ":", 1) if ": " in line else line.replace(":", "", 1))
    )
    return changed(path, with_line(path, index, bad + "\n"))


@breaker
def write_a_key_twice(pick: Random) -> Break:
    path = pick.choice(YAML_PATHS)
    index, line = pick.choice([each for each in block_lines(path) if not each[1].lstrip().startswith("- ")])
    return changed(path, with_line(path, index, f"{line}\n{line}\n"))


@breaker
def put_in_a_tab(pick: Random) -> Break:
    path = pick.choice(YAML_PATHS)
    index, line = pick.choice(block_lines(path))
    bad = pick.choice((f"\t{line}", line.replace(":", ":\t", 1), f"{line}\t"))
    return changed(path, with_line(path, index, bad + "\n"))


@breaker
def leave_something_open(pick: Random) -> Break:
    path = pick.choice(YAML_PATHS)
    index, line = pick.choice([each for each in block_lines(path) if not each[1].endswith(":")])
    bad = (
        re.sub(r": ?", lambda found: f": {pick.choice(chr(34) + chr(39) + '[{')}", line, count=1)
        .replace("]", "")
        .replace("}", "")
    )
    return changed(path, with_line(path, index, bad.rstrip("\"'") + "\n"))


@breaker
def begin_a_value_with_a_reserved_sign(pick: Random) -> Break:
    where = pick.choice([each for each in VALUES if each.text[0] not in "\"'"])
    sign = pick.choice(("&a ", "*a", "!!str ", "!x ", "@", "`", "%", "|x ", "> y ", "}", "]", ", ", "&a !b "))
    return changed(where.path, where.replaced(sign + where.text))


@breaker
def shift_the_indentation(pick: Random) -> Break:
    path = pick.choice(
        [path for path in YAML_PATHS if any(line.startswith(" ") for _, line in block_lines(path))]
    )
    index, line = pick.choice([each for each in block_lines(path) if re.match(r" +[a-z]", each[1])])
    return changed(path, with_line(path, index, pick.choice((line[1:], f" {line}", f"   {line}")) + "\n"))


@breaker
def put_in_bad_bytes(pick: Random) -> Break:
    path = pick.choice(sorted(FILES))
    data = FILES[path].encode("utf-8")
    at = pick.randrange(len(data) + 1)
    bad = pick.choice((b"\xff", b"\xc3(", b"\x80", b"\xed\xa0\x80", b"\xf5\x80\x80\x80", b"\xc0\xaf", b"\0"))
    return Break(path, data[:at] + bad + data[at:])


@breaker
def put_in_an_invisible_character(pick: Random) -> Break:
    where = pick.choice(
        [
            each
            for each in VALUES
            if len(each.text) > 3 and each.key not in ("hours", "special_hours", "closed", "old_addresses")
        ]
    )
    at = pick.randrange(1, len(where.text) - 1)
    letter = pick.choice("\x01\x07\x08\x0b\x0c\x1b\x1f\x7f\x85\x9f\u2028\u2029\u202e\u2066\ufffe\uffff")
    return changed(where.path, where.replaced(where.text[:at] + letter + where.text[at:]), where.line)


@breaker
def save_it_otherwise(pick: Random) -> Break:
    path = pick.choice(YAML_PATHS)
    text = FILES[path]
    encoded = [
        ("\ufeff" + text).encode("utf-8"),
        text.replace("\n", "\r\n").encode("utf-8"),
        text.replace("\n", "\r").encode("utf-8"),
        text.encode("utf-16"),
        text.encode("utf-32-le"),
        b"",
        b"\n \n",
        b"x" * 1_100_000,
        text.encode("cp1252", "replace") + b"caf\xe9\n",
        b"PK\x03\x04" + text.encode("utf-8"),
    ]  # fmt: skip
    return Break(path, pick.choice(encoded))


@breaker
def cut_it_short(pick: Random) -> Break:
    """Anywhere before what a file cannot do without."""
    ends = {path: FILES[path].index("\n---\n", 4) + 4 for path in FILES if path.endswith(".md")}
    ends["station.yaml"] = FILES["station.yaml"].index("counties:") + len("counties:")
    ends["counties.geojson"] = len(MAP.rstrip())
    for place in ("places/millrace-library.yaml", "places/oakes-porch.yaml"):
        ends[place] = FILES[place].index("hours:") + len("hours: ")
    path = pick.choice(sorted(ends))
    return changed(path, FILES[path][: pick.randrange(ends[path])])


@breaker
def spoil_the_front_matter(pick: Random) -> Break:
    path = pick.choice([path for path in FILES if path.endswith(".md")])
    front, body = FILES[path].split("---\n")[1:]
    return changed(
        path,
        pick.choice(
            (
                f"{front}---\n{body}",
                f"---\n{front}{body}",
                f"----\n{front}----\n{body}",
                f"---\n---\n{body}",
                f"---\njust words\n---\n{body}",
                f"---\n- {front.splitlines()[0]}\n---\n{body}",
                f"---\n# {front.splitlines()[0]}\n---\n{body}",
                body,
                f"<!-- x -->\n---\n{front}---\n{body}",
            )
        ),
    )


@breaker
def nest_too_deep(pick: Random) -> Break:
    path = pick.choice(YAML_PATHS)
    levels = pick.choice((13, 40, 3000))
    deep = pick.choice(("[" * levels + "]" * levels, "{a: " * levels + "x" + "}" * levels))
    at = 0 if path.endswith(".yaml") else 4
    return changed(
        path,
        FILES[path][:at]
        + f"desk: {deep}\n"
        + re.sub(r"^desk:.*\n", "", FILES[path][at:], flags=re.MULTILINE),
    )


@breaker
def set_off_a_bomb(pick: Random) -> Break:
    path = pick.choice(YAML_PATHS)
    bomb = "a0: &a0 [x]\n" + "".join(f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]\n" for n in range(1, 9))
    at = 0 if path.endswith(".yaml") else 4
    return changed(path, FILES[path][:at] + bomb + FILES[path][at:])


@breaker
def put_something_else_in_its_place(pick: Random) -> Break:
    path = pick.choice(YAML_PATHS)
    return Break(
        path,
        act=pick.choice((_as_folder, _as_broken_link, _as_link_out, _as_link_to_folder, _as_ring, _as_pipe)),
    )


def _as_folder(target: Path) -> None:
    target.mkdir()


def _as_broken_link(target: Path) -> None:
    target.symlink_to("nowhere.md")


def _as_ring(target: Path) -> None:
    target.symlink_to(target.name)


def _as_link_out(target: Path) -> None:
    target.symlink_to(Path(__file__))


def _as_link_to_folder(target: Path) -> None:
    target.symlink_to(".")


def _as_pipe(target: Path) -> None:
    os.mkfifo(target)


@breaker
def give_a_file_a_bad_name(pick: Random) -> Break:
    path = pick.choice([path for path in YAML_PATHS if path != "station.yaml"])
    folder, _, name = path.rpartition("/")
    stem, _, suffix = name.rpartition(".")
    bad = pick.choice(
        (
            f"{stem} copy",
            stem.upper() + "A",
            f"{stem}_x",
            f"-{stem}",
            f"{stem}--2",
            "ö",
            f"{stem}.x",
            "%41",
            "'",
        )
    )
    return Break(f"{folder}/{bad}.{suffix}", FILES[path].encode("utf-8"))


@breaker
def break_a_listing(pick: Random) -> Break:
    change, to, line = pick.choice(
        (
            ("what,town", "wat,town", 1), ("county,date", "county,date,date", 1), ("what,", "", 1), (",stopped", ",stoped", 1),
            ("Tidewick,2026-12-05,18", "Tidewik,2026-12-05,18", 2), ("2026-12-05,18:00", "2026-12-55,18:00", 2),
            ("2026-12-05,18:00", "Saturday,18:00", 2), ("18:00,20:30", "18:00,18:00", 2), ("18:00,20:30", "18:00,8:30", 2), ("18:00,20:30", "24:00,20:30", 2),
            ('"Pier Lane, north end"', "Pier Lane, north end", 2), ('"Pier Lane, north end"', '"Pier Lane', 2),
            ("Band,Pellam Cross,", ",Pellam Cross,", 4), ("Band,Pellam Cross,", "Band,,", 4), ("Pellam,2026-12-04", ",2026-12-04", 4),
            ("Pellam,2026-12-04", "Pellam,", 4), ("Pellam,2026-12-04,", "Pellam,2026-03-08,02:10", 4), ("2026-12-03 12:00", "2026-12-33 12:00", 4),
            ("2026-12-03 12:00", "2026-03-08 02:00", 4), ("called off", "called off,,,", 3), ("what", "", 1),
        )
    )  # fmt: skip
    assert change in LISTING
    return changed(LISTING_PATH, LISTING.replace(change, to, 1), line)


@breaker
def break_the_captions(pick: Random) -> Break:
    text = FILES["captions/coats.vtt"]
    bad = pick.choice(
        (
            text.replace("WEBVTT", "WEBVT"), text.replace("-->", "->"), text.replace("00:00:03", "00:00:00"), "", "hello\n",
            text.replace("01.000", "01,000"), text.replace("00:00:01.000", "00:00:71.000"),
        )
    )  # fmt: skip
    return changed("captions/coats.vtt", bad)


@breaker
def break_the_map(pick: Random) -> Break:
    bad = pick.choice(
        (
            MAP.replace('"Pellam"', '"Pelam"'), MAP.replace("FeatureCollection", "Features"), MAP.replace("]]]}}]}", "]]]}}]"),
            MAP.replace("[-60.6, 34.5]]]", "[-60.5, 34.4]]]"), MAP.replace("-60.6", '"-60.6"'), "[]", "null", "{}", "", "\n", "NaN",
            MAP.replace("34.8", "NaN"), MAP.replace("34.8", "134.8"), MAP.replace("Polygon", "Point"), "[" * 100_000,
        )
    )  # fmt: skip
    return changed("counties.geojson", bad)


@breaker
def break_a_picture(pick: Random) -> Break:
    bad = pick.choice(
        (
            b"",
            b"GIF89a",
            b"<svg xmlns='http://www.w3.org/2000/svg'/>",
            b"\x89PNG\r\n\x1a\n",
            b"\xff\xd8\xff\xe0",
            b"x" * 100,
        )
    )
    return Break("photos/coat-closet.png", bad)


@breaker
def link_to_nothing(pick: Random) -> Break:
    target = pick.choice(
        ("2025/coat-closset", "coat-closet", "2025/coat-closet.md", "javascript:alert(1)", "data:text/html,x", "//evil.example", "file:///etc/passwd", "../2025/coat-closet")
    )  # fmt: skip
    text = STORY.replace("(2025/coat-closet)", f"({target})")
    return changed(STORY_PATH, text, text[: text.index(f"({target})")].count("\n") + 1)


@breaker
def break_the_station_s_counties(pick: Random) -> Break:
    change, to = pick.choice(
        (
            ("- {name: Pellam}", "- {name: Tidewick}"), ("- {name: Pellam}", "- {name: Pellam, key: tidewick-shore}"),
            ("- {name: Pellam}", "- {name: Beyond}"), ("- {name: Pellam}", "- {name: '???'}"), ("- {name: Pellam}", "- '???'"),
            ("- {name: Pellam}", "- ''\n  - {name: Pellam}"), ("- {name: Pellam}", "- [Pellam]"), ("- Sandy End", "- [Sandy End]"),
            ("[34.7, -60.5]", "[-60.5, 234.7]"), ("[34.7, -60.5]", "34.7"), ("{name: Millrace,", "{nam: Millrace,"),
        )
    )  # fmt: skip
    text = FILES["station.yaml"]
    assert change in text
    return changed("station.yaml", text.replace(change, to, 1))


@breaker
def leave_an_ask_unanswerable(pick: Random) -> Break:
    change, to = pick.choice(
        (
            ("    deadline: ongoing\n    check_again_by: 2027-01-15\n", "    deadline: ongoing\n"),
            ("    deadline: 2026-12-18\n    who_for", "    who_for"),
            ("    dates: 2026-12-18 19:00\n    minutes: 60\n", "    dates: 2026-12-18\n    minutes: 60\n"),
            ("    dates: 2026-12-18 19:00\n    minutes: 60\n", "    dates: 2026-12-18 19:00\n"),
            ("    dates: [2026-12-18 19:00, 2026-11-27..2026-12-26]\n", "    dates: []\n"),
            ("    dates: [2026-12-18 19:00, 2026-11-27..2026-12-26]\n", "    dates: [~]\n"),
            ("    dates: [2026-12-18 19:00, 2026-11-27..2026-12-26]\n", ""),
            ("    where: millrace-library\n", ""),
            ("    where: millrace-library\n", "    where: []\n"),
            ("    where: millrace-library\n", "    contact: {}\n"),
            ("    where: millrace-library\n", "    contact: {languages: [en]}\n"),
            ("    payee: Friends of Millrace Library\n", ""),
            ("    bring: gloves\n    where: millrace-library\n", "    bring: gloves\n    where: ''\n"),
            ("    deadline: 2026-12-14\n", ""),
            ("    deadline: 2026-12-14\n", "    deadline: ''\n"),
        )
    )  # fmt: skip
    assert change in STORY
    return changed(STORY_PATH, STORY.replace(change, to, 1))
