"""JSON Patch as remedies use it, by the examples of RFC 6902, appendix A."""

from typing import Any

import pytest

from pourwright.patch import patched
from pourwright_service.api.remedies import patched as service_patched

CASES: list[tuple[dict[str, Any], list[dict[str, Any]], dict[str, Any]]] = [
    # A.1 adding an object member
    ({"foo": "bar"}, [{"op": "add", "path": "/baz", "value": "qux"}], {"baz": "qux", "foo": "bar"}),
    # A.2 adding an array element
    (
        {"foo": ["bar", "baz"]},
        [{"op": "add", "path": "/foo/1", "value": "qux"}],
        {"foo": ["bar", "qux", "baz"]},
    ),
    # A.3 and A.4 removing
    ({"baz": "qux", "foo": "bar"}, [{"op": "remove", "path": "/baz"}], {"foo": "bar"}),
    ({"foo": ["bar", "qux", "baz"]}, [{"op": "remove", "path": "/foo/1"}], {"foo": ["bar", "baz"]}),
    # A.10 adding a nested member object
    (
        {"foo": "bar"},
        [{"op": "add", "path": "/child", "value": {"grandchild": {}}}],
        {"foo": "bar", "child": {"grandchild": {}}},
    ),
    # A.14 tokens with ~ escapes (order of unescaping)
    ({"/": 9, "~1": 10}, [{"op": "add", "path": "/~01", "value": 11}], {"/": 9, "~1": 11}),
    # A.16 adding an array value at the end
    (
        {"foo": ["bar"]},
        [{"op": "add", "path": "/foo/-", "value": ["abc", "def"]}],
        {"foo": ["bar", ["abc", "def"]]},
    ),
]


@pytest.mark.parametrize("applied", [patched, service_patched])
@pytest.mark.parametrize(("document", "patch", "after"), CASES)
def test_the_examples_of_the_standard(
    applied: Any, document: dict[str, Any], patch: list[dict[str, Any]], after: dict[str, Any]
) -> None:
    before = repr(document)
    assert applied(document, patch) == after
    assert repr(document) == before


def test_a_place_that_is_not_there_is_refused() -> None:
    with pytest.raises(KeyError):
        patched({"q": {"bar": 2}}, [{"op": "add", "path": "/a/b", "value": 1}])  # A.12
    with pytest.raises(ValueError, match="test"):
        patched({"baz": 1}, [{"op": "test", "path": "/baz", "value": 1}])
