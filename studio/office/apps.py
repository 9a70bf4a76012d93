"""The house itself: its name, money, taxes, week and terms."""

from django.apps import AppConfig


class OfficeConfig(AppConfig):
    """Label ``office``."""

    name = "studio.office"
    verbose_name = "Office"
