"""One commission's price, worked out from its sections, extras and terms by the prices of a day."""

import datetime
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

from jobs.figures.budget import budget_rows
from jobs.figures.judgement import price_cautions
from jobs.figures.parts import CostPart, LabourPart, cost_parts, labour_parts
from jobs.figures.price import Payment, PaymentStage, Price, PricePart, price_with_tax, stage_payments
from jobs.figures.profit import Margin, MarkUp
from jobs.figures.programme import Programme, programme, section_holds
from jobs.figures.quote import BuildUp, Costing, Rates, build_up
from jobs.figures.threepoint import JobHours, job_hours
from jobs.models import Quote
from jobs.services.drafts import Beside, Drafted
from materials.estimator.errors import EstimatorError, Missing
from materials.estimator.lines import Caution, Line, TakeOff
from materials.estimator.spec import JobSpec
from materials.estimator.studio import StudioFigures
from materials.estimator.takeoff import take_off
from materials.models import ItemKind
from materials.pricing import SERVICE, MissingPrice, PackMode, PriceBook, PricedTakeOff, price_take_off
from materials.queries.figures import studio_figures
from materials.queries.prices import price_book_on
from materials.specfile import read_spec
from studio.money import exact, round_half_up, working
from studio.office.models import House, ProfitKind
from studio.office.queries import house

BENCH_HOUR, OVERHEAD_HOUR = "bench_hour", "overhead_hour"
CRATE = "crate"
SQUARE_FOOT_M2 = 0.3048**2
METHOD = (
    "Three-point hours by PERT: the ranges of a step are added over the sections, steps err independently of one"
    " another, and their sum is taken as normal"
)


@dataclass(frozen=True, slots=True)
class Priced:
    """A whole price: the build-up inside, the parts outside."""

    built: BuildUp
    price: Price
    payments: tuple[Payment, ...]
    p50_net_minor: int
    p80_net_minor: int
    cautions: tuple[Caution, ...]

    @property
    def profit_minor(self) -> int:
        """What stays after all costs, minor units."""
        return self.built.net_minor - self.built.cost_minor


@dataclass(frozen=True, slots=True)
class Working:
    """A price and all it was worked from; ``priced`` is None while a price is missing."""

    on: datetime.date
    house: House
    spec: dict[str, Any]
    job: JobSpec
    figures: StudioFigures
    book: PriceBook
    take_off: TakeOff
    hours: JobHours
    programme: Programme
    missing: tuple[MissingPrice, ...]
    priced: Priced | None

    @property
    def currency(self) -> str:
        """ISO 4217 code of every amount."""
        return self.book.currency

    @property
    def area_m2(self) -> float:
        """Skin of all casts together [m^2]."""
        return sum(section.area_m2 * section.casts for section in self.take_off.sections)

    @property
    def per_m2_minor(self) -> int | None:
        """Net price per square metre of skin, minor units [1/m^2]."""
        return self._per(self.area_m2)

    @property
    def per_square_foot_minor(self) -> int | None:
        """Net price per square foot of skin, minor units [1/ft^2]."""
        return self._per(self.area_m2 / SQUARE_FOOT_M2)

    def _per(self, area: float) -> int | None:
        if self.priced is None or not area:
            return None
        with working():
            return round_half_up(self.priced.price.net_minor / exact(area))


def _as_worked(worked: TakeOff) -> TakeOff:
    return worked


def work_out(
    *,
    drafted: Drafted,
    spec: dict[str, Any],
    on: datetime.date,
    amended: Callable[[TakeOff], TakeOff] = _as_worked,
) -> Working:
    """Work a draft out by the studio's figures and the prices of a day; ``spec`` is its sections' specification.

    ``amended`` has the last word on the take-off, where part of the work is done already.

    Raises EstimatorError where the sections or the terms cannot be worked.
    """
    row, figures, terms = house(), studio_figures(), drafted.draft
    book = price_book_on(on, row.currency)
    job = read_spec(spec, defaults=figures)
    worked = amended(take_off(job))
    hours = job_hours(worked.hours)
    materials, sent_out, missing = _costs(worked, drafted.extras, book, terms)
    labour = (*labour_parts(worked.hours), *_labour_of(drafted.extras))
    missing += _missing_hours(book)
    priced = None
    if not missing:
        costing = Costing(
            labour=labour,
            rates=_rates(book, figures),
            materials=materials,
            consumables_share=exact(figures.value("consumables")),
            sent_out=sent_out,
            handling_share=exact(figures.value("sent_out_handling")),
            contingency_share=terms.contingency,
            profit=_profit(terms),
        )
        priced = _price(drafted, costing, worked, hours, figures, on)
    return Working(
        on=on,
        house=row,
        spec=spec,
        job=job,
        figures=figures,
        book=book,
        take_off=worked,
        hours=hours,
        programme=_programme(job, figures, row, labour),
        missing=missing,
        priced=priced,
    )


def _price(
    drafted: Drafted,
    costing: Costing,
    worked: TakeOff,
    hours: JobHours,
    figures: StudioFigures,
    on: datetime.date,
) -> Priced:
    built = build_up(costing)
    category = drafted.commission.tax_category
    price = price_with_tax(built.net_minor, _parts(worked, built, category.name), {category.name: category.rate_on(on)})
    stages = [PaymentStage(stage["label"], Decimal(stage["share"])) for stage in drafted.draft.payment_stages]
    beyond = costing.hours - sum((exact(line.likely) for line in worked.hours), Decimal(0))
    contingency = figures.coefficients["contingency"]
    return Priced(
        built=built,
        price=price,
        payments=stage_payments(price.gross_minor, stages),
        p50_net_minor=_net_at(costing, hours.p50, beyond),
        p80_net_minor=_net_at(costing, hours.p80, beyond),
        cautions=(
            *worked.warnings,
            *price_cautions(built, drafted.draft.contingency, contingency),
            *_thin_margin(built, figures),
        ),
    )


