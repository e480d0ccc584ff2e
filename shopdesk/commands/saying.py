"""What a command says: lines for a person, or JSON for another program."""

import json


def say(*lines: str) -> None:
    """Print each line at once, so that a long command shows where it is."""
    for line in lines:
        print(line, flush=True)


def say_json(value: object) -> None:
    """Print a value as JSON, letters as they are; what JSON has no form for, as it is written."""
    print(json.dumps(value, ensure_ascii=False, indent=2, default=str))
