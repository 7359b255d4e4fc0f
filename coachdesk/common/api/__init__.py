"""What every endpoint is made of, whatever it is about."""
