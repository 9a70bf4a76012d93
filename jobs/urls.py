"""Addresses of commissions."""

from django.urls import path

from jobs import (
    urls_board,
    urls_calendars,
    urls_commissioner,
    urls_hand_overs,
    urls_hours,
    urls_labels,
    urls_lifting,
    urls_looks,
    urls_models,
    urls_price,
    urls_sending,
    urls_sheets,
    urls_sign_offs,
    urls_standing,
    urls_stores,
    urls_variations,
)
from jobs.views import commissions, sections, workshop

urlpatterns = [
    path("", workshop.workshop, name="workshop"),
    path("commissions/", commissions.commission_list, name="commissions"),
    path("commissions/new/", commissions.new_commission, name="new_commission"),
    path("commissions/<int:pk>/", commissions.particulars, name="particulars"),
    path("commissions/<int:pk>/record/", commissions.commission_record, name="commission_record"),
    path("commissions/<int:pk>/form/", sections.form_sheet, name="form_sheet"),
    path("commissions/<int:pk>/form/new/", sections.new_section, name="new_section"),
    path("commissions/<int:pk>/form/try/", sections.try_section, name="try_section"),
    *urls_board.urlpatterns,
    *urls_standing.urlpatterns,
    *urls_calendars.urlpatterns,
    *urls_commissioner.urlpatterns,
    *urls_price.urlpatterns,
    *urls_variations.urlpatterns,
    *urls_models.urlpatterns,
    *urls_hours.urlpatterns,
    *urls_looks.urlpatterns,
    *urls_sheets.urlpatterns,
    *urls_labels.urlpatterns,
    *urls_sending.urlpatterns,
    *urls_lifting.urlpatterns,
    *urls_stores.urlpatterns,
    *urls_sign_offs.urlpatterns,
    *urls_hand_overs.urlpatterns,
    path("sections/<int:pk>/", sections.section_sheet, name="section_sheet"),
    path("sections/<int:pk>/change/", sections.change_section, name="change_section"),
    path("sections/<int:pk>/up/", sections.move_up, name="move_section_up"),
    path("sections/<int:pk>/remove/", sections.remove_section, name="remove_section"),
]
