// The fields: each is a value of the job by its path, and may stand in more than one place (in the
// list, on the picture, in the first questions). All of a path show the same.
//
//     listenToFields();
//     showFields(job.told);
//     goTo("pouch.width");

import { job } from "./job.mjs";
import { converted, hasUnit } from "./units.mjs";
import { constructionCalled, pairsFor } from "./ways.mjs";
import { byId, data, isWord, made, say } from "./words.mjs";

const kOwn = "own";
const kAsWritten = "as-written";

/** In the list: path -> its element, its control, and what is said at it. */
export const fields = new Map();
for (const element of document.querySelectorAll(".field")) {
  const path = element.dataset.path;
  const control = byId(path);
  fields.set(path, { path, element, control, kind: control.dataset.kind ?? "choice", fault: byId(`${path}-fault`) });
}
const radios = [...document.querySelectorAll('input[name="construction"]')];
const ownParts = [...document.querySelectorAll("[data-own]")];
const lengths = [...fields.values()].filter((one) => one.kind.startsWith("length")).map((one) => one.path);

export const unitNow = () => job.told.values?.units?.typed ?? "mm";

/** All controls of a path, wherever they stand. */
const controlsOf = (path) => document.querySelectorAll(`[data-value="${CSS.escape(path)}"]`);

// ---- Showing ----

/** Shows `value` in a choice; one that is not among its options is added as it is written. */
function choose(control, value, shown) {
  control.querySelector(`option[data-${kAsWritten}]`)?.remove();
  if (![...control.options].some((option) => option.value === value)) {
    control.append(made("option", shown, { value, [`data-${kAsWritten}`]: "" }));
  }
  control.value = value;
}

/** The unit stands in the box until what is typed carries its own. */
function showUnit(control) {
  const unit = control.parentElement.querySelector(".unit");
  if (!unit) return;
  unit.textContent = unitNow();
  unit.hidden = hasUnit(control.value || control.placeholder);
}

function showValue(control, value) {
  const shown = value ? value.typed ?? value.written : "";
  if (control.tagName === "SELECT") choose(control, shown, shown);
  else if (control.value.trim() !== shown) control.value = shown;
  // What is more than one value is changed in the text.
  control.disabled = value?.typed === null;
  showUnit(control);
}

/** The fields after what the program read of the text. */
export function showFields(told) {
  for (const control of document.querySelectorAll("[data-value]")) showValue(control, told.values[control.dataset.value]);
  for (const part of ownParts) {
    const isOwn = told.tables.includes(part.dataset.own);
    part.hidden = !isOwn;
    if (isOwn) byId(part.dataset.own).value = kOwn;
  }
  const name = told.values.construction?.typed ?? "";
  showChosen(radios.find((radio) => radio.value === name));
  showSizesOf(name, told);
  showNeeded(told.needed ?? []);
}

/** In sight in its strip, without moving the page. */
function showChosen(chosen) {
  if (chosen?.checked) return;
  for (const radio of radios) radio.checked = radio === chosen;
  const card = chosen?.closest(".construction");
  if (card) card.parentElement.scrollLeft = card.offsetLeft - card.parentElement.offsetLeft - card.offsetWidth / 2;
}

/** In the fields that were left out: what is taken instead. */
export function showUsual(usual) {
  for (const [path, text] of Object.entries(usual)) {
    for (const control of controlsOf(path)) {
      if (control.tagName === "SELECT") showUsualChoice(control, text);
      else control.placeholder = isAnswer(control) ? text : "";
      showUnit(control);
    }
  }
}

/** On the first visit a size in grey looks like one that was typed; a number there is taken as it is. */
const isAnswer = (control) => !control.closest("#boxes") || control.dataset.kind === "number";

function showUsualChoice(select, usual) {
  const [first, ...others] = select.options;
  if (first.value !== "" || usual === "") return;
  const known = others.find((option) => option.value === usual);
  first.textContent = say("desk-choice-usual-is", { value: known?.textContent ?? usual });
}

/** Only the sizes that the construction has, and those that the job gives all the same. */
function showSizesOf(name, told) {
  const construction = constructionCalled(name);
  byId("construction-about").textContent = construction?.about ?? "";
  if (!construction) return;
  for (const size of construction.sizes) showMeaning(`pouch.${size.name}`, size.meaning);
  const sizes = new Set(construction.sizes.map((size) => `pouch.${size.name}`));
  const known = new Set(data.constructions.flatMap((one) => one.sizes.map((size) => `pouch.${size.name}`)));
  for (const field of fields.values()) {
    if (known.has(field.path)) field.element.hidden = !sizes.has(field.path) && !(field.path in told.values);
  }
  const hide = (path, isHidden) => (fields.get(path).element.hidden = isHidden && !(path in told.values));
  hide("pouch.closure", construction.closures.length < 2);
  hide("pouch.closure_through", construction.closures.length === 0);
  hide("liners.overlap", !sizes.has("pouch.flap"));
  showFlapShape(told, sizes.has("pouch.flap"), hide);
  for (const group of document.querySelectorAll(".asks details")) {
    const own = [...group.querySelectorAll(".field")];
    group.hidden = own.length > 0 && own.every((one) => one.hidden);
  }
}

