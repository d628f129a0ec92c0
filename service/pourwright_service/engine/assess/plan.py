"""Checks of a plan as a whole: that its parts agree with one another."""

from ..checks import Check, check_kind
from ..geometry.mesh import MeshReport
from ..ledger import Say

SECTIONS_MATCH = check_kind(
    "sections-match-mesh",
    "The sections add up to the mesh's volume",
    kind="fraction",
    sense="at most",
    source="COMMON-PRACTICE",
    else_="warn",
)
MESH_SOUND = check_kind(
    "mesh-sound",
    "The mesh is a closed body",
    kind="count",
    sense="at most",
    source="DERIVED",
)
MASSES = check_kind(
    "metal-balance",
    "Melt, pour and pig add up",
    kind="mass",
    sense="at most",
    source="DERIVED",
)
YIELD = check_kind(
    "casting-yield",
    "Enough of the metal poured becomes casting",
    kind="fraction",
    sense="at least",
    source="COMMON-PRACTICE",
    else_="warn",
)

NO_RISER = check_kind(
    "riser-wanted",
    "The metal that freezing takes away is made up by a riser",
    kind="volume",
    sense="at most",
    source="COMMON-PRACTICE",
    else_="warn",
)

SETTLES = check_kind(
    "gating-settles",
    "The gating does not swallow the metal that it is meant to deliver",
    kind="ratio",
    sense="at most",
    source="COMMON-PRACTICE",
)

MATCH = 0.10
"""Share of the volume by which sections may differ from the mesh (common practice)."""

MOST_GATING = 20.0
"""Metal in the gating over metal in casting and riser: beyond it no gating settles."""

LEAST_YIELD = 0.30
"""Below this share of casting in the metal poured, another design is worth a thought."""


def check_sections_match(sections: float, mesh: float) -> Check:
    """Judge the sections' volume (m^3) against the mesh's."""
    off = abs(sections - mesh) / mesh
    parts: dict[str, tuple[float, str] | str] = {
        "s": (sections, "volume"),
        "m": (mesh, "volume"),
        "o": (off, "fraction"),
    }
    return SECTIONS_MATCH.judge(
        off,
        MATCH,
        subject="/part/sections",
        ok=Say("The sections describe the mesh well ({s} against {m}).", **parts),
        bad=Say(
            "The sections do not add up to the mesh: {s} against {m}, {o} off. Masses follow the mesh, "
            "freezing times the sections'; look for a section that is missing, twice or in the wrong unit.",
            **parts,
        ),
    )


def check_mesh_sound(report: MeshReport) -> Check:
    """Judge whether the mesh is one closed skin: its volume is not to be trusted otherwise."""
    edges = float(report.open_edges + report.flipped_edges)
    twice = max(report.doubled - report.degenerate, 0)
    wrong = edges + float(twice)
    parts: dict[str, tuple[float, str] | str] = {"o": (edges, "count"), "t": (float(twice), "count")}
    if not edges:
        bad = Say(
            "{t} triangles of the mesh lie in the very place of others: a body is in it twice, and its "
            "volume is counted twice. Take the copy out in the program that made it.",
            **parts,
        )
    else:
        bad = Say(
            "The mesh has holes or faces turned inside out ({o} edges): its volume is not to be trusted. "
            "Repair it in the program that made it.",
            **parts,
        )
    return MESH_SOUND.judge(
        wrong,
        0.0,
        subject="/part/mesh",
        ok=Say("The mesh is a closed body."),
        bad=bad,
    )


def check_no_riser(lacking: float, shrinkage: float, last: str) -> Check:
    """Judge a casting without a riser: the metal (m^3) that it lacks when it is solid."""
    parts: dict[str, tuple[float, str] | str] = {
        "v": (lacking, "volume"),
        "b": (shrinkage, "fraction"),
        "last": last,
    }
    return NO_RISER.judge(
        lacking,
        0.0,
        subject="/riser/position",
        ok=Say("No riser is needed: this metal does not shrink as it freezes."),
        bad=Say(
            "No riser, as you wish: the metal shrinks {b}, so {v} of it is missing when all is solid. Expect "
            "{last} to be porous or to sink in by as much, unless the gates stay open to feed it.",
            **parts,
        ),
    )


def check_settles(gating: float, own: float, time: float | None) -> Check:
    """Judge a gating that had to grow and grow: its metal against that of casting and riser (m^3)."""
    share = gating / own
    return SETTLES.judge(
        share,
        MOST_GATING,
        subject="/pour/pour_time",
        ok=Say("The gating holds {s} times the metal of casting and riser.", s=(share, "ratio")),
        bad=Say(
            "No gating does it: to fill casting and gating in {t}, sprue and runner would have to hold many "
            "times the casting's metal, which then has to be poured in the same time. Give it more time "
            "(pour.pour_time), a lower sprue, a shorter runner, or a mould that chills less.",
            t=(time or 0.0, "time"),
        ),
    )


def check_masses(difference: float, melt: float) -> Check:
    """Judge the metal balance of the plan; both in kg."""
    return MASSES.judge(
        abs(difference),
        1e-9 * melt,
        subject="",
        ok=Say("Metal in and metal out add up."),
        bad=Say("Metal in and metal out differ by {d}.", d=(difference, "mass")),
    )


def check_yield(share: float) -> Check:
    """Judge the share of the poured metal that becomes casting."""
    return YIELD.judge(
        share,
        LEAST_YIELD,
        subject="",
        ok=Say("{y} of the metal poured becomes casting.", y=(share, "fraction")),
        bad=Say(
            "Only {y} of the metal poured becomes casting: a sleeve, a lower riser or two parts on one sprue "
            "would save metal.",
            y=(share, "fraction"),
        ),
    )
