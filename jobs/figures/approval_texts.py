"""What each kind of sign-off says unless the office says otherwise. Common practice, no source."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Asked:
    """What is approved, and what changes cost after it.

    Attributes
    ----------
    what, costs_after : str
        One point to a line.
    of_the_work : bool
        Whether it is of the stage's own work, so that the stage has to be ready before it is sent.
    """

    what: str
    costs_after: str
    of_the_work: bool = True


ASKED = {
    "model": Asked(
        "Shape, proportions and pose as the model shows them\n"
        "Size of the finished work against the model",
        "A change of shape, pose or size after this is a variation: pattern, mould and price are worked out again\n"
        "Work done on the pattern by then is charged",
        of_the_work=False,
    ),
    "form": Asked(
        "The form of the pattern at full size, as photographed and measured\n"
        "Edges, textures and details that the mould will take over",
        "The mould is taken from this form: a change after this means mending or making anew the pattern, the mould "
        "and every cast from it\n"
        "Such a change is priced as a variation before it is made",
    ),
    "sample": Asked(
        "Colour and gloss of the sample, by its reference, looked at in daylight\n"
        "The finish of the surface as the sample shows it",
        "A change of colour or finish before paint costs a new sample and the paint bought\n"
        "After paint it costs sanding back and painting again; both are priced as a variation",
        of_the_work=False,
    ),
    "fit_up": Asked(
        "The sections put together dry: joints, lines and stance as photographed\n"
        "Surface as it goes to paint",
        "After this the joints are closed and painted over: a change means cutting, filling and painting again, "
        "priced as a variation",
    ),
    "dispatch": Asked(
        "The finished work as photographed, before it is packed\n"
        "Colours by their reference, fixings and what travels with it",
        "After this it is crated and transport is booked: a change means unpacking, a new journey and new days, "
        "priced as a variation",
    ),
    "installed": Asked(
        "The work in its place, upright, fixed and clean\n"
        "Marks of transport put right, or named below",
        "What is asked for after this is new work and is quoted on its own",
    ),
}  # fmt: skip
