"""A stock that stands: how it cools, and what warming and holding it takes."""
