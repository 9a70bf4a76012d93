"""Debian's own Chromium, driven against the program served by the test itself."""

from pathlib import Path

import pytest

FOLDER = Path(__file__).resolve().parent


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if item.path.is_relative_to(FOLDER):
            item.add_marker(pytest.mark.needs("chromium", "libatomic"))
