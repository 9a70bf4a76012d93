"""A specification in a file: JSON and nothing but JSON."""

import json
from pathlib import Path
from typing import Any, NoReturn

from materials.estimator.errors import EstimatorError, shown
from materials.estimator.spec import JobSpec
from materials.estimator.studio import StudioFigures
from materials.specfile.job import read_spec

LARGEST_BYTES = 10_000_000


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
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST_BYTES + 1)
    except OSError as error:
        reason = (error.strerror or "it cannot be opened").lower()
        raise _refused(path, f"cannot be read: {reason}; give the path of a specification") from None
    except ValueError:
        raise _refused(path, "is not the name of a file; give the path of a specification") from None
    if len(data) > LARGEST_BYTES:
        raise _refused(path, f"is larger than {LARGEST_BYTES // 1_000_000} MB; divide the job")
    return read_spec(_parsed(path, data), defaults=defaults, folder=path.parent)


def _parsed(path: Path, data: bytes) -> object:
    try:
        return json.loads(data.decode("utf-8-sig"), object_pairs_hook=_without_repeats, parse_constant=_no_constant)
    except UnicodeDecodeError:
        raise _refused(path, "is not text in UTF-8; save it as UTF-8") from None
    except json.JSONDecodeError as error:
        raise _refused(path, f"is not JSON at line {error.lineno}, column {error.colno}; correct it there") from None
    except RecursionError:
        raise _refused(path, "is nested too deeply; a specification has at most six levels") from None
    except EstimatorError:
        raise
    except ValueError:
        raise _refused(path, "holds a number of too many digits; shorten it") from None


def _without_repeats(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    named = dict(pairs)
    if len(named) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        message = f"The field {shown(twice)} stands twice in one place; leave one of them out."
        raise EstimatorError("field", twice, message)
    return named


def _no_constant(word: str) -> NoReturn:
    raise EstimatorError("number", word, f"{word} is not a number to work with; give a finite one.")


def _refused(path: Path, why: str) -> EstimatorError:
    return EstimatorError("file", str(path), f"{shown(path.name or str(path))} {why}.")
