"""Writes the typed half of the SDK: its models, its methods, its table of units.

Everything comes from the declared operations, so a field added to a schema reaches the SDK by
running ``python -m pourwright_service models`` again. A schema of ``api/riser.py`` becomes a class in
``models/riser.py``, an operation a method in ``riser.py``. :func:`sdk_files` makes the texts,
:func:`write` puts them in place.
"""

from pathlib import Path

from ..api.registry import Registry
from .calls import calls
from .models import NOTE, Models, units_file


def sdk_files(registry: Registry) -> dict[str, str]:
    """Every written file of the SDK by its path in the SDK's folder."""
    models = Models()
    methods = calls(registry, models)
    return {"units.py": units_file(), **models.files(), **methods}


def written_files(folder: Path) -> set[str]:
    """The files under the SDK's folder that were written by this module, now or once."""
    found = [*folder.glob("*.py"), *folder.glob("models/*.py")]
    return {path.relative_to(folder).as_posix() for path in found if path.read_text("utf-8").startswith(NOTE)}


def write(registry: Registry, folder: Path) -> list[Path]:
    """Bring the SDK's folder up to date; the files that were changed or removed."""
    files = sdk_files(registry)
    changed = []
    for name in written_files(folder) - files.keys():
        (folder / name).unlink()
        changed.append(folder / name)
    for name, text in files.items():
        path = folder / name
        if not path.is_file() or path.read_text("utf-8") != text:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
            changed.append(path)
    return changed