def _net_at(costing: Costing, hours: float, beyond: Decimal) -> int:
    """The net price at other hours of the take-off; those of extras are known and stay."""
    with working():
        return build_up(costing.scaled_to(exact(hours) + beyond)).net_minor


def _parts(worked: TakeOff, built: BuildUp, category: str) -> list[PricePart]:
    """A part a section, and one for crates and all that no section needs; each bears of the price what it costs."""
    costs = {section.name: 0 for section in worked.sections}
    crates, beside = 0, 0
    for row in budget_rows(worked, built.lines):
        if row.stage == CRATE:
            crates += row.cost_minor
        elif row.section in costs:
            costs[row.section] += row.cost_minor
        else:
            beside += row.cost_minor
    parts = list(costs.items())
    if crates or beside:
        labels = {(True, True): "Crates, delivery and other work", (True, False): "Crates"}
        parts.append((labels.get((bool(crates), bool(beside)), "Delivery and other work"), crates + beside))
    if not any(cost for _, cost in parts):
        parts = [(label, 1) for label, _ in parts]
    return [PricePart(label, Decimal(cost), category) for label, cost in parts]


def _costs(
    worked: TakeOff, extras: Iterable[Beside], book: PriceBook, terms: Quote
) -> tuple[tuple[CostPart, ...], tuple[CostPart, ...], tuple[MissingPrice, ...]]:
    """Materials, sent-out work, and what has no price; services are not sold in packs, so the need is charged."""
    mode: PackMode = "packs" if terms.pack_mode == "packs" else "pro_rata"
    services = {key for key, item in book.items.items() if item.kind == SERVICE}
    bought = [line for line in worked.lines if line.material not in services]
    called = [line for line in worked.lines if line.material in services]
    of_sections = [_priced(bought, book, mode), _priced(called, book, "pro_rata")]
    materials = [part for priced in of_sections for part in cost_parts(priced.materials)]
    sent_out = [_as_needed(part) for priced in of_sections for part in cost_parts(priced.sent_out)]
    missing = {item.key: item for priced in of_sections for item in priced.missing}
    for extra in extras:
        if extra.item.kind == ItemKind.HOUR:
            continue
        quantity = float(extra.quantity)
        line = Line("", "", extra.item.key, quantity, quantity, extra.item.unit, "as entered", ())
        priced = _priced([line], book, "pro_rata" if extra.item.kind == SERVICE else mode)
        key, label = extra.key, extra.label
        materials += [replace(part, key=key, label=label) for part in cost_parts(priced.materials)]
        sent_out += [replace(_as_needed(part), key=key, label=label) for part in cost_parts(priced.sent_out)]
        missing |= {item.key: item for item in priced.missing}
    return tuple(materials), tuple(sent_out), tuple(missing.values())


def _priced(lines: Sequence[Line], book: PriceBook, mode: PackMode) -> PricedTakeOff:
    return price_take_off(TakeOff("", (), tuple(lines), (), ()), book, mode=mode)


def _as_needed(part: CostPart) -> CostPart:
    """Sent-out work is not ordered in packs, so none are named beside it."""
    return replace(part, note="")


def _labour_of(extras: Iterable[Beside]) -> tuple[LabourPart, ...]:
    return tuple(
        LabourPart(extra.key, extra.label, extra.quantity) for extra in extras if extra.item.kind == ItemKind.HOUR
    )


def _missing_hours(book: PriceBook) -> tuple[MissingPrice, ...]:
    found = []
    for key in (BENCH_HOUR, OVERHEAD_HOUR):
        try:
            book.hour(key)
        except EstimatorError:
            found.append(MissingPrice(key, f"{key} has no price on {book.on}"))
    return tuple(found)


def _rates(book: PriceBook, figures: StudioFigures) -> Rates:
    return Rates(
        wage_minor=book.hour(BENCH_HOUR),
        oncost=exact(figures.value("oncost")),
        productive_share=exact(figures.value("productive_share")),
        overhead_minor=book.hour(OVERHEAD_HOUR),
    )


def _profit(terms: Quote) -> Margin | MarkUp:
    return Margin(terms.profit_rate) if terms.profit_kind == ProfitKind.MARGIN else MarkUp(terms.profit_rate)


def _programme(job: JobSpec, figures: StudioFigures, row: House, labour: Sequence[LabourPart]) -> Programme:
    if not row.working_days:
        raise Missing("The studio's working days", "set them in the office, under the working week.")
    week = len(row.working_days) * float(row.hours_per_day) * figures.value("productive_share")
    hours = sum((part.hours for part in labour), Decimal(0))
    holds = [section_holds(section, figures.coefficients) for section in job.sections]
    return programme(float(hours), row.bench_crew, week, holds)


def _thin_margin(built: BuildUp, figures: StudioFigures) -> tuple[Caution, ...]:
    usual: Mapping[str, Any] = figures.coefficients
    least = usual["margin"].low
    if built.margin >= least:
        return ()
    text = (
        f"The margin is {built.margin:.1%}; under {least:.0%} leaves no room for a bad seam. Look at the price again."
    )
    return (Caution("", "thin_margin", text),)
