from importlib import import_module

from django.apps import AppConfig

# Wings with models of their own, which name those of athletes.models.
WINGS = ["athletes.mail.models", "athletes.tokens.models", "athletes.webhooks.models"]


class AthletesConfig(AppConfig):
    name = "athletes"

    def import_models(self) -> None:
        super().import_models()
        for models in WINGS:
            import_module(models)
