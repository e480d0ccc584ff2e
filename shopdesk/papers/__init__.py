"""The papers that go over the counter: claim tag, estimate, invoice, summary and reminder."""
