"""A specification: what is read, what is taken for granted, and what is refused with its place."""

import copy
import json
import math
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.estimator.errors import EstimatorError
from materials.estimator.reference import studio_figures
from materials.estimator.shapes import SHAPES, Sphere
from materials.estimator.spec import JobSpec
from materials.estimator.takeoff import take_off
from materials.specfile import read_file, read_shape, read_spec

STUDIO = studio_figures()
PLY = {"kind": "csm", "weight": "450 g/m^2", "glass_fraction": 0.30, "layers": 3}
FULL: dict[str, Any] = {
    "name": "Long Pear",
    "catalyst_percent": 1.5,
    "allowances": {"gel_coat": 0.2, "glass": 0.12, "overlap": 0.06, "resin": 0.1},
    "sections": [
        {
            "name": "Body",
            "shape": "ellipsoid",
            "dimensions": {"a": "80 cm", "b": "2 ft 6 in", "c": "1.1 m"},
            "count": 2,
            "grade": "A",
            "mirrored": True,
            "pattern": {
                "method": "milled",
                "filler": "4 mm",
                "barrier_coats": 2,
                "wax_coats": 6,
                "block": ["2.4 m", "1.2 m", "500 mm"],
            },
            "mould": {
                "pieces": 4,
                "seam": "9 m",
                "seam_closed": True,
                "return_width": "75 mm",
                "layup": {"name": "Strong", "gel_coat": "0.9 kg/m2", "plies": [PLY], "return_extra_layers": 1},
                "frame": "7.5 kg",
            },
            "cast": {
                "pulls": 3,
                "layup": "Public skin",
                "joining": {
                    "strip_width": "100 mm",
                    "layers": 3,
                    "ply": {"kind": "woven", "weight": "300 g/m2"},
                    "bolt_pitch": "200 mm",
                },
            },
            "finish": {"system": "Textured paint"},
            "metal": "35 kg",
            "crate": False,
            "stand": "0 m",
            "offset": "20 cm",
        }
    ],
}


def spec(**section: Any) -> dict[str, Any]:
    """A job of one ball, with fields of its section set."""
    return {"sections": [{"shape": "sphere", "dimensions": {"diameter": "1.6 m"}, **section}]}


def read(data: object) -> JobSpec:
    return read_spec(data, defaults=STUDIO)


def refusal(data: object) -> str:
    with pytest.raises(EstimatorError) as refused:
        take_off(read(data))
    return str(refused.value)


def test_everything_that_is_given_is_read() -> None:
    job = read(FULL)
    (section,) = job.sections
    assert (job.name, job.catalyst_percent) == ("Long Pear", 1.5)
    assert (job.allowances.glass, job.allowances.overlap) == (0.12, 0.06)
    assert (section.form.length_m, section.form.width_m, section.form.height_m) == pytest.approx((1.6, 1.524, 2.2))
    assert (section.count, section.mirrored, section.grade, section.crated) == (2, True, "A", False)
    assert (section.pattern.method, section.pattern.filler_mm) == ("milled", pytest.approx(4.0))
    assert (section.pattern.barrier_coats, section.pattern.wax_coats) == (2, 6)
    assert section.pattern.block.thickness_m == 0.5
    assert (section.mould.pieces, section.mould.seam_m, section.mould.seam_closed) == (4, 9.0, True)
    assert (section.mould.return_width_m, section.mould.frame_kg_per_piece) == (0.075, 7.5)
    assert (section.mould.layup.name, section.mould.layup.return_extra_layers) == ("Strong", 1)
    assert section.mould.layup.plies[0].weight_kg_m2 == 0.45
    assert (section.cast.pulls, section.cast.layup.name) == (3, "Public skin")
    assert (section.cast.joining.strip_width_m, section.cast.joining.layers) == (0.1, 3)
    assert section.cast.joining.ply.glass_fraction == 0.48
    assert section.cast.joining.bolt_pitch_m == 0.2
    assert section.coats == STUDIO.paint_systems["Textured paint"]
    assert section.metal_kg == 35.0


