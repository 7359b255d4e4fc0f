"""The shorthand of a cell. What a coach may type has no standard: common practice, no source."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coachdesk.common.errors import Invalid
from coachdesk.common.units import to_kg
from programming.plans.notation import Dose, read, written
from programming.plans.resolving import BEST, FEEL, KG, RIR, RPE, TECHNICAL

halves = st.integers(2, 20).map(lambda n: Decimal(n) / 2)
hundredths = st.integers(1, 15000).map(lambda n: Decimal(n) / 100)
kilograms = st.integers(1, 100000).map(lambda n: Decimal(n) / 100)
pounds = st.integers(1, 22000).map(lambda n: Decimal(n) / 10)
targets = st.one_of(
    st.tuples(st.just(FEEL), st.none(), st.sampled_from(["kg", "lb"])),
    st.tuples(st.sampled_from([TECHNICAL, BEST]), hundredths, st.sampled_from(["kg", "lb"])),
    st.tuples(st.just(RPE), halves, st.sampled_from(["kg", "lb"])),
    st.tuples(st.just(RIR), st.integers(0, 20).map(lambda n: Decimal(n) / 2), st.just("kg")),
    st.tuples(st.just(KG), kilograms.map(lambda kg: to_kg(kg, "kg")), st.just("kg")),
    st.tuples(st.just(KG), pounds.map(lambda lb: to_kg(lb, "lb")), st.just("lb")),
)
tempos = st.one_of(
    st.just(""),
    st.lists(st.sampled_from(["0", "1", "3", "12", "x"]), min_size=2, max_size=4).map("-".join),
)


@st.composite
def doses(draw) -> Dose:
    kind, target, unit = draw(targets)
    cap = st.integers(1, 10000).map(lambda n: Decimal(n) / 100)
    return Dose(
        sets=draw(st.integers(1, 20)),
        reps=draw(st.integers(1, 100)),
        kind=kind,
        target=target,
        unit=unit,
        cap_percent=draw(st.none() | cap),
        tempo=draw(tempos),
        rest_seconds=draw(st.none() | st.integers(1, 3600)),
    )


@given(doses())
def test_what_is_written_reads_the_same(dose: Dose) -> None:
    assert read(written(dose), dose.unit) == dose


@given(st.text(max_size=40))
def test_anything_else_is_refused_in_a_sentence(text: str) -> None:
    refused = ""
    try:
        assert read(written(read(text))) == read(text)
    except Invalid as refusal:
        refused = str(refusal)
    assert refused == "" or refused.endswith(".")


@pytest.mark.parametrize(
    ("typed", "tidy"),
    [
        ("3x5 @ 82.5%", "3x5 @ 82.5%"),
        (" 3 X 5 @82,5 % ", "3x5 @ 82.5%"),
        ("3×5 140kg", "3x5 140kg"),
        ("3x5 140", "3x5 140kg"),
        ("3*3 @8", "3x3 @8"),
        ("3x3 rpe 7.5", "3x3 @7.5"),
        ("4x6 2rir", "4x6 2rir"),
        ("1x1 90% best", "1x1 @ 90% best"),
        ("3x10", "3x10"),
        ("3x10 by feel", "3x10"),
        ("5x2 rest 2:30 @ 70% tempo 3-1-X", "5x2 @ 70% tempo 3-1-x rest 2:30"),
        ("5x2 100kg, rest 3min", "5x2 100kg rest 3:00"),
        ("5x2 100kg cap 95%", "5x2 100kg cap 95%"),
        ("3x5 225lb", "3x5 225lb"),
    ],
)
def test_reads_as_it_is_typed(typed: str, tidy: str) -> None:
    assert written(read(typed)) == tidy


def test_a_bare_number_is_in_the_readers_unit() -> None:
    assert read("3x5 225", "lb") == Dose(3, 5, KG, Decimal("102.058"), "lb")


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("", "Begin with sets x reps"),
        ("five by five", "Begin with sets x reps"),
        ("0x5", "Sets go from 1 to 20"),
        ("3x101", "Reps go from 1 to 100"),
        ("3x5 heavy", "“heavy” is not clear"),
        ("3x5 @ 82.5", "write a % sign"),
        ("3x5 140kg @8", "two ways to say the target"),
        ("3x5 160%", "up to 150%"),
        ("3x5 1501kg", "at most 1500"),
        ("3x5 12rir", "from 0 to 10"),
        ("3x5 140kg cap 101%", "up to 100%"),
        ("3x5 100.125kg", "two decimals"),
    ],
)
def test_says_what_to_write_instead(typed: str, says: str) -> None:
    with pytest.raises(Invalid, match=says.replace("(", r"\(")):
        read(typed)
