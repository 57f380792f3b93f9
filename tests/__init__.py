"""Tests, laid out like what they test; `published` checks against the outside world."""
