"""Paint systems: listed with what they take, changed coat by coat, tried before they are kept."""

from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from pytest_django import DjangoAssertNumQueries

from materials.models import PaintSystem
from materials.queries.figures import coat_values
from materials.worked_schemes import work_system
from studio.accounts.models import AuditEntry
from tests.factories import signed_in

pytestmark = pytest.mark.django_db
NAMES = ("kind", "volume_solids", "dry_film_um", "coats", "loss", "hardener_per_base", "thinner")
Row = tuple[str, str, str, str, str, str, str]
PRIMER: Row = ("primer", "60", "75 um", "2", "50", "0.25", "10")
TOPCOAT: Row = ("topcoat", "50", "50 um", "2", "50", "0.5", "10")


def outdoor() -> PaintSystem:
    return PaintSystem.objects.get(name="Outdoor paint")


def at(row: PaintSystem | None = None) -> str:
    return reverse("paint_system", args=[(row or outdoor()).pk])


def sent(*rows: Row, **values: str) -> dict[str, Any]:
    data = {"version": "0", "name": "Outdoor paint", "description": "Primer and topcoat", "default_grade": "B"} | values
    for number, row in enumerate(rows):
        data |= {f"{name}_{number}": value for name, value in zip(NAMES, row, strict=True)}
        data[f"order_{number}"] = str(number + 1)
    return data


def test_a_stranger_is_sent_to_sign_in(client: Client) -> None:
    for address in (reverse("paint_systems"), at(), reverse("new_paint_system")):
        assert client.get(address).status_code == 302


def test_the_bench_is_refused() -> None:
    client = signed_in("bench")
    for address in (at(), reverse("new_paint_system")):
        assert client.get(address).status_code == 403
        assert client.post(address, sent(PRIMER)).status_code == 403
    assert client.get(reverse("paint_systems")).status_code == 403


def test_the_list_shows_litres_to_a_square_metre() -> None:
    # 10 × solids over film, loss divided out: 2 × 75/(10 × 60 × 0.5) = 0.5 l of primer, 2 × 50/(10 × 50 × 0.5) = 0.4 l
    # of topcoat, a tenth of thinner on both.
    worked = work_system(coat_values(outdoor()))
    assert worked.total_l_m2 == pytest.approx(0.99, rel=1e-12)
    assert worked.coats[0].base_l_m2 == pytest.approx(0.4, rel=1e-12)
    assert worked.coats[0].hardener_l_m2 == pytest.approx(0.1, rel=1e-12)
    page = signed_in("office").get(reverse("paint_systems")).content.decode()
    for words in ("Outdoor paint", "2 × primer, 2 × topcoat", "grade B", "250 µm", "0.99 l/m²"):
        assert words in page


def test_the_list_keeps_its_query_count(django_assert_num_queries: DjangoAssertNumQueries) -> None:
    client = signed_in("office")
    with django_assert_num_queries(5):
        client.get(reverse("paint_systems"))
    for number in range(6):
        row = PaintSystem.objects.create(name=f"Paint {number}")
        row.coats.create(position=1, kind="primer", volume_solids=0.5, dry_film_um=50, loss=0.5)
    with django_assert_num_queries(5):
        client.get(reverse("paint_systems"))


def test_coats_are_changed_and_recorded() -> None:
    client = signed_in("office")
    assert "On a square metre" in client.get(at()).content.decode()
    clear: Row = ("clearcoat", "45", "2 mil", "1", "35 %", "0,5", "0")
    assert client.post(at(), sent(PRIMER, TOPCOAT, clear) | {"checked_on": "2025-06-01"}).status_code == 302
    coats = coat_values(outdoor())
    assert [coat.kind for coat in coats] == ["primer", "topcoat", "clearcoat"]
    assert coats[2].dry_film_um == pytest.approx(50.8, rel=1e-12)
    assert (coats[2].loss, coats[2].hardener_per_base, coats[2].thinner) == (0.35, 0.5, 0.0)
    entry = AuditEntry.objects.get()
    assert entry.act == "Paint system changed: Outdoor paint"
    assert set(entry.after) == {"description", "coats", "checked on"}
    assert entry.after["checked on"] == str(outdoor().checked_on) == "2025-06-01"


