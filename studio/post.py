"""Sending a text by mail, where the studio has a server for it; elsewhere texts are copied by hand."""

import logging
import smtplib

from django.conf import settings
from django.core.mail import EmailMessage

from studio.office.queries import house

log = logging.getLogger(__name__)


class NotSent(ValueError):
    """The mail server did not take the text; the sentence says what to do."""


def can_send() -> bool:
    """Whether a mail server is set."""
    return bool(settings.EMAIL_HOST)


def send_text(*, to: str, subject: str, text: str) -> None:
    """Send a text now, answers going to the studio; call it outside a transaction.

    It is sent at once and not queued, for work that waits lies in the database, and
    a text with a link's address must not.
    """
    answers = house().email
    message = EmailMessage(
        subject=" ".join(subject.split()), body=text, to=[to], reply_to=[answers] if answers else None
    )
    try:
        message.send()
    except (OSError, smtplib.SMTPException) as problem:
        log.warning("A text was not sent: %s", type(problem).__name__)
        raise NotSent(
            "The mail server did not take it. Copy the text and send it yourself, and let the owner look at the "
            "settings of the mail server."
        ) from problem
