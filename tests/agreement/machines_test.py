"""Every construction on every kind of machine: steps, plan, list and papers tell of the same stitches.

Which stitches leave a chain of thread is common practice, no source: those of ISO 4915's classes 400
(multi-thread chain) and 500 (overedge) do, those of class 300 (lockstitch, zigzag among them) do not.
Only an overedge needs an overedge machine.
"""

import functools
import json
import pathlib
import re
import shutil
import tempfile
import tomllib
import unittest

import outputs
from outputs import PATTERNS, WORDS, run, said, text, words_of_pdf

JOBS = sorted(PATTERNS.glob("heron-quay*.toml"))
ZIGZAG_ENDS = {"pouch.start_finish": "zigzag", "pouch.end_finish": "zigzag"}
PASSES = ('passes = [{ stitch = "straight", at = "7 mm" }, '
          '{ stitch = "zigzag", at = "2.5 mm", width = "5 mm" }]')
TWICE = "straight and zigzag"
MACHINES = {
    "serger": {"stitches.sides": "serge", "stitches.ends": "overlock"},
    "four threads": {"stitches.sides": 514, "stitches.ends": 514},
    "chain stitch": {"stitches.sides": 401, "stitches.ends": "zigzag"},
    "zigzag alone": {**ZIGZAG_ENDS, "stitches.sides": "zigzag"},
    TWICE: ZIGZAG_ENDS,
    "straight, zigzagged ends": {"stitches.sides": "straight", "stitches.ends": "zigzag"},
}


def setUpModule():
    """Passes are a list, which only a file can state."""
    global FOLDER
    FOLDER = pathlib.Path(tempfile.mkdtemp(prefix="pouchwright-test-"))
    unittest.addModuleCleanup(shutil.rmtree, FOLDER, True)
    for job in JOBS:
        told = re.sub(r"^\[pouch\].*$", lambda head: head[0] + "\n" + PASSES, job.read_text(encoding="utf-8"),
                      count=1, flags=re.M)
        (FOLDER / job.name).write_text(told, encoding="utf-8")


def job_of(job, machine):
    return FOLDER / job.name if machine == TWICE else job


def options_of(job, machine):
    """`--set` for the machine; ends that the job leaves raw or turns in stay so."""
    stated = tomllib.loads(job.read_text(encoding="utf-8")).get("pouch", {})
    sets = [f"{path}={json.dumps(value)}" for path, value in MACHINES[machine].items()
            if path not in ZIGZAG_ENDS or stated.get(path.split(".")[1]) == "overedge"]
    return [part for one in sets for part in ("--set", one)] + ["--set", "batch.overedge_machines=1"]


@functools.cache
def report(command, job, *options):
    """Few pouches, so that no plan takes long."""
    return outputs.report(command, job, *options, "--set", "batch.pouches=6", "--set", "batch.helpers=2")


def leaves_chain(code):
    return code[0] in "45"


