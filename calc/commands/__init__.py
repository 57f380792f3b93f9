"""The commands of `python -m calc`, a module a verb: each adds its words and runs them."""
