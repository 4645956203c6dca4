"""Finding a theme, reading it whole, and saying in plain words why it cannot be used."""

from __future__ import annotations

import dataclasses
import re
from itertools import product
from pathlib import Path

import pytest

from sitegen.edition.models import NotFoundPage, StoryPage
from sitegen.typeset.pages import Typesetter
from sitegen.typeset.theme import Theme, ThemeError, load_theme
from tests.samples.page_models import sample_pages

ROOT = Path(__file__).parents[2]
PO = 'msgid ""\nmsgstr "Content-Type: text/plain; charset=UTF-8\\n"\n'


def small_theme(root: Path, name: str = "plain") -> Path:
    folder = root / "themes" / name
    for path, text in {"words/en.po": PO, "templates/home.html": "x", "assets/a.css": "b{}"}.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_text(text, "utf-8")
    return folder


def test_a_theme_of_the_stations_own_comes_first(tmp_path: Path) -> None:
    small_theme(tmp_path, "tidetable")
    assert dict(load_theme(tmp_path, "tidetable").templates) == {"home.html": "x"}


def test_the_default_theme_is_found_from_any_root(tmp_path: Path) -> None:
    assert load_theme(tmp_path, "tidetable") == load_theme(ROOT, "tidetable")


def test_an_unknown_theme_is_named_with_those_that_exist(tmp_path: Path) -> None:
    small_theme(tmp_path, "harbour")
    with pytest.raises(ThemeError, match=r"'habour'.*harbour, tidetable"):
        load_theme(tmp_path, "habour")


@pytest.mark.parametrize("name", ["", "..", "../x", "a/b", "A", "a b", "a-", ".x"])
def test_a_name_cannot_lead_out_of_the_shelf(tmp_path: Path, name: str) -> None:
    with pytest.raises(ThemeError, match="cannot be a theme's name"):
        load_theme(tmp_path, name)


def test_the_digest_follows_every_file_and_nothing_else(tmp_path: Path) -> None:
    folder = small_theme(tmp_path)
    first = load_theme(tmp_path, "plain").digest
    (folder / ".hidden").write_text("x")
    (folder / "templates" / "home.html~").write_text("x")
    (folder / "templates" / "__pycache__").mkdir()
    (folder / "templates" / "__pycache__" / "home.cpython-311.pyc").write_bytes(b"\xff")
    assert load_theme(tmp_path, "plain").digest == first
    seen = {first}
    for path in ("assets/a.css", "templates/home.html", "words/en.po", "readme.txt"):
        (folder / path).write_bytes(
            ((folder / path).read_bytes() if (folder / path).exists() else b"") + b"\n"
        )
        seen.add(load_theme(tmp_path, "plain").digest)
    assert len(seen) == 5


def test_bytes_moved_from_one_file_to_another_change_the_digest(tmp_path: Path) -> None:
    folder = small_theme(tmp_path)
    digests = set()
    for one, other in (("ab", "c"), ("a", "bc")):
        (folder / "assets/x").write_text(one)
        (folder / "assets/y").write_text(other)
        digests.add(load_theme(tmp_path, "plain").digest)
    assert len(digests) == 2


def test_a_theme_without_english_words_is_refused(tmp_path: Path) -> None:
    (small_theme(tmp_path) / "words/en.po").unlink()
    with pytest.raises(ThemeError, match=r"words/en\.po"):
        load_theme(tmp_path, "plain")


def test_a_file_that_is_not_utf8_is_named(tmp_path: Path) -> None:
    (small_theme(tmp_path) / "templates/home.html").write_bytes(b"a\xff")
    with pytest.raises(ThemeError, match=r"templates/home\.html, byte 1"):
        load_theme(tmp_path, "plain")


def test_a_missing_template_is_named(tmp_path: Path) -> None:
    small_theme(tmp_path)
    with pytest.raises(ThemeError, match=r"no template county\.html"):
        Typesetter(load_theme(tmp_path, "plain"), "en")


def test_a_broken_template_is_named_with_its_line(tmp_path: Path) -> None:
    (small_theme(tmp_path) / "templates/home.html").write_text("\n{% if %}")
    with pytest.raises(ThemeError, match=r"home\.html, line 2"):
        Typesetter(load_theme(tmp_path, "plain"), "en")


def with_template(name: str, text: str) -> Theme:
    theme = load_theme(ROOT, "tidetable")
    others = tuple(each for each in theme.templates if each[0] != name)
    return dataclasses.replace(theme, templates=(*others, (name, text)))


def test_a_broken_part_is_named_with_its_line() -> None:
    with pytest.raises(ThemeError, match=r"parts/odd\.html, line 2"):
        Typesetter(with_template("parts/odd.html", "{% macro odd() %}\n{% if %}{% endmacro %}"), "en")


