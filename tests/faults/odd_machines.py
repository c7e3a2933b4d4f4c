"""Machines in other languages: the locales that tests run the program under, and where a person's own
files would be."""

import pathlib
import shutil
import subprocess
import tempfile

import program

# A comma for decimals; letters without their dots; digits that are not ASCII; and one unknown here.
LOCALES = ("de_DE.UTF-8", "tr_TR.UTF-8", "fa_IR.UTF-8", "tr_TR.ISO-8859-9", "xx_XX.UTF-8")
# Where libraries look for a person's settings, or leave something behind.
HOMES = ("HOME", "XDG_CACHE_HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_RUNTIME_DIR")


class Locales:
    """The locales of the tests, made here where the machine has not got them."""

    def __init__(self):
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix="pouchwright-test-"))
        self.made = [name for name in LOCALES if self.make(name)]

    def remove(self):
        shutil.rmtree(self.folder)

    def make(self, name):
        language, _, charset = name.partition(".")
        made = subprocess.run(["localedef", "-c", "-i", language, "-f", charset,
                               str(self.folder / name)], capture_output=True, check=False)
        return made.returncode in (0, 1) and (self.folder / name / "LC_NUMERIC").exists()

    def environments(self):
        """Name -> environment: from the folder made here, or as installed on the machine."""
        known = subprocess.run(["locale", "-a"], check=True, capture_output=True, text=True).stdout
        plain = [name.lower().replace("-", "") for name in known.split()]
        for name in LOCALES:
            # All but the messages: in whose words it speaks is asked elsewhere (tests/output/language_test.py).
            changes = {"LC_ALL": None, "LANG": name, "LC_MESSAGES": "C"}
            if name in self.made:
                yield name, program.environment(LOCPATH=str(self.folder), **changes)
            elif name.lower().replace("-", "") in plain or name.startswith("xx"):
                yield name, program.environment(**changes)

    def works(self, environment):
        """Does the C library take this locale here?"""
        asked = subprocess.run(["locale", "decimal_point"], env=environment, capture_output=True,
                               text=True, check=False)
        return asked.stdout.strip() == ","
