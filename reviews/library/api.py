"""The library over REST, compact, for the workbench's palette."""

import json
from hashlib import sha256

from django.http import HttpResponseBase
from django.utils.cache import get_conditional_response, patch_cache_control
from rest_framework.exceptions import PermissionDenied, ValidationError
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.permissions import signed_in
from programming.movements.families import Family
from reviews.library.queries import palette
from reviews.permissions import library_of


class LibraryView(APIView):
    """GET ?family=squat, once or more: {"faults": [{id, name, phase, family, ...}]}.

    The faults of those lifts and of any lift, without what was retired. 304 when unchanged.
    """

    def get(self, request: Request) -> HttpResponseBase:
        user = signed_in(request)
        if not user.is_coach:
            raise PermissionDenied("The library is the coaches' tool.")
        families = request.query_params.getlist("family")
        if not families or not set(families) <= set(Family.values):
            raise ValidationError({"family": f"Choose one of: {', '.join(Family.values)}."})
        body = {"faults": palette(library_of(user), families)}
        tag = f'"{sha256(json.dumps(body).encode()).hexdigest()[:32]}"'
        unchanged = get_conditional_response(request._request, etag=tag)
        response = Response(body) if unchanged is None else unchanged
        response.headers["ETag"] = tag
        patch_cache_control(response, private=True, no_cache=True)
        return response
