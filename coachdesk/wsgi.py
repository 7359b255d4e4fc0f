"""The WSGI entry. Uploads need WSGI: an ASGI handler would spool the whole body first."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "coachdesk.settings")

application = get_wsgi_application()
