"""An invented club with a half-worked week, its clips drawn by code and sent the real way in."""
