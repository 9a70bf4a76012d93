"""What templates of the jobs may ask besides formatting."""
