// The first visit: what somebody has, and three boxes for it with a picture of how to measure. What is
// typed goes into the job at once; everything else has a good value.

import { job } from "./job.mjs";
import { goToFault, isSure } from "./faults.mjs";
import { goTo, unitNow } from "./fields.mjs";
import { inMillimetres, typedIn } from "./units.mjs";
import { ask } from "./ask.mjs";
import { drawingOf } from "./send.mjs";
import { byId, made, say } from "./words.mjs";

/** Way in -> the values that it is made of. */
const kWays = {
  liners: ["liners.count", "liners.width", "liners.length", "liners.thickness"],
  pouch: ["pouch.width", "pouch.depth", "batch.pouches"],
  panel: ["panel.width", "panel.length", "batch.pouches"],
  card: ["card.width", "card.length", "card.kind"],
  cloth: [],
};
/** What a way begins with, besides what is typed. */
const kBegins = { liners: [["liners.count", "3"]], card: [["card.kind", "slip card"]] };
const kNumbers = new Set(["liners.count", "batch.pouches"]);

const boxes = byId("boxes");
const wayNow = () => document.querySelector('input[name="way"]:checked').value;
/** The first letters say enough: a box has the name of its field. */
const wordOf = (path) => say(`desk-measure-${path.replace(/[._]/g, "-")}`);

/** What is wrong with a box, and what mends it, stand right below. */
const belowOf = (path) => [made("p", "", { class: "fault", id: `start-${path}-fault` }), made("div", "", { class: "remedies", id: `start-${path}-remedies` })];

function box(path) {
  const element = made("div", "", { class: "measure", "data-path": path });
  const id = `start-${path}`;
  const kind = kNumbers.has(path) ? "number" : "length";
  const inside = made("span", "", { class: "box" });
  inside.append(made("input", "", { type: "text", id, "data-value": path, "data-kind": kind, autocomplete: "off", autocapitalize: "off",
                                     spellcheck: "false", inputmode: kind === "number" ? "numeric" : "text", "aria-describedby": `start-${path}-fault` }));
  if (kind === "length") inside.append(made("span", "", { class: "unit", "aria-hidden": "true" }));
  element.append(made("label", wordOf(path), { for: id }), inside, ...belowOf(path));
  return element;
}

function choiceOfCard() {
  const from = byId("card.kind");
  const element = made("div", "", { class: "measure", "data-path": "card.kind" });
  const select = from.cloneNode(true);
  select.id = "start-card.kind";
  select.removeAttribute("name");
  select.removeAttribute("aria-describedby");
  element.append(made("label", wordOf("card.kind"), { for: select.id }), select);
  return element;
}

/** How to measure, drawn: the arrow of the box that has the focus is lit. */
function measuring(way) {
  const figure = made("figure", "", { class: "how" });
  figure.append(made("img", "", { src: drawingOf(way), alt: say(`desk-how-${way}-alt`) }), made("figcaption", say(`desk-how-${way}`)));
  return figure;
}

// ---- Cloth that is there: the largest pouch that it yields ----

function clothBoxes() {
  const parts = [["width", say("desk-measure-cloth-width")], ["length", say("desk-measure-cloth-length")]].map(([side, name]) => {
    const element = made("div", "", { class: "measure" });
    const id = `start-cloth-${side}`;
    const inside = made("span", "", { class: "box" });
    inside.append(made("input", "", { type: "text", id, autocomplete: "off", autocapitalize: "off", spellcheck: "false" }),
                  made("span", unitNow(), { class: "unit", "aria-hidden": "true" }));
    element.append(made("label", name, { for: id }), inside);
    return element;
  });
  const told = made("p", "", { role: "status", class: "lead" });
  const inputs = parts.map((part) => part.querySelector("input"));
  for (const input of inputs) input.addEventListener("input", () => takeLargest(inputs, told));
  return [...parts, told];
}

