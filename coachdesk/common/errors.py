"""What a use case refuses, each with a sentence that can be shown as it stands: what is wrong and
what to do.

A page shows the sentence; the API answers a problem with it and with the status of the class
(`coachdesk/common/api/problems.py`).
"""

from typing import ClassVar

from django.core import exceptions
from django.http import Http404


class DomainError(Exception):
    """One of the kinds below. A subclass where somebody must tell it from others of its kind."""

    status: ClassVar[int]
    default: ClassVar[str]  # where there is nothing more to say

    def __init__(self, sentence: str = "") -> None:
        super().__init__(sentence or self.default)


class NotFound(DomainError, Http404):
    """Nothing of that name that this person may touch; what belongs to others looks the same."""

    status = 404
    default = "Not found."


class PermissionDenied(DomainError, exceptions.PermissionDenied):
    """Not for this person, whatever it is."""

    status = 403
    default = "This is not yours to do."


class Conflict(DomainError):
    """Right in itself, but not as things stand."""

    status = 409
    default = "This cannot be done as things stand."


class Invalid(DomainError):
    """Understood, and not to be done; ``field`` where the sentence is about one part of it, or
    ``errors``: sentences by field."""

    status = 422
    default = "This cannot be done."
    field = ""

    def __init__(self, sentence: str = "", *, errors: dict[str, list[str]] | None = None) -> None:
        super().__init__(sentence)
        self.errors = errors or ({self.field: [sentence]} if self.field else {})
