"""The entries of the catalogue, as they are listed and searched."""
