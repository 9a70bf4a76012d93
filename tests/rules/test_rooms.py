"""Who may import whom. The table is the rule; DEVELOPERS.md explains it."""

import sys
from dataclasses import dataclass

import pytest

from tests.rules.tree import imports, is_ours, modules, within

# A room's right to any package that is not reserved below.
OPEN = "any package"

PURE_OF_MATERIALS = (
    "materials.estimator",
    "materials.mesh",
    "materials.pricing",
    "materials.packs",
    "materials.drawing",
    "materials.specfile",
    "materials.stock",
    "materials.units",
)
MODELS_OF_STUDIO = ("studio.accounts.models", "studio.office.models")
PURE = (*PURE_OF_MATERIALS, "jobs.figures", "jobs.delivery")


@dataclass(frozen=True, slots=True)
class Room:
    """A module or package, and what it may import besides the standard library and itself."""

    name: str
    may: tuple[str, ...]


ROOMS = (
    # Pure: no Django, no database, no clock, no settings.
    Room("studio.bootstrap", ()),
    Room("studio.money", ()),
    Room("studio.env", ()),
    Room("materials.estimator", ("numpy",)),
    Room(
        "materials.mesh",
        (
            *("numpy", "scipy", "shapely", "trimesh", "manifold3d", "lxml", "networkx", "fast_simplification"),
            *("materials.estimator.form", "materials.estimator.errors", "materials.estimator.outline"),
        ),
    ),
    Room("materials.pricing", ("materials.estimator", "materials.packs", "studio.money")),
    Room("materials.packs", ("materials.estimator.errors", "studio.money")),
    Room(
        "materials.drawing",
        ("materials.estimator.errors", "materials.estimator.form", "materials.estimator.outline"),
    ),
    Room("materials.specfile", ("materials.estimator", "materials.mesh", "materials.units")),
    Room("materials.stock", ("materials.estimator.errors", "materials.units", "studio.money")),
    Room("materials.units", ("pint", "materials.estimator.errors")),
    Room(
        "jobs.figures",
        (
            *("numpy", "studio.money", "materials.pricing", "materials.packs", "materials.estimator"),
            *("jobs.figures.plan.calendar", "jobs.figures.plan.problem"),
        ),
    ),
    Room("jobs.figures.plan", ("numpy", "jobs.figures.threepoint", "materials.estimator", "ortools")),
    Room(
        "jobs.delivery", ("numpy", "studio.money", "materials.pricing", "materials.estimator", "jobs.delivery.nesting")
    ),
    Room("jobs.delivery.nesting", ("rectpack", "jobs.delivery.cutting", "materials.estimator")),
    # What every app shares. Only the settings, the addresses and the commands know the apps.
    Room("studio", (OPEN,)),
    Room("studio.templatetags", (OPEN, "studio", "materials.units")),
    Room("studio.quantities", (OPEN, "studio", "materials.units", "materials.estimator.errors")),
    Room("studio.urls", (OPEN, "studio", "materials.urls", "jobs.urls")),
    Room("studio.management", (OPEN, "studio", "materials", "jobs")),
    # What is bought, kept and laid up. Never the jobs.
    Room("materials.models", (OPEN, "materials.queries", "studio.money", *MODELS_OF_STUDIO)),
    Room("materials.queries", (OPEN, "materials.models", "studio.money", *MODELS_OF_STUDIO, *PURE_OF_MATERIALS)),
    Room("materials.services", (OPEN, "materials.models", "materials.queries", "studio", *PURE_OF_MATERIALS)),
    Room("materials", (OPEN, "studio")),
    # The jobs. They use the materials' services and pure code, never their pages.
    Room("jobs.models", (OPEN, "jobs.queries", "materials.models", "studio.money", *MODELS_OF_STUDIO)),
    Room("jobs.queries", (OPEN, "jobs.models", "materials.models", "studio.money", *MODELS_OF_STUDIO, *PURE)),
    Room(
        "jobs.services",
        (
            *(OPEN, "studio", "jobs.models", "jobs.queries", *PURE),
            *("materials.services", "materials.models", "materials.queries"),
        ),
    ),
    # Pages show and offer what the materials hold, but change it through services alone.
    Room("jobs", (OPEN, "studio", "materials.models", "materials.queries", *PURE)),
    # A studio's first figures are rows of the materials, whoever knows them.
    Room("jobs.seeding", (OPEN, "jobs", "materials.seeding", *PURE)),
    Room("jobs.management", (OPEN, "jobs", "materials", "studio")),
)

