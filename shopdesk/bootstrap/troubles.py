"""Puts what went wrong while setting up into one sentence that says what to do."""

import errno
import re

NO_SPACE = (
    "The disk is full: make room (the set-up needs about 250 MB where it stands, and some in the"
    " folder for temporary files), then run it again."
)
NO_NETWORK = (
    "shopdesk could not reach the package index to fetch its packages: connect this computer to the"
    " internet (behind a proxy, set HTTPS_PROXY), then run it again."
)
_NETWORK_SIGNS = re.compile(
    r"NewConnectionError|ConnectTimeout|ReadTimeout|Failed to establish a new connection"
    r"|Temporary failure in name resolution|Name or service not known|getaddrinfo failed"
    r"|Connection refused|Connection reset|Network is unreachable|Connection aborted"
    r"|ProxyError|SSLError|CERTIFICATE_VERIFY_FAILED|RemoteDisconnected|Read timed out"
)
_MISSING_PACKAGE = re.compile(r"No matching distribution found for (.+)")


class SetupError(Exception):
    """The environment can't be had; the message says in one sentence what to do about it."""


def from_os_error(error: OSError, project: str) -> SetupError:
    """Explain a failure to read or write the project's own files."""
    where = error.filename or project
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        return SetupError(NO_SPACE)
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return SetupError(
            f"shopdesk may not write {where}, which it must to set itself up: copy the folder"
            f" {project} to a place of yours and run it there, or run it once as its owner."
        )
    return SetupError(f"shopdesk could not set itself up in {project}: {error}.")


def from_installer(output: str, project: str) -> SetupError:
    """Explain why packages could not be installed, from what the installer printed."""
    if "No space left on device" in output or "Disk quota exceeded" in output:
        return SetupError(NO_SPACE)
    if _NETWORK_SIGNS.search(output):
        return SetupError(NO_NETWORK)
    missing = _MISSING_PACKAGE.search(output)
    if missing:
        return SetupError(
            f"The package {missing[1].strip()} can't be had: check that this computer is on"
            " the internet, and whether another version of Python (3.11 or newer) finds it."
        )
    if "Permission denied" in output:
        return from_os_error(PermissionError(errno.EACCES, "", f"{project}/.venv"), project)
    return SetupError("The packages could not be installed: see what the installer says above.")
