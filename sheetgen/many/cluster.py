"""Workers on other machines: a Dask cluster. What a machine that is lost had in hand is done again on another.

On each of them a thing is done in a process apart as here, with the same limits; so a thing that falls over takes no
machine with it.
"""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterator
from concurrent.futures import CancelledError
from queue import Empty, SimpleQueue
from typing import Any

from distributed import Client, Future, KilledWorker

from sheetgen.many.apart import Apart, Function, Limits
from sheetgen.many.attempt import Attempt, CameTo
from sheetgen.many.workers import ClusterLost, Workers

PATIENCE = 20  # seconds to wait for the cluster, and for its first worker
_idle: SimpleQueue[Apart] = SimpleQueue()  # on a machine of the cluster: processes that wait


def do_apart(function: Function, argument: object, limits: Limits) -> Attempt[Any]:
    """On a machine of the cluster: in a process of its own."""
    try:
        apart = _idle.get_nowait()
    except Empty:
        apart = Apart(limits)
    apart.limits = limits
    try:
        return apart.do(function, argument)
    finally:
        _idle.put(apart)


class Promised:
    """What will come of a thing that the cluster has in hand."""

    def __init__(self, future: Future[Any], address: str):
        self._future, self._address = future, address

    def add_done_callback(self, call: Callable[[Promised], object], /) -> None:
        """Have it called when it is there, with this."""
        self._future.add_done_callback(lambda _: call(self))

    def result(self) -> Attempt[Any]:
        """What came of it. ClusterLost where the cluster can do nothing any more."""
        try:
            came: Attempt[Any] = self._future.result()
            return came
        except KilledWorker:
            return Attempt(CameTo.FAULT, says="The machines that worked on it were lost again and again.")
        except (CancelledError, TimeoutError, OSError) as error:
            raise ClusterLost(f"The cluster at {self._address} is lost. {error}".strip()) from None
        except Exception as error:
            raise ClusterLost(f"The workers at {self._address} cannot do it: {type(error).__name__}: {error}. "
                              "Is the same sheetgen installed on every machine?") from None


class Cluster:
    """The workers of a Dask scheduler."""

    def __init__(self, client: Client, address: str, limits: Limits):
        self._client, self._address, self._limits = client, address, limits
        self.number = max(1, sum(client.nthreads().values()))

    def begin(self, function: Function, argument: object) -> Promised:
        """Have it done by any of them."""
        future = self._client.submit(do_apart, function, argument, self._limits, pure=False)
        return Promised(future, self._address)


@contextlib.contextmanager
def cluster(address: str, limits: Limits) -> Iterator[Workers]:
    """The workers at an address as Dask has it, 'tcp://host:8786'. ClusterLost where nobody answers."""
    try:
        client = Client(address, timeout=PATIENCE, set_as_default=False)
    except (OSError, TimeoutError, ValueError) as error:
        raise ClusterLost(f"No cluster answers at {address}: {error}") from None
    with client:
        try:
            client.wait_for_workers(1, timeout=PATIENCE)
        except TimeoutError:
            raise ClusterLost(f"The cluster at {address} has no worker.") from None
        yield Cluster(client, address, limits)
