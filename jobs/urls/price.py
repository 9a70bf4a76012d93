"""Addresses of a commission's price and its quotes."""

from django.urls import path

from jobs.views import extras, price, quotes, what_if

_PRICE = "commissions/<int:pk>/price/"

urlpatterns = [
    path(_PRICE, price.price_sheet, name="price"),
    path(f"{_PRICE}terms/", price.quote_terms, name="quote_terms"),
    path(f"{_PRICE}extras/", extras.extra_list, name="extras"),
    path(f"{_PRICE}extras/<int:extra>/remove/", extras.remove, name="remove_extra"),
    path(f"{_PRICE}try/", what_if.what_if, name="what_if"),
    path(f"{_PRICE}try/keep/", what_if.keep, name="keep_change"),
    path(f"{_PRICE}issue/", quotes.issue_quote, name="issue_quote"),
    path(f"{_PRICE}<int:version>/", quotes.quote_sheet, name="quote"),
    path(f"{_PRICE}<int:version>/quote.pdf", quotes.quote_pdf, name="quote_pdf"),
    path(f"{_PRICE}<int:version>/take-off.pdf", quotes.take_off_pdf, name="quote_take_off"),
    path(f"{_PRICE}<int:version>/lines.csv", quotes.lines_csv, name="quote_csv"),
    path(f"{_PRICE}<int:version>/answer/", quotes.record_answer, name="quote_answer"),
]
