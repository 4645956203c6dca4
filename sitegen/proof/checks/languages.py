"""The language of the page and of its parts."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import WHITESPACE, Element, Text

PAGE_LANGUAGE = Rule("page-language", "3.1.1", "A", ("b5c3f8",))
PAGE_LANGUAGE_KNOWN = Rule("page-language-known", "3.1.1", "A", ("bf051a",))
TWO_LANGUAGES = Rule("page-language-agrees", "3.1.1", "A", ("5b7ae0",))
PART_LANGUAGE = Rule("part-language", "3.1.2", "AA", ("de46e4",))

# Looked at before the registry is loaded: the languages our pages are written in.
_USUAL: Final = frozenset({"en", "es", "fr", "de"})


def is_known_language(tag: str) -> bool:
    """Whether the tag's primary language subtag is in IANA's registry (RFC 5646, section 2.2.1)."""
    primary = _primary(tag)
    if primary in _USUAL:
        return True
    from sitegen.proof.checks.language_subtags import is_primary_language

    return is_primary_language(primary)


def _primary(tag: str) -> str:
    return tag.partition("-")[0].lower()


def _check(page: Page) -> Iterator[PageFinding]:
    root = page.document.root
    language = root.attrs.get("lang")
    if page.is_drawing:
        pass
    elif language is None or not language.strip(WHITESPACE):
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
    else:
        other = root.attrs.get("xml:lang", "")
        if other.strip(WHITESPACE) and _primary(other) != _primary(language):
            yield page.fails(
                TWO_LANGUAGES,
                root,
                f'The page says it is in "{language}" and in "{other}".',
                "Keep lang alone.",
            )
    for element in page.document.having("lang"):
        if element is root or not element.attrs["lang"] or is_known_language(element.attrs["lang"]):
            continue
        in_body = element.tag == "body" or any(above.tag == "body" for above in element.ancestors())
        if in_body and _has_words(page, element):
            yield page.fails(
                PART_LANGUAGE,
                element,
                f'"{element.attrs["lang"]}" is not a language.',
                'Use a tag of IANA\'s registry, such as "es".',
            )


def _has_words(page: Page, element: Element) -> bool:
    """Whether anybody reads or hears words in the language said here: text, or a name, in no part that says another one."""
    waiting: list[Element] = [element]
    while waiting:
        holder = waiting.pop()
        rendered = page.semantics.is_rendered(holder) and (
            not page.semantics.is_aria_hidden(holder) or page.semantics.is_visible(holder)
        )
        for child in holder.children:
            if isinstance(child, Text):
                if rendered and child.data.strip():
                    return True
            elif "lang" not in child.attrs:
                waiting.append(child)
        named = holder.tag in {"img", "input", "area", "iframe", "object"} or "aria-label" in holder.attrs
        if named and not page.semantics.is_hidden(holder) and page.names.name(holder):
            return True
    return False


FAMILY = Family((PAGE_LANGUAGE, PAGE_LANGUAGE_KNOWN, TWO_LANGUAGES, PART_LANGUAGE), _check)
