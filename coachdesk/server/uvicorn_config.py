"""How uvicorn runs the gate."""

import resource

import uvicorn

from coachdesk.server import server_limits
from coachdesk.server.gate import Gate
from coachdesk.server.protocol import TimedProtocol

GRACE_SECONDS = 3


def configuration(gate: Gate, *, address: str, port: int) -> uvicorn.Config:
    return uvicorn.Config(
        gate,
        host=address,
        port=port,
        http=TimedProtocol,
        interface="asgi3",
        loop="asyncio",
        ws="none",
        lifespan="off",
        proxy_headers=False,  # Django and the gate read them, by our own settings
        server_header=False,
        access_log=False,  # each request has a line already, which names nobody
        log_config=None,
        timeout_keep_alive=server_limits.IDLE_SECONDS,
        timeout_graceful_shutdown=GRACE_SECONDS,
    )


def allow_many_connections() -> None:
    """Each may have a file open beside its own; the system's soft limit is often 1024."""
    _, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    most = 2 * server_limits.CONNECTIONS + 256
    if hard != resource.RLIM_INFINITY:
        most = min(most, hard)
    resource.setrlimit(resource.RLIMIT_NOFILE, (most, hard))
    server_limits.CONNECTIONS = min(server_limits.CONNECTIONS, (most - 256) // 2)
