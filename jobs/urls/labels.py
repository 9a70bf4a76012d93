"""Addresses of labels and of what they open."""

from django.urls import path

from jobs.views import label_stocks, labels

urlpatterns = [
    path("commissions/<int:pk>/labels/", labels.labels, name="labels"),
    path("commissions/<int:pk>/labels/labels.pdf", labels.labels_pdf, name="labels_pdf"),
    path("at/<slug:code>/", labels.labelled, name="labelled"),
    path("office/labels/", label_stocks.label_stocks, name="label_stocks"),
    path("office/labels/new/", label_stocks.new_label_stock, name="new_label_stock"),
    path("office/labels/<int:pk>/", label_stocks.label_stock, name="label_stock"),
    path("office/labels/<int:pk>/remove/", label_stocks.remove_label_stock, name="remove_label_stock"),
]
