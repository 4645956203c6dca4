"""Beginning a story, an episode, a place or a station page: few questions, and the text of a new file.

A story that follows up an earlier one is made of that one (`revival.py`) and asks little more than its name.

A draft is a pure function of the answers and the newsroom's record. What was answered is written where it
belongs, checked and quoted; what must still be written stands as an empty key with `fill in` beside it; what
may be written stands as a comment. A story is on hold, so that its blanks keep nothing else from going out. Keys keep the order of the file formats. Nothing is read or written here.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import timedelta

from sitegen.newsroom.fields import did_you_mean
from sitegen.newsroom.hours import read_hours
from sitegen.newsroom.phones import phone_problem
from sitegen.newsroom.records import Kind, Newsroom
from sitegen.newsroom.revival import revived, revived_path
from sitegen.newsroom.slugs import BEYOND, slug
from sitegen.newsroom.times import TimeError, read_when
from sitegen.newsroom.yamllines import blank, clean, scalar, values

KINDS = ("story", "episode", "place", "page")
"""What can be drafted."""

_BY_DATES = (Kind.GO, Kind.TUNE_IN)
_TO_PLACES = (Kind.BRING, Kind.GO, Kind.VOLUNTEER, Kind.GET_HELP)


class DraftError(ValueError):
    """A draft that cannot be written; the text says why and what to do instead."""


def _always(answers: Mapping[str, str]) -> bool:
    return True


@dataclass(frozen=True, slots=True)
class Question:
    """One thing to ask the producer."""

    key: str
    """The answer's name in the mapping given to `draft`."""
    words: str
    """The question."""
    example: str
    """An answer that the check accepts."""
    check: Callable[[str], str]
    """What is wrong with an answer and what to write instead; empty when it can be used. An empty answer
    leaves a marked blank in the file, and is wrong only where the file's name comes from it."""
    needed: Callable[[Mapping[str, str]], bool] = _always
    """Whether to ask, given the answers so far."""


def questions(what: str, newsroom: Newsroom) -> tuple[Question, ...]:
    """What to ask before drafting, in order. `what` is one of `KINDS`."""
    area = newsroom.station.area_word
    county = newsroom.station.counties[0]
    place = newsroom.places[0].id if newsroom.places else ""
    if what == "story":

        def has_ask(answers: Mapping[str, str]) -> bool:
            return bool(clean(answers.get("kind", ""))) and not follows(answers)

        def is_of(*kinds: Kind) -> Callable[[Mapping[str, str]], bool]:
            return lambda answers: clean(answers.get("kind", "")) in kinds and not follows(answers)

        def follows(answers: Mapping[str, str]) -> bool:
            return bool(clean(answers.get("follows", "")))

        def is_new(answers: Mapping[str, str]) -> bool:
            return not follows(answers)

        headline = "A library closet wants 400 winter coats"
        earlier = (
            Question(
                "follows", "Which earlier story does it follow up, by its path? Leave empty for none.",
                newsroom.stories[-1].id, _follows_check(newsroom),
            ),
        ) if newsroom.stories else ()  # fmt: skip
        return (
            *earlier,
            Question("headline", "What is the headline?", headline, _names_a_file, is_new),
            Question("headline", "What is the headline? Leave empty to write it later.", headline, _anything, follows),
            Question("aired", "When does it air, or did it?", "2026-11-21", _when_is_needed, is_new),
            Question("aired", "When does it air? Leave empty to write it later.", "2026-11-21", _when_check, follows),
            Question("county", f"Which {area} is it from, or: {BEYOND}?", county.name, _county_check(newsroom, True), is_new),
            Question("town", "Which town?", county.towns[0].name if county.towns else "Millrace", _anything, is_new),
            Question(
                "kind", f"What can a viewer do: {', '.join(Kind)}? Leave empty for nothing.", "bring", _kind_check, is_new
            ),
            Question("title", "What is asked, in a few words?", "Bring a winter coat", _anything, has_ask),
            Question(
                "deadline", "Until when, or: ongoing?", "2026-12-15", _deadline_check,
                is_of(*(kind for kind in Kind if kind not in _BY_DATES)),
            ),
            Question("dates", "On which date, dates or range?", "2026-11-27..2026-12-26", _dates_check, is_of(Kind.GO)),
            Question("dates", "When is it on?", "2026-12-18 19:00", _airing_check, is_of(Kind.TUNE_IN)),
            Question("minutes", "How many minutes does it run?", "60", _minutes_check, is_of(Kind.TUNE_IN)),
            Question("payee", "Who receives the money?", "Friends of Millrace Library", _anything, is_of(Kind.GIVE)),
            Question(
                "place", "At which place, by its file's name? Several with commas.", place or "millrace-library",
                _places_check(newsroom), is_of(*_TO_PLACES),
            ),
            Question("phone", "Which phone number answers questions?", "237-555-0142", _phone_check, has_ask),
        )  # fmt: skip
    if what == "episode":
        return (
            Question(
                "aired", "When does it air, or did it? Date and time.", "2026-11-21 18:30", _when_is_needed
            ),
            Question("title", "What is it called?", "Coats, carols and a hundredth birthday", _anything),
        )
    if what == "place":
        return (
            Question("name", "What is the place called?", "Millrace Library", _names_a_file),
            Question("street", "Which street and number?", "4 Hill Road", _anything),
            Question("town", "Which town?", county.towns[0].name if county.towns else "Millrace", _anything),
            Question("county", f"Which {area}?", county.name, _county_check(newsroom, False)),
            Question(
                "hours", "When is it open? (or: by appointment, or: unknown)", "Mo-Fr 09:00-17:00; Sa 10:00-14:00",
                _hours_check,
            ),
            Question("phone", "Which phone number?", "237-555-0142", _phone_check),
        )  # fmt: skip
    if what == "page":
        return (
            Question("title", "What is the page's title?", "How to send us a story", _names_a_file),
            Question(
                "summary", "What does it say, in one sentence?", "Tell us what your town is up to.", _anything
            ),
        )
    raise DraftError(f"'{what}' cannot be drafted. Choose one of: {', '.join(KINDS)}.")


