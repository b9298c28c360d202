"""What a stock is: its strength in every form, its properties, its age, and when it is not for use."""
