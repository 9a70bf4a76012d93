"""Units at the edges: what people type becomes SI, and SI becomes what people read.

Inside the program every number is an SI float with its unit in the field's
name; forms, imports and templates come here. ``registry`` alone imports pint,
and pint never sees what was typed: ``typed`` recognises the number and the
unit by a grammar of its own and hands on a checked pair.
"""

from materials.units.kinds import Kind, QuantityError, System
from materials.units.registry import convert
from materials.units.shown import display_quantity, format_number, format_quantity, unit_label, unit_text
from materials.units.typed import parse

__all__ = [
    "Kind",
    "QuantityError",
    "System",
    "convert",
    "display_quantity",
    "format_number",
    "format_quantity",
    "parse",
    "unit_label",
    "unit_text",
]
