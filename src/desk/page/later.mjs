// What the answer in one line says besides, once nobody types any more: how many sheets are printed, and how
// much cloth it takes. Both take longer than an edit, so they are asked for in one request when it rests.

import { ask } from "./ask.mjs";
import { job } from "./job.mjs";
import { byId, counted, made, say, unparted } from "./words.mjs";

const kRest = 900;  // ms
const kPages = "pages/template.pdf";
const kSupplies = "supplies";

/** What was said last, or about as long: its room is kept until the words come, so that nothing jumps. */
let usual = () => [say("desk-answer-sheets", { count: 2, paper: "A4" }), say("desk-answer-cloth", { amount: "0.25 m", count: 1 })];

const read = async (parts, name) => JSON.parse(await parts.get(name).text());

function sheets({ pages }) {
  const paper = job.value("paper.size") || job.told.usual["paper.size"];
  return counted(pages.length, "desk-answer-sheet", "desk-answer-sheets").replace("{paper}", paper);
}

function cloth({ supplies, pouches }) {
  const laminate = supplies.find((one) => one.kind === "cloth" && one.name === "laminate");
  return laminate && say("desk-answer-cloth", { amount: laminate.amount_said, count: pouches });
}

async function show(signal) {
  const { ok, parts } = await ask("several", { query: [["of", kPages], ["of", kSupplies]], body: job.text, signal });
  if (!ok) return;
  const status = await read(parts, "status");
  const said = [];
  if (status[kPages] === 200) said.push(sheets(await read(parts, kPages)));
  if (status[kSupplies] === 200) said.push(cloth(await read(parts, kSupplies)));
  if (signal.aborted) return;
  const words = said.filter(Boolean);
  usual = () => words;
  leaveRoom([]);
  for (const one of words) {
    const span = unparted("span", one);
    span.className = "besides";
    byId("answer").append(span);
  }
}

function leaveRoom(words) {
  for (const one of document.querySelectorAll("#answer .to-come")) one.remove();
  byId("answer").append(...words.map((one) => made("span", "", { class: "besides to-come", "data-words": one })));
}

/** After each answer, when it rests; the next one takes it away again. */
export function answerLater() {
  let timer = 0;
  let asking = new AbortController();
  job.subscribe(({ state, told, ok }) => {
    clearTimeout(timer);
    asking.abort();
    if (state !== "shown" || !ok || (told.needed ?? []).length > 0) return;
    leaveRoom(usual());
    asking = new AbortController();
    const { signal } = asking;
    timer = setTimeout(() => show(signal).catch((failure) => {
      if (failure.name !== "AbortError") throw failure;
    }), kRest);
  });
}
