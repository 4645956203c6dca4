"""The theme's words in one language, from its gettext catalogue: messages by key, plurals by the catalogue's rule."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.util import find_spec
from pathlib import Path
from typing import TypeAlias

import msgspec

from sitegen.typeset.pycache import keep, kept
from sitegen.typeset.theme import WORDS, Theme, ThemeError

FALLBACK = "en"
"""The language every theme has a catalogue for."""


@dataclass(frozen=True, slots=True)
class Words:
    """One catalogue, read."""

    language: str
    """Of the catalogue, which may be a fallback of what was asked for."""
    messages: Mapping[str, tuple[str, ...]]
    """For each key its message, or its forms in the order of the catalogue's plural rule."""
    plural: Callable[[int], int]
    """The index of the form for a count."""

    def form(self, key: str, count: float | None = None) -> str:
        """The message with its `{parameters}` still in it. Raises ThemeError for a key the catalogue lacks."""
        forms = self.messages.get(key)
        if forms is None:
            raise ThemeError(
                f"the theme's words/{self.language}.po has no finished words for {key!r}: write them there, as the theme that"
                " comes with sitegen has them"
            )
        if len(forms) == 1:
            return forms[0]
        if count is None:
            raise KeyError(f"{key} has plural forms and was asked for without a count")
        # Plural rules of gettext are over whole numbers; a fraction takes the form of a large number.
        return forms[self.plural(int(count) if count == int(count) else 100)]

    def known(self, key: str, otherwise: str) -> str:
        """The message as plain text, or other words where the catalogue has no such key."""
        return self.say(key) if key in self.messages else otherwise

    def say(self, key: str, **parameters: object) -> str:
        """The message as plain text. `count` chooses among plural forms."""
        count = parameters.get("count")
        return self.form(key, count if isinstance(count, int | float) else None).format_map(parameters)


def base_of(language: str) -> str:
    """The primary part of a BCP 47 tag, in small letters: `es` of `es-MX`."""
    return language.split("-")[0].lower()


def with_capital(words: str) -> str:
    """Words as a line or a sentence begins."""
    return words[:1].upper() + words[1:]


def sentence(words: str) -> str:
    """Someone's own words as a sentence, so that another may follow; empty words stay empty."""
    if not words:
        return ""
    return with_capital(words) + ("" if words[-1] in ".!?…" else ".")


def languages_to_try(language: str) -> Iterator[str]:
    """A BCP 47 tag, then ever shorter (RFC 4647 lookup), then English: `es-MX`, `es`, `en`."""
    parts = language.split("-")
    while parts:
        yield "-".join(parts)
        parts.pop()
        if parts and len(parts[-1]) == 1:
            parts.pop()  # a singleton such as `x` means nothing without what follows it
    yield FALLBACK


def catalogue_for(theme: Theme, language: str) -> str:
    """The language of the catalogue that serves `language`."""
    has = {name.lower(): name for name, _ in theme.catalogues}
    return next(has[tag.lower()] for tag in languages_to_try(language) if tag.lower() in has)


def load_words(theme: Theme, language: str) -> Words:
    """The catalogue for a language or for the nearest it falls back to. Raises ThemeError when it cannot be read."""
    name = catalogue_for(theme, language)
    return read_catalogue(name, dict(theme.catalogues)[name], theme.source_of(f"{WORDS}/{name}.po"))


@lru_cache(maxsize=16)
def read_catalogue(language: str, text: str, source: Path | None = None) -> Words:
    """A .po file's messages. Unfinished (`fuzzy`) and empty ones count as missing.

    `source` is the file, where what was read of it may be kept: reading it takes longer than all that a small build says with it.
    """
    from gettext import c2py

    made_of = repr((_reader(), text)) if source is not None else ""
    data = kept(source, made_of) if source is not None else None
    if data is not None:
        rule, messages = _DECODER.decode(data)
        return Words(language, messages, c2py(rule))
    rule, messages = _read_whole(language, text)
    if source is not None:
        keep(source, made_of, msgspec.msgpack.encode((rule, messages)))
    return Words(language, messages, c2py(rule))


_Messages: TypeAlias = dict[str, tuple[str, ...]]

_DECODER = msgspec.msgpack.Decoder(tuple[str, _Messages])


def _reader() -> bytes:
    """What stands for the library that reads catalogues: the file in which it says its version. To load it costs as much as
    reading one."""
    place = find_spec("babel")
    return Path(place.origin).read_bytes() if place is not None and place.origin is not None else b""


def _read_whole(language: str, text: str) -> tuple[str, _Messages]:
    """A catalogue's rule for plurals, in the language C, and its messages."""
    from gettext import c2py
    from io import StringIO

    from babel.messages.pofile import PoFileError, read_po

    try:
        catalogue = read_po(StringIO(text), abort_invalid=True)
        c2py(catalogue.plural_expr)
    except (PoFileError, ValueError) as error:
        raise ThemeError(f"the catalogue {language}.po cannot be read: {error}") from error
    messages: _Messages = {}
    for message in catalogue:
        key = message.id if isinstance(message.id, str) else message.id[0]
        forms = (message.string,) if isinstance(message.string, str) else tuple(message.string or ())
        if key and forms and all(forms) and not message.fuzzy:
            messages[key] = forms
    return catalogue.plural_expr, messages
