"""The drawing: to scale, on one floor, covering what lies behind, and safe wherever it is put."""

import re
from collections.abc import Sequence
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.drawing import HATCHED_STAGES, Placed, drawing_svg
from materials.drawing.sizes import size_text, spoken_size
from materials.estimator.errors import EstimatorError
from materials.estimator.lines import STAGES
from materials.estimator.outline import Outline, ViewName
from materials.estimator.shapes import Box, Measured, Prism, Shape, Sphere, Torus, outline_of
from tests.materials.estimator import strategies

SVG = "{http://www.w3.org/2000/svg}"
ALL: tuple[ViewName, ...] = ("front", "side", "plan")


def placed(
    shape: Shape,
    name: str = "Belly",
    *,
    x: float = 0.0,
    y: float = 0.0,
    z: float = 0.0,
    mirrored: bool = False,
    hatch: str | None = None,
) -> Placed:
    return Placed(name, {view: outline_of(shape, view) for view in ALL}, x, y, z, mirrored, hatch)


def draw(sections: Sequence[Placed], views: Sequence[ViewName] = ("front", "side"), **options: object) -> str:
    return drawing_svg(sections, views, **{"title": "The Long Pear", "uid": "pear", **options})  # type: ignore[arg-type]


def tree(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)  # noqa: S314


def texts(svg: str) -> list[str]:
    return [element.text or "" for element in tree(svg).iter(f"{SVG}text")]


def sections_of(svg: str) -> list[ElementTree.Element]:
    """The group of each section in each view, in the order drawn."""
    return [group for group in tree(svg).iter(f"{SVG}g") if group.find(f"{SVG}title") is not None]


def names_of(svg: str) -> list[str | None]:
    return [group.findtext(f"{SVG}title") for group in sections_of(svg)]