def test_everything_that_is_left_out_is_the_studios() -> None:
    job = read(spec())
    (section,) = job.sections
    assert (job.name, section.name) == ("Take-off", "Section 1")
    assert (job.catalyst_percent, job.allowances) == (2.0, STUDIO.allowances)
    assert (section.grade, section.count, section.mirrored, section.crated) == ("B", 1, False, True)
    assert (section.pattern.method, section.pattern.filler_mm, section.pattern.block) == ("carved", 5.0, STUDIO.block)
    assert (section.mould.pieces, section.mould.seam_m, section.mould.return_width_m) == (2, None, 0.09)
    assert (section.mould.layup, section.cast.layup) == (STUDIO.layups["Workshop mould"], STUDIO.layups["Light skin"])
    assert (section.cast.pulls, section.cast.joining.strip_width_m, section.cast.joining.layers) == (1, 0.15, 2)
    assert section.coats == STUDIO.paint_systems["Outdoor paint"]


def test_the_paint_follows_the_grade() -> None:
    assert read(spec(grade="A")).sections[0].coats == STUDIO.paint_systems["Gallery gloss"]
    assert read(spec(finish={"coats": []})).sections[0].coats == ()


def test_an_allowance_for_glass_given_alone_is_the_whole_of_it() -> None:
    job = read({**spec(), "allowances": {"glass": 0.15}})
    assert (job.allowances.glass, job.allowances.overlap) == (0.15, 0.0)


def test_strips_are_of_the_skins_own_mat() -> None:
    plies = [{"kind": "tissue", "weight": "30 g/m2"}, {"kind": "csm", "weight": "300 g/m2", "layers": 3}]
    section = read(spec(cast={"layup": {"gel_coat": "0.6 kg/m2", "plies": plies}})).sections[0]
    assert section.cast.joining.ply.material == "glass_csm_300"
    woven = [{"kind": "woven", "weight": "600 g/m2"}]
    section = read(spec(cast={"layup": {"gel_coat": "0.6 kg/m2", "plies": woven}})).sections[0]
    assert section.cast.joining.ply.material == "glass_woven_600"


@pytest.mark.parametrize("scale", [8, 8.0, {"from": "0.45 m", "to": "3.6 m"}])
def test_a_maquette_is_scaled(scale: object) -> None:
    section = read(spec(dimensions={"diameter": "20 cm"}, scale=scale)).sections[0]
    assert section.form.area_m2 == pytest.approx(math.pi * 1.6**2)


@pytest.mark.parametrize(
    ("shape", "dimensions", "area"),
    [
        ("sphere", {"diameter": "1 m"}, math.pi),
        ("ellipsoid", {"a": "50 cm", "b": "50 cm", "c": "50 cm"}, math.pi),
        ("superellipsoid", {"a": "50 cm", "b": "50 cm", "c": "50 cm", "e1": 1, "e2": 1.0}, math.pi),
        ("cylinder", {"diameter": "1 m", "height": "1 m"}, 1.5 * math.pi),
        ("frustum", {"bottom_diameter": "1 m", "top_diameter": "1 m", "height": "1 m"}, 1.5 * math.pi),
        ("frustum", {"bottom_diameter": "6 m", "top_diameter": "0 m", "height": "4 m"}, 24 * math.pi),
        ("box", {"length": "1 m", "width": "1 m", "height": "1 m"}, 6.0),
        ("torus", {"ring_diameter": "2 m", "tube_diameter": "1 m"}, 2 * math.pi**2),
        ("cap", {"sphere_diameter": "2 m", "height": "1 m"}, 2 * math.pi),
        ("prism", {"polygon": [[0, 0], [100, 0], [100, 100], [0, 100]], "unit": "cm", "height": "1 m"}, 6.0),
        ("turned", {"profile": [[500, 0], [500, 1000]], "unit": "mm"}, math.pi),
        ("measured", {"area": "8 m2", "length": "1 m", "width": "1 m", "height": "2 m"}, 8.0),
        ("measured", {"area": "8 m2", "volume": "900 l", "length": "1 m", "width": "1 m", "height": "2 m"}, 8.0),
    ],
)
def test_every_shape_is_read(shape: str, dimensions: dict[str, Any], area: float) -> None:
    (section,) = take_off(read(spec(shape=shape, dimensions=dimensions))).sections
    assert section.area_m2 == pytest.approx(area, rel=1e-6)


