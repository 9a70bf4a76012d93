"""Debian's own Chromium, driven against the program served by the test itself."""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

FOLDER = Path(__file__).resolve().parent
# A root user has no sandbox, a test machine no graphics, and no test may reach the network.
FLAGS = (
    *("--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-sync", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-dev-shm-usage"),
)


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if item.path.is_relative_to(FOLDER):
            item.add_marker(pytest.mark.needs("chromium", "libatomic"))


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args: dict[str, Any]) -> dict[str, Any]:
    return {**browser_type_launch_args, "executable_path": shutil.which("chromium"), "args": list(FLAGS)}


@pytest.fixture(autouse=True, scope="session")
def _database_beside_the_browser() -> Iterator[None]:
    """The browser's driver keeps an event loop in the test's thread, where Django would refuse its database."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setitem(os.environ, "DJANGO_ALLOW_ASYNC_UNSAFE", "true")
        yield
