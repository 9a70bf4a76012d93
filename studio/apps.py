"""The project package as an app: its templates tags, commands and system checks."""

from django.apps import AppConfig


class StudioConfig(AppConfig):
    """Registers the system checks."""

    name = "studio"
    verbose_name = "Studio"

    def ready(self) -> None:
        """Importing the module registers its checks."""
        from studio import checks  # noqa: F401 - checks need the app registry
