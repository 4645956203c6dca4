"""Every branch of the core ACT rules, with pages of our own: what must fail, what passes, and what lies outside a rule.

Each branch follows the rule's published applicability and expectations
(https://www.w3.org/WAI/standards-guidelines/act/rules/); the markup is written here.
"""

from __future__ import annotations

import pytest

from sitegen.proof.pagecheck import check_page


def verdict_of(rule: str, source: str) -> str:
    """ "fails", "unsure", or "" where nothing of the rule was found."""
    found = {
        finding.verdict for finding in check_page("a.html", source.encode()).findings if rule in finding.act
    }
    return "fails" if "fails" in found else "unsure" if found else ""


def page(body: str, head: str = "<title>Tides</title>", html: str = ' lang="en"') -> str:
    return f"<!doctype html>\n<html{html}>\n<head>{head}</head>\n<body>{body}</body>\n</html>"


SENTINEL = (
    '<div role="dialog" aria-label="Pick a pier"><button id="first">North pier</button></div>'
    '<div aria-hidden="true"><a href="#" id="after">Back to the piers</a></div>'
)
FAR = "position: absolute; left: -5000px"
LONG = "The ferry leaves the long pier at the turn of every tide and comes back before the next one does."

FAILING = [
    # names
    ("23a2a8", '<img src="pier.jpg">'),
    ("23a2a8", '<img src="pier.jpg" alt=" ">'),
    ("23a2a8", '<img src="pier.jpg" role="none" tabindex="0">'),
    ("23a2a8", f'<div style="{FAR}"><img src="pier.jpg"></div>'),
    ("23a2a8", '<span role="img"></span>'),
    ("23a2a8", '<span role="image"></span>'),
    ("23a2a8", '<i id="no"></i><img src="pier.jpg" alt="" aria-labelledby="no">'),
    ("7d6734", '<svg role="img"><text x="1" y="9">Low water</text></svg>'),
    ("7d6734", '<svg><path role="graphics-symbol" d="M0 0"></path></svg>'),
    ("7d6734", '<svg role="graphics-document"><title> </title></svg>'),
    ("59796f", '<input type="image" src="go.png" name="go" alt="">'),
    ("59796f", '<input type="image" src="go.png" aria-labelledby="nowhere">'),
    ("8fc3b6", '<object data="gulls.ogg" alt="Gulls"></object>'),
    ("8fc3b6", '<object data="gulls.mp4"><p>Gulls over the pier</p></object>'),
    ("8fc3b6", '<object data="gulls" type="video/webm" title=" "></object>'),
    ("c487ae", '<a href="/tides/"><img src="tide.png" alt=""></a>'),
    ("c487ae", '<a href="/tides/"><img src="tide.png" aria-labelledby="nowhere"></a>'),
    ("c487ae", '<a href="/tides/" role="presentation"> </a>'),
    ("c487ae", '<a href="#note-1" role="doc-noteref"><img src="star.png" alt=""></a>'),
    ("c487ae", '<a href="#list" role="doc-backlink"></a>'),
    ("c487ae", '<img src="map.png" alt="Map" usemap="#m"><map name="m"><area href="/n/" coords="0,0,9,9"></map>'),
    ("97a4e1", '<button value="Send"></button>'),
    ("97a4e1", '<span role="button" tabindex="0"></span>'),
    ("97a4e1", '<button role="none"></button>'),
    ("97a4e1", '<input type="button">'),
    ("2t702h", '<details><p>Tides</p><summary></summary></details>'),
    ("2t702h", '<details><summary role="none"></summary></details>'),
    ("m6b1q3", '<ul role="menu"><li role="menuitem"><img src="x.png" alt=""></li></ul>'),
    ("m6b1q3", f'<div role="menu" style="{FAR}"><b role="menuitem"></b></div>'),
    ("e086e5", '<label for="berth">Berth</label><div id="berth" role="textbox"></div>'),
    ("e086e5", '<label>Berth <span role="slider" aria-valuenow="1"></span></label>'),
    ("e086e5", '<div role="textbox">Berth 4</div>'),
    ("e086e5", '<select aria-labelledby="none"><option>One</option></select>'),
    ("e086e5", '<div role="menu"><input type="checkbox" role="menuitemcheckbox"></div>'),
    ("cae760", '<iframe name="Tide table" src="tides.html"></iframe>'),
    ("cae760", '<iframe title=" " src="tides.html"></iframe>'),
    ("ffd0e9", '<h2><img src="a.png" alt="Tides" role="presentation"></h2>'),
    ("ffd0e9", '<i id="h" hidden></i><h2 aria-labelledby="h"><b aria-hidden="true">Tides</b></h2>'),
    ("ffd0e9", '<h2 role="none" aria-label=""><b aria-hidden="true">Tides</b></h2>'),
    # language
    ("de46e4", '<p lang=" ">Ebb</p>'),
    ("de46e4", '<p lang="i-klingon">Ebb</p>'),
    ("de46e4", '<p lang="frr-nord-" hidden>x</p><p lang="spanish"><b style="opacity: 0">Ebb</b></p>'),
    # ARIA
    ("5c01ea", '<button aria-sort="">By height</button>'),
    ("5c01ea", '<video controls src="a.mp4" aria-orientation="vertical"></video>'),
    ("kb1m8s", '<span aria-label="High">H</span>'),
    ("kb1m8s", '<p aria-labelledby="t" id="t">Tide</p>'),
    ("kb1m8s", '<b aria-roledescription="depth">4 m</b>'),
    ("6a7281", '<div role="textbox" aria-label="a" aria-required="undefined"></div>'),
    ("6a7281", '<div role="button" aria-expanded="folded">Piers</div>'),
    ("6a7281", '<div role="main" aria-live="page"></div>'),
    ("6a7281", '<div role="status" aria-relevant="text never"></div>'),
    ("5f99a7", '<p aria-tide="high">High</p>'),
    ("674b10", '<b role="lnk quay">Quay</b>'),
    ("674b10", '<b role="widget">Quay</b>'),
    ("4e8ab6", '<div role="heading">Tides</div>'),
    ("4e8ab6", '<div role="switch">Lights</div>'),
    ("4e8ab6", '<input type="text" aria-label="Pier" role="combobox" aria-controls="piers">'),
    ("4e8ab6", '<div role="checkbox" aria-checked="">Lights</div>'),
    ("in6db8", '<input aria-label="Pier" role="combobox" aria-expanded="true" aria-controls="piers">'),
    ("bc4a75", '<div role="list"><b>North</b></div>'),
    ("bc4a75", '<div role="list"><b role="listitem">North</b><a href="/s/">South</a></div>'),
    ("bc4a75", '<select role="menu" aria-label="Piers"><option>North</option></select>'),
    ("bc4a75", '<table role="menu" aria-label="Piers"><tr role="list"><td role="menuitem">North</td></tr></table>'),
    ("bc4a75", '<div role="grid"><div role="row"><i>North</i></div></div>'),
    ("bc4a75", '<div role="list"><div role="group"><b role="listitem">North</b></div></div>'),
    ("bc4a75", '<div role="list" aria-owns="t"></div><b id="t" role="tab">North</b>'),
    ("ff89c9", '<div role="list"><div role="tabpanel"><b role="listitem">North</b></div></div>'),
    ("ff89c9", '<div role="list"><div aria-live="polite"><b role="listitem">North</b></div></div>'),
    (
        "ff89c9",
        '<div role="list" aria-owns="a"></div><div id="host"></div><script>const host = document.querySelector("#host")\n'
        'const root = host.attachShadow({ mode: "open" })\nroot.innerHTML = \'<b id="a" role="listitem">North</b>\'</script>',
    ),
    ("46ca7f", '<img src="a.png" alt="" aria-labelledby="n"><i id="n" hidden>North</i>'),
    ("46ca7f", '<svg role="none" aria-label="North"><path d="M0 0"></path></svg>'),
    ("46ca7f", '<table role="presentation" tabindex="0"><tr><td>North</td></tr></table>'),
    ("307n5z", '<ul role="tablist"><li role="tab"><a href="#n">North</a></li></ul>'),
    ("307n5z", '<span role="img" aria-label="A pier">=|= <a href="#">more</a></span>'),
    ("307n5z", '<ul role="menu"><li role="menuitemcheckbox" aria-checked="true"><input type="checkbox"></li></ul>'),
    ("6cfa84", '<details aria-hidden="true"><summary>Piers</summary></details>'),
    ("6cfa84", '<p tabindex="0" aria-hidden="true">Piers</p>'),
    ("6cfa84", SENTINEL + "<script>document.getElementById('first').addEventListener('click', () => {})</script>"),
    ("c487ae", '<div><template shadowrootmode="open"><a href="/n/"></a></template></div>'),
    # tables
    ("a25f45", '<table><tr><th>Day</th></tr><tr><td id="d" headers="d">Monday</td></tr></table>'),
    ("a25f45", '<table><tr><td><b id="d">Day</b></td></tr><tr><td headers="d">Monday</td></tr></table>'),
    ("a25f45", '<table><tr><th id="o">Day</th></tr></table><table><tr><td headers="o">Monday</td></tr></table>'),
    ("d0f69e", '<table><tr><th>Day</th><th>Height</th></tr><tr><td>Monday</td></tr></table>'),
    (
        "d0f69e",
        '<div role="grid"><div role="row"><b role="columnheader">Day</b><b role="columnheader">Height</b></div>'
        '<div role="row"><i role="gridcell">Monday</i></div></div>',
    ),
    # fields, ids, attributes
    ("73f2c2", '<input aria-label="Mail" autocomplete="home photo">'),
    ("73f2c2", '<input aria-label="Mail" autocomplete="current-password webauthn more">'),
    ("73f2c2", '<input aria-label="Mail" role="banner" tabindex="0" autocomplete="banner">'),
    ("3ea0c8", '<b id="one">1</b><svg id="one"></svg>'),
    ("e6952f", '<svg><path d="M0 0" d="M1 1"></path></svg>'),
    # spacing
    ("24afc2", f'<style>p {{ font-size: 20px }}</style><p style="letter-spacing: 2px !important">{LONG}</p>'),
    ("24afc2", f'<p style="letter-spacing: initial !important">{LONG}</p>'),
    ("9e45ec", f'<p style="word-spacing: normal !important">{LONG}</p>'),
    ("78fd32", f'<p style="max-width: 200px; line-height: initial !important">{LONG}</p>'),
    ("78fd32", f'<p style="max-width: 200px; line-height: 120% !important">{LONG}</p>'),
]  # fmt: skip

