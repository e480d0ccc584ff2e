"""The way in: ``python3 shopdesk`` from a bare Python, or ``python -m shopdesk`` when installed."""

import sys
from importlib.util import find_spec
from os.path import abspath, dirname


def main() -> int:
    """Run the command here when installed, else in the project's own environment."""
    if __package__ and find_spec("peewee"):
        from shopdesk import cli

        return cli.main()

    project = dirname(dirname(abspath(__file__)))  # noqa: PTH100, PTH120
    sys.path[0] = project
    from shopdesk import bootstrap

    return bootstrap.start(project, "shopdesk", sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
