"""Deadlines: which of the days that are said are the last, and which are something else."""

from __future__ import annotations

from datetime import date, time

import pytest

from sitegen.intake.deadlines import days_in, deadlines_in
from sitegen.intake.weighing import weights
from tests.intake.said import AIRED, captioned, sentences

NEED = "They need four hundred winter coats."


@pytest.mark.parametrize(
    ("said", "day"),
    [
        ("You have until December 15th to bring one in.", "2026-12-15"),
        ("The deadline is Friday, December 11.", "2026-12-11"),
        ("Deadline: December eleventh.", "2026-12-11"),
        ("Donations are being accepted through the end of the month.", "2026-11-30"),
        ("The collection wraps up next Friday.", "2026-11-27"),
        ("Sign-ups close this Wednesday.", "2026-11-25"),
        ("Registration ends on the 12th of December.", "2026-12-12"),
        ("Entries are due December 1st.", "2026-12-01"),
        ("This Saturday is the last day to drop them off.", "2026-11-28"),
        ("The last day to donate is the Sunday before Christmas.", "2026-12-20"),
        ("Get yours in by New Year's Eve.", "2026-12-31"),
        ("You can drop them off any time before Thanksgiving.", "2026-11-26"),
        ("Bring them in between now and December fifth.", "2026-12-05"),
        ("They're taking coats up until the day before Christmas.", "2026-12-24"),
        ("Orders must be in no later than the first Monday in December.", "2026-12-07"),
        ("They have to have them in hand by a week from Tuesday.", "2026-12-01"),
        ("The cutoff to apply is December tenth.", "2026-12-10"),
        ("Please call by tomorrow.", "2026-11-22"),
        ("She'll be collecting till the twentieth of December.", "2026-12-20"),
        ("You've got two weeks from today to sign up; after that, it's over. The last call is December 5.", "2026-12-05"),
        ("Applications are open until 12/18.", "2026-12-18"),
        ("The drive goes until Christmas Eve.", "2026-12-24"),
        ("They'd like them all by Founders Day, that's December eighth.", "2026-12-08"),
        ("The offer closes at the end of business on Friday, December 11th.", "2026-12-11"),
        ("You've got until two weeks from Tuesday.", "2026-12-08"),
        ("You have just ten days left.", "2026-12-01"),
        ("You've got ten days to get them in.", "2026-12-01"),
        ("There are only five days left to sign up.", "2026-11-26"),
        ("Deadline's the ninth.", "2026-12-09"),
        ("The deadline, by the way, is Monday.", "2026-11-23"),
        ("They stop taking them on the eleventh.", "2026-12-11"),
        ("They'll be at it till Wednesday.", "2026-11-25"),
        ("It's all over on December second.", "2026-12-02"),
        ("It runs through next Sunday.", "2026-11-29"),
        ("That drive finishes up this Thursday.", "2026-11-26"),
        ("Time's up on the thirtieth.", "2026-11-30"),
        ("The window to apply shuts at five on Friday.", "2026-11-27"),
        ("Get your name in by Monday noon.", "2026-11-23"),
        ("The bins come down on Tuesday.", "2026-11-24"),
        ("Don't wait: after Friday, it's too late.", "2026-11-27"),
        ("Friday's the last day.", "2026-11-27"),
        ("You've got a week.", "2026-11-28"),
        ("You have one more week to get yours in.", "2026-11-28"),
        ("They have to have it by the first.", "2026-12-01"),
        ("Applications close a week from today.", "2026-11-28"),
        ("Entries have to be postmarked by December fourth.", "2026-12-04"),
        ("They're taking names through Wednesday the second.", "2026-12-02"),
        ("Nominations close at midnight Tuesday.", "2026-11-24"),
        ("Registration shuts down the day after Thanksgiving.", "2026-11-27"),
        ("The sign-up sheet comes down Monday.", "2026-11-23"),
        ("Everything has to be in by three on the afternoon of December eighth.", "2026-12-08"),
        ("The cutoff's Thursday.", "2026-11-26"),
        ("Your deadline is just a week away.", "2026-11-28"),
        ("The final pickup is on December the tenth.", "2026-12-10"),
        ("The push ends on Monday the thirtieth.", "2026-11-30"),
        ("You've only got till tomorrow night.", "2026-11-22"),
        ("The collection is open from now until the Friday before Christmas.", "2026-12-18"),
        ("December first is the cutoff.", "2026-12-01"),
        ("They're hoping to have them all in hand a week from Monday.", "2026-11-30"),
        ("They'd like yours no later than six o'clock on Wednesday.", "2026-11-25"),
        ("You have two weeks from today.", "2026-12-05"),
        ("The application has to be in the mail by the middle of December.", "2026-12-15"),
        ("It closes a week from Wednesday.", "2026-12-02"),
        ("The sale winds up the last Saturday of the month.", "2026-11-28"),
        ("And then the doors close for good on the fifteenth.", "2026-12-15"),
        ("You have through Sunday to drop them off.", "2026-11-22"),
        ("The last of the coats have to be in on Tuesday.", "2026-11-24"),
        ("The appeal winds down at the end of December.", "2026-12-31"),
        ("The truck leaves on the third, so bring them before then.", "2026-12-03"),
        ("That's due Friday.", "2026-11-27"),
    ],
)  # fmt: skip
def test_a_last_day_is_a_deadline(said: str, day: str) -> None:
    found, _ = deadlines_in(sentences(NEED, said), AIRED, "US")
    assert date.fromisoformat(day) in [each.day for each in found]


