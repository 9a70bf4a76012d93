"""One object of a specification, read field by field; an error says where it stands."""

import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager

from materials.estimator.errors import EstimatorError, Missing, OutOfRange, UnknownChoice, WrongKind
from materials.units import Kind, parse
from materials.units.kinds import rule_of

LONGEST_TEXT = 200
_NOT_IN_TEXT = ("Cc", "Cs", "Zl", "Zp")


class Misfit(EstimatorError):
    """A value that the estimator refuses, with the place in the specification where it stands."""

    def __init__(self, where: str, error: EstimatorError) -> None:
        super().__init__(error.name, error.value, f"{where}: {error}")


@contextmanager
def standing_at(where: str) -> Iterator[None]:
    """Say of an estimator's refusal where in the specification it arose."""
    try:
        yield
    except EstimatorError as error:
        raise Misfit(where, error) from None


class Fields:
    """The named values of one object, of which only ``known`` ones may be given."""

    def __init__(self, data: object, where: str, known: Sequence[str]) -> None:
        self.where = where
        if not isinstance(data, Mapping):
            raise WrongKind(where or "The specification", data, f"a set of named values: {', '.join(known)}")
        for key in data:
            if key not in known:
                raise UnknownChoice(self.place("field"), key, known)
        self._data = data

    def place(self, key: str) -> str:
        """The place of a field, as an error names it."""
        return f"{self.where}, {key}" if self.where else key

    def has(self, key: str) -> bool:
        """Whether a field is given."""
        return key in self._data

    def raw(self, key: str, hint: str) -> object:
        """A field that has to be given, as it stands."""
        if key not in self._data:
            raise Missing(self.place(key), hint)
        return self._data[key]

    def text(self, key: str, default: str | None = None) -> str:
        """A short text."""
        if default is not None and not self.has(key):
            return default
        value = self.raw(key, "give it as text.")
        if not isinstance(value, str) or not value.strip():
            raise WrongKind(self.place(key), value, "a text that is not empty")
        if len(value) > LONGEST_TEXT or any(unicodedata.category(sign) in _NOT_IN_TEXT for sign in value):
            raise WrongKind(self.place(key), value, f"one line of at most {LONGEST_TEXT} letters")
        return value.strip()

    def quantity(self, key: str, kind: Kind, default: float | None = None, *, allow_zero: bool = False) -> float:
        """A quantity written as text with its unit, in the base unit of its kind."""
        if default is not None and not self.has(key):
            return default
        rule = rule_of(kind)
        value = self.raw(key, f'give {rule.noun} with its unit, such as "{rule.example}".')
        return quantity(value, kind, self.place(key), allow_zero=allow_zero)

    def number(self, key: str, default: float | None = None) -> float:
        """A number without a unit."""
        if default is not None and not self.has(key):
            return default
        return number(self.raw(key, "give a number."), self.place(key))

    def whole(self, key: str, default: int | None = None) -> int:
        """A whole number."""
        if default is not None and not self.has(key):
            return default
        value = self.raw(key, "give a whole number.")
        if isinstance(value, bool) or not isinstance(value, int):
            raise WrongKind(self.place(key), value, "a whole number")
        return value

    def flag(self, key: str, *, default: bool) -> bool:
        """True or false."""
        value = self._data.get(key, default)
        if not isinstance(value, bool):
            raise WrongKind(self.place(key), value, "true or false")
        return value

    def inner(self, key: str, known: Sequence[str]) -> "Fields":
        """The object under a field; an empty one where it is left out."""
        return Fields(self._data.get(key, {}), self.place(key), known)

    def listing(self, key: str, hint: str) -> list[object]:
        """A list that has to be given."""
        value = self.raw(key, hint)
        if not isinstance(value, list | tuple):
            raise WrongKind(self.place(key), value, "a list")
        return list(value)


def quantity(value: object, kind: Kind, name: str, *, allow_zero: bool = False) -> float:
    """A quantity written as text with its unit, in the base unit of its kind."""
    rule = rule_of(kind)
    if not isinstance(value, str):
        raise WrongKind(name, value, f'{rule.noun} as text with its unit, such as "{rule.example}" ({rule.advice})')
    return parse(value, kind, name, allow_zero=allow_zero)


def number(value: object, name: str) -> float:
    """A number without a unit; true and false are none."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise WrongKind(name, value, "a number")
    try:
        return float(value)
    except OverflowError:
        raise OutOfRange(name, value, "", high=1e9) from None
