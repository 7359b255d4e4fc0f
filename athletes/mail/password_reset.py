"""A forgotten password: the worker looks up whose address it is, and writes to them or nobody."""

from allauth.account.forms import default_token_generator
from allauth.account.internal.flows.password_reset import request_password_reset
from allauth.account.internal.userkit import filter_users_by_email
from django.http import HttpRequest

from athletes.mail.delivery import writes
from athletes.mail.models import PASSWORD_RESET
from athletes.models import Mail


@writes(PASSWORD_RESET)
def _request(mail: Mail) -> None:
    """allauth's adapter puts the mail with the link into the outbox, in this transaction."""
    users = filter_users_by_email(mail.to, is_active=True, prefer_verified=True, for_login=True)
    request_password_reset(HttpRequest(), mail.to, users, default_token_generator)
