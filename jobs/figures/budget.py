"""What each stage of each section may cost, once a quote is accepted.

A quote's lines of labour, materials and sent-out work are parted among the
sections and stages that need them: labour by likely hours, all else by what
the take-off buys. What no section needs, such as haulage, stands in a row for
the whole commission. The parts sum to the lines to the minor unit.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from types import MappingProxyType

from jobs.figures.quote import BuildUpLine
from materials.estimator.errors import EstimatorError
from materials.estimator.lines import STAGES, TakeOff
from studio.money import exact, round_half_up, split, working

BUDGETED = ("labour", "material", "sent_out")
WHOLE_JOB = ("", "job")
"""Section and stage of the row for what no section needs."""
LABOUR = "labour_"
MINUTES = 60

_Place = tuple[str, str]


@dataclass(frozen=True, slots=True)
class BudgetRow:
    """What one stage of one section may take.

    Attributes
    ----------
    section, stage : str
        Section name and one of ``STAGES``, or both of ``WHOLE_JOB``.
    minutes : int
        Productive minutes [minute].
    labour_minor, material_minor, sent_out_minor : int
        Minor units [dimensionless].
    """

    section: str
    stage: str
    minutes: int
    labour_minor: int
    material_minor: int
    sent_out_minor: int

    @property
    def cost_minor(self) -> int:
        """All three together, minor units [dimensionless]."""
        return self.labour_minor + self.material_minor + self.sent_out_minor


NOWHERE: Mapping[str, _Place] = MappingProxyType({})


def budget_rows(
    take_off: TakeOff, lines: Sequence[BuildUpLine], places: Mapping[str, _Place] = NOWHERE
) -> tuple[BudgetRow, ...]:
    """Part a build-up among sections and stages.

    Parameters
    ----------
    take_off : TakeOff
        The one that the lines were priced from.
    lines : sequence of BuildUpLine
        Of the whole build-up; other kinds than ``BUDGETED`` are passed over.
    places : mapping of str to (str, str)
        Section and stage of lines that the take-off does not give, by their keys.

    Returns
    -------
    tuple of BudgetRow
        By section in the order of the take-off, then by stage; the row of the whole job last.

    Raises
    ------
    EstimatorError
        When a line of labour stands for a stage without hours.

    Notes
    -----
    Common practice, no source.
    """
    sums: dict[_Place, dict[str, int]] = {}
    for line in lines:
        if line.kind not in BUDGETED:
            continue
        weights = {places[line.key]: Decimal(1)} if line.key in places else _weights(take_off, line)
        _add(sums, line.kind, weights, line.amount_minor)
        if line.kind == "labour":
            with working():
                minutes = round_half_up((line.quantity or Decimal(0)) * MINUTES)
            _add(sums, "minutes", weights, minutes)
    return tuple(
        BudgetRow(
            section,
            stage,
            minutes=amounts.get("minutes", 0),
            labour_minor=amounts.get("labour", 0),
            material_minor=amounts.get("material", 0),
            sent_out_minor=amounts.get("sent_out", 0),
        )
        for (section, stage), amounts in sorted(sums.items(), key=lambda row: _order(take_off, row[0]))
    )


def _weights(take_off: TakeOff, line: BuildUpLine) -> dict[_Place, Decimal]:
    """Who needs a line, and how much of it; the whole job where no section does."""
    if line.kind == "labour" and line.key.startswith(LABOUR):
        stage = line.key.removeprefix(LABOUR)
        found = _summed(((each.section, each.stage), each.likely) for each in take_off.hours if each.stage == stage)
        if not found:
            message = f"The take-off has no hours of the stage {stage!r}; work the price out again."
            raise EstimatorError("labour", line.key, message)
    else:
        found = _summed(((each.section, each.stage), each.buy) for each in take_off.lines if each.material == line.key)
    return found if any(found.values()) else {next(iter(found), WHOLE_JOB): Decimal(1)}


def _summed(needs: Iterable[tuple[_Place, float]]) -> dict[_Place, Decimal]:
    found: dict[_Place, Decimal] = {}
    with working():
        for place, need in needs:
            found[place] = found.get(place, Decimal(0)) + exact(need)
    return found


def _add(sums: dict[_Place, dict[str, int]], name: str, weights: dict[_Place, Decimal], total: int) -> None:
    for place, part in zip(weights, split(total, list(weights.values())), strict=True):
        amounts = sums.setdefault(place, {})
        amounts[name] = amounts.get(name, 0) + part


def _order(take_off: TakeOff, place: _Place) -> tuple[int, int]:
    section, stage = place
    names = [figures.name for figures in take_off.sections]
    return (
        names.index(section) if section in names else len(names),
        STAGES.index(stage) if stage in STAGES else len(STAGES),
    )
