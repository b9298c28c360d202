"""Mixing a stock, with water and ice; diluting and adjusting it; and the vessels that hold it."""
