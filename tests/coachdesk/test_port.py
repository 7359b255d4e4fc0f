"""The port of bin/run."""

import socket
import threading

from coachdesk.runner.main import refuse_taken_port


def test_one_that_its_last_owner_gives_up_in_a_moment_is_waited_for() -> None:
    """The parts of a bin/run that was killed go a moment after it."""
    with socket.create_server(("127.0.0.1", 0)) as last_owner:
        port = last_owner.getsockname()[1]
        timer = threading.Timer(0.5, last_owner.close)
        timer.start()
        refuse_taken_port("127.0.0.1", port)
    timer.join()