@pytest.mark.parametrize(
    ("said", "first", "last"),
    [
        ("You can meet them Thursday through Sunday.", "2026-11-26", "2026-11-29"),
        ("Come and see it Sunday to Tuesday.", "2026-11-22", "2026-11-24"),
        ("It is on from Friday night through Monday.", "2026-11-27", "2026-11-30"),
        ("They are open from December 1st through the 5th.", "2026-12-01", "2026-12-05"),
        ("It runs from December 18th until January 3rd.", "2026-12-18", "2027-01-03"),
    ],
)
def test_a_range_is_one_stretch_of_days_counted_from_its_beginning(said: str, first: str, last: str) -> None:
    _, dates = deadlines_in(sentences(said), AIRED, "US")
    assert [(each.day, each.last) for each in dates] == [
        (date.fromisoformat(first), date.fromisoformat(last))
    ]


def test_days_of_a_list_stay_apart() -> None:
    _, dates = deadlines_in(sentences("You can meet them Thursday and Sunday."), AIRED, "US")
    assert [each.last for each in dates] == [None, None]


@pytest.mark.parametrize(
    "said",
    [
        "The parade is on Saturday, December 5th.",
        "The lights stay on every night through December 26.",
        "You can meet them Thursday through Sunday.",
        "They are open from December 1st through the 5th.",
        "By last Saturday they had run out.",
        "He was born on December 12, 1951.",
        "She started on Monday and was done by Friday night.",
        "The next training is on December 14.",
        "We'll see you next Friday.",
        "Snow is expected until Tuesday.",
        "The exhibit is on view until January 3rd.",
        "The school reopens on Monday.",
        "The show wraps up Sunday.",
        "The game ends Friday.",
        "She has been here since Friday.",
        "The road work wraps up on Thursday.",
        "It's a week until Thanksgiving.",
        "The trial run ends Tuesday.",
        "It took them ten days to find her.",
        "He gave up his vacation, all ten days of it.",
        "The festival runs through Sunday.",
        "After Friday, she is going home.",
        "The team has a week to rest.",
        "We'll be back with the rest of the story on Monday.",
        "Winter vacation ends on the fourth of January.",
        "The museum opens on December first.",
    ],
)
def test_other_days_are_none(said: str) -> None:
    found, _ = deadlines_in(sentences("It is a big year for the town.", said), AIRED, "US")
    assert [each.day for each in found] == []


