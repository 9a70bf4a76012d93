"""Every change of a model has its migration, and every migration a name that says what it does."""

import io

import pytest
from django.core.management import call_command

from tests.rules.tree import PACKAGES, ROOT


@pytest.mark.django_db
def test_no_migration_is_missing() -> None:
    output = io.StringIO()
    try:
        call_command("makemigrations", check_changes=True, dry_run=True, stdout=output, stderr=output)
    except SystemExit:
        pytest.fail(f"the models have changed without a migration:\n{output.getvalue()}", pytrace=False)
    assert "No changes detected" in output.getvalue()


def test_migrations_are_named_by_what_they_do() -> None:
    found = [path for package in PACKAGES for path in (ROOT / package).glob("**/migrations/0*.py")]
    assert found
    assert [path.name for path in found if "_auto_" in path.name] == []
