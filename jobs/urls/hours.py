"""Addresses of the bench, its clocks, and hours by the week."""

from django.urls import path

from jobs.views import bench, clocks, weeks

urlpatterns = [
    path("bench/", bench.bench_page, name="bench"),
    path("bench/book/", bench.book_hours, name="book_hours"),
    path("bench/undo/", bench.undo_hours, name="undo_hours"),
    path("bench/away/", bench.away, name="bench_away"),
    path("bench/tiles.json", bench.bench_tiles, name="bench_tiles"),
    path("bench/shell/", bench.bench_shell, name="bench_shell"),
    path("bench/clock/start/", clocks.start_clock, name="start_clock"),
    path("bench/clock/stop/", clocks.stop_clock, name="stop_clock"),
    path("bench/clock/throw-away/", clocks.drop_clock, name="drop_clock"),
    path("worker.js", bench.worker, name="bench_worker"),
    path("crew/weeks/", weeks.weeks, name="weeks"),
    path("crew/weeks/hours.csv", weeks.weeks_csv, name="weeks_csv"),
    path("crew/weeks/hours.xlsx", weeks.weeks_xlsx, name="weeks_xlsx"),
    path("crew/<int:pk>/week/", weeks.person_week, name="person_week"),
    path("crew/entries/<int:pk>/take-back/", weeks.take_back_hours, name="take_back_hours"),
]
