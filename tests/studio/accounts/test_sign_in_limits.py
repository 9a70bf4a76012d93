"""Trying passwords out, and being led astray while signing in."""

import pytest
from django.test import Client
from django.urls import reverse

from tests.factories import PASSWORD, make_person

pytestmark = pytest.mark.django_db
WRONG = "three unrelated garden words"


def tried(client: Client, password: str, address: str) -> int:
    return client.post(reverse("sign_in"), {"username": "ines", "password": password}, REMOTE_ADDR=address).status_code


def test_a_hundred_wrong_tries_are_stopped_at_the_tenth() -> None:
    make_person("bench")
    answers = [tried(Client(), WRONG, "192.0.2.7") for _ in range(100)]
    assert answers == [422] * 9 + [429] * 91


def test_the_right_password_still_opens_from_another_place() -> None:
    make_person("bench")
    for _ in range(12):
        tried(Client(), WRONG, "192.0.2.7")
    assert tried(Client(), PASSWORD, "192.0.2.7") == 429
    assert tried(Client(), PASSWORD, "192.0.2.8") == 302


def test_the_right_password_before_the_tenth_try_wipes_the_count() -> None:
    make_person("bench")
    for _ in range(3):
        assert [tried(Client(), WRONG, "192.0.2.7") for _ in range(9)] == [422] * 9
        assert tried(Client(), PASSWORD, "192.0.2.7") == 302


@pytest.mark.parametrize(
    "wanted",
    [
        "https://elsewhere.example/",
        "//elsewhere.example/",
        "/\\elsewhere.example/",
        "\\\\elsewhere.example",
        "https:elsewhere.example",
        "http:///elsewhere.example",
        " //elsewhere.example",
        "\t//elsewhere.example",
        "javascript:alert(1)",
        "https://testserver@elsewhere.example/",
        "https://testserver.elsewhere.example/",
    ],
)
def test_signing_in_leads_to_no_other_site(client: Client, wanted: str) -> None:
    make_person("bench")
    client.get(reverse("sign_in"), {"next": wanted})
    response = client.post(reverse("sign_in"), {"username": "ines", "password": PASSWORD, "next": wanted})
    assert response.status_code == 302
    assert response["Location"].startswith("/")
    assert not response["Location"].startswith(("//", "/\\"))


def test_a_new_session_begins_with_the_sign_in_and_the_old_one_ends_with_it(client: Client) -> None:
    make_person("bench")
    client.get(reverse("sign_in"))
    assert tried(client, PASSWORD, "192.0.2.7") == 302
    first = client.cookies["session"].value
    assert client.get(reverse("my_account")).status_code == 200
    client.post(reverse("sign_out"))
    stolen = Client()
    stolen.cookies["session"] = first
    assert stolen.get(reverse("my_account")).status_code == 302
    assert tried(client, PASSWORD, "192.0.2.7") == 302
    assert client.cookies["session"].value != first


def test_another_password_ends_the_sessions_elsewhere(client: Client) -> None:
    person = make_person("bench")
    elsewhere = Client()
    for browser in (client, elsewhere):
        browser.post(reverse("sign_in"), {"username": "ines", "password": PASSWORD})
    new = "six quite unrelated kitchen words"
    response = client.post(
        reverse("my_password"), {"old_password": PASSWORD, "new_password1": new, "new_password2": new}
    )
    assert response.status_code == 302
    assert client.get(reverse("my_account")).status_code == 200
    assert elsewhere.get(reverse("my_account")).status_code == 302
    person.refresh_from_db()
    assert person.check_password(new)
