"""Ways to break a page on purpose, one thing at a time, for holding the proof against an accessibility engine.

A breakage changes the text of a page of the demonstration at a place drawn by chance. What it adds stands in the page's main part unless
its matter is the page as a whole.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from typing import Final, TypeAlias

Breakage: TypeAlias = Callable[[str, random.Random], str]
"""(source of a page, chance) to the source of the broken page."""

_POLICY: Final = re.compile(r'<meta http-equiv="(?:Content-Security-Policy|refresh)"[^>]*>\n?')
# Before a part of the page's own content: neither inside a tag nor inside a paragraph, a list or a table.
_PLACES: Final = re.compile(r"(?=<h[2-4]\b|<section\b|</main>)")
_HIDDEN: Final = re.compile(r"<(\w+)\b[^>]*\shidden\b[^>]*>.*?</\1>", re.DOTALL)
"""What nobody is shown has no fault."""


def without_policy(source: str) -> str:
    """The page without its content policy, which would keep styles written in it from counting, and not leading on by itself."""
    return _POLICY.sub("", source)


def added(*markups: str) -> Breakage:
    """One of some markups, added somewhere in the main part."""

    def apply(source: str, chance: random.Random) -> str:
        start = source.index("<main")
        hidden = [found.span() for found in _HIDDEN.finditer(source, start)]
        place = chance.choice(
            [
                found.start()
                for found in _PLACES.finditer(source, start)
                if not any(begin < found.start() < end for begin, end in hidden)
            ]
        )
        return f"{source[:place]}{chance.choice(markups)}\n{source[place:]}"

    return apply


def replaced(pattern: str, *others: str) -> Breakage:
    """The first match of a pattern replaced by one of some texts, which may refer to its groups."""

    def apply(source: str, chance: random.Random) -> str:
        found = re.compile(pattern, re.DOTALL)
        assert found.search(source), pattern
        return found.sub(chance.choice(others), source, count=1)

    return apply


def both(*breakages: Breakage) -> Breakage:
    """Several changes that break a page only together."""

    def apply(source: str, chance: random.Random) -> str:
        for breakage in breakages:
            source = breakage(source, chance)
        return source

    return apply


def styled(*sheets: str) -> Breakage:
    """One of some stylesheets, added after the page's own."""
    return replaced("</head>", *(f"<style>{sheet}</style></head>" for sheet in sheets))


_PICTURE: Final = 'src="data:image/gif;base64,R0lGODlhAQABAIAAAAAAAP///yH5BAEAAAAALAAAAAABAAEAAAIBRAA7" width="40" height="40"'

