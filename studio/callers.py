"""Where a request comes from, for counting what one address may do."""

import ipaddress

from django.conf import settings
from django.http import HttpRequest

UNKNOWN = "::"
"""The unspecified address (RFC 4291, 2.5.2), of whoever has none that can be read."""


def caller(request: HttpRequest) -> str:
    """The address of whoever asks, as the outermost of the studio's own proxies saw it; a network of IPv6 is one.

    Each proxy adds what it saw at the end of ``X-Forwarded-For``, so that many from the end are the studio's own
    words; all before them the caller may have made up. What has fewer did not come through all of them.
    """
    given = request.META.get("REMOTE_ADDR", "")
    seen = request.META.get("HTTP_X_FORWARDED_FOR", "").split(",")
    if 0 < settings.TRUSTED_PROXIES <= len(seen):
        given = seen[-settings.TRUSTED_PROXIES].strip() or given
    try:
        address = ipaddress.ip_address(given)
    except ValueError:
        return UNKNOWN
    if address.version == 4:
        return str(address)
    if address.ipv4_mapped:
        return str(address.ipv4_mapped)
    return str(ipaddress.ip_network((address, 64), strict=False).network_address)
