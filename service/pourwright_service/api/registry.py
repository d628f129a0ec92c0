"""One declaration per endpoint: route, validation, problems, envelope and documentation from it.

A calculation::

    @endpoint("POST", "/v1/gating", operation="gating", tag="Casting", summary="...",
              description="...", request=GatingRequest, answer=GatingResult, examples={...})
    def gating(case: GatingCase) -> Answer:
        return decide_gating(case)

Reference data and stored things are declared with :meth:`Registry.resource`.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, TypeVar

from ..engine.answer import Answer
from ..engine.decide.remedies import Levers
from .query import Query
from .schemas import Body, Result

F = TypeVar("F", bound=Callable[..., Any])

NO_LEVERS = Levers()


@dataclass(frozen=True, slots=True, kw_only=True)
class Call:
    """What every operation declares."""

    method: str
    path: str
    operation: str
    tag: str
    summary: str
    description: str
    function: Callable[..., Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Endpoint(Call):
    """A calculation: a JSON request in, an answer in its envelope out; ``levers`` mend what fails."""

    request: Body
    answer: Result
    examples: Mapping[str, Mapping[str, Any]]
    levers: Levers


@dataclass(frozen=True, slots=True, kw_only=True)
class Resource(Call):
    """Something that is looked up or stored.

    ``parameters`` describes the parts of the path in braces; with ``query`` the function is given what
    that makes of the query parameters, before them. ``statuses`` says what each success means;
    ``problems`` lists the codes of problems beside the usual ones. ``upload`` names the content types of
    a binary body.
    """

    answer: Result | None
    parameters: Mapping[str, str]
    query: Query | None
    statuses: Mapping[int, str]
    problems: tuple[str, ...]
    upload: tuple[str, ...]

    @property
    def cacheable(self) -> bool:
        """Whether a caller may keep what it got and ask if it has changed."""
        return self.method == "GET" and self.tag == "Reference"


@dataclass(slots=True)
class Registry:
    """All operations of one service, in the order of their declaration."""

    endpoints: dict[str, Endpoint] = field(default_factory=dict)
    resources: dict[str, Resource] = field(default_factory=dict)

    def endpoint(
        self,
        method: str,
        path: str,
        *,
        operation: str,
        tag: str,
        summary: str,
        description: str,
        request: type[Body],
        answer: type[Result],
        examples: Mapping[str, Mapping[str, Any]],
        levers: Levers = NO_LEVERS,
    ) -> Callable[[Callable[[Any], Answer]], Callable[[Any], Answer]]:
        """Declare a calculation. ``examples`` are complete requests by title; at least one."""
        if not examples:
            raise TypeError(f"{operation}: an endpoint needs an example")

        def declare(function: Callable[[Any], Answer]) -> Callable[[Any], Answer]:
            self._claim(operation)
            self.endpoints[operation] = Endpoint(
                method=method,
                path=path,
                operation=operation,
                tag=tag,
                summary=summary,
                description=description,
                function=function,
                request=request(),
                answer=answer(),
                examples=examples,
                levers=levers,
            )
            return function

        return declare

    def resource(
        self,
        method: str,
        path: str,
        *,
        operation: str,
        tag: str,
        summary: str,
        description: str,
        answer: type[Result] | None = None,
        parameters: Mapping[str, str] | None = None,
        query: type[Query] | None = None,
        statuses: Mapping[int, str] | None = None,
        problems: tuple[str, ...] = (),
        upload: tuple[str, ...] = (),
    ) -> Callable[[F], F]:
        """Declare a function of the path's parts that returns data for ``answer``, or a response.

        A returned tuple is (data, status).
        """

        def declare(function: F) -> F:
            self._claim(operation)
            self.resources[operation] = Resource(
                method=method,
                path=path,
                operation=operation,
                tag=tag,
                summary=summary,
                description=description,
                function=function,
                answer=answer() if answer else None,
                parameters=parameters or {},
                query=query() if query else None,
                statuses=statuses or {200: "As asked."},
                problems=problems,
                upload=upload,
            )
            return function

        return declare

    def _claim(self, operation: str) -> None:
        if operation in self.endpoints or operation in self.resources:
            raise ValueError(f"operation {operation} is declared twice")


REGISTRY = Registry()
"""The service's own operations, filled as the modules of this package load."""

endpoint = REGISTRY.endpoint
resource = REGISTRY.resource
