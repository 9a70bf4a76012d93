"""Norms of work: hours of each step by grade."""

import pytest
from django.test import Client
from django.urls import reverse
from pytest_django import DjangoAssertNumQueries

from materials.estimator.reference import CHECKED_ON
from materials.models import WorkNorm
from studio.accounts.models import AuditEntry
from tests.factories import signed_in

pytestmark = pytest.mark.django_db
HOURS = {"low": "3", "likely": "5", "high": "8", "version": "0", "checked_on": "2025-06-01"}


def carving() -> WorkNorm:
    """Carving to form for public art, delivered as 3 to 6 hours to a square metre."""
    return WorkNorm.objects.get(step="carve", grade="B")


def at() -> str:
    return reverse("norm", args=[carving().pk])


def test_a_stranger_is_sent_to_sign_in(client: Client) -> None:
    assert client.get(reverse("norms")).status_code == 302
    assert client.get(at()).status_code == 302


def test_the_bench_is_refused() -> None:
    client = signed_in("bench")
    assert client.get(reverse("norms")).status_code == 403
    assert client.post(at(), HOURS).status_code == 403


def test_the_table_names_every_step_and_what_drives_it() -> None:
    page = signed_in("office").get(reverse("norms")).content.decode()
    for words in ("Carve to form", "4.5 hours", "3 to 6", "metre of seam", "m² and layer", "Build the crate"):
        assert words in page


def test_the_table_marks_the_norms_that_nobody_has_looked_at_for_long() -> None:
    client = signed_in("office")
    assert "due for a check" not in client.get(reverse("norms")).content.decode()
    WorkNorm.objects.filter(pk=carving().pk).update(checked_on=None)
    assert client.get(reverse("norms")).content.decode().count("due for a check") == 1
    assert "due for a check" in client.get(at()).content.decode()


def test_the_table_keeps_its_query_count(django_assert_num_queries: DjangoAssertNumQueries) -> None:
    client = signed_in("office")
    with django_assert_num_queries(4):
        client.get(reverse("norms"))
    WorkNorm.objects.filter(stage="cast").delete()
    with django_assert_num_queries(4):
        client.get(reverse("norms"))


def test_hours_are_changed_and_recorded() -> None:
    client = signed_in("office")
    assert "hours to one m²" in client.get(at()).content.decode()
    assert client.post(at(), HOURS).status_code == 302
    row = carving()
    assert (row.low, row.likely, row.high, row.version) == (3.0, 5.0, 8.0, 1)
    entry = AuditEntry.objects.get()
    assert entry.act == "Norm changed: pattern, carve to form, grade B"
    assert entry.before == {"likely": "4.5 h", "at most": "6 h", "checked on": str(CHECKED_ON)}
    assert entry.after == {"likely": "5 h", "at most": "8 h", "checked on": "2025-06-01"}
    assert str(row.checked_on) == "2025-06-01"


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"likely": "2"}, "The likely hours are fewer than the least, 3"),
        ({"high": "4"}, "The most hours are fewer than the likely ones, 5"),
        ({"low": "-1"}, "is not a plain number"),
        ({"low": ""}, "Enter the hours when all goes well"),
        ({"high": "2000"}, "the most is 1000"),
    ],
)
def test_hours_that_cannot_be_are_refused_and_stay_as_typed(change: dict[str, str], said: str) -> None:
    response = signed_in("office").post(at(), HOURS | change)
    page = response.content.decode()
    assert response.status_code == 422
    assert said in page
    assert all(f'value="{typed}"' in page for typed in (HOURS | change).values() if typed)
    assert carving().likely == 4.5


def test_two_people_do_not_overwrite_each_other() -> None:
    client = signed_in("office")
    WorkNorm.objects.filter(pk=carving().pk).update(likely=4.75, version=1)
    response = client.post(at(), HOURS)
    assert response.status_code == 409
    assert "4.75" in response.content.decode()
    assert carving().likely == 4.75


def test_a_norm_that_is_not_there_is_not_found() -> None:
    assert signed_in("office").get(reverse("norm", args=[9999])).status_code == 404
