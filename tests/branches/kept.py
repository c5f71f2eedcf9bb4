"""What a process has counted so far is kept, whatever becomes of the process."""

from coverage import Coverage


def keep() -> None:
    """Write the count of this process beside those of others; nothing where nothing is counted."""
    counted = Coverage.current()
    if counted is not None:
        counted.save()
