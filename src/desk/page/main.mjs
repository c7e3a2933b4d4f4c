// The page: puts its parts together. The job (job.mjs) is asked about at each edit; its answer goes to
// the fields, the picture, the faults, the answer in one line, and the room that is open.
//
// A room is a module that exports
//
//     room({ element, ask, job, say }) -> { show(told, { ok, parts }), hide() }
//
// It is loaded when its room is entered first, and `show` is called only while the room is open: at
// once, and at each answer of the program that is not overtaken.

import { ask, askAgain, onState } from "./ask.mjs";
import { clearFaults, goToFault, isSure, listenToFaults, showFaults } from "./faults.mjs";
import { filledIn, goTo, lightFields, listenToFields, showFields, showUsual } from "./fields.mjs";
import { begin, job } from "./job.mjs";
import { answerLater } from "./later.mjs";
import { makePicture } from "./picture.mjs";
import { listenToPieces } from "./pieces.mjs";
import { done, listenToPouches, showKept } from "./pouches.mjs";
import { isBegun, listenToStart } from "./start.mjs";
import { paperOfCountry, unitOfCountry } from "./units.mjs";
import { listenToTongue } from "./tongue.mjs";
import { byId, made, say, unparted } from "./words.mjs";

const picture = makePicture({ onLight: lightFields, onPart: goTo });
const textArea = byId("text");

function emptyJob() {
  return `construction = "foldover"\nunits = "${unitOfCountry()}"\n\n[liners]\ncount = 3\n\n[paper]\nsize = "${paperOfCountry()}"\n`;
}

// ---- What the program says ----

function showNumbers(rows) {
  byId("numbers").replaceChildren(...rows.map(([name, value]) => {
    const row = made("div", "");
    row.append(made("dt", name), made("dd", value));
    return row;
  }));
}

/** What a person wants to know, in a line. */
function showAnswer(told) {
  const parts = told.answer?.map((one) => one.words) ?? (told.numbers ?? []).slice(1, 5).map(([name, value]) => `${name}: ${value}`);
  byId("answer").replaceChildren(...parts.map((words) => unparted("span", words)));
  byId("mini-answer").textContent = parts.slice(0, 2).join(" · ");
  return parts.join(", ");
}

/** Said aloud by screen readers, so only where it changed, and not before the typing rests. */
let speaking = 0;
let toSay = "";
function hush() {
  clearTimeout(speaking);
  speaking = 0;
}
function speak(words) {
  toSay = words;
  hush();
  speaking = setTimeout(() => {
    speaking = 0;
    if (byId("spoken").textContent !== toSay) byId("spoken").textContent = toSay;
  }, 700);
}

let answer = "";
function showSummary(words, worst) {
  byId("summary").textContent = words;
  byId("told").dataset.rank = worst;
  byId("mini").dataset.rank = worst;
  document.body.classList.toggle("wrong", worst === "error");
  const isStale = worst === "error" || !job.ok;
  byId("shows").classList.toggle("stale", isStale && job.parts.size > 0);
  speak([isStale ? "" : answer, worst === "fine" ? "" : words].filter((one) => one !== "").join(". "));
}

function showTitle(told) {
  const title = told.values?.title?.typed || say("desk-title");
  if (document.title === title && byId("pouch-title").textContent === title) return;
  byId("pouch-title").textContent = title;
  document.title = title;
}

function showTold({ told, ok, parts }) {
  if (textArea !== document.activeElement || textArea.value !== told.job) textArea.value = told.job;
  showTitle(told);
  if (told.usual) showUsual(told.usual);
  if (told.numbers) {
    showNumbers(told.numbers);
    answer = showAnswer(told);
    picture.show(told, parts);
  }
  showFields(told);
  document.body.classList.add("answered");
  document.body.classList.toggle("begun", isBegun(told));
  clearFaults();
  if (!ok) hush();
  showFaults(told.report);
  byId("undo").disabled = !job.canUndo;
  byId("redo").disabled = !job.canRedo;
  if (rooms.open) rooms.open.show(told, { ok, parts });
}

/** Only after a moment is it said that something is being worked out. */
let working = 0;
function showState(state) {
  clearTimeout(working);
  document.body.dataset.state = state;
  if (state === "asking") working = setTimeout(() => document.body.classList.add("working"), 250);
  else document.body.classList.remove("working");
}

// ---- Rooms ----

const kModules = { folding: "./folding.mjs", printing: "./printing.mjs", plans: "./plans.mjs", compare: "./compare.mjs", pouches: "./day.mjs" };