@pytest.mark.parametrize(
    "question",
    ["Until when?", "When do you need them by?", "How long do people have?", "What's the deadline?"],
)
def test_an_answer_is_a_deadline(question: str) -> None:
    found, _ = deadlines_in(
        sentences(NEED, question, "School starts on the thirtieth, so, Saturday the twelfth."), AIRED, "US"
    )
    assert [each.day for each in found] == [date(2026, 12, 12)]


def test_an_hour_beside_the_day_is_kept() -> None:
    found, _ = deadlines_in(sentences(NEED, "You have to call by noon on Friday."), AIRED, "US")
    assert (found[0].day, found[0].clock) == (date(2026, 11, 27), time(12, 0))


def test_a_bound_is_a_deadline_without_a_day() -> None:
    found, _ = deadlines_in(sentences(NEED, "The deadline is less than two months away."), AIRED, "US")
    assert [(each.day, each.latest) for each in found] == [(None, date(2027, 1, 21))]


def test_a_day_within_a_bound_replaces_it() -> None:
    found, _ = deadlines_in(
        sentences(NEED, "The deadline is less than two months away.", "It's December 15th."), AIRED, "US"
    )
    assert [each.day for each in found][:1] in ([None], [date(2026, 12, 15)])


def test_a_weekday_that_is_not_the_dates_is_told() -> None:
    found, _ = deadlines_in(sentences(NEED, "Bring them in by Friday, December 22."), AIRED, "US")
    assert found[0].day == date(2026, 12, 22)
    assert "Tuesday" in found[0].unsure


def test_the_weekend_before_something_is_not_this_one() -> None:
    found, _ = deadlines_in(sentences(NEED, "They want everything by the weekend before."), AIRED, "US")
    assert found == ()


@pytest.mark.parametrize(
    ("said", "day"),
    [
        ("They want scarves. Last year you had until New Year's, and this year it's the fourth of December, so start knitting.", "2026-12-04"),
        ("They'll hold the bus till you're on it, but they can't hold a seat for you after December first.", "2026-12-01"),
        ("The jars get emptied on Monday, so bring your pennies.", "2026-11-23"),
        ("They'd said the sixth, but with the snow they've pushed it to the thirteenth of December. Bring your toys.", "2026-12-13"),
        ("She needs to know how many are coming by the day after tomorrow.", "2026-11-23"),
        ("Any day through the twelfth of December, you can leave one at the door.", "2026-12-12"),
        ("They have to have your recipe in hand a week from Monday.", "2026-11-30"),
        ("And the sign-up sheet? It goes away on Sunday.", "2026-11-22"),
    ],
)  # fmt: skip
def test_signs_of_a_last_day_are_weighed(said: str, day: str) -> None:
    found, _ = deadlines_in(captioned(said, capitals=False), AIRED, "US")
    assert [each.day for each in found] == [date.fromisoformat(day)]


@pytest.mark.parametrize(
    "said",
    [
        "The road is closed until Wednesday, so bring a book.",
        "They ran out by Thanksgiving last year. They need more.",
        "The new library opens on the first of December, and you can bring the kids.",
        "We'd told you the twentieth of December. Forget that. Bring them any time.",
        "By Monday everybody in town will have heard. They need a new mayor.",
        "She's home until Sunday, and then it's back to the ship.",
    ],
)
def test_signs_of_another_day_are_weighed(said: str) -> None:
    found, _ = deadlines_in(captioned(said, capitals=False), AIRED, "US")
    assert [each.day for each in found] == []


def test_every_sign_has_a_weight() -> None:
    every = list(days_in(sentences(NEED, "You have until December 15th.", "It is Friday."), AIRED, "US"))
    known = {name for name in weights("deadlines").of if ":" not in name}
    assert every and all({name for name in each.signs if ":" not in name} == known for each in every)


# --- sentences that nothing was fitted on -----------------------------------------------------


@pytest.mark.parametrize(
    ("said", "day"),
    [
        (("Every kitten goes free between now and Thursday.", "They've all had their shots."), "2026-11-26"),
        (("I sat here last week and said they'd want the drums by Tuesday.", "I was wrong.", "We're saying the thirtieth, so bring your drum."), "2026-11-30"),
    ],
)  # fmt: skip
def test_offers_and_days_that_were_put_right(said: tuple[str, ...], day: str) -> None:
    found, _ = deadlines_in(sentences(*said), AIRED, "US")
    assert [each.day for each in found] == [date.fromisoformat(day)]


