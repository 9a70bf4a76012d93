"""Lay-ups: listed with what they come to, changed layer by layer, tried before they are kept."""

from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from pytest_django import DjangoAssertNumQueries

from materials.models import Item, LayUp
from materials.queries.figures import lay_up_value
from studio.accounts.models import AuditEntry
from studio.office.models import House
from tests.factories import signed_in

pytestmark = pytest.mark.django_db
Row = tuple[str, str, str, str]
MAT: Row = ("csm", "450 g/m2", "30", "3")


def skin() -> LayUp:
    return LayUp.objects.get(name="Light skin")


def at(row: LayUp | None = None) -> str:
    return reverse("lay_up", args=[(row or skin()).pk])


def sent(*rows: Row, **values: str) -> dict[str, Any]:
    data = {"version": "0", "name": "Light skin", "gel_coat_kg_m2": "600 g/m2", "is_default": "on"} | values
    for number, row in enumerate(rows):
        for name, value in zip(("kind", "weight_kg_m2", "glass_fraction", "layers"), row, strict=True):
            data[f"{name}_{number}"] = value
        data[f"order_{number}"] = str(number + 1)
    return data


def test_a_stranger_is_sent_to_sign_in(client: Client) -> None:
    for address in (reverse("lay_ups"), at(), reverse("new_lay_up", args=["cast"])):
        assert client.get(address).status_code == 302


def test_the_bench_is_refused() -> None:
    client = signed_in("bench")
    for address in (at(), reverse("new_lay_up", args=["cast"])):
        assert client.get(address).status_code == 403
        assert client.post(address, sent(MAT)).status_code == 403
    assert client.get(reverse("lay_ups")).status_code == 403


def test_the_list_shows_thickness_glass_resin_and_mass() -> None:
    # 3 × 450 g/m² at 0.30: 3.15 mm by ISO 12215-5 Annex C (seen as a transcription), 0.5 mm of gel coat on it.
    page = signed_in("office").get(reverse("lay_ups")).content.decode()
    for words in (
        "Light skin",
        "3 × 450\u00a0g/m² chopped strand mat",
        "3.65 mm",
        "1.35 kg/m²",
        "3.15 kg/m²",
        "5.1 kg/m²",
    ):
        assert words in page


def test_the_list_is_in_the_units_of_the_house() -> None:
    House.objects.update(units="us")
    page = signed_in("office").get(reverse("lay_ups")).content.decode()
    assert "1.47\u00a0oz/ft² chopped strand mat" in page
    assert "0.144 in" in page


def test_the_list_keeps_its_query_count(django_assert_num_queries: DjangoAssertNumQueries) -> None:
    client = signed_in("office")
    with django_assert_num_queries(12):
        client.get(reverse("lay_ups"))
    for number in range(6):
        row = LayUp.objects.create(name=f"Skin {number}", use="cast", gel_coat_kg_m2=0.5)
        row.plies.create(position=1, kind="csm", weight_kg_m2=0.3, glass_fraction=0.3)
    with django_assert_num_queries(12):
        client.get(reverse("lay_ups"))


def test_layers_are_changed_put_in_order_and_recorded() -> None:
    client = signed_in("office")
    data = sent(MAT, ("woven", "0.6 kg/m2", "48", "1"), ("tissue", "30 gsm", "10 %", "1"), checked_on="2025-06-01")
    data["order_2"] = "0.5"
    assert client.post(at(), data).status_code == 302
    plies = lay_up_value(skin()).plies
    assert [(ply.kind, ply.weight_kg_m2, ply.glass_fraction, ply.layers) for ply in plies] == [
        ("tissue", 0.03, 0.1, 1), ("csm", 0.45, 0.3, 3), ("woven", 0.6, 0.48, 1),
    ]  # fmt: skip
    assert skin().version == 1
    entry = AuditEntry.objects.get()
    assert (entry.subject, entry.act) == ("office", "Lay-up changed: Light skin")
    assert list(entry.after) == ["layers", "checked on"]
    assert entry.after["checked on"] == str(skin().checked_on) == "2025-06-01"
    assert entry.after["layers"].startswith("1 × surface tissue 30 g/m² at 0.1; 3 × chopped strand mat 450 g/m²")


def test_a_layer_is_taken_out_by_choosing_none() -> None:
    row = LayUp.objects.get(name="Mat and roving")
    data = sent(
        ("csm", "450 g/m²", "30", "2"), ("", "600 g/m²", "48", "1"), ("csm", "450 g/m²", "30", "1"), name=row.name
    )
    del data["is_default"]
    assert signed_in("office").post(at(row), data).status_code == 302
    row = LayUp.objects.get(name="Mat and roving")
    assert [ply.kind for ply in row.plies.all()] == ["csm", "csm"]


def test_what_is_shown_and_sent_back_changes_nothing_but_the_day_of_the_check() -> None:
    row = skin()
    LayUp.objects.filter(pk=row.pk).update(checked_on=None)
    row.plies.update(weight_kg_m2=0.457728, glass_fraction=0.3125)
    client = signed_in("office")
    page = client.get(at()).content.decode()
    assert 'value="458 g/m²"' in page
    assert client.post(at(), sent(("csm", "458 g/m²", "31.25", "3"), gel_coat_kg_m2="600 g/m²")).status_code == 302
    assert row.plies.get().weight_kg_m2 == 0.457728
    assert AuditEntry.objects.get(subject="office").after == {"checked on": str(timezone.localdate())}


