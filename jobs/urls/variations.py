"""Addresses of variations, and of the statement of account."""

from django.urls import path

from jobs.views import statements, variation_drafts, variations

_LIST = "commissions/<int:pk>/variations/"
_ONE = f"{_LIST}<int:serial>/"
_ACCOUNT = "commissions/<int:pk>/statement/"

urlpatterns = [
    path(_LIST, variations.variation_list, name="variations"),
    path(f"{_LIST}new/", variation_drafts.new_variation, name="new_variation"),
    path(_ONE, variations.variation_page, name="variation"),
    path(f"{_ONE}words/", variation_drafts.variation_words, name="variation_words"),
    path(f"{_ONE}sections/", variation_drafts.variation_sections, name="variation_sections"),
    path(f"{_ONE}lines/", variation_drafts.variation_lines, name="variation_lines"),
    path(f"{_ONE}again/", variation_drafts.variation_again, name="variation_again"),
    path(f"{_ONE}issue/", variations.issue, name="issue_variation"),
    path(f"{_ONE}answer/", variations.record_answer, name="variation_answer"),
    path(f"{_ONE}link/", variations.new_link, name="new_variation_link"),
    path(f"{_ONE}variation.pdf", variations.variation_pdf, name="variation_pdf"),
    path(_ACCOUNT, statements.statement_page, name="statement"),
    path(f"{_ACCOUNT}mark/", statements.mark, name="mark_payment"),
    path(f"{_ACCOUNT}entries/<int:entry>/take-back/", statements.take_back, name="take_entry_back"),
    path(f"{_ACCOUNT}retention/", statements.retention, name="retention"),
    path(f"{_ACCOUNT}link/", statements.new_link, name="new_statement_link"),
    path(f"{_ACCOUNT}statement.pdf", statements.statement_pdf, name="statement_pdf"),
    path(f"{_ACCOUNT}statement.csv", statements.statement_csv, name="statement_csv"),
]
