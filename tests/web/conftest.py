"""One whole studio for all tests here."""

from collections.abc import Iterator
from typing import Any

import pytest

from tests.web.opened import Studio, opened_studio


@pytest.fixture(scope="package")
def studio(django_db_setup: None, django_db_blocker: Any) -> Iterator[Studio]:
    with opened_studio(django_db_blocker) as studio:
        yield studio


@pytest.fixture(autouse=True)
def _undone(studio: Studio, db: None) -> None:
    """Every test here works in the studio, inside a transaction that is rolled back."""
