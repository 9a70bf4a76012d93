"""Where to cut, how alike two sides are, and which facets are flat."""

import numpy as np
import pytest

from materials.estimator.errors import Missing, OutOfRange
from materials.mesh.cutting import BadCut, cut
from materials.mesh.facets import flat_facets
from materials.mesh.mirror import compare_sides, mirror_of
from materials.mesh.planes import plane_at
from materials.mesh.preview import preview_of
from materials.mesh.suggesting import Fit, suggest_planes
from materials.mesh.surface import Surface
from materials.mesh.triangles import Mesh, add_up
from tests.materials.mesh import solids

FIGURE = solids.figure(40)


def about_z(mesh: Mesh, degrees: float, shift: tuple[float, float, float] = (0, 0, 0)) -> Mesh:
    c, s = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    turn = np.array([[c, -s, 0], [s, c, 0], [0, 0, 1]])
    return Mesh(mesh.vertices @ turn.T + np.array(shift), mesh.faces)


@pytest.mark.parametrize(
    "fit",
    [
        Fit((1.7, 1.7, 1.2)),
        Fit((2.4, 1.2, 0.6)),
        Fit((1.0, 0.9, 0.8)),
        Fit(None, 20.0, 6.0),
        Fit((2.0, 1.4, 1.0), 12.0, 6.0),
    ],
    ids=["opening", "block", "envelope", "mass", "both"],
)
def test_suggested_planes_make_every_section_fit(fit: Fit) -> None:
    planes = suggest_planes(FIGURE, fit)
    parts = cut(FIGURE, planes)
    assert len(parts.sections) > 1
    for part in parts.sections:
        assert fit.holds(part.extents_m, part.area_m2)


def test_a_model_that_fits_whole_needs_no_plane() -> None:
    assert suggest_planes(FIGURE, Fit((4.0, 2.0, 2.0), 100.0, 6.0)) == ()


def test_no_more_planes_are_suggested_than_a_plain_box_needs() -> None:
    box = solids.box(1, 1, 4, 6)
    planes = suggest_planes(box, Fit((1.0, 1.0, 1.4)))
    assert [plane.normal for plane in planes] == [(0, 0, 1), (0, 0, 1)]
    # Three even parts rather than two full ones and a rest; layers are a 240th of the height.
    heights = sorted(plane.offset_m for plane in planes)
    assert heights == pytest.approx([4 / 3, 8 / 3], abs=4 / 240)


def test_an_open_model_gets_suggestions_too() -> None:
    fit = Fit((1.7, 1.7, 1.2))
    bare = Mesh(FIGURE.vertices, FIGURE.faces[:-200])
    parts = cut(bare, suggest_planes(bare, fit))
    assert all(fit.holds(part.extents_m, part.area_m2) for part in parts.sections)


def test_it_refuses_what_no_cut_can_fit() -> None:
    with pytest.raises(BadCut, match="No cut by up to 40 planes makes every section fit; allow larger sections"):
        suggest_planes(FIGURE, Fit((0.01, 0.01, 0.01)))


def test_a_fit_must_be_said_in_full() -> None:
    with pytest.raises(Missing, match="what the sections must fit is missing"):
        Fit()
    with pytest.raises(Missing, match="lay-up mass is missing"):
        Fit(mass_kg=25)
    for wrong in (0.0, -1.0, float("nan"), float("inf")):
        with pytest.raises(OutOfRange, match="side of the box"):
            Fit((1, wrong, 1))
        with pytest.raises(OutOfRange, match="greatest mass of a section"):
            Fit(mass_kg=wrong, skin_kg_m2=5)
        with pytest.raises(OutOfRange, match="lay-up mass"):
            Fit(mass_kg=25, skin_kg_m2=wrong)


def test_the_mirror_plane_of_a_figure_is_found() -> None:
    mirror = mirror_of(FIGURE)
    assert mirror is not None
    assert mirror.plane.normal == pytest.approx((1, 0, 0), abs=1e-9)
    assert mirror.plane.offset_m == pytest.approx(0, abs=2e-3)
    assert mirror.mean_mm < 3


def test_the_mirror_plane_turns_with_the_figure() -> None:
    mirror = mirror_of(about_z(FIGURE, 35, (0.4, -0.3, 0)))
    assert mirror is not None
    c, s = np.cos(np.radians(35)), np.sin(np.radians(35))
    # Half a degree: 5 mm at the figure's side.
    assert abs(np.dot(mirror.plane.normal, (c, s, 0))) > np.cos(np.radians(0.5))
    assert abs(mirror.plane.offset_m) == pytest.approx(abs(c * 0.4 - s * 0.3), abs=0.01)


def test_a_model_with_no_two_sides_alike_has_no_mirror_plane() -> None:
    x, y, z = FIGURE.vertices.T
    bent = Mesh(np.stack([x + 0.3 * z**2 * (z > 1), y + 0.8 * np.sin(2.5 * z), z], axis=1), FIGURE.faces)
    assert mirror_of(bent) is None


