"""The tables of the demo's TOML files: what they may say, and nothing else."""

import msgspec


class Record(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A table of the TOML files; a key that it does not know is refused."""
