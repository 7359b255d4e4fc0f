"""The WSGI entry. Uploads need WSGI: an ASGI handler would spool the whole body first."""

import ctypes
import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "coachdesk.settings")

# Of glibc's malloc.h; see mallopt(3).
M_TRIM_THRESHOLD, M_MMAP_THRESHOLD = -1, -3
MIB = 1024**2


def keep_buffers() -> None:
    """Let freed blocks of a body serve the next ones instead of going back to the system.

    Otherwise every megabyte of an upload is mapped, cleared and unmapped several times over, and
    the server stores at half the rate of the disk. Other C libraries than glibc are left alone.
    """
    mallopt = getattr(ctypes.CDLL(None), "mallopt", None)
    if mallopt is not None:
        mallopt(M_MMAP_THRESHOLD, 8 * MIB)
        mallopt(M_TRIM_THRESHOLD, 16 * MIB)


keep_buffers()
application = get_wsgi_application()
