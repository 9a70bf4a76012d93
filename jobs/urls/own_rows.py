"""Addresses of the office's own lists."""

from django.urls import path

from jobs.views import own_rows

urlpatterns = [
    path("office/ways/", own_rows.ways, name="ways"),
    path("office/slings/", own_rows.slings, name="slings"),
    path("office/labels/", own_rows.label_stocks, name="label_stocks"),
    path("office/own/<slug:kind>/new/", own_rows.new_own_row, name="new_own_row"),
    path("office/own/<slug:kind>/<int:pk>/", own_rows.own_row, name="own_row"),
    path("office/own/<slug:kind>/<int:pk>/remove/", own_rows.remove_own_row, name="remove_own_row"),
]
