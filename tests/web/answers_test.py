"""The program in a browser answers as the program does that is installed here, byte for byte.

Both are asked the same: every file of the page, and every route of the desk for every starter job and every
construction, and the checks and edits of every bad job of the error corpus. The first runs in node, from
the build of the preset `web`; the second is the desk.

POUCHWRIGHT_WEB names the first (pouchwright.js), NODE what runs it.
"""

import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest

HERE = pathlib.Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent / "desk"))
import desk  # noqa: E402

PROGRAM = os.environ["POUCHWRIGHT_WEB"]
NODE = os.environ.get("NODE", "node")

# Every command, what it makes, and what is for a screen only; a form of each, and options of each kind.
ROUTES = (
    "check", "check?names=words", "size", "size?units=in", "size?form=text", "size?form=said",
    "size?liners=2", "savings", "savings?form=text", "lay", "lay?form=said", "lay/lay.pdf", "lay/lay.svg",
    "supplies", "supplies/supplies.csv", "supplies/supplies.pdf", "schedule", "schedule/schedule.pdf",
    "schedule/schedule.svg", "steps", "steps/steps.pdf", "steps/steps.svg", "steps/pouch.svg?picture=finished",
    "steps/pouch.svg?picture=wordless", "template", "template/template.pdf", "template/template.svg",
    "template/template.pdf?paper=A3", "template/template.pdf?square=49.5x50.2", "template/template.pdf?units=in",
    "mask", "mask/mask.pdf", "packet", "packet/packet.pdf", "packet/packet.pdf?lines=cut", "range?liners=1,2",
    "range/range.pdf?liners=1,2", "edit", "edit?pouch.flap=90+mm&with=panel", "edit?pouch.width=7+1/2+in",
    "edit?liners.count=x", "several?of=size&of=lay&of=mask%2Fmask.pdf", "svg.zip", "folding", "folding/2.svg?at=0.4",
    "pages/packet.pdf", "pages/packet.pdf/1.png", "pages/packet.pdf/3.png", "explain", "nothing", "size/none.pdf",
    "size?units=miles",
)
ODD_JOBS = {
    "letters": 'construction = "gusset"\ntitle = "Größe <7½\\" & more> шов Ω"\n',
    "arabic": 'construction = "foldover"\ntitle = "جيب (A4) ٣ مم"\n',
    "hindi": 'construction = "foldover"\ntitle = "मोड़ 12 mm क्ष fold"\n',
    "box": 'construction = "foldover"\ntitle = "袋 a 🧵"\n',
    "inches": 'construction = "foldover"\nunits = "in"\n[pouch]\nwidth = "7 1/2 in"\n'
              'depth = "6½\\""\n[paper]\nsize = "Letter"\n',
    "empty": "",
}
ODD_ROUTES = ("check", "size?form=text", "template/template.pdf", "template/template.svg", "packet/packet.pdf",
              "pages/packet.pdf/1.png", "edit")


def jobs():
    """Name -> text: the starter jobs, and each construction with its own sizes."""
    found = {}
    for path in sorted((desk.TOP / "patterns").glob("*.toml")):
        text = path.read_text(encoding="utf-8")
        is_job = re.search(r"(?m)^construction\s*=", text)
        found[path.stem] = text if is_job else f'construction = "{path.stem}"\n'
    return found


def site():
    """What the page is made of."""
    page = desk.TOP / "src/desk/page"
    files = [f"/{path.name}" for path in sorted(page.iterdir()) if path.suffix in (".css", ".mjs", ".js", ".svg")]
    return ["/", *files]


def error_jobs():
    return {path.stem: path.read_bytes() for path in sorted((desk.TOP / "tests/errors").glob("*.toml"))}


class Answers(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.desk = desk.started(cls)

    def hold_alike(self, asked):
        """Asks both; `asked` is a list of (method, target, body)."""
        self.assertGreater(len(asked), 0)
        with tempfile.TemporaryDirectory() as made:
            folder = pathlib.Path(made)
            rows = []
            for number, (method, target, body) in enumerate(asked):
                (folder / f"{number}.body").write_bytes(body)
                rows.append({"method": method, "target": target, "body": f"{number}.body"})
            (folder / "asked.json").write_text(json.dumps(rows), encoding="utf-8")
            subprocess.run([NODE, HERE / "ask.cjs", PROGRAM, folder], check=True, timeout=3000)
            for number, (method, target, body) in enumerate(asked):
                answer = self.desk.ask(method, target, body)
                head, found = (folder / f"{number}.answer").read_bytes().split(b"\n", 1)
                with self.subTest(target, body=body[:80]):
                    self.assertEqual(head.decode(), f"{answer.status} {answer.headers['content-type']}")
                    self.assertTrue(found == answer.body, f"{len(found)} bytes and {len(answer.body)}")

    def test_the_page_is_made_of_the_same(self):
        self.hold_alike([("GET", target, b"") for target in site()])

    def test_every_route_for_every_starter_job_and_construction(self):
        self.assertGreater(len(jobs()), 8)
        for name, text in jobs().items():
            with self.subTest(name):
                self.hold_alike([("POST", f"/api/{route}", text.encode()) for route in ROUTES])

    def test_letters_of_other_scripts_and_of_none(self):
        self.hold_alike([("POST", f"/api/{route}", text.encode()) for text in ODD_JOBS.values()
                         for route in ODD_ROUTES])

    def test_every_bad_job_is_told_alike(self):
        self.assertGreater(len(error_jobs()), 100)
        self.hold_alike([("POST", f"/api/{route}", body) for body in error_jobs().values()
                         for route in ("check", "edit")])


if __name__ == "__main__":
    unittest.main()
