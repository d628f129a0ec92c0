"""A search for the first whole step at which something passes, asking as seldom as it can."""

import math
from collections.abc import Callable, Mapping


def least_step(
    slack: Callable[[float], float | None],
    start: float,
    first: float | None,
    *,
    step: float,
    up: bool,
    most: float,
    zero: float = 0.0,
    guess: float | None = None,
) -> float | None:
    """The nearest whole number of steps from ``zero``, beyond ``start``, with a slack of 0 or more.

    One step nearer to the start it is negative, or not known. ``first`` is the slack at the start. None
    where it stays negative as far as ``most``, or where moving on has not lessened it twice in a row.
    The slack's size only guides the search, and ``guess`` is where it begins.
    """
    start, most = start - zero, most - zero
    sign = 1 if up else -1
    near = math.floor(start / step + 1e-9) + 1 if up else math.ceil(start / step - 1e-9) - 1
    far = math.floor(most / step + 1e-9) if up else math.ceil(most / step - 1e-9)
    last = sign * (far - near)
    seen: dict[int, float | None] = {-1: first}
    fails, passes, vain = -1, None, 0
    first_try = round(0.05 * abs(start) / step) if guess is None else sign * math.ceil(guess / step - near)
    k = max(0, min(last, first_try))
    while last >= 0:
        seen[k] = slack(_whole(near + sign * k, step, zero))
        value = seen[k]
        if value is not None and value >= 0.0:
            passes = k
        else:
            vain = vain + 1 if value is not None and value <= (seen[fails] or -math.inf) else 0
            fails = k
        if vain == 2:
            return None
        if passes is not None:
            if passes - fails == 1:
                return _whole(near + sign * passes, step, zero)
            k = _between(seen, fails, passes)
        elif fails >= last:
            return None
        else:
            k = min(last, _beyond(seen, fails))
    return None


def _whole(steps: int, step: float, zero: float) -> float:
    """Some whole steps, as a person would write it: 1.2 and not 1.2000000000000002."""
    return float(f"{zero + steps * step:.12g}")


def _beyond(seen: Mapping[int, float | None], fails: int) -> int:
    """The next try while none has passed: where the last two slacks point, within bounds."""
    doubled = 2 * fails + 2
    here = seen[fails]
    before = max((k for k in seen if k < fails), default=None)
    then = seen[before] if before is not None else None
    if before is None or here is None or then is None or here <= then:
        return doubled
    pointed = fails + math.ceil(-here * (fails - before) / (here - then))
    return max(fails + 1, min(pointed, 4 * fails + 4))


def _between(seen: dict[int, float | None], fails: int, passes: int) -> int:
    """The next try between one that fails and one that passes.

    By the slacks while that cuts the bracket well, else halfway, so that it always ends.
    """
    low, high = seen[fails], seen[passes]
    middle = (fails + passes) // 2
    if low is None or high is None or len(seen) > 8:
        return max(fails + 1, min(middle, passes - 1))
    pointed = fails + math.ceil(-low * (passes - fails) / (high - low)) if high > low else middle
    if pointed >= passes:
        pointed = passes - 1
    # the point itself is likely to pass: look first whether the step before it fails
    if pointed - 1 > fails and pointed - 1 not in seen and pointed in seen:
        pointed -= 1
    return max(fails + 1, min(pointed, passes - 1))
