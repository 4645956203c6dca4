"""sitegen: a local station's good-news archive as an accessible static site."""

__version__ = "0.1.0"
