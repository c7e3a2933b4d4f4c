"""The program's own data missing or damaged: said in words, with what to do; exit code 3."""

import shutil
import unittest

import commands
import program
from commands import COMMANDS, run, temporary_folder

# Commands that need no fonts, since they draw nothing. A check draws, to see that the paper has room,
# and supplies count the sheets of paper.
WITHOUT_FONTS = ("size", "size as a report", "savings", "list", "steps", "lay as a table",
                 "lay as a report")
# Commands whose pages show the small pictures.
WITH_ICONS = ("steps as pages", "steps as a picture", "packet")


class Data(unittest.TestCase):
    def refused(self, command, folder, environment, line=None):
        """What is said where the program refuses to run."""
        done = run(line or command.line(out=command.out_in(folder / "out")), env=environment)
        self.assertEqual(done.returncode, 3, done.stderr)
        self.assertEqual(done.stdout, "")
        self.assertFalse((folder / "out").exists())
        self.assertIn("hint: ", done.stderr)
        return done.stderr

    def without(self, *parts):
        """Each command with a copy of the data that lacks a file."""
        for command in COMMANDS:
            with temporary_folder() as folder:
                environment = commands.with_data(folder)
                folder.joinpath(*parts).unlink()
                yield command, folder, environment

    def test_words(self):
        for command, folder, environment in self.without("shared", "words", "en.toml"):
            with self.subTest(command.name):
                said = self.refused(command, folder, environment)
                self.assertIn("shared/words/en.toml: error: pouchwright's own data cannot be read",
                              said)
                self.assertIn("No such file or directory", said)
                self.assertIn("hint: install pouchwright whole", said)

    def test_papers_and_materials(self):
        for name in ("papers.toml", "materials.toml"):
            for command, folder, environment in self.without("shared", name):
                with self.subTest(command.name, missing=name):
                    said = self.refused(command, folder, environment)
                    self.assertIn(f"shared/{name}: error: cannot be read: No such file", said)
                    self.assertIn("hint: install pouchwright whole", said)

    def test_icons(self):
        for command, folder, environment in self.without("shared", "icons.toml"):
            with self.subTest(command.name):
                if command.name in WITH_ICONS:
                    self.assertIn("shared/icons.toml: error: cannot be read: No such file",
                                  self.refused(command, folder, environment))
                else:
                    done = run(command.line(out=command.out_in(folder / "out")), env=environment)
                    self.assertEqual(done.returncode, 0, done.stderr)

    def test_damaged_words(self):
        for command in COMMANDS[:2]:
            with temporary_folder() as folder:
                environment = commands.with_data(folder)
                words = folder / "shared" / "words" / "en.toml"
                words.write_bytes(words.read_bytes()[:1000])
                self.assertIn("shared/words/en.toml: error: pouchwright's own data cannot be read",
                              self.refused(command, folder, environment))

    def test_the_list_of_fonts(self):
        for command, folder, environment in self.without("fonts", "pinned.txt"):
            if command.name in WITHOUT_FONTS:
                continue
            with self.subTest(command.name):
                said = self.refused(command, folder, environment)
                self.assertIn("fonts/pinned.txt: error: cannot read the list of fonts", said)

    def test_fonts(self):
        for damage in ("missing", "damaged", "a folder"):
            for command in COMMANDS:
                with self.subTest(command.name, damage=damage), temporary_folder() as folder:
                    environment = commands.with_data(folder)
                    self.pin(folder, damage)
                    if command.name in WITHOUT_FONTS:
                        done = run(command.line(out=command.out_in(folder)), env=environment)
                        self.assertEqual(done.returncode, 0, done.stderr)
                        continue
                    said = self.refused(command, folder, environment)
                    self.assertIn("font.ttf: error: the font file", said)
                    self.assertIn("hint: install the package fonts-noto-core and try again", said)

    def pin(self, folder, damage):
        """Pins one font that is not as it should be."""
        font = folder / "font.ttf"
        if damage == "damaged":
            font.write_bytes(b"no font\n" * 100)
        elif damage == "a folder":
            font.mkdir()
        pinned = folder / "fonts" / "pinned.txt"
        lines = pinned.read_text(encoding="utf-8").splitlines()
        lines = [f"bold | Noto Sans | {font} | fonts-noto-core" if line.startswith("bold")
                 else line for line in lines]
        pinned.write_text("\n".join(lines) + "\n", encoding="utf-8")

    def test_nothing_at_all(self):
        hidden = commands.hiding(program.SOURCE)
        for command in COMMANDS:
            with self.subTest(command.name), temporary_folder() as folder:
                (folder / "bin").mkdir()
                moved = shutil.copy(program.PROGRAM, folder / "bin")
                job = shutil.copy(program.SAMPLE, folder)
                line = command.line(job=job, out=command.out_in(folder / "out"))
                line = [*hidden, moved, *line[1:]]
                said = self.refused(command, folder, program.environment(), line)
                self.assertIn("error: pouchwright's own data cannot be read", said)
                self.assertIn("set POUCHWRIGHT_DATA to the folder that has patterns/", said)

    def test_where_data_are_looked_for(self):
        # Named folder, then ../share/pouchwright, then the source folder; never the working folder.
        hidden = commands.hiding(program.SOURCE)
        with temporary_folder() as folder:
            (folder / "bin").mkdir()
            moved = shutil.copy(program.PROGRAM, folder / "bin")
            job = shutil.copy(program.SAMPLE, folder)
            line = [*hidden, moved, "check", job]
            work = folder / "work"
            work.mkdir()
            found_here = commands.with_data(work)
            self.assertEqual(run(line, cwd=work).returncode, 3)
            self.assertEqual(run(line, env=found_here).returncode, 0)
            commands.with_data(folder / "share" / "pouchwright")
            self.assertEqual(run(line, cwd=work).returncode, 0)
            nowhere = program.environment(POUCHWRIGHT_DATA="/nowhere")
            self.assertEqual(run(line, env=nowhere).returncode, 0)


if __name__ == "__main__":
    unittest.main()
