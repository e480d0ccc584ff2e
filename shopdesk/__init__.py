"""The front desk and the bench of an independent small-engine repair shop."""

__version__ = "0.1.0"
