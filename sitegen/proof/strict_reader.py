"""Reads plain HTML into the proof's tree; gives up at the first thing it is not certain about.

Pages of a site repeat themselves: a part that was read before, such as the site's header, is taken as it is and put in its
place. What stands between such parts is cut into tags and texts at once, in C; to keep what single lines came to cost more
than that. See `document` for what is left to the other reader.
"""

from __future__ import annotations

import re
from typing import Final

from sitegen.proof.document import WHITESPACE, Document, Element, Lines, Part, Root, Shape, Text
from sitegen.proof.shared_parts import LEAST_ELEMENTS, SharedParts
from sitegen.proof.strict_tags import (
    CHILDREN,
    CLOSES_ITSELF,
    COMMENT,
    END,
    ENDS_A_PARAGRAPH,
    HAS_ITS_PLACE,
    HEADINGS,
    HOLDS_A_BRACKET,
    IS_BODY,
    IS_PARAGRAPH,
    IS_PRE,
    IS_RAW,
    IS_ROOT,
    IS_SVG,
    NO_TEXT,
    NOT_IN_SVG,
    NOT_INSIDE_ITSELF,
    ORDINARY,
    PARENTS,
    RAW_ELEMENT,
    RESTRICTS,
    TWICE,
    VOID_ELEMENT,
    NotCertainError,
    names_written_twice,
    piece,
    pieces_of,
    resolve,
    tags,
)

_DOCTYPE_FIRST: Final = re.compile(r"[ \t\n\f]*+<!doctype[ \t\n\f]++html[ \t\n\f]*+>", re.IGNORECASE)
_END_OF_PAGE: Final = re.compile(r"([ \t\n\f]*)</html[ \t\n\f]*>([ \t\n\f]*)\Z", re.IGNORECASE)

_parts = SharedParts()
# Their place depends on more than the element they stand in.
_NEVER_SHARED: Final = frozenset({"html", "head", "body"})


def read_strictly(source: str, notes: list[str], written: bytes | None = None) -> Document | None:
    """The tree of a page; None where another reader has to make it. `notes` go into the document.

    `written` is the same page in UTF-8, where somebody has it.
    """
    if "\0" in source:
        return None
    if written is None:
        try:
            written = source.encode()
        except UnicodeEncodeError:  # half a pair of surrogates
            return None
    try:
        return _tree(source, written, notes)
    except NotCertainError:
        return None


