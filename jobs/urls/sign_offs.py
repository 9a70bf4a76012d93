"""Addresses of sign-offs."""

from django.urls import path

from jobs.views import sign_offs

urlpatterns = [
    path("commissions/<int:pk>/sign-offs/", sign_offs.sign_offs, name="sign_offs"),
    path("commissions/<int:pk>/sign-offs/new/<slug:point>/", sign_offs.new_sign_off, name="new_sign_off"),
    path("sign-offs/<int:pk>/", sign_offs.sign_off, name="sign_off"),
    path("sign-offs/<int:pk>/change/", sign_offs.change_sign_off, name="change_sign_off"),
    path("sign-offs/<int:pk>/discard/", sign_offs.discard_sign_off, name="discard_sign_off"),
    path("sign-offs/<int:pk>/send/", sign_offs.send_sign_off, name="send_sign_off"),
    path("sign-offs/<int:pk>/link/", sign_offs.new_sign_off_link, name="new_sign_off_link"),
    path("sign-offs/<int:pk>/paper/", sign_offs.file_answer, name="file_answer"),
    path("sign-offs/<int:pk>/remind/", sign_offs.send_reminder, name="send_reminder"),
    path("sign-offs/<int:pk>/withdraw/", sign_offs.withdraw_sign_off, name="withdraw_sign_off"),
    path("sign-offs/<int:pk>/sheet.pdf", sign_offs.sign_off_pdf, name="sign_off_pdf"),
    path("sign-offs/<int:pk>/scan/", sign_offs.sign_off_scan, name="sign_off_scan"),
]
