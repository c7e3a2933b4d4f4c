// What the group wrote down of its days: files of a record opened, bundles and trials with the iron typed
// in, and what the program makes of both. It stays in this browser beside its pouch, and nowhere else.
//
// A row is written as the program reads it, by the names of its columns; what it means is the program's
// affair.

import { download } from "./pouches.mjs";
import { folded, unitOf } from "./places.mjs";
import { asked, box, button, choice, shownReport } from "./reports.mjs";
import { addRecordFile, keepRecord, recordOf } from "./store.mjs";
import { fileName, made, say } from "./words.mjs";

const kColumns = ["date", "bundle", "operation", "helper", "minutes", "pouches", "leaks", "place", "dots", "steam", "seconds", "held",
                  "clear_seal", "note"];
const kTest = "test";
const kRecorded = "record/job-recorded.toml";

const quoted = (text) => (/[",;\n]/.test(text) ? `"${text.replace(/"/g, '""')}"` : text);

/** Typed rows as a file. */
function csvOf(rows) {
  return [kColumns, ...rows.map((row) => kColumns.map((name) => quoted(row[name] ?? "")))].map((cells) => `${cells.join(",")}\n`).join("");
}

const textsOf = ({ files, rows }) => [...files.map((one) => one.text), ...(rows.length > 0 ? [csvOf(rows)] : [])];

// ---- What is typed ----

/** As ISO 8601 has it, by the clock of this place: Swedish writes it so. */
const today = () => new Date().toLocaleDateString("sv");
const answers = () => ["yes", "no"].map((one) => [one, say(`desk-record-${one}`)]);

function dayBox() {
  const one = box(say("desk-record-date"), { value: today() });
  one.input.type = "date";
  return one;
}

/** A form of one row; `columns` are its boxes by the columns' names. */
function rowForm(name, columns, add, { needed, keeps }) {
  const form = asked(name, Object.values(columns), say("desk-record-add"), () => {
    const row = Object.fromEntries(Object.entries(columns).map(([column, one]) => [column, (one.typed ?? (() => one.input.value))().trim()]));
    const missing = needed(row).find((column) => row[column] === "");
    if (missing) return void columns[missing].input.focus();
    add(row);
    for (const [column, { input }] of Object.entries(columns)) {
      if (input.localName === "input" && !keeps.includes(column)) input.value = "";
    }
    Object.entries(columns).find(([column]) => !keeps.includes(column))[1].input.focus();
  });
  return form;
}

/** A test tells of leaks; of all else a seal may have been measured. What the work is called goes with the
    row: another kind of pouch may not know it. */
function bundleForm(job, add) {
  const unit = unitOf(job);
  const columns = {
    date: dayBox(),
    bundle: box(say("desk-record-bundle"), { kind: "numeric" }),
    operation: choice(say("desk-record-operation"), []),
    helper: box(say("desk-record-helper")),
    minutes: box(say("desk-record-minutes"), { kind: "decimal" }),
    pouches: box(say("desk-record-pouches"), { kind: "numeric" }),
    leaks: box(say("desk-record-leaks"), { kind: "numeric" }),
    place: box(say("desk-record-place"), { hint: say("desk-record-place-hint") }),
    clear_seal: box(say("desk-record-seal"), { unit }),
  };
  const showKind = () => {
    const isTest = columns.operation.input.value === kTest;
    for (const name of ["leaks", "place"]) columns[name].element.hidden = !isTest;
    columns.clear_seal.element.hidden = isTest;
    for (const name of isTest ? ["clear_seal"] : ["leaks", "place"]) columns[name].input.value = "";
  };
  columns.operation.input.addEventListener("change", showKind);
  const needed = ({ operation }) => ["bundle", ...(operation === kTest ? ["pouches", "leaks"] : [])];
  return {
    part: rowForm(say("desk-record-bundle-form"), columns, (row) => add({ ...row, called: columns.operation.input.selectedOptions[0]?.textContent }), { needed, keeps: ["date", "helper", "pouches"] }),
    show(operations) {
      columns.operation.offer(operations.map((one) => [one.operation, one.name]));
      columns.clear_seal.showUnit();
      showKind();
    },
  };
}

function trialForm(add) {
  const columns = {
    date: dayBox(),
    helper: box(say("desk-record-helper")),
    dots: choice(say("desk-record-dots"), ["1", "2", "3"].map((one) => [one, one])),
    steam: choice(say("desk-record-steam"), answers().reverse()),
    seconds: box(say("desk-record-seconds"), { kind: "decimal" }),
    held: choice(say("desk-record-held"), answers()),
  };
  const form = rowForm(say("desk-record-trial-form"), columns, (row) => add({ ...row, operation: "trial" }),
                       { needed: () => ["seconds"], keeps: ["date", "helper"] });
  return folded(say("desk-record-trial-form"), say("desk-record-trial-lead"), [form]);
}

// ---- The place ----

/** A row in few words, in the order of its columns. */
function wordsOf(row) {
  const said = { ...row, operation: row.called ?? say("desk-record-trial"), of: row.leaks ? say("desk-record-leaks-of", { leaks: row.leaks, pouches: row.pouches }) : "" };
  const parts = [said.bundle && say("desk-record-row-bundle", said), said.operation, said.helper, said.minutes && say("desk-record-row-minutes", said),
                 said.of, said.place, said.clear_seal, said.seconds && say("desk-record-row-seconds", said),
                 said.held && say(`desk-record-held-${said.held}`)];
  return parts.filter(Boolean).join(" · ");
}

function opener(take) {
  const input = made("input", "", { type: "file", accept: ".csv,text/csv", multiple: "" });
  const label = made("label", say("desk-record-open"), { class: "button" });
  label.append(input);
  input.addEventListener("change", async () => {
    for (const file of input.files) await take(file);
    input.value = "";
  });
  const element = made("div", "", { class: "buttons" });
  element.append(label);
  return element;
}

export function record(desk, again) {
  const { job, answersOf, write } = desk;
  const answers_ = answersOf("record", { picture: "record.svg", files: ["record.pdf"], isPictured: true });
  const list = made("ul", "", { class: "stock" });
  const status = made("p", "", { role: "status", class: "room-status" });
  const kept = made("div", "", { class: "buttons", hidden: "" });

  function change(to) {
    status.textContent = { kept: "", held: say("desk-record-here-only"), "": say("desk-record-not-kept") }[keepRecord(job.id, to)];
    again();
  }
  const add = (row) => change({ ...recordOf(job.id), rows: [...recordOf(job.id).rows, row] });

  async function take(file) {
    const how = addRecordFile(job.id, file.name, await file.text());
    status.textContent = say({ kept: "desk-record-opened", held: "desk-record-here-only", "": "desk-record-too-large" }[how], { file: file.name });
    again();
  }

  /** What stands in the record, the latest row first. */
  function showList({ files, rows }) {
    const item = (words, drop) => {
      const element = made("li", "");
      element.append(made("span", words), button(say("desk-plan-take-out"), drop, { "aria-label": say("desk-plan-take-out-of", { piece: words }) }));
      return element;
    };
    const without = (all, one) => all.filter((other) => other !== one);
    list.replaceChildren(
      ...files.map((one) => item(say("desk-record-file", { file: one.name }), () => change({ files: without(files, one), rows }))),
      ...rows.map((one) => item(wordsOf(one), () => change({ files, rows: without(rows, one) }))).reverse());
    list.hidden = list.children.length === 0;
  }

  const sentOf = (texts) => texts.map((text) => ["record", text]);
  const saveRows = button(say("desk-record-keep"), () =>
    download(`${fileName(job.value("title"), "pouch")}-record.csv`, new Blob([csvOf(recordOf(job.id).rows)], { type: "text/csv" })));

  /** The iron's setting that held, and tolerances that measured seals show: a step that undo takes back. */
  const takeOver = button(say("desk-record-apply"), async () => {
    const sent = sentOf(textsOf(recordOf(job.id)));
    const { ok, blob } = await desk.ask(kRecorded, { query: [["apply", "record"]], body: await job.settled(), sent });
    if (!ok) return;
    const text = await blob.text();
    status.textContent = say(text === job.text ? "desk-record-apply-none" : "desk-record-applied");
    if (text !== job.text) write(text);
  });
  kept.append(saveRows, takeOver);

  const bundle = bundleForm(job, add);
  const parts = [made("p", say("desk-record-lead"), { class: "lead" }), opener(take),
                 folded(say("desk-record-bundle-form"), say("desk-record-bundle-lead"), [bundle.part]), trialForm(add), status, list,
                 ...answers_.parts, kept];
  return {
    parts,
    async show(signal) {
      const record_ = recordOf(job.id);
      const texts = textsOf(record_);
      const report = await answers_.show(signal, [], (one) => shownReport(one.said), sentOf(texts));
      // A record that cannot be read says nothing of what rows may be about.
      const known = report ?? (await desk.ask("record", { body: job.text, signal })).json;
      showList(record_);
      bundle.show(known?.operations ?? []);
      kept.hidden = texts.length === 0;
      saveRows.hidden = record_.rows.length === 0;
      if (texts.length > 0) return;
      answers_.clear();
      answers_.told.append(made("p", say("desk-record-none")));
    },
  };
}
