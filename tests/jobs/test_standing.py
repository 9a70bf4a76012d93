"""How a commission stands: its budget is the quote's, its cost what was booked, issued and sent out."""

import datetime
import uuid
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from jobs.models import Commission, SentOutWork
from jobs.pictures.standing import bars, columns
from jobs.services.issues import give_back, issue
from jobs.services.sent_out import send_material
from jobs.standing.commission import Standing, standing_of
from materials.models import Price
from studio.accounts.models import User
from tests.factories import make_commission, make_item, make_lot, make_person, price_everything
from tests.jobs.standing_samples import accepted, book, do_steps, pass_all, stage_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner() -> User:
    price_everything(2_000)
    return make_person()


@pytest.fixture
def commission(owner: User) -> Commission:
    return accepted(owner, "Base", "Crown")


def standing(commission: Commission, days: int = 0) -> Standing:
    on = timezone.localdate() + datetime.timedelta(days=days)
    found = standing_of(commission, on=on, currency="GBP")
    assert found is not None
    return found


def row(found: Standing, key: str, section: str = "Base"):
    return next(each for each in found.rows if (each.section, each.stage) == (section, key.capitalize()))


def share(commission: Commission, key: str) -> float:
    """A share that the accepted quote was worked by."""
    return standing(commission).quote.figures["coefficients"][key]["value"]


def send_out(commission: Commission, agreed_minor: int, **values) -> SentOutWork:
    day = timezone.localdate()
    given = {"what": "Haulage", "firm": "Brome", "ordered_on": day, "currency": "GBP", **values}
    return SentOutWork.objects.create(commission=commission, agreed_minor=agreed_minor, **given)


def test_before_a_quote_is_accepted_there_is_no_standing():
    assert standing_of(make_commission(), on=timezone.localdate(), currency="GBP") is None


@pytest.mark.parametrize("extras", [(), ("haulage", "engineer"), ("haulage", "bench_hour"), ("steel",)])
def test_the_budget_is_the_base_of_the_quote_to_the_minor_unit(owner: User, extras: tuple[str, ...]):
    found = standing(accepted(owner, extras=extras))
    base = (found.quote.cost_minor or 0) - found.contingency_minor
    assert found.value.budget_minor == base == found.budget.total_minor
    assert sum(group.budget_minor for group in found.groups) == base


def test_nothing_is_spent_or_earned_on_the_day_of_acceptance(commission: Commission):
    value = standing(commission).value
    assert (value.planned_minor, value.earned_minor, value.actual_minor) == (0, 0, 0)


def test_hours_cost_wage_on_cost_and_overhead_of_their_day(commission: Commission, owner: User):
    today = timezone.localdate()
    for price in Price.objects.filter(pack__item__key__in=["bench_hour", "overhead_hour"]):
        price.pk, price.amount_minor, price.valid_from = None, 3_000, today - datetime.timedelta(days=2)
        price.save()
    cast = stage_of(commission, "cast")
    book(cast, owner, 120, days_ago=5)
    book(cast, owner, 60, days_ago=2)
    figures = standing(commission).quote.figures["coefficients"]
    paid = (1 + figures["oncost"]["value"]) / figures["productive_share"]["value"]
    expected = 2 * (2_000 * paid + 2_000) + 1 * (3_000 * paid + 3_000)
    assert row(standing(commission), "cast").spent.work_minor == pytest.approx(expected, abs=0.5)


def test_before_the_price_book_begins_an_hour_costs_what_was_quoted(commission: Commission, owner: User):
    book(stage_of(commission, "cast"), owner, 60)
    before = row(standing(commission), "cast").spent
    Price.objects.filter(pack__item__key__in=["bench_hour", "overhead_hour"]).delete()
    assert row(standing(commission), "cast").spent == before


def test_hours_taken_back_cost_nothing(commission: Commission, owner: User):
    entry = book(stage_of(commission, "cast"), owner, 60)
    entry.pk, entry.minutes, entry.reverses_id, entry.key = None, -60, entry.pk, uuid.uuid4()
    entry.save(force_insert=True)
    found = row(standing(commission), "cast")
    assert (found.spent.total_minor, found.booked_minutes) == (0, 0)


