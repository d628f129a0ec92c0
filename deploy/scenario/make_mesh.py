"""Makes the meshes of the demonstration: invented parts, drawn in millimetres, written as STL.

    python deploy/scenario/make_mesh.py

needs the general-purpose Boolean library manifold3d and the service's own packages (both are in
the extra ``dev``). The files lie beside this script and are shipped, so nobody has to run it; it
also writes ``meshes.json``, the figures of the polyhedra as they are shipped.

INVENTED: no such yard and no such parts exist.

- ``fairlead.stl``: a bow fairlead for a wooden launch. Foot 180 x 70 x 12; two upright round horns
  at x = +/-42, 26 mm at the foot and 22 mm where the hemispherical ends begin, the tops at z = 72;
  a saddle 60 x 40 x 24 on the foot with a half-round throat of radius 14 across the foot, axis at
  z = 36. The underside of the foot is z = 0.
- ``fairlead_pocket.stl``: the same with a cored pocket 40 x 20 x 16 in the underside.
- ``pulley_cheek.stl``: a cheek of 130 mm, 9 thick, with a hub (bore 24, cored through) and two
  bosses; for aluminium 356.

What is exact and what is not: circles are polygons inscribed in the true ones (72 sides; 0.13 %
less area). Fillets of 4 mm between horns and foot, hub or bosses and disc, and all round the
saddle are those of a rolling ball, in steps of 15 degrees. The throat's edges are rounded 4 mm
along its rim and at both ends; where these roundings meet, and where a horn's fillet runs into
the saddle, they end in a crease. Where horn and saddle touch there is no fillet between them. The
outer edges of foot and saddle are left sharp.
"""

import json
import math
from pathlib import Path

import numpy as np
from manifold3d import CrossSection, Manifold
from numpy.typing import NDArray

from pourwright_service.engine.geometry.mesh import read_stl

HERE = Path(__file__).parent
SEGMENTS = 72
FILLET = 4.0

Point = tuple[float, float]


