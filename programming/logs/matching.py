"""Which set of the log a filmed set is: it must not count twice."""

from datetime import date
from decimal import Decimal

from athletes.models import User
from programming.logs.models import LoggedSet, SetVerdict

Shape = tuple[int, Decimal | None, int]  # movement, load, reps


def match_day(*, athlete: User, day: date) -> None:
    """Link each filmed set of the day to the set of the log it must be: the only one with its
    movement, load and reps, where no other film claims that too. Three sets alike cannot be told
    apart, so they stay unlinked. Inside the caller's transaction.

    A rep that was missed stands beside the reps of the log, and on the film it is one of them.
    """
    verdicts = list(SetVerdict.objects.filter(athlete=athlete, day=day))
    if not verdicts:
        return
    filmed: dict[Shape, list[SetVerdict]] = {}
    for verdict in verdicts:
        shape: Shape = (verdict.movement_id, verdict.load_kg, verdict.reps)
        filmed.setdefault(shape, []).append(verdict)
    logged: dict[Shape, list[LoggedSet]] = {}
    for one in LoggedSet.objects.filter(session__athlete=athlete, session__day=day):
        shape = (one.movement_id, one.load_kg, one.reps + one.missed_reps)
        logged.setdefault(shape, []).append(one)
    links = {
        claims[0].pk: logged[shape][0]
        for shape, claims in filmed.items()
        if len(claims) == 1 and len(logged.get(shape, [])) == 1
    }
    wrong = [v for v in verdicts if v.logged_set_id and links.get(v.pk) != v.logged_set]
    SetVerdict.objects.filter(pk__in=[v.pk for v in wrong]).update(logged_set=None)
    for verdict in verdicts:
        found = links.get(verdict.pk)
        if found is not None and verdict.logged_set_id != found.pk:
            SetVerdict.objects.filter(pk=verdict.pk).update(logged_set=found)
