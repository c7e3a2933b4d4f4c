// What is cut besides the picture of the pouch: the flat panel, other pieces, the cards; and all sizes as
// a table. Asked for when looked at.

import { ask } from "./ask.mjs";
import { job } from "./job.mjs";
import { showFaults } from "./faults.mjs";
import { byId, made, say } from "./words.mjs";

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

/** The panel, and what is cut besides it, as `template-front-panel`. */
function wordsForPiece(name) {
  if (name === "template") return ["desk-picture-panel", "desk-picture-panel-about", "desk-picture-panel-alt"].map((key) => say(key));
  if (name === "gauge") return ["desk-picture-gauge", "desk-picture-gauge-about", "desk-picture-gauge-alt"].map((key) => say(key));
  const piece = name.replace(/^template-?/, "").replaceAll("-", " ");
  const values = { piece };
  return [say("desk-picture-piece", values), say("desk-picture-piece-about"), say("desk-picture-piece-alt", values)];
}

const kSources = [["template", wordsForPiece], ["mask", wordsForCard]];

function figureOf(key, [heading, about, alt]) {
  const figure = made("figure", "", { "data-drawing": key });
  const caption = made("figcaption", "");
  caption.append(made("h3", heading), made("p", about));
  const paper = made("div", "", { class: "paper" });
  paper.append(made("img", "", { alt }));
  figure.append(caption, paper);
  return figure;
}

async function showPicture(figure, signal) {
  const { ok, blob } = await ask(figure.dataset.drawing, { body: job.text, signal });
  if (!ok) return;
  const image = figure.querySelector("img");
  const old = image.src;
  image.src = URL.createObjectURL(blob);
  if (old) URL.revokeObjectURL(old);
}

/** Figures of drawings that are there already stay, so that nothing flickers. */
async function showPieces(signal) {
  const into = byId("pieces");
  const old = new Map([...into.children].map((figure) => [figure.dataset.drawing, figure]));
  const figures = [];
  for (const [command, wordsFor] of kSources) {
    const { ok, json } = await ask(command, { body: job.text, signal });
    if (json) showFaults(json, command);
    if (!ok) return;
    for (const { name, svg } of json.documents) {
      const words = wordsFor(name);
      const key = `${command}/${svg}`;
      if (words) figures.push(old.get(key) ?? figureOf(key, words));
    }
  }
  into.replaceChildren(...figures);
  await Promise.all(figures.map((figure) => showPicture(figure, signal)));
}

async function showTable(signal) {
  const { ok, text } = await ask("size", { query: [["form", "text"]], body: job.text, signal });
  if (ok) byId("table").textContent = text;
}

const kGroups = [["pieces-group", showPieces], ["table-group", showTable]];
let asking = new AbortController();

async function show() {
  asking.abort();
  asking = new AbortController();
  const { signal } = asking;
  try {
    for (const [group, shown] of kGroups) {
      if (byId(group).open) await shown(signal);
    }
  } catch (failure) {
    if (failure.name !== "AbortError") throw failure;
  }
}

export function listenToPieces() {
  for (const [group] of kGroups) byId(group).addEventListener("toggle", show);
  job.subscribe(({ state, ok }) => {
    if (state === "shown" && ok) show();
  });
}
