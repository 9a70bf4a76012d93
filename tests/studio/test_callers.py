"""Whose address counts, with and without proxies in front: for wrong passwords and for links that open nothing."""

import secrets
from typing import Any

import pytest
from django.test import Client, RequestFactory
from django.urls import reverse

from studio.callers import UNKNOWN, caller
from tests.factories import make_person

PROXY, MADE_UP, SOMEBODY, SOMEBODY_ELSE = "10.0.0.1", "198.51.100.7", "203.0.113.5", "203.0.113.6"
SENT = {"username": "ines", "password": "three unrelated garden words"}


@pytest.mark.parametrize(
    ("proxies", "forwarded", "remote", "found"),
    [
        (0, MADE_UP, SOMEBODY, SOMEBODY),
        (0, f"{MADE_UP}, {MADE_UP}", SOMEBODY, SOMEBODY),
        (1, SOMEBODY, PROXY, SOMEBODY),
        (1, f"{MADE_UP}, {SOMEBODY}", PROXY, SOMEBODY),
        (2, f"{MADE_UP}, {SOMEBODY},10.0.0.2", PROXY, SOMEBODY),
        # It did not come through both of them, so that nothing of it is believed.
        (2, MADE_UP, SOMEBODY, SOMEBODY),
        (1, None, PROXY, PROXY),
        (1, "", PROXY, PROXY),
        (1, "a made-up name", PROXY, UNKNOWN),
        # Whoever has one address of IPv6 has the whole network of 64 bits.
        (0, None, "2001:db8:0:7:1:2:3:4", "2001:db8:0:7::"),
        (0, None, "2001:db8:0:7:ffff::1", "2001:db8:0:7::"),
        (0, None, f"::ffff:{SOMEBODY}", SOMEBODY),
        (0, None, "", UNKNOWN),
    ],
)
def test_the_caller_is_who_the_outermost_trusted_proxy_saw(
    settings: Any, proxies: int, forwarded: str | None, remote: str, found: str
) -> None:
    settings.TRUSTED_PROXIES = proxies
    headers = {} if forwarded is None else {"X-Forwarded-For": forwarded}
    assert caller(RequestFactory().get("/", headers=headers, REMOTE_ADDR=remote)) == found


def signed_in_wrongly(said: str, remote: str = PROXY) -> int:
    return Client().post(reverse("sign_in"), SENT, headers={"X-Forwarded-For": said}, REMOTE_ADDR=remote).status_code


@pytest.mark.django_db
def test_a_made_up_address_gives_no_further_tries() -> None:
    make_person("bench")
    assert [signed_in_wrongly(f"198.51.100.{number}") for number in range(11)] == [422] * 9 + [429] * 2
    assert signed_in_wrongly(MADE_UP, remote=SOMEBODY_ELSE) == 422


@pytest.mark.django_db
def test_behind_a_proxy_each_caller_is_counted_alone(settings: Any) -> None:
    settings.TRUSTED_PROXIES = 1
    make_person("bench")
    answers = [signed_in_wrongly(f"198.51.100.{number}, {SOMEBODY}") for number in range(11)]
    assert answers == [422] * 9 + [429] * 2
    assert signed_in_wrongly(SOMEBODY_ELSE) == 422
    assert signed_in_wrongly("nobody at all") == 422


@pytest.mark.django_db
@pytest.mark.parametrize(("proxies", "is_stopped"), [(0, True), (1, False)])
def test_links_are_guessed_by_whom_the_proxy_saw(settings: Any, proxies: int, is_stopped: bool) -> None:
    settings.TRUSTED_PROXIES = proxies

    def guessed(by: str) -> int:
        path = f"/l/{secrets.token_urlsafe(32)}/"
        return Client().get(path, headers={"X-Forwarded-For": by}, REMOTE_ADDR=PROXY).status_code

    assert 429 in [guessed(SOMEBODY) for _ in range(60)]
    assert (guessed(SOMEBODY_ELSE) == 429) == is_stopped
