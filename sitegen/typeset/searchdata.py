"""The archive's search as files: words in shards, so that a reader fetches a small part of a large archive.

All files are text, each word as it is, and the name of each carries a digest of its bytes:

- The directory (JSON) says which file holds what. `words`, `starts` and `ends` list files as `KEYDIGEST`, with the last ten
  signs the digest; the file for a word is that with the longest key that the word begins with. In `cards` the key is a
  story's number, divided by 64.
- A file of `words` has a line for each word, singular and plural as one: what stands for both, a space, its stories. A story is its number and its weight (0 to 7),
  written as 8 × (number − number before) + weight in digits of base 32, lowest first; a digit's sign stands in
  `DIGITS`, plus 32 where more digits follow. `@` and a county's index or a year is a word of its own: all stories there.
- Files of `starts` and `ends` have the words as they stand in stories, each behind a digit that tells how often it is used (base-2 logarithm,
  at most 9), for readers who mistype: one slip leaves the first letters or the last ones as they are, and `ends` goes by the
  latter.
- A file of cards (JSON) has what results show.

A story's number is 12 × (year − first) + month − 1, times the slots of a month, plus a slot that its id chooses. So a story
that comes, goes or is edited changes no other's number, and touches the files of its own words and its card.

Ranking is BM25F with a saturation k1 of 1.2 and a length normalisation b of 0.75 (S. Robertson and H. Zaragoza, "The
Probabilistic Relevance Framework: BM25 and Beyond", 2009, equation 3.15 and 3.18, and the values usual there; from memory),
with a fixed length in the place of the average, which would change every file with every story. The script adds the rest.
"""

from __future__ import annotations

import hashlib
import json
import re
import unicodedata
from array import array
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate, groupby
from typing import Any, Protocol

from msgspec import Raw, Struct, msgpack

from sitegen.edition.addresses import SEARCH_SHARDS
from sitegen.edition.searching import SearchAsk, SearchFile, SearchStory, SearchTexts
from sitegen.newsroom.keeping import Spread, one_by_one
from sitegen.newsroom.slugs import UNDIVIDED
from sitegen.typeset.dates import Dates
from sitegen.typeset.timing import MOST_DATES, timing_lines
from sitegen.typeset.words import base_of

DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"
DIGEST = 10
"""Signs of a digest in a name."""
SHARD_BYTES = 8192
"""A file of words is divided when it is larger; one word's stories alone may be."""
GROUP = 64
"""Numbers to a file of cards."""
FEWEST_SLOTS = 256
"""Slots of a month: enough for a daily programme, so that the number seldom has to grow."""

SATURATION = 1.2
LENGTH_SHARE = 0.75
USUAL_WORDS = 150
"""Words of an ordinary story of a minute and a half, read aloud (common practice, no source)."""
HEADING_WEIGHT, NAMED_WEIGHT, SUMMARY_WEIGHT = 4.0, 3.0, 2.0
"""What a word there is worth beside one in the body (common practice, no source)."""
LEVELS = 8


@dataclass(frozen=True, slots=True)
class SearchBytes:
    """The search of one edition."""

    directory: bytes
    parts: tuple[tuple[str, bytes], ...]
    """(site address, bytes), by address."""


class Indexed(Struct, frozen=True):
    """A story as it went into the index."""

    made_from: bytes
    """A digest of all that its words come from."""
    number: int
    words: Raw
    """A StoryWords; packed, since few are looked into."""


class StoryWords(Struct, frozen=True):
    """The words of a story."""

    written: tuple[str, ...]
    """As they stand in it, each once."""
    levels: dict[str, int]
    """The weight, 0 to 7, of what stands for each."""


class SearchState(Struct, frozen=True):
    """What the next index can be made from, so that only the words of stories that changed are counted anew."""

    basis: bytes
    """A digest of what all words depend on: another one, and nothing of this holds."""
    stories: dict[str, Indexed]
    """By id."""
    used: dict[str, int]
    """How many stories have each word as it is written."""
    postings: dict[str, str]
    """The stories of what stands for each word, as its line has them."""