@pytest.mark.parametrize(
    "line", ["{{ page.nothing.of_the_kind }}", "{{ t('say', amount=1 / 0) }}", "{{ page.frame.address + 1 }}"]
)
def test_what_a_template_cannot_do_is_told_with_its_line(line: str) -> None:
    text = dict(load_theme(ROOT, "tidetable").templates)["not-found.html"]
    setter = Typesetter(with_template("not-found.html", text.replace("<h1", f"\n{line}\n<h1", 1)), "en-US")
    page = next(page for page in sample_pages().values() if isinstance(page, NotFoundPage))
    number = text[: text.index("<h1")].count("\n") + 2
    with pytest.raises(ThemeError, match=rf"templates/not-found\.html, line {number}: "):
        setter.page(page)


def test_words_that_a_catalogue_lacks_are_named() -> None:
    theme = load_theme(ROOT, "tidetable")
    lacking = {
        name: text.replace('msgid "lost.small"', 'msgid "lost.other"') for name, text in theme.catalogues
    }
    setter = Typesetter(dataclasses.replace(theme, catalogues=tuple(lacking.items())), "en-US")
    page = next(page for page in sample_pages().values() if isinstance(page, NotFoundPage))
    with pytest.raises(ThemeError, match=r"words/en\.po .*'lost\.small'"):
        setter.page(page)


def test_a_part_that_no_page_calls_is_not_read_of_a_sound_theme() -> None:
    broken = with_template("parts/corrections.html", "{% macro corrections(list, storied=false) %}\n{% if %}")
    pages = sample_pages()
    setter, whole = (
        Typesetter(broken, "en-US", is_sound=True),
        Typesetter(load_theme(ROOT, "tidetable"), "en-US"),
    )
    assert setter.page(pages["lead"]) == whole.page(pages["lead"])
    corrected = next(page for page in pages.values() if isinstance(page, StoryPage) and page.corrections)
    with pytest.raises(ThemeError, match=r"parts/corrections\.html, line 2"):
        setter.page(corrected)


def test_a_macro_has_one_home() -> None:
    texts = [text for name, text in load_theme(ROOT, "tidetable").templates if name.startswith("parts/")]
    names = re.findall(r"macro (\w+)\(", "".join(texts))
    assert len(names) > 30 and len(set(names)) == len(names)


# --- tidetable's colours -----------------------------------------------------------------------

TEXTS = ("ink", "soft", "link")
GROUNDS = ("paper", "tag", "board")


def stylesheet(theme: Theme) -> str:
    return dict(theme.assets)["tidetable.css"].decode()


def schemes() -> dict[str, dict[str, str]]:
    """The tokens as they stand in light and in dark."""
    css = stylesheet(load_theme(ROOT, "tidetable"))
    roots = [
        dict(re.findall(r"--(\w[\w-]*): (#[0-9a-f]{6})", block))
        for block in re.findall(r":root \{(.*?)\}", css, re.S)
    ]
    light, dark = roots[0], {**roots[0], **roots[1]}
    return {"light": light, "dark": dark}


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2: https://www.w3.org/TR/WCAG22/#dfn-relative-luminance"""
    linear = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
        for part in (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio"""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(("text", "ground"), [*product(TEXTS, GROUNDS), ("on-lamp", "lamp")])
def test_every_text_is_at_least_seven_to_one(scheme: str, text: str, ground: str) -> None:
    tokens = schemes()[scheme]
    assert contrast(tokens[text], tokens[ground]) >= 7


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(("mark", "ground"), list(product(("edge", "link"), GROUNDS)))
def test_edges_and_focus_marks_are_at_least_three_to_one(scheme: str, mark: str, ground: str) -> None:
    tokens = schemes()[scheme]
    assert contrast(tokens[mark], tokens[ground]) >= 3


def test_the_stylesheet_fetches_nothing_and_keeps_its_colours_in_tokens() -> None:
    css = stylesheet(load_theme(ROOT, "tidetable"))
    assert not re.search(r"@import|url\(|@font-face|animation|transition", css)
    rules = re.sub(r":root \{.*?\}", "", css, flags=re.S)
    assert set(re.findall(r"#[0-9a-fA-F]{3,8}\b", rules)) <= {
        "#000"
    }  # the dark of a video that has not begun


def test_the_order_in_which_a_disk_lists_files_does_not_show(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    small_theme(tmp_path)
    first = load_theme(tmp_path, "plain")
    listed = Path.rglob
    monkeypatch.setattr(Path, "rglob", lambda self, pattern: sorted(listed(self, pattern), reverse=True))
    assert load_theme(tmp_path, "plain") == first
    monkeypatch.setattr(Path, "rglob", lambda self, pattern: sorted(listed(self, pattern)))
    assert load_theme(tmp_path, "plain") == first
