"""Places that viewers are sent to, by the grammar of directions; and places that are merely named."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.intake.places import candidates, chosen, places_in
from sitegen.intake.weighing import weights
from sitegen.newsroom.records import Hours, Mode, Place
from tests.intake.said import NEWSROOM, captioned, sentences
from tests.samples.intake_measures import same_place

WORDS = [
    "you",
    "can",
    "bring",
    "them",
    "to",
    "at",
    "the",
    "Lowgate",
    "Library",
    "and",
    "or",
    "Marsh",
    "Hardware",
    "church",
    "Fire",
    "Station",
    "Two",
    "box",
    "in",
    "on",
    "Tern",
    "Street",
    "Joe's",
    "a",
    "truck",
    "for",
    "they",
    "need",
    "coats",
    "until",
    "Friday",
    ",",
    "was",
    ".",
    "of",
    "Bankfoot",
]


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
        ("All four of the Bell Harbor Banks have a jar on the counter.", ["Bell Harbor Banks"]),
        ("Volunteers will be waiting to unload you at the Tern Point pier.", ["Tern Point Pier"]),
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


NEED = "They need four hundred winter coats."


@pytest.mark.parametrize("restored", [False, True])
@pytest.mark.parametrize(
    ("said", "names"),
    [
        ("You'll find collection bins at both Kessler's Markets.", ["Kessler's Markets"]),
        ("Swing them past the Dunmore Fire Hall, over on Fourth Street.", ["Dunmore Fire Hall"]),
        ("There's a barrel in the lobby of the Tern Point Savings Bank.", ["Tern Point Savings Bank"]),
        ("The people at Moss Landing Hardware will take them off your hands.", ["Moss Landing Hardware"]),
        ("Just leave it with the clerk at the Ashby post office.", ["Ashby Post Office"]),
        ("Teachers at Ashby Middle School have set out boxes by the front doors.", ["Ashby Middle School"]),
        ("Look for the red bucket next to the cash register at Tilly's Cafe.", ["Tilly's Cafe"]),
        ("The drop-off's at the old Ashby depot, around the back.", ["Ashby Depot"]),
        ("Dunmore Library's got a shelf set aside, and so does Ashby Town Hall.", ["Dunmore Library", "Ashby Town Hall"]),
        ("The Dunmore Rec Center will be open late to take them in.", ["Dunmore Rec Center"]),
        ("Anyone can drop in at Grace Chapel, on the corner of Fifth and Main.", ["Grace Chapel"]),
        ("The truck will be parked in front of the Ashby Grange on Saturday from nine to one.", ["Ashby Grange"]),
        ("You can get an application at the front desk of the Dunmore Armory, or from the Ashby Library.", ["Dunmore Armory", "Ashby Library"]),
        ("Haul it down to Larsen's Boatyard, at the end of Wharf Street.", ["Larsen's Boatyard"]),
        ("They're collecting at the Dunmore School gym and at Pruitt's Pharmacy all week.", ["Dunmore School", "Pruitt's Pharmacy"]),
        ("If it's easier, the Ashby Diner's taking them too.", ["Ashby Diner"]),
        ("Head over to Tern Point Marina on Saturday morning.", ["Tern Point Marina"]),
        ("You can also go see Dot at the Ashby Feed Store.", ["Ashby Feed Store"]),
        ("Stop in at either branch of the Dunmore Credit Union.", ["Dunmore Credit Union"]),
        ("There's one box inside the Lowgate Laundromat and one outside the Bankfoot Diner.", ["Lowgate Laundromat", "Bankfoot Diner"]),
        ("The easiest place is the Ashby Fire Station, on Route 6, where they've hung up a big sign.", ["Ashby Fire Station"]),
        ("Leave it on the bench outside the Ashby Bakery, or with the crew at the Dunmore Rink.", ["Ashby Bakery", "Dunmore Rink"]),
        ("Mail them to, or leave them at, the Dunmore Courthouse.", ["Dunmore Courthouse"]),
        ("Your nearest drop spot is probably the Ashby Bakery.", ["Ashby Bakery"]),
        ("They'll have a table set up in the foyer of Dunmore High School.", ["Dunmore High School"]),
        ("Places to bring them: the Ashby Library, Dunmore Town Hall, and Tern Point Chapel.", ["Ashby Library", "Dunmore Town Hall", "Tern Point Chapel"]),
        ("You want to bring them to Halloran's Tavern, across from the depot.", ["Halloran's Tavern"]),
        ("The Ashby Firehouse, Pruitt's Pharmacy and the Dunmore Rink all have bins.", ["Ashby Firehouse", "Pruitt's Pharmacy", "Dunmore Rink"]),
        ("Come see us at the Dunmore Fairgrounds this Saturday between ten and two.", ["Dunmore Fairgrounds"]),
        ("Boxes are waiting at the Ashby Library and, if you're on the east side, the Dunmore Pool.", ["Ashby Library", "Dunmore Pool"]),
        ("Take them down to the fire station in Bankfoot, or the one in Lowgate.", ["Bankfoot Fire Station 2", "Lowgate Fire Station"]),
        ("The libraries in Lowgate and Bankfoot are both taking them.", ["Lowgate Library", "Bankfoot Library"]),
        ("You can drop them at the Lowgate and Sandy End libraries.", ["Lowgate Library", "Sandy End Library"]),
        ("You can drop them at the Lowgate Library or the one in Sandy End.", ["Lowgate Library", "Sandy End Library"]),
        ("There are barrels at all three schools, in Lowgate, Bankfoot and Sandy End.", ["Lowgate School", "Bankfoot School", "Sandy End School"]),
        ("Ask for Joan at Dunmore Books, and she'll put them with the rest.", ["Dunmore Books"]),
        ("Those can go straight to the Ashby Shelter.", ["Ashby Shelter"]),
        ("The Dunmore Clinic would be glad to have them.", ["Dunmore Clinic"]),
        ("Or walk them over to the Ashby Senior Center any weekday.", ["Ashby Senior Center"]),
        ("It's on Saturday at the Dunmore Gym, and you can bring them along.", ["Dunmore Gym"]),
        ("And Pruitt's Pharmacy, next to the bank, has a second one.", ["Pruitt's Pharmacy"]),
        ("Pop into Tilly's Cafe, hand it over, and you'll get a muffin.", ["Tilly's Cafe"]),
        ("Or you could try the Dunmore Library.", ["Dunmore Library"]),
        ("The list of drop-offs includes the Ashby Armory, Grace Chapel and Joe's Garage.", ["Ashby Armory", "Grace Chapel", "Joe's Garage"]),
        ("There's a big blue tub by the door at Ashby Lanes.", ["Ashby Lanes"]),
        ("They set the boxes up at Dunmore Cider House and at the Ashby Shipyard.", ["Dunmore Cider House", "Ashby Shipyard"]),
        ("You can also give to the fund at any branch of Tern Point Savings Bank.", ["Tern Point Savings Bank"]),
        ("Bring a dish and a chair to the Ashby Meetinghouse on Friday.", ["Ashby Meetinghouse"]),
        ("Donations are piling up at the Dunmore Diner, but there's room for more.", ["Dunmore Diner"]),
    ],
)  # fmt: skip
def test_places_of_a_direction_amid_asking(said: str, names: list[str], restored: bool) -> None:
    found = [each.name for each in places_in(captioned(f"{NEED} {said}", capitals=restored), NEWSROOM)]
    assert len(found) == len(names)
    assert all(any(same_place(name, each) for each in found) for name in names), found


@pytest.mark.parametrize("restored", [False, True])
@pytest.mark.parametrize(
    "said",
    [
        "The fire started behind the Ashby Diner.",
        "She has worked at the Dunmore Library for thirty years.",
        "Crews from the Ashby Fire Station pulled him out.",
        "Proceeds go to the Dunmore Hospital.",
        "The club got its start at the Ashby Grange in nineteen fifty.",
        "He stopped at the Tern Point Market for milk and came out with a lottery ticket.",
        "The coats will go to families at the Lowgate Shelter.",
        "The Bankfoot Fire Station is being rebuilt.",
        "He gave it to a nurse at Lowgate Hospital.",
        "You may remember that the Ashby Theater burned down in May.",
        "The money raised at the Ashby Fair will fix the roof of Tern Point Chapel.",
        "Last year the Ashby Library had to turn people away.",
        "A man walked into the Dunmore Diner and paid for everybody.",
        "The students at Ashby Middle School have been practicing since June.",
        "The Lowgate Library and the Dunmore Library have merged.",
        "Nobody at the Dunmore Pool had seen anything like it.",
        "The dog was found in the basement of the Ashby Bakery.",
        "The Dunmore Hospital has set up a fund in her name.",
        "They took the cat to the Lowgate Shelter, and it came right back.",
        "The idea came from a teacher at Ashby Elementary School.",
    ],
)
def test_places_of_a_tale_send_nobody(said: str, restored: bool) -> None:
    assert places_in(captioned(f"It has been quite a week. {said}", capitals=restored), NEWSROOM) == ()


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


def test_a_station_of_another_kind_is_another_place() -> None:
    found = places_in(
        sentences("They need coats in Bankfoot.", "Hang them on the rack outside the bus station."), NEWSROOM
    )
    assert [each.name for each in found] == ["bus station"]


def test_a_shared_place_whose_name_is_common_words_is_seen_in_capitals() -> None:
    place = Place("candle-shop", "Blue Candle", "Bankfoot", "gull-bank", Hours(Mode.UNKNOWN))
    newsroom = replace(NEWSROOM, places=(*NEWSROOM.places, place))
    found = places_in(
        captioned("They need coats. You can swing by Blue Candle and leave one.", capitals=True), newsroom
    )
    assert [each.id for each in found] == ["candle-shop"]


def test_a_training_on_a_day_is_somewhere_to_go() -> None:
    found = places_in(
        sentences("They need tutors.", "It's next Tuesday evening at six, at the library in Lowgate."),
        NEWSROOM,
    )
    assert [each.id for each in found] == ["lowgate-library"]


# Sentences that nothing was fitted on, one or two for each sign.
@pytest.mark.parametrize("capitals", [False, True])
@pytest.mark.parametrize(
    ("said", "names"),
    [
        ("The swim team needs towels. Toss them in the hamper by the ticket window at Fenwick Pool.", ["Fenwick Pool"]),
        ("They're collecting yarn. My aunt keeps a basket for it at the Cutler Inn, on the bench as you come in.", ["Cutler Inn"]),
        ("We could use jars. Where do they go? Straight to Hanley's Orchard, around the back.", ["Hanley's Orchard"]),
        ("If you have a drum you don't play, Ostrom Music would love it.", ["Ostrom Music"]),
        ("Got a spare hour? You'd show up at the Radley Armory on Tuesday at six, east entrance.", ["Radley Armory"]),
        ("Forms are in a rack just inside the door of Lyman Town Hall, and they'd want them back by Friday.", ["Lyman Town Hall"]),
        ("Bring your shovel and meet up behind the Merton Firehouse at nine.", ["Merton Firehouse"]),
        ("They're short of diapers, any size. Our front desk has a bin, and we'll see that they get there.", ["front desk"]),
        ("They take cans, they take boxes, they take it all, and it's the old creamery on Foundry Road, any weekday till four.", ["Creamery on Foundry Road"]),
        ("Anybody with a clean record can drive. You pick up the papers at Bascom Bank, fill them in, and hand them back to the teller.", ["Bascom Bank"]),
        ("The drive's at Orrin High School this time, in the gym, and you don't need an appointment.", ["Orrin High School"]),
        ("They'd take your tomatoes, too. Just set them on the porch at Wilder House, any time.", ["Wilder House"]),
        ("Donations are welcome. Mabel's has a jar, and there's one at Kirby Hardware.", ["Kirby Hardware"]),
        ("If you'd like one of the kittens, they're at the Quimby Animal Clinic until Sunday.", ["Quimby Animal Clinic"]),
        ("You sign up at the Larch Hill Rec Center, upstairs, any night this week.", ["Larch Hill Rec Center"]),
        ("The church in Bascom's got room in its freezer, so take your pies there, or else to the Grange in Orrin.", ["Bascom Church", "Orrin Grange"]),
        ("Please, no more clothes. Toothpaste, soap, razors. Slip them through the night slot at Vernal Savings.", ["Vernal Savings"]),
    ],
)  # fmt: skip
def test_signs_of_a_direction_are_weighed(said: str, names: list[str], capitals: bool) -> None:
    found = [each.name for each in places_in(captioned(said, capitals=capitals), NEWSROOM)]
    assert len(found) == len(names)
    assert all(any(same_place(name, each) for each in found) for name in names), found


@pytest.mark.parametrize(
    ("said", "names"),
    [
        ("The shelter's out of litter. You can leave a bag with the woman who runs the register at Pogue's Feed.", ["Pogue's Feed"]),
        ("We need a hundred blankets. Not the thrift store, they're full. It's the Teller Street Chapel this year.", ["Teller Street Chapel"]),
    ],
)  # fmt: skip
def test_signs_of_a_direction_are_weighed_where_names_have_capitals(said: str, names: list[str]) -> None:
    found = [each.name for each in places_in(captioned(said, capitals=False), NEWSROOM)]
    assert found == names


@pytest.mark.parametrize("capitals", [False, True])
@pytest.mark.parametrize(
    "said",
    [
        "The mayor had lunch at the Cutler Inn with a goose on her lap. They need a name for it.",
        "He learned to weld at Orrin High School, and now he teaches it there.",
        "They used to hold it at the Radley Armory, and the roof leaked.",
        "She lives over the Bascom Bank and works in the Vernal Library. On Sundays she bakes.",
        "The pies went to the night crew at Lyman Hospital. The crew sent back the tins.",
        "Don't take them to the Merton Firehouse, they've no room.",
        "Nothing moves on Foundry Road when the swans cross. They walk from the pond to the Wilder House and back.",
        "Kids from Larch Hill School wrote to a whale. The whale has not answered.",
        "The money will put a new floor in the Teller Street Chapel. That's all paid for.",
        "A bear walked through the drive-up lane of the Vernal Savings Bank. The teller waved.",
        "She left her purse in the Fenwick Theater in 1961, and last week it came back. There was a ticket in it.",
        "The club meets every Monday at the Orrin Diner, and they haven't missed one since the war.",
    ],
)
def test_signs_of_a_tale_are_weighed(said: str, capitals: bool) -> None:
    assert places_in(captioned(said, capitals=capitals), NEWSROOM) == ()


@given(st.lists(st.sampled_from(WORDS), min_size=1, max_size=25), st.booleans())
def test_what_is_found_was_said(words: list[str], capitals: bool) -> None:
    spoken = captioned(" ".join(words) + ".", capitals=capitals)
    every = list(candidates(spoken, NEWSROOM))
    found = places_in(spoken, NEWSROOM)
    assert {each.name for each in found} <= {each.place.name for each in every}
    assert len({each.name for each in found}) == len(found)
    known = set(weights("places").of)
    assert all({name for name in each.signs if ":" not in name} <= known for each in every)


# What tells a place that viewers are sent to from others of the same sentences, one sentence or two for each sign.
@pytest.mark.parametrize("capitals", [False, True])
@pytest.mark.parametrize(
    ("said", "names"),
    [
        ("They need yarn. You can hand it in at the ticket booth in the Lowgate Library, any day.", ["Lowgate Library"]),
        ("You'd sign up at the side gate, Quarry Hill Cemetery, by Friday.", ["Quarry Hill Cemetery"]),
        ("They need blankets. Take them to Marsh Hardware, behind the paint cans, any day till five.", ["Marsh Hardware"]),
        ("They need jars. You can leave them with Marsh Hardware, over by the tire garage, any day.", ["Marsh Hardware"]),
        ("They need boots. Bring them to the Orrin Bus Garage, it's the tall brick building, any day.", ["Orrin Bus Garage"]),
        ("They need jars. You can leave them at Marsh Hardware. The Orrin Grange had a bin all winter, but they're painting, so that's gone.", ["Marsh Hardware"]),
        ("They need jars. You can leave them at Marsh Hardware. You'd think the Orrin Grange, but no.", ["Marsh Hardware"]),
        ("They need jars. You can leave them at Marsh Hardware. And the Orrin Grange, do they take them? No, they haven't the room.", ["Marsh Hardware"]),
        ("They need jars. You can leave them at Marsh Hardware. The Orrin Grange doesn't want any more of them.", ["Marsh Hardware"]),
        ("They need jars. You can leave them at Marsh Hardware. We were going to use the Orrin Grange, only the roof came off.", ["Marsh Hardware"]),
    ],
)  # fmt: skip
def test_one_place_is_told_from_what_is_said_around_it(said: str, names: list[str], capitals: bool) -> None:
    found = [each.name for each in places_in(captioned(said, capitals=capitals), NEWSROOM)]
    assert len(found) == len(names), found
    assert all(any(same_place(name, each) for each in found) for name in names), found


@pytest.mark.parametrize(
    ("said", "sign"),
    [
        ("Ida Fenn has been the crossing guard at the Orrin School for twenty-six years.", "for_years"),
        ("The clock on the Orrin Town Hall has been wrong since nineteen ninety.", "for_years"),
        ("A woman in Bankfoot drives a load of quilts to Tern House.", "somebody_does"),
        ("Remember, we told you about the goat at the Orrin Clinic.", "told_you"),
        ("If the Orrin Grange is too far, the Lowgate Library has them.", "too_far"),
        ("This is the Orrin Store, and that's Hal at the counter.", "this_is"),
        ("Walk up Cutler Hill to the library.", "way_to"),
        ("The Orrin Grange has cleared a corner of the kitchen for us.", "makes_room"),
        ("The Orrin Clinic has its own website.", "has_site"),
        ("You give it to Wanda, at the Orrin Grange.", "one_at"),
        ("Lean them up by the Orrin Chapel.", "by_the"),
        ("There are nine clocks in Ida Fenn's Kitchen.", "persons_room"),
        ("A clean one goes to the Orrin Grange, or to Reed's Diner.", "goes_or"),
        ("The rest go on the shelf at the Orrin Grange.", "others_go"),
        ("At the Orrin School there's a janitor named Hal.", "someone_behind"),
        ("Every branch is taking them, except the Orrin Grange.", "keep_away"),
        ("The Orrin Grange has begged off.", "not_now"),
    ],
)
def test_signs_of_what_is_said_around_a_place(said: str, sign: str) -> None:
    told = sentences("They need jars.", said, "Thank you.")
    assert any(each.signs[sign] for each in candidates(told, NEWSROOM) if each.sentence == 1)


def test_a_road_named_after_a_town_is_none_of_its_places() -> None:
    found = candidates(
        sentences("The library in Bankfoot has a shelf.", "Bring jars to Reed's Diner, on the Lowgate road."),
        NEWSROOM,
    )
    assert "lowgate-library" not in [each.place.id for each in found]


def test_who_is_only_spoken_to_sends_nobody_to_his_place() -> None:
    told = sentences(
        "Hal Ostrom, who runs the Orrin Diner, is with us.", "He said to me, tell them Tuesday.", "Fine."
    )
    assert not [each for each in candidates(told, NEWSROOM) if each.sentence == 1]


def test_a_place_is_sent_to_by_there_in_a_later_sentence() -> None:
    told = sentences("The Orrin Grange lost its roof.", "You can bring jars there until Friday.")
    assert [each.signs["there_later"] for each in candidates(told, NEWSROOM)] == [1.0]
    told = sentences("The Orrin Grange lost its roof.", "You can bring jars to Reed's Diner until Friday.")
    assert not any(each.signs["there_later"] for each in candidates(told, NEWSROOM))


def test_a_church_by_its_green_is_one_name() -> None:
    found = places_in(
        sentences("They need coats. Take them to Church on the Green, or to the Chapel by the Sea."), NEWSROOM
    )
    assert [each.name for each in found] == ["Church on the Green", "Chapel by the Sea"]


def test_a_place_of_a_town_that_is_not_listed_has_the_towns_name() -> None:
    found = places_in(sentences("They need coats. You can take one to the library up in Brill."), NEWSROOM)
    assert [each.name for each in found] == ["Brill Library"]


def test_a_shared_place_is_known_by_its_street() -> None:
    place = Place(
        "mission",
        "Bankfoot Mission Hall",
        "Bankfoot",
        "gull-bank",
        Hours(Mode.UNKNOWN),
        street="12 Tern Street",
    )
    newsroom = replace(NEWSROOM, places=(*NEWSROOM.places, place))
    found = places_in(
        sentences("They need coats. You can drop them off at the hall on Tern Street."), newsroom
    )
    assert [each.id for each in found] == ["mission"]


def test_stores_that_could_not_be_listed_are_none() -> None:
    assert (
        places_in(sentences("They need coats. You can drop them off at any of the grocery stores."), NEWSROOM)
        == ()
    )


def test_the_programme_is_no_place() -> None:
    assert (
        places_in(sentences("They need coats.", "You can see where to take them at Bright Side."), NEWSROOM)
        == ()
    )


def test_what_the_next_words_name_anew_is_one_place() -> None:
    found = places_in(
        sentences("They need coats. You can drop one off at the bank, Farmers Trust, any day."), NEWSROOM
    )
    assert [each.name for each in found] == ["Farmers Trust"]
    found = places_in(
        sentences("They need coats. Take one to Miss Odell's, the Lowgate Library, by six."), NEWSROOM
    )
    assert [each.id for each in found] == ["lowgate-library"]


def test_a_list_of_places_is_no_renaming() -> None:
    found = places_in(
        sentences(
            "They need coats. You can drop one off at the savings bank, Reed's Diner, or the old armory."
        ),
        NEWSROOM,
    )
    assert [each.name for each in found] == ["savings bank", "Reed's Diner", "old armory"]


# --- sentences that nothing was fitted on -----------------------------------------------------


@pytest.mark.parametrize("capitals", [False, True])
@pytest.mark.parametrize(
    ("said", "names"),
    [
        ("They need snow boots. Hand them in at the clerk's office, down the hall from the courtroom.", ["Clerk's Office"]),
        ("They need snow boots. You can leave them at the church in Lowgate, in Sandy End or in Bankfoot.", ["Lowgate Church", "Sandy End Church", "Bankfoot Church"]),
        ("They need snow boots. Bring them to Orrin Hardware or to our own lobby at Channel Nine.", ["Orrin Hardware", "Channel Nine Lobby"]),
        ("They need snow boots. Leave them at Fenwick Gym. The Radley Armory is open late, but there's no room in there, so no boots there, please.", ["Fenwick Gym"]),
        ("They need snow boots. Drop them at Merton Chapel, upstairs from the bicycle garage.", ["Merton Chapel"]),
    ],
)  # fmt: skip
def test_offices_lists_and_what_turns_givers_away(said: str, names: list[str], capitals: bool) -> None:
    found = [each.name for each in places_in(captioned(said, capitals=capitals), NEWSROOM)]
    assert len(found) == len(names)
    assert all(any(same_place(name, each) for each in found) for name in names), found


@pytest.mark.parametrize(
    "said",
    [
        "You can bring them any time. That's Wendy Finch, she keeps the key.",
        "You can bring them any time. That's Harold Stone. He says knock twice.",
        "Bring cash, and come early. She plays the saw in Keller Square until dark.",
        "They want more of them. I haul mine to the cannery every Friday with the radio on.",
        "Send them a card. The chili night at the firehouse in Bankfoot took in nine hundred dollars.",
    ],
)
def test_people_and_what_they_do_somewhere_send_nobody(said: str) -> None:
    assert places_in(captioned(said, capitals=False), NEWSROOM) == ()


def test_an_office_in_the_house_that_was_named_is_no_place_of_its_own() -> None:
    found = places_in(
        captioned("Bring them to Orrin School, and hand them in at the front office.", capitals=False),
        NEWSROOM,
    )
    assert [each.name for each in found] == ["Orrin School"]


def test_an_address_on_the_web_is_no_place() -> None:
    spoken = captioned("You can give at Orrin Hardware dot example dot org.", capitals=False)
    assert places_in(spoken, NEWSROOM) == ()


# --- names that are hard to see: only that they are considered -----------------------------------


def considered(said: str, *, capitals: bool = False) -> list[str]:
    spoken = captioned(f"They need snow boots. {said}", capitals=capitals)
    return [each.place.name for each in candidates(spoken, NEWSROOM)]


@pytest.mark.parametrize("capitals", [False, True])
@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("Leave them at Saw and Sickle, by the door.", "Saw and Sickle"),
        ("There's a bin at the Wandering Goat, by the till.", "Wandering Goat"),
        ("Or hand them to the ranger at the Otter Creek trailhead.", "Otter Creek trailhead"),
        ("You can bring them to Pruitt's Bait, any day.", "Pruitt's Bait"),
        ("Stop in at Kwan Brothers, or Delgado and Sons.", "Kwan Brothers"),
        ("And Our Lady of the Lake has a table.", "Our Lady of the Lake"),
        ("Or there's Brubeck's, the barber, he has a box.", "Brubeck's Barber"),
        ("There's a barrel in the greenhouse at Orrin College, too.", "Orrin College Greenhouse"),
        ("Bring it down to Berth Nine, by the ice machine.", "Berth Nine"),
        ("You can take them to the ice house, around the back.", "ice house"),
        ("Take them to the water department, second window.", "water department"),
    ],
)  # fmt: skip
def test_names_that_are_hard_to_see_are_considered(said: str, name: str, capitals: bool) -> None:
    found = considered(said, capitals=capitals)
    assert any(same_place(name, each) for each in found), found


@pytest.mark.parametrize("capitals", [False, True])
@pytest.mark.parametrize(
    ("said", "id"),
    [
        ("Bring them to the Bankfoot library, and Lowgate's has a box too.", "lowgate-library"),
        ("Bring them to the Bankfoot library, then Lowgate, any evening.", "lowgate-library"),
        ("There's the library in Bankfoot, or the one in Lowgate.", "lowgate-library"),
        ("The firefighters in Bankfoot will take them. You can leave them at the firehouse.", "fire-2"),
        ("You can leave them in Lowgate's library.", "lowgate-library"),
    ],
)  # fmt: skip
def test_a_place_is_known_by_its_town_and_its_kind(said: str, id: str, capitals: bool) -> None:
    spoken = captioned(f"They need snow boots. {said}", capitals=capitals)
    assert id in [each.place.id for each in candidates(spoken, NEWSROOM)]


@pytest.mark.parametrize(
    "said",
    [
        "Drive from Bankfoot to Lowgate and see the library.",
        "It weighs sixteen inches, or at sixty-one Orchard.",
    ],
)
def test_ways_and_numbers_are_no_places(said: str) -> None:
    found = considered(said, capitals=True)
    assert "Lowgate Library" not in found[:-1] and not any("Sixt" in each for each in found), found


def test_a_restaurant_is_the_one_whose_name_was_said() -> None:
    found = considered(
        "There's a box at the Amber Heron. Stop in at the restaurant, and thank them.", capitals=False
    )
    assert found == ["Amber Heron", "Amber Heron"]


@pytest.mark.parametrize("capitals", [False, True])
@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("Take them to the library, or if you're over in Bankfoot, the fire station.", "Bankfoot Fire Station 2"),
        ("There's a slot at Lowgate or at the Bankfoot library.", "Lowgate Library"),
        ("Come to Prewitt's, that's the bakery on Gull Street. Leave them at Prewitt's.", "Prewitt's Bakery"),
        ("Brannigan Lumber gave the boards. There's a box on the counter at Brannigan.", "Brannigan Lumber"),
        ("You can hand them to Father Dunn at Saint Brannoc's. Come to the rectory door.", "Saint Brannoc's Rectory"),
        ("You can take them to the church basement, any evening.", "church"),
        ("My aunt's shop, that's Wick and Tallow, has a bin.", "Wick and Tallow"),
        ("There's a box at the hospital gift shop.", "hospital gift shop"),
        ("Leave them at the shoe repair, or at Corbin's, the shoe repair.", "Corbin's Shoe Repair"),
        ("You can leave them in the reading room at Lowgate Library.", "Lowgate Library"),
        ("Leave them at the soup kitchen, any evening.", "soup kitchen"),
    ],
)  # fmt: skip
def test_names_that_other_words_complete_are_considered(said: str, name: str, capitals: bool) -> None:
    found = considered(said, capitals=capitals)
    assert any(same_place(name, each) for each in found), found


def test_a_firm_of_a_family_keeps_its_trade() -> None:
    found = considered("Leave them at Hobart and Sons Plumbing, any evening.", capitals=False)
    assert "Hobart and Sons Plumbing" in found


def test_the_town_behind_a_place_is_seen_where_capitals_hide_it() -> None:
    found = considered("You can bring them to the fairgrounds in Marlow, by the gate.", capitals=True)
    assert "Marlow Fairgrounds" in found
    found = considered("You can bring them to the fairgrounds in back, by the gate.", capitals=True)
    assert not any("Back" in each for each in found), found


def test_a_town_that_is_not_listed_may_stand_before_its_place() -> None:
    found = considered("In Marlow, it's the firehouse, by the gate.", capitals=False)
    assert "Marlow Firehouse" in found


def test_a_place_keeps_the_name_that_was_said() -> None:
    place = Place("depot", "Heron and Gull Hardware", "Lowgate", "heron-flats", Hours(Mode.UNKNOWN))
    known = replace(NEWSROOM, places=(*NEWSROOM.places, place))
    spoken = captioned("You can leave them at Lowgate Hardware.", capitals=False)
    assert [(each.place.name, each.place.id) for each in candidates(spoken, known)] == [
        ("Lowgate Hardware", "depot")
    ]


@pytest.mark.parametrize(
    ("said", "wrong"),
    [
        ("You can look it up from A to Z, any day.", "Z"),
        ("It's all on bright side dot example dot org.", "bright side"),
        ("The list is on our page at Heron Hall online.", "Heron Hall"),
        ("Bring them around to the loading dock.", "loading dock"),
        ("It's our place on Gull Street.", "Place on Gull Street"),
        ("Flat tires are fine.", "Flat Tires"),
    ],
)
def test_what_is_nowhere_to_go_is_not_considered(said: str, wrong: str) -> None:
    assert not any(same_place(wrong, each) for each in considered(said, capitals=False))


@pytest.mark.parametrize(
    ("said", "names"),
    [
        ("You can leave them at Wick and Tallow, the candle shop under the bridge.", ["Wick and Tallow"]),
        (
            "You can leave them at the yarn shop, Corbin's, there's a basket, and you ring.",
            ["Corbin's Yarn Shop"],
        ),
    ],
)
def test_a_name_and_what_explains_it_are_one_place(said: str, names: list[str]) -> None:
    found = list(candidates(captioned(f"They need hats. {said}", capitals=False), NEWSROOM))
    texts = [each.text for each in captioned(f"They need hats. {said}", capitals=False)]
    assert [each.name for each in chosen(found, texts)] == names


@pytest.mark.parametrize(
    ("said", "names"),
    [
        (
            ("You can hand your tins to the librarians in Aldbury, Nether Poll or Cray Hill.",),
            ["Aldbury Library", "Nether Poll Library", "Cray Hill Library"],
        ),
        (
            ("They need stamps.", "There's a jar at Vickery's Nut and Bolt, by the till, any day until Friday."),
            ["Vickery's Nut and Bolt"],
        ),
        (
            ("Please bring your old maps.", "Leave them in the barrel at the library here in Orrin."),
            ["Orrin Library"],
        ),
        (
            (
                "With me is Maud Pell, who runs the Bexhill Eye Clinic, and they need old glasses.",
                "You put them in an envelope, and you can leave them at my office until Friday.",
            ),
            ["Bexhill Eye Clinic"],
        ),
        (
            (
                "They need blankets, and you can drop them at the Orrin Grange until Friday.",
                "Please stay away from the Bascom Church, they're full up, they can't take any more.",
            ),
            ["Orrin Grange"],
        ),
    ],
)  # fmt: skip
def test_names_are_read_by_what_stands_around_them(said: Sequence[str], names: Sequence[str]) -> None:
    assert [each.name for each in places_in(sentences(*said), NEWSROOM)] == names


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("They need books. You can bring them to the hall of deeds until Friday.", "Hall of Deeds"),
        ("They need books. You can leave a box at frosty's, on Main Street, until Friday.", "Frosty's"),
        ("They need books. You can leave them at the grange in Pell's Crossing, any evening.", "Pell's Crossing Grange"),
        ("They need books. There's a box for them at the copper kettle, on Main Street, you can leave yours there until Friday.", "Copper Kettle"),
    ],
)  # fmt: skip
def test_names_that_captions_in_capitals_hide_are_seen(said: str, name: str) -> None:
    assert [each.name for each in places_in(captioned(said, capitals=True), NEWSROOM)] == [name]


def test_a_place_of_its_kind_in_another_town_is_not_the_station_s_own() -> None:
    place = Place("union", "Heron Credit Union", "Lowgate", "heron-flats", Hours(Mode.UNKNOWN))
    newsroom = replace(NEWSROOM, places=(*NEWSROOM.places, place))
    found = places_in(
        sentences("They need coins.", "There's a jar for them at the credit union in Marl Ferry, you can drop yours in."), newsroom
    )  # fmt: skip
    assert [(each.id, each.name) for each in found] == [("", "Marl Ferry Credit Union")]


def test_a_town_behind_a_comma_is_the_place_s() -> None:
    place = Place("hall", "Heron Grange", "Lowgate", "heron-flats", Hours(Mode.UNKNOWN))
    newsroom = replace(NEWSROOM, places=(*NEWSROOM.places, place))
    found = places_in(
        sentences("They need vests.", "You can put yours in the box at the grange, in Marl Ferry."), newsroom
    )
    assert [(each.id, each.name) for each in found] == [("", "Marl Ferry Grange")]


@pytest.mark.parametrize("capitals", [False, True])
def test_the_lobby_at_the_station_is_considered(capitals: bool) -> None:
    said = "They need mittens. You can leave yours in the lobby at Heron Flats Television until Friday."
    assert any("lobby" in each.lower() for each in considered(said, capitals=capitals))


@pytest.mark.parametrize("capitals", [False, True])
def test_a_number_on_a_street_and_a_button_are_no_places(capitals: bool) -> None:
    said = "They need fans. Take yours to Vickery's Hardware, 31 Cooper Avenue, until Friday. Or you can press the Big Green Button."
    found = places_in(captioned(said, capitals=capitals), NEWSROOM)
    assert [each.name for each in found] == ["Vickery's Hardware"]


def test_the_firehouse_of_a_town_is_its_station() -> None:
    found = places_in(
        sentences("They need coats.", "You can leave yours at the firehouse in Bankfoot."), NEWSROOM
    )
    assert [each.id for each in found] == ["fire-2"]


@pytest.mark.parametrize("capitals", [False, True])
@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("You can take yours to the cheese cellar in Bankfoot.", "Bankfoot cheese cellar"),
        ("You can take yours to the sluice in Bankfoot.", "Bankfoot sluice"),
        ("You can leave them at the peat shed on Sedge Road.", "peat shed on Sedge Road"),
        ("You can leave them at the sand yard on Sedge Road.", "sand yard on Sedge Road"),
        ("You can leave them at the old tannery yard.", "old tannery yard"),
        ("Sign up at the toboggan hill until Friday.", "toboggan hill"),
        ("You can walk yours over to the bureau of weights in Bankfoot.", "Bankfoot bureau of weights"),
        ("You can leave yours at the tailor's on Sedge Road.", "tailor on Sedge Road"),
        ("There's a barrel at Ketchum's, the sail canvas, by the till.", "Ketchum's Sail Canvas"),
        ("There's a barrel at Ketchum's, up in Bankfoot, the drugstore side.", "Ketchum's Drugstore"),
        ("There's a barrel at Ketchum's, the hat place.", "Ketchum's Hat"),
        ("You can sign up with the Ketchum twins, at the bakery.", "Ketchum Twins Bakery"),
        ("And Ketchum and Daughters, they have a barrel.", "Ketchum and Daughters"),
        ("You can bring yours to the porch of Maud Ketchum.", "Maud Ketchum's Porch"),
        ("This is Maud Ketchum. You can leave yours in my garage.", "Maud Ketchum's Garage"),
        ("You can leave yours at Ketchum Upholstery until Friday.", "Ketchum Upholstery"),
    ],
)  # fmt: skip
def test_places_of_any_kind_are_considered(said: str, name: str, capitals: bool) -> None:
    assert any(same_place(each, name) for each in considered(said, capitals=capitals))


def test_a_place_may_be_told_apart_by_where_it_lies() -> None:
    found = considered("Just go to the chapel, the one on the Strand.", capitals=False)
    assert "Chapel on the Strand" in found


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("Leave them in the milk can outside of frosty's, by the door.", "Frosty's"),
        ("There's one more class, and you can sign up in pebble cove.", "Pebble Cove"),
        ("You can leave yours at silver thread alterations.", "Thread Alterations"),
        ("There's also the tin whistle, on Sedge Road, by the till.", "Tin Whistle"),
        ("Loose thread has a bin by the till.", "Loose Thread"),
        ("Then it's the bookshop, spare thimble, any day.", "Spare Thimble"),
    ],
)
def test_names_of_common_words_are_considered_in_captions_in_capitals(said: str, name: str) -> None:
    assert any(same_place(each, name) for each in considered(said, capitals=True))


@pytest.mark.parametrize("capitals", [False, True])
@pytest.mark.parametrize(
    ("said", "place"),
    [
        ("There's a shelf for them at the Loom's ticket office, in Lowgate.", "loom"),
        ("You can leave them at the Lowgate vet's.", "vet"),
        ("You can leave them at Lowgate's animal hospital.", "vet"),
        ("You can leave them in our own front lobby.", "lobby"),
        ("You can leave them in the lobby of this station.", "lobby"),
        ("You can leave them at the front desk here on Pier Street.", "lobby"),
        ("You can leave them at the Copperas Works Museum.", "museum"),
        ("You can leave them at the copper museum.", "museum"),
        ("You can leave them at the library's side door in Lowgate.", "lowgate-library"),
    ],
)
def test_the_station_s_places_are_known_by_less_than_their_names(
    said: str, place: str, capitals: bool
) -> None:
    def own(key: str, name: str, town: str, street: str = "") -> Place:
        return replace(Place(key, name, town, "heron-flats", Hours(Mode.UNKNOWN)), street=street)

    places = (
        own("loom", "Lowgate Loom Theater", "Lowgate"),
        own("vet", "Lowgate Animal Clinic", "Lowgate"),
        own("lobby", "Heron Flats Television lobby", "Sandy End", "1 Pier Street"),
        own("museum", "Copper Works Museum", "Sandy End"),
    )
    known = replace(NEWSROOM, places=(*NEWSROOM.places, *places))
    spoken = captioned(f"They need snow boots. {said}", capitals=capitals)
    assert place in [each.place.id for each in candidates(spoken, known)]


def test_the_front_desk_of_another_station_is_not_the_programme_s() -> None:
    lobby = Place("lobby", "Heron Flats Television lobby", "Sandy End", "heron-flats", Hours(Mode.UNKNOWN))
    known = replace(NEWSROOM, places=(*NEWSROOM.places, lobby))
    said = "The Bankfoot Fire Station needs boots. You can leave them at the front desk at the station."
    assert "lobby" not in [each.place.id for each in candidates(captioned(said, capitals=False), known)]


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("Leave them in the gravel lot at the foot of Sedge Lane.", "Gravel Lot on Sedge Lane"),
        ("Leave them in the gravel lot halfway up Sedge Lane.", "Gravel Lot on Sedge Lane"),
        ("Leave them at the seed exchange just off Sedge Road.", "Seed Exchange on Sedge Road"),
        ("Leave them at Garnet's boat sheds.", "Garnet's Boat Sheds"),
        ("Leave them at the Wheelwright Park pavilion.", "Wheelwright Park Pavilion"),
        ("For all others it's the Pinder pottery, by the bridge.", "Pinder Pottery"),
        ("Bring them to the potting shed in back of the Drummond museum, any day.", "Drummond Museum Potting Shed"),
        ("They're on show in the old Bargemen's Hall, in rows.", "Bargemen's Hall"),
        ("They're on show in the bargemen's hall in Lowgate.", "Lowgate Bargemen's Hall"),
    ],
)  # fmt: skip
def test_a_place_is_called_by_the_street_the_house_or_the_owner_that_is_said(said: str, name: str) -> None:
    assert name in considered(said, capitals=False)


@pytest.mark.parametrize(
    ("said", "sign"),
    [
        ("Marsh Hardware said they'd have a bin, but it isn't out yet, so hold off.", "refused"),
        ("Marsh Hardware has none at the moment, so don't make the trip.", "refused"),
        ("The one at Marsh Hardware has stopped, alas, there's nobody to empty it.", "full"),
        ("Marsh Hardware, they've run out for now.", "not_now"),
        ("It used to be that you could leave them at Marsh Hardware.", "thought_no"),
        ("My niece asked could she leave them at Marsh Hardware. No.", "asked_no"),
        ("Some asked whether they might leave them at Marsh Hardware. Please don't.", "not_there_next"),
    ],
)  # fmt: skip
def test_signs_of_a_place_where_nothing_is_taken_now(said: str, sign: str) -> None:
    spoken = captioned(f"They need snow boots. {said}", capitals=False)
    assert all(each.signs[sign] for each in candidates(spoken, NEWSROOM) if "Marsh" in each.place.name)
    assert any("Marsh" in each.place.name for each in candidates(spoken, NEWSROOM))


def test_the_nearest_is_a_place_that_takes_them() -> None:
    spoken = captioned("They need snow boots. For you, Marsh Hardware is nearest.", capitals=False)
    assert [each.signs["takes_them"] for each in candidates(spoken, NEWSROOM)] == [1.0]


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("You're on The Garden Gate, who's calling?", "Garden Gate"),
        ("They fill school bags, all of them.", "School"),
        ("You can press the Big Green Button.", "Big Green Button"),
        ("You can leave them in the seed barn at Hobart and Crewe.", "Hobart's Barn"),
    ],
)
def test_what_only_looks_like_a_place_is_not_considered(said: str, name: str) -> None:
    assert not any(name in each for each in considered(said, capitals=False))


def test_our_front_desk_in_a_letter_is_that_of_whoever_wrote_it() -> None:
    found = considered("Ruth Amory runs Heath House. They may come to our front desk.", capitals=False)
    assert found.count("Heath House") == 2 and "front desk" not in found


@pytest.mark.parametrize("capitals", [False, True])
@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("There's the cleaner's in Lowgate, Hollis's, and they steam it for you.", "Hollis's Cleaners"),
        ("Leave them at the shoe repair over in Bankfoot, Dorrit's, any day.", "Dorrit's Shoe Repair"),
        ("Leave them at the bakery, that's Corbin's, by Friday.", "Corbin's Bakery"),
        ("Leave them at the Lowgate sailhouse by Friday.", "Lowgate Sailhouse"),
    ],
)
def test_a_kind_said_before_an_owner_s_name_completes_it(said: str, name: str, capitals: bool) -> None:
    assert any(same_place(name, each) for each in considered(said, capitals=capitals))


@pytest.mark.parametrize(
    "said", ["the baker in Lowgate, warm crust,", "the florist over in Bankfoot, green thimble,"]
)
def test_a_name_of_common_words_stands_behind_the_kind_and_its_town(said: str) -> None:
    name = " ".join(said.removesuffix(",").split(", ")[1].split()).title()
    assert name in considered(f"There's {said} and they take them any day.", capitals=True)


def test_what_is_not_the_only_place_is_one() -> None:
    def signs_of(said: str) -> dict[str, float]:
        return next(
            each.signs
            for each in candidates(sentences("They need coats.", said), NEWSROOM)
            if each.place.name == "Lowgate Library"
        )

    for said in ("It's not just the Lowgate Library now.", "It isn't only at the Lowgate Library."):
        found = signs_of(said)
        assert (found["not_only"], found["denied"], found["keep_away"]) == (1, 0, 0)
    found = signs_of("It's not at the Lowgate Library now.")
    assert (found["not_only"], found["denied"]) == (0, 1)


def test_where_a_viewer_s_own_things_go_is_no_one_else_s_gain() -> None:
    def benefits(said: str) -> float:
        found = candidates(sentences("They sort buttons.", said), NEWSROOM)
        return next(each.signs["benefits"] for each in found if each.place.name == "Lowgate Library")

    assert benefits("If you've a spare one, it goes to the Lowgate Library by Friday.") == 0
    assert benefits("Whatever you find goes to the Lowgate Library.") == 0
    assert benefits("Once it's all been sorted, it goes to the Lowgate Library.") == 1


def test_a_room_of_nobody_in_particular_is_no_place() -> None:
    for whose in ("somebody's", "someone's", "everybody's"):
        assert considered(f"They sleep in {whose} spare room tonight.", capitals=True) == []


def test_a_kind_told_before_its_name_is_the_same_place_where_the_sentence_goes_on() -> None:
    said = "They need hats. You can leave them at the shoe repair in Bankfoot, Dorrit's, and they'll mend them too."
    spoken = captioned(said, capitals=True)
    found = [each for each in candidates(spoken, NEWSROOM) if each.phrase.start > 10]
    assert [each.name for each in chosen(found, [each.text for each in spoken])] == ["Dorrit's Shoe Repair"]
    assert found[-1].signs["kind_told"] == 1


@pytest.mark.parametrize("capitals", [False, True])
def test_another_story_may_name_the_place_in_full(capitals: bool) -> None:
    before = captioned("A bench came back to Hollis's Bakery on Monday.", capitals=capitals)
    spoken = captioned(
        "They need hats. There's a box at Hollis's, by the till, until Friday.", capitals=capitals
    )
    assert "Hollis's Bakery" in [each.name for each in places_in(spoken, NEWSROOM, [*before, *spoken])]
    other = captioned("Hollis's Bakery beat Hollis's Hardware at darts.", capitals=capitals)
    found = candidates(spoken, NEWSROOM, [*other, *spoken])
    assert not [each for each in found if each.place.name in ("Hollis's Bakery", "Hollis's Hardware")]


def test_a_station_s_place_keeps_its_name_where_the_whole_of_its_town_s_is_said() -> None:
    station = Place("fire-9", "Sandy Fire Station 9", "Sandy End", "heron-flats", Hours(Mode.UNKNOWN))
    known = replace(NEWSROOM, places=(*NEWSROOM.places, station))
    found = candidates(sentences("They need hats.", "Leave them at Sandy End Station by Friday."), known)
    assert [each.place.name for each in found if each.place.id == "fire-9"] == ["Sandy Fire Station 9"]


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("There's a sheet on the bar at the tinkers arms in Bankfoot, by the till.", "Tinkers Arms"),
        ("That's thimble and thread, in Bankfoot, and they take them any day.", "Thimble and Thread"),
        ("The thimble and thread, on Tern Street, has a box for you.", "Thimble and Thread"),
        ("You can leave yours at the front desk, the hotel corvina, any day.", "Hotel Corvina"),
        ("Bring them to the basement of holy cross, by the furnace.", "Holy Cross"),
        ("There's a box in back of stumpy Ned's, you don't have to eat there.", "Stumpy Ned's"),
        ("Take yours to the counter of Nell's chowder window.", "Nell's Chowder Window"),
        ("You can get one on the ice cream boat, whenever it ties up.", "Ice Cream Boat"),
        ("There's ruddy's, on tern, he takes them for nothing.", "Ruddy's"),
        ("There's a box for you at three cousins, the hair place.", "Three Cousins"),
        ("And my sister's salon, snip away, on tern, takes them, so bring yours.", "Snip Away"),
        ("At sexton brothers in Bankfoot they take them any day.", "Sexton Brothers"),
        ("Bring yours to lapwing house in Bankfoot, or leave it here.", "Lapwing House"),
        ("You want a suit, second petal, up the street, will lend you one.", "Second Petal"),
        ("Leave it with whoever is in, it's called the hinge wall, and they'll mend it.", "Hinge Wall"),
    ],
)
def test_more_names_that_captions_in_capitals_hide(said: str, name: str) -> None:
    assert name in considered(said, capitals=True)


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("The Thimble and Thread, on Tern Street, has a box for you.", "Thimble and Thread"),
        ("You can leave yours at Finch and Niece, the drugstore, until Friday.", "Finch and Niece"),
        ("Bring a dollar to Nell's taco truck, by the pier.", "Nell's Taco Truck"),
        ("Leave them at the church hall in Bankfoot.", "Bankfoot Church Hall"),
        ("You can sign up at the housing trust's own office, on Tern Street.", "Housing Trust's Office"),
        ("There's a freezer for yours in the porch of Saint Wulmar's, by the door.", "Saint Wulmar's"),
        ("Bring it to the food shelf in Bankfoot by Friday.", "Bankfoot Food Shelf"),
        ("You bring yours to Doctor Amberly's office, on Tern Street.", "Doctor Amberly's Office on Tern Street"),
        ("You get it at the harbormaster's in Bankfoot, any day.", "Bankfoot Harbormaster's Office"),
        ("Bankfoot people, your fire hall has a box for you.", "Bankfoot Fire Station 2"),
        ("The Bankfoot people want to help, so their fire hall takes them as well.", "Bankfoot Fire Station 2"),
        ("In Bankfoot there's a barrel at the vet, by the scale.", "Bankfoot Vet"),
        ("You come to St. Wulmar's Kitchen any day.", "St. Wulmar's Kitchen"),
    ],
)  # fmt: skip
def test_more_names_are_considered(said: str, name: str) -> None:
    found = considered(f"They need hats. {said}")
    assert [each for each in found if same_place(each, name)], found


def test_an_official_s_office_goes_by_what_he_was_introduced_as() -> None:
    said = "The Gull Bank County Fire Marshal wants to hear from you. You can walk into my office on Tern Street."
    assert "Gull Bank County Fire Marshal's Office" in considered(said)
    assert not [
        each for each in considered("You can walk into my office on Tern Street.") if "Marshal" in each
    ]


@pytest.mark.parametrize("said", ["our front desk", "our own desk", "our reception desk"])
def test_the_station_s_front_desk_is_in_its_lobby(said: str) -> None:
    lobby = Place("lobby", "Gull Bank Television lobby", "Bankfoot", "gull-bank", Hours(Mode.UNKNOWN))
    known = replace(NEWSROOM, places=(*NEWSROOM.places, lobby))
    found = candidates(sentences("They need hats.", f"You can leave yours at {said}, any day."), known)
    assert [each.place.name for each in found] == ["Gull Bank Television lobby"]


@pytest.mark.parametrize(
    "said",
    [
        "You do that by the stage door and holler.",
        "Bring them in black and white, until Friday.",
        "Leave it in the basket, at closing.",
        "It's in the same bench, at the second register, on top of dryer six.",
        "They've put eleven hundred used tires out.",
        "Bring us all in one place, and fill in the yellow slip.",
        "They want you, so go to the south.",
    ],
)
def test_what_captions_in_capitals_make_look_like_names(said: str) -> None:
    assert considered(said, capitals=True) == []


@pytest.mark.parametrize(
    ("sign", "said", "name"),
    [
        ("afterward", "The cans go to the Lowgate Library afterward.", "Lowgate Library"),
        ("gains", "The Lowgate Library gets the most of it.", "Lowgate Library"),
        ("others_go", "Every penny goes to the Lowgate Library.", "Lowgate Library"),
        ("others_go", "The finished quilts go to the Lowgate Library.", "Lowgate Library"),
        ("viewers_did", "All summer you dropped your change into boots at the Lowgate Library.", "Lowgate Library"),
        ("locates", "Bring it to the Bankfoot Co-op, that's in back of the Marsh Hardware store.", "Marsh Hardware Store"),
        ("yet_to_come", "A couple of ladies want to start one at the Lowgate Armory.", "Lowgate Armory"),
        ("person_head", "It was painted by Rosalind Park, and you can bid on it.", "Rosalind Park"),
        ("not_it", "Not the Lowgate Library.", "Lowgate Library"),
        ("not_it", "Please don't carry them to the Lowgate Library.", "Lowgate Library"),
        ("keep_going", "People keep bringing them to the Lowgate Library.", "Lowgate Library"),
        ("once", "There was a time you did it at the Lowgate Library.", "Lowgate Library"),
        ("word_from", "A thank-you from the Lowgate Library.", "Lowgate Library"),
        ("moved_to", "So that has moved up the hill to the Lowgate Library.", "Lowgate Library"),
        ("building", "The Lowgate Library has its furnace out.", "Lowgate Library"),
        ("doors_of", "It's the bay doors behind the Lowgate Library.", "Lowgate Library"),
        ("thought_no", "You used to put your name down at the Lowgate Library.", "Lowgate Library"),
        ("folks_who", "It was the folks at the Lowgate Library who thought of it.", "Lowgate Library"),
        ("shipped", "It'll all be driven over to the Lowgate Library.", "Lowgate Library"),
        ("i_did", "I bought mine at the Lowgate Library.", "Lowgate Library"),
        ("sponsors", "The Lowgate Library is paying for the bus.", "Lowgate Library"),
        ("sponsors", "The bus is paid for by the Lowgate Library.", "Lowgate Library"),
        ("worked_on", "They're tearing down the old Lowgate Library.", "Lowgate Library"),
        ("behind_me", "That's the roof of the Lowgate Library behind me.", "Lowgate Library"),
        ("gains", "The Lowgate Library hands them out on Monday.", "Lowgate Library"),
        ("word_from", "And the Lowgate Library says hello.", "Lowgate Library"),
        ("landmark", "Turn left at the Lowgate Library.", "Lowgate Library"),
        ("keep_away", "Nobody at the Lowgate Library will take them.", "Lowgate Library"),
        ("benefits", "It all benefits the Lowgate Library.", "Lowgate Library"),
        ("somebody_does", "The goats got into the Lowgate Library.", "Lowgate Library"),
        ("makes_room", "You leave it at the Lowgate Library, who've cleared a table.", "Lowgate Library"),
    ],
)  # fmt: skip
def test_more_signs_of_whether_anybody_is_sent_there(sign: str, said: str, name: str) -> None:
    found = [
        each for each in candidates(sentences("They need hats.", said), NEWSROOM) if each.place.name == name
    ]
    assert found and found[0].signs[sign] == 1
    plain = sentences("They need hats.", f"You can leave yours at the {name}.")
    assert all(each.signs[sign] == 0 for each in candidates(plain, NEWSROOM))


def test_a_town_that_only_lies_near_names_no_place_of_its() -> None:
    for said in ("It's on a farm down by Lowgate.", "Dot Marlow, Lowgate."):
        found = candidates(sentences("Bring them to the library in Sandy End.", said), NEWSROOM)
        assert [each.place.name for each in found if each.place.name == "Lowgate Library"] == []


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("If you've any left, the Periwinkle would be glad of them.", "Periwinkle"),
        ("They've tickets at the box office of the Bijou.", "Bijou"),
        ("Ruddy's, too, has a jar for you.", "Ruddy's"),
        ("You can leave them at the Y in Bankfoot.", "Bankfoot Y"),
        ("You meet on the courthouse steps in Bankfoot.", "Bankfoot Courthouse"),
        ("Take it to the annex, that's in Bankfoot.", "Bankfoot Annex"),
        ("Take your watch to the watchmaker's in Bankfoot.", "Bankfoot Watchmaker"),
        ("The bus leaves from the park and ride in Bankfoot.", "Bankfoot Park and Ride"),
        ("Bring it to Miss Odette's, the dance school.", "Miss Odette's Dance School"),
        ("There's a sheet on the door of the print shop, Inkwell.", "Inkwell Print Shop"),
        ("Take them to Dab Hand, the hair place, they know of it.", "Dab Hand"),
    ],
)
def test_still_more_names_are_considered(said: str, name: str) -> None:
    found = considered(said)
    assert [each for each in found if same_place(each, name)], found


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("Take them to the back door of pier nine, by six.", "Pier Nine"),
        ("Any branch of harbor trust has the forms for you.", "Harbor Trust"),
    ],
)
def test_names_behind_of_that_captions_in_capitals_hide(said: str, name: str) -> None:
    assert name in considered(said, capitals=True)


def test_a_house_by_its_initials_is_a_name() -> None:
    found = candidates(sentences("They need hats.", "You can bring them to the VFW."), NEWSROOM)
    assert [each.signs["one_word"] for each in found if each.place.name == "VFW"] == [0]


def test_what_a_name_without_a_kind_is_told_to_be_is_no_other_place() -> None:
    spoken = sentences(
        "They need hats.", "Leave them at Campo Verde, that's the ball field, or at the Bankfoot Armory."
    )
    assert [each.name for each in places_in(spoken, NEWSROOM)] == ["Campo Verde", "Bankfoot Armory"]


@pytest.mark.parametrize("capitals", [False, True])
@pytest.mark.parametrize(
    "said",
    [
        "The one in Sandy End is at the bakery.",
        "Sandy End folks can use the bakery.",
        "Sandy End: the bakery.",
        "For Sandy End, the bakery.",
        "The tin's at Sandy End's bakery.",
        "In Sandy End there's a tin on the bakery.",
    ],
)
def test_the_town_of_a_kind_is_said_in_many_ways(said: str, capitals: bool) -> None:
    assert "Sandy End Bakery" in considered(said, capitals=capitals)


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("Over at the copper kettle they've got a jar for you.", "Copper Kettle"),
        ("If it's a tooth you want pulled, see the bent spoon.", "Bent Spoon"),
    ],
)
def test_names_between_other_words_that_captions_in_capitals_hide(said: str, name: str) -> None:
    assert name in considered(said, capitals=True)


def test_two_names_with_wares_and_towns_behind_where_a_house_lies() -> None:
    assert "Plum and Thistle Yarns" in considered("You get yours at plum and thistle yarns.", capitals=True)
    assert "Bankfoot Grange" in considered("It's at the grange on the hill in Bankfoot, so come.")
