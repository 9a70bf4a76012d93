"""Every address of the program."""

from django.urls import include, path

urlpatterns = [
    path("", include("jobs.urls")),
    path("stores/", include("materials.urls")),
    path("office/", include("studio.office.urls")),
    path("office/", include("materials.office_urls")),
    path("", include("studio.accounts.urls")),
    path("", include("studio.tasks.urls")),
]

handler400 = "studio.views.bad_request"
handler403 = "studio.views.refused"
handler404 = "studio.views.not_found"
handler500 = "studio.views.fault"
