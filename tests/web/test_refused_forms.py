"""A form that was refused says so, leads to what has to be put right, and keeps what was typed."""

import re
from html import unescape

import pytest

from studio.accounts.models import Role
from tests.web.opened import Studio
from tests.web.sending import sent, shown_again

pytestmark = pytest.mark.django_db


def report(faults: list[str]) -> None:
    assert not faults, "\n" + "\n".join(faults)


def test_what_was_typed_is_still_there_after_a_refusal(studio: Studio) -> None:
    owner, faults, refused = studio.browser(Role.OWNER), [], 0
    for form in studio.forms:
        typed = {name: f"<b>&amp; “{name}” 'm'" for name in form.typed()}
        response = sent(owner, form, typed)
        if response.status_code == 422:
            refused += 1
            again = shown_again(response, form)
            if again is None:
                faults.append(f"{form}: the form is gone")
            else:
                faults += [f"{form} {name}: {text}" for name, text in again.items() if text != typed[name]]
    assert refused > 15
    report(faults)


def test_an_empty_form_is_refused_with_a_summary_that_leads_to_its_fields(studio: Studio) -> None:
    owner, faults, refused = studio.browser(Role.OWNER), [], 0
    for form in studio.forms:
        response = sent(owner, form, dict.fromkeys(form.typed(), ""))
        if response.status_code == 422:
            refused += 1
            page = response.content.decode()
            faults += [f"{form}: {fault}" for fault in summary_faults(page)]
    assert refused > 15
    report(faults)


def summary_faults(page: str) -> list[str]:
    """What is wrong with the answer to a form that was refused."""
    ids = set(re.findall(r'\bid="([^"]+)"', page))
    title = re.search(r"<title>(.*?)</title>", page, re.DOTALL)
    summary = re.search(r'<div class="errors".*?</div>', page, re.DOTALL)
    faults = []
    if not title or not unescape(title[1]).startswith("Error: "):
        faults.append("its title does not say that there is an error")
    if not summary:
        return [*faults, "it has no summary"]
    links = re.findall(r'href="#([^"]*)"', summary[0])
    if not links and "<li>" not in summary[0]:
        faults.append("its summary is empty")
    faults += [f"the summary leads to {link}, which is not there" for link in links if link not in ids]
    for described in re.findall(r'aria-describedby="([^"]*)"', page):
        faults += [f"described by {name}, which is not there" for name in described.split() if name not in ids]
    for link in links:
        control = re.search(rf'<(?:input|select|textarea)[^>]*\bid="{re.escape(link)}"[^>]*>', page)
        if control and 'aria-invalid="true"' not in control[0]:
            faults.append(f"{link} does not say that it is wrong")
    return faults
