"""Templates of the program, compiled once."""

from __future__ import annotations

import marshal
from collections.abc import Callable
from pathlib import Path
from typing import Any

import jinja2
from jinja2 import BaseLoader, BytecodeCache, Environment
from jinja2.bccache import Bucket

from sitegen.typeset.pycache import keep, kept, state_of_module


def environment_of(
    loader: BaseLoader, source_of: Callable[[str], Path | None], made_by: str, **options: Any
) -> Environment:
    """An environment with these options.

    `source_of` tells the file of a template of the program's by its name, so that it is compiled once; None where it is somebody
    else's. `made_by`: file of the module that gives the environment what else it has.
    """
    told = repr((jinja2.__version__, state_of_module(made_by), sorted(options.items())))
    return Environment(loader=loader, bytecode_cache=_Compiled(source_of, told), **options)


class _Compiled(BytecodeCache):
    def __init__(self, source_of: Callable[[str], Path | None], made_by: str) -> None:
        self._source_of = source_of
        self._made_by = made_by

    def get_bucket(self, environment: Environment, name: str, filename: str | None, source: str) -> Bucket:
        return super().get_bucket(environment, name, filename, repr((self._made_by, name, filename, source)))

    def get_cache_key(self, name: str, filename: str | None = None) -> str:
        return name

    def get_source_checksum(self, source: str) -> str:
        return source

    def load_bytecode(self, bucket: Bucket) -> None:
        path = self._source_of(bucket.key)
        data = kept(path, bucket.checksum) if path is not None else None
        if data is not None:
            # It bears the digest of what was written here, so it is whole.
            bucket.code = marshal.loads(data)

    def dump_bytecode(self, bucket: Bucket) -> None:
        path = self._source_of(bucket.key)
        if path is not None:
            keep(path, bucket.checksum, marshal.dumps(bucket.code))