def draft(what: str, answers: Mapping[str, str], newsroom: Newsroom) -> tuple[str, str]:
    """(path relative to the root folder, text) of a new file.

    Raises DraftError for an answer that cannot be used, an answer to no question, and a file that is
    already there.
    """
    asked = questions(what, newsroom)
    given = {key: clean(answer) for key, answer in answers.items() if clean(answer)}
    unknown = sorted(given.keys() - {question.key for question in asked})
    if unknown:
        known = ", ".join(dict.fromkeys(question.key for question in asked))
        raise DraftError(f"'{unknown[0]}' is not asked of a new {what}. These are: {known}.")
    for question in asked:
        problem = question.check(given.get(question.key, "")) if question.needed(given) else ""
        if problem:
            raise DraftError(f"{question.key}: {problem}")
    for key in sorted(given):
        if not any(question.key == key and question.needed(given) for question in asked):
            reason = (
                f"a story that follows up {given['follows']}, which it is taken from"
                if "follows" in given
                else f"an ask of kind '{given['kind']}'"
                if "kind" in given
                else "a story without an ask (kind)"
            )
            raise DraftError(f"'{key}' does not belong to {reason}. Leave it out.")
    path, text = {"story": _story, "episode": _episode, "place": _place, "page": _page}[what](given, newsroom)
    if path in _paths(newsroom):
        raise DraftError(f"'{path}' is there already. Give the new one another name, or edit that file.")
    return path, text


def _paths(newsroom: Newsroom) -> frozenset[str]:
    """The files of the newsroom's record. A file with faults of its own has no record; the writer of the
    draft must refuse to overwrite all the same."""
    return frozenset(
        [
            *(story.origin.spot.path for story in newsroom.stories),
            *(episode.origin.spot.path for episode in newsroom.episodes),
            *(place.origin.spot.path for place in newsroom.places),
            *(page.origin.spot.path for page in newsroom.pages),
        ]
    )


# --- checks of answers -----------------------------------------------------------------------


def _anything(answer: str) -> str:
    return ""


def _names_a_file(answer: str) -> str:
    if slug(answer):
        return ""
    return "The file's name is made from this, so it needs letters of the Latin alphabet or digits."


def _when_is_needed(answer: str) -> str:
    return (
        _when_check(answer) if answer else "The file's name is made from this. Write, for example: 2026-11-21"
    )


def _when_check(answer: str, ends: bool = False) -> str:
    if not answer:
        return ""
    try:
        read_when(answer, ends)
    except TimeError as error:
        return str(error)
    return ""


def _deadline_check(answer: str) -> str:
    return "" if answer == "ongoing" else _when_check(answer, ends=True)


