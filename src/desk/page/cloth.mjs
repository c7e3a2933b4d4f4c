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
  const answers = desk.answersOf("lay", { picture: "lay.svg", files: ["lay.pdf", "lay.csv"], isPictured: true });
  const others = [stock(desk), yields(desk), smallPieces(desk)];
  return {
    parts: [...others.map((one) => one.part), ...answers.parts],
    show(signal) {
      for (const one of others) one.show();
      return answers.show(signal);
    },
  };
}

// ---- Pieces that are no pouch ----

/** What is typed of the next kind of piece, as the program takes it. */
function pieceOf({ name, width, length, count }, number) {
  const called = name.typed().replace(/=/g, " ").trim() || say("desk-plan-quick-number", { number });
  const sizes = [width, length].map((one) => one.typed()).join(" x ");
  return { name: called, sizes, count: count.typed() || "1" };
}

/** A plan of its own, whatever job is open. */
export function quick(desk, again) {
  const { job, answersOf } = desk;
  const unit = unitOf(job);
  const cloth = box(say("desk-plan-quick-cloth"), { unit });
  const selvedge = box(say("desk-plan-quick-selvedge"), { unit });
  const turn = choice(say("desk-plan-quick-turn"), ["either", "along", "across"].map((one) => [one, say(`desk-choice-${one}`)]));
  const piece = { name: box(say("desk-plan-small-name")), width: box(say("desk-plan-quick-across"), { unit }),
                  length: box(say("desk-plan-quick-along"), { unit }), count: box(say("desk-plan-pieces"), { kind: "numeric" }) };
  const list = made("ul", "", { class: "stock" });
  const answers = answersOf("lay", { picture: "lay.svg", files: ["lay.pdf", "lay.csv"], about: "quick" });
  const boxes = [cloth, selvedge, turn, ...Object.values(piece)];
  let pieces = [];

  function changed(to) {
    pieces = to;
    list.replaceChildren(...pieces.map((one, index) => {
      const item = made("li", "");
      const said = many(say("desk-plan-quick-piece", one), one);
      item.append(made("span", said), button(say("desk-plan-take-out"), () => changed(pieces.filter((_, other) => other !== index)),
                                             { "aria-label": say("desk-plan-take-out-of", { piece: said }) }));
      return item;
    }));
    again();
  }

  const form = asked(say("desk-plan-quick-add"), boxes, say("desk-plan-add-do"), () => {
    if (![cloth, piece.width, piece.length].every(needed)) return;
    changed([...pieces, pieceOf(piece, pieces.length + 1)]);
    for (const { input } of Object.values(piece)) input.value = "";
    piece.name.input.focus();
  });
  for (const one of [cloth, selvedge, turn]) one.input.addEventListener("change", () => again());
  return {
    parts: [made("p", say("desk-plan-quick-lead"), { class: "lead" }), form, list, ...answers.parts],
    isOfNoJob: true,
    async show(signal) {
      for (const one of boxes) one.showUnit?.();
      if (pieces.length === 0 || cloth.typed() === "") return answers.clear();
      const query = [["cloth", cloth.typed()], ["turn", turn.input.value], ["units", unit()],
                     ...pieces.map((one) => ["piece", `${one.name} = ${one.sizes} * ${one.count}`])];
      if (selvedge.typed() !== "") query.push(["selvedge", selvedge.typed()]);
      await answers.show(signal, query);
    },
  };
}

// ---- What is bought ----

/** Where the price of it stands: with a cloth of one's own, else among the prices. */
function pricePath(job, { kind, name }) {
  const own = `materials.${name}.price`;
  return kind === "cloth" && job.value(own) !== "" ? own : `prices.${name}`;
}

function price(job, one, usual) {
  const path = pricePath(job, one);
  const input = made("input", "", { type: "text", inputmode: "decimal", size: "6", autocomplete: "off",
                                    "aria-label": say("desk-plan-price-of", { what: one.what }), placeholder: usual });
  input.value = job.value(path);
  input.addEventListener("change", () => job.setAll([[path, input.value.trim()]]));
  return input;
}

function currency(job) {
  const one = box(say("desk-plan-currency"), { hint: say("desk-plan-currency-hint"), value: job.value("batch.currency") });
  one.input.addEventListener("change", () => job.setAll([["batch.currency", one.input.value.trim()]]));
  return one.element;
}

/** How many of it are there already. */
function cupboard(job, { name, what }) {
  const path = `stock.things.${name}`;
  const input = made("input", "", { type: "text", inputmode: "decimal", size: "4", autocomplete: "off",
                                    "aria-label": say("desk-plan-cupboard-of", { what }) });
  input.value = job.value(path);
  input.addEventListener("change", () => job.setAll([[path, input.value.trim()]]));
  return input;
}

/** For how many, to buy, used up, price, cost. */
const kPriceColumn = 3;

function shownList(job, report) {
  const [bill, ...rest] = report.said;
  const names = report.supplies.map((one) => one.name);
  const [head, ...lines] = bill.lines;
  const rows = lines.map(({ cells }, index) => {
    const one = report.supplies[index];
    // What is cut of the same sheets is counted together.
    const isFirst = one && names.indexOf(one.name) === index;
    const with_price = cells.map((cell, column) => (column === kPriceColumn && isFirst ? price(job, one, cell) : cell));
    return [...with_price, isFirst && one.kind !== "cloth" ? cupboard(job, one) : ""];
  });
  const notes = made("details", "", { class: "told-group" });
  // The sum is one of them.
  notes.open = (report.cost ?? null) !== null;
  notes.append(made("summary", say("desk-plan-supplies-notes")), ...shownReport(rest));
  return [made("p", say("desk-plan-prices-lead"), { class: "lead" }), table([...head.cells, say("desk-plan-cupboard")], rows), currency(job), notes];
}

export function supplies({ job, answersOf }) {
  const answers = answersOf("supplies", { files: ["supplies.pdf", "supplies.csv"] });
  return { parts: answers.parts, show: (signal) => answers.show(signal, [], (report) => shownList(job, report)) };
}
