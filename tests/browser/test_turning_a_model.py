"""The view that turns, under the policies the program is served with, and the three points it picks."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.factories import PASSWORD
from tests.real_server import Server, real_studio

PREPARE = """
import django
django.setup()
from tests.factories import make_commission, make_person
from tests.jobs.models_sent import make_model, worked
worked(make_model(make_commission("Great Egg"), make_person("office")))
"""


@pytest.fixture(scope="module")
def server() -> Iterator[Server]:
    """A studio whose one commission has an egg for a model, served for real."""
    with real_studio(debug=True) as studio:
        studio.run("-c", PREPARE)
        yield studio.serve().wait()


@pytest.fixture
def complaints() -> list[str]:
    """What the browser complains of."""
    return []


@pytest.fixture
def sheet(server: Server, page: Page, complaints: list[str]) -> Page:
    """The model's sheet, opened by the office."""

    def heard(said: Any) -> None:
        if "Content Security Policy" in said.text:
            complaints.append(said.text)

    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on("console", heard)
    page.goto(f"{server.address}/sign-in/")
    page.fill("input[name=username]", "tam")
    page.fill("input[name=password]", PASSWORD)
    page.click("main button")
    page.goto(f"{server.address}/models/1/")
    return page


def picture(page: Page) -> bytes:
    return page.locator("canvas").screenshot()


def test_it_is_drawn_and_turned_by_buttons_and_by_hand(sheet: Page, complaints: list[str]) -> None:
    expect(sheet.locator("#turning[data-drawn]")).to_be_visible()
    first = picture(sheet)
    sheet.get_by_role("button", name="Left").press("Enter")
    turned = picture(sheet)
    assert turned != first
    sheet.locator("canvas").hover()
    sheet.mouse.down()
    box = sheet.locator("canvas").bounding_box()
    assert box
    sheet.mouse.move(box["x"] + 40, box["y"] + box["height"] / 2 + 60)
    sheet.mouse.up()
    sheet.wait_for_timeout(200)
    assert picture(sheet) != turned
    assert complaints == []


def test_three_clicks_fill_the_points_of_a_plane(sheet: Page) -> None:
    expect(sheet.locator("#turning[data-drawn]")).to_be_visible()
    sheet.get_by_role("button", name="Pick three points").click()
    canvas = sheet.locator("canvas")
    box = canvas.bounding_box()
    assert box
    for x, y in ((0.5, 0.5), (0.53, 0.5), (0.5, 0.55)):
        canvas.click(position={"x": box["width"] * x, "y": box["height"] * y})
    expect(sheet.locator("[data-said]")).to_contain_text("Three points are taken")
    for name in ("first", "second", "third"):
        x, y, z = (float(value) for value in sheet.input_value(f"#id_points-{name}").split())
        # On the skin of an egg of these half axes, which the mesh comes near.
        assert (x / 1.0) ** 2 + (y / 0.8) ** 2 + ((z - 1.6) / 1.6) ** 2 == pytest.approx(1, abs=0.05)
