// The page: fields <-> the text of a job, and what the program says of that text.
//
// The job's text is the one truth. A field changes one value of it and leaves the rest, comments
// too, as it is; so whatever a job can say can be said here, in a field or in the text. Nothing is
// worked out on this side, not even the text: each change is sent to the program, and its answer is
// shown.

import { clothOf } from "./numbers.mjs";
import { byId, counted, data, made, say } from "./words.mjs";

// ---- Fields ----

const kOwn = "own";
const kAsWritten = "as-written";
const fields = new Map();
for (const element of document.querySelectorAll(".field")) {
  const path = element.dataset.path;
  const control = byId(path);
  fields.set(path, { path, element, control, kind: control.dataset.kind ?? "choice", fault: byId(`${path}-fault`) });
}
const radios = [...document.querySelectorAll('input[name="construction"]')];
const ownParts = [...document.querySelectorAll("[data-own]")];

/** Adds the choices that only a script can offer. */
function addOwnChoices() {
  for (const part of ownParts) {
    byId(part.dataset.own).append(made("option", say("desk-choice-own"), { value: kOwn }));
  }
}

/** Shows `value` in a choice; one that is not among its options is added as it is written. */
function choose(control, value, shown) {
  control.querySelector(`option[data-${kAsWritten}]`)?.remove();
  if (![...control.options].some((option) => option.value === value)) {
    control.append(made("option", shown, { value, [`data-${kAsWritten}`]: "" }));
  }
  control.value = value;
}

function showField(field, value) {
  const typed = value ? value.typed : "";
  const shown = typed ?? value.written;
  if (field.kind === "choice") {
    choose(field.control, shown, shown);
  } else if (field.control !== document.activeElement || field.control.value.trim() !== shown) {
    field.control.value = shown;
  }
  // What is more than one value is changed in the text.
  field.control.disabled = typed === null;
}

/** The fields after what the program read of the text. */
function showJob() {
  for (const field of fields.values()) showField(field, job.values[field.path]);
  for (const part of ownParts) {
    const isOwn = job.tables.includes(part.dataset.own);
    part.hidden = !isOwn;
    if (isOwn) byId(part.dataset.own).value = kOwn;
  }
  const name = job.values.construction?.typed ?? "";
  for (const radio of radios) radio.checked = radio.value === name;
  showSizesOf(name);
}

/** Only the sizes that the construction has, and those that the job gives all the same. */
function showSizesOf(name) {
  const construction = data.constructions.find((one) => one.name === name);
  if (!construction) return;
  for (const size of construction.sizes) showMeaning(`pouch.${size.name}`, size.meaning);
  const sizes = new Set(construction.sizes.map((size) => `pouch.${size.name}`));
  const known = new Set(data.constructions.flatMap((one) => one.sizes.map((size) => `pouch.${size.name}`)));
  for (const field of fields.values()) {
    if (known.has(field.path)) field.element.hidden = !sizes.has(field.path) && !(field.path in job.values);
  }
}

/** One size may mean something else in each construction; the words' own hint goes before. */
function showMeaning(path, meaning) {
  const hint = byId(`${path}-hint`);
  if (hint && !(`desk-field-${path.replace(/[._]/g, "-")}-hint` in data.words)) hint.textContent = meaning;
}

// ---- The job that is open ----

const kMostBytes = 64 * 1024;
const kEmptyJob = 'construction = "foldover"\nunits = "mm"\n';
const textArea = byId("text");
/** As the program had it last. */
let jobText = "";
/** What the program read of it. */
let job = { values: {}, tables: [] };
/** Path -> what was typed there; not yet in the text. */
const changes = new Map();

function setJob(text) {
  jobText = text;
  changes.clear();
  ask();
}

function change(path, typed) {
  changes.delete(path);
  changes.set(path, typed);
  ask();
}

/** The text with all changes, from the program; no TOML yet, it waits with them. */
function takeOver(told) {
  jobText = told.job;
  if (textArea.value !== jobText) textArea.value = jobText;
  keepInAddress(jobText);
  if (!told.values) {
    job = { ...job, values: {} };
    return;
  }
  changes.clear();
  job = told;
  showJob();
}

