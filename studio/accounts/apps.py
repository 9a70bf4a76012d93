"""People: who works here, what they may see, and who did what."""

from django.apps import AppConfig


class AccountsConfig(AppConfig):
    """Label ``accounts``: the user model and the audit."""

    name = "studio.accounts"
    verbose_name = "Crew"
