"""What a program, or the conventional method, does to a portion."""
