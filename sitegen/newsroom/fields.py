"""Typed reading of one mapping: every getter turns a node into a value or a located fault, never an exception.

`Fields` knows which keys its record has. It reports unknown keys with the nearest known one, and remembers
where each key stands, so that later checks can point at the line.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from collections.abc import Sequence as SequenceLike
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta
from difflib import get_close_matches
from zoneinfo import ZoneInfo

from sitegen.newsroom.hours import DAY, afternoon_ends, clock_text, ranges_text, read_hours, rules_text
from sitegen.newsroom.misplaced import where_it_belongs
from sitegen.newsroom.nodes import Mapping, Node, Problem, Scalar, Sequence, wrong_space
from sitegen.newsroom.phones import email_meant, is_email, phone_problem
from sitegen.newsroom.records import Finding, Hours, Origin, Position, Spot, Weight, When
from sitegen.newsroom.slugs import slug
from sitegen.newsroom.times import TimeError, is_in_gap, is_twice, read_clock, read_date, read_when
from sitegen.newsroom.unseen import CONTROL
from sitegen.newsroom.yamllines import scalar as as_yaml


@dataclass(slots=True)
class Findings:
    """The list every reader adds to."""

    found: list[Finding] = field(default_factory=list)

    def fault(self, spot: Spot, check: str, message: str, instead: str = "") -> None:
        self.found.append(Finding(spot, Weight.FAULT, check, message, instead))

    def concern(self, spot: Spot, check: str, message: str, instead: str = "") -> None:
        self.found.append(Finding(spot, Weight.CONCERN, check, message, instead))

    def problems(self, path: str, problems: Iterable[Problem]) -> None:
        for problem in problems:
            self.fault(
                Spot(path, problem.line, problem.column), problem.check, problem.message, problem.instead
            )


def nearest(word: str, known: Iterable[str]) -> str:
    """The known word most like a written one, or an empty text when none is alike."""
    by_slug: dict[str, str] = {}
    for name in known:
        by_slug.setdefault(slug(name) or name, name)
    close = get_close_matches(slug(word) or word.lower(), by_slug, n=1, cutoff=0.6)
    return by_slug[close[0]] if close else ""


def did_you_mean(word: str, known: SequenceLike[str], limit: int = 12) -> str:
    """What to write instead of an unknown word: the nearest, else the list when it is short."""
    close = nearest(word, known)
    if close:
        return f"Did you mean '{close}'?"
    if 0 < len(known) <= limit:
        return f"Known here: {', '.join(known)}."
    return ""


WHILE_HELD = "missing-while-held"
"""The check that a blank of a story on hold is told by: a concern, for nothing of such a story is published."""

_TRUE_FALSE = {"true": True, "True": True, "TRUE": True, "false": False, "False": False, "FALSE": False}
_NUMBER = re.compile(r"[-+]?(?:\d+(?:\.\d*)?|\.\d+)\Z", re.ASCII)
_DURATION = re.compile(r"(-)?(?:(\d{1,2}):)?(\d{1,2}):(\d{2})\Z", re.ASCII)
_FILE = re.compile(
    r"[^/]+\.(?:mp4|m4v|mov|webm|mkv|avi|mp3|jpe?g|png|gif|webp|pdf|html?|docx?)", re.IGNORECASE
)
"""A file's name alone, and no host."""
RANGE = re.compile(r"\s*\.\.\.?\s*")
"""What stands between the two ends of a range of dates."""
_LONGEST_RANGE = 366
"""Days."""
_SCHEMES = ("https://", "http://", "mailto:", "tel:")


def can_be_told(
    wall: datetime, zone: ZoneInfo, findings: Findings, spot: Spot, subject: str, written: str
) -> bool:
    """False, with a fault, for a wall time that clocks skip; a concern for one that they show twice."""
    if is_in_gap(wall, zone):
        findings.fault(
            spot,
            "time-in-gap",
            f"{subject}: {written} does not exist in {zone.key}; clocks go forward past it.",
            "Write a time at least an hour earlier or later.",
        )
        return False
    if is_twice(wall, zone):
        findings.concern(
            spot,
            "time-twice",
            f"{subject}: {written} comes twice in {zone.key}, as clocks go back; the first is meant.",
            "Choose a time outside that hour if the second is meant.",
        )
    return True


