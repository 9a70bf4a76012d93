"""Addresses of the stores."""

from django.urls import path

from materials.views import price_book

urlpatterns = [path("", price_book.price_book, name="price_book")]
