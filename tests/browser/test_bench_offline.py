"""The bench on a phone whose network drops: every tap is kept, shown, and sent exactly once."""

import itertools
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests.real_server import RealStudio, Server, real_studio

PHONE = {"width": 360, "height": 740}
PEOPLE = 12


class Workshop:
    """A studio that is served for real, for a worker and a network that drops need one; each test is another person."""

    def __init__(self, studio: RealStudio, server: Server) -> None:
        self.address = server.address
        self._database = studio.folder / "mouldwright.sqlite3"
        cast = studio.ask("people", str(PEOPLE))
        self.people: list[dict[str, Any]] = cast["people"]
        self.stages: list[int] = cast["stages"][:2]
        self.password: str = cast["password"]
        self.following = itertools.count()

    def query(self, sql: str, *values: object) -> list[Any]:
        """Ask the database itself, or change it."""
        with closing(sqlite3.connect(self._database, timeout=20)) as database, database:
            return database.execute(sql, values).fetchall()

    def booked(self, person: dict[str, Any]) -> list[tuple[int, int]]:
        """Stage and minutes of somebody's entries, in the order in which they came."""
        return self.query("SELECT stage_id, minutes FROM jobs_hourentry WHERE person_id = ? ORDER BY id", person["id"])


@pytest.fixture(scope="module")
def workshop() -> Iterator[Workshop]:
    with real_studio(debug=True) as studio:
        yield Workshop(studio, studio.serve().wait())


@pytest.fixture
def me(workshop: Workshop) -> dict[str, Any]:
    return workshop.people[next(workshop.following)]


def until(page: Page, question: str) -> None:
    """Ask again and again; the driver's own way needs a policy that allows eval."""
    for _ in range(200):
        if page.evaluate(question):
            return
        page.wait_for_timeout(50)
    pytest.fail(f"never true: {question}")


def sign_in(page: Page, workshop: Workshop, person: dict[str, Any]) -> None:
    page.fill("[name=username]", person["username"])
    page.fill("[name=password]", workshop.password)
    page.click("main button")
    page.wait_for_url("**/bench/")


@pytest.fixture
def bench(workshop: Workshop, page: Page, me: dict[str, Any]) -> Page:
    """A phone on which somebody has signed in and which keeps the shell."""
    page.set_viewport_size(PHONE)
    page.goto(f"{workshop.address}/sign-in/?next=/bench/")
    sign_in(page, workshop, me)
    until(page, "navigator.serviceWorker.controller !== null")
    until(page, "indexedDB.databases().then((all) => all.some((one) => one.name === 'bench-kept'))")
    return page


def tap(page: Page, stage: int, minutes: int) -> None:
    tile = page.locator(f".tile:has([name=stage][value='{stage}'])")
    if not tile.first.is_visible():
        page.locator("details.group > summary").first.click()
    tile.first.click()
    page.locator(f".tile:has([name=minutes][value='{minutes}'])").click()
    page.locator("[data-go]").click()


def waiting(page: Page, count: int) -> None:
    told = f"· {count} waiting for the network" if count else ""
    expect(page.locator("[data-waiting-count]")).to_have_text(told)


def sent(page: Page, workshop: Workshop, person: dict[str, Any], entries: list[tuple[int, int]]) -> None:
    """Nothing waits any more, and these entries, no more and no fewer, are booked.

    A page says that nothing waits until its script has looked, so that its word
    counts only once as much is booked as was tapped.
    """
    for _ in range(100):
        if len(workshop.booked(person)) >= len(entries):
            break
        page.wait_for_timeout(50)
    waiting(page, 0)
    assert workshop.booked(person) == entries


def offline(context: BrowserContext, page: Page) -> None:
    context.set_offline(True)
    page.reload()
    expect(page.get_by_text("There is no network.")).to_be_visible()


def test_three_taps_book_and_the_button_says_what(bench: Page, workshop: Workshop, me: dict[str, Any]) -> None:
    bench.locator(f".tile:has([value='{workshop.stages[1]}'])").first.click()
    bench.locator(".tile:has([name=minutes][value='60'])").click()
    bench.get_by_role("button", name="+ ¼ h").click()
    expect(bench.locator("[data-go]")).to_have_text("Book 1¼ h on Base, mould")
    bench.locator("[data-go]").click()
    expect(bench.locator("[data-sum]")).to_have_text("Today: 1 h 15")
    sent(bench, workshop, me, [(workshop.stages[1], 75)])


def test_undo_takes_back_what_was_just_booked(bench: Page, workshop: Workshop, me: dict[str, Any]) -> None:
    tap(bench, workshop.stages[0], 120)
    bench.get_by_role("button", name="Undo").click()
    expect(bench.locator("[data-sum]")).to_have_text("Today: 0 min")
    sent(bench, workshop, me, [(workshop.stages[0], 120), (workshop.stages[0], -120)])


def test_taps_without_a_network_survive_a_reload_and_are_sent_once(
    bench: Page, context: BrowserContext, workshop: Workshop, me: dict[str, Any]
) -> None:
    offline(context, bench)
    tap(bench, workshop.stages[0], 60)
    waiting(bench, 1)
    tap(bench, workshop.stages[1], 30)
    waiting(bench, 2)
    expect(bench.locator("[data-sum]")).to_have_text("Today: 1 h 30")
    bench.reload()
    waiting(bench, 2)
    assert workshop.booked(me) == []
    context.set_offline(False)
    bench.reload()
    waiting(bench, 0)
    expect(bench.locator("[data-sum]")).to_have_text("Today: 1 h 30")
    bench.reload()
    sent(bench, workshop, me, [(workshop.stages[0], 60), (workshop.stages[1], 30)])


