"""The sheets of a commission on a phone: one row, and all of them at a tap, with and without JavaScript."""

import pytest
from playwright.sync_api import Browser, expect

from jobs.models import Commission
from studio.accounts.models import Role
from tests.pages.driven import DESK, NARROW, driven
from tests.pages.looking import broken_rules, small_targets, too_wide
from tests.web.opened import Studio

pytestmark = pytest.mark.django_db
TARGET_PX, ROW_PX = 48, 60


@pytest.mark.parametrize(("role", "sheets", "script"), [(Role.OWNER, 11, True), (Role.BENCH, 8, False)])
def test_one_row_on_a_phone_opens_into_all_of_them(
    studio: Studio, browser: Browser, role: str, sheets: int, script: bool
) -> None:
    board = f"/commissions/{Commission.objects.get(title='Six Acorns').pk}/board/"
    with driven(browser, studio.browser(role), NARROW, script=script) as window:
        window.open(board)
        page = window.page
        nav = page.get_by_role("navigation", name="Sheets of this commission")
        box, links, button = nav.bounding_box(), nav.get_by_role("link"), nav.get_by_role("button", name="All sheets")
        assert box is not None
        assert box["height"] < ROW_PX
        expect(links).to_have_text(["Board"])
        button.focus()
        page.keyboard.press("Enter")
        expect(links).to_have_count(sheets)
        page.keyboard.press("Tab")
        expect(links.first).to_be_focused()
        assert all(size["height"] >= TARGET_PX for link in links.all() if (size := link.bounding_box()))
        if script:
            # What looks at the page is itself a script. Escape uncovers what the list lies over.
            assert [*broken_rules(page), *too_wide(page)] == []
        assert [fault for fault in small_targets(page) if "Sheets" in fault] == []
        page.keyboard.press("Escape")
        expect(links).to_have_count(1)
        button.click()
        links.filter(has_text="Photos and snags").click()
        expect(links).to_have_text(["Photos and snags"])
        assert window.complaints == []


def test_on_a_desk_all_of_them_lie_side_by_side(studio: Studio, browser: Browser) -> None:
    board = f"/commissions/{Commission.objects.get(title='Six Acorns').pk}/board/"
    with driven(browser, studio.browser(Role.OWNER), DESK) as window:
        window.open(board)
        nav = window.page.get_by_role("navigation", name="Sheets of this commission")
        expect(nav.get_by_role("link")).to_have_count(11)
        expect(nav.get_by_role("button")).to_have_count(0)
