"""The studio's figures: shown with their range and source, changed, refused, put back."""

import datetime

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from pytest_django import DjangoAssertNumQueries

from materials.estimator.reference import CHECKED_ON
from materials.models import Figure
from materials.models.checked import CHECK_AGAIN_AFTER
from materials.services.figures import Impossible, refuse_impossible
from studio.accounts.models import AuditEntry
from tests.factories import signed_in

pytestmark = pytest.mark.django_db


def waste() -> Figure:
    """Resin waste, delivered as 0.1, usually 0.05 to 0.2."""
    return Figure.objects.get(key="allowance_resin")


def at(page: str = "figure") -> str:
    return reverse(page, args=[waste().pk])


def test_a_stranger_is_sent_to_sign_in(client: Client) -> None:
    for address in (reverse("figures"), at()):
        assert client.get(address).status_code == 302
    assert client.post(at("figure_back"), {"version": "0"}).status_code == 302


def test_the_bench_is_refused() -> None:
    client = signed_in("bench")
    for address in (reverse("figures"), at()):
        assert client.get(address).status_code == 403
    assert client.post(at("figure_back"), {"version": "0"}).status_code == 403


def test_the_list_says_how_well_each_figure_is_known() -> None:
    page = signed_in("office").get(reverse("figures")).content.decode()
    for words in (
        "Density of E-glass", "published, seen second-hand: ISO 12215-5", "from memory: makers&#x27; data sheets<",
        "common practice, no source", "Resin waste", "kg/m³", "0.05 to 0.2",
    ):  # fmt: skip
        assert words in page


def test_the_list_keeps_its_query_count(django_assert_num_queries: DjangoAssertNumQueries) -> None:
    client = signed_in("office")
    with django_assert_num_queries(4):
        client.get(reverse("figures"))
    Figure.objects.filter(topic="pattern").delete()
    with django_assert_num_queries(4):
        client.get(reverse("figures"))


def test_a_figure_is_changed_and_recorded() -> None:
    client = signed_in("office")
    assert client.get(at()).status_code == 200
    assert client.post(at(), {"value": "0,12", "version": "0", "checked_on": "2025-06-01"}).status_code == 302
    assert (waste().value, waste().version, waste().checked_on) == (0.12, 1, datetime.date(2025, 6, 1))
    entry = AuditEntry.objects.get()
    assert (entry.subject, entry.act) == ("office", "Figure changed: resin waste")
    assert entry.before == {"value": "0.1", "checked on": str(CHECKED_ON)}
    assert entry.after == {"value": "0.12", "checked on": "2025-06-01"}


def test_a_figure_may_be_checked_and_left_as_it_is() -> None:
    Figure.objects.filter(pk=waste().pk).update(checked_on=None)
    client, today = signed_in("office"), timezone.localdate()
    page = client.get(at()).content.decode()
    assert f'value="{today}"' in page
    assert "due for a check" in page
    assert client.post(at(), {"value": "0.1", "version": "0", "checked_on": ""}).status_code == 302
    assert (waste().value, waste().checked_on) == (0.1, today)
    assert AuditEntry.objects.get().before == {"checked on": None}
    assert "due for a check" not in client.get(at()).content.decode()


def test_nobody_has_checked_a_figure_on_a_day_to_come() -> None:
    client, later = signed_in("office"), timezone.localdate() + datetime.timedelta(days=1)
    for typed, said in ((str(later), f"{later} is still to come"), ("soon", "Enter a day as year")):
        response = client.post(at(), {"value": "0.12", "version": "0", "checked_on": typed})
        assert response.status_code == 422
        assert said in response.content.decode()
        assert f'value="{typed}"' in response.content.decode()
    assert (waste().value, waste().checked_on) == (0.1, CHECKED_ON)


def test_a_figure_not_looked_at_for_two_years_is_marked_in_the_list() -> None:
    today = timezone.localdate()
    Figure.objects.update(checked_on=today - CHECK_AGAIN_AFTER)
    client = signed_in("office")
    assert "due for a check" not in client.get(reverse("figures")).content.decode()
    Figure.objects.filter(pk=waste().pk).update(checked_on=today - CHECK_AGAIN_AFTER - datetime.timedelta(days=1))
    page = client.get(reverse("figures")).content.decode()
    assert page.count("due for a check") == 2
    assert "1 is due for a check" in page
    page = client.get(f"{reverse('figures')}?due").content.decode()
    assert "Resin waste" in page
    assert "Gel coat waste" not in page


