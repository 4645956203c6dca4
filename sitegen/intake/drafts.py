"""The files of a broadcast: an episode with its promises, and one draft story for each segment, on hold until a person has looked.

Every fact stands where it belongs, with the words it came from above it. What was not said stands as a comment that says `fill in`; an ask that
lacks what an ask must have stands whole in comments, so that the files can be read. Nothing is read or written here.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, time

from sitegen.intake.asking import NEEDING, hands_in, signs_up
from sitegen.intake.borders import content_words
from sitegen.intake.records import (
    Amount,
    Deadline,
    EventDate,
    Intake,
    NamedPlace,
    Role,
    Said,
    Segment,
    SpokenContact,
    SpokenPromise,
)
from sitegen.newsroom.records import Kind, Newsroom, Story, When
from sitegen.newsroom.slugs import slug
from sitegen.newsroom.yamllines import clean, scalar

_HELPING = re.compile(
    r"\b(?:volunteers?|drivers?|tutors?|mentors?|listeners|helpers|hands|crew|training|shifts?|coaches|drive)\b"
)
_HELPERS_WANTED = re.compile(
    rf"\b{NEEDING}(?: \w+){{0,3}}? (?:volunteers?|drivers?|tutors?|mentors?|listeners|helpers?|hands|coach(?:es)?)\b"
)
_TAKEN_APART = re.compile(
    r"\btak(?:e|es|ing) (?:it|them|that|this|those|these) (?:down|apart|up|out|away|off|on|home|back|for)\b"
)
"""What is taken so is not handed in."""
_HELP_FOR = re.compile(
    r"\b(?:if you(?:'re| are) (?:behind|short|hungry|cold)|no questions|free (?:for|to) anyone|(?:if|when|who) (?:you|anyone|anybody|people|families)? ?needs? (?:a|help with|one)|anyone who needs|apply|applications?|scholarship|no insurance|free (?:flu|shots?|meals?|rides?))\b"
)
_MONEY = re.compile(r"\b(?:dollars?|fund(?:s|raiser|raising)?|donations? of money|checks? payable|\$\d)")
_GOING = re.compile(
    r"\b(?:concert|parade|show|supper|dinner|fair|festival|market|walk|race|lights|open house|screening|sale|hunt|evening|performance|ceremony|swap|meet them)\b"
)
PARAGRAPH = 55
"""Words after which a paragraph of one speaker ends."""


@dataclass(frozen=True, slots=True)
class Drafted:
    """A new file."""

    path: str
    """Relative to the root folder."""
    text: str


def drafts(
    intake: Intake, aired: When, newsroom: Newsroom, standing: Callable[[str], str | None]
) -> tuple[Drafted, tuple[Drafted, ...]]:
    """(the episode, its stories in the show's order). `standing`: the text of a file that is there already, by path, else None.

    A story whose name another file has gets a number behind its own, unless that file is this very draft.
    """
    stories: list[Drafted] = []
    taken: set[str] = set()
    for segment in intake.segments:
        name = _name(segment)
        number = 1
        while True:
            path = f"content/stories/{aired.day.year}/{name}{f'-{number}' if number > 1 else ''}.md"
            text = _story(segment, path, aired, newsroom)
            there = standing(path)
            if path not in taken and (there is None or there == text):
                break
            number += 1
        taken.add(path)
        stories.append(Drafted(path, text))
    return _episode(intake, aired, [story_id(each.path) for each in stories]), tuple(stories)


def story_id(path: str) -> str:
    """`2026/coats` of `content/stories/2026/coats.md`."""
    return path.removeprefix("content/stories/").removesuffix(".md")


def _name(segment: Segment) -> str:
    """A file's name: the rundown's slug, else the headline's first words that say something."""
    if slug(segment.slug):
        return slug(segment.slug)[:40].strip("-")
    words = [word for word in re.findall(r"[\w’']+", segment.headline) if content_words(word.lower())]
    return slug(" ".join(words[:4]))[:48].strip("-") or f"story-{max(0, segment.start) // 1000}"


# --- the episode -----------------------------------------------------------------------------


def _episode(intake: Intake, aired: When, ids: Sequence[str]) -> Drafted:
    lines = [
        "---",
        f"aired: {_when(aired)}",
        "# title: what the show is called that day",
        '# video: {file: "https://…", captions: NAME.vtt, runs: "14:20", web_offset: "-0:02:10"}',
        "rundown:                       # taken from the captions' times; each story is on hold",
    ]
    lines += [
        f'  - {{time: "{clock(segment.start)}", story: {scalar(each)}}}'
        for segment, each in zip(intake.segments, ids, strict=True)
    ]
    promised = [
        (promise, each)
        for segment, each in zip(intake.segments, ids, strict=True)
        for promise in segment.promises
    ]
    promised += [(promise, aired.day.isoformat() if promise.whole_show else "") for promise in intake.around]
    if promised:
        lines.append(
            "promises:                      # what was said on air that the site must hold; never published"
        )
    for promise, kept_by in sorted(promised, key=lambda each: each[0].said.time):
        lines += _promise(promise, kept_by)
    lines += ["---", ""]
    return Drafted(_episode_path(aired), "\n".join(lines))


def _episode_path(aired: When) -> str:
    return f"content/episodes/{aired.day}.md"


def _promise(promise: SpokenPromise, kept_by: str) -> list[str]:
    lines = [f'  - time: "{clock(promise.said.time)}"', f"    said: {scalar(clean(promise.said.words))}"]
    if kept_by:
        lines.append(f"    kept_by: {kept_by}")
    else:
        lines.append(
            "    # kept_by:   # fill in: the story that holds it; or this episode's date, for all its stories"
        )
    return lines


def clock(milliseconds: int) -> str:
    """Such as `00:09:20`. What was said before the programme began has its first moment: a recording has no earlier one."""
    seconds = max(0, milliseconds) // 1000
    return f"{seconds // 3600:02d}:{seconds // 60 % 60:02d}:{seconds % 60:02d}"


def _when(when: When) -> str:
    return f"{when.day} {when.clock:%H:%M}" if when.clock is not None else str(when.day)


# --- a story ---------------------------------------------------------------------------------


def _story(segment: Segment, path: str, aired: When, newsroom: Newsroom) -> str:
    headline = clean(segment.headline)
    lines = [
        "---",
        f"headline: {scalar(headline)}   # a suggestion, from what was said"
        if headline
        else "headline:   # fill in: what happened, in one line",
    ]
    lines.append("# summary: fill in: one sentence that says what happens and who can do what")
    lines.append(f"aired: {_when(aired)}")
    lines += _area(segment, newsroom)
    lines += [
        "hold: true                     # until a person has looked; remove this line to publish",
        f"# The address will be /stories/{story_id(path)}/. For another one rename this file before it is published, and",
        f"# write the new name into {_episode_path(aired)}, too: in its rundown, and wherever kept_by has the old one.",
        "# reporter: fill in: who reported it",
        "# topics: [clothing, libraries]",
        "# say_on_air: coats            # the short address the host reads out",
        '# photo: {file: NAME.jpg, alt: "What it shows, for people who do not see it", credit: WHO}',
    ]
    lines += _follows(segment, aired, newsroom)
    lines += _asks(segment, newsroom)
    lines += _also_said(segment)
    lines += ["# What follows is what was said, from the captions. Write the story in its place.", "---"]
    return "\n".join(lines) + "\n" + "\n\n".join(_paragraphs(segment)) + "\n"


def _area(segment: Segment, newsroom: Newsroom) -> list[str]:
    """County and town, from what was named."""
    station = newsroom.station
    homes: list[str] = []
    town = segment.towns[0] if segment.towns else None
    source: Said | None = None
    if town is not None:
        homes = [
            county.name for county in station.counties if any(each.name == town.name for each in county.towns)
        ]
        source = town.said
    if len(homes) != 1 and segment.counties:
        homes, source = [segment.counties[0].name], segment.counties[0].said
    if len(homes) != 1:
        known = {place.id: place for place in newsroom.places}
        keys = {known[place.id].county for place in segment.places if place.id in known}
        named = {each.name for each in segment.organizations}
        keys = keys or {place.county for place in newsroom.places if place.name in named}
        homes = [county.name for county in station.counties if county.key in keys] if len(keys) == 1 else []
        source = (
            (segment.places[0].said if segment.places else segment.organizations[0].said) if homes else None
        )
    lines: list[str] = []
    if source is not None:
        lines.append(_said(source))
    if len(homes) == 1:
        lines.append(f"county: {scalar(homes[0])}")
    else:
        lines.append(
            f"county:   # fill in: no town or {station.area_word} was named; one, a list, or: beyond"
        )
    lines.append(f"town: {scalar(town.name)}" if town is not None else "# town: fill in: the dateline")
    return lines


def _follows(segment: Segment, aired: When, newsroom: Newsroom) -> list[str]:
    """The earlier story that a segment most likely follows up, the newest of those that follow each other; and one that
    already asks the same."""
    near = _alike(segment, aired, newsroom)
    if not near:
        return []
    earlier = near[0]
    after = {story.follows: story for story in newsroom.stories if _may_be_followed(story, aired)}
    passed = {earlier.id}
    while earlier.id in after and after[earlier.id].id not in passed:
        earlier = after[earlier.id]
        passed.add(earlier.id)
    lines = [f"# follows: {earlier.id}   # looks like it; remove the sign if this is its follow-up"]
    still = next((story for story in (earlier, *near) if _is_open(story, aired.day)), None)
    if still is not None:
        lines.append(f"# look: {still.id} is still open, and may be the same; is this a story of its own?")
    return lines


def _may_be_followed(story: Story, aired: When) -> bool:
    return story.withdrawn is None and story.aired.day < aired.day


def _is_open(story: Story, day: date) -> bool:
    """Whether something that a story asks for may still be done on a day."""
    return not story.hold and any(
        ask.stopped is None
        and (
            ask.ongoing
            or (ask.deadline is not None and ask.deadline.day >= day)
            or any(span.last.day >= day for span in ask.dates)
        )
        for ask in story.asks
    )


def _alike(segment: Segment, aired: When, newsroom: Newsroom) -> list[Story]:
    """Earlier stories that are about the same things, the likest first, and of two like ones the newer."""
    words = {word for sentence in segment.sentences for word in content_words(sentence.plain)}
    found: list[tuple[float, date, Story]] = []
    for story in newsroom.stories:
        if not _may_be_followed(story, aired):
            continue
        about = set(content_words(f"{story.headline} {' '.join(ask.title for ask in story.asks)}".lower()))
        same = len(about & words) / max(4, len(about))
        named = any(each.name == story.town for each in segment.towns)
        names = sum(
            ask.contact is not None and any(ask.contact.name == each.name for each in segment.organizations)
            for ask in story.asks
        )
        worth = same + 0.15 * named + 0.3 * bool(names)
        if worth >= 0.75:
            found.append((worth, story.aired.day, story))
    return [story for _, _, story in sorted(found, key=lambda each: each[:2], reverse=True)]


# --- asks ------------------------------------------------------------------------------------


def _kind(segment: Segment) -> Kind | None:
    """What viewers are asked to do, where the words leave no doubt."""
    text = " ".join(sentence.plain for sentence in segment.sentences)
    # What helpers are wanted for, such as taking something down or delivering meals, is not what viewers hand in.
    helpers = any(_HELPERS_WANTED.search(each.plain) for each in segment.sentences)
    handed_in = any(
        hands_in(_TAKEN_APART.sub(" ", each.plain))
        for each in segment.sentences
        if not _HELPERS_WANTED.search(each.plain)
    )
    if handed_in and any(place.role is Role.DROP_OFF for place in segment.places):
        return Kind.BRING
    if _HELP_FOR.search(text) and (signs_up(text) or segment.places):
        return Kind.GET_HELP
    if segment.deadlines and (helpers or (signs_up(text) and _HELPING.search(text))):
        return Kind.VOLUNTEER
    if segment.deadlines and handed_in:
        return Kind.BRING
    if (
        _MONEY.search(text)
        and segment.deadlines
        and re.search(r"\b(?:give|donat\w+|contribut\w+|raise)\b", text)
    ):
        return Kind.GIVE
    if segment.dates and (segment.places or segment.contacts) and _GOING.search(text):
        return Kind.GO
    if segment.deadlines and signs_up(text):
        return Kind.VOLUNTEER
    return None


def _asks(segment: Segment, newsroom: Newsroom) -> list[str]:
    kind = _kind(segment)
    if kind is None and not (segment.deadlines or segment.places):
        return [
            "# asks:                        # nothing to do was heard; if there is something, write it here",
            "#   - title: Bring a winter coat",
            f"#     kind: bring              # or {', '.join(each for each in Kind if each is not Kind.BRING)}",
        ]
    ask, complete = _ask(segment, kind, newsroom)
    if complete:
        return ["asks:", *ask]
    lead = "# asks:                        # fill in what is missing, then remove the first two signs of each line"
    return [lead, *("# " + line for line in ask)]


def _ask(segment: Segment, kind: Kind | None, newsroom: Newsroom) -> tuple[list[str], bool]:
    """(lines, whether they hold all that was to be heard). Its title is never said: a person writes it."""
    lines = [
        f"  - title:{_title(segment, kind)}",
        f"    kind: {kind}" if kind else f"    kind:   # fill in: {', '.join(Kind)}",
    ]
    complete = kind is not None
    if kind is Kind.GO:
        lines += _dates(segment)
        lines += [
            line
            for deadline in segment.deadlines
            for line in (_said(deadline.said, 4), f"    # sign up until {_day(deadline)}")
        ]
    else:
        more, known = _deadline(segment.deadlines)
        lines += more
        complete = complete and known
        for each in segment.dates:
            lines += [_said(each.said, 4), *_look(each.unsure), f"    # starts or takes place: {_span(each)}"]
    lines += _goal(segment.numbers)
    contact, has_contact = _contact(segment, newsroom)
    lines += contact
    lines.append(
        "    # confirmed: {date: "
        + "2026-11-20"
        + ", with: WHO}   # fill in: when you last checked; never published"
    )
    places, has_place = _places(segment, kind, newsroom)
    if kind is not Kind.GIVE:
        lines += places
    if kind is Kind.GIVE:
        lines += [
            "    # payee: fill in: who receives the money",
            "    # goes_to: organization      # or: named person",
        ]
    if kind is Kind.GET_HELP:
        lines += ["    # who_for: fill in: who can get it", "    # cost: fill in: free, or what it costs"]
    # Money and people in need are looked at by a person before they stand as an ask.
    complete = complete and (has_contact or has_place) and kind not in (Kind.GIVE, Kind.GET_HELP)
    return lines, complete


def _title(segment: Segment, kind: Kind | None) -> str:
    """A blank: words that stand in for it would be published, and drawn into what goes on air."""
    unit = next(
        (
            each.unit
            for each in segment.numbers
            if each.role == "goal" and each.unit and each.unit != "dollars"
        ),
        "",
    )
    such = f"; such as Bring {clean(unit)}" if unit and kind is Kind.BRING else ""
    return f"   # fill in: what is asked, in a few words{such}"


def _deadline(deadlines: Sequence[Deadline]) -> tuple[list[str], bool]:
    lines: list[str] = []
    known = [each for each in deadlines if each.day is not None]
    for bound in (each for each in deadlines if each.day is None):
        lines += [_said(bound.said, 4), f"    # so before {bound.latest}"]
    if not known:
        lines.append(
            "    # deadline:   # fill in: it was not said; the last day, or a date and time, or: ongoing"
        )
        return lines, False
    first, *others = known
    lines += [_said(first.said, 4), *_look(first.unsure)]
    lines.append(f"    deadline: {_day(first)}")
    for each in others:
        lines += [_said(each.said, 4), f"    # another day was said: {_day(each)}"]
    return lines, True


def _day(deadline: Deadline) -> str:
    return f"{deadline.day} {deadline.clock:%H:%M}" if deadline.clock is not None else str(deadline.day)


def _dates(segment: Segment) -> list[str]:
    """`dates`, in their order. The evening of the show itself is no date where others were said, but a comment."""
    every = sorted(segment.dates, key=lambda each: (each.day, each.clock or time.min))
    firm = [each for each in every if not each.passing] or every
    lines: list[str] = []
    for each in every:
        lines += [_said(each.said, 4), *_look(each.unsure)]
        if each not in firm:
            lines.append(f"    # look: is it on {_span(each)}, too?")
    written = [_span(each) for each in firm]
    listed = written[0] if len(written) == 1 else f"[{', '.join(written)}]"
    return [*lines, f"    dates: {listed}"]


def _span(event: EventDate) -> str:
    if event.last is not None:
        return f"{event.day}..{event.last}"
    return f"{event.day} {event.clock:%H:%M}" if event.clock else str(event.day)


def _look(doubt: str) -> list[str]:
    return [f"    # look: {doubt}"] if doubt else []


def _goal(numbers: Sequence[Amount]) -> list[str]:
    """`goal`, with each figure's words above it; only what was said."""
    found: dict[str, Amount] = {}
    for each in numbers:
        if each.role not in ("goal", "so_far", "last_time"):
            continue
        # Of several goals the largest is the whole; a count is the first that was said.
        if each.role not in found or (each.role == "goal" and each.number > found["goal"].number):
            found[each.role] = each
    lines = [_said(each.said, 4) for each in dict.fromkeys(found.values())]
    lines = list(dict.fromkeys(lines))
    if "goal" in found:
        unit = found["goal"].unit or next((each.unit for each in found.values() if each.unit), "")
        parts = [f"number: {found['goal'].number:g}"]
        parts += [f"unit: {scalar(unit)}"] if unit else []
        parts += [
            f"{key}: {found[key].number:g}"
            for key in ("so_far", "last_time")
            if key in found and found[key].unit in (unit, "")
        ]
        lines.append(f"    goal: {{{', '.join(parts)}}}")
    elif found:
        lines.append(
            "    # goal: {number: , "
            + ", ".join(f"{key}: {each.number:g}" for key, each in found.items())
            + "}   # fill in: the goal was not said"
        )
    return lines


_REACH = r"\b(?:call|phone|ring|reach|contact|dial|text|e-?mail|write(?: to)?|numbers? (?:for|at|of))(?: up)? (?:the )?(?:\w+ ){0,2}"
_HAS = r"(?: (?:is )?at\b|['’]s (?:\w+ )?(?:number|phone|line|e-?mail|address|website|site)\b)"
"""Around the name of those whom a number or an address is said to belong to."""


def _whose(contact: SpokenContact, segment: Segment, newsroom: Newsroom) -> tuple[str, str]:
    """(the name that a contact belongs to, empty where nobody said; why somebody should look)."""
    if contact.kind == "phone":
        holders = {each.name for each in newsroom.places if _digits(each.phone) == _digits(contact.value)}
        if len(holders) == 1:
            return holders.pop(), ""
    words = contact.said.words
    named = [
        each.name
        for each in segment.organizations
        if re.search(rf"{_REACH}{re.escape(each.name)}|{re.escape(each.name)}{_HAS}", words, re.IGNORECASE)
    ]
    if len(named) != 1:
        return "", ""
    place = next((each for each in newsroom.places if each.name == named[0] and each.phone), None)
    if contact.kind == "phone" and place is not None:
        return named[0], f"content/places/{place.id}.yaml has another number: {place.phone}"
    return named[0], ""


def _digits(phone: str) -> str:
    return re.sub(r"\D", "", phone)


def _contact(segment: Segment, newsroom: Newsroom) -> tuple[list[str], bool]:
    known = {each.kind: each for each in reversed(segment.contacts)}
    if not known:
        who = scalar(segment.organizations[0].name) if segment.organizations else "WHO"
        return [
            f"    # contact: {{name: {who}, phone: }}   # fill in: neither phone nor e-mail was said"
        ], False
    lines = [_said(each.said, 4) for each in known.values()]
    owners = [_whose(each, segment, newsroom) for each in known.values()]
    names = list(dict.fromkeys(name for name, _ in owners))
    # Of several ways to reach somebody all must be the same one's.
    name = names[0] if len(names) == 1 else ""
    parts = [f"name: {scalar(name)}"] if name else []
    parts += [f"{kind}: {scalar(known[kind].value)}" for kind in ("phone", "email", "web") if kind in known]
    blank = "" if name else "   # fill in: whose it is, as name: WHO"
    doubts = [line for _, doubt in owners for line in _look(doubt)]
    return [*dict.fromkeys([*lines, *doubts]), f"    contact: {{{', '.join(parts)}}}{blank}"], True


def _places(segment: Segment, kind: Kind | None, newsroom: Newsroom) -> tuple[list[str], bool]:
    key = "drop_off" if kind in (Kind.BRING, None) else "where"
    if not segment.places:
        return [f"    # {key}:   # fill in: no place was named, or write the contact above"], False
    lines: list[str] = []
    entries = 0
    said = ""
    for place in segment.places:
        source = _said(place.said, 6)
        if source != said:
            lines.append(source)
            said = source
        entry, known = _place(place, segment, newsroom)
        lines.append(entry)
        entries += known
    head = f"    {key}:" if entries else f"    # {key}:"
    return [head, *lines], entries > 0


def _place(place: NamedPlace, segment: Segment, newsroom: Newsroom) -> tuple[str, bool]:
    """(line, whether it can stand): a shared place by its file's name, another one by what was said of it."""
    if place.id:
        known = next((each.name for each in newsroom.places if each.id == place.id), place.name)
        doubt = f"   # look: '{place.name}' was said; is it {known}?" if known != place.name else ""
        return f"      - {place.id}{doubt}", True
    town = place.town or (segment.towns[0].name if len(segment.towns) == 1 else "")
    homes = [
        county.name for county in newsroom.station.counties if any(each.name == town for each in county.towns)
    ]
    if len(homes) == 1:
        where = "" if place.town else "   # fill in: whether it is in this town; street and hours"
        return (
            f"      - {{name: {scalar(place.name)}, town: {scalar(town)}, county: {scalar(homes[0])}, hours: unknown}}"
            f"{where or '   # fill in: street and hours'}",
            True,
        )
    return (
        f"      # - {{name: {scalar(place.name)}, town: , county: , hours: unknown}}   # fill in: town, street and hours",
        False,
    )


def _also_said(segment: Segment) -> list[str]:
    """Names that the story holds and no key has."""
    lines: list[str] = []
    if len(segment.towns) > 1:
        lines.append(f"# also named: {', '.join(each.name for each in segment.towns[1:])}")
    if segment.organizations:
        lines.append(f"# organizations: {', '.join(each.name for each in segment.organizations)}")
    counts = [each for each in segment.numbers if each.role == "money"]
    lines += [f"# a sum was named: {each.number:g} dollars ({clock(each.said.time)})" for each in counts]
    return lines


def _said(said: Said, indent: int = 0) -> str:
    """A comment with the words a fact came from."""
    return f"{' ' * indent}# said at {clock(said.time)}: “{clean(said.words)}”"


# --- the transcript --------------------------------------------------------------------------

_MARKDOWN = re.compile(r"([\\`*_\[\]<>#])")


def _paragraphs(segment: Segment) -> list[str]:
    """What was said, a paragraph for each speaker's turn; long turns are divided."""
    made: list[str] = []
    words = 0
    named = ""
    for number, sentence in enumerate(segment.sentences):
        text = _markdown(clean(sentence.text))
        fresh = number == 0 or sentence.turn or words >= PARAGRAPH
        if fresh:
            label = ""
            if sentence.speaker and sentence.speaker != named:
                label = f"**{_markdown(sentence.speaker)}:** "
                named = sentence.speaker
            made.append(label + text)
            words = 0
        else:
            made[-1] += f" {text}"
        words += len(text.split())
    return made


def _markdown(text: str) -> str:
    """A sentence that Markdown takes as it is."""
    text = _MARKDOWN.sub(r"\\\1", text)
    # A number and a full stop, or a sign, at the start of a paragraph would begin a list.
    return re.sub(r"\A(\d+)([.)])", r"\1\\\2", re.sub(r"\A([-+])", r"\\\1", text))
