"""What WAI-ARIA and HTML's mapping to it say, as tables.

Sources: WAI-ARIA 1.2 (https://www.w3.org/TR/wai-aria-1.2/), the WAI-ARIA Graphics Module 1.0, the Digital Publishing WAI-ARIA
Module 1.1, HTML Accessibility API Mappings 1.0 (https://www.w3.org/TR/html-aam-1.0/), and for braille attributes WAI-ARIA 1.3.
"""

from __future__ import annotations

from typing import Final, NamedTuple


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


# WAI-ARIA 1.2, section 6.5 with the two braille attributes and aria-description of 1.3, and the four that 1.2 still lets stand anywhere
# (deprecated there as global).
GLOBAL: Final = _words(
    "aria-atomic aria-braillelabel aria-brailleroledescription aria-busy aria-controls aria-current aria-describedby"
    " aria-description aria-details aria-disabled aria-dropeffect aria-errormessage aria-flowto aria-grabbed aria-haspopup"
    " aria-hidden aria-invalid aria-keyshortcuts aria-label aria-labelledby aria-live aria-owns aria-relevant"
    " aria-roledescription"
)

EXPOSING: Final = GLOBAL - _words(
    "aria-braillelabel aria-brailleroledescription aria-description aria-hidden"
)
"""Global attributes that take effect of `role="none"` away (WAI-ARIA 1.2, section 7.1, conflict resolution)."""


class Role(NamedTuple):
    """What WAI-ARIA says of one role."""

    supported: frozenset[str]
    """States and properties beyond the global ones: supported, inherited or required."""
    required: frozenset[str]
    """Those that must be written, having no default."""
    context: frozenset[str]
    """Roles of which one must own it; empty where any may."""
    owned: frozenset[str]
    """Roles it may own; empty where it may own any. A role written `group>x` may be owned in a group."""


_ROLES: Final = """
alert
alertdialog; modal
application; activedescendant disabled errormessage expanded haspopup invalid
article; posinset setsize
banner
blockquote
button; disabled expanded haspopup pressed
caption
cell; colindex colspan rowindex rowspan;; row
checkbox; checked errormessage expanded invalid readonly required disabled; checked
code
columnheader; sort colindex colspan rowindex rowspan expanded readonly required selected;; row
combobox; activedescendant autocomplete expanded readonly required controls; expanded controls
complementary
contentinfo
definition
deletion
dialog; modal
directory
document
emphasis
feed;;;; article
figure
form
generic
grid; multiselectable readonly activedescendant colcount rowcount;;; row rowgroup caption
gridcell; expanded readonly required selected colindex colspan rowindex rowspan;; row
group; activedescendant
heading; level; level
img
insertion
link; expanded
list;;;; listitem
listbox; expanded multiselectable readonly required orientation activedescendant;;; option group
listitem; level posinset setsize;; list directory
log
main
marquee
math
menu; orientation activedescendant;;; menuitem menuitemcheckbox menuitemradio group
menubar; orientation activedescendant;;; menuitem menuitemcheckbox menuitemradio group
menuitem; expanded posinset setsize;; group menu menubar
menuitemcheckbox; checked expanded readonly required posinset setsize; checked; group menu menubar
menuitemradio; checked expanded readonly required posinset setsize; checked; group menu menubar
meter; valuetext valuemax valuemin valuenow; valuenow
navigation
none
note
option; checked posinset setsize selected;; group listbox
paragraph
presentation
progressbar; valuetext valuemax valuemin valuenow
radio; checked posinset setsize; checked
radiogroup; readonly required activedescendant orientation
region
row; colindex expanded level posinset rowindex selected setsize activedescendant;; grid rowgroup table treegrid; cell columnheader gridcell rowheader
rowgroup;;; grid table treegrid; row
rowheader; sort colindex colspan rowindex rowspan expanded readonly required selected;; row
scrollbar; controls valuetext orientation valuemax valuemin valuenow; controls valuenow
search
searchbox; activedescendant autocomplete multiline placeholder readonly required
separator; orientation valuemax valuemin valuenow valuetext
slider; readonly valuetext orientation valuemax valuemin valuenow; valuenow
spinbutton; readonly required valuetext valuenow activedescendant valuemax valuemin
status
strong
subscript
superscript
switch; checked expanded readonly required; checked
tab; expanded posinset setsize selected;; tablist
table; colcount rowcount;;; row rowgroup caption
tablist; level multiselectable orientation activedescendant;;; tab
tabpanel
term
textbox; activedescendant autocomplete multiline placeholder readonly required
time
timer
toolbar; orientation activedescendant
tooltip
tree; multiselectable required orientation activedescendant;;; treeitem group
treegrid; activedescendant multiselectable readonly colcount rowcount orientation required;;; row rowgroup caption
treeitem; checked expanded level posinset setsize selected;; group tree
graphics-document; expanded
graphics-object; expanded activedescendant
graphics-symbol
comment; level posinset setsize
image
mark
suggestion
sectionfooter
sectionheader
"""

