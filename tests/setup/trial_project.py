"""A small project that starts itself as shopdesk does, for trying that without a network."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
BASE_PYTHON = sys._base_executable  # type: ignore[attr-defined]

PYPROJECT = """
[build-system]
requires = []
build-backend = "backend"
backend-path = ["."]
[project]
name = "shopdesk"
version = "1"
[project.optional-dependencies]
test = []
"""

# What both installers put in: it tells how it was started, and ends with its last argument.
PROGRAM = """
import json, os, sys
print(json.dumps({"name": os.path.basename(sys.argv[0]), "arguments": sys.argv[1:],
                  "folder": os.getcwd(), "prefix": sys.prefix, "path": sys.path}))
sys.exit(int(sys.argv[-1]) if sys.argv[-1].isdecimal() else 0)
"""

# A build backend of the project's own, so that pip needs nothing from anywhere.
BACKEND = f"""
import zipfile
PROGRAM = {PROGRAM!r}
def build_editable(folder, config_settings=None, metadata_directory=None):
    info = "shopdesk-1.dist-info/"
    with zipfile.ZipFile(folder + "/shopdesk-1-py3-none-any.whl", "w") as wheel:
        wheel.writestr("shopdesk-1.data/scripts/shopdesk", "#!python\\n" + PROGRAM)
        wheel.writestr(info + "METADATA", "Metadata-Version: 2.1\\nName: shopdesk\\nVersion: 1\\n"
                       "Provides-Extra: test\\n")
        wheel.writestr(info + "WHEEL", "Wheel-Version: 1.0\\nRoot-Is-Purelib: true\\n"
                       "Tag: py3-none-any\\n")
        wheel.writestr(info + "RECORD", "")
    return "shopdesk-1-py3-none-any.whl"
"""

# Stands for uv: notes how it was called, waits for ``gate`` if there is one, and installs.
INSTALLER = f"""#!{BASE_PYTHON}
import pathlib, sys
here = pathlib.Path(__file__).parent
with open(here / "calls", "a") as calls:
    calls.write(sys.argv[-1] + "\\n")
if (here / "gate").exists():
    open(here / "gate").read()
if (here / "broken").exists():
    sys.exit("the installer is out of order")
for name in ("shopdesk", "pytest"):
    pathlib.Path(sys.argv[sys.argv.index("--python") + 1]).with_name(name).write_text({PROGRAM!r})
"""


class TrialProject:
    """The project in ``folder``, started in ``elsewhere``, with its stand-in of uv in ``tools``."""

    def __init__(self, place: Path) -> None:
        self.folder = place / "a project"
        self.elsewhere = place / "elsewhere"
        self.tools = place / "tools"
        for folder in (self.folder, self.elsewhere, self.tools):
            folder.mkdir(parents=True)
        for name in ("shopdesk/bootstrap", "shopdesk/__init__.py", "shopdesk/__main__.py"):
            self._take(name)
        for name in ("tests/__init__.py", "tests/__main__.py", "tests/system_needs.py"):
            self._take(name)
        (self.folder / "pyproject.toml").write_text(PYPROJECT)
        (self.folder / "backend.py").write_text(BACKEND)
        uv = self.tools / "uv"
        uv.write_text(INSTALLER)
        uv.chmod(0o755)

    @property
    def venv(self) -> Path:
        """Where its environment is made."""
        return self.folder / ".venv"

    @property
    def stamp(self) -> dict[str, Any]:
        """What is noted in its environment."""
        noted: dict[str, Any] = json.loads((self.venv / "shopdesk-setup.json").read_text())
        return noted

    def calls(self) -> list[str]:
        """What the installer was asked to install, each time that it was called."""
        noted = self.tools / "calls"
        return noted.read_text().splitlines() if noted.exists() else []

    def begin(
        self, *arguments: str, package: str = "shopdesk", module: str = ""
    ) -> subprocess.Popen[str]:
        """Start it as a person does, with ``python3 FOLDER/shopdesk ARGUMENTS`` or with ``-m``."""
        what = ["-S", "-m", module] if module else [str(self.folder / package)]
        surroundings = {name: os.environ[name] for name in os.environ if name != "PYTHONPATH"}
        surroundings["PATH"] = f"{self.tools}{os.pathsep}{os.environ['PATH']}"
        return subprocess.Popen(
            [BASE_PYTHON, *what, *arguments],
            cwd=self.elsewhere,
            env=surroundings,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )

    def start(self, *arguments: str, package: str = "shopdesk", module: str = "") -> "Started":
        """Start it and wait for its end."""
        return Started(self.begin(*arguments, package=package, module=module))

    def _take(self, name: str) -> None:
        source, target = ROOT / name, self.folder / name
        target.parent.mkdir(exist_ok=True)
        if source.is_dir():
            shutil.copytree(source, target, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy(source, target)


class Started:
    """What a start that has ended printed and returned."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        self.printed, self.said = process.communicate(timeout=120)
        self.code = process.returncode

    @property
    def program(self) -> dict[str, Any]:
        """What the program that was started tells of itself."""
        assert self.printed, self.said
        told: dict[str, Any] = json.loads(self.printed)
        return told
