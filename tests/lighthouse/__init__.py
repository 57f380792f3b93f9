"""Lighthouse over the built site: `make lighthouse`."""
