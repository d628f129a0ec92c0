"""Faces that stand along the draw: they rub as the pattern is drawn, and want draft.

Angles are in radians, lengths in the mesh's unit, heights from the body's lowest point along the direction.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .columns import Columns
from .mesh import SHELLS_TO, Mesh, doubled_normals
from .soundness import corner_hashes, shells

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Steep:
    """Faces with less draft than wanted: their area, its share of the surface, and how far the
    tallest of them reaches from the parting's side of it to its other end (0: there are none).

    ``place`` is the middle of the tallest, in the mesh's own axes, None where there is none.
    """

    area: float
    share: float
    tallest: float
    place: tuple[float, float, float] | None


def steep_faces(mesh: Mesh, columns: Columns, parting: float, draft: float) -> Steep:
    """Faces within the angle ``draft`` of the direction, drawn from a parting at a height.

    Triangles that hang together by corners are one face; a face that passes through the parting is drawn
    both ways, each part by itself. In a very large mesh each triangle is a face of its own.
    """
    along = columns.frame[2]
    least = math.sin(draft)
    steep, doubled, whole, start = [], [], 0.0, 0
    for normals in doubled_normals(mesh.triangles):
        size = np.sqrt((normals * normals).sum(axis=0))
        (found,) = np.nonzero((np.abs(along @ normals) < least * size) & (size > 0.0))
        steep.append(found + start)
        doubled.append(size[found])
        whole += float(size.sum())
        start += normals.shape[1]
    which = np.concatenate(steep)
    if not len(which):
        return Steep(0.0, 0.0, 0.0, None)
    triangles = mesh.triangles[which]
    area = float(np.concatenate(doubled).sum()) / 2.0
    heights = triangles @ along - columns.base
    label = np.arange(len(which))
    if len(which) <= SHELLS_TO:
        label = shells(corner_hashes(triangles))[1].astype(np.int64)
    count = int(label.max()) + 1
    low, high = np.full(count, np.inf), np.full(count, -np.inf)
    np.minimum.at(low, label, heights.min(axis=1))
    np.maximum.at(high, label, heights.max(axis=1))
    above = np.maximum(high - np.maximum(low, parting), 0.0)
    below = np.maximum(np.minimum(high, parting) - low, 0.0)
    reach = np.maximum(above, below)
    most = int(np.argmax(reach))
    own = triangles[label == most].reshape(-1, 3)
    middle = (own.min(axis=0) + own.max(axis=0)) / 2.0
    return Steep(
        area=area,
        share=2.0 * area / whole,
        tallest=float(reach[most]),
        place=(float(middle[0]), float(middle[1]), float(middle[2])),
    )
