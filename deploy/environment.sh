# Read by deploy/demo, deploy/test and deploy/serve: finds a Python, and keeps a virtual environment
# inside this clone (.venv-<version>) with Pourwright installed in it.
#
# prepare EXTRAS    e.g. prepare service, prepare service,dev
#
# sets VENV. The second time it only compares a stamp: the Python, the place of the clone and
# pyproject.toml. Which Python: the variable PYTHON, else python3, else a newer one by its name.

ROOT=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd) || exit 1

say() { printf '%s\n' "$*"; }
fault() { printf '%s\n' "$@" >&2; exit 1; }

# A name may exist and yet not run (a version manager's shim), so ask it.
recent_enough() { "$1" -c 'import sys; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1; }

find_python() {
    if [ -n "${PYTHON:-}" ]; then
        recent_enough "$PYTHON" && return
        fault "PYTHON=$PYTHON is no Python 3.11 or newer: $("$PYTHON" --version 2>&1)"
    fi
    for PYTHON in python3 python3.13 python3.12 python3.11 python3.14; do
        recent_enough "$PYTHON" && return
    done
    fault "Pourwright needs Python 3.11 or newer; python3 here is: $(python3 --version 2>&1)" \
        "Install a newer one, or say where it is: PYTHON=/path/to/python3.13 $0"
}

prepare() {
    find_python
    "$PYTHON" -c 'import ensurepip, venv' >/dev/null 2>&1 || fault \
        "$PYTHON cannot make virtual environments: its venv module or pip is missing." \
        "On Debian and Ubuntu: sudo apt install python3-venv"
    version=$("$PYTHON" -c 'import sys; print("%d.%d" % sys.version_info[:2])') || exit 1
    VENV="$ROOT/.venv-$version"
    stamp=$("$PYTHON" -c '
import hashlib, sys
with open(sys.argv[1], "rb") as file:
    print(sys.version.split()[0], sys.executable, sys.argv[1], hashlib.sha256(file.read()).hexdigest())
' "$ROOT/pyproject.toml") || exit 1
    kept="$VENV/pourwright-$1"
    if [ "$(cat "$kept" 2>/dev/null)" = "$stamp" ]; then
        return
    fi
    if [ "$(cat "$VENV/pourwright-python" 2>/dev/null)" != "${stamp% *}" ]; then
        say "Making a virtual environment in $VENV ($("$PYTHON" --version 2>&1)) ..."
        "$PYTHON" -m venv --clear "$VENV" || fault "No virtual environment could be made in $VENV."
        printf '%s\n' "${stamp% *}" >"$VENV/pourwright-python"
    fi
    say "Installing Pourwright with [$1] from the package index; the first time takes a minute or two ..."
    "$VENV/bin/python" -m pip install --quiet --disable-pip-version-check --editable "$ROOT[$1]" || fault \
        "The installation failed; pip's words are above. It needs the Python package index" \
        "or a mirror of it (PIP_INDEX_URL)."
    case $1 in *service*)
        say "Compiling the kernels for meshes, once for this machine ..."
        "$VENV/bin/python" -m pourwright_service warm || fault "The kernels could not be compiled."
    esac
    printf '%s\n' "$stamp" >"$kept"
}
