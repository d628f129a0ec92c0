"""Settings: the environment, read once into a typed, frozen object.

=========================== ==================================================== ====================
variable                    meaning                                              default
=========================== ==================================================== ====================
POURWRIGHT_MESH_DIR         folder in which uploaded meshes are kept             a folder in the
                                                                                 user's cache
POURWRIGHT_MESH_DAYS        days after its last use that a mesh may be removed   0: never
POURWRIGHT_API_KEYS         keys that may call, separated by commas              none: open to all
POURWRIGHT_ALLOWED_ORIGINS  origins whose pages may call, separated by commas    none
NUMBA_CACHE_DIR             folder in which compiled kernels are kept            beside the modules,
                                                                                 or the user's cache
=========================== ==================================================== ====================

NUMBA_CACHE_DIR is read by numba itself.
"""

import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

MEBIBYTE = 1_048_576


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """How one service runs. Sizes are in bytes."""

    mesh_dir: Path
    mesh_days: float = 0.0
    api_keys: tuple[str, ...] = field(default=(), repr=False)
    allowed_origins: tuple[str, ...] = ()
    body_limit: int = MEBIBYTE
    mesh_limit: int = 64 * MEBIBYTE


def from_environment(environment: Mapping[str, str] = os.environ) -> Settings:
    """The settings of this process; ValueError names a variable that cannot be read."""
    days = environment.get("POURWRIGHT_MESH_DAYS", "0")
    try:
        mesh_days = float(days)
    except ValueError:
        raise ValueError(f"POURWRIGHT_MESH_DAYS must be a number of days, not {days!r}") from None
    if not 0 <= mesh_days < 1e6:
        raise ValueError(f"POURWRIGHT_MESH_DAYS must be 0 or more days, not {days!r}")
    return Settings(
        mesh_dir=_mesh_dir(environment),
        mesh_days=mesh_days,
        api_keys=_listed(environment, "POURWRIGHT_API_KEYS"),
        allowed_origins=_listed(environment, "POURWRIGHT_ALLOWED_ORIGINS"),
    )


def _mesh_dir(environment: Mapping[str, str]) -> Path:
    given = environment.get("POURWRIGHT_MESH_DIR")
    if given:
        return Path(given)  # before anything asks for a home: in a container there may be none
    cache = environment.get("XDG_CACHE_HOME")
    return (Path(cache) if cache else Path.home() / ".cache") / "pourwright" / "meshes"


def _listed(environment: Mapping[str, str], name: str) -> tuple[str, ...]:
    items = (item.strip() for item in environment.get(name, "").split(","))
    return tuple(item for item in items if item)
