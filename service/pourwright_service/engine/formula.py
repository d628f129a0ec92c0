"""The mark on a formula, and the recorder that writes the working.

One formula is one pure function: SI in, SI out. ``@formula`` gives it its printed expression, the
symbols in it, its source and the range in which it holds, and registers it in :data:`FORMULAS`,
the handbook that the service publishes about itself.

Example::

    @formula("t = C M**2", symbols={"C": "mould_constant", "M": "modulus"},
             source="CHVORINOV-1940", valid={"mould_constant": above(0), "modulus": above(0)})
    def freezing_time(mould_constant: SecondPerSquareMetre, modulus: Metre) -> Second: ...

Expressions are written the way Python writes arithmetic, except that a space between two factors
multiplies. Known functions: sqrt, exp, ln, log10, erf, cbrt, min, max, abs, where(condition, a, b),
sum(n, first, last, term) and j0zero(n), the n-th zero of the Bessel function J0.
"""

import functools
import inspect
import math
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from typing import Annotated, Any, TypeVar, cast, get_type_hints

import numpy as np

from .bounds import FINITE, Bound, OutOfRange
from .kinds import KINDS, Kind

Metre = Annotated[float, KINDS["length"]]
SquareMetre = Annotated[float, KINDS["area"]]
CubicMetre = Annotated[float, KINDS["volume"]]
Kilogram = Annotated[float, KINDS["mass"]]
Second = Annotated[float, KINDS["time"]]
Kelvin = Annotated[float, KINDS["temperature"]]
KelvinDifference = Annotated[float, KINDS["temperature_difference"]]
MetrePerSecond = Annotated[float, KINDS["velocity"]]
MetrePerSecondSquared = Annotated[float, KINDS["acceleration"]]
KilogramPerCubicMetre = Annotated[float, KINDS["density"]]
JoulePerKilogramKelvin = Annotated[float, KINDS["specific_heat"]]
JoulePerKilogram = Annotated[float, KINDS["latent_heat"]]
WattPerMetreKelvin = Annotated[float, KINDS["conductivity"]]
SquareMetrePerSecond = Annotated[float, KINDS["diffusivity"]]
SecondPerSquareMetre = Annotated[float, KINDS["mould_constant"]]
PerMetre = Annotated[float, KINDS["curvature"]]
PerKelvin = Annotated[float, KINDS["expansion_per_kelvin"]]
Newton = Annotated[float, KINDS["force"]]
Pascal = Annotated[float, KINDS["pressure"]]
CubicMetrePerSecond = Annotated[float, KINDS["flow"]]
KilogramPerSecond = Annotated[float, KINDS["mass_flow"]]
NewtonPerMetre = Annotated[float, KINDS["surface_tension"]]
PascalSecond = Annotated[float, KINDS["viscosity"]]
WattPerSquareMetre = Annotated[float, KINDS["heat_flux"]]
StefanBoltzmann = Annotated[float, KINDS["radiation_constant"]]
KelvinPerSecond = Annotated[float, KINDS["cooling_rate"]]
SecondPerMetre = Annotated[float, KINDS["slowness"]]
RootKelvinSecondPerMetre = Annotated[float, KINDS["gradient_over_root_rate"]]
Joule = Annotated[float, KINDS["energy"]]
Watt = Annotated[float, KINDS["power"]]
HeatingValue = Annotated[float, KINDS["heating_value"]]
WattPerSquareMetreKelvin = Annotated[float, KINDS["heat_transfer"]]
MoneyPerCubicMetre = Annotated[float, KINDS["volume_price"]]
MoneyPerJoule = Annotated[float, KINDS["energy_price"]]
MoneyPerKilogram = Annotated[float, KINDS["price"]]
Money = Annotated[float, KINDS["money"]]
Radian = Annotated[float, KINDS["angle"]]
Ratio = Annotated[float, KINDS["ratio"]]


