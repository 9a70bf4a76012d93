"""Which steps of a stage are planned in one go."""

from collections.abc import Sequence
from itertools import pairwise

from jobs.figures.todo import StepToDo

QUARTER_DAY_H = 4.0
"""A shorter hold is filled with other work on the same section [h]."""


def parted(steps: Sequence[StepToDo], *, last_apart: bool) -> list[list[StepToDo]]:
    """The parts of a stage.

    Parameters
    ----------
    steps : sequence of StepToDo
        One at least.
    last_apart : bool
        Whether the last step stands apart, for it waits for more than those before it.

    Returns
    -------
    list of list of StepToDo
    """
    runs = cut(steps)
    if last_apart and len(runs[-1]) > 1:
        runs = [*runs[:-1], runs[-1][:-1], runs[-1][-1:]]
    return runs


def cut(steps: Sequence[StepToDo]) -> list[list[StepToDo]]:
    """Steps cut after each hold, and where they go into the booth, out of it, or to a firm outside.

    Parameters
    ----------
    steps : sequence of StepToDo
        One at least.

    Returns
    -------
    list of list of StepToDo
    """
    runs = [[steps[0]]]
    for before, step in pairwise(steps):
        if before.hold_h > QUARTER_DAY_H or before.in_booth or step.in_booth or step.sent:
            runs.append([step])
        else:
            runs[-1].append(step)
    return runs


def named(run: Sequence[StepToDo]) -> str:
    """What a part is called: its first step alone, or from the first to the last.

    Parameters
    ----------
    run : sequence of StepToDo
        One at least.

    Returns
    -------
    str
    """
    return run[0].name if len(run) == 1 else f"{run[0].name} … {lowered(run[-1].name)}"


def lowered(text: str) -> str:
    """A text as it goes on within a sentence.

    Parameters
    ----------
    text : str

    Returns
    -------
    str
    """
    return text[:1].lower() + text[1:]
