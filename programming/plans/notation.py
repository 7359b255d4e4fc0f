"""One prescription as a coach writes it in a cell: ``3x5 @ 82.5%``. Pure.

    3x5 @ 82.5%        sets x reps at a share of the technical max
    3x5 @ 82.5% best   of the best max
    3x5 140kg          a load; 309lb; a bare number is in the reader's unit
    3x3 @8             an RPE (an @ without a % sign)
    4x6 2rir           reps in reserve
    3x10               by feel
    ... tempo 3-1-0    down, pause, up in seconds; x: as fast as it goes
    ... rest 2:30      or 90s, 3min
    ... cap 95%        never above this share of the technical max

The signs are the trade's usual ones (common practice, no source); the order after sets x reps is
free. ``written(read(text))`` is the tidy way to say the same.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal

from coachdesk.common.errors import Invalid
from coachdesk.common.units import as_typed, to_kg
from programming.limits import CAP, HEAVIEST_LOAD_KG, is_cap
from programming.plans.resolving import BEST, FEEL, KG, RIR, RPE, TECHNICAL

MOST_SETS, MOST_REPS = 20, 100
SETS_BY_REPS = r"([0-9]{1,3}) ?[x*] ?([0-9]{1,3})"
START = re.compile(rf"{SETS_BY_REPS}(?=[ @]|$)")
START_OF_WORDS = re.compile(rf"{SETS_BY_REPS}(?:[,;]|(?=[ @]|$))")
HELD = re.compile(r"([0-9]{1,3}) ?[xX*] ?([0-9]{1,3} ?s\b)")
SPACES = re.compile(r"[\s\u2009\u00a0\u202f]+")
NUMBER = r"([0-9]{1,5}(?:[.,][0-9]{1,4})?)"


@dataclass(frozen=True)
class Dose:
    """``target`` in kg, per cent, RPE or reps in reserve, as ``kind`` says; ``unit`` as typed."""

    sets: int
    reps: int
    kind: str = FEEL
    target: Decimal | None = None
    unit: str = "kg"
    cap_percent: Decimal | None = None
    tempo: str = ""
    rest_seconds: int | None = None


def read(text: str, unit: str = "kg") -> Dose:
    """What was written. Raises Invalid with the one sentence that helps to write it right."""
    dose, rest = _parts(_tidy(text).lower(), START, unit)
    if rest:
        raise _unclear(rest)
    return dose


def read_with_words(text: str, unit: str = "kg") -> tuple[Dose, str]:
    """A dose as a library says it, and the words after it: "3 x 4 at 65 to 70%, 2 s pause".

    Seconds are not reps: "4 x 15 s" is four sets of one, held for the seconds that the words say.
    What begins with a number or an @ is notation, so a slip in it is refused here too.
    """
    tidy = _tidy(text)
    if held := HELD.match(tidy):
        return _parts(f"{held[1]}x1", START, unit)[0], tidy[held.start(2) :]
    dose, rest = _parts(tidy.lower(), START_OF_WORDS, unit)
    if re.match(r"[0-9@]", rest) and not re.match(r"[0-9]+ ?s\b", rest):
        raise _unclear(rest)
    return dose, tidy[len(tidy) - len(rest) :] if rest else ""


def _tidy(text: str) -> str:
    return SPACES.sub(" ", text).strip().replace("\u00d7", "x")


def _parts(text: str, begins: re.Pattern[str], unit: str) -> tuple[Dose, str]:
    """The dose, and what is left from the first words that are none of it."""
    start = begins.match(text)
    if not start:
        raise Invalid("Begin with sets x reps, like 3x5.")
    dose = Dose(int(start[1]), int(start[2]), unit=unit)
    if not 1 <= dose.sets <= MOST_SETS:
        raise Invalid(f"Sets go from 1 to {MOST_SETS}.")
    if not 1 <= dose.reps <= MOST_REPS:
        raise Invalid(f"Reps go from 1 to {MOST_REPS}.")
    rest = text[start.end() :].strip()
    seen: set[str] = set()
    while part := _part(dose, rest):
        dose, name, rest = part
        if name in seen:
            raise Invalid(f"There are two ways to say the {name}. Keep one.")
        seen.add(name)
    return dose, rest


def _part(dose: Dose, rest: str) -> tuple[Dose, str, str] | None:
    for name, pattern, take in PARTS:
        if found := pattern.match(rest):
            return take(dose, found), name, rest[found.end() :].strip()
    return None


def _unclear(rest: str) -> Invalid:
    return Invalid(
        f"“{rest[:24]}” is not clear. A target is 140kg, @ 82.5%, @8 or 2rir; "
        "then tempo 3-1-0, rest 2:30, cap 95%."
    )


def _decimal(text: str) -> Decimal:
    return Decimal(text.replace(",", "."))


def _cap(dose: Dose, found: re.Match[str]) -> Dose:
    percent = _decimal(found[1])
    if not is_cap(percent):
        raise Invalid(CAP)
    return replace(dose, cap_percent=percent)


def _tempo(dose: Dose, found: re.Match[str]) -> Dose:
    return replace(dose, tempo=found[1])


def _rest(dose: Dose, found: re.Match[str]) -> Dose:
    minutes, clock, whole, seconds = found.groups()
    total = int(minutes) * 60 + int(clock) if clock else None
    if whole:
        total = int(_decimal(whole) * 60)
    seconds_in_all = total if total is not None else int(seconds)
    if not 1 <= seconds_in_all <= 3600:
        raise Invalid("A rest is at most an hour: rest 90s, rest 3min, rest 2:30.")
    return replace(dose, rest_seconds=seconds_in_all)


def _percent(dose: Dose, found: re.Match[str]) -> Dose:
    percent = _decimal(found[1])
    if not 0 < percent <= 150 or _places(percent) > 2:
        raise Invalid("A share of a max goes up to 150%, with two decimals at most.")
    return replace(dose, kind=BEST if found[2] == "best" else TECHNICAL, target=percent)


def _rir(dose: Dose, found: re.Match[str]) -> Dose:
    left = _decimal(found[1])
    if left > 10 or left * 2 % 1:
        raise Invalid("Reps in reserve go from 0 to 10, in halves.")
    return replace(dose, kind=RIR, target=left)


def _rpe(dose: Dose, found: re.Match[str]) -> Dose:
    effort = _decimal(found[1])
    if not 1 <= effort <= 10 or effort * 2 % 1:
        raise Invalid("RPE goes from 1 to 10, in halves. For a share write a % sign: @ 82.5%.")
    return replace(dose, kind=RPE, target=effort)


def _load(dose: Dose, found: re.Match[str]) -> Dose:
    value, unit = _decimal(found[1]), found[2] or dose.unit
    if _places(value) > (1 if unit == "lb" else 2):
        raise Invalid("A load has two decimals at most in kg, one in lb.")
    kg = to_kg(value, unit)
    if not 0 < kg <= HEAVIEST_LOAD_KG:
        raise Invalid(f"A load is above 0 and at most {HEAVIEST_LOAD_KG} kg.")
    return replace(dose, kind=KG, target=kg, unit=unit)


def _feel(dose: Dose, found: re.Match[str]) -> Dose:
    return dose


def _places(value: Decimal) -> int:
    exponent = value.normalize().as_tuple().exponent
    return -exponent if isinstance(exponent, int) and exponent < 0 else 0


CLOCK = r"([0-9]{1,2}):([0-5][0-9])"
END = r"(?=[ @,;]|$)[,;]?"
Take = Callable[[Dose, re.Match[str]], Dose]
# Tried in this order: the more telling sign first.
PARTS: list[tuple[str, re.Pattern[str], Take]] = [
    ("cap", re.compile(rf"cap(?:ped)? ?(?:at )?{NUMBER} ?%{END}"), _cap),
    ("tempo", re.compile(rf"tempo ([0-9x]{{1,2}}(?:-[0-9x]{{1,2}}){{1,3}}){END}"), _tempo),
    (
        "rest",
        re.compile(rf"rest (?:([0-9]{{1,2}}):([0-5][0-9])|{NUMBER} ?min|([0-9]{{1,4}}) ?s?){END}"),
        _rest,
    ),
    ("target", re.compile(rf"@? ?{NUMBER} ?%(?: ?(best|technical))?{END}"), _percent),
    ("target", re.compile(rf"@? ?{NUMBER} ?rir{END}"), _rir),
    ("target", re.compile(rf"(?:@ ?(?:rpe ?)?|rpe ?){NUMBER}{END}"), _rpe),
    ("target", re.compile(rf"@? ?{NUMBER} ?(kg|lb)?s?{END}"), _load),
    ("target", re.compile(rf"by feel{END}"), _feel),
]


def written(dose: Dose) -> str:
    """The tidy way to write it; ``read`` gives the same dose back."""
    parts = [f"{dose.sets}x{dose.reps}", _target(dose)]
    if dose.cap_percent is not None:
        parts.append(f"cap {_number(dose.cap_percent)}%")
    if dose.tempo:
        parts.append(f"tempo {dose.tempo}")
    if dose.rest_seconds is not None:
        parts.append(f"rest {rest_written(dose.rest_seconds)}")
    return " ".join(filter(None, parts))


def rest_written(seconds: int) -> str:
    """ "90s" up to a minute and a half, then "2:30"."""
    return f"{seconds}s" if seconds <= 90 else f"{seconds // 60}:{seconds % 60:02}"


def _target(dose: Dose) -> str:
    if dose.kind == FEEL or dose.target is None:
        return ""
    if dose.kind == KG:
        return f"{as_typed(dose.target, dose.unit)}{dose.unit}"
    number = _number(dose.target)
    return {
        TECHNICAL: f"@ {number}%",
        BEST: f"@ {number}% best",
        RPE: f"@{number}",
        RIR: f"{number}rir",
    }[dose.kind]


def _number(value: Decimal) -> str:
    return f"{value.normalize():f}"
