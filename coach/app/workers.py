"""Threads that work for many lessons and serve them in turn."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from concurrent.futures import Executor, Future
from dataclasses import dataclass
from threading import Condition, Thread
from typing import Any, Final

_MOST_WAITING: Final = 8
"""Let one lesson have this many jobs waiting: more than the number of looks at an utterance."""


class Workers:
    """Runs each lesson's jobs in order, and takes one job of every lesson before the next of any.

    The threads start with the first job.
    """

    def __init__(self, name: str, threads: int = 1) -> None:
        self._threads = [Thread(target=self._work, name=name, daemon=True) for _ in range(threads)]
        self._changed = Condition()
        self._turns: deque[Share] = deque()  # shares with waiting jobs, each once
        self._closed = False

    def share(self) -> Share:
        """An executor for one lesson."""
        return Share(self)

    def close(self) -> None:
        """Drop the waiting jobs, and end the threads once their current jobs are done."""
        with self._changed:
            self._closed = True
            for share in self._turns:
                share.drop()
            self._changed.notify_all()
        for thread in self._threads:
            if thread.is_alive():
                thread.join()

    def add(self, share: Share, job: _Job) -> None:
        """Append a job to its share. If too many are waiting, block: only that lesson is held up. Raises RuntimeError
        once the share is closed."""
        with self._changed:
            self._changed.wait_for(lambda: share.closed or self._closed or share.has_room())
            if share.closed or self._closed:
                raise RuntimeError("This lesson is over: nothing is done for it any more.")
            share.jobs.append(job)
            if share not in self._turns:
                self._turns.append(share)
            for thread in self._threads:
                if thread.ident is None:
                    thread.start()
            self._changed.notify_all()

    def remove(self, share: Share) -> None:
        """Drop the waiting jobs of that share, which accepts no more."""
        with self._changed:
            share.closed = True
            share.drop()
            self._changed.notify_all()

    def _work(self) -> None:
        while job := self._next():
            job.do()

    def _next(self) -> _Job | None:
        """The next job that is still wanted; None after closing."""
        with self._changed:
            while True:
                self._changed.wait_for(lambda: self._turns or self._closed)
                if self._closed:
                    return None
                share = self._turns.popleft()
                job = share.jobs.popleft() if share.jobs else None
                if share.jobs:
                    self._turns.append(share)
                self._changed.notify_all()
                if job and job.future.set_running_or_notify_cancel():
                    return job


@dataclass(frozen=True)
class _Job:
    future: Future[Any]
    call: Callable[[], Any]

    def do(self) -> None:
        try:
            self.future.set_result(self.call())
        except BaseException as error:  # the error belongs to whoever asks for the result
            self.future.set_exception(error)


class Share(Executor):
    """One lesson's share of the workers."""

    def __init__(self, workers: Workers) -> None:
        self._workers = workers
        self.jobs: deque[_Job] = deque()
        self.closed = False

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        """Queue the call for this lesson's turn. Raises RuntimeError once closed."""
        future: Future[Any] = Future()
        self._workers.add(self, _Job(future, lambda: fn(*args, **kwargs)))
        return future

    def shutdown(self, wait: bool = False, *, cancel_futures: bool = True) -> None:
        """Close the share: waiting jobs are dropped, and the running one is not waited for."""
        self._workers.remove(self)

    def has_room(self) -> bool:
        """Whether one more job may wait. Cancelled jobs no longer count."""
        self.jobs = deque(job for job in self.jobs if not job.future.cancelled())
        return len(self.jobs) < _MOST_WAITING

    def drop(self) -> None:
        """Cancel all waiting jobs."""
        while self.jobs:
            self.jobs.popleft().future.cancel()
