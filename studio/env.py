"""Strict readers of the environment.

Each takes the mapping to read, so that a test needs no real environment. A
variable that is unset, or set to nothing, has its default; anything else is
read exactly or refused with the variable's name. What a secret holds is never
repeated in an error.
"""

import re
from collections.abc import Mapping, Sequence
from pathlib import Path

_TRUTH = {"true": True, "1": True, "false": False, "0": False}


class EnvError(ValueError):
    """A variable of the environment that cannot be used as it is."""


def text(env: Mapping[str, str], name: str, *, default: str | None = None) -> str:
    """Words, without the blanks around them.

    Parameters
    ----------
    env : Mapping of str to str
        The environment.
    name : str
        The variable.
    default : str or None
        What stands when it is not set; None makes it required.

    Returns
    -------
    str

    Raises
    ------
    EnvError
        When it is required and not set.
    """
    value = env.get(name, "").strip()
    if value:
        return value
    if default is None:
        raise EnvError(f"{name} is not set; give it a value.")
    return default


def boolean(env: Mapping[str, str], name: str, *, default: bool) -> bool:
    """Yes or no.

    Parameters
    ----------
    env, name
        As in ``text``.
    default : bool
        What stands when it is not set.

    Returns
    -------
    bool

    Raises
    ------
    EnvError
        For anything but true, false, 1 and 0, in small or large letters.
    """
    value = env.get(name, "").strip()
    if not value:
        return default
    if value.lower() not in _TRUTH:
        raise EnvError(f"{name} is {value!r}; use true, false, 1 or 0.")
    return _TRUTH[value.lower()]


def integer(env: Mapping[str, str], name: str, *, default: int, low: int, high: int) -> int:
    """A whole number between two bounds.

    Parameters
    ----------
    env, name
        As in ``text``.
    default : int
        What stands when it is not set.
    low, high : int
        The least and the most that is allowed.

    Returns
    -------
    int

    Raises
    ------
    EnvError
        For anything but figures 0 to 9 with an optional minus, or a number out of bounds.
    """
    value = env.get(name, "").strip()
    if not value:
        return default
    if not re.fullmatch(r"-?[0-9]{1,18}", value) or not low <= int(value) <= high:
        raise EnvError(f"{name} is {value!r}; use a whole number from {low} to {high}.")
    return int(value)


def listing(env: Mapping[str, str], name: str, *, default: Sequence[str] = ()) -> list[str]:
    """Words parted by commas.

    Parameters
    ----------
    env, name
        As in ``text``.
    default : sequence of str
        What stands when it is not set.

    Returns
    -------
    list of str

    Raises
    ------
    EnvError
        When there is nothing between two commas.
    """
    value = env.get(name, "").strip()
    if not value:
        return list(default)
    words = [word.strip() for word in value.split(",")]
    if not all(words):
        raise EnvError(f"{name} is {value!r}; put something between the commas, and none at the end.")
    return words


def secret(env: Mapping[str, str], name: str, *, default: str | None = None) -> str:
    """A secret, given as it is or as a file that holds it.

    Parameters
    ----------
    env : Mapping of str to str
        The environment.
    name : str
        The variable; the variable ``{name}_FILE`` may name a file instead.
    default : str or None
        What stands when neither is set; None makes it required.

    Returns
    -------
    str
        Without line ends and blanks around it.

    Raises
    ------
    EnvError
        When both are set, the file cannot be read or is empty, or a required secret is missing.
    """
    given, path = env.get(name, "").strip(), env.get(f"{name}_FILE", "").strip()
    if given and path:
        raise EnvError(f"{name} and {name}_FILE are both set; keep one.")
    if given:
        return given
    if not path:
        if default is None:
            raise EnvError(f"{name} is not set; give it, or {name}_FILE with the path of a file that holds it.")
        return default
    try:
        held = Path(path).read_text(encoding="utf-8").strip()
    except (OSError, ValueError) as problem:
        reason = getattr(problem, "strerror", None) or "it is not text"
        raise EnvError(f"{name}_FILE names {path!r}, which cannot be read: {reason}.") from None
    if not held:
        raise EnvError(f"{name}_FILE names {path!r}, which is empty.")
    return held