def test_no_shape_is_left_out_above() -> None:
    marks = test_every_shape_is_read.pytestmark[0].args[1]
    assert {shape for shape, _, _ in marks} == set(SHAPES)


def test_a_shape_is_read_by_itself_at_full_size() -> None:
    data = {"shape": "sphere", "dimensions": {"diameter": "20 cm"}, "scale": 8}
    assert read_shape(data) == Sphere(1.6)
    with pytest.raises(EstimatorError, match=r"^Body, field 'grade' is not known; use one of shape, dimensions, scale"):
        read_shape({**data, "grade": "A"}, "Body")


@settings(max_examples=250, derandomize=True, deadline=None, database=None)
@given(
    axes_mm=st.tuples(*[st.integers(50, 4000)] * 3),
    seam_mm=st.integers(500, 30_000),
    width_mm=st.integers(30, 200),
    strip_mm=st.integers(50, 300),
)
def test_the_unit_makes_no_difference(
    axes_mm: tuple[int, int, int], seam_mm: int, width_mm: int, strip_mm: int
) -> None:
    def taken(written: Any) -> list[tuple[str, float]]:
        job = spec(
            shape="ellipsoid",
            dimensions={name: written(size) for name, size in zip("abc", axes_mm, strict=True)},
            mould={"seam": written(seam_mm), "return_width": written(width_mm)},
            cast={"joining": {"strip_width": written(strip_mm)}},
        )
        worked = take_off(read(job))
        found = [(line.material, value) for line in worked.lines for value in (line.net, line.buy)]
        return found + [(hours.step, hours.likely) for hours in worked.hours]

    metric = taken(lambda size: f"{size} mm")
    for written in (lambda size: f"{size / 304.8:.14f} ft", lambda size: f"{size / 25.4:.13f} in"):
        customary = taken(written)
        assert [key for key, _ in customary] == [key for key, _ in metric]
        assert [value for _, value in customary] == pytest.approx([value for _, value in metric], rel=1e-9)


