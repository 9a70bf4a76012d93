"""The one way to write the record of changes."""

from collections.abc import Mapping
from typing import Any

from django.db import transaction
from django.utils.text import Truncator

from studio.accounts.models import AuditEntry, User


def record(
    *,
    actor: User | None,
    subject: str,
    act: str,
    before: Mapping[str, Any] | None = None,
    after: Mapping[str, Any] | None = None,
    has_money: bool = False,
) -> None:
    """Write one audit row; call it inside the transaction of the change.

    Where both sides are given, what did not change is left out. An act that quotes
    what somebody typed may be longer than its column, and is cut there.
    """
    if not transaction.get_connection().in_atomic_block:
        raise RuntimeError("An audit row belongs in the transaction of the change it records.")
    was, now = dict(before or {}), dict(after or {})
    if before is not None and after is not None:
        same = {key for key in was.keys() & now.keys() if was[key] == now[key]}
        was = {key: value for key, value in was.items() if key not in same}
        now = {key: value for key, value in now.items() if key not in same}
    said = Truncator(act).chars(AuditEntry.LONGEST_ACT)
    AuditEntry.objects.create(
        actor=actor, subject=subject, act=said, before=_plain(was), after=_plain(now), has_money=has_money
    )


def _plain(values: Mapping[str, Any]) -> dict[str, Any]:
    kept = (str, int, bool, type(None), list, dict)
    return {key: value if isinstance(value, kept) else str(value) for key, value in values.items()}
