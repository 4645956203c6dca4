"""The preview: the site as of any moment, faults beside their page, held stories marked, nothing published."""

from __future__ import annotations

import html
import http.client
import json
import re
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from queue import Queue
from shutil import copytree

import pytest

from sitegen.desk.glance import Glance, moment_text, read_glance, read_when_chosen
from sitegen.desk.server import running
from sitegen.newsroom.times import TimeError, zone_named
from tests.desk.running_desk import TOKEN, Desk, desk_of
from tests.samples.station_folder import PLACE, asking, story, write_folder

ZONE = zone_named("America/New_York")
THEME = Path(__file__).resolve().parents[2] / "themes" / "tidetable"
PRESENT = datetime(2026, 12, 2, 17, tzinfo=UTC)
FILES = {
    "stories/2026/coats.md": story(asking(more="deadline: 2026-12-15\nstarts: 2026-12-05 10:00")),
    "stories/2026/held.md": story("hold: true", "Not for viewers."),
    "stories/2026/later.md": story("embargo: 2026-12-09 18:30", "Only later."),
    "pages/about.md": "---\ntitle: About us\n---\nAbout.\n",
}


@pytest.fixture
def root(tmp_path: Path) -> Path:
    return write_folder(tmp_path, FILES)


@pytest.fixture
def desk(root: Path) -> Iterator[Desk]:
    with desk_of(root) as found:
        yield found


def bar_of(text: str) -> str:
    """The words of a page's bar."""
    found = re.search(r"<aside.*?</aside>", text, re.S)
    assert found is not None
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", found[0])).replace("\xa0", " ")


# --- moments ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text", ["2026-12-05T18:00", "2026-11-01T01:30", "2026-11-01T01:30:00-05:00", "2026-03-08T03:00"]
)
def test_a_moment_in_an_address_is_read_back(text: str) -> None:
    moment = read_when_chosen(text, ZONE)
    assert read_when_chosen(moment_text(moment, ZONE), ZONE) == moment
    for held in (False, True):
        glance = Glance(moment, held)
        assert read_glance(glance.path("stories/2026/coats/", ZONE), ZONE) == (glance, "stories/2026/coats/")


def test_the_plain_address_is_the_desk_s_own_moment() -> None:
    assert Glance().path("about/", ZONE) == "/about/"
    assert read_glance("/about/", ZONE) == (Glance(), "about/")
    assert read_glance(Glance(None, True).path("about/", ZONE), ZONE) == (Glance(None, True), "about/")


@pytest.mark.parametrize(
    "text",
    ["", "soon", "2026-02-30T10:00", "2026-03-08T02:30", "9999-99-99", "2026-12-05T25:00", "0001-01-01"],
)
def test_no_moment_is_said_in_words(desk: Desk, text: str) -> None:
    if text and text != "0001-01-01":
        with pytest.raises(TimeError):
            read_when_chosen(text, ZONE)
        assert desk.ask(f"/_desk/at/{text}/").status == 400
    answer = desk.ask(f"/_desk/go?page=&at={text}&step=there")
    assert answer.status in (303, 400)
    assert b"Traceback" not in answer.body


# --- pages as of a moment --------------------------------------------------------------------


def test_a_story_is_there_from_its_release_on(desk: Desk) -> None:
    before = desk.ask("/_desk/at/2026-12-09T18:29/stories/2026/later/")
    assert before.status == 404
    assert "Only later." not in before.text
    assert "released on Wednesday, December 9, 2026, 6:30 p.m." in bar_of(before.text)
    assert "/_desk/at/2026-12-09T18:30/stories/2026/later/" in before.text
    after = desk.ask("/_desk/at/2026-12-09T18:30/stories/2026/later/")
    assert after.status == 200
    assert "Only later." in after.text


def test_links_stay_in_the_moment(desk: Desk) -> None:
    page = desk.ask("/_desk/at/2026-12-09T18:30/stories/2026/later/").text
    inside = page.partition("</aside>")[2]
    assert 'href="../../../counties/' in inside
    assert not re.search(r'href="/(?!_desk)', inside)
    lost = desk.ask("/_desk/at/2026-12-09T18:30/nowhere/").text.partition("</aside>")[2]
    assert 'href="/_desk/at/2026-12-09T18:30/counties/' in lost


