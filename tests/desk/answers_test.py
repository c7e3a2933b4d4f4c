"""Every answer of the desk is the command's: the reports of --json and the bytes of the files.

The jobs are the sample, gusset and inch jobs, and every bad job of the error corpus (tests/errors)
that names no file; one that does is refused here, and the command's answer is its own affair.
"""

import io
import json
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import unittest
import urllib.parse
import zipfile

import desk

sys.path.insert(0, str(desk.TOP / "tests" / "errors"))
import run_errors  # noqa: E402

JOBS = {
    "sample": (desk.TOP / "patterns/heron-quay.toml").read_text(encoding="utf-8"),
    "gusset": 'construction = "gusset"\ntitle = "Größe <7½\\" & more>"\n[batch]\npouches = 12\n',
    "inches": 'construction = "foldover"\nunits = "in"\n[pouch]\nwidth = "7 1/2 in"\n'
              'depth = "6½\\""\n[paper]\nsize = "Letter"\n',
}
REPORTS = ("check", "size", "template", "mask", "savings", "lay", "supplies", "schedule", "steps",
           "packet")
# What --out is for a command: a folder, or a file of that name.
FILES = {"template": "", "mask": "", "lay": "lay.svg", "supplies": "supplies.csv", "schedule": "schedule.svg",
         "steps": "steps.svg", "packet": "packet.pdf"}
# A value that a job reads from another file.
NAMES_A_FILE = re.compile(r'^\s*(construction|laminate|outer)\s*=\s*["\'][^"\']*/', re.MULTILINE)


