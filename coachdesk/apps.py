from django.apps import AppConfig


class CoachdeskConfig(AppConfig):
    name = "coachdesk"

    def ready(self) -> None:
        from coachdesk import checks  # noqa: F401  (registers the start-up checks)
