"""Addresses of labels and of what they open."""

from django.urls import path

from jobs.views import labels

urlpatterns = [
    path("commissions/<int:pk>/labels/", labels.labels, name="labels"),
    path("commissions/<int:pk>/labels/labels.pdf", labels.labels_pdf, name="labels_pdf"),
    path("at/<slug:code>/", labels.labelled, name="labelled"),
]
