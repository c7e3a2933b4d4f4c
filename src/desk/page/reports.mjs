// What the program tells people, as parts of the page: the lines of a report as headings, lists and
// tables, its pictures, and several answers at once. For the rooms; what a report is about, and what
// it says, is the program's affair.
//
//     const answers = await several(ask, ["lay?form=said", "lay/lay.svg"], { body: job.text });
//     element.replaceChildren(...shownReport(answers.get("lay?form=said").json.said));

import { isWord, made, say } from "./words.mjs";

// ---- Several answers ----

async function partOf(status, type, blob) {
  const read = { ok: status === 200, status, type };
  if (type === "application/json") return { ...read, json: JSON.parse(await blob.text()) };
  if (type === "text/plain") return { ...read, text: await blob.text() };
  return { ...read, blob };
}

/** Route (with its query) -> its answer, as `ask` gives one; in one request. */
export async function several(ask, routes, { body, sent, signal }) {
  const { ok, parts } = await ask("several", { query: routes.map((route) => ["of", route]), body, sent, signal });
  if (!ok) return new Map();
  const status = JSON.parse(await parts.get("status").text());
  const read = routes.map(async (route) => {
    const blob = parts.get(route);
    return [route, await partOf(status[route], blob.type.replace(/;.*/, ""), blob)];
  });
  return new Map(await Promise.all(read));
}

/** A route with its query, as `several` takes it. */
export function withQuery(route, query) {
  const search = new URLSearchParams(query).toString();
  return search === "" ? route : `${route}?${search}`;
}

/** What went wrong, in the program's words. */
export function faultsOf(answer) {
  const errors = answer?.json?.errors ?? [];
  if (errors.length > 0) return errors.map((one) => [one.message, one.hint].filter(Boolean).join(". "));
  return [answer?.text?.trim() || say("desk-plan-nothing")];
}

export function shownFaults(answer) {
  return faultsOf(answer).map((words) => made("p", words, { class: "room-fault" }));
}

/** Stands in a room until the job can be made. */
export function notYet() {
  const element = made("p", say("desk-plan-not-yet"), { class: "lead" });
  return { element, show: (isWhole) => (element.hidden ||= isWhole) };
}

// ---- Pictures ----

/** Shows `blob` once it can be drawn, so that nothing blinks. */
export async function showPicture(image, blob) {
  const address = URL.createObjectURL(blob);
  const next = new Image();
  next.src = address;
  await next.decode().catch(() => {});
  const old = image.src;
  image.src = address;
  if (old.startsWith("blob:")) URL.revokeObjectURL(old);
}

/** A drawing, which is turned round in the dark. */
export function figureOf(alt, attributes = {}) {
  const figure = made("figure", "", { class: "room-picture", ...attributes });
  figure.append(made("img", "", { alt, class: "drawing" }));
  return figure;
}

// ---- Numbers of a pouch ----

/** Parts of the answer in one line that its numbers tell as well, and more exactly. */
const kInNumbers = new Set(["carries", "size", "water"]);

/** Name and value of each number that the program tells of a job. */
export function numbersOf({ answer = [], numbers = [] }) {
  const more = answer.filter(({ name }) => !kInNumbers.has(name)).map(({ name, words }) => {
    const key = `desk-plan-answer-${name}`;
    return [isWord(key) ? say(key) : name, words];
  });
  return [...numbers, ...more];
}

// ---- A report ----

/** What has more lines than this under one heading begins closed, if something stands before it. */
const kLongGroup = 12;
const kNumbered = /^(\d+)\. +/;

/** The report's blocks as elements; headings are of that level. */
export function shownReport(blocks, level = 4) {
  return blocks.flatMap(groupsOf).map((group, index) => {
    const elements = group.look === "table" ? [tableOf(group.lines)] : linesOf(group, level);
    if (group.look === "table" || index === 0 || group.lines.length <= kLongGroup) return groupOf(elements);
    return folded(elements, group.lines[0].cells[0]);
  });
}

/** Each heading, but that of a table's columns, begins a group. */
function groupsOf({ look, lines }) {
  const groups = [];
  for (const line of lines) {
    if (groups.length === 0 || (line.kind === "heading" && look !== "table")) groups.push({ look, lines: [] });
    groups.at(-1).lines.push(line);
  }
  return groups;
}

function groupOf(elements) {
  const group = made("div", "", { class: "told-group" });
  group.append(...elements);
  return group;
}

function folded(elements, summary) {
  const details = made("details", "", { class: "told-group" });
  const [first, ...rest] = elements;
  details.append(made("summary", summary), ...(first.textContent === summary ? rest : elements));
  return details;
}

/** Lines of one kind one after another are one list. */
function linesOf({ look, lines }, level) {
  const elements = [];
  const into = (tag, kind) => {
    const last = elements.at(-1);
    if (last?.dataset.of === kind) return last;
    elements.push(made(tag, "", { "data-of": kind }));
    return elements.at(-1);
  };
  for (const { kind, cells } of lines) {
    if (kind === "heading") elements.push(made(`h${level}`, cells[0]));
    else if (kind === "item" && cells.length > 1) into("dl", "items").append(...itemOf(cells));
    else if (look === "prose") elements.push(made("p", cells[0]));
    else if (look === "steps" || kNumbered.test(cells[0])) into("ol", "steps").append(made("li", cells[0].replace(kNumbered, "")));
    else into("ul", "lines").append(made("li", cells[0]));
  }
  return elements;
}

