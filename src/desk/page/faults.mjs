// What is wrong, what is to be bewared of, and what is still needed: in words, where it is about, and
// with what mends it.
//
//     showFaults(told, source);   // at an answer; several sources may speak
//     goToFault();                // to the worst that stops the work
//
// Nobody is scolded while typing: complaints wait until the box is left, or for a moment after the
// last key. What is still needed is no fault. Red is for what stops the work, for what would leak, and
// for a pouch that does not take what it is for.

import { job } from "./job.mjs";
import { fields, goTo } from "./fields.mjs";
import { byId, counted, data, made, nameOf, say } from "./words.mjs";

const kMoment = 800;
const textArea = byId("text");

/** Source -> its report; the same fault of two sources is shown once. */
const found = new Map();
let typedAt = -Infinity;
let timer = 0;

/** `onShown(words, severity)`: what it comes to, in a line. */
let onShown = () => {};

export function listenToFaults(hear) {
  onShown = hear;
  document.addEventListener("input", ({ target }) => {
    if (target.tagName !== "SELECT") typedAt = performance.now();
  }, { capture: true });
  document.addEventListener("focusout", () => {
    typedAt = -Infinity;
    if (timer) show();
  });
}

/** A new job: what was found of the one before is no longer so. */
export function clearFaults() {
  found.clear();
}

export function showFaults(report, source = "edit") {
  found.set(source, report);
  clearTimeout(timer);
  timer = 0;
  const rest = typedAt + kMoment - performance.now();
  const isBad = all().some((one) => rank(one) !== kNeeded && rank(one) !== kWarning);
  if (!isBad || rest <= 0) return show();
  timer = setTimeout(show, rest);
}

const kLeaks = 0, kError = 1, kShort = 2, kNeeded = 3, kUnlikely = 4, kWarning = 5;
const kRankWords = ["leaks", "error", "short", "needed", "unlikely", "warning"];

/** `short`: fewer go in than are asked for. `unlikely`: another value of the same box is likelier. */
function rank(fault) {
  if (fault.missing) return kNeeded;
  if (fault.leaks) return kLeaks;
  if (fault.severity === "errors") return kError;
  if (fault.path === "liners.count") return kShort;
  return fault.path && fault.remedy?.path === fault.path ? kUnlikely : kWarning;
}

function all() {
  const different = new Map();
  for (const report of found.values()) {
    for (const severity of ["errors", "warnings"]) {
      for (const one of report[severity] ?? []) {
        const key = JSON.stringify([severity, one.place, one.message]);
        if (!different.has(key)) different.set(key, { ...one, severity });
      }
    }
  }
  return [...different.values()].sort((a, b) => rank(a) - rank(b));
}

// ---- Where ----

function isShown(path) {
  return path === "construction" || (fields.has(path) && !fields.get(path).element.hidden);
}

/** The value that stands in the line of the fault. */
function pathOfLine(fault) {
  if (!fault.place || fault.place.file !== data.job) return null;
  const { line } = fault.place;
  const [path] = Object.entries(job.told.values ?? {}).find(([, value]) => value.first <= line && line <= value.last) ?? [];
  return path ?? null;
}

/** A path, or "text" for a line of the job; null where it is about nothing that can be gone to. */
function whereOf(fault) {
  const path = fault.path ?? pathOfLine(fault);
  if (path && isShown(path)) return path;
  return fault.place?.file === data.job && fault.place.line > 0 ? "text" : null;
}

/** In the list of fields, and on the first visit. */
const slotsOf = (where) => [`${where}-fault`, `start-${where}-fault`].map(byId).filter(Boolean);

/** Lines count from 1. */
function selectLine(line) {
  if (document.body.dataset.room !== "pouch") job.enter("pouch");
  const lines = textArea.value.split("\n");
  const from = lines.slice(0, line - 1).join("\n").length + (line > 1 ? 1 : 0);
  textArea.closest("details").open = true;
  textArea.focus();
  textArea.setSelectionRange(from, from + (lines[line - 1] ?? "").length);
}

// ---- Showing ----

function clearSlots() {
  for (const slot of document.querySelectorAll(".fault")) {
    slot.textContent = "";
    delete slot.dataset.rank;
  }
  for (const place of document.querySelectorAll(".remedies")) place.replaceChildren();
  for (const control of document.querySelectorAll("[aria-invalid]:not([data-empty])")) control.removeAttribute("aria-invalid");
}

function showAtField(fault, where) {
  const line = where === "text" ? `${say("desk-line", { line: fault.place.line })}: ` : "";
  const hint = fault.hint ? `\n${fault.hint}` : "";
  for (const slot of slotsOf(where)) {
    slot.textContent += `${slot.textContent ? "\n" : ""}${line}${fault.message}${hint}`;
    slot.dataset.rank ??= kRankWords[rank(fault)];
  }
  const place = byId(`start-${where}-remedies`);
  if (place && fault.remedy) place.append(remedyButton(fault));
  if (rank(fault) > kShort) return;
  for (const control of document.querySelectorAll(`[data-value="${CSS.escape(where)}"]`)) control.setAttribute("aria-invalid", "true");
  if (where === "text") textArea.setAttribute("aria-invalid", "true");
}

function button(words, act) {
  const made_ = made("button", words, { type: "button" });
  made_.addEventListener("click", act);
  return made_;
}

const capital = (words) => words.charAt(0).toUpperCase() + words.slice(1);

