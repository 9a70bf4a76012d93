"""The drawing as the document maker renders it: hatches and lettering are there, and nothing is warned of."""

import subprocess
from pathlib import Path

import pytest
from PIL import Image

from materials.drawing import Placed, drawing_svg
from materials.estimator.shapes import Box, outline_of
from studio.pdf import render_pdf


def darkness(folder: Path, hatch: str | None) -> float:
    """How dark the middle of a section comes out on paper, from 0 to 1."""
    section = Placed("Base", {"front": outline_of(Box(1.0, 1.0, 1.0), "front")}, hatch=hatch)
    svg = drawing_svg([section], ("front",), title="Base", uid="base", dimensions=False, figure=False)
    html = f'<!doctype html><html lang="en"><title>Base</title><body>{svg}</body></html>'
    (folder / "base.pdf").write_bytes(render_pdf(html, title="Base"))
    command = ["pdftoppm", "-gray", "-r", "150", "-singlefile", folder / "base.pdf", folder / "base"]
    subprocess.run(command, check=True)
    with Image.open(folder / "base.pgm") as opened:
        picture = opened.copy()
    inked = Image.eval(picture, lambda level: 255 if level < 250 else 0).getbbox()
    assert inked is not None
    left, top, right, _ = inked
    middle_x, middle_y = (left + right) // 2, top + (right - left) // 2
    levels = list(picture.crop((middle_x - 60, middle_y - 60, middle_x + 60, middle_y + 60)).tobytes())
    return 1 - sum(levels) / len(levels) / 255


@pytest.mark.needs("pdftoppm")
def test_every_hatch_shows_on_paper(tmp_path: Path) -> None:
    plain = darkness(tmp_path, None)
    assert 0.02 < plain < 0.1
    for stage in ("pattern", "mould", "cast", "finish", "metalwork", "crate"):
        assert darkness(tmp_path, stage) > plain + 0.03, stage
