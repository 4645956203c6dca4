"""Phone numbers and e-mail addresses as people write them: what in one would reach somebody else, and what to write instead.

Pure. Numbers are kept as they are written; only what cannot be dialled as it is meant is refused.
"""

from __future__ import annotations

import re
from typing import Final

MOST_DIGITS: Final = 15
"""Of an international number (ITU-T E.164, 6.2.1)."""
_EXTENSION = re.compile(r"(?:ext\.?|extension|x|#)\s*(\d+)\s*$", re.IGNORECASE)
_MISTAKEN: Final = str.maketrans("OoIl", "0011")
"""Letters that look like digits."""
_ANOTHER = re.compile(r"\s*(?:/|,|;|&|\b(?:or|and|o|y|u|e)\b)\s*(?=[+(]?\d)", re.IGNORECASE)
"""What stands between two numbers, in English and Spanish."""
_FEWEST_OF_A_NUMBER: Final = 7
"""Digits of one that is followed by another: without an area code (common practice, no source)."""
_NOT_A_LETTERED_NUMBER: Final = {"TTY", "TDD", "FAX", "CELL", "TEXT", "CALL", "PHONE", "TEL", "AND", "OR"}
_ADDRESS = re.compile(r"[^@\s<>(),:;\"]+@[^@\s<>(),:;\"]+\.[^@\s<>(),:;\".]+\Z")


def split_extension(phone: str) -> tuple[str, str]:
    """A number and its extension, which is empty where it has none."""
    extension = _EXTENSION.search(phone)
    return (phone[: extension.start()], extension[1]) if extension else (phone, "")


def phone_problem(phone: str) -> tuple[str, str] | None:
    """Why a phone number cannot be dialled as it is meant, to follow "is '…', ", and the number to write; None where it can.

    The number to write is empty where nobody can tell.
    """
    problem = _judge(phone)
    return problem if problem is None or _judge(problem[1]) is None else (problem[0], "")


def _judge(phone: str) -> tuple[str, str] | None:
    number, extension = split_extension(phone)
    behind = phone[len(number) :]
    digits = re.sub(r"\D", "", number)
    if len(digits) < 3:
        return "not a phone number", ""
    mended = " ".join(_without_mistaken(word) for word in number.split(" "))
    if mended != number:
        return "in which a letter stands where a digit belongs", mended + behind
    another = _ANOTHER.search(number)
    if another and len(re.sub(r"\D", "", number[: another.start()])) >= _FEWEST_OF_A_NUMBER:
        return "more than one number; a phone would dial them as one", number[: another.start()].strip()
    if _has_words(number):
        bare = re.sub(r"[^\d\s().+/-]", "", number).strip(" ().-/") if extension or len(digits) >= 7 else ""
        return "a number with words, whose letters a phone would dial", bare + (
            f" {behind}" if bare and extension else ""
        )
    if len(digits) > MOST_DIGITS:
        return f"a number of {len(digits)} digits, and none has more than {MOST_DIGITS}", ""
    return None


def _without_mistaken(word: str) -> str:
    """`555-O142` as `555-0142`. A group of letters that says something, such as `TOOL`, has others, too, or no digit beside."""
    parts = re.split(r"([^0-9A-Za-z]+)", word)
    for at, part in enumerate(parts):
        letters = re.sub(r"\d", "", part)
        if not letters or letters.strip("OoIl") or not part.isascii() or not part.isalnum():
            continue
        if letters != part or (len(part) == 1 and re.search(r"\d", word)):
            parts[at] = part.translate(_MISTAKEN)
    return "".join(parts)


def _has_words(number: str) -> bool:
    """Letters that spell no part of the number: beside one that is whole, set apart in small letters, or of another alphabet."""
    words = re.findall(r"[^\W\d_]+", number)
    digits = len(re.sub(r"\D", "", number))
    return bool(words) and (
        digits >= 10
        or len("".join(words)) == 1
        or any(not word.isascii() or word.upper() in _NOT_A_LETTERED_NUMBER for word in words)
        or bool(re.search(r"(?:^|[\s(])[a-z]|(?:^|[\s(])[A-Z][a-z]", number))
    )


def is_email(text: str) -> bool:
    """An address alone, without a scheme, a name or signs around it."""
    return bool(_ADDRESS.match(text)) and text.isprintable() and ".." not in text and not text.startswith(".")


def email_meant(text: str) -> str:
    """The address in a text that is more than one; empty where there is none or nobody can tell."""
    bracketed = re.fullmatch(r"[^<>]*<([^<>]+)>\s*", text)
    meant = (bracketed[1] if bracketed else text).strip()
    meant = re.sub(r"\Amailto:", "", meant, flags=re.IGNORECASE).rstrip(".,;: ")
    meant = "".join(sign for sign in meant if sign.isprintable())
    return meant if is_email(meant) else ""
