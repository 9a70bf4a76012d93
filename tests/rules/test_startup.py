"""What starting costs: the estimator stands alone, and the first page waits for nothing it does not show."""

import os
import subprocess
import sys

import pytest

from tests.rules.tree import ROOT, modules

PURE_DOORS = [
    name
    for name in (
        "materials.estimator.takeoff",
        "materials.drawing",
        "materials.mesh.reading",
        "materials.pricing",
        "jobs.figures.quote",
        "jobs.figures.plan.solving",
        "studio.env",
        "studio.money",
    )
    if name in modules()
]
HEAVY = ("trimesh", "scipy", "weasyprint", "pandas", "ortools", "shapely", "openpyxl", "xlsxwriter", "manifold3d")


def loaded_after(code: str, among: tuple[str, ...]) -> set[str]:
    """Which of the packages a fresh interpreter holds after running the code."""
    done = subprocess.run(
        [sys.executable, "-c", f"{code}\nimport sys\nprint(*[name for name in {among!r} if name in sys.modules])"],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT), "DJANGO_SETTINGS_MODULE": "studio.settings"},
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    return set(done.stdout.split())


def test_a_package_that_is_imported_is_seen() -> None:
    assert loaded_after("import pint", ("pint", "pandas")) == {"pint"}


@pytest.mark.parametrize("module", PURE_DOORS)
def test_a_pure_room_leaves_the_frame_out(module: str) -> None:
    assert loaded_after(f"import {module}", ("django", "pint", "pandas", *HEAVY)) == set()


def test_starting_and_knowing_every_address_leaves_the_heavy_packages_out() -> None:
    code = "import django\ndjango.setup()\nfrom django.urls import get_resolver\nget_resolver().url_patterns"
    assert loaded_after(code, HEAVY) == set()
