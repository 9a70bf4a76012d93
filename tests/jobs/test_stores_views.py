"""Where the stores meet the commissions: issuing, returning, tracing a batch, what to buy."""

import csv
import datetime
import io
import uuid
from decimal import Decimal

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from jobs.models import Commission, CommissionState, Section, Stage
from jobs.services.quotes import answer
from materials.models import Item, Lot, Movement
from tests.factories import (
    make_commission,
    make_issued,
    make_item,
    make_lot,
    make_person,
    make_section,
    make_stage_in_hand,
    price_everything,
    signed_in,
)

pytestmark = pytest.mark.django_db


def get(client: Client, name: str, *args: object, **asked: object) -> str:
    found = client.get(reverse(name, args=args), asked)
    assert found.status_code == 200, found.status_code
    return found.content.decode()


def accepted_pear() -> Commission:
    by = make_person("owner", username="signer")
    commission = make_commission(needed_by=timezone.localdate() + datetime.timedelta(days=60))
    make_section(commission)
    price_everything()
    quote = make_issued(commission, by)
    answer(by=by, quote=quote, decision="accepted", said_by="R. Osei", note="", on=timezone.localdate())
    commission.refresh_from_db()
    return commission


def issue_to(client: Client, stage: Stage, lot: Lot, quantity: str, /, **values: str) -> tuple[int, str]:
    address = f"{reverse('issue_to_stage', args=[stage.code])}?item={lot.item_id}"
    sent = {"key": str(uuid.uuid4()), "lot": str(lot.pk), "quantity": quantity, **values}
    found = client.post(address, sent)
    return found.status_code, found.content.decode()


def test_the_bench_issues_what_the_take_off_asks_for() -> None:
    commission = accepted_pear()
    stage = commission.stages.get(section__name="Base", key="cast")
    gel = Item.objects.get(key="gel_coat")
    lot = make_lot(gel, "25", batch="GC 0931")
    client = signed_in("bench")
    page = get(client, "issue_to_stage", stage.code)
    assert "By the take-off" in page
    assert f'href="?item={gel.pk}"' in page
    assert "Batch GC 0931, holds 25 kg" in get(client, "issue_to_stage", stage.code, item=gel.pk)
    assert issue_to(client, stage, lot, "2.5")[0] == 302
    page = get(client, "commission_stores", commission.pk)
    assert "GC 0931" in page
    assert "2.5 kg" in page
    assert "£" not in page


def test_the_lot_that_expires_first_is_proposed_unless_it_has_expired() -> None:
    stage, item, today = make_stage_in_hand(), make_item(), timezone.localdate()
    day = datetime.timedelta(days=1)
    lots = {
        name: make_lot(item, batch=name, received=today - 90 * day, expires=expires)
        for name, expires in {"GONE": today - day, "SOON": today + day, "NEVER": None}.items()
    }
    client = signed_in("bench")
    page = get(client, "issue_to_stage", stage.code, item=item.pk)
    assert page.index("GONE") < page.index("SOON") < page.index("NEVER")
    assert "expired" in page

    def proposed(page: str) -> str:
        (choice,) = [tag for tag in page.split("<input ") if "checked" in tag]
        return choice.split('value="')[1].split('"')[0]

    assert proposed(page) == str(lots["SOON"].pk)
    assert proposed(get(client, "issue_to_stage", stage.code, item=item.pk, lot=lots["NEVER"].pk)) == str(
        lots["NEVER"].pk
    )


@pytest.mark.parametrize(
    ("quantity", "values", "told"),
    [
        ("30", {}, "This lot holds 25 kg and 30 kg were asked for."),
        ("", {}, "Enter how much, such as 2.5."),
        ("a <tin>", {}, "a &lt;tin&gt;"),
        ("2", {"lot": "0"}, "Choose the lot it is taken from."),
        ("2", {"key": ""}, "This page lost its place"),
    ],
)
def test_an_issue_that_cannot_be_is_refused_and_kept_as_typed(quantity: str, values: dict[str, str], told: str) -> None:
    stage, lot = make_stage_in_hand(), make_lot(make_item())
    status, page = issue_to(signed_in("bench"), stage, lot, quantity, **values)
    assert status == 422
    assert told in page
    assert "<title>Error: " in page
    assert Movement.objects.count() == 1


