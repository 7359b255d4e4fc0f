"""An athlete's log on its way out, for whoever may read it."""

from django.http import StreamingHttpResponse

from athletes.local_time import today_of
from athletes.models import User
from programming.logs.csv.writing import lines
from programming.permissions import body_weights_visible_to, logged_sessions_visible_to


def file_of(*, reader: User, athlete: User) -> StreamingHttpResponse:
    """As text/csv (RFC 4180), an attachment named by the athlete's day."""
    sessions = logged_sessions_visible_to(reader).filter(athlete=athlete)
    weights = body_weights_visible_to(reader).filter(athlete=athlete)
    response = StreamingHttpResponse(
        lines(athlete=athlete, sessions=sessions, weights=weights),
        content_type="text/csv; charset=utf-8; header=present",
    )
    name = f"training-log-{today_of(athlete).isoformat()}.csv"
    response["Content-Disposition"] = f'attachment; filename="{name}"'
    return response
