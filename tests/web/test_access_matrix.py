"""Every address against every role: who is let in, who is turned away, and how."""

from copy import deepcopy

import pytest
from django.db import transaction
from django.test import Client

from studio.access import ANYONE, HOLDERS
from studio.accounts.models import Role
from tests.web.addresses import Address, Route, routes
from tests.web.opened import STRANGER, Studio

pytestmark = pytest.mark.django_db
EVERYBODY = (STRANGER, *Role.values)
# Where the bench may see or change what is its own and nobody else's; what it may not change at all, it may read.
OWN_ONLY = {
    ("GET", "crew/<int:pk>/week/"),
    ("HEAD", "crew/<int:pk>/week/"),
    ("POST", "crew/entries/<int:pk>/take-back/"),
    ("POST", "commissions/<int:pk>/"),
}
# Nobody has to sign in: for anybody, and for whoever holds the link that the address is.
OPEN = (ANYONE, HOLDERS)
OTHER_METHODS = ("PUT", "PATCH", "DELETE")


def report(faults: list[str]) -> None:
    assert not faults, "\n" + "\n".join(faults)


def undone(client: Client, method: str, path: str, **more: object) -> int:
    """The status of a request whose effect is taken back, signing out included."""
    with transaction.atomic():
        before = deepcopy(client.cookies)
        status = client.generic(method, path, content_type="application/x-www-form-urlencoded", **more).status_code
        client.cookies = before
        transaction.set_rollback(True)
    return status


def places(studio: Studio) -> list[tuple[Route, Address]]:
    known = routes()
    return [(known[address.route], address) for address in [*studio.each(), *studio.each_held()]]


def test_every_view_declares_who_may_see_it() -> None:
    found = routes().values()
    assert len(found) > 30
    assert [route.pattern for route in found if route.allowed is None] == []


def test_every_role_that_a_view_names_exists() -> None:
    known = {*Role.values, *ANYONE, *HOLDERS}
    assert [route.pattern for route in routes().values() if not (route.allowed or frozenset()) <= known] == []


def test_some_page_leads_to_every_address(studio: Studio) -> None:
    assert sorted(routes().keys() - studio.addresses.keys() - studio.held.keys()) == []


@pytest.mark.parametrize("method", ["GET", "HEAD", "POST"])
@pytest.mark.parametrize("role", EVERYBODY)
def test_each_address_lets_in_whom_its_view_names_and_nobody_else(studio: Studio, role: str, method: str) -> None:
    client = studio.browser(role)
    faults = []
    for route, address in places(studio):
        status = undone(client, method, address.path)
        allowed = route.allowed or frozenset()
        if role in allowed or allowed in OPEN:
            right = status < 400 or status in (400, 404, 405, 409, 422)
            right = right or (status == 403 and role == Role.BENCH and (method, address.route) in OWN_ONLY)
        else:
            right = status == (302 if role == STRANGER else 403)
        if not right:
            faults.append(f"{method} {address.path} as {role}: {status}")
    report(faults)


def test_a_stranger_is_sent_to_sign_in_and_from_there_back(studio: Studio) -> None:
    client = studio.browser(STRANGER)
    closed = [address for route, address in places(studio) if route.allowed not in OPEN]
    assert closed
    report(
        [
            address.path
            for address in closed
            if not client.get(address.path).headers["Location"].startswith("/sign-in/?next=/")
        ]
    )


def test_a_stranger_gets_no_sign_in_page_into_the_middle_of_another(studio: Studio) -> None:
    client = studio.browser(STRANGER)
    closed = [address for route, address in places(studio) if route.allowed not in OPEN]
    answers = {address.path: client.get(address.path, headers={"HX-Request": "true"}) for address in closed}
    report(
        [path for path, answer in answers.items() if answer.headers.get("HX-Redirect") != "/sign-in/" or answer.content]
    )


def test_no_address_takes_another_method(studio: Studio) -> None:
    client = studio.browser(Role.OWNER)
    report(
        [
            f"{method} {address.path}"
            for _, address in places(studio)
            for method in OTHER_METHODS
            if undone(client, method, address.path) != 405
        ]
    )


def test_no_address_takes_a_post_without_the_token_of_a_form(studio: Studio) -> None:
    client = studio.browser(Role.OWNER, enforce_csrf_checks=True)
    statuses = {address.path: undone(client, "POST", address.path) for _, address in places(studio)}
    report([f"{path}: {status}" for path, status in statuses.items() if status != 403])


def test_somebody_whose_access_has_ended_is_a_stranger_at_once(studio: Studio) -> None:
    client = studio.browser(Role.OWNER)
    assert client.get("/office/").status_code == 200
    person = studio.people[Role.OWNER]
    person.is_active = False
    person.save()
    assert client.get("/office/").headers["Location"].startswith("/sign-in/")
    person.is_active = True
    person.save()
