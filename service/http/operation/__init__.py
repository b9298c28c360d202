"""How the service is run: settings, keys, limits, log lines, counts."""
