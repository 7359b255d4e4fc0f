from django.apps import AppConfig


class ProgrammingConfig(AppConfig):
    name = "programming"
