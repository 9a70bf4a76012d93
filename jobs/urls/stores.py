"""Addresses where the stores meet the commissions."""

from django.urls import path

from jobs.views import batches, buying, issues, sent_out

urlpatterns = [
    path("commissions/<int:pk>/stores/", issues.commission_stores, name="commission_stores"),
    path("commissions/<int:pk>/sent-out/", sent_out.sent_out_list, name="sent_out"),
    path("commissions/<int:pk>/sent-out/new/", sent_out.new_sent_out, name="new_sent_out"),
    path("sent-out/<int:pk>/", sent_out.edit_sent_out, name="edit_sent_out"),
    path("sent-out/<int:pk>/material/", sent_out.material_with, name="material_with"),
    path("stages/<slug:code>/issue/", issues.issue_to_stage, name="issue_to_stage"),
    path("stages/<slug:code>/return/<int:lot>/", issues.return_from_stage, name="return_from_stage"),
    path("stores/stock/lots/<int:pk>/issue/", issues.issue_lot, name="issue_lot"),
    path("stores/buy/", buying.what_to_buy, name="what_to_buy"),
    path("stores/buy/what-to-buy.csv", buying.what_to_buy_csv, name="what_to_buy_csv"),
    path("stores/batches/", batches.batches, name="batches"),
    path("stores/batches/<int:pk>/", batches.batch, name="batch"),
]