const rooms = {
  made: new Map(),
  entered: null,
  name: "",
  open: null,
  async enter(name) {
    if (name === this.name) return;
    this.open?.hide();
    this.open = null;
    this.name = name;
    document.body.dataset.room = name;
    for (const element of document.querySelectorAll(".room")) element.hidden = element.id !== `room-${name}`;
    for (const tab of document.querySelectorAll("[data-enter]")) {
      if (tab.dataset.enter === name) tab.setAttribute("aria-current", "page");
      else tab.removeAttribute("aria-current");
    }
    if (name === "pouches") showKept();
    if (!(name in kModules)) return;
    const { room } = await import(kModules[name]);
    const element = byId(`room-${name}`).querySelector(".inside");
    if (!this.made.has(name)) this.made.set(name, room({ element, ask, job, say }));
    if (this.name !== name) return;
    this.open = this.made.get(name);
    if (document.body.classList.contains("answered")) this.open.show(job.told, { ok: job.ok, parts: job.parts });
  },
};

/** From the first questions: the papers are made at once, and can be looked at there. */
async function printAll() {
  goInto("printing");
  await rooms.entered;
  rooms.open?.print();
}

async function showRecord() {
  goInto("plans");
  await rooms.entered;
  rooms.open?.goTo("record");
}

async function showDay(text, name) {
  goInto("pouches");
  await rooms.entered;
  rooms.open?.take(text, name);
}

/** A fault is gone to; so nobody stands before an empty room. */
async function goToPrinting() {
  await job.settled();
  if (!goToFault() && (await isSure())) goInto("printing");
}

/** By a person: what is there now is gone to. */
function goInto(name) {
  job.enter(name);
  const place = { start: "start-title", pouch: "shows" }[name] ?? `room-${name}`;
  byId(place).focus({ preventScroll: true });
  scrollTo(0, 0);
}

// ---- Keys, light, phone ----

function listenToKeys() {
  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || event.target === textArea) return;
    const key = event.key.toLowerCase();
    if (key !== "z" && key !== "y") return;
    event.preventDefault();
    if (key === "y" || event.shiftKey) job.redo();
    else job.undo();
  });
}

function listenToLight() {
  const pathOf = (event) => event.target.closest?.(".field, .measure")?.dataset.path;
  for (const kind of ["focusin", "pointerover"]) {
    byId("asks").addEventListener(kind, (event) => picture.light([pathOf(event)].filter(Boolean)));
    byId("start").addEventListener(kind, (event) => picture.light([pathOf(event)].filter(Boolean)));
  }
}

/** Where the picture is out of sight, a small one goes with the fields. */
function listenToSight() {
  new IntersectionObserver(([seen]) => {
    byId("mini").hidden = seen.isIntersecting || document.body.dataset.room !== "pouch";
  }).observe(byId("stage"));
}

// ---- Opening the page ----

async function open() {
  listenToFields();
  listenToFaults(showSummary);
  listenToPieces();
  listenToPouches(emptyJob(), { onRecord: showRecord, onDay: showDay });
  listenToStart({ onMore: () => goInto("pouch"), onPrint: printAll });
  listenToKeys();
  listenToLight();
  listenToSight();
  listenToTongue();
  for (const tab of document.querySelectorAll("[data-enter]")) tab.addEventListener("click", () => goInto(tab.dataset.enter));
  byId("print").addEventListener("click", goToPrinting);
  byId("undo").addEventListener("click", () => job.undo());
  byId("redo").addEventListener("click", () => job.redo());
  byId("again").addEventListener("click", askAgain);
  textArea.addEventListener("input", () => job.write(textArea.value));
  document.addEventListener("input", () => speaking && speak(toSay));
  byId("asks").addEventListener("submit", (event) => event.preventDefault());
  addEventListener("beforeprint", () => (byId("pieces-group").open = true));
  onState((state) => {
    document.body.classList.toggle("away", state === "away");
    byId("away").hidden = state !== "away";
    if (state === "away") speak(say("desk-lost"));
  });
  job.onRoom((name) => {
    rooms.entered = rooms.enter(name);
    picture.draw();
  });
  job.subscribe((heard) => {
    if (heard.told) showTold(heard);
    showState(heard.state);
  });
  answerLater();
  const { isBroken } = await begin(emptyJob(), filledIn());
  if (isBroken) {
    job.enter("pouches");
    done(say("desk-link-broken"));
  }
  rooms.enter(job.room);
}

open();
