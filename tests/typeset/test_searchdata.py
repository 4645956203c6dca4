"""The search's files: every word leads to its stories, whatever the shards; a small change changes few of them."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import date, timedelta
from functools import cache
from hashlib import sha256
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import msgpack
from msgspec.structs import replace

from sitegen.edition.models import Ref
from sitegen.edition.searching import SearchFile, SearchStory, SearchTexts
from sitegen.newsroom.body import parse
from sitegen.newsroom.galley import set_body, text_of
from sitegen.typeset import searchdata
from sitegen.typeset.dates import Dates
from sitegen.typeset.searchdata import (
    SearchBytes,
    digits,
    divided,
    index_search,
    number_stories,
    numbered,
    term,
    words_in,
)
from sitegen.typeset.theme import load_theme
from sitegen.typeset.words import load_words
from tests.counts import tries
from tests.samples.invented_words import Vocabulary
from tests.samples.outlet_files import CHECKOUT
from tests.samples.search_reader import SearchReader

STORIES = 400


@cache
def dates(language: str = "en-US") -> Dates:
    return Dates(load_words(load_theme(CHECKOUT, "tidetable"), language), language)


TEXTS: dict[bytes, SearchTexts] = {}
"""By what stands for them in a story."""


def a_story(
    name: str, heading: str = "", summary: str = "", body: str = "", **changed: object
) -> SearchStory:
    plain = SearchStory(
        id=f"2026/{name}", headline="", language="", aired=date(2026, 11, 21), town="", counties=(), named=(), record=b"", asks=(),
    )  # fmt: skip
    return told(replace(plain, **changed), SearchTexts(heading, summary, body))


def told(story: SearchStory, texts: SearchTexts) -> SearchStory:
    record = sha256(msgpack.encode(texts)).digest()
    TEXTS[record] = texts
    return replace(story, record=record)


def a_file(*stories: SearchStory, language: str = "en-US") -> SearchFile:
    counties = (Ref("Heron Flats", "counties/heron-flats/"), Ref("Gull Bank", "counties/gull-bank/"))
    texts = {story.id: TEXTS[story.record] for story in stories}
    return SearchFile("data/search.json", language, counties, stories).with_texts(texts.__getitem__)


@cache
def large() -> SearchFile:
    chance = Random(20261125)
    vocabulary = Vocabulary(4000, chance)
    return a_file(
        *(
            a_story(
                f"tale-{number}",
                headline=(headline := vocabulary.text(8)),
                heading=headline,
                aired=date(2024, 1, 6) + timedelta(days=7 * (number // 4)),
                counties=(number % 2,),
                body=vocabulary.text(150),
            )
            for number in range(STORIES)
        )
    )


def search_bytes(file: SearchFile, dates: Dates) -> SearchBytes:
    return index_search(file, dates)[0]


def reader(made: SearchBytes) -> SearchReader:
    return SearchReader(made.directory, dict(made.parts).__getitem__)


@pytest.fixture(scope="module")
def made() -> SearchBytes:
    return search_bytes(large(), dates())


def test_every_word_leads_to_its_stories_and_to_no_other(made: SearchBytes) -> None:
    having: dict[str, set[str]] = defaultdict(set)
    small = set(json.loads(made.directory)["small"])
    for story in large().stories:
        for word in {*TEXTS[story.record].heading.split(), *TEXTS[story.record].body.split()} - small:
            if len(word) > 1:
                having[term(word, "en")].add(story.id)
    read = reader(made)
    ids = {number: card[1] for number, card in read.cards().items()}
    assert len(ids) == STORIES and len(having) > 2000
    assert len(read.files("words")) > 10, "too small to be divided"
    for word in Random(1).sample(sorted(having), 300):
        assert {ids[number] for number in read.exactly(word)} == having[word], word


def test_counties_and_years_are_words_of_their_own(made: SearchBytes) -> None:
    read = reader(made)
    cards = read.cards()
    here = {number for number, card in cards.items() if card[6] == [1]}
    then = {number for number, card in cards.items() if card[3][:4] == "2025"}
    assert here and set(read.exactly("@1")) == here
    assert then and set(read.exactly("@2025")) == then


def test_no_file_is_much_larger_than_it_may_be(made: SearchBytes) -> None:
    for path, data in made.parts:
        lines = data.splitlines()
        assert len(data) <= searchdata.SHARD_BYTES or len(lines) == 1 or path.endswith(".json")


def test_same_models_give_the_same_bytes_in_any_order(made: SearchBytes) -> None:
    stories = list(large().stories)
    Random(2).shuffle(stories)
    assert search_bytes(a_file(*stories), dates()) == made


def test_a_story_that_goes_takes_its_words_and_changes_few_files(made: SearchBytes) -> None:
    texts = replace(TEXTS[large().stories[200].record], heading="Zephyrword zephyrword")
    gone = told(large().stories[200], texts)
    before = search_bytes(a_file(*large().stories[:200], gone, *large().stories[201:]), dates())
    after = search_bytes(a_file(*large().stories[:200], *large().stories[201:]), dates())
    assert any(b"zephyrword" in data for _, data in before.parts)
    for needle in (b"zephyr", gone.id.encode()):
        assert not any(needle in data for _, data in after.parts)
    words = {term(word, "en") for word in (*words_in(texts.heading), *words_in(texts.body))}
    new = dict(after.parts).keys() - dict(before.parts).keys()
    # For each word one file of stories and two for slips, its year, county and card.
    assert len(new) <= 3 * len(words) + 3
    edited = told(replace(gone, headline="Quokka"), replace(texts, heading=f"{texts.heading} quokka"))
    once = search_bytes(a_file(*large().stories[:200], edited, *large().stories[201:]), dates())
    assert len(dict(once.parts).keys() - dict(before.parts).keys()) <= 4


@pytest.mark.parametrize("seed", range(6))
def test_an_index_made_from_the_last_one_is_the_one_made_from_nothing(seed: int) -> None:
    chance = Random(seed)
    words = [
        f"{a}{b}"
        for a in ("coat", "choir", "boat", "bread", "lamp", "quay")
        for b in ("", "s", "house", "ies")
    ]
    stories: dict[str, SearchStory] = {}

    def retold(name: str) -> SearchStory:
        return a_story(
            name,
            heading=" ".join(chance.choices(words, k=4)),
            body=" ".join(chance.choices(words, k=30)),
            aired=date(2025 + chance.randrange(2), 1 + chance.randrange(3), 5),
            counties=(chance.randrange(2),),
            named=tuple(chance.choices(words, k=chance.randrange(3))),
        )

    state = None
    for step in range(12):
        for _ in range(300 if step in (0, 7) else 1 + chance.randrange(6)):
            name = f"tale-{chance.randrange(400)}"
            if name in stories and chance.random() < 0.3:
                del stories[name]
            else:
                stories[name] = retold(name)
        language = "es" if step == 9 else "en"
        file = a_file(*stories.values(), language=language)
        made, state = index_search(file, dates(), state)
        fresh, from_nothing = index_search(file, dates())
        assert made == fresh
        assert state == from_nothing


def test_words_counted_elsewhere_are_those_counted_here() -> None:
    """In any number of processes, and where a few were known before."""
    asked: list[int] = []

    def elsewhere(work: Callable[[int], bytes], count: int) -> Iterator[bytes]:
        asked.append(count)
        with ThreadPoolExecutor(3) as pool:
            yield from pool.map(work, range(count))

    few = a_file(*large().stories[100:103])
    _, known = index_search(few, dates(), spread=elsewhere)
    assert asked == []  # too few to be handed over
    made, state = index_search(large(), dates(), known, elsewhere)
    assert asked and (made, state) == index_search(large(), dates())


def test_an_index_leaves_the_state_it_is_made_from_as_it_was() -> None:
    file = large()
    _, state = index_search(file, dates())
    before = msgpack.encode(state)
    index_search(a_file(*file.stories[3:]), dates(), state)
    assert msgpack.encode(state) == before


@given(
    st.lists(st.tuples(st.integers(0, 40000), st.integers(0, 7)), min_size=1, unique_by=lambda each: each[0])
)
def test_a_line_can_be_read_back(stories: list[tuple[int, int]]) -> None:
    assert numbered(searchdata._signs(sorted(stories))) == sorted(stories)


@given(st.text(alphabet="ab *_-#.1\n>~'ſé|:<&;`[]()!", max_size=40))
def test_the_words_of_a_body_are_those_of_its_parse(body: str) -> None:
    told = " ".join(
        "".join(
            child.content
            if child.type in ("text", "code_inline", "image")
            else " " * child.type.endswith("break")
            for child in token.children or ()
        )
        or token.content
        for token in parse(body)
        if token.type in ("inline", "code_block", "fence")
    )
    assert words_in(text_of(set_body(body)[0])) == words_in(told)


def test_a_story_that_comes_renumbers_no_other() -> None:
    stories = large().stories
    whole, _, _ = number_stories(stories)
    rest, _, _ = number_stories(stories[:100] + stories[101:])
    moved = [name for name, number in rest.items() if whole[name] != number]
    assert len(moved) <= 1, "only one that had to give way to it"
    assert len(set(whole.values())) == len(whole)


def test_headline_counts_more_than_summary_and_summary_more_than_body() -> None:
    filler = "river boat paint wall choir song bread oven " * 18
    made = search_bytes(
        a_file(
            a_story("body", body=f"otter {filler}"),
            a_story("summary", summary="otter", body=filler),
            a_story("heading", heading="Otter", body=filler),
        ),
        dates(),
    )
    read = reader(made)
    levels = {read.cards()[number][1]: level for number, level in read.stories("otter").items()}
    assert levels["2026/heading"] > levels["2026/summary"] > levels["2026/body"]


@given(
    st.lists(st.text(alphabet="abcñ", min_size=1, max_size=6), unique=True, max_size=60), st.integers(8, 80)
)
@settings(max_examples=tries(200))
def test_a_word_is_in_the_file_of_its_longest_key(words: list[str], most: int) -> None:
    entries = [(word, f"{word} A\n".encode()) for word in sorted(words)]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(searchdata, "SHARD_BYTES", most)
        files = dict(divided(entries))
    assert sum(map(len, files.values())) == sum(len(line) for _, line in entries)
    for word, line in entries:
        key = next(word[:length] for length in range(len(word), -1, -1) if word[:length] in files)
        assert line in files[key].splitlines(keepends=True)


@given(st.integers(0, 1 << 40))
def test_digits_say_the_number(number: int) -> None:
    values = [searchdata.DIGITS.index(sign) for sign in digits(number)]
    assert sum((value & 31) << (5 * place) for place, value in enumerate(values)) == number
    assert [value >= 32 for value in values] == [True] * (len(values) - 1) + [False]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Peña’s CŒUR, naïve ﬁne", ["penas", "coeur", "naive", "fine"]),
        ("K9 4-H 9th 1974 1899 2026 5pm 237", ["k9", "1974", "2026"]),
        ("a I x-ray", ["ray"]),
        ("St. Mary's", ["st", "marys"]),
        ("ελληνικός Łódź", ["ελληνικος", "lodz"]),
    ],
)
def test_words(text: str, words: list[str]) -> None:
    assert words_in(text) == words


@pytest.mark.parametrize(
    ("language", "one", "several"),
    [
        ("en", "coat", "coats"), ("en", "city", "cities"), ("en", "box", "boxes"), ("en", "church", "churches"),
        ("en", "bus", "buses"), ("en", "glass", "glasses"), ("en", "house", "houses"), ("en", "movie", "movies"),
        ("en", "toy", "toys"), ("es", "abrigo", "abrigos"), ("es", "luz", "luces"), ("es", "flor", "flores"),
        ("es", "noche", "noches"), ("es", "donacion", "donaciones"), ("es", "pais", "paises"), ("es", "ley", "leyes"),
        ("es", "madre", "madres"), ("es", "mes", "meses"),
    ],
)  # fmt: skip
def test_singular_and_plural_are_one(language: str, one: str, several: str) -> None:
    assert term(one, language) == term(several, language)


@pytest.mark.parametrize(("one", "other"), [("care", "car"), ("plane", "plan"), ("class", "clash")])
def test_other_words_stay_apart(one: str, other: str) -> None:
    assert term(one, "en") != term(other, "en")


def test_a_spanish_station_reads_its_own_words() -> None:
    made = search_bytes(
        a_file(a_story("a", heading="Las luces del faro de Peña", body="y los niños"), language="es"),
        dates("es"),
    )
    read = reader(made)
    assert read.found("luz") == read.found("pena") == read.found("niño") == {"2026/a"}
    assert "los" in read.data["small"]
    assert not read.exactly("los")


def test_an_empty_text_is_a_card_all_the_same() -> None:
    read = reader(search_bytes(a_file(a_story("a")), dates()))
    assert [card[1] for card in read.cards().values()] == ["2026/a"]
