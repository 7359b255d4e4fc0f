"""The demo club: its people and questions at once, its clips and answers as they are drawn."""

from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from coachdesk.demo.club_people import PASSWORD, PEOPLE, SIGN_INS
from coachdesk.demo.create_club import found
from coachdesk.demo.play_scenario import play


class Command(BaseCommand):
    requires_system_checks = ()  # of a site that is up they say nothing new
    help = "Make the demo club (--people) and draw, send and answer its clips (--play)."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--people", action="store_true", help="make the club, print sign-ins")
        parser.add_argument("--play", action="store_true", help="draw the clips, play the week")

    def handle(self, *args: Any, **options: Any) -> None:
        found()
        if options["people"]:
            self.stdout.write("Demo sign-ins, password for all:  " + PASSWORD)
            people = {person.key: person for person in PEOPLE}
            for person in (people[key] for key in SIGN_INS):
                self.stdout.write(f"  {person.role:<8} {person.email:<32} {person.name}")
            self.stdout.write("The demo's clips are drawn now; they appear one by one.")
        if options["play"]:
            play(self.stdout.write)
