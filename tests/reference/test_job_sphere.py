"""A whole cast, worked apart: a 1.6 m sphere from a mould in four pieces, through the command.

A composition of the checks of laminate, mould and catalyst; the values were
computed outside the program.
"""

import json
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command

PLY = {"kind": "csm", "weight": "450 g/m^2", "glass_fraction": 0.30}
SPEC = {
    "name": "Ball",
    "catalyst_percent": 2.0,
    "allowances": {"gel_coat": 0.15, "glass": 0.15, "resin": 0.10},
    "sections": [
        {
            "name": "Ball",
            "shape": "sphere",
            "dimensions": {"diameter": "1.6 m"},
            "count": 1,
            "grade": "B",
            "mould": {
                "pieces": 4,
                "seam": "10.0531 m",
                "return_width": "90 mm",
                "layup": {"gel_coat": "0.8 kg/m^2", "plies": [{**PLY, "layers": 8}]},
            },
            "cast": {
                "pulls": 1,
                "layup": {"gel_coat": "0.6 kg/m^2", "plies": [{**PLY, "layers": 3}]},
                "joining": {"strip_width": "150 mm", "layers": 2},
            },
            "finish": {
                "coats": [{"kind": "topcoat", "volume_solids": 0.50, "dry_film": "50 um", "coats": 2, "loss": 0.50}]
            },
        }
    ],
}


@pytest.fixture(params=["entered", "estimated"])
def taken(request: pytest.FixtureRequest, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    """What the command prints, with the seam entered to a tenth of a millimetre and with it estimated."""
    spec = json.loads(json.dumps(SPEC))
    if request.param == "estimated":
        del spec["sections"][0]["mould"]["seam"]
    path = tmp_path / "ball.json"
    path.write_text(json.dumps(spec))
    call_command("takeoff", str(path), "--json")
    return json.loads(capsys.readouterr().out)


def bought(taken: dict[str, Any], stage: str, material: str) -> float:
    (line,) = [line for line in taken["lines"] if (line["stage"], line["material"]) == (stage, material)]
    return line["buy"]


def test_the_sphere_and_its_seam(taken):
    (section,) = taken["sections"]
    assert section["area_m2"] == pytest.approx(8.04247719319, rel=1e-5)
    assert section["seam_m"] == pytest.approx(10.0530964915, rel=1e-5)
    assert section["extents_m"] == [1.6, 1.6, 1.6]


def test_what_the_cast_takes(taken):
    assert bought(taken, "cast", "gel_coat") == pytest.approx(5.5493092633, rel=1e-4)
    assert bought(taken, "cast", "glass_csm_450") == pytest.approx(14.0466890727, rel=1e-4)
    assert bought(taken, "cast", "laminating_resin") == pytest.approx(31.3505814087, rel=1e-4)
    assert bought(taken, "cast", "catalyst") == pytest.approx(737.99781344, rel=1e-4)


def test_what_the_cast_weighs_is_net(taken):
    (section,) = taken["sections"]
    assert section["cast"]["mass_kg"] == pytest.approx(45.5405271064, rel=1e-4)
    assert section["cast"]["thickness_mm"] == pytest.approx(3.65234375, rel=1e-4)


def test_what_the_mould_weighs(taken):
    (section,) = taken["sections"]
    assert section["mould"]["mass_kg"] == pytest.approx(150.106042389, rel=1e-4)
    assert section["mould"]["piece_mass_kg"] == pytest.approx(37.5265105973, rel=1e-4)


def test_what_the_topcoat_takes(taken):
    # Paint makers' sheets: area x coats x DFT / (10 VS (1 - loss)).
    assert bought(taken, "finish", "topcoat") == pytest.approx(8.04247719319 * 2 * 50 / (10 * 50 * 0.5), rel=1e-9)


def test_the_hours_are_those_of_a_one_off_of_its_grade(taken):
    # Common practice, no source: 22 to 45 h/m2 all in for grade B with pattern and mould.
    likely = sum(hours["likely"] for hours in taken["hours"])
    assert 22 <= likely / taken["sections"][0]["area_m2"] <= 45
