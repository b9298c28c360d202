"""How the service is run: settings, keys, limits, and what it tells of itself."""
