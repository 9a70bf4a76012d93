"""Making a progress link."""

from django import forms

from studio.forms import OneLineField, day_field


class ProgressLinkForm(forms.Form):
    """For whom, until when, and whether the quote may be downloaded."""

    receiver = OneLineField(
        label="For whom",
        help_text="One person or office: each gets a link of their own, which can be ended alone.",
        max_length=120,
        error_messages={"required": "Enter who the link is for, such as R. Osei."},
    )
    expires_on = day_field("Last day on which it opens", missing="Enter the last day on which the link opens.")
    shows_documents = forms.BooleanField(
        label="The quote that stands may be downloaded through it, with its price", required=False
    )
