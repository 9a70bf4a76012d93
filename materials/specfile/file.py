"""A specification in a file."""

from pathlib import Path

from materials.estimator.spec import JobSpec
from materials.estimator.studio import StudioFigures
from materials.specfile.job import read_spec
from materials.specfile.json_file import read_json


def read_file(path: Path, *, defaults: StudioFigures) -> JobSpec:
    """Read a job from a file.

    Parameters
    ----------
    path : Path
        A JSON file of at most 10 MB.
    defaults : StudioFigures
        What is used where the file says nothing.

    Returns
    -------
    JobSpec

    Raises
    ------
    EstimatorError
        When the file cannot be read, is not JSON, or asks for what cannot be made.
    """
    return read_spec(read_json(path, "a specification"), defaults=defaults, folder=path.parent)