_PUBLISHING: Final = (
    "abstract acknowledgments afterword appendix backlink biblioentry bibliography biblioref chapter colophon conclusion cover"
    " credit credits dedication endnote endnotes epigraph epilogue errata example footnote foreword glossary glossref index"
    " introduction noteref notice pagebreak pagefooter pageheader pagelist part preface prologue pullquote qna subtitle tip toc"
)


def _aria(names: str) -> frozenset[str]:
    return frozenset(f"aria-{name}" for name in names.split())


def _read_roles() -> dict[str, Role]:
    roles: dict[str, Role] = {}
    for line in _ROLES.strip().splitlines():
        name, supported, required, context, owned = (*line.split(";"), "", "", "", "")[:5]
        roles[name.strip()] = Role(_aria(supported), _aria(required), _words(context), _words(owned))
    for name in _PUBLISHING.split():
        roles[f"doc-{name}"] = Role(frozenset(), frozenset(), frozenset(), frozenset())
    # doc-pagebreak is a separator, the two entries are list items, the references are links (DPUB-ARIA 1.1).
    roles["doc-pagebreak"] = roles["separator"]
    for name in ("doc-biblioentry", "doc-endnote"):
        roles[name] = roles["listitem"]
    for name in ("doc-backlink", "doc-biblioref", "doc-glossref", "doc-noteref"):
        roles[name] = roles["link"]
    return roles


ROLES: Final[dict[str, Role]] = _read_roles()
"""Every role an author may write. "image" is the newer name of "img"."""

SAME_ROLE: Final = {"presentation": "none", "image": "img", "directory": "list"}
"""Names that mean the same as another."""

NAMED_BY_CONTENT: Final = _words(
    "button cell checkbox columnheader gridcell heading link menuitem menuitemcheckbox menuitemradio option radio row rowheader"
    " switch tab tooltip treeitem graphics-object graphics-symbol doc-backlink doc-biblioref doc-glossref doc-noteref doc-subtitle"
)
"""Roles whose name may come from their content (WAI-ARIA 1.2, section 5.2.8.6)."""

NAME_PROHIBITED: Final = _words(
    "caption code deletion emphasis generic insertion mark none paragraph presentation strong subscript suggestion superscript"
)
"""Roles an author may not name (WAI-ARIA 1.2, section 5.2.8.6)."""

CHILDREN_PRESENTATIONAL: Final = _words(
    "button checkbox img menuitemcheckbox menuitemradio meter option progressbar radio scrollbar separator slider switch tab"
    " graphics-symbol doc-cover doc-pagebreak"
)
"""Roles whose content is not exposed but as their name (WAI-ARIA 1.2, section 5.2.8.5)."""

WIDGETS: Final = _words(
    "button checkbox combobox grid gridcell link listbox menu menubar menuitem menuitemcheckbox menuitemradio option progressbar"
    " radio radiogroup scrollbar searchbox slider spinbutton switch tab tablist tabpanel textbox tree treegrid treeitem"
)
"""Roles of standalone and composite widgets (WAI-ARIA 1.2, section 5.3.2). A separator is one where it takes focus."""

FIELDS: Final = _words(
    "checkbox combobox listbox menuitemcheckbox menuitemradio radio searchbox slider spinbutton switch textbox"
)
"""Roles that take a value from the user."""

LINKS: Final = ("link", "doc-backlink", "doc-biblioref", "doc-glossref", "doc-noteref")
"""The link role and those that inherit from it (DPUB-ARIA 1.1)."""

LANDMARKS: Final = _words("banner complementary contentinfo form main navigation region search")