/** The cloth's name, or a table of its own. */
function chosenCloth(path, chosen) {
  if (chosen !== kOwn) return change(path, chosen);
  ownParts.find((part) => part.dataset.own === path).hidden = false;
  change(`${path}.width`, "150 cm");
  byId(`${path}.width`).focus();
}

function listen() {
  for (const field of fields.values()) {
    const isCloth = ownParts.some((part) => part.dataset.own === field.path);
    field.control.addEventListener(field.kind === "choice" ? "change" : "input", () => {
      const typed = field.control.value.trim();
      if (isCloth) chosenCloth(field.path, typed);
      else change(field.path, typed);
    });
  }
  for (const radio of radios) {
    radio.addEventListener("change", () => change("construction", radio.value));
  }
  textArea.addEventListener("input", () => setJob(textArea.value));
  byId("job").addEventListener("submit", (event) => event.preventDefault());
}

/** What was filled in before the script came. */
function takeFields() {
  jobText = kEmptyJob;
  const chosen = radios.find((radio) => radio.checked);
  if (chosen) changes.set("construction", chosen.value);
  for (const field of fields.values()) {
    const typed = field.control.value.trim();
    if (typed) changes.set(field.path, typed);
  }
  ask();
}

// ---- The job in the address ----

const kFragment = "#job=";

