"""A studio on its first day: every page that can be reached has something to say, and can be used by everybody."""

import pytest
from playwright.sync_api import Browser

from tests.factories import make_commission, signed_in
from tests.pages.driven import NARROW, driven
from tests.pages.looking import faults_of
from tests.web.addresses import walk

pytestmark = pytest.mark.django_db


def test_every_page_of_an_empty_studio_is_usable_by_everybody(browser: Browser) -> None:
    owner = signed_in()
    make_commission()
    pages = []
    for addresses in walk(owner, "/").addresses.values():
        for path in [address.path for address in addresses][:1]:
            answer = owner.get(path)
            if answer.status_code == 200 and answer.headers["Content-Type"].startswith("text/html"):
                pages.append((path, answer))
    assert len(pages) > 20
    faults = []
    with driven(browser, owner, NARROW) as window:
        for path, answer in pages:
            window.open(path, answer)
            faults += [f"{path}: {fault}" for fault in [*faults_of(window.page), *window.complaints]]
    assert not faults, "\n" + "\n".join(faults)
