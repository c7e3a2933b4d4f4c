"""The desk as a program, and HTTP by hand: what a test here needs.

    with desk.Desk() as one:
        answer = one.post("/api/size", job_text)
        answer = one.raw(b"GET / HTTP/1.1\\r\\n\\r\\n")

POUCHWRIGHT names the program, POUCHWRIGHT_SOURCE the project.
"""

import email
import os
import pathlib
import re
import select
import signal
import socket
import subprocess

TOP = pathlib.Path(os.environ.get("POUCHWRIGHT_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
PROGRAM = os.environ.get("POUCHWRIGHT", str(TOP / ".build/dev/src/pouchwright"))
SECONDS = 20


class Answer:
    """One answer: status, headers (names in lower case), body."""

    def __init__(self, status, headers, body):
        self.status, self.headers, self.body = status, headers, body

    @property
    def text(self):
        return self.body.decode("utf-8")


def parts_of(answer):
    """Name -> bytes of a form's parts (RFC 7578), taken apart by Python's own reader of mail."""
    head = f"Content-Type: {answer.headers['content-type']}\r\n\r\n".encode("ascii")
    parts = email.message_from_bytes(head + answer.body).get_payload()
    return {part.get_param("name", header="content-disposition"): part.get_payload(decode=True)
            for part in parts}


class Connection:
    """A connection to the desk, byte by byte."""

    def __init__(self, port):
        self.socket = socket.create_connection(("127.0.0.1", port), SECONDS)
        self.waiting = b""

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.socket.close()

    def send(self, data):
        self.socket.sendall(data)

    def _more(self):
        data = self.socket.recv(65536)
        if not data:
            raise EOFError("the desk has closed the connection")
        self.waiting += data

    def read(self, has_body=True):
        """The next answer. Fails: EOFError where there is none."""
        while b"\r\n\r\n" not in self.waiting:
            self._more()
        head, self.waiting = self.waiting.split(b"\r\n\r\n", 1)
        first, *lines = head.decode("ascii").split("\r\n")
        headers = {name.lower(): value for name, value in (line.split(": ", 1) for line in lines)}
        size = int(headers.get("content-length", 0)) if has_body else 0
        while len(self.waiting) < size:
            self._more()
        body, self.waiting = self.waiting[:size], self.waiting[size:]
        return Answer(int(first.split(" ")[1]), headers, body)

    def is_closed(self, seconds):
        """Does the desk close the connection within that time, without a further word?"""
        self.socket.settimeout(seconds)
        try:
            return self.socket.recv(1) == b""
        except ConnectionResetError:
            return True
        except socket.timeout:
            return False


class Desk:
    """The desk on a port of its own choice, ended with the block. `cwd`: where it runs; `env`: what is set
    there besides; `program`: what the command line begins with."""

    def __init__(self, *options, cwd=None, env=None, program=(PROGRAM,)):
        self.line = [*program, "desk", *options]
        self.cwd = cwd
        self.env = {**os.environ, **(env or {})}

    def __enter__(self):
        self.process = subprocess.Popen(self.line, cwd=self.cwd, env=self.env, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        # The address comes through a pipe at once, or a script could not use it.
        ready, _, _ = select.select([self.process.stdout], [], [], SECONDS)
        self.address = self.process.stdout.readline().strip() if ready else ""
        found = re.fullmatch(r"http://127\.0\.0\.1:(\d+)/", self.address)
        if not found:
            self.process.kill()
            raise AssertionError(f"no address: {self.address!r} {self.process.communicate()[1]}")
        self.port = int(found[1])
        self.host = f"127.0.0.1:{self.port}"
        return self

    def __exit__(self, *_):
        self.end()

    def end(self, by=signal.SIGINT):
        """The exit code after the signal."""
        if self.process.poll() is None:
            self.process.send_signal(by)
        self.process.communicate(timeout=SECONDS)
        return self.process.returncode

    def connect(self):
        return Connection(self.port)

    def head(self, method, target, **headers):
        """The head of a request, as bytes: `Host`, and what is given, with `_` for `-`."""
        every = {"Host": self.host, **{key.replace("_", "-"): headers[key] for key in headers}}
        lines = [f"{method} {target} HTTP/1.1"]
        lines += [f"{name}: {value}" for name, value in every.items() if value is not None]
        return ("\r\n".join(lines) + "\r\n\r\n").encode("latin-1")

    def ask(self, method, target, body=b"", **headers):
        if isinstance(body, str):
            body = body.encode("utf-8")
        if body or method == "POST":
            headers.setdefault("Content_Length", len(body))
        with self.connect() as one:
            one.send(self.head(method, target, **headers) + body)
            return one.read(has_body=method != "HEAD")

    def get(self, target, **headers):
        return self.ask("GET", target, **headers)

    def post(self, target, body, **headers):
        return self.ask("POST", target, body, **headers)

    def raw(self, data):
        """The first answer to these bytes, or None where the desk closes without one."""
        with self.connect() as one:
            one.send(data)
            one.socket.shutdown(socket.SHUT_WR)
            try:
                return one.read()
            except (EOFError, ConnectionResetError):
                return None


def started(testcase, *options):
    """A desk for all tests of a class, on any free port."""
    one = Desk(*(options or ("--port", "0"))).__enter__()
    testcase.addClassCleanup(one.end)
    return one