REFUSED: list[tuple[Any, str]] = [
    (
        [],
        "The specification is a list; it must be a set of named values: name, catalyst_percent, allowances, sections.",
    ),
    ({}, "sections is missing; list at least one section."),
    ({"sections": []}, "sections is missing; list at least one section."),
    ({"sections": {}}, "sections is a set of named values; it must be a list."),
    ({**spec(), "nmae": "x"}, "field 'nmae' is not known; use one of name, catalyst_percent, allowances, sections."),
    ({**spec(), "name": "a\nb"}, "name is 'a\ufffdb'; it must be one line of at most 200 letters."),
    ({**spec(), "name": "\ud800"}, "name is '\ufffd'; it must be one line of at most 200 letters."),
    ({**spec(), "name": None}, "name is nothing; it must be a text that is not empty."),
    ({**spec(), "catalyst_percent": True}, "catalyst_percent is True; it must be a number."),
    ({**spec(), "catalyst_percent": math.nan}, "catalyst_percent: Catalyst is nan %; it must be between 1 and 4 %."),
    (
        {**spec(), "catalyst_percent": 10**400},
        "catalyst_percent is a number beyond reckoning; it must be at most 1e+09.",
    ),
    ({**spec(), "allowances": {"glass": -0.1}}, "allowances: Allowance for glass is -0.1; it must be between 0 and 2."),
    (spec(shape="blob"), "Section 1, shape 'blob' is not known; use one of sphere, ellipsoid,"),
    (
        spec(dimensions={"diameter": 1.6}),
        'Section 1, dimensions, diameter is 1.6; it must be a length as text with its unit, such as "2.6 m" '
        "(mm, cm, m, in or ft).",
    ),
    (
        spec(dimensions={"diameter": "1.6"}),
        "Section 1, dimensions, diameter “1.6” has no unit; add mm, cm, m, in or ft,",
    ),
    (spec(dimensions={}), 'Section 1, dimensions, diameter is missing; give a length with its unit, such as "2.6 m".'),
    (spec(dimensions={"height": "1 m"}), "Section 1, dimensions, field 'height' is not known; use one of diameter."),
    (
        spec(dimensions={"diameter": "0 m"}),
        "Section 1, dimensions: diameter is 0 m; it must be between 0.001 and 100 m.",
    ),
    (spec(count=0), "Section 1: Count is 0; it must be between 1 and 1000."),
    (spec(count=1.5), "Section 1, count is 1.5; it must be a whole number."),
    (spec(count=True), "Section 1, count is True; it must be a whole number."),
    (spec(count=10**5000), "Section 1: Count is a number beyond reckoning; it must be between 1 and 1000."),
    (spec(grade="D"), "Section 1: Grade 'D' is not known; use one of A, B, C."),
    (spec(mirrored=1), "Section 1, mirrored is 1; it must be true or false."),
    (spec(scale=True), "Section 1, scale is True; it must be a number."),
    (spec(scale=0), "Section 1, dimensions: scale is 0; it must be between 0.001 and 1000."),
    (spec(scale={"from": "1 m"}), 'Section 1, scale, to is missing; give a length with its unit, such as "2.6 m".'),
    (spec(scale="8"), 'Section 1, scale is \'8\'; it must be a number, or sizes such as {"from": "0.45 m",'),
    (spec(stand=3), "Section 1, stand is 3; it must be a length as text with its unit,"),
    (spec(metal=35), 'Section 1, metal is 35; it must be a mass as text with its unit, such as "35 kg"'),
    (spec(pattern={"barrier_coats": 0}), "Section 1, pattern: Barrier coats is 0 coats; it must be between 1 and 20"),
    (spec(pattern={"block": ["1 m"]}), "Section 1, pattern, block has 1 sides; give its length, width and thickness."),
    (
        spec(pattern={"block": ["1 m", "1 m", "1 mm"]}),
        "Section 1, pattern, block: Side of a foam block is 0.001 m; it must be between 0.02 and 20 m.",
    ),
    (spec(mould={"seam": 10}), "Section 1, mould, seam is 10; it must be a length as text with its unit,"),
    (spec(mould={"layup": "No such"}), "Section 1, mould, layup 'No such' is not known; use one of Workshop mould,"),
    (
        spec(mould={"layup": [1]}),
        "Section 1, mould, layup is a list; it must be a set of named values: name, gel_coat,",
    ),
    (
        spec(cast={"layup": {"gel_coat": "0.6 kg/m2", "plies": [{"kind": "cotton", "weight": "450 g/m2"}]}}),
        "Section 1, cast, layup, plies, ply 1: Kind of glass 'cotton' is not known; use one of csm, woven,",
    ),
    (
        spec(cast={"layup": {"gel_coat": "0.6 kg/m2", "plies": [{**PLY, "weight": 450}]}}),
        "Section 1, cast, layup, plies, ply 1, weight is 450; it must be a mass per area as text with its unit,",
    ),
    (
        spec(cast={"joining": {"ply": {**PLY}}}),
        "Section 1, cast, joining, ply, field 'layers' is not known; use one of kind, weight, glass_fraction.",
    ),
    (spec(finish={"coats": [], "system": "x"}), "Section 1, finish has both coats and a system; give one of them."),
    (spec(finish={"system": "x"}), "Section 1, finish, system 'x' is not known; use one of Gallery gloss,"),
    (
        spec(finish={"coats": [{"kind": "topcoat", "volume_solids": 0.5, "dry_film": 50, "coats": 2, "loss": 0.5}]}),
        'Section 1, finish, coat 1, dry_film is 50; it must be a film thickness as text with its unit, such as "50 um"',
    ),
    (
        spec(shape="prism", dimensions={"polygon": [[0, 0], [1, 0], [1, 1]], "height": "1 m"}),
        "Section 1, dimensions, unit is missing; give that of the points: m, cm, mm, ft, in.",
    ),
    (
        spec(shape="prism", dimensions={"polygon": [[0, 0], [1, "a"]], "unit": "m", "height": "1 m"}),
        "Section 1, dimensions, polygon, point 2 is 'a'; it must be a number.",
    ),
    (
        spec(shape="prism", dimensions={"polygon": [[0, 0, 0]], "unit": "m", "height": "1 m"}),
        "Section 1, dimensions, polygon, point 1 is a list; it must be two numbers, such as [1.2, 0.4].",
    ),
    ({"sections": spec()["sections"] * 2001}, "Number of sections is 2001; it must be at most 2000. Divide the job."),
]


