"""The science: pure functions on SI numbers. Knows no HTTP, no unit text and no settings."""
