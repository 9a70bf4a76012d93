"""The demo studio: Saltgate Yard, its people, prices and commissions. All of it is invented."""
