"""Addresses of the hand-over record."""

from django.urls import path

from jobs.views import hand_overs

_OF_COMMISSION = "commissions/<int:pk>/hand-over/"

urlpatterns = [
    path(_OF_COMMISSION, hand_overs.hand_over, name="hand_over"),
    path(_OF_COMMISSION + "new/", hand_overs.new_record, name="new_record"),
    path(_OF_COMMISSION + "events/", hand_overs.new_event, name="new_event"),
    path(_OF_COMMISSION + "link/", hand_overs.new_piece_link, name="new_piece_link"),
    path("piece-notes/<int:pk>/settle/", hand_overs.settle_note, name="settle_note"),
    path("hand-overs/<int:pk>/", hand_overs.one_record, name="one_record"),
    path("hand-overs/<int:pk>/change/", hand_overs.change_record, name="change_record"),
    path("hand-overs/<int:pk>/issue/", hand_overs.issue_record, name="issue_record"),
    path("hand-overs/<int:pk>/record.pdf", hand_overs.record_pdf, name="record_pdf"),
]
