"""Addresses of signing in and of one's own account."""

from django.urls import path

from studio.accounts import views

urlpatterns = [
    path("sign-in/", views.sign_in, name="sign_in"),
    path("sign-out/", views.sign_out, name="sign_out"),
    path("account/", views.my_account, name="my_account"),
    path("account/password/", views.my_password, name="my_password"),
    path("help/", views.help_page, name="help"),
]
