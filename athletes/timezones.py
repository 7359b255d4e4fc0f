"""The time zones a person may pick: those of the IANA database that name a place."""

from functools import cache
from zoneinfo import available_timezones

NOT_PLACES = ("Etc/", "SystemV/", "US/", "Brazil/", "Canada/", "Chile/", "Mexico/", "posix/")


@cache
def names() -> frozenset[str]:
    places = {
        name for name in available_timezones() if "/" in name and not name.startswith(NOT_PLACES)
    }
    return frozenset(places | {"UTC"})


@cache
def choices() -> list[tuple[str, str]]:
    """Sorted (value, label) pairs; the label reads like a place."""
    return [(name, name.replace("_", " ")) for name in sorted(names())]
