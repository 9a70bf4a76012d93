"""Changes to people. Each is one transaction with its audit row."""

from django.db import transaction

from studio.accounts.models import Role, User
from studio.audit import record


class LastOwner(ValueError):
    """The change would leave nobody who can change anything."""


@transaction.atomic
def rename_self(*, person: User, shown_name: str) -> None:
    """Change how a person's name is shown."""
    before = person.shown_name
    person.shown_name = shown_name
    person.save(update_fields=["shown_name"])
    record(actor=person, subject="people", act="Name changed", before={"name": before}, after={"name": shown_name})


@transaction.atomic
def change_own_password(*, person: User, password: str) -> None:
    """Set one's own password; other sessions of the same person end."""
    person.set_password(password)
    person.save(update_fields=["password"])
    record(actor=person, subject="people", act="Own password changed")


@transaction.atomic
def add_person(*, by: User, username: str, shown_name: str, role: str, password: str) -> User:
    """Add somebody who may sign in."""
    person = User.objects.create_user(username=username, password=password, shown_name=shown_name, role=role)
    record(actor=by, subject="people", act="Person added", after={"name": shown_name, "role": role})
    return person


@transaction.atomic
def change_person(*, by: User, person: User, shown_name: str, role: str, is_active: bool) -> None:
    """Change a name or role, or end somebody's access; the last owner stays."""
    owners = User.objects.select_for_update().filter(role=Role.OWNER, is_active=True).exclude(pk=person.pk)
    if person.role == Role.OWNER and (role != Role.OWNER or not is_active) and not owners.exists():
        raise LastOwner("This is the only owner; make somebody else an owner first.")
    before = {"name": person.shown_name, "role": person.role, "may sign in": person.is_active}
    person.shown_name, person.role, person.is_active = shown_name, role, is_active
    person.save(update_fields=["shown_name", "role", "is_active"])
    after = {"name": shown_name, "role": role, "may sign in": is_active}
    record(actor=by, subject="people", act="Person changed", before=before, after=after)


@transaction.atomic
def give_password(*, by: User, person: User, password: str) -> None:
    """Set a new password for somebody who has forgotten theirs; their sessions end."""
    person.set_password(password)
    person.save(update_fields=["password"])
    record(actor=by, subject="people", act="Password given", after={"name": person.shown_name})
