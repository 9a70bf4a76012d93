"""Background work."""

from django.apps import AppConfig


class TasksConfig(AppConfig):
    """Label ``tasks``."""

    name = "studio.tasks"
    label = "tasks"
    verbose_name = "Background work"
