"""The same work on a Dask cluster, for collections of many thousands of pictures.

The workers need this program (the same version is best) and the folder of pictures under the same path.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING, Any, TypeVar

from threads.shared.refusal import RefusalError

if TYPE_CHECKING:
    from distributed import Client

Task = TypeVar("Task")
Result = TypeVar("Result")

CONNECT_S = 10
AHEAD = 4
"""Tasks handed out for each thread of the cluster before the first of their results is fetched."""


def by_cluster(
    work: Callable[[Task], Result], tasks: Iterable[Task], scheduler: str, died: Callable[[Task], Result]
) -> Iterator[Result]:
    """``work`` of every task on the cluster whose scheduler has the address ``scheduler``, in the order of the tasks.

    Where a task has brought down one worker after another, ``died`` of it stands in its place. Raises RefusalError:
    cluster_missing, cluster_not_reached, cluster_without_program, cluster_lost.
    """
    with _connected(scheduler) as client:
        from distributed import KilledWorker

        _check_workers(client, work)
        most = AHEAD * max(1, sum(client.nthreads().values()))
        running: deque[tuple[Task, Any]] = deque()
        rest = iter(tasks)
        more = True
        while more or running:
            while more and len(running) < most:
                task = next(rest, None)
                more = task is not None
                if task is not None:
                    running.append((task, client.submit(work, task, pure=False)))
            if not running:
                break
            task, future = running.popleft()
            try:
                result = future.result()
            except KilledWorker:
                result = died(task)
            except Exception as error:
                raise RefusalError("cluster_lost", error=type(error).__name__, text=str(error)) from error
            yield result


def _connected(scheduler: str) -> Client:
    try:
        from distributed import Client
    except ImportError as error:
        raise RefusalError("cluster_missing") from error
    try:
        return Client(scheduler, timeout=CONNECT_S, set_as_default=False)
    except Exception as error:  # AssertionError, too, where it takes long on a busy machine
        raise RefusalError("cluster_not_reached", scheduler=scheduler) from error


def _check_workers(client: Client, work: Callable[..., object]) -> None:
    """Raise RefusalError where no worker is there, or where one does not know what it will be asked to do."""
    try:
        client.wait_for_workers(1, timeout=CONNECT_S)
        client.submit(callable, work, pure=False).result()
    except TimeoutError as error:
        raise RefusalError("cluster_not_reached.workers") from error
    except Exception as error:
        raise RefusalError("cluster_without_program", error=type(error).__name__, text=str(error)) from error
