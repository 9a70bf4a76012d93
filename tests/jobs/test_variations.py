"""A variation is a priced difference: frozen when it goes out, and what it does once it is accepted."""

import datetime
from collections.abc import Callable
from decimal import Decimal

import pytest
from django.db import DatabaseError, transaction
from django.utils import timezone

from jobs.models import (
    BudgetLine,
    Commission,
    Quote,
    Stage,
    StageState,
    Variation,
    VariationAnswer,
    VariationBudget,
    VariationDecision,
    VariationLine,
)
from jobs.queries.stores import needs_of
from jobs.services.drafts import Refused
from jobs.services.variations import (
    AlreadyAnswered,
    change_items,
    choose_reopened,
    issue_variation,
)
from jobs.standing.commission import Standing, standing_of
from jobs.variations.sheets import variation_sheet
from materials.models import Price
from studio.accounts.models import AuditEntry, User
from studio.locking import Conflict
from tests.factories import make_commission, make_person, make_section, price_everything
from tests.jobs.standing_samples import accepted, pass_all, stage_of
from tests.jobs.variation_samples import (
    accept_variation,
    in_words,
    make_issued_variation,
    make_variation,
    worked_out,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner() -> User:
    price_everything(2_000)
    return make_person()


@pytest.fixture
def commission(owner: User) -> Commission:
    return accepted(owner, "Base", "Crown", extras=("haulage",))


def standing(commission: Commission) -> Standing:
    commission.refresh_from_db()
    found = standing_of(commission, on=timezone.localdate(), currency="GBP")
    assert found is not None
    return found


def test_it_is_the_difference_between_two_whole_prices_and_its_parts_sum(commission: Commission, owner: User) -> None:
    items = [in_words(), in_words("engineer", "The engineer's letter", is_omission=True, quantity=3)]
    varied = worked_out(make_variation(commission, owner, items=items))
    was, now = varied.was.priced, varied.now.priced
    assert was
    assert now
    assert varied.price.net_minor == now.price.net_minor - was.price.net_minor
    assert varied.comparison.difference_minor == varied.price.net_minor
    labels = [part.label for part in varied.price.parts]
    assert labels == ["Base, changed as described", "A second delivery", "Left out: The engineer's letter"]
    assert [part.net_minor > 0 for part in varied.price.parts] == [True, True, False]
    # A budget is before contingency and profit; what is in words and the sections are all of the difference.
    base = now.built.base_minor - was.built.base_minor
    assert sum(row.cost.total_minor for row in varied.budget) == base
    rate = commission.tax_category.rate_on(timezone.localdate())
    assert varied.price.tax_minor == round(Decimal(varied.price.net_minor) * rate)


def test_a_price_that_moved_since_the_quote_moves_both_sides(commission: Commission, owner: User) -> None:
    """What is not changed costs nothing, whatever the price book says today."""
    Price.objects.update(amount_minor=9_999)
    nothing = make_variation(commission, owner, changes=[{"section": "Base", "what": "grade", "value": "B"}])
    assert worked_out(nothing).price.net_minor == 0


def test_work_that_is_done_stays_as_it_is_unless_it_is_done_again(commission: Commission, owner: User) -> None:
    """A grade costs hours in every stage of a piece that is not begun, but what is done is not done otherwise."""
    whole = worked_out(make_variation(commission, owner))
    assert {stage.key for stage in whole.touched} >= {"pattern", "mould", "cast", "finish"}
    assert whole.reopened == ()
    for key in ("pattern", "mould", "cast", "finish"):
        pass_all(stage_of(commission, key))
    late = make_variation(commission, owner, title="The same, late")
    varied = worked_out(late)
    assert [stage.key for stage in varied.reopened] == ["finish"]
    assert {stage.key for stage in varied.offered} == {"pattern", "mould", "cast", "finish"}
    assert {"pattern", "mould", "cast"}.isdisjoint(stage.key for stage in varied.touched)
    assert 0 < varied.price.net_minor < whole.price.net_minor
    choose_reopened(by=owner, variation=late, version=late.version, codes=[])
    late.refresh_from_db()
    assert worked_out(late).price.net_minor < varied.price.net_minor


def test_what_was_made_of_a_section_is_not_credited_when_it_is_left_out(commission: Commission, owner: User) -> None:
    omitted = [{"section": "Crown", "what": "omitted", "value": None}]
    all_of_it = worked_out(make_variation(commission, owner, changes=omitted))
    for key in ("pattern", "mould"):
        pass_all(stage_of(commission, key, "Crown"))
    rest = worked_out(make_variation(commission, owner, title="Late", changes=omitted))
    assert all_of_it.price.net_minor < rest.price.net_minor < 0


def test_a_number_is_never_used_twice(commission: Commission, owner: User) -> None:
    first = make_variation(commission, owner)
    accept_variation(first, by=owner, decision=VariationDecision.WITHDRAWN)
    second = make_variation(commission, owner)
    assert (first.number, second.number) == ("26-001 / V1", "26-001 / V2")
    with pytest.raises(Refused, match="Draft 26-001 / V2 has that title already"):
        make_variation(commission, owner)
    with pytest.raises(DatabaseError, match="a variation keeps its number"), transaction.atomic():
        Variation.objects.filter(pk=second.pk).delete()


def test_only_what_is_agreed_is_varied(owner: User) -> None:
    commission = make_commission()
    make_section(commission)
    with pytest.raises(Refused, match="Only what is agreed and in hand can be varied"):
        make_variation(commission, owner)


@pytest.mark.parametrize(
    "change",
    [
        lambda row: Variation.objects.filter(pk=row.pk).update(net_minor=1),
        lambda row: Variation.objects.filter(pk=row.pk).update(scope="Something else"),
        lambda row: row.items.update(quantity=9),
        lambda row: row.items.all().delete(),
        lambda row: row.lines.update(is_minor=1),
        lambda row: row.parts.update(net_minor=1),
        lambda row: row.parts.all().delete(),
        lambda row: VariationLine.objects.create(variation=row, position=99, kind="x", key="x", label="x"),
    ],
)
def test_the_database_refuses_to_alter_what_was_issued(
    commission: Commission, owner: User, change: Callable[[Variation], object]
) -> None:
    row = make_issued_variation(commission, owner, items=[in_words()])
    with pytest.raises(DatabaseError, match="an issued variation is never altered"), transaction.atomic():
        change(row)
    with pytest.raises(Refused, match="is not a draft any more"):
        change_items(by=owner, variation=row, version=row.version, items=[])


def test_whatever_changes_while_it_is_printed_stops_it(commission: Commission, owner: User) -> None:
    variation = make_variation(commission, owner)
    varied = worked_out(variation)
    Variation.objects.filter(pk=variation.pk).update(version=4)
    with pytest.raises(Conflict):
        issue_variation(
            by=owner, varied=varied, said=variation_sheet(varied, by=owner).said, pdf=b"x", at=timezone.now()
        )
    assert Variation.objects.get().issued_at is None


def test_an_accepted_one_moves_budget_standing_and_day_and_leaves_the_quote(
    commission: Commission, owner: User
) -> None:
    commission.needed_by = datetime.date(2027, 3, 1)
    commission.save()
    before, lines = standing(commission), list(BudgetLine.objects.values())
    quote = (
        Quote.objects.filter(pk=before.quote.pk).values("net_minor", "gross_minor", "cost_minor", "pdf_sha256").get()
    )
    allowed = stage_of(commission, "finish").allowed_minutes
    row = make_issued_variation(commission, owner, days=6)
    assert standing(commission).value.budget_minor == before.value.budget_minor
    accept_variation(row, by=None)
    after = standing(commission)
    row.refresh_from_db()
    assert after.value.budget_minor - before.value.budget_minor == sum(
        each.work_minor + each.material_minor + each.sent_out_minor for each in VariationBudget.objects.all()
    )
    assert after.net_minor == before.net_minor + row.net_minor
    assert after.profit_minor - before.profit_minor == row.net_minor - row.cost_minor
    assert (after.quoted_minor, after.varied_minor) == (before.net_minor, row.net_minor)
    assert after.programme.ends - before.programme.ends == datetime.timedelta(days=6)
    assert (commission.needed_by, commission.due_by) == (datetime.date(2027, 3, 1), datetime.date(2027, 3, 7))
    finish = VariationBudget.objects.get(section="Base", stage="finish")
    assert stage_of(commission, "finish").allowed_minutes == allowed + finish.minutes > allowed
    assert list(BudgetLine.objects.values()) == lines
    assert Quote.objects.filter(pk=before.quote.pk).values(*quote).get() == quote
    assert commission.sections.get(name="Base").grade == "A"
    entry = AuditEntry.objects.about(commission.subject).filter(act="Variation 26-001 / V1 accepted").get()
    assert (entry.actor, entry.after["through"]) == (None, "a link")


def test_the_next_variation_stands_on_what_was_agreed(commission: Commission, owner: User) -> None:
    accept_variation(make_issued_variation(commission, owner), by=owner)
    again = make_variation(commission, owner, title="The same once more")
    assert worked_out(again).price.net_minor == 0
    back = make_variation(
        commission, owner, title="Back again", changes=[{"section": "Base", "what": "grade", "value": "B"}]
    )
    assert worked_out(back).price.net_minor == -Variation.objects.get(serial=1).net_minor


def test_a_stage_that_was_passed_is_reopened_with_the_reason(commission: Commission, owner: User) -> None:
    finish, mould = stage_of(commission, "finish"), stage_of(commission, "mould")
    for stage in (finish, mould):
        pass_all(stage)
    accept_variation(make_issued_variation(commission, owner), by=None)
    finish.refresh_from_db()
    mould.refresh_from_db()
    assert (finish.state, mould.state) == (StageState.REOPENED, StageState.PASSED)
    assert finish.moves.latest("pk").reason == "Variation V1: The base in gallery gloss"


def test_what_is_left_out_leaves_the_board_and_gives_back_no_more_than_its_budget(
    commission: Commission, owner: User
) -> None:
    Price.objects.update(amount_minor=7_000)
    row = make_issued_variation(commission, owner, changes=[{"section": "Crown", "what": "omitted", "value": None}])
    accept_variation(row, by=owner)
    after = standing(commission)
    assert not Stage.objects.filter(commission=commission, section__name="Crown").exists()
    assert {each.section for each in after.rows} == {"Base", "Whole commission"}
    assert after.value.budget_minor == sum(each.budget.total_minor for each in after.rows) > 0
    # Credited at today's prices, which are above the quote's: the difference comes out of what was to be left.
    assert after.net_minor < after.quoted_minor


def test_a_section_that_is_added_gets_its_stages(commission: Commission, owner: User) -> None:
    leaf = {**commission_section(commission), "name": "Leaf"}
    make_section(commission, "Leaf")
    row = make_issued_variation(commission, owner, changes=[{"section": "Leaf", "what": "as_drawn", "value": leaf}])
    accept_variation(row, by=owner)
    made = commission.stages.filter(section__name="Leaf")
    assert {"pattern", "mould", "cast", "finish"} <= {stage.key for stage in made}
    assert made.get(key="cast").allowed_minutes == VariationBudget.objects.get(section="Leaf", stage="cast").minutes > 0
    assert any(each.section == "Leaf" and each.budget.total_minor for each in standing(commission).rows)


def commission_section(commission: Commission) -> dict[str, object]:
    """The agreed specification of the Base."""
    return next(each for each in commission.quotes.get().spec["sections"] if each["name"] == "Base")


def test_an_answer_is_written_once_to_the_document_that_was_read(commission: Commission, owner: User) -> None:
    row = make_issued_variation(commission, owner)
    with pytest.raises(Conflict):
        accept_variation(row, by=None, pdf_sha256="0" * 64)
    accept_variation(row, by=None, decision=VariationDecision.DECLINED)
    with pytest.raises(AlreadyAnswered):
        accept_variation(row, by=None)
    assert VariationAnswer.objects.get().decision == "declined"
    assert not VariationBudget.objects.exists()
    with pytest.raises(DatabaseError, match="an answer is never altered"), transaction.atomic():
        VariationAnswer.objects.update(decision="accepted")


def test_a_lapsed_one_is_not_accepted(commission: Commission, owner: User) -> None:
    long_ago = timezone.now() - datetime.timedelta(days=15)
    row = make_issued_variation(commission, owner, at=long_ago)
    assert row.state_on(timezone.localdate()) == "lapsed"
    with pytest.raises(Refused, match="This variation lapsed on"):
        accept_variation(row, by=None)
    assert not VariationAnswer.objects.exists()


def test_of_two_that_change_one_section_the_second_is_issued_anew(commission: Commission, owner: User) -> None:
    first = make_issued_variation(commission, owner)
    second = make_issued_variation(
        commission, owner, title="Three of it", changes=[{"section": "Base", "what": "pulls", "value": 3}]
    )
    beside = make_issued_variation(
        commission, owner, title="The crown too", changes=[{"section": "Crown", "what": "grade", "value": "A"}]
    )
    accept_variation(first, by=owner)
    with pytest.raises(Refused, match="V1 was agreed since and changes the same section"):
        accept_variation(second, by=owner)
    accept_variation(beside, by=owner)
    assert commission.variations.accepted().count() == 2


def test_what_to_buy_follows_what_is_agreed(commission: Commission, owner: User) -> None:
    def needed(key: str, section: str = "Base") -> Decimal:
        found = [each.need for each in needs_of([commission]) if each.need.key == key]
        return sum((need.needed for need in found if need.place.startswith(section)), Decimal(0))

    before, crown = needed("topcoat"), needed("topcoat", "Crown")
    assert needed("clearcoat") == 0
    gel = in_words("gel_coat", "A spare tin", quantity=Decimal(5), stage=stage_of(commission, "finish"))
    accept_variation(make_issued_variation(commission, owner, items=[gel]), by=owner)
    assert needed("clearcoat") > 0
    assert needed("topcoat", "Crown") == crown
    assert before > 0
    own = [each.need for each in needs_of([commission]) if each.need.key == "gel_coat"]
    assert [need.needed for need in own if "finish" in need.place] == [Decimal(5)]
