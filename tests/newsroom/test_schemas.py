"""The schemas of the files a producer writes: every key and no other, every good file, and nothing refused that is read."""

from __future__ import annotations

import csv
import json
import re
from collections import Counter
from collections.abc import Iterator
from functools import cache
from importlib import resources
from io import StringIO
from pathlib import Path
from random import Random
from typing import Any

import jsonschema
import pytest

from sitegen.geography.shapes import read_map
from sitegen.newsroom.drafting import draft
from sitegen.newsroom.folder import read_newsroom
from sitegen.newsroom.nodes import Mapping, Node, Scalar, compose
from sitegen.newsroom.records import Newsroom
from sitegen.newsroom.schemas import NAMES, schema_of, schema_text
from tests.counts import LONG, SEED
from tests.newsroom.breaking import BREAKERS
from tests.newsroom.test_thousand import Broken
from tests.newsroom.whole_station import FILES, write_whole

ROOT = Path(__file__).parents[2]
COUNT = 20_000 if LONG else 1_500
FOLDERS = {"stories": "story", "episodes": "episode", "places": "place", "pages": "page"}


# --- a file as an editor sees it ---------------------------------------------------------------

# YAML 1.2.2, 10.3.2: how the core schema reads a plain scalar.
_INTEGER = re.compile(r"[-+]?[0-9]+|0o[0-7]+|0x[0-9a-fA-F]+")
_FLOAT = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?")


def value_of(node: Node) -> Any:
    if isinstance(node, Mapping):
        return {key.text: value_of(value) for key, value in node.entries}
    if not isinstance(node, Scalar):
        return [value_of(item) for item in node.items]
    if not node.plain:
        return node.text
    if node.is_nothing:
        return None
    if node.text in ("true", "True", "TRUE", "false", "False", "FALSE"):
        return node.text.lower() == "true"
    if _INTEGER.fullmatch(node.text):
        return int(node.text, 0 if node.text[:2] in ("0o", "0x") else 10)
    return float(node.text) if _FLOAT.fullmatch(node.text) else node.text


def test_scalars_are_read_as_the_standard_s_own_example_has_them() -> None:
    # YAML 1.2.2, example 10.3 and the table before it.
    text = "[null, true, False, 0, 0o7, 0x3A, -19, 0., -0.0, .5, +12e03, -2E+05, 2026-12-15, yes, 12:30]"
    node, _ = compose(text)
    assert node is not None
    assert value_of(node) == [
        None, True, False, 0, 7, 58, -19, 0.0, -0.0, 0.5, 12000.0, -200000.0, "2026-12-15", "yes", "12:30",
    ]  # fmt: skip


def kind_of(path: str) -> str:
    return "station" if path == "station.yaml" else FOLDERS.get(path.split("/")[0], "")


def front_of(text: str, path: str) -> Any:
    """The value of a file's YAML; None where it cannot be parsed to a group of keys, as in an editor that shows other errors."""
    parts = text.split("---\n")
    if path.endswith(".md"):
        if len(parts) < 3 or parts[0]:
            return None
        text = parts[1]
    node, problems = compose(text)
    return value_of(node) if isinstance(node, Mapping) and not problems else None


@cache
def validator(name: str) -> Any:
    return jsonschema.Draft202012Validator(schema_of(name))


def complaints(name: str, value: Any) -> list[str]:
    return [f"{error.json_path}: {error.message}"[:200] for error in validator(name).iter_errors(value)]


def test_a_range_of_closed_days_is_one() -> None:
    place = {"name": "Hall", "town": "Lowgate", "county": "Heron Flats", "hours": "unknown"}
    assert not complaints("place", place | {"closed": ["2026-12-24..2027-01-01", "2027-01-18"]})
    assert complaints("place", place | {"closed": "2026-12-24..Jan 1"})


# --- the schemas themselves --------------------------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
def test_the_published_file_is_what_the_program_makes(name: str) -> None:
    shipped = resources.files("sitegen").joinpath(f"schemas/{name}.schema.json").read_text("utf-8")
    assert shipped == schema_text(name)
    jsonschema.Draft202012Validator.check_schema(json.loads(shipped))