def test_two_equal_sides_differ_by_nothing() -> None:
    sides = compare_sides(solids.box(1, 2, 3, 4), plane_at("x", 0.5))
    assert sides.area_percent == pytest.approx(0, abs=1e-9)
    assert sides.volume_percent == pytest.approx(0, abs=1e-9)
    assert sides.largest_mm == pytest.approx(0, abs=1e-6)


def test_a_side_that_stands_out_is_shown_in_millimetres_and_percent() -> None:
    box = solids.box(1, 1, 1, 20)
    vertices = box.vertices.copy()
    # The left half 8 mm deeper than the right, from one column of squares to the next.
    vertices[(vertices[:, 0] < 0.49) & (vertices[:, 1] > 0.5), 1] += 0.008
    sides = compare_sides(Mesh(vertices, box.faces), plane_at("x", 0.5))
    assert sides.largest_mm == pytest.approx(8, abs=0.05)
    assert 1 < sides.mean_mm < 8
    # The step between the halves is 50 mm wide, so the left holds 0.475 x 1 x 0.008 m³ more of 0.5.
    assert sides.volume_percent == pytest.approx(100 * 0.0038 / 0.5019, rel=1e-3)


def test_the_sides_of_an_open_model_have_no_volume_to_compare() -> None:
    sides = compare_sides(Mesh(FIGURE.vertices, FIGURE.faces[:-200]), plane_at("x", 0))
    assert sides.volume_percent is None
    assert sides.left_volume_m3 is None


def test_distances_from_a_surface_are_exact() -> None:
    surface = Surface(solids.ellipsoid(1, 1, 1, 64))
    points = np.array([[0, 0, 2.0], [0, 3.0, 0], [0, 0, 0.5]])
    assert surface.distances(points) == pytest.approx([1, 2, 0.5], abs=1e-3)
    box = Surface(solids.box(1, 1, 1, 1))
    corner = np.array([[2.0, 2, 2], [0.5, 0.5, -0.25], [2, 0.5, 2]])
    assert box.distances(corner) == pytest.approx([np.sqrt(3), 0.25, np.sqrt(2)], rel=1e-12)


def test_flat_facets_are_listed_with_their_size_largest_first() -> None:
    for mesh in (solids.box(1, 2, 0.4, 1), solids.turned(solids.box(1, 2, 0.4, 30))):
        facets = flat_facets(mesh)
        assert [facet.area_m2 for facet in facets] == pytest.approx([2, 2, 0.8, 0.8], rel=1e-9)
        assert [(facet.length_m, facet.width_m) for facet in facets[1:3]] == [
            pytest.approx((2, 1), rel=1e-9),
            pytest.approx((2, 0.4), rel=1e-9),
        ]


def test_the_ends_of_a_frustum_are_flat_and_its_side_is_not() -> None:
    facets = flat_facets(solids.frustum(0.6, 0.5, 1.2))
    assert [facet.area_m2 for facet in facets] == pytest.approx([np.pi * 0.36, np.pi * 0.25], rel=1e-3)
    assert facets[0].normal == pytest.approx((0, 0, -1), abs=1e-9)
    assert facets[0].centre_m == pytest.approx((0, 0, 0), abs=1e-6)


def test_round_models_have_no_flat_facets() -> None:
    assert flat_facets(solids.ellipsoid(1, 1, 1, 96)) == ()
    assert flat_facets(FIGURE) == ()


def test_a_facet_that_wobbles_by_less_than_a_millimetre_is_still_flat() -> None:
    box = solids.box(1, 1, 0.5, 40)
    vertices = box.vertices + np.random.default_rng(1).normal(size=box.vertices.shape) * 2e-4
    facets = [facet for facet in flat_facets(Mesh(vertices, box.faces)) if facet.area_m2 > 0.9]
    assert len(facets) == 2


def test_faces_that_a_cut_made_are_no_facets() -> None:
    lower = cut(solids.box(1, 1, 1, 2), (plane_at("z", 0.2),)).sections[0]
    assert [facet.normal for facet in flat_facets(lower.mesh)] == [pytest.approx((0, 0, -1))]


def test_it_refuses_a_least_area_that_makes_no_sense() -> None:
    with pytest.raises(OutOfRange, match="least area of a facet is nan m²"):
        flat_facets(FIGURE, float("nan"))


def test_a_preview_keeps_the_shape() -> None:
    fine = solids.figure(96)
    coarse = preview_of(fine)
    assert 19_000 < len(coarse.faces) <= 20_000 < len(fine.faces)
    whole, less = add_up(fine.vertices, fine.faces), add_up(coarse.vertices, coarse.faces)
    # A third as many triangles: what is looked at may be off by a part in five hundred, what is measured never is.
    assert less.area == pytest.approx(whole.area, rel=2e-3)
    assert less.volume == pytest.approx(whole.volume, rel=2e-3)
    assert preview_of(coarse).faces is coarse.faces
