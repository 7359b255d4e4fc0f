"""Keys with which a program acts for one person, through the API only."""
