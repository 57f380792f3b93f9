"""Contrast and colour distance by arithmetic, as a reader with any colour vision sees them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

# Machado, Oliveira and Fernandes, IEEE Transactions on Visualization and Computer Graphics 15
# (2009) 1291, severity 1.0, on linear RGB. Mark: copy (read in the tables of the colorspacious
# library, version 1.1.2, which took them from the authors' page).
VISION = {
    "usual": np.eye(3),
    "protanopia": np.array(
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ]
    ),
    "deuteranopia": np.array(
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ]
    ),
    "tritanopia": np.array(
        [
            [1.255528, -0.076749, -0.178779],
            [-0.078411, 0.930809, 0.147602],
            [0.004733, 0.691367, 0.303900],
        ]
    ),
}

# IEC 61966-2-1 (sRGB, white D65) to CIE XYZ; mark: memory, to be confirmed.
_TO_XYZ = np.array(
    [
        [0.4124564, 0.3575761, 0.1804375],
        [0.2126729, 0.7151522, 0.0721750],
        [0.0193339, 0.1191920, 0.9503041],
    ]
)
_WHITE = _TO_XYZ.sum(axis=1)


def linear(colour: str) -> Array:
    """Linear RGB of a colour written #rrggbb.

    Source: WCAG 2.2, definition of relative luminance (from memory, to be confirmed).
    """
    channels = np.array([int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)])
    low = channels <= 0.04045
    return np.where(low, channels / 12.92, ((channels + 0.055) / 1.055) ** 2.4)


def contrast(first: str, second: str) -> float:
    """Contrast ratio of two colours, from 1 to 21.

    Source: WCAG 2.2, definition of contrast ratio (from memory, to be confirmed).
    """
    weights = np.array([0.2126, 0.7152, 0.0722])
    dark, light = sorted(float(linear(colour) @ weights) for colour in (first, second))
    return (light + 0.05) / (dark + 0.05)


def _lab(rgb: Array) -> Array:
    """CIE 1976 L*a*b*. Source: CIE 15 (from memory, to be confirmed)."""
    ratio = _TO_XYZ @ np.clip(rgb, 0, 1) / _WHITE
    f = np.where(ratio > 216 / 24389, np.cbrt(ratio), (24389 / 27 * ratio + 16) / 116)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


def distance(first: str, second: str, vision: str = "usual") -> float:
    """Colour difference ΔE*ab as seen with one kind of colour vision."""
    seen = [_lab(VISION[vision] @ linear(colour)) for colour in (first, second)]
    return float(np.linalg.norm(seen[0] - seen[1]))
