from django.apps import AppConfig
from django.contrib.staticfiles.apps import StaticFilesConfig


class CoachdeskConfig(AppConfig):
    name = "coachdesk"

    def ready(self) -> None:
        from coachdesk import checks  # noqa: F401  (registers the start-up checks)


class ServedFilesConfig(StaticFilesConfig):
    """htmx extensions we do not use name modules that are not there; hashing would fail."""

    ignore_patterns = [*StaticFilesConfig.ignore_patterns, "ext"]
