"""Writing files whole: a file is there complete, or as it was before; and only over what may be overwritten."""

from __future__ import annotations

import os
import stat
import tempfile
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path

from layouts.errors import FileRefused, Remedy, printable
from layouts.files.names import refuse_names
from layouts.files.seal import is_ours

Allow = Callable[[Path], bool]
"""Whether a file may be overwritten; asked only where that is not plain."""

_PREFIX, _SUFFIX = ".coilwright-", ".part"  # what a run that was killed may leave behind
_STALE_S = 600.0  # where files cannot be locked: a write that takes longer is dead


def never(path: Path) -> bool:
    """Nobody allowed it."""
    return False


def write_outputs(files: Sequence[tuple[Path, bytes]], may_overwrite: Allow = never) -> None:
    """Writes several files, when all of them may be written; else none.

    A file that was written here and not changed since is replaced; over any other `may_overwrite` is asked. Refuses
    (`FileRefused`) what is in the way, and names that not every system takes. A link is followed.
    """
    for path, data in files:
        if not _there(path):
            continue
        if not os.access(path, os.W_OK):
            raise FileRefused(f"{printable(str(path))} is write-protected", remedies=(Remedy.WRITE_ELSEWHERE,))
        try:
            there = path.read_bytes()
        except OSError as error:
            raise _refused(path, "read", error) from error
        if there != data and not is_ours(there) and not may_overwrite(path):
            problem = "is there already, and Coilwright did not write it or it has been changed since"
            ways = Remedy.WRITE_ELSEWHERE, Remedy.MOVE_FILE, Remedy.OVERWRITE
            raise FileRefused(f"{printable(str(path))} {problem}", remedies=ways)
    for path, data in files:
        write_whole(path, data)


def write_whole(path: Path, data: bytes, remedy: str = "") -> None:
    """Writes `data` beside `path` and renames it into place; through a link, at its target.

    Refuses (`FileRefused`) what cannot be written, with `remedy`, or else the advice to write somewhere else.
    """
    _there(path)
    try:
        target = path.resolve() if path.is_symlink() else path
        target.parent.mkdir(parents=True, exist_ok=True)
        _clear(target.parent)
        _write(target, data)
    except (OSError, RuntimeError, ValueError) as error:
        raise _refused(path, "written", error, remedy) from error


def _there(path: Path) -> bool:
    """Whether a file is there. Refuses a name that not every system takes, and whatever is not an ordinary file."""
    refuse_names(path)
    try:
        mode = os.stat(path).st_mode
    except FileNotFoundError:
        return False
    except (OSError, RuntimeError, ValueError) as error:
        raise _refused(path, "written", error) from error
    if not stat.S_ISREG(mode):
        what = "a folder" if stat.S_ISDIR(mode) else "not an ordinary file"
        raise FileRefused(f"{printable(str(path))} is {what}", remedies=(Remedy.WRITE_ELSEWHERE,))
    return True


def _refused(path: Path, done: str, error: Exception, remedy: str = "") -> FileRefused:
    reason = (error.strerror if isinstance(error, OSError) else None) or str(error)
    remedies = () if remedy else (Remedy.WRITE_ELSEWHERE,)
    return FileRefused(f"{printable(str(path))} cannot be {done}: {reason}", remedy, remedies)


def _write(target: Path, data: bytes) -> None:
    while True:
        handle, temporary = tempfile.mkstemp(prefix=_PREFIX, suffix=_SUFFIX, dir=target.parent)
        if _locked(handle, wait=True) is not False and os.fstat(handle).st_nlink:
            break  # locked for as long as it is written
        os.close(handle)  # another run cleared it away before it was locked
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
            mask = os.umask(0)  # it can be read only by setting it
            os.umask(mask)
            os.chmod(temporary, stat.S_IMODE(target.stat().st_mode) if target.exists() else 0o666 & ~mask)
            if os.name != "nt":  # elsewhere an open file is renamed under its lock, so that nobody clears it away
                os.replace(temporary, target)
                return
        os.replace(temporary, target)
    except BaseException:
        Path(temporary).unlink(missing_ok=True)
        raise


def _clear(folder: Path) -> None:
    """Removes what a run that was killed left in a folder: files of our pattern that nobody holds a lock on."""
    import time

    for path in folder.glob(f"{_PREFIX}*{_SUFFIX}"):
        with suppress(OSError):
            handle = os.open(path, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0))
            try:
                dead = _locked(handle, wait=False)
                if dead is None:  # no locks here: the age of a stray tells, and nothing that is written depends on it
                    dead = time.time() - os.fstat(handle).st_mtime > _STALE_S
                if dead:
                    path.unlink()
            finally:
                os.close(handle)


def _locked(handle: int, *, wait: bool) -> bool | None:
    """Whether the lock was got; None where files cannot be locked."""
    try:
        import fcntl
    except ImportError:
        return None
    try:
        fcntl.flock(handle, fcntl.LOCK_EX if wait else fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except OSError:
        return None
    return True
