"""A lock on an open file that the operating system takes away when its holder ends, however it ends."""

import sys

if sys.platform == "win32":
    import msvcrt
    import os

    _FAR_BYTE = 0x7FFF_FFFF
    """Windows keeps others from reading what is locked, so the byte locked is one past any content."""

    def lock(handle: int) -> bool:
        """Take the lock of an open file without waiting; whether it was free."""
        at = os.lseek(handle, 0, os.SEEK_CUR)
        try:
            os.lseek(handle, _FAR_BYTE, os.SEEK_SET)
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        finally:
            os.lseek(handle, at, os.SEEK_SET)
        return True

else:
    import fcntl

    def lock(handle: int) -> bool:
        """Take the lock of an open file without waiting; whether it was free.

        A folder of another machine may know no locks: there the lock counts as free.
        """
        try:
            # A lock of fcntl.lockf would go with any handle of this process on the file.
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        except OSError:
            return True
        return True
