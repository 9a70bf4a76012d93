"""The arithmetic of the stores: what a lot's balance is worth, and quantities as people type them."""
