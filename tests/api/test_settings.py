"""Settings come from the environment, typed."""

from pathlib import Path

import pytest

from pourwright_service.settings import from_environment


def test_nothing_set_is_an_open_service_of_this_user(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    settings = from_environment({})
    assert settings.mesh_dir == tmp_path / ".cache" / "pourwright" / "meshes"
    moved = from_environment({"XDG_CACHE_HOME": "/var/cache/me"})
    assert moved.mesh_dir == Path("/var/cache/me/pourwright/meshes")
    assert settings.api_keys == settings.allowed_origins == ()
    assert (settings.body_limit, settings.mesh_limit) == (2**20, 64 * 2**20)


def test_everything_set() -> None:
    settings = from_environment(
        {
            "POURWRIGHT_MESH_DIR": "/srv/meshes",
            "POURWRIGHT_MESH_DAYS": "30",
            "POURWRIGHT_API_KEYS": " one, two ,,",
            "POURWRIGHT_ALLOWED_ORIGINS": "https://a.example,https://b.example",
        }
    )
    assert settings.mesh_dir == Path("/srv/meshes")
    assert settings.mesh_days == 30.0
    assert settings.api_keys == ("one", "two")
    assert settings.allowed_origins == ("https://a.example", "https://b.example")
    assert "one" not in repr(settings), "keys are not to end up in a log"


def test_a_named_folder_needs_no_home(monkeypatch: pytest.MonkeyPatch) -> None:
    def homeless() -> Path:
        raise RuntimeError("no home")

    monkeypatch.setattr(Path, "home", homeless)
    assert from_environment({"POURWRIGHT_MESH_DIR": "/srv/meshes"}).mesh_dir == Path("/srv/meshes")


@pytest.mark.parametrize("days", ["soon", "-1", "nan", "1e9"])
def test_a_senseless_value_is_named(days: str) -> None:
    with pytest.raises(ValueError, match="POURWRIGHT_MESH_DAYS"):
        from_environment({"POURWRIGHT_MESH_DAYS": days})
