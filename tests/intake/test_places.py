"""Places that viewers are sent to, by the grammar of directions; and places that are merely named."""

from __future__ import annotations

import pytest

from sitegen.intake.places import places_in
from tests.intake.said import NEWSROOM, sentences


@pytest.mark.parametrize(
    ("said", "names"),
    [
        ("You can drop them off at the Lowgate Library.", ["Lowgate Library"]),
        ("Take yours to Lowgate Library, Marsh Hardware or the Bankfoot Co-op.", ["Lowgate Library", "Marsh Hardware", "Bankfoot Co-op"]),
        ("There are collection boxes at Saint Anne's Church and at Fire Station Two in Bankfoot.", ["Saint Anne's Church", "Bankfoot Fire Station 2"]),
        ("Donations can be left at any of three places: Reed's Diner, the Lowgate Armory and Sandy End School.", ["Reed's Diner", "Lowgate Armory", "Sandy End School"]),
        ("Bring a coat to the police station in Sandy End.", ["Sandy End Police Station"]),
        ("The concert is at Bankfoot Town Hall on Friday.", ["Bankfoot Town Hall"]),
        ("Pick up a form at the Gull Bank Credit Union.", ["Gull Bank Credit Union"]),
        ("Marsh Hardware is taking them in, too, if you bring them by six.", ["Marsh Hardware"]),
        ("Drop yours in the barrel at Joe's Pizza.", ["Joe's Pizza"]),
        ("There's a box in Lowgate Hall, and there's another at the Bankfoot Laundry.", ["Lowgate Hall", "Bankfoot Laundry"]),
        ("You can donate at the Church of the Good Shepherd.", ["Church of the Good Shepherd"]),
    ],
)  # fmt: skip
def test_places_of_a_direction(said: str, names: list[str]) -> None:
    found = [each.name for each in places_in(sentences(said), NEWSROOM)]
    assert found == names


@pytest.mark.parametrize(
    "said",
    [
        "He went to Lowgate Elementary School with her brother.",
        "She was born in the hospital at Bankfoot.",
        "They met at the Lowgate Library in 1954.",
        "The bridge to Sandy End is closed.",
        "The library closet is full.",
        "Bring your library card.",
        "It belongs to the Lowgate Library.",
        "Drop them at any fire station in Bankfoot County.",
    ],
)
def test_places_that_nobody_is_sent_to(said: str) -> None:
    assert places_in(sentences(said), NEWSROOM) == ()


def test_a_shared_place_is_known_by_its_name() -> None:
    found = places_in(
        sentences("Take them to Fire Station Two in Bankfoot or to the library in Lowgate."), NEWSROOM
    )
    assert [each.id for each in found] == ["fire-2", "lowgate-library"]


def test_the_library_is_the_one_named_before() -> None:
    found = places_in(
        sentences("The Bankfoot Village Library lends skis.", "You can bring yours to the library."), NEWSROOM
    )
    assert [each.name for each in found] == ["Bankfoot Village Library"]


def test_an_answer_names_places() -> None:
    found = places_in(
        sentences("Where do people take them?", "The Lowgate Library, or Reed's Diner."), NEWSROOM
    )
    assert [each.name for each in found] == ["Lowgate Library", "Reed's Diner"]


def test_each_place_is_told_once() -> None:
    found = places_in(
        sentences("Drop them at the Lowgate Library.", "Again, take them to the library."), NEWSROOM
    )
    assert [each.name for each in found] == ["Lowgate Library"]
