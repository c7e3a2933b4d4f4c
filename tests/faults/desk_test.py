"""The desk on a machine at fault: nobody reads what it says, fonts and words are missing, the
surroundings are odd. What it cannot do it says before it serves; what it serves is the same
everywhere."""

import os
import pathlib
import select
import signal
import socket
import subprocess
import sys
import time
import unittest

import commands
import program
from commands import run, temporary_folder
from odd_machines import HOMES, LOCALES, Locales

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "desk"))

import desk  # noqa: E402  (the desk as a program, and HTTP by hand)

LINE = [program.PROGRAM, "desk", "--port", "0"]
ASKED = ("size", "packet/packet.pdf", "template/template.pdf", "schedule/schedule.svg", "svg.zip")


def a_free_port():
    with socket.create_server(("127.0.0.1", 0)) as taken:
        return taken.getsockname()[1]


def is_served(port):
    """Does anybody answer at this port within the time that all tests give?"""
    until = time.monotonic() + desk.SECONDS
    while time.monotonic() < until:
        try:
            with desk.Connection(port) as one:
                one.send(f"GET /icon.svg HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n\r\n".encode())
                return one.read().status == 200
        except ConnectionRefusedError:
            time.sleep(0.05)
    return False


class NobodyListens(unittest.TestCase):
    """The address is known to who gave the port, so the desk serves."""

    def assert_serves(self, before=(), **how):
        port = a_free_port()
        process = subprocess.Popen([*before, program.PROGRAM, "desk", "--port", str(port)],
                                   env=program.environment(), stdin=subprocess.DEVNULL, **how)
        try:
            self.assertTrue(is_served(port))
            process.send_signal(signal.SIGINT)
            self.assertEqual(process.wait(desk.SECONDS), 0)
        finally:
            process.kill()
            process.wait()

    def test_a_full_device(self):
        with open("/dev/full", "w", encoding="utf-8") as full:
            self.assert_serves(stdout=full, stderr=full)

    def test_closed(self):
        self.assert_serves(before=("sh", "-c", 'exec "$@" <&- >&- 2>&-', "sh"))

    def test_a_reader_who_has_gone(self):
        reader, writer = os.pipe()
        os.close(reader)
        try:
            self.assert_serves(stdout=writer, stderr=writer)
        finally:
            os.close(writer)


class Data(unittest.TestCase):
    def said_without(self, *parts):
        """What is said where a file of the data is missing: before anything is served."""
        with temporary_folder() as folder:
            environment = commands.with_data(folder)
            folder.joinpath(*parts).unlink()
            return self.said_in(environment)

    def said_in(self, environment):
        done = run(LINE, env=environment)
        self.assertEqual((done.returncode, done.stdout), (3, ""), done.stderr)
        self.assertIn("hint: ", done.stderr)
        return done.stderr

    def test_missing_files(self):
        for parts in (("shared", "words", "en.toml"), ("shared", "papers.toml"),
                      ("shared", "materials.toml"), ("fonts", "pinned.txt")):
            with self.subTest(parts[-1]):
                self.assertIn("/".join(parts) + ": error: ", self.said_without(*parts))

    def test_a_missing_font(self):
        with temporary_folder() as folder:
            environment = commands.with_data(folder)
            pinned = folder / "fonts" / "pinned.txt"
            pinned.write_text(f"regular | Noto Sans | {folder}/font.ttf | fonts-noto-core\n",
                              encoding="utf-8")
            self.assertIn("hint: install the package fonts-noto-core and try again",
                          self.said_in(environment))


class Surroundings(unittest.TestCase):
    def answers(self, **how):
        """Path -> body, of a desk that is started so."""
        job = program.SAMPLE.read_text(encoding="utf-8")
        with desk.Desk("--port", "0", **how) as one:
            made = {path: one.post(f"/api/{path}", job) for path in ASKED}
            made["/"] = one.get("/")
            for path, answer in made.items():
                self.assertEqual(answer.status, 200, path)
            return {path: answer.body for path, answer in made.items()}

    def test_odd_machines(self):
        locales = Locales()
        self.addCleanup(locales.remove)
        plain = self.answers()
        odd = dict(locales.environments())
        if not any(locales.works(one) for one in odd.values()):
            self.skipTest("no locale with a decimal comma: neither installed nor to be made")
        for name, environment in odd.items():
            if name not in LOCALES[:2]:
                continue
            with self.subTest(name), temporary_folder() as home:
                home.chmod(0o555)
                changed = {**environment, **dict.fromkeys(HOMES, str(home)),
                           "TZ": "Pacific/Chatham"}
                self.assertEqual(self.answers(env=changed, cwd="/"), plain)
                home.chmod(0o755)
                self.assertEqual(list(home.iterdir()), [], "files were left at home")

    def test_an_empty_environment(self):
        # But for what the sanitizers are told, where they are built in.
        told = {name: value for name, value in os.environ.items() if name.endswith("SAN_OPTIONS")}
        process = subprocess.Popen(LINE, env=told, stdout=subprocess.PIPE, text=True)
        try:
            ready, _, _ = select.select([process.stdout], [], [], desk.SECONDS)
            self.assertTrue(ready, "no address")
            port = int(process.stdout.readline().strip("/\n").rpartition(":")[2])
            self.assertTrue(is_served(port))
            process.send_signal(signal.SIGTERM)
            self.assertEqual(process.wait(desk.SECONDS), 0)
        finally:
            process.kill()
            process.communicate()


if __name__ == "__main__":
    unittest.main()