def points(group: ElementTree.Element, which: int = 0) -> list[tuple[float, float]]:
    data = group.findall(f"{SVG}path")[which].get("d", "")
    numbers = [float(number) for number in re.findall(r"-?[\d.]+", data)]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def box(group: ElementTree.Element) -> tuple[float, float, float, float]:
    xs, ys = zip(*points(group), strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def test_both_views_are_to_one_scale() -> None:
    front, side = (box(group) for group in sections_of(draw([placed(Box(1.2, 0.6, 2.4))])))
    scale = (front[3] - front[1]) / 2.4
    assert front[2] - front[0] == pytest.approx(1.2 * scale, abs=0.02)
    assert side[2] - side[0] == pytest.approx(0.6 * scale, abs=0.02)
    assert side[3] - side[1] == pytest.approx(2.4 * scale, abs=0.02)


def test_both_views_stand_on_one_floor() -> None:
    svg = draw([placed(Box(1.2, 0.6, 2.4))])
    front, side = (box(group) for group in sections_of(svg))
    floors = re.findall(r'd="M[\d.]+ ([\d.]+)L[\d.]+ \1" fill="none" stroke="#414d53"', svg)
    assert front[3] == side[3] == float(floors[0])


def test_a_section_above_the_floor_is_drawn_above_it() -> None:
    svg = draw([placed(Box(1.2, 0.6, 1.2), z=0.6)], figure=False)
    (front, _) = (box(group) for group in sections_of(svg))
    floors = re.findall(r'd="M[\d.]+ ([\d.]+)L[\d.]+ \1" fill="none" stroke="#414d53"', svg)
    assert float(floors[0]) - front[3] == pytest.approx((front[3] - front[1]) / 2, abs=0.02)


def test_the_plan_lies_under_the_front_at_the_same_scale() -> None:
    front, plan = (box(group) for group in sections_of(draw([placed(Box(1.2, 0.6, 2.4))], ("front", "plan"))))
    assert (plan[0], plan[2]) == pytest.approx((front[0], front[2]), abs=0.02)
    assert plan[1] > front[3]
    assert (plan[3] - plan[1]) / (front[3] - front[1]) == pytest.approx(0.25, abs=1e-3)


def test_the_person_is_as_tall_as_the_scale_says() -> None:
    svg = draw([placed(Box(1.2, 0.6, 2.4))])
    front = box(sections_of(svg)[0])
    scale = (front[3] - front[1]) / 2.4
    head = tree(svg).find(f".//{SVG}ellipse")
    assert head is not None
    crown = float(head.get("cy", "")) - float(head.get("ry", ""))
    assert (front[3] - crown) / scale == pytest.approx(1.75, abs=0.01)
    assert "1.75 m" in texts(svg)
    assert "<ellipse" not in draw([placed(Box(1.2, 0.6, 2.4))], figure=False)


def test_overall_sizes_span_every_section() -> None:
    svg = draw([placed(Box(1.2, 0.6, 1.0)), placed(Sphere(0.8), "Head", x=0.4, y=-0.5, z=1.0)])
    assert {"1\u2009800", "1\u2009400", "1\u2009200"} <= set(texts(svg))
    assert texts(svg).count("front") == texts(svg).count("side") == 1


def test_sizes_may_be_left_out() -> None:
    svg = draw([placed(Box(1.2, 0.6, 1.0))], ("front",), dimensions=False, figure=False)
    assert texts(svg) == []


@pytest.mark.parametrize(
    ("length_m", "metric", "us"),
    [
        (2.6, "2\u2009600", "8′ 6⅜″"),
        (0.15, "150", "5⅞″"),
        (0.0254, "25", "1″"),
        (0.00635, "6", "¼″"),
        (1.8288, "1\u2009829", "6′"),
        (1.8415, "1\u2009842", "6′ ½″"),
        (0.3047, "305", "1′"),
        (12.3456, "12\u2009346", "40′ 6″"),
    ],
)
def test_sizes_are_written_as_drawings_write_them(length_m: float, metric: str, us: str) -> None:
    # 25.4 mm to the inch, by definition.
    assert size_text(length_m, "metric") == metric
    assert size_text(length_m, "us") == us
    assert spoken_size(length_m, "metric") == f"{metric} mm"


def test_the_nearer_section_is_drawn_last_in_each_view() -> None:
    nose = placed(Sphere(0.2), "Nose", x=0.3, y=-0.6, z=0.9)
    head = placed(Sphere(1.2), "Head", x=-0.5)
    hat = placed(Sphere(0.4), "Hat", x=-0.9, y=0.4, z=1.2)
    svg = draw([nose, hat, head], ALL)
    assert names_of(svg) == ["Hat", "Head", "Nose", "Hat", "Head", "Nose", "Nose", "Head", "Hat"]


def test_sections_equally_near_keep_their_order() -> None:
    svg = draw([placed(Sphere(1.0), "One"), placed(Sphere(0.5), "Two")], ("front",))
    assert names_of(svg) == ["One", "Two"]


def test_the_side_view_looks_from_the_right() -> None:
    svg = draw([placed(Box(1.0, 1.0, 1.0)), placed(Box(0.2, 0.2, 0.2), "Nose", y=-0.6)])
    body, nose = (box(group) for group in sections_of(svg)[2:])
    assert nose[0] < body[0]


WEDGE = Prism(((0.0, 0.0), (0.2, -0.3), (1.0, 0.0), (0.5, 0.5)), 1.0)


def test_a_mirrored_section_is_drawn_left_for_right() -> None:
    plain, turned = sections_of(draw([placed(WEDGE, x=2.0), placed(WEDGE, x=-2.0, mirrored=True)], ("front",)))
    edge, twin = points(plain, 1)[0][0], points(turned, 1)[0][0]
    (left, _, right, _), (twin_left, _, twin_right, _) = box(plain), box(turned)
    assert edge - left == pytest.approx(twin_right - twin, abs=0.02)
    assert edge - left < right - edge
    assert (left + twin_right) / 2 == pytest.approx((right + twin_left) / 2, abs=0.02)


def test_a_hole_is_left_open() -> None:
    (ring,) = sections_of(draw([placed(Torus(2.0, 0.4))], ("plan",)))
    path = ring.find(f"{SVG}path")
    assert path is not None
    assert path.get("d", "").count("M") == path.get("d", "").count("Z") == 2
    assert path.get("fill-rule") == "evenodd"


def test_every_stage_of_a_take_off_has_a_hatch() -> None:
    assert HATCHED_STAGES == STAGES


def test_a_stage_reached_is_hatched_and_named() -> None:
    svg = draw([placed(Box(1, 1, 1), "Base", hatch="mould"), placed(Sphere(1.0), "Ball", z=1.0)])
    assert [pattern.get("id") for pattern in tree(svg).iter(f"{SVG}pattern")] == ["pear-mould"]
    fills = [path.get("fill") for group in sections_of(svg) for path in group.findall(f"{SVG}path")]
    assert fills == ["url(#pear-mould)", "#f6f3ea", "url(#pear-mould)", "#f6f3ea"]
    assert texts(svg)[-1] == "mould"
    assert names_of(svg)[:2] == ["Base: mould", "Ball"]


def test_six_stages_are_named_in_two_rows() -> None:
    sections = [placed(Box(1, 1, 1), stage, x=2.0 * at, hatch=stage) for at, stage in enumerate(HATCHED_STAGES)]
    svg = draw(sections, ("front",))
    assert texts(svg)[-6:] == list(HATCHED_STAGES)
    swatches = tree(svg).findall(f"{SVG}rect")
    assert len({rect.get("y") for rect in swatches}) == 2
    assert len({(rect.get("x"), rect.get("y")) for rect in swatches}) == 6


def test_a_section_known_by_its_extents_is_dashed_and_said_to_be_so() -> None:
    svg = draw([placed(Measured(4.0, None, 1.0, 1.0, 1.0), "Hand"), placed(Sphere(1.0), "Ball", z=1.0)])
    assert "Sizes in mm. Hand: extents only." in texts(svg)
    dashed = ["stroke-dasharray" in path.attrib for group in sections_of(svg) for path in group.findall(f"{SVG}path")]
    assert dashed == [True, False, True, False]


def test_long_notes_are_wrapped() -> None:
    sections = [placed(Measured(4.0, None, 1.0, 1.0, 1.0), f"Section number {n}", z=float(n)) for n in range(9)]
    notes = [text for text in texts(draw(sections)) if "Section" in text]
    assert len(notes) > 2
    assert max(len(note) for note in notes) <= 58


def test_a_narrow_view_keeps_its_size_clear_of_the_extension_lines() -> None:
    svg = draw([placed(Box(6.0, 0.1, 1.4))])
    (_, _, front_right, _), (left, _, right, _) = (box(group) for group in sections_of(svg))
    assert right - left < 10
    labels = {text.text: text for text in tree(svg).iter(f"{SVG}text")}
    assert float(labels["100"].get("x", "")) == pytest.approx((left + right) / 2, abs=0.02)
    assert left - front_right > 26


HOSTILE = '"><script>alert(1)</script>&\x00\x0b\ud800'


def test_nothing_typed_can_become_markup() -> None:
    section = placed(Measured(4.0, None, 1.0, 1.0, 1.0), HOSTILE, hatch="cast")
    svg = draw([section], title=HOSTILE)
    assert "<script" not in svg
    assert svg.encode()
    found = tree(svg)
    assert found.findtext(f"{SVG}title", "").startswith('"><script>alert(1)</script>&\ufffd\ufffd')
    assert names_of(svg)[0] == found.findtext(f"{SVG}title", "") + ": cast"


ALLOWED = (
    " xmlns viewBox width height role aria-labelledby font-family font-size id d fill fill-rule stroke stroke-width "
    "stroke-linejoin stroke-dasharray x y cx cy r rx ry text-anchor transform patternUnits "
)


def test_a_strict_content_policy_lets_it_through() -> None:
    sections = [placed(WEDGE, stage, x=2.0 * at, hatch=stage) for at, stage in enumerate(HATCHED_STAGES)]
    svg = draw([*sections, placed(Measured(4.0, None, 1.0, 1.0, 1.0))], ALL)
    found = tree(svg)
    used = {name for element in found.iter() for name in element.attrib}
    assert [name for name in used if f" {name} " not in ALLOWED] == []
    tags = {element.tag.removeprefix(SVG) for element in found.iter()}
    assert tags == {"svg", "title", "desc", "defs", "pattern", "g", "path", "rect", "circle", "ellipse", "text"}
    assert set(re.findall(r"url\(([^)]*)\)", svg)) == {f"#pear-{stage}" for stage in HATCHED_STAGES}


def test_two_drawings_on_a_page_share_no_id() -> None:
    ids = []
    for uid in ("front-page", "card2"):
        svg = draw([placed(Sphere(1.0), hatch="cast")], uid=uid)
        ids += [element.get("id", "") for element in tree(svg).iter() if "id" in element.attrib]
        assert tree(svg).get("aria-labelledby") == f"{uid}-title {uid}-desc"
    assert len(ids) == len(set(ids)) == 6


def test_it_is_described_for_those_who_do_not_see_it() -> None:
    svg = draw([placed(Box(1.2, 0.6, 2.4), "Base", hatch="mould"), placed(Sphere(0.6), "Ball", z=2.4)])
    assert tree(svg).get("role") == "img"
    assert tree(svg).findtext(f"{SVG}title") == "The Long Pear"
    assert tree(svg).findtext(f"{SVG}desc") == (
        "Front and side views, 3\u2009000 mm high, 1\u2009200 mm wide, 600 mm deep. Base: mould. Ball: plain outline. "
        "A person of 1.75 m stands beside."
    )


def test_a_plan_alone_is_described_by_its_own_sizes() -> None:
    svg = draw([placed(Box(1.2, 0.6, 2.4))], ("plan",), units="us")
    assert tree(svg).findtext(f"{SVG}desc") == "Plan view, 3′ 11¼″ wide, 1′ 11⅝″ deep. Belly: plain outline."
    assert {"3′ 11¼″", "1′ 11⅝″", "plan"} == set(texts(svg))


shown = st.lists(
    st.tuples(strategies.shapes, st.floats(-3, 3), st.floats(-3, 3), st.floats(-1, 5), st.booleans()),
    min_size=1,
    max_size=4,
)


@settings(max_examples=100, derandomize=True, deadline=None)
@given(shown, st.sampled_from([ALL, ("front",), ("side", "front"), ("plan",), ("plan", "side")]), st.booleans())
def test_everything_drawn_lies_on_the_sheet(
    given_sections: list[tuple[Shape, float, float, float, bool]], views: tuple[ViewName, ...], figure: bool
) -> None:
    sections = [
        placed(shape, f"Section {at}", x=x, y=y, z=z, mirrored=mirrored)
        for at, (shape, x, y, z, mirrored) in enumerate(given_sections)
    ]
    svg = draw(sections, views, figure=figure)
    _, _, width, height = (float(number) for number in (tree(svg).get("viewBox") or "").split())
    assert width == 400
    assert height < 1000
    for element in tree(svg).iter(f"{SVG}path"):
        numbers = [float(number) for number in re.findall(r"-?[\d.]+", element.get("d", ""))]
        assert all(-0.01 <= x <= width for x in numbers[::2])
        assert all(-0.01 <= y <= height for y in numbers[1::2])
    for element in tree(svg).iter(f"{SVG}text"):
        assert 0 <= float(element.get("x", "")) <= width
        assert 0 <= float(element.get("y", "")) <= height


@pytest.mark.parametrize(
    ("sections", "options", "sentence"),
    [
        ([], {}, "section is missing; add one before drawing."),
        ([placed(Sphere(1.0))], {"views": ()}, "view is missing; name one of front, side, plan."),
        ([placed(Sphere(1.0))], {"views": ("back",)}, "view 'back' is not known; use one of front, side, plan."),
        ([placed(Sphere(1.0))], {"views": ("front", "front")}, "views are front, front; give each once."),
        (
            [placed(Sphere(1.0))],
            {"uid": "1 pear"},
            "uid is '1 pear'; it must be a letter, then letters, digits, - or _.",
        ),
        (
            [Placed("Head", {"front": outline_of(Sphere(1.0), "front")})],
            {},
            "the side view of Head is missing; draw its outline first, or leave that view out.",
        ),
        (
            [Placed("Dot", {"plan": Outline("plan", (((0.0, 0.0),),))})],
            {"views": ("plan",)},
            "the outlines have no extent; draw at least one section with a size.",
        ),
    ],
)
def test_it_refuses_what_cannot_be_drawn(sections: list[Placed], options: dict[str, object], sentence: str) -> None:
    with pytest.raises(EstimatorError) as refusal:
        draw(sections, **options)  # type: ignore[arg-type]
    assert str(refusal.value) == sentence


def test_a_sheet_seen_edge_on_is_drawn_as_a_line() -> None:
    flat = Placed("Sheet", {"side": Outline("side", (((0.0, 0.0), (0.0, 1.0)),))})
    (drawn,) = sections_of(draw([flat], ("side",), figure=False))
    left, top, right, bottom = box(drawn)
    assert left == right
    assert bottom - top == pytest.approx(300, abs=0.02)


def test_it_refuses_a_stage_without_a_hatch() -> None:
    with pytest.raises(EstimatorError) as refusal:
        placed(Sphere(1.0), hatch="varnish")
    assert str(refusal.value) == (
        "stage 'varnish' is not known; use one of pattern, mould, cast, finish, metalwork, crate."
    )


@pytest.mark.parametrize(("place", "name"), [("x", "offset"), ("y", "depth"), ("z", "stand")])
def test_it_refuses_a_place_off_the_earth(place: str, name: str) -> None:
    with pytest.raises(EstimatorError) as refusal:
        placed(Sphere(1.0), **{place: float("nan")})  # type: ignore[arg-type]
    assert str(refusal.value) == f"{name} is nan m; it must be between -1000 and 1000 m."
