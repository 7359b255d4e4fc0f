"""`python -m coachdesk.server --address A --port N`: the web server of bin/run and of the image."""

import argparse

import uvicorn
from django.conf import settings
from django.urls import Resolver404, get_resolver, resolve

from coachdesk.server.gate import Gate
from coachdesk.server.protocol import TimedProtocol
from coachdesk.server.uvicorn_config import allow_many_connections, configuration


def streams(path: str) -> bool:
    """Whether the view behind an address reads its body while it comes (`streams_body`)."""
    try:
        view = resolve(path).func
    except Resolver404:
        return False
    return bool(getattr(getattr(view, "cls", view), "streams_body", False))


def gate() -> Gate:
    from coachdesk.wsgi import application  # sets Django up

    _ = get_resolver().url_patterns  # read now, not during the first request
    return Gate(
        application,
        streams=streams,
        most_bytes=settings.DATA_UPLOAD_MAX_MEMORY_SIZE,
        is_behind_proxy=settings.BEHIND_PROXY,
    )


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m coachdesk.server")
    parser.add_argument("--address", default="127.0.0.1", help="address to bind (127.0.0.1)")
    parser.add_argument("--port", type=int, default=8000, help="port to listen on (8000)")
    options = parser.parse_args()
    allow_many_connections()
    TimedProtocol.counts_addresses = not settings.BEHIND_PROXY
    uvicorn.Server(configuration(gate(), address=options.address, port=options.port)).run()


if __name__ == "__main__":
    main()
