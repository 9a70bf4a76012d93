"""Addresses of calendars to subscribe to."""

from django.urls import path

from jobs.views import calendars

urlpatterns = [
    path("account/calendar/", calendars.my_calendar, name="my_calendar"),
    path("office/calendars/", calendars.calendars, name="calendars"),
    path("calendars/<int:pk>/revoke/", calendars.end_calendar, name="end_calendar"),
    path("l/<str:token>/calendar.ics", calendars.calendar_feed, name="calendar_feed"),
]
