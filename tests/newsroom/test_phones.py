"""Phone numbers and e-mail addresses: none is let through that reaches somebody else, and none refused that reaches who is meant."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.newsroom.phones import MOST_DIGITS, email_meant, is_email, phone_problem
from sitegen.typeset.pages import telephone_address


@pytest.mark.parametrize(
    "phone",
    [
        "237-555-0142", "(237) 555-0142", "237.555.0142", "2375550142", "555-0142", "+1 237 555 0142", "1-800-555-0142",
        "237\u2013555\u20130142", "237\xa0555\xa00142", "211", "2-1-1", "237-555-0142 ext. 5", "237-555-0142 x12", "237-555-0142 #3",
        "237-555-BOAT", "1-888-555-BOAT", "1-800-555-TOOL", "1-800-COATS4U", "237-555-LOLO", "555-boat", "030/1234567", "+44 20 7946 0142",
    ],
)  # fmt: skip
def test_numbers_that_can_be_dialled(phone: str) -> None:
    assert phone_problem(phone) is None


@pytest.mark.parametrize(
    ("phone", "meant"),
    [
        ("237-555-O142", "237-555-0142"),
        ("237-555-o142", "237-555-0142"),
        ("237-555-0l42", "237-555-0142"),
        ("l-800-555-0142", "1-800-555-0142"),
        ("(237) 555-O142 ext. 5", "(237) 555-0142 ext. 5"),
        ("237-555-0142 or 237-555-0143", "237-555-0142"),
        ("237-555-0142/0143", "237-555-0142"),
        ("237-555-0142, 237-555-0143", "237-555-0142"),
        ("555-0142 o 555-0143", "555-0142"),
        ("237-555-0142 (ask for Bob)", "237-555-0142"),
        ("call 237-555-0142", "237-555-0142"),
        ("237-555-0142 mornings", "237-555-0142"),
        ("555-0142 TTY", "555-0142"),
        ("Tel 555-0142 x3", "555-0142 x3"),
        ("call us", ""),
        ("555-0142x", "555-0142"),
        ("12", ""),
        ("237-555-0142-237-555-0143", ""),
    ],
)
def test_numbers_that_would_reach_somebody_else(phone: str, meant: str) -> None:
    problem = phone_problem(phone)
    assert problem is not None and problem[1] == meant
    assert not meant or phone_problem(meant) is None


@given(st.text("0123456789OolI -./()", max_size=30))
def test_what_is_let_through_dials_its_digits_alone(phone: str) -> None:
    dialled = telephone_address(phone).removeprefix("tel:").replace(";ext=", "")
    if phone_problem(phone) is None and not any(sign in phone for sign in "OolI"):
        assert dialled == "".join(sign for sign in phone if sign.isdigit()) and len(dialled) >= 3
        assert len(telephone_address(phone).removeprefix("tel:").split(";")[0]) <= MOST_DIGITS


@given(st.text("0123456789OolI -./()x,orTANDbm", max_size=30))
def test_what_is_offered_instead_can_be_dialled(phone: str) -> None:
    problem = phone_problem(phone)
    assert problem is None or not problem[1] or phone_problem(problem[1]) is None


@pytest.mark.parametrize(
    "address", ["a@example.org", "a.b+c@mail.example.org", "josé@example.org", "o'neil@example.org"]
)
def test_addresses(address: str) -> None:
    assert is_email(address)


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("mailto:a@example.org", "a@example.org"),
        ("a@example.org.", "a@example.org"),
        ("a@example.org,", "a@example.org"),
        ("A. Person <a@example.org>", "a@example.org"),
        ("a\u200b@example.org", "a@example.org"),
        ("a b@example.org", ""),
        ("a@exam ple.org", ""),
        ("a@example", ""),
        ("a@@example.org", ""),
        ("a@example..org", ""),
        ("a@example.org;b@example.org", ""),
        ("a@example.org, b@example.org", ""),
    ],
)
def test_what_is_no_address_alone(text: str, meant: str) -> None:
    assert not is_email(text) and email_meant(text) == meant