def test_a_figure_of_costing_is_kept_from_the_bench_in_the_record() -> None:
    margin = Figure.objects.get(key="margin")
    client = signed_in("office")
    assert client.post(reverse("figure", args=[margin.pk]), {"value": "0.2", "version": "0"}).status_code == 302
    assert AuditEntry.objects.get().has_money


def test_a_figure_outside_its_usual_range_is_taken_with_a_caution() -> None:
    client = signed_in("office")
    page = client.post(at(), {"value": "0.4", "version": "0"}, follow=True).content.decode()
    assert waste().value == 0.4
    assert "Resin waste: the value lies outside the usual 0.05 to 0.2. Check that it is meant." in page
    assert "unusual" in page
    assert "The value in use lies outside the usual range." in client.get(at()).content.decode()


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("-0.1", "is not a plain number"),
        ("nan", "is not a plain number"),
        ("inf", "is not a plain number"),
        ("", "Enter a number, such as 0.15."),
        ("1", "it is a part of the whole, so below 1"),
    ],
)
def test_an_impossible_figure_is_refused_and_stays_as_typed(typed: str, said: str) -> None:
    response = signed_in("office").post(at(), {"value": typed, "version": "0"})
    page = response.content.decode()
    assert response.status_code == 422
    assert said in page
    assert f'value="{typed}"' in page or not typed
    assert (waste().value, waste().version) == (0.1, 0)
    assert not AuditEntry.objects.exists()


@pytest.mark.parametrize(
    ("key", "value", "said"),
    [
        ("fairing_sanded", 0.95, "Share of filler sanded off is 0.95; it must be between 0 and 0.9."),
        ("catalyst_percent", 0.5, "it must be between 1 and 4 %"),
        ("barrier_coats", 0.0, "nothing may be laid up on bare foam"),
        ("barrier_coats", 2.5, "enter a whole number, such as 3"),
        ("glass_density", 2.56, "between 100 and 25000 kg/m3"),
        ("glass_fraction_woven", 0.9, "between 0.05 and 0.7"),
        ("learning_rate", 1.2, "more than 0 and at most 1"),
        ("productive_share", 0.0, "more than 0 and at most 1"),
        ("release_film_cover", 0.0, "it must be more than nothing"),
        ("barrier_cover", 0.0, "it must be more than nothing"),
        ("block_length", 0.001, "between 0.02 and 20 m"),
        ("margin", 1.0, "so below 1"),
    ],
)
def test_what_nothing_can_be_worked_out_with_is_refused(key: str, value: float, said: str) -> None:
    with pytest.raises(Impossible, match=said) as caught:
        refuse_impossible(key, value)
    assert "Section" not in str(caught.value)


def test_every_figure_as_delivered_is_possible() -> None:
    for row in Figure.objects.all():
        refuse_impossible(row.key, row.value)


def test_a_figure_goes_back_to_the_value_as_delivered() -> None:
    client = signed_in("office")
    Figure.objects.filter(pk=waste().pk).update(value=0.4, version=3)
    assert "Back to 0.1" in client.get(at()).content.decode()
    assert client.post(at("figure_back"), {"version": "3"}).status_code == 302
    assert (waste().value, waste().version, waste().checked_on) == (0.1, 4, timezone.localdate())
    assert "Back to 0.1" not in client.get(at()).content.decode()


@pytest.mark.parametrize("version", ["0", "", "x"])
def test_going_back_from_a_page_left_open_changes_nothing(version: str) -> None:
    Figure.objects.filter(pk=waste().pk).update(value=0.4, version=3)
    response = signed_in("office").post(at("figure_back"), {"version": version}, follow=True)
    assert "Somebody changed this figure just now." in response.content.decode()
    assert waste().value == 0.4


def test_going_back_takes_a_post() -> None:
    assert signed_in("office").get(at("figure_back")).status_code == 405


def test_two_people_do_not_overwrite_each_other() -> None:
    client = signed_in("office")
    Figure.objects.filter(pk=waste().pk).update(value=0.17, version=1)
    response = client.post(at(), {"value": "0.12", "version": "0"})
    page = response.content.decode()
    assert response.status_code == 409
    assert "0.17" in page
    assert 'value="0.12"' in page
    assert waste().value == 0.17
    assert client.post(at(), {"value": "0.12", "version": "1"}).status_code == 302
    assert waste().value == 0.12


def test_a_figure_that_is_not_there_is_not_found() -> None:
    assert signed_in("office").get(reverse("figure", args=[9999])).status_code == 404
