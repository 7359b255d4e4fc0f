"""From file to playable: probe, plan, make. Pure: no models, no Django."""
