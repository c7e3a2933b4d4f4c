// The one way in which the page asks the program: request in, answer out.
//
//     const { ok, json, parts } = await ask("edit", { query: [["pouch.width", "190"]], body: text });
//
// What stands behind it is send.mjs. Where nothing answers, it is asked again until something does or the
// asker gives up, and `onState` hears of it.
// Not for what is asked (job.mjs, the rooms), nor for what is shown of it.

import { send } from "./send.mjs";
import { language } from "./words.mjs";

/** What is heard: "answering", or "away" while the program does not answer. */
const hearers = new Set();
let isAway = false;
let wake = null;

export function onState(hear) {
  hearers.add(hear);
}

/** At once, rather than when the wait is over. */
export function askAgain() {
  wake?.();
}

function tellState(away) {
  if (away === isAway) return;
  isAway = away;
  for (const hear of hearers) hear(away ? "away" : "answering");
}

const kFirstWait = 500;
const kLongestWait = 8000;
/** The program is at its limit for a moment: it says so with this status. */
const kBusy = 503;
const kMostBusy = 4;

function waited(time, signal) {
  return new Promise((resolve, reject) => {
    const timer = setTimeout(resolve, time);
    wake = () => (clearTimeout(timer), resolve());
    signal?.addEventListener("abort", () => (clearTimeout(timer), reject(signal.reason)), { once: true });
  });
}

/**
 * The answer to `route` (as "check", or "template/template.pdf") for a job's text, and for what goes along
 * with it and is too long for an address, as `sent` [["record", text]]: its status, whether it is
 * `ok`, and what it holds: `json`, `parts` (name -> Blob; a part called `told` is `json` as well),
 * `text` or `blob`. Fails: AbortError, where `signal` says so.
 */
export async function ask(route, { query = [], body = "", sent = [], signal } = {}) {
  // Whoever is at the page sees no file: values are called as people call them, not by their keys.
  const named = route === "edit" ? query : [...query, ["names", "words"]];
  const asked = [...named, ["tongue", language]];
  const search = new URLSearchParams(sent.length === 0 ? asked : [...asked, ["sent", "fields"]]).toString();
  const whole = sent.length === 0 ? body : new URLSearchParams([["job", body], ...sent]).toString();
  const type = sent.length === 0 ? "application/toml" : "application/x-www-form-urlencoded";
  const address = `/api/${route}${search && (route.includes("?") ? "&" : "?")}${search}`;
  let wait = kFirstWait;
  for (let busy = 0; ; wait = Math.min(2 * wait, kLongestWait)) {
    try {
      const answer = await send(address, { type, body: whole, signal });
      const read = await readOf(answer);
      tellState(false);
      if (read.status !== kBusy || ++busy > kMostBusy) return read;
    } catch (failure) {
      if (failure.name === "AbortError") throw failure;
      tellState(true);
    }
    await waited(wait, signal);
  }
}

async function readOf(answer) {
  const type = (answer.headers.get("Content-Type") ?? "").replace(/;.*/, "");
  const read = { ok: answer.ok, status: answer.status, type };
  if (type === "application/json") return { ...read, json: await answer.json() };
  if (type === "text/plain") return { ...read, text: await answer.text() };
  if (type !== "multipart/form-data") return { ...read, blob: await answer.blob() };
  const parts = new Map(await answer.formData());
  const told = parts.get("told");
  return { ...read, parts, json: told && JSON.parse(await told.text()) };
}

/** What is said of a job: the report, or where there is none the words instead of it as one. */
export function reportOf(answer) {
  if (answer.json) return answer.json;
  return { warnings: [], errors: [{ place: null, path: null, message: (answer.text ?? "").trim(), hint: "" }] };
}