def _tree(source: str, data: bytes, notes: list[str]) -> Document | None:
    start = _DOCTYPE_FIRST.match(source)
    if start is None:
        return None
    offset = start.end()
    # Up to here there are only characters of one byte each.
    lines = data[offset:].split(b"\n")
    _parts.begin_page()
    begin_new, begin_old = _parts.beginning, _parts.older
    root = Root("html", {}, None, "html", 0, lines=Lines(source))
    elements: list[Element] = [root]
    append = elements.append
    parts: list[tuple[int, Part]] = []
    duplicates: list[tuple[int, str, str]] = []
    # `current` is the open element that receives children; `above` holds what it stands in, and for each element the line
    # that it begins, if it may be a part that pages share, and its place among all.
    current: Element = root
    current_tag = ""  # until the html element begins
    children = root.children
    restricted = True  # whether only some children keep their place in it
    begun, place = -1, 0
    above: list[tuple[Element, str, list[Element | Text], bool, int, int]] = []
    open_once: set[str] = set()
    paragraph = newline_is_dropped = False
    svg_depth = 0
    pending, pending_offset = "", offset  # text that no tag has followed yet
    # A known part that has to be read once more, its first and last line.
    awaited: tuple[Shape, int, int] | None = None
    number, end = 0, len(lines)
    while number < end:
        stop = number + 1
        line = lines[number]
        # A part is read in the same way wherever it stands in an element of the same name, but not inside these.
        if (line in begin_new or line in begin_old) and not (
            svg_depth or paragraph or open_once or newline_is_dropped or awaited
        ):
            found = _parts.find(lines, number, current_tag)
            if found is not None:
                shape, last = found
                if shape.spare:
                    if pending and restricted:
                        pending = _placed(pending, current_tag, children)
                    if pending:
                        children.append(Text(pending, current, pending_offset - current.offset))
                    part = shape.spare.pop()
                    part.stand(current, offset)
                    parts.append((len(elements), part))
                    elements.extend(part.elements)
                    if not shape.width:
                        shape.width = len(b"\n".join(lines[number : last + 1]).decode())
                    offset += shape.width
                    pending, pending_offset = "\n", offset
                    offset += 1
                    number = last + 1
                    continue
                awaited = shape, number, last
                stop = last + 1
        # All lines up to the next part are read at once.
        while stop < end and not (
            ((line := lines[stop]) in begin_new or line in begin_old) and _parts.begins(lines, stop)
        ):
            stop += 1
        while (cut_up := pieces_of(text := _text(lines, number, stop))) is None:
            if stop == end:
                return None
            stop = min(2 * stop - number, end)
        texts, pieces, held = cut_up
        has_references = "&" in text
        at_line, line_offset = number, offset
        for words, written, tag, inside in zip(texts, pieces, map(tags.get, pieces), held, strict=False):
            if words:
                width = len(words)
                if has_references:
                    words = resolve(words)
                if pending:
                    pending += words
                else:
                    pending, pending_offset = words, offset
                offset += width
            if pending:
                if restricted:
                    pending = _placed(pending, current_tag, children)
                elif newline_is_dropped and pending[0] == "\n":
                    pending = pending[1:]
                if pending:
                    children.append(Text(pending, current, pending_offset - current.offset))
                    pending = ""
            newline_is_dropped = False
            begins, width = offset, len(written)
            offset += width
            if tag is None:  # no comment and no raw element is among those met before
                tag, raw, raw_begins = piece(written)
                if tag[0] == COMMENT:
                    continue
            kind, name, attrs, looked_at = tag
            if kind == END:
                if name != current_tag:
                    return None
                if looked_at:
                    if looked_at & IS_BODY:
                        return _finish(source, offset, current, elements, duplicates, notes, parts)
                    if looked_at & IS_PARAGRAPH:
                        paragraph = False
                    if not svg_depth:
                        open_once.discard(name)
                if svg_depth:
                    svg_depth -= 1
                if not above:
                    return None
                if (
                    begun >= 0
                    and len(elements) - place >= LEAST_ELEMENTS
                    and source[offset : offset + 1] == "\n"
                ):
                    at_line, line_offset = at_line + source.count("\n", line_offset, offset), offset
                    if awaited is None:
                        # What is written twice is told of each page: parts are silent about it.
                        if not duplicates:
                            _parts.learn(lines, begun, at_line, above[-1][1])
                    elif awaited[1:] == (begun, at_line):
                        parts.append((place, _parts.make(awaited[0], elements[place:])))
                        awaited = None
                current, current_tag, children, restricted, begun, place = above.pop()
                continue
            if looked_at or restricted or svg_depth:
                if svg_depth:
                    if (
                        name in NOT_IN_SVG
                        or current_tag == "desc"
                        or (kind == RAW_ELEMENT and (name != "title" or looked_at & HOLDS_A_BRACKET))
                    ):
                        return None
                else:
                    if restricted and name not in CHILDREN[current_tag]:
                        return None
                    if paragraph and looked_at & ENDS_A_PARAGRAPH:
                        return None
                    if looked_at & HAS_ITS_PLACE and not _keeps_its_place(name, current, current_tag):
                        return None
                    if looked_at & NOT_INSIDE_ITSELF and name in open_once:
                        return None
                    if looked_at & CLOSES_ITSELF and kind == ORDINARY and not looked_at & IS_SVG:
                        return None
                    if looked_at & IS_ROOT:
                        root.attrs = attrs
                        root.offset = begins
                        above.append((root, "", children, True, -1, 0))
                        current_tag = name
                        if looked_at & TWICE:
                            duplicates += _written_twice(written, root)
                        continue
            within: list[Element | Text] = []
            element = Element(name, attrs, current, "svg" if svg_depth else "html", begins, within)
            append(element)
            children.append(element)
            if looked_at & TWICE:
                duplicates += _written_twice(written, element)
            if inside is not None:
                if kind != ORDINARY or looked_at & IS_RAW:
                    return None
                if inside:
                    within.append(Text(resolve(inside) if has_references else inside, element, width))
                    offset += len(inside)
                offset += len(name) + 3
                continue
            if kind == VOID_ELEMENT:
                if not svg_depth or looked_at & CLOSES_ITSELF:
                    continue
            elif kind == RAW_ELEMENT:
                if raw:
                    within.append(Text(raw, element, raw_begins))
                continue
            # Whether it may be a part, as far as what is open around it is concerned.
            is_plain = source[begins - 1] == "\n" and not (svg_depth or paragraph or open_once)
            if looked_at:
                if looked_at & IS_RAW:  # its end was not found
                    return None
                if looked_at & IS_SVG:
                    element.namespace = "svg"
                    if looked_at & CLOSES_ITSELF:
                        continue
                    svg_depth += 1
                elif svg_depth:
                    if looked_at & CLOSES_ITSELF:
                        continue
                elif looked_at & IS_PARAGRAPH:
                    paragraph = True
                elif looked_at & IS_PRE:
                    newline_is_dropped = True
                elif looked_at & NOT_INSIDE_ITSELF:
                    open_once.add(name)
            if svg_depth and not looked_at & IS_SVG:
                svg_depth += 1
            above.append((current, current_tag, children, restricted, begun, place))
            begun = -1
            # A `div` in a `dl` may hold terms: whether they are in place depends on what that `div` stands in.
            if is_plain and name not in _NEVER_SHARED and (current_tag != "div" or name not in {"dt", "dd"}):
                at_line, line_offset = at_line + source.count("\n", line_offset, begins), begins
                begun, place = at_line, len(elements) - 1
            current, current_tag, children = element, name, within
            restricted = bool(looked_at & RESTRICTS) and not svg_depth
        after = texts[-1]
        if after:
            width = len(after)
            if has_references:
                after = resolve(after)
            if pending:
                pending += after
            else:
                pending, pending_offset = after, offset
            offset += width
        number = stop
    return None  # the page ended before </body>


