"""Text in files that spreadsheet programs open: shown as it is, never run as a formula.

The comma-separated files of the program are UTF-8 and begin with a byte order
mark, without which those programs misread the signs of units.
"""

import re

BYTE_ORDER_MARK = "\ufeff"
# What a spreadsheet program would run as a formula, plain or in full width, also behind space or apostrophes.
_FORMULA = re.compile("'*\\s*[=+\\-@\t\r\0\uff1d\uff0b\uff0d\uff20]")


def guarded(text: str) -> str:
    """Text with an apostrophe before what looks like a formula."""
    return f"'{text}" if _FORMULA.match(text) else text


def unguarded(text: str) -> str:
    """The text that ``guarded`` was given."""
    return text[1:] if text.startswith("'") and _FORMULA.match(text) else text
