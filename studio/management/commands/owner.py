"""Make the first owner of a new studio, or give an owner a new password."""

from getpass import getpass
from typing import Any

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import transaction

from studio.accounts.models import Role, User
from studio.audit import record


class Command(BaseCommand):
    """``manage.py owner maud --name "Maud Ellery"``; asks for the password."""

    help = "Make somebody an owner, or give an owner a new password."

    def add_arguments(self, parser: CommandParser) -> None:
        """Who it is."""
        parser.add_argument("username")
        parser.add_argument("--name", default="", help="The name as others know it.")

    def handle(self, *args: Any, **options: Any) -> None:
        """Ask, check, save."""
        password = getpass("Password, at least 15 characters: ")
        person = User.objects.filter(username=options["username"]).first() or User(username=options["username"])
        person.shown_name = options["name"] or person.shown_name or options["username"]
        person.role = Role.OWNER
        person.is_active = True
        try:
            validate_password(password, person)
        except ValidationError as refused:
            raise CommandError(" ".join(refused.messages)) from None
        person.set_password(password)
        with transaction.atomic():
            person.save()
            record(actor=None, subject="people", act="Owner made from the command line", after={"name": str(person)})
        self.stdout.write(f"{person} may sign in as {person.username}.")
