"""A small project to start, for the tests of the set-up."""

from pathlib import Path

import pytest

from tests.setup.trial_project import TrialProject


@pytest.fixture
def project(tmp_path: Path) -> TrialProject:
    return TrialProject(tmp_path)