class SearchKept(Protocol):
    """Keeps what the next index can be made from."""

    @property
    def spread(self) -> Spread:
        """How the words of many stories are counted."""

    def take(self) -> SearchState | None:
        """The state of the last index; None without one."""

    def put(self, state: SearchState) -> None:
        """Keeps the state of this one."""


_WORDS = msgpack.Decoder(StoryWords)
MOST_CHANGED = 8
"""When more than one story in this many changed, all words are counted anew: taking out costs as much as putting in."""


def index_search(
    file: SearchFile, dates: Dates, before: SearchState | None = None, spread: Spread = one_by_one
) -> tuple[SearchBytes, SearchState]:
    """The directory with every file that it leads to, and what the next index can be made from. `dates` speaks the
    station's language. What was made from `before` has the bytes that it would have without, and so has what is spread."""
    language = base_of(file.language)
    small = frozenset(words_in(dates.words.say("search.small_words")))
    numbers, slots, first = number_stories(file.stories)
    state = _indexed(file, numbers, small, language, before, spread)
    lines = [(word, f"{word} {signs}\n".encode()) for word, signs in sorted(state.postings.items())]
    listed = [
        (word, f"{min(count.bit_length() - 1, 9)}{word}\n".encode())
        for word, count in sorted(state.used.items())
    ]
    parts: dict[str, bytes] = {}

    def keep(data: bytes, suffix: str) -> str:
        digest = hashlib.sha256(data).hexdigest()[:DIGEST]
        parts[f"{SEARCH_SHARDS}{digest}.{suffix}"] = data
        return digest

    def shards(entries: list[tuple[str, bytes]]) -> str:
        return " ".join(key + keep(data, "txt") for key, data in divided(entries))

    stories = sorted(file.stories, key=lambda story: numbers[story.id])
    cards = " ".join(
        str(group) + keep(_cards(list(several), numbers, dates), "json")
        for group, several in groupby(stories, key=lambda story: numbers[story.id] // GROUP)
    )
    directory = {
        "stories": len(stories),
        "language": language,
        "small": sorted(small),
        "first": first,
        "slots": slots,
        "counties": [[ref.label or dates.words.say("county.beyond"), ref.address] for ref in file.counties],
        "words": shards(lines),
        "starts": shards(listed),
        "ends": shards(sorted((word[::-1], line) for word, line in listed)),
        "cards": cards,
    }
    return SearchBytes(_json(directory), tuple(sorted(parts.items()))), state


# --- words -------------------------------------------------------------------------------------

# The script does all this to what a reader types; tests hold the two together.
_DROPPED = re.compile("['’‘ʻʼ`]")
_WORD = re.compile(r"[^\W_]+")
_YEAR = re.compile(r"(?:19|20)[0-9]{2}\Z")


def words_in(text: str) -> list[str]:
    """The words of a text in small letters without marks (NFKD), without apostrophes; signs between words are dropped.

    Single letters are no words, and nothing that begins with a digit is, but years: hours and numbers of houses and
    phones are not what a story is looked for by, and they end.
    """
    plain = text
    if not text.isascii():
        decomposed = unicodedata.normalize("NFKD", text.translate(UNDIVIDED))
        plain = "".join(letter for letter in decomposed if not unicodedata.category(letter).startswith("M"))
    found = _WORD.findall(_DROPPED.sub("", plain).lower())
    return [word for word in found if len(word) > 1 and (word[0].isalpha() or _YEAR.match(word))]


_SIBILANT = re.compile(r"(?:[sxzc]|ch|sh)e\Z")
_AFTER_CONSONANT = re.compile(r"[b-df-hj-np-tv-z]e\Z")


@lru_cache(maxsize=1 << 17)
def term(word: str, language: str) -> str:
    """What stands for a word and its plural alike, in English (`en`) and Spanish (`es`); elsewhere the word itself.

    Both forms lose what the plural adds, so what is left need not be a word: `city` and `cities` are `citi`, `luz` and
    `luces` are `luc`. Common practice, no source; irregular plurals stay apart.
    """
    if language == "en":
        if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is")):
            word = word[:-1]
        if len(word) > 3 and (_SIBILANT.search(word) or word.endswith("ie")):
            return word[:-1]
        return word[:-1] + "i" if len(word) > 3 and word.endswith("y") else word
    if language == "es":
        word = word[:-1] if len(word) > 3 and word.endswith("s") else word
        if len(word) > 3 and _AFTER_CONSONANT.search(word):
            word = word[:-1]
            word = word[:-1] if len(word) > 3 and word.endswith("s") else word
        return word[:-1] + "c" if word.endswith("z") else word
    return word


# --- numbers -----------------------------------------------------------------------------------


def number_stories(stories: Iterable[SearchStory]) -> tuple[dict[str, int], int, int]:
    """(number by story id, slots of a month, first year)."""
    months: dict[tuple[int, int], list[str]] = {}
    for story in stories:
        months.setdefault((story.aired.year, story.aired.month), []).append(story.id)
    # Half of the slots stay free, so that two ids seldom choose the same one.
    slots = max(FEWEST_SLOTS, 1 << (2 * max(map(len, months.values())) - 1).bit_length())
    first = min(year for year, _ in months)
    numbers: dict[str, int] = {}
    for (year, month), ids in months.items():
        base = (12 * (year - first) + month - 1) * slots
        taken: set[int] = set()
        for chosen, name in sorted((_choice(name), name) for name in ids):
            slot = chosen % slots
            while slot in taken:
                slot = (slot + 1) % slots
            taken.add(slot)
            numbers[name] = base + slot
    return numbers, slots, first


def _choice(name: str) -> int:
    return int.from_bytes(hashlib.sha256(name.encode()).digest()[:8])


# --- postings ----------------------------------------------------------------------------------


@lru_cache(maxsize=1 << 16)
def digits(number: int) -> str:
    """A number from 0 in base 32, lowest digit first."""
    signs = ""
    while number >= 32:
        signs += DIGITS[32 + number % 32]
        number //= 32
    return signs + DIGITS[number]


_NUMBER = re.compile(rf"[{re.escape(DIGITS[32:])}]*[{DIGITS[:32]}]")
"""The digits of one number."""


@lru_cache(maxsize=1 << 16)
def _value(number: str) -> int:
    """The number that some digits stand for."""
    value = 0
    for digit in reversed(number):
        value = (value << 5) + (DIGITS.index(digit) & 31)
    return value


def numbered(signs: str) -> list[tuple[int, int]]:
    """(number, weight) of each story of a word, from what its line has of them."""
    values = [_value(number) for number in _NUMBER.findall(signs)]
    numbers = accumulate(value // LEVELS for value in values)
    return [(number, value % LEVELS) for number, value in zip(numbers, values, strict=True)]


def _signs(stories: Iterable[tuple[int, int]]) -> str:
    """What a word's line has of its stories, given as (number, weight) by number."""
    last = 0
    signs = []
    for number, level in stories:
        signs.append(digits(LEVELS * (number - last) + level))
        last = number
    return "".join(signs)


CHUNK, LONGEST_CHUNK = 16, 256
"""Stories a process is given at a time, at least and at most: those that lie together in memory."""
MANY = 64
"""Stories from which on counting their words in several processes pays."""


def _indexed(
    file: SearchFile,
    numbers: dict[str, int],
    small: frozenset[str],
    language: str,
    before: SearchState | None,
    spread: Spread,
) -> SearchState:
    """The words of all stories; those of stories that `before` has alike are not counted again."""
    basis = _digest((language, sorted(small)))
    known = before.stories if before is not None and before.basis == basis else {}
    # By id, as in the file; those that have to be counted are filled in below.
    rows: dict[str, Indexed] = {}
    missing: list[tuple[SearchStory, bytes]] = []
    for story in file.stories:
        made_from = _digest((story.record, story.named, story.counties, story.aired.year))
        row = known.get(story.id)
        if row is None or (row.made_from, row.number) != (made_from, numbers[story.id]):
            missing.append((story, made_from))
        else:
            rows[story.id] = row

    size = min(max(CHUNK, len(missing) // CHUNK), LONGEST_CHUNK)

    def counted(chunk: int) -> bytes:
        found = []
        for story, _ in missing[chunk * size : (chunk + 1) * size]:
            texts = file.texts(story.id)
            weights = _counted(story, texts, small)
            found.append(StoryWords(tuple(weights), _levels(story, weights, language)))
        return msgpack.encode(found)

    new: list[Indexed] = []
    waiting = iter(missing)
    chunks = -(-len(missing) // size)
    for made in (spread if len(missing) >= MANY else one_by_one)(counted, chunks):
        for words in msgpack.decode(made, type=list[Raw]):
            story, made_from = next(waiting)
            # A copy, or its whole chunk would stay with it.
            row = rows[story.id] = Indexed(made_from, numbers[story.id], words.copy())
            new.append(row)
    gone = [row for name, row in known.items() if rows.get(name) is not row]
    used: dict[str, int] = {}
    postings: dict[str, str] = {}
    if before is None or not known or MOST_CHANGED * (len(new) + len(gone)) > len(rows):
        gone, new = [], list(rows.values())
    else:
        used, postings = before.used.copy(), before.postings.copy()
    _take_in(used, postings, gone, new)
    return SearchState(basis, rows, used, postings)


def _take_in(used: dict[str, int], postings: dict[str, str], gone: list[Indexed], new: list[Indexed]) -> None:
    """Takes stories out of the counts and postings, and others in."""
    counts: Counter[str] = Counter()
    # Numbers with their weights, as lines have them: of an archive's words as pairs would take most of the build's memory.
    lost: dict[str, set[int]] = {}
    found: dict[str, array[int]] = {}
    for story in gone:
        words = _WORDS.decode(story.words)
        counts.subtract(words.written)
        for word, level in words.levels.items():
            lost.setdefault(word, set()).add(LEVELS * story.number + level)
    for story in new:
        words = _WORDS.decode(story.words)
        counts.update(words.written)
        for word, level in words.levels.items():
            if word not in found:
                found[word] = array("Q")
            found[word].append(LEVELS * story.number + level)
    for word, count in counts.items():
        total = used.get(word, 0) + count
        if total:
            used[word] = total
        else:
            used.pop(word, None)
    for word in lost.keys() | found.keys():
        without, more = lost.get(word, set()), found.get(word, ())
        if len(without) == len(more) and without.issuperset(more):
            continue  # an edit leaves most words of a story as they were, and lines of common words are long
        there = numbered(postings[word]) if word in postings else []
        stayed = (
            each for each in (LEVELS * number + level for number, level in there) if each not in without
        )
        stories = sorted((*stayed, *more))
        if stories:
            postings[word] = _signs(divmod(each, LEVELS) for each in stories)
        else:
            postings.pop(word, None)


def _digest(held: object) -> bytes:
    return hashlib.blake2b(msgpack.encode(held), digest_size=16).digest()


def _counted(story: SearchStory, texts: SearchTexts, small: frozenset[str]) -> dict[str, float]:
    """How often each word stands in a story as written, weighted by where."""
    body = [word for word in words_in(texts.body) if word not in small]
    shorter = 1 - LENGTH_SHARE + LENGTH_SHARE * len(body) / USUAL_WORDS
    weights = {word: count / shorter for word, count in Counter(body).items()}
    for text, worth in (
        (texts.heading, HEADING_WEIGHT),
        (texts.summary, SUMMARY_WEIGHT),
        *((name, NAMED_WEIGHT) for name in story.named),
    ):
        for word in words_in(text):
            if word not in small:
                weights[word] = weights.get(word, 0.0) + worth
    return weights


def _levels(story: SearchStory, counted: dict[str, float], language: str) -> dict[str, int]:
    """The weight, 0 to 7, of what stands for each word of a story: its saturated frequency by equal steps."""
    weights: dict[str, float] = {}
    for word, weight in counted.items():
        plain = term(word, language)
        weights[plain] = weights.get(plain, 0.0) + weight
    levels = {word: int(LEVELS * weight / (SATURATION + weight)) for word, weight in weights.items()}
    return levels | {f"@{county}": 0 for county in story.counties} | {f"@{story.aired.year}": 0}


# --- shards ------------------------------------------------------------------------------------


def divided(entries: list[tuple[str, bytes]]) -> list[tuple[str, bytes]]:
    """(key, bytes) of files that hold the entries, given as (word, line) by word.

    Where the words of a key are too many, the largest of its continuations get files of their own until the rest fits.
    So a word more or less changes its own file, and seldom the files around it.
    """
    return sorted(_divided("", entries)) if entries else []


def _divided(key: str, entries: list[tuple[str, bytes]]) -> list[tuple[str, bytes]]:
    size = sum(len(line) for _, line in entries)
    if size <= SHARD_BYTES:
        return [(key, _joined(entries))]
    depth = len(key) + 1
    longer: dict[str, list[tuple[str, bytes]]] = {}
    rest = []
    for word, line in entries:
        if len(word) < depth:
            rest.append((word, line))
        else:
            longer.setdefault(word[:depth], []).append((word, line))
    sizes = {begin: sum(len(line) for _, line in several) for begin, several in longer.items()}
    files: list[tuple[str, bytes]] = []
    for begin in sorted(longer, key=lambda begin: (-sizes[begin], begin)):
        if size <= SHARD_BYTES:
            rest += longer[begin]
            continue
        files += _divided(begin, longer[begin])
        size -= sizes[begin]
    return [*files, (key, _joined(sorted(rest)))] if rest else files


def _joined(entries: list[tuple[str, bytes]]) -> bytes:
    return b"".join(line for _, line in entries)


# --- cards -------------------------------------------------------------------------------------


def _cards(stories: list[SearchStory], numbers: dict[str, int], dates: Dates) -> bytes:
    """[number, id, headline, day, the day in words, town, indexes of counties, asks, language] for each story."""
    return _json([_card(story, numbers[story.id], dates) for story in stories])


def _card(story: SearchStory, number: int, dates: Dates) -> list[Any]:
    card: list[Any] = [
        number,
        story.id,
        story.headline,
        story.aired.isoformat(),
        dates.day(story.aired, year=True),
        story.town,
        story.counties,
    ]
    asks = [_ask(ask, dates) for ask in story.asks]
    if asks or story.language:
        card.append(asks)
    return [*card, story.language] if story.language else card


def _ask(ask: SearchAsk, dates: Dates) -> list[Any]:
    """[kind, title, anchor, end, lines of when]; a line is [words], [words, its end] or, where other words stand from
    then on, [words, from when, those]."""
    words, timing = dates.words, ask.timing
    end = timing.closes or timing.check_again_by
    ends: dict[int, list[str]] = {}
    lines = [[line] for line in timing_lines(timing, dates)]
    if timing.opens is not None:
        ends[0] = [timing.opens.iso]
    for number, view in enumerate(timing.dates[:MOST_DATES], len(ends)):
        ends[number] = [view.ends]
    if timing.last_place is not None:
        ends[len(lines) - 1] = [timing.last_place.iso, words.say("ask.no_places_left")]
    return [
        words.say(f"kind.{ask.kind.value.replace(' ', '_')}"),
        ask.title,
        ask.anchor,
        end.iso if end else "",
        [line + ends.get(number, []) for number, line in enumerate(lines)],
    ]


def _json(held: object) -> bytes:
    return (json.dumps(held, ensure_ascii=False, separators=(",", ":")) + "\n").encode()