@pytest.mark.parametrize(
    "said",
    [
        ("The coal fund shut on Thursday, so please don't send any more.",),
        ("Give one at the counter, and it'll be around somebody's neck by Monday.",),
        ("You can still come.", "The appeal met its goal and closed on Friday."),
    ],
)
def test_what_is_over_and_what_a_gift_will_do_are_none(said: tuple[str, ...]) -> None:
    assert deadlines_in(sentences(*said), AIRED, "US")[0] == ()


@pytest.mark.parametrize(
    ("said", "day"),
    [
        (("The regatta is on the twelfth of December.", "They need forty oars.", "Bring yours to the slip by the Thursday before."), "2026-12-10"),
        (("They want lanterns, any size.", "The parade is on Friday the eleventh.", "Leave them at the depot the day before, at the latest."), "2026-12-10"),
        (("Bring your spare kettles to the mill.", "It says the third on the poster, and that's wrong.", "You have until the tenth of December."), "2026-12-10"),
        (("We need your banjo strings.", "Until when?", "Friday."), "2026-11-27"),
        (("They're short of mittens.", "Drop them at the ferry by Wednesday.", "No, Tuesday, at noon."), "2026-11-24"),
        (("Sign up at the bakery.", "The class is on December ninth, and they have to have your name by the second."), "2026-12-02"),
        (("They need pears.", "Bring them to the press, and bring them by Monday of next week, because the press goes back to Elder's Point on Thursday."), "2026-11-23"),
        (("You can vote in the lobby.", "Thursday at six they empty the box."), "2026-11-26"),
    ],
)  # fmt: skip
def test_of_several_days_one_is_the_last(said: tuple[str, ...], day: str) -> None:
    found, _ = deadlines_in(sentences(*said), AIRED, "US")
    assert [each.day for each in found] == [date.fromisoformat(day)]


@pytest.mark.parametrize(
    "said",
    [
        ("The choir has sung there since Thanksgiving.", "You can hear them tonight on our site."),
        ("They danced until Sunday.", "You should have seen the shoes."),
        ("The sled run is this Saturday.", "You come to the hill at nine, and they lend you the sled."),
    ],
)
def test_a_story_may_have_no_last_day(said: tuple[str, ...]) -> None:
    assert deadlines_in(sentences(*said), AIRED, "US")[0] == ()


def test_two_days_of_one_story_can_both_be_last_ones() -> None:
    said = ("They need bakers, and they need eaters.", "Bakers have to sign up by the first of December, at the hall.", "If you want a seat, the deadline is Friday, December 11th.")  # fmt: skip
    assert [each.day for each in deadlines_in(sentences(*said), AIRED, "US")[0]] == [date(2026, 12, 1), date(2026, 12, 11)]  # fmt: skip


