"""The errors of the pure rooms.

Each says in one sentence what was given, what is allowed and, where it helps,
what to do. The offending value stays on the error so that a form can put the
message beside the right field.
"""

from collections.abc import Iterable, Mapping

_LONGEST_SHOWN = 60


def shown(value: object) -> str:
    """What was given, short enough and plain enough to stand in a sentence.

    Parameters
    ----------
    value : object
        Anything at all.

    Returns
    -------
    str
        At most 60 characters of it, those that print; of what holds other values, only that.
    """
    if value is None:
        return "nothing"
    if isinstance(value, Mapping):
        return "a set of named values"
    if isinstance(value, list | tuple | set):
        return "a list"
    if isinstance(value, str):
        plain = "".join(sign if sign.isprintable() else "\ufffd" for sign in value[:_LONGEST_SHOWN])
        return f"'{plain}'" if len(value) <= _LONGEST_SHOWN else f"'{plain}...'"
    try:
        return repr(value)[:_LONGEST_SHOWN]
    except ValueError:
        # Python does not write out a whole number of thousands of digits.
        return "a number of thousands of digits"


def _figure(value: float) -> str:
    try:
        return f"{value:g}"
    except OverflowError:
        return "a number beyond reckoning"


class EstimatorError(ValueError):
    """Base of every error raised by the pure rooms.

    Parameters
    ----------
    name : str
        What the value is, in the user's words ("return width").
    value : object
        What was given.
    message : str
        The whole sentence.
    """

    def __init__(self, name: str, value: object, message: str) -> None:
        self.name = name
        self.value = value
        super().__init__(message)


class OutOfRange(EstimatorError):
    """A number that is not finite, or lies outside what is allowed."""

    def __init__(
        self, name: str, value: float, unit: str, low: float | None = None, high: float | None = None, hint: str = ""
    ) -> None:
        self.unit, self.low, self.high = unit, low, high
        suffix = f" {unit}" if unit else ""
        if low is not None and high is not None:
            allowed = f"between {low:g} and {high:g}{suffix}"
        elif low is not None:
            allowed = f"at least {low:g}{suffix}"
        elif high is not None:
            allowed = f"at most {high:g}{suffix}"
        else:
            allowed = "a finite number"
        sentence = f"{name} is {_figure(value)}{suffix}; it must be {allowed}."
        super().__init__(name, value, f"{sentence} {hint}".rstrip())


class UnknownChoice(EstimatorError):
    """A word that is not one of those known here."""

    def __init__(self, name: str, value: object, choices: Iterable[str]) -> None:
        self.choices = tuple(choices)
        super().__init__(name, value, f"{name} {shown(value)} is not known; use one of {', '.join(self.choices)}.")


class Missing(EstimatorError):
    """Something that cannot be assumed was not given."""

    def __init__(self, name: str, hint: str) -> None:
        super().__init__(name, None, f"{name} is missing; {hint}")


class WrongKind(EstimatorError):
    """A value of another kind than is wanted: a bare number for a length, a list for a text."""

    def __init__(self, name: str, value: object, wanted: str) -> None:
        self.wanted = wanted
        super().__init__(name, value, f"{name} is {shown(value)}; it must be {wanted}.")
