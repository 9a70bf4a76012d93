"""From hours and costs to a net price, line by line.

Every line is worked out exactly and rounded once, half up; every sum is of
rounded lines. So the lines of a quote sum to its price to the minor unit. The
order is that of the trade, common practice, no source: labour, overhead,
materials, consumables, sent-out work and its handling make the base;
contingency is a share of the base; profit stands on base and contingency.
"""

from dataclasses import dataclass, replace
from decimal import Decimal

from jobs.figures.parts import CostPart, LabourPart
from jobs.figures.profit import Profit
from materials.estimator.errors import EstimatorError
from materials.estimator.ranges import within
from studio.money import round_half_up, working


@dataclass(frozen=True, slots=True)
class Rates:
    """What an hour costs.

    Attributes
    ----------
    wage_minor : Decimal
        Paid to the maker, minor units [1/h].
    oncost : Decimal
        What the employer pays on top, share of the wage [dimensionless].
    productive_share : Decimal
        Productive hours over paid hours, above 0 and at most 1 [dimensionless].
    overhead_minor : Decimal
        Rent, power and office, recovered with each productive hour, minor units [1/h].
    """

    wage_minor: Decimal
    oncost: Decimal
    productive_share: Decimal
    overhead_minor: Decimal

    def __post_init__(self) -> None:
        within("wage of an hour", float(self.wage_minor), "minor units", 0.0, None)
        within("on-cost of wages", float(self.oncost), "", 0.0, 3.0, "Give it as a share of the wage.")
        within("productive share of paid hours", float(self.productive_share), "", 0.05, 1.0)
        within("overhead of an hour", float(self.overhead_minor), "minor units", 0.0, None)

    @property
    def hour_minor(self) -> Decimal:
        """Cost of a productive hour: wage x (1 + on-cost) / productive share, not rounded, minor units [1/h]."""
        with working():
            return self.wage_minor * (1 + self.oncost) / self.productive_share


@dataclass(frozen=True, slots=True)
class Costing:
    """All that a net price depends on.

    Attributes
    ----------
    labour : tuple of LabourPart
    rates : Rates
    materials, sent_out : tuple of CostPart
    consumables_share : Decimal
        Share of materials [dimensionless].
    handling_share : Decimal
        Share of sent-out work [dimensionless].
    contingency_share : Decimal
        Share of the base [dimensionless].
    profit : Margin or MarkUp
    """

    labour: tuple[LabourPart, ...]
    rates: Rates
    materials: tuple[CostPart, ...]
    consumables_share: Decimal
    sent_out: tuple[CostPart, ...]
    handling_share: Decimal
    contingency_share: Decimal
    profit: Profit

    def __post_init__(self) -> None:
        for part in self.labour:
            within(f"hours of {part.label}", float(part.hours), "h", 0.0, None)
        for cost in (*self.materials, *self.sent_out):
            within(f"cost of {cost.label}", cost.amount_minor, "minor units", 0.0, None)
        within("consumables", float(self.consumables_share), "", 0.0, 1.0, "Give a share of the materials.")
        within("handling of sent-out work", float(self.handling_share), "", 0.0, 1.0, "Give a share of its cost.")
        within("contingency", float(self.contingency_share), "", 0.0, 0.9, "Give a share of the base.")

    @property
    def hours(self) -> Decimal:
        """All productive hours [h]."""
        with working():
            return sum((part.hours for part in self.labour), Decimal(0))

    def scaled_to(self, hours: Decimal) -> "Costing":
        """The same costing at another total of hours, each labour line in proportion.

        Parameters
        ----------
        hours : Decimal
            Such as those that four jobs in five stay within [h].

        Returns
        -------
        Costing

        Raises
        ------
        EstimatorError
            When there are no hours to scale.
        """
        if hours == self.hours:
            return self
        if not self.hours:
            raise EstimatorError("hours", hours, f"{hours:g} h cannot be shared out; the quote has no hours yet.")
        with working():
            labour = tuple(replace(part, hours=part.hours * hours / self.hours) for part in self.labour)
        return replace(self, labour=labour)


