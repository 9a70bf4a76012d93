"""When a piece is looked over again, and a sealed record read back."""

import datetime
import json

import pytest

from jobs.figures.hand_over import (
    GivenApproval,
    HandOverSheet,
    MadeSection,
    UsedBatch,
    inspection_due,
    thawed_hand_over,
)
from jobs.figures.sealed import ShownPhoto, digest, sealed
from jobs.figures.sheet import SheetHead, Workshop
from materials.estimator.errors import OutOfRange

DAY = datetime.date(2026, 3, 31)


@pytest.mark.parametrize(
    ("handed", "inspected", "months", "due"),
    [
        ("2026-03-10", [], 12, "2027-03-10"),
        ("2026-03-10", ["2026-11-02", "2026-07-01"], 12, "2027-11-02"),
        ("2026-12-15", [], 1, "2027-01-15"),
        ("2027-08-31", [], 6, "2028-02-28"),
        ("2026-01-01", [], 120, "2036-01-01"),
    ],
)
def test_it_is_due_so_many_months_after_it_was_last_looked_over(
    handed: str, inspected: list[str], months: int, due: str
) -> None:
    day = datetime.date.fromisoformat
    assert inspection_due(day(handed), [day(on) for on in inspected], months) == day(due)


@pytest.mark.parametrize("months", [0, -12, 121])
def test_no_interval_is_shorter_than_a_month_or_longer_than_ten_years(months: int) -> None:
    with pytest.raises(OutOfRange, match="months"):
        inspection_due(DAY, [], months)


def test_a_sealed_record_is_read_back_as_it_was() -> None:
    sheet = HandOverSheet(
        head=SheetHead(Workshop("Saltgate Yard"), "26-014", "1", "The Long Pear", DAY),
        commissioner="Fallow Lane Market Garden",
        place="The gate",
        handed_to="R. Osei",
        handed_on=DAY,
        sections=(MadeSection("Base", (("Cast", "Four layers."), ("Mass", "About 18 kg.")), (("Pattern", DAY),)),),
        batches=(UsedBatch("Laminating resin", "LR 2608-14", ("Base, cast", "Base, finish")),),
        approvals=(GivenApproval("26-014 / S1", "Form", "Approved", "R. Osei", DAY, "ab" * 32),),
        changes=("26-014 / V1: Another green",),
        mass=("18 kg",),
        balance=(),
        lifting=("Two eyes",),
        fixings=("Four M16",),
        paint=("RAL 6011",),
        care=("Wash it",),
        inspect_months=12,
        repairs=("Sand it",),
        cautions=("Weigh it",),
        photos=(ShownPhoto("cd" * 32, "From the front", DAY),),
        drawing_svg="<svg/>",
    )
    kept = json.loads(json.dumps(sealed(sheet)))
    assert thawed_hand_over(kept) == sheet
    assert digest(kept) == digest(dict(reversed(kept.items())))
    assert digest(kept) != digest({**kept, "place": "The yard"})
