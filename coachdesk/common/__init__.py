"""The ground floor: what every app may import. It imports nothing of ours."""
