"""What all of /api/v1/ shares: what a token may do, the document."""