def test_a_lay_up_is_tried_before_it_is_kept() -> None:
    response = signed_in("office").post(at(), sent(("csm", "450 g/m2", "30", "5")) | {"try": "1"})
    page = response.content.decode()
    assert response.status_code == 200
    assert "5.75 mm" in page
    assert skin().plies.get().layers == 3


def test_an_unusual_glass_share_is_taken_with_a_caution() -> None:
    page = signed_in("office").post(at(), sent(("csm", "450 g/m2", "55", "3")) | {"try": "1"}).content.decode()
    assert "Chopped strand mat with 55 % of glass lies outside the usual 25 to 33 %." in page


@pytest.mark.parametrize(
    ("row", "said"),
    [
        (("csm", "450", "30", "3"), "has no unit; add g/m2, kg/m2"),
        (("csm", "-450 g/m2", "30", "3"), "begins with a sign"),
        (("csm", "450 kg", "30", "3"), "is not a mass per area with a unit used here"),
        (("csm", "9 kg/m2", "30", "3"), "must be between 0.02 and 2 kg/m2"),
        (("csm", "450 g/m2", "90", "3"), "the most is 70"),
        (("csm", "450 g/m2", "30", "0"), "the least is 1"),
        (("csm", "450 g/m2", "30", "1.5"), "is not a whole number"),
        (("csm", "", "30", "1"), "Enter the dry weight, such as 450 g/m2."),
        (("wool", "450 g/m2", "30", "1"), "Choose the glass."),
        (("", "", "", ""), "give at least one layer of glass"),
    ],
)
def test_a_layer_that_cannot_be_is_refused_and_stays_as_typed(row: Row, said: str) -> None:
    response = signed_in("office").post(at(), sent(row, name="Another name"))
    page = response.content.decode()
    assert response.status_code == 422
    assert said in page
    assert 'value="Another name"' in page
    assert f'value="{row[1]}"' in page or not row[1]
    assert skin().plies.get().layers == 3
    assert not AuditEntry.objects.exists()


def test_the_summary_of_errors_leads_to_the_cell() -> None:
    page = signed_in("office").post(at(), sent(MAT, ("csm", "", "30", "1"))).content.decode()
    assert '<a href="#id_weight_kg_m2_1">Weight, layer 2: Enter the dry weight' in page
    assert 'id="id_weight_kg_m2_1"' in page


def test_a_lay_up_is_added_for_moulds_with_its_returns() -> None:
    client = signed_in("office")
    address = reverse("new_lay_up", args=["mould"])
    assert "Extra layers on the returns" in client.get(address).content.decode()
    data = sent(("csm", "450 g/m2", "30", "6"), name="Light mould", return_extra_layers="3")
    del data["is_default"]
    assert client.post(address, data).status_code == 302
    row = LayUp.objects.get(name="Light mould")
    assert (row.use, row.return_extra_layers, row.is_default) == ("mould", 3, False)
    assert AuditEntry.objects.get().act == "Lay-up added: Light mould"


def test_a_lay_up_of_casts_asks_for_no_returns() -> None:
    client = signed_in("office")
    assert "Extra layers" not in client.get(reverse("new_lay_up", args=["cast"])).content.decode()
    assert client.get(reverse("new_lay_up", args=["hull"])).status_code == 404


def test_glass_of_a_new_weight_enters_the_price_book() -> None:
    assert signed_in("office").post(at(), sent(("csm", "2 oz/ft2", "30", "2"))).status_code == 302
    item = Item.objects.get(key="glass_csm_610")
    assert (item.name, item.kind, item.unit) == ("Chopped strand mat 610 g/m²", "glass", "kg")
    assert AuditEntry.objects.filter(subject="price book").count() == 1


def test_what_is_used_where_none_is_named_is_one_for_each_use() -> None:
    client = signed_in("office")
    public = LayUp.objects.get(name="Public skin")
    data = sent(("csm", "450 g/m2", "30", "5"), name="Public skin")
    assert client.post(at(public), data).status_code == 302
    assert [row.name for row in LayUp.objects.filter(use="cast", is_default=True)] == ["Public skin"]
    assert LayUp.objects.filter(use="mould", is_default=True).count() == 1
    # The form of the lay-up that lost it was opened on the version before, and is told.
    assert client.post(at(), sent(MAT)).status_code == 409


def test_the_usual_lay_up_is_not_given_up_without_another() -> None:
    data = sent(MAT)
    del data["is_default"]
    response = signed_in("office").post(at(), data)
    assert response.status_code == 422
    assert "Casts need a lay-up for sections that name none" in response.content.decode()
    assert (skin().is_default, skin().version) == (True, 0)


def test_two_lay_ups_cannot_share_a_name() -> None:
    response = signed_in("office").post(at(), sent(MAT, name="public SKIN"))
    assert response.status_code == 422
    assert "public SKIN is taken already; choose another name." in response.content.decode()


def test_two_people_do_not_overwrite_each_other() -> None:
    client = signed_in("office")
    row = skin()
    row.plies.update(layers=7)
    LayUp.objects.filter(pk=row.pk).update(version=1, name="Thick skin")
    response = client.post(at(row), sent(("csm", "450 g/m2", "30", "4")))
    page = response.content.decode()
    assert response.status_code == 409
    assert "Thick skin" in page
    assert "Layers, layer 1" in page
    assert row.plies.get().layers == 7
    assert client.post(at(row), sent(("csm", "450 g/m2", "30", "4"), version="1")).status_code == 302
    assert row.plies.get().layers == 4


def test_a_lay_up_that_is_not_there_is_not_found() -> None:
    assert signed_in("office").get(reverse("lay_up", args=[9999])).status_code == 404
