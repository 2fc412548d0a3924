"""`python -m shedtally` is the same as the command `shedtally`."""

from shedtally.cli import main

if __name__ == "__main__":
    main()