def test_an_ask_opens_and_ends_as_time_is_walked(desk: Desk) -> None:
    def walked(at: str, step: str) -> str:
        answer = desk.ask(f"/_desk/go?page=stories/2026/coats/&at={at}&step={step}")
        assert answer.status == 303
        found = re.fullmatch(r"/_desk/at/([^/]+)/stories/2026/coats/", answer.headers["location"])
        assert found is not None
        return found[1]

    moments = [walked("2026-12-02T12:00", "next")]
    assert moments[0] == "2026-12-05T10:00"
    while moments[-1] < "2026-12-15T00:00":
        moments.append(walked(moments[-1], "next"))
    # The hall shuts on Tuesday the 15th at five; then nobody is sent there any more.
    assert "2026-12-09T18:30" in moments
    back = [walked(moments[-1], "previous")]
    while back[-1] > moments[0]:
        back.append(walked(back[-1], "previous"))
    assert back[::-1] == moments[:-1]
    assert "Opens" in desk.ask("/_desk/at/2026-12-05T09:59/stories/2026/coats/").text.partition("</aside>")[2]
    assert (
        "Opens"
        not in desk.ask("/_desk/at/2026-12-05T10:00/stories/2026/coats/").text.partition("</aside>")[2]
    )


def test_scripts_of_a_page_take_the_moment_for_the_present(desk: Desk) -> None:
    assert 'data-begins="2026-12-09T23:30:00+00:00"' in desk.ask("/_desk/at/2026-12-09T18:30/").text
    assert "data-begins" not in desk.ask("/").text


def test_a_fixed_moment_is_the_desk_s_own(root: Path) -> None:
    with desk_of(root, "2026-12-09 19:00") as desk:
        assert desk.ask("/stories/2026/later/").status == 200
        assert "December 9, 2026, 7 p.m." in bar_of(desk.ask("/").text)


# --- held stories ----------------------------------------------------------------------------


def test_a_held_story_is_shown_only_where_it_is_asked_for_and_marked(desk: Desk) -> None:
    hidden = desk.ask("/stories/2026/held/")
    assert hidden.status == 404
    assert "on hold" in bar_of(hidden.text)
    assert "Not for viewers." not in hidden.text
    assert "/_desk/held/now/stories/2026/held/" in hidden.text
    shown = desk.ask("/_desk/held/now/stories/2026/held/")
    assert shown.status == 200
    assert "Not for viewers." in shown.text
    assert "Held stories are shown." in bar_of(shown.text)
    assert "Held stories" not in bar_of(desk.ask("/").text).replace("Show held stories", "")
    # What is not released yet is not let through by it.
    assert desk.ask("/_desk/held/now/stories/2026/later/").status == 404


# --- faults beside their page ----------------------------------------------------------------


@pytest.mark.parametrize("name", ["held", "later"])
def test_a_story_that_viewers_do_not_see_can_be_edited_from_its_address(desk: Desk, name: str) -> None:
    answer = desk.ask(f"/stories/2026/{name}/")
    assert answer.status == 404
    assert f'<a href="/_desk/write/stories/2026/{name}.md">Edit this page</a>' in answer.text
    assert "Edit this page" not in desk.ask("/stories/2026/nothing/").text


def test_faults_stand_on_their_page_over_the_last_good_reading(desk: Desk, root: Path) -> None:
    assert "Body." in desk.ask("/stories/2026/coats/").text
    (root / "content/stories/2026/coats.md").write_text(story("nonsense: 1", "New words."), "utf-8")
    desk.state.refresh()
    page = desk.ask("/stories/2026/coats/")
    assert page.status == 200
    assert "Body." in page.text and "New words." not in page.text
    bar = bar_of(page.text)
    assert "content/stories/2026/coats.md:5:1" in bar
    assert "nonsense" in bar
    assert "what could be read last" in bar
    other = bar_of(desk.ask("/about/").text)
    assert "content/stories" not in other
    assert "1 fault in other files" in other
    assert "content/stories/2026/coats.md:5:1" in desk.ask("/_desk/").text


@pytest.mark.parametrize(
    ("path", "address"),
    [
        ("stories/2026/new.md", "stories/2026/new/"),
        ("stories/2026/new.md", "stories/2026/new"),
        ("stories/2026/new.md", "_desk/held/now/stories/2026/new/"),
        ("stories/2026/new.md", "_desk/at/2026-12-05T18:00/stories/2026/new/"),
        ("places/new.yaml", "places/new/"),
        ("episodes/2026-12-01.md", "episodes/2026-12-01/"),
        ("pages/new.md", "new/"),
    ],
)
def test_the_faults_of_a_new_file_stand_at_its_address(root: Path, path: str, address: str) -> None:
    file = root / "content" / path
    file.parent.mkdir(exist_ok=True)
    file.write_text("---\nheadlin: [x\n---\nWords.\n" if path.endswith(".md") else "name: [x\n")
    (root / "content/stories/2026/coats.md").write_text("---\nheadlin: x\n---\n")
    with desk_of(root) as desk:
        answer = desk.ask(f"/{address}")
        faults = desk.state.latest().findings_by_file[f"content/{path}"]
    assert answer.status == 404 and faults
    bar = bar_of(answer.text)
    page = answer.text.replace(re.search(r"<aside.*?</aside>", answer.text, re.S)[0], "")  # type: ignore[index]
    for words in (bar, page):
        assert f"content/{path}:{faults[0].spot.line}" in words
        assert html.escape(faults[0].message).replace("&#x27;", "&#39;") in words
    assert f"{len(faults)} fault" in bar and "0 faults" not in bar and "in other files" in bar
    assert "script-src 'self'" in answer.headers["content-security-policy"]
    assert f'href="/_desk/write/{path}"' in answer.text


