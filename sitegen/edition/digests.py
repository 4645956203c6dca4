"""Digests of models: what stands for a model where only its being the same is asked for."""

from __future__ import annotations

from hashlib import sha256

from msgspec import msgpack

DIGEST = 16
"""Bytes of a digest: two different things are never taken for one by chance."""


def digest_of(record: object) -> bytes:
    """A digest of frozen records: equal records of one class have equal digests, others do not."""
    return packed_digest(record)[1]


def packed_digest(record: object) -> tuple[bytes, bytes]:
    """A record as it is packed, and its digest."""
    packed = msgpack.encode(record)
    digest = sha256(type(record).__name__.encode() + b"\0")
    digest.update(packed)
    return packed, digest.digest()[:DIGEST]
