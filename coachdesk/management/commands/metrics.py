"""Serve figures for Prometheus on a port of their own."""

from typing import Any

from django.core.management.base import BaseCommand, CommandParser
from prometheus_client import start_http_server

from coachdesk.ops.metrics import registry


class Command(BaseCommand):
    help = "Answer Prometheus at /metrics until stopped. Nothing serves them unless this runs."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--port", type=int, default=9464)
        parser.add_argument("--address", default="127.0.0.1", help="address to bind (127.0.0.1)")

    def handle(self, *args: Any, **options: Any) -> None:
        address, port = options["address"], options["port"]
        _, thread = start_http_server(port, addr=address, registry=registry())
        self.stdout.write(f"Figures at http://{address}:{port}/metrics")
        thread.join()
