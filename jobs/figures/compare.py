"""Two build-ups line by line: what was, what is, and the difference."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.figures.quote import BuildUpLine
from studio.money import working


@dataclass(frozen=True, slots=True)
class Change:
    """One line before and after; None where the line is not there.

    Attributes
    ----------
    kind, key, label, unit : str
        As in ``BuildUpLine``, of the line after where there is one.
    was_minor, is_minor : int or None
        Minor units [dimensionless].
    was_quantity, is_quantity : Decimal or None
        In ``unit``.
    """

    kind: str
    key: str
    label: str
    unit: str
    was_minor: int | None
    is_minor: int | None
    was_quantity: Decimal | None
    is_quantity: Decimal | None

    @property
    def difference_minor(self) -> int:
        """By how much the line rose, minor units [dimensionless]; a line that is not there counts as nought."""
        return (self.is_minor or 0) - (self.was_minor or 0)

    @property
    def difference_quantity(self) -> Decimal | None:
        """By how much the quantity rose, in ``unit``; None where a line counts nothing."""
        if self.was_quantity is None and self.is_quantity is None:
            return None
        with working():
            return (self.is_quantity or Decimal(0)) - (self.was_quantity or Decimal(0))

    @property
    def changed(self) -> bool:
        """Whether anything about the line differs."""
        return self.was_minor != self.is_minor or self.was_quantity != self.is_quantity


@dataclass(frozen=True, slots=True)
class Comparison:
    """Every line of either build-up.

    Attributes
    ----------
    rows : tuple of Change
        In the order of the build-up after; lines that went stand after those of their kind.
    """

    rows: tuple[Change, ...]

    @property
    def changed(self) -> tuple[Change, ...]:
        """The lines that differ."""
        return tuple(row for row in self.rows if row.changed)

    @property
    def was_minor(self) -> int:
        """Sum before, minor units [dimensionless]."""
        return sum(row.was_minor or 0 for row in self.rows)

    @property
    def is_minor(self) -> int:
        """Sum after, minor units [dimensionless]."""
        return sum(row.is_minor or 0 for row in self.rows)

    @property
    def difference_minor(self) -> int:
        """By how much the price rose, minor units [dimensionless]."""
        return self.is_minor - self.was_minor

    @property
    def was_hours(self) -> Decimal:
        """Hours of labour before [h]."""
        with working():
            return sum((row.was_quantity or Decimal(0) for row in self.rows if row.kind == "labour"), Decimal(0))

    @property
    def is_hours(self) -> Decimal:
        """Hours of labour after [h]."""
        with working():
            return sum((row.is_quantity or Decimal(0) for row in self.rows if row.kind == "labour"), Decimal(0))

    @property
    def difference_hours(self) -> Decimal:
        """By how much the hours rose [h]."""
        with working():
            return self.is_hours - self.was_hours


def compare(was: Sequence[BuildUpLine], now: Sequence[BuildUpLine]) -> Comparison:
    """Set two build-ups beside each other by the keys of their lines.

    Parameters
    ----------
    was, now : sequence of BuildUpLine
        Each key at most once in either.

    Returns
    -------
    Comparison
        Its sums are those of the two build-ups.

    Notes
    -----
    Common practice, no source.
    """
    before = {line.key: line for line in was}
    rows = [_change(line, before.pop(line.key, None), line) for line in now]
    for line in before.values():
        same_kind = [index for index, row in enumerate(rows) if row.kind == line.kind]
        rows.insert(same_kind[-1] + 1 if same_kind else len(rows), _change(line, line, None))
    return Comparison(tuple(rows))


def _change(shown: BuildUpLine, was: BuildUpLine | None, now: BuildUpLine | None) -> Change:
    return Change(
        kind=shown.kind,
        key=shown.key,
        label=shown.label,
        unit=shown.unit,
        was_minor=was.amount_minor if was else None,
        is_minor=now.amount_minor if now else None,
        was_quantity=was.quantity if was else None,
        is_quantity=now.quantity if now else None,
    )
