"""Writing files whole: a file is there complete, or as it was before."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from layouts.errors import FileRefused, Remedy


def write_whole(path: Path, data: bytes, remedy: str = "") -> None:
    """Writes `data` beside `path` and renames it into place. Refuses (`FileRefused`) what cannot be written.

    `remedy` says what would help; empty, it is to write it somewhere else.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            os.chmod(temporary, 0o666 & ~_umask())
            os.replace(temporary, path)
        except BaseException:
            Path(temporary).unlink(missing_ok=True)
            raise
    except OSError as error:
        raise FileRefused(
            f"{path} cannot be written: {error.strerror}", remedy, () if remedy else (Remedy.WRITE_ELSEWHERE,)
        ) from error


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
