"""The browser the journeys run in: there, drawing, and shut in."""

import pytest
from playwright.sync_api import Page

pytestmark = pytest.mark.django_db


def test_the_sign_in_page_opens_with_its_styles_and_script(live_server: object, page: Page) -> None:
    problems: list[str] = []
    page.on("pageerror", lambda error: problems.append(str(error)))
    page.on("console", lambda message: problems.append(message.text) if message.type == "error" else None)
    page.on("requestfailed", lambda request: problems.append(f"failed: {request.url}"))
    page.goto(f"{live_server}/")
    assert page.locator("h1").count() == 1
    assert page.evaluate("document.styleSheets.length") > 0
    assert problems == []
