"""What `make bench` prints: ratios and peaks on this machine, never a pass or a fail."""

from __future__ import annotations

import importlib
import pkgutil
import sys

import tests.bench


def main() -> None:
    """Runs every benchmark of this folder, or those named on the command line."""
    for found in pkgutil.iter_modules(tests.bench.__path__):
        wanted = not sys.argv[1:] or found.name in sys.argv[1:]
        module = importlib.import_module(f"tests.bench.{found.name}")
        if wanted and hasattr(module, "run"):
            print(f"\n{found.name.replace('_', ' ')}\n", flush=True)
            module.run()


if __name__ == "__main__":
    main()