def test_material_costs_what_it_was_issued_at_with_consumables(commission: Commission, owner: User):
    stage, lot = stage_of(commission, "mould"), make_lot(make_item(), "25", 10_000)
    issue(by=owner, stage=stage, lot=lot, quantity=Decimal(10), key=uuid.uuid4())
    give_back(by=owner, stage=stage, lot=lot, quantity=Decimal(4), key=uuid.uuid4())
    assert row(standing(commission), "mould").spent.material_minor == round(
        2_400 * (1 + share(commission, "consumables"))
    )


def test_sent_out_work_counts_once_it_is_back_or_charged(commission: Commission):
    stage = stage_of(commission, "pattern")
    work = send_out(commission, 50_000, stage=stage)
    assert standing(commission).ordered_minor == 50_000
    assert standing(commission).value.actual_minor == 0
    work.back_on = timezone.localdate()
    work.save()
    handled = 1 + share(commission, "sent_out_handling")
    assert handled > 1
    assert row(standing(commission), "pattern").spent.sent_out_minor == round(50_000 * handled)
    work.charged_minor = 62_000
    work.save()
    found = standing(commission)
    assert row(found, "pattern").spent.sent_out_minor == round(62_000 * handled)
    assert found.ordered_minor == 0


def test_deliveries_earn_as_they_are_spent_up_to_their_budget(owner: User):
    commission = accepted(owner, extras=("haulage", "bench_hour"))
    budget = standing(commission).rows[-1].budget
    assert (budget.work_minor, budget.sent_out_minor > 0) == (0, True)
    send_out(commission, 100, charged_minor=100)
    other = standing(commission).rows[-1]
    assert other.earned_minor == other.spent.total_minor
    assert other.left_minor == 0
    send_out(commission, 10**6, charged_minor=10**6)
    other = standing(commission).rows[-1]
    assert other.earned_minor == budget.total_minor
    assert other.over_minor == other.spent.total_minor - budget.total_minor


def test_what_is_in_another_currency_is_said_and_not_counted(commission: Commission):
    send_out(commission, 50_000, charged_minor=50_000, currency="EUR")
    found = standing(commission)
    assert (found.left_out, found.value.actual_minor) == (1, 0)


@pytest.mark.parametrize(("then", "later"), [(None, None), (None, "cast"), ("cast", "cast"), ("cast", None)])
def test_material_that_went_with_work_is_counted_once(
    commission: Commission, owner: User, then: str | None, later: str | None
):
    lot = make_lot(make_item(), "25", 10_000)
    work = send_out(commission, 1_000, stage=stage_of(commission, then) if then else None)
    send_material(by=owner, work=work, lot=lot, quantity=Decimal(10), key=uuid.uuid4())
    work.stage = stage_of(commission, later) if later else None
    work.save()
    assert 4_000 <= standing(commission).value.actual_minor < 5_000


def test_steps_and_the_passing_earn_the_budget_of_a_stage(commission: Commission):
    stage = stage_of(commission, "mould")
    steps = stage.steps.count()
    do_steps(stage, 2)
    found = row(standing(commission), "mould")
    assert found.earned_minor == pytest.approx(found.budget.total_minor * 2 / (steps + 1), abs=0.5)
    pass_all(stage)
    found = row(standing(commission), "mould")
    assert found.earned_minor == found.budget.total_minor


def test_stage_forecasts_sum_to_the_first_forecast(commission: Commission, owner: User):
    do_steps(stage_of(commission, "pattern"), 3)
    pass_all(stage_of(commission, "pattern", "Crown"))
    book(stage_of(commission, "pattern"), owner, 3_000)
    found = standing(commission, days=10)
    assert found.total.forecast_minor == found.outlooks[0].forecast.at_completion_minor
    assert found.total.left_minor == found.value.budget_minor - found.total.forecast_minor


