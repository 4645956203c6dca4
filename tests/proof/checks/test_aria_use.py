"""The checks of ARIA."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Verdicts = Callable[..., dict[str, str]]

CHECKS = {
    "role-known", "aria-known", "aria-allowed", "aria-prohibited", "aria-value", "aria-required", "aria-required-id", "aria-reference",
    "aria-owned", "aria-context", "decorative-exposed", "focus-inside-control", "focus-hidden", "nested-interactive",
}  # fmt: skip


@pytest.mark.parametrize(
    ("body", "check"),
    [
        ("<div role=buton>a</div>", "role-known"),
        ("<div role='widget command'>a</div>", "role-known"),
        ("<p aria-labeledby=x>a</p>", "aria-known"),
        ("<svg aria-nosuch=x></svg>", "aria-known"),
        ("<button aria-sort=none>a</button>", "aria-allowed"),
        ("<a href=x aria-checked=true>a</a>", "aria-allowed"),
        ("<input aria-label=a aria-checked=true>", "aria-allowed"),
        ("<p aria-expanded=true>a</p>", "aria-allowed"),
        ("<div aria-label=a>b</div>", "aria-prohibited"),
        ("<span aria-labelledby=x>b</span><p id=x>c</p>", "aria-prohibited"),
        ("<strong aria-label=a>b</strong>", "aria-prohibited"),
        ("<div aria-roledescription=card>b</div>", "aria-prohibited"),
        ("<button aria-pressed=yes>a</button>", "aria-value"),
        ("<a href=x aria-current=today>a</a>", "aria-value"),
        ("<div role=heading aria-level=two>a</div>", "aria-value"),
        ("<div role=meter aria-label=a aria-valuenow=half></div>", "aria-value"),
        ("<div aria-relevant='additions pictures'>a</div>", "aria-value"),
        ("<div role=checkbox tabindex=0>a</div>", "aria-required"),
        ("<div role=checkbox tabindex=0 aria-checked=''>a</div>", "aria-required"),
        ("<div role=heading>a</div>", "aria-required"),
        ("<hr tabindex=0 role=separator><div role=separator tabindex=0></div>", "aria-required"),
        ("<div role=combobox aria-label=a aria-expanded=true>a</div>", "aria-required"),
        ("<div role=combobox aria-label=a aria-expanded=true aria-controls=gone>a</div>", "aria-required-id"),
        ("<div role=scrollbar aria-valuenow=0 aria-controls=gone></div>", "aria-required-id"),
        ("<button aria-describedby=gone>a</button>", "aria-reference"),
        ("<div role=list><p>a</p></div>", "aria-owned"),
        ("<ul><p>a</p></ul>", "aria-owned"),
        ("<ul><li role=tab>a</li></ul>", "aria-owned"),
        ("<div role=menu><div role=group><div role=option>a</div></div></div>", "aria-owned"),
        ("<div role=tablist aria-owns=x></div><p id=x>a</p>", "aria-owned"),
        ("<div role=listitem>a</div>", "aria-context"),
        ("<div role=list><div role=tabpanel><div role=listitem>a</div></div></div>", "aria-context"),
        ("<div role=group><div role=menuitem>a</div></div>", "aria-context"),
        ("<div role=cell>a</div>", "aria-context"),
        ('<img src=a alt="" tabindex=0>', "decorative-exposed"),
        ("<nav role=none aria-label=Site>a</nav>", "decorative-exposed"),
        ("<button role=none>a</button>", "decorative-exposed"),
        ("<button>a <a href=x>b</a></button>", "focus-inside-control"),
        (
            "<div role=checkbox tabindex=0 aria-checked=false>a <input aria-label=b></div>",
            "focus-inside-control",
        ),
        ("<div aria-hidden=true><a href=x>a</a></div>", "focus-hidden"),
        ("<button aria-hidden=true>a</button>", "focus-hidden"),
        ("<div aria-hidden=true><details><summary>a</summary></details></div>", "focus-hidden"),
        ("<a href=x>a <button>b</button></a>", "nested-interactive"),
    ],
)
def test_what_is_wrong_is_found(verdicts: Verdicts, body: str, check: str) -> None:
    assert verdicts(body).get(check) == "fails"


@pytest.mark.parametrize(
    "body",
    [
        "<div role='nosuch button' tabindex=0>a</div>",
        "<div role=doc-tip>a</div>",
        "<div role=' '>a</div>",
        "<div role=nosuch hidden>a</div>",
        "<button aria-expanded=false aria-haspopup=dialog>a</button>",
        "<div aria-busy=true aria-live=polite>a</div>",
        "<section aria-label=Where>a</section>",
        "<input aria-label=a aria-required=true aria-invalid=spelling>",
        "<input type=checkbox role=switch aria-label=a>",
        "<td aria-sort=none>a</td>",
        "<h2 role=none>a</h2>",
        "<a href=x aria-current=PAGE>a</a>",
        "<div role=slider aria-label=a tabindex=0 aria-valuenow=1.5 aria-valuemin=-1 aria-valuemax=.5e2></div>",
        "<button aria-pressed=mixed aria-label=''>a</button>",
        "<h2 role=heading>a</h2>",
        "<div role=separator></div>",
        "<div role=combobox aria-label=a aria-expanded=false>a</div>",
        "<div role=combobox aria-label=a aria-expanded=true aria-controls='gone here'>a</div><p id=here>b</p>",
        "<div role=list><div><div role=listitem>a</div></div><script></script></div>",
        "<div role=list></div>",
        "<div role=menu aria-busy=true><p>a</p></div>",
        "<div role=listbox aria-label=a><div role=group><div role=option>a</div></div></div>",
        "<ul role=tree aria-label=a><li role=treeitem>a<ul role=group><li role=treeitem>b</li></ul></li></ul>",
        "<table role=grid><caption>c</caption><colgroup><col></colgroup><tr><td>a</td></tr></table>",
        "<div role=list aria-owns=x></div><div role=listitem id=x>a</div>",
        "<ol><li>a</li><script></script></ol>",
        "<ul role=none><li>a</li></ul>",
        '<img src=a alt="">',
        '<img src=a alt="" aria-hidden=true>',
        "<button>a <b>b</b><a>c</a></button>",
        "<button>a <span tabindex=-1>b</span></button>",
        "<div aria-hidden=true><a href=x tabindex=-1>a</a><button disabled>b</button><i hidden><a href=x>c</a></i></div>",
        "<div aria-hidden=false><a href=x>a</a></div>",
        "<a href=x>a <b>b</b></a>",
    ],
)
def test_what_is_right_is_let_be(verdicts: Verdicts, body: str) -> None:
    assert not CHECKS & verdicts(body).keys()


def test_what_bytes_cannot_decide_is_left_to_people(verdicts: Verdicts) -> None:
    moved_on = '<div aria-hidden=true><a href=x onfocus="other.focus()">a</a></div>'
    assert verdicts(moved_on)["focus-hidden"] == "unsure"
    separated = "<div role=menu><div role=menuitem>a</div><hr><div role=menuitem>b</div></div>"
    assert verdicts(separated)["aria-owned"] == "unsure"
