"""The packet's page that carries the job: printed by poppler, read back by zbar, a decoder that shares
nothing with what encoded it. Sources: ISO/IEC 18004 for sizes, level and quiet zone; RFC 4648 (base64url)
and RFC 1950 (zlib) for what is packed, by Python's own modules."""

import base64
import re
import shutil
import statistics
import subprocess
import tomllib
import unittest
import zlib

import packet_test
import program
import vectors

NON_ASCII = """construction = "foldover"
title = "Größe ½ – Täschchen für Łódź, 日本, Ελλάδα"   # ä ö ü
[pouch]
width = "190 mm"
depth = "165 mm"
"""
SHORT = 'construction = "foldover"\n[pouch]\nwidth = "190 mm"\ndepth = "165 mm"\n'
PAGE = "https://pouches.example.org/desk/"


def noise(size):
    """Comments that hardly pack, from Lehmer's generator: the same at every run."""
    state, text = 7, ""
    while len(text) < size:
        letters = ""
        for _ in range(70):
            state = state * 48271 % 2147483647
            letters += chr(ord("!") + state % 94)
        text += "# " + letters + "\n"
    return text[:size]


def unpacked(letters):
    """The text of `#job=` or `#jobz=`."""
    kind, data = re.fullmatch(r"#(jobz?)=([\w-]+)", letters).groups()
    raw = base64.urlsafe_b64decode(data + "=" * (-len(data) % 4))
    return (zlib.decompress(raw) if kind == "jobz" else raw).decode("utf-8")


def joined(codes):
    """The letters of numbered parts, in whatever order they were found."""
    parts = [re.fullmatch(r"# (\d+)/(\d+) ([0-9a-f]{8})\n([\w#=-]+)", code).groups() for code in codes]
    assert len({(count, mark) for _, count, mark, _ in parts}) == 1, parts
    assert [int(number) for number, *_ in sorted(parts)] == list(range(1, int(parts[0][1]) + 1)), parts
    letters = "".join(part for *_, part in sorted(parts))
    assert f"{zlib.crc32(letters.encode()):08x}" == parts[0][2]
    return letters


def rectangles(page):
    """(x0, y0, x1, y1) of every filled rectangle along the axes."""
    found = []
    for line in page.polylines:
        xs, ys = {round(x, 3) for x, _ in line.points}, {round(y, 3) for _, y in line.points}
        if line.filled and not line.curved and len(xs) == 2 and len(ys) == 2:
            found.append((min(xs), min(ys), max(xs), max(ys)))
    return found


def joined_up(stretches, gap):
    """Stretches with no more than `gap` between them as one, in order."""
    made = []
    for low, high in sorted(stretches):
        if made and low <= made[-1][1] + gap:
            made[-1] = (made[-1][0], max(made[-1][1], high))
        else:
            made.append((low, high))
    return made


