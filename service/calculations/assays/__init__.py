"""How strong a stock is, or how much alkali a soap keeps: by titration, hydrometer and balance."""