function itemOf([name, ...values]) {
  const row = made("div", "");
  row.append(made("dt", name), made("dd", values.filter((value) => value !== "").join("; ")));
  return [row];
}

function tableOf(lines) {
  const head = lines.find((line) => line.kind === "heading")?.cells ?? [];
  return table(head, lines.filter((line) => line.kind !== "heading").map((line) => line.cells));
}

/** Rows of cells, each a text or an element; the first of a row names it. On a narrow page every cell
    stands in a line of its own, behind the name of its column. */
export function table(head, rows, caption = "") {
  const element = made("table", "", { class: "told-table" });
  if (caption !== "") element.append(made("caption", caption));
  const names = made("tr", "");
  names.append(...head.map((name) => made("th", name, { scope: "col" })));
  const top = made("thead", "");
  top.append(names);
  const body = made("tbody", "");
  body.append(...rows.map((cells) => rowOf(cells, head)));
  element.append(top, body);
  return element;
}

function rowOf(cells, head) {
  const row = made("tr", "");
  row.append(...cells.map((content, index) => {
    const cell = index === 0 ? made("th", "", { scope: "row" }) : made("td", "", { "data-name": head[index] ?? "" });
    cell.append(content);
    if (cell.textContent === "" && cell.children.length === 0) cell.classList.add("empty");
    return cell;
  }));
  return row;
}

// ---- Asking for what is asked for ----

let fields = 0;
const hasUnit = (text) => /[a-z"″'’]/i.test(text.replace(/x/gi, ""));

/** A box with its name above it and its unit in it; `typed` has the unit, which holds for all that stands
    before it. */
export function box(name, { hint = "", value = "", kind = "text", unit = () => "" } = {}) {
  const id = `room-field-${++fields}`;
  const element = made("div", "", { class: "room-field" });
  const label = made("label", name, { for: id });
  const input = made("input", "", { id, type: "text", inputmode: kind, autocomplete: "off", autocapitalize: "off", spellcheck: "false" });
  input.value = value;
  const around = made("div", "", { class: "box" });
  const shown = made("span", "", { class: "unit", id: `${id}-unit` });
  around.append(input, ...(unit() === "" ? [] : [shown]));
  const showUnit = () => (shown.textContent = hasUnit(input.value) ? "" : unit());
  input.addEventListener("input", showUnit);
  input.addEventListener("focus", showUnit);
  showUnit();
  const typed = () => {
    const text = input.value.trim();
    return text === "" || hasUnit(text) ? text : `${text} ${unit()}`.trim();
  };
  element.append(label, around);
  if (hint !== "") {
    element.append(made("p", hint, { class: "hint", id: `${id}-hint` }));
  }
  input.setAttribute("aria-describedby", `${id}-unit${hint === "" ? "" : ` ${id}-hint`}`);
  return { element, input, typed, showUnit };
}

/** The same for a choice among `options`: value -> words. */
export function choice(name, options) {
  const id = `room-field-${++fields}`;
  const element = made("div", "", { class: "room-field" });
  const input = made("select", "", { id });
  const offer = (all) => {
    const { value: before } = input;
    input.replaceChildren(...all.map(([value, words]) => made("option", words, { value })));
    if (all.some(([value]) => value === before)) input.value = before;
  };
  offer(options);
  element.append(made("label", name, { for: id }), input);
  return { element, input, offer };
}

export function button(words, does, attributes = {}) {
  const element = made("button", words, { type: "button", ...attributes });
  element.addEventListener("click", does);
  return element;
}

/** Several boxes and a button, which Enter presses as well. */
export function asked(name, parts, words, does) {
  const form = made("form", "", { class: "room-form", "aria-label": name });
  form.append(...parts.map((part) => part.element), made("button", words, { type: "submit" }));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    does();
  });
  return form;
}

/** `does(signal, text)` once for each text of the job; what was left before it was done is done anew. */
export function oncePerText(does) {
  const asking = oneAtATime();
  let shown = null;
  const again = (text) => {
    shown = text;
    return asking.begin(async (signal) => {
      try {
        await does(signal, text);
      } catch (failure) {
        if (shown === text) shown = null;
        throw failure;
      }
    });
  };
  return { again, show: (text) => (text === shown ? null : again(text)), stop: asking.stop };
}

/** One asking at a time: a new one drops the one before, and so does `stop`. */
export function oneAtATime() {
  let asking = new AbortController();
  return {
    stop: () => asking.abort(),
    /** Calls `does(signal)`; that it was dropped is no failure. */
    async begin(does) {
      asking.abort();
      asking = new AbortController();
      const { signal } = asking;
      try {
        await does(signal);
      } catch (failure) {
        if (failure.name !== "AbortError") throw failure;
      }
    },
  };
}
