"""Standard output and files that cannot be written: said in words, exit code 3, and the old files
are still there, whole."""

import os
import resource
import shutil
import subprocess
import unittest

import commands
import program
from commands import COMMANDS, INTO_FOLDERS, WRITERS, run, temporary_folder


class Refused(unittest.TestCase):
    """A test of what is said when the machine refuses."""

    def assert_refused(self, done, *words):
        """Exit code 3, one error in words, and a hint."""
        self.assertEqual(done.returncode, 3, done.stderr)
        for word in words:
            self.assertIn(word, done.stderr)
        self.assertEqual(done.stderr.count("error: "), 1, done.stderr)
        self.assertIn("hint: ", done.stderr)
        self.assertNotIn("[", done.stderr.split("error: ")[1], "a key in place of words")


class StandardOutput(Refused):
    def test_a_full_device(self):
        for command in COMMANDS:
            with self.subTest(command.name), temporary_folder() as folder, \
                    open("/dev/full", "w", encoding="utf-8") as full:
                done = run(command.line(out=command.out_in(folder)), stdout=full)
                self.assert_refused(done, "standard output: error: cannot be written: "
                                          "No space left on device")

    def test_closed(self):
        for command in COMMANDS:
            with self.subTest(command.name), temporary_folder() as folder:
                expected = folder / "expected"
                closed = folder / "closed"
                line = command.line(out=command.out_in(closed))
                done = run(["sh", "-c", 'exec "$@" >&-', "sh", *line])
                self.assert_refused(done, "standard output: error: cannot be written: "
                                          "Bad file descriptor")
                if command.writes:
                    # What is said to people must not have gone into a file.
                    run(command.line(out=command.out_in(expected)))
                    self.assertEqual(commands.contents(closed), commands.contents(expected))

    def test_all_three_streams_closed(self):
        for command in WRITERS:
            with self.subTest(command.name), temporary_folder() as folder:
                expected, closed = folder / "expected", folder / "closed"
                line = command.line(out=command.out_in(closed))
                done = run(["sh", "-c", 'exec "$@" <&- >&- 2>&-', "sh", *line])
                self.assertEqual(done.returncode, 3)
                run(command.line(out=command.out_in(expected)))
                self.assertEqual(commands.contents(closed), commands.contents(expected))

    def test_a_reader_who_has_gone_is_not_told(self):
        for command in COMMANDS:
            with self.subTest(command.name), temporary_folder() as folder:
                reader, writer = os.pipe()
                os.close(reader)
                try:
                    done = run(command.line(out=command.out_in(folder)), stdout=writer)
                finally:
                    os.close(writer)
                self.assertEqual(done.returncode, 3)
                self.assertNotIn("error: ", done.stderr)

    def test_standard_error_closed_changes_no_result(self):
        for command in COMMANDS:
            with self.subTest(command.name), temporary_folder() as folder:
                line = command.line(out=command.out_in(folder))
                done = run(["sh", "-c", 'exec "$@" 2>&-', "sh", *line])
                self.assertEqual((done.returncode, done.stdout), (0, run(line).stdout))


