"""Files as they come from the wrong program, disk or hand: a located fault each, the others read all the same."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from sitegen.geography.shapes import read_map
from sitegen.newsroom.contentfiles import MOST_BYTES
from sitegen.newsroom.folder import read_newsroom
from sitegen.newsroom.records import Finding, Reading
from tests.newsroom.whole_station import LISTING, PLACE, STATION, STORY, write_whole

TEXT_FILES = {
    "station.yaml": STATION,
    "places/millrace-library.yaml": PLACE,
    "stories/2026/coat-closet.md": STORY,
}
HAND_WRITTEN = pytest.mark.parametrize("path", sorted(TEXT_FILES))


def read(root: Path, **_: object) -> Reading:
    return read_newsroom(root, read_map)


def faults_of(reading: Reading, path: str) -> list[Finding]:
    """The faults of one file, each well placed and with words."""
    found = [fault for fault in reading.faults if fault.spot.path == f"content/{path}"]
    for fault in found:
        assert fault.message and fault.spot.line >= 1 and fault.spot.column >= 1
    return found


def only(reading: Reading, path: str) -> Finding:
    assert len(reading.faults) == 1, reading.faults
    (fault,) = faults_of(reading, path)
    assert fault.instead
    return fault


# --- bytes -----------------------------------------------------------------------------------


@HAND_WRITTEN
def test_a_byte_order_mark_is_a_fault_and_the_file_is_read(tmp_path: Path, path: str) -> None:
    reading = read(write_whole(tmp_path, {path: "\ufeff" + TEXT_FILES[path]}))
    fault = only(reading, path)
    assert (fault.check, fault.spot.line, fault.spot.column) == ("byte-order-mark", 1, 1)
    assert reading.newsroom is not None and len(reading.newsroom.stories) == 2


@HAND_WRITTEN
@pytest.mark.parametrize("end", ["\r\n", "\r"])
def test_carriage_returns_are_one_fault_and_the_file_is_read(tmp_path: Path, path: str, end: str) -> None:
    reading = read(write_whole(tmp_path, {path: TEXT_FILES[path].replace("\n", end)}))
    assert only(reading, path).check == "line-ends"
    assert reading.newsroom is not None and len(reading.newsroom.stories) == 2


def test_lines_of_other_faults_stay_right_with_carriage_returns(tmp_path: Path) -> None:
    text = PLACE.replace("hours:", "hourz:").replace("\n", "\r\n")
    found = faults_of(
        read(write_whole(tmp_path, {"places/millrace-library.yaml": text})), "places/millrace-library.yaml"
    )
    line = PLACE.splitlines().index(next(row for row in PLACE.splitlines() if row.startswith("hours"))) + 1
    assert ("unknown-key", line) in {(fault.check, fault.spot.line) for fault in found}


@HAND_WRITTEN
def test_a_byte_that_is_not_utf_8(tmp_path: Path, path: str) -> None:
    data = TEXT_FILES[path].encode()
    at = data.index(b"illrace")
    reading = read(write_whole(tmp_path, {path: data[:at] + b"\xe9" + data[at:]}))
    fault = faults_of(reading, path)[0]
    before = data[:at].decode()
    assert (fault.check, fault.spot.line) == ("not-utf-8", before.count("\n") + 1)
    assert fault.spot.column == len(before) - before.rfind("\n")


@HAND_WRITTEN
def test_utf_16(tmp_path: Path, path: str) -> None:
    assert faults_of(read(write_whole(tmp_path, {path: TEXT_FILES[path].encode("utf-16")})), path)


@HAND_WRITTEN
def test_a_nul_character(tmp_path: Path, path: str) -> None:
    text = TEXT_FILES[path].replace("Millrace", "Mill\0race", 1)
    fault = faults_of(read(write_whole(tmp_path, {path: text})), path)[0]
    assert fault.spot.line == text[: text.index("\0")].count("\n") + 1


@HAND_WRITTEN
@pytest.mark.parametrize("letter", ["\x0b", "\x0c", "\x1b", "\x7f", "\x85", "\u2028", "\u2029", "\u202e"])
def test_invisible_characters(tmp_path: Path, path: str, letter: str) -> None:
    text = TEXT_FILES[path].replace("Millrace", f"Mill{letter}race", 1)
    fault = faults_of(read(write_whole(tmp_path, {path: text})), path)[0]
    assert fault.spot.line == text[: text.index(letter)].count("\n") + 1, fault


def test_invisible_line_ends_do_not_shift_the_lines_of_other_faults(tmp_path: Path) -> None:
    """A line separator, as word processors paste it, is a line to YAML and none to an editor."""
    text = PLACE.replace("2 Pier Lane", "2 Pier\u2028Lane").replace("desk: {key: with Ada}", "deks: x")
    found = faults_of(
        read(write_whole(tmp_path, {"places/millrace-library.yaml": text})), "places/millrace-library.yaml"
    )
    assert ("unknown-key", text.count("\n")) in {(fault.check, fault.spot.line) for fault in found}


def test_tabs_in_front_matter_and_yaml_but_not_in_bodies(tmp_path: Path) -> None:
    story = STORY.replace("reporter: Ada", "reporter:\tAda") + "\n\tcode\n"
    place = PLACE.replace("name: ", "name:\t")
    page = "---\ntitle: About us\n---\na\tb\n"
    changes = {
        "stories/2026/coat-closet.md": story,
        "places/millrace-library.yaml": place,
        "pages/about.md": page,
    }
    reading = read(write_whole(tmp_path, dict(changes)))
    (in_story,), (in_place,) = (faults_of(reading, path) for path in list(changes)[:2])
    assert (in_story.check, in_story.spot.line, in_story.spot.column) == ("tab", 7, 10)
    assert (in_place.check, in_place.spot.line, in_place.spot.column) == ("tab", 1, 6)
    assert not faults_of(reading, "pages/about.md")


@HAND_WRITTEN
@pytest.mark.parametrize("text", ["", "\n", "   \n\n", "\ufeff", "\r\n"])
def test_an_empty_file(tmp_path: Path, path: str, text: str) -> None:
    assert "empty-file" in {
        fault.check for fault in faults_of(read(write_whole(tmp_path, {path: text})), path)
    }


@HAND_WRITTEN
def test_a_huge_file_is_not_read(tmp_path: Path, path: str) -> None:
    text = TEXT_FILES[path] + "x" * (MOST_BYTES + 1)
    assert faults_of(read(write_whole(tmp_path, {path: text})), path)[0].check == "huge-file"


# --- front matter ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("headline: x\n", 1),  # no front matter at all
        ("---\nheadline: x\n", 1),  # no end
        ("---\n---\nbody\n", 1),
        ("---\n# only a comment\n---\n", 1),
        ("---\njust words\n---\n", 2),
        ("---\n- a list\n---\n", 2),
        ("\n\n---\nheadline: x\naired: 2026-11-21\ncountry: beyond\n---\n", 6),
        ("----\nheadline: x\n----\n", 1),
    ],
)
def test_front_matter_that_is_not_whole(tmp_path: Path, text: str, line: int) -> None:
    found = faults_of(read(write_whole(tmp_path, {"stories/2026/x.md": text})), "stories/2026/x.md")
    assert line in {fault.spot.line for fault in found}


def test_a_body_keeps_its_first_line_s_indentation_and_its_lines(tmp_path: Path) -> None:
    """An indented first line is code in CommonMark; and links are told with the line they stand on."""
    text = "---\nheadline: x\naired: 2026-11-21\ncounty: beyond\n---\n\n\n    code\n\n[a](2026/none)\n"
    reading = read(write_whole(tmp_path, {"stories/2026/x.md": text}))
    assert only(reading, "stories/2026/x.md").spot.line == 10
    assert reading.newsroom is not None
    story = next(each for each in reading.newsroom.stories if each.id == "2026/x")
    assert story.body.startswith("    code") and story.body_line == 8


def test_dashes_inside_values_do_not_end_the_front_matter(tmp_path: Path) -> None:
    text = '---\nheadline: "x --- y"\nsummary: |\n  one\n  --- \n  two\naired: 2026-11-21\ncounty: beyond\n---\nb\n\n---\n\nc\n'
    reading = read(write_whole(tmp_path, {"stories/2026/x.md": text}))
    assert not reading.faults and reading.newsroom is not None
    story = next(each for each in reading.newsroom.stories if each.id == "2026/x")
    assert (story.headline, story.body) == ("x --- y", "b\n\n---\n\nc")


# --- the folder ------------------------------------------------------------------------------


def test_a_folder_named_like_a_file(tmp_path: Path) -> None:
    root = write_whole(tmp_path)
    for path in ("stories/2026/x.md", "places/x.yaml", "episodes/x.md", "pages/x.md"):
        (root / "content" / path).mkdir()
        (root / "content" / path / "inside.md").write_text("x")
    reading = read(root)
    assert len(reading.faults) == 4
    for path in ("stories/2026/x.md", "places/x.yaml", "episodes/x.md", "pages/x.md"):
        assert faults_of(reading, path)[0].check == "folder-not-file"


def test_folders_where_named_files_should_be(tmp_path: Path) -> None:
    changes: dict[str, str | bytes | None] = dict.fromkeys(
        ("station.yaml", "captions/coats.vtt", "listings/parades-2026.csv", "counties.geojson")
    )
    root = write_whole(tmp_path, changes)
    for path in changes:
        (root / "content" / path).mkdir(parents=True, exist_ok=True)
    (root / "content" / "photos" / "coat-closet.png").unlink()
    (root / "content" / "photos" / "coat-closet.png").mkdir()
    reading = read(root)
    assert reading.newsroom is None
    assert faults_of(reading, "station.yaml")[0].check == "folder-not-file"
    assert {fault.check for fault in faults_of(reading, "stories/2026/coat-closet.md")} == {"unknown-file"}


def test_a_file_where_a_folder_should_be(tmp_path: Path) -> None:
    root = write_whole(tmp_path, {"pages/about.md": None})
    (root / "content" / "pages").write_text("x")
    assert faults_of(read(root), "pages")[0].check == "unreadable"


def test_links_out_of_the_content_folder_are_not_followed(tmp_path: Path) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    for name in ("s.md", "p.yaml", "c.vtt", "l.csv", "m.geojson"):
        (outside / name).write_text("---\nheadline: Secretword\n---\n")
    (outside / "p.png").write_bytes(b"Secretword")
    changes: dict[str, str | bytes | None] = dict.fromkeys(
        ("captions/coats.vtt", "listings/parades-2026.csv", "counties.geojson")
    )
    root = write_whole(tmp_path / "in", changes)
    content = root / "content"
    (content / "photos" / "coat-closet.png").unlink()
    links = {
        "stories/2026/link.md": outside / "s.md",
        "stories/2026/folder": outside,
        "places/link.yaml": outside / "p.yaml",
        "captions/coats.vtt": outside / "c.vtt",
        "listings/parades-2026.csv": outside / "l.csv",
        "counties.geojson": outside / "m.geojson",
        "photos/coat-closet.png": outside / "p.png",
        "pages/nowhere.md": outside / "none.md",
        "pages/round.md": content / "pages" / "round.md",
    }
    for path, target in links.items():
        (content / path).parent.mkdir(parents=True, exist_ok=True)
        (content / path).symlink_to(target)
    reading = read(root)
    for path in links:
        assert faults_of(reading, path), path
    assert "Secretword" not in repr(reading)


def test_a_station_file_that_is_a_link_out(tmp_path: Path) -> None:
    (tmp_path / "elsewhere.yaml").write_text(STATION)
    root = write_whole(tmp_path / "in", {"station.yaml": None})
    (root / "content" / "station.yaml").symlink_to(tmp_path / "elsewhere.yaml")
    assert faults_of(read(root), "station.yaml")[0].check == "link-outside"


def test_links_inside_the_content_folder_are_followed(tmp_path: Path) -> None:
    root = write_whole(tmp_path)
    (root / "content" / "pages" / "again.md").symlink_to("about.md")
    reading = read(root)
    assert not reading.faults and reading.newsroom is not None
    assert [page.id for page in reading.newsroom.pages] == ["about", "again"]


@pytest.mark.parametrize(
    "path", ["station.yaml", "stories/2026/x.md", "captions/coats.vtt", "listings/parades-2026.csv"]
)
def test_a_pipe_is_not_waited_for(tmp_path: Path, path: str) -> None:
    root = write_whole(tmp_path, {path: None})
    (root / "content" / path).parent.mkdir(parents=True, exist_ok=True)
    os.mkfifo(root / "content" / path)
    assert read(root).faults


def test_no_content_at_all(tmp_path: Path) -> None:
    reading = read(tmp_path)
    assert reading.newsroom is None
    assert faults_of(reading, "station.yaml")[0].check == "missing"


def test_folders_other_than_stories_may_be_missing(tmp_path: Path) -> None:
    least = "station: S\nprogramme: P\naddress: https://www.example.org/\ntime_zone: Europe/London\nlanguage: en\ncontact: {mail: x}\ncounties: [A]\n"
    (tmp_path / "content").mkdir()
    (tmp_path / "content" / "station.yaml").write_text(least)
    reading = read(tmp_path)
    assert not reading.findings and reading.newsroom is not None


@pytest.mark.parametrize(
    "name", ["Coat Closet.md", "coat_closet.md", "café.md", "UPPER.md", ".md2.md", "-.md", "a--b.md"]
)
def test_names_that_cannot_stand_in_an_address(tmp_path: Path, name: str) -> None:
    reading = read(write_whole(tmp_path, {f"stories/2026/{name}": STORY}))
    if name.startswith("."):
        assert not reading.faults  # hidden files are nobody's business
    else:
        assert faults_of(reading, f"stories/2026/{name}")[0].check == "file-name"


def test_a_file_name_that_is_not_text(tmp_path: Path) -> None:
    root = write_whole(tmp_path)
    (root / "content" / "stories" / "2026" / os.fsdecode(b"\xff.md")).write_text(STORY)
    (fault,) = read(root).faults
    for text in (fault.spot.path, fault.message, fault.instead):
        text.encode("utf-8")  # it can be printed


def test_what_is_not_read_is_told(tmp_path: Path) -> None:
    root = write_whole(
        tmp_path, {"stories/2026/notes.txt": "x", "places/hall.yml": PLACE, "pages/old/x.md": "x"}
    )
    reading = read(root)
    assert not reading.faults
    told = {finding.spot.path for finding in reading.findings if finding.check == "not-read"}
    assert told == {"content/stories/2026/notes.txt", "content/places/hall.yml", "content/pages/old"}


@pytest.mark.parametrize(
    "name",
    [
        "../station.yaml",
        "/etc/passwd",
        "a/../../b.png",
        "x" * 300 + ".png",
        ".",
        "..",
        "a\\b.png",
        "none.png",
    ],
)
def test_names_of_files_that_are_not_there(tmp_path: Path, name: str) -> None:
    story = STORY.replace("file: coat-closet.png", f"file: '{name}'").replace(
        "captions: coats.vtt", f"captions: '{name}'"
    )
    story = story.replace("poster: coat-closet.png", f"poster: '{name}'").replace(
        "listing: parades-2026.csv", f"listing: '{name}'"
    )
    station = STATION.replace("map: counties.geojson", f"map: '{name}'")
    reading = read(write_whole(tmp_path, {"stories/2026/coat-closet.md": story, "station.yaml": station}))
    # The photo, the captions, the poster, the listing; and the map.
    assert len(faults_of(reading, "stories/2026/coat-closet.md")) == 4
    assert len(faults_of(reading, "station.yaml")) == 1
    assert len(reading.faults) == 5


# --- round-ups -------------------------------------------------------------------------------


@pytest.mark.parametrize("letter", ["\x0b", "\x0c", "\x1c", "\x85", "\u2028", "\u2029"])
def test_a_cell_is_not_cut_at_characters_that_are_no_line_ends(tmp_path: Path, letter: str) -> None:
    text = LISTING.replace("Bring a lamp", f"Bring{letter}a lamp")
    reading = read(write_whole(tmp_path, {"listings/parades-2026.csv": text}))
    assert reading.newsroom is not None
    entries = next(each for each in reading.newsroom.stories if each.listing).listing
    assert [entry.origin.spot.line for entry in entries] == [4, 3, 2]


@pytest.mark.parametrize("end", ["\r\n", "\r", "\n"])
def test_spreadsheets_write_listings_with_any_line_ends_and_a_mark(tmp_path: Path, end: str) -> None:
    text = "\ufeff" + LISTING.replace("\n", end)
    assert not read(write_whole(tmp_path, {"listings/parades-2026.csv": text})).faults


@pytest.mark.parametrize(
    ("change", "to", "line", "check"),
    [
        ("what,town", "wat,town", 1, "unknown-key"),
        ("what,town", "town,town", 1, "key-twice"),
        ("Tidewick,2026-12-05,18:00", "Tidewik,2026-12-05,18:00", 2, "unknown-county"),
        ("2026-12-05,18:00", "2026-02-30,18:00", 2, "time"),
        ("2026-12-05,18:00", "2026-12-05,6 pm", 2, "time"),
        ("2026-12-05,17:00,01:00", "2026-12-05,17:00,25:00", 3, "time"),
        ("18:00,20:30", "18:00,18:00", 2, "time"),  # a whole day, or a slip of the hand
        ("Band,", ",", 4, "missing"),
        ('"Pier Lane, north end"', "Pier Lane, north end", 2, "csv"),
        ('"Pier Lane, north end"', '"Pier Lane', 2, "csv"),
        ("2026-12-03 12:00 moved", "2026-13-03 12:00 moved", 4, "time"),
        ("2026-12-03 12:00 moved", "2026-03-08 02:30 moved", 4, "time-in-gap"),
        ("2026-12-04,,,,", "2026-03-08,02:30,,,", 4, "time-in-gap"),
    ],
)
def test_faults_of_a_listing(tmp_path: Path, change: str, to: str, line: int, check: str) -> None:
    assert change in LISTING
    text = LISTING.replace(change, to, 1)
    found = faults_of(
        read(write_whole(tmp_path, {"listings/parades-2026.csv": text})), "listings/parades-2026.csv"
    )
    assert (check, line) in {(fault.check, fault.spot.line) for fault in found}


def test_an_entry_that_runs_past_midnight_ends_on_the_next_day_s_clock(tmp_path: Path) -> None:
    """New York's clocks skip 02:00 to 03:00 on 2026-03-08: an end at 02:30 of that night is a fault, one of the next is not."""
    head = LISTING.splitlines()[0]
    rows = [
        "Ball,Millrace,Tidewick,2026-03-07,22:00,02:30,,,",
        "Ball,Millrace,Tidewick,2026-03-08,22:00,02:30,,,",
    ]
    text = "\n".join([head, *rows]) + "\n"
    found = faults_of(
        read(write_whole(tmp_path, {"listings/parades-2026.csv": text})), "listings/parades-2026.csv"
    )
    assert [(fault.check, fault.spot.line) for fault in found] == [("time-in-gap", 2)]


def test_a_time_that_comes_twice_is_a_concern_in_a_listing_too(tmp_path: Path) -> None:
    head = LISTING.splitlines()[0]
    text = f"{head}\nBall,Millrace,Tidewick,2026-11-01,01:30,,,,\nBall,Millrace,Tidewick,2026-10-31,22:00,01:15,,,\n"
    reading = read(write_whole(tmp_path, {"listings/parades-2026.csv": text}))
    assert not reading.faults
    assert [finding.spot.line for finding in reading.findings if finding.check == "time-twice"] == [2, 3]
