"""What a commission comes to, worked out from its rows."""

import datetime
from decimal import Decimal

import pytest

from jobs.models import Commission, Extra
from jobs.quotes.workings import Worked, worked
from jobs.services.drafts import drafted
from jobs.services.pricing import Working
from materials.models import Figure, Item, Pack, Price
from studio.money import round_half_up
from studio.office.models import House, TaxCategory
from tests.factories import make_commission, make_item, make_price, make_section, price_everything

pytestmark = pytest.mark.django_db

TODAY = datetime.date(2026, 3, 12)


@pytest.fixture
def commission() -> Commission:
    price_everything()
    commission = make_commission()
    make_section(commission, "Base")
    return commission


def work_out(commission: Commission) -> Worked:
    return worked(drafted(commission), TODAY)


def whole(commission: Commission) -> Working:
    found = work_out(commission).working
    assert found is not None
    assert found.priced is not None
    return found


def haulage(commission: Commission, quantity: str = "1.5", key: str = "haulage") -> Extra:
    item = Item.objects.get(key=key)
    return Extra.objects.create(commission=commission, item=item, label="To the gate", quantity=Decimal(quantity))


def test_labour_costs_what_a_productive_hour_costs(commission: Commission) -> None:
    working = whole(commission)
    assert working.priced is not None
    figures = working.figures
    # Wage x (1 + on-cost) / productive share; the wage is the one price there is, 10.00.
    hour = Decimal(1000) * (1 + Decimal(str(figures.value("oncost")))) / Decimal(str(figures.value("productive_share")))
    labour = [line for line in working.priced.built.lines if line.kind == "labour"]
    assert [line.amount_minor for line in labour] == [round_half_up((line.quantity or 0) * hour) for line in labour]
    assert float(sum(line.quantity or 0 for line in labour)) == pytest.approx(working.hours.likely)


def test_lines_sum_to_the_price_and_parts_and_payments_to_what_they_part(commission: Commission) -> None:
    haulage(commission)
    priced = whole(commission).priced
    assert priced is not None
    price = priced.price
    assert sum(line.amount_minor for line in priced.built.lines) == price.net_minor
    assert sum(part.net_minor for part in price.parts) == price.net_minor
    assert sum(payment.amount_minor for payment in priced.payments) == price.gross_minor
    assert price.gross_minor == price.net_minor + price.tax_minor
    assert [part.label for part in price.parts] == ["Base", "Crates, delivery and other work"]


def test_the_price_that_four_in_five_stay_within_is_not_below_that_of_every_second(commission: Commission) -> None:
    priced = whole(commission).priced
    assert priced is not None
    assert priced.p80_net_minor > priced.p50_net_minor >= priced.built.cost_minor


def test_whatever_lacks_a_price_is_named_and_there_is_no_total(commission: Commission) -> None:
    Price.objects.filter(pack__item__key__in=["gel_coat", "overhead_hour"]).delete()
    found = work_out(commission)
    assert not found.complete
    assert [(item.name, item.item_pk) for item in found.wanting] == [
        ("Gel coat", Item.objects.get(key="gel_coat").pk),
        ("Overhead to a bench hour", Item.objects.get(key="overhead_hour").pk),
    ]
    assert found.wanting[0].reason == "Gel coat has no price on 2026-03-12"


def test_a_price_that_begins_tomorrow_is_not_used_today(commission: Commission) -> None:
    before = whole(commission).priced
    for pack in Pack.objects.filter(item__key="bench_hour"):
        Price.objects.create(pack=pack, valid_from=TODAY + datetime.timedelta(days=1), amount_minor=9_900)
    after = whole(commission).priced
    assert before is not None
    assert after is not None
    assert after.price == before.price


def test_sent_out_work_is_charged_as_needed_and_materials_by_the_pack(commission: Commission) -> None:
    haulage(commission, "1.5")
    drum = make_item("stone_dust", name="Stone dust")
    make_price(drum, 3_000, "2020-01-06")
    Extra.objects.create(commission=commission, item=drum, label="Dust for the face", quantity=Decimal("2.5"))
    priced = whole(commission).priced
    assert priced is not None
    lines = {line.label: line for line in priced.built.lines}
    assert (lines["To the gate"].amount_minor, lines["To the gate"].note) == (1_500, "")
    assert (lines["Dust for the face"].amount_minor, lines["Dust for the face"].note) == (3_000, "1 × 25 kg bag")


def test_hours_of_an_extra_are_labour(commission: Commission) -> None:
    plain = whole(commission).priced
    haulage(commission, "8", key="bench_hour")
    longer = whole(commission).priced
    assert plain is not None
    assert longer is not None
    assert longer.built.hours - plain.built.hours == 8
    assert longer.p80_net_minor > plain.p80_net_minor


def test_tax_is_that_of_the_commissions_category_on_the_day(commission: Commission) -> None:
    commission.tax_category = TaxCategory.objects.get(name="Reduced")
    priced = whole(commission).priced
    assert priced is not None
    assert priced.price.tax_minor == round_half_up(Decimal(priced.price.net_minor) * Decimal("0.05"))


def test_a_section_called_as_the_part_for_crates_keeps_its_own_part(commission: Commission) -> None:
    make_section(commission, "Crates")
    priced = whole(commission).priced
    assert priced is not None
    assert [part.label for part in priced.price.parts] == ["Base", "Crates", "Crates"]


def test_free_of_charge_is_a_price_too(commission: Commission) -> None:
    Price.objects.update(amount_minor=0)
    priced = whole(commission).priced
    assert priced is not None
    assert priced.price.gross_minor == 0
    assert all(part.net_minor == 0 for part in priced.price.parts)


def test_without_a_section_it_says_what_to_do() -> None:
    found = work_out(make_commission())
    assert found.working is None
    assert found.problem == "There is nothing to price yet: describe the first section on the Form sheet."


def test_a_section_that_cannot_be_read_is_told_and_not_priced(commission: Commission) -> None:
    make_section(commission, "Top", dimensions={"bottom_diameter": "wide"})
    found = work_out(commission)
    assert found.working is None
    assert "Top" in found.problem or "diameter" in found.problem


def test_it_cautions_where_materials_outweigh_labour_and_profit_is_thin(commission: Commission) -> None:
    Price.objects.filter(pack__item__key__in=["bench_hour", "overhead_hour"]).update(amount_minor=1)
    drawn = drafted(commission)
    drawn.draft.profit_rate, drawn.draft.contingency = Decimal("0.05"), Decimal("0.01")
    found = worked(drawn, TODAY).working
    assert found is not None
    assert found.priced is not None
    codes = {caution.code for caution in found.priced.cautions}
    assert {"materials_outweigh_labour", "thin_margin", "unusual_contingency"} <= codes


def test_more_people_shorten_the_programme_and_never_a_hold(commission: Commission) -> None:
    House.objects.update(bench_crew=1)
    one = whole(commission).programme
    House.objects.update(bench_crew=4)
    four = whole(commission).programme
    assert four.working_weeks == pytest.approx(one.working_weeks / 4)
    assert four.hold_days == one.hold_days > 0


def test_the_studio_works_by_its_own_figures_of_costing(commission: Commission) -> None:
    before = whole(commission).priced
    Figure.objects.filter(key="consumables").update(value=0.0)
    after = whole(commission).priced
    assert before is not None
    assert after is not None
    assert before.built.sum_of("consumables") > 0
    assert after.built.sum_of("consumables") == 0
