"""Looking after one's own account."""

import pytest
from django.test import Client
from django.urls import reverse

from studio.accounts.models import AuditEntry, User
from tests.factories import PASSWORD, signed_in

pytestmark = pytest.mark.django_db
NEW = "five quite other garden words"


def test_a_stranger_is_sent_to_sign_in(client: Client) -> None:
    for page in ("my_account", "my_password"):
        assert client.get(reverse(page)).status_code == 302


@pytest.mark.parametrize("role", ["owner", "office", "bench"])
def test_everybody_may_change_their_own_name(role: str) -> None:
    client = signed_in(role)
    assert client.post(reverse("my_account"), {"shown_name": "Ines V."}).status_code == 302
    assert User.objects.get().shown_name == "Ines V."
    assert AuditEntry.objects.get().act == "Name changed"


def test_a_name_cannot_be_empty() -> None:
    response = signed_in("bench").post(reverse("my_account"), {"shown_name": " "})
    assert response.status_code == 422
    assert "Enter the name that others know you by." in response.content.decode()


def test_a_new_password_ends_the_other_sessions_and_not_this_one() -> None:
    here, elsewhere = signed_in("bench"), Client()
    elsewhere.force_login(User.objects.get(), backend="django.contrib.auth.backends.ModelBackend")
    data = {"old_password": PASSWORD, "new_password1": NEW, "new_password2": NEW}
    assert here.post(reverse("my_password"), data).status_code == 302
    assert here.get(reverse("my_account")).status_code == 200
    assert elsewhere.get(reverse("my_account")).status_code == 302
    entry = AuditEntry.objects.get()
    assert entry.act == "Own password changed"
    assert NEW not in f"{entry.before}{entry.after}"


@pytest.mark.parametrize(
    "data",
    [
        {"old_password": "not mine at all", "new_password1": NEW, "new_password2": NEW},
        {"old_password": PASSWORD, "new_password1": NEW, "new_password2": f"{NEW}!"},
        {"old_password": PASSWORD, "new_password1": "tiny wee", "new_password2": "tiny wee"},
        {"old_password": PASSWORD, "new_password1": "abcabcabcabcabcabc", "new_password2": "abcabcabcabcabcabc"},
        {"old_password": PASSWORD, "new_password1": "passwordpassword", "new_password2": "passwordpassword"},
    ],
)
def test_a_password_that_will_not_do_is_refused_and_never_shown(data: dict[str, str]) -> None:
    response = signed_in("bench").post(reverse("my_password"), data)
    assert response.status_code == 422
    assert data["new_password1"] not in response.content.decode()
    assert User.objects.get().check_password(PASSWORD)


@pytest.mark.parametrize(
    "word", ["abcdefghijklmnopqrst", "correct horse battery staple", "ü" * 7 + "ö" * 8, "x" * 32 + "y" * 32]
)
def test_a_long_password_of_any_signs_is_taken(word: str) -> None:
    data = {"old_password": PASSWORD, "new_password1": word, "new_password2": word}
    assert signed_in("bench").post(reverse("my_password"), data).status_code == 302
    assert User.objects.get().check_password(word)
