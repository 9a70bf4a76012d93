"""Addresses of a commission's standing, and of norms from the studio's own past."""

from django.urls import path

from jobs.views import past_norms, standing

urlpatterns = [
    path("commissions/<int:pk>/standing/", standing.standing_sheet, name="standing"),
    path("office/norms/past/", past_norms.past_norms_sheet, name="past_norms"),
    path("office/norms/past/<slug:stage>/<slug:grade>/", past_norms.past_norm, name="past_norm"),
    path("office/norms/past/<slug:stage>/<slug:grade>/take/", past_norms.take_over_norm, name="take_over_norm"),
]
