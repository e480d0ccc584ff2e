"""Runs all tests from a bare Python: ``python3 tests [what pytest takes]``.

Without arguments they are shared out over the processors.
"""

import os
import sys


def main() -> int:
    """Bring what the tests need, then run pytest in the project's folder."""
    project = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))  # noqa: PTH100, PTH120
    sys.path[0] = project
    from shopdesk import bootstrap

    complaint = bootstrap.too_old(sys.version_info[:3])
    if not complaint:
        from tests import system_needs

        complaint = system_needs.bring()
    if complaint:
        sys.stderr.write(complaint + "\n")
        return 2
    os.chdir(project)
    arguments = sys.argv[1:] or ["--numprocesses", str(os.cpu_count() or 1)]
    return bootstrap.start(project, "pytest", arguments, "test")


if __name__ == "__main__":
    sys.exit(main())