QUIET = [
    ("23a2a8", '<p style="display: none" id="n">A pier</p><div role="img" aria-labelledby="n"></div>'),
    ("23a2a8", '<div style="visibility: hidden"><img src="pier.jpg"></div>'),
    ("23a2a8", '<img src="pier.jpg" role="presentation">'),
    ("7d6734", '<svg><path role="graphics-object" d="M0 0"></path></svg>'),
    ("7d6734", '<svg role="img" aria-hidden="true"><path d="M0 0"></path></svg>'),
    ("59796f", '<input type="image" src="go.png" title="Go">'),
    ("59796f", '<input type="image" src="go.png" style="display: none">'),
    ("8fc3b6", '<b id="n">Gulls</b><object data="gulls.png" aria-labelledby="n"></object>'),
    ("8fc3b6", '<object data="gulls.mp4" style="visibility: hidden"></object>'),
    ("8fc3b6", '<object type="image/png" data="gulls.png" role="presentation"></object>'),
    ("8fc3b6", '<object data="/elsewhere/page.html"><img src="gulls.png" alt="Gulls"></object>'),
    ("c487ae", '<div role="link" tabindex="0">Tides</div>'),
    ("c487ae", '<a href="/t/"><img src="t.png" aria-labelledby="n"></a><b id="n">Tides</b>'),
    ("c487ae", '<a href="#n" role="doc-biblioref">Tide table</a>'),
    ("c487ae", '<a href="/t/" style="visibility: hidden"></a>'),
    ("97a4e1", '<button role="none" disabled></button>'),
    ("97a4e1", '<button role="link"></button>'),
    ("97a4e1", '<input type="submit">'),
    ("2t702h", '<details><summary>Tides</summary><summary></summary></details>'),
    ("2t702h", '<summary></summary>'),
    ("2t702h", '<details style="display: none"><summary></summary></details>'),
    ("m6b1q3", '<div role="menu"><button role="menuitem">North</button></div>'),
    ("e086e5", '<select role="none" disabled><option>North</option></select>'),
    ("e086e5", '<div role="checkbox">I have read the tide table.</div>'),
    ("e086e5", '<div id="n">Pier</div><textarea aria-labelledby="n"></textarea>'),
    ("e086e5", '<input placeholder="Pier">'),
    ("cae760", '<iframe src="tides.html" role="none"></iframe>'),
    ("cae760", '<iframe src="tides.html" tabindex="-1"></iframe>'),
    ("cae760", '<b id="n">Tides</b><iframe src="tides.html" aria-labelledby="n"></iframe>'),
    ("ffd0e9", '<h2 aria-hidden="true"></h2>'),
    ("de46e4", '<div lang="spanish"><p lang="es">Marea</p></div>'),
    ("de46e4", '<p lang="spanish"><b style="display: none">Marea</b></p>'),
    ("de46e4", '<p lang="es-CL-x">Marea</p>'),
    ("5c01ea", '<div role="checkbox" aria-checked="false" aria-required="true">Lights</div>'),
    ("5c01ea", '<button role="none" aria-pressed="false">Lights</button>'),
    ("5c01ea", '<div role="separator" tabindex="0" aria-valuenow="1" aria-valuemin="0" aria-valuemax="9"></div>'),
    ("5c01ea", '<div role="button" aria-sort="" style="display: none"></div>'),
    ("kb1m8s", '<a href="#" aria-label="High"><s>4 m</s></a>'),
    ("kb1m8s", '<div aria-label="High" hidden></div>'),
    ("6a7281", '<div role="textbox" aria-label="a" aria-errormessage="later"></div>'),
    ("6a7281", '<div role="button" aria-pressed="mixed">Lights</div>'),
    ("6a7281", '<div role="alert" aria-live>High water</div>'),
    ("6a7281", '<math aria-hidden="false"></math>'),
    ("674b10", '<b role="quay link">Quay</b>'),
    ("674b10", '<b role="doc-biblioref link" tabindex="0">Quay</b>'),
    ("674b10", '<b role>Quay</b>'),
    ("674b10", '<b role="qay" hidden>Quay</b>'),
    ("4e8ab6", '<input type="checkbox" role="checkbox" aria-label="Lights">'),
    ("4e8ab6", '<div role="combobox" style="display: none"></div>'),
    ("4e8ab6", '<div role="separator"></div>'),
    ("in6db8", '<main id="t">Tides</main><div role="scrollbar" aria-controls="s t" aria-valuenow="1"></div>'),
    ("in6db8", '<input aria-label="Pier" role="combobox" aria-expanded="false" aria-controls="piers">'),
    ("in6db8", '<button aria-controls="later">Piers</button>'),
    ("bc4a75", '<ul role="tablist"><li role="none"><b role="tab">North</b></li></ul>'),
    ("bc4a75", '<select multiple aria-label="Piers"><option>North</option></select>'),
    ("bc4a75", '<table><tr><td>North</td></tr></table>'),
    ("bc4a75", '<div role="list" hidden><b role="listitem">North</b></div>'),
    ("bc4a75", '<div role="menu" aria-busy="true">Loading</div>'),
    ("bc4a75", '<div role="menu"><div role="group"><b role="menuitem">N</b><div role="group"><b role="menuitem">S</b></div></div></div>'),
    ("ff89c9", '<ul><div role="listitem">North</div></ul>'),
    ("ff89c9", '<div role="list"><div role="presentation"><b role="listitem">North</b></div></div>'),
    ("ff89c9", '<div role="list"><div><b role="listitem">North</b></div></div>'),
    ("ff89c9", '<div role="listitem" style="display: none">North</div>'),
    (
        "ff89c9",
        '<div id="host" role="list"></div><script>const host = document.querySelector("#host")\n'
        'const root = host.attachShadow({ mode: "open" })\nroot.innerHTML = \'<b role="listitem">North</b>\'</script>',
    ),
    (
        "c487ae",
        '<div>North<template shadowrootmode="open"><a href="/n/"><slot></slot></a></template></div>',
    ),
    ("ff89c9", '<section role="doc-endnotes"><p>Notes</p></section>'),
    ("46ca7f", '<nav role="presentation"><a href="/n/">North</a></nav>'),
    ("46ca7f", '<img src="a.png" role="presentation" alt="North">'),
    ("46ca7f", '<svg role="none"><path d="M0 0"></path></svg>'),
    ("307n5z", '<p id="n"><b role="checkbox" aria-checked="false" tabindex="0" aria-labelledby="n">Read</b> <a href="/t/">it</a></p>'),
    ("307n5z", '<table><tr><th><a href="#">Day</a></th></tr><tr><td><a href="#">1</a></td></tr></table>'),
    ("307n5z", '<a href="/n/"><b tabindex="0">North</b></a>'),
    ("6cfa84", '<div aria-hidden="true"><button tabindex="-1">North</button></div>'),
    ("6cfa84", '<div aria-hidden="true"><a href="/n/" style="display: none">North</a></div>'),
    ("6cfa84", '<button aria-hidden>North</button>'),
    ("6cfa84", '<div aria-hidden="yes"><button>North</button></div>'),
    ("6cfa84", SENTINEL + "<script>document.getElementById('after').addEventListener('focus', () => {"
               " document.getElementById('first').focus() })</script>"),
    ("a25f45", '<table role="presentation"><tr><td headers="x">1</td></tr></table>'),
    ("a25f45", '<table><tr><td id="p">Day</td></tr><tr><td headers="p">Monday</td></tr></table>'),
    ("a25f45", '<div role="table"><div role="row"><i role="cell" headers="x">1</i></div></div>'),
    ("a25f45", f'<table style="{FAR}"><tr><td headers="x">1</td></tr></table>'),
    ("d0f69e", '<table><tr><th>Day</th><th>Night</th></tr><tr><th>Monday</th><td>4</td></tr></table>'),
    ("d0f69e", '<table><tr><th id="a">A</th><th id="b">B</th></tr><tr><td>1</td></tr><tr><td headers="b">2</td></tr></table>'),
    ("d0f69e", '<table><tr><th style="display: none">Day</th></tr><tr><td>1</td></tr></table>'),
    ("d0f69e", '<table><tr><th aria-hidden="true">Day</th></tr><tr><td>1</td></tr></table>'),
    ("d0f69e", '<table><tr><th role="cell">Day</th></tr><tr><td>1</td></tr></table>'),
    ("73f2c2", '<input aria-label="Mail" autocomplete="section-a shipping work email">'),
    ("73f2c2", '<div aria-disabled="true"><input aria-label="Mail" autocomplete="bad"></div>'),
    ("73f2c2", '<input type="submit" autocomplete="bad">'),
    ("73f2c2", '<input aria-label="Mail" autocomplete="OFF">'),
    ("3ea0c8", '<b id="a"></b><iframe title="t" srcdoc="<b id=\'a\'></b>"></iframe>'),
    ("e6952f", "<script>const a = '<img alt=\"\" alt=\"b\">'</script>"),
    ("24afc2", f'<div style="letter-spacing: 0 !important"><p style="letter-spacing: 0.2em !important">{LONG}</p></div>'),
    ("24afc2", f'<p style="position: absolute; top: -999em; letter-spacing: 0 !important">{LONG}</p>'),
    ("24afc2", f'<style>p {{ letter-spacing: 0 !important }}</style><p style="letter-spacing: 1em">{LONG}</p>'),
    ("9e45ec", '<svg><text y="9" style="word-spacing: 0 !important">High water</text></svg>'),
    ("78fd32", f'<p style="max-width: 200px; line-height: 1 !important; line-height: 2 !important">{LONG}</p>'),
    ("78fd32", f'<div style="line-height: 9px !important"><p style="max-width: 99px; line-height: 1.5">{LONG}</p></div>'),
]  # fmt: skip


