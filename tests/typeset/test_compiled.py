"""Templates are compiled once, and a kept one sets what a new one sets."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from importlib.util import cache_from_source
from pathlib import Path
from shutil import copytree
from traceback import extract_tb
from typing import Any

import pytest
from jinja2 import Environment, FileSystemLoader, StrictUndefined, UndefinedError

from sitegen.typeset.compiled import environment_of
from sitegen.typeset.pages import Typesetter, template_environment
from sitegen.typeset.theme import load_theme
from sitegen.typeset.words import read_catalogue
from tests.samples.page_models import sample_pages

ROOT = Path(__file__).parents[2]


@pytest.fixture(autouse=True)
def elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Nothing that these tests keep comes into the way of others, nor is anything known from before."""
    monkeypatch.setattr(sys, "pycache_prefix", str(tmp_path / "kept"))
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    template_environment.cache_clear()
    read_catalogue.cache_clear()
    yield
    template_environment.cache_clear()
    read_catalogue.cache_clear()


@pytest.fixture
def compiled(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Names of the templates as they are compiled."""
    names: list[str] = []
    compile_ = Environment.compile

    def noting(self: Environment, source: Any, name: Any = None, *args: Any, **given: Any) -> Any:
        names.append(name)
        return compile_(self, source, name, *args, **given)

    monkeypatch.setattr(Environment, "compile", noting)
    return names


def environment(folder: Path, made_by: str = "", **options: Any) -> Environment:
    return environment_of(
        FileSystemLoader(folder), lambda name: folder / name, made_by, undefined=StrictUndefined, **options
    )


def test_a_template_is_compiled_once_for_each_text_and_way(tmp_path: Path, compiled: list[str]) -> None:
    template = tmp_path / "a.html"
    template.write_text("{{ x }}")
    for _ in range(2):
        assert environment(tmp_path, autoescape=True).get_template("a.html").render(x="&") == "&amp;"
    assert compiled == ["a.html"]
    assert environment(tmp_path, autoescape=False).get_template("a.html").render(x="&") == "&"
    template.write_text("{{ x }}!")
    assert environment(tmp_path, autoescape=False).get_template("a.html").render(x="&") == "&!"
    assert compiled == ["a.html"] * 3


def test_another_maker_compiles_anew(tmp_path: Path, compiled: list[str]) -> None:
    (tmp_path / "a.html").write_text("x")
    (tmp_path / "one.py").write_text("")
    (tmp_path / "other.py").write_text("longer")
    for maker in ("one.py", "one.py", "other.py"):
        environment(tmp_path, str(tmp_path / maker)).get_template("a.html")
    assert len(compiled) == 2


def test_a_damaged_one_is_compiled(tmp_path: Path, compiled: list[str]) -> None:
    (tmp_path / "a.html").write_text("{{ x }}")
    environment(tmp_path).get_template("a.html")
    place = Path(cache_from_source(tmp_path / "a.html"))
    place.write_bytes(place.read_bytes()[:-1])
    for _ in range(2):
        assert environment(tmp_path).get_template("a.html").render(x=1) == "1"
    assert len(compiled) == 2


def test_what_fails_is_told_with_its_line_of_a_kept_one_too(tmp_path: Path, compiled: list[str]) -> None:
    (tmp_path / "a.html").write_text("one\n\n{{ nobody.knows }}")
    for _ in range(2):
        with pytest.raises(UndefinedError) as told:
            environment(tmp_path).get_template("a.html").render()
        lines = [(Path(frame.filename), frame.lineno) for frame in extract_tb(told.tb)]
        assert (tmp_path / "a.html", 3) in lines
    assert len(compiled) == 1


def test_kept_templates_and_words_set_the_same_pages(
    compiled: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    pages = [sample_pages()[name] for name in ("story-full", "not-found-full")]

    def set_pages() -> list[bytes]:
        setter = Typesetter(load_theme(ROOT, "tidetable"), "en-US", is_sound=True)
        return [setter.page(page) for page in pages]

    first = set_pages()
    assert len(compiled) > 5
    compiled.clear()
    template_environment.cache_clear()
    read_catalogue.cache_clear()
    monkeypatch.setattr("sitegen.typeset.words._read_whole", None)
    assert set_pages() == first
    assert compiled == []


def test_a_theme_of_the_stations_own_is_left_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = tmp_path / "themes/own"
    copytree(ROOT / "themes/tidetable", folder)
    monkeypatch.setattr(sys, "pycache_prefix", None)
    before = sorted(folder.rglob("*"))
    Typesetter(load_theme(tmp_path, "own"), "en-US", is_sound=True).page(sample_pages()["not-found-full"])
    assert sorted(folder.rglob("*")) == before


def test_a_theme_of_the_program_is_known_through_a_station_too(tmp_path: Path) -> None:
    (tmp_path / "themes").symlink_to(ROOT / "themes")
    for root in (tmp_path, ROOT, tmp_path / "elsewhere"):
        assert load_theme(root, "tidetable").folder == ROOT / "themes/tidetable"
