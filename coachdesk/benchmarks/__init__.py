"""bin/bench: every figure is a ratio of two things measured side by side in the same run."""
