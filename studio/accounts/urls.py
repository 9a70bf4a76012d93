"""Addresses of signing in one's own account, and the studio's people."""

from django.urls import path

from studio.accounts import views

urlpatterns = [
    path("sign-in/", views.sign_in, name="sign_in"),
    path("sign-out/", views.sign_out, name="sign_out"),
    path("account/", views.my_account, name="my_account"),
    path("account/password/", views.my_password, name="my_password"),
    path("office/people/", views.people, name="people"),
    path("office/people/new/", views.new_person, name="new_person"),
    path("office/people/<int:pk>/", views.person, name="person"),
    path("office/people/<int:pk>/password/", views.given_password, name="given_password"),
    path("help/", views.help_page, name="help"),
]
