"""Promises: sentences that send viewers to the station's site or screen, and sentences that only sound like it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitegen.intake.promises import promises_in
from tests.intake.said import STATION, sentences


@pytest.mark.parametrize(
    "said",
    [
        "Everything from this evening will be up on the web by midnight.",
        "The list is on our website.",
        "You'll find all the addresses on our website.",
        "We'll have them listed for you on our web site.",
        "Head to our website for the complete list.",
        "For details, go to our website.",
        "The address is on your screen.",
        "There's the number, at the bottom of your screen.",
        "We've put a link on our site.",
        "We have posted the whole schedule online.",
        "You can see the map on the Bright Side page.",
        "It's all there at bright side dot com.",
        "Scan the QR code you see here.",
        "We'll put the recipe up after the show.",
        "Just look under this story on our website.",
        "Log on to our website to sign up.",
        "More information is available on our homepage.",
        "Check our app for the full list of locations.",
        "If you missed any of that, it's on our website.",
        "I'll post the link for you.",
        "We've linked the form with this story.",
        "The plans for the ramp are on a page of ours, with every measure.",
        "Her street is marked there, down in the corner of your picture.",
        "If you never got to the end of that, brightside dot example dot com has it.",
        "Wally's recipe stays on the Bright Side page until he asks for it back.",
        "What the nurses can use is along the bottom of your set.",
        "I've written the stops out for you on the internet, under today's show.",
        "You can hear the whole of her song again online.",
        "Scan the code on your screen, and pick an hour.",
        "Which stove it is, that's not on our page yet, but it will be on Monday.",
        "What a mule won't eat is set down on our website.",
        "We've got Ned's list up next to the recipes, with the sizes.",
        "We've got the pattern up with the rest of tonight's papers.",
        "Type in our name and the word quilts.",
        "Our web people have made a page of nothing but hats.",
        "None of it goes on our site till they've met, and then, June, the pictures will all be there.",
        "We'll have a film of that up tomorrow, on the same page as always.",
        "If you missed a number, go to Bright Side at example dot org, and it's there.",
        "He drew us a plan of the cellar, and we're showing it to you right now.",
    ],
)
def test_a_promise_is_heard(said: str) -> None:
    assert [each.said.words for each in promises_in(sentences(said), STATION)] == [said]


@pytest.mark.parametrize(
    "said",
    [
        "You can sign up on the library's website.",
        "Their website crashed twice.",
        "He bought the boat online.",
        "They met online.",
        "We'll put you up, and we'll feed you.",
        "You can leave it with the baker, that's right under us.",
        "Nobody filmed it, so there's nothing for us to show you, on the site or anywhere.",
        "The fellow next to me says, can you see them?",
        "There's nothing on our page, but we'll tell him you asked.",
        "You can hand it to the driver of the Pages and Pies van.",
        "She watched it on the big screen.",
        "The list is long, and it gets longer every year.",
        "Go to your local library.",
        "We'll have more for you after the break.",
        "It is posted on the church door.",
        "He'll be there with his list.",
        "The hospital's page has been shared nine thousand times.",
        "I put up a shelf.",
        "It isn't on our site, and it won't be.",
        "Don't go looking for that on our page, there's nothing to see.",
        "She put her kitchen table up for sale online, and her sister bought it.",
        "The site of the old ferry house is under four feet of sand.",
        "Each page of the album has a leaf pressed in it.",
        "The film ran on a big screen in the park.",
        "Their own web page has the menu, so look there.",
        "You can give at kind hands dot org.",
        "Ours won the pie race, and theirs came in with the dog.",
        "Sixty people signed up through our page on the first night.",
        "He heard the song on our website in Norway, and flew over to sing it.",
        "A viewer sent the clip to our website, and it ran all week.",
    ],
)
def test_other_sentences_are_none(said: str) -> None:
    assert promises_in(sentences(said), STATION) == ()


def test_an_address_that_is_said_to_be_another_one_is_no_promise() -> None:
    spoken = sentences(
        "You can give at hen house dot example dot org.",
        "That's their address, not ours.",
        "Ours has the rules, if you'd like to see them first.",
    )
    assert [each.said.words for each in promises_in(spoken, STATION)] == [spoken[2].text]


def test_what_goes_on_where_a_promise_left_off_is_one() -> None:
    spoken = sentences(
        "The bus times are on our website.",
        "So is the map.",
        "So is my brother-in-law, but he sings.",
    )
    assert promises_in(spoken, STATION)[1].said.words == spoken[1].text


def test_an_answer_to_where_it_is_is_a_promise() -> None:
    spoken = sentences("Did we get the sizes up on our site, Vern?", "They're there, under the boots.")
    assert spoken[1].text in [each.said.words for each in promises_in(spoken, STATION)]


@pytest.mark.parametrize("programme", ["Your Town", "Town Talk"])
def test_a_programme_named_after_the_town_has_no_part_in_its_site(programme: str) -> None:
    named = replace(STATION, programme=programme)
    assert promises_in(sentences("The form is on the town's website."), named) == ()


def test_the_town_has_no_part_in_a_programme_named_after_its_crier() -> None:
    crier = replace(STATION, programme="The Town Crier")
    assert promises_in(sentences("The form is on the town's website."), crier) == ()
    said = "The form is on the crier's own page."
    assert [each.said.words for each in promises_in(sentences(said), crier)] == [said]


@pytest.mark.parametrize(
    ("said", "whole"),
    [
        ("Everything you heard this hour is on our website.", True),
        ("If you missed a street, they're all on our page.", True),
        ("Whatever we showed you is on our website.", True),
        ("All of tonight's visits are on our website.", True),
        ("Every name and number from this morning is on our site.", True),
        ("The whole of today's program is on our website.", True),
        ("All three stops are on our website.", False),
        ("The recipe is on our website.", False),
        ("Every stop of the bus is listed on our website.", False),
    ],
)
def test_a_promise_may_be_of_the_whole_show(said: str, whole: bool) -> None:
    assert [each.whole_show for each in promises_in(sentences(said), STATION)] == [whole]


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("We put a few of the drawings up for you.", True),
        ("You'll find it where you find everything of ours.", True),
        ("Go and have a look, we've made a page of it.", True),
        ("There's nothing about it on our site.", False),
        ("We went through our website twice, and it isn't there.", False),
        ("We'll keep you posted.", False),
        ("She's in the picture with the goat.", False),
    ],
)
def test_what_is_put_up_and_what_is_not_there(said: str, *, meant: bool) -> None:
    assert bool(promises_in(sentences("The mill wheel turns again.", said), STATION)) is meant


@pytest.mark.parametrize(
    "said",
    [
        (
            "We've put the form on our website.",
            "Ask for Lem.",
            "The old map is on there, if you want to see it.",
        ),
        ("We've put the form on the Bright Side page.", "And what he takes, you'll find that there too."),
        ("The form's up on our website.", "You'll be able to print it out from there."),
    ],
)
def test_what_is_on_the_page_named_before_is_promised(said: tuple[str, ...]) -> None:
    assert [each.said.words for each in promises_in(sentences(*said), STATION)] == [said[0], said[-1]]


def test_what_is_on_a_thing_that_is_no_site_is_not_promised() -> None:
    assert promises_in(sentences("They bought a new wagon.", "My name is on there, too."), STATION) == ()


def test_a_number_in_the_name_may_be_said_in_two_halves() -> None:
    said = ("The parts are up on the Room One-Eighteen site.",)
    assert promises_in(sentences(*said), replace(STATION, programme="Room 118"))
