"""Addresses of the office."""

from django.urls import path

from studio.office import views

urlpatterns = [path("", views.office, name="office")]
