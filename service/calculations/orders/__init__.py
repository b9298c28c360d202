"""From an order to the bench: recipes scaled to batches, what is weighed, what it costs, and its label."""
