"""The desk's server against senders of every kind.

Sources: RFC 9110 (methods, status codes, Expect), RFC 9112 (framing, pipelining, Host), the Fetch and
Content Security Policy standards (Origin, Sec-Fetch-Site, policies). The limits are the desk's own.
"""

import contextlib
import os
import pathlib
import random
import shutil
import signal
import socket
import subprocess
import tempfile
import time
import unittest

import desk

JOB = 'construction = "foldover"\n'


class Http(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.desk = desk.started(cls)

    # ---- What is served ----

    def test_the_page_forbids_everything_from_elsewhere(self):
        answer = self.desk.get("/")
        self.assertEqual(answer.status, 200)
        policy = answer.headers["content-security-policy"]
        self.assertIn("default-src 'none'", policy)
        self.assertIn("script-src 'self'", policy)
        self.assertIn("frame-ancestors 'none'", policy)
        self.assertNotIn("unsafe", policy)
        self.assertEqual(answer.headers["referrer-policy"], "same-origin")
        self.assertNotIn("access-control-allow-origin", answer.headers)

    def test_the_page_speaks_the_language_that_is_wanted_most(self):
        # RFC 9110, 12.5.4; RFC 4647, 3.4 for tags that are longer than what there is.
        for wanted, language, direction in (("es-MX,es;q=0.9,en;q=0.5", "es", "ltr"), ("xx, ar;q=0.3, de;q=0.2", "ar", "rtl"),
                                            ("en;q=0.4,fr-CA;q=0.8", "fr", "ltr"), ("xx", "en", "ltr"),
                                            ("de;q=0", "en", "ltr"), (",;q=,de;q=x", "en", "ltr")):
            body = self.desk.get("/", Accept_Language=wanted).body.decode()
            self.assertIn(f'<html lang="{language}" dir="{direction}">', body, wanted)
        # What the address names comes before.
        body = self.desk.get("/?language=hi", Accept_Language="de").body.decode()
        self.assertIn('<html lang="hi" dir="ltr">', body)
        self.assertIn('<option value="hi" lang="hi" selected>', body)

    def test_every_answer_carries_the_policy(self):
        for answer in (self.desk.get("/nothing"), self.desk.post("/api/size", JOB),
                       self.desk.post("/api/template/template.svg", JOB),
                       self.desk.ask("DELETE", "/")):
            self.assertIn("default-src 'none'", answer.headers["content-security-policy"])
            self.assertEqual(answer.headers["x-content-type-options"], "nosniff")

    def test_head_is_get_without_the_body(self):
        for path in ("/", "/desk.css", "/picture/foldover.svg"):
            with self.desk.connect() as one:
                one.send(self.desk.head("HEAD", path) + self.desk.head("GET", path))
                head, get = one.read(has_body=False), one.read()
            self.assertEqual(head.status, 200)
            self.assertEqual(head.headers, get.headers)

    def test_unknown_methods_are_refused_and_the_known_ones_named(self):
        for method in ("PUT", "DELETE", "OPTIONS", "PATCH", "TRACE", "BREW"):
            answer = self.desk.ask(method, "/")
            self.assertEqual((method, answer.status), (method, 405))
            self.assertEqual(answer.headers["allow"], "GET, HEAD, POST")
        self.assertEqual(self.desk.post("/", "").headers["allow"], "GET, HEAD")
        for target in ("/api/size", "/print"):
            self.assertEqual(self.desk.get(target).headers["allow"], "POST")

    def test_only_the_loopback_is_bound(self):
        wanted = f"{self.desk.port:04X}"
        rows = [line.split() for line in
                pathlib.Path("/proc/net/tcp").read_text(encoding="ascii").splitlines()[1:]]
        listening = [row[1] for row in rows if row[3] == "0A" and row[1].endswith(":" + wanted)]
        self.assertEqual(listening, [f"0100007F:{wanted}"])

    # ---- Who may ask ----

    def test_another_host_is_refused(self):
        port = self.desk.port
        for host in ("desk.example", f"desk.example:{port}", "127.0.0.1", f"127.0.0.1:{port + 1}",
                     f"127.0.0.1:{port}.example", f"[::1]:{port}", ""):
            for method, target in (("GET", "/"), ("POST", "/api/size")):
                answer = self.desk.ask(method, target, Host=host)
                self.assertEqual((host, answer.status), (host, 421))
        self.assertEqual(self.desk.get("/", Host=f"localhost:{port}").status, 200)

    def test_no_host_and_two_hosts_are_refused(self):
        self.assertEqual(self.desk.get("/", Host=None).status, 400)
        twice = f"GET / HTTP/1.1\r\nHost: {self.desk.host}\r\nHost: {self.desk.host}\r\n\r\n"
        self.assertEqual(self.desk.raw(twice.encode()).status, 400)

    def test_a_foreign_page_cannot_drive_the_desk(self):
        own = f"http://{self.desk.host}"
        for origin in ("http://desk.example", "null", f"https://{self.desk.host}",
                       f"http://127.0.0.1:{self.desk.port + 1}", own + ".example", own + "/", ""):
            for target in ("/api/size", "/print"):
                answer = self.desk.post(target, JOB, Origin=origin)
                self.assertEqual((origin, answer.status), (origin, 403))
        self.assertEqual(self.desk.post("/api/size", JOB, Origin=own).status, 200)

    def test_what_a_browser_says_of_the_asking_page_counts_too(self):
        for site, status in (("cross-site", 403), ("same-site", 403), ("same-origin", 200),
                             ("none", 200)):
            answer = self.desk.post("/api/size", JOB, Sec_Fetch_Site=site)
            self.assertEqual((site, answer.status), (site, status))
        # A link to the page may stand anywhere.
        self.assertEqual(self.desk.get("/", Sec_Fetch_Site="cross-site").status, 200)

    # ---- Limits ----

    def test_a_body_of_1_mib_is_taken_and_one_byte_more_is_not(self):
        job = (JOB + "# a line of a comment\n" * 60_000)[:1024 * 1024 - 1] + "\n"
        # A job so long is refused by its reader, in words; a body beyond the limit is not read at all.
        self.assertEqual(self.desk.post("/api/size", job[:64 * 1024 - 1] + "\n").status, 200)
        self.assertEqual(self.desk.post("/api/size", job).status, 422)
        self.assertEqual(self.desk.post("/api/size", job + "\n").status, 413)

    def test_a_large_body_is_refused_before_it_is_sent(self):
        with self.desk.connect() as one:
            one.send(self.desk.head("POST", "/api/size", Content_Length=10**12))
            self.assertEqual(one.read().status, 413)

    def test_a_large_body_on_its_way_does_not_hide_the_refusal(self):
        self.assertEqual(self.desk.post("/api/size", JOB + "\n" * 1_900_000).status, 413)

    def sent_in_chunks(self, kib):
        pieces = [JOB.encode()] + [b"#" * 1023 + b"\n"] * kib + [b""]
        data = b"".join(b"%x\r\n%s\r\n" % (len(piece), piece) for piece in pieces)
        with self.desk.connect() as one:
            one.send(self.desk.head("POST", "/api/size", Transfer_Encoding="chunked") + data)
            return one.read().status

    def test_a_body_in_chunks_keeps_to_the_limit(self):
        self.assertEqual(self.sent_in_chunks(60), 200)
        self.assertEqual(self.sent_in_chunks(1000), 422)
        self.assertEqual(self.sent_in_chunks(1024), 413)

    def test_a_head_over_16_kib_is_refused(self):
        self.assertEqual(self.desk.get("/", X="x" * 15_000).status, 200)
        self.assertEqual(self.desk.get("/", X="x" * 17_000).status, 431)
        self.assertEqual(self.desk.get("/" + "x" * 17_000).status, 431)

    def test_slow_senders_are_timed_out(self):
        begun = time.monotonic()
        with self.desk.connect() as silent, self.desk.connect() as head, \
                self.desk.connect() as body:
            head.send(b"GET / HTTP/1.1\r\n")
            body.send(self.desk.head("POST", "/api/size", Content_Length=100) + b"constr")
            for _ in range(3):  # a byte now and then does not help
                time.sleep(1)
                head.send(b"X")
                body.send(b"x")
            for one in (silent, head, body):
                self.assertTrue(one.is_closed(5))
        self.assertLess(time.monotonic() - begun, 8)

    def test_the_33rd_connection_is_refused_and_served_when_another_leaves(self):
        self.assertTrue(within(5, lambda: self.desk.get("/icon.svg").status == 200))
        held = []
        try:
            for _ in range(32):
                held.append(self.desk.connect())
                held[-1].send(self.desk.head("GET", "/icon.svg"))
                self.assertEqual(held[-1].read().status, 200)
            with self.desk.connect() as further:
                self.assertEqual(further.read().status, 503)
            held.pop().socket.close()
            self.assertTrue(within(5, lambda: self.desk.get("/icon.svg").status == 200))
        finally:
            for one in held:
                one.socket.close()
        self.assertTrue(within(5, lambda: self.desk.get("/icon.svg").status == 200))

    # ---- Framing ----

    def test_truncated_requests_get_no_work_done(self):
        for data in (b"", b"G", b"GET / HTTP/1.1", b"GET / HTTP/1.1\r\nHost: x\r\n",
                     self.desk.head("POST", "/api/size", Content_Length=100) + b"constr",
                     self.desk.head("POST", "/api/size", Transfer_Encoding="chunked") + b"5\r\nab"):
            answer = self.desk.raw(data)
            self.assertIn(answer and answer.status, (None, 400), data)
        self.assertEqual(self.desk.get("/").status, 200)

    def test_bytes_that_are_no_request_are_refused(self):
        for data in (b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03", b"\0" * 100, b"GET\r\n\r\n",
                     b"GET / HTTP/9.9\r\n\r\n", b"GET / HTTP/1.1\r\nHost 127.0.0.1\r\n\r\n",
                     b"GET / HTTP/1.1\r\nHost: a\r\nContent-Length: -1\r\n\r\n",
                     b"GET / HTTP/1.1\r\nHost: a\r\nContent-Length: 1\r\nContent-Length: 2\r\n\r\n",
                     self.desk.head("POST", "/api/size", Transfer_Encoding="chunked") + b"zz\r\n"):
            answer = self.desk.raw(data)
            self.assertEqual(answer and answer.status, 400, data)

    def test_requests_with_bytes_changed_lose_nothing(self):
        sound = self.desk.head("POST", "/api/size?units=in", Content_Length=len(JOB)) + JOB.encode()
        chance = random.Random(8)
        for _ in range(300):
            data = bytearray(sound)
            for _ in range(chance.randint(1, 4)):
                at = chance.randrange(len(data))
                if chance.random() < 0.3:
                    del data[at:at + chance.randint(1, 20)]
                else:
                    data[at:at + 1] = bytes(chance.choices(range(256), k=chance.randint(1, 3)))
            answer = self.desk.raw(bytes(data))
            self.assertIn(answer and answer.status, (None, 200, 400, 403, 404, 405, 413, 421, 422),
                          bytes(data))
        self.assertEqual(self.desk.post("/api/size", JOB).status, 200)

    def test_pipelined_requests_are_answered_in_order(self):
        jobs = [JOB + f"[pouch]\nwidth = {150 + i}\n" for i in range(20)]
        with self.desk.connect() as one:
            for job in jobs:
                one.send(self.desk.head("POST", "/api/size", Content_Length=len(job)) + job.encode())
            one.send(self.desk.head("GET", "/icon.svg"))
            answers = [one.read() for _ in jobs]
            self.assertEqual(one.read().headers["content-type"], "image/svg+xml")
        for i, answer in enumerate(answers):
            self.assertIn(f'"width_mm": {150 + i}.0', answer.text)

    def test_a_sender_that_waits_for_leave_gets_it(self):
        with self.desk.connect() as one:
            one.send(self.desk.head("POST", "/api/size", Content_Length=len(JOB),
                                    Expect="100-continue"))
            self.assertEqual(one.read().status, 100)
            one.send(JOB.encode())
            self.assertEqual(one.read().status, 200)

    def test_an_old_client_is_served_and_let_go(self):
        with self.desk.connect() as one:
            one.send(f"GET /icon.svg HTTP/1.0\r\nHost: {self.desk.host}\r\n\r\n".encode())
            self.assertEqual(one.read().status, 200)
            self.assertTrue(one.is_closed(3))

    def test_those_who_leave_early_do_no_harm(self):
        for _ in range(40):
            with self.desk.connect() as one:
                one.send(self.desk.head("POST", "/api/mask", Content_Length=len(JOB)) + JOB.encode())
        self.assertTrue(within(10, lambda: self.desk.get("/icon.svg").status == 200))
        self.assertEqual(self.desk.post("/api/size", JOB).status, 200)


class Program(unittest.TestCase):
    """The command around the server."""

    def test_interrupted_it_leaves_with_0(self):
        for by in (signal.SIGINT, signal.SIGTERM):
            with desk.Desk("--port", "0") as one, one.connect() as held:
                held.send(b"GET /")
                self.assertEqual(one.end(by), 0)

    def test_without_a_port_the_next_free_one_is_taken(self):
        with desk.Desk() as first, desk.Desk() as second:
            self.assertGreater(second.port, first.port)
            self.assertGreaterEqual(first.port, 8460)
            self.assertEqual(second.get("/icon.svg").status, 200)

    def test_with_no_port_free_it_says_so(self):
        with contextlib.ExitStack() as taken:
            for port in range(8460, 8480):
                with contextlib.suppress(OSError):  # another's, and as much in the way
                    taken.enter_context(socket.create_server(("127.0.0.1", port)))
            done = subprocess.run([desk.PROGRAM, "desk"], capture_output=True, text=True,
                                  timeout=desk.SECONDS, check=False)
        self.assertEqual((done.returncode, done.stdout), (3, ""))
        self.assertIn("hint: ", done.stderr)

    def test_open_hands_the_address_to_the_desktop(self):
        with tempfile.TemporaryDirectory() as name:
            folder = pathlib.Path(name)
            opener = folder / "xdg-open"
            opener.write_text(f'#!/bin/sh\necho "$@" > {folder}/new && mv {folder}/new {folder}/got\n')
            opener.chmod(0o755)
            with desk.Desk("--port", "0", "--open", env={"PATH": f"{folder}:/usr/bin:/bin"}) as one:
                self.assertTrue(within(5, (folder / "got").exists))
                self.assertEqual((folder / "got").read_text(encoding="ascii"), one.address + "\n")

    def test_open_without_a_desktop_says_so_and_serves(self):
        with desk.Desk("--port", "0", "--open", env={"PATH": "/nowhere"}) as one:
            self.assertIn("open the address yourself", one.process.stdout.readline())
            self.assertEqual(one.get("/icon.svg").status, 200)

    def test_a_given_port_in_use_is_an_error(self):
        with socket.create_server(("127.0.0.1", 0)) as taken:
            port = taken.getsockname()[1]
            done = subprocess.run([desk.PROGRAM, "desk", "--port", str(port)], capture_output=True,
                                  text=True, timeout=desk.SECONDS, check=False)
        self.assertEqual((done.returncode, done.stdout), (3, ""))
        self.assertIn(f"port {port} ", done.stderr)
        self.assertIn("hint: ", done.stderr)

    def test_ports_that_are_none_are_refused(self):
        for port in ("-1", "65536", "http", "80x"):
            done = subprocess.run([desk.PROGRAM, "desk", "--port", port], capture_output=True,
                                  timeout=desk.SECONDS, check=False)
            self.assertEqual((port, done.returncode), (port, 2))

    def test_own_data_at_fault_is_told_before_it_serves(self):
        with tempfile.TemporaryDirectory() as folder:
            for name in ("patterns", "shared", "fonts"):
                shutil.copytree(desk.TOP / name, f"{folder}/{name}")
            pathlib.Path(folder, "fonts/pinned.txt").write_text("", encoding="ascii")
            done = subprocess.run([desk.PROGRAM, "desk", "--port", "0"], capture_output=True,
                                  text=True, timeout=desk.SECONDS, check=False,
                                  env={**os.environ, "POUCHWRIGHT_DATA": folder})
        self.assertEqual((done.returncode, done.stdout), (3, ""))
        self.assertIn("error: ", done.stderr)

    def test_nothing_is_written(self):
        with tempfile.TemporaryDirectory() as folder, desk.Desk("--port", "0", cwd=folder) as one:
            for target in ("check", "size", "template", "mask", "lay", "savings", "svg.zip",
                           "template/template.pdf", "mask/mask.pdf", "lay/lay.pdf"):
                self.assertEqual(one.post("/api/" + target, JOB).status, 200, target)
            self.assertEqual(os.listdir(folder), [])
            descriptors = pathlib.Path(f"/proc/{one.process.pid}/fd")
            opened = [os.readlink(one_of) for one_of in descriptors.iterdir()]
            self.assertEqual([path for path in opened
                              if path.startswith("/") and not path.startswith("/dev/")], [])


def within(seconds, holds):
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        try:
            if holds():
                return True
        except (EOFError, ConnectionError):
            pass
        time.sleep(0.05)
    return False


if __name__ == "__main__":
    unittest.main()
