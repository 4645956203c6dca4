"""Fields that a browser can fill in for the person."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sitegen.proof.aria import WIDGETS
from sitegen.proof.checks.base import Family, Page, PageFinding, Rule
from sitegen.proof.document import WHITESPACE, Element
from sitegen.proof.semantics import input_type

AUTOCOMPLETE = Rule("autocomplete", "1.3.5", "AA", ("73f2c2",))

# https://html.spec.whatwg.org/multipage/form-control-infrastructure.html#autofill-detail-tokens
_FIELDS: Final = frozenset(
    [
        "name",
        "honorific-prefix",
        "given-name",
        "additional-name",
        "family-name",
        "honorific-suffix",
        "nickname",
        "username",
        "new-password",
        "current-password",
        "one-time-code",
        "organization-title",
        "organization",
        "street-address",
        "address-line1",
        "address-line2",
        "address-line3",
        "address-level4",
        "address-level3",
        "address-level2",
        "address-level1",
        "country",
        "country-name",
        "postal-code",
        "cc-name",
        "cc-given-name",
        "cc-additional-name",
        "cc-family-name",
        "cc-number",
        "cc-exp",
        "cc-exp-month",
        "cc-exp-year",
        "cc-csc",
        "cc-type",
        "transaction-currency",
        "transaction-amount",
        "language",
        "bday",
        "bday-day",
        "bday-month",
        "bday-year",
        "sex",
        "url",
        "photo",
    ]
)
_CONTACT: Final = frozenset(
    [
        "tel",
        "tel-country-code",
        "tel-national",
        "tel-area-code",
        "tel-local",
        "tel-local-prefix",
        "tel-local-suffix",
        "tel-extension",
        "email",
        "impp",
    ]
)
_PLACES: Final = frozenset({"home", "work", "mobile", "fax", "pager"})


def is_autocomplete(value: str) -> bool:
    """Whether a value of `autocomplete` names a kind of data as HTML says it may."""
    tokens = value.lower().split()
    if tokens and tokens[-1] == "webauthn":
        tokens.pop()
    if tokens and tokens[0].startswith("section-"):
        tokens.pop(0)
    if tokens and tokens[0] in {"shipping", "billing"}:
        tokens.pop(0)
    if len(tokens) == 2 and tokens[0] in _PLACES:
        return tokens[1] in _CONTACT
    return len(tokens) == 1 and (tokens[0] in _FIELDS or tokens[0] in _CONTACT)


def _check(page: Page) -> Iterator[PageFinding]:
    for field in page.document.having("autocomplete"):
        if field.tag not in {"input", "select", "textarea"} or not _is_judged(page, field):
            continue
        value = field.attrs["autocomplete"].strip(WHITESPACE)
        if value and value.lower() not in {"on", "off"} and not is_autocomplete(value):
            yield page.fails(
                AUTOCOMPLETE,
                field,
                f'"{value}" tells a browser nothing it can fill in.',
                'Use HTML\'s words, such as "email".',
            )


def _is_judged(page: Page, field: Element) -> bool:
    semantics = page.semantics
    if field.tag == "input" and input_type(field) in {
        "hidden",
        "button",
        "submit",
        "reset",
        "image",
        "checkbox",
        "radio",
        "file",
    }:
        return False
    if semantics.is_disabled(field) or any(
        each.attrs.get("aria-disabled", "").strip(WHITESPACE).lower() == "true"
        for each in (field, *field.ancestors())
    ):
        return False
    if not semantics.is_rendered(field):
        return False
    if semantics.is_aria_hidden(field) and not semantics.is_visible(field):
        return False
    role = semantics.role(field)
    return role == "" or role in WIDGETS or semantics.takes_tab_focus(field)


FAMILY = Family((AUTOCOMPLETE,), _check)
