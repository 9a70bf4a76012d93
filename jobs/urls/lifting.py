"""Addresses of slings and of the base."""

from django.urls import path

from jobs.views import bases, slings

urlpatterns = [
    path("commissions/<int:pk>/base/", bases.base, name="base"),
    path("office/slings/", slings.slings, name="slings"),
    path("office/slings/new/", slings.new_sling, name="new_sling"),
    path("office/slings/<int:pk>/", slings.sling, name="sling"),
    path("office/slings/<int:pk>/remove/", slings.sling_remove, name="remove_sling"),
]
