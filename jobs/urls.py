"""Addresses of commissions."""

from django.urls import path

from jobs.views import commissions

urlpatterns = [
    path("", commissions.workshop, name="workshop"),
    path("commissions/", commissions.commission_list, name="commissions"),
]