function mend({ path, value }) {
  job.rest();
  job.set(path, value);
}

const remedyButton = ({ remedy }) => button(capital(remedy.words), () => mend(remedy));

/** A line of the list of faults, with what mends it and where it is. */
function listed(fault, where) {
  const item = made("li", "", { "data-rank": kRankWords[rank(fault)] });
  const words = made("p", "");
  words.append(made("strong", say(`desk-rank-${kRankWords[rank(fault)]}`)), ` ${fault.message}`);
  if (fault.hint && !fault.remedy) words.append(made("span", ` ${fault.hint}`, { class: "hint" }));
  item.append(words);
  if (fault.remedy) item.append(remedyButton(fault));
  if (where === "text") item.append(button(say("desk-go-to-line", { line: fault.place.line }), () => selectLine(fault.place.line)));
  else if (where) item.append(button(say("desk-go-to-field", { field: nameOf(where) }), () => goTo(where)));
  return item;
}

/** What is still needed stands in one line, and each leads to its field. */
function listedNeeded(needed) {
  const item = made("li", "", { "data-rank": "needed" });
  item.append(made("p", say("desk-needed-are")));
  for (const path of needed) item.append(button(nameOf(path), () => goTo(path)));
  return item;
}

const neededOf = (faults) => [...new Set(faults.filter((one) => rank(one) === kNeeded).map((one) => one.path).filter(isShown))];

/** These, in lines; what is needed together in one. */
function listOf(faults) {
  const needed = neededOf(faults);
  const items = faults.filter((one) => rank(one) !== kNeeded || !needed.includes(one.path)).map((one) => listed(one, whereOf(one)));
  return needed.length > 0 ? [...items, listedNeeded(needed)] : items;
}

function show() {
  clearTimeout(timer);
  timer = 0;
  clearSlots();
  const faults = all();
  const needed = neededOf(faults);
  for (const fault of faults) {
    const where = whereOf(fault);
    if (where && !needed.includes(fault.path)) showAtField(fault, where);
  }
  byId("faults").replaceChildren(...listOf(faults));
  const worst = faults.length > 0 ? kRankWords[rank(faults[0])] : "fine";
  onShown(summary(faults, needed), worst);
}

function summary(faults, needed) {
  const count = (of) => faults.filter((one) => of.includes(rank(one))).length;
  const wrong = faults.filter((one) => one.severity === "errors" && !(one.missing && needed.includes(one.path))).length;
  const parts = [];
  if (count([kLeaks]) > 0) parts.push(say("desk-would-leak"));
  if (wrong > 0) parts.push(counted(wrong, "desk-one-error", "desk-errors"));
  if (count([kShort]) > 0) parts.push(say("desk-carries-too-few"));
  if (needed.length > 0) parts.push(say("desk-needed", { fields: needed.map(nameOf).join(", ") }));
  if (count([kUnlikely]) > 0) parts.push(counted(count([kUnlikely]), "desk-one-unlikely", "desk-unlikely"));
  if (count([kWarning]) > 0) parts.push(counted(count([kWarning]), "desk-one-warning", "desk-warnings"));
  return parts.join(" ") || say("desk-fine");
}

// ---- Before it is printed ----

const stops = (fault) => fault.severity === "errors";

/** What stops the work, for a room that cannot show it. */
export const listOfStops = () => listOf(all().filter(stops));

/** To the worst that stops the work; false where nothing does. */
export function goToFault() {
  const worst = all().find(stops);
  if (!worst) return false;
  show();
  const where = whereOf(worst);
  if (where === "text") selectLine(worst.place.line);
  else if (where) goTo(where);
  return true;
}

let agreed = "";

/** Where the pouch can be made, but hardly as it is meant, it is asked once: print all the same? */
export async function isSure() {
  const doubts = all().filter((one) => !stops(one) && [kLeaks, kShort, kUnlikely].includes(rank(one)));
  const key = JSON.stringify(doubts.map((one) => one.message));
  if (doubts.length === 0 || key === agreed) return true;
  if (!(await isAgreed(doubts))) return false;
  agreed = key;
  return true;
}

function questionOf(doubts) {
  const ranks = new Set(doubts.map(rank));
  const parts = [[kLeaks, "desk-would-leak"], [kShort, "desk-carries-too-few"], [kUnlikely, "desk-sizes-unlikely"]];
  return [...parts.filter(([one]) => ranks.has(one)).map(([, word]) => say(word)), say("desk-print-all-the-same")].join(" ");
}

function isAgreed(doubts) {
  const dialog = made("dialog", "", { class: "sure", id: "sure", "aria-labelledby": "sure-question" });
  const list = made("ul", "", { class: "faults" });
  list.append(...listOf(doubts));
  const choices = made("div", "", { class: "buttons" });
  choices.append(button(say("desk-print-not-yet"), () => dialog.close()), button(say("desk-print-yes"), () => dialog.close("yes")));
  dialog.append(made("h2", questionOf(doubts), { id: "sure-question" }), list, choices);
  // What mends it, or leads to it, is an answer as well: the dialogue goes first, so that the focus stays there.
  list.addEventListener("click", ({ target }) => target.closest("button") && dialog.close(), { capture: true });
  document.body.append(dialog);
  dialog.showModal();
  return new Promise((resolve) => {
    dialog.addEventListener("close", () => (resolve(dialog.returnValue === "yes"), dialog.remove()), { once: true });
  });
}
