"""Where a request comes from, for counting what one address may do."""

import ipaddress

from django.conf import settings
from django.http import HttpRequest


def caller(request: HttpRequest) -> str:
    """The address of whoever asks: what the proxy in front says, if one is set; a network of IPv6 counts as one."""
    given = request.META.get("REMOTE_ADDR", "")
    if settings.BEHIND_PROXY:
        # The proxy adds what it saw at the end; all before that the caller may have made up.
        given = request.META.get("HTTP_X_FORWARDED_FOR", given).rpartition(",")[2].strip() or given
    try:
        address = ipaddress.ip_address(given)
    except ValueError:
        return "unknown"
    if address.version == 6:
        return str(ipaddress.ip_network((address, 64), strict=False).network_address)
    return str(address)
