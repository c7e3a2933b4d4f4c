// What stands behind the page's questions where the page is one file: the program itself, at work beside the page in
// a worker. In the page that is served, it is a connection (src/desk/page/send.mjs).
//
// One question is worked on at a time. What is overtaken is dropped, and where the program has begun on it and
// takes long, the program is ended and begun anew: it hears nothing while it works. The first is begun by load.js.

/* global pouchwright */
import { byId, made, say } from "./words.mjs";

const textOf = (id) => byId(id).textContent;

/** How long the program may go on with what nobody waits for any more: as long as a new beginning takes. */
const kPatience = 400;

const waiting = [];
let current = null;
let worker = null;
let isReady = false;
let count = 0;

// ---- The program ----

let module = null;

function failAll(failure) {
  const all = current ? [current, ...waiting] : [...waiting];
  current = null;
  waiting.length = 0;
  for (const one of all) one.reject(failure);
}

/** Listens to a worker that has the program, or is about to. */
function listenTo(mine) {
  worker = mine;
  mine.onmessage = ({ data }) => mine === worker && heard(data);
  mine.onerror = (event) => mine === worker && broken(event.message);
}

/** Ends what runs and begins anew; what was asked and not answered is asked again by the page. */
function begin() {
  worker?.terminate();
  isReady = false;
  listenTo(new Worker(pouchwright.source));
  worker.postMessage({ module });
}

/** One that ends at a question is begun anew; one that does not even begin never will. */
function broken(why) {
  failAll(new Error(why));
  if (isReady) begin();
  else fail();
}

let hasFailed = false;
function fail() {
  hasFailed = true;
  note("starting", say("desk-file-no-program"));
  failAll(new Error("no program"));
}

function heard(data) {
  if (data.failure) return broken(data.failure);
  if (data.isReady) {
    isReady = true;
    byId("starting")?.remove();
    document.body.classList.add("program-ready");
  } else {
    const { resolve } = current;
    current = null;
    resolve(new Response(data.body, { status: data.status, headers: { "Content-Type": data.type } }));
  }
  next();
}

function next() {
  if (!isReady || current || waiting.length === 0) return;
  current = waiting.shift();
  const { id, target, body } = current;
  worker.postMessage({ id, target, body });
}

/** Nobody waits for `one` any more. */
function drop(one) {
  const at = waiting.indexOf(one);
  if (at >= 0) waiting.splice(at, 1);
  if (current !== one) return;
  setTimeout(() => {
    if (current !== one) return;
    current = null;
    begin();
  }, kPatience);
}

/**
 * Resolves to the Response for `address` and a body; what the body is, the address says as well. Fails: AbortError,
 * where `signal` says so; others where nothing answers.
 */
export function send(address, { body = "", signal } = {}) {
  return new Promise((resolve, reject) => {
    if (signal?.aborted) return reject(signal.reason);
    if (hasFailed) return reject(new Error("no program"));
    const one = { id: ++count, target: address, body, resolve, reject };
    signal?.addEventListener("abort", () => (reject(signal.reason), drop(one)), { once: true });
    waiting.push(one);
    next();
  });
}

const pictures = JSON.parse(textOf("pictures"));
/** Where the picture of a construction lies. */
export const pictureOf = (construction) => pictures[`/picture/${construction}.svg`] ?? "";
/** Where the drawing lies of how to measure in one of the ways to begin. */
export const drawingOf = (way) => pictures[`/measure-${way}.svg`] ?? "";

// ---- The beginning ----

function isKeeping() {
  try {
    localStorage.setItem("pouchwright.try", "");
    localStorage.removeItem("pouchwright.try");
    return true;
  } catch {
    return false;
  }
}

/** What a person should know who opens the file. */
function note(id, words) {
  byId(id)?.remove();
  byId("main").before(made("p", words, { id, class: "file-note", role: "status" }));
}

if (!isKeeping()) note("not-kept", say("desk-file-not-kept"));
pouchwright.ready.then((compiled) => {
  module = compiled;
  listenTo(pouchwright.worker);
  heard({ isReady: true });
}).catch(fail);
