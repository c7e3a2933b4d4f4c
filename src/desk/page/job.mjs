// The job that is open: its text, what the program says of it, and the ways to change it.
//
//     job.subscribe(({ told, ok }) => …);   // at each answer that is not overtaken
//     job.set("pouch.width", "7 1/2 in");   // as a person types it; "" takes the value out
//     job.open(text);                       // another pouch; the one before is kept
//
// The text is the one truth: a field changes one value of it and leaves the rest, comments too, as
// it is. Nothing is worked out on this side, not even the text: each change is sent to the program,
// and its answer is shown. What is overtaken is dropped on both sides.

import { ask, reportOf } from "./ask.mjs";
import { fragmentOf, textOf } from "./link.mjs";
import { forget, idOfTab, isOfTab, keep, newId, pouchAt, setIdOfTab } from "./store.mjs";
import { beginTrail } from "./trail.mjs";

let text = "";
let told = { job: "", values: {}, tables: [], report: { errors: [], warnings: [] } };
let parts = new Map();
let isOk = false;
/** Path -> what was typed there; not yet in the text. */
const changes = new Map();
let id = null;
let trail = null;
/** What the last step changed, while more of the same belongs to it. */
let open = null;
/** What nobody has changed yet, and need not be kept. */
let untouched = null;
let asking = new AbortController();
let answered = Promise.resolve();
let asked = 0;
const hearers = new Set();
const roomHearers = new Set();

const value = (path) => (changes.has(path) ? changes.get(path) : told.values?.[path]?.typed ?? "");

function tell(what) {
  for (const hear of hearers) hear(what);
}

function keepNow() {
  if (text === untouched && changes.size === 0) return;
  untouched = null;
  keep(id, { name: value("title"), construction: value("construction"), text, changes: [...changes] });
}

/** A step of its own, or more of the one before. */
function record(of) {
  const step = { text, room: trail.step.room };
  if (of !== null && open === of) trail.change(step);
  else open = trail.add(step) ? of : null;
}

/** Asks what there is to say of the job as it is now. */
async function askNow(of) {
  asking.abort();
  asking = new AbortController();
  const mine = ++asked;
  keepNow();
  tell({ state: "asking" });
  const request = ask("edit", { query: [...changes], body: text, signal: asking.signal });
  answered = request.catch(() => {});
  try {
    const answer = await request;
    if (mine !== asked) return;
    takeOver(answer, of);
  } catch (failure) {
    if (failure.name !== "AbortError") throw failure;
  }
}

function takeOver(answer, of) {
  const all = answer.json?.report ? answer.json : { job: text, report: reportOf(answer) };
  text = all.job;
  if (all.values) changes.clear();
  told = all.values ? all : { ...told, ...all, values: {} };
  isOk = answer.ok;
  if (answer.ok) parts = answer.parts ?? new Map();
  if (of !== undefined) record(of);
  keepNow();
  tell({ told, ok: isOk, parts, state: "shown" });
}

/** Another text in the place of the present one. */
function setText(to, of) {
  text = to;
  changes.clear();
  return askNow(of);
}

export const job = {
  /** As the program had it last. */
  get text() {
    return text;
  },
  /** What it said last: `values`, `tables`, `report`, `numbers`, `usual`, `needed`, `answer`, `pouch`. */
  get told() {
    return told;
  },
  /** Of the last job that could be made: name -> Blob. */
  get parts() {
    return parts;
  },
  get ok() {
    return isOk;
  },
  get id() {
    return id;
  },
  /** What stands at `path`, as typed. */
  value,
  /** Whatever is being typed belongs to one step until `rest`. */
  set(path, typed) {
    return job.setAll([[path, typed]], path);
  },
  /** Several values as one step. */
  setAll(pairs, of = null) {
    for (const [path, typed] of pairs) {
      changes.delete(path);
      changes.set(path, typed);
    }
    return askNow(of);
  },
  /** What comes next is a step of its own. */
  rest() {
    open = null;
  },
  /** The job's text, changed by hand. */
  write(to) {
    return setText(to, "text");
  },
  /** The text once the program has made the last change of it. */
  async settled() {
    let last;
    do {
      last = answered;
      await last;
    } while (last !== answered);
    return text;
  },
  subscribe(hear) {
    hearers.add(hear);
    return () => hearers.delete(hear);
  },
  /** As a pouch of its own: the one before stays among those that are kept. */
  open(to) {
    id = newId();
    setIdOfTab(id);
    job.rest();
    return setText(to, null);
  },
  /** One of those that are kept. */
  openKept(other) {
    const pouch = pouchAt(other);
    if (!pouch) return;
    id = other;
    setIdOfTab(id);
    job.rest();
    text = pouch.text;
    changes.clear();
    for (const [path, typed] of pouch.changes ?? []) changes.set(path, typed);
    askNow(null);
  },
  forget,
  undo: () => trail.go(-1),
  redo: () => trail.go(1),
  get canUndo() {
    return trail?.canUndo ?? false;
  },
  get canRedo() {
    return trail?.canRedo ?? false;
  },
  link: () => location.href.replace(/#.*/, "") + fragmentOf(text),
  get room() {
    return trail.step.room;
  },
  /** A room is a step too, so that Back leaves it. */
  enter(room) {
    if (room !== trail.step.room) trail.add({ text: trail.step.text, room });
    for (const hear of roomHearers) hear(room);
  },
  onRoom: (hear) => roomHearers.add(hear),
};

/**
 * What this tab begins with: the job of the address, else the one that was open, else `first`.
 * `isNew`: nothing was there. `isBroken`: the address holds no whole job.
 */
export async function begin(first, filledIn) {
  const linked = await textOf(location.hash);
  const before = linked === undefined ? null : pouchAt(idOfTab());
  // Loaded anew right after a key the address has still the text before it, whichever entry of the history
  // it is: what is kept is newer. Another address would not have loaded the page anew.
  const isReload = performance.getEntriesByType("navigation")[0]?.type === "reload";
  const isOurs = before && (linked === null || linked === before.text || (isReload && isOfTab(before.id)));
  id = isOurs ? before.id : newId();
  setIdOfTab(id);
  text = isOurs ? before.text : linked ?? first;
  const left = isOurs ? before.changes ?? [] : [];
  for (const [path, typed] of linked || isOurs ? left : filledIn) changes.set(path, typed);
  const isNew = !linked && !isOurs;
  if (isNew && changes.size === 0) untouched = text;
  trail = beginTrail({ text, room: history.state?.room ?? (isNew ? "start" : "pouch") }, fragmentOf, ({ text: to, room }) => {
    job.rest();
    for (const hear of roomHearers) hear(room);
    setText(to);
  });
  addEventListener("hashchange", async () => {
    const other = await textOf(location.hash);
    if (typeof other === "string" && other !== text) job.open(other);
  });
  askNow(changes.size > 0 ? null : undefined);
  return { isNew, isBroken: linked === undefined };
}
