"""Move to another database in one go."""

from coachdesk.safekeeping.copying import Counts, copy_all
from coachdesk.safekeeping.others import make_tables, opened, refuse_used


def move(*, url: str) -> Counts:
    """Copy every row of the configured database to the empty one at `url`; the counts.

    One transaction there; here nobody writes meanwhile (SQLite) or a snapshot is read. Raises
    Conflict, and then the target has at most empty tables.
    """
    with opened(url) as target:
        refuse_used(target)
        make_tables(url)
        return copy_all("default", target)