class Machines(unittest.TestCase):
    def each(self, hold):
        for job in JOBS:
            for machine in MACHINES:
                with self.subTest(job.stem, machine=machine):
                    hold(job_of(job, machine), machine, options_of(job, machine))

    def sewn(self, job, options):
        """The list's seams of edges and ends, by operation; attached things are sewn otherwise."""
        seams = report("supplies", job, *options)["seams"]
        found = {}
        for seam in seams:
            found.setdefault(seam["operation"], []).append(seam["stitch"])
        return found

    def test_steps_and_list_tell_the_same_stitches(self):
        def hold(job, machine, options):
            seams = self.sewn(job, options)
            for step in report("steps", job, *options)["steps"]:
                told = re.findall(r"Stitch (\d{3})", step["words"])
                listed = [code for id_ in step["operations"] if not id_.startswith("fix")
                          for code in seams.get(id_, [])]
                if told:
                    self.assertEqual(set(told), set(listed), step["operations"])
        self.each(hold)

    def test_chains_clipping_and_tails_follow_from_the_stitch(self):
        def hold(job, machine, options):
            seams = self.sewn(job, options)
            steps = report("steps", job, *options)["steps"]
            plan = [one["operation"] for step in report("schedule", job, *options)["steps"]
                    for one in step["operations"]]
            edges = {id_: codes for id_, codes in seams.items() if id_.startswith(("sew", "finish"))}
            chained = {id_ for id_, codes in edges.items() if any(map(leaves_chain, codes))}
            # One snip for each pass of an edge that leaves a chain.
            snips = sum(sum(map(leaves_chain, codes)) for codes in edges.values())
            self.assertEqual(sum(id_.endswith("snip-apart") for id_ in plan), snips, plan)
            has_tails = any(id_.startswith("sew") for id_ in chained)
            tails = [id_ for step in steps for id_ in step["operations"] if "tails" in id_]
            self.assertEqual(bool(tails), has_tails)
            self.assertEqual(any("tails" in id_ for id_ in plan), has_tails)
            self.assertEqual(any("tails" in id_ for id_ in seams), has_tails)
            for step in steps:
                ids = [id_ for id_ in step["operations"] if id_ in edges]
                if not ids:
                    continue
                self.assertEqual(said("steps-chain").search(step["words"]) is not None,
                                 any(id_ in chained for id_ in ids), step)
                locked = any(not leaves_chain(code) for id_ in ids for code in edges[id_])
                self.assertEqual(WORDS["steps-back-tack"] in step["words"], locked, step)
        self.each(hold)

    def test_only_overedges_wait_for_the_overedge_machine(self):
        def hold(job, machine, options):
            seams = self.sewn(job, options)
            for task in report("schedule", job, *options)["tasks"]:
                for id_ in task["operation"].split(" + "):
                    base, _, pass_ = id_.partition("-pass-")
                    if base not in seams or not base.startswith(("sew", "finish")) or "snip" in pass_:
                        continue
                    code = seams[base][int(pass_ or 1) - 1]
                    wanted = "overedge" if code[0] == "5" else "machine"
                    self.assertEqual(task["station"].split()[0], wanted, (id_, code))
        self.each(hold)

    def test_a_lockstitch_takes_no_chain_of_thread(self):
        """By hand: seam, 10 mm back and forth at both ends, times the ratio, and 15 % waste."""
        ratios = {"301": 2.5, "304": 7.0}  # Carr & Latham, as quoted in course notes

        def hold(job, machine, options):
            made = report("supplies", job, *options)
            for need in made["thread"]:
                seams = [seam for seam in made["seams"] if seam["stitch"] == need["stitch"]]
                if need["stitch"] not in ratios or any("tails" in seam["operation"] for seam in seams):
                    continue
                metres = sum(seam["per_pouch"] * (seam["length_mm"] + 40) for seam in seams) / 1000
                by_hand = metres * made["pouches"] * ratios[need["stitch"]] * 1.15
                self.assertAlmostEqual(need["thread_m"], by_hand, delta=0.001)
        self.each(hold)

    def test_zigzagged_ends_leak_where_overedged_ones_do(self):
        """A zigzag reaches 5 mm (3/16 in) as an overedge does, and takes nothing of the length."""
        def hold(job, machine, options):
            if machine != "zigzag alone":
                return
            serged = report("size", job, *options_of(job, "serger"))
            made = report("size", job, *options)
            for field in ("water_line_mm", "cut", "finished", "spans"):
                self.assertEqual(made[field], serged[field])
        self.each(hold)

    def test_a_tag_and_a_dryer_are_in_steps_plan_and_list(self):
        """A tag is cut from waste, laid on before the side seam catches it; a dryer comes last of all."""
        tag = ('\n[[lay.by_product]]\nname = "label"\nwidth = "25 mm"\nlength = "60 mm"\nuse = "tag"\n')
        for job in JOBS:
            with self.subTest(job.stem):
                made = FOLDER / f"tag-{job.name}"
                made.write_text(job.read_text(encoding="utf-8") + tag, encoding="utf-8")
                options = ("--set", "pouch.dryer=true")
                steps = [id_ for step in report("steps", made, *options)["steps"] for id_ in step["operations"]]
                plan = report("schedule", made, *options)["steps"]
                planned = [one["operation"] for step in plan for one in step["operations"]]
                for order in (steps, planned):
                    self.assertLess(order.index("tag"), order.index("sew-sides"))
                    self.assertEqual(order[-1], "dryer")
                # Common practice, no source: 15 to 20 minutes, in nobody's hands.
                self.assertEqual(plan[-1]["waits_min"], 20)
                list_ = report("supplies", made, *options)
                self.assertIn("laundry-pen", [line["name"] for line in list_["supplies"]])
                cut = sum(piece["kind"] == "label" for lay in report("lay", made, *options)["lays"]
                          for piece in lay["pieces"])
                more = sum(line["needed"] for line in list_["supplies"] if line["name"] == "tags")
                self.assertEqual(cut + more, list_["pouches"])
                plain = report("steps", job)["steps"]
                self.assertEqual(len(steps) - 2, sum(len(step["operations"]) for step in plain))

    def test_papers_of_a_group_without_an_overedger_name_none(self):
        with tempfile.TemporaryDirectory(prefix="pouchwright-test-") as folder:
            packet = pathlib.Path(folder) / "packet.pdf"
            for job in JOBS:
                for machine in ("zigzag alone", TWICE):
                    options = [*options_of(job, machine)[:-2], "--set", "batch.pouches=6"]
                    with self.subTest(job.stem, machine=machine):
                        made = job_of(job, machine)
                        run("packet", made, *options, "-o", packet)
                        told = words_of_pdf(packet) + text("schedule", made, *options)
                        found = re.findall(r".{30}(?:overedg|serg|overlock|chain of|thread chain).{30}", told)
                        self.assertEqual(found, [])


if __name__ == "__main__":
    unittest.main()