def test_a_system_is_tried_before_it_is_kept() -> None:
    response = signed_in("office").post(at(), sent(PRIMER) | {"try": "1"})
    assert response.status_code == 200
    assert "0.55 l/m²" in response.content.decode()
    assert outdoor().coats.count() == 2


@pytest.mark.parametrize(
    ("row", "said"),
    [
        (("primer", "0", "75 um", "2", "50", "0", "0"), "the least is 5"),
        (("primer", "60", "75", "2", "50", "0", "0"), "has no unit; add um, mm or mil"),
        (("primer", "60", "75 um", "13", "50", "0", "0"), "the most is 12"),
        (("primer", "60", "75 um", "2", "100", "0", "0"), "the most is 90"),
        (("primer", "60", "75 um", "2", "50", "6", "0"), "the most is 5"),
        (("primer", "60", "9 mm", "2", "50", "0", "0"), "must be between 5 and 2000 um"),
        (("primer", "60", "75 um", "2", "50", "0", ""), "Enter the thinner in per cent"),
        (("varnish", "60", "75 um", "2", "50", "0", "0"), "Choose the paint."),
        (("", "", "", "", "", "", ""), "Enter at least one coat."),
    ],
)
def test_a_coat_that_cannot_be_is_refused_and_stays_as_typed(row: Row, said: str) -> None:
    response = signed_in("office").post(at(), sent(row, description="Another one"))
    page = response.content.decode()
    assert response.status_code == 422
    assert said in page
    assert 'value="Another one"' in page
    assert outdoor().coats.count() == 2
    assert not AuditEntry.objects.exists()


def test_a_system_is_added() -> None:
    client = signed_in("office")
    assert client.get(reverse("new_paint_system")).status_code == 200
    assert (
        client.post(reverse("new_paint_system"), sent(PRIMER, name="Primer alone", default_grade="")).status_code == 302
    )
    assert PaintSystem.objects.get(name="Primer alone").coats.count() == 1
    assert AuditEntry.objects.get().act == "Paint system added: Primer alone"


def test_a_grade_passes_from_one_system_to_another() -> None:
    client = signed_in("office")
    data = sent(PRIMER, TOPCOAT, name="Harbour paint", default_grade="B")
    assert client.post(reverse("new_paint_system"), data).status_code == 302
    assert PaintSystem.objects.get(default_grade="B").name == "Harbour paint"
    assert (outdoor().default_grade, outdoor().version) == ("", 1)


def test_a_grade_is_not_given_up_without_another_system() -> None:
    response = signed_in("office").post(at(), sent(PRIMER, TOPCOAT, default_grade=""))
    assert response.status_code == 422
    assert "Grade B needs a paint system for sections that name none" in response.content.decode()
    assert outdoor().default_grade == "B"


def test_two_systems_cannot_share_a_name() -> None:
    response = signed_in("office").post(at(), sent(PRIMER, name="gallery gloss"))
    assert response.status_code == 422
    assert "gallery gloss is taken already" in response.content.decode()


def test_two_people_do_not_overwrite_each_other() -> None:
    client = signed_in("office")
    PaintSystem.objects.filter(pk=outdoor().pk).update(description="Changed meanwhile", version=1)
    response = client.post(at(), sent(PRIMER))
    page = response.content.decode()
    assert response.status_code == 409
    assert "Changed meanwhile" in page
    assert 'value="Primer and topcoat"' in page
    assert outdoor().coats.count() == 2


def test_a_system_that_is_not_there_is_not_found() -> None:
    assert signed_in("office").get(reverse("paint_system", args=[9999])).status_code == 404
