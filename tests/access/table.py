"""THE ACCESS TABLE: every route of the site, for every role, on an own and a foreign object.

A route that is in no row fails `test_every_route_is_listed`. To add one:

1. Write rows into the file of its area under `rows/` (a new area: a new file, named below). A row
   is the route's name, the expected answer for each role, and what is sent. `expecting.py` has
   the roles and the usual shapes: `coached(200)` is a coach's tool on something of the club,
   `mine(302)` the athlete's alone, `shared(200)` between the two, and
   `{**mine(200), "owner": 200}` bends one.
2. If it needs an object that `world.py` does not make yet, let it make one.
3. One row for each method that means something. That a view refuses whatever comes without a CSRF
   token needs no row: `test_csrf.py` sends every unsafe method to every route.

Each row runs twice: on an object of the cast's own athlete, and on one of another club, where the
cast's people are the strangers.
"""

from tests.access.rows import (
    api,
    desk,
    door,
    intake,
    load,
    logs,
    maxes,
    people,
    programmes,
    replies,
)

TABLE = [*door.ROWS, *people.ROWS, *intake.ROWS, *desk.ROWS, *replies.ROWS, *logs.ROWS, *maxes.ROWS]
TABLE += [*programmes.ROWS, *load.ROWS]
TABLE += api.ROWS
# Django's admin: closed to all but staff, whatever the route; see test_admin.py.
ADMIN = "admin"