def arc(centre: Point, radius: float, start: float, end: float, steps: int) -> list[Point]:
    """Points on an arc, ends included; angles in degrees."""
    angles = np.radians(np.linspace(start, end, steps + 1))
    return [(centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in angles]


def turned(profile: list[Point], x: float = 0.0, y: float = 0.0) -> Manifold:
    """A body turned about a vertical axis at x, y from its profile (radius, height)."""
    return CrossSection([profile]).revolve(SEGMENTS).translate((x, y, 0.0))


def block(length: float, width: float, low: float, high: float) -> Manifold:
    """A block standing on the middle of the plan."""
    return Manifold.cube((length, width, high - low)).translate((-length / 2.0, -width / 2.0, low))


def rooted(radius: float, slope: float, level: float) -> list[Point]:
    """The outline from inside the foot up the rolling-ball fillet to a wall that leans inwards by
    ``slope`` (radius lost per height), whose radius is ``radius`` where it would meet ``level``."""
    lean = math.hypot(1.0, slope)
    middle = radius - slope * FILLET + FILLET * lean
    wall = 180.0 + math.degrees(math.atan(slope))
    bend = arc((middle, level + FILLET), FILLET, 270.0, wall, 6)
    return [(0.0, level / 2.0), (middle, level / 2.0), *bend]


def horn(x: float) -> Manifold:
    """An upright horn with its fillet, rooted in the foot."""
    outline = rooted(13.0, 2.0 / 49.0, 12.0) + arc((0.0, 61.0), 11.0, 0.0, 90.0, 12)
    return turned(outline, x)


def saddle() -> Manifold:
    """The block on the foot, with the fillet all round it."""
    wedge = [(0.0, 6.0), (FILLET, 6.0), *arc((FILLET, 12.0 + FILLET), FILLET, 270.0, 180.0, 6)]
    body = block(60.0, 40.0, 6.0, 36.0)
    for x in (-30.0, 30.0):
        for y in (-20.0, 20.0):
            body += turned(wedge, x, y)
    # Extruded along its own z, then laid down: the profile's second coordinate becomes height.
    strip = CrossSection([wedge])
    for turn, length, reach in ((0.0, 40.0, 30.0), (90.0, 60.0, 20.0)):
        side = strip.extrude(length).rotate((90.0, 0.0, 0.0)).translate((reach, length / 2.0, 0.0))
        body += side.rotate((0.0, 0.0, turn))
        body += side.rotate((0.0, 0.0, turn + 180.0))
    return body


def throat() -> Manifold:
    """What is cut out for the rope: a round channel, flared at both ends, with a rounded rim."""
    radius, end = 14.0, 20.0
    flare = arc((radius + FILLET, end - FILLET), FILLET, 180.0, 90.0, 6)
    half = [*flare, (radius + FILLET, end + 1.0)]
    profile = [(r, -y) for r, y in reversed(half)] + half
    profile = [(0.0, -end - 1.0), *profile, (0.0, end + 1.0)]
    channel = turned(profile).rotate((90.0, 0.0, 0.0)).translate((0.0, 0.0, 36.0))
    across = math.sqrt((radius + FILLET) ** 2 - FILLET**2)
    touch = 180.0 - math.degrees(math.asin(FILLET / (radius + FILLET)))
    rim = arc((across, 36.0 - FILLET), FILLET, touch, 90.0, 6)
    outline = [(0.0, rim[0][1]), *rim, (across, 37.0), (0.0, 37.0)]
    right = CrossSection([outline]).extrude(2.0 * end + 2.0).rotate((90.0, 0.0, 0.0))
    right = right.translate((0.0, end + 1.0, 0.0))
    return channel + right + right.mirror((1.0, 0.0, 0.0))


def fairlead() -> Manifold:
    """The bow fairlead."""
    return block(180.0, 70.0, 0.0, 12.0) + horn(-42.0) + horn(42.0) + (saddle() - throat())


def fairlead_pocket() -> Manifold:
    """The bow fairlead, lightened by a cored pocket in the underside."""
    return fairlead() - block(40.0, 20.0, -1.0, 16.0)


def pulley_cheek() -> Manifold:
    """A pulley cheek with a cored hub bore."""
    disc = turned([(0.0, 0.0), (65.0, 0.0), (65.0, 9.0), (0.0, 9.0)])
    hub = turned([*rooted(24.0, 1.0 / 25.0, 9.0), (23.0, 34.0), (0.0, 34.0)])
    body = disc + hub
    for x in (-48.0, 48.0):
        body += turned([*rooted(10.0, 1.0 / 25.0, 9.0), (9.6, 19.0), (0.0, 19.0)], x)
    return body - turned([(0.0, -1.0), (12.0, -1.0), (12.0, 35.0), (0.0, 35.0)])


def stl_bytes(triangles: NDArray[np.float32]) -> bytes:
    """A binary STL file of triangles (n, 3, 3)."""
    record = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])
    records = np.zeros(len(triangles), dtype=record)
    wide = triangles.astype(np.float64)
    normals = np.cross(wide[:, 1] - wide[:, 0], wide[:, 2] - wide[:, 0])
    records["normal"] = normals / np.linalg.norm(normals, axis=1, keepdims=True)
    records["corners"] = triangles
    header = b"invented part of a demonstration, millimetres".ljust(80)
    return header + len(triangles).to_bytes(4, "little") + records.tobytes()


def written(name: str, body: Manifold) -> dict[str, object]:
    """Write one part and say what the file holds: mm, mm^2, mm^3 of the shipped polyhedron."""
    # Edges shorter than 5 micrometres are slivers of the Boolean library, not of the part.
    mesh = body.simplify(0.005).to_mesh()
    triangles = np.asarray(mesh.vert_properties, dtype=np.float32)[:, :3][np.asarray(mesh.tri_verts)]
    data = stl_bytes(triangles)
    (HERE / name).write_bytes(data)
    report = read_stl(data).report()
    if not report.watertight or report.shells != 1:
        raise SystemExit(f"{name} is not one watertight body: {report}")
    return {
        "invented": True,
        "length_unit": "mm",
        "triangles": report.triangles,
        "volume": report.volume,
        "area": report.area,
        "low": report.low,
        "high": report.high,
    }


def main() -> None:
    parts = {
        "fairlead.stl": fairlead(),
        "fairlead_pocket.stl": fairlead_pocket(),
        "pulley_cheek.stl": pulley_cheek(),
    }
    figures = {name: written(name, body) for name, body in parts.items()}
    for name, figure in figures.items():
        print(f"{name}: {figure}")
    (HERE / "meshes.json").write_text(json.dumps(figures, indent=2) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
