"""allauth's door, closed to anybody who was not invited."""

from allauth.account.adapter import DefaultAccountAdapter
from django.http import HttpRequest


class ByInvitationAdapter(DefaultAccountAdapter):
    def is_open_for_signup(self, request: HttpRequest) -> bool:
        return False
