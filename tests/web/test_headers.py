"""What every answer carries, refusals and files included; and that looking changes nothing."""

import hashlib
from typing import Any

import pytest
from django.apps import apps
from django.http import HttpRequest, HttpResponse
from django.test import Client, override_settings
from django.urls import path

from studio.accounts.models import Role
from studio.urls import handler400, handler403, handler404, handler500, urlpatterns
from tests.web.opened import STRANGER, Studio
from tests.web.sending import Browser

pytestmark = pytest.mark.django_db
POLICY = {
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "base-uri 'none'",
    "frame-ancestors 'none'",
    "object-src 'none'",
    "form-action 'self'",
}


class Broken(Exception):
    """Raised on purpose."""


def broken(request: HttpRequest) -> HttpResponse:
    raise Broken("a secret that stands in the message")


class Addresses:
    """The program's addresses, and one that fails."""

    urlpatterns = [*urlpatterns, path("broken/", broken)]
    handler400, handler403, handler404, handler500 = handler400, handler403, handler404, handler500


# Bytes that somebody sent in: nothing may come of them, whatever a browser takes them for.
BYTES = {"sandbox", "default-src 'none'"}


def lacking(response: HttpResponse) -> list[str]:
    """What an answer should carry and does not."""
    policy = {part.strip() for part in response.headers.get("Content-Security-Policy", "").split(";")}
    found = [] if policy == BYTES else [f"policy without {part}" for part in sorted(POLICY - policy)]
    found += [part for part in policy if "unsafe" in part or "*" in part or "http" in part]
    wanted = {"X-Frame-Options": "DENY"} if policy == BYTES else {}
    wanted |= {"X-Content-Type-Options": "nosniff", "Referrer-Policy": "same-origin"}
    return found + [name for name, value in wanted.items() if response.headers.get(name) != value]


@pytest.mark.parametrize("role", [STRANGER, *Role.values])
def test_every_answer_carries_the_policies(studio: Studio, role: str) -> None:
    client = studio.browser(role)
    faults = {address.path: lacking(client.get(address.path)) for address in studio.each()}
    assert len(faults) > 50
    assert {where: found for where, found in faults.items() if found} == {}


@pytest.mark.parametrize(
    ("where", "status", "more"),
    [
        ("/nowhere/", 404, {}),
        ("/commissions", 301, {}),
        ("/office/", 403, {}),
        ("/static/nothing.css", 404, {}),
        ("/help/", 400, {"headers": {"Host": "elsewhere.example"}}),
    ],
)
def test_refusals_and_redirects_carry_the_policies(
    studio: Studio, where: str, status: int, more: dict[str, Any]
) -> None:
    response = studio.browser(Role.BENCH).get(where, **more)
    assert response.status_code == status
    assert lacking(response) == []


@pytest.mark.parametrize("name", ["css/base.css", "js/pages.js", "img/mark.svg", "fonts/SourceSansPro-Bold.woff2"])
@override_settings(WHITENOISE_USE_FINDERS=True)
def test_files_carry_the_policies(name: str) -> None:
    response = Browser().get(f"/static/{name}")
    assert response.status_code == 200
    assert lacking(response) == []


def test_a_post_without_its_token_is_answered_with_the_policies(studio: Studio) -> None:
    response = studio.browser(Role.OWNER, enforce_csrf_checks=True).post("/account/", {"shown_name": "Maud"})
    assert response.status_code == 403
    assert lacking(response) == []
    assert "This form has been open too long" in response.content.decode()


@override_settings(ROOT_URLCONF=Addresses)
def test_a_fault_is_answered_plainly_and_with_the_policies(studio: Studio) -> None:
    client = studio.browser(Role.OWNER)
    client.raise_request_exception = False
    response = client.get("/broken/")
    page = response.content.decode()
    assert response.status_code == 500
    assert lacking(response) == []
    assert "Something failed here" in page
    assert "secret" not in page
    assert "Traceback" not in page


def test_no_answer_to_somebody_signed_in_is_kept_by_a_cache(studio: Studio) -> None:
    client = studio.browser(Role.OWNER)
    kept = {address.path: client.get(address.path).headers.get("Cache-Control", "") for address in studio.each()}
    assert {
        path: told for path, told in kept.items() if "no-store" not in told and not is_own_picture(path, told)
    } == {}


def is_own_picture(path: str, told: str) -> bool:
    """A photo never changes, so that a person's own browser may keep it, and nothing between."""
    return path.endswith(".jpg") and told.startswith("private")


def test_the_cookies_are_for_this_site_and_out_of_reach_of_scripts() -> None:
    client = Client()
    client.get("/sign-in/")
    client.post("/sign-in/", {"username": "a-owner", "password": "four unrelated garden words"})
    assert set(client.cookies) == {"session", "csrf"}
    for cookie in client.cookies.values():
        assert cookie["httponly"]
        assert cookie["samesite"] == "Lax"
        assert cookie["domain"] == ""


def test_looking_at_every_page_changes_nothing(studio: Studio) -> None:
    client = studio.browser(Role.OWNER)
    before = rows()
    for address in studio.each():
        client.get(address.path)
        client.get(address.path, headers={"HX-Request": "true"})
    assert rows() == before


def rows() -> dict[str, str]:
    """A fingerprint of every table but that of the sessions."""
    found = {}
    for model in apps.get_models():
        if model._meta.label != "sessions.Session":
            values = model._base_manager.order_by("pk").values_list()
            found[model._meta.label] = hashlib.sha256(repr(list(values)).encode()).hexdigest()
    return found
