"""Linked data to the bytes of a data block: JSON-LD 1.1 (https://www.w3.org/TR/json-ld11/) in a page's HTML.

A script element of a type that is not a script is a data block, which nothing executes and no content policy need allow
(https://html.spec.whatwg.org/multipage/scripting.html#data-block). `<` is written as an escape, so that no words can end it.
"""

from __future__ import annotations

import json
from base64 import b64encode
from collections.abc import Sequence
from hashlib import sha256
from typing import TypeAlias

from sitegen.edition.vocabulary import Address, Node, Said, Term, Value
from sitegen.typeset.addresses import absolute
from sitegen.typeset.words import Words

Json: TypeAlias = "str | int | float | bool | list[Json] | dict[str, Json] | None"


def linked_text(nodes: Sequence[Node], base: str, words: Words) -> str:
    """The JSON text of some nodes for a site at a public address; empty for none."""
    if not nodes:
        return ""
    written = [_value(each, base, words) for each in nodes]
    graph: dict[str, Json] = {"@context": "https://schema.org", "@graph": written}
    text = json.dumps(graph, ensure_ascii=False, separators=(",", ":"))
    return text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026")


def block_digest(text: str) -> str:
    """A block's text as a content policy names it (CSP 3, hash-source), for readers that ask the policy even about data."""
    return f"sha256-{b64encode(sha256(text.encode()).digest()).decode()}"


def _value(value: Value, base: str, words: Words) -> Json:
    match value:
        case Node():
            found: dict[str, Json] = {"@type": value.type}
            for name, each in value.properties:
                found[name] = _value(each, base, words)
            return found
        case Address():
            path, sign, fragment = value.to.partition("#")
            return absolute(base, path) + sign + fragment
        case Term():
            return f"https://schema.org/{value.name}"
        case Said():
            return words.say(value.key)
        case tuple():
            each_value = [_value(each, base, words) for each in value]
            return each_value[0] if len(each_value) == 1 else each_value
        case _:
            return value
