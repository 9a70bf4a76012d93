"""Every setting, read from the environment and from nowhere else.

Safe by default: DEBUG is off and there is no SECRET_KEY until one is given
(``make run`` makes a local one). README lists the variables.
"""

import os
import sqlite3
from pathlib import Path

import dj_database_url
from csp.constants import NONE, SELF

from studio import env

BASE_DIR = Path(__file__).resolve().parent.parent
VAR_DIR = Path(env.text(os.environ, "VAR_DIR", default=str(BASE_DIR / "var")))

DEBUG = env.boolean(os.environ, "DEBUG", default=False)
SECRET_KEY = env.secret(os.environ, "SECRET_KEY", default="")
ALLOWED_HOSTS = env.listing(os.environ, "ALLOWED_HOSTS", default=["localhost", "127.0.0.1", "[::1]"] if DEBUG else [])
CSRF_TRUSTED_ORIGINS = env.listing(os.environ, "CSRF_TRUSTED_ORIGINS", default=[])

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "django_htmx",
    "django_tasks",
    "django_tasks_db",
    "csp",
    "axes",
    "studio",
    "studio.accounts",
    "studio.office",
    "studio.tasks",
    "materials",
    "jobs",
]

MIDDLEWARE = [
    # These two come before whatever answers, so that files and refusals carry the policies too.
    "django.middleware.security.SecurityMiddleware",
    "csp.middleware.CSPMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "studio.answers.AnsweredOnce",
    "studio.middleware.private_pages",
    "studio.middleware.held_pages",
    "axes.middleware.AxesMiddleware",
]

ROOT_URLCONF = "studio.urls"
WSGI_APPLICATION = "studio.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "studio.office.context.house",
            ],
            "builtins": ["studio.templatetags.display"],
        },
    }
]

# The database. SQLite's write-ahead log could corrupt a file before 3.51.3
# (two connections checkpointing at once), so older versions keep the rollback journal.
DATABASE_URL = env.text(os.environ, "DATABASE_URL", default=f"sqlite:///{VAR_DIR / 'mouldwright.sqlite3'}")
SQLITE_WAL_IS_SAFE = sqlite3.sqlite_version_info >= (3, 51, 3)
DATABASES = {"default": dj_database_url.parse(DATABASE_URL, conn_max_age=60, conn_health_checks=True)}
if DATABASES["default"]["ENGINE"] == "django.db.backends.sqlite3":
    journal = "WAL" if SQLITE_WAL_IS_SAFE else "DELETE"
    DATABASES["default"]["OPTIONS"] = {
        "timeout": 20,
        "transaction_mode": "IMMEDIATE",
        "init_command": f"PRAGMA journal_mode={journal}; PRAGMA synchronous=FULL;",
    }
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

# Work longer than a second waits in the database itself, for `manage.py worker`.
TASKS = {"default": {"BACKEND": "django_tasks_db.DatabaseBackend"}}

# People.
AUTH_USER_MODEL = "accounts.User"
AUTHENTICATION_BACKENDS = ["axes.backends.AxesStandaloneBackend", "django.contrib.auth.backends.ModelBackend"]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 15}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {
        "NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator",
        "OPTIONS": {"user_attributes": ["username", "shown_name", "email"]},
    },
    {"NAME": "studio.accounts.passwords.RepeatedWordValidator"},
]
LOGIN_URL = "sign_in"
LOGIN_REDIRECT_URL = "workshop"
SESSION_COOKIE_AGE = 12 * 60 * 60
AXES_FAILURE_LIMIT = 10
AXES_COOLOFF_TIME = 0.25
AXES_RESET_ON_SUCCESS = True
# Person and address together: one mistyped phone must not lock the whole workshop out.
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_LOCKOUT_CALLABLE = "studio.accounts.views.locked_out"
AXES_CLIENT_IP_CALLABLE = "studio.callers.caller"
AXES_ENABLE_ADMIN = False
AXES_VERBOSE = False

