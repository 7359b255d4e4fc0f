"""The shapes of JSON: what comes in, what goes out, what is frozen."""