def test_it_says_which_stage_is_past_its_budget_since_when_and_by_how_much(commission: Commission, owner: User):
    pattern = stage_of(commission, "pattern")
    book(pattern, owner, 60, days_ago=9)
    book(pattern, owner, pattern.allowed_minutes, days_ago=6)
    book(pattern, owner, 100_000, days_ago=3)
    found = standing(commission)
    (worst,) = found.troubles
    assert worst.is_past
    assert worst.name == "Base, pattern"
    assert worst.hours_past_since == timezone.localdate() - datetime.timedelta(days=6)
    assert worst.budget_past_since == timezone.localdate() - datetime.timedelta(days=3)
    assert worst.over_minor == worst.spent.total_minor - worst.earned_minor
    assert [name for name, _ in worst.over_by] == ["hours"]


def test_a_stage_that_earns_less_than_it_costs_is_heading_past_its_budget(commission: Commission, owner: User):
    pattern = stage_of(commission, "pattern")
    do_steps(pattern, 1)
    book(pattern, owner, pattern.allowed_minutes // 2)
    found = standing(commission)
    assert [(each.name, each.is_past) for each in found.troubles] == [("Base, pattern", False)]


def test_the_programme_begins_with_the_first_hours_where_those_came_before(commission: Commission, owner: User):
    today = timezone.localdate()
    assert standing(commission).programme.begins == today
    book(stage_of(commission, "pattern"), owner, 60, days_ago=20)
    programme = standing(commission).programme
    assert programme.begins == today - datetime.timedelta(days=20)
    weeks = commission.quotes.get().programme_weeks
    assert weeks
    assert programme.ends == programme.begins + datetime.timedelta(weeks=weeks)


def test_a_commission_done_within_its_budget_leaves_contingency_and_profit(commission: Commission, owner: User):
    for stage in commission.stages.all():
        pass_all(stage)
    book(stage_of(commission, "cast"), owner, 600)
    found = standing(commission, days=400)
    assert found.value.earned_minor == found.value.budget_minor
    assert {each.forecast.at_completion_minor for each in found.outlooks} == {found.value.actual_minor}
    assert found.expected.margin_minor == found.net_minor - found.value.actual_minor
    assert found.must_earn_by_a_hundred is None


def test_the_queries_are_the_same_however_much_there_is(owner: User):
    small, large = accepted(owner, "Base"), accepted(owner, *"ABCDEFGH", title="Eight")
    item = make_item()
    for number, stage in enumerate(large.stages.all()):
        for days in range(5):
            book(stage, owner, 30, days_ago=days)
        issue(by=owner, stage=stage, lot=make_lot(item), quantity=Decimal(1), key=uuid.uuid4())
        send_out(large, 100 + number, stage=stage, charged_minor=100)
    book(stage_of(small, "cast"), owner, 30)
    counts = []
    for commission in (small, large):
        with CaptureQueriesContext(connection) as queries:
            standing(commission).outlooks  # noqa: B018 - read for its queries
        counts.append(len(queries))
    assert counts[0] == counts[1] <= 11


def test_bars_reach_no_further_than_the_longest(commission: Commission, owner: User):
    book(stage_of(commission, "cast"), owner, 9_000)
    found = bars(standing(commission).rows)
    lengths = [float(each.removesuffix("%")) for bar in found for each in (bar.budget, bar.spent, bar.forecast)]
    assert max(lengths) == 100
    assert [bar.name for bar in found][:3] == ["Pattern", "Mould", "Cast"]
    assert next(bar for bar in found if bar.name == "Cast").over_minor > 0


def test_columns_stand_for_every_week_from_the_first_to_now(commission: Commission, owner: User):
    today = timezone.localdate()
    book(stage_of(commission, "cast"), owner, 600, days_ago=21)
    book(stage_of(commission, "cast"), owner, 300, days_ago=0)
    booked = standing(commission).booked
    assert [column.minutes for column in columns(booked, today, goes_on=True)] == [600, 0, 0, 300]
    assert len(columns(booked[:1], today, goes_on=False)) == 1
    assert columns((), today, goes_on=True) == ()
