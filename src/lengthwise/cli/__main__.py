"""`python -m lengthwise.cli` does what `lengthwise` does."""

from lengthwise.cli import main

if __name__ == "__main__":  # processes that this one starts read this file again
    main()
