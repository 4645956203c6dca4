"""Positions and shapes on the ground: GeoJSON counties, distances, which county a point lies in."""
