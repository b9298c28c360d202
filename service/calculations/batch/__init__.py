"""What a batch needs and gets: alkali for its fats, the split of its liquids, its superfat, its temperature."""
