"""Addresses of doors, vehicles and limits of the road."""

from django.urls import path

from jobs.views import sending

urlpatterns = [
    path("office/ways/", sending.ways, name="ways"),
    path("office/ways/<slug:kind>/new/", sending.new_way, name="new_way"),
    path("office/ways/<slug:kind>/<int:pk>/", sending.way, name="way"),
    path("office/ways/<slug:kind>/<int:pk>/remove/", sending.remove_way, name="remove_way"),
]