/** The flap's end is chosen by its picture as well; a straight one has no corners. */
function showFlapShape(told, hasFlap, hide) {
  const shape = told.values["pouch.flap_shape"]?.typed || "straight";
  hide("pouch.flap_shape", !hasFlap);
  hide("pouch.flap_corner", !hasFlap || shape === "straight");
  byId("flap-shapes").hidden = fields.get("pouch.flap_shape").element.hidden;
  for (const button of byId("flap-shapes").children) button.setAttribute("aria-pressed", button.dataset.pick === shape);
}

/** One size may mean something else in each construction; the words' own hint goes before. */
function showMeaning(path, meaning) {
  const hint = byId(`${path}-hint`);
  if (hint && !isWord(`desk-field-${path.replace(/[._]/g, "-")}-hint`)) hint.textContent = meaning;
}

function showNeeded(needed) {
  for (const field of fields.values()) field.element.classList.toggle("needed", needed.includes(field.path));
  for (const control of document.querySelectorAll("[data-value]")) {
    control.toggleAttribute("required", needed.includes(control.dataset.value));
  }
}

// ---- Changing ----

/** The cloth's name, or a table of its own. */
function chosenCloth(path, chosen) {
  if (chosen !== kOwn) return job.set(path, chosen);
  ownParts.find((part) => part.dataset.own === path).hidden = false;
  job.set(`${path}.width`, unitNow() === "in" ? "60 in" : "150 cm");
  byId(`${path}.width`).focus();
}

/** What was typed is kept at its size, not at its number. */
function chosenUnit(unit) {
  job.rest();
  job.setAll(converted(job.told.values, lengths, unitNow(), unit || "mm"));
}

function chosen(control) {
  const path = control.dataset.value;
  job.rest();
  if (path === "units") return chosenUnit(control.value);
  if (ownParts.some((part) => part.dataset.own === path)) return chosenCloth(path, control.value);
  job.set(path, control.value);
}

/** Where the kinds go on beyond the edge, an arrow shows it; keys need none. */
function listenToStrip() {
  const strip = document.querySelector(".strip");
  const arrows = [["back", -1], ["on", 1]].map(([name, way]) => {
    const arrow = made("span", way < 0 ? "‹" : "›", { class: `move ${name}`, "aria-hidden": "true", hidden: "" });
    arrow.addEventListener("click", () => strip.scrollBy({ left: way * strip.clientWidth * 0.8, behavior: "smooth" }));
    strip.parentElement.append(arrow);
    return arrow;
  });
  const show = () => {
    arrows[0].hidden = strip.scrollLeft < 8;
    arrows[1].hidden = strip.scrollLeft + strip.clientWidth > strip.scrollWidth - 8;
  };
  strip.addEventListener("scroll", show);
  new ResizeObserver(show).observe(strip);
}

/** A new control is heard of by itself: events are taken where they arrive. */
export function listenToFields() {
  document.addEventListener("input", ({ target }) => {
    if (!target.dataset.value || target.tagName === "SELECT") return;
    showUnit(target);
    job.set(target.dataset.value, target.value.trim());
  });
  document.addEventListener("change", ({ target }) => {
    if (target.dataset.value && target.tagName === "SELECT") chosen(target);
    if (target.name === "construction") {
      job.rest();
      job.setAll(pairsFor(job, constructionCalled(target.value)));
    }
  });
  for (const button of byId("flap-shapes").children) {
    button.addEventListener("click", () => (job.rest(), job.set("pouch.flap_shape", button.dataset.pick)));
  }
  document.addEventListener("focusout", () => job.rest());
  listenToStrip();
  // Without scripts the browser itself keeps what was filled in.
  for (const field of fields.values()) field.control.setAttribute("autocomplete", "off");
  for (const part of ownParts) byId(part.dataset.own).append(made("option", say("desk-choice-own"), { value: kOwn }));
}

/** What was filled in before the script came. */
export function filledIn() {
  const pairs = [];
  const radio = radios.find((one) => one.checked);
  if (radio && !radio.defaultChecked) pairs.push(["construction", radio.value]);
  for (const control of document.querySelectorAll("input[data-value], select[data-value]")) {
    const typed = control.value.trim();
    if (typed && typed !== control.defaultValue) pairs.push([control.dataset.value, typed]);
  }
  return pairs;
}

// ---- Going there ----

function openTo(element) {
  for (let part = element.closest("details"); part; part = part.parentElement.closest("details")) part.open = true;
}

/** The field of `path` gets the focus, in whatever room and group it is. */
export function goTo(path) {
  const first = document.querySelector(`#boxes [data-value="${CSS.escape(path)}"]`);
  if (document.body.dataset.room === "start" && first) return first.focus();
  if (document.body.dataset.room !== "pouch") job.enter("pouch");
  const shown = [...fields.values()].find((one) => isOf(one.path, path) && !one.element.hidden);
  const control = path === "construction" ? radios.find((one) => one.checked) ?? radios[0] : shown?.control;
  if (!control) return;
  openTo(control);
  control.focus();
}

/** A part of the pouch is about values, or about all of a table. */
export const isOf = (path, of) => path === of || path.startsWith(`${of}.`);

/** Lights the fields that these are about, and puts out all others. */
export function lightFields(paths) {
  for (const field of fields.values()) field.element.classList.toggle("lit", paths.some((of) => isOf(field.path, of)));
}
