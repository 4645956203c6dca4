"""Spoken English in a plain form for recognisers: small letters, straight quotes, digits for number words, clock times as `17:30`.

`four hundred and ten` becomes `410`, `the twenty-sixth of February` `the 26th of february`, `half past five` `5:30`,
`nineteen fifty-six` `1956`, `five five five oh one seven five` `555-0175`.
"""

from __future__ import annotations

import re

_UNITS = {
    word: number
    for number, word in enumerate(
        [
            "zero",
            "one",
            "two",
            "three",
            "four",
            "five",
            "six",
            "seven",
            "eight",
            "nine",
            "ten",
            "eleven",
            "twelve",
            "thirteen",
            "fourteen",
            "fifteen",
            "sixteen",
            "seventeen",
            "eighteen",
            "nineteen",
        ]
    )
}
_TENS = {
    word: number * 10
    for number, word in enumerate(
        ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"], 2
    )
}
_SCALES = {"hundred": 100, "thousand": 1000, "million": 1000000, "billion": 1000000000}
_ORDINALS = {
    word: number
    for number, word in enumerate(
        [
            "zeroth",
            "first",
            "second",
            "third",
            "fourth",
            "fifth",
            "sixth",
            "seventh",
            "eighth",
            "ninth",
            "tenth",
            "eleventh",
            "twelfth",
            "thirteenth",
            "fourteenth",
            "fifteenth",
            "sixteenth",
            "seventeenth",
            "eighteenth",
            "nineteenth",
        ]
    )
} | {"twentieth": 20, "thirtieth": 30}
_MONTHS = "january|february|march|april|may|june|july|august|september|october|november|december"
_DIGIT_WORDS = {"oh": "0", "o": "0", "zero": "0"} | {
    word: str(number) for word, number in _UNITS.items() if 0 < number < 10
}


def plain(text: str) -> str:
    """A sentence as recognisers read it."""
    low = text.lower().replace("’", "'").replace("‘", "'").replace("“", '"').replace("”", '"')
    low = re.sub(r"\b([ap])\.\s?m\b\.?", r"\1m", low)
    low = re.sub(r"(\d),(?=\d{3}\b)", r"\1", low)
    low = re.sub(r"\bpercent\b", "%", low)
    low = re.sub(r"\bo'clock\b", "oclock", low)
    low = _digits_read_aloud(low)
    low = _numbers(low)
    return " ".join(_clocks(low).split())


def _digits_read_aloud(text: str) -> str:
    """Seven or more digits named one by one, as phone numbers are."""
    word = r"(?:zero|oh|o|one|two|three|four|five|six|seven|eight|nine|hundred|double|\d)"
    run = re.compile(rf"\b{word}(?:[\s,.-]+{word}){{5,12}}\b")

    def joined(match: re.Match[str]) -> str:
        digits = ""
        double = False
        for part in re.findall(r"[a-z]+|\d", match[0]):
            if part == "double":
                double = True
                continue
            if part == "hundred":
                digits += "00"
                continue
            sign = _DIGIT_WORDS.get(part, part)
            digits += sign * (2 if double else 1)
            double = False
        if len(digits) not in (7, 10, 11):
            return match[0]
        grouped = [digits[-4:], digits[-7:-4], digits[-10:-7], digits[:-10]]
        return "-".join(part for part in reversed(grouped) if part)

    return run.sub(joined, text)


def _numbers(text: str) -> str:
    words = _split(text)
    out: list[str] = []
    at = 0
    while at < len(words):
        number, length, ordinal = _number_at(words, at)
        if length == 0:
            out.append(words[at])
            at += 1
            continue
        written = "".join(words[at : at + length])
        alone = length == 1 and written in ("one", "second", "first", "third", "a")
        if alone and not _beside_month(words, at, length):
            out.append(written)
        elif ordinal:
            out.append(f"{number}{_ending(number)}")
        else:
            out.append(str(number))
        at += length
    return "".join(out)


def _split(text: str) -> list[str]:
    """Words and what lies between them; a hyphen between number words is a gap, and `the twentieth's` has a number."""
    return re.findall(
        r"(?:[a-z]+th|first|second|third)(?='s\b)|[a-z]+(?:'[a-z]+)?|\d+(?:\.\d+)?(?:st|nd|rd|th)?|\s+|.",
        text,
    )


def _is_gap(word: str) -> bool:
    return word.isspace() or word == "-"


