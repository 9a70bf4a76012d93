"""What a commission may cost, and what it has cost, by stage and by day."""

import datetime
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from jobs.figures.quote import Rates
from jobs.figures.standing import Cost, HourRate, rate_on, work_minor
from jobs.models import Quote, SentOutWork
from jobs.queries.standing import Booked, Issued, prices_of_hours
from jobs.services.pricing import BENCH_HOUR, OVERHEAD_HOUR
from studio.money import exact, round_half_up, working

Dated = list[tuple[datetime.date, Decimal]]


@dataclass(frozen=True, slots=True)
class Shares:
    """What the quote adds to materials and to sent-out work, as shares of them."""

    consumables: Decimal
    handling: Decimal


@dataclass(slots=True)
class Spent:
    """What was booked, issued and sent out for one place, exact and by day."""

    minutes: list[tuple[datetime.date, int]] = field(default_factory=list)
    work: Dated = field(default_factory=list)
    material: Dated = field(default_factory=list)
    sent_out: Dated = field(default_factory=list)

    @property
    def dated(self) -> Dated:
        """All of it by day."""
        return [*self.work, *self.material, *self.sent_out]

    @property
    def cost(self) -> Cost:
        """All of it, each sort rounded once."""
        with working():
            work, material, sent_out = (
                round_half_up(sum((amount for _, amount in part), Decimal(0)))
                for part in (self.work, self.material, self.sent_out)
            )
        return Cost(work, material, sent_out)


def shares_of(quote: Quote) -> Shares:
    """The shares that an accepted version was worked by."""
    return Shares(_kept_figure(quote, "consumables"), _kept_figure(quote, "sent_out_handling"))


def hour_rates(quote: Quote, currency: str) -> tuple[HourRate, ...]:
    """What a productive hour cost from which day on; before the price book begins, and in another currency, as quoted.

    The wage and the overhead are those of the price book, the on-cost and the productive share those of the quote.
    """
    kept = quote.price_book["items"]
    prices = {key: [(datetime.date.min, _kept_price(kept[key]))] for key in (BENCH_HOUR, OVERHEAD_HOUR)}
    if currency == quote.currency:
        for key, found in prices_of_hours((BENCH_HOUR, OVERHEAD_HOUR)).items():
            prices[key] += found
    oncost, productive = (_kept_figure(quote, key) for key in ("oncost", "productive_share"))
    days = sorted({day for found in prices.values() for day, _ in found})
    rates = []
    for day in days:
        wage, overhead = (_price_on(prices[key], day) for key in (BENCH_HOUR, OVERHEAD_HOUR))
        hour = Rates(wage, oncost, productive, overhead)
        with working():
            rates.append(HourRate(day, hour.hour_minor + overhead))
    return tuple(rates)


def add_hours(spent: dict[int, Spent], booked: Iterable[Booked], rates: Sequence[HourRate]) -> None:
    """Put hours where they were booked, at what an hour cost on their day."""
    for each in booked:
        place = spent[each.stage]
        place.minutes.append((each.day, each.minutes))
        place.work.append((each.day, work_minor(each.minutes, rate_on(rates, each.day))))


def add_material(spent: dict[int, Spent], whole: Spent, issued: Iterable[Issued], share: Decimal) -> None:
    """Put material where it went, with its consumables."""
    with working():
        for each in issued:
            place = whole if each.stage is None else spent[each.stage]
            place.material.append((each.day, each.value_minor * (1 + share)))


def add_sent_out(place: Spent, work: SentOutWork, share: Decimal) -> None:
    """Put sent-out work where it belongs, with its handling."""
    day = work.back_on or work.out_on or work.ordered_on
    with working():
        place.sent_out.append((day, cost_of(work) * (1 + share)))


def cost_of(work: SentOutWork) -> int:
    """What sent-out work costs: as charged, or as agreed while no charge has come."""
    return work.agreed_minor if work.charged_minor is None else work.charged_minor


def is_spent(work: SentOutWork) -> bool:
    """Whether sent-out work counts as spent: it is back, or was charged."""
    return work.back_on is not None or work.charged_minor is not None


def _kept_figure(quote: Quote, key: str) -> Decimal:
    return exact(quote.figures["coefficients"][key]["value"])


def _kept_price(item: dict[str, list[dict[str, str | int]]]) -> Decimal:
    pack = item["packs"][0]
    with working():
        return exact(pack["price_minor"]) / exact(pack["quantity"])


def _price_on(prices: Iterable[tuple[datetime.date, Decimal]], day: datetime.date) -> Decimal:
    return max((price for price in prices if price[0] <= day), key=lambda price: price[0])[1]