def test_an_issue_sent_twice_is_one() -> None:
    stage, lot, key = make_stage_in_hand(), make_lot(make_item()), str(uuid.uuid4())
    client = signed_in("bench")
    assert [issue_to(client, stage, lot, "4", key=key)[0] for _ in range(2)] == [302, 302]
    assert Movement.objects.count() == 2
    assert issue_to(client, stage, lot, "5", key=key)[0] == 422


def test_what_is_not_in_stock_sends_back_to_the_list() -> None:
    stage, item = make_stage_in_hand(), make_item()
    found = signed_in("bench").get(reverse("issue_to_stage", args=[stage.code]), {"item": item.pk}, follow=True)
    assert "None of Marble flour is in stock." in found.content.decode()


def test_the_bench_returns_what_a_stage_did_not_use() -> None:
    stage, lot, client = make_stage_in_hand(), make_lot(make_item()), signed_in("bench")
    issue_to(client, stage, lot, "4")
    address = reverse("return_from_stage", args=[stage.code, lot.pk])
    assert "4 kg" in client.get(address).content.decode()
    refused = client.post(address, {"key": str(uuid.uuid4()), "quantity": "5"})
    assert refused.status_code == 422
    assert "return at most that" in refused.content.decode()
    assert client.post(address, {"key": str(uuid.uuid4()), "quantity": "4"}).status_code == 302
    assert "has had" not in get(client, "issue_to_stage", stage.code)


def test_what_a_label_leads_to_is_issued_to_its_cast_and_comes_back_from_it() -> None:
    stage, lot, client = make_stage_in_hand(), make_lot(make_item(), batch="GC 0931"), signed_in("bench")
    Section.objects.update(pulls=6)
    assert f"?item={lot.item_id}&amp;cast=2" in get(client, "issue_to_stage", stage.code, cast="2")
    assert 'value="2"' in get(client, "issue_to_stage", stage.code, cast="2", item=lot.item_id)
    for typed in ("7", "0", "two"):
        status, page = issue_to(client, stage, lot, "4", cast=typed)
        assert status == 422
        assert "numbered 1 to 6" in page
        assert f'value="{typed}"' in page
    assert issue_to(client, stage, lot, "4", cast="2")[0] == 302
    assert "Base, cast 2" in get(client, "batch", lot.pk)
    assert "Base, cast 2" in get(client, "commission_stores", stage.commission_id)
    address = f"{reverse('return_from_stage', args=[stage.code, lot.pk])}?cast=2"
    assert address in get(client, "issue_to_stage", stage.code)
    assert address not in get(client, "issue_to_stage", stage.code, cast="3")
    assert client.post(address, {"key": str(uuid.uuid4()), "quantity": "4"}).status_code == 302
    assert "Base, cast 2" not in get(client, "batch", lot.pk)


def test_a_lot_offers_the_stages_in_hand() -> None:
    stage, lot = make_stage_in_hand(), make_lot(make_item())
    done = make_stage_in_hand("Tide Lantern", "Head")
    Commission.objects.filter(pk=done.commission_id).update(state=CommissionState.DONE)
    page = get(signed_in("bench"), "issue_lot", lot.pk)
    assert f"{reverse('issue_to_stage', args=[stage.code])}?item={lot.item_id}&amp;lot={lot.pk}" in page
    assert done.code not in page


def test_a_batch_is_found_by_a_part_of_its_number_and_says_where_it_went() -> None:
    stage, lot, client = make_stage_in_hand(), make_lot(make_item(), batch="GC 0931"), signed_in("bench")
    make_lot(make_item("chalk", name="Chalk"), batch="C 1")
    issue_to(client, stage, lot, "4")
    Commission.objects.update(state=CommissionState.DONE)
    page = get(client, "batches", q="0931")
    assert "26-001, Base, cast" in page
    assert "Chalk" not in page
    page = get(client, "batch", lot.pk)
    assert "26-001 The Long Pear" in page
    assert "4 kg" in page
    assert "No lot has “zzz” in its batch number" in get(client, "batches", q="zzz")


