"""`python -m evenheft`: the same door as the command `evenheft`."""

from evenheft.cli import main

if __name__ == "__main__":
    main()