def _dates_check(answer: str) -> str:
    for part in _list(answer):
        ends = part.split("..")
        if len(ends) > 2:
            return f"'{part}' has more than two ends. Write, for example: 2026-11-27..2026-12-26"
        for end in ends:
            problem = _when_check(end.strip()) if end.strip() else "An end of the range is missing."
            if problem:
                return problem
        first, last = read_when(ends[0].strip()), read_when(ends[-1].strip())
        if last.order < first.order:
            return f"'{part}' ends before it begins. Write instead: {ends[-1].strip()}..{ends[0].strip()}"
    return ""


def _airing_check(answer: str) -> str:
    for part in _list(answer):
        problem = _when_check(part)
        if problem:
            return problem
        if read_when(part).clock is None:
            return f"'{part}' does not say when to tune in. Write a date and time: {part} 19:00"
    return ""


def _minutes_check(answer: str) -> str:
    if not answer or (answer.isascii() and answer.isdigit() and 1 <= int(answer) <= 1440):
        return ""
    return f"'{answer}' is not a number of minutes. Write, for example: 60"


def _phone_check(answer: str) -> str:
    problem = phone_problem(answer) if answer else None
    if problem is None:
        return ""
    told, meant = problem
    return f"'{answer}' is {told}. " + (
        f"Write instead: {meant}" if meant else "Write, for example: 237-555-0142"
    )


def _hours_check(answer: str) -> str:
    if not answer:
        return ""
    reading = read_hours(answer)
    return f"{reading.problem} {reading.instead}".strip() if reading.hours is None else ""


def _kind_check(answer: str) -> str:
    if not answer or answer in tuple(Kind):
        return ""
    return f"'{answer}' is not something to ask of viewers. " + did_you_mean(answer, tuple(Kind))


def _county_check(newsroom: Newsroom, beyond: bool) -> Callable[[str], str]:
    def check(answer: str) -> str:
        names = [county.name for county in newsroom.station.counties] + ([BEYOND] if beyond else [])
        keys = [county.key for county in newsroom.station.counties]
        for name in _list(answer):
            if name not in names and name not in keys:
                return f"No {newsroom.station.area_word} of this station is called '{name}'. " + (
                    did_you_mean(name, names, limit=24) or "See the list in content/station.yaml."
                )
        if BEYOND in _list(answer) and len(_list(answer)) > 1:
            return f"'{BEYOND}' stands alone: it is for stories from outside the station's area."
        if not beyond and len(_list(answer)) > 1:
            return f"A place lies in one {newsroom.station.area_word}."
        return ""

    return check


def _places_check(newsroom: Newsroom) -> Callable[[str], str]:
    known = tuple(place.id for place in newsroom.places)

    def check(answer: str) -> str:
        for name in _list(answer):
            if name not in known:
                return f"There is no content/places/{name}.yaml. " + (
                    did_you_mean(name, known) or "Begin it with: sitegen draft place"
                )
        return ""

    return check


def _follows_check(newsroom: Newsroom) -> Callable[[str], str]:
    stories = {story.id: story for story in newsroom.stories}

    def check(answer: str) -> str:
        if not answer:
            return ""
        story = stories.get(answer)
        if story is None:
            return f"There is no story content/stories/{answer}.md that can be read. " + did_you_mean(
                answer, tuple(stories)
            )
        if story.withdrawn is not None:
            return f"The story {answer} was withdrawn and is not carried on. Begin a new one."
        return ""

    return check


# --- the files -------------------------------------------------------------------------------


