"""Every route of the site, read from the URL resolver."""

from collections.abc import Iterator

from django.urls import URLPattern, URLResolver, get_resolver


def routes(
    resolver: URLResolver | None = None, space: str = ""
) -> Iterator[tuple[str, URLPattern]]:
    """(name, pattern) of each; a route without a name is called by its pattern."""
    for entry in (resolver or get_resolver()).url_patterns:
        if isinstance(entry, URLResolver):
            inner = f"{space}{entry.namespace}:" if entry.namespace else space
            yield from routes(entry, inner)
        else:
            yield space + (entry.name or f"unnamed {entry.pattern}"), entry
