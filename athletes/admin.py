"""The owner's back door: what the pages cannot do. Its sign-in goes through allauth."""

from typing import Any

from django.contrib import admin
from django.http import HttpRequest

from athletes.models import Club, Invitation, PainReport, User


@admin.register(Club)
class ClubAdmin(admin.ModelAdmin):
    list_display = ["name", "timezone", "created_at"]


@admin.register(User)
class UserAdmin(admin.ModelAdmin):
    """No password and no address to edit: both are proven by mail, on the person's own pages."""

    list_display = ["name", "email", "role", "club", "main_coach", "is_active"]
    list_filter = ["role", "is_active", "club"]
    search_fields = ["name", "email"]
    list_select_related = ["club", "main_coach"]
    autocomplete_fields = ["main_coach"]
    fields = [
        *("name", "email", "club", "role", "main_coach", "unit", "timezone"),
        *("is_active", "is_staff", "is_superuser", "joined_at", "last_login"),
    ]
    readonly_fields = ["email", "joined_at", "last_login"]

    def has_add_permission(self, request: HttpRequest) -> bool:
        return False  # people join by invitation


class ReadOnlyAdmin(admin.ModelAdmin):
    def has_add_permission(self, request: HttpRequest) -> bool:
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False


@admin.register(Invitation)
class InvitationAdmin(ReadOnlyAdmin):
    list_display = ["email", "role", "club", "invited_by", "invited_at", "state"]
    list_select_related = ["club", "invited_by"]


@admin.register(PainReport)
class PainReportAdmin(ReadOnlyAdmin):
    list_display = ["athlete", "where", "score", "reported_at"]
    list_select_related = ["athlete"]
