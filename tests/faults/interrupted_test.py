"""A run that is killed, ended or met by another one in the middle: every file is the old one or the
new one, whole."""

import os
import pathlib
import random
import signal
import subprocess
import time
import unittest

import commands
import program
from commands import WRITERS, temporary_folder

SEED = 9
MOMENTS = 100  # for each way of ending, over all commands together
LONGER_THAN_ANY_RUN = 2 * 60 * 60  # seconds; files.h states an hour


def start(line):
    return subprocess.Popen(line, env=program.environment(), stdin=subprocess.DEVNULL,
                            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


class Two:
    """A command with two sets of sizes: what each makes, and how long a run takes."""

    def __init__(self, command, folder):
        self.folder = folder / "out"
        self.lines, self.made = [], []
        for further in ((), command.other):
            line = command.line(out=command.out_in(self.folder), further=further)
            began = time.monotonic()
            start(line).wait()
            self.seconds = time.monotonic() - began
            self.lines.append(line)
            self.made.append(commands.contents(self.folder))

    def visible(self):
        return {name: data for name, data in commands.contents(self.folder).items()
                if not pathlib.PurePath(name).name.startswith(".pouchwright-")}

    def end_at(self, which, moment, how):
        """Starts the run with these sizes, sends the signal after `moment` seconds; was it hit?"""
        process = start(self.lines[which])
        time.sleep(moment)
        process.send_signal(how)
        return process.wait() == -how


def moments(seconds, count, seed):
    """Half of them anywhere in a run, half near its end, where files are written."""
    chance = random.Random(seed)
    return [seconds * (chance.uniform(0, 1.05) if number % 2 else chance.uniform(0.7, 1.05))
            for number in range(count)]


# The longest run with the largest file: all moments in it alone.
PACKET = tuple(command for command in WRITERS if command.name == "packet")


class Ended(unittest.TestCase):
    def each(self, how, tried=WRITERS):
        """(Two, which sizes are new, was the run ended?) after each moment."""
        hit = 0
        count = -(-MOMENTS // len(tried))
        for number, command in enumerate(tried):
            with temporary_folder() as folder:
                two = Two(command, folder)
                self.assertNotEqual(two.made[0], two.made[1], "both sizes give the same files")
                for index, moment in enumerate(moments(two.seconds, count, SEED + number)):
                    ended = two.end_at(index % 2, moment, how)
                    hit += ended
                    yield two, index % 2, ended
        print(f"{how.name}: {hit} of {count * len(tried)} runs were ended in the middle")
        self.assertGreater(hit, MOMENTS // 4, "too few runs were ended to say anything")

    def assert_each_is_whole_after_a_kill(self, tried):
        for two, _, _ in self.each(signal.SIGKILL, tried):
            with self.subTest(two.lines[0]):
                for name, data in two.visible().items():
                    self.assertIn(data, [made[name] for made in two.made], name)
                self.assertEqual(sorted(two.visible()), sorted(two.made[0]))

    def test_killed(self):
        self.assert_each_is_whole_after_a_kill(WRITERS)

    def test_a_packet_killed_at_a_hundred_moments(self):
        self.assert_each_is_whole_after_a_kill(PACKET)

    def test_ended_politely_and_from_the_keyboard(self):
        # Then all files are of one run, and nothing is left over.
        for how in (signal.SIGTERM, signal.SIGINT, signal.SIGHUP):
            for two, new, ended in self.each(how):
                with self.subTest(two.lines[0], how=how.name):
                    found = commands.contents(two.folder)
                    self.assertIn(found, two.made if ended else [two.made[new]])

    def test_a_signal_that_is_ignored_ends_nothing(self):
        # As under nohup(1): SIGHUP stays ignored across exec.
        command = WRITERS[0]
        with temporary_folder() as folder:
            two = Two(command, folder)
            for moment in moments(two.seconds, 10, SEED):
                line = ["sh", "-c", 'trap "" HUP; exec "$@"', "sh", *two.lines[0]]
                process = start(line)
                time.sleep(moment)
                process.send_signal(signal.SIGHUP)
                # The shell itself may be hit before it ignores the signal.
                if process.wait() == 0:
                    self.assertEqual(commands.contents(two.folder), two.made[0])
                else:
                    self.assertIn(commands.contents(two.folder), two.made)


class LeftOver(unittest.TestCase):
    def test_files_of_a_killed_run_are_removed_by_a_later_one(self):
        for command in WRITERS:
            with self.subTest(command.name), temporary_folder() as folder:
                old, young = folder / ".pouchwright-1-0-1.part", folder / ".pouchwright-2-0-1.part"
                other = folder / ".another-1.part"
                for path in (old, young, other):
                    path.write_text("half a fi", encoding="utf-8")
                before = time.time() - LONGER_THAN_ANY_RUN
                os.utime(old, (before, before))
                os.utime(other, (before, before))
                commands.run(command.line(out=command.out_in(folder)))
                self.assertFalse(old.exists())
                self.assertTrue(young.exists(), "it may be another run's")
                self.assertTrue(other.exists(), "it is none of ours")

    def test_a_left_over_file_of_the_same_name_is_in_nobodys_way(self):
        # A process can be given the number of one that was killed.
        for command in WRITERS:
            with self.subTest(command.name), temporary_folder() as folder:
                script = 'for n in 0 1 2 3 4; do echo > "$0/.pouchwright-$$-$n-1.part"; done; exec "$@"'
                done = commands.run(["sh", "-c", script, str(folder),
                                     *command.line(out=command.out_in(folder))])
                self.assertEqual(done.returncode, 0, done.stderr)
                self.assertEqual(len(commands.left_overs(folder)), 5)


class TwoAtOnce(unittest.TestCase):
    def test_runs_into_one_folder(self):
        for command in WRITERS:
            with self.subTest(command.name), temporary_folder() as folder:
                two = Two(command, folder)
                for _ in range(3):
                    running = [start(two.lines[number % 2]) for number in range(6)]
                    self.assertEqual([process.wait() for process in running], [0] * 6)
                    found = commands.contents(two.folder)
                    self.assertEqual(sorted(found), sorted(two.made[0]))
                    for name, data in found.items():
                        self.assertIn(data, [made[name] for made in two.made], name)


if __name__ == "__main__":
    unittest.main()