def _story(given: Mapping[str, str], newsroom: Newsroom) -> tuple[str, str]:
    if "follows" in given:
        earlier = next(story for story in newsroom.stories if story.id == given["follows"])
        airs = read_when(given["aired"]) if "aired" in given else None
        text = revived(earlier, newsroom, given.get("headline", ""), given.get("aired", ""))
        return revived_path(earlier, airs), text
    station = newsroom.station
    aired = read_when(given["aired"])
    path = f"content/stories/{aired.day.year}/{slug(given['headline'])}.md"
    area = station.area_word
    lines = [
        "---",
        f"headline: {scalar(given['headline'])}",
        "# summary: one sentence that says what happens and who can do what",
        _line("aired", given),
        *_county(given, newsroom, f"one {area}, a list such as [A, B], or: {BEYOND}"),
        f"town: {scalar(given['town'])}" if "town" in given else "# town: the dateline",
        "# reporter: who reported it",
        "# topics: [clothing, libraries]",
        f"# embargo: {aired.day} 18:30    # not before this moment; else its episode's air time, else `aired`",
        "hold: true                     # not to be published until this line goes",
        "# say_on_air: coats            # the short address the host reads out",
        '# photo: {file: NAME.jpg, alt: "What it shows, for people who do not see it", credit: WHO}',
        '# video: {file: "https://…", captions: NAME.vtt, runs: "1:35"}',
        "# follows: 2025/earlier-story  # the story this follows up",
        "# translates: 2026/the-story   # the story that this one tells in another language; write `language` too",
        '# desk: {cleared: "who, when"} # for the newsroom; never published',
    ]
    if "kind" in given:
        lines += ["asks:", *_ask(given, newsroom)]
    else:
        lines += [
            "# asks:                        # what a viewer can do, one entry each",
            "#   - title: Bring a winter coat",
            f"#     kind: bring              # or {', '.join(kind for kind in Kind if kind is not Kind.BRING)}",
            "#     deadline: 2026-12-15     # to the end of that day; for go and tune in write `dates` instead",
            "#     contact: {name: WHO, phone: 237-555-0142}",
            "#     drop_off: [millrace-library]",
        ]
    # Below the front matter everything is the story itself, so what to do there is said here.
    lines += ["# Write the story below the next line; it is published as it stands there.", "---", ""]
    return path, "\n".join(lines)


def _ask(given: Mapping[str, str], newsroom: Newsroom) -> list[str]:
    kind = Kind(given["kind"])
    lines = ["  - " + _line("title", given, "what is asked", "Bring a winter coat"), f"    kind: {kind}"]
    if kind in _BY_DATES:
        example = "2026-12-18 19:00" if kind is Kind.TUNE_IN else "2026-11-27..2026-12-26"
        what = (
            "a date and time, or a list"
            if kind is Kind.TUNE_IN
            else "a date, a range, a date and time, or a list"
        )
        lines.append("    " + _line("dates", given, what, example, is_list=True))
    else:
        lines.append(
            f"    # starts: {_day_after(given['aired'])}          # when it opens later than at once"
        )
        lines.append(
            "    " + _line("deadline", given, "the last day, or a date and time, or: ongoing", "2026-12-15")
        )
        if given.get("deadline") == "ongoing":
            lines.append(
                "    " + blank("check_again_by", "when to ask again whether it goes on", "2027-01-15")
            )
    if kind is Kind.GO:
        lines.append('    # hours: "Mo-Su 17:30-22:00"   # when it is open on its dates')
    if kind is Kind.TUNE_IN:
        lines.append("    " + _line("minutes", given, "how long it runs", "60"))
    if kind is Kind.BRING:
        lines += [
            "    # accepts: [clean winter coats, all sizes]",
            "    # not_accepted: [shoes]",
            "    # goal: {number: 400, unit: coats}",
        ]
    if kind is not Kind.TUNE_IN:
        lines += _contact(given, kind)
        lines.append(
            "    # confirmed: {date: 2026-11-20, with: WHO}   # when you last checked; never published"
        )
        if kind is not Kind.GIVE:
            lines += _where(given, kind, newsroom)
    if kind is Kind.GET_HELP:
        lines += [
            "    # who_for: anyone, no papers asked",
            "    # cost: free",
            "    # bring: what to bring along",
        ]
    if kind is Kind.GIVE:
        lines += [
            "    " + _line("payee", given, "who receives the money", "Friends of Millrace Library"),
            "    # goes_to: organization      # or: named person",
            "    # registration: the charity's number, where it has one",
            "    # if_too_much: what happens with more than is needed",
        ]
    return lines


def _contact(given: Mapping[str, str], kind: Kind) -> list[str]:
    more = "name, email, web, pick_up, ship_to, languages"
    if "phone" in given:
        lines = [f"    contact: {{phone: {scalar(given['phone'])}}}   # also: {more}"]
        if kind is Kind.GET_HELP:
            lines.append("    # Give an email, an address or a place too: not everyone can phone.")
        return lines
    return [f"    # contact: {{name: WHO, phone: 237-555-0142}}   # also: {more}"]


def _where(given: Mapping[str, str], kind: Kind, newsroom: Newsroom) -> list[str]:
    key = "drop_off" if kind is Kind.BRING else "where"
    if "place" in given:
        return [f"    {key}:", *(f"      - {name}" for name in _list(given["place"]))]
    if "phone" in given:
        return [f"    # {key}: [millrace-library]   # files of content/places"]
    example = newsroom.places[0].id if newsroom.places else "millrace-library"
    return ["    " + blank(key, "places, or remove this line and write the contact above", f"[{example}]")]


