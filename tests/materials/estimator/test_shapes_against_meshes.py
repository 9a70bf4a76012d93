"""Closed forms against triangles: inscribed facets come up to a solid from below, with the square of their size."""

import math
from collections.abc import Callable

import numpy as np
import pytest

from materials.estimator.form import Form
from materials.estimator.shapes import Box, Cap, Cylinder, Frustum, Prism, Sphere, Superellipsoid, Torus, form_of


class Facets:
    """Area by cross products, volume and centre by determinants."""

    def __init__(self, vertices: np.ndarray, faces: np.ndarray) -> None:
        corners = vertices[faces]
        first, second, third = corners[:, 0], corners[:, 1], corners[:, 2]
        self.area = float(np.linalg.norm(np.cross(second - first, third - first), axis=1).sum() / 2)
        sixths = np.einsum("ij,ij->i", first, np.cross(second, third)) / 6
        self.volume = float(sixths.sum())
        self.centre = (sixths[:, None] * corners.sum(axis=1) / 4).sum(axis=0) / self.volume


def grid(surface: Callable[[np.ndarray, np.ndarray], np.ndarray], rows: int, columns: int) -> Facets:
    """Triangles over a patch with both parameters from 0 to 1, facing where ``row x column`` points."""
    u, v = np.meshgrid(np.linspace(0, 1, rows + 1), np.linspace(0, 1, columns + 1), indexing="ij")
    vertices = surface(u.ravel(), v.ravel())
    index = np.arange((rows + 1) * (columns + 1)).reshape(rows + 1, columns + 1)
    a, b, c, d = index[:-1, :-1], index[1:, :-1], index[1:, 1:], index[:-1, 1:]
    faces = np.concatenate([np.stack([a, b, c], -1).reshape(-1, 3), np.stack([a, c, d], -1).reshape(-1, 3)])
    return Facets(vertices, faces)


def quarter(share: np.ndarray, exponent: float) -> tuple[np.ndarray, np.ndarray]:
    """Points of ``x^n + y^n = 1`` from (1, 0) to (0, 1), even along whichever axis the curve lies flat to."""
    n = 2 / exponent
    corner = 0.5 ** (1 / n)
    short = corner * np.minimum(2 * share, 2 - 2 * share)
    long = (1 - short**n) ** (1 / n)
    return np.where(share < 0.5, long, short), np.where(share < 0.5, short, long)


def superellipsoid_eighth(shape: Superellipsoid) -> Callable[[np.ndarray, np.ndarray], np.ndarray]:
    def surface(u: np.ndarray, v: np.ndarray) -> np.ndarray:
        ring, rise = quarter(1 - u, shape.e1)
        along, across = quarter(v, shape.e2)
        return np.stack([shape.a_m * ring * along, shape.b_m * ring * across, shape.c_m * rise], -1)

    return surface


def turned(profile: Callable[[np.ndarray], np.ndarray]) -> Callable[[np.ndarray, np.ndarray], np.ndarray]:
    """A profile of (radius, height), downwards on its outside, turned once about the axis."""

    def surface(u: np.ndarray, v: np.ndarray) -> np.ndarray:
        radius, height = profile(u)
        return np.stack([radius * np.cos(2 * np.pi * v), radius * np.sin(2 * np.pi * v), height], -1)

    return surface


@pytest.mark.parametrize(("e1", "e2"), [(1.0, 1.0), (0.5, 0.5), (0.1, 0.1), (0.2, 1.7), (1.9, 2.0), (1.5, 0.1)])
def test_a_superellipsoid_is_what_its_facets_come_up_to(e1: float, e2: float) -> None:
    shape = Superellipsoid(1.1, 0.8, 0.6, e1, e2)
    form = form_of(shape)
    coarse, fine = (grid(superellipsoid_eighth(shape), count, count) for count in (300, 600))
    # Flat facets on corners about 0.03 wide; the planes that close the eighth pass through the origin and add nothing.
    assert form.area_m2 == pytest.approx(8 * fine.area, rel=5e-5)
    assert form.volume_m3 == pytest.approx(8 * fine.volume, rel=5e-5)
    assert 0 < form.area_m2 - 8 * fine.area < 0.6 * (form.area_m2 - 8 * coarse.area)


def test_a_torus_is_what_its_facets_come_up_to() -> None:
    def tube(u: np.ndarray) -> np.ndarray:
        return np.stack([0.9 + 0.25 * np.cos(2 * np.pi * u), 0.25 - 0.25 * np.sin(2 * np.pi * u)])

    form = form_of(Torus(1.8, 0.5))
    coarse, fine = (grid(turned(tube), count, 2 * count) for count in (100, 200))
    assert form.area_m2 == pytest.approx(fine.area, rel=2e-4)
    assert form.volume_m3 == pytest.approx(fine.volume, rel=4e-4)
    # Second order: half the facet, a quarter of the error.
    assert (form.area_m2 - coarse.area) / (form.area_m2 - fine.area) == pytest.approx(4, rel=0.02)


