"""The transport: addresses, content types, problems, contract and pages. Knows calculations by their registry only."""
