"""Addresses of the office."""

from django.urls import path

from studio.office.views import house, index, taxes

urlpatterns = [
    path("", index.office, name="office"),
    path("record/", index.office_record, name="office_record"),
    path("studio/", house.house, name="house"),
    path("studio/name-and-money/", house.house_money, name="house_money"),
    path("studio/week/", house.house_week, name="house_week"),
    path("studio/documents/", house.house_documents, name="house_documents"),
    path("studio/payments/", house.house_payments, name="house_payments"),
    path("tax/", taxes.taxes, name="taxes"),
    path("tax/new/", taxes.new_tax_category, name="new_tax_category"),
    path("tax/<int:pk>/", taxes.tax_rate, name="tax_rate"),
]
