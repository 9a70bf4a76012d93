"""The people of the studio: the owner's business."""

import pytest
from django.test import Client
from django.urls import reverse
from pytest_django import DjangoAssertNumQueries

from studio.accounts.models import AuditEntry, Role, User
from tests.factories import PASSWORD, make_person, signed_in

pytestmark = pytest.mark.django_db
WORDS = "seven paper boats at anchor"
NEW = {"shown_name": "Joss Adair", "username": "joss", "role": "bench", "password": WORDS}


def addresses(person: User) -> list[str]:
    return [
        reverse("people"), reverse("new_person"), reverse("person", args=[person.pk]),
        reverse("given_password", args=[person.pk]),
    ]  # fmt: skip


def test_a_stranger_is_sent_to_sign_in(client: Client) -> None:
    for address in addresses(make_person("bench")):
        assert client.get(address).status_code == 302


@pytest.mark.parametrize("role", ["office", "bench"])
def test_only_the_owner_gets_in(role: str) -> None:
    client = signed_in(role)
    for address in addresses(User.objects.get()):
        assert client.get(address).status_code == 403
        assert client.post(address, NEW).status_code in (403, 405)
    assert User.objects.count() == 1


def test_the_list_shows_everybody_and_keeps_its_query_count(django_assert_num_queries: DjangoAssertNumQueries) -> None:
    client = signed_in("owner")
    with django_assert_num_queries(4):
        client.get(reverse("people"))
    for number in range(12):
        make_person("bench", username=f"hand{number}", shown_name=f"Hand {number}")
    with django_assert_num_queries(4):
        page = client.get(reverse("people")).content.decode()
    assert "Hand 11" in page


def test_somebody_is_added_and_can_sign_in(client: Client) -> None:
    owner = signed_in("owner")
    assert owner.get(reverse("new_person")).status_code == 200
    assert owner.post(reverse("new_person"), NEW).status_code == 302
    assert client.post(reverse("sign_in"), {"username": "joss", "password": WORDS}).status_code == 302
    entry = AuditEntry.objects.get()
    assert (entry.subject, entry.act, entry.after) == (
        "people",
        "Person added",
        {"name": "Joss Adair", "role": "bench"},
    )
    assert entry.actor == User.objects.get(username="maud")


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"username": "MAUD"}, "Somebody already signs in as MAUD; choose another name."),
        ({"username": "joss adair"}, "Use letters, digits and . + - _ @ only, such as ines."),
        ({"username": ""}, "Enter a sign-in name, such as ines."),
        ({"shown_name": ""}, "Enter the name that others know them by."),
        ({"role": "king"}, "Choose what they may see and do."),
        ({"password": "too short"}, "at least 15 characters"),
        ({"password": "Joss Adair Joss Adair "}, "repeats the same few characters"),
        ({"username": "josslongestaround", "password": "josslongestaround1"}, "too similar to the username"),
        ({"password": ""}, "Enter a password of at least 15 characters."),
    ],
)
def test_somebody_who_cannot_be_added_is_refused_and_kept_as_typed(change: dict[str, str], said: str) -> None:
    response = signed_in("owner").post(reverse("new_person"), NEW | change)
    page = response.content.decode()
    assert response.status_code == 422
    assert said in page
    assert "<title>Error: Add a person" in page
    if "shown_name" not in change:
        assert 'value="Joss Adair"' in page
    assert User.objects.count() == 1


def test_a_role_is_changed_and_recorded() -> None:
    owner, ines = signed_in("owner"), make_person("bench")
    data = {"shown_name": "Ines V.", "role": "office", "is_active": "on"}
    assert owner.post(reverse("person", args=[ines.pk]), data).status_code == 302
    ines.refresh_from_db()
    assert (ines.shown_name, ines.role, ines.is_active) == ("Ines V.", "office", True)
    entry = AuditEntry.objects.get()
    assert entry.before == {"name": "Ines Varga", "role": "bench"}
    assert entry.after == {"name": "Ines V.", "role": "office"}


def test_whose_access_ends_is_out_at_once() -> None:
    owner, at_the_bench = signed_in("owner"), signed_in("bench")
    assert at_the_bench.get(reverse("my_account")).status_code == 200
    ines = User.objects.get(username="ines")
    owner.post(reverse("person", args=[ines.pk]), {"shown_name": "Ines Varga", "role": "bench"})
    assert at_the_bench.get(reverse("my_account")).status_code == 302
    assert "no</td>" in owner.get(reverse("people")).content.decode()


@pytest.mark.parametrize("data", [{"role": "owner"}, {"role": "office", "is_active": "on"}])
def test_the_last_owner_stays_owner(data: dict[str, str]) -> None:
    owner = signed_in("owner")
    make_person("owner", username="gone", shown_name="Gone Away", is_active=False)
    maud = User.objects.get(username="maud")
    response = owner.post(reverse("person", args=[maud.pk]), {"shown_name": "Maud Ellery"} | data)
    assert response.status_code == 422
    assert "This is the only owner; make somebody else an owner first." in response.content.decode()
    maud.refresh_from_db()
    assert maud.role == Role.OWNER
    assert maud.is_active


def test_one_of_two_owners_may_step_back() -> None:
    owner = signed_in("owner")
    make_person("owner", username="second", shown_name="Second Owner")
    maud = User.objects.get(username="maud")
    data = {"shown_name": "Maud Ellery", "role": "bench", "is_active": "on"}
    assert owner.post(reverse("person", args=[maud.pk]), data).status_code == 302
    assert owner.get(reverse("people")).status_code == 403


def test_a_given_password_works_and_ends_the_sessions(client: Client) -> None:
    owner, at_the_bench = signed_in("owner"), signed_in("bench")
    ines = User.objects.get(username="ines")
    address = reverse("given_password", args=[ines.pk])
    assert owner.get(address).status_code == 200
    assert owner.post(address, {"password": WORDS}).status_code == 302
    assert at_the_bench.get(reverse("my_account")).status_code == 302
    assert client.post(reverse("sign_in"), {"username": "ines", "password": PASSWORD}).status_code == 422
    assert client.post(reverse("sign_in"), {"username": "ines", "password": WORDS}).status_code == 302
    assert WORDS not in str(list(AuditEntry.objects.values()))


def test_a_given_password_is_checked_like_any_other() -> None:
    owner, ines = signed_in("owner"), make_person("bench")
    response = owner.post(reverse("given_password", args=[ines.pk]), {"password": "ines"})
    assert response.status_code == 422
    ines.refresh_from_db()
    assert ines.check_password(PASSWORD)


def test_somebody_who_is_not_there_is_not_found() -> None:
    owner = signed_in("owner")
    assert owner.get(reverse("person", args=[999])).status_code == 404
    assert owner.get(reverse("given_password", args=[999])).status_code == 404