def test_what_waits_is_sent_when_the_network_comes_back_without_a_touch(
    bench: Page, context: BrowserContext, workshop: Workshop, me: dict[str, Any]
) -> None:
    context.set_offline(True)
    tap(bench, workshop.stages[0], 60)
    waiting(bench, 1)
    context.set_offline(False)
    sent(bench, workshop, me, [(workshop.stages[0], 60)])


def test_an_answer_lost_on_the_way_back_books_nothing_twice(
    bench: Page, workshop: Workshop, me: dict[str, Any]
) -> None:
    lost: list[int] = []

    def lose(route: Any) -> None:
        # The server has it; the phone never hears.
        lost.append(route.fetch().status)
        route.abort()

    bench.route("**/bench/book/", lose)
    tap(bench, workshop.stages[0], 60)
    for _ in range(100):
        if lost:
            break
        bench.wait_for_timeout(50)
    waiting(bench, 1)
    bench.unroute("**/bench/book/")
    bench.reload()
    sent(bench, workshop, me, [(workshop.stages[0], 60)])
    assert lost
    assert set(lost) == {200}
    expect(bench.locator("[data-sum]")).to_have_text("Today: 1 h")


def test_after_the_session_has_ended_taps_wait_until_somebody_signs_in(
    bench: Page, context: BrowserContext, workshop: Workshop, me: dict[str, Any]
) -> None:
    context.clear_cookies()
    tap(bench, workshop.stages[0], 60)
    expect(bench.locator("[data-waiting-count]")).to_have_text("· 1 waiting: sign in to send")
    assert workshop.booked(me) == []
    bench.get_by_role("link", name="Sign in to send").click()
    sign_in(bench, workshop, me)
    sent(bench, workshop, me, [(workshop.stages[0], 60)])


def test_what_the_server_refuses_stays_on_the_phone_with_the_reason(
    bench: Page, context: BrowserContext, workshop: Workshop, me: dict[str, Any]
) -> None:
    offline(context, bench)
    tap(bench, workshop.stages[0], 60)
    workshop.query("UPDATE jobs_commission SET state = 'done'")
    context.set_offline(False)
    bench.reload()
    expect(bench.locator("[data-waiting-list]")).to_contain_text("no longer in hand")
    expect(bench.locator("[data-waiting-count]")).to_have_text("· 1 not booked: look above")
    workshop.query("UPDATE jobs_commission SET state = 'accepted'")
    bench.get_by_role("button", name="Remove").click()
    expect(bench.locator("[data-waiting]")).to_be_hidden()
    assert workshop.booked(me) == []


def test_signing_out_leaves_no_names_on_the_phone_and_loses_no_tap(
    bench: Page, context: BrowserContext, workshop: Workshop, me: dict[str, Any]
) -> None:
    bench.route("**/bench/tiles.json", lambda route: route.abort())
    tap(bench, workshop.stages[0], 60)
    waiting(bench, 1)
    bench.get_by_role("button", name="Sign out").click()
    bench.wait_for_url("**/sign-in/**")
    until(bench, "indexedDB.databases().then((all) => all.every((one) => one.name !== 'bench-kept'))")
    kept = bench.evaluate(
        """async () => {
          const texts = [];
          for (const name of await caches.keys()) {
            const cache = await caches.open(name);
            for (const request of await cache.keys()) {
              const text = await (await cache.match(request)).text();
              texts.push(`${new URL(request.url).pathname} ${text}`);
            }
          }
          return texts;
        }"""
    )
    assert any(text.startswith("/bench/shell/ ") for text in kept)
    assert not any("Maker" in text or "Long Pear" in text for text in kept)
    bench.unroute("**/bench/tiles.json")
    offline_page = context.new_page()
    context.set_offline(True)
    offline_page.goto(bench.url.partition("/sign-in/")[0] + "/bench/")
    expect(offline_page.get_by_text("This phone knows no sections yet.")).to_be_visible()
    waiting(offline_page, 1)


def test_another_person_is_one_tap_away_also_without_a_network(
    bench: Page, context: BrowserContext, workshop: Workshop, me: dict[str, Any]
) -> None:
    other = workshop.people[-1]
    offline(context, bench)
    bench.get_by_role("link", name=other["name"], exact=True).click()
    expect(bench.locator("[data-name]")).to_have_text(other["name"])
    tap(bench, workshop.stages[0], 30)
    waiting(bench, 1)
    context.set_offline(False)
    bench.goto(f"{workshop.address}/bench/")
    sent(bench, workshop, other, [(workshop.stages[0], 30)])
    assert workshop.query("SELECT booked_by_id FROM jobs_hourentry WHERE person_id = ?", other["id"]) == [(me["id"],)]


def test_nothing_on_a_phone_is_too_small_to_read_or_tap(bench: Page) -> None:
    bench.locator("details.group > summary").first.click()
    sizes = bench.evaluate(
        """() => {
          const seen = (element) => element.checkVisibility() && element.textContent.trim();
          const main = [...document.querySelectorAll("main *")].filter(seen);
          const text = main.map((element) => parseFloat(getComputedStyle(element).fontSize));
          const tiles = [...document.querySelectorAll("main .tile, main .go, summary")].filter(seen);
          const heights = tiles.map((element) => element.getBoundingClientRect().height);
          return { text: Math.min(...text), tile: Math.min(...heights), wide: document.documentElement.scrollWidth };
        }"""
    )
    assert sizes["text"] >= 18
    assert sizes["tile"] >= 64
    assert sizes["wide"] <= PHONE["width"]
