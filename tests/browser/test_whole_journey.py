"""A commission from its accepted quote to the record that is handed over, by hand in a browser, without a script.

Two people: the owner in the studio, and the commissioner, who has nothing but links. Between the papers the work
itself is taken on by the same services that the bench uses.
"""

import datetime
import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.real_server import RealStudio, real_studio
from tests.studio.pdf_reading import text


class Journey:
    """The studio's own page and the commissioner's, and where they are."""

    def __init__(self, studio: RealStudio, owner: Page, holder: Page) -> None:
        self.studio, self.owner, self.holder = studio, owner, holder
        made = studio.ask("quoted")
        self.address = studio.serve().wait().address
        self.place = f"{self.address}/commissions/{made['commission']}/"
        owner.goto(f"{self.address}/sign-in/")
        owner.fill("[name=username]", made["username"])
        owner.fill("[name=password]", made["password"])
        owner.click("main button")

    def press(self, name: str) -> None:
        """Press the button of that name on the owner's page."""
        self.owner.get_by_role("button", name=name).click()

    def says(self, words: str | re.Pattern[str]) -> None:
        """The owner's page says so."""
        expect(self.owner.locator("main")).to_contain_text(words)

    def sheet(self, name: str) -> None:
        """Open a sheet of the commission."""
        self.owner.goto(f"{self.place}{name}/")

    def send(self) -> None:
        """Make a link on the owner's page, and let the commissioner open it."""
        ends = datetime.datetime.now(datetime.UTC).date() + datetime.timedelta(days=20)
        self.owner.fill("[name=receiver]", "R. Osei")
        self.owner.fill("[name=expires_on]", ends.isoformat())
        self.press("Make the link")
        self.holder.goto(self.owner.input_value("#address"))

    def answer(self, choice: str, button: str, *, name: str, role: str) -> None:
        """Answer on the commissioner's page, with typed name and role."""
        self.holder.get_by_role("radio", name=choice, exact=True).check()
        self.holder.fill(f"[name={name}]", "R. Osei")
        self.holder.fill(f"[name={role}]", "Head gardener")
        self.holder.get_by_role("button", name=button).click()

    def sign_off(self, point: str) -> None:
        """Put something before the commissioner, who approves it."""
        self.sheet(f"sign-offs/new/{point}")
        self.owner.get_by_label("Base", exact=False).first.check()
        self.press("Draft it")
        self.press("Freeze and send it")
        self.send()
        self.answer("Approved", "Give this answer", name="name", role="role")
        expect(self.holder.locator("main")).to_contain_text("This was answered")


@pytest.fixture
def journey(browser: Browser) -> Iterator[Journey]:
    desk = browser.new_context(java_script_enabled=False)
    phone = browser.new_context(java_script_enabled=False, viewport={"width": 360, "height": 740})
    with real_studio(debug=True) as studio:
        yield Journey(studio, desk.new_page(), phone.new_page())
    desk.close()
    phone.close()


def test_from_the_accepted_quote_to_the_record_that_is_handed_over(journey: Journey) -> None:
    owner, holder, studio = journey.owner, journey.holder, journey.studio

    # The quote is accepted, and the sample approved through its link.
    journey.sheet("price/1")
    owner.get_by_label("Accepted").check()
    owner.fill("[name=said_by]", "R. Osei, for the garden")
    journey.press("Record the answer")
    journey.says("Accepted")
    assert studio.ask("taken", "pattern,mould,cast", "passed") == ["passed"]
    journey.sign_off("sample")
    assert studio.ask("taken", "finish", "passed") == ["passed"]
    journey.sheet("standing")
    before = owner.locator("dl.answers").inner_text()
    journey.says("1 Mar 2031")

    # Then the finish is to be another: it is priced, shows what it reopens, and goes out.
    journey.sheet("variations/new")
    owner.fill("[name=asked_by]", "R. Osei, on the telephone")
    owner.fill("[name=title]", "The base in gallery gloss")
    owner.fill("[name=scope]", "The base is finished to gallery gloss.")
    owner.fill("[name=days]", "6")
    journey.press("Begin the variation")
    owner.get_by_role("link", name="Sections").click()
    owner.select_option("[name=section_0]", "Base")
    owner.select_option("[name=becomes_0]", "grade:A")
    journey.press("Save")
    journey.says("Work that is done already")
    expect(owner.get_by_label("Done again: Base, finish")).to_be_checked()
    expect(owner.get_by_label("Done again: Base, mould")).not_to_be_checked()
    owner.get_by_role("button", name="Issue variation").click()
    journey.says("Issued, not answered")
    journey.says("Colour and finish sample: Base, finish")
    journey.send()
    expect(holder.locator("main")).to_contain_text("7 Mar 2031")
    total = holder.locator("dl.facts.big dd").first.inner_text()
    assert total.startswith("+£")
    for inside in ("Cost", "Overhead", "Profit", "hours"):
        expect(holder.locator("main")).not_to_contain_text(inside)
    journey.answer("We accept this change, its price and its day", "Send the answer", name="said_by", role="role")
    expect(holder.locator("main")).to_contain_text("Your answer is recorded")

    # Day, standing, stages and statement move; what was agreed first still stands there.
    journey.sheet("standing")
    journey.says("7 Mar 2031")
    journey.says("1 Mar 2031 as first agreed")
    assert owner.locator("dl.answers").inner_text() != before
    journey.says("Of it quoted, and by variations")
    journey.sheet("board")
    journey.says("Variation V1: The base in gallery gloss")
    journey.sheet("statement")
    journey.says("Variation 26-001 / V1")
    journey.says(total)

    # The finish is done again, the crate is packed and approved before it leaves.
    assert studio.ask("taken", "finish", "passed") == ["passed"]
    assert studio.ask("taken", "crate", "ready") == ["ready"]
    journey.sign_off("dispatch")
    assert studio.ask("taken", "crate", "passed") == ["passed"]

    # What leaves with the piece says what was made, agreed and approved.
    journey.sheet("hand-over")
    owner.get_by_role("link", name="Draft the record").click()
    journey.press("Draft it")
    owner.get_by_label("The commission is handed over with it").check()
    journey.press("Freeze and issue it")
    journey.says("Versions that were issued")
    owner.get_by_role("link", name="Version 1").click()
    record = owner.get_by_role("link", name="The record, PDF").get_attribute("href")
    printed = text(owner.request.get(f"{journey.address}{record}").body())
    for said in ("Grade A, gallery gloss", "26-001 / V1: The base in gallery gloss", "R. Osei, Head gardener"):
        assert said in printed
    journey.sheet("variations")
    expect(owner.get_by_role("link", name="Raise a variation")).to_have_count(0)
