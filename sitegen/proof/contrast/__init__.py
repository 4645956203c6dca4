"""Judges the contrast of pages from their bytes: a cascade, the stack of backgrounds, and the formulas of WCAG 2.2."""
