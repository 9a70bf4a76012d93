"""Addresses of the Commissioner sheet, and of what links open."""

from django.urls import path

from jobs.views import commissioner, held_variations, piece, progress, sign_off_links, statements

# What a link opens begins so; the token is the key.
_LINK = "l/<str:token>/"

urlpatterns = [
    path("commissions/<int:pk>/commissioner/", commissioner.commissioner, name="commissioner"),
    path("commissions/<int:pk>/commissioner/progress-link/", commissioner.new_progress_link, name="new_progress_link"),
    path("commissions/<int:pk>/commissioner/progress/", progress.progress_preview, name="progress_preview"),
    path("commissions/<int:pk>/commissioner/publish/", commissioner.publish_days, name="publish_days"),
    path("links/<int:pk>/revoke/", commissioner.end_link, name="end_link"),
    path(_LINK + "piece/", piece.piece, name="piece"),
    path(_LINK + "piece/record.pdf", piece.piece_record, name="piece_record"),
    path(_LINK + "piece/photos/<int:number>.jpg", piece.piece_photo, name="piece_photo"),
    path(_LINK + "sign-off/", sign_off_links.answer_sign_off, name="answer_sign_off"),
    path(_LINK + "sign-off/sheet.pdf", sign_off_links.held_sheet, name="held_sheet"),
    path(_LINK + "sign-off/photos/<int:number>.jpg", sign_off_links.held_photo, name="held_photo"),
    path(_LINK, progress.progress, name="progress"),
    path(f"{_LINK}photos/<int:pk>/<slug:size>.jpg", progress.progress_photo, name="progress_photo"),
    path(f"{_LINK}variation/", held_variations.held_variation, name="held_variation"),
    path(f"{_LINK}variation/variation.pdf", held_variations.held_variation_pdf, name="held_variation_pdf"),
    path(f"{_LINK}statement/", statements.held_statement, name="held_statement"),
    path(f"{_LINK}statement/statement.pdf", statements.held_statement_pdf, name="held_statement_pdf"),
    path(f"{_LINK}quote.pdf", progress.progress_quote, name="progress_quote"),
]
