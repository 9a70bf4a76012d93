"""A studio to measure in: the real settings, a database that goes when the bench ends."""

import os
from collections.abc import Iterator
from contextlib import contextmanager

import tests.environment  # noqa: F401 - sets the environment before the settings are read


@contextmanager
def studio() -> Iterator[None]:
    """Set Django up on an empty migrated database of its own."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "studio.settings")
    import django
    from django.conf import settings
    from django.db import connection
    from django.test.utils import setup_test_environment, teardown_test_environment

    from studio.fonts import build_fonts

    django.setup()
    build_fonts(settings.FONT_DIR)
    setup_test_environment(debug=False)
    name = settings.DATABASES["default"]["NAME"]
    connection.creation.create_test_db(verbosity=0)
    try:
        yield
    finally:
        connection.creation.destroy_test_db(str(name), verbosity=0)
        teardown_test_environment()
