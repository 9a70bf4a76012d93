"""The offline worker's script with the list of files it keeps, and the hatches on the tiles."""

import hashlib
import json

from django.conf import settings
from django.contrib.staticfiles import finders
from django.templatetags.static import static
from django.urls import reverse
from django.utils.safestring import SafeString

from materials.drawing.hatches import HATCHED_STAGES, patterns

_STYLES = ("css/tokens.css", "css/base.css", "css/parts.css", "css/forms.css", "css/bench.css")
_LINKED = (*_STYLES, "js/bench.js", "img/mark.svg", "bench.webmanifest")
_FONTS = tuple(f"fonts/SourceSansPro-{weight}.woff2" for weight in ("Regular", "Semibold", "Bold"))
# Scripts name each other plainly, without the digest that a page's link carries.
_NAMED_BY_SCRIPTS = ("js/bench-queue.js", "js/bench-tiles.js")
_SCRIPT = "js/worker.js"


def worker_script() -> str:
    """The script, told which files the shell needs and which state of them this is."""
    kept = [reverse("bench_shell"), *map(static, (*_LINKED, *_FONTS))]
    kept += [f"{settings.STATIC_URL}{name}" for name in _NAMED_BY_SCRIPTS]
    told = {"version": _version(), "shell": kept[0], "files": kept, "scope": reverse("bench")}
    return f"const KEPT = {json.dumps(told)};\n{_read(_SCRIPT).decode()}"


def hatch_patterns() -> SafeString:
    """Definitions of the hatches; the drawing package makes this markup from its own constants alone."""
    return SafeString(patterns("bench", HATCHED_STAGES))


def _version() -> str:
    shell = settings.BASE_DIR / "templates" / "jobs" / "bench" / "shell.html"
    digest = hashlib.sha256(shell.read_bytes())
    for name in (*_LINKED, *_FONTS, *_NAMED_BY_SCRIPTS, _SCRIPT):
        digest.update(_read(name))
    return digest.hexdigest()[:16]


def _read(name: str) -> bytes:
    found = finders.find(name)
    if found is None:
        raise FileNotFoundError(f"The static file {name} is missing; `manage.py fonts` makes the typeface.")
    with open(found, "rb") as file:
        return file.read()