# Packages with one place of use: the place is where they would be replaced.
RESERVED = {
    "pint": ("materials.units",),
    "weasyprint": ("studio.pdf",),
    "pandas": ("jobs.exports", "jobs.norms"),
    "ortools": ("jobs.figures.plan",),
    "trimesh": ("materials.mesh",),
    "manifold3d": ("materials.mesh",),
    "shapely": ("materials.mesh",),
    "scipy": ("materials.mesh",),
    "rectpack": ("jobs.delivery.nesting",),
    "granian": ("studio.management.commands.serve",),
    "fontTools": ("studio.fonts",),
    "segno": ("jobs.documents.codes",),
    "icalendar": ("jobs.calendars.feed",),
}

# Slow to import or heavy in memory: imported inside the function that uses them, so that pages start fast.
HEAVY = (
    *("trimesh", "scipy", "ortools", "weasyprint", "pandas", "shapely", "manifold3d", "networkx"),
    *("fast_simplification", "lxml", "openpyxl", "xlsxwriter", "fontTools", "granian"),
)

# What a model file is read in is a process of its own, and pays for its packages itself.
OWN_PROCESS = ("materials.mesh.parsing",)

# Within the estimator each module may use only what stands above it.
ESTIMATOR = (
    ("errors",),
    ("ranges", "form", "outline", "lines"),
    ("spec",),
    ("shapes", "laminate", "coatings", "mix", "gel", "plates", "panel", "catalogue", "norms", "studio", "counts"),
    ("reference", "working", "figure"),
    ("seams", "plies", "reckoned"),
    ("pattern", "mould", "layup_card", "batches", "paste", "air"),
    ("cast", "finish", "sending", "hours"),
    ("cautions",),
    ("takeoff",),
)


def room_of(module: str) -> Room:
    return max((room for room in ROOMS if within(module, room.name)), key=lambda room: len(room.name))


def fault(module: str, name: str) -> str | None:
    """Why a module may not import a name, or None if it may."""
    room = room_of(module)
    root = name.partition(".")[0]
    if root in sys.stdlib_module_names:
        return None
    if is_ours(name):
        if within(name, room.name) and (room_of(name) == room or OPEN in room.may):
            return None
        allowed = any(within(name, granted) for granted in room.may if granted != OPEN)
        return None if allowed else f"{room.name} may not import {name}"
    places = RESERVED.get(root)
    if places and not any(within(module, place) for place in places):
        return f"{root} is imported in {' and '.join(places)} alone"
    return None if OPEN in room.may or root in room.may else f"{room.name} may not import {root}"