@pytest.mark.parametrize(
    ("said", "days"),
    [
        (("The club collects picture books.", "It had been set for the fourth of December.", "They've given it another week, so the eleventh."), ["2026-12-11"]),
        (("The shelter wants blankets.", "Leave them at the firehouse.", "In October I told everybody the thirtieth.", "Well, the thirtieth is a holiday for the driver.", "So bring them by the twenty-eighth."), ["2026-11-28"]),
        ((NEED, "The poster says the first, don't believe the poster, it's the eighth."), ["2026-12-08"]),
        ((NEED, "It was going to be the thirtieth, and now it's the seventh of December."), ["2026-12-07"]),
        (("Anybody can enter a pie.", "The judging is on Saturday the fifth.", "You leave your pie at the kitchen door the evening before, by eight."), ["2026-12-04"]),
        (("Santa's mailbox is in front of the town hall.", "The elves pick it up on the fourteenth.", "Get your letter in there before that."), ["2026-12-14"]),
        (("The flu clinic's at the grange on Tuesday.", "You don't need an appointment.", "It's from ten to two."), []),
        ((NEED, "Anything that comes in after the fourth goes in next year's box."), ["2026-12-04"]),
        ((NEED, "Bring yours by Wednesday, so Thursday I can count them."), ["2026-11-25"]),
        ((NEED, "The bindery wants the lot by the fifth, and so Vera's last day at the table is the Thursday before that."), ["2026-12-03"]),
        ((NEED, "We load it today, and on the fifth, and then the twelfth's the last one."), ["2026-12-12"]),
        ((NEED, "You've got till Thursday.", "Wednesday.", "By Wednesday."), ["2026-11-25"]),
        (("The regatta is on the tenth of December.", "Last year we quit on the fifth, and people stood there on the sixth.", "So you can get a boat up to the day before."), ["2026-12-09"]),
        (("On the second we told you that the chimney men would come for nothing, and that you'd have to ask by Friday.", "They have more money, so you can ask for one until the twelfth of December."), ["2026-12-12"]),
        (("You can sing with them.", "Until when.", "Well, they open on the twelfth of December.", "So not this Friday, because that's Black Friday, the one after.", "The fourth."), ["2026-12-04"]),
        ((NEED, "She sails on the tenth, and it has to be dry by then, so call it Tuesday the eighth."), ["2026-12-08"]),
        ((NEED, "By Wednesday supper.", "Not Thursday, Thursday I'm driving."), ["2026-11-25"]),
        ((NEED, "No later than, no, I'm wrong, it's after Thanksgiving, it's Friday, December the fourth."), ["2026-12-04"]),
        (("The mobile clinic is at the mill this Wednesday.", "After the fifth you'd have to pay for it like everybody else."), ["2026-12-05"]),
        (("Come to the loft and be measured for a coat.", "Thursday's the last I can fit you in."), ["2026-11-26"]),
        ((NEED, "Bring one by Thursday, before they all go away for Thanksgiving.", "The sledding starts on the fifth."), ["2026-11-26"]),
    ],
)  # fmt: skip
def test_of_several_days_the_one_that_holds_is_meant(said: tuple[str, ...], days: list[str]) -> None:
    found, _ = deadlines_in(sentences(*said), AIRED, "US")
    assert [str(each.day) for each in found] == days


