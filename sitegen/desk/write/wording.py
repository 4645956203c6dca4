"""What to do about a finding, for somebody who has fields and buttons: the readers say it for a file, as `key: value`.

Only such pairs are said in other words: a value alone in its own field, labels for other keys, a button for an entry of a
list. What is not understood stays as it is.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from sitegen.desk.write.entered import in_file, shown
from sitegen.newsroom.forms import Entry, Form, Input
from sitegen.newsroom.records import Finding

_OR = ", or: "
_TAIL = re.compile(r"(?P<said>.+?)  (?P<tail>\(.+\))\Z")
"""An example, and what else can be written."""
_PAIR = re.compile(r"(?P<head>(?:.*?: )?)(?P<key>[a-z_]+): (?P<value>.+)\Z")
_VALUE = re.compile(r"""(?P<value>\[[^\[\]]*\]|\{[^{}]*\}|"(?:[^"\\]|\\.)*")(?P<rest>.*)\Z""")
_WRITE = re.compile(r"(?:Write|write)(?P<how>(?:| instead|, for example):) \Z")
_OR_CONTACT = ", or a contact"


def in_form(form: Form, name: str, finding: Finding) -> str:
    """What to write or press instead, beside the field of a name."""
    levels = _levels(form, name)
    if not levels:
        return finding.instead
    own = levels[0][0]
    if own.input is Input.PLACE and finding.instead.startswith("Make the file"):
        return (
            "Choose one of those that are offered, or open “Begin a new shared place for this ask”. To write it out for this ask alone, "
            "leave this empty and open “A place written out here”."
        )
    if own.input is Input.COUNTIES and finding.check.startswith("missing"):
        return "Tick one box or more."
    tail = _TAIL.match(finding.instead)
    found, before = "", ""
    for number, piece in enumerate((tail["said"] if tail else finding.instead).split(_OR)):
        pair = _PAIR.match(piece)
        entry = _entry(levels, pair["key"]) if pair is not None else None
        if pair is None or entry is None or bool(pair["head"]) == bool(number):
            found, before = found + (_OR if number else "") + piece, ""
        elif not number:
            found, before = _said(own, entry, pair["head"], pair["value"]), entry.key
        elif entry.key == before and entry.input is Input.CHOICE:
            found += f", or “{_label(entry, pair['value'])}”"
        else:
            said = _said(own, entry, "write: ", pair["value"])
            found, before = (
                f"{found}{_OR if entry is own else ', or '}{said.removeprefix('write: ')}",
                entry.key,
            )
    contact = _entry(levels, "contact")
    if found.endswith(_OR_CONTACT) and contact is not None:
        found = found.removesuffix(_OR_CONTACT) + f", or fill in “{contact.label}”"
    return _labelled(levels, found) + (f" {tail['tail']}" if tail else "")


def label_of(form: Form, name: str) -> str:
    """What a field is called, by its name; nothing for a name of no field."""
    levels = _levels(form, name)
    return levels[0][0].label if levels else ""


def _levels(form: Form, name: str) -> list[tuple[Entry, tuple[Entry, ...]]]:
    """A field by its name such as `asks/0/contact/web`, and all that it lies in, each with the fields beside it; the field first.
    None of them for a name of no field."""
    fields, found = form.fields, list[tuple[Entry, tuple[Entry, ...]]]()
    for step in name.split("/"):
        if step.isdigit():
            continue
        entry = next((each for each in fields if each.key == step), None)
        if entry is None:
            return []
        found.insert(0, (entry, fields))
        fields = entry.fields
    return found


def _entry(levels: list[tuple[Entry, tuple[Entry, ...]]], key: str) -> Entry | None:
    """The nearest field of a key: the field itself, one in it, one beside it, one around it, or one in those."""
    own = levels[0][0]
    nearest = [own, *own.fields]
    for _, fields in levels:
        nearest += fields
    for _, fields in levels:
        nearest += [each for entry in fields for each in entry.fields]
    return next((each for each in nearest if each.key == key), None)


def _said(own: Entry, entry: Entry, head: str, written: str) -> str:
    """One thing to write, which begins with `head` or a better verb; `written` as it would stand in a file."""
    match = _VALUE.match(written)
    rest = match["rest"] if match is not None else ""
    value = in_file(match["value"]) if match is not None else written
    write = _WRITE.search(head)
    lead, how = (head[: write.start()], write["how"]) if write is not None else ("", "")

    def verb(word: str) -> str:
        return lead + (word if lead or head[:1].islower() else word.capitalize())

    where = "" if entry is own else f" under “{entry.label}”"
    if write is not None and entry.input is Input.GROUPS:
        button = f"Add a {entry.one}" + (" to this ask" if entry.one == "place" else "")
        return f"{verb('press')} “{button}” under “{entry.label}”{rest}"
    if write is not None and entry.input is Input.CHOICE and isinstance(value, str):
        # An example would be a guess at what is meant, and the list is there to be seen.
        chosen = "one" if "example" in how else f"“{_label(entry, value)}”"
        return f"{verb('choose')} {chosen}{where}{rest}"
    if entry.input is Input.GROUP and isinstance(value, Mapping):
        texts = {each.key: value[each.key] for each in entry.fields if isinstance(value.get(each.key), str)}
        if list(texts) == [own.key]:
            return f"{head}{texts[own.key]}{rest}"
        labels = {each.key: each.label for each in entry.fields}
        colon = ", such as" if entry.key == "contact" else ":"
        said = " and ".join(
            f"“{labels[key]}”" + (f"{colon} {text}" if text != "…" else "") for key, text in texts.items()
        )
        if write is None:
            return f"{head}{said}{rest}"
        return (
            f"{verb('fill in')} {said}{rest}"
            if not where
            else f"{verb('under')} “{entry.label}” fill in {said}{rest}"
        )
    text = value if isinstance(value, str) else shown(entry, value) if value is not None else None
    if text is None:
        return head + f"{entry.key}: {written}"
    if entry.input is Input.POSITION and text.count("\n") == 1:
        text = "latitude {}, longitude {}".format(*text.split("\n"))
    elif "\n" in text:
        text = text.replace("\n", " and ") + ", one a line"
    if not where:
        return f"{head}{text}{rest}"
    return (
        f"{verb('write')}{where}{how} {text}{rest}"
        if write is not None
        else f"{head.removesuffix(': ')}{where}: {text}{rest}"
    )


def _label(entry: Entry, value: str) -> str:
    return dict(entry.choices).get(value, value)


def _labelled(levels: list[tuple[Entry, tuple[Entry, ...]]], text: str) -> str:
    """A text with labels for the keys of two words or more that it names."""

    def label(match: re.Match[str]) -> str:
        entry = _entry(levels, match[0])
        return f"“{entry.label}”" if entry is not None else match[0]

    return re.sub(r"(?<![\w/-])[a-z]+(?:_[a-z]+)+(?![\w/-])", label, text)
