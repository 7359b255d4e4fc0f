from django.apps import AppConfig


class AthletesConfig(AppConfig):
    name = "athletes"

    def ready(self) -> None:
        from athletes.mail import password_reset  # noqa: F401  (registers who writes its mails)
