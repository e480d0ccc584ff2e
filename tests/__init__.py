"""The tests of shopdesk; ``python3 tests`` runs them all."""