def _text(lines: list[bytes], first: int, stop: int) -> str:
    """Some of the lines, with the end of the last one where more follow."""
    return b"\n".join(lines[first:stop] if stop == len(lines) else [*lines[first:stop], b""]).decode()


def _placed(data: str, current_tag: str, children: list[Element | Text]) -> str:
    """Text where only some children keep their place: "" where the standard drops it. Raises NotCertainError where it moves it."""
    if current_tag not in NO_TEXT:
        return data
    if data.strip(WHITESPACE):
        raise NotCertainError
    return "" if not current_tag or (current_tag == "html" and not children) else data


def _written_twice(written: str, element: Element) -> list[tuple[int, str, str]]:
    return [(element.line, element.tag, name) for name in names_written_twice(written)]


def _keeps_its_place(name: str, current: Element, current_tag: str) -> bool:
    if name == "html":
        return not current_tag
    if name == "head":
        return current_tag == "html" and not current.children
    if name == "body":
        return (
            current_tag == "html"
            and any(isinstance(child, Element) for child in current.children)
            and all(not (isinstance(child, Element) and child.tag == "body") for child in current.children)
        )
    parents = PARENTS.get(name)
    if parents is not None:
        return current_tag in parents
    if name in HEADINGS:
        return current_tag not in HEADINGS
    holder = current.parent if current_tag == "div" else current
    return holder is not None and holder.tag == "dl"


def _finish(
    source: str,
    offset: int,
    body: Element,
    elements: list[Element],
    duplicates: list[tuple[int, str, str]],
    notes: list[str],
    parts: list[tuple[int, Part]],
) -> Document | None:
    """Closes the page after </body>: only whitespace may follow, and the standard puts it into the body."""
    rest = _END_OF_PAGE.match(source, offset)
    if rest is None:
        return None
    space = rest[1] + rest[2]
    if space:
        last = body.children[-1] if body.children else None
        if isinstance(last, Text):
            last.data += space
        else:
            body.children.append(Text(space, body, offset - body.offset))
    return Document(elements[0], source, "html", elements, duplicates, notes, True, parts)
