"""`python -m evenheft`: the same door as the command `evenheft`."""

from evenheft.cli import run

if __name__ == "__main__":
    run()