def test_what_to_buy_is_the_take_off_less_issues_less_stock_by_supplier() -> None:
    commission = accepted_pear()
    Item.objects.filter(key="gel_coat").update(supplier="Hollin and Reeve")
    stage = commission.stages.get(section__name="Base", key="cast")
    client = signed_in("office")
    lot = make_lot(Item.objects.get(key="gel_coat"), "1.5")
    issue_to(client, stage, lot, "0.5")
    page = get(client, "what_to_buy")
    assert "Hollin and Reeve" in page
    assert "Gel coat" in page
    assert "£" in page
    text = client.get(reverse("what_to_buy_csv")).content.decode("utf-8-sig")
    rows = {row["key"]: row for row in csv.DictReader(io.StringIO(text))}
    gel = rows["gel_coat"]
    needed = sum(line["buy"] for line in commission.quotes.get().take_off["lines"] if line["material"] == "gel_coat")
    assert float(gel["needed"]) == pytest.approx(needed - 0.5, abs=1e-3)
    assert gel["in stock"] == "1"
    assert Decimal(gel["missing"]) == Decimal(gel["needed"]) - 1
    assert (gel["supplier"], gel["for"], gel["currency"]) == ("Hollin and Reeve", "26-001", "GBP")


def test_nothing_to_buy_says_so() -> None:
    assert "Nothing is needed" in get(signed_in("owner"), "what_to_buy")


@pytest.mark.parametrize("name", ["what_to_buy", "what_to_buy_csv"])
def test_the_bench_does_not_see_what_things_cost_to_buy(name: str) -> None:
    assert signed_in("bench").get(reverse(name)).status_code == 403


@pytest.mark.parametrize(
    ("name", "args"),
    [
        *(("commission_stores", [1]), ("issue_to_stage", ["K00001"]), ("return_from_stage", ["K00001", 1])),
        *(("issue_lot", [1]), ("batches", []), ("batch", [1]), ("what_to_buy", []), ("what_to_buy_csv", [])),
    ],
)
def test_a_stranger_signs_in_first(name: str, args: list[object]) -> None:
    found = Client().get(reverse(name, args=args))
    assert (found.status_code, found.headers["Location"].split("?")[0]) == (302, reverse("sign_in"))


@pytest.mark.parametrize(
    ("name", "args"),
    [("commission_stores", [9]), ("issue_to_stage", ["NONE"]), ("issue_lot", [9]), ("batch", [9])],
)
def test_what_is_not_there_is_not_found(name: str, args: list[object]) -> None:
    assert signed_in("owner").get(reverse(name, args=args)).status_code == 404


@pytest.mark.parametrize("name", ["commission_stores", "issue_to_stage", "batches", "what_to_buy"])
def test_more_movements_cost_no_more_queries(name: str) -> None:
    stage, client = make_stage_in_hand(), signed_in("owner")
    args = {"commission_stores": [stage.commission_id], "issue_to_stage": [stage.code]}.get(name, [])

    def queries() -> int:
        with CaptureQueriesContext(connection) as asked:
            get(client, name, *args)
        return len(asked)

    issue_to(client, stage, make_lot(make_item()), "1")
    first = queries()
    for number in range(8):
        other = make_stage_in_hand(f"Pear {number}")
        issue_to(client, other, make_lot(make_item(f"item_{number}")), "1")
        issue_to(client, stage, make_lot(make_item(f"more_{number}")), "1")
    assert queries() == first


def test_the_page_that_a_label_opens_leads_to_the_material() -> None:
    stage = make_stage_in_hand()
    assert reverse("issue_to_stage", args=[stage.code]) in get(signed_in("bench"), "stage_sheet", stage.code)
