// The places of the plans that are about cloth and what else is bought: the cut plan with what the group
// has already and the small pieces that it wants besides, and the shopping list.

import { folded, unitOf } from "./places.mjs";
import { asked, box, button, choice, oneAtATime, shownReport, table } from "./reports.mjs";
import { blocksOf, withBlock, withoutBlock } from "./tables.mjs";
import { made, say } from "./words.mjs";

/** Tables of a job that say which cloth is there. */
const kStock = ["stock.cloth", "lay.remnant"];

/** The cloths that the job has, with what they are called. */
function clothsOf({ value, told }) {
  const isThere = (one) => one === "laminate" || value(`materials.${one}`) !== "" || told.tables?.includes(`materials.${one}`);
  return ["laminate", "outer", "lining"].filter(isThere).map((one) => [one, say(`desk-plan-cloth-${one}`)]);
}

function sides(job, hint = "") {
  const unit = unitOf(job);
  const width = box(say("desk-plan-width"), { hint, unit });
  return { width, length: box(say("desk-plan-length"), { unit }) };
}

// ---- What is there, and what else is cut ----

/** A list of what stands in `tables` of the job, and a form for one more; `block` is what is typed there. */
function blocks(desk, { tables, heading, lead, name, boxes, block, words }) {
  const { job, write } = desk;
  const list = made("ul", "", { class: "stock" });
  const form = asked(name, boxes, say("desk-plan-add-do"), () => {
    const values = block();
    if (!values) return;
    write(withBlock(job.text, tables[0], values));
    for (const { input } of boxes) if (input.localName === "input") input.value = "";
    boxes[0].input.focus();
  });
  const itemOf = (table_, values, index) => {
    const item = made("li", "");
    const said = words({ ...values, sizes: [values.width, values.length].filter(Boolean).join(" × ") });
    item.append(made("span", said), button(say("desk-plan-take-out"), () => write(withoutBlock(job.text, table_, index)),
                                           { "aria-label": say("desk-plan-take-out-of", { piece: said }) }));
    return item;
  };
  return {
    part: folded(heading, lead, [list, form]),
    show() {
      for (const one of boxes) one.showUnit?.();
      list.replaceChildren(...tables.flatMap((of) => blocksOf(job.text, of).map((values, index) => itemOf(of, values, index))));
      list.hidden = list.children.length === 0;
    },
  };
}

/** What has to be typed; its box is gone to where it is not. */
function needed(one) {
  if (one.typed() === "") one.input.focus();
  return one.typed() !== "";
}

const many = (words, { count }) => (count === undefined ? words : say("desk-plan-many", { count, piece: words }));

function stock(desk) {
  const cloth = choice(say("desk-plan-cloth"), clothsOf(desk.job));
  const { width, length } = sides(desk.job, say("desk-plan-length-hint"));
  const count = box(say("desk-plan-pieces"), { kind: "numeric" });
  const made_ = blocks(desk, {
    tables: kStock, heading: say("desk-plan-stock"), lead: say("desk-plan-stock-lead"), name: say("desk-plan-add"), boxes: [cloth, width, length, count],
    block: () => needed(length) && { material: cloth.input.value, width: width.typed(), length: length.typed(), count: count.typed() },
    words: (one) => many(say("desk-plan-piece", { cloth: say(`desk-plan-cloth-${one.material}`), sizes: one.sizes }), one),
  });
  return { part: made_.part, show: () => (cloth.offer(clothsOf(desk.job)), made_.show()) };
}

/** Small pieces that are cut from what would be wasted. */
function smallPieces(desk) {
  const name = box(say("desk-plan-small-name"));
  const { width, length } = sides(desk.job);
  const count = box(say("desk-plan-pieces"), { kind: "numeric" });
  const use = choice(say("desk-plan-use"), ["other", "tag"].map((one) => [one, say(`desk-plan-use-${one}`)]));
  return blocks(desk, {
    tables: ["lay.by_product"], heading: say("desk-plan-small"), lead: say("desk-plan-small-lead"), name: say("desk-plan-small-add"),
    boxes: [name, width, length, count, use],
    block: () => [name, width, length].every(needed) && {
      name: name.typed(), width: width.typed(), length: length.typed(), count: count.typed(), use: use.input.value },
    words: (one) => many(say("desk-plan-small-piece", one), one),
  });
}

/** How many pouches the cloth that is there gives. */
function yields({ job, answersOf }) {
  const cloth = choice(say("desk-plan-cloth"), clothsOf(job));
  const { width, length } = sides(job, say("desk-plan-length-hint"));
  const answers = answersOf("lay", { picture: "lay.svg", files: ["lay.pdf"] });
  const asking = oneAtATime();
  const form = asked(say("desk-plan-have"), [cloth, width, length], say("desk-plan-have-do"), () => {
    if (!needed(length)) return;
    const piece = [width, length].map((one) => one.typed()).filter((side) => side !== "").join(" x ");
    asking.begin((signal) => answers.show(signal, [["have", `${cloth.input.value} = ${piece}`]]));
  });
  const others = answers.parts.filter((part) => part !== answers.told);
  return {
    part: folded(say("desk-plan-have"), say("desk-plan-have-lead"), [form, answers.told, ...others]),
    show() {
      cloth.offer(clothsOf(job));
      for (const one of [width, length]) one.showUnit();
    },
  };
}

export function lay(desk) {
  const answers = desk.answersOf("lay", { picture: "lay.svg", files: ["lay.pdf", "lay.csv"] });
  const others = [stock(desk), yields(desk), smallPieces(desk)];
  return {
    parts: [...others.map((one) => one.part), ...answers.parts],
    show(signal) {
      for (const one of others) one.show();
      return answers.show(signal);
    },
  };
}

// ---- What is bought ----

/** How many of it are there already. */
function cupboard(job, { name, what }) {
  const path = `stock.things.${name}`;
  const input = made("input", "", { type: "text", inputmode: "decimal", size: "4", autocomplete: "off",
                                    "aria-label": say("desk-plan-cupboard-of", { what }) });
  input.value = job.value(path);
  input.addEventListener("change", () => job.setAll([[path, input.value.trim()]]));
  return input;
}

function shownList(job, report) {
  const [bill, ...rest] = report.said;
  const names = report.supplies.map((one) => one.name);
  const [head, ...lines] = bill.lines;
  const rows = lines.map(({ cells }, index) => {
    const one = report.supplies[index];
    // What is cut of the same sheets is counted together.
    const isAsked = one && one.kind !== "cloth" && names.indexOf(one.name) === index;
    return [...cells, isAsked ? cupboard(job, one) : ""];
  });
  const notes = made("details", "", { class: "told-group" });
  notes.append(made("summary", say("desk-plan-supplies-notes")), ...shownReport(rest));
  return [table([...head.cells, say("desk-plan-cupboard")], rows), notes];
}

export function supplies({ job, answersOf }) {
  const answers = answersOf("supplies", { files: ["supplies.pdf", "supplies.csv"] });
  return { parts: answers.parts, show: (signal) => answers.show(signal, [], (report) => shownList(job, report)) };
}