def groups(schema: Any, at: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    """Every group of keys in a schema, with where it stands."""
    if isinstance(schema, dict):
        if schema.get("additionalProperties") is False:
            yield at, schema
        for key, part in schema.items():
            yield from groups(part, f"{at}/{key}")
    elif isinstance(schema, list):
        for number, part in enumerate(schema):
            yield from groups(part, f"{at}/{number}")


@pytest.mark.parametrize("name", NAMES)
def test_every_key_says_what_it_is_for(name: str) -> None:
    for at, group in groups(schema_of(name)):
        for key, schema in group["properties"].items():
            assert "description" in schema or "$ref" in json.dumps(schema), f"{at}: {key}"
        assert set(group.get("required", ())) <= set(group["properties"]), at


# --- against the readers -----------------------------------------------------------------------


def unknown_keys(tmp_path: Path, path: str, text: str) -> set[str]:
    reading = read_newsroom(write_whole(tmp_path, {path: text}), read_map)
    lines = text.splitlines()
    return {
        re.sub(r"[^\w].*", "", lines[each.spot.line - 1][each.spot.column - 1 :])
        for each in reading.findings
        if each.check == "unknown-key" and each.spot.path == f"content/{path}"
    }


def top_keys(name: str) -> list[str]:
    return list(schema_of(name)["properties"])


@pytest.mark.parametrize(
    ("name", "path"),
    [
        ("station", "station.yaml"), ("story", "stories/2026/coat-closet.md"), ("episode", "episodes/2026-11-21.md"),
        ("place", "places/millrace-library.yaml"), ("page", "pages/about.md"),
    ],
)  # fmt: skip
def test_a_file_s_keys_are_the_reader_s(name: str, path: str, tmp_path: Path) -> None:
    """Every key of the schema is one that the reader knows, whatever stands there; one more is unknown to both."""
    keys = [*top_keys(name), "nonsense"]
    body = "".join(f"{key}: \n" for key in keys)
    text = f"---\n{body}---\nBody.\n" if path.endswith(".md") else body
    assert unknown_keys(tmp_path, path, text) == {"nonsense"}
    assert complaints(name, {**front_of(FILES[path], path), "nonsense": 1})
    # And the reverse: the whole station has every key of every file, and nothing of it is unknown to the schema.
    assert set(front_of(FILES[path], path)) <= set(keys)


def test_inner_groups_have_the_reader_s_keys(tmp_path: Path) -> None:
    """The same of asks, places in asks, goals, contacts and the like, each written out with every key of the schema."""
    seen = 0
    for name, path, wrap in (
        ("story", "stories/2026/coat-closet.md", "---\nheadline: H\naired: 2026-11-21\ncounty: Tidewick\n@@---\nBody.\n"),
        ("episode", "episodes/2026-11-21.md", "---\naired: 2026-11-21 18:30\n@@---\nBody.\n"),
        ("station", "station.yaml", FILES["station.yaml"].split("contact:")[0] + "@@"),
        ("place", "places/millrace-library.yaml", FILES["places/millrace-library.yaml"].split("desk:")[0] + "@@"),
    ):  # fmt: skip
        for at, group in groups(schema_of(name)):
            if not at:
                continue
            keys = ", ".join(f"{key}: ''" for key in (*group["properties"], "nonsense"))
            lines = written_at(at, "{" + keys + "}")
            if lines is None:
                continue
            seen += 1
            base = wrap
            for key in re.findall(r"^(\w+):", lines, re.M):
                base = re.sub(rf"^{key}:.*\n", "", base, flags=re.M)
            assert unknown_keys(tmp_path / f"{seen}", path, base.replace("@@", lines)) == {"nonsense"}, (
                f"{name}{at}: {lines}"
            )
    assert seen >= 18


def written_at(at: str, group: str) -> str | None:
    """Front matter in which a group of keys stands at a place of the schema."""
    keys = re.findall(r"/properties/(\w+)", at)
    if at.startswith("/$defs/"):
        part = at.split("/")[2]
        place = "where" if part == "place" else part
        inner = {"stopped": f"stopped: {group}", "place": f"where: [{group}]"}.get(part)
        if part == "ask":
            inner = f"{keys[0]}: {group}" if keys else None
            if inner is None:
                return f"asks:\n  - {group}\n"
        if part == "place":
            is_reference = "/then/then" in at
            if keys:
                inner = (
                    f"where: [{{place: millrace-library, {keys[0]}: {group}}}]"
                    if is_reference
                    else (f"where: [{{name: N, {keys[0]}: {group}}}]")
                )
            elif not is_reference:
                # With `place` among its keys it would be a reference.
                inner = f"where: [{group}]"
        assert inner is not None, (at, place)
        return f"asks:\n  - title: T\n    {inner}\n"
    if not keys:
        return None
    if "/items" in at and len(keys) == 1:
        return f"{keys[0]}:\n  - {group}\n"
    if len(keys) == 2 and keys[0] == "counties":
        return f"counties:\n  - name: N\n    {keys[1]}: [{group}]\n"
    return f"{keys[0]}: {group}\n"


def test_a_listing_s_columns_are_the_reader_s() -> None:
    rows = list(csv.DictReader(StringIO(FILES["listings/parades-2026.csv"])))
    assert list(rows[0]) == top_keys("listing")
    for row in rows:
        assert not complaints("listing", row)
    assert complaints("listing", {"what": "Band"}) and complaints("listing", {**rows[0], "nonsense": "1"})


# --- good files --------------------------------------------------------------------------------


@pytest.mark.parametrize("content", ["demonstration", "whole"])
def test_every_good_file_passes(content: str, tmp_path: Path) -> None:
    root = ROOT if content == "demonstration" else write_whole(tmp_path)
    seen: Counter[str] = Counter()
    for path in sorted((root / "content").rglob("*")):
        name = kind_of(path.relative_to(root / "content").as_posix())
        if name and path.suffix in (".md", ".yaml"):
            value = front_of(path.read_text("utf-8"), path.name)
            assert value is not None and not complaints(name, value), (path, complaints(name, value))
            seen[name] += 1
    assert set(seen) == {"station", *FOLDERS.values()} and seen.total() >= (
        150 if content == "demonstration" else 7
    )


@cache
def demonstration() -> Newsroom:
    newsroom = read_newsroom(ROOT, read_map).newsroom
    assert newsroom is not None
    return newsroom


@pytest.mark.parametrize(
    ("what", "answers"),
    [
        ("story", {"headline": "Coats", "aired": "2026-11-21", "county": "Tidewick"}),
        ("story", {"headline": "Coats", "aired": "2026-11-21", "county": "Tidewick", "kind": "bring", "title": "Bring: a coat",
                   "deadline": "ongoing", "place": "millrace-library", "phone": "237-555-0142"}),
        ("story", {"headline": "1984", "aired": "2026-11-21 18:30", "town": "Millrace", "kind": "go", "title": "Look",
                   "dates": "2026-11-27..2026-12-26, 2026-12-28 17:00", "place": "millrace-library"}),
        ("story", {"headline": "Song", "aired": "2026-11-21", "county": "beyond", "kind": "tune in", "title": "Watch",
                   "dates": "2026-12-18 19:00", "minutes": "60"}),
        ("story", {"headline": "Fund", "aired": "2026-11-21", "county": "Tidewick", "kind": "give", "title": "Give",
                   "deadline": "2026-12-15", "payee": "Friends"}),
        ("episode", {"aired": "2026-11-22 18:30", "title": "Yes"}),
        ("place", {"name": "Null", "town": "Millrace", "county": "Tidewick", "hours": "9-5 Mon"}),
        ("page", {"title": "About: us", "summary": "no"}),
    ],
)  # fmt: skip
def test_every_drafted_file_passes_but_for_its_blanks(what: str, answers: dict[str, str]) -> None:
    if what == "place":
        answers = {**answers, "hours": "Mo-Fr 09:00-17:00"}
    path, text = draft(what, answers, demonstration())
    value = front_of(text, path)
    assert value is not None
    blanks = {key for key, held in value.items() if held is None}
    left = [each for each in complaints(what, value) if not any(f"$.{key}" in each for key in blanks)]
    assert not [each for each in left if "check_again_by" not in each], left


# --- broken files ------------------------------------------------------------------------------


def test_what_a_schema_refuses_the_reader_refuses_too(tmp_path: Path) -> None:
    print(f"seed {SEED}")
    broken = Broken(tmp_path / "broken")
    judged = refused = 0
    for number in range(COUNT):
        each = BREAKERS[number % len(BREAKERS)](Random(f"{SEED} {number}"))
        name = kind_of(each.path)
        if each.data is None or not name:
            continue
        try:
            value = front_of(each.data.decode("utf-8"), each.path)
        except UnicodeDecodeError:
            continue
        if value is None:
            continue
        judged += 1
        found = complaints(name, value)
        if not found:
            continue
        refused += 1
        faults = [fault for fault in broken.read(each).faults if fault.spot.path == f"content/{each.path}"]
        assert faults, (number, each.path, found, each.data.decode("utf-8"))
    print(f"{judged} could be judged, {refused} were refused")
    # An editor shows most of what is wrong as it is typed.
    assert judged > COUNT // 3 and refused > judged // 3


BLANKS = ["", "null", "~", "''", "' '", "[]", "[null, '']"]


@pytest.mark.parametrize("blank", BLANKS)
@pytest.mark.parametrize("path", ["stories/2026/coat-closet.md", "station.yaml", "episodes/2026-11-21.md"])
def test_a_key_left_blank_is_refused_only_where_the_reader_wants_it(
    path: str, blank: str, tmp_path: Path
) -> None:
    name = kind_of(path)
    broken = Broken(tmp_path)
    front = FILES[path].split("---\n")[1] if path.endswith(".md") else FILES[path]
    for key in top_keys(name):
        # The key's own lines go, with whatever is indented below it.
        rest = re.sub(rf"^{key}:.*\n(?:[ -].*\n)*", f"{key}: {blank}\n", front, flags=re.M)
        assert rest != front
        text = FILES[path].replace(front, rest)
        # The one exception: an empty list where one text is wanted is marked, though the reader takes it for nothing.
        found = [
            each for each in complaints(name, front_of(text, path)) if "is not of type 'string'" not in each
        ]
        (tmp_path / "content" / path).write_text(text, "utf-8")
        reading = read_newsroom(tmp_path, read_map)
        (tmp_path / "content" / path).write_text(FILES[path], "utf-8")
        faults = [fault for fault in reading.faults if fault.spot.path == f"content/{path}"]
        assert not found or faults, (key, blank, found)
    assert not broken.read().faults
