"""Makes pages with random trees and random stylesheets, to hold what reads them to a browser and to itself."""

from __future__ import annotations

import random


class Maker:
    """Makes pages with random trees and stylesheets."""

    def __init__(self, seed: int) -> None:
        self.choose = random.Random(seed)

    def colour(self) -> str:
        choose = self.choose
        return choose.choice(
            (
                f"#{choose.randrange(16**6):06x}",
                f"rgb({choose.randrange(256)} {choose.randrange(256)} {choose.randrange(256)} / {choose.randrange(101)}%)",
                f"hsl({choose.randrange(360)} {choose.randrange(101)}% {choose.randrange(101)}%)",
                f"oklch({choose.randrange(101)}% 0.1 {choose.randrange(360)})",
                f"var(--{choose.choice('xyz')}, {choose.choice(('red', 'var(--x)', 'currentcolor'))})",
                f"color-mix(in {choose.choice(('srgb', 'oklab', 'hsl'))}, var(--x) {choose.randrange(101)}%, #123)",
                "light-dark(#222, #ddd)",
                choose.choice(
                    (
                        "currentcolor",
                        "inherit",
                        "initial",
                        "unset",
                        "revert",
                        "revert-layer",
                        "canvastext",
                        "linktext",
                    )
                ),
            )
        )

    def declaration(self) -> str:
        choose = self.choose
        name, value = choose.choice(
            (
                ("color", self.colour()),
                ("background-color", self.colour()),
                ("background", self.colour()),
                (
                    "font-size",
                    choose.choice(
                        ("12px", "1.2em", "90%", "larger", "small", "calc(1rem + 1vw)", "inherit", "-1px")
                    ),
                ),
                ("font-weight", choose.choice(("bold", "bolder", "lighter", "450", "normal", "unset"))),
                ("font", choose.choice(("bold 14px serif", "inherit", "1.1em monospace", "nonsense"))),
                ("font-family", choose.choice(("monospace", "serif", "Arial, monospace"))),
                ("opacity", choose.choice(("0.5", "80%", "1"))),
                ("visibility", choose.choice(("hidden", "visible"))),
                (
                    "display",
                    choose.choice(
                        ("block", "inline", "contents", "none") if choose.random() < 0.2 else ("block",)
                    ),
                ),
                (f"--{choose.choice('xyz')}", choose.choice((self.colour(), "#456", "var(--y)", "initial"))),
                ("color-scheme", choose.choice(("light", "dark", "light dark"))),
                ("all", choose.choice(("unset", "revert")))
                if choose.random() < 0.1
                else ("color", self.colour()),
            )
        )
        return f"{name}: {value}{' !important' if choose.random() < 0.15 else ''}"

    def compound(self, depth: int = 0) -> str:
        choose = self.choose
        parts = [choose.choice(("", "", "div", "p", "span", "a", "li", "*"))]
        for _ in range(choose.choice((0, 1, 1, 2))):
            kind = choose.randrange(8)
            if kind < 3:
                parts.append(f".c{choose.randrange(4)}")
            elif kind == 3:
                parts.append(f"#i{choose.randrange(6)}")
            elif kind == 4:
                parts.append(
                    choose.choice(
                        ("[title]", '[title="t1"]', '[title^="t"]', '[lang|="en"]', ":link", ":lang(de)")
                    )
                )
            elif kind == 5:
                parts.append(
                    choose.choice(
                        (":first-child", ":last-child", ":nth-child(2n)", ":nth-of-type(2)", ":only-child", ":empty",
                         ":nth-last-child(-n+2)", ":nth-child(odd of .c1)", ":root")
                    )
                )  # fmt: skip
            elif depth < 2:
                name = choose.choice((":is", ":not", ":where", ":has"))
                inner = (
                    self.selector(depth + 1)
                    if name != ":has"
                    else choose.choice(("> ", "+ ", "~ ", "")) + self.compound(2)
                )
                parts.append(f"{name}({inner})")
        return "".join(parts) or "*"

    def selector(self, depth: int = 0) -> str:
        parts = [self.compound(depth)]
        for _ in range(self.choose.choice((0, 0, 1, 2))):
            parts += [self.choose.choice((" ", " > ", " + ", " ~ ")), self.compound(depth)]
        return "".join(parts)

    def rule(self, depth: int = 0) -> str:
        choose = self.choose
        body = "; ".join(self.declaration() for _ in range(choose.randint(1, 3)))
        if depth < 2 and choose.random() < 0.15:
            body += f"; {choose.choice(('&', '& >', '', '.c1 &'))} {self.compound(1)} {{ {self.declaration()} }} {self.declaration()}"
        text = f"{', '.join(self.selector() for _ in range(choose.choice((1, 1, 2))))} {{ {body} }}"
        if depth < 2 and choose.random() < 0.3:
            condition = choose.choice(
                ("@layer one", "@layer two", "@layer one.deep", "@layer", "@media (width > 500px)", "@media print",
                 "@media (prefers-color-scheme: dark)", "@media not print", "@supports (color: red)", "@supports (nope: 1)")
            )  # fmt: skip
            text = f"{condition} {{ {text} {self.rule(depth + 1)} }}"
        return text

    def tree(self, depth: int) -> str:
        choose = self.choose
        tag = choose.choice(("div", "div", "p", "span", "a", "ul", "b", "code") if depth else ("div",))
        if tag in ("p", "span", "a", "b", "code"):
            inner = "text " + "".join(self.inline() for _ in range(choose.randrange(3)))
        elif tag == "ul":
            inner = "".join(
                f"<li{self.attributes()}>item {self.inline()}</li>" for _ in range(choose.randint(1, 4))
            )
        else:
            inner = "words " + "".join(
                self.tree(depth + 1) for _ in range(choose.randint(0, 4) if depth < 4 else 0)
            )
        return f"<{tag}{self.attributes()}{' href=x' if tag == 'a' else ''}>{inner}</{tag}>"

    def inline(self) -> str:
        tag = self.choose.choice(("span", "b", "i", "em", "code"))
        return f"<{tag}{self.attributes()}>word</{tag}>"

    def attributes(self) -> str:
        choose = self.choose
        text = ""
        if choose.random() < 0.6:
            text += f' class="{" ".join(f"c{choose.randrange(4)}" for _ in range(choose.randint(1, 2)))}"'
        if choose.random() < 0.15:
            text += f' id="i{choose.randrange(6)}"'
        if choose.random() < 0.15:
            text += choose.choice((' title="t1"', ' title="u"', ' lang="de"', ' lang="en-GB"'))
        if choose.random() < 0.08:
            text += f' style="{self.declaration()}"'
        return text

    def sheet(self) -> str:
        """A stylesheet."""
        return "@layer two, one;\n" + "\n".join(self.rule() for _ in range(self.choose.randint(5, 25)))

    def page(self, sheet: str | None = None) -> str:
        """A page with a stylesheet of its own, or with the one given."""
        return (
            f'<!doctype html><html lang="en"><head><title>t</title><style>{sheet or self.sheet()}</style></head>'
            f"<body>{''.join(self.tree(0) for _ in range(3))}</body></html>"
        )
