"""Addresses of workshop sheets."""

from django.urls import path

from jobs.views import sheets

_SHEETS = "commissions/<int:pk>/sheets/"

urlpatterns = [
    path(_SHEETS, sheets.sheet_list, name="sheets"),
    path(f"{_SHEETS}job-pack.pdf", sheets.job_pack, name="job_pack"),
    path(f"{_SHEETS}job-pack/", sheets.print_job_pack, name="print_job_pack"),
    path(f"{_SHEETS}<slug:kind>/", sheets.sheet, name="sheet"),
    path(f"{_SHEETS}<slug:kind>/keep/", sheets.keep_sheet, name="keep_sheet"),
    path(f"{_SHEETS}<slug:kind>.pdf", sheets.sheet_pdf, name="sheet_pdf"),
]