def _is_blank(node: Node) -> bool:
    if isinstance(node, Scalar):
        return node.is_nothing or not node.text.strip()
    return isinstance(node, Sequence) and all(_is_blank(item) for item in node.items)


def _as_key(written: str) -> str:
    """A key as this tool spells keys: `Check again-by` is `check_again_by`."""
    return "_".join(re.split(r"[\s_-]+", written.strip().lower()))


def _has_no_colon(node: Mapping, at: int) -> bool:
    """True for words between two commas in braces, which YAML takes for a key without a value."""
    if at < 1:
        return False
    key, value = node.entries[at]
    if not isinstance(value, Scalar) or value.text or not value.plain or not key.plain:
        return False
    # Behind a colon, the value begins a sign later, and with the space two; on a line of its own, a key has its colon.
    beside = node.entries[at - 1][0].line == key.line
    return value.line == key.line and value.column <= key.column + len(key.text) + beside


def _words_behind_a_comma(node: Mapping, at: int, known: SequenceLike[str], what: str) -> tuple[str, str]:
    """(message, what to write instead) of words in braces behind a comma that their writer did not mean as a key."""
    (name, value), words = node.entries[at - 1], node.entries[at][0].text
    message = f"In braces a comma begins a new key, and '{words}' is not a key of {what}."
    if not isinstance(value, Scalar) or not value.plain or not value.text:
        return message, 'Put a text that holds a comma in quotes: "…".'
    parts = [value.text]
    while at < len(node.entries) and _has_no_colon(node, at) and node.entries[at][0].text not in known:
        parts.append(node.entries[at][0].text)
        at += 1
    return message, f"Put a text that holds a comma in quotes: {name.text}: {as_yaml(', '.join(parts))}"


