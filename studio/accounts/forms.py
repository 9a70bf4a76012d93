"""Signing in, one's own account, and the people of the studio."""

from typing import Any

from django import forms
from django.contrib.auth.forms import AuthenticationForm, PasswordChangeForm
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError

from studio.accounts.models import Role, User
from studio.forms import choose


class SignInForm(AuthenticationForm):
    """Name and password; one answer to every mistake, so that names cannot be tried out."""

    error_messages = {
        "invalid_login": "The name and password do not match. Check both; capitals count in the password.",
        "inactive": "The name and password do not match. Check both; capitals count in the password.",
    }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["username"].label = "Sign-in name"
        self.fields["username"].error_messages["required"] = "Enter your sign-in name."
        self.fields["password"].error_messages["required"] = "Enter your password."


class OwnPasswordForm(PasswordChangeForm):
    """The old password once, the new one twice."""

    error_messages = {
        "password_incorrect": "The old password does not match. Enter the one you signed in with.",
        "password_mismatch": "The two new passwords differ. Enter the same one twice.",
    }
    field_order = ["old_password", "new_password1", "new_password2"]

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["old_password"].error_messages["required"] = "Enter your old password."
        self.fields["new_password1"].error_messages["required"] = "Enter the new password."
        self.fields["new_password2"].error_messages["required"] = "Enter the new password a second time."


class OwnNameForm(forms.Form):
    """How one's name is shown."""

    shown_name = forms.CharField(
        label="Your name", max_length=80, error_messages={"required": "Enter the name that others know you by."}
    )


class _NameAndRole(forms.Form):
    """What is asked of everybody."""

    shown_name = forms.CharField(
        label="Name", max_length=80, error_messages={"required": "Enter the name that others know them by."}
    )
    role = forms.ChoiceField(
        label="May see and do",
        choices=Role.choices,
        initial=Role.BENCH,
        error_messages=choose("Choose what they may see and do."),
    )


class PersonForm(_NameAndRole):
    """What the owner changes of somebody."""

    is_active = forms.BooleanField(label="May sign in", required=False)


class _Password(forms.Form):
    """A password that the owner passes on; checked as one's own would be."""

    password = forms.CharField(
        label="Password",
        help_text="At least 15 characters; several unrelated words do. It is not shown again.",
        max_length=200,
        strip=False,
        widget=forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "none", "spellcheck": "false"}),
        error_messages={"required": "Enter a password of at least 15 characters."},
    )

    def person(self) -> User:
        """Whose password it is, so that it cannot be their name."""
        raise NotImplementedError

    def clean_password(self) -> str:
        """The password, if it is hard to guess."""
        password = str(self.cleaned_data["password"])
        validate_password(password, self.person())
        return password


class NewPersonForm(_NameAndRole, _Password):
    """Somebody new."""

    username = forms.CharField(
        label="Sign-in name",
        help_text="Short, in small letters; it cannot be changed later.",
        max_length=150,
        widget=forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "none", "spellcheck": "false"}),
        validators=[User.username_validator],
        error_messages={
            "required": "Enter a sign-in name, such as ines.",
            "invalid": "Use letters, digits and . + - _ @ only, such as ines.",
        },
    )

    field_order = ["shown_name", "username", "role", "password"]

    def clean_username(self) -> str:
        """The name, if nobody signs in with it, however it is spelled."""
        username = str(self.cleaned_data["username"])
        if User.objects.filter(username__iexact=username).exists():
            raise ValidationError(f"Somebody already signs in as {username}; choose another name.")
        return username

    def person(self) -> User:
        """The person to be."""
        return User(username=self.cleaned_data.get("username", ""), shown_name=self.cleaned_data.get("shown_name", ""))


class GivenPasswordForm(_Password):
    """A new password for somebody who has forgotten theirs."""

    def __init__(self, person: User, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self._person = person

    def person(self) -> User:
        """The person it is for."""
        return self._person
