"""The job's file: JSON or TOML, with the mesh beside it."""

from __future__ import annotations

import json
import sys
import tomllib
from pathlib import Path
from typing import Any

from ..client import Client


class BadFile(Exception):
    """A file that cannot be used, in a sentence for people."""


def read_job(name: str) -> tuple[dict[str, Any], Path]:
    """The request in a file (``-``: standard input), and the folder that its own paths start from."""
    if name == "-":
        raw, folder, kind, name = sys.stdin.buffer.read(), Path(), "", "standard input"
    else:
        path = Path(name)
        folder, kind = path.parent, path.suffix.casefold()
        try:
            raw = path.read_bytes()
        except OSError as error:
            raise BadFile(f"{name} cannot be read: {error.strerror}") from error
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise BadFile(f"{name} is not text in UTF-8 (byte {error.start})") from error
    job = _toml(name, text) if _is_toml(kind, text) else _json(name, text)
    if not isinstance(job, dict):
        raise BadFile(f"{name} must hold one object, {{...}}")
    return job, folder


def write_job(job: dict[str, Any], name: str) -> None:
    """Write a request as JSON, or as TOML where the file is called so."""
    path = Path(name)
    toml = path.suffix.casefold() == ".toml"
    text = toml_text(job) if toml else json.dumps(job, indent=1, ensure_ascii=False) + "\n"
    try:
        path.write_text(text, encoding="utf-8")
    except OSError as error:
        raise BadFile(f"{name} cannot be written: {error.strerror}") from error


def toml_text(job: dict[str, Any]) -> str:
    """A request as TOML: what is plain first, then a table for each object and for each of a list of them."""
    plain, tables = [], []
    for key, value in job.items():
        if isinstance(value, dict) and value:
            tables += ["", f"[{_toml_key(key)}]", *_toml_lines(value)]
        elif isinstance(value, list) and value and all(isinstance(item, dict) for item in value):
            for item in value:
                tables += ["", f"[[{_toml_key(key)}]]", *_toml_lines(item)]
        else:
            plain.append(f"{_toml_key(key)} = {_toml_value(value)}")
    return "\n".join([*plain, *tables]).strip("\n") + "\n"


def _toml_lines(table: dict[str, Any]) -> list[str]:
    return [f"{_toml_key(key)} = {_toml_value(value)}" for key, value in table.items()]


def _toml_key(key: str) -> str:
    bare = key.isascii() and key.replace("-", "").replace("_", "").isalnum()
    return key if bare else _toml_value(key)


def _toml_value(value: Any) -> str:
    """One value on one line. A string of TOML is one of JSON, but for the delete character."""
    if isinstance(value, dict):
        return "{" + ", ".join(_toml_lines(value)) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_toml_value, value)) + "]"
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007F")


def _is_toml(kind: str, text: str) -> bool:
    return kind == ".toml" or (kind != ".json" and not text.lstrip().startswith("{"))


def _json(name: str, text: str) -> Any:
    try:
        return json.loads(text, object_pairs_hook=_no_twins, parse_constant=_no_constant)
    except json.JSONDecodeError as error:
        raise BadFile(f"{name} is not JSON: {error.msg} in line {error.lineno}") from error
    except ValueError as error:
        raise BadFile(f"{name} is not JSON: {error}") from error
    except RecursionError as error:
        raise BadFile(f"{name} is nested too deeply") from error


def _no_twins(items: list[tuple[str, Any]]) -> dict[str, Any]:
    made = dict(items)
    if len(made) < len(items):
        names = [name for name, _ in items]
        raise ValueError(f"{max(names, key=names.count)!r} is there twice in one object")
    return made


def _no_constant(word: str) -> Any:
    raise ValueError(f"{word} is not a number")


def _toml(name: str, text: str) -> Any:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadFile(f"{name} is not TOML: {error}") from error


def upload_meshes(job: dict[str, Any], folder: Path, client: Client) -> None:
    """Where ``part.mesh`` or ``mesh`` names a file, store the file with the service and name it by its id."""
    for place, holder in (("part.mesh", job.get("part")), ("mesh", job)):
        mesh = holder.get("mesh") if isinstance(holder, dict) else None
        if not isinstance(mesh, dict) or "file" not in mesh:
            continue
        if "id" in mesh:
            raise BadFile(f"{place} has both a file and an id; leave one of them out")
        path = folder / str(mesh.pop("file"))
        try:
            content = path.read_bytes()
        except OSError as error:
            raise BadFile(f"the mesh {path} cannot be read: {error.strerror}") from error
        mesh["id"] = client.upload_mesh(content).id