@dataclass(frozen=True, slots=True)
class Formula:
    """What is known of one formula beside its arithmetic.

    ``symbols`` maps each symbol of the expression to its argument; the symbol left of the equals
    sign is the result. ``identity``, where given, is an expression in the same symbols that must
    vanish (iterative formulas have no closed form to print). ``empirical`` names the units its
    constants need; None means that the formula holds in any consistent system of units.
    """

    name: str
    subject: str
    expression: str
    symbols: Mapping[str, str]
    source: str
    place: str
    empirical: str | None
    identity: str | None
    valid: Mapping[str, Bound]
    arguments: Mapping[str, Kind]
    result: Kind
    description: str
    function: Callable[..., Any]

    @property
    def result_symbol(self) -> str:
        """The symbol that stands left of the equals sign."""
        return self.expression.split("=", 1)[0].strip()


FORMULAS: dict[str, Formula] = {}
"""Every marked formula by ``subject.name``."""

F = TypeVar("F", bound=Callable[..., Any])


def formula(
    expression: str,
    *,
    symbols: Mapping[str, str],
    source: str,
    place: str = "",
    valid: Mapping[str, Bound] | None = None,
    empirical: str | None = None,
    identity: str | None = None,
) -> Callable[[F], F]:
    """Mark a pure function as a formula; see the module's docstring.

    Raises TypeError at import when symbols, annotations and signature do not agree, so a formula
    that lies about itself cannot be loaded.
    """

    def mark(function: F) -> F:
        hints = get_type_hints(function, include_extras=True)
        names = tuple(inspect.signature(function).parameters)
        kinds = {name: _kind(function, name, hints.get(name)) for name in names}
        bounds = dict(valid or {})
        if set(symbols.values()) != set(names) or not set(bounds) <= set(names):
            raise TypeError(f"{function.__name__}: symbols or bounds do not match the arguments")
        known = Formula(
            name=function.__name__,
            subject=function.__module__.rsplit(".", 1)[-1],
            expression=expression,
            symbols=dict(symbols),
            source=source,
            place=place,
            empirical=empirical,
            identity=identity,
            valid=bounds,
            arguments=kinds,
            result=_kind(function, "return", hints.get("return")),
            description=(inspect.getdoc(function) or "").split("\n\n")[0].replace("\n", " "),
            function=function,
        )
        if f"{known.subject}.{known.name}" in FORMULAS:
            raise TypeError(f"{known.subject}.{known.name} is already the name of a formula")
        FORMULAS[f"{known.subject}.{known.name}"] = known
        checks = tuple((name, bounds.get(name, FINITE)) for name in names)

        @functools.wraps(function)
        def wrapper(*args: float, **kwargs: float) -> Any:
            if len(args) > len(names):
                raise TypeError(f"{known.name} takes {len(names)} arguments, not {len(args)}")
            if args:
                kwargs.update(zip(names, args, strict=False))
            mask = None
            for name, bound in checks:
                value = kwargs[name]
                if isinstance(value, np.ndarray):
                    inside = _inside(bound, value)
                    mask = inside if mask is None else mask & inside
                elif not bound.holds(value):
                    raise OutOfRange(name, float(value), bound.words(), known.name)
            if mask is not None and not np.all(mask):
                with np.errstate(all="ignore"):
                    result = function(**kwargs)
            else:
                result = _value(known, kwargs)
            if isinstance(result, np.ndarray) and result.ndim:
                return _masked(known, result, mask)
            scalar = float(result)
            if not math.isfinite(scalar):
                raise OutOfRange("result", scalar, "inputs that give a finite result", known.name)
            recorder = _recorder.get()
            if recorder is not None:
                recorder.note(known, kwargs, scalar)
            return scalar

        return cast(F, wrapper)

    return mark


def _kind(function: Callable[..., Any], name: str, hint: Any) -> Kind:
    for extra in getattr(hint, "__metadata__", ()):
        if isinstance(extra, Kind):
            return extra
    raise TypeError(f"{function.__name__}: {name} has no physical kind")


def _value(known: Formula, kwargs: Mapping[str, float]) -> Any:
    """The function's own value; arithmetic that has no real answer is out of range, not an accident."""
    try:
        result = known.function(**kwargs)
    except (ZeroDivisionError, OverflowError):
        result = math.nan
    return math.nan if isinstance(result, complex) else result


def _inside(bound: Bound, values: Any) -> Any:
    low = values > bound.low if bound.low_open else values >= bound.low
    high = values < bound.high if bound.high_open else values <= bound.high
    return low & high & np.isfinite(values)