TRUE_FALSE: Final = "true false"
VALUES: Final[dict[str, str]] = {
    "aria-atomic": TRUE_FALSE,
    "aria-busy": TRUE_FALSE,
    "aria-disabled": TRUE_FALSE,
    "aria-modal": TRUE_FALSE,
    "aria-multiline": TRUE_FALSE,
    "aria-multiselectable": TRUE_FALSE,
    "aria-readonly": TRUE_FALSE,
    "aria-required": TRUE_FALSE,
    "aria-expanded": "true false undefined",
    "aria-grabbed": "true false undefined",
    "aria-hidden": "true false undefined",
    "aria-selected": "true false undefined",
    "aria-checked": "true false mixed undefined",
    "aria-pressed": "true false mixed undefined",
    "aria-autocomplete": "inline list both none",
    "aria-current": "page step location date time true false",
    "aria-haspopup": "false true menu listbox tree grid dialog",
    "aria-invalid": "grammar false spelling true",
    "aria-live": "assertive off polite",
    "aria-orientation": "horizontal undefined vertical",
    "aria-sort": "ascending descending none other",
}
"""The words allowed as the value of each attribute that takes one word (WAI-ARIA 1.2, section 6.3)."""

LIST_VALUES: Final[dict[str, str]] = {
    "aria-dropeffect": "copy execute link move none popup",
    "aria-relevant": "additions all removals text",
}
"""The words allowed in each attribute that takes several."""

INTEGERS: Final = _aria("colcount colindex colspan level posinset rowcount rowindex rowspan setsize")
NUMBERS: Final = _aria("valuemax valuemin valuenow")
ONE_ID: Final = _aria("activedescendant")
SEVERAL_IDS: Final = _aria("controls describedby details errormessage flowto labelledby owns")
STRINGS: Final = _aria(
    "braillelabel brailleroledescription description keyshortcuts label placeholder roledescription valuetext"
)
DEFINED: Final = (
    frozenset(VALUES)
    | frozenset(LIST_VALUES)
    | INTEGERS
    | NUMBERS
    | ONE_ID
    | SEVERAL_IDS
    | STRINGS
    | _aria("colindextext rowindextext")
)
"""Every attribute WAI-ARIA defines, with those of `colindextext` and `rowindextext` that 1.3 adds."""

SIMPLE_ROLES: Final[dict[str, str]] = {
    "address": "group", "article": "article", "aside": "complementary", "b": "generic", "bdi": "generic", "bdo": "generic",
    "blockquote": "blockquote", "body": "generic", "button": "button", "caption": "caption", "code": "code", "data": "generic",
    "datalist": "listbox", "dd": "definition", "del": "deletion", "details": "group", "dfn": "term", "dialog": "dialog",
    "div": "generic", "dt": "term", "em": "emphasis", "fieldset": "group", "figure": "figure", "h1": "heading", "h2": "heading",
    "h3": "heading", "h4": "heading", "h5": "heading", "h6": "heading", "hgroup": "group", "hr": "separator", "html": "document",
    "i": "generic", "ins": "insertion", "main": "main", "math": "math", "menu": "list", "meter": "meter", "nav": "navigation",
    "ol": "list", "optgroup": "group", "option": "option", "output": "status", "p": "paragraph", "pre": "generic",
    "progress": "progressbar", "q": "generic", "s": "deletion", "samp": "generic", "search": "search", "small": "generic",
    "span": "generic", "strong": "strong", "sub": "subscript", "sup": "superscript", "table": "table", "tbody": "rowgroup",
    "textarea": "textbox", "tfoot": "rowgroup", "thead": "rowgroup", "time": "time", "tr": "row", "u": "generic", "ul": "list",
}  # fmt: skip
"""The role of an HTML element whatever stands in or around it."""

INPUT_ROLES: Final[dict[str, str]] = {
    "button": "button", "checkbox": "checkbox", "email": "textbox", "image": "button", "number": "spinbutton", "radio": "radio",
    "range": "slider", "reset": "button", "search": "searchbox", "submit": "button", "tel": "textbox", "text": "textbox",
    "url": "textbox",
}  # fmt: skip
"""The role of each type of `input`; types not here have none."""

INPUT_TYPES: Final = frozenset(INPUT_ROLES) | _words(
    "color date datetime-local file hidden month password time week"
)
"""Types HTML knows; any other is "text"."""
