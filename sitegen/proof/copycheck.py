"""Checks of the copy: what the newsroom wrote, held against itself and the moment it is published for.

Reading has already found what cannot be read. Here are the things that can be published and should be
looked at first.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from msgspec import msgpack

from sitegen.newsroom.keeping import Drawer, NoDrawer, Spread, one_by_one
from sitegen.newsroom.records import Finding, Newsroom
from sitegen.proof.copychecks.base import CopyCheck, lay_out
from sitegen.proof.copychecks.doors import (
    deadline_before_air,
    deadline_far_off,
    deadline_outlives_doors,
    event_never_open,
    holiday_hours,
    midnight_end,
    never_open,
    night_cut_short,
    repeat_after_deadline,
    starts_after_deadline,
    until_before_start,
)
from sitegen.proof.copychecks.outliving import text_outlives_ask, withheld_address
from sitegen.proof.copychecks.past import PastStories, is_past
from sitegen.proof.copychecks.pasted import left_in_text
from sitegen.proof.copychecks.positions import home_address, place_without_position, position
from sitegen.proof.copychecks.promised import (
    last_time_differs,
    promise_unkept,
    promised_facts_missing,
    promised_places_missing,
    promised_weekday,
)
from sitegen.proof.copychecks.reaching import (
    check_again_soon,
    confirmed_ahead,
    contact_unreachable,
    goal_passed,
    goes_to_not_said,
    help_phone_only,
    named_person,
    phone_length,
    too_much_not_said,
    unconfirmed,
    unknown_hours_no_phone,
)
from sitegen.proof.copychecks.station import fixed_moment, security_expired, town_without_position
from sitegen.proof.copychecks.stories import (
    aired_otherwise,
    ended_rights,
    episode_stories_waiting,
    future_correction,
    future_withdrawal,
    headline_as_spoken,
    nothing_to_read,
    story_folder_year,
    text_copied,
    word_hard_to_say,
    word_sounds_like_another,
)
from sitegen.proof.copychecks.translations import translation_alone, translation_differs
from sitegen.proof.copychecks.twice import place_twice
from sitegen.proof.copychecks.wording import relative_time, weekday_mismatch

CHECKS: tuple[CopyCheck, ...] = (
    fixed_moment,
    town_without_position,
    security_expired,
    text_outlives_ask,
    withheld_address,
    relative_time,
    weekday_mismatch,
    left_in_text,
    deadline_before_air,
    deadline_far_off,
    midnight_end,
    starts_after_deadline,
    until_before_start,
    never_open,
    event_never_open,
    deadline_outlives_doors,
    night_cut_short,
    holiday_hours,
    repeat_after_deadline,
    unconfirmed,
    confirmed_ahead,
    check_again_soon,
    goal_passed,
    named_person,
    goes_to_not_said,
    too_much_not_said,
    help_phone_only,
    contact_unreachable,
    phone_length,
    unknown_hours_no_phone,
    position,
    place_without_position,
    home_address,
    place_twice,
    promise_unkept,
    promised_places_missing,
    promised_facts_missing,
    promised_weekday,
    last_time_differs,
    translation_alone,
    translation_differs,
    aired_otherwise,
    episode_stories_waiting,
    nothing_to_read,
    text_copied,
    headline_as_spoken,
    story_folder_year,
    future_correction,
    future_withdrawal,
    ended_rights,
    word_hard_to_say,
    word_sounds_like_another,
)
"""In the order they are run; reports sort by place."""


OF_EACH: frozenset[CopyCheck] = frozenset(
    {
        text_outlives_ask,
        relative_time,
        weekday_mismatch,
        left_in_text,
        deadline_before_air,
        midnight_end,
        event_never_open,
        nothing_to_read,
        headline_as_spoken,
        story_folder_year,
        future_correction,
        future_withdrawal,
        ended_rights,
        word_hard_to_say,
    }
)
"""Those that look at each story by itself, and whatever else they look at: what they find in one that is past (`is_past`) rests on
its record, its release and the station, and on no moment."""


CHUNK, LONGEST_CHUNK = 16, 256
"""Stories a process is given at a time, at least and at most: those that lie together in memory."""
MANY = 64
"""Stories from which on looking at them in several processes pays."""


def check_copy(
    newsroom: Newsroom, as_of: datetime, drawer: Drawer | None = None, spread: Spread = one_by_one
) -> tuple[Finding, ...]:
    """Every finding about the copy as of a moment (UTC). What `drawer` has is not worked out again; many stories that it lacks are
    looked at as `spread` says."""
    drawer = drawer or NoDrawer()
    kept = PastStories(newsroom, as_of, drawer)
    past = {story.id: told for story in newsroom.stories if (told := kept.take(story)) is not None}
    desk = lay_out(newsroom, as_of, drawer, past)
    alone = replace(
        desk,
        newsroom=replace(newsroom, stories=(), episodes=(), pages=(), places=()),
        live_asks=(),
        episode_texts=(),
        # What each check found is not kept besides what all did.
        drawer=NoDrawer(),
    )
    missing = [each for each in desk.stories if each.story.id not in past]
    size = min(max(CHUNK, len(missing) // CHUNK), LONGEST_CHUNK)

    def looked_at(chunk: int) -> bytes:
        """For each of some stories what is to be kept of it, or nothing where it is not past."""
        told: list[bytes] = []
        for each in missing[chunk * size : (chunk + 1) * size]:
            if not is_past(each, desk):
                told.append(b"")
                continue
            # A copy, or each would keep its texts for as long as the desk stands.
            by_itself = replace(alone, stories=(replace(each),))
            found = (finding for check in CHECKS if check in OF_EACH for finding in check(by_itself))
            told.append(kept.packed(each, tuple(found)))
        return msgpack.encode(told)

    waiting = iter(missing)
    for made in (spread if len(missing) >= MANY else one_by_one)(looked_at, -(-len(missing) // size)):
        for packed in msgpack.decode(made, type=list[bytes]):
            story = next(waiting).story
            if packed:
                past[story.id] = kept.put(story, packed)
    others = replace(desk, stories=tuple(each for each in desk.stories if each.story.id not in past))
    return (
        *(finding for check in CHECKS for finding in check(others if check in OF_EACH else desk)),
        *(finding for each in desk.stories if each.story.id in past for finding in past[each.story.id].found),
    )
