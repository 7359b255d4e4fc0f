"""What hangs on the bar weighs what the clip says."""

import pytest

from coachdesk.demo.drawing.disc_sizes import SLEEVE_END, SLEEVE_START, plates_per_side


@pytest.mark.parametrize("bar", [15.0, 20.0, 25.0])
@pytest.mark.parametrize("load", [60.0, 62.5, 82.5, 100.0, 142.5, 150.0, 187.5, 230.0])
@pytest.mark.parametrize("full", [True, False])
def test_bar_and_plates_weigh_the_load(load, bar, full):
    plates = plates_per_side(load, bar, full)
    assert bar + 2 * sum(p.kg for p in plates) == pytest.approx(load)
    assert SLEEVE_START + sum(p.thickness for p in plates) < SLEEVE_END
    if full:
        assert max(p.radius for p in plates) == 0.225


def test_worked_example():
    # 25 + 2 x (25 + 15 + 2.5) = 110 kg: an old public note on powerlifting plates, second hand.
    assert [p.kg for p in plates_per_side(110, 25, False)] == [25, 15, 2.5]


def test_largest_disc_is_45_cm_and_sleeves_131_cm_apart():
    # IWF and IPF figures as reproduced by federations (second hand).
    assert 2 * plates_per_side(70, 20, False)[0].radius == pytest.approx(0.45)
    assert pytest.approx(1.31) == 2 * SLEEVE_START


@pytest.mark.parametrize("load", [61.0, 10.0, 900.0])
def test_what_cannot_be_loaded_is_said(load):
    with pytest.raises(ValueError, match="kg"):
        plates_per_side(load, 20, False)