@unittest.skipUnless(shutil.which("zbarimg"), "skipped: zbarimg (Debian package zbar-tools) is not installed")
class JobCode(unittest.TestCase):
    def setUp(self):
        self.folder = self.enterContext(program.temporary_folder())

    def made(self, text, *options):
        job = self.folder / "job.toml"
        job.write_bytes(text.encode("utf-8"))
        self.report, path = packet_test.made(self.folder, "--only", "job", *options, job=job)
        return path

    def codes(self, path, dpi):
        """What zbar finds on the pages as they are printed with so many dots to the inch."""
        for old in self.folder.glob("page*.png"):
            old.unlink()
        subprocess.run(["pdftoppm", "-r", str(dpi), "-gray", "-png", path, self.folder / "page"], check=True)
        found = []
        for page in sorted(self.folder.glob("page*.png")):
            # Its XML spoils bytes over 127; as they are, texts stand one behind the other, each with a line's end.
            done = subprocess.run(["zbarimg", "-q", "--raw", "-Sdisable", "-Sqrcode.enable", page],
                                  capture_output=True, check=False)
            text = done.stdout.decode("utf-8")
            parts = re.split(r"\n(?=# \d/\d [0-9a-f]{8}\n)", text[:-1]) if text.startswith("# ") else [text[:-1]]
            found += [part for part in parts if part]
        return found

    def words(self, path):
        done = subprocess.run(["pdftotext", "-raw", path, "-"], capture_output=True, text=True, check=True)
        return " ".join(done.stdout.split())

    def read(self, path, dpi):
        found = self.codes(path, dpi)
        self.assertGreater(len(found), 0)
        if len(found) > 1:
            return unpacked(joined(found))
        return unpacked(found[0]) if found[0].startswith("#job") else found[0]

    def test_a_job_is_read_back_from_its_page(self):
        sample = program.SAMPLE.read_text(encoding="utf-8")
        for name, text in (("short", SHORT), ("not ASCII", NON_ASCII), ("sample", sample), ("inches", program.INCHES),
                           ("line ends", SHORT.replace("\n", "\r\n")), ("packed", SHORT + "# a remark\n" * 200),
                           ("long", SHORT + noise(2200)), ("longest", SHORT + noise(3700))):
            path = self.made(text)
            for dpi in (150, 200):
                with self.subTest(name, dpi=dpi):
                    self.assertEqual(self.read(path, dpi), text)

    def test_a_text_stays_readable_while_it_fits_one_code(self):
        self.assertEqual(self.codes(self.made(NON_ASCII), 150), [NON_ASCII])
        # 1,370 bytes: version 30 at level M (ISO/IEC 18004, table 7, from memory).
        full = SHORT + noise(1370 - len(SHORT))
        self.assertEqual(self.codes(self.made(full), 150), [full])
        over = self.codes(self.made(full + "\n"), 150)
        self.assertEqual(unpacked(over[0] if len(over) == 1 else joined(over)), full + "\n")
        self.assertIn("packed" if len(over) == 1 else "squares hold", self.words(self.folder / "packet.pdf"))

    def test_several_codes_stand_on_one_page_and_are_counted(self):
        path = self.made(SHORT + noise(3000))
        count = len(self.codes(path, 150))
        self.assertGreater(count, 1)
        self.assertEqual(packet_test.page_count(path), 1)
        words = self.words(path)
        self.assertIn(f"These {count} squares", words)
        for number in range(1, count + 1):
            self.assertIn(f"{number} of {count}", words)

    def test_what_the_command_line_sets_is_in_the_code(self):
        path = self.made(SHORT, "--set", "pouch.width=200mm", "--set", "title=Täsch \"chen\"", "--paper", "Letter")
        text = self.read(path, 150)
        told = tomllib.loads(text)
        self.assertEqual(told["pouch"]["width"], "200mm")
        self.assertEqual(told["title"], 'Täsch "chen"')
        self.assertEqual(told["paper"]["size"], "Letter")
        # What is read back makes the very same packet, whole.
        job = self.folder / "job.toml"
        _, first = packet_test.made(self.folder, "--set", "pouch.width=200mm", "--set", 'title=Täsch "chen"', "--paper", "Letter",
                                    job=job)
        one = first.read_bytes()
        job.write_bytes(text.encode("utf-8"))
        _, second = packet_test.made(self.folder, job=job)
        self.assertEqual(one, second.read_bytes())

    def test_where_the_group_has_a_page_the_code_is_its_link(self):
        text = SHORT + f'[group]\npage = "{PAGE}"\n'
        path = self.made(text)
        code, = self.codes(path, 150)
        self.assertTrue(code.startswith(PAGE + "#job"), code)
        self.assertEqual(unpacked(code[len(PAGE):]), text)
        self.assertIn(PAGE, self.words(path))
        self.assertIn("is a link", self.words(path))
        long = text + noise(3000)
        path = self.made(long)
        self.assertEqual(unpacked(joined(self.codes(path, 150))), long)
        self.assertIn(PAGE, self.words(path))

    def test_a_job_too_long_for_codes_says_so(self):
        path = self.made(SHORT + noise(64 * 1024 - len(SHORT)))
        self.assertEqual(self.codes(path, 150), [])
        words = self.words(path)
        self.assertIn("more written about it than a telephone reads", words)
        self.assertIn("Keep its file", words)
        self.assertNotIn("This square", words)

    def test_files_that_the_job_names_are_told_of(self):
        (self.folder / "own.toml").write_bytes((program.SOURCE / "patterns/foldover.toml").read_bytes())
        path = self.made(SHORT.replace('"foldover"', '"./own.toml"'))
        self.assertIn("Keep these as well: own.toml", self.words(path))
        self.assertNotIn("as well", self.words(self.made(SHORT)))

    def test_modules_are_half_a_millimetre_at_the_least_with_a_quiet_zone_of_four(self):
        for count, text in ((1, SHORT), (1, SHORT + noise(1200)), (4, SHORT + noise(3700))):
            with self.subTest(size=len(text)):
                path = self.made(text)
                runs = rectangles(vectors.pdf_page(path, 1))
                # Each is off by what the file rounds to; on average they are not.
                module = statistics.mean(y1 - y0 for _, y0, _, y1 in runs)
                self.assertGreaterEqual(module, 0.5 - 0.001)
                self.assertLessEqual(module, 0.8 + 0.001)
                # Timing patterns cross each code, so that white within it is narrower than that around it.
                columns = joined_up([(x0, x1) for x0, _, x1, _ in runs], 3 * module)
                rows = joined_up([(y0, y1) for _, y0, _, y1 in runs], 3 * module)
                self.assertEqual(len(columns) * len(rows), count)
                for low, high in columns + rows:
                    # 17 and 4 a version; as many dots as come out whole.
                    modules = (high - low) / module
                    self.assertAlmostEqual(modules, round(modules), delta=0.1)
                    self.assertEqual((round(modules) - 17) % 4, 0)
                for (_, end), (begin, _) in [*zip(columns, columns[1:]), *zip(rows, rows[1:])]:
                    self.assertGreaterEqual(begin - end, 8 * module - 0.01)
                self.hold_words_away(path, columns, rows, 4 * module - 0.01)

    def hold_words_away(self, path, columns, rows, white):
        done = subprocess.run(["pdftotext", "-bbox", path, "-"], capture_output=True, text=True, check=True)
        mm = 25.4 / 72
        words = re.findall(r'<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)"', done.stdout)
        self.assertGreater(len(words), 20)
        for word in words:
            x0, y0, x1, y1 = (float(one) * mm for one in word)
            for left, right in columns:
                for top, bottom in rows:
                    apart = max(left - x1, x0 - right, top - y1, y0 - bottom)
                    self.assertGreaterEqual(apart, white, word)

    def test_the_same_job_gives_the_same_bytes(self):
        self.assertEqual(self.made(SHORT + noise(3000)).read_bytes(), self.made(SHORT + noise(3000)).read_bytes())

    def test_small_and_large_papers_carry_it_too(self):
        for paper in ("A6", "A5", "A3", "Letter"):
            for text in (SHORT, SHORT + noise(2200)):
                with self.subTest(paper=paper, size=len(text)):
                    told = self.read(self.made(text, "--paper", paper), 200)
                    self.assertTrue(told.startswith(text[:20]))
                    self.assertEqual(tomllib.loads(told)["paper"]["size"], paper)


if __name__ == "__main__":
    unittest.main()
