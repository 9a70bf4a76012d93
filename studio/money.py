"""Money: whole minor units with a currency, Decimal in between, and the only rounding.

A line of a quote is worked out exactly and rounded once, half up: to the
nearest minor unit, a half away from nought. Sums are of rounded lines, so what
is printed adds up. Floats enter by ``exact`` and nowhere else.
"""

import re
from collections.abc import Sequence
from contextlib import AbstractContextManager
from decimal import (
    ROUND_HALF_EVEN,
    ROUND_HALF_UP,
    Context,
    Decimal,
    DivisionByZero,
    InvalidOperation,
    Overflow,
    localcontext,
)

LARGEST_MINOR = 10**15
"""No amount goes beyond this, either way: far above any commission, and safe in a database's 64 bits."""

# Currency codes of ISO 4217 in use, by the digits after the point that the standard gives them.
_TWO = """
AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF CHF CNY COP CRC CUP CVE CZK
DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD
KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP
PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH
USD UYU UZS VES WST XCD XCG YER ZAR ZMW ZWG
"""
_NONE = "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF"
_THREE = "BHD IQD JOD KWD LYD OMR TND"
_DIGITS = {code: digits for digits, codes in ((2, _TWO), (0, _NONE), (3, _THREE)) for code in codes.split()}
_SYMBOLS = {"GBP": "£", "EUR": "€", "USD": "$", "JPY": "¥"}

_SPACES = str.maketrans({"\u00a0": " ", "\u2009": " ", "\u202f": " "})
_GROUPED = re.compile(
    r"[1-9][0-9]{0,2}(?:(?: [0-9]{3})+(?:[.,][0-9]+)?|(?:,[0-9]{3})+\.[0-9]+|(?:\.[0-9]{3})+,[0-9]+|(?:,[0-9]{3}){2,})"
)
_LONE_COMMA = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_PLAIN = re.compile(r"[0-9]+(?:[.,][0-9]+)?")


class MoneyError(ValueError):
    """An amount, a currency or a share that cannot be worked with, in one sentence."""


def working() -> AbstractContextManager[Context]:
    """Arithmetic wide enough that products of prices, hours and rates are exact.

    Returns
    -------
    context manager
        60 significant figures; a division by nought raises.
    """
    traps = [InvalidOperation, DivisionByZero, Overflow]
    return localcontext(Context(prec=60, rounding=ROUND_HALF_EVEN, traps=traps))


def minor_digits(currency: str) -> int:
    """Digits after the point of a currency.

    Parameters
    ----------
    currency : str
        ISO 4217 code, "GBP".

    Returns
    -------
    int
        0, 2 or 3 [dimensionless], from ISO 4217.

    Raises
    ------
    MoneyError
        For a code that ISO 4217 does not have.
    """
    if currency not in _DIGITS:
        raise MoneyError(f"Currency {currency!r} is not a code of ISO 4217; use one such as GBP, EUR or USD.")
    return _DIGITS[currency]


def exact(value: float | int | str | Decimal) -> Decimal:
    """A number as the Decimal that a person would read.

    Parameters
    ----------
    value : float, int, str or Decimal
        Finite; text in figures 0 to 9 with at most one point and a leading minus [dimensionless].

    Returns
    -------
    Decimal
        A float becomes its shortest decimal, so 0.1 is one tenth.

    Raises
    ------
    MoneyError
        When it is not a finite number in that form.
    """
    if isinstance(value, str) and not re.fullmatch(r"-?[0-9]+(?:\.[0-9]+)?", value):
        raise MoneyError(f"{value[:40]!r} is not a plain number; use figures 0 to 9 and at most one point.")
    found = Decimal(repr(float(value))) if isinstance(value, float) else Decimal(value)
    if not found.is_finite():
        raise MoneyError(f"{value} is not a finite number; give one that can be counted.")
    return found


def round_half_up(minor: Decimal) -> int:
    """The one rounding: to the nearest whole minor unit, a half away from nought.

    Parameters
    ----------
    minor : Decimal
        An amount worked out in minor units [dimensionless].

    Returns
    -------
    int
        Whole minor units [dimensionless].

    Raises
    ------
    MoneyError
        When the amount is not finite, or larger than ``LARGEST_MINOR``.
    """
    if not minor.is_finite() or abs(minor) > LARGEST_MINOR:
        raise MoneyError(f"An amount of {minor:.6g} minor units is too large to keep; check its figures.")
    with working():
        return int(minor.quantize(Decimal(1), ROUND_HALF_UP))


def to_minor(amount: Decimal, currency: str) -> int:
    """An amount in pounds, euros or yen as whole minor units.

    Parameters
    ----------
    amount : Decimal
        In the currency's major unit [dimensionless].
    currency : str
        ISO 4217 code.

    Returns
    -------
    int
        Rounded half up [dimensionless].

    Raises
    ------
    MoneyError
        For an unknown currency, or an amount that is not finite or too large.
    """
    with working():
        return round_half_up(amount * 10 ** minor_digits(currency))