function toBase64(text) {
  const bytes = new TextEncoder().encode(text);
  const letters = Array.from(bytes, (byte) => String.fromCharCode(byte)).join("");
  return btoa(letters).replace(/\+/g, "-").replace(/\//g, "_").replace(/=+$/, "");
}

function fromBase64(text) {
  const letters = atob(text.replace(/-/g, "+").replace(/_/g, "/"));
  return new TextDecoder().decode(Uint8Array.from(letters, (letter) => letter.charCodeAt(0)));
}

let keeping = 0;
/** So that reloading the page, or a link to it, finds the job again. Not at each letter: browsers
    refuse too many changes of the address. */
function keepInAddress(text) {
  clearTimeout(keeping);
  keeping = setTimeout(() => history.replaceState(null, "", kFragment + toBase64(text)), 400);
}

function jobOfAddress() {
  if (!location.hash.startsWith(kFragment)) return null;
  try {
    return fromBase64(location.hash.slice(kFragment.length));
  } catch {
    done(say("desk-link-broken"));
    return null;
  }
}

// ---- Asking ----

let asked = 0;
let asking = new AbortController();
let answered = Promise.resolve();

/** The job's text once the program has made the last change of it. */
async function textNow() {
  let last;
  do {
    last = answered;
    await last;
  } while (last !== answered);
  return jobText;
}

async function post(route, text, signal) {
  return fetch(`/api/${route}`, {
    method: "POST",
    headers: { "Content-Type": "application/toml" },
    body: text,
    signal,
  });
}

/** What the program says of the job as it is now; what was asked before is dropped. */
async function ask() {
  asking.abort();
  asking = new AbortController();
  const mine = ++asked;
  const { signal } = asking;
  const isCurrent = () => mine === asked;
  document.body.dataset.state = "asking";
  try {
    const answer = post(`edit?${new URLSearchParams([...changes])}`, jobText, signal);
    const told = answer.then(partsOf);
    answered = told.catch(() => {});
    const { ok } = await answer;
    const { all, pictures } = await told;
    if (!isCurrent()) return;
    if (all.report) takeOver(all);
    found.clear();
    showReport("check", all.report ?? all);
    if (!ok) return;
    showNumbers(all.numbers);
    showUsual(all.usual);
    for (const figure of document.querySelectorAll("[data-part]")) {
      showBlob(figure, pictures.get(figure.dataset.part));
    }
    const text = jobText;
    await Promise.all([
      showSupplies(all.numbers, text, signal, isCurrent),
      showTable(text, signal, isCurrent),
      showDrawings("mask", byId("mask-all"), wordsForCard, { text, signal, isCurrent }),
      showDrawings("template", byId("template-more"), wordsForPiece, { text, signal, isCurrent }),
      showSteps(text, signal, isCurrent),
      ...[...document.querySelectorAll("[data-picture]")].map((figure) =>
        showPicture(figure, figure.dataset.picture, text, signal, isCurrent)),
    ]);
  } catch (failure) {
    if (failure.name !== "AbortError" && isCurrent()) showLost();
  } finally {
    if (isCurrent()) document.body.dataset.state = "shown";
  }
}

/** What an edit comes to, and the pictures that came with it, of the same job. */
async function partsOf(answer) {
  if (!answer.ok) return { all: await reportOf(answer) };
  const pictures = await answer.formData();
  return { all: JSON.parse(await pictures.get("told").text()), pictures };
}

/** A report, or what is said instead of one as a report without a place. */
async function reportOf(answer) {
  const isReport = answer.headers.get("Content-Type") === "application/json";
  if (isReport) return answer.json();
  return { warnings: [], errors: [{ place: null, message: (await answer.text()).trim(), hint: "" }] };
}

async function showPicture(figure, route, text, signal, isCurrent) {
  const answer = await post(route, text, signal);
  if (!isCurrent()) return;
  if (!answer.ok) return showReport(route, await reportOf(answer));
  const picture = await answer.blob();
  if (isCurrent()) showBlob(figure, picture);
}

function showBlob(figure, picture) {
  const image = figure.querySelector("img");
  const old = image.src;
  image.src = URL.createObjectURL(picture);
  if (old) URL.revokeObjectURL(old);
}

async function showSteps(text, signal, isCurrent) {
  const answer = await post("steps", text, signal);
  const report = await reportOf(answer);
  if (!isCurrent()) return;
  showReport("steps", report);
  if (answer.ok) byId("steps").replaceChildren(...report.steps.map((step) => made("li", step.words)));
}

/**
 * A figure for each drawing of `command` that `wordsFor` has words for: heading, about, alt. Figures
 * of drawings that are there already stay, so that nothing flickers.
 */
async function showDrawings(command, into, wordsFor, { text, signal, isCurrent }) {
  const answer = await post(command, text, signal);
  const report = await reportOf(answer);
  if (!isCurrent()) return;
  showReport(command, report);
  const old = new Map([...into.children].map((figure) => [figure.dataset.drawing, figure]));
  if (!answer.ok) return;
  const figures = report.documents.filter((one) => wordsFor(one.name)).map((one) =>
    old.get(one.svg) ?? drawingFigure(one.svg, wordsFor(one.name)));
  into.replaceChildren(...figures);
  await Promise.all(figures.map((figure) =>
    showPicture(figure, `${command}/${figure.dataset.drawing}`, text, signal, isCurrent)));
}

function drawingFigure(file, [heading, about, alt]) {
  const figure = made("figure", "", { "data-drawing": file });
  const caption = made("figcaption", "");
  caption.append(made("h2", heading), made("p", about));
  const paper = made("div", "", { class: "paper" });
  paper.append(made("img", "", { alt }));
  figure.append(caption, paper);
  return figure;
}

const kCardWords = {
  "slip-card": ["desk-picture-slip-card", "desk-picture-slip-card-about", "desk-picture-slip-card-alt"],
  "shield": ["desk-picture-shield", "desk-picture-shield-about", "desk-picture-shield-alt"],
};

/** Slip cards and shields; where there are several, the program numbers them from the second. */
function wordsForCard(name) {
  const [, kind, number] = /^(slip-card|shield)(?:-(\d+))?$/.exec(name) ?? [];
  if (!kind) return null;
  const [heading, about, alt] = kCardWords[kind].map((key) => say(key));
  return [number ? `${heading} ${number}` : heading, about, alt];
}

/** What is cut besides the main panel, as `template-front-panel`. */
function wordsForPiece(name) {
  const piece = name.replace(/^template-?/, "").replaceAll("-", " ");
  if (!piece) return null;
  const values = { piece };
  return [say("desk-picture-piece", values), say("desk-picture-piece-about"), say("desk-picture-piece-alt", values)];
}

async function showTable(text, signal, isCurrent) {
  const answer = await post("size?form=text", text, signal);
  const table = await answer.text();
  if (answer.ok && isCurrent()) byId("table").textContent = table;
}

/** Cloth and cost, which take the plan of the cutting. */
async function showSupplies(numbers, text, signal, isCurrent) {
  const answers = await Promise.all(["lay", "supplies"].map((route) => post(route, text, signal)));
  const [lay, supplies] = await Promise.all(answers.map(reportOf));
  if (!isCurrent()) return;
  showReport("lay", lay);
  showReport("supplies", supplies);
  if (answers.every((answer) => answer.ok)) showNumbers([...numbers, ...clothOf(lay, supplies)]);
}

// ---- Showing faults ----

/** Source -> its report; the same fault of two sources is shown once. */
const found = new Map();

function faults() {
  const all = new Map();
  for (const report of found.values()) {
    for (const severity of ["errors", "warnings"]) {
      for (const one of report[severity]) {
        const key = JSON.stringify([severity, one.place, one.message]);
        if (!all.has(key)) all.set(key, { ...one, severity });
      }
    }
  }
  return [...all.values()];
}

function showReport(source, report) {
  found.set(source, report);
  showFaults(faults());
}

/** The field that a fault is about: the one whose value stands in that line of the job. */
function fieldOf(fault) {
  if (!fault.place || fault.place.file !== data.job || fault.place.line < 1) return null;
  for (const [path, value] of Object.entries(job.values)) {
    if (value.first <= fault.place.line && fault.place.line <= value.last) {
      if (path === "construction") return { fault: byId("construction-fault"), control: radios[0] };
      const field = fields.get(path);
      if (field && !field.element.hidden) return field;
    }
  }
  return { fault: byId("text-fault"), control: textArea };
}

function severityOf(fault) {
  return fault.severity === "errors" ? say("desk-error") : say("desk-warning");
}

/** What stands at a field; in the text, the line as well. */
function wordsOf(fault, field) {
  const line = field.control === textArea ? `${say("desk-line", { line: fault.place.line })}, ` : "";
  const hint = fault.hint ? `\n${fault.hint}` : "";
  return `${line}${severityOf(fault)}: ${fault.message}${hint}`;
}

function clearFaults() {
  for (const slot of document.querySelectorAll(".fault")) {
    slot.textContent = "";
    slot.classList.remove("error");
  }
  for (const control of document.querySelectorAll("[aria-invalid]")) control.removeAttribute("aria-invalid");
}

function showAtField(fault, field) {
  field.fault.textContent += (field.fault.textContent ? "\n" : "") + wordsOf(fault, field);
  if (fault.severity !== "errors") return;
  field.fault.classList.add("error");
  field.control.setAttribute("aria-invalid", "true");
}

/** A line of the list of faults; a button where it leads to a field. */
function listed(fault, field) {
  const item = made("li", "");
  item.append(made("strong", `${severityOf(fault)}: `), `${fault.message} `);
  if (!field) {
    if (fault.hint) item.append(made("span", fault.hint, { class: "hint" }));
    return item;
  }
  const there = made("a", say("desk-go-to-field"), { href: `#${field.control.id}` });
  there.addEventListener("click", (event) => {
    event.preventDefault();
    goTo(field.control);
    if (field.control === textArea) selectLine(fault.place.line);
  });
  item.append(there);
  return item;
}

function goTo(control) {
  for (let part = control.closest("details"); part; part = part.parentElement.closest("details")) part.open = true;
  control.focus();
}

/** Lines count from 1. */
function selectLine(line) {
  const lines = textArea.value.split("\n");
  const from = lines.slice(0, line - 1).join("\n").length + (line > 1 ? 1 : 0);
  textArea.setSelectionRange(from, from + (lines[line - 1] ?? "").length);
}

function showFaults(all) {
  clearFaults();
  const items = all.map((fault) => {
    const field = fieldOf(fault);
    if (field) showAtField(fault, field);
    return listed(fault, field);
  });
  byId("faults").replaceChildren(...items);
  const errors = all.filter((fault) => fault.severity === "errors").length;
  byId("shows").classList.toggle("stale", errors > 0);
  document.querySelector(".told").classList.toggle("wrong", errors > 0);
  tell(summary(errors, all.length - errors));
}

function summary(errors, warnings) {
  const parts = [];
  if (errors > 0) parts.push(counted(errors, "desk-one-error", "desk-errors"));
  if (warnings > 0) parts.push(counted(warnings, "desk-one-warning", "desk-warnings"));
  if (errors === 0 && warnings === 0) parts.push(say("desk-fine"));
  if (errors > 0) parts.push(say("desk-stale"));
  return parts.join(" ");
}

/** Said aloud by screen readers, so only where it changed. */
function tell(text) {
  if (byId("summary").textContent === text) return;
  byId("summary").textContent = text;
  byId("to-shows").textContent = `${text} ${say("desk-to-shows")}`;
}

function showLost() {
  document.querySelector(".told").classList.add("wrong");
  tell(say("desk-lost"));
}

// ---- Showing numbers ----

function showNumbers(rows) {
  byId("numbers").replaceChildren(
    ...rows.map(([name, value]) => {
      const row = made("div", "");
      row.append(made("dt", name), made("dd", value));
      return row;
    }),
  );
}

/** In the fields that were left out: what comes of it, or what is usual. */
function showUsual(usual) {
  for (const [path, text] of Object.entries(usual)) {
    const field = fields.get(path);
    if (field) field.control.placeholder = text;
  }
}

// ---- Taking home ----

function done(text) {
  byId("done").textContent = text;
}

function download(name, blob) {
  const link = made("a", "", { href: URL.createObjectURL(blob), download: name });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
  done(say("desk-taken", { file: name }));
}

async function take(button) {
  const name = button.dataset.make.split("/").at(-1).replace(/\?.*/, "");
  button.disabled = true;
  done(say("desk-making", { file: name }));
  try {
    const answer = await post(button.dataset.make, await textNow());
    if (answer.ok) {
      download(name, await answer.blob());
    } else {
      showReport("take", await reportOf(answer));
      done(say("desk-not-taken"));
    }
  } catch {
    done(say("desk-lost"));
  }
  button.disabled = false;
  button.focus();
}

async function openFile(input) {
  const [file] = input.files;
  input.value = "";
  if (!file) return;
  if (file.size > kMostBytes) return done(say("desk-file-too-large", { file: file.name }));
  document.body.dataset.state = "asking";
  setJob(await file.text());
  done(say("desk-opened", { file: file.name }));
}

async function copyLink() {
  const address = location.href.replace(/#.*/, "") + kFragment + toBase64(await textNow());
  try {
    await navigator.clipboard.writeText(address);
    done(say("desk-link-copied"));
  } catch {
    history.replaceState(null, "", address);
    done(say("desk-link-in-address"));
  }
}

// ---- Opening the page ----

function open() {
  document.documentElement.classList.add("with-script");
  addOwnChoices();
  listen();
  for (const button of document.querySelectorAll("[data-make]")) {
    button.addEventListener("click", () => take(button));
  }
  byId("save").addEventListener("click", async () =>
    download(data.job, new Blob([await textNow()], { type: "application/toml" })));
  byId("open").addEventListener("change", (event) => openFile(event.target));
  byId("link").addEventListener("click", copyLink);
  new IntersectionObserver(([seen]) => (byId("to-shows").hidden = seen.isIntersecting)).observe(byId("shows"));
  byId("to-shows").addEventListener("click", () => byId("shows").focus());
  addEventListener("beforeprint", () => (byId("steps-group").open = true));
  addEventListener("hashchange", () => setJob(jobOfAddress() ?? jobText));
  const text = jobOfAddress();
  if (text === null) takeFields();
  else setJob(text);
}

open();