def test_concerns_of_the_moment_stand_on_their_page(desk: Desk) -> None:
    assert "confirmed" in bar_of(desk.ask("/_desk/at/2026-12-14T12:00/stories/2026/coats/").text)
    assert "content/stories" not in bar_of(desk.ask("/about/").text)


def test_a_fault_of_a_place_stands_on_the_pages_that_name_it(desk: Desk, root: Path) -> None:
    desk.ask("/")
    (root / "content/places/lowgate-hall.yaml").write_text(PLACE.replace("Heron Flats", "Nowhere"), "utf-8")
    desk.state.refresh()
    page = desk.ask("/_desk/at/2026-12-06T12:00/stories/2026/coats/").text
    assert "content/places/lowgate-hall.yaml:4:9" in bar_of(page)
    assert "4 Pier Lane" in page.partition("</aside>")[2]


def test_what_is_written_is_never_taken_for_markup(desk: Desk, root: Path) -> None:
    (root / "content/stories/2026/coats.md").write_text(story('"<script>alert(1)</script>": 1'), "utf-8")
    desk.state.refresh()
    for path in ("/stories/2026/coats/", "/_desk/", "/%3Cscript%3Ealert(1)%3C/script%3E/"):
        assert "<script>alert" not in desk.ask(path).text


def test_a_broken_theme_is_said_over_the_page_in_the_last_good_one(desk: Desk, root: Path) -> None:
    desk.ask("/")
    words = root / "themes/tidetable/words/en.po"
    words.parent.mkdir(parents=True)
    words.write_bytes(b"\xff")
    desk.state.refresh()
    answer = desk.ask("/")
    assert answer.status == 200
    assert "The theme has a fault." in bar_of(answer.text)
    assert "en.po" in bar_of(answer.text)


def test_a_template_that_cannot_be_set_is_said_in_words(desk: Desk, root: Path) -> None:
    desk.ask("/")
    copytree(THEME, root / "themes/tidetable")
    template = root / "themes/tidetable/templates/home.html"
    for text in ("{% nonsense %}", "{{ nothing.there }}"):
        template.write_text(text, "utf-8")
        desk.state.refresh()
        answer = desk.ask("/")
        assert answer.status == 500
        assert "theme" in answer.text
        assert "Traceback" not in answer.text
    copytree(THEME, root / "themes/tidetable", dirs_exist_ok=True)
    desk.state.refresh()
    assert desk.ask("/").status == 200


def test_a_station_that_cannot_be_read_says_so(tmp_path: Path) -> None:
    with desk_of(write_folder(tmp_path, station="station: [")) as desk:
        for path in ("/", "/_desk/", "/stories/x/", "/_desk/go?at=2026-12-05&step=next"):
            answer = desk.ask(path)
            assert answer.status in (200, 400, 500)
            assert "content/station.yaml" in answer.text


# --- files -----------------------------------------------------------------------------------


def test_every_file_that_a_page_names_is_served(desk: Desk) -> None:
    page = desk.ask("/").text
    names = set(re.findall(r'(?:href|src)="((?:assets|data)/[^"]+|feed\.atom|deadlines\.ics)"', page))
    assert any(name.endswith(".css") for name in names)
    for name in (*names, "data/asks.json", "data/search.json", "sitemap.xml", "robots.txt", "deadlines.ics"):
        answer = desk.ask(f"/{name}")
        assert answer.status == 200, name
        assert answer.body
        assert answer.headers["cache-control"] == "no-store"
        assert answer.headers["x-content-type-options"] == "nosniff"


@pytest.mark.parametrize(
    "path",
    ["/content/station.yaml", "/station.yaml", "/build/preview/stories.sqlite", "/manifest.json", "/assets/", "/data/", "/content/",
     "/_desk/at/now/../../content/station.yaml", "/_desk/at/now/content/station.yaml", "/pictures/none.jpg", "/captions/none.vtt",
     "/_desk/assets/", "/_desk/templates/frame.html", "/_desk/go?page=//evil.example.org/&at=2026-12-05&step=there"],
)  # fmt: skip
def test_only_the_edition_is_served(desk: Desk, path: str) -> None:
    answer = desk.ask(path)
    assert answer.status in (303, 400, 404)
    assert b"time_zone:" not in answer.body
    if answer.status == 303:
        assert answer.headers["location"].startswith("/_desk/at/")


