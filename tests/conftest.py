"""The fixed cast, and settings that keep tests in a folder of their own."""

from pathlib import Path
from typing import NamedTuple

import pytest

from athletes.models import Club, Role, User


class Cast(NamedTuple):
    """Everybody who appears in an access test."""

    owner: User
    coach: User
    second_coach: User
    athlete: User
    other_athlete: User
    stranger: User  # a coach of another club
    outsider: User  # an athlete of another club


@pytest.fixture(autouse=True)
def _own_folders(settings, tmp_path: Path) -> None:
    settings.MEDIA_ROOT = tmp_path / "media"
    settings.UPLOAD_DIR = tmp_path / "uploads"
    settings.MEDIA_WORK_DIR = tmp_path / "work"
    settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    settings.STORAGES = {
        **settings.STORAGES,
        "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
    }


@pytest.fixture
def club(db) -> Club:
    return Club.objects.create(name="Northgate Barbell", timezone="Europe/Oslo")


@pytest.fixture
def cast(club: Club) -> Cast:
    elsewhere = Club.objects.create(name="Harbour Strength")

    def person(name: str, role: Role, at: Club = club, coach: User | None = None) -> User:
        email = f"{name.lower().replace(' ', '.')}@example.org"
        return User.objects.create_user(
            email, "a long passphrase", name=name, role=role, club=at, main_coach=coach
        )

    coach = person("Tove Lindqvist", Role.COACH)
    return Cast(
        owner=person("Oda Owner", Role.OWNER),
        coach=coach,
        second_coach=person("Bram Castel", Role.COACH),
        athlete=person("Mira Solheim", Role.ATHLETE, coach=coach),
        other_athlete=person("Joris Banda", Role.ATHLETE, coach=coach),
        stranger=person("Ilan Varga", Role.COACH, elsewhere),
        outsider=person("Nadia Frost", Role.ATHLETE, elsewhere),
    )
