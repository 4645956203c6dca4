"""What elements look like before any stylesheet: the browser's own sheet, and attributes that stand for styles.

The rules are those of the HTML Standard's section on rendering (https://html.spec.whatwg.org/multipage/rendering.html),
as far as they bear on what the proof judges. Where the standard leaves values open (colours and sizes of controls,
13.333 px text in them), they are what Chromium 156 computes.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from sitegen.proof.contrast.names import names_in
from sitegen.proof.document import Element

ORIGIN_SHEET: Final = """
html { display: block; }
[hidden], area, base, basefont, datalist, head, link, meta, noembed, noframes, param, rp, script, style, template, title,
audio:not([controls]), dialog:not([open]), [popover]:not(:popover-open), input[type=hidden] { display: none; }
[hidden=until-found] { display: block; content-visibility: hidden; }
embed[hidden] { display: inline; }
address, blockquote, center, dialog, div, figure, figcaption, footer, form, header, hr, legend, listing, main, p, plaintext,
pre, search, xmp, article, aside, h1, h2, h3, h4, h5, h6, hgroup, nav, section, dir, dd, dl, dt, menu, ol, ul, body,
details, summary, optgroup, option, fieldset, optgroup { display: block; }
summary { display: list-item; }
li { display: list-item; }
table { display: table; }
caption { display: table-caption; text-align: center; }
colgroup { display: table-column-group; }
col { display: table-column; }
thead { display: table-header-group; }
tbody { display: table-row-group; }
tfoot { display: table-footer-group; }
tr { display: table-row; }
td, th { display: table-cell; padding: 1px; }
th { font-weight: bold; text-align: center; }
input, button, select, textarea, meter, progress, marquee { display: inline-block; }
ruby { display: ruby; }
rt { display: ruby-text; font-size: 50%; }
slot { display: contents; }
body { margin: 8px; }
blockquote, figure { margin-left: 40px; margin-right: 40px; }
p, blockquote, figure, listing, plaintext, pre, xmp, dl { margin-top: 1em; margin-bottom: 1em; }
dd { margin-left: 40px; }
address, cite, dfn, em, i, var { font-style: italic; }
b, strong { font-weight: bolder; }
h1, h2, h3, h4, h5, h6, optgroup { font-weight: bold; }
option { font-weight: normal; }
h1 { font-size: 2em; }
h2 { font-size: 1.5em; }
h3 { font-size: 1.17em; }
h5 { font-size: 0.83em; }
h6 { font-size: 0.67em; }
code, kbd, listing, plaintext, pre, samp, tt, xmp { font-family: monospace; }
listing, plaintext, pre, xmp { white-space: pre; }
big { font-size: larger; }
small, sub, sup { font-size: smaller; }
ins, u { text-decoration: underline; }
del, s, strike { text-decoration: line-through; }
center { text-align: center; }
mark { background-color: mark; color: marktext; }
a:link, area:link { color: linktext; text-decoration: underline; }
a:visited, area:visited { color: visitedtext; }
a:link:active, a:visited:active, area:link:active { color: activetext; }
:focus-visible { outline: auto 1px; }
ol { list-style-type: decimal; padding-left: 40px; }
dir, menu, ul { list-style-type: disc; padding-left: 40px; }
:is(dir, menu, ol, ul) :is(dir, menu, ul) { list-style-type: circle; }
:is(dir, menu, ol, ul) :is(dir, menu, ol, ul) :is(dir, menu, ul) { list-style-type: square; }
table { text-indent: initial; }
input, select, button, textarea {
  text-indent: initial; text-shadow: none; text-align: initial; color: fieldtext; font: 13.3333px Arial;
  background-color: field; border: 2px inset light-dark(rgb(118, 118, 118), rgb(133, 133, 133)); appearance: auto;
}
input { padding: 1px 2px; }
textarea { font-family: monospace; white-space: pre-wrap; border: 1px solid light-dark(rgb(118, 118, 118), rgb(133, 133, 133)); }
select { background-color: buttonface; border: 1px solid light-dark(rgb(118, 118, 118), rgb(133, 133, 133)); }
select[multiple], select[size]:not([size="1"]) { background-color: field; }
input:is([type=date], [type=datetime-local], [type=month], [type=time], [type=week]) { font-family: monospace; }
input:is([type=reset], [type=button], [type=submit]), button {
  text-align: center; color: buttontext; background-color: buttonface; border: 2px outset buttonborder; padding: 1px 6px;
}
input[type=color] { background-color: buttonface; border: 1px solid buttonborder; }
input:is([type=radio], [type=checkbox]) { background-color: transparent; border: 0 none; }
input:is([type=file], [type=image], [type=hidden]) { color: inherit; background-color: transparent; border: 0 none; }
input[type=range] { color: rgb(157, 150, 142); border: 0 none; }
input:disabled, textarea:disabled {
  color: light-dark(rgb(84, 84, 84), rgb(170, 170, 170));
  background-color: light-dark(rgb(239, 239, 239, 0.3), rgb(59, 59, 59, 0.3)); border-color: rgb(118, 118, 118, 0.3);
}
input:is([type=checkbox], [type=radio]):disabled { background-color: transparent; }
input:is([type=file], [type=image]):disabled { background-color: transparent; }
input:is([type=reset], [type=button], [type=submit], [type=color]):disabled, button:disabled {
  color: light-dark(rgb(16, 16, 16, 0.3), rgb(255, 255, 255, 0.3));
  background-color: light-dark(rgb(239, 239, 239, 0.3), rgb(19, 1, 1, 0.3));
  border-color: light-dark(rgb(118, 118, 118, 0.3), rgb(195, 195, 195, 0.3));
}
select:disabled { color: graytext; opacity: 0.7; border-color: rgb(118, 118, 118, 0.3); }
option:disabled, optgroup:disabled { color: graytext; }
@media (forced-colors: active) {
  details > summary { color: linktext; }
  input:disabled, textarea:disabled { color: graytext; background-color: field; }
  input:is([type=reset], [type=button], [type=submit], [type=color]):disabled, button:disabled {
    color: graytext; background-color: buttonface;
  }
}
::placeholder { color: light-dark(rgb(117, 117, 117), rgb(117, 117, 117)); }
::file-selector-button {
  color: buttontext; background-color: buttonface; border: 2px outset buttonborder; font: inherit;
}
fieldset { border: 2px groove threedface; margin: 0 2px; padding: 5.6px 12px 10px; }
legend { padding: 0 2px; }
hr { color: gray; border: 1px inset; overflow: hidden; }
iframe { border: 2px inset; }
dialog { position: absolute; color: canvastext; background-color: canvas; border: 3px solid; padding: 16px; left: 0; right: 0; }
[popover] { position: fixed; color: canvastext; background-color: canvas; border: 3px solid; padding: 4px; inset: 0; }
img, video, canvas, iframe, object, embed { overflow: clip; }
q::before { content: open-quote; }
q::after { content: close-quote; }
svg { overflow: hidden; }
"""

# Attributes whose value alone can change what an element looks like or what the proof says of it. Every element's look
# includes them; other attributes are seen only where a selector asks.
SEEN_WHOLE: Final = names_in(
    "style hidden type color bgcolor text link vlink alink background size face align valign border open"
    " popover role multiple contenteditable dir fill stroke opacity font-size visibility display class"
) - {"class"}
SEEN_PRESENT: Final = names_in("href disabled placeholder tabindex controls src title for")

_FONT_SIZES: Final = ("x-small", "small", "medium", "large", "x-large", "xx-large", "xxx-large")


def hint_text(element: Element) -> str:
    """Declarations an element's attributes stand for, as CSS; "" for most.

    https://html.spec.whatwg.org/multipage/rendering.html#presentational-hints
    """
    attrs = element.attrs
    if not attrs:
        return ""
    return " ".join(_hints(element.tag, attrs, element))


def _hints(tag: str, attrs: dict[str, str], element: Element) -> Iterator[str]:
    if element.namespace == "svg":
        for name in ("fill", "stroke", "opacity", "font-size", "visibility", "display", "color"):
            if name in attrs:
                value = attrs[name]
                yield (
                    f"{name}: {value}px;" if name == "font-size" and value.isdigit() else f"{name}: {value};"
                )
        return
    if "bgcolor" in attrs and tag in (
        "body",
        "table",
        "thead",
        "tbody",
        "tfoot",
        "tr",
        "td",
        "th",
        "marquee",
    ):
        yield f"background-color: {legacy_colour(attrs['bgcolor'])};"
    if tag == "body" and "text" in attrs:
        yield f"color: {legacy_colour(attrs['text'])};"
    if "background" in attrs and tag in ("body", "table", "thead", "tbody", "tfoot", "tr", "td", "th"):
        yield f'background-image: url("{attrs["background"]}");'
    if tag == "font":
        if "color" in attrs:
            yield f"color: {legacy_colour(attrs['color'])};"
        size = _legacy_size(attrs.get("size", ""))
        if size:
            yield f"font-size: {size};"
        if attrs.get("face"):
            yield f"font-family: {attrs['face']};"
    if tag == "hr" and "color" in attrs:
        yield f"color: {legacy_colour(attrs['color'])};"
    if tag == "a" and "href" in attrs:
        for above in element.ancestors():
            if above.tag == "body" and "link" in above.attrs:
                yield f"color: {legacy_colour(above.attrs['link'])};"
    align = attrs.get("align", "").lower()
    if align in ("left", "right", "center", "justify") and tag in (
        "p",
        "div",
        "h1",
        "h2",
        "h3",
        "h4",
        "h5",
        "h6",
        "td",
        "th",
    ):
        yield f"text-align: {align};"
    direction = attrs.get("dir", "").lower()
    if direction in ("ltr", "rtl"):
        yield f"direction: {direction};"


def _legacy_size(written: str) -> str:
    # https://html.spec.whatwg.org/multipage/rendering.html#rules-for-parsing-a-legacy-font-size
    text = written.strip()
    digits = "".join(character for character in text.lstrip("+-") if character.isdigit())
    if not digits:
        return ""
    value = int(digits[:4])
    if text[0] == "+":
        value = 3 + value
    elif text[0] == "-":
        value = 3 - value
    return _FONT_SIZES[min(7, max(1, value)) - 1]


def legacy_colour(written: str) -> str:
    """A legacy colour value as CSS: https://html.spec.whatwg.org/multipage/common-microsyntaxes.html#rules-for-parsing-a-legacy-colour-value"""
    text = written.strip()
    if not text or text.lower() == "transparent":
        return "inherit"
    if text.isalpha():
        from sitegen.proof.contrast.colours import named_colour

        if named_colour(text.lower()) is not None:
            return text.lower()
    if (
        len(text) == 4
        and text[0] == "#"
        and all(character in "0123456789abcdefABCDEF" for character in text[1:])
    ):
        return text
    text = "".join("00" if ord(character) > 0xFFFF else character for character in text)[:128].removeprefix(
        "#"
    )
    digits = "".join(character if character in "0123456789abcdefABCDEF" else "0" for character in text)
    while not digits or len(digits) % 3:
        digits += "0"
    length = len(digits) // 3
    parts = [digits[start : start + length] for start in range(0, len(digits), length)]
    parts = [part[-8:] for part in parts]
    while len(parts[0]) > 2 and all(part[0] == "0" for part in parts):
        parts = [part[1:] for part in parts]
    return "#" + "".join(part[:2].rjust(2, "0") for part in parts)


def colour_scheme_of(metas: list[Any]) -> str:
    """The content of the first `meta name=color-scheme`, or "". https://html.spec.whatwg.org/multipage/semantics.html#meta-color-scheme"""
    for element in metas:
        if element.attrs.get("name", "").lower() == "color-scheme":
            return str(element.attrs.get("content", ""))
    return ""
