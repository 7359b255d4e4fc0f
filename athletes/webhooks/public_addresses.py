"""Which addresses of the network a webhook may reach: the club's programs out there, never the
machines behind our own wall (server-side request forgery)."""

import socket
from ipaddress import IPv4Address, IPv6Address, IPv6Network, ip_address

from django.conf import settings

from coachdesk.common.errors import Invalid

Address = IPv4Address | IPv6Address


def resolve(host: str, port: int) -> str:
    """The one address to connect to. Every address of the name must be a public one: otherwise a
    name could be public when it is checked and private when it is used. Raises Invalid."""
    try:
        found = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)
    except (OSError, UnicodeError):
        raise Invalid(f"{host} cannot be found.") from None
    addresses = [ip_address(str(entry[4][0]).split("%")[0]) for entry in found]
    if not settings.WEBHOOKS_MAY_STAY_INSIDE:
        for address in addresses:
            if not is_public(address):
                raise Invalid(f"{host} lies inside a private network.")
    return str(addresses[0])


# Ways into an IPv4 network or a site's own, which `ipaddress` counts as global. A network behind
# a translator of one's own is never somebody else's machine.
REFUSED = [
    IPv6Network("64:ff9b:1::/48"),  # RFC 8215: NAT64 of a local network
    IPv6Network("::/96"),  # RFC 4291 2.5.5.1: IPv4-compatible, deprecated
    IPv6Network("::ffff:0:0:0/96"),  # RFC 2765: IPv4-translated
    IPv6Network("fec0::/10"),  # RFC 3879: site-local, deprecated
]


def is_public(address: Address) -> bool:
    """By IANA's special-purpose registries, as `ipaddress` has them; an IPv4 address inside an
    IPv6 one (mapped, 6to4, Teredo, NAT64) counts as what it leads to."""
    if isinstance(address, IPv6Address):
        if any(address in network for network in REFUSED):
            return False
        teredo = address.teredo[1] if address.teredo else None
        nat64 = IPv4Address(int(address) & 0xFFFFFFFF) if _is_nat64(address) else None
        for inner in (address.ipv4_mapped, address.sixtofour, teredo, nat64):
            if inner is not None and not is_public(inner):
                return False
        if address.ipv4_mapped is not None:
            return True
    return address.is_global and not address.is_multicast


def _is_nat64(address: IPv6Address) -> bool:
    """RFC 6052: 64:ff9b::/96."""
    return int(address) >> 32 == int(IPv6Address("64:ff9b::")) >> 32
