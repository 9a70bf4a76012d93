"""What the drawing says in words: notes under it, and a description for those who do not see it."""

import textwrap
from collections.abc import Iterable, Mapping, Sequence

from materials.drawing.placing import Placed
from materials.drawing.sizes import Units, spoken_size
from materials.drawing.views import View
from materials.estimator.outline import ViewName

_LINE = 58


def notes(views: Iterable[View], units: Units | None) -> list[str]:
    """Lines to stand under the drawing.

    Parameters
    ----------
    views : iterable of View
        What is drawn.
    units : str or None
        "metric" or "us"; None where no sizes are drawn.

    Returns
    -------
    list of str
        Short enough for the sheet.
    """
    noted: dict[str, dict[str, None]] = {}
    for view in views:
        for section in view.sections:
            if section.note:
                noted.setdefault(section.note, {})[section.placed.name] = None
    lines = ["Sizes in mm."] if units == "metric" else []
    for note, names in noted.items():
        lines.append(f"{', '.join(names)}: {note}.")
    return textwrap.wrap(" ".join(lines), _LINE)


def description(placed: Sequence[Placed], views: Mapping[ViewName, View], units: Units, *, figure: bool) -> str:
    """The drawing in sentences.

    Parameters
    ----------
    placed : sequence of Placed
        The sections.
    views : mapping of str to View
        What is drawn.
    units : str
        "metric" or "us".
    figure : bool
        Whether a person stands beside.

    Returns
    -------
    str
        Views, overall sizes, and the stage of each section.
    """
    names = list(views)
    shown = " and ".join(filter(None, [", ".join(names[:-1]), names[-1]]))
    sizes = []
    upright = [view for name, view in views.items() if name != "plan"]
    if upright:
        height_m = max(view.top_m for view in upright) - min(view.bottom_m for view in upright)
        sizes.append(f"{spoken_size(height_m, units)} high")
    wide = views.get("front") or views.get("plan")
    if wide is not None:
        sizes.append(f"{spoken_size(wide.across_m, units)} wide")
    if "side" in views:
        sizes.append(f"{spoken_size(views['side'].across_m, units)} deep")
    elif "plan" in views:
        sizes.append(f"{spoken_size(views['plan'].up_m, units)} deep")
    sentences = [f"{shown.capitalize()} view{'s' if len(names) > 1 else ''}, {', '.join(sizes)}."]
    stages = dict.fromkeys((section.name, section.hatch) for section in placed)
    sentences += [f"{name}: {stage or 'plain outline'}." for name, stage in stages]
    if figure and upright:
        sentences.append(
            "A person of 1.75 m stands beside." if units == "metric" else "A person of 5′ 9″ stands beside."
        )
    return " ".join(sentences)