def _masked(known: Formula, result: Any, mask: Any) -> Any:
    """Samples outside the range become NaN and are counted under the formula's name."""
    inside = np.isfinite(result) if mask is None else mask & np.isfinite(result)
    counts = _outside.get()
    if counts is not None:
        counts[known.name] = counts.get(known.name, 0) + int(np.size(inside) - np.count_nonzero(inside))
    return np.where(inside, result, np.nan)


_outside: ContextVar[dict[str, int] | None] = ContextVar("outside", default=None)


@contextmanager
def counting_outside() -> Iterator[dict[str, int]]:
    """Collect, per formula, how many samples lay outside its range while arrays run through."""
    counts: dict[str, int] = {}
    token = _outside.set(counts)
    try:
        yield counts
    finally:
        _outside.reset(token)


# --- the recorder ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of a working: a formula, the numbers put in with their origin, and the result."""

    number: int
    scope: tuple[str, ...]
    formula: Formula
    numbers: Mapping[str, float]
    origins: Mapping[str, str]
    result: float
    rounds: int | None = None


@dataclass(slots=True)
class Recorder:
    """Collects entries while it is current; see :func:`recording`."""

    entries: list[Entry] = field(default_factory=list)
    scope: tuple[str, ...] = ()
    quiet: int = 0
    rounds: int | None = None
    origins: dict[float, str] = field(default_factory=dict)
    results: dict[float, int] = field(default_factory=dict)
    counter: int = 0

    def note(self, known: Formula, numbers: Mapping[str, float], result: float) -> None:
        if self.quiet:
            return
        self.counter += 1
        origins = {name: self._origin(float(value)) for name, value in numbers.items()}
        self.entries.append(
            Entry(self.counter, self.scope, known, dict(numbers), origins, result, self.rounds)
        )
        self.results[result] = self.counter

    def _origin(self, value: float) -> str:
        """Where a number came from. Floats are matched by value: a number that passes through
        unchanged keeps its origin, one that arithmetic outside a formula made is 'computed'."""
        if value in self.results:
            return f"line {self.results[value]}"
        return self.origins.get(value, "computed")


_recorder: ContextVar[Recorder | None] = ContextVar("recorder", default=None)


@contextmanager
def recording() -> Iterator[Recorder]:
    """Record every formula used inside the block."""
    recorder = Recorder()
    token = _recorder.set(recorder)
    try:
        yield recorder
    finally:
        _recorder.reset(token)


@contextmanager
def step(kind: str, name: str) -> Iterator[None]:
    """Name the part of the working that the block belongs to: ``step("section", "foot")``."""
    recorder = _recorder.get()
    if recorder is None:
        yield
        return
    outer = recorder.scope
    recorder.scope = (*outer, f"{kind} {name}".strip())
    try:
        yield
    finally:
        recorder.scope = outer


@contextmanager
def paused() -> Iterator[None]:
    """Record nothing inside the block (searches and sampling)."""
    recorder = _recorder.get()
    if recorder is None:
        yield
        return
    recorder.quiet += 1
    try:
        yield
    finally:
        recorder.quiet -= 1


def known_number(value: float, origin: str) -> None:
    """Tell the recorder, if any, where a number comes from (given, default, table)."""
    recorder = _recorder.get()
    if recorder is not None:
        recorder.origins.setdefault(float(value), origin)


@contextmanager
def rounds() -> Iterator[Callable[[], int]]:
    """Record only the last round of a fixed point.

    Yields a function to call at the start of every round; it forgets the entries of the round
    before and returns the number of the new one.
    """
    recorder = _recorder.get()
    count = 0
    start = len(recorder.entries) if recorder else 0
    first = recorder.counter if recorder else 0

    def begin() -> int:
        nonlocal count
        count += 1
        if recorder is not None and not recorder.quiet:
            del recorder.entries[start:]
            recorder.counter = first
            recorder.results = {entry.result: entry.number for entry in recorder.entries}
            recorder.rounds = count
        return count

    outer = recorder.rounds if recorder else None
    try:
        yield begin
    finally:
        if recorder is not None:
            recorder.rounds = outer
