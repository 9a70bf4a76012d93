"""Commissions, from enquiry to hand-over."""

from django.apps import AppConfig


class JobsConfig(AppConfig):
    """Label ``jobs``."""

    name = "jobs"
    verbose_name = "Commissions"
