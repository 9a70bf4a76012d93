"""Signing in and looking after one's own account."""

from typing import Any

from django import forms
from django.contrib.auth.forms import AuthenticationForm, PasswordChangeForm


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

    field_order = ["old_password", "new_password1", "new_password2"]


class OwnNameForm(forms.Form):
    """How one's name is shown."""

    shown_name = forms.CharField(
        label="Your name", max_length=80, error_messages={"required": "Enter the name that others know you by."}
    )
