"""What the catalogue can hold: the same rules for a typed form and for a file.

Text goes out to CSV and XLSX and has to come back unaltered, so what those
cannot carry is refused here.
"""

import datetime
import re
from decimal import Decimal

FIRST_DAY, LAST_DAY = datetime.date(1970, 1, 1), datetime.date(2199, 12, 31)
NAME, SUPPLIER, LABEL, KEY = 120, 80, 60, 60
MOST_LEAD_DAYS, MOST_SHELF_DAYS = 730, 3650
MOST_QUANTITY = Decimal(1_000_000)
DENSITY = (Decimal(1), Decimal(25_000))

# Control characters and lone surrogates stand in no workbook. "x005F_" is a workbook's own mark of an escape,
# and its readers drop it.
_UNFIT = re.compile("[\x00-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]|x005F_")
_KEY = re.compile(r"[a-z][a-z0-9_]*")
_WHOLE = re.compile(r"[0-9]{1,9}")
_PLAIN = re.compile(r"[0-9]{1,12}(?:\.[0-9]{1,20})?")


class NotAllowed(ValueError):
    """Something that the catalogue cannot hold, in one sentence."""


def quoted(text: str) -> str:
    """What was given, short and printable, to stand in a sentence."""
    short = text if len(text) <= 60 else f"{text[:57]}..."
    return "“" + "".join(sign if sign.isprintable() else "\ufffd" for sign in short) + "”"


def line_of_text(text: str, most: int) -> str:
    """One line of at most so many characters, without space around it."""
    line = text.strip()
    if len(line) > most:
        raise NotAllowed(f"{quoted(line)} has {len(line)} characters; {most} are allowed.")
    if _UNFIT.search(line):
        raise NotAllowed(f"{quoted(line)} holds a sign that files cannot carry; type letters, figures and signs alone.")
    return line


def item_key(text: str) -> str:
    """The name that a take-off uses."""
    key = text.strip()
    if not _KEY.fullmatch(key) or len(key) > KEY:
        raise NotAllowed(
            f"{quoted(key)} is not a key; use at most {KEY} small letters, figures and underscores, a letter first."
        )
    return key


def whole_days(text: str, most: int) -> int:
    """A count of days."""
    typed = text.strip()
    if not _WHOLE.fullmatch(typed) or int(typed) > most:
        raise NotAllowed(f"{quoted(typed)} is not a number of days; give a whole number from 0 to {most}.")
    return int(typed)


def plain_number(text: str) -> Decimal:
    """A number in figures 0 to 9 with at most one point."""
    typed = text.strip()
    if not _PLAIN.fullmatch(typed):
        raise NotAllowed(f"{quoted(typed)} is not a plain number; use figures 0 to 9 and at most one point.")
    return Decimal(typed)


def density(value: Decimal) -> Decimal:
    """A density in kg/m³, to the gram."""
    low, high = DENSITY
    if not low <= value <= high:
        raise NotAllowed(f"A density of {value:f} kg/m³ is not credible; it must be between {low} and {high}.")
    return round(value, 3).normalize()


def pack_quantity(value: Decimal) -> Decimal:
    """What a pack holds: above nought, to four digits after the point."""
    if value > MOST_QUANTITY or round(value, 4) <= 0:
        raise NotAllowed(f"A pack of {value:f} is not credible; it must hold from 0.0001 to {MOST_QUANTITY}.")
    if round(value, 4) != value:
        raise NotAllowed(f"A pack of {value:f} is given too finely; use at most four digits after the point.")
    return value.normalize()


def day(value: datetime.date) -> datetime.date:
    """A day from which a price may hold."""
    if not FIRST_DAY <= value <= LAST_DAY:
        raise NotAllowed(f"The day {value} is not credible; it must be between {FIRST_DAY} and {LAST_DAY}.")
    return value


def iso_day(text: str) -> datetime.date:
    """A day written as 2026-01-31, which reads the same in every country."""
    typed = text.strip()
    try:
        if re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", typed):
            return day(datetime.date.fromisoformat(typed))
    except NotAllowed:
        raise
    except ValueError:
        pass
    raise NotAllowed(f"{quoted(typed)} is not a day; write year, month and day such as 2026-01-31.")
