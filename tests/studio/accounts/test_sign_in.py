"""Signing in and out."""

import pytest
from django.test import Client
from django.urls import reverse

from tests.factories import PASSWORD, make_person, signed_in

pytestmark = pytest.mark.django_db
WRONG = "three unrelated garden words"


def sign_in(client: Client, username: str, password: str, **more: str) -> int:
    return client.post(reverse("sign_in"), {"username": username, "password": password, **more}).status_code


def test_the_right_words_lead_to_the_workshop(client: Client) -> None:
    make_person("bench")
    response = client.post(reverse("sign_in"), {"username": "ines", "password": PASSWORD})
    assert response.status_code == 302
    assert response["Location"] == reverse("workshop")


def test_one_goes_on_to_where_one_was_going(client: Client) -> None:
    make_person("office")
    response = client.post(reverse("sign_in"), {"username": "tam", "password": PASSWORD, "next": reverse("office")})
    assert response["Location"] == reverse("office")


@pytest.mark.parametrize("wanted", ["https://elsewhere.example/", "//elsewhere.example/", "javascript:alert(1)"])
def test_nobody_is_led_to_another_site(client: Client, wanted: str) -> None:
    make_person("office")
    response = client.post(reverse("sign_in"), {"username": "tam", "password": PASSWORD, "next": wanted})
    assert response["Location"] == reverse("workshop")


@pytest.mark.parametrize(("username", "password"), [("ines", WRONG), ("nobody", PASSWORD), ("gone", PASSWORD)])
def test_every_mistake_gets_the_same_answer(client: Client, username: str, password: str) -> None:
    make_person("bench")
    make_person("bench", username="gone", shown_name="Gone Away", is_active=False)
    response = client.post(reverse("sign_in"), {"username": username, "password": password})
    page = response.content.decode()
    assert response.status_code == 422
    assert "The name and password do not match. Check both; capitals count in the password." in page
    assert "<title>Error: Sign in" in page
    assert password not in page


def test_an_empty_form_says_what_to_enter(client: Client) -> None:
    response = client.post(reverse("sign_in"), {"username": "", "password": ""})
    assert response.status_code == 422
    assert "Enter your sign-in name." in response.content.decode()


def test_ten_wrong_tries_from_one_place_shut_the_door_for_a_while(client: Client) -> None:
    make_person("bench")
    answers = [sign_in(client, "ines", WRONG) for _ in range(10)]
    assert answers[:9] == [422] * 9
    assert answers[9] == 429
    assert sign_in(client, "ines", PASSWORD) == 429


def test_somebody_else_at_the_same_place_may_still_sign_in(client: Client) -> None:
    make_person("bench")
    make_person("office")
    for _ in range(10):
        sign_in(client, "ines", WRONG)
    assert sign_in(client, "tam", PASSWORD) == 302


def test_who_is_signed_in_is_not_asked_again() -> None:
    assert signed_in("bench").get(reverse("sign_in"))["Location"] == reverse("workshop")


def test_signing_out_ends_the_session_and_takes_a_post() -> None:
    client = signed_in("bench")
    assert client.get(reverse("sign_out")).status_code == 405
    assert client.get(reverse("my_account")).status_code == 200
    assert client.post(reverse("sign_out")).status_code == 302
    assert client.get(reverse("my_account")).status_code == 302


def test_a_page_of_a_signed_in_person_is_kept_by_no_cache() -> None:
    assert signed_in("bench").get(reverse("my_account"))["Cache-Control"] == "no-store"


def test_a_stranger_reads_the_help_and_sees_no_names(client: Client) -> None:
    make_person("owner")
    page = client.get(reverse("help")).content.decode()
    assert "What this does not replace" in page
    assert "Maud" not in page
