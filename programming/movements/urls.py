"""Addresses of the wing."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
