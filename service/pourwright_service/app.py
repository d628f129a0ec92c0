"""The application factory."""

from flask import Flask

from .api import (
    allowances,
    alloys,
    calibration,
    catalogue,
    charge,
    charge_makes,
    charge_melts,
    cooling_curve,
    docs,
    doubtful,
    draw,
    freeze_maps,
    freezing,
    gating,
    health,
    limits,
    melt,
    meshes,
    pattern,
    plan,
    pour_time,
    practice,
    reference,
    riser,
    sand,
    serving,
)
from .api.registry import REGISTRY, Registry
from .settings import Settings, from_environment

SUBJECTS = (
    plan,
    freeze_maps,
    freezing,
    riser,
    gating,
    pour_time,
    charge,
    draw,
    charge_makes,
    charge_melts,
    melt,
    sand,
    pattern,
    calibration,
    cooling_curve,
    meshes,
    alloys,
    catalogue,
    limits,
    allowances,
    practice,
    reference,
    doubtful,
    docs,
    health,
)
"""The modules whose operations are served; importing a module declares them."""


def create_app(settings: Settings | None = None, registry: Registry = REGISTRY) -> Flask:
    """The service as a WSGI application; settings come from the environment if not given."""
    app = Flask("pourwright_service", static_folder=None)
    app.extensions["pourwright"] = settings or from_environment()
    app.extensions["pourwright_registry"] = registry
    app.url_map.strict_slashes = False
    serving.guard(app)
    serving.register(app, registry)
    docs.register(app)
    return app
