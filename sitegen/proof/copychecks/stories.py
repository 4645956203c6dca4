"""Stories and episodes: videos that wait, rights that are over, dates of corrections, folders."""

from __future__ import annotations

import re
from collections.abc import Iterator

from sitegen.clock.stories import Visibility, plan_story
from sitegen.newsroom.records import Finding, Photo, Spot, Story, Video
from sitegen.newsroom.times import day_start, end_of, start_of
from sitegen.proof.copychecks.base import Desk, DeskStory, concern, day_words, end_words, listed, start_words

SPOKEN = 6
"""Words from which on a headline is not a sentence of the text by chance."""
_LOOKED_AT = 2000
"""Characters of a text from its beginning: headlines of drafts are one of its first sentences."""
LONGEST_WORD = 12
"""Letters of a word that is heard once and typed (common practice, no source)."""


_LEAST_OWN = 40
"""Characters of a text that two stories do not share by chance (common practice, no source)."""


def why_hidden(story: Story, desk: Desk) -> str:
    """Why a story is not seen, as a sentence about it goes on."""
    times = plan_story(story, desk.episodes, desk.zone)
    return "is on hold" if times.held else f"is not published before {start_words(times.release, desk.zone)}"


def episode_stories_waiting(desk: Desk) -> Iterator[Finding]:
    """An episode's recording that is not shown, because it holds a story that is not."""
    for episode in desk.newsroom.episodes:
        video = episode.video
        if episode.hold or video is None or video.air_only or video.captions is None:
            continue
        moment = max(start_of(episode.aired, desk.zone), desk.as_of)
        missing = [
            f"{entry.story} {why_hidden(story, desk) if seen is Visibility.NOTHING else 'is withdrawn'}"
            for entry in episode.rundown
            if (story := desk.known.get(entry.story)) is not None
            and (seen := desk.seen_at(story, moment)) is not Visibility.PUBLISHED
        ]
        if missing:
            yield concern(
                video.origin.of("file"),
                "episode-stories-waiting",
                f"The video of this episode is not shown: {listed(missing)}.",
                "Put up a recording without it and take it off the rundown, or leave the video to wait.",
            )


def nothing_to_read(desk: Desk) -> Iterator[Finding]:
    """A story that is its headline alone."""
    for each in desk.stories:
        story = each.story
        if not (story.body.strip() or story.asks or story.listing or story.video):
            yield concern(
                story.origin.of("headline"),
                "nothing-to-read",
                "This story has neither text nor anything to do: its page is a headline alone."
                if each.published
                else "This story has neither text nor anything to do: its page will be a headline alone.",
                "Write it below the front matter, or keep it in until it is written: hold: true",
            )


def own_texts(story: Story) -> dict[str, str]:
    """The texts of a story that no other one has by chance, by their keys; the text below the front matter is `body`."""
    texts = {"summary": " ".join(story.summary.split()), "body": " ".join(story.body.split())}
    return {key: text for key, text in texts.items() if len(text) >= _LEAST_OWN}


def text_copied(desk: Desk) -> Iterator[Finding]:
    """A story that was begun as a copy of another, and still has its words."""
    known: dict[str, str] = {}
    for each in sorted(
        (each for each in desk.stories if desk.is_current(each)), key=lambda each: each.release
    ):
        story = each.story
        for key, text in own_texts(story).items():
            first = known.setdefault(text, story.id)
            if first != story.id:
                yield concern(
                    story.origin.of(key) if key != "body" else Spot(story.origin.spot.path, story.body_line),
                    "text-copied",
                    f"The {key if key == 'summary' else 'text'} is word for word that of {first}.",
                    "Write this story's own, or keep it in until that is done: hold: true",
                )


def headline_as_spoken(desk: Desk) -> Iterator[Finding]:
    """A headline that begins a sentence of its own text, as drafts from captions begin with."""
    for each in desk.stories:
        if not desk.is_current(each):
            continue
        words = _bare(each.story.headline)
        if words.count(" ") + 1 >= SPOKEN and f". {words}" in f". {_bare(each.story.body[:_LOOKED_AT])}":
            yield concern(
                each.story.origin.of("headline"),
                "headline-as-spoken",
                "This headline begins a sentence of the text, word for word, as one from captions does before somebody has written it.",
                "Say in it what happened, to somebody who has not heard the story.",
            )


def _bare(text: str) -> str:
    """Words in small letters; sentences and paragraphs begin behind a full stop, and so does what follows a leading word or two."""
    ended = re.sub(r"[.!?:]+[\s\"'”’*]*|\n\s*\n", " . ", text.strip().lower())
    led_in = re.sub(r"\. ((?:\w+ ?){1,2}),", r". \1 .", f". {ended}")
    return " ".join(re.findall(r"[\w’'-]+|\.", led_in)).strip(" .")


def story_folder_year(desk: Desk) -> Iterator[Finding]:
    """A story in the folder of another year: its address says so for good."""
    for each in desk.stories:
        year = each.story.id.partition("/")[0]
        aired = each.story.aired.day.year
        if len(year) == 4 and year.isdigit() and int(year) != aired:
            yield concern(
                each.story.origin.of("aired"),
                "story-folder-year",
                f"The story aired in {aired} and lies in the folder {year}.",
                f"Look at 'aired', or move the file to {aired}/ and keep its old address: "
                f"old_addresses: [/stories/{each.story.id}/]"
                if each.published
                else f"Look at 'aired', or move the file to {aired}/.",
            )


