"""The checks of names."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Verdicts = Callable[..., dict[str, str]]


@pytest.mark.parametrize(
    ("body", "check"),
    [
        ("<img src=a.jpg>", "picture-name"),
        ('<img src=a.jpg alt=" ">', "picture-name"),
        ("<div role=img></div>", "picture-name"),
        ('<img src=a.jpg alt="" tabindex=0>', "picture-name"),
        ('<img src="/p/9f86d081884c7d65.jpg" alt="9f86d081884c7d65">', "picture-file-name"),
        ('<img src="/p/rack.jpg" alt="rack.jpg">', "picture-file-name"),
        ('<img src="/p/IMG_2041.JPG" alt="IMG_2041">', "picture-file-name"),
        ("<svg role=img><path/></svg>", "drawing-name"),
        ("<svg><g role=graphics-symbol></g></svg>", "drawing-name"),
        ("<input type=image src=a.png>", "image-button-name"),
        ("<object data=a.mp4></object>", "object-name"),
        ("<object data=a type=audio/mpeg></object>", "object-name"),
        ("<a href=x></a>", "link-name"),
        ("<a href=x><img src=a alt=''></a>", "link-name"),
        ("<a href=x><i aria-hidden=true>→</i></a>", "link-name"),
        ("<span role=link tabindex=0></span>", "link-name"),
        ("<map name=m><area href=x></map>", "link-name"),
        ("<svg><a href=x><circle/></a></svg>", "link-name"),
        ("<a href=x role=none> </a>", "link-name"),
        ("<button></button>", "button-name"),
        ("<input type=button>", "button-name"),
        ("<input type=submit value=''>", "button-name"),
        ("<div role=button tabindex=0><svg></svg></div>", "button-name"),
        ("<details><summary></summary>x</details>", "summary-name"),
        ("<div role=menu><button role=menuitem></button></div>", "menuitem-name"),
        ("<input>", "field-name"),
        ("<label>Name</label><input>", "field-name"),
        ("<label for=y>Name</label><select><option>a</option></select>", "field-name"),
        ("<div role=textbox contenteditable>a</div>", "field-name"),
        ("<input type=checkbox>yes", "field-name"),
        ("<input type=password>", "field-label"),
        ("<iframe src=x></iframe>", "frame-name"),
        ("<iframe src=x title=' '></iframe>", "frame-name"),
        ("<h2></h2>", "heading-name"),
        ("<h2><br></h2>", "heading-name"),
        ("<div role=heading aria-level=2><b hidden>x</b></div>", "heading-name"),
    ],
)
def test_what_has_no_name_fails(verdicts: Verdicts, body: str, check: str) -> None:
    assert verdicts(body).get(check) == "fails"


@pytest.mark.parametrize(
    "body",
    [
        '<img src=a.jpg alt="Coats on a rack">',
        '<img src=a.jpg alt="">',
        "<img src=a.jpg role=none>",
        "<img src=a.jpg hidden>",
        "<div style='display:none'><img src=a.jpg></div>",
        "<div role=img aria-label=Map></div>",
        '<img src="/p/rack-2.jpg" alt="Coats on a rack">',
        "<svg><path/></svg>",
        "<svg role=img aria-label=Chart></svg>",
        "<svg role=img><title>Chart</title></svg>",
        "<svg role=none></svg>",
        "<object data=a.html></object>",
        "<object data=a.mp4 title=Film></object>",
        "<object></object>",
        "<a>no link</a>",
        "<a href=x><img src=a alt=Home></a>",
        "<a href=x><svg role=img><title>Home</title></svg></a>",
        "<a href=x aria-label=Home></a>",
        "<a href=x hidden></a>",
        "<input type=submit>",
        "<input type=reset>",
        "<input type=image src=a alt=Find>",
        "<details><div><summary></summary></div></details>",
        "<label>Name <input></label>",
        "<label for=n>Name</label><input id=n>",
        "<input aria-labelledby=l><span id=l>Name</span>",
        "<input type=hidden>",
        "<input style='display:none'>",
        "<label>Day <input type=date></label>",
        "<iframe src=x title=Map></iframe>",
        "<iframe src=x tabindex=-1></iframe>",
        "<h2><img src=a alt=Deadlines></h2>",
        "<h2 hidden></h2>",
    ],
)
def test_what_has_a_name_or_needs_none_is_let_be(verdicts: Verdicts, body: str) -> None:
    assert not {check for check in verdicts(body) if check.endswith(("-name", "-label"))}


def test_a_word_that_is_also_a_file_name_is_left_to_people(verdicts: Verdicts) -> None:
    assert verdicts('<img src="/p/caf%C3%A9.jpg" alt="Café">')["picture-file-name"] == "unsure"
    assert verdicts('<img src="/p/lighthouse.jpg" alt="Lighthouse">')["picture-file-name"] == "unsure"
    assert (
        verdicts(
            '<picture><source srcset="/p/harbour-1.webp 1x, /p/harbour.webp 2x"><img src="/p/a.jpg" alt="Harbour"></picture>'
        )["picture-file-name"]
        == "unsure"
    )
