"""What a form of the page sends."""

from __future__ import annotations

import json
from urllib.parse import parse_qsl

from starlette.requests import Request

MOST_FIELDS = 300


async def fields_of(request: Request) -> dict[str, str]:
    """The fields of a form by name; of several of one name the last. Nothing but a plain form is understood."""
    kind = request.headers.get("content-type", "").partition(";")[0].strip()
    body = await request.body()
    if kind != "application/x-www-form-urlencoded":
        return {}
    try:
        return dict(parse_qsl(body.decode(), keep_blank_values=True, max_num_fields=MOST_FIELDS))
    except ValueError:
        return {}


def words_in(value: str) -> list[str]:
    """A list of words that the page wrote into a field: '["W1", "BN", "0"]'; [] where it is none."""
    try:
        found = json.loads(value)
    except ValueError:
        return []
    return [str(word) for word in found] if isinstance(found, list) else []


def stands_in(value: str) -> dict[str, str]:
    """How the switches stand, as the page wrote it into a field."""
    try:
        found = json.loads(value)
    except ValueError:
        return {}
    return {str(k): str(v) for k, v in list(found.items())[:500]} if isinstance(found, dict) else {}