@pytest.mark.parametrize(("data", "sentence"), REFUSED, ids=[sentence[:60] for _, sentence in REFUSED])
def test_what_is_wrong_is_refused_with_its_place(data: Any, sentence: str) -> None:
    assert refusal(data).startswith(sentence)


def test_two_sections_of_one_name_are_refused() -> None:
    twice = spec(name="Ball")["sections"] * 2
    assert refusal({"sections": twice}) == "Two sections are called Ball; give each a name of its own."


def nodes(data: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Every place in a specification."""
    inner = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    return [path, *(place for key, value in inner for place in nodes(value, (*path, key)))]


SCRAPS = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.floats(),
    st.text(max_size=12),
    st.sampled_from(
        ["1e9 m", "-1 m", "1 m²", "0", "٣ m", "10**400", {}, [], [[]], {"a": 1}, "1/0 m", "nan m", "2.6 m"]
    ),
)


@settings(max_examples=400, derandomize=True, deadline=None, database=None)
@given(place=st.sampled_from(nodes(FULL)), scrap=SCRAPS)
def test_a_scrap_anywhere_is_read_or_refused_in_a_sentence(place: tuple[Any, ...], scrap: Any) -> None:
    data: Any = copy.deepcopy({"": FULL})
    target = data
    for key in ("", *place)[:-1]:
        target = target[key]
    target[("", *place)[-1]] = scrap
    sentence = ""
    try:
        worked = take_off(read(data[""]))
    except EstimatorError as error:
        sentence = str(error)
    else:
        assert all(math.isfinite(line.buy) for line in worked.lines)
        return
    assert sentence.endswith((".", '"'))
    assert len(sentence) < 600


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        (b"", "is not JSON at line 1, column 1; correct it there."),
        (b'{"sections": [}', "is not JSON at line 1, column 15; correct it there."),
        (b"\xff\xfe\x00", "is not text in UTF-8; save it as UTF-8."),
        (b"[" * 100_000, "is nested too deeply; a specification has at most six levels."),
        (b'{"a":' * 50_000, "is nested too deeply; a specification has at most six levels."),
        (b'{"catalyst_percent": 1' + b"0" * 5000 + b"}", "holds a number of too many digits; shorten it."),
        (b'{"name": NaN}', "NaN is not a number to work with; give a finite one."),
        (b'{"name": -Infinity}', "-Infinity is not a number to work with; give a finite one."),
        (b'{"name": "a", "name": "b"}', "The field 'name' stands twice in one place; leave one of them out."),
        (b" " * 10_000_001, "is larger than 10 MB; divide it."),
    ],
)
def test_a_file_that_is_no_specification_is_refused(tmp_path: Path, content: bytes, reason: str) -> None:
    path = tmp_path / "job.json"
    path.write_bytes(content)
    with pytest.raises(EstimatorError) as refused:
        read_file(path, defaults=STUDIO)
    assert str(refused.value).endswith(reason)


def test_a_file_that_cannot_be_read_is_refused(tmp_path: Path) -> None:
    for path, reason in ((tmp_path / "none.json", "no such file or directory"), (tmp_path, "is a directory")):
        with pytest.raises(EstimatorError, match=f"cannot be read: {reason}; give the path of a specification"):
            read_file(path, defaults=STUDIO)
    with pytest.raises(EstimatorError, match="is not the name of a file"):
        read_file(Path("a\0b"), defaults=STUDIO)


def test_a_file_reads_as_its_content_does(tmp_path: Path) -> None:
    path = tmp_path / "job.json"
    path.write_text("\ufeff" + json.dumps(FULL), encoding="utf-8")
    assert read_file(path, defaults=STUDIO) == read(FULL)
