"""Each limit stands once: the programme, the log, the correction and the clip know the same."""

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError as FieldError
from rest_framework.exceptions import ValidationError

from coachdesk.common.errors import Invalid
from programming.limits import HEAVIEST_LOAD_KG, load_in_kg
from programming.load.effort import effort_label, rpe_of
from programming.plans.notation import read
from reviews.intake.serializers import Load
from reviews.replies.forms import CapPart
from reviews.replies.schemas.correction import CorrectionRequestSchema


def test_the_heaviest_load_is_the_same_in_the_log_a_cell_and_a_clip() -> None:
    assert load_in_kg(HEAVIEST_LOAD_KG, "kg") == HEAVIEST_LOAD_KG
    assert read(f"3x1 {HEAVIEST_LOAD_KG}kg").target == HEAVIEST_LOAD_KG
    clip = {"value": str(HEAVIEST_LOAD_KG), "unit": "kg"}
    assert Load().run_validation(clip)["kg"] == HEAVIEST_LOAD_KG
    too_much = HEAVIEST_LOAD_KG + 1
    with pytest.raises(Invalid):
        load_in_kg(too_much, "kg")
    with pytest.raises(Invalid):
        read(f"3x1 {too_much}kg")
    with pytest.raises(ValidationError):
        Load().run_validation({"value": str(too_much), "unit": "kg"})


@pytest.mark.parametrize(
    ("percent", "fits"), [("92.5", True), ("100", True), ("92.555", False), ("0", False)]
)
def test_a_cap_is_the_same_on_the_page_in_the_api_and_in_a_cell(percent: str, fits: bool) -> None:
    page, body = CapPart.base_fields["percent"], CorrectionRequestSchema().fields["percent"]
    assert _passes(lambda: page.clean(percent)) is fits
    assert _passes(lambda: body.run_validation(percent)) is fits
    assert _passes(lambda: read(f"3x5 cap {percent}%")) is fits


def _passes(check) -> bool:
    try:
        check()
    except (Invalid, FieldError, ValidationError):
        return False
    return True


@pytest.mark.parametrize(
    ("rpe", "reserve", "label", "number"),
    [
        ("8.5", None, "RPE 8.5", "8.5"),
        (None, 0, "0 in reserve", "10"),
        (None, 7, "7 in reserve", "3"),
        (None, 10, "10 in reserve", "1"),
        (None, None, "", None),
    ],
)
def test_an_effort_reads_as_it_was_given(rpe, reserve, label: str, number) -> None:
    given = rpe and Decimal(rpe), reserve
    assert effort_label(*given) == label
    assert rpe_of(*given) == (number and Decimal(number))