class Files(Refused):
    def assert_kept(self, folder, before):
        self.assertEqual(commands.contents(folder), before)
        self.assertEqual(commands.left_overs(folder), [])

    def test_a_read_only_folder(self):
        for command in WRITERS:
            with self.subTest(command.name), temporary_folder() as folder:
                shut = folder / "shut"
                run(command.line(out=command.out_in(shut)) if command.files
                    else ["mkdir", str(shut)])
                before = commands.contents(shut)
                shut.chmod(0o555)
                try:
                    done = run(command.line(out=command.out_in(shut), further=command.other),
                               preexec_fn=commands.bound_by_permissions())
                    self.assert_refused(done, "error: cannot be written: Permission denied")
                    self.assert_kept(shut, before)
                finally:
                    shut.chmod(0o755)

    def test_a_folder_that_cannot_be_made(self):
        for command in WRITERS:
            with self.subTest(command.name), temporary_folder() as folder:
                shut = folder / "shut"
                shut.mkdir(mode=0o555)
                done = run(command.line(out=command.out_in(shut / "new")),
                           preexec_fn=commands.bound_by_permissions())
                self.assert_refused(done, "shut/new: error: the folder cannot be made: "
                                          "Permission denied")

    def test_a_folder_where_a_file_is_to_be(self):
        for command in WRITERS:
            with self.subTest(command.name), temporary_folder() as folder:
                taken = command.made_in(folder)[-1]
                taken.mkdir()
                done = run(command.line(out=command.out_in(folder)))
                self.assert_refused(done, f"{taken.name}: error: is a folder, not a file")
                self.assertEqual(commands.contents(folder), {}, "files beside the folder")

    def test_a_file_where_a_folder_is_to_be(self):
        for command in INTO_FOLDERS:
            with self.subTest(command.name), temporary_folder() as folder:
                file = folder / "file"
                file.write_text("kept\n", encoding="utf-8")
                self.assert_refused(run(command.line(out=file)), "file: error: is not a folder")
                self.assertEqual(file.read_text(encoding="utf-8"), "kept\n")

    def test_a_full_device_behind_a_link(self):
        for command in WRITERS:
            with self.subTest(command.name), temporary_folder() as folder:
                made = command.made_in(folder)
                made[0].parent.mkdir(exist_ok=True)
                made[0].symlink_to("/dev/full")
                done = run(command.line(out=command.out_in(folder)))
                self.assert_refused(done, f"{made[0].name}: error: cannot be written: "
                                          "No space left on device")
                self.assertEqual([path for path in folder.rglob("*") if not path.is_dir()], [made[0]])
                self.assertTrue(made[0].is_char_device(), "the device was replaced")

    def test_a_file_larger_than_the_machine_allows(self):
        # setrlimit(2): a write beyond the limit sends SIGXFSZ, which ends a process that does not
        # ignore it; then the write fails with EFBIG.
        for command in WRITERS:
            with self.subTest(command.name), temporary_folder() as folder:
                line = command.line(out=command.out_in(folder))
                run(line)
                before = commands.contents(folder)
                done = run(command.line(out=command.out_in(folder), further=command.other),
                           preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (100, 100)),
                           stdout=subprocess.DEVNULL)
                self.assert_refused(done, "error: cannot be written: File too large")
                self.assert_kept(folder, before)

    def test_a_link_stays_a_link(self):
        for command in WRITERS:
            with self.subTest(command.name), temporary_folder() as folder:
                (folder / "elsewhere").mkdir()
                links = folder / "links"
                links.mkdir()
                for link in command.made_in(links):
                    goal = folder / "elsewhere" / link.name
                    goal.write_text("old\n", encoding="utf-8")
                    link.parent.mkdir(exist_ok=True)
                    link.symlink_to(goal)
                done = run(command.line(out=command.out_in(links)))
                self.assertEqual(done.returncode, 0, done.stderr)
                for link in command.made_in(links):
                    self.assertTrue(link.is_symlink())
                    self.assertNotEqual(link.read_bytes(), b"old\n")

    def test_the_job_itself(self):
        # Named as it is, and through a link: `size j.toml --json --out j.json` is soon mistyped.
        with temporary_folder() as folder:
            for name, words in (("job.json", ["size"]), ("job.pdf", ["packet"])):
                with self.subTest(name):
                    job = folder / name
                    text = program.SAMPLE.read_bytes()
                    job.write_bytes(text)
                    link = folder / f"link-{name}"
                    link.symlink_to(job)
                    for out in (job, link):
                        done = run([program.PROGRAM, *words, str(job), "--out", str(out)])
                        self.assertEqual(done.returncode, 2, done.stderr)
                        self.assertIn("is the job itself and would be lost", done.stderr)
                        self.assertEqual(job.read_bytes(), text)


class FullDisk(Refused):
    """A file system of 12 KiB, in a mount namespace of its own, so that it goes with the test."""

    SCRIPT = ('mount -t tmpfs -o size=12k tmpfs "$1" || exit 98; cd "$1"; shift; '
              'echo old > template.pdf; "$@"; status=$?; '
              'echo; ls -A; cat template.pdf; exit $status')

    @classmethod
    def setUpClass(cls):
        cls.unshare = ["unshare", "-m"] if os.geteuid() == 0 else ["unshare", "-r", "-m"]
        if not shutil.which("unshare"):
            raise unittest.SkipTest("no unshare(1) here to mount a small file system with")
        with temporary_folder() as folder:
            tried = run([*cls.unshare, "mount", "-t", "tmpfs", "tmpfs", str(folder)])
        if tried.returncode != 0:
            raise unittest.SkipTest(f"no small file system can be mounted: {tried.stderr.strip()}")

    def test_the_disk_is_full(self):
        for command in INTO_FOLDERS:
            with self.subTest(command.name), temporary_folder() as folder:
                done = run([*self.unshare, "sh", "-c", self.SCRIPT, "sh", str(folder),
                            *command.line(out=".", further=("--quiet",))])
                self.assert_refused(done, "error: cannot be written: No space left on device")
                self.assertEqual(done.stdout, "\ntemplate.pdf\nold\n")

    def test_the_disk_is_full_at_a_file(self):
        for command in WRITERS:
            if command in INTO_FOLDERS:
                continue
            with self.subTest(command.name), temporary_folder() as folder:
                script = self.SCRIPT.replace("12k", "4k")
                line = command.line(out=command.out_in(program.pathlib.Path(".")))
                done = run([*self.unshare, "sh", "-c", script, "sh", str(folder), *line])
                self.assert_refused(done, "error: cannot be written: No space left on device")
                self.assertTrue(done.stdout.endswith("\ntemplate.pdf\nold\n"), done.stdout)


if __name__ == "__main__":
    unittest.main()
