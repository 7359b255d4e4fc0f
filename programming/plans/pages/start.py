"""Making a programme, and the club's templates."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from athletes.models import Role, User
from athletes.permissions import coach_required, people_visible_to, signed_in
from programming.permissions import programmes_visible_to
from programming.plans.forms import StartForm
from programming.plans.models import Programme
from programming.plans.pages.grid import start_page
from programming.plans.planning import make_programme
from programming.plans.templating import make_from_template


@coach_required
@require_POST
def start(request: HttpRequest, pk: int) -> HttpResponse:
    """A programme for an athlete, from nothing or from a template."""
    user = signed_in(request)
    athlete = get_object_or_404(people_visible_to(user), pk=pk, role=Role.ATHLETE)
    form = StartForm(request.POST, by=user, athlete=athlete)
    if not form.is_valid():
        return start_page(request, athlete, form)
    made = _made(user, athlete, form)
    messages.success(request, f"{made} begins. {athlete.first_name} sees it at once.")
    return redirect("programme-grid", pk=made.pk)


def _made(user: User, athlete: User, form: StartForm) -> Programme:
    wanted = form.cleaned_data
    if template := wanted["template"]:
        return make_from_template(
            by=user,
            template=template,
            athlete=athlete,
            starts_on=wanted["starts_on"],
            name=wanted["name"],
        )
    return make_programme(
        by=user,
        athlete=athlete,
        club=athlete.club,
        name=wanted["name"],
        weeks=wanted["weeks"],
        weekdays=wanted["weekdays"],
        starts_on=wanted["starts_on"],
    )


@coach_required
@require_http_methods(["GET", "HEAD", "POST"])
def programmes(request: HttpRequest) -> HttpResponse:
    """The club's templates; POST makes an empty one."""
    user = signed_in(request)
    form = StartForm(request.POST or None, by=user, athlete=None)
    if request.method == "POST" and form.is_valid():
        wanted = form.cleaned_data
        made = make_programme(
            by=user,
            athlete=None,
            club=user.club,
            name=wanted["name"],
            weeks=wanted["weeks"],
            weekdays=wanted["weekdays"],
        )
        return redirect("programme-grid", pk=made.pk)
    templates = programmes_visible_to(user).filter(athlete=None).order_by("name")
    page = {"templates": templates.prefetch_related("sessions"), "form": form}
    status = 422 if form.errors else 200
    return render(request, "programming/plans/templates.html", page, status=status)
