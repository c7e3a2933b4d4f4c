// The places of the plans that are about cloth and what else is bought: the cut plan with what the group
// has already, and the shopping list.

import { folded } from "./places.mjs";
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

function sides() {
  const width = box(say("desk-plan-width"), { hint: say("desk-plan-length-hint") });
  const length = box(say("desk-plan-length"));
  return { width, length, typed: () => [width, length].map((one) => one.input.value.trim()) };
}

// ---- What is there ----

function pieceOf({ job, write }, name, block, index) {
  const item = made("li", "");
  const sizes = [block.width, block.length].filter(Boolean).join(" × ");
  const words = say(block.count ? "desk-plan-piece-many" : "desk-plan-piece", {
    cloth: say(`desk-plan-cloth-${block.material}`), sizes, count: block.count });
  item.append(made("span", words), button(say("desk-plan-take-out"), () => write(withoutBlock(job.text, name, index)),
                                          { "aria-label": say("desk-plan-take-out-of", { piece: words }) }));
  return item;
}

function stock(desk) {
  const { job, write } = desk;
  const list = made("ul", "", { class: "stock" });
  const cloth = choice(say("desk-plan-cloth"), clothsOf(job));
  const { width, length, typed } = sides();
  const count = box(say("desk-plan-pieces"), { kind: "numeric", size: 4 });
  const form = asked(say("desk-plan-add"), [cloth, width, length, count], say("desk-plan-add-do"), () => {
    const [across, along] = typed();
    if (along === "") return length.input.focus();
    const block = { material: cloth.input.value, width: across, length: along, count: count.input.value.trim() };
    write(withBlock(job.text, kStock[0], block));
    for (const one of [width, length, count]) one.input.value = "";
    cloth.input.focus();
  });
  return {
    part: folded(say("desk-plan-stock"), say("desk-plan-stock-lead"), [list, form]),
    show() {
      cloth.offer(clothsOf(job));
      list.replaceChildren(...kStock.flatMap((name) => blocksOf(job.text, name).map((block, index) => pieceOf(desk, name, block, index))));
      list.hidden = list.children.length === 0;
    },
  };
}

/** How many pouches the cloth that is there gives. */
function yields({ job, answersOf }) {
  const cloth = choice(say("desk-plan-cloth"), clothsOf(job));
  const { width, length, typed } = sides();
  const answers = answersOf("lay", { picture: "lay.svg", files: ["lay.pdf"] });
  const asking = oneAtATime();
  const form = asked(say("desk-plan-have"), [cloth, width, length], say("desk-plan-have-do"), () => {
    const piece = typed().filter((side) => side !== "").join(" x ");
    asking.begin((signal) => answers.show(signal, [["have", `${cloth.input.value} = ${piece}`]]));
  });
  const others = answers.parts.filter((part) => part !== answers.told);
  return {
    part: folded(say("desk-plan-have"), say("desk-plan-have-lead"), [form, answers.told, ...others]),
    show: () => cloth.offer(clothsOf(job)),
  };
}

export function lay(desk) {
  const answers = desk.answersOf("lay", { picture: "lay.svg", files: ["lay.pdf", "lay.csv"] });
  const there = stock(desk);
  const given = yields(desk);
  return {
    parts: [there.part, given.part, ...answers.parts],
    show(signal) {
      there.show();
      given.show();
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
