"""Many bodies: people drawn from published distributions, what lifts ask of each, and for how many an order of lifts holds."""
