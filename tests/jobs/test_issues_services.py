"""Material to a stage and back, and what a commission needs still."""

import datetime
import uuid
from decimal import Decimal

import pytest

from jobs.models import Commission, CommissionState, Section, StageIssue, StageState
from jobs.queries.stores import issues_from, needs_of
from jobs.services.extras import add_extra
from jobs.services.issues import give_back, issue, issued_lots
from jobs.services.quotes import answer
from jobs.stores.sheet import batch_rows
from materials.models import Item, Lot, Movement
from materials.services.stores import balance_of
from materials.stock.averaging import Held
from materials.stock.errors import StoresError
from studio.accounts.models import User
from studio.once import KeyUsed
from tests.factories import (
    make_commission,
    make_issued,
    make_item,
    make_lot,
    make_person,
    make_section,
    make_stage_in_hand,
    price_everything,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def bench() -> User:
    return make_person("bench")


def test_an_issue_is_tied_to_its_stage_and_said_in_the_ledger(bench: User) -> None:
    stage, lot = make_stage_in_hand(), make_lot(make_item())
    moved = issue(by=bench, stage=stage, lot=lot, quantity=Decimal(4), key=uuid.uuid4())
    assert moved.stage_issue.stage == stage
    assert (moved.quantity, moved.value_minor) == (-4, -1_600)
    assert moved.note == f"26-001, Base, cast, {stage.code}"


def test_sent_twice_an_issue_is_one(bench: User) -> None:
    stage, lot, key = make_stage_in_hand(), make_lot(make_item()), uuid.uuid4()
    first = issue(by=bench, stage=stage, lot=lot, quantity=Decimal(4), key=key)
    assert issue(by=bench, stage=stage, lot=lot, quantity=Decimal(4), key=key) == first
    assert StageIssue.objects.count() == 1


def test_what_goes_into_one_cast_is_told_from_what_goes_into_another(bench: User) -> None:
    stage, lot, key = make_stage_in_hand(), make_lot(make_item()), uuid.uuid4()
    Section.objects.update(pulls=2, mirrored=True)
    stage.refresh_from_db()
    assert stage.casts == 4
    moved = issue(by=bench, stage=stage, lot=lot, quantity=Decimal(4), key=key, cast=3)
    assert moved.note == f"26-001, Base, cast 3, {stage.code}"
    with pytest.raises(KeyUsed):
        issue(by=bench, stage=stage, lot=lot, quantity=Decimal(4), key=key, cast=2)
    issue(by=bench, stage=stage, lot=lot, quantity=Decimal(2), key=uuid.uuid4())
    with pytest.raises(StoresError, match="Base, cast 2 has had 0 kg"):
        give_back(by=bench, stage=stage, lot=lot, quantity=Decimal(1), key=uuid.uuid4(), cast=2)
    give_back(by=bench, stage=stage, lot=lot, quantity=Decimal(1), key=uuid.uuid4(), cast=3)
    assert [(each.cast, each.held.quantity) for each in issued_lots(stage)] == [(3, 3), (None, 2)]
    rows = batch_rows(issues_from([lot]))
    assert [(row.place, row.quantity) for row in rows] == [("Base, cast 3", 3), ("Base, cast", 2)]


@pytest.mark.parametrize(("key", "cast"), [("cast", 0), ("cast", 2), ("mould", 1)])
def test_a_cast_that_there_is_not_is_refused(bench: User, key: str, cast: int) -> None:
    stage, lot = make_stage_in_hand(), make_lot(make_item())
    stage.key = key
    with pytest.raises(StoresError, match=r"none of its casts|about no cast"):
        issue(by=bench, stage=stage, lot=lot, quantity=Decimal(4), key=uuid.uuid4(), cast=cast)
    assert StageIssue.objects.count() == 0


@pytest.mark.parametrize("state", [CommissionState.QUOTED, CommissionState.DONE])
def test_material_goes_to_commissions_in_hand_alone(bench: User, state: str) -> None:
    stage, lot = make_stage_in_hand(), make_lot(make_item())
    Commission.objects.update(state=state)
    stage.refresh_from_db()
    with pytest.raises(StoresError, match="accepted and not yet handed over"):
        issue(by=bench, stage=stage, lot=lot, quantity=Decimal(4), key=uuid.uuid4())
    assert balance_of(lot) == 25


def test_what_comes_back_comes_at_the_value_at_which_it_went(bench: User) -> None:
    item = make_item()
    stage, lot = make_stage_in_hand(), make_lot(item, "10", 4_000)
    issue(by=bench, stage=stage, lot=lot, quantity=Decimal(4), key=uuid.uuid4())
    make_lot(item, "10", 9_000)
    back = give_back(by=bench, stage=stage, lot=lot, quantity=Decimal(1), key=uuid.uuid4())
    assert (back.quantity, back.value_minor) == (1, 400), "£4.00 as it went, not the average since"
    assert [each.held for each in issued_lots(stage)] == [Held(Decimal(3), 1_200)]
    give_back(by=bench, stage=stage, lot=lot, quantity=Decimal(3), key=uuid.uuid4())
    assert issued_lots(stage) == []
    assert sum(tie.movement.value_minor for tie in StageIssue.objects.all()) == 0


def test_no_more_comes_back_than_went(bench: User) -> None:
    stage, lot = make_stage_in_hand(), make_lot(make_item())
    issue(by=bench, stage=stage, lot=lot, quantity=Decimal(4), key=uuid.uuid4())
    with pytest.raises(StoresError, match="has had 4 kg of that lot; return at most that"):
        give_back(by=bench, stage=stage, lot=lot, quantity=Decimal("4.0001"), key=uuid.uuid4())


def test_sent_twice_a_return_is_one_though_nothing_is_left_to_return(bench: User) -> None:
    stage, lot, key = make_stage_in_hand(), make_lot(make_item()), uuid.uuid4()
    issue(by=bench, stage=stage, lot=lot, quantity=Decimal(4), key=uuid.uuid4())
    first = give_back(by=bench, stage=stage, lot=lot, quantity=Decimal(4), key=key)
    assert give_back(by=bench, stage=stage, lot=lot, quantity=Decimal(4), key=key) == first
    assert Movement.objects.count() == StageIssue.objects.count() + 1 == 3


def test_a_batch_is_traced_from_movements_alone_though_the_commission_is_long_done(bench: User) -> None:
    stage, lot = make_stage_in_hand(), make_lot(make_item())
    other = make_stage_in_hand("Tide Lantern", "Head")
    issue(by=bench, stage=stage, lot=lot, quantity=Decimal(4), key=uuid.uuid4())
    issue(by=bench, stage=other, lot=lot, quantity=Decimal(2), key=uuid.uuid4())
    give_back(by=bench, stage=other, lot=lot, quantity=Decimal(2), key=uuid.uuid4())
    Commission.objects.update(state=CommissionState.DONE)
    assert [(row.stage, row.quantity) for row in batch_rows(issues_from([lot]))] == [(stage, 4)]


def accepted_pear(by: User) -> Commission:
    commission = make_commission(needed_by=datetime.date(2026, 9, 1))
    make_section(commission)
    chain = make_item("chain", name="Chain", unit="m", kind="fixing")
    price_everything()
    add_extra(by=by, commission=commission, item=chain, label="Chain", quantity=Decimal(6))
    quote = make_issued(commission, by)
    answer(by=by, quote=quote, decision="accepted", said_by="R. Osei", note="", on=quote.issued_at.date())
    commission.refresh_from_db()
    return commission


def test_a_commission_needs_its_take_off_stage_by_stage_less_what_was_issued(bench: User) -> None:
    commission = accepted_pear(make_person("owner"))
    lines = commission.quotes.get().take_off["lines"]
    wanted = sum(line["buy"] for line in lines if (line["stage"], line["material"]) == ("cast", "gel_coat"))
    stage = commission.stages.get(section__name="Base", key="cast")
    lot = make_lot(Item.objects.get(key="gel_coat"), "50")
    issue(by=bench, stage=stage, lot=lot, quantity=Decimal("1.5"), key=uuid.uuid4())
    found = {(need.stage, need.need.key): need.need for need in needs_of([commission])}
    gel = found[stage, "gel_coat"]
    assert (float(gel.needed), gel.issued) == (pytest.approx(wanted, abs=1e-4), Decimal("1.5"))
    assert gel.by == datetime.date(2026, 9, 1)
    stage.state = StageState.PASSED
    stage.save()
    assert all(need.need.passed for need in needs_of([commission]) if need.stage == stage)


def test_an_extra_is_needed_too_and_what_went_to_any_stage_comes_off(bench: User) -> None:
    commission = accepted_pear(make_person("owner"))
    stage = commission.stages.get(section__name="Base", key="cast")
    lot: Lot = make_lot(Item.objects.get(key="chain"), "10")
    issue(by=bench, stage=stage, lot=lot, quantity=Decimal(2), key=uuid.uuid4())
    (chain,) = [need for need in needs_of([commission]) if need.need.key == "chain"]
    assert (chain.stage, chain.need.needed, chain.need.issued, chain.need.left) == (None, 6, 2, 4)
