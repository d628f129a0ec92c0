"""The mark on a kernel: a function that numba compiles to machine code.

A kernel loops over arrays where NumPy would need too many passes. It is compiled once for the
machine and kept on disk, in ``NUMBA_CACHE_DIR`` if that is set, else beside its module or in the
user's cache; loading takes milliseconds, compiling seconds. So services call the ``warm`` of the
rooms that own kernels before they answer, and no request ever waits for a compiler.

Loading numba itself takes a third of a second: rooms import their kernels where they use them.
"""

from collections.abc import Callable
from typing import Any, TypeVar, cast

import numba

F = TypeVar("F", bound=Callable[..., Any])


def compiled(function: F) -> F:
    """Compile a kernel; arithmetic is IEEE's, in the order written. Threads run it side by side."""
    return _jit(function, fastmath=False)


def compiled_loosely(function: F) -> F:
    """Compile a kernel whose sums may be taken in any order, and which never sees a NaN."""
    return _jit(function, fastmath=True)


def _jit(function: F, *, fastmath: bool) -> F:
    how: dict[str, Any] = {"nogil": True, "error_model": "numpy", "fastmath": fastmath}
    jit: Any = numba.njit
    try:
        return cast(F, jit(cache=True, **how)(function))
    except RuntimeError:  # no folder that can be written to: compiled anew in every process
        return cast(F, jit(**how)(function))
