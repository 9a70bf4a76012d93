"""One rule that Django's own validators lack."""

from typing import Any

from django.core.exceptions import ValidationError


class RepeatedWordValidator:
    """Refuse a password that is one short run of characters repeated to the required length."""

    def validate(self, password: str, user: Any = None) -> None:
        """Raise when the password is a shorter one written two or more times."""
        if len(password) > 1 and password in (password + password)[1:-1]:
            raise ValidationError("This password repeats the same few characters; use several unrelated words.")

    def get_help_text(self) -> str:
        """One sentence for the form."""
        return "Several unrelated words are easy to remember and hard to guess."
