// The picture is the form: the finished pouch, large, with a line for each size. A line's number is a
// box to type into, its end a handle to drag; parts of the pouch and fields light each other. What
// follows from other sizes is only told, and leads to what to change instead.
//
//     const picture = makePicture({ onLight: lightFields, onPart: goTo });
//     picture.show(told, parts);
//     picture.light(["pouch.width"]);
//
// The program says where the lines are and what they measure; here they are put beside the pouch, so
// that no number lies on another.

import { job } from "./job.mjs";
import { isOf, unitNow } from "./fields.mjs";
import { onRuler } from "./units.mjs";
import { byId, isWord, made, nameOf, say } from "./words.mjs";

const kSvg = "http://www.w3.org/2000/svg";
const stage = byId("stage");
const image = byId("pouch");
const lines = byId("lines");
const values = byId("values");

function drawn(tag, attributes) {
  const element = document.createElementNS(kSvg, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  return element;
}

// ---- Where the lines lie: all in px of the stage ----

const kOff = 16;   // from the pouch to a line, at the least
const kStep = 24;  // from one level to the next
const kFree = 6;   // round a number
const kEdge = 8;   // nothing comes nearer to the stage's edge
const kHandle = 14;
const kTries = 8;
const kWithUnit = 4;  // letters
/** Sizes that are always on the picture; a narrower stage has room for no others. */
const kAlways = new Set(["width", "depth", "flap"]);
const kNarrow = 480;

/** A line at its place, with the box of its number: no number lies on the pouch. */
function placed(one, at, level, box) {
  const [dx, dy] = one.out;
  const across = Math.abs(dx) * box.width + Math.abs(dy) * box.height;
  const along = Math.abs(dy) * box.width + Math.abs(dx) * box.height;
  const [start, end] = [at(one.from), at(one.to)];
  // A number longer than its line stands outside it.
  const isShort = Math.hypot(end[0] - start[0], end[1] - start[1]) < along + 12;
  const apart = isShort ? kOff : Math.max(kOff, across / 2 + kFree);
  const off = apart + level * (isShort ? across + kFree : kStep);
  const beyond = isShort ? across / 2 + kFree : 0;
  const shift = ([x, y], by) => [x + dx * by, y + dy * by];
  const middle = shift([(start[0] + end[0]) / 2, (start[1] + end[1]) / 2], off + beyond);
  return { one, from: shift(start, off), to: shift(end, off), middle, ends: [start, end] };
}

const boxOf = ({ middle: [x, y] }, { width, height }) =>
  ({ left: x - width / 2, right: x + width / 2, top: y - height / 2, bottom: y + height / 2 });

/** Of line, number and handle. */
function extentOf(line, box) {
  const number = boxOf(line, box);
  const [x0, y0] = line.from;
  const [x1, y1] = line.to;
  return { left: Math.min(number.left, x0, x1 - kHandle), right: Math.max(number.right, x0, x1 + kHandle),
           top: Math.min(number.top, y0, y1 - kHandle), bottom: Math.max(number.bottom, y0, y1 + kHandle) };
}

const meet = (a, b) => a.left < b.right + 4 && b.left < a.right + 4 && a.top < b.bottom + 4 && b.top < a.bottom + 4;

/** Where its end is taken hold of; what is only told has none. */
const gripOf = ({ one, to: [x, y] }) =>
  (one.path ? { left: x - kHandle, right: x + kHandle, top: y - kHandle, bottom: y + kHandle } : null);

/** Does the line run through the box? */
function runsThrough({ from, to }, { left, right, top, bottom }) {
  const shares = Array.from({ length: 21 }, (_, i) => i / 20);
  return shares.some((share) => {
    const [x, y] = [0, 1].map((i) => from[i] + share * (to[i] - from[i]));
    return left < x && x < right && top < y && y < bottom;
  });
}

/** Does any of number and grip of one lie on any of the other's, or on its line? */
function isInTheWay(line, other, box) {
  const all = (one) => [boxOf(one, box), gripOf(one)].filter(Boolean);
  return all(line).some((a) => all(other).some((b) => meet(a, b))) || lie(line, other) ||
    runsThrough(line, boxOf(other, box)) || runsThrough(other, boxOf(line, box));
}

/** Each line on the first level where its number and its grip lie free. */
function arranged(dimensions, at, box) {
  const done = [];
  const shortFirst = [...dimensions].sort((a, b) => lengthOf(a) - lengthOf(b));
  for (const one of shortFirst) {
    let level = 0;
    let line = placed(one, at, level, box);
    while (level < 6 && done.some((other) => isInTheWay(line, other, box))) {
      level += 1;
      line = placed(one, at, level, box);
    }
    done.push(line);
  }
  return done;
}

const lengthOf = ({ from, to }) => Math.hypot(to[0] - from[0], to[1] - from[1]);

/** Do two lines lie on each other? */
function lie(a, b) {
  const [ux, uy] = unitOf(a);
  const side = ([x, y]) => Math.abs((x - a.from[0]) * uy - (y - a.from[1]) * ux);
  const along = ([x, y]) => (x - a.from[0]) * ux + (y - a.from[1]) * uy;
  if (side(b.from) > 8 || side(b.to) > 8) return false;
  const [low, high] = [along(b.from), along(b.to)].sort((p, q) => p - q);
  return low < along(a.to) - 1 && high > 1;
}

function unitOf({ from, to }) {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  return [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
}

/** Scale and place of the pouch, so that all its lines and numbers are on the stage. */
function laidOut(pouch, size, box) {
  const margin = { left: kEdge, right: kEdge, top: kEdge, bottom: kEdge };
  let result;
  for (let i = 0; i < kTries; ++i) {
    const room = { width: size.width - margin.left - margin.right, height: size.height - margin.top - margin.bottom };
    const scale = Math.max(0.1, Math.min(room.width / pouch.width, room.height / pouch.height));
    const x0 = margin.left + (room.width - pouch.width * scale) / 2;
    const y0 = margin.top + (room.height - pouch.height * scale) / 2;
    const at = ([x, y]) => [x0 + x * scale, y0 + y * scale];
    const dimensions = arranged(pouch.dimensions, at, box);
    result = { scale, x0, y0, at, dimensions };
    const extents = dimensions.map((line) => extentOf(line, box));
    // What stands out of the pouch on each side, whatever its scale.
    const out = { left: x0 - Math.min(...extents.map((one) => one.left)), top: y0 - Math.min(...extents.map((one) => one.top)),
                  right: Math.max(...extents.map((one) => one.right)) - x0 - pouch.width * scale,
                  bottom: Math.max(...extents.map((one) => one.bottom)) - y0 - pouch.height * scale };
    let over = 0;
    for (const side of Object.keys(margin)) {
      const needed = Math.max(0, out[side]) + kEdge;
      over += Math.max(0, needed - margin[side]);
      // First what it takes; in the end it only grows, so that it comes to rest.
      margin[side] = i < kTries / 2 ? needed : Math.max(needed, margin[side]);
    }
    if (i > 0 && over < 1) break;
  }
  return result;
}

// ---- Drawing ----

function lineOf({ one, from, to, ends }) {
  const [ux, uy] = unitOf({ from, to });
  const long = Math.min(7, lengthOf({ from, to }) / 2);
  const path = [`M${ends[0]}L${from}`, `M${ends[1]}L${to}`].join("");
  const tip = ([x, y], s) => `M${x + s * (long * ux - 3 * uy)} ${y + s * (long * uy + 3 * ux)}L${x} ${y}L${x + s * (long * ux + 3 * uy)} ${y + s * (long * uy - 3 * ux)}`;
  const group = drawn("g", { class: one.path ? "dimension" : "dimension only-told", "data-path": one.about });
  group.append(drawn("path", { class: "reach", d: path }),
               drawn("path", { class: "line", d: `M${from}L${to}${tip(from, 1)}${tip(to, -1)}` }));
  return group;
}

function polygons(parts, at) {
  return parts.flatMap((part) => part.outlines.map((outline) =>
    drawn("polygon", { class: "part", "data-name": part.name, points: outline.map((point) => at(point).join(",")).join(" "), "data-paths": part.paths.join(" ") })));
}

const pathsOf = (element) => (element?.dataset?.paths ?? element?.dataset?.path ?? "").split(" ").filter((path) => path !== "");

export function makePicture({ onLight, onPart }) {
  let pouch = null;
  let layout = null;
  let shownBlob = null;
  let ruler = 1;
  /** Name of a size -> what stands on the picture for it. */
  const controls = new Map();

  /** Not before it can be drawn: nothing flickers. */
  async function showImage(blob) {
    if (!blob || blob === shownBlob) return;
    shownBlob = blob;
    const next = new Image();
    next.src = URL.createObjectURL(blob);
    await next.decode().catch(() => {});
    if (shownBlob !== blob) return URL.revokeObjectURL(next.src);
    const old = image.src;
    image.src = next.src;
    byId("mini-pouch").src = next.src;
    if (old) setTimeout(() => URL.revokeObjectURL(old), 1000);
    stage.dataset.width = job.told.pouch?.width ?? "";
    stage.classList.add("filled");
  }

  function step(one, lineCount) {
    job.set(one.path, onRuler(unitNow(), one.mm + lineCount * ruler, ruler));
  }

  const kSteps = { ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1, PageUp: 10, PageDown: -10 };

  function listenTo(control, now) {
    control.input.addEventListener("keydown", (event) => {
      if (event.key !== "ArrowUp" && event.key !== "ArrowDown") return;
      event.preventDefault();
      step(now(), kSteps[event.key]);
    });
    control.handle.addEventListener("keydown", (event) => {
      if (!(event.key in kSteps)) return;
      event.preventDefault();
      step(now(), kSteps[event.key]);
    });
    control.handle.addEventListener("pointerdown", (event) => drag(control.handle, now(), event));
  }

  /** The next size is asked for when the last one is there: so the pouch follows the hand. */
  function drag(handle, one, begun) {
    begun.preventDefault();
    handle.focus();
    handle.setPointerCapture(begun.pointerId);
    const { scale } = layout;
    const [ux, uy] = unitOf({ from: one.from, to: one.to });
    let wanted = null;
    let isBusy = false;
    let isHeld = true;
    const send = async () => {
      if (isBusy) return;
      if (wanted === null) return isHeld ? undefined : job.rest();
      isBusy = true;
      const typed = onRuler(unitNow(), wanted, ruler);
      wanted = null;
      if (typed !== job.value(one.path)) await job.set(one.path, typed);
      isBusy = false;
      send();
    };
    const move = (event) => {
      const along = (event.clientX - begun.clientX) * ux + (event.clientY - begun.clientY) * uy;
      wanted = Math.max(ruler, one.mm + (along / scale) * one.mm_for_each);
      send();
    };
    const end = () => {
      handle.removeEventListener("pointermove", move);
      isHeld = false;
      send();
    };
    handle.addEventListener("pointermove", move);
    handle.addEventListener("lostpointercapture", end, { once: true });
  }

  function controlOf(one) {
    if (!one.path) return toldOnly(one);
    const now = () => pouch.dimensions.find((other) => other.name === one.name) ?? one;
    const box = made("span", "", { class: "box", "data-path": one.path });
    const input = made("input", "", { type: "text", class: "size", "data-value": one.path, "data-kind": "length",
                                      autocapitalize: "off", spellcheck: "false", autocomplete: "off" });
    const handle = made("button", "", { type: "button", role: "slider", class: "handle", "data-path": one.path, "aria-valuemin": "0", "aria-valuemax": "2000" });
    box.append(input, made("span", "", { class: "unit", "aria-hidden": "true" }));
    values.append(box, handle);
    const control = { box, input, handle };
    listenTo(control, now);
    return control;
  }

  /** It leads to what to change. */
  function toldOnly(one) {
    const box = made("button", "", { type: "button", class: "box only-told", "data-path": one.about });
    box.addEventListener("click", () => onPart(one.about));
    values.append(box);
    return { box };
  }

  function drop(name) {
    const { box, handle } = controls.get(name);
    box.remove();
    handle?.remove();
    controls.delete(name);
  }

  function nameOfSize({ name, about }) {
    const key = `desk-told-${name.replace(/_/g, "-")}`;
    return isWord(key) ? say(key) : nameOf(about);
  }

  function showControl(line) {
    const { one, middle, to } = line;
    // A panel that is there decides some sizes, and is taken back again.
    if (controls.has(one.name) && Boolean(controls.get(one.name).input) !== Boolean(one.path)) drop(one.name);
    if (!controls.has(one.name)) controls.set(one.name, controlOf(one));
    const { box, input, handle } = controls.get(one.name);
    box.style.left = `${middle[0]}px`;
    box.style.top = `${middle[1]}px`;
    box.title = nameOfSize(one);
    if (!input) {
      box.textContent = one.words;
      box.setAttribute("aria-label", `${nameOfSize(one)}: ${one.words}`);
      return;
    }
    // A long number needs the place of its unit.
    box.classList.toggle("long", input.value.length > kWithUnit);
    handle.style.left = `${to[0]}px`;
    handle.style.top = `${to[1]}px`;
    const name = nameOf(one.path);
    input.setAttribute("aria-label", say("desk-size-on-picture", { name }));
    input.title = name;
    input.placeholder = one.words;
    handle.setAttribute("aria-label", say("desk-handle", { name }));
    handle.setAttribute("aria-valuenow", one.mm);
    handle.setAttribute("aria-valuetext", one.words);
    handle.title = name;
  }

  /** Not all are taken hold of on a telephone, nor asked for on the first visit: those that are large. */
  function shownSizes(isSmall) {
    const isFirst = document.body.dataset.room === "start";
    return pouch.dimensions.filter(({ name }) => kAlways.has(name) || !(isSmall || isFirst));
  }

  function draw() {
    const { width, height } = stage.getBoundingClientRect();
    if (!pouch || width === 0) return;
    const isSmall = width < kNarrow;
    const shown = { ...pouch, dimensions: shownSizes(isSmall) };
    layout = laidOut(shown, { width, height }, isSmall ? { width: 66, height: 30 } : { width: 80, height: 34 });
    lines.setAttribute("viewBox", `0 0 ${width} ${height}`);
    lines.replaceChildren(...polygons(pouch.parts, layout.at), ...layout.dimensions.map(lineOf));
    image.style.left = `${layout.x0}px`;
    image.style.top = `${layout.y0}px`;
    image.style.width = `${pouch.width * layout.scale}px`;
    image.style.height = `${pouch.height * layout.scale}px`;
    for (const line of layout.dimensions) showControl(line);
    for (const name of [...controls.keys()]) {
      if (!shown.dimensions.some((one) => one.name === name)) drop(name);
    }
    light(lit);
  }

  let lit = [];
  function light(paths) {
    lit = paths;
    for (const element of stage.querySelectorAll("[data-paths], [data-path]")) {
      element.classList.toggle("lit", pathsOf(element).some((of) => paths.some((path) => isOf(path, of))));
    }
  }

  function listen() {
    const partOf = (event) => event.target.closest?.("[data-paths], [data-path]");
    stage.addEventListener("pointerover", (event) => {
      const paths = pathsOf(partOf(event));
      light(paths);
      onLight(paths);
    });
    stage.addEventListener("pointerleave", () => (light([]), onLight([])));
    stage.addEventListener("focusin", (event) => onLight(pathsOf(partOf(event))));
    lines.addEventListener("click", (event) => {
      const [path] = pathsOf(partOf(event));
      if (path) onPart(path);
    });
    new ResizeObserver(draw).observe(stage);
  }

  listen();
  return {
    light,
    draw,
    /** What the program says of the pouch; without one, the picture stays as it was. */
    show(told, parts) {
      if (told.pouch) {
        pouch = told.pouch;
        ruler = told.report.ruler_mm ?? 1;
        image.alt = pouch.alt;
        draw();
      }
      showImage(parts.get("pouch") ?? parts.get("folded"));
    },
  };
}
