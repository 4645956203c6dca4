"""The form in a browser: a whole story written with the keyboard alone, and without script; clean for every reader; nothing too wide."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from sitegen.newsroom.folder import read_newsroom
from sitegen.newsroom.records import Newsroom
from sitegen.proof.pagecheck import check_page, contrast_judge
from tests.desk.running_desk import Desk, desk_of
from tests.samples.opened_pages import DESK, PHONE, Medium, Opens

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

pytestmark = pytest.mark.browser

DEMONSTRATION = Path(__file__).parents[2] / "content"
COATS = "stories/2026/coat-closet.md"
PAGES = (
    "", "new/story", "new/place", "new/episode", COATS, f"{COATS}?as=text", "places/millrace-library.yaml", "episodes/2026-11-21.md",
    "pages/about.md",
)  # fmt: skip


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    root = tmp_path_factory.mktemp("station")
    shutil.copytree(DEMONSTRATION, root / "content")
    with desk_of(root) as running:
        yield running


@pytest.fixture
def opens_desk(browser: Browser, desk: Desk) -> Iterator[Opens]:
    opener = Opens(browser, f"{desk.address}_desk/write/")
    yield opener
    opener.close()


def newsroom_of(desk: Desk) -> Newsroom:
    newsroom = read_newsroom(desk.state.root, lambda text, counties: ((), ())).newsroom
    assert newsroom is not None
    return newsroom


@pytest.fixture(scope="module")
def picture(tmp_path_factory: pytest.TempPathFactory) -> Path:
    from PIL import Image

    path = tmp_path_factory.mktemp("camera") / "DSC 0412.JPG"
    Image.new("RGB", (64, 48), "teal").save(path)
    return path


# --- a whole story ------------------------------------------------------------------------------


class Keys:
    """A person with a keyboard and no mouse: moves by Tab, and says what is under the focus by its label."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def label(self) -> str:
        """The name of what holds the focus, as the page gives it."""
        return str(
            self.page.evaluate(
                """() => {
                  const at = document.activeElement;
                  const labels = at.labels?.length ? [...at.labels].map((each) => each.textContent.trim()).join(" ") : "";
                  return labels || at.textContent.trim() || at.value || "";
                }"""
            )
        )

    def to(self, label: str, inside: str = "", most: int = 600) -> None:
        """Tabs on until the focus is on what is called so, inside an element where one is named."""
        for _ in range(most):
            self.page.keyboard.press("Tab")
            is_inside = not inside or bool(
                self.page.evaluate("(where) => Boolean(document.activeElement.closest(where))", inside)
            )
            if is_inside and self.label() == label:
                return
        raise AssertionError(f"no '{label}' is reached by Tab")

    def write(self, label: str, text: str, inside: str = "") -> None:
        self.to(label, inside)
        self.page.keyboard.type(text)

    def press(self, label: str, inside: str = "") -> None:
        self.to(label, inside)
        self.page.keyboard.press("Enter")


def test_a_whole_story_is_written_with_the_keyboard_alone(
    opens_desk: Opens, desk: Desk, picture: Path
) -> None:
    from playwright.sync_api import expect

    page = opens_desk("", Medium(size=DESK))
    keys = Keys(page)
    keys.press("Begin a story")
    page.wait_for_url("**/new/story")
    keys.write("Headline", "A boat shed wants forty oars")
    keys.write("Aired", "2026-12-01")
    keys.to("Tidewick")
    page.keyboard.press("Space")
    keys.press("Begin a story")
    page.wait_for_url("**/stories/2026/a-boat-shed-wants-forty-oars.md?done=begun")
    keys.write("Summary", "The shed at Millrace has boats, and no oars.")
    keys.write("Text", "The boats are there. The oars are not.")

    keys.to("Picture", "summary")
    page.keyboard.press("Enter")
    keys.write("Words for people who do not see it", "An empty rack for oars")
    keys.write("Credit", "Ada Quill")
    keys.to("Children can be recognized")
    page.keyboard.press("n")  # chooses No
    chooser = page.locator("#f-picture")
    chooser.set_input_files(picture)  # the system's own window for choosing files has no keys of ours
    chooser.focus()
    keys.press("Take in this picture")
    expect(page.locator("[name='photo/file']")).to_have_value("dsc-0412.jpg")

    keys.press("Bring things")
    expect(page.locator("[name='asks/0/title']")).to_be_focused()
    page.keyboard.type("Bring an oar")
    keys.write("Deadline", "2026-12-20")
    back(keys, "Begin a new shared place for this ask")
    page.keyboard.press("Enter")
    inside = ".new-place"
    keys.write("Name of the place", "Millrace Boat Shed", inside)
    keys.write("Town", "Millrace", inside)
    keys.to("County", inside)
    page.keyboard.type("Tid")
    keys.write("Latitude", "35.02", inside)
    keys.write("Longitude", "-60.34", inside)
    keys.write("Opening hours", "Mo-Fr 09:00-17:00", inside)
    keys.press("Make this place", inside)
    expect(page.locator("[name='asks/0/drop_off/0/place']")).to_have_value("millrace-boat-shed")
    expect(page.locator("#news")).to_contain_text("is made")

    keys.press("Save", ".last")
    page.wait_for_url("**done=saved")
    story = next(each for each in newsroom_of(desk).stories if each.id == "2026/a-boat-shed-wants-forty-oars")
    assert story.summary == "The shed at Millrace has boats, and no oars."
    assert story.body == "The boats are there. The oars are not."
    assert (
        story.photo is not None
        and story.photo.alt == "An empty rack for oars"
        and story.photo.picture is not None
    )
    (ask,) = story.asks
    assert (ask.title, ask.kind, [each.place.name for each in ask.drop_off]) == (
        "Bring an oar",
        "bring",
        ["Millrace Boat Shed"],
    )
    assert ask.drop_off[0].place.position is not None and ask.drop_off[0].place.position.latitude == 35.02
    assert story.hold, "until somebody says otherwise"
    assert not opens_desk.said


