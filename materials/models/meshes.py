"""Model files as they were sent in, kept by their own digest."""

from pathlib import Path

from django.conf import settings
from django.db import models


class ModelFile(models.Model):
    """One file; the same bytes sent twice are one row. Its name is shown, and never used as a path."""

    sha256 = models.CharField(max_length=64, unique=True)
    name = models.CharField(max_length=200)
    size = models.PositiveBigIntegerField()
    format = models.CharField(max_length=4)
    sent_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    sent_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return self.name

    @property
    def path(self) -> Path:
        """Where the bytes are: outside what the web server serves."""
        return Path(settings.MEDIA_ROOT) / "models" / self.sha256
