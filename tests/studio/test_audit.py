"""The record of changes."""

import pytest
from django.db import transaction

from studio.accounts.models import AuditEntry
from studio.audit import record
from tests.factories import make_person

pytestmark = pytest.mark.django_db


def test_an_act_that_quotes_a_long_text_is_cut_to_its_column() -> None:
    with transaction.atomic():
        record(actor=make_person(), subject="office", act="Snag mended: " + "w" * 300)
    said = AuditEntry.objects.get().act
    assert len(said) == AuditEntry.LONGEST_ACT == 120
    assert said.startswith("Snag mended: www")
    assert said.endswith("w…")


def test_only_what_changed_is_kept_of_both_sides() -> None:
    with transaction.atomic():
        record(actor=None, subject="office", act="Changed", before={"a": 1, "b": 2}, after={"a": 1, "b": 3})
    entry = AuditEntry.objects.get()
    assert (entry.before, entry.after) == ({"b": 2}, {"b": 3})


@pytest.mark.django_db(transaction=True)
def test_a_record_outside_of_the_change_is_refused() -> None:
    with pytest.raises(RuntimeError, match="belongs in the transaction"):
        record(actor=None, subject="office", act="Changed")
