"""Models to bytes: Markdown, templates, words, dates and pictures."""
