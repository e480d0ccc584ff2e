"""Invoices and credit notes: chained, kept as printed, never changed."""
