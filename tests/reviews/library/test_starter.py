"""The starter library: complete, consistent, and added once."""

import re

import pytest

from athletes.models import Club
from programming.movements.families import Family, phases_of
from reviews.intake.models import View
from reviews.library.keeping import retire
from reviews.library.models import Breaks, Cue, Drill, Fault, Sight
from reviews.library.starter import STARTER
from reviews.library.starting import install_starter

EVERY = [(family, fault) for family, faults in STARTER.items() for fault in faults]
LIFTS = [Family.SQUAT, Family.BENCH, Family.DEADLIFT, Family.PRESS]


# What every club should find from the first day on, by lift. Common practice, no source.
WANTED = {
    Family.SQUAT: [
        "Back position lost as load rises",
        "Overextended back",
        "Rushed setup",
        "Bar creeps down the back",
        "Short of depth",
        "Knees come in",
        "Stance against the goal",
        "Loose brace",
        "Hips rise first",
        "Heels come up",
        "Toes lift",
        "Cut high by the wraps",
    ],
    Family.BENCH: [
        "Rushed or slack setup",
        "Elbows ahead of the bar",
        "Grip too narrow",
        "Shoulder blades lost at the chest",
        "Uneven press",
        "Bounce off the chest",
        "Soft lockout",
    ],
    Family.DEADLIFT: [
        "Back position lost as load rises",
        "Slack left in the bar",
        "Hips shoot up off the floor",
        "Shoulders ahead of the bar",
        "Unfinished at the top",
        "Knees come in, sumo",
    ],
    Family.PRESS: ["Slack shelf", "Uneven press overhead", "Soft lockout overhead"],
}


def test_every_lift_has_its_faults() -> None:
    assert list(STARTER) == LIFTS
    assert len(EVERY) >= 45


@pytest.mark.parametrize("family", LIFTS)
def test_the_common_faults_are_there(family) -> None:
    assert set(WANTED[family]) <= {fault.name for fault in STARTER[family]}


@pytest.mark.parametrize(("family", "fault"), EVERY, ids=lambda item: getattr(item, "name", item))
def test_an_entry_is_whole(family, fault) -> None:
    assert fault.phase in phases_of(family)
    assert set(fault.sight) == set(View.values)
    assert set(fault.sight.values()) <= set(Sight.values)
    assert Sight.YES in fault.sight.values(), "some view must show it"
    assert fault.breaks in Breaks
    assert 1 <= len(fault.cues) <= 3
    assert 1 <= len(fault.drills) <= 2
    assert any(cue.outside for cue in fault.cues)
    assert all(fault.causes)
    assert fault.see
    assert fault.breaks_note
    assert fault.goal_note


@pytest.mark.parametrize(("family", "fault"), EVERY, ids=lambda item: getattr(item, "name", item))
def test_an_entry_fits_its_columns(family, fault) -> None:
    """SQLite does not check lengths; PostgreSQL would refuse the club."""

    def room(model, field: str) -> int:
        return model._meta.get_field(field).max_length

    assert len(fault.name) <= room(Fault, "name")
    assert all(len(cue.text) <= room(Cue, "text") for cue in fault.cues)
    assert all(len(drill.name) <= room(Drill, "name") for drill in fault.drills)
    assert all(len(drill.dose) <= room(Drill, "dose") for drill in fault.drills)


def test_names_are_unique_within_a_lift() -> None:
    names = [(family, fault.name.lower()) for family, fault in EVERY]
    assert len(set(names)) == len(names)


DRILLS = {
    (drill.name, drill.dose): family for family, fault in EVERY for drill in fault.drills
}  # fmt: skip


def test_a_drill_near_a_maximum_names_what_catches_the_bar() -> None:
    """From 90% on nobody is under a bar that nothing and nobody catches: common practice, no
    source."""
    heaviest = {one: max(map(int, re.findall(r"(\d+)%", one[1])), default=0) for one in DRILLS}
    heavy = [one for one, load in heaviest.items() if load >= 90]
    assert {name for name, _ in heavy} >= {"Walkout and hold", "Front rack hold"}
    assert max(heaviest.values()) <= 100
    unsafe = [one for one in heavy if not re.search(r"\b(spotters?|pins|safeties)\b", one[1])]
    assert unsafe == []


def test_no_drill_stands_there_twice_in_another_spelling() -> None:
    """One drill may have a dose of its own for each fault, but one name."""
    spellings: dict[tuple[Family, str], set[str]] = {}
    for (name, _), family in DRILLS.items():
        plain = re.sub(r"[^a-z0-9]|\bwith\b|,", "", name.lower())
        spellings.setdefault((family, plain), set()).add(name)
    assert [names for names in spellings.values() if len(names) > 1] == []


def test_the_forearms_lean_as_the_hands_stand() -> None:
    """Hands nearer together than the elbows: from elbow to hand the forearm leans inwards."""
    see = {fault.name: fault.see for _, fault in EVERY}
    assert "lean inwards from elbow to hand" in see["Grip too narrow"]
    assert "hands are nearer together" in see["Grip too narrow"]
    assert "lean outwards from elbow to hand" in see["Grip too wide"]
    assert "are wider than the elbows" in see["Grip too wide"]


def test_depth_is_judged_from_the_side_only() -> None:
    """IPF Technical Rulebook, squat: the top surface of the legs at the hip joint lower than the
    top of the knees, which only a lens beside the lifter shows."""
    depth = next(fault for _, fault in EVERY if fault.name == "Short of depth")
    assert depth.breaks == Breaks.YES
    assert depth.sight["side"] == Sight.YES
    assert depth.sight["front"] == depth.sight["rear"] == Sight.NO


def test_a_new_club_begins_with_it(club) -> None:
    assert Fault.objects.filter(club=club).count() == len(EVERY)
    fault = Fault.objects.get(club=club, name="Hips rise first")
    starter = next(fault for _, fault in EVERY if fault.name == "Hips rise first")
    assert [cue.text for cue in fault.cues.all()] == [cue.text for cue in starter.cues]
    assert fault.cause_list == starter.causes
    assert {drill.dose for drill in fault.drills.all()} == {d.dose for d in starter.drills}


def test_a_wording_is_one_row_for_all_its_faults(club) -> None:
    texts = list(Cue.objects.filter(club=club).values_list("text", flat=True))
    assert len(set(texts)) == len(texts)
    drills = list(Drill.objects.filter(club=club).values_list("name", "dose"))
    assert len(set(drills)) == len(drills)
    assert Drill.objects.get(club=club, name="Pause squat").faults.count() > 1


def test_installing_again_adds_only_what_lacks(club) -> None:
    kept = Fault.objects.get(club=club, name="Knees come in")
    kept.see = "As we say it."
    kept.save()
    retire(entry=Fault.objects.get(club=club, name="Loose brace"))
    Fault.objects.get(club=club, name="Short of depth").delete()
    cues = Cue.objects.filter(club=club).count()
    assert install_starter(club) == 1
    assert install_starter(club) == 0
    kept.refresh_from_db()
    assert kept.see == "As we say it."
    assert Fault.objects.get(club=club, name="Loose brace").retired_at is not None
    assert Fault.objects.get(club=club, name="Short of depth").cues.count() == 3
    assert Cue.objects.filter(club=club).count() == cues


def test_clubs_share_nothing(club) -> None:
    other = Club.objects.create(name="Harbour Strength")
    assert not Cue.objects.filter(club=other, faults__club=club).exists()
    assert not Drill.objects.filter(club=other, faults__club=club).exists()
