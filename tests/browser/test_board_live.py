"""The board in a browser: kept up to date while it is looked at, silent while it is not, and it keeps its place."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.real_server import RealStudio, real_studio

HIDE = "Object.defineProperty(document, 'visibilityState', {value: '%s', configurable: true})"
LOOK = "document.dispatchEvent(new Event('visibilitychange'))"


@pytest.fixture(scope="module")
def served() -> Iterator[tuple[RealStudio, str]]:
    """A studio that is served for real: its rows may then be changed behind the page's back."""
    with real_studio(debug=True) as studio:
        yield studio, studio.serve().wait().address


def ask(studio: RealStudio, sql: str, *values: object) -> list[Any]:
    with closing(sqlite3.connect(studio.folder / "mouldwright.sqlite3", timeout=20)) as database, database:
        return database.execute(sql, values).fetchall()


def test_the_board_keeps_up_while_it_is_looked_at(served: tuple[RealStudio, str], page: Page) -> None:
    studio, address = served
    cast = studio.ask("people", "1")
    stage = cast["stages"][0]
    ((commission, code),) = ask(studio, "SELECT commission_id, code FROM jobs_stage WHERE id = ?", stage)
    ask(studio, "UPDATE jobs_stage SET state = 'not_begun' WHERE id = ?", stage)
    page.goto(f"{address}/sign-in/?next=/commissions/{commission}/board/")
    page.fill("[name=username]", cast["people"][0]["username"])
    page.fill("[name=password]", cast["password"])
    page.click("main button")
    asked: list[str] = []
    cell = page.locator(f"#cell-{code}")
    expect(cell).to_contain_text("not begun")
    # The cell is there before the script that listens.
    page.wait_for_load_state("load")
    page.on("request", lambda request: asked.append(request.url) if "/board/" in request.url else None)

    cell.focus()
    ask(studio, "UPDATE jobs_stage SET state = 'in_hand' WHERE id = ?", stage)
    page.evaluate(LOOK)
    expect(cell).to_contain_text("in hand")
    expect(cell).to_be_focused()
    assert len(asked) == 1

    page.evaluate(HIDE % "hidden")
    page.evaluate(LOOK)
    page.wait_for_timeout(300)
    assert len(asked) == 1

    page.evaluate(HIDE % "visible")
    with page.expect_response(lambda response: "/board/" in response.url) as unchanged:
        page.evaluate(LOOK)
    assert unchanged.value.status == 204
    page.keyboard.press("Enter")
    page.wait_for_url(f"**/stages/{code}/")
