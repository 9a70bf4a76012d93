"""A thousand damaged files: none crashes the parser, none holds it up, each is read or refused in plain words."""

import json
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

from django.conf import settings

from materials.mesh.reading import Model, UnreadableModel, accept, read_model
from tests.materials.mesh.damage import corpus

PER_ENCODING = 150
PATIENCE_S = 10.0
# One sentence that begins with a capital, ends with a full stop and holds no word of the machinery.
PLAIN = re.compile(r"(?!.*(Traceback|Error|Exception|0x|NoneType|numpy|\bbyte string))[A-Z].{20,220}\.")


def test_no_damaged_file_crashes_or_stalls_the_parser(tmp_path: Path) -> None:
    spoilt = list(corpus(PER_ENCODING))
    assert len(spoilt) >= 1000
    assert len({content for _, content in spoilt}) >= 1000
    for number, (suffix, content) in enumerate(spoilt):
        (tmp_path / f"{number:04d}.{suffix}").write_bytes(content)
    done = subprocess.run(
        [sys.executable, "-m", "tests.materials.mesh.many_children", str(tmp_path)],
        cwd=settings.BASE_DIR,
        capture_output=True,
        text=True,
        check=True,
        timeout=900,
    )
    outcomes = [json.loads(line) for line in done.stdout.splitlines()]
    assert len(outcomes) == len(spoilt)
    refusals = []
    for name, status, taken in outcomes:
        assert status == 0, f"{name} ended the parser with {status}"
        assert taken <= PATIENCE_S, f"{name} took {taken:.1f} s"
        with (tmp_path / name).with_suffix(".answer").open("rb") as answer:
            refusals.append(refusal_of(lambda: accept(answer, name, status, 6)))  # noqa: B023
    assert [text for text in refusals if text and not PLAIN.fullmatch(text)] == []
    # A flipped bit in a coordinate still makes a model; but most damage is seen.
    assert sum(text is not None for text in refusals) > len(spoilt) / 2


def refusal_of(act: Callable[[], Model]) -> str | None:
    """What a reading says no with; None where it gives a model, which then has triangles."""
    try:
        assert act().triangles > 0
    except UnreadableModel as refusal:
        return str(refusal)
    return None


def test_the_real_road_treats_damaged_files_the_same(tmp_path: Path) -> None:
    refusals = []
    for number, (suffix, content) in enumerate(corpus(4)):
        path = tmp_path / f"{number}.{suffix}"
        path.write_bytes(content)
        refusals.append(refusal_of(lambda: read_model(path)))  # noqa: B023
    assert [text for text in refusals if text and not PLAIN.fullmatch(text)] == []
    assert 10 < sum(text is not None for text in refusals) <= 28
