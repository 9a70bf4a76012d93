"""Sizes as a drawing writes them: whole millimetres, or feet and inches to the eighth."""

from typing import Literal

Units = Literal["metric", "us"]

_THIN_SPACE = "\N{THIN SPACE}"
_EIGHTHS = ("", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞")
_EIGHTHS_PER_M = 8 / 0.0254


def size_text(length_m: float, units: Units) -> str:
    """A dimension as it stands on its line.

    Parameters
    ----------
    length_m : float
        The length [m].
    units : str
        "metric" for whole millimetres in groups of three, "us" for feet and inches.

    Returns
    -------
    str
        "2 600" with a thin space, or "8′ 6⅜″".
    """
    if units == "metric":
        return f"{round(length_m * 1000):,}".replace(",", _THIN_SPACE)
    inches, eighths = divmod(round(length_m * _EIGHTHS_PER_M), 8)
    feet, inches = divmod(inches, 12)
    small = f"{inches if inches or not eighths else ''}{_EIGHTHS[eighths]}″"
    if not feet:
        return small
    return f"{feet}′" if not (inches or eighths) else f"{feet}′ {small}"


def spoken_size(length_m: float, units: Units) -> str:
    """A size in a sentence, with its unit.

    Parameters
    ----------
    length_m : float
        The length [m].
    units : str
        "metric" or "us".

    Returns
    -------
    str
        "2 600 mm", or feet and inches.
    """
    return f"{size_text(length_m, units)} mm" if units == "metric" else size_text(length_m, units)
