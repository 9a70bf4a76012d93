"""The environment of a test run, set before the settings are read.

The settings read the environment and nothing else, so the suite runs on the
real ones: signed with a key of its own, writing only below a directory that goes
when the run ends. DATABASE_URL is left alone: without one the suite runs on
SQLite in memory, with one on that server.
"""

import os
import shutil
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
VAR_DIR = Path(tempfile.mkdtemp(prefix="mouldwright-tests-"))

# Fonts take seconds to build and never change, so that runs share them.
(ROOT / "var" / "fonts").mkdir(parents=True, exist_ok=True)
(VAR_DIR / "fonts").symlink_to(ROOT / "var" / "fonts")
(VAR_DIR / "static").mkdir()

os.environ["VAR_DIR"] = str(VAR_DIR)
os.environ["SECRET_KEY"] = "a-key-that-signs-nothing-but-tests-and-is-long-enough-for-them"
os.environ["DEBUG"] = "true"
# A browser's driver keeps an event loop in the test's thread, where Django would refuse its database.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
for name in (
    "ALLOWED_HOSTS",
    "CSRF_TRUSTED_ORIGINS",
    "EMAIL_HOST",
    "HTTPS",
    "MEDIA_ROOT",
    "SECRET_KEY_FILE",
    "STUDIO_TIME_ZONE",
    "TRUSTED_PROXIES",
):
    os.environ.pop(name, None)


def pytest_unconfigure() -> None:
    """Leave nothing behind."""
    shutil.rmtree(VAR_DIR, ignore_errors=True)
