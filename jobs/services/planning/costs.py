"""What a supposition would cost more than the plan as things are; minor units, None where a price is missing."""

from dataclasses import dataclass
from decimal import Decimal

from jobs.figures.todo import CAST, CommissionToDo
from jobs.models import BudgetLine, Decision, Quote
from jobs.services.planning.crew import usual_hours
from jobs.services.planning.gather import MOULD, SPRAYING
from jobs.services.planning.problem import Asked
from jobs.services.planning.suppositions import HIRE, PAINT_OUT, SATURDAYS, SECOND_MOULD, Supposition, saturdays
from materials.estimator.errors import EstimatorError
from materials.estimator.studio import StudioFigures
from materials.pricing import PriceBook
from studio.money import exact, round_half_up, working
from studio.office.models import House

BENCH_HOUR = "bench_hour"


@dataclass(frozen=True, slots=True)
class Costs:
    """What costs are worked out by: the price book, figures, the studio's week, and the plan as things are."""

    book: PriceBook
    figures: StudioFigures
    row: House
    asked: Asked

    def of(self, each: Supposition) -> int | None:
        """What one supposition costs, to tens of the currency; nought for what only changes an order or a date."""
        exactly = self._exactly(each)
        return None if exactly is None else round(exactly, -3)

    def _exactly(self, each: Supposition) -> int | None:
        if each.kind == SATURDAYS:
            people = sum(1 for _ in self.asked.crew)
            hours = exact(self.row.hours_per_day) * people * len(saturdays([each]))
            return self._hours(hours, "saturday_premium")
        if each.kind == HIRE:
            week = exact(sum(usual_hours(self.row)))
            return self._hours(week * each.weeks * each.people, "hired_premium")
        if each.kind == PAINT_OUT:
            return self._painting(each)
        if each.kind == SECOND_MOULD:
            lines = BudgetLine.objects.filter(
                quote__commission=int(each.commission),
                quote__decision__decision=Decision.ACCEPTED,
                section=each.section,
                stage=MOULD,
            )
            budgeted = sum(line.labour_minor + line.material_minor + line.sent_out_minor for line in lines)
            return budgeted // self._moulds(each)
        return 0

    def _moulds(self, each: Supposition) -> int:
        """How many moulds a section's budget is for."""
        work = next(work for work in self.asked.commissions if work.id == each.commission)
        return next(stage.moulds for stage in work.stages if stage.key == CAST and stage.section == each.section)

    def _hours(self, hours: Decimal, premium: str) -> int | None:
        """Hours paid with on-cost and a premium."""
        try:
            wage = self.book.hour(BENCH_HOUR)
        except EstimatorError:
            return None
        more = (exact(1 + self.figures.value("oncost")), exact(1 + self.figures.value(premium)))
        with working():
            return round_half_up(hours * wage * more[0] * more[1])

    def _painting(self, each: Supposition) -> int | None:
        """What a paint shop asks for every skin that is still to be sprayed here."""
        item = self.book.items.get(SPRAYING)
        if item is None or not item.packs:
            return None
        area = self._area(next(work for work in self.asked.commissions if work.id == each.commission))
        pack = item.packs[0]
        with working():
            return round_half_up(area * pack.price_minor / pack.quantity)

    def _area(self, work: CommissionToDo) -> Decimal:
        sprayed = {stage.section for stage in work.stages if any(step.in_booth for step in stage.steps)}
        quotes = Quote.objects.filter(commission=int(work.id), decision__decision=Decision.ACCEPTED)
        kept = quotes.values_list("take_off", flat=True).first() or {"sections": ()}
        return exact(
            sum(row["area_m2"] * row["casts"] for row in kept["sections"] if row["name"] in sprayed or "" in sprayed)
        )
