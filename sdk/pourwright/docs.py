# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of docs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport, part

if TYPE_CHECKING:
    from .answer import Units
    from .models.docs import ProblemResult, ProblemsResult


class DocsCalls(Transport):
    """The operations of docs."""

    def list_problems(
        self,
        *,
        units: Units | None = None,
    ) -> ProblemsResult:
        """Every problem that the service may answer with.

        The catalogue of problem types and of the codes of single faults; needs no key.

        units: System of units of the answer; it never changes a decision.
        """
        from .models.docs import ProblemsResult

        return self._fetch(
            "GET",
            "/problems",
            ProblemsResult,
            units=units,
        )

    def get_problem(
        self,
        *,
        code: str,
        units: Units | None = None,
    ) -> ProblemResult:
        """What one problem means.

        The page that a problem's type points at, as JSON or, for a browser, HTML; needs no key.

        code: Code of the problem.
        units: System of units of the answer; it never changes a decision.
        """
        from .models.docs import ProblemResult

        return self._fetch(
            "GET",
            f"/problems/{part(code)}",
            ProblemResult,
            units=units,
        )
