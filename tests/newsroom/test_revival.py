"""Last year's story as a follow-up: what must be asked again is there, what was leave or news of last time is not."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from pathlib import Path
from shutil import copytree

import pytest

from sitegen.cli import main
from sitegen.geography.shapes import read_map
from sitegen.newsroom.drafting import DraftError, draft
from sitegen.newsroom.folder import read_newsroom
from sitegen.newsroom.nodes import compose
from sitegen.newsroom.records import Finding, Newsroom, Story
from sitegen.newsroom.revival import revived
from sitegen.newsroom.times import read_when
from tests.newsroom.test_schemas import complaints, front_of
from tests.newsroom.whole_station import write_whole
from tests.samples.station_folder import write_folder

ROOT = Path(__file__).parents[2]


@cache
def demonstration() -> Newsroom:
    newsroom = read_newsroom(ROOT, read_map).newsroom
    assert newsroom is not None
    return newsroom


def story(name: str) -> Story:
    return next(each for each in demonstration().stories if each.id == name)


def revive(name: str, **answers: str) -> tuple[str, str]:
    return draft("story", {"follows": name, **answers}, demonstration())


def values(text: str) -> str:
    """A file's lines without what is only said in comments."""
    return "\n".join(
        re.sub(r"\s+# .*", "", line) for line in text.splitlines() if not line.lstrip().startswith("#")
    )


STORIES = sorted(each.id for each in demonstration().stories if each.withdrawn is None)


