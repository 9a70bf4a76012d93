"""A file that holds JSON and nothing but JSON: no name twice in one place, no number that is none."""

import json
from pathlib import Path
from typing import Any, NoReturn

from materials.estimator.errors import EstimatorError, shown

LARGEST_BYTES = 10_000_000


def read_json(path: Path, noun: str) -> object:
    """Read what a file holds.

    Parameters
    ----------
    path : Path
        A file of at most 10 MB.
    noun : str
        What it should hold, with its article, such as "a specification".

    Returns
    -------
    object
        Lists, sets of named values, texts and numbers.

    Raises
    ------
    EstimatorError
        When the file cannot be read or is not JSON.
    """
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST_BYTES + 1)
    except OSError as error:
        reason = (error.strerror or "it cannot be opened").lower()
        raise _refused(path, f"cannot be read: {reason}; give the path of {noun}") from None
    except ValueError:
        raise _refused(path, f"is not the name of a file; give the path of {noun}") from None
    if len(data) > LARGEST_BYTES:
        raise _refused(path, f"is larger than {LARGEST_BYTES // 1_000_000} MB; divide it")
    return _parsed(path, data, noun)


def _parsed(path: Path, data: bytes, noun: str) -> object:
    try:
        return json.loads(data.decode("utf-8-sig"), object_pairs_hook=_without_repeats, parse_constant=_no_constant)
    except UnicodeDecodeError:
        raise _refused(path, "is not text in UTF-8; save it as UTF-8") from None
    except json.JSONDecodeError as error:
        raise _refused(path, f"is not JSON at line {error.lineno}, column {error.colno}; correct it there") from None
    except RecursionError:
        raise _refused(path, f"is nested too deeply; {noun} has at most six levels") from None
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
