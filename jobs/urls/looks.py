"""Addresses of photos and snags."""

from django.urls import path

from jobs.views import photos, snags

urlpatterns = [
    path("commissions/<int:pk>/photos/", photos.photos, name="photos"),
    path("commissions/<int:pk>/snags/", snags.snags, name="snags"),
    path("photos/<int:pk>/<slug:size>.jpg", photos.photo_file, name="photo_file"),
    path("photos/<int:pk>/mark/", photos.mark_photo, name="mark_photo"),
    path("sections/<int:pk>/drawing.svg", snags.section_drawing, name="section_drawing"),
    path("sections/<int:pk>/snags/new/", snags.new_snag, name="new_snag"),
    path("snags/<int:pk>/", snags.move_snag, name="move_snag"),
]