def _number_at(words: list[str], at: int) -> tuple[int, int, bool]:
    """(number, how many entries it takes, is an ordinal); a length of 0 for none."""
    total = current = 0
    length = 0
    seen = ordinal = False
    last = ""
    index = at
    while index < len(words):
        word = words[index]
        if word in _UNITS and (last in ("", "tens", "scale", "and") or (last == "unit" and not seen)):
            if last == "tens" and not 0 < _UNITS[word] < 10:
                break
            if (
                last == "scale"
                and "".join(words[index + 1 : index + 2]) == "-"
                and _next_word(words, index) not in _SCALES
            ):
                break  # `eleven thousand one-dollar pickles`
            current += _UNITS[word]
            last = "unit"
        elif word in _TENS and last in ("", "scale", "and"):
            current += _TENS[word]
            last = "tens"
        elif word in _SCALES and (last in ("unit", "tens", "scale", "a", "digits")):
            if word == "hundred":
                current *= 100
            else:
                total += current * _SCALES[word]
                current = 0
            last = "scale"
        elif word == "dozen" and last in ("unit", "a", "tens"):
            current *= 12
            last = "scale"
            length = index - at + 1
            seen = True
            break
        elif word == "a" and last == "" and _next_word(words, index) in (*_SCALES, "dozen"):
            current = 1
            last = "a"
            index += 1
            continue
        elif re.fullmatch(r"\d{1,15}(\.\d+)?", word) and last == "" and _next_word(words, index) in (
            "thousand", "million", "billion", "hundred", "dozen",
        ):  # fmt: skip
            if "." in word:
                scale = _SCALES.get(_next_word(words, index), 0)
                return round(float(word) * scale), index - at + 3 if scale else 0, False
            current = int(word)
            last = "digits"
        elif word in _ORDINALS and last in ("", "tens", "scale", "and"):
            if last == "tens" and not 0 < _ORDINALS[word] < 10:
                break
            current += _ORDINALS[word]
            ordinal = seen = True
            length = index - at + 1
            break
        elif word == "and" and last == "scale" and _next_word(words, index) in (*_UNITS, *_TENS, *_ORDINALS):
            last = "and"
            index += 1
            continue
        elif _is_gap(word) and last:
            index += 1
            continue
        else:
            break
        seen = True
        length = index - at + 1
        index += 1
    if not seen or last == "a":
        return 0, 0, False
    number = total + current
    if not ordinal:
        number, length = _year_or_thirty_five_hundred(words, at, number, length)
    return number, length, ordinal


def _year_or_thirty_five_hundred(words: list[str], at: int, number: int, length: int) -> tuple[int, int]:
    """`nineteen fifty-six` and `twenty twenty-six` are one number, by their halves."""
    if not 11 <= number <= 20 or "hundred" in words[at : at + length]:
        return number, length
    index = at + length
    if index < len(words) and _is_gap(words[index]) and index + 1 < len(words):
        nxt = words[index + 1]
        if nxt in _TENS or nxt in ("ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen",
                                   "seventeen", "eighteen", "nineteen"):  # fmt: skip
            second, more, ordinal = _number_at(words, index + 1)
            if 10 <= second <= 99 and not ordinal and number in (18, 19, 20):
                return number * 100 + second, length + 1 + more
        if nxt in ("oh", "o") and number in (19, 20):
            second, more, ordinal = _number_at(words, index + 3) if index + 3 < len(words) else (0, 0, False)
            if more and 0 < second < 10 and not ordinal:
                return number * 100 + second, length + 3 + more
    return number, length


def _next_word(words: list[str], at: int) -> str:
    for word in words[at + 1 : at + 4]:
        if not _is_gap(word):
            return word
    return ""


def _beside_month(words: list[str], at: int, length: int) -> bool:
    after = "".join(words[at + length : at + length + 6]).strip()
    before = "".join(words[max(0, at - 4) : at]).strip()
    return bool(
        re.match(rf"of (?:{_MONTHS}|this month|next month|the month|the year)\b", after)
        or re.search(rf"\b(?:{_MONTHS})(?: the)?\Z", before)
    )


def _ending(number: int) -> str:
    if 10 < number % 100 < 20:
        return "th"
    return {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")


_HOUR = r"(?:1[0-2]|[1-9])"


def _clocks(text: str) -> str:
    """Clock times said in words, as `7:40`; hours alone stay as they are."""
    for word, digit in (("one", "1"), ("two", "2")):
        text = re.sub(
            rf"\b(half past|quarter past|quarter to|at|by|until|till|to) {word}(?= ?(?:am|pm|oclock|in the|[,.]|\Z))",
            rf"\1 {digit}",
            text,
        )
        text = re.sub(rf"\b(half past|quarter past|quarter to) {word}\b", rf"\1 {digit}", text)
    text = re.sub(rf"\bhalf past ({_HOUR})\b", r"\1:30", text)
    text = re.sub(rf"\b(?:a )?quarter past ({_HOUR})\b", r"\1:15", text)
    text = re.sub(
        rf"\b(?:a )?quarter (?:to|of|before) ({_HOUR})\b", lambda m: f"{(int(m[1]) + 10) % 12 + 1}:45", text
    )
    # `at 7 40`, `from 6-30`: an hour and minutes that nothing else joins.
    text = re.sub(
        rf"\b(at|by|until|till|from|to|before|around|the) ({_HOUR})[ -]([0-5][05]|4[0-9]|[1235][0-9])\b(?! ?(?:%|[a-z]+s\b))",
        r"\1 \2:\3",
        text,
    )
    return re.sub(rf"\b({_HOUR}) ([0-5]\d) ?(am|pm)\b", r"\1:\2 \3", text)