# The web side.
HTTPS = env.boolean(os.environ, "HTTPS", default=not DEBUG)
SECURE_SSL_REDIRECT = HTTPS
SECURE_HSTS_SECONDS = 365 * 24 * 60 * 60 if HTTPS else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = HTTPS
SECURE_HSTS_PRELOAD = HTTPS
TRUSTED_PROXIES = env.integer(os.environ, "TRUSTED_PROXIES", default=0, low=0, high=9)
if TRUSTED_PROXIES:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = HTTPS
SESSION_COOKIE_NAME = "__Host-session" if HTTPS else "session"
CSRF_COOKIE_NAME = "__Host-csrf" if HTTPS else "csrf"
CSRF_COOKIE_HTTPONLY = True
CSRF_FAILURE_VIEW = "studio.views.csrf_failure"
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF, "blob:"],
        "font-src": [SELF],
        "connect-src": [SELF],
        "manifest-src": [SELF],
        "worker-src": [SELF],
        "form-action": [SELF],
        "base-uri": [NONE],
        "frame-ancestors": [NONE],
        "object-src": [NONE],
    }
}
DATA_UPLOAD_MAX_MEMORY_SIZE = 2 * 1024 * 1024
DATA_UPLOAD_MAX_NUMBER_FIELDS = 2000

# Static files and what people upload.
STATIC_URL = "static/"
STATIC_ROOT = VAR_DIR / "static"
FONT_DIR = VAR_DIR / "fonts"
STATICFILES_DIRS = [BASE_DIR / "static", ("fonts", FONT_DIR)]
MEDIA_ROOT = Path(env.text(os.environ, "MEDIA_ROOT", default=str(VAR_DIR / "media")))
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {
        "BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"
        if DEBUG
        else "whitenoise.storage.CompressedManifestStaticFilesStorage"
    },
}

# Post. Without a server texts are made ready to copy.
EMAIL_HOST = env.text(os.environ, "EMAIL_HOST", default="")
EMAIL_PORT = env.integer(os.environ, "EMAIL_PORT", default=587, low=1, high=65535)
EMAIL_HOST_USER = env.text(os.environ, "EMAIL_HOST_USER", default="")
EMAIL_HOST_PASSWORD = env.secret(os.environ, "EMAIL_HOST_PASSWORD", default="")
EMAIL_USE_SSL = env.boolean(os.environ, "EMAIL_USE_SSL", default=False)
EMAIL_USE_TLS = env.boolean(os.environ, "EMAIL_USE_TLS", default=not EMAIL_USE_SSL)
EMAIL_TIMEOUT = 10
DEFAULT_FROM_EMAIL = env.text(os.environ, "EMAIL_FROM", default=None if EMAIL_HOST else "studio@localhost")

# Language and time: stored in UTC, shown in the studio's own zone.
LANGUAGE_CODE = "en-gb"
USE_I18N = False
USE_TZ = True
TIME_ZONE = env.text(os.environ, "STUDIO_TIME_ZONE", default="Europe/London")
FORMAT_MODULE_PATH = None

MESSAGE_STORAGE = "django.contrib.messages.storage.session.SessionStorage"

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {
        "plain": {
            "class": "studio.link_paths.WithoutTokens",
            "format": "{asctime} {levelname} {name} {message}",
            "style": "{",
        }
    },
    "handlers": {"console": {"class": "logging.StreamHandler", "formatter": "plain"}},
    "root": {"handlers": ["console"], "level": "INFO"},
    "loggers": {
        # Django's own handlers would write what the one above leaves out.
        "django": {"handlers": [], "level": "INFO"},
        "django.server": {"handlers": [], "level": "INFO", "propagate": True},
        "fontTools": {"level": "ERROR"},
        "weasyprint": {"level": "ERROR"},
        "axes": {"level": "WARNING"},
    },
}