class Answers(unittest.TestCase):
    maxDiff = None

    @classmethod
    def setUpClass(cls):
        cls.desk = desk.started(cls)

    def setUp(self):
        made = tempfile.TemporaryDirectory()
        self.addCleanup(made.cleanup)
        self.folder = pathlib.Path(made.name)

    def commanded(self, command, job, *options):
        """The command on the same job, under the name that the desk has for it."""
        data = job if isinstance(job, bytes) else job.encode("utf-8")
        (self.folder / "job.toml").write_bytes(data)
        return subprocess.run([desk.PROGRAM, command, "job.toml", *options, "--json", "--quiet"],
                              cwd=self.folder, capture_output=True, timeout=60, check=False)

    def test_reports_are_those_of_the_commands(self):
        for name, job in JOBS.items():
            for command in REPORTS:
                with self.subTest(name, command=command):
                    done = self.commanded(command, job)
                    self.assertEqual(done.returncode, 0, done.stderr)
                    answer = self.desk.post(f"/api/{command}", job)
                    self.assertEqual(answer.status, 200)
                    self.assertEqual(answer.body, done.stdout)

    def test_options_are_those_of_the_commands(self):
        for query, options in (
                ("units=in", ["--units", "in"]), ("paper=A3", ["--paper", "A3"]),
                ("square=49.5x50.2", ["--printed-square", "49.5x50.2"]),
                ("liners=2", ["--liners", "2"]),
                ("set=pouch.width%3D7+1/2+in&set=pouch.flap%3D80", ["--set", "pouch.width=7 1/2 in",
                                                                    "--set", "pouch.flap=80"])):
            with self.subTest(query):
                done = self.commanded("template", JOBS["sample"], *options)
                self.assertEqual(done.returncode, 0, done.stderr)
                answer = self.desk.post(f"/api/template?{query}", JOBS["sample"])
                self.assertEqual(answer.body, done.stdout)

    def test_a_record_is_sent_as_its_text(self):
        record = (desk.TOP / "patterns/heron-quay-record.csv").read_text(encoding="utf-8")
        short = "".join(record.splitlines(keepends=True)[:8])
        (self.folder / "record.csv").write_text(short, encoding="utf-8")
        done = self.commanded("record", JOBS["sample"], "record.csv")
        self.assertEqual(done.returncode, 0, done.stderr)
        query = urllib.parse.urlencode({"record": short})
        answer = self.desk.post(f"/api/record?{query}", JOBS["sample"])
        self.assertEqual(answer.status, 200, answer.body)
        self.assertEqual(answer.body, done.stdout)

    def test_a_record_goes_with_the_job_where_it_is_long(self):
        record = (desk.TOP / "patterns/heron-quay-record.csv").read_text(encoding="utf-8")
        (self.folder / "record.csv").write_text(record, encoding="utf-8")
        done = self.commanded("record", JOBS["sample"], "record.csv", "--out", "record.svg")
        self.assertEqual(done.returncode, 0, done.stderr)
        body = urllib.parse.urlencode({"job": JOBS["sample"], "record": record})
        report = self.desk.post("/api/record?sent=fields", body)
        self.assertEqual(report.status, 200, report.body)
        told = self.commanded("record", JOBS["sample"], "record.csv")
        self.assertEqual(report.body, told.stdout)
        drawn = self.desk.post("/api/record/record.svg?sent=fields", body)
        self.assertEqual(drawn.body, (self.folder / "record.svg").read_bytes())
        both = self.desk.post("/api/several?of=record&of=record/record.svg&sent=fields", body)
        for part in (report.body, drawn.body):
            self.assertIn(part, both.body)
        self.assertEqual(self.desk.post("/api/record?sent=fields", "job=%zz").status, 400)

    def test_a_job_takes_what_its_record_shows(self):
        record = (desk.TOP / "patterns/heron-quay-record.csv").read_text(encoding="utf-8")
        (self.folder / "record.csv").write_text(record, encoding="utf-8")
        done = self.commanded("record", JOBS["sample"], "record.csv", "--apply")
        self.assertEqual(done.returncode, 0, done.stderr)
        body = urllib.parse.urlencode({"job": JOBS["sample"], "record": record})
        made = self.desk.post("/api/record/job-recorded.toml?sent=fields&apply=record", body)
        self.assertEqual(made.body, (self.folder / "job-recorded.toml").read_bytes())

    def test_a_record_that_is_not_there_yet_tells_what_a_row_may_be_about(self):
        report = json.loads(self.desk.post("/api/record", JOBS["sample"]).body)
        self.assertEqual((report["tested"], report["share"]), (0, None))
        names = {one["operation"]: one["name"] for one in report["operations"]}
        self.assertIn("test", names)
        self.assertTrue(all(names.values()), names)

    def test_what_is_said_to_people_comes_with_the_same_report(self):
        for command in REPORTS:
            with self.subTest(command):
                report = json.loads(self.desk.post(f"/api/{command}?form=said", JOBS["inches"]).body)
                told = [cell for block in report.pop("said") for line in block["lines"] for cell in line["cells"]]
                self.assertEqual(report, json.loads(self.commanded(command, JOBS["inches"]).stdout))
                text = self.desk.post(f"/api/{command}?form=text", JOBS["inches"]).body.decode()
                # What makes pages tells people of nothing but its files.
                self.assertEqual(bool(told), command not in ("template", "mask", "packet"))
                for cell in told:
                    self.assertIn(cell, text)

    def test_the_picture_of_the_finished_pouch_is_the_command_s(self):
        for name, option in (("finished", "--finished"), ("wordless", "--wordless")):
            self.commanded("steps", JOBS["gusset"], option, "-o", "pouch.svg")
            answer = self.desk.post(f"/api/steps/pouch.svg?picture={name}", JOBS["gusset"])
            self.assertEqual(answer.body, (self.folder / "pouch.svg").read_bytes())
            self.assertNotEqual(answer.body, self.desk.post("/api/steps/pouch.svg", JOBS["gusset"]).body)

    def test_an_edit_comes_with_the_pictures_that_the_commands_make(self):
        for name, job in JOBS.items():
            with self.subTest(name):
                answer = self.desk.post("/api/edit?pouch.flap=90+mm&with=panel", job)
                self.assertEqual(answer.status, 200)
                parts = desk.parts_of(answer)
                self.assertEqual(list(parts), ["told", "pouch", "panel"])
                told = json.loads(parts["told"])
                self.assertIn("90 mm", told["job"])
                # It names values as people do, which the command, whose reader has the file, does not.
                check = json.loads(self.desk.post("/api/check?names=words", told["job"]).body)
                self.assertEqual(told["report"], check)
                # What is placed on the picture stands on it.
                width, height = told["pouch"]["width"], told["pouch"]["height"]
                box = re.search(rb'viewBox="0 0 (\S+) (\S+)"', parts["pouch"])
                self.assertAlmostEqual(float(box[1]), width, places=2)
                self.assertAlmostEqual(float(box[2]), height, places=2)
                self.commanded("template", told["job"], "-o", "template")
                # Words and arrow stand where the pages' joins leave room; a preview has no pages.
                printed = (self.folder / "template/template.svg").read_bytes()
                for group in (b"cut", b"fold", b"seam", b"seal", b"notch"):
                    found = re.compile(rb'<g id="' + group + rb'">.*?</g>', re.DOTALL)
                    lines = found.findall(printed)
                    self.assertGreater(len(lines), 0)
                    self.assertEqual(found.findall(parts["panel"]), lines)

    def test_several_answers_in_one_are_those_of_the_commands(self):
        for name, job in JOBS.items():
            with self.subTest(name):
                answer = self.desk.post("/api/several?of=size&of=lay&of=mask%2Fmask.pdf", job)
                parts = desk.parts_of(answer)
                self.assertEqual(json.loads(parts["status"]), {"size": 200, "lay": 200, "mask/mask.pdf": 200})
                for command in ("size", "lay"):
                    self.assertEqual(parts[command], self.commanded(command, job).stdout)
                self.commanded("mask", job, "-o", "mask")
                self.assertEqual(parts["mask/mask.pdf"], (self.folder / "mask/mask.pdf").read_bytes())

    def test_a_page_is_answered_in_its_language(self):
        # One question, several in one, an edit, a form without scripts; what is asked next has none again.
        job = JOBS["sample"]
        english, german = (self.desk.post(f"/api/edit?pouch.width=wide&tongue={tag}", job) for tag in ("en", "de"))
        told = [json.loads(one.body)["report"]["errors"][0]["message"] for one in (english, german)]
        self.assertNotEqual(*told)
        self.assertIn("Fertige", self.desk.post("/api/size?form=text&tongue=de", job).body.decode())
        parts = desk.parts_of(self.desk.post("/api/several?of=check&of=size&names=words&tongue=de", job))
        self.assertEqual(json.loads(parts["status"]), {"check": 200, "size": 200})
        plain = self.desk.post("/api/edit?pouch.width=wide", job)
        self.assertEqual(json.loads(plain.body)["report"]["errors"][0]["message"], told[0])
        wrong = self.desk.post("/print", "make=template&tongue=de&pouch.width=wide",
                               Content_Type="application/x-www-form-urlencoded")
        self.assertIn('<html lang="de">', wrong.body.decode())

    def test_a_picture_of_the_pouch_is_the_same_in_every_language(self):
        # The page lays its fields on it.
        drawn = {tag: desk.parts_of(self.desk.post(f"/api/edit?tongue={tag}", JOBS["sample"])) for tag in ("en", "ar")}
        boxes = {re.search(rb'viewBox="([^"]+)"', one["pouch"])[1] for one in drawn.values()}
        self.assertEqual(len(boxes), 1)

    def test_an_edit_that_leaves_a_wrong_job_is_told_without_pictures(self):
        answer = self.desk.post("/api/edit?pouch.width=wide", JOBS["sample"])
        self.assertEqual((answer.status, answer.headers["content-type"]), (422, "application/json"))
        told = json.loads(answer.body)
        check = self.desk.post("/api/check?names=words", told["job"])
        self.assertEqual((check.status, told["report"]), (422, json.loads(check.body)))

    def test_a_day_of_several_jobs_is_no_job_to_edit(self):
        day = f"[[make]]\njob = \"A\"\ntext = \'\'\'\n{JOBS['inches']}\'\'\'\n"
        answer = self.desk.post("/api/edit?pouch.width=190+mm", day)
        self.assertEqual((answer.status, answer.headers["content-type"]), (422, "application/json"))
        told = json.loads(answer.body)
        self.assertEqual(told["job"], day)
        self.assertIn("several pouches", told["report"]["errors"][0]["message"])
        self.assertEqual(len(json.loads(self.desk.post("/api/check", day).body)["makes"]), 1)

    def files_of(self, command, job):
        """Name -> bytes of what the command writes."""
        shutil.rmtree(self.folder / command, ignore_errors=True)
        out = FILES[command]
        done = self.commanded(command, job, "-o", out or command)
        self.assertEqual(done.returncode, 0, done.stderr)
        made = [self.folder / out] if out else (self.folder / command).iterdir()
        return {path.name: path.read_bytes() for path in made}

    def test_files_are_those_of_the_commands(self):
        for name, job in JOBS.items():
            for command in FILES:
                files = self.files_of(command, job)
                self.assertTrue(files)
                for file, data in files.items():
                    with self.subTest(name, file=file):
                        answer = self.desk.post(f"/api/{command}/{file}", job)
                        self.assertEqual(answer.status, 200)
                        self.assertEqual(answer.body, data)

    def test_the_archive_holds_the_svg_files_of_template_and_cards(self):
        job = JOBS["sample"]
        files = self.files_of("template", job) | self.files_of("mask", job)
        expected = {name: data for name, data in files.items() if name.endswith(".svg")}
        answer = self.desk.post("/api/svg.zip", job)
        self.assertEqual(answer.headers["content-type"], "application/zip")
        self.assertEqual(answer.body, self.desk.post("/api/svg.zip", job).body)
        with zipfile.ZipFile(io.BytesIO(answer.body)) as archive:
            self.assertEqual({one.filename: archive.read(one) for one in archive.infolist()}, expected)
            self.assertEqual({one.date_time for one in archive.infolist()}, {(1980, 1, 1, 0, 0, 0)})

    def test_every_bad_job_is_answered_as_by_the_command(self):
        compared = 0
        for path in sorted((desk.TOP / "tests" / "errors").glob("*.toml")):
            job = path.read_text(encoding="utf-8")
            if NAMES_A_FILE.search(job):
                continue
            with self.subTest(path.name):
                compared += 1
                done = self.commanded("check", job)
                answer = self.desk.post("/api/check", job)
                self.assertEqual(answer.status, {0: 200, 1: 422}[done.returncode])
                self.assertEqual(answer.body, done.stdout)
        self.assertGreater(compared, 60)

    def test_files_that_are_no_job_are_answered_as_by_the_command(self):
        with tempfile.TemporaryDirectory() as name:
            made = pathlib.Path(name)
            run_errors.made_files(made)
            for file in ("junk", "zeros", "latin-1", "utf-16", "empty", "brackets", "dotted-key",
                         "dotted-header", "inline-tables", "five-thousand"):
                data = (made / f"{file}.toml").read_bytes()[:64 * 1024]
                with self.subTest(file):
                    done = self.commanded("check", data)
                    answer = self.desk.post("/api/check", data)
                    self.assertEqual((answer.status, answer.body), (422, done.stdout))

    def test_a_job_that_names_a_file_is_refused_at_that_place(self):
        for value in ("constructions/own.toml", "./own.toml", "/etc/passwd", "../job.toml"):
            answer = self.desk.post("/api/check", f'construction = "{value}"\n')
            self.assertEqual(answer.status, 422)
            [error] = json.loads(answer.body)["errors"]
            self.assertEqual(error["place"], {"file": "job.toml", "line": 1, "column": 16})

    def test_user_text_is_never_markup(self):
        job = 'construction = "foldover"\ntitle = "</title><script>alert(1)</script>"\n'
        for file in ("template/template.svg", "template/template-A1.svg", "lay/lay.svg"):
            answer = self.desk.post("/api/" + file, job)
            self.assertEqual(answer.status, 200)
            self.assertNotIn(b"<script", answer.body)
        wrong = self.desk.post("/print", "construction=%3Cscript%3E&make=template")
        self.assertIn(b"&lt;script&gt;", wrong.body)
        self.assertNotIn(b"<script", wrong.body)
        header = self.desk.post("/print", "construction=foldover&make=template%0d%0aX:+y")
        self.assertEqual(header.status, 400)
        self.assertNotIn("x", header.headers)


if __name__ == "__main__":
    unittest.main()