def back(keys: Keys, label: str) -> None:
    """Tabs backwards to what is called so."""
    for _ in range(200):
        keys.page.keyboard.press("Shift+Tab")
        if keys.label() == label:
            return
    raise AssertionError(f"no '{label}' is reached by Shift+Tab")


def send(page: Page, button: str, inside: str = "body") -> None:
    """Presses a button of a form without script, and waits for the page that answers."""
    with page.expect_navigation():
        page.locator(inside).get_by_role("button", name=button).first.click()


def test_a_whole_story_is_written_without_script(opens_desk: Opens, desk: Desk, picture: Path) -> None:
    page = opens_desk("new/story", Medium(size=PHONE, script=False))
    page.get_by_label("Headline").fill("A choir wants basses")
    page.get_by_label("Aired").fill("2026-12-01")
    page.get_by_label("Pellam", exact=True).check()
    send(page, "Begin a story")
    assert page.url.endswith("a-choir-wants-basses.md?done=begun")
    send(page, "Volunteer")
    ask = page.locator("#f-asks-0")
    ask.get_by_label("What is asked").fill("Sing bass on Tuesdays")
    ask.get_by_label("Deadline").fill("2026-02-30")
    page.locator("summary", has_text="Picture").first.click()
    page.get_by_label("Words for people who do not see it").fill("A choir with a gap in its last row")
    page.locator("[name='photo/credit']").fill("Ada Quill")
    page.get_by_label("Children can be recognized").select_option("No")
    page.get_by_label("Take in a picture").set_input_files(picture)
    send(page, "Take in this picture")
    assert page.locator("[name='photo/file']").input_value().startswith("dsc-0412")
    send(page, "Add a place to this ask", "#f-asks-0")
    page.locator("[name='asks/0/where/0/place']").fill("pellam-grange")
    send(page, "Check")
    wrong = page.locator("[aria-invalid=true]")
    assert wrong.count() == 1 and wrong.get_attribute("name") == "asks/0/deadline"
    wrong.fill("2026-12-20")
    send(page, "Save")
    assert page.url.endswith("done=saved"), page.locator(".trouble").text_content()
    story = next(each for each in newsroom_of(desk).stories if each.id == "2026/a-choir-wants-basses")
    assert [each.place.id for each in story.asks[0].drop_off] == ["pellam-grange"]


# --- with script --------------------------------------------------------------------------------


def test_what_is_wrong_is_said_while_it_is_typed_and_keeps_the_focus(opens_desk: Opens) -> None:
    page = opens_desk(COATS)
    field = page.locator("[name='asks/0/deadline']")
    field.fill("2026-02-30")
    page.wait_for_selector("[name='asks/0/deadline'][aria-invalid=true]")
    told = page.locator("#told-f-asks-0-deadline")
    assert told.text_content() and "told-f-asks-0-deadline" in (field.get_attribute("aria-describedby") or "")
    assert page.locator("[role=status]").text_content() == page.locator("#said").text_content() == "1 fault."
    assert page.evaluate("document.activeElement.name") == "asks/0/deadline"
    field.fill("2026-12-15")
    page.wait_for_selector("[name='asks/0/deadline']:not([aria-invalid])")
    assert told.text_content() == ""
    assert not opens_desk.said


def test_a_press_on_the_chart_sets_the_position(opens_desk: Opens, desk: Desk) -> None:
    page = opens_desk("places/millrace-library.yaml", Medium(size=(768, 900)))
    page.locator(".chart summary").click()
    mark = page.locator(".chart .mark").bounding_box()
    assert mark is not None
    page.mouse.click(mark["x"] + mark["width"] / 2, mark["y"] + mark["height"] / 2)
    # The chart shows the whole area: a pixel is about two hundredths of a degree at most.
    assert abs(float(page.locator("[name='position/latitude']").input_value()) - 35.024) < 0.02
    assert abs(float(page.locator("[name='position/longitude']").input_value()) + 60.338) < 0.02


