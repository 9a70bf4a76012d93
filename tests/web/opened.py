"""One whole studio that is opened for many tests at once; what a test does to it is undone."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any, Self

import pytest
from django.db import transaction

from studio.accounts.models import Role, User
from tests.web.addresses import Address, walk
from tests.web.pages import Form
from tests.web.sending import Browser
from tests.web.whole_studio import make_whole_studio

BACKEND = "django.contrib.auth.backends.ModelBackend"
STRANGER = "stranger"


@dataclass(frozen=True, slots=True)
class Studio:
    """The people; every address that pages lead the owner and a holder of links to, by route; every kind of form."""

    people: dict[str, User]
    addresses: dict[str, list[Address]]
    held: dict[str, list[Address]]
    forms: list[Form]

    def browser(self, role: str, **values: bool) -> Browser:
        """A browser of somebody of that role, or of a stranger."""
        client = Browser(**values)
        if role != STRANGER:
            client.force_login(self.people[role], backend=BACKEND)
        return client

    def each(self) -> list[Address]:
        """Every address of those who sign in, in the order in which it was found."""
        return [address for found in self.addresses.values() for address in found]

    def each_held(self) -> list[Address]:
        """Every address that a link opens."""
        return [address for found in self.held.values() for address in found]


class Unprinted:
    """A document that answers with its HTML: who may have it is asked here, and printing takes seconds."""

    def __init__(self, string: str, **_: object) -> None:
        self.text = string
        self.metadata = SimpleNamespace()

    def render(self, **_: object) -> Self:
        return self

    def write_pdf(self, **_: object) -> bytes:
        return self.text.encode()


@contextmanager
def opened_studio(blocker: Any) -> Iterator[Studio]:
    """A whole studio in a transaction that is rolled back when the last of its tests has ended."""
    with pytest.MonkeyPatch.context() as patch, blocker.unblock(), transaction.atomic():
        patch.setattr("weasyprint.HTML", Unprinted)
        patch.setattr("weasyprint.CSS", lambda **_: None)
        # What a template was rendered with is asked by no test here, and copying it takes a fifth of the time.
        patch.setattr("django.test.client.store_rendered_templates", lambda *_, **__: None)
        made = make_whole_studio()
        client = Browser()
        client.force_login(made.people[Role.OWNER], backend=BACKEND)
        found = walk(client, *made.begin)
        held, outside = walk(Browser(), *made.held), walk(Browser(), "/sign-in/")
        forms = [form for each in (found, held, outside) for form in each.forms.values()]
        yield Studio(made.people, found.addresses, held.addresses, forms)
        transaction.set_rollback(True)