@pytest.mark.parametrize(
    ("module", "name", "allowed"),
    [
        ("materials.estimator.cast", "math", True),
        ("materials.estimator.cast", "numpy", True),
        ("materials.estimator.cast", "materials.estimator.form", True),
        ("materials.estimator.cast", "django.db", False),
        ("materials.estimator.cast", "pint", False),
        ("materials.estimator.cast", "materials.units", False),
        ("materials.estimator.cast", "studio.money", False),
        ("materials.mesh.cutting", "materials.estimator.form", True),
        ("materials.mesh.cutting", "materials.estimator.spec", False),
        ("materials.services.prices", "jobs.models", False),
        ("materials.views.stores", "materials.services.stock", True),
        ("materials.views.stores", "weasyprint", False),
        ("studio.access", "jobs.models", False),
        ("studio.urls", "jobs.urls", True),
        ("studio.pdf", "weasyprint", True),
        ("studio.money", "django.conf", False),
        ("studio.bootstrap", "django", False),
        ("jobs.models.quotes", "materials.models", True),
        ("jobs.models.quotes", "jobs.services.quotes", False),
        ("jobs.models.quotes", "jobs.forms.quotes", False),
        ("jobs.services.quotes", "materials.services.prices", True),
        ("jobs.services.quotes", "jobs.views.quotes", False),
        ("jobs.services.quotes", "materials.views.stores", False),
        ("jobs.views.quotes", "jobs.services.quotes", True),
        ("jobs.views.quotes", "materials.units", True),
        ("jobs.views.quotes", "materials.forms.prices", False),
        ("jobs.views.quotes", "materials.services.prices", False),
        ("jobs.exports", "pandas", True),
        ("jobs.views.quotes", "pandas", False),
        ("jobs.figures.quote", "django.db", False),
        ("jobs.figures.quote", "ortools", False),
        ("jobs.figures.plan", "ortools", True),
    ],
)
def test_the_table_says_what_the_design_says(module: str, name: str, allowed: bool) -> None:
    assert (fault(module, name) is None) is allowed


def test_no_module_imports_what_its_room_may_not() -> None:
    assert len(modules()) > 20
    faults = [
        f"{module}:{found.line}: {reason}"
        for module in modules()
        for found in imports(module)
        if (reason := fault(module, found.name))
    ]
    assert not faults, "\n" + "\n".join(faults)


def test_no_module_of_ours_is_imported_inside_a_function() -> None:
    # An app's ready() alone has to: Django fills its registry before it may run.
    faults = [
        f"{module}:{found.line}: {found.name} inside {found.function}()"
        for module in modules()
        for found in imports(module)
        if found.function and is_ours(found.name) and not (module.endswith(".apps") and found.function == "ready")
    ]
    assert not faults, "\n" + "\n".join(faults)


def test_heavy_packages_are_imported_where_they_are_used_and_not_before() -> None:
    faults = [
        f"{module}:{found.line}: {found.name} at the top"
        for module in modules()
        if module not in OWN_PROCESS
        for found in imports(module)
        if found.name.partition(".")[0] in HEAVY and found.function is None and not found.for_types_only
    ]
    assert not faults, "\n" + "\n".join(faults)


def test_nothing_imports_in_a_circle() -> None:
    edges = {
        module: {found.name for found in imports(module) if found.name in modules() and not found.for_types_only}
        for module in modules()
    }
    done: set[str] = set()

    def circle(module: str, path: tuple[str, ...]) -> tuple[str, ...] | None:
        if module in path:
            return (*path[path.index(module) :], module)
        if module in done:
            return None
        for name in sorted(edges[module] - {module}):
            found = circle(name, (*path, module))
            if found:
                return found
        done.add(module)
        return None

    circles = [" -> ".join(found) for module in modules() if (found := circle(module, ()))]
    assert not circles, "\n" + "\n".join(circles)


def test_the_estimator_is_built_in_layers() -> None:
    depths = {f"materials.estimator.{name}": depth for depth, names in enumerate(ESTIMATOR) for name in names}

    def depth_of(module: str) -> int | None:
        return next((depth for name, depth in depths.items() if within(module, name)), None)

    faults = []
    for module in modules():
        if not module.startswith("materials.estimator."):
            continue
        own = depth_of(module)
        if own is None:
            faults.append(f"{module} has no place in the layers")
            continue
        for found in imports(module):
            depth = depth_of(found.name)
            if depth is not None and depth > own:
                faults.append(f"{module}:{found.line}: {found.name} stands further down")
    assert not faults, "\n" + "\n".join(faults)


def test_there_is_no_drawer_for_everything() -> None:
    assert [module for module in modules() if module.rpartition(".")[2] in ("utils", "helpers", "common", "misc")] == []
