"""Sending a text, and what is done where it cannot be sent."""

import smtplib
from typing import Any

import pytest
from django.core import mail
from django.urls import reverse
from django.utils import timezone

from studio.accounts.models import AuditEntry
from studio.office.models import House
from studio.post import NotSent, can_send, send_text
from tests.factories import make_commission, signed_in

pytestmark = pytest.mark.django_db
FAILING = "tests.studio.test_post.Failing"


class Failing:
    """A mail server that takes nothing."""

    def __init__(self, **options: Any) -> None:
        self.options = options

    def send_messages(self, messages: list[mail.EmailMessage]) -> int:
        raise smtplib.SMTPServerDisconnected(messages[0].body)


def test_a_text_goes_out_once_and_answers_come_to_the_studio() -> None:
    House.objects.update(email="office@studio.example")
    send_text(to="r.osei@garden.example", subject="The Long Pear\nBcc: all@elsewhere.example", text="Here it is.")
    (sent,) = mail.outbox
    assert (sent.to, sent.reply_to, sent.body) == (["r.osei@garden.example"], ["office@studio.example"], "Here it is.")
    assert sent.recipients() == ["r.osei@garden.example"]
    assert "\n" not in sent.subject


def test_what_was_not_taken_is_told_and_its_text_is_logged_nowhere(
    settings: Any, caplog: pytest.LogCaptureFixture
) -> None:
    settings.EMAIL_BACKEND = FAILING
    with pytest.raises(NotSent, match="Copy the text"):
        send_text(to="r.osei@garden.example", subject="The Long Pear", text="the-token")
    assert "SMTPServerDisconnected" in caplog.text
    assert "the-token" not in caplog.text


def test_without_a_server_nobody_is_asked_for_an_address() -> None:
    assert not can_send()
    page = signed_in("office").get(reverse("commissioner", args=[make_commission().pk])).content.decode()
    assert "send_to" not in page


@pytest.mark.parametrize("works", [True, False])
def test_a_link_is_sent_as_it_is_made(settings: Any, works: bool) -> None:
    settings.EMAIL_HOST = "mail.studio.example"
    if not works:
        settings.EMAIL_BACKEND = FAILING
    client, commission = signed_in("office"), make_commission(email="r.osei@garden.example")
    asked = client.get(reverse("commissioner", args=[commission.pk])).content.decode()
    assert 'value="r.osei@garden.example"' in asked
    sent = {"receiver": "R. Osei", "expires_on": f"{timezone.localdate()}", "send_to": "r.osei@garden.example"}
    page = client.post(reverse("new_progress_link", args=[commission.pk]), sent).content.decode()
    assert ("Sent to r.osei@garden.example." in page) is works
    assert ("The mail server did not take it." in page) is not works
    # Either way the text is there, and the record says who was written to and not what.
    assert "Text to copy and send" in page
    entries = AuditEntry.objects.filter(act="Progress link sent")
    assert [entry.after["to"] for entry in entries] == (["r.osei@garden.example"] if works else [])
    if works:
        (letter,) = mail.outbox
        token = letter.body.partition("/l/")[2].partition("/")[0]
        assert client.get(f"/l/{token}/").status_code == 200
