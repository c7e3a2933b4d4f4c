// What the answer in one line says besides, once nobody types any more: how many sheets are printed, and how
// much cloth it takes. Both take longer than an edit, so they are asked for in one request when it rests.

import { ask } from "./ask.mjs";
import { job } from "./job.mjs";
import { byId, counted, say, unparted } from "./words.mjs";

const kRest = 900;  // ms
const kPages = "pages/template.pdf";
const kSupplies = "supplies";

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
  byId("answer").append(...said.filter(Boolean).map((words) => unparted("span", words)));
}

/** After each answer, when it rests; the next one takes it away again. */
export function answerLater() {
  let timer = 0;
  let asking = new AbortController();
  job.subscribe(({ state, told, ok }) => {
    clearTimeout(timer);
    asking.abort();
    if (state !== "shown" || !ok || (told.needed ?? []).length > 0) return;
    asking = new AbortController();
    const { signal } = asking;
    timer = setTimeout(() => show(signal).catch((failure) => {
      if (failure.name !== "AbortError") throw failure;
    }), kRest);
  });
}
