"""Pages as people meet them: a browser that is answered by the program itself."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser

from tests.web.opened import Studio, opened_studio

FOLDER = Path(__file__).resolve().parent


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if item.path.is_relative_to(FOLDER):
            item.add_marker(pytest.mark.needs("chromium", "libatomic"))


@pytest.fixture(scope="module")
def studio(browser: Browser, django_db_setup: None, django_db_blocker: Any) -> Iterator[Studio]:
    """One whole studio; made when the browser runs, for from then on Django keeps another connection."""
    with opened_studio(django_db_blocker) as studio:
        yield studio
