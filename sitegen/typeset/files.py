"""What is not a page: sitemap.xml, robots.txt and security.txt, to the bytes their standards ask for."""

from __future__ import annotations

from datetime import UTC
from html import escape

from sitegen.edition.models import File, RobotsFile, SecurityFile, SitemapFile
from sitegen.edition.outlets import SitemapIndexFile
from sitegen.typeset.addresses import absolute


def render_file(file: File) -> bytes:
    """The file's bytes, UTF-8 with line feeds; for the kinds that need neither words nor theme."""
    match file:
        case SitemapFile():
            return _sitemap(file).encode()
        case SitemapIndexFile():
            return _sitemap_index(file).encode()
        case RobotsFile():
            return _robots(file).encode()
        case SecurityFile():
            return _security(file).encode()
        case _:
            raise TypeError(f"{type(file).__name__} is not set here")


def _sitemap(file: SitemapFile) -> str:
    """The sitemaps protocol 0.9 (https://www.sitemaps.org/protocol.html): UTF-8, entity-escaped, loc then lastmod."""
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        '<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9">',
    ]
    for address, lastmod in file.entries:
        changed = f"<lastmod>{escape(lastmod, quote=False)}</lastmod>" if lastmod else ""
        lines.append(f"<url><loc>{escape(absolute(file.base, address), quote=False)}</loc>{changed}</url>")
    lines.append("</urlset>")
    return "\n".join(lines) + "\n"


def _sitemap_index(file: SitemapIndexFile) -> str:
    """The same protocol's index of sitemaps."""
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        '<sitemapindex xmlns="http://www.sitemaps.org/schemas/sitemap/0.9">',
    ]
    lines += [
        f"<sitemap><loc>{escape(absolute(file.base, part), quote=False)}</loc></sitemap>"
        for part in file.parts
    ]
    lines.append("</sitemapindex>")
    return "\n".join(lines) + "\n"


def _robots(file: RobotsFile) -> str:
    """RFC 9309: one group for every crawler, with nothing barred; `Sitemap` stands outside the groups."""
    return f"User-agent: *\nDisallow:\n\nSitemap: {file.sitemap}\n"


def _security(file: SecurityFile) -> str:
    """RFC 9116, section 2.5: Contact and Expires are required, Canonical names where this file belongs."""
    expires = file.expires.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    lines = [f"Contact: {file.contact}", f"Expires: {expires}"]
    if file.canonical:
        lines.append(f"Canonical: {file.canonical}")
    return "\n".join(lines) + "\n"
