"""Which set of the log a filmed set is: it must not count twice."""

from datetime import date
from decimal import Decimal

from athletes.models import User
from programming.logs.models import LoggedSet, SetVerdict

Shape = tuple[int, Decimal | None, int]  # movement, load, reps


def match_day(*, athlete: User, day: date) -> None:
    """Link each filmed set of the day to the set of the log it must be: the only one with its
    movement, load and reps, where no other film claims that too. Three sets alike cannot be told
    apart by one film, so they stay unlinked; where each of them was filmed, they are linked in
    their order, or what a film shows missed would still count from the log. Inside the caller's
    transaction.

    A rep that was missed stands beside the reps of the log, and on the film it is one of them.
    """
    verdicts = list(SetVerdict.objects.filter(athlete=athlete, day=day).order_by("pk"))
    if not verdicts:
        return
    filmed: dict[Shape, list[SetVerdict]] = {}
    for verdict in verdicts:
        shape: Shape = (verdict.movement_id, verdict.load_kg, verdict.reps)
        filmed.setdefault(shape, []).append(verdict)
    logged: dict[Shape, list[LoggedSet]] = {}
    sets = LoggedSet.objects.filter(session__athlete=athlete, session__day=day)
    for one in sets.order_by("session__started_at", "position", "done_at", "pk"):
        shape = (one.movement_id, one.load_kg, one.reps + one.missed_reps)
        logged.setdefault(shape, []).append(one)
    links = {
        claim.pk: one
        for shape, claims in filmed.items()
        if len(claims) == len(logged.get(shape, []))
        for claim, one in zip(claims, logged[shape], strict=True)
    }
    wrong = [v for v in verdicts if v.logged_set_id and links.get(v.pk) != v.logged_set]
    SetVerdict.objects.filter(pk__in=[v.pk for v in wrong]).update(logged_set=None)
    for verdict in verdicts:
        found = links.get(verdict.pk)
        if found is not None and verdict.logged_set_id != found.pk:
            SetVerdict.objects.filter(pk=verdict.pk).update(logged_set=found)
