"""What many tests of the jobs begin with."""

from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from studio.accounts.models import Role
from tests.factories import signed_in


@pytest.fixture
def office() -> Client:
    """A browser in which somebody of the office has signed in."""
    return signed_in(Role.OFFICE)


@pytest.fixture
def own_media(settings: Any, tmp_path: Path) -> None:
    """A folder for photos and models that is this test's alone."""
    settings.MEDIA_ROOT = tmp_path
