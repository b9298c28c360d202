"""What every calculation speaks with: quantities, requests, answers, faults, notes and cautions."""
