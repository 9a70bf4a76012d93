"""Links as tests need them, made by the service that people use."""

import datetime
from typing import Any

from django.utils import timezone

from jobs.models import Commission, LinkKind
from jobs.services.links import MadeLink, make_link
from tests.jobs.stage_life import anybody

LOOKING = {"Sec-Fetch-Dest": "document", "Sec-Fetch-Mode": "navigate"}
"""What a browser sends when somebody opens a page, after the Fetch Metadata specification of the W3C."""


def give_link(
    commission: Commission | None, receiver: str = "R. Osei", kind: LinkKind = LinkKind.PROGRESS, **values: Any
) -> MadeLink:
    """A link that opens for thirty days."""
    at = values.pop("at", None) or timezone.now()
    expires_on = timezone.localdate(at) + datetime.timedelta(days=30)
    return make_link(
        by=anybody(),
        kind=kind,
        commission=commission,
        receiver=receiver,
        at=at,
        **{"expires_on": expires_on, **values},
    )
