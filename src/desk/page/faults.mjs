// What is wrong, what is to be bewared of, and what is still needed: in words, where it is about, and
// with what mends it.
//
//     showFaults(told, source);   // at an answer; several sources may speak
//
// Nobody is scolded while typing: complaints wait until the box is left, or for a moment after the
// last key. What is still needed is no fault. Red is for what stops the work, and for what would leak.

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
  const isBad = all().some((one) => rank(one) < kNeeded);
  if (!isBad || rest <= 0) return show();
  timer = setTimeout(show, rest);
}

const kLeaks = 0, kError = 1, kNeeded = 2, kWarning = 3;
const kRankWords = ["leaks", "error", "needed", "warning"];

function rank(fault) {
  if (fault.missing) return kNeeded;
  if (fault.leaks) return kLeaks;
  return fault.severity === "errors" ? kError : kWarning;
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

function slotOf(where) {
  return byId(where === null ? "" : `${where}-fault`);
}

/** Lines count from 1. */
function selectLine(line) {
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
  for (const control of document.querySelectorAll("[aria-invalid]")) control.removeAttribute("aria-invalid");
}

function showAtField(fault, where) {
  const slot = slotOf(where);
  if (!slot) return;
  const line = where === "text" ? `${say("desk-line", { line: fault.place.line })}: ` : "";
  const hint = fault.hint ? `\n${fault.hint}` : "";
  slot.textContent += `${slot.textContent ? "\n" : ""}${line}${fault.message}${hint}`;
  slot.dataset.rank ??= kRankWords[rank(fault)];
  if (rank(fault) > kError) return;
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

/** A line of the list of faults, with what mends it and where it is. */
function listed(fault, where) {
  const item = made("li", "", { "data-rank": kRankWords[rank(fault)] });
  const words = made("p", "");
  words.append(made("strong", say(`desk-rank-${kRankWords[rank(fault)]}`)), ` ${fault.message}`);
  if (fault.hint && !fault.remedy) words.append(made("span", ` ${fault.hint}`, { class: "hint" }));
  item.append(words);
  if (fault.remedy) item.append(button(capital(fault.remedy.words), () => mend(fault.remedy)));
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

function show() {
  clearTimeout(timer);
  timer = 0;
  clearSlots();
  const faults = all();
  const needed = [...new Set(faults.filter((one) => rank(one) === kNeeded).map((one) => one.path).filter(isShown))];
  const items = [];
  for (const fault of faults) {
    const where = whereOf(fault);
    if (rank(fault) === kNeeded && needed.includes(fault.path)) continue;
    if (where) showAtField(fault, where);
    items.push(listed(fault, where));
  }
  if (needed.length > 0) items.push(listedNeeded(needed));
  byId("faults").replaceChildren(...items);
  const worst = faults.length > 0 ? kRankWords[rank(faults[0])] : "fine";
  onShown(summary(faults, needed), worst);
}

function summary(faults, needed) {
  const count = (of) => faults.filter((one) => of.includes(rank(one))).length;
  const wrong = faults.filter((one) => one.severity === "errors" && !(one.missing && needed.includes(one.path))).length;
  const parts = [];
  if (count([kLeaks]) > 0) parts.push(say("desk-would-leak"));
  if (wrong > 0) parts.push(counted(wrong, "desk-one-error", "desk-errors"));
  if (needed.length > 0) parts.push(say("desk-needed", { fields: needed.map(nameOf).join(", ") }));
  if (count([kWarning]) > 0) parts.push(counted(count([kWarning]), "desk-one-warning", "desk-warnings"));
  return parts.join(" ") || say("desk-fine");
}
