"""Addresses of the plan, what may be supposed of it, and the hours and absence of the crew."""

from django.urls import path

from jobs.views import crew, plan_what_if, plans

urlpatterns = [
    path("plan/", plans.plan_home, name="plan"),
    path("plan/ask/", plans.ask, name="ask_for_plan"),
    path("plan/what-if/", plan_what_if.plan_what_if, name="plan_what_if"),
    path("plan/week/", plans.plan_week, name="plan_week"),
    path("plan/<int:pk>/", plans.plan_sheet, name="plan_sheet"),
    path("plan/<int:pk>/keep/", plans.keep, name="keep_plan"),
    path("plan/<int:pk>/publish/", plans.publish, name="publish_plan"),
    path("plan/<int:pk>/throw-away/", plans.drop, name="drop_plan"),
    path("commissions/<int:pk>/plan/", plans.commission_plan, name="commission_plan"),
    path("commissions/<int:pk>/plan/tell/", plans.tell, name="tell_commissioner"),
    path("commissions/<int:pk>/plan/when/", plan_what_if.when_could_it_be_done, name="when_could_it_be_done"),
    path("commissions/<int:pk>/plan/programme/", plan_what_if.fill_programme, name="fill_programme"),
    path("crew/hours/", crew.crew, name="crew"),
    path("crew/hours/<int:pk>/", crew.person_hours, name="person_hours"),
    path("crew/hours/<int:pk>/away/", crew.new_absence, name="new_absence"),
    path("crew/away/<int:pk>/take-back/", crew.drop_absence, name="drop_absence"),
]