BREAKAGES: Final[dict[str, Breakage]] = {
    # The page as a whole.
    "no title": replaced("<title>.*?</title>", ""),
    "empty title": replaced("<title>.*?</title>", "<title></title>", "<title> </title>"),
    "no language": replaced('<html lang="[^"]*"', "<html", '<html lang=""'),
    "wrong language": replaced('<html lang="[^"]*"', '<html lang="english"', '<html lang="x9"'),
    "two languages": replaced('<html lang="en[^"]*"', '<html lang="en" xml:lang="fr"'),
    "no zoom": replaced('initial-scale=1"', 'initial-scale=1, user-scalable=no"', 'maximum-scale=1"', 'maximum-scale=1.5"'),
    "refresh": replaced("</head>", '<meta http-equiv="refresh" content="3600"></head>', '<meta http-equiv="refresh" content="900; url=#main"></head>'),
    "no main": both(replaced('<main id="main">', '<div id="main">'), replaced("</main>", "</div>")),
    "two mains": added("<main><p>More of the same.</p></main>"),
    "main inside a part": both(replaced("<main ", '<section aria-label="All"><main '), replaced("</main>", "</main></section>")),
    "no first heading": replaced("<h1([^>]*)>(.*?)</h1>", r"<h2\1>\2</h2>", r"<p\1>\2</p>"),
    "banner inside main": added('<div role="banner"><p>Also at the top</p></div>'),
    "two banners": replaced("<main ", '<header><p>Another top</p></header><main '),
    "foot inside main": added('<div role="contentinfo"><p>Also at the foot</p></div>'),
    "two feet": replaced("</body>", "<footer><p>Another foot</p></footer></body>"),
    "parts of one name": added('<nav aria-label="Main"><a href="../">Up</a></nav>', '<nav aria-label="More"><a href="../">Up</a></nav><nav aria-label="More"><a href="./">Here</a></nav>'),
    "text outside every part": replaced("<main ", "<p>Words that stand between the top and the main part.</p><main "),
    "broken skip link": replaced('class="skip" href="#main"', 'class="skip" href="#content"'),
    "hidden body": replaced("<body>", '<body aria-hidden="true">'),
    # Headings.
    "heading left out": added("<h6>Far down</h6>"),
    "empty heading": added("<h2></h2>", "<h3> <span></span></h3>", '<div role="heading" aria-level="2"></div>'),
    # Pictures.
    "picture without alt": added(f"<img {_PICTURE}>", f"<p>Words <img {_PICTURE}> and words</p>"),
    "picture of blanks": added(f'<img {_PICTURE} alt="  ">'),
    "picture role without name": added('<span role="img">☺</span>', '<div role="img"><p>*</p></div>'),
    "drawing without name": added('<svg role="img" width="40" height="40"><circle r="9" cx="20" cy="20"/></svg>'),
    "image button without alt": added(f'<form action="./"><input type="image" {_PICTURE}></form>'),
    "area without alt": added(f'<img {_PICTURE} alt="Map" usemap="#m"><map name="m"><area href="../" shape="rect" coords="0,0,40,40"></map>'),
    "object without alternative": added('<object data="x.png" type="image/png" width="40" height="40"></object>'),
    "server-side map": added(f'<a href="../"><img {_PICTURE} alt="Map" ismap></a>'),
    # Links and buttons.
    "empty link": added('<p><a href="../"></a></p>', f'<a href="../"><img {_PICTURE} alt=""></a>', '<a href="../"><span aria-hidden="true">Up</span></a>'),
    "empty button": added('<button type="button"></button>', '<button type="button"><svg width="24" height="24" aria-hidden="true"><circle r="9"/></svg></button>'),
    "input button without value": added('<form action="./"><input type="button" style="width: 50px"></form>'),
    "summary without words": added("<details><summary></summary><p>Words</p></details>"),
    "command without name": added('<div role="button" tabindex="0" style="width: 44px; height: 44px"></div>', '<span role="link" tabindex="0" style="display: block; width: 44px; height: 44px"></span>'),
    "menu item without name": added('<ul role="menu" aria-label="More"><li role="menuitem" tabindex="0"></li></ul>'),
    "interactive inside interactive": added('<button type="button">More <a href="../">up</a></button>', '<div role="button" tabindex="0">More <a href="../">up</a></div>', '<div role="checkbox" tabindex="0" aria-checked="false">More <button type="button">now</button></div>'),
    "name without its words": added('<a href="../" aria-label="Elsewhere">Back to the stories</a>', '<button type="button" aria-label="Something else">Find places nearby</button>'),
    "positive tabindex": added('<a href="../" tabindex="3">Up</a>'),
    "focus on what is hidden": added('<div aria-hidden="true"><a href="../">Up</a></div>', '<button type="button" aria-hidden="true">Up</button>', '<p aria-hidden="true"><span tabindex="0">Up</span></p>'),
    "accesskey twice": added('<a href="../" accesskey="u">Up</a> <a href="./" accesskey="u">Here</a>'),
    # Fields.
    "field without label": added('<form action="./"><input type="text" name="q"></form>', '<form action="./"><textarea name="q"></textarea></form>', '<form action="./"><p>Town</p><input type="search" name="q"></form>', '<form action="./"><input type="checkbox" name="q"></form>'),
    "choice without label": added('<form action="./"><select name="q"><option>One<option>Two</select></form>'),
    "label by title alone": added('<form action="./"><input type="text" name="q" title="Town"></form>'),
    "wrong autocomplete": added('<form action="./"><label>Name <input name="n" autocomplete="nmae"></label></form>', '<form action="./"><label>Street <input name="n" autocomplete="shipping work street"></label></form>'),
    "label's id twice": added('<form action="./"><label for="same">One</label><input id="same"><label for="same">Two</label><input id="same"></form>', '<p id="same">One</p><p id="same">Two</p><nav aria-labelledby="same"><a href="../">Up</a></nav>'),
    "own field without name": added('<div role="textbox" contenteditable="true" tabindex="0"></div>', '<div role="searchbox" contenteditable="true" tabindex="0"></div>', '<div role="slider" tabindex="0" aria-valuenow="3" style="width: 44px; height: 44px"></div>', '<div role="combobox" aria-expanded="false" aria-controls="main" tabindex="0"></div>'),
    "own switch without name": added('<div role="checkbox" aria-checked="true" tabindex="0" style="width: 44px; height: 44px"></div>', '<div role="switch" aria-checked="true" tabindex="0"></div>', '<div role="radio" aria-checked="true" tabindex="0"></div>'),
    "tab without name": added('<div role="tablist"><button role="tab" type="button"></button></div>'),
    "progress without name": added('<div role="progressbar" aria-valuenow="3"></div>', '<progress value="3" max="9"></progress>'),
    "meter without name": added('<div role="meter" aria-valuenow="3" aria-valuemin="0" aria-valuemax="9"></div>', '<meter value="0.4"></meter>'),
    "tooltip without name": added('<div role="tooltip" style="height: 1em"></div>'),
    "dialog without name": added('<div role="dialog"><p>Words in a dialog.</p></div>', '<dialog open style="position: static"><p>Words in a dialog.</p></dialog>'),
    "tree item without name": added('<ul role="tree" aria-label="Places"><li role="treeitem" tabindex="0"></li></ul>'),
    # ARIA.
    "unknown role": added('<p role="sidebar">Words</p>', '<div role="datepicker">Words</div>'),
    "deprecated role": added('<ul role="directory"><li>One</li></ul>'),
    "role that does not fit": added('<ul role="button" tabindex="0"><li>More</li></ul>', '<h2 role="button" tabindex="0">More</h2>', '<main role="button" tabindex="0">More</main>'),
    "unknown ARIA attribute": added('<p aria-lable="Words">Words</p>', '<p aria-hiden="true">Words</p>'),
    "attribute the role lacks": added('<h2 aria-checked="true">Words</h2>', '<div role="navigation" aria-label="More" aria-selected="true"><a href="../">Up</a></div>'),
    "attribute that is prohibited": added('<p aria-label="Other words">Words</p>', '<span aria-labelledby="main">Words</span>', '<div aria-label="Other words"></div>'),
    "attribute that contradicts": added('<input type="checkbox" aria-label="More" checked aria-checked="false">'),
    "Braille alone": added('<div role="region" aria-braillelabel="more"><p>Words</p></div>', '<h2 aria-brailleroledescription="hd">Words</h2>'),
    "wrong ARIA value": added('<div role="checkbox" tabindex="0" aria-checked="maybe">More</div>', '<p aria-live="loud">Words</p>', '<button type="button" aria-expanded="closed">More</button>'),
    "required attribute missing": added('<div role="checkbox" tabindex="0">More</div>', '<div role="slider" tabindex="0" aria-label="Much"></div>', '<div role="heading">More words</div>', '<div role="combobox" tabindex="0" aria-label="Town"></div>'),
    "role without its parent": added('<div role="tab" tabindex="0">One</div>', '<div role="option">One</div>', '<div role="listitem">One</div>', '<div role="row"><div role="cell">One</div></div>', '<div role="treeitem" tabindex="0">One</div>'),
    "role without its parts": added('<div role="list"><button type="button">One</button></div>', '<div role="tablist"><p>One</p></div>', '<div role="menu"><a href="../">Up</a></div>', '<div role="listbox" aria-label="Towns"><p>One</p></div>'),
    "reference to nothing": added('<form action="./"><input aria-labelledby="nowhere"></form>', '<button type="button" aria-labelledby="nowhere"></button>'),
    "decorative yet focusable": added(f'<img {_PICTURE} alt="" tabindex="0">', '<h2 role="presentation" aria-label="Words">Words</h2>'),
    # Lists and tables.
    "list of other things": added("<ul><div>One</div></ul>", "<ol><p>One</p><li>Two</li></ol>", "<ul>Words<li>Two</li></ul>", '<ul><li role="button" tabindex="0">One</li></ul>'),
    "item without its list": added("<li>One</li>", "<div><li>One</li><li>Two</li></div>", '<ul role="tablist"><li>One</li></ul>'),
    "description list of other things": added("<dl><p>One</p></dl>", "<dl><dd>Words</dd><dt>One</dt></dl>", "<dl><dt>One</dt><dd>Words</dd><span>Two</span></dl>", "<dl><dt>One</dt></dl>"),
    "term without its list": added("<dt>One</dt><dd>Words</dd>", "<div><dd>Words</dd></div>"),
    "headers of nothing": added('<table><tr><th id="h1">Day</th></tr><tr><td headers="h9">One</td></tr></table>', '<table><tr><th>Day</th></tr><tr><td id="c1">One</td><td headers="c1">Two</td></tr></table>'),
    "header without cells": added('<table><tr><th>Day</th><th>Hours</th></tr><tr><td>One</td></tr></table>', '<table><tr><th scope="row">Day</th></tr><tr><td>One</td></tr></table>'),
    "empty table header": added("<table><tr><th></th><th>Hours</th></tr><tr><td>One</td><td>Two</td></tr></table>"),
    "wrong scope": added('<table><tr><td scope="row">Day</td><th scope="col">Hours</th></tr><tr><td>One</td><td>Two</td></tr></table>', '<table><tr><th scope="column">Day</th></tr><tr><td>One</td></tr></table>'),
    "caption said twice": added('<table summary="Hours"><caption>Hours</caption><tr><th>Day</th></tr><tr><td>One</td></tr></table>'),
    "big table without headers": added("<table>" + "".join(f"<tr>{'<td>words</td>' * 4}</tr>" for _ in range(4)) + "</table>"),
    # Frames and media.
    "frame without name": added('<iframe srcdoc="<!doctype html><html lang=en><title>-</title><main><h1>Words</h1></main></html>"></iframe>'),
    "frames of one name": added('<iframe title="Map" srcdoc="<title>-</title><h1>One</h1>"></iframe><iframe title="Map" srcdoc="<title>-</title><h1>Two</h1>"></iframe>'),
    "frame out of reach": added("<iframe title='More' tabindex='-1' srcdoc='<title>-</title><button>More</button>'></iframe>"),
    "video without captions": added('<video controls src="film.mp4" width="320" height="180"></video>', '<video controls src="film.mp4" width="320" height="180"><track kind="subtitles" src="x.vtt" srclang="en" label="English"></video>'),
    "running text": added("<marquee>Words that run</marquee>", "<blink>Words that blink</blink>"),
    # Language and letters.
    "part in no language": added('<p lang="zzzz">Words</p>', '<blockquote lang="spanish"><p>Palabras</p></blockquote>'),
    "fixed spacing": added('<p style="letter-spacing: 0.01em !important">Words</p>', '<p style="line-height: 1 !important">Words that go on so long that they need more than a single line, wherever they stand, on a telephone or on a desk, and so on, until they do, which needs a few more words than these</p>', '<p style="word-spacing: 0 !important">Words and words</p>'),
    "locked orientation": styled("@media (orientation: landscape) { html { transform: rotate(90deg) } }", "@media (orientation: portrait) { body { transform: rotate(-90deg) } }"),
    # What is seen.
    "text too faint": added('<p style="color: #999; background: #fff">Words nobody can read</p>', '<p><span style="opacity: .3">Words nobody can read</span></p>', '<p style="color: rgb(0 0 0 / 30%); background: white">Words nobody can read</p>'),
    "texts too faint by a sheet": styled("main p { color: #b9ab8c }", "h1 { color: #d8c79f }", ":root { --ink: #9a9488 }", "body { background: #777 }"),
    "link seen by its colour alone": added('<p>Many words and <a href="../" style="text-decoration: none; color: #35240f">a link</a> among them.</p>', '<p style="color: #333; background: #fff">Many words and <a href="../" style="text-decoration: none; color: #222">a link</a> among them.</p>'),
    "targets too small": added('<div style="line-height: 1"><button type="button" style="all: unset; display: inline-block; width: 12px; height: 12px; font-size: 8px; background: #fff; color: #000">a</button><button type="button" style="all: unset; display: inline-block; width: 12px; height: 12px; font-size: 8px; background: #fff; color: #000">b</button></div>'),
    "scrolls by pointer alone": added('<div style="height: 40px; width: 200px; overflow: auto"><p style="height: 300px">Words that go on below</p></div>'),
}  # fmt: skip
"""What is broken, to how."""