@pytest.mark.parametrize("height_m", [0.4, 1.0, 1.6])
def test_a_cap_is_what_its_facets_come_up_to(height_m: float) -> None:
    def arc(u: np.ndarray) -> np.ndarray:
        angle = u * math.acos(1 - height_m)
        return np.stack([np.sin(angle), np.cos(angle) - (1 - height_m)])

    form = form_of(Cap(2.0, height_m))
    # Standing on z = 0, the flat that closes it adds nothing to the sum of determinants.
    coarse, fine = (grid(turned(arc), count, 4 * count) for count in (100, 200))
    assert form.area_m2 == pytest.approx(fine.area, rel=1e-4)
    assert form.volume_m3 == pytest.approx(fine.volume, rel=2e-4)
    assert form.centre_of_mass_m == pytest.approx(tuple(fine.centre), abs=1e-4)
    assert (form.area_m2 - coarse.area) / (form.area_m2 - fine.area) == pytest.approx(4, rel=0.02)


def trimesh_form(mesh: object) -> tuple[float, float]:
    return float(mesh.area), float(mesh.volume)  # type: ignore[attr-defined]


def assert_near(form: Form, area: float, volume: float, within: float) -> None:
    assert form.area_m2 == pytest.approx(area, rel=within)
    assert form.volume_m3 == pytest.approx(volume, rel=within)


def test_a_sphere_agrees_with_a_fine_icosphere() -> None:
    import trimesh

    # Six subdivisions leave a chord of 0.02 radii, so the volume falls short by about 1.5e-4.
    area, volume = trimesh_form(trimesh.creation.icosphere(subdivisions=6, radius=0.8))
    assert_near(form_of(Sphere(1.6)), area, volume, 2e-4)
    assert area < form_of(Sphere(1.6)).area_m2


def test_a_cylinder_agrees_with_a_many_sided_one() -> None:
    import trimesh

    area, volume = trimesh_form(trimesh.creation.cylinder(radius=0.4, height=1.5, sections=2000))
    assert_near(form_of(Cylinder(0.8, 1.5)), area, volume, 2e-6)


def test_a_box_agrees_with_its_twelve_triangles() -> None:
    import trimesh

    area, volume = trimesh_form(trimesh.creation.box(extents=(1.2, 0.7, 2.3)))
    assert_near(form_of(Box(1.2, 0.7, 2.3)), area, volume, 1e-12)


@pytest.mark.parametrize(
    "profile",
    [
        pytest.param((Frustum(1.0, 0.6, 1.2), [(0, 0), (0.5, 0), (0.3, 1.2), (0, 1.2)]), id="frustum"),
        pytest.param((Frustum(0.9, 0.0, 1.2), [(0, 0), (0.45, 0), (0, 1.2)]), id="cone"),
    ],
)
def test_a_frustum_agrees_with_a_turned_profile(profile: tuple[Frustum, list[tuple[float, float]]]) -> None:
    import trimesh

    shape, line = profile
    area, volume = trimesh_form(trimesh.creation.revolve(line, sections=2000))
    assert_near(form_of(shape), area, volume, 2e-6)


PLANS = {
    "triangle": ((0.0, 0.0), (1.2, 0.1), (0.4, 0.9)),
    "l": ((0.0, 0.0), (2.0, 0.0), (2.0, 0.5), (0.5, 0.5), (0.5, 1.5), (0.0, 1.5)),
    "arrow, clockwise": ((0.0, 0.0), (-1.0, 1.0), (1.5, 0.0), (-1.0, -1.0)),
}


@pytest.mark.parametrize("plan", PLANS.values(), ids=PLANS)
def test_a_prism_agrees_with_its_extruded_plan(plan: tuple[tuple[float, float], ...]) -> None:
    import trimesh
    from shapely.geometry import Polygon

    mesh = trimesh.creation.extrude_polygon(Polygon(plan), 0.75)
    form = form_of(Prism(plan, 0.75))
    assert_near(form, float(mesh.area), float(mesh.volume), 1e-12)
    middle = mesh.bounds.mean(axis=0) * (1, 1, 0)
    assert form.centre_of_mass_m == pytest.approx(tuple(mesh.center_mass - middle), abs=1e-12)
    # The middle of the triangles, each weighed by its area, is where the skin balances.
    assert form.shell_centre_m == pytest.approx(tuple(mesh.centroid - middle), abs=1e-9)
    assert (form.length_m, form.width_m, form.height_m) == pytest.approx(tuple(mesh.extents))
