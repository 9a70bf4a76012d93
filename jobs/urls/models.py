"""Addresses of models."""

from django.urls import path, re_path

from jobs.views import models, planes

urlpatterns = [
    path("commissions/<int:pk>/form/model/", models.new_model, name="new_model"),
    path("models/<int:pk>/", models.model_sheet, name="model_sheet"),
    path("models/<int:pk>/stand/", models.stand_model, name="stand_model"),
    path("models/<int:pk>/again/", models.measure_again, name="measure_again"),
    path("models/<int:pk>/remove/", models.remove_model, name="remove_model"),
    path("models/<int:pk>/view/", models.model_view, name="model_view"),
    path("models/<int:pk>/original/", models.model_original, name="model_original"),
    re_path(r"^models/(?P<pk>[0-9]{1,9})/planes/(?P<kind>axis|points|normal)/$", planes.add_plane, name="add_plane"),
    path("models/<int:pk>/planes/find/", planes.find_planes, name="find_planes"),
    re_path(
        r"^models/(?P<pk>[0-9]{1,9})/planes/take/(?P<which>mirror|found)/$", planes.take_planes, name="take_planes"
    ),
    path("planes/<int:pk>/remove/", planes.remove_plane, name="remove_plane"),
    path("models/<int:pk>/use/", planes.use_model, name="use_model"),
]
