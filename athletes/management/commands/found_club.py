"""Start a club: print the link with which its first owner joins."""

from typing import Any

from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError, CommandParser

from athletes.services.invitations import found_club, join_link
from coachdesk.common.errors import Conflict


class Command(BaseCommand):
    help = "Start a club and print the link with which its first owner joins."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--name", required=True, help="the club's name")
        parser.add_argument("--owner-email", required=True)
        parser.add_argument("--owner-name", required=True)

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            invitation, token = found_club(
                club_name=options["name"],
                email=options["owner_email"],
                name=options["owner_name"],
            )
        except Conflict as error:
            raise CommandError(str(error)) from error
        except ValidationError as error:
            raise CommandError(" ".join(error.messages)) from error
        self.stdout.write(f"{invitation.name} joins {invitation.club} as its owner here, once,")
        self.stdout.write(f"until {invitation.expires_at:%d %B %Y}:")
        self.stdout.write(join_link(token))
