"""The catalogues: complete, alike, used, and read as gettext means them."""

from __future__ import annotations

import ast
import re
from functools import cache
from pathlib import Path
from string import Formatter

import pytest
from jinja2 import Environment, nodes

from sitegen.typeset.theme import Theme, ThemeError, load_theme
from sitegen.typeset.words import Words, catalogue_for, languages_to_try, load_words, read_catalogue

ROOT = Path(__file__).parents[2]
LANGUAGES = ("en", "es")
PLACED_BY_MODELS = {
    "kind.": ["bring", "give", "volunteer", "go", "get_help", "tune_in"],
    "correction.": ["correction", "clarification", "update"],
    "place.step_free.": ["yes", "no", "unknown"],
    "place.drive_up.": ["yes", "no", "unknown"],
    "ask.goes_to.": ["organization", "named_person"],
    "ended.": ["ended", "stopped"],
    "index.": ["counties", "archive", "topics", "episodes", "places"],
    "find.": ["open", "step_free", "drive_up", "transit"],
    "nav.": ["home", "find", "deadlines", "help", "areas", "archive"],
    "area.": ["county", "parish", "borough", "district"],
    "areas.": ["county", "parish", "borough", "district"],
    "month.": [*(f"{n}" for n in range(1, 13)), *(f"{n}.dated" for n in range(1, 13))],
    "weekday.": [f"{n}" for n in range(7)],
    "direction.": ["n", "ne", "e", "se", "s", "sw", "w", "nw"],
    "onair.state.": ["held", "withdrawn", "missing"],
    "week.": ["1", "2", "3", "4", "5", "last"],
    "date.day": ["", ".weekday", ".year", ".weekday.year"],
}
"""For keys put together from a beginning and a word of the models: every ending that can come."""


@cache
def theme() -> Theme:
    return load_theme(ROOT, "tidetable")


@cache
def catalogue(language: str) -> Words:
    return read_catalogue(language, dict(theme().catalogues)[language])


def parameters(form: str) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(form) if name}


@cache
def calls_in_templates() -> list[tuple[str, str, set[str]]]:
    """(template, key, parameters) of every call of `t` with a key written out."""
    found = []
    environment = Environment(autoescape=True)
    for name, text in theme().templates:
        for call in environment.parse(text).find_all(nodes.Call):
            if (
                isinstance(call.node, nodes.Name)
                and call.node.name == "t"
                and isinstance(call.args[0], nodes.Const)
            ):
                found.append((name, call.args[0].value, {pair.key for pair in call.kwargs}))
    return found


@cache
def calls_in_python() -> list[tuple[str, str, set[str]]]:
    """The same of every call of `say` and `t` in the room."""
    found = []
    for path in sorted((ROOT / "sitegen/typeset").glob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.args):
                continue
            key = node.args[0]
            if node.func.attr in ("say", "t") and isinstance(key, ast.Constant):
                found.append((path.name, str(key.value), {word.arg for word in node.keywords if word.arg}))
    return found


def strings() -> set[str]:
    """Every string written in a template or in the room: keys also travel as arguments."""
    found = set()
    environment = Environment(autoescape=True)
    for _, text in theme().templates:
        found |= {
            node.value
            for node in environment.parse(text).find_all(nodes.Const)
            if isinstance(node.value, str)
        }
    for path in (ROOT / "sitegen/typeset").glob("*.py"):
        tree = ast.parse(path.read_text("utf-8"))
        found |= {
            node.value
            for node in ast.walk(tree)
            if isinstance(node, ast.Constant) and isinstance(node.value, str)
        }
    return found


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_key_that_is_used_is_there_with_no_more_parameters_than_it_is_given(language: str) -> None:
    messages = catalogue(language).messages
    calls = calls_in_templates() + calls_in_python()
    assert len(calls) > 100
    for where, key, given in calls:
        assert key in messages, f"{where}: {key}"
        for form in messages[key]:
            assert parameters(form) <= given, f"{where}: {key} needs {parameters(form) - given}"


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_key_that_is_put_together_is_there(language: str) -> None:
    for beginning, endings in PLACED_BY_MODELS.items():
        for ending in endings:
            assert beginning + ending in catalogue(language).messages


