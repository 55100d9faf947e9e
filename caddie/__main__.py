"""``python -m caddie`` is the command ``caddie``."""

from caddie.cli import run

if __name__ == "__main__":
    run()