async function takeLargest(inputs, told) {
  const typed = inputs.map((input) => input.value.trim());
  if (typed.some((one) => one === "")) return;
  const withUnit = typed.map((one) => (inMillimetres(one, unitNow()) === null || /[a-z"]/i.test(one) ? one : `${one} ${unitNow()}`));
  const { ok, json } = await ask("size", { query: [["remnant", withUnit.join(" x ")]], body: job.text });
  if (typed.some((one, index) => one !== inputs[index].value.trim())) return;
  if (!ok) return void (told.textContent = json?.errors?.[0]?.message ?? say("desk-cloth-unread"));
  const { width_mm: width, depth_mm: depth } = json.finished;
  const sizes = [width, depth].map((mm) => typedIn(unitNow(), mm));
  told.textContent = say("desk-cloth-largest", { width: sizes[0], depth: sizes[1] });
  job.setAll([["pouch.width", sizes[0]], ["pouch.depth", sizes[1]]], "cloth");
}

// ---- The way in ----

function showWay() {
  const way = wayNow();
  const own = kWays[way].map((path) => (path === "card.kind" ? choiceOfCard() : box(path)));
  boxes.replaceChildren(measuring(way), ...(way === "cloth" ? clothBoxes() : own));
  byId("start-needed").textContent = "";
}

/** The values of the ways not taken go; nothing else does. */
function takeWay() {
  const way = wayNow();
  const others = Object.entries(kWays).filter(([name]) => name !== way).flatMap(([, paths]) => paths);
  const left = [...new Set(others)].filter((path) => !kWays[way].includes(path) && job.value(path) !== "");
  const begins = (kBegins[way] ?? []).filter(([path]) => job.value(path) === "");
  job.rest();
  job.setAll([...left.map((path) => [path, ""]), ...begins]);
  showWay();
}

// ---- Print ----

/** Those without which there is no pouch. */
const emptyBoxes = () => [...boxes.querySelectorAll("input")].filter((input) => input.value.trim() === "" && input.dataset.value !== "batch.pouches");
const labelOf = (input) => boxes.querySelector(`label[for="${CSS.escape(input.id)}"]`).textContent;

function unmark(input) {
  delete input.dataset.empty;
  input.removeAttribute("aria-invalid");
}

/** Before there is a pouch, what is still needed is said, and comes first. */
function goToFirstEmpty() {
  const empty = emptyBoxes();
  if (isBegun(job.told) || empty.length === 0) return false;
  for (const input of empty) {
    input.dataset.empty = "";
    input.setAttribute("aria-invalid", "true");
  }
  byId("start-needed").textContent = say("desk-needed", { fields: empty.map(labelOf).join(", ") });
  empty[0].focus();
  return true;
}

/** What is filled in is no longer asked for. */
function takeBack({ target }) {
  if (!("empty" in target.dataset)) return;
  unmark(target);
  const left = [...boxes.querySelectorAll("[data-empty]")];
  byId("start-needed").textContent = left.length > 0 ? say("desk-needed", { fields: left.map(labelOf).join(", ") }) : "";
}

/** What was typed last counts as well; what is wrong with it is gone to. */
async function print(onPrint) {
  await job.settled();
  if (goToFirstEmpty()) return;
  if (!job.ok) return void goToFault();
  if (await isSure()) onPrint();
}

/** Enter goes on to the next box, and from the last to Print. */
function goOn(event) {
  if (event.key !== "Enter" || event.target.tagName !== "INPUT") return;
  event.preventDefault();
  const inputs = [...boxes.querySelectorAll("input")];
  (inputs[inputs.indexOf(event.target) + 1] ?? byId("start-print")).focus();
}

/** In which units bare numbers are read, and on which paper it is printed. */
function showUnits() {
  const values = { units: say(unitNow() === "in" ? "desk-choice-in" : "desk-choice-mm"), paper: job.value("paper.size") };
  byId("start-units").textContent = say("desk-start-units", values);
}

export function listenToStart({ onMore, onPrint }) {
  for (const radio of document.querySelectorAll('input[name="way"]')) radio.addEventListener("change", takeWay);
  byId("start-more").addEventListener("click", onMore);
  byId("start-print").addEventListener("click", () => print(onPrint));
  byId("start-change").addEventListener("click", () => goTo("units"));
  boxes.addEventListener("keydown", goOn);
  boxes.addEventListener("input", takeBack);
  for (const input of boxes.querySelectorAll("input")) input.setAttribute("autocomplete", "off");
  job.subscribe(({ told }) => told && showUnits());
}

/** Is there a pouch to be shown, or is the first answer still to come? */
export function isBegun(told) {
  if ((told.needed ?? []).length > 0) return false;
  return Object.values(kWays).flat().some((path) => path !== "liners.count" && path !== "batch.pouches" && told.values?.[path]);
}
