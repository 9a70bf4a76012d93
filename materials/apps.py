"""What is bought, laid up and mixed, and how much of it a form needs."""

from django.apps import AppConfig


class MaterialsConfig(AppConfig):
    """Label ``materials``."""

    name = "materials"
    verbose_name = "Stores"
