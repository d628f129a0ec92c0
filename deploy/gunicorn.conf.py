"""How gunicorn runs the service. See https://gunicorn.org for the settings.

Environment: ``POURWRIGHT_BIND`` (default 127.0.0.1:8780: only this machine) and
``POURWRIGHT_WORKERS`` (default: one per processor, at most 8).
"""

import importlib
import os
import threading

bind = os.environ.get("POURWRIGHT_BIND", "127.0.0.1:8780")

# A calculation keeps the interpreter busy, so threads would only make each other wait.
worker_class = "sync"
workers = int(os.environ.get("POURWRIGHT_WORKERS", "0")) or min(os.cpu_count() or 1, 8)

# Tables and the unit registry are read once, before the workers fork.
preload_app = True

timeout = 30
graceful_timeout = 30
max_requests = 20_000
max_requests_jitter = 2_000

# The heartbeat is a file's time stamp; on a slow disk it would stall the workers.
worker_tmp_dir = "/dev/shm" if os.access("/dev/shm", os.W_OK) else None

# Newer versions open a control socket in the home directory; nobody here asked for one. (Older
# versions pass over the names that they do not know.)
control_socket_disable = True

accesslog = os.environ.get("POURWRIGHT_ACCESS_LOG") or None
errorlog = "-"


def post_worker_init(worker):
    """Load what only charges and freeze maps need while the worker already answers."""
    del worker
    threading.Thread(target=load_the_rest, daemon=True).start()


def load_the_rest():
    """The solver of charges, then the kernels: compiled on the first start, read from disk later."""
    importlib.import_module("scipy.optimize")
    importlib.import_module("pourwright_service.engine.freeze_map.warm").warm()
