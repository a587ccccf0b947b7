"""How answers look in a terminal: a file for each question whose answer is more than a list of names and values."""
