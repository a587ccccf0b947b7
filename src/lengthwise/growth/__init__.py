"""How much a head grows from a lift: learned from published trials, judged on trials left out."""
