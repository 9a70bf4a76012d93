"""Every kind of page, as every role, full and in error, in a browser: usable by everybody and on any width."""

import re
from collections.abc import Iterator

import pytest
from django.http import HttpResponse
from django.test import Client
from playwright.sync_api import Browser as Chromium

from studio.accounts.models import Role
from tests.pages.driven import NARROW, PHONE, Driven, driven
from tests.pages.looking import broken_rules, faults_of, small_targets, too_wide, unseen_focus
from tests.web.addresses import Address, address
from tests.web.opened import STRANGER, Studio
from tests.web.sending import sent

pytestmark = pytest.mark.django_db


def one_of_each_kind(studio: Studio, role: str) -> dict[str, HttpResponse]:
    """The page of one address of each route that this role may open, with its answer."""
    client, found = studio.browser(role), dict[str, HttpResponse]()
    held = studio.held if role == STRANGER else {}
    for addresses in [*studio.addresses.values(), *held.values()]:
        opened = first_page(client, addresses)
        found |= opened
    return found


def first_page(client: Client, addresses: list[Address]) -> dict[str, HttpResponse]:
    for place in addresses:
        answer = client.get(place.path)
        if answer.status_code == 200 and answer.headers.get("Content-Type", "").startswith("text/html"):
            return {place.path: answer}
    return {}


def faults_on(window: Driven, pages: dict[str, HttpResponse]) -> Iterator[str]:
    for path, answer in pages.items():
        window.open(path, answer)
        yield from (f"{path}: {fault}" for fault in [*faults_of(window.page), *window.complaints])
        window.complaints.clear()


def report(faults: list[str]) -> None:
    assert not faults, "\n" + "\n".join(faults)


BAD = """<!doctype html><html lang="en"><head><title>Bad</title></head><body><main>
<a href="/a">.</a><a href="/b">.</a><input id="lone"><p class="wide">{wide}</p></main>
<style>p {{ width: 900px }} a {{ font-size: 8px; outline: none !important }}</style></body></html>"""


def test_what_is_wrong_with_a_page_is_seen(studio: Studio, browser: Chromium) -> None:
    bad = HttpResponse(BAD.format(wide="wide " * 80), content_type="text/html")
    with driven(browser, studio.browser(STRANGER), NARROW) as window:
        window.open("/bad/", bad)
        rules = {fault.partition(":")[0] for fault in broken_rules(window.page)}
        assert {"label", "target-size"} <= rules
        assert "p.wide" in too_wide(window.page)[0]
        assert "no focus is seen on <a href" in unseen_focus(window.page)[0]
        assert len(small_targets(window.page)) == 3


@pytest.mark.parametrize("role", [STRANGER, *Role.values])
def test_every_page_is_usable_by_everybody(studio: Studio, browser: Chromium, role: str) -> None:
    pages = one_of_each_kind(studio, role)
    assert len(pages) > (1 if role == STRANGER else 15)
    if role == Role.OFFICE:
        # The owner's are looked at already; the office's own are those that say something else.
        owners = one_of_each_kind(studio, Role.OWNER)
        pages = {path: page for path, page in pages.items() if told(page) != told(owners.get(path))}
        assert pages
    with driven(browser, studio.browser(role), NARROW) as window:
        report(list(faults_on(window, pages)))


def told(page: HttpResponse | None) -> str:
    """What a page says, without whose it is and the token of its forms."""
    text = page.content.decode() if page else ""
    return re.sub(r'name="csrfmiddlewaretoken" value="\w+"|Quill \w+', "", text)


def test_every_form_that_was_refused_is_usable_by_everybody(studio: Studio, browser: Chromium) -> None:
    owner, pages, met = studio.browser(Role.OWNER), dict[str, HttpResponse](), set[str]()
    for form in studio.forms:
        answer = sent(owner, form, dict.fromkeys(form.typed(), ""))
        leads = address(form.action)
        if answer.status_code == 422 and leads and leads.route not in met:
            met.add(leads.route)
            pages[form.action] = answer
    assert len(pages) > 15
    with driven(browser, owner, NARROW) as window:
        report(list(faults_on(window, pages)))


@pytest.mark.parametrize("role", Role.values)
def test_what_a_maker_taps_on_a_phone_is_large_enough(studio: Studio, browser: Chromium, role: str) -> None:
    stages = studio.addresses["stages/<slug:code>/"][:1]
    pages = [*(address.path for address in stages), "/bench/"]
    with driven(browser, studio.browser(role), PHONE) as window:
        for path in pages:
            window.open(path)
            assert small_targets(window.page) == [], path
