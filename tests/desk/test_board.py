"""The desk's board: what the newsroom must know and do; and every page of the desk through the checks of pages."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, timedelta
from html import unescape
from pathlib import Path
from shutil import copytree

import pytest

from sitegen.proof.pagecheck import check_page, contrast_judge
from tests.desk.running_desk import Desk, desk_of
from tests.samples.station_folder import STATION, asking, story, write_folder

ROOT = Path(__file__).resolve().parents[2]


def section(text: str, name: str) -> str:
    """The words of a section of the board."""
    found = re.search(rf'<section aria-labelledby="{name}">(.*?)</section>', text, re.S)
    assert found is not None
    return unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", found[1]))).replace("\xa0", " ")


def board(root: Path, at: str = "") -> str:
    with desk_of(root) as desk:
        answer = desk.ask(f"/_desk/?at={at}" if at else "/_desk/")
    assert answer.status == 200
    return answer.text


def test_what_closes_within_a_week_is_listed_and_nothing_later(tmp_path: Path) -> None:
    soon = asking(title="Bring a coat", more="deadline: 2026-12-08")
    late = asking(title="Bring a hat", more="deadline: 2026-12-12")
    root = write_folder(tmp_path, {"stories/2026/a.md": story(soon), "stories/2026/b.md": story(late)})
    closes = section(board(root), "closes")
    assert "Tue Dec 8, end of day 'Bring a coat' ends" in closes
    assert "hat" not in closes
    assert "'Bring a hat' ends" in section(board(root, "2026-12-09T12:00"), "closes")


def test_who_is_to_be_called_is_named(tmp_path: Path) -> None:
    more = "deadline: 2026-12-20\ncontact: {name: The Friends, phone: 237-555-0142}\nconfirmed: {date: 2026-11-20, with: the branch manager}"
    root = write_folder(tmp_path, {"stories/2026/a.md": story(asking(more=more))})
    confirm = section(board(root), "confirm")
    assert "last confirmed 2026-11-20" in confirm
    assert "the branch manager" in confirm and "237-555-0142" in confirm
    assert "content/stories/2026/a.md:" in confirm


def test_promises_stand_apart_from_other_concerns(tmp_path: Path) -> None:
    episode = "---\naired: 2026-11-21 18:30\nrundown:\n  - {story: 2026/a}\npromises:\n  - {time: '00:09:20', said: the list is on our website, kept_by: 2026/held}\n---\n"
    files = {
        "stories/2026/a.md": story(),
        "stories/2026/held.md": story("hold: true"),
        "episodes/2026-11-21.md": episode,
    }
    text = board(write_folder(tmp_path, files))
    assert "the list is on our website" in section(text, "promises")
    assert "the list is on our website" not in section(text, "concerns")


HELD = {
    "stories/2026/a.md": story(),
    "stories/2026/held.md": story("hold: true").replace("A headline", "The waiting one"),
    "stories/2026/with.md": story().replace("A headline", "One with its episode"),
    "stories/2026/gone.md": story("hold: true\nwithdrawn: {date: 2026-11-30, notice: It was wrong.}"),
    "episodes/2026-11-28.md": "---\naired: 2026-11-28 18:30\nhold: true\nrundown:\n  - {story: 2026/with}\n---\n",
    "episodes/2026-11-21.md": "---\naired: 2026-11-21 18:30\nrundown:\n  - {story: 2026/a}\npromises:\n  - {time: '00:09:20', said: the list is on our website, kept_by: 2026/held}\n---\n",
}


def links(text: str, name: str) -> dict[str, str]:
    """The links of a section of the board, by their words."""
    found = re.search(rf'<section aria-labelledby="{name}">(.*?)</section>', text, re.S)
    assert found is not None
    return {
        words: address for address, words in re.findall(r'<a [^>]*href="([^"]+)"[^>]*>([^<]+)</a>', found[1])
    }


def test_what_is_on_hold_is_listed_with_ways_to_it(tmp_path: Path) -> None:
    text = board(write_folder(tmp_path, HELD))
    held = links(text, "held")
    assert "On hold (2)" in section(text, "held")
    assert held["The waiting one"] == "/_desk/write/stories/2026/held.md"
    assert held["One with its episode"] == "/_desk/write/stories/2026/with.md"
    assert held["content/episodes/2026-11-28.md"] == "/_desk/write/episodes/2026-11-28.md"
    assert "A headline" not in held
    assert held["See 2026/held as if it were not held"] == "/_desk/held/now/stories/2026/held/"


def test_the_story_that_a_promise_waits_for_is_one_link_away(tmp_path: Path) -> None:
    text = board(write_folder(tmp_path, HELD))
    assert links(text, "promises")["Edit 2026/held"] == "/_desk/write/stories/2026/held.md"
    with desk_of(tmp_path) as desk:
        assert desk.ask("/_desk/held/now/stories/2026/held/").status == 200


def test_missing_captions_words_and_consents_are_named(tmp_path: Path) -> None:
    from PIL import Image

    (tmp_path / "content/photos").mkdir(parents=True)
    for name in ("a", "b"):
        Image.new("RGB", (64, 36)).save(tmp_path / f"content/photos/{name}.jpg")
    station = STATION + "media_host: https://video.example.org\n"
    files = {
        "stories/2026/a.md": story("photo: {file: a.jpg, credit: Ada Quill}"),
        "stories/2026/b.md": story('hold: true\nphoto: {file: b.jpg, alt: "A choir", children: true}'),
        "stories/2026/c.md": story("video: {file: https://video.example.org/c.mp4}"),
    }
    missing = section(board(write_folder(tmp_path, files, station)), "missing")
    assert "no words for those who do not see it" in missing
    assert "shows children and has no consent" in missing
    assert "waits for its captions" in missing
    assert "(3)" in missing


def test_rights_running_out_are_told_in_time(tmp_path: Path) -> None:
    from PIL import Image

    (tmp_path / "content/photos").mkdir(parents=True)
    Image.new("RGB", (64, 36)).save(tmp_path / "content/photos/a.jpg")
    photo = 'photo: {file: a.jpg, alt: "A choir", rights_end: 2026-12-20}'
    root = write_folder(tmp_path, {"stories/2026/a.md": story(photo)})
    assert "the rights to a photo run out" in section(board(root), "rights").lower()
    assert "run out" not in section(board(root, "2026-11-15T12:00"), "rights").replace(
        "No rights run out", ""
    )


def test_quiet_counties_are_named_and_months_counted(tmp_path: Path) -> None:
    days = [date(2026, 12, 1), date(2026, 11, 3), date(2026, 11, 20), date(2026, 2, 2), date(2025, 11, 30)]
    files = {f"stories/{day.year}/{day}.md": story(aired=str(day)) for day in days}
    files["stories/2026/gull.md"] = story(
        aired=str(date(2026, 12, 2) - timedelta(days=43)), county="Gull Bank"
    )
    counties = section(board(write_folder(tmp_path, files)), "counties")
    assert "No story lately: Gull Bank (last Tuesday, October 20, 2026)" in counties
    row = re.search(r"Heron Flats ([\d ]+?) Dec 1, 2026", counties)
    assert row is not None
    # January to December of 2026; what aired before is no longer counted.
    assert row[1].split() == ["0", "1", "0", "0", "0", "0", "0", "0", "0", "0", "2", "1"]


def test_every_live_ask_is_on_the_timeline_with_its_last_doors(tmp_path: Path) -> None:
    files = {
        "stories/2026/a.md": story(asking(title="Bring a coat", more="deadline: 2026-12-13")),
        "stories/2026/b.md": story(
            asking(title="Bring a hat", more="starts: 2026-12-05\ndeadline: 2026-12-30")
        ),
        "stories/2026/c.md": story(asking(title="Bring a glove", more="deadline: 2026-12-01")),
    }
    asks = section(board(write_folder(tmp_path, files)), "asks")
    assert "glove" not in asks
    # The 13th is a Sunday; the hall shuts on Friday at five.
    assert "Bring a coat A headline open Sun Dec 13, end of day Fri Dec 11, 5:00 pm" in asks
    assert "Bring a hat A headline Sat Dec 5 Wed Dec 30, end of day" in asks


def test_each_line_of_the_timeline_is_drawn_by_its_standing(tmp_path: Path) -> None:
    ends = ("starts: 2026-12-20\ndeadline: 2026-12-30", "deadline: 2026-12-28", "deadline: 2026-12-03")
    files = {
        f"stories/2026/{name}.md": story(asking(more=more)) for name, more in zip("abc", ends, strict=True)
    }
    with desk_of(write_folder(tmp_path, files)) as desk:
        drawn = re.findall(r'<rect class="([^"]*)"', desk.ask("/_desk/").text)
    assert sorted(drawn) == ["coming", "last-days", "open"]


def test_an_empty_station_has_a_desk(tmp_path: Path) -> None:
    text = board(write_folder(tmp_path))
    for name in ("found", "promises", "closes", "confirm", "missing", "rights", "opens", "asks", "concerns"):
        assert section(text, name)


# --- the desk's pages as pages -----------------------------------------------------------------


@pytest.fixture(scope="module")
def demonstration_desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    root = tmp_path_factory.mktemp("demonstration")
    copytree(ROOT / "content", root / "content")
    (root / "content/stories/2026/broken.md").write_text("---\nheadline: Broken\nnonsense: 1\n---\n", "utf-8")
    with desk_of(root) as running:
        yield running


@pytest.mark.parametrize(
    "path",
    ["/_desk/", "/_desk/?at=2026-12-20T10:00", "/_desk/at/nonsense/", "/_desk/held/now/stories/2026/coat-closet/", "/", "/stories/2026/none/",
     "/episodes/2026-11-21/", "/_desk/at/2026-12-20T10:00/find/"],
)  # fmt: skip
def test_the_checks_of_pages_find_nothing(demonstration_desk: Desk, path: str) -> None:
    def load(name: str) -> bytes | None:
        answer = demonstration_desk.ask(f"/{name}")
        return answer.body if answer.status == 200 else None

    page = demonstration_desk.ask(path)
    judge = contrast_judge(load, demonstration_desk.address)
    found = check_page(path.lstrip("/").partition("?")[0], page.body, judge).findings
    assert not [f"{each.line}: {each.verdict} {each.check}: {each.message}" for each in found]


def test_the_checks_see_the_desk_s_stylesheet(demonstration_desk: Desk) -> None:
    def load(name: str) -> bytes | None:
        answer = demonstration_desk.ask(f"/{name}")
        data = answer.body if answer.status == 200 else None
        return (
            data.replace(b"--soft: #4d412f", b"--soft: #d8c79f")
            if data and name.endswith("desk.css")
            else data
        )

    judge = contrast_judge(load, demonstration_desk.address)
    found = check_page("_desk/", demonstration_desk.ask("/_desk/").body, judge).findings
    assert any(each.check == "text-contrast" and each.verdict == "fails" for each in found)


def test_all_of_the_demonstration_can_be_looked_at(demonstration_desk: Desk) -> None:
    """Every page that the edition has is there, with its bar and with nothing of the program's own mistakes."""
    state = demonstration_desk.state
    from sitegen.desk.setting import Moment
    from sitegen.edition.compose import compose_edition

    newsroom = state.room.newsroom(Moment(state.latest(), state.moment()))
    pages = compose_edition(newsroom, state.moment()).edition.pages
    for page in pages[:: max(len(pages) // 60, 1)]:
        answer = demonstration_desk.ask(f"/{page.address}")
        assert answer.status == 200, page.address
        assert 'id="sitegen-preview"' in answer.text