def aired_otherwise(desk: Desk) -> Iterator[Finding]:
    """An air date of a story's own that is not its episode's: the show was moved, and the page says that it aired before."""
    for each in desk.stories:
        story = each.story
        if story.embargo is not None or not desk.is_current(each):
            continue
        days = [
            (desk.episodes[name].aired.day, name)
            for name in story.episodes
            if name in desk.episodes and not desk.episodes[name].hold
        ]
        if days and story.aired.day not in {day for day, _ in days}:
            first, name = min(days)
            yield concern(
                story.origin.of("aired"),
                "aired-otherwise",
                f"The page says that this aired {day_words(story.aired.day)}, and the episode {name} with it airs {day_words(first)}.",
                f"Write: aired: {first}, or take the line out: the episode's date counts then.",
            )


def future_correction(desk: Desk) -> Iterator[Finding]:
    """A correction dated ahead is not shown until then."""
    for each in desk.stories:
        for correction in each.story.corrections:
            if correction.date > desk.today:
                yield concern(
                    correction.origin.of("date"),
                    "future-correction",
                    f"This {correction.kind} is dated {day_words(correction.date)} and is not shown before.",
                    f"Write the day it is made: date: {desk.today}",
                )


def future_withdrawal(desk: Desk) -> Iterator[Finding]:
    """A story that stays up until a day to come, though it is to be withdrawn."""
    for each in desk.stories:
        withdrawn = each.story.withdrawn
        if withdrawn is not None and day_start(withdrawn.date, desk.zone) > desk.as_of:
            yield concern(
                each.story.origin.of("withdrawn"),
                "future-withdrawal",
                f"This story stays up until {day_words(withdrawn.date)}; only then is it withdrawn.",
                f"To withdraw it now, write: date: {desk.today}",
            )


def ended_rights(desk: Desk) -> Iterator[Finding]:
    """A photo or video that is no longer shown, for the right to show it is over."""
    records: list[tuple[str, Photo | Video | None]] = []
    for each in desk.stories:
        records += [("photo", each.story.photo), ("video", each.story.video)]
    records += [("video", episode.video) for episode in desk.newsroom.episodes if not episode.hold]
    for word, record in records:
        if record is None or record.rights_end is None or record.air_only:
            continue
        end = end_of(record.rights_end, desk.zone)
        if end <= desk.as_of:
            yield concern(
                record.origin.of("rights_end"),
                "ended-rights",
                f"The rights to this {word} are over since {end_words(end, desk.zone)}; it is no longer shown.",
                f"Renew them and write the new date, or take the {word} out.",
            )


def word_sounds_like_another(desk: Desk) -> Iterator[Finding]:
    """A word that viewers only hear, and that sounds like another story's. Told of the newer one, which can still choose.

    By Metaphone (Lawrence Philips, "Hanging on the Metaphone", Computer Language 7 (12), 1990), which is made for English
    and hears no vowels but a first one: `lites` is `lights` to it, and `coats` is `kites`.
    """
    if desk.newsroom.station.language.split("-")[0].lower() != "en":
        return
    current = sorted(
        (each for each in desk.stories if desk.is_current(each)),
        key=lambda each: (each.story.aired.day, each.story.id),
    )
    words = [(word, each) for each in current for word in _words_of(each.story)]
    if len(words) < 2:
        return

    from jellyfish import metaphone

    heard: dict[str, list[tuple[str, DeskStory]]] = {}
    for word, each in words:
        sound = metaphone(word.replace("-", ""))
        if word == each.story.say_on_air:
            for other, holder in heard.get(sound, ()):
                if other != word and holder.story.id != each.story.id and other not in _words_of(each.story):
                    yield concern(
                        each.story.origin.of("say_on_air"),
                        "word-sounds-like-another",
                        f"'{word}' sounds like '{other}', which leads to {holder.story.id}; viewers only hear it.",
                        "Choose a word that sounds like no other in use.",
                    )
                    break
        heard.setdefault(sound, []).append((word, each))


def _words_of(story: Story) -> tuple[str, ...]:
    return tuple(word for word in dict.fromkeys((story.say_on_air, *story.heard_as)) if word)


def word_hard_to_say(desk: Desk) -> Iterator[Finding]:
    """A short address that viewers hear once and have to type. Told while it can still be said otherwise."""
    for each in desk.stories:
        word = each.story.say_on_air
        if not word or not desk.is_current(each):
            continue
        problem = ""
        if "-" in word:
            problem = "has a hyphen in it"
        elif any(letter.isdigit() for letter in word):
            problem = "has a digit in it"
        elif len(word) > LONGEST_WORD:
            problem = f"is {len(word)} letters long"
        if problem:
            yield concern(
                each.story.origin.of("say_on_air"),
                "word-hard-to-say",
                f"'{word}' {problem}; viewers hear it once and have to type it.",
                f"Choose one plain word of at most {LONGEST_WORD} letters, and keep this one: heard_as: [{word}]",
            )
