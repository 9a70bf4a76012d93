"""What an enquiry's take-off says to a plan."""

from jobs.figures.frozen import frozen_take_off
from jobs.figures.todo import INSTALL
from jobs.models import Commission
from jobs.queries.plans import Estimated, estimated
from jobs.takeoffs import take_off_of
from materials.models import Item, ItemKind
from materials.queries.figures import studio_figures


def estimate_of(commission: Commission) -> Estimated:
    """The hours, moulds and services of a commission as its sections stand now.

    Raises EstimatorError where the sections cannot be worked.
    """
    sections = list(commission.sections.select_related("mould_lay_up", "cast_lay_up", "paint_system"))
    services = set(Item.objects.filter(kind=ItemKind.SERVICE).values_list("key", flat=True))
    found = estimated(frozen_take_off(take_off_of(commission, sections, studio_figures())), services)
    extras = commission.extras.filter(item__kind=ItemKind.HOUR)
    install_h = float(sum(extra.quantity for extra in extras))
    if not install_h:
        return found
    place = ("", INSTALL)
    return Estimated({**found.hours, place: (install_h,) * 3}, found.moulds, found.casts, found.services)
