"""The web side as a whole: one studio, every address, every form."""