@dataclass(frozen=True, slots=True)
class BuildUpLine:
    """One line of the build-up.

    Attributes
    ----------
    kind : str
        "labour", "overhead", "material", "consumables", "sent_out", "handling", "contingency" or "profit".
    key, label : str
        The key is the line's own within a quote and the same in every version.
    amount_minor : int
        Minor units [dimensionless].
    quantity : Decimal or None
        In ``unit``.
    unit, note : str
    """

    kind: str
    key: str
    label: str
    amount_minor: int
    quantity: Decimal | None = None
    unit: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class BuildUp:
    """A net price and the lines that sum to it.

    Attributes
    ----------
    lines : tuple of BuildUpLine
    hours : Decimal
        Productive hours [h].
    hour_minor : Decimal
        Cost of a productive hour without overhead, not rounded, minor units [1/h].
    base_minor, cost_minor, net_minor : int
        Before contingency, before profit, before tax; minor units [dimensionless].
    """

    lines: tuple[BuildUpLine, ...]
    hours: Decimal
    hour_minor: Decimal
    base_minor: int
    cost_minor: int
    net_minor: int

    def sum_of(self, *kinds: str) -> int:
        """What the lines of some kinds come to.

        Parameters
        ----------
        *kinds : str
            As in ``BuildUpLine``.

        Returns
        -------
        int
            Minor units [dimensionless].
        """
        return sum(line.amount_minor for line in self.lines if line.kind in kinds)

    @property
    def margin(self) -> float:
        """Profit over net price as it came out after rounding [dimensionless]; 0 when there is no price."""
        return (self.net_minor - self.cost_minor) / self.net_minor if self.net_minor else 0.0


def build_up(costing: Costing) -> BuildUp:
    """Build a net price.

    Parameters
    ----------
    costing : Costing

    Returns
    -------
    BuildUp
        Its lines sum to its net price.

    Raises
    ------
    EstimatorError
        When two lines have one key.
    MoneyError
        When an amount is too large to keep.
    """
    rates, hours, hour_minor = costing.rates, costing.hours, costing.rates.hour_minor
    lines: list[BuildUpLine] = []
    with working():
        for part in costing.labour:
            amount = round_half_up(part.hours * hour_minor)
            lines.append(BuildUpLine("labour", part.key, part.label, amount, part.hours, "h"))
        if rates.overhead_minor:
            amount = round_half_up(hours * rates.overhead_minor)
            lines.append(BuildUpLine("overhead", "overhead", "Overhead", amount, hours, "h"))
        lines += _costs("material", costing.materials, "consumables", "Consumables", costing.consumables_share)
        lines += _costs("sent_out", costing.sent_out, "handling", "Handling of sent-out work", costing.handling_share)
        base = sum(line.amount_minor for line in lines)
        contingency = round_half_up(base * costing.contingency_share)
    cost = base + contingency
    net = costing.profit.price_minor(cost)
    lines.append(BuildUpLine("contingency", "contingency", "Contingency", contingency))
    lines.append(BuildUpLine("profit", "profit", "Profit", net - cost))
    _one_line_a_key(lines)
    return BuildUp(tuple(lines), hours, hour_minor, base, cost, net)


def _costs(kind: str, parts: tuple[CostPart, ...], share_kind: str, label: str, share: Decimal) -> list[BuildUpLine]:
    """Known costs as they are, then a share of their sum."""
    lines = [
        BuildUpLine(kind, part.key, part.label, part.amount_minor, part.quantity, part.unit, part.note)
        for part in parts
    ]
    if share and parts:
        amount = round_half_up(sum(part.amount_minor for part in parts) * share)
        lines.append(BuildUpLine(share_kind, share_kind, label, amount))
    return lines


def _one_line_a_key(lines: list[BuildUpLine]) -> None:
    keys = [line.key for line in lines]
    for key in keys:
        if keys.count(key) > 1:
            raise EstimatorError("line", key, f"The quote has two lines with the key {key!r}; give each its own.")