def test_no_key_is_unused() -> None:
    written = strings()
    together = {beginning + ending for beginning, endings in PLACED_BY_MODELS.items() for ending in endings}
    assert not set(catalogue("en").messages) - written - together


def test_catalogues_have_the_same_keys_with_the_same_parameters() -> None:
    english, spanish = catalogue("en").messages, catalogue("es").messages
    assert set(english) == set(spanish)
    for key in english:
        assert len(english[key]) == len(spanish[key]), key
        for one, other in zip(english[key], spanish[key], strict=True):
            assert parameters(one) == parameters(other), key


def test_templates_hold_no_words_of_their_own() -> None:
    for name, text in theme().templates:
        bare = re.sub(r"\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}", "", text, flags=re.S)
        spoken = re.findall(r'(?:aria-label|alt|title|label)="([^"]*)"', bare)
        bare = re.sub(r'<[^>]*>|&\w+;|lang=|(?:data-[a-z-]+|class)="[a-z-]*"', " ", bare)
        assert not re.search(r"[^\W\d_]{2,}", " ".join([bare, *spoken])), f"{name}: {bare.split()} {spoken}"


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_word_of_the_theme_is_relative_to_the_present(language: str) -> None:
    relative = r"\b(today|tonight|tomorrow|yesterday|now|soon|this week|next week|left|ago|hoy|mañana|ayer|ahora|pronto|faltan)\b"
    for key, forms in catalogue(language).messages.items():
        if key.startswith("now."):
            continue  # the script's own; tests/typeset/test_present.py holds them out of static text
        assert not re.search(relative, " ".join(forms), re.IGNORECASE), key


def test_a_language_falls_back_to_its_base_then_to_english() -> None:
    assert [*languages_to_try("es-MX")] == ["es-MX", "es", "en"]
    assert [*languages_to_try("zh-Hant-x-a")] == ["zh-Hant-x-a", "zh-Hant", "zh", "en"]
    assert [catalogue_for(theme(), tag) for tag in ("es-MX", "ES", "cy", "en-GB")] == ["es", "es", "en", "en"]
    assert load_words(theme(), "es-AR").say("weekday.0") == "lunes"


def test_plurals_follow_the_catalogues_own_rule() -> None:
    polish = read_catalogue(
        "pl",
        'msgid ""\nmsgstr ""\n"Content-Type: text/plain; charset=UTF-8\\n"\n'
        '"Plural-Forms: nplurals=3; plural=(n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2);\\n"\n\n'
        'msgid "k"\nmsgid_plural "k"\nmsgstr[0] "{count} palto"\nmsgstr[1] "{count} palta"\nmsgstr[2] "{count} palt"\n',
    )
    assert [polish.say("k", count=n) for n in (1, 3, 5, 22)] == ["1 palto", "3 palta", "5 palt", "22 palta"]
    with pytest.raises(KeyError, match="without a count"):
        polish.say("k")


def test_unfinished_messages_count_as_missing() -> None:
    words = read_catalogue(
        "xx",
        'msgid ""\nmsgstr ""\n\n#, fuzzy\nmsgid "a"\nmsgstr "b"\n\nmsgid "c"\nmsgstr ""\n\nmsgid "d"\nmsgstr "e"\n',
    )
    assert dict(words.messages) == {"d": ("e",)}


@pytest.mark.parametrize(
    "text", ["msgid x", 'msgid ""\nmsgstr ""\n"Plural-Forms: nplurals=2; plural=(n !;\\n"\n']
)
def test_a_broken_catalogue_is_a_plain_error(text: str) -> None:
    with pytest.raises(ThemeError, match=r"xx\.po"):
        read_catalogue("xx", text)
