"""What a name may hold, at every door by which one comes in."""

import unicodedata

import pytest
from django.core.exceptions import ValidationError
from django.core.management import CommandError, call_command
from django.test import Client
from hypothesis import given
from hypothesis import strategies as st

from athletes.models import Club, Invitation, User
from coachdesk.common.validators import validate_name
from tests.conftest import Cast

TURNED = "Mira \u202egnal"  # RIGHT-TO-LEFT OVERRIDE: what follows is shown backwards


@pytest.mark.parametrize(
    "name",
    [
        "Wilhelmina-Séraphine O’Brannagáin",
        "Nguyễn Thị Ánh",
        "محمد",
        "می\u200cخواهم",  # ZERO WIDTH NON-JOINER, as Persian spells it
        "クリスティーナ",
        "J.",
        "Quarry Lane Barbell & Co. (1998)",
    ],
)
def test_names_of_people_pass(name: str) -> None:
    validate_name(name)


@pytest.mark.parametrize(
    "name",
    [
        "Mira\nSolheim",
        "Mira\x00",
        "Mira\x1b[31m",
        TURNED,
        "\u2066Mira\u2069",  # isolates
        "\u200bMira",  # ZERO WIDTH SPACE
        "Mi\u2028ra",  # LINE SEPARATOR
        "\ufeffMira",
        "\u00ad",
        "\u200d\u200d",
        "...",
    ],
)
def test_names_that_would_deceive_do_not(name: str) -> None:
    with pytest.raises(ValidationError):
        validate_name(name)


@given(st.text(max_size=12))
def test_whatever_passes_turns_no_text_round(name: str) -> None:
    """Unicode Standard Annex 9: the explicit directional characters."""
    try:
        validate_name(name)
    except ValidationError:
        return
    explicit = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
    assert not explicit & {unicodedata.bidirectional(c) for c in name}


def test_a_profile_keeps_the_old_name(cast: Cast, client: Client) -> None:
    client.force_login(cast.athlete)
    fields = {"name": TURNED, "unit": "kg", "timezone": "UTC"}
    page = client.post("/me/", fields)
    assert b"turn the direction" in page.content
    cast.athlete.refresh_from_db()
    assert cast.athlete.name == "Mira Solheim"


def test_no_invitation_with_such_a_name(cast: Cast, client: Client) -> None:
    client.force_login(cast.owner)
    fields = {"email": "new@example.org", "name": TURNED, "role": "athlete"}
    assert b"turn the direction" in client.post("/people/invite/", fields).content
    body = {"email": "new@example.org", "name": TURNED}
    answer = client.post("/api/v1/invitations/", body, content_type="application/json")
    assert answer.status_code == 400
    assert "turn the direction" in answer.content.decode()
    assert not Invitation.objects.exists()


def test_no_movement_and_no_fault_with_such_a_name(cast: Cast, client: Client) -> None:
    client.force_login(cast.coach)
    for path in ("/movements/add/", "/library/add/"):
        page = client.post(path, {"name": TURNED, "family": "squat"})
        assert b"turn the direction" in page.content, path


def test_no_club_with_such_a_name(db: None) -> None:
    words = ["--owner-email", "o@example.org", "--owner-name", "Ruth Calloway"]
    with pytest.raises(CommandError, match="turn the direction"):
        call_command("found_club", "--name", TURNED, *words)
    assert not Club.objects.exists()
    assert not User.objects.exists()
