"""What stands after the question mark of an address."""

from __future__ import annotations

from functools import cache
from typing import Any

from pydantic import BaseModel


class Query(BaseModel):
    """Base of the models of queries."""

    @classmethod
    def model_json_schema(cls, *words: Any, **options: Any) -> dict[str, Any]:  # noqa: ANN401
        """Make the JSON schema; without arguments once a class, and not to be changed.

        flask-openapi3 asks so with every request, only to see which fields are lists; making it
        anew each time was a twentieth of all the server's time.
        """
        if words or options:
            return super().model_json_schema(*words, **options)
        return _schema(cls)


@cache
def _schema(model: type[Query]) -> dict[str, Any]:
    return super(Query, model).model_json_schema()