def _episode(given: Mapping[str, str], newsroom: Newsroom) -> tuple[str, str]:
    aired = read_when(given["aired"])
    listed = {entry.story for episode in newsroom.episodes for entry in episode.rundown}
    stories = [story for story in newsroom.stories if story.aired.day == aired.day and story.id not in listed]
    lines = [
        "---",
        _line("aired", given),
        f"# repeats: [{_day_after(given['aired'])} 09:00]",
        "# hold: true                   # a show that does not air as planned holds its stories with it",
        _line("title", given) if "title" in given else "# title: what the show is called that day",
        '# video: {file: "https://…", captions: NAME.vtt, runs: "14:20", web_offset: "-0:02:10"}',
    ]
    if stories:
        lines.append(
            'rundown:                       # in the show\'s order; say when each starts: {time: "00:00:35", …}'
        )
        lines += [f"  - {{time: , story: {story.id}}}" for story in stories]
    else:
        lines += [
            "# rundown:                     # in the order of the show",
            '#   - {time: "00:00:35", story: 2026/coat-closet}',
        ]
    lines += [
        "# promises:                    # what was said on air that the site must hold; never published",
        '#   - {time: "00:09:20", said: the list of places is on our website, kept_by: 2026/coat-closet}',
        "---",
        "",
    ]
    return f"content/episodes/{aired.day}.md", "\n".join(lines)


def _place(given: Mapping[str, str], newsroom: Newsroom) -> tuple[str, str]:
    hours = read_hours(given["hours"]).hours if "hours" in given else None
    lines = [
        f"name: {scalar(given['name'])}",
        f"street: {scalar(given['street'])}" if "street" in given else "# street: 4 Hill Road",
        _line("town", given, "the town", "Millrace"),
        *_county(given, newsroom, f"the {newsroom.station.area_word}"),
        "# postal_code: its postal code",
        "# position: [34.7, -60.5]      # latitude, longitude; without it the town's is used",
        f"hours: {scalar(hours.text)}"
        if hours is not None
        # No blank: a place cannot be on hold, and a fault in it would stop every edition.
        else 'hours: unknown                 # fill in: days and times, such as "Mo-Fr 09:00-17:00"; or: by appointment',
        "# closed: [2026-12-25]",
        '# special_hours: {2026-12-12: "08:00-12:00"}',
        "# step_free: yes               # or: no, unknown",
        "# transit: bus lines and stops",
        "# parking: where",
        "# drive_up: yes                # things are taken from the car; or: no, unknown",
        "# note: ring the side bell",
        f"phone: {scalar(given['phone'])}" if "phone" in given else "# phone: 237-555-0142",
        "# web: https://…",
        "# address: withheld            # only the town is shown, in every output",
        "# home: {consent: 2026-11-01}  # a private home: when its owner agreed to be named",
        "",
    ]
    return f"content/places/{slug(given['name'])}.yaml", "\n".join(lines)


def _page(given: Mapping[str, str], newsroom: Newsroom) -> tuple[str, str]:
    lines = [
        "---",
        f"title: {scalar(given['title'])}",
        f"summary: {scalar(given['summary'])}"
        if "summary" in given
        else "# summary: what it says, in one sentence",
        "# Write the page below the next line; it is published as it stands there.",
        "---",
        "",
    ]
    return f"content/pages/{slug(given['title'])}.md", "\n".join(lines)


# --- lines -----------------------------------------------------------------------------------


def _county(given: Mapping[str, str], newsroom: Newsroom, words: str) -> list[str]:
    if "county" in given:
        return ["county: " + values(_list(given["county"]))]
    town = given.get("town", "")
    homes = [
        county.name
        for county in newsroom.station.counties
        if town and any(each.name == town for each in county.towns)
    ]
    if len(homes) == 1:
        return [f"county: {scalar(homes[0])}"]
    return [blank("county", words, newsroom.station.counties[0].name)]


def _line(
    key: str, given: Mapping[str, str], words: str = "", example: str = "", is_list: bool = False
) -> str:
    if key not in given:
        return blank(key, words, example)
    return f"{key}: {values(_list(given[key])) if is_list else scalar(given[key])}"


def _list(answer: str) -> list[str]:
    return [part.strip() for part in answer.split(",") if part.strip()]


def _day_after(aired: str) -> str:
    return (read_when(aired).day + timedelta(days=1)).isoformat()
