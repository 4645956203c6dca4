"""The checks of a page: one module for each family, all of the same shape, in the order in which reports list them."""

from sitegen.proof.checks import (
    aria_agreement,
    aria_use,
    forms,
    landmarks,
    languages,
    list_parts,
    markup,
    media,
    naming,
    operation,
    reading_order,
    sameness,
    scrolling,
    spacing,
    structure,
    table_cells,
    tables,
    target_size,
    whole_page,
    widget_names,
)
from sitegen.proof.checks.base import Family

FAMILIES: tuple[Family, ...] = (
    structure.FAMILY,
    landmarks.FAMILY,
    languages.FAMILY,
    markup.FAMILY,
    naming.FAMILY,
    widget_names.FAMILY,
    forms.FAMILY,
    list_parts.FAMILY,
    tables.FAMILY,
    table_cells.FAMILY,
    aria_use.FAMILY,
    aria_agreement.FAMILY,
    operation.FAMILY,
    whole_page.FAMILY,
    spacing.FAMILY,
    reading_order.FAMILY,
    target_size.FAMILY,
    scrolling.FAMILY,
    sameness.FAMILY,
    media.FAMILY,
)

BY_CONTRAST: tuple[str, ...] = ("09o5cg", "afw4f7")
"""Ids of the ACT rules that the contrast engine decides; written out, so that no report loads the engine."""

COVERED: tuple[str, ...] = tuple(
    sorted({*BY_CONTRAST, *(act for family in FAMILIES for rule in family.rules for act in rule.act)})
)
"""Ids of every ACT rule that one of the checks, or the contrast engine, decides."""
