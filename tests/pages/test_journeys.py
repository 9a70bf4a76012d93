"""The main job, from enquiry to budget, as one journey: without JavaScript, and with the keyboard alone."""

from dataclasses import dataclass

import pytest
from playwright.sync_api import Browser as Chromium
from playwright.sync_api import Locator, Page, expect

from jobs.models import Commission
from studio.accounts.models import Role
from tests.pages.driven import DESK, PHONE, driven
from tests.web.opened import Studio

pytestmark = pytest.mark.django_db
# No sheet has more controls than this before what the journey needs.
MOST_TABS = 150


@dataclass(frozen=True, slots=True)
class Hand:
    """Somebody who fills in and presses what stands on a page, by pointer or with nothing but the keyboard."""

    page: Page
    by_keyboard: bool

    def press(self, name: str) -> None:
        """Press a button or follow a link of the sheet."""
        main = self.page.locator("main")
        control = main.get_by_role("button", name=name).or_(main.get_by_role("link", name=name)).first
        if self.by_keyboard:
            self._reach(control)
            self.page.keyboard.press("Enter")
        else:
            control.click()

    def fill(self, label: str, text: str) -> None:
        """Type into a field, in place of what stands there."""
        control = self.page.locator("main").get_by_label(label, exact=True)
        if self.by_keyboard:
            self._reach(control)
            self.page.keyboard.press("Control+a")
            self.page.keyboard.type(text)
        else:
            control.fill(text)

    def choose(self, label: str) -> None:
        """Choose one of several."""
        control = self.page.locator("main").get_by_label(label, exact=True)
        if self.by_keyboard:
            # One of a group has the tab's turn; the arrow goes on from there.
            self._reach(control)
            self.page.keyboard.press("Space")
        else:
            control.check()

    def turn_to(self, sheet: str) -> None:
        """Open another sheet of the commission; on a phone they lie behind one button."""
        if self.page.get_by_role("button", name="All sheets").is_visible():
            self.press("All sheets")
        self.press(sheet)

    def _reach(self, control: Locator) -> None:
        expect(control).to_be_visible()
        for _ in range(MOST_TABS):
            if control.evaluate("it => it === document.activeElement"):
                return
            self.page.keyboard.press("Tab")
        raise AssertionError(f"Tab does not lead to {control}")


@pytest.mark.parametrize(
    ("size", "script", "by_keyboard"),
    [(PHONE, False, False), (DESK, True, True)],
    ids=["phone without JavaScript", "keyboard alone"],
)
def test_dimensions_become_a_quote_and_the_quote_a_budget(
    studio: Studio, browser: Chromium, size: tuple[int, int], script: bool, by_keyboard: bool
) -> None:
    with driven(browser, studio.browser(Role.OFFICE), size, script=script) as window:
        page, hand = window.page, Hand(window.page, by_keyboard)
        window.open("/commissions/")
        hand.press("Open a commission")
        hand.fill("Title", "Heron at the Sluice")
        hand.fill("Commissioner", "Sallow Reach Parish")
        hand.press("Open it")
        expect(page.locator("main")).to_contain_text("Now describe its sections")
        commission = Commission.objects.get(title="Heron at the Sluice")

        window.open(f"/commissions/{commission.pk}/form/new/?shape=sphere")
        hand.fill("Section", "Body")
        hand.fill("Diameter", "160 sm")
        hand.press("Add the section")
        expect(page.locator(".errors")).to_contain_text("160 sm")
        hand.fill("Diameter", "160 cm")
        hand.press("Add the section")
        # The closed form: 4πr² of a ball of 1.6 m.
        expect(page.locator("main")).to_contain_text("8.04")

        hand.turn_to("Price")
        expect(page.locator("main")).to_contain_text("£")
        hand.press("Issue")
        hand.press(f"Issue quote {commission.number}")
        expect(page.get_by_role("heading", name="The answer")).to_be_visible()
        quote = commission.quotes.get(issued_at__isnull=False)
        expect(page.locator("main")).to_contain_text(quote.pdf_sha256[:12])

        hand.choose("Accepted")
        hand.fill("Who said so", "R. Osei, for the parish")
        hand.press("Record the answer")
        expect(page.locator("main")).to_contain_text("R. Osei, for the parish")
        commission.refresh_from_db()
        assert commission.state == "accepted"
        assert sum(line.minutes for line in quote.budget.all()) > 60
        window.open(f"/commissions/{commission.pk}/board/")
        expect(page.locator("main")).to_contain_text("not begun")
        assert window.complaints == []
