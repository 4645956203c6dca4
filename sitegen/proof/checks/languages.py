"""The language of the page and of its parts."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import WHITESPACE

PAGE_LANGUAGE = Rule("page-language", "3.1.1", "A", ("b5c3f8",))
PAGE_LANGUAGE_KNOWN = Rule("page-language-known", "3.1.1", "A", ("bf051a",))
PART_LANGUAGE = Rule("part-language", "3.1.2", "AA", ("de46e4",))

# Looked at before the registry is loaded: the languages our pages are written in.
_USUAL: Final = frozenset({"en", "es", "fr", "de"})


def is_known_language(tag: str) -> bool:
    """Whether the tag's primary language subtag is in IANA's registry (RFC 5646, section 2.2.1)."""
    primary = tag.partition("-")[0].lower()
    if primary in _USUAL:
        return True
    from sitegen.proof.checks.language_subtags import is_primary_language

    return is_primary_language(primary)


def _check(page: Page) -> Iterator[PageFinding]:
    root = page.document.root
    language = root.attrs.get("lang")
    if language is None or not language.strip(WHITESPACE):
        yield page.fails(
            PAGE_LANGUAGE,
            root,
            "The page does not say what language it is in.",
            'Write lang, such as <html lang="en">.',
        )
    elif not is_known_language(language):
        yield page.fails(
            PAGE_LANGUAGE_KNOWN,
            root,
            f'"{language}" is not a language.',
            'Use a tag of IANA\'s registry, such as "en".',
        )


FAMILY = Family((PAGE_LANGUAGE, PAGE_LANGUAGE_KNOWN, PART_LANGUAGE), _check)
