"""Every field of every form that a page shows, with what nobody should type in it: never a fault, never markup."""

import re

import pytest
from django.test import Client

from studio.accounts.models import Role
from tests.web.corpus import MARK, MEGABYTE, NUL, NUMBERS, SURROGATE, TEXTS
from tests.web.opened import STRANGER, Studio
from tests.web.pages import Field, Form
from tests.web.sending import sent

pytestmark = pytest.mark.django_db
EVERYTHING = {**NUMBERS, **TEXTS, "a NUL": NUL, "half a surrogate pair": SURROGATE}
# Documents are sent as their HTML here.
MARKUP = ("text/html", "application/pdf", "image/svg+xml")
RAW = re.compile(rf"<script>alert\('{MARK}|<img src=x onerror=alert\('{MARK}")


@pytest.fixture
def owner(studio: Studio) -> Client:
    return studio.browser(Role.OWNER)


def report(faults: list[str]) -> None:
    assert not faults, "\n" + "\n".join(faults)


def wrong(client: Client, form: Form, changes: dict[str, str]) -> list[str]:
    """What is wrong with the answer: a fault of the program, or what was typed standing in it as markup."""
    try:
        response = sent(client, form, changes)
    except Exception as fault:
        return [f"{form} {', '.join(changes)}: {fault!r}"]
    page = response.content.decode(errors="replace")
    faulty = response.status_code >= 500 or RAW.search(page)
    return [f"{form} {', '.join(changes)}: {response.status_code}"] if faulty else []


def scripted(field: Field) -> str:
    return TEXTS["a script"][: field.most or None]


@pytest.mark.parametrize("typed", EVERYTHING.values(), ids=EVERYTHING.keys())
def test_nonsense_in_all_fields_at_once_is_answered_plainly(studio: Studio, owner: Client, typed: str) -> None:
    faults = []
    for form in studio.forms:
        if form.typed():
            faults += wrong(owner, form, dict.fromkeys(form.typed(), typed))
    report(faults)


@pytest.mark.parametrize("kind", ["a script", "an exponent"])
def test_nonsense_in_one_field_is_answered_plainly(studio: Studio, owner: Client, kind: str) -> None:
    faults = []
    for form in studio.forms:
        for each in form.kinds():
            if each.is_typed:
                faults += wrong(owner, form, {each.name: EVERYTHING[kind]})
    report(faults)


@pytest.mark.parametrize("typed", ["", "-1", "zq", NUL, "9" * 400], ids=["nothing", "-1", "a word", "a NUL", "digits"])
def test_nonsense_in_what_is_chosen_or_hidden_is_answered_plainly(studio: Studio, owner: Client, typed: str) -> None:
    faults = []
    for form in studio.forms:
        for each in form.kinds():
            if not each.is_typed and each.kind != "file" and each.name != "csrfmiddlewaretoken":
                faults += wrong(owner, form, {each.name: typed})
    report(faults)


def test_a_megabyte_in_a_field_is_answered_plainly(studio: Studio, owner: Client) -> None:
    faults = []
    for form in studio.forms:
        for each in form.kinds():
            if each.is_typed and form.method == "post":
                faults += wrong(owner, form, {each.name: MEGABYTE})
    report(faults)


@pytest.mark.parametrize("typed", ["w", "0.5 m"], ids=["letters", "a length"])
def test_a_field_takes_as_much_as_it_says(studio: Studio, owner: Client, typed: str) -> None:
    faults = []
    for form in studio.forms:
        for each in form.kinds():
            if each.is_typed and each.most:
                faults += wrong(owner, form, {each.name: typed.rjust(each.most, typed[0])})
    report(faults)


def test_a_script_that_was_saved_stays_text_on_every_page(studio: Studio, owner: Client) -> None:
    saved = 0
    for form in studio.forms:
        if form.method == "post" and "password" not in form.action and not form.action.endswith("/sign-out/"):
            texts = {each.name: scripted(each) for each in form.fields if each.kind in ("text", "textarea")}
            taken = {name: text for name, text in texts.items() if sent(owner, form, {name: text}).status_code == 302}
            if taken and owner.post(form.action, form.sent() | taken).status_code == 302:
                saved += len(taken)
    assert saved > 20
    for role in (STRANGER, Role.BENCH, Role.OWNER):
        client = studio.browser(role)
        answers = {here.path: client.get(here.path) for here in studio.each()}
        pages = {
            path: page for path, page in answers.items() if page.headers.get("Content-Type", "").startswith(MARKUP)
        }
        assert len(pages) > 5
        assert [path for path, page in pages.items() if RAW.search(page.content.decode())] == []
