"""An installed pouchwright finds its data, needs nothing of the source folder, and comes with a manual
page and a completion that tell what --help tells; the Debian package names what it needs."""

import io
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import unittest
import zipfile

for folder in ("faults", "desk"):
    sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / folder))

import commands  # noqa: E402  (the commands that are tried, and a copy of the data)
import desk  # noqa: E402
import program  # noqa: E402

BUILD = pathlib.Path(os.environ["POUCHWRIGHT_BUILD"])
CMAKE = os.environ.get("CMAKE", "cmake")
CPACK = pathlib.Path(CMAKE).with_name("cpack")

PAGE = "share/man/man1/pouchwright.1"
COMPLETION = "share/bash-completion/completions/pouchwright"


def output_of(line, **how):
    return subprocess.run(line, check=True, capture_output=True, text=True, **how).stdout


class Installed(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = pathlib.Path(tempfile.mkdtemp(prefix="pouchwright-test-"))
        cls.prefix = cls.folder / "a prefix"
        output_of([CMAKE, "--install", str(BUILD), "--prefix", str(cls.prefix)])
        cls.program = cls.prefix / "bin" / "pouchwright"

    @classmethod
    def tearDownClass(cls):
        shutil.rmtree(cls.folder)

    def help_texts(self):
        """Each command's name and help; the first is of no command."""
        whole = output_of([self.program, "--help"])
        names = re.findall(r"(?m)^  ([a-z]+) +\S", whole[whole.index("Subcommands"):].split("\n\n")[0])
        self.assertIn("template", names)
        yield "", whole
        for name in names:
            yield name, output_of([self.program, name, "--help"])

    def test_what_is_installed(self):
        found = {str(path.relative_to(self.prefix)) for path in self.prefix.rglob("*")
                 if path.is_file()}
        kept = {"share/pouchwright/" + str(path.relative_to(program.SOURCE))
                for name in ("patterns", "fonts", "shared")
                for path in (program.SOURCE / name).rglob("*")
                if path.is_file() and path.name != "setup.sh"}
        others = {"bin/pouchwright", PAGE, COMPLETION, "share/doc/pouchwright/README.md",
                  "share/doc/pouchwright/CHANGELOG.md", "share/doc/pouchwright/copyright"}
        [module] = found - kept - others
        self.assertRegex(module, r"^lib\S*/pouchwright/pouchwright-zip\.so$")
        self.assertEqual(found, kept | others | {module})

    def test_the_desk_s_archive(self):
        """It takes the module that is installed, not the one in the build."""
        hidden = commands.hiding(program.SOURCE)
        with desk.Desk("--port", "0", program=[*hidden, str(self.program)]) as one:
            answer = one.post("/api/svg.zip", 'construction = "foldover"\n')
        self.assertEqual(answer.status, 200)
        with zipfile.ZipFile(io.BytesIO(answer.body)) as archive:
            self.assertIn("template.svg", archive.namelist())

    def test_every_command_says_and_makes_the_same(self):
        hidden = commands.hiding(program.SOURCE)
        job = self.prefix / "share/pouchwright/patterns/heron-quay.toml"
        for command in commands.COMMANDS:
            with self.subTest(command.name), program.temporary_folder() as folder:
                made = []
                for which in ([*hidden, str(self.program)], [program.PROGRAM]):
                    out = folder / str(len(made)) / "out"
                    out.mkdir(parents=True)
                    line = command.line(job=job, out=command.out_in(out))
                    done = commands.run([*which, *line[1:]])
                    self.assertEqual(done.returncode, 0, done.stderr)
                    made.append((done.stdout.replace(str(out), "OUT"), commands.contents(out)))
                self.assertEqual(made[0], made[1])

    def test_the_page_tells_what_help_tells(self):
        page = (self.prefix / PAGE).read_text(encoding="utf-8")
        plain = page.replace("\\-", "-").replace("\\fB", "").replace("\\fI", "").replace(
            "\\fR", "").replace("\\e", "\\")
        seen = 0
        for name, text in self.help_texts():
            self.assertIn(f"pouchwright {name}".strip(), plain)
            for option in re.findall(r"(?m)^  (?:-\w,)?(--[a-z-]+)", text):
                self.assertRegex(plain, rf"(?m)(^|, ){option}( |$)", name)
            # The library breaks no lines of a description: each stands whole in both.
            for told in re.findall(r"(?m)^(?:  -\S.*?| ) {2,}(\S.*)$", text):
                self.assertIn(told, plain, name)
                seen += 1
        self.assertGreater(seen, 50, "the help texts are no longer recognised")

    def test_the_page_is_sound(self):
        if not shutil.which("groff"):
            self.skipTest("no groff here (Debian package groff-base)")
        done = subprocess.run(["groff", "-man", "-Tutf8", "-Kutf8", "-ww", "-z",
                               str(self.prefix / PAGE)],
                              check=True, capture_output=True, text=True)
        self.assertEqual(done.stderr, "")

    def completed(self, words, folder):
        """What the completion offers for the last of `words`."""
        script = (f'source "$0"; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _pouchwright; '
                  'printf "%s\\n" "${COMPREPLY[@]}"')
        offered = output_of(["bash", "-c", script, str(self.prefix / COMPLETION), "pouchwright",
                             *words], cwd=folder)
        return [line for line in offered.split("\n") if line]

    def test_the_completion(self):
        with program.temporary_folder() as folder:
            for name in ("my job.toml", "notes.txt"):
                (folder / name).touch()
            (folder / "prints").mkdir()
            self.assertEqual(self.completed(["temp"], folder), ["template"])
            self.assertEqual(self.completed(["size", "--un"], folder), ["--units"])
            self.assertEqual(self.completed(["size", "--units", ""], folder), ["mm", "in"])
            self.assertEqual(self.completed(["size", ""], folder), ["my job.toml", "prints"])
            self.assertEqual(self.completed(["size", "my"], folder), ["my job.toml"])
            self.assertEqual(self.completed(["size", "--liners", ""], folder), [])
            self.assertEqual(sorted(self.completed(["size", "--out", ""], folder)),
                             ["my job.toml", "notes.txt", "prints"])
            self.assertEqual(self.completed(["list", ""], folder),
                             ["constructions", "languages", "materials", "papers", "stitches"])
            for name, text in self.help_texts():
                options = re.findall(r"(?m)^  (?:-\w,)?(--[a-z-]+)", text)
                offered = self.completed([name, "--"] if name else ["--"], folder)
                self.assertEqual(sorted(offered), sorted(options), name)


class DebianPackage(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        for tool in ("dpkg-deb", "dpkg-shlibdeps"):
            if not shutil.which(tool):
                raise unittest.SkipTest(f"no {tool} here (Debian package dpkg-dev)")
        cls.folder = pathlib.Path(tempfile.mkdtemp(prefix="pouchwright-test-"))
        output_of([str(CPACK), "--config", str(BUILD / "CPackConfig.cmake"), "-G", "DEB",
                   "-B", str(cls.folder)])
        cls.package, = cls.folder.glob("*.deb")

    @classmethod
    def tearDownClass(cls):
        shutil.rmtree(cls.folder)

    def test_what_it_needs(self):
        needs = output_of(["dpkg-deb", "--field", str(self.package), "Depends"])
        names = {re.split(r"[ (:]", need.strip())[0] for need in needs.split(",")}
        # The fonts of fonts/pinned.txt, and the libraries that DEVELOPERS.md names for layers.
        for name in ("fonts-noto-core", "libcairo2", "libpango-1.0-0", "libpangocairo-1.0-0",
                     "libfontconfig1", "libqpdf29", "libqrencode4", "libzip4", "libc6", "libstdc++6"):
            self.assertIn(name, names, needs)
        self.assertFalse([name for name in names if name.endswith("-dev")], needs)

    def test_what_it_holds(self):
        unpacked = self.folder / "unpacked"
        output_of(["dpkg-deb", "--extract", str(self.package), str(unpacked)])
        for name in ("bin/pouchwright", "share/pouchwright/patterns/heron-quay.toml",
                     "share/pouchwright/shared/words/en.toml", "share/doc/pouchwright/copyright",
                     PAGE, COMPLETION):
            self.assertTrue((unpacked / "usr" / name).is_file(), name)
        listed = output_of(["dpkg-deb", "--contents", str(self.package)])
        for line in listed.splitlines():
            self.assertRegex(line, r"^[-d]rw\S+ root/root ")


if __name__ == "__main__":
    unittest.main()
