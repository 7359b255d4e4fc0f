"""Pages of the wings, and their REST under /api/v1/."""

from programming.logs import urls as logs
from programming.movements import urls as movements
from programming.plans import urls as plans

urlpatterns = [*movements.pages, *logs.pages, *plans.pages]
api = [*movements.api, *logs.api, *plans.api]
