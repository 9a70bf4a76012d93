"""A statement adds up to the penny, whatever was agreed, kept back, asked for and paid."""

import datetime
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.figures.price import PaymentStage, PricedPart, stage_payments, taxed
from jobs.figures.statement import Account, Agreed, Due, Entry, Statement, account_of, dues
from materials.estimator.errors import EstimatorError, OutOfRange
from studio.money import MoneyError

DAY = datetime.date(2026, 3, 2)


def agreed(number: str, net: int, rate: str = "0.2") -> Agreed:
    price = taxed([PricedPart("All of it", net, "standard", Decimal(rate))])
    return Agreed(number, "", DAY, price.net_minor, price.tax_minor, price.gross_minor)


def payments_of(quote: Agreed, variations: list[Agreed], cuts: list[int]) -> list[tuple[str, str, int]]:
    """The quote's in shares, one for each variation."""
    whole = sum(cuts)
    shares = [round(Decimal(cut) / whole, 4) for cut in cuts[:-1]]
    stages = [PaymentStage("Stage", share) for share in [*shares, 1 - sum(shares, Decimal(0))]]
    parts = stage_payments(quote.gross_minor, stages)
    of_quote = [(f"payment_{place}", "Stage", part.amount_minor) for place, part in enumerate(parts, start=1)]
    return [*of_quote, *((each.number, each.number, each.gross_minor) for each in variations)]


@given(
    net=st.integers(0, 10**9),
    varied=st.lists(st.integers(-(10**7), 10**8), max_size=6),
    cuts=st.lists(st.integers(1, 50), min_size=1, max_size=5),
    per_mille=st.integers(0, 200),
    rate=st.sampled_from(["0", "0.05", "0.2", "0.077"]),
    data=st.data(),
)
def test_the_contract_and_its_variations_are_the_total_and_the_parts_always_sum(
    net: int, varied: list[int], cuts: list[int], per_mille: int, rate: str, data: st.DataObject
) -> None:
    quote = agreed("26-001 / 1", net, rate)
    variations = [agreed(f"variation_{place}", amount, rate) for place, amount in enumerate(varied, start=1)]
    owed = dues(payments_of(quote, variations, cuts), Decimal(per_mille) / 1000)
    entries = []
    for due in owed:
        if data.draw(st.booleans()):
            entries.append(Entry(due.key, "asked", DAY, due.payable_minor))
            if data.draw(st.booleans()):
                entries.append(Entry(due.key, "paid", DAY, due.payable_minor))
    found = Statement("GBP", (quote, *variations), account_of(owed, entries))
    assert found.gross_minor == quote.gross_minor + sum(each.gross_minor for each in variations)
    assert found.net_minor + found.tax_minor == found.gross_minor
    assert found.paid_minor + found.owed_minor + found.to_come_minor == found.gross_minor
    assert sum(each.due.payable_minor for each in found.accounts) == found.gross_minor
    assert sum(each.paid_minor + each.to_pay_minor for each in found.accounts) == found.gross_minor
    assert sum(due.held_minor for due in owed) == 0
    # A share of each payment is kept back, rounded by itself: never more than half a penny away from the share.
    for due in owed:
        if due.gross_minor:
            assert abs(due.held_minor - due.gross_minor * Decimal(per_mille) / 1000) <= Decimal("0.5")


def test_retention_is_kept_back_of_each_payment_and_released_in_halves():
    """Worked by hand: 5 % of 1,234.57 and of 100.01 is 61.73 and 5.00; half of 66.73 is 33.37 and the rest 33.36."""
    owed = dues([("payment_1", "Deposit", 123_457), ("variation_1", "Gloss", 10_001)], Decimal("0.05"))
    assert [each.held_minor for each in owed] == [6_173, 500, -3_337, -3_336]
    assert [each.payable_minor for each in owed] == [117_284, 9_501, 3_337, 3_336]
    assert [each.key for each in owed][2:] == ["retention_first", "retention_rest"]


def test_without_retention_nothing_is_released():
    assert [each.key for each in dues([("payment_1", "All", 100)], Decimal(0))] == ["payment_1"]


def test_a_share_that_no_contract_keeps_back_is_refused():
    with pytest.raises(OutOfRange, match=r"retention is 0\.5; it must be between 0 and 0\.2"):
        dues([("payment_1", "All", 100)], Decimal("0.5"))


def test_what_was_taken_back_is_as_if_it_had_not_been():
    owed = dues([("payment_1", "All", 100)], Decimal(0))
    wrong = [Entry("payment_1", "paid", DAY, 100), Entry("payment_1", "paid", DAY, -100)]
    (account,) = account_of(owed, wrong)
    assert (account.paid_minor, account.paid_on, account.to_pay_minor) == (0, None, 100)


def test_an_entry_for_what_is_not_owed_is_named():
    with pytest.raises(EstimatorError, match="an entry for 'variation_9', which is not owed"):
        account_of(dues([("payment_1", "All", 100)], Decimal(0)), [Entry("variation_9", "paid", DAY, 1)])


def test_one_that_does_not_add_up_is_refused():
    account = Account(Due("payment_1", "All", 119, 0), 0, 0, None, None)
    with pytest.raises(MoneyError, match=r"The payments come to £1\.19 and should come to £1\.20"):
        Statement("GBP", (agreed("26-001 / 1", 100),), (account,))
