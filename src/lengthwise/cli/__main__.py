"""`python -m lengthwise.cli` does what `lengthwise` does."""

from lengthwise.cli import main

main()