class Fields:
    """One mapping of a file, read key by key."""

    def __init__(
        self, node: Mapping, path: str, findings: Findings, known: SequenceLike[str], what: str
    ) -> None:
        self.path = path
        self.findings = findings
        self.what = what
        self.near: date | None = None
        """A day beside which a date without a year is looked for, to say what it most likely is."""
        self.held = False
        """On hold: what is not written yet keeps it in, and must not keep tonight's copy from going out."""
        self._spot = Spot(path, node.line, node.column)
        self._nodes: dict[str, Node] = {}
        self._filled: dict[str, Node] = {}
        """Those that are not nothing, blank text, or a list of such."""
        self._keys: dict[str, Scalar] = {}
        for at, (key, value) in enumerate(node.entries):
            if key.text not in known:
                spot = Spot(path, key.line, key.column)
                space = wrong_space(key.text, key.line) if key.plain else None
                if space is not None:
                    at_space = Spot(path, key.line, key.column + space.column - 1)
                    findings.fault(at_space, space.check, space.message, space.instead)
                    continue
                if _has_no_colon(node, at):
                    if not (_has_no_colon(node, at - 1) and node.entries[at - 1][0].text not in known):
                        findings.fault(spot, "unknown-key", *_words_behind_a_comma(node, at, known, what))
                    continue
                findings.fault(
                    spot,
                    "unknown-key",
                    f"'{key.text}' is not a key of {what}.",
                    where_it_belongs(key.text, what)
                    or where_it_belongs(_as_key(key.text), what)
                    or did_you_mean(key.text, known)
                    or "Remove the line, or see the README for the keys.",
                )
                continue
            self._nodes[key.text] = value
            self._keys[key.text] = key
            if not _is_blank(value):
                self._filled[key.text] = value

    # --- where ---

    @property
    def origin(self) -> Origin:
        return Origin.at(self._spot, ((name, node.line, node.column) for name, node in self._nodes.items()))

    def spot(self, key: str = "") -> Spot:
        node = self._nodes.get(key)
        if node is None:
            return self._spot
        if isinstance(node, Scalar) and node.text == "":
            node = self._keys[key]
        return Spot(self.path, node.line, node.column)

    def fault(self, key: str, check: str, message: str, instead: str = "") -> None:
        self.findings.fault(self.spot(key), check, message, instead)

    def concern(self, key: str, check: str, message: str, instead: str = "") -> None:
        self.findings.concern(self.spot(key), check, message, instead)

    # --- whether ---

    def has(self, key: str) -> bool:
        """True when the key is written and is not nothing, blank text, or a list of such."""
        return key in self._filled

    def require(self, key: str, example: str) -> bool:
        """Told when a key is missing or empty."""
        node = self.node(key)
        if node is not None and not (isinstance(node, Mapping) and not node.entries):
            return True
        state = "is empty" if key in self._nodes else "is missing"
        self.missing(key, f"'{key}' of {self.what} {state}.", f"Write, for example: {key}: {example}")
        return False

    def missing(self, key: str, message: str, instead: str) -> None:
        """A fault for what must be written and is not; while it is on hold, a concern."""
        if self.held:
            self.concern(
                key, WHILE_HELD, f"{message} The story cannot be published before it is written.", instead
            )
        else:
            self.fault(key, "missing", message, instead)

    def node(self, key: str) -> Node | None:
        return self._filled.get(key)

    # --- values ---

    def _scalar(self, key: str, wanted: str) -> Scalar | None:
        node = self.node(key)
        if node is None or isinstance(node, Scalar):
            return node
        got = "a list" if isinstance(node, Sequence) else "a group of keys"
        self.fault(key, "wrong-shape", f"'{key}' of {self.what} is {got}, and must be {wanted}.")
        return None

    def text(self, key: str) -> str:
        scalar = self._scalar(key, "one text")
        return self._clean(scalar) if scalar is not None else ""

    def _clean(self, scalar: Scalar) -> str:
        bad = CONTROL.search(scalar.text)
        if bad is not None:
            self.findings.fault(
                Spot(self.path, scalar.line, scalar.column),
                "control-character",
                f"This text holds an invisible control character (U+{ord(bad[0]):04X}).",
                "Delete it; retyping the text helps.",
            )
            return CONTROL.sub("", scalar.text).strip()
        return " ".join(scalar.text.split())

    def texts(self, key: str) -> tuple[str, ...]:
        """A list of texts; a single text counts as a list of one."""
        return tuple(text for text, _ in self.located_texts(key))

    def located_texts(self, key: str) -> tuple[tuple[str, Spot], ...]:
        node = self.node(key)
        if node is None:
            return ()
        items = node.items if isinstance(node, Sequence) else (node,)
        texts: list[tuple[str, Spot]] = []
        for item in items:
            spot = Spot(self.path, item.line, item.column)
            if not isinstance(item, Scalar):
                self.findings.fault(
                    spot,
                    "wrong-shape",
                    f"'{key}' of {self.what} must be a list of texts.",
                    "Put an entry that holds ': ' in quotes.",
                )
            elif not _is_blank(item):
                texts.append((self._clean(item), spot))
        return tuple(texts)

    def flag(self, key: str, default: bool = False) -> bool:
        scalar = self._scalar(key, "true or false")
        if scalar is None:
            return default
        if scalar.text not in _TRUE_FALSE:
            guess = {"yes": "true", "on": "true", "y": "true", "no": "false", "off": "false", "n": "false"}
            self.fault(
                key,
                "not-true-or-false",
                f"'{key}' of {self.what} is '{scalar.text}', and must be true or false.",
                f"Write instead: {key}: {guess.get(scalar.text.lower(), 'true')}",
            )
            return default
        return _TRUE_FALSE[scalar.text]

    def choice(self, key: str, known: SequenceLike[str], default: str = "") -> str:
        scalar = self._scalar(key, f"one of: {', '.join(known)}")
        if scalar is None:
            return default
        text = self._clean(scalar)
        if text in known:
            return text
        self.fault(
            key,
            "unknown-word",
            f"'{key}' of {self.what} is '{text}'.",
            did_you_mean(text, known) or f"Write one of: {', '.join(known)}",
        )
        return default

    def _try(self, key: str, scalar: Scalar, reader: Callable[[str], object]) -> object | None:
        try:
            return reader(scalar.text.strip())
        except TimeError as error:
            self.findings.fault(
                Spot(self.path, scalar.line, scalar.column),
                "time",
                f"'{key}' of {self.what}: {error.problem}",
                error.instead,
            )
            return None

    def day(self, key: str) -> date | None:
        scalar = self._scalar(key, "a date such as 2026-12-15")
        value = self._try(key, scalar, self._read_date) if scalar is not None else None
        return value if isinstance(value, date) else None

    def days(self, key: str) -> tuple[date, ...]:
        """A list of dates and of ranges such as `2026-12-24..2027-01-01`, or one; every day of them, ascending, each once."""
        node = self.node(key)
        if node is None:
            return ()
        found: set[date] = set()
        for item in node.items if isinstance(node, Sequence) else (node,):
            if not isinstance(item, Scalar):
                self.findings.fault(
                    Spot(self.path, item.line, item.column),
                    "wrong-shape",
                    f"'{key}' of {self.what} must be a list of dates.",
                )
                continue
            if not item.is_nothing:
                found.update(self._days_of(key, item))
        return tuple(sorted(found))

    def _days_of(self, key: str, item: Scalar) -> Iterable[date]:
        parts = RANGE.split(item.text.strip())
        if len(parts) != 2:
            value = self._try(key, item, self._read_date)
            return (value,) if isinstance(value, date) else ()
        first, last = (
            self._try(key, Scalar(part, item.line, item.column), self._read_date) for part in parts
        )
        if not isinstance(first, date) or not isinstance(last, date):
            return ()
        length = (last - first).days + 1
        if not 1 <= length <= _LONGEST_RANGE:
            self.findings.fault(
                Spot(self.path, item.line, item.column),
                "time",
                f"'{item.text}' ends before it begins."
                if length < 1
                else f"'{item.text}' is longer than a year.",
                f"Write instead: {parts[1]}..{parts[0]}"
                if -_LONGEST_RANGE < length < 1
                else "Look at both years.",
            )
            return ()
        return (first + timedelta(days=ahead) for ahead in range(length))

    def _read_date(self, text: str) -> date:
        return read_date(text, self.near)

    def when(self, key: str, zone: ZoneInfo | None, ends: bool = False) -> When | None:
        """A date, or a date and a time; `ends` where something ends with it, and a bare date counts to its end."""
        scalar = self._scalar(key, "a date, or a date and time such as 2026-12-15 17:30")
        return self.when_of(key, scalar, zone, ends) if scalar is not None else None

    def when_of(self, key: str, scalar: Scalar, zone: ZoneInfo | None, ends: bool = False) -> When | None:
        value = self._try(key, scalar, lambda text: read_when(text, ends, self.near))
        if not isinstance(value, When):
            return None
        if value.clock is not None and zone is not None:
            spot, subject = Spot(self.path, scalar.line, scalar.column), f"'{key}' of {self.what}"
            wall = datetime.combine(value.day, value.clock)
            if not can_be_told(wall, zone, self.findings, spot, subject, scalar.text):
                return None
        return value

    def clock(self, key: str) -> time | None:
        scalar = self._scalar(key, "a time of day such as 17:30")
        value = self._try(key, scalar, read_clock) if scalar is not None else None
        return value if isinstance(value, time) else None

    def seconds(self, key: str, signed: bool = False) -> int | None:
        """A length or place in a video: `1:35`, `00:09:20`, with a sign where allowed."""
        scalar = self._scalar(key, "a time such as 00:09:20")
        if scalar is None:
            return None
        match = _DURATION.match(scalar.text.strip())
        if (
            match is None
            or (match[1] and not signed)
            or int(match[4]) > 59
            or (match[2] and int(match[3]) > 59)
        ):
            self.fault(
                key,
                "duration",
                f"'{key}' of {self.what} is '{scalar.text}', not hours, minutes and seconds.",
                f'Write, for example: {key}: "{"-" if signed else ""}0:09:20"',
            )
            return None
        value = int(match[2] or 0) * 3600 + int(match[3]) * 60 + int(match[4])
        return -value if match[1] else value

    def number(self, key: str, least: float | None = None) -> float | None:
        scalar = self._scalar(key, "a number")
        if scalar is None:
            return None
        text = scalar.text.strip()
        if not _NUMBER.match(text) or len(text) > 18:
            digits = re.sub(r"[^\d.]", "", text)
            self.fault(
                key,
                "not-a-number",
                f"'{key}' of {self.what} is '{text}', not a number.",
                f"Write instead: {key}: {digits}" if _NUMBER.match(digits) else "Write digits only.",
            )
            return None
        value = float(text)
        if least is not None and value < least:
            self.fault(
                key, "number-too-small", f"'{key}' of {self.what} is {text}, and must be at least {least:g}."
            )
            return None
        return value

    def whole(self, key: str, least: int, most: int, default: int) -> int:
        value = self.number(key, least)
        if value is None:
            return default
        if value != int(value):
            self.fault(key, "not-a-number", f"'{key}' of {self.what} must be a whole number.")
            return default
        if value > most:
            self.fault(key, "number-too-large", f"'{key}' of {self.what} must be at most {most}.")
            return default
        return int(value)

    def position(self, key: str) -> Position | None:
        node = self.node(key)
        if node is None:
            return None
        items = node.items if isinstance(node, Sequence) else ()
        texts = [item.text.strip() for item in items if isinstance(item, Scalar)]
        if len(items) != 2 or len(texts) != 2 or not all(_NUMBER.match(text) for text in texts):
            self.fault(
                key,
                "position",
                f"'{key}' of {self.what} must be latitude and longitude.",
                f"Write, for example: {key}: [34.70, -60.50]",
            )
            return None
        latitude, longitude = float(texts[0]), float(texts[1])
        if not (-90 <= latitude <= 90 and -180 <= longitude <= 180):
            swapped = -90 <= longitude <= 90 and -180 <= latitude <= 180
            self.fault(
                key,
                "position",
                f"'{key}' of {self.what} lies nowhere on Earth: latitude goes from -90 to 90, longitude from -180 to 180.",
                f"Write latitude first: {key}: [{texts[1]}, {texts[0]}]" if swapped else "",
            )
            return None
        return Position(latitude, longitude)

    def hours(self, key: str) -> Hours | None:
        scalar = self._scalar(key, "opening hours as one text")
        if scalar is None:
            return None
        reading = read_hours(self._clean(scalar))
        if reading.hours is None:
            self.fault(key, "hours", f"'{key}' of {self.what}: {reading.problem}", reading.instead)
        elif reading.loose:
            self.concern(
                key,
                "hours-read-back",
                f"'{key}' of {self.what}: '{scalar.text}' is read as {reading.hours.text}.",
                f'Write instead: {key}: "{reading.hours.text}"',
            )
        if reading.hours is not None:
            likely = tuple(replace(rule, ranges=afternoon_ends(rule.ranges)) for rule in reading.hours.rules)
            if likely != reading.hours.rules:
                self.overnight(
                    self.spot(key),
                    f"'{key}' of {self.what}",
                    [ranges for rule in reading.hours.rules for ranges in rule.ranges],
                    f'{key}: "{rules_text(likely)}"',
                )
        return reading.hours

    def overnight(self, spot: Spot, subject: str, ranges: Iterable[tuple[int, int]], likely: str) -> None:
        """A concern for hours of which some run from a morning through the night to the next."""
        start, end = next(each for each in ranges if afternoon_ends((each,)) != (each,))
        written = ranges_text([(start, end)])
        self.findings.concern(
            spot,
            "hours-overnight",
            f"{subject}: {written} runs through the night, {(end - start) / 60:.3g} hours.",
            f"If it shuts in the afternoon, write: {likely}. If it does stay open all night, write each day by itself: to "
            f"{clock_text(DAY)}, and from 00:00 to {clock_text(end)} on the day after.",
        )

    def web(self, key: str) -> str:
        """An address with one of the allowed schemes."""
        text = self.text(key)
        if not text:
            return ""
        if not text.lower().startswith(_SCHEMES) or " " in text or len(text) < 9:
            bare = text.split("//")[-1]
            guess = (
                f"https://{bare}"
                if re.match(r"[\w-]+(\.[\w-]+)+", bare) and " " not in bare and not _FILE.fullmatch(bare)
                else "https://www.example.org/"
            )
            self.fault(
                key,
                "address",
                f"'{key}' of {self.what} is '{text}', not a full web address.",
                f"Write instead: {key}: {guess}",
            )
            return ""
        return text

    def email(self, key: str) -> str:
        text = self.text(key)
        if text and not is_email(text):
            meant = email_meant(text)
            self.fault(
                key,
                "email",
                f"'{key}' of {self.what} is '{text}', not an e-mail address.",
                f"Write instead: {key}: {meant}"
                if meant
                else f"Write, for example: {key}: coats@example.org",
            )
            return ""
        return text

    def phone(self, key: str) -> str:
        text = self.text(key)
        problem = phone_problem(text) if text else None
        if problem is not None:
            told, meant = problem
            self.fault(
                key,
                "phone",
                f"'{key}' of {self.what} is '{text}', {told}.",
                f"Write instead: {key}: {meant}" if meant else f"Write, for example: {key}: 237-555-0142",
            )
            return ""
        return text

    def slugs(self, key: str) -> tuple[str, ...]:
        """Slugs, one or a list."""
        good: list[str] = []
        for text, spot in self.located_texts(key):
            if text != slug(text):
                self.findings.fault(
                    spot,
                    "not-a-slug",
                    f"'{key}' of {self.what} is '{text}'; an address holds only small letters, digits and hyphens.",
                    f"Write instead: {slug(text)}" if slug(text) else "",
                )
            else:
                good.append(text)
        return tuple(good)

    # --- groups ---

    def group(
        self, key: str, known: SequenceLike[str], what: str, needed: SequenceLike[str] = ()
    ) -> Fields | None:
        """A nested mapping, with its own keys. `needed` are those to name where there is none; else the first."""
        node = self.node(key)
        if node is None:
            return None
        if not isinstance(node, Mapping):
            self.fault(
                key,
                "wrong-shape",
                f"'{key}' of {self.what} must be a group of keys.",
                f"Write: {key}: {{{', '.join(f'{name}: …' for name in needed or known[:1])}}}",
            )
            return None
        return self.inner(node, known, what)

    def inner(self, node: Mapping, known: SequenceLike[str], what: str) -> Fields:
        """The fields of a mapping inside of this one."""
        fields = Fields(node, self.path, self.findings, known, what)
        fields.near, fields.held = self.near, self.held
        return fields

    def groups(self, key: str, known: SequenceLike[str], what: str, main: str = "") -> tuple[Fields, ...]:
        """A list of nested mappings. `main` is the key of one that a text alone is most likely meant for."""
        found: list[Fields] = []
        for item in self.items(key):
            if isinstance(item, Mapping):
                found.append(self.inner(item, known, what))
            else:
                self.findings.fault(
                    Spot(self.path, item.line, item.column),
                    "wrong-shape",
                    f"Each entry of '{key}' must be a group of keys.",
                    f"Write: - {{{main}: {as_yaml(item.text)}}}"
                    if main and isinstance(item, Scalar)
                    else f"Write: - {known[0]}: …",
                )
        return tuple(found)

    def items(self, key: str) -> tuple[Node, ...]:
        node = self.node(key)
        if node is None:
            return ()
        if not isinstance(node, Sequence):
            self.fault(
                key,
                "wrong-shape",
                f"'{key}' of {self.what} must be a list.",
                f"Begin each entry under {key}: with '- '.",
            )
            return ()
        return node.items
