"""Addresses of the board and of stages."""

from django.urls import path

from jobs.views import board, own_stages, stage_templates, stages

urlpatterns = [
    path("commissions/<int:pk>/board/", board.board, name="board"),
    path("commissions/<int:pk>/stages/", own_stages.own_stages, name="own_stages"),
    path("stages/<slug:code>/", stages.stage_sheet, name="stage_sheet"),
    path("stages/<slug:code>/move/", stages.move_stage, name="move_stage"),
    path("stages/<slug:code>/steps/<int:pk>/", stages.do_step, name="do_step"),
    path("stages/<slug:code>/checks/<int:pk>/", stages.look_at_check, name="look_at_check"),
    path("stages/<slug:code>/change/", own_stages.change_own_stage, name="change_stage"),
    path("stages/<slug:code>/remove/", own_stages.remove_own_stage, name="remove_stage"),
    path("office/stages/", stage_templates.stage_templates, name="stage_templates"),
    path("office/stages/new/", stage_templates.new_stage_template, name="new_stage_template"),
    path("office/stages/<int:pk>/", stage_templates.stage_template, name="stage_template"),
    path("office/stages/<int:pk>/remove/", stage_templates.remove_stage_template, name="remove_stage_template"),
]
