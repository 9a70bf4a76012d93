"""Addresses of the stores."""

from django.urls import path

from materials.views import catalogue, gel_times, lots, price_book, price_book_files, prices, stock

urlpatterns = [
    path("", price_book.price_book, name="price_book"),
    path("price-book.csv", price_book_files.price_book_csv, name="price_book_csv"),
    path("price-book.xlsx", price_book_files.price_book_xlsx, name="price_book_xlsx"),
    path("price-book/file/", price_book_files.check_file, name="price_book_file"),
    path("price-book/file/take-in/", price_book_files.take_in, name="price_book_take_in"),
    path("items/new/", catalogue.new_item, name="new_item"),
    path("items/<int:pk>/", price_book.item_sheet, name="item"),
    path("items/<int:pk>/edit/", catalogue.edit_item, name="edit_item"),
    path("items/<int:pk>/gel-times/", gel_times.gel_times, name="gel_times"),
    path("items/<int:pk>/packs/new/", catalogue.new_pack, name="new_pack"),
    path("packs/<int:pk>/edit/", catalogue.edit_pack, name="edit_pack"),
    path("packs/<int:pk>/prices/new/", prices.new_price, name="new_price"),
    path("prices/<int:pk>/edit/", prices.edit_price, name="edit_price"),
    path("stock/", stock.stock, name="stock"),
    path("stock/items/<int:pk>/", stock.item_stock, name="item_stock"),
    path("stock/items/<int:pk>/receive/", lots.receive_lot, name="receive_lot"),
    path("stock/lots/<int:pk>/", stock.lot_sheet, name="lot"),
    path("stock/lots/<int:pk>/count/", lots.count_lot, name="count_lot"),
    path("stock/lots/<int:pk>/write-off/", lots.write_off, name="write_off"),
]
