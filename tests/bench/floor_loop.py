"""The floor: the least that any program does for these stories. Read, front matter, Markdown, one template, write.

usage: python -m tests.bench.floor_loop ROOT OUT

One process, the libraries this program uses, and no proof, no lists, no model. A build is measured as a ratio to this.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import frontmatter
import yaml
from frontmatter.default_handlers import YAMLHandler
from jinja2 import Environment
from markdown_it import MarkdownIt

_LINKS = "\n".join(
    f'<li><a href="../../../counties/county-{number}/">County {number}</a></li>' for number in range(24)
)
_TEMPLATE = (
    """<!doctype html>
<html lang="en-US">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{{ story.headline }} | Small Wonders</title>
<meta name="description" content="{{ story.summary }}">
<link rel="stylesheet" href="../../../assets/tidetable.css">
</head>
<body>
<header><a class="skip" href="#main">Skip to the story</a><p><a href="../../../">Small Wonders</a></p>
<nav aria-label="Site"><ul>
"""
    + _LINKS
    + """
</ul></nav></header>
<main id="main">
<article>
<h1>{{ story.headline }}</h1>
<p class="lead">{{ story.summary }}</p>
<p>Aired {{ story.aired }}. {{ story.town }}, {{ story.county }}. {{ story.reporter }}</p>
{% for ask in story.asks %}
<section>
<h2>{{ ask.title }}</h2>
<p>{{ ask.kind }}{% if ask.deadline %}, through {{ ask.deadline }}{% endif %}{% if ask.dates %}, {{ ask.dates }}{% endif %}</p>
{% if ask.accepts %}<ul>{% for each in ask.accepts %}<li>{{ each }}</li>{% endfor %}</ul>{% endif %}
{% for place in ask.drop_off or ask.where or [] %}
<p>{{ place.name or place.place or place }} {{ place.street }} {{ place.town }} {{ place.hours }}</p>
{% endfor %}
<dl>
<dt>Phone</dt><dd><a href="tel:{{ ask.contact.phone }}">{{ ask.contact.phone }}</a></dd>
<dt>Mail</dt><dd><a href="mailto:{{ ask.contact.email }}">{{ ask.contact.email }}</a></dd>
</dl>
</section>
{% endfor %}
<div class="copy">
{{ body|safe }}</div>
</article>
</main>
<footer><p>Saltmarsh Community Television</p></footer>
</body>
</html>
"""
)


class _Handler(YAMLHandler):
    def load(self, fm: str, **_: object) -> Any:
        return yaml.load(fm, Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))


def run(root: Path, out: Path) -> int:
    """Sets every story; gives how many there were."""
    markdown = MarkdownIt("commonmark").enable("table")
    template = Environment(autoescape=True, auto_reload=False).from_string(_TEMPLATE)
    handler = _Handler()
    count = 0
    for path in sorted((root / "content" / "stories").rglob("*.md")):
        story, body = frontmatter.parse(path.read_text("utf-8"), handler=handler)
        page = template.render(story=story, body=markdown.render(body))
        target = out / "stories" / path.parent.name / path.stem / "index.html"
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(page, "utf-8")
        count += 1
    return count


if __name__ == "__main__":
    print(run(Path(sys.argv[1]), Path(sys.argv[2])))
