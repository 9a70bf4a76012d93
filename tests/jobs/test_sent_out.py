"""Sent-out work: ordered, out, back, charged, and what of the studio's went with it."""

import uuid

import pytest
from django.test import Client
from django.urls import reverse

from jobs.models import CommissionState, SentOutWork, Stage
from materials.models import MovementKind
from materials.services.stores import balance_of
from studio.accounts.models import AuditEntry
from tests.factories import make_commission, make_item, make_lot, make_stage_in_hand, signed_in

pytestmark = pytest.mark.django_db
FACTS = {
    "what": "Galvanising of the inner frame",
    "firm": "Fenwharf Galvanisers",
    "stage": "",
    "ordered_on": "2026-03-02",
    "due_back": "2026-03-20",
    "agreed_minor": "420.00",
    "version": "0",
}


def order(client: Client, stage: Stage, /, **values: str) -> tuple[int, str]:
    answer = client.post(reverse("new_sent_out", args=[stage.commission_id]), {**FACTS, **values})
    return answer.status_code, answer.content.decode()


def test_an_order_is_written_down_once_and_recorded_with_its_price() -> None:
    stage, client = make_stage_in_hand(), signed_in("office")
    assert [order(client, stage, stage=str(stage.pk))[0] for _ in range(2)] == [302, 302]
    work = SentOutWork.objects.get()
    assert (work.agreed_minor, work.charged_minor, work.currency, work.stage) == (42_000, None, "GBP", stage)
    entry = AuditEntry.objects.about(stage.commission.subject).get()
    assert entry.has_money
    assert entry.after["price agreed"] == "£420.00"


def change(client: Client, work: SentOutWork, **values: str) -> tuple[int, str]:
    answer = client.post(reverse("edit_sent_out", args=[work.pk]), {**FACTS, **values})
    return answer.status_code, answer.content.decode()


def test_it_goes_out_comes_back_and_is_charged() -> None:
    stage, client = make_stage_in_hand(), signed_in("office")
    order(client, stage)
    work = SentOutWork.objects.get()
    days = {"out_on": "2026-03-05", "back_on": "2026-03-19"}
    assert change(client, work, **days, charged_minor="437.50")[0] == 302
    work.refresh_from_db()
    assert (work.charged_minor, f"{work.back_on}") == (43_750, "2026-03-19")
    page = client.get(reverse("sent_out", args=[stage.commission_id])).content.decode()
    for text in ("£420.00", "£437.50", "back <time"):
        assert text in page, text


def test_the_second_to_save_is_told_and_keeps_what_was_typed() -> None:
    stage, client = make_stage_in_hand(), signed_in("office")
    order(client, stage)
    work = SentOutWork.objects.get()
    change(client, work, firm="Marsh Zinc")
    status, page = change(client, work, firm="Quay Zinc")
    assert status == 409
    assert "Quay Zinc" in page
    assert "Marsh Zinc" in page


@pytest.mark.parametrize(
    ("values", "told"),
    [
        ({"what": ""}, "Enter what is done"),
        ({"agreed_minor": ""}, "Enter the price agreed before tax"),
        ({"agreed_minor": "much"}, "is not an amount in GBP"),
        ({"ordered_on": "soon"}, "Enter a day as year, month and day"),
        ({"out_on": "2026-03-01"}, "it cannot go out before"),
        ({"back_on": "2026-03-19"}, "so it went out: enter the day it went"),
        ({"out_on": "2026-03-05", "back_on": "2026-03-04"}, "it cannot be back before"),
        ({"stage": "999999"}, "Choose a stage from the list."),
    ],
)
def test_an_order_that_cannot_be_is_refused_and_kept_as_typed(values: dict[str, str], told: str) -> None:
    status, page = order(signed_in("office"), make_stage_in_hand(), firm="Fen <& Co>", **values)
    assert status == 422
    assert told in page
    assert "Fen &lt;&amp; Co&gt;" in page
    assert not SentOutWork.objects.exists()


def test_work_is_sent_out_for_accepted_commissions_alone() -> None:
    commission = make_commission(state=CommissionState.QUOTED)
    answer = signed_in("office").post(reverse("new_sent_out", args=[commission.pk]), FACTS)
    assert answer.status_code == 422
    assert "once its quote is accepted" in answer.content.decode()


def test_material_goes_with_it_once_and_counts_as_issued() -> None:
    stage, client = make_stage_in_hand(), signed_in("office")
    order(client, stage, stage=str(stage.pk))
    work, lot = SentOutWork.objects.get(), make_lot(make_item(), batch="ST 9")
    address = f"{reverse('material_with', args=[work.pk])}?item={lot.item_id}"
    sent = {"key": str(uuid.uuid4()), "lot": str(lot.pk), "quantity": "6"}
    assert [client.post(address, sent).status_code for _ in range(2)] == [302, 302]
    (moved,) = work.went_with_it.all()
    assert (moved.kind, moved.quantity, moved.stage_issue.stage) == (MovementKind.SENT, -6, stage)
    assert balance_of(lot) == 19
    assert "batch ST 9, 6 kg" in client.get(reverse("sent_out", args=[stage.commission_id])).content.decode()
    assert "with sent-out work" in client.get(reverse("batch", args=[lot.pk])).content.decode()


def test_material_does_not_follow_work_that_is_back() -> None:
    stage, client = make_stage_in_hand(), signed_in("office")
    order(client, stage, out_on="2026-03-05", back_on="2026-03-19")
    work, lot = SentOutWork.objects.get(), make_lot(make_item())
    address = f"{reverse('material_with', args=[work.pk])}?item={lot.item_id}"
    answer = client.post(address, {"key": str(uuid.uuid4()), "lot": str(lot.pk), "quantity": "6"})
    assert answer.status_code == 422
    assert "This work is back already" in answer.content.decode()


def test_material_of_no_one_stage_is_traced_too() -> None:
    stage, client = make_stage_in_hand(), signed_in("office")
    order(client, stage)
    work, lot = SentOutWork.objects.get(), make_lot(make_item())
    address = f"{reverse('material_with', args=[work.pk])}?item={lot.item_id}"
    client.post(address, {"key": str(uuid.uuid4()), "lot": str(lot.pk), "quantity": "6"})
    page = client.get(reverse("batch", args=[lot.pk])).content.decode()
    assert "It also went with “Galvanising of the inner frame” to Fenwharf Galvanisers" in page


def test_the_bench_sees_what_and_when_and_never_a_price() -> None:
    stage = make_stage_in_hand()
    order(signed_in("office"), stage)
    work, client = SentOutWork.objects.get(), signed_in("bench")
    page = client.get(reverse("sent_out", args=[stage.commission_id])).content.decode()
    assert "Fenwharf Galvanisers" in page
    assert "late, due" in page or "due back" in page
    assert "£" not in page
    for name, pk in (("new_sent_out", stage.commission_id), ("edit_sent_out", work.pk), ("material_with", work.pk)):
        assert client.get(reverse(name, args=[pk])).status_code == 403, name


@pytest.mark.parametrize("name", ["sent_out", "new_sent_out", "edit_sent_out", "material_with"])
def test_a_stranger_signs_in_first(name: str) -> None:
    answer = Client().get(reverse(name, args=[1]))
    assert (answer.status_code, answer.headers["Location"].split("?")[0]) == (302, reverse("sign_in"))
