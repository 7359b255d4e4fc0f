from django.urls import path

from reviews.library.api import LibraryView

urlpatterns = [path("library/", LibraryView.as_view(), name="api-library")]