@pytest.fixture(scope="module")
def station(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("demonstration")
    copytree(ROOT / "content", root / "content")
    return root


@pytest.mark.parametrize(
    "name", [*STORIES[:: max(1, len(STORIES) // 12)], "2026/toy-shelf", "2026/dog-adoption"]
)
def test_whatever_is_revived_has_only_blanks_for_faults(name: str, station: Path) -> None:
    path, text = revive(name, headline="It comes round again", aired="2027-11-20")
    on_hold = written(station, path, text)
    assert not [each for each in on_hold if each.weight == "fault"]
    found = [
        each
        for each in written(station, path, text.replace("hold: true", "hold: false", 1))
        if each.weight == "fault"
    ]
    for fault in found:
        assert fault.check in ("missing", "home-without-consent"), fault
        assert fault.spot.path == path
    blanks = [each.spot for each in on_hold if each.check == "missing-while-held"]
    assert blanks == [each.spot for each in found if each.spot in blanks] and bool(blanks) == bool(found)
    # Filled in as the comments ask, it is a story: on hold, following the earlier one.
    filled = filled_in(text)
    assert not [each for each in written(station, path, filled) if each.weight == "fault"]
    newsroom = read_with(station, path, filled)
    made = next(each for each in newsroom.stories if each.origin.spot.path == path)
    earlier = story(name)
    assert (made.hold, made.follows, made.counties) == (True, earlier.id, earlier.counties)
    assert [(ask.title, ask.kind, ask.accepts, ask.who_for) for ask in made.asks] == [
        (ask.title, ask.kind, ask.accepts, ask.who_for) for ask in earlier.asks
    ]
    for ask, before in zip(made.asks, earlier.asks, strict=True):
        assert ask.contact == before.contact and ask.helps == before.helps and ask.payee == before.payee
        kept = [entry for entry in before.drop_off if entry.stopped is None]
        assert [entry.place.name for entry in ask.drop_off] == [
            entry.place.name for entry in kept
        ] or not kept
        assert [entry.place.hours for entry in ask.drop_off] == [
            entry.place.hours for entry in kept
        ] or not kept
        assert ask.confirmed is None and ask.stopped is None
        if before.goal is not None:
            assert (
                ask.goal is not None and ask.goal.last_time == before.goal.so_far and ask.goal.so_far is None
            )
    assert made.photo is None and made.video is None and not made.corrections and not made.sponsored_by
    assert made.body == "" and not made.summary
    assert not complaints("story", front_of(filled, path))


def written(station: Path, path: str, text: str) -> tuple[Finding, ...]:
    target = station / path
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_text(text, "utf-8")
    try:
        return tuple(each for each in read_newsroom(station, read_map).findings if each.spot.path == path)
    finally:
        target.unlink()


def read_with(station: Path, path: str, text: str) -> Newsroom:
    target = station / path
    target.write_text(text, "utf-8")
    newsroom = read_newsroom(station, read_map).newsroom
    target.unlink()
    assert newsroom is not None
    return newsroom


def filled_in(text: str) -> str:
    """The file with every blank filled in, the way a producer would."""
    fill = {
        "deadline": "2027-12-15", "check_again_by": "2027-12-20", "starts": "2027-11-21", "dates": "2027-12-18 19:00", "from": "2027-11-22",
        "until": "2027-12-10", "consent": "2027-11-01", "number": "500", "drop_off": "[millrace-library]", "where": "[millrace-library]",
    }  # fmt: skip
    return re.sub(
        r"^(\s*)(?:- )?(\w+):   # fill in.*$",
        lambda found: f"{found[1]}{found[2]}: {fill[found[2]]}",
        text,
        flags=re.M,
    )


def test_every_date_of_last_time_stands_in_a_comment_and_nowhere_else() -> None:
    for name in ("2026/toy-shelf", "2026/coat-closet", "2026/dog-adoption", "2026/harbor-lights"):
        _, text = revive(name)
        assert not re.search(r"\d{4}-\d\d-\d\d", values(text)), name
        for ask in story(name).asks:
            if ask.deadline is not None:
                assert f"last time: {ask.deadline.day}" in text


def test_a_home_s_consent_and_what_stopped_must_be_asked_for_again(tmp_path: Path) -> None:
    newsroom = read_newsroom(write_whole(tmp_path), read_map).newsroom
    assert newsroom is not None
    earlier = next(each for each in newsroom.stories if each.id == "2026/coat-closet")
    ask = earlier.asks[0]
    home = replace(ask, drop_off=(replace(ask.drop_off[2], stopped=None),))
    text = revived(replace(earlier, asks=(home,)), newsroom, "", "")
    assert re.search(
        r"home:\n\s+consent:   # fill in; last time: 2026-11-02; the owner must agree again", text
    )
    text = revived(earlier, newsroom, "", "")
    # The place that moved, and the drop-off that was full, stand as comments with what was said.
    assert "# Last time it stopped 2026-12-11: Full." in text and "# - place: millrace-library" in text
    assert "Moved." in text and "Pellam Fire Station 2" not in values(text)
    assert "last_time: 120   # what had come, counted on 2026-11-20" in text
    assert "key: coat-drive" in text and "helps: [Pellam, beyond]" in text
    for private in (
        "photo:",
        "video:",
        "corrections:",
        "confirmed:",
        "stopped:",
        "sponsored_by:",
        "withdrawn:",
        "desk",
        "Ada Quill",
    ):
        assert private not in values(text), private
    assert (
        "clarification of 2026-11-23, not to be repeated" in text
        and "Quay Bakery; only if it is so again" in text
    )
    assert "their consent was for that story" in text
    node, problems = compose(text.split("---\n")[1])
    assert node is not None and not problems


def test_words_with_signs_of_yaml_come_back_as_they_were(tmp_path: Path) -> None:
    newsroom = read_newsroom(write_whole(tmp_path), read_map).newsroom
    assert newsroom is not None
    earlier = next(each for each in newsroom.stories if each.id == "2026/coat-closet")
    ask = replace(
        earlier.asks[0], title="No: #1 'coat' [big] {x} – yes", accepts=("yes", "a: b", "c, d"), drop_off=()
    )
    text = revived(replace(earlier, asks=(ask,), town="null", topics=("on",)), newsroom, "true", "2027-11-20")
    front = front_of(text, "x.md")
    assert (front["headline"], front["town"], front["topics"]) == ("true", "null", "on")
    assert (front["asks"][0]["title"], front["asks"][0]["accepts"]) == (ask.title, list(ask.accepts))


def test_it_goes_into_the_year_it_airs_and_never_over_a_file() -> None:
    assert revive("2025/tool-bench")[0] == "content/stories/2026/tool-bench.md"
    assert revive("2025/tool-bench", aired="2027-01-09 18:30")[0] == "content/stories/2027/tool-bench.md"
    assert "aired: 2027-01-09 18:30" in revive("2025/tool-bench", aired="2027-01-09 18:30")[1]
    with pytest.raises(DraftError, match="is there already"):
        revive("2025/coat-closet")
    assert read_when("2027-01-09 18:30").clock is not None


@pytest.mark.parametrize(
    ("answers", "said"),
    [
        ({"follows": "2025/coat-clost"}, "2025/coat-closet"),
        ({"follows": "2025/ferry-raffle"}, "withdrawn"),
        ({"follows": "2025/tool-bench", "kind": "bring"}, "does not belong"),
        ({"follows": "2025/tool-bench", "county": "Tidewick"}, "does not belong"),
        ({"follows": "2025/tool-bench", "aired": "soon"}, "aired"),
    ],
)
def test_what_cannot_be_revived_is_said(answers: dict[str, str], said: str) -> None:
    with pytest.raises(DraftError, match=re.escape(said)):
        draft("story", answers, demonstration())


def test_the_command_revives_without_asking_where_nobody_can_answer(
    station: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    import io

    monkeypatch.setattr("sys.stdin", io.StringIO(""))
    assert main(["draft", "--root", str(station), "story", "follows=2025/tool-bench"]) == 0
    made = station / "content/stories/2026/tool-bench.md"
    assert "Wrote content/stories/2026/tool-bench.md" in capsys.readouterr().out
    assert main(["draft", "--root", str(station), "story", "follows=2025/tool-bench"]) == 2
    made.unlink()


def test_a_station_without_stories_is_asked_nothing_of_them(tmp_path: Path) -> None:
    newsroom = read_newsroom(write_folder(tmp_path), read_map).newsroom
    assert newsroom is not None
    with pytest.raises(DraftError, match="is not asked"):
        draft("story", {"follows": "2025/coat-closet"}, newsroom)
