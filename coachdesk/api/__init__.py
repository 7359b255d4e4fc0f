"""What all of /api/v1/ shares: who asks, what a token may do, throttles, repeats, the document."""
