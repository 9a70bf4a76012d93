"""The worker beside the server: started with it, started again if it dies, ended with it."""

import subprocess
import sys
import threading

from django.conf import settings

AGAIN_AFTER_SECONDS = 1.0
PATIENCE_SECONDS = 5.0


class WorkerKeeper:
    """Keeps one worker process alive while the server runs."""

    def __init__(self) -> None:
        self._ending = threading.Event()
        self._process = self._start()
        self._thread = threading.Thread(target=self._keep, daemon=True)
        self._thread.start()

    def _start(self) -> "subprocess.Popen[bytes]":
        command = [sys.executable, str(settings.BASE_DIR / "manage.py"), "worker", "--with-parent"]
        return subprocess.Popen(command, cwd=settings.BASE_DIR, stdin=subprocess.DEVNULL)

    def _keep(self) -> None:
        while True:
            self._process.wait()
            if self._ending.wait(AGAIN_AFTER_SECONDS):
                return
            self._process = self._start()

    def end(self) -> None:
        """Ask the worker to end, and end it if it has not done so soon; its work is taken up at the next start."""
        self._ending.set()
        self._process.terminate()
        try:
            self._process.wait(timeout=PATIENCE_SECONDS)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait()
        self._thread.join()
