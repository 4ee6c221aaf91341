"""One page a file: read input, call one service, show the result."""
