"""Prices, hours, risk and weeks: arithmetic without a database or a clock."""