@pytest.mark.parametrize(("rule", "body"), FAILING)
def test_what_a_rule_fails(rule: str, body: str) -> None:
    assert verdict_of(rule, page(body)) == "fails"


@pytest.mark.parametrize(("rule", "body"), QUIET)
def test_what_a_rule_passes_or_leaves_alone(rule: str, body: str) -> None:
    assert verdict_of(rule, page(body)) == ""


@pytest.mark.parametrize(
    ("rule", "source", "verdict"),
    [
        ("2779a5", "<html lang=en><body><title>Tides</title></body></html>", ""),
        ("2779a5", "<html lang=en><head><title></title></head><body><title>Tides</title></body></html>", "fails"),
        ("2779a5", "<html lang=en><title> </title></html>", "fails"),
        ("2779a5", "<html lang=en><svg><title>Tides</title></svg></html>", "fails"),
        ("2779a5", '<svg xmlns="http://www.w3.org/2000/svg"><title>Tides</title></svg>', ""),
        ("b5c3f8", '<svg xmlns="http://www.w3.org/2000/svg"></svg>', ""),
        ("b5c3f8", "<math></math>", ""),
        ("b5c3f8", "<p>Tides</p>", "fails"),
        ("b5c3f8", '<html lang=" "><p>Tides</p></html>', "fails"),
        ("b5c3f8", '<html xml:lang="en"><p>Tides</p></html>', "fails"),
        ("bf051a", '<html lang="en-tides"><p>Tides</p></html>', ""),
        ("bf051a", '<html lang="english"><p>Tides</p></html>', "fails"),
        ("bf051a", '<svg xmlns="http://www.w3.org/2000/svg" lang="english"></svg>', ""),
        ("5b7ae0", '<html lang="fr-CA" xml:lang="en-CA"></html>', "fails"),
        ("5b7ae0", '<html lang="fr" xml:lang=""></html>', ""),
        ("b4f0c3", page("", '<meta name="viewport" content="user-scalable=0.5">'), "fails"),
        ("b4f0c3", page("", '<meta name="viewport" content="maximum-scale=loud">'), "fails"),
        ("b4f0c3", page("", '<meta name="viewport" content="user-scalable=5, maximum-scale=2.0">'), ""),
        ("b4f0c3", page("", '<meta name="viewport" content="">'), ""),
        ("bc659a", page("", '<meta http-equiv="refresh" content="9; URL=\'https://example.org\'">'), "fails"),
        ("bc659a", page("", '<meta http-equiv="refresh" content="0: x"><meta http-equiv="refresh" content="7">'), "fails"),
        ("bc659a", page("", '<meta http-equiv="refresh" content="; 30">'), ""),
        ("bc659a", page("", '<meta http-equiv="refresh"><meta content="30">'), ""),
        ("bisz58", page("", '<meta http-equiv="refresh" content="72001; x">'), "fails"),
        ("bisz58", page("", '<meta http-equiv="refresh" content="+72001; x">'), ""),
    ],
)  # fmt: skip
def test_rules_about_whole_pages(rule: str, source: str, verdict: str) -> None:
    assert verdict_of(rule, source) == verdict
