"""Addresses of what the office sets for materials and work."""

from django.urls import path

from materials.views import figures, lay_ups, norms, paint_systems

urlpatterns = [
    path("lay-ups/", lay_ups.lay_ups, name="lay_ups"),
    path("lay-ups/new/<slug:use>/", lay_ups.new_lay_up, name="new_lay_up"),
    path("lay-ups/<int:pk>/", lay_ups.lay_up, name="lay_up"),
    path("paint-systems/", paint_systems.paint_systems, name="paint_systems"),
    path("paint-systems/new/", paint_systems.new_paint_system, name="new_paint_system"),
    path("paint-systems/<int:pk>/", paint_systems.paint_system, name="paint_system"),
    path("norms/", norms.norms, name="norms"),
    path("norms/<int:pk>/", norms.norm, name="norm"),
    path("figures/", figures.figures, name="figures"),
    path("figures/<int:pk>/", figures.figure, name="figure"),
    path("figures/<int:pk>/back/", figures.figure_back, name="figure_back"),
]
