"""The address of a commission's base."""

from django.urls import path

from jobs.views import bases

urlpatterns = [path("commissions/<int:pk>/base/", bases.base, name="base")]