@pytest.mark.parametrize(
    ("said", "days"),
    [
        (("She'll be taking names until the bell rings on Wednesday.", "Bring your dad."), ["2026-11-25"]),
        (("The pond will be drained on the first, so if you've lost an oar in there you've got until then to say so.",), ["2026-12-01"]),
        (("It was tomorrow.", "The new date is a week from tomorrow.", "Bring your kettle to the depot."), ["2026-11-29"]),
        (("They want quilts.", "The fifteenth.", "Not the sixteenth.", "Leave yours at the shop."), ["2026-12-15"]),
        ((NEED, "He's at the rink.", "If nobody has claimed them by Wednesday they go to the county."), ["2026-11-25"]),
        (("You tell them you're coming, they want a head count by the Monday before.", "The supper's on the tenth of December."), ["2026-12-07"]),
        ((NEED, "Don't leave it past Thursday."), ["2026-11-26"]),
        ((NEED, "Not later than Friday, she says, and she means it."), ["2026-11-27"]),
        ((NEED, "She's there Wednesday and Friday, and that's it for this year."), ["2026-11-27"]),
        (("Take the coupon to the bakery.", "The offer's good for ten more days."), ["2026-12-01"]),
        (("The collection runs from Monday to the fifth of December, at every fire hall.",), ["2026-12-05"]),
        (("Four weeks from today they draw the names.", "You've got till then.", "Tickets are at the bakery."), ["2026-12-19"]),
        (("Unclaimed bikes get sold on the twelfth, so if one of them's yours go down to the station before that.",), ["2026-12-12"]),
        (("Get your pets their shots, it's eight dollars at the fire hall, today only.",), ["2026-11-21"]),
        (("The cookies have to be at the hall the morning of the twelfth, not the night before, there's mice.",), ["2026-12-12"]),
        (("Put the date on your calendar, the tenth of December.", "That's when the application has to be at the county."), ["2026-12-10"]),
        (("Kids under twelve have until the fifth to enter, grown-ups until the twelfth.", "Leave your gingerbread at the inn."), ["2026-12-05", "2026-12-12"]),
        (("We need drivers.", "I've got to tell the company how many on Wednesday.", "Call me at the hall."), ["2026-11-25"]),
        (("You'd better hurry, she's leaving on Wednesday.", "Call the shop."), ["2026-11-25"]),
        ((NEED, "If they aren't on the truck by noon on Friday, they're not going."), ["2026-11-27"]),
        ((NEED, "Unless it's in the bin by the third, we can't send it."), ["2026-12-03"]),
        ((NEED, "We count the coats on Thursday evening, so bring yours to the porch by noon that day."), ["2026-11-26"]),
        (("Anybody can put a name in the hat.", "I'm closing the book a week from Friday, no, two weeks, the eleventh."), ["2026-12-11"]),
        (("We want your fiddle.", "Bring it to the mill by the fourth of December.", "No, they're telling me the fifth."), ["2026-12-05"]),
        (("We want your fiddle.", "Bring it to the mill by the fourth of December.", "No varnish the night before."), ["2026-12-04"]),
        (("We want pictures of your barn.", "They choose on the fourth of December, so have yours there by the second."), ["2026-12-02"]),
        (("We want pictures of your barn.", "When do you stop?", "The judges come on the fourth of December.", "So if you have one, the second of December, before I lock the door."), ["2026-12-02"]),
        ((NEED, "All of it by Wednesday the second, and the truck leaves on the third."), ["2026-12-02"]),
        ((NEED, "The bins get emptied for the last time on Wednesday."), ["2026-11-25"]),
        ((NEED, "If it's on the cart by Wednesday noon, it's on the boat."), ["2026-11-25"]),
        (("The ferry's got passes.", "Show them your card by Friday, and you ride until spring."), ["2026-11-27"]),
        (("The map needs a title.", "We empty the hat on the first Monday in December."), ["2026-12-07"]),
        (("There's a new gate at the dump.", "The fee's waived through Wednesday."), ["2026-11-25"]),
        (("Who carried your mail?", "You have until Wednesday to write us a name."), ["2026-11-25"]),
        (("He is collecting skates.", "Not before the fifth, please.", "The twelfth is when they board it up."), ["2026-12-12"]),
        ((NEED, "I come by on Friday, and that's the finish."), ["2026-11-27"]),
        ((NEED, "The van sails on the eighth of December, and I want it full on the Monday."), ["2026-12-07"]),
        ((NEED, "You have a word with the sexton, and you'll have had it by the Wednesday, the second, please."), ["2026-12-02"]),
    ],
)  # fmt: skip
def test_what_comes_after_a_day_makes_it_a_limit(said: tuple[str, ...], days: list[str]) -> None:
    found, _ = deadlines_in(sentences(*said), AIRED, "US")
    assert [str(each.day) for each in found] == days


@pytest.mark.parametrize(
    "said",
    [
        ("And you can borrow one?", "Till Easter."),
        ("Bring your old kites to the depot.", "There's no hurry, they mend them all year round.", "Somebody flies his by Saturday."),
        ("You can see the quilt.", "The pattern is on our page through New Year's."),
        ("You can put your name down for wood at the depot.", "The carts go out from the first of December."),
        ("Bring a chair to the depot.", "The creek's going to come up another foot by Friday."),
        ("Bring a chair to the depot.", "They've had a supper there every Thanksgiving."),
        ("She's down at the pier.", "It's going to be cold till Tuesday."),
        ("It used to be you had to have a tag on by the first of December.", "Nobody checks."),
        ("She has a bed for you.", "We're back in the kitchen next Friday."),
        ("Bring a chair to the depot.", "The town says there'll be a shelf, but that's not before New Year's."),
    ],
)  # fmt: skip
def test_what_is_lent_or_shown_or_never_ends_has_no_last_day(said: tuple[str, ...]) -> None:
    assert deadlines_in(sentences(*said), AIRED, "US")[0] == ()
