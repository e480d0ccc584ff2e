"""The demo: an invented shop with its records, and one ticket taken through the whole job."""
