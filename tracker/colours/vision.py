"""Colours as people see them whose eyes lack one of the three kinds of cone.

G. M. Machado, M. M. Oliveira and L. A. F. Fernandes, "A physiologically-based model for
simulation of color vision deficiency", IEEE Transactions on Visualization and Computer Graphics
15 (2009), the matrices for full severity, applied to light. The authors trust their matrix for
the third kind less than the other two; what is hard for it is still worth a warning.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal

from tracker.colours.srgb import colour_of, light_of

Vision = Literal["protan", "deutan", "tritan"]

_Row = tuple[float, float, float]
_MATRICES: Mapping[Vision, tuple[_Row, _Row, _Row]] = MappingProxyType(
    {
        "protan": (
            (0.152286, 1.052583, -0.204868),
            (0.114503, 0.786281, 0.099216),
            (-0.003882, -0.048116, 1.051998),
        ),
        "deutan": (
            (0.367322, 0.860646, -0.227968),
            (0.280085, 0.672501, 0.047413),
            (-0.011820, 0.042940, 0.968881),
        ),
        "tritan": (
            (1.255528, -0.076749, -0.178779),
            (-0.078411, 0.930809, 0.147602),
            (0.004733, 0.691367, 0.303900),
        ),
    }
)
VISIONS: tuple[Vision, ...] = tuple(_MATRICES)
"""Without the cones for long, for middle, and for short waves."""


def seen(colour: str, vision: Vision) -> str:
    """`#rrggbb` as somebody with that vision sees it, told to an eye that has all cones."""
    light = light_of(colour)
    return colour_of(
        [sum(k * amount for k, amount in zip(row, light, strict=True)) for row in _MATRICES[vision]]
    )