def test_an_address_without_its_slash_leads_on(desk: Desk) -> None:
    answer = desk.ask("/about")
    assert (answer.status, answer.headers["location"]) == (303, "/about/")


def test_a_moment_without_its_slash_leads_on(desk: Desk) -> None:
    for path in ("/_desk/at/2026-12-05T18:00", "/_desk/held/now"):
        answer = desk.ask(path)
        assert (answer.status, answer.headers["location"]) == (303, f"{path}/")


def test_an_address_in_any_letters_is_answered(desk: Desk) -> None:
    assert desk.ask("/%E4%B8%AD/").status == 404
    answer = desk.ask("/_desk/go?page=%E4%B8%AD/&at=2026-12-05&step=there")
    assert answer.headers["location"] == "/_desk/at/2026-12-05T00:00/%E4%B8%AD/"


def test_nothing_is_published(desk: Desk, root: Path) -> None:
    for path in (
        "/",
        "/stories/2026/coats/",
        "/_desk/",
        "/feed.atom",
        "/_desk/held/now/",
        "/_desk/at/2026-12-20/",
    ):
        desk.ask(path)
    assert {path.name for path in (root / "build").iterdir()} == {"preview"}


def test_no_token_stands_in_a_page_of_the_edition(desk: Desk) -> None:
    assert TOKEN not in desk.ask("/").text


# --- news ------------------------------------------------------------------------------------


@contextmanager
def listening(address: str) -> Iterator[Queue[int]]:
    """The numbers that one connection to the news hears; -1 when it ends."""
    heard: Queue[int] = Queue()
    connection = http.client.HTTPConnection(address.removeprefix("http://").rstrip("/"), timeout=30)
    connection.request("GET", "/_desk/changes")
    response = connection.getresponse()
    assert response.headers["content-type"].startswith("text/event-stream")

    def listen() -> None:
        try:
            for line in response:
                if line.startswith(b"data: "):
                    heard.put(json.loads(line.removeprefix(b"data: "))["number"])
        except (OSError, AttributeError, ValueError):
            pass
        heard.put(-1)

    thread = threading.Thread(target=listen)
    thread.start()
    try:
        yield heard
    finally:
        thread.join(30)
        assert not thread.is_alive()
        connection.close()


def test_a_save_is_told_to_all_and_then_all_threads_end(root: Path) -> None:
    before = threading.active_count()
    with running(root, 0, "", lambda: PRESENT) as server:
        listeners = [listening(server.address) for _ in range(12)]
        heard = [each.__enter__() for each in listeners]
        first = {queue.get(timeout=30) for queue in heard}
        assert first == {1}
        (root / "content/stories/2026/coats.md").write_text(story(body="Saved anew."), "utf-8")
        # An editor may write a file in two steps, so there may be two looks.
        assert all(queue.get(timeout=30) >= 2 for queue in heard)
        connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=30)
        connection.request("GET", "/stories/2026/coats/")
        assert b"Saved anew." in connection.getresponse().read()
        connection.close()
    for each in listeners:
        each.__exit__(None, None, None)
    assert threading.active_count() == before


def test_a_new_file_and_a_removed_one_are_news(root: Path) -> None:
    with running(root, 0, "", lambda: PRESENT) as server, listening(server.address) as heard:
        assert heard.get(timeout=30) == 1
        new = root / "content/stories/2026/new.md"
        new.write_text(story(body="Brand new."), "utf-8")
        number = heard.get(timeout=30)
        new.unlink()
        assert heard.get(timeout=30) > number
        server.state.close()


def test_a_post_that_wrote_is_seen_at_once(desk: Desk, root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from sitegen.desk import routes
    from sitegen.desk.exchange import Request, Response, see_other
    from sitegen.desk.state import State

    def save(request: Request, state: State) -> Response:
        (state.root / "content/stories/2026/coats.md").write_text(story(body="By a form."), "utf-8")
        return see_other("/stories/2026/coats/")

    monkeypatch.setattr(routes, "ROUTES", (*routes.ROUTES, ("POST", "/_desk/test/", save)))
    desk.ask("/")
    assert desk.ask("/_desk/test/", "POST", {"X-Desk-Token": "wrong"}).status == 403
    assert "By a form." not in desk.ask("/stories/2026/coats/").text
    assert desk.ask("/_desk/test/", "POST", {"X-Desk-Token": TOKEN}).status == 303
    assert "By a form." in desk.ask("/stories/2026/coats/").text


def test_a_mistake_of_the_program_is_told_and_stops_nothing(
    desk: Desk, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from sitegen.desk import routes

    def broken(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(routes, "ROUTES", (*routes.ROUTES, ("GET", "/_desk/test/", broken)))
    answer = desk.ask("/_desk/test/")
    assert answer.status == 500
    assert b"Traceback" not in answer.body
    assert "ZeroDivisionError" in capsys.readouterr().err
    assert desk.ask("/").status == 200
