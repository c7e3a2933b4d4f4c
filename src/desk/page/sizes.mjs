// The places of the plans that are about other sizes and other ways: several sizes, less cloth, another
// construction, other things to put in. What can be taken is taken with one click.

import { unitOf } from "./places.mjs";
import { asked, box, button, numbersOf, table, withQuery } from "./reports.mjs";
import { pictureOf } from "./send.mjs";
import { pairsFor } from "./ways.mjs";
import { data, made, nameOf, say } from "./words.mjs";

const takeButton = (what, does) => button(say("desk-plan-take"), does, { "aria-label": say("desk-plan-take-this", { what }) });

// ---- Several sizes ----

/** `template-3.pdf` is for three liners, whatever folder the command line puts it in. */
const fileOf = (path) => path.replace(/.*\//, "");
function wordsOfSize(file) {
  const [, name, liners] = /^([a-z]+)(?:-(\d+))?\.pdf$/.exec(file);
  if (name === "mask" && !liners) return say("desk-plan-keep-mask-all");
  return say(liners === "1" ? `desk-plan-keep-${name}-one` : `desk-plan-keep-${name}`, { liners });
}

export function range({ job, answersOf, keepFile }, again) {
  const liners = Number(job.value("liners.count")) || 3;
  const about = [...new Set([Math.max(1, liners - 1), liners, liners + 1])].join(", ");
  const counts = box(say("desk-plan-range-counts"), { hint: say("desk-plan-range-hint"), value: about });
  const answers = answersOf("range", { picture: "nested.svg" });
  const files = made("div", "", { class: "buttons" });
  const form = asked(say("desk-plan-range"), [counts], say("desk-plan-range-do"), again);
  return {
    parts: [form, ...answers.parts, files],
    async show(signal) {
      const query = [["liners", counts.input.value.trim()]];
      const report = await answers.show(signal, query);
      const names = [...new Set((report?.documents ?? []).map((one) => fileOf(one.pdf)))];
      files.replaceChildren(...names.map((name) => button(wordsOfSize(name), () => keepFile(withQuery(`range/${name}`, query), name))));
    },
  };
}

// ---- Less cloth ----

function savingRow(take, change) {
  const sets = Object.entries(change.set_typed);
  const words = Object.entries(change.set_said).map(([path, said]) => `${nameOf(path)} ${said}`).join(", ");
  return [words, say("desk-plan-percent", { percent: change.saving_said }), change.cloth_said, change.water_said, change.capacity_said ?? "",
          takeButton(words, () => take(sets, words))];
}

export function savings({ job, answersOf, take }, again) {
  const within = box(say("desk-plan-within"), { hint: say("desk-plan-within-hint"), unit: unitOf(job) });
  const answers = answersOf("savings");
  const shown = ({ changes }) => {
    if (changes.length === 0) return [made("p", say("desk-plan-savings-none"))];
    const head = ["change", "less", "cloth", "water", "carries", "take"].map((one) => say(`desk-plan-savings-${one}`));
    return [table(head, changes.map((change) => savingRow(take, change)))];
  };
  const form = asked(say("desk-plan-savings"), [within], say("desk-plan-look"), again);
  return {
    parts: [form, ...answers.parts],
    show(signal) {
      within.showUnit();
      return answers.show(signal, within.typed() === "" ? [] : [["tolerance", within.typed()]], shown);
    },
  };
}

// ---- Another way to fold ----

function wayOf({ name, title }, errors) {
  const way = made("span", "", { class: "construction-way" });
  const words = made("span", title);
  words.append(...errors.slice(0, 1).map(({ message }) => made("span", message, { class: "way-fault" })));
  way.append(made("img", "", { src: pictureOf(name), alt: "", class: "drawing", width: 90, height: 72, loading: "lazy" }), words);
  return way;
}

/** A line for each construction, of the same job otherwise. */
export function constructions({ ask, job, take }) {
  const into = made("div", "", { class: "told-report" });

  function rowOf([one, told], names) {
    const numbers = new Map(numbersOf(told));
    const isNow = one.name === job.value("construction");
    const last = isNow ? say("desk-plan-now") : takeButton(one.title, () => take(pairsFor(job, one), one.title));
    return [wayOf(one, told.report?.errors ?? []), ...names.map((name) => numbers.get(name) ?? "–"), last];
  }

  return {
    parts: [into],
    async show(signal) {
      into.classList.add("working");
      if (into.children.length === 0) into.append(made("p", say("desk-plan-working")));
      const told = [];
      for (const one of data.constructions) {
        const { json } = await ask("edit", { query: pairsFor(job, one), body: job.text, signal });
        told.push([one, json ?? {}]);
      }
      into.classList.remove("working");
      const names = [...new Set(told.flatMap(([, json]) => numbersOf(json).map(([name]) => name)))];
      into.replaceChildren(table([say("desk-plan-way"), ...names, say("desk-plan-savings-take")], told.map((one) => rowOf(one, names))));
    },
  };
}

// ---- All sizes, and other things to put in ----

export function size({ job, answersOf }, again) {
  const liner = box(say("desk-plan-other-liner"), { hint: say("desk-plan-other-liner-hint"), unit: unitOf(job) });
  const cloth = box(say("desk-plan-piece-of-cloth"), { hint: say("desk-plan-piece-of-cloth-hint"), unit: unitOf(job) });
  const answers = answersOf("size");
  const form = asked(say("desk-plan-what-if"), [liner, cloth], say("desk-plan-look"), again);
  const typed = () => [["other-liner", liner], ["remnant", cloth]]
    .map(([name, one]) => [name, one.typed()]).filter(([, text]) => text !== "");
  return {
    parts: [form, ...answers.parts],
    show(signal) {
      for (const one of [liner, cloth]) one.showUnit();
      return answers.show(signal, typed());
    },
  };
}
