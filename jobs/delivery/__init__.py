"""What it takes to move a piece and stand it: pure, from masses and sizes to people, hoists, crates and wind."""
