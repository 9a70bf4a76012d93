"""Addresses of background work."""

from django.urls import path

from studio.tasks import views

urlpatterns = [
    path("work/<int:pk>/", views.work, name="work"),
    path("work/<int:pk>/stop/", views.stop_work, name="stop_work"),
]