def to_decimal(minor: int, currency: str) -> Decimal:
    """Whole minor units as an amount with the currency's digits.

    Parameters
    ----------
    minor : int
        Whole minor units [dimensionless].
    currency : str
        ISO 4217 code.

    Returns
    -------
    Decimal
        12345 in GBP is 123.45, in JPY 12345 [dimensionless].

    Raises
    ------
    MoneyError
        For an unknown currency.
    """
    with working():
        return Decimal(minor).scaleb(-minor_digits(currency))


def split(total_minor: int, weights: Sequence[Decimal]) -> list[int]:
    """Part an amount by weights so that the parts sum to it.

    Each part but the last is rounded half up, but takes no more than is left; the last part that has a weight
    takes what remains. So no part is of the other sign, and a part without weight is nought.

    Parameters
    ----------
    total_minor : int
        Whole minor units [dimensionless].
    weights : sequence of Decimal
        Not negative, at least one above nought; they need not sum to 1 [dimensionless].

    Returns
    -------
    list of int
        One part a weight, in whole minor units [dimensionless].

    Raises
    ------
    MoneyError
        When there is no weight above nought, or one is negative or not finite.
    """
    if not all(weight.is_finite() and weight >= 0 for weight in weights) or not any(weights):
        shown = ", ".join(map(str, weights)) or "none"
        raise MoneyError(f"The shares are {shown}; give numbers of nought or more, at least one above nought.")
    sign = -1 if total_minor < 0 else 1
    left = abs(total_minor)
    last = max(index for index, weight in enumerate(weights) if weight)
    parts = [0] * len(weights)
    with working():
        whole = sum(weights, Decimal(0))
        for index, weight in enumerate(weights[:last]):
            part = min(left, round_half_up(abs(total_minor) * weight / whole))
            parts[index] = sign * part
            left -= part
    parts[last] = sign * left
    return parts


def parse_amount(text: str, currency: str, *, signed: bool = False) -> int:
    """Read an amount as a person types it.

    The sign or the code of the currency may stand before or after. Spaces part thousands; of a comma and a point
    the last is the decimal sign; a lone comma before exactly three figures parts thousands where the currency has
    fewer than three digits, and is refused where it has three.

    Parameters
    ----------
    text : str
        "1 234.50", "£1,234.50", "1234,50", "1234.5 GBP".
    currency : str
        ISO 4217 code.
    signed : bool
        Whether a minus may stand first.

    Returns
    -------
    int
        Whole minor units [dimensionless].

    Raises
    ------
    MoneyError
        For anything else, or more digits after the point than the currency has.
    """
    digits = minor_digits(currency)
    example = f"{Decimal(123450).scaleb(-digits):f}"
    typed = text.translate(_SPACES).strip(" ")
    if len(typed) > 40 or not typed:
        raise MoneyError(f"The amount has {len(typed)} characters; type 1 to 40, such as {example}.")
    shown = "".join(sign if sign.isprintable() else "\ufffd" for sign in typed)
    negative = signed and typed[0] in "-−"
    bare = _without_currency(typed[1:].lstrip(" ") if negative else typed, currency)
    if _LONE_COMMA.fullmatch(bare):
        if digits == 3:
            raise MoneyError(f"“{shown}” can be read two ways; type it without the comma, or with a point.")
        number = bare.replace(",", "")
    elif _GROUPED.fullmatch(bare):
        number = _ungrouped(bare)
    elif _PLAIN.fullmatch(bare):
        number = bare.replace(",", ".")
    else:
        raise MoneyError(f"“{shown}” is not an amount in {currency}; type figures such as {example}.")
    if len(number.partition(".")[2]) > digits:
        raise MoneyError(
            f"“{shown}” has more digits after the point than {currency} has, {digits}; type it to the unit."
        )
    minor = to_minor(Decimal(number), currency)
    return -minor if negative else minor


def _without_currency(typed: str, currency: str) -> str:
    """The figures alone, when this currency's own sign or code stands before or after them."""
    for mark in filter(None, (_SYMBOLS.get(currency), currency)):
        if typed[: len(mark)].upper() == mark:
            return typed[len(mark) :].lstrip(" ")
        if typed[-len(mark) :].upper() == mark:
            return typed[: -len(mark)].rstrip(" ")
    return typed


def _ungrouped(bare: str) -> str:
    """The number of a grouped text: no separator of thousands, and a point for decimals."""
    if bare.count(",") > 1 and "." not in bare:
        return bare.replace(",", "")
    decimal_sign = max(".,", key=bare.rfind) if any(sign in bare for sign in ".,") else "."
    whole, _, rest = bare.rpartition(decimal_sign) if decimal_sign in bare else (bare, "", "")
    return re.sub(r"[ .,]", "", whole) + (f".{rest}" if rest else "")


def format_minor(minor: int, currency: str) -> str:
    """An amount as it is printed.

    Parameters
    ----------
    minor : int
        Whole minor units [dimensionless].
    currency : str
        ISO 4217 code.

    Returns
    -------
    str
        "£9,276.46", "KWD 1.250" with a no-break space, "−£3.00" with a true minus.

    Raises
    ------
    MoneyError
        For an unknown currency.
    """
    amount = f"{abs(to_decimal(minor, currency)):,f}"
    mark = _SYMBOLS.get(currency, f"{currency}\u00a0")
    return f"{'−' if minor < 0 else ''}{mark}{amount}"