def test_a_press_near_a_dot_chooses_its_place(opens_desk: Opens) -> None:
    page = opens_desk(COATS)
    place = page.locator("[name='asks/0/drop_off/1/place']")
    assert place.input_value() == "quay-bakery"
    chart = page.locator("[data-name='asks/0/drop_off/1/place'] .chart")
    chart.locator("summary").click()
    dot = chart.locator(".place[data-id='netherby-school']").bounding_box()
    assert dot is not None
    page.mouse.click(dot["x"] + dot["width"] / 2 + 2, dot["y"] + dot["height"] / 2)
    assert place.input_value() == "netherby-school"
    assert "Netherby" in (page.locator("#news").text_content() or "")
    assert not opens_desk.said


def test_the_kind_of_an_ask_decides_which_fields_are_shown(opens_desk: Opens) -> None:
    page = opens_desk(COATS)
    page.get_by_role("button", name="Give money").click()
    payee, minutes = page.locator("[name='asks/4/payee']"), page.locator("[name='asks/4/minutes']")
    payee.wait_for()
    assert payee.is_visible() and not minutes.is_visible()
    page.locator("[name='asks/4/kind']").select_option("tune in")
    assert minutes.is_visible() and not payee.is_visible()


def test_leaving_with_words_unsaved_is_asked_about(opens_desk: Opens) -> None:
    page = opens_desk(COATS)
    page.locator("[name=headline]").fill("Not saved yet")
    with page.expect_event("dialog") as asked:
        page.close(run_before_unload=True)
    assert asked.value.type == "beforeunload"
    asked.value.dismiss()


def test_words_outlast_a_preview_that_went_down_and_its_next_run(browser: Browser, tmp_path: Path) -> None:
    root = tmp_path
    shutil.copytree(DEMONSTRATION, root / "content")
    file = root / "content" / COATS
    before = file.read_text("utf-8")
    with desk_of(root) as first:
        port = first.server.port
        opener = Opens(browser, f"{first.address}_desk/write/")
        page = opener(COATS)
        page.locator("[name=headline]").fill("Typed before the fall")
    page.locator(".last button", has_text="Save").click()
    page.locator(".last + [role=alert]").wait_for()
    assert page.locator("[name=headline]").input_value() == "Typed before the fall"
    with desk_of(root, token="another-run", port=port):
        page.locator(".last button", has_text="Save").click()
        page.locator(".trouble", has_text="started anew").wait_for()
        assert page.locator("[name=headline]").input_value() == "Typed before the fall"
        assert file.read_text("utf-8") == before
        page.locator(".last button", has_text="Save").click()
        page.wait_for_url("**done=saved")
        assert "headline: Typed before the fall" in file.read_text("utf-8")
        opener.close()


# --- for every reader ---------------------------------------------------------------------------


def accessibility(page: Page) -> list[str]:
    from axe_playwright_python.sync_playwright import Axe

    rules = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    found: dict[str, Any] = Axe().run(page, options={"runOnly": rules}).response
    return [f"{each['id']}: {node['html'][:200]}" for each in found["violations"] for node in each["nodes"]]


@pytest.mark.parametrize(
    ("path", "medium"),
    [
        *((path, Medium()) for path in PAGES),
        *((path, Medium(size=PHONE, colours="dark")) for path in ("new/place", COATS)),
    ],
)
def test_the_accessibility_engine_finds_nothing(opens_desk: Opens, path: str, medium: Medium) -> None:
    page = opens_desk(path, medium)
    page.evaluate("for (const fold of document.querySelectorAll('details')) fold.open = true")
    assert accessibility(page) == []
    assert not opens_desk.said


def test_the_engine_finds_nothing_in_a_page_of_faults_or_a_choice(opens_desk: Opens, desk: Desk) -> None:
    page = opens_desk("stories/2026/tide-pool.md")
    page.locator("[name=headline]").fill("")
    page.get_by_role("button", name="Save").first.click()
    page.wait_for_selector(".trouble")
    assert accessibility(page) == []
    file = desk.state.root / "content/stories/2026/pie-day.md"
    page = opens_desk("stories/2026/pie-day.md")
    file.write_text(file.read_text("utf-8").replace("headline: ", "headline: Oh, "), "utf-8")
    page.locator("[name=headline]").fill("Pies")
    page.get_by_role("button", name="Save").first.click()
    page.wait_for_selector(".difference")
    assert accessibility(page) == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


@pytest.mark.parametrize("path", PAGES)
def test_nothing_is_wider_than_the_narrowest_screen(opens_desk: Opens, path: str) -> None:
    page = opens_desk(path, Medium(size=PHONE))
    page.evaluate("for (const fold of document.querySelectorAll('details')) fold.open = true")
    assert page.evaluate("document.documentElement.scrollWidth") == 320


@pytest.mark.parametrize("path", PAGES)
def test_our_own_checks_find_nothing(desk: Desk, path: str) -> None:
    def load(name: str) -> bytes | None:
        answer = desk.ask("/" + name)
        return answer.body if answer.status == 200 else None

    source = desk.ask(f"/_desk/write/{path}").body
    found = check_page(
        f"_desk/write/{path.partition('?')[0]}", source, contrast_judge(load, "", True)
    ).findings
    assert [
        f"{each.line} {each.check}: {each.message}"
        for each in found
        if each.verdict == "fails" or each.level == "A"
    ] == []
