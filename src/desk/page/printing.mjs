// What to print or to keep: the papers with their pages to look at, the browser's own print dialogue,
// how to set it, and what the check square measured afterwards.

import { printed } from "./dialogue.mjs";
import { isSure, listOfStops } from "./faults.mjs";
import { download } from "./pouches.mjs";
import { box, button, notYet, oncePerText, oneAtATime, several, shownFaults, withQuery } from "./reports.mjs";
import { checkSquare } from "./square.mjs";
import { thumbnails } from "./thumbnails.mjs";
import { counted, fileName, made } from "./words.mjs";

/** Papers by the command that makes them; `name` is what they are called here. */
const kPapers = [
  { name: "all", command: "packet" },
  { name: "template", command: "template" },
  { name: "cards", command: "mask" },
  { name: "steps", command: "steps" },
  { name: "pictures", command: "steps", query: [["picture", "wordless"]] },
  { name: "lay", command: "lay" },
  { name: "supplies", command: "supplies" },
  { name: "schedule", command: "schedule" },
  { name: "test", command: "template", query: [["page", "test"]], file: "test-page.pdf", drawing: "test-page-test.svg" },
];
const fileOf = (paper) => paper.file ?? `${paper.command}.pdf`;
/** Pages that the program draws as they lie on paper; a paper of one drawing is that drawing. */
const pagesRoute = (paper, query) => withQuery(`pages/${paper.command}.pdf`, query);
const pageRoute = (paper, number, query) =>
  withQuery(paper.drawing ? `${paper.command}/${paper.drawing}` : `pages/${paper.command}.pdf/${number}.png`, query);

const countOf = (pages) => counted(pages, "desk-print-one-page", "desk-print-count");

export function room({ element, ask, job, say }) {
  const counting = oncePerText(count);
  const looking = oneAtATime();
  let chosen = kPapers[0];
  /** Sections of everything, and those that are left out. */
  let sections = [];
  const without = new Set();
  /** What was printed or kept last: its name, and the job that it is of. */
  let last = null;

  // ---- What is there ----

  const status = made("p", "", { role: "status", class: "room-status" });
  const old = made("p", "", { role: "status", class: "room-old" });
  const faults = made("div", "");
  const papers = made("fieldset", "", { class: "papers" });
  papers.append(made("legend", say("desk-print-what")));
  const counts = new Map();
  for (const paper of kPapers) papers.append(choiceOf(paper));
  const ticks = made("fieldset", "", { class: "sections" });
  const parts = made("details", "", { class: "inner", hidden: "" });
  const copies = box(say("desk-print-copies"), { hint: say("desk-print-copies-hint"), kind: "numeric" });
  copies.input.addEventListener("change", () => look());
  const print = button(say("desk-print-print"), () => take(printing), { class: "main", id: "print-now" });
  const keep = button(say("desk-print-keep"), () => take(keeping), { id: "print-keep" });
  const lines = button(say("desk-print-svg"), () => take(keepingLines), { id: "print-svg" });
  const cuts = button(say("desk-print-lines"), () => take(keepingCuts), { id: "print-lines" });
  const buttons = made("div", "", { class: "buttons" });
  print.disabled = keep.disabled = true;
  lines.hidden = cuts.hidden = true;
  const ruler = made("input", "", { type: "checkbox", id: "print-ruler" });
  const rulerChoice = made("label", "", { class: "section-choice" });
  rulerChoice.append(ruler, made("span", say("desk-print-ruler")));
  ruler.addEventListener("change", () => job.setAll([["packet.template", ruler.checked ? "gauge" : ""]]));
  parts.append(made("summary", say("desk-print-sections")), ticks, copies.element, rulerChoice);
  buttons.append(print, keep, lines, cuts);
  const thumbs = thumbnails();
  const square = checkSquare(ask, job);
  const choosing = made("div", "", { class: "printing-choose" });
  choosing.append(papers, parts);
  const looked = made("div", "", { class: "printing-look" });
  looked.append(buttons, status, old, faults, ...thumbs.parts);
  const both = made("div", "", { class: "printing" });
  both.append(choosing, looked);
  const waiting = notYet();
  const wrong = made("ul", "", { class: "faults" });
  const said = made("div", "", { role: "status" });
  said.append(wrong);
  element.append(waiting.element, said, both, howTo(), square.element);

  function choiceOf(paper) {
    const label = made("label", "", { class: "paper-choice" });
    const radio = made("input", "", { type: "radio", name: "paper", value: paper.name });
    radio.checked = paper === chosen;
    radio.addEventListener("change", () => {
      chosen = paper;
      status.textContent = "";
      look();
    });
    const count = made("span", paper.drawing ? countOf(1) : "", { class: "count" });
    counts.set(paper.name, count);
    const words = made("span", say(`desk-print-${paper.name}`));
    label.append(radio, words, count);
    return label;
  }

  // ---- Counts and sections ----

  async function count(signal, body) {
    const others = kPapers.filter((paper) => paper.name !== "all" && !paper.drawing);
    const routes = others.map((paper) => pagesRoute(paper, paper.query ?? []));
    const [packet] = await Promise.all([ask("packet", { body, signal }), look()]);
    if (packet.ok) showSections(packet.json.sections);
    const answers = await several(ask, routes, { body, signal });
    others.forEach((paper, index) => {
      const answer = answers.get(routes[index]);
      counts.get(paper.name).textContent = answer?.ok ? countOf(answer.json.pages.length) : "";
    });
  }

  function showSections(all) {
    sections = all;
    const rows = all.map((section) => {
      const label = made("label", "", { class: "section-choice" });
      const tick = made("input", "", { type: "checkbox", value: section.name });
      tick.checked = !without.has(section.name);
      tick.addEventListener("change", () => {
        if (tick.checked) without.delete(section.name);
        else without.add(section.name);
        showAll();
        look();
      });
      const prints = section.prints > 1 ? ` ${say("desk-print-times", { times: section.prints })}` : "";
      label.append(tick, made("span", section.title), made("span", countOf(section.pages) + prints, { class: "count" }));
      return label;
    });
    parts.hidden = chosen.name !== "all";
    ticks.replaceChildren(made("legend", say("desk-print-parts"), { class: "unseen" }), ...rows);
    showAll();
  }

  function showAll() {
    const pages = sections.filter(({ name }) => !without.has(name)).reduce((sum, one) => sum + one.pages, 0);
    counts.get("all").textContent = countOf(pages);
  }

  function queryOf(paper) {
    if (paper.name !== "all") return paper.query ?? [];
    const query = [];
    const wanted = sections.filter(({ name }) => !without.has(name)).map(({ name }) => name);
    if (wanted.length < sections.length) query.push(["only", wanted.join(",")]);
    const drawn = copies.input.value.trim();
    if (drawn !== "" && wanted.includes("home")) query.push(["copies", drawn]);
    return query;
  }

  // ---- Pages to look at ----

  const look = () => looking.begin(async (signal) => {
    const isAll = chosen.name === "all";
    parts.hidden = !isAll || sections.length === 0;
    copies.element.hidden = without.has("home");
    lines.hidden = cuts.hidden = chosen.name !== "template" && chosen.name !== "cards";
    const body = job.text;
    const paper = chosen;
    const query = queryOf(paper);
    const nothing = isAll && sections.length > 0 && without.size === sections.length;
    print.disabled = keep.disabled = nothing || !job.ok;
    if (nothing) return thumbs.clear();
    thumbs.wait();
    const answer = paper.drawing ? { ok: true, json: { pages: [{}] } } : await ask(pagesRoute(paper, query), { body, signal });
    faults.replaceChildren(...(answer.ok ? [] : shownFaults(answer)));
    print.disabled = keep.disabled = !answer.ok;
    if (!answer.ok) return thumbs.clear();
    const { pages } = answer.json;
    counts.get(paper.name).textContent = countOf(pages.length);
    thumbs.show(pages, async (numbers) => {
      const routes = numbers.map((number) => pageRoute(paper, number, query));
      const answers = await several(ask, routes, { body, signal });
      return routes.map((route) => answers.get(route)?.blob);
    }, signal);
  });

  // ---- Printing and keeping ----

  let isMaking = false;
  async function take(does) {
    if (isMaking) return;
    isMaking = true;
    try {
      const body = await job.settled();
      if (!(await isSure())) return;
      const paper = chosen;
      status.textContent = say("desk-print-making", { paper: say(`desk-print-${paper.name}`) });
      await does(paper, body);
    } finally {
      isMaking = false;
    }
  }

  async function bytesOf(route, query, body) {
    const answer = await ask(route, { query, body });
    faults.replaceChildren(...(answer.ok ? [] : shownFaults(answer)));
    if (!answer.ok) status.textContent = say("desk-print-not-made");
    return answer.ok ? answer.blob : null;
  }

  const nameOf = (file) => `${fileName(job.value("title"), "pouch")}-${file}`;

  /** The pouch without what is the printer's own. */
  const pouchNow = () => JSON.stringify(Object.entries(job.told.values ?? {}).filter(([path]) => path !== "paper.printed_square").map(([path, { written }]) => [path, written]));

  function remember(paper, body) {
    last = { words: say(`desk-print-${paper.name}`), text: body, pouch: pouchNow() };
    old.textContent = "";
  }

  async function printing(paper, body) {
    const blob = await bytesOf(`${paper.command}/${fileOf(paper)}`, queryOf(paper), body);
    if (!blob) return;
    remember(paper, body);
    if (await printed(blob, say("desk-print-frame"))) {
      status.textContent = say("desk-print-opened");
      return;
    }
    download(nameOf(fileOf(paper)), blob);
    status.textContent = say("desk-print-by-hand", { file: nameOf(fileOf(paper)) });
  }

  async function keeping(paper, body) {
    const blob = await bytesOf(`${paper.command}/${fileOf(paper)}`, queryOf(paper), body);
    if (!blob) return;
    remember(paper, body);
    download(nameOf(fileOf(paper)), blob);
    status.textContent = say("desk-print-kept", { file: nameOf(fileOf(paper)) });
  }

  /** The outlines of the template and of the cards as drawings. */
  const keepingLines = (paper, body) => keepingDrawings(paper, body, [], "drawings.zip", "desk-print-kept");
  /** Nothing but what is cut and folded; so it carries no words, and no caution. */
  const keepingCuts = (paper, body) => keepingDrawings(paper, body, [["lines", "cut"]], "lines.zip", "desk-print-lines-kept");

  async function keepingDrawings(paper, body, query, file, words) {
    const blob = await bytesOf("svg.zip", query, body);
    if (!blob) return;
    remember(paper, body);
    download(nameOf(file), blob);
    status.textContent = say(words, { file: nameOf(file) });
  }

  function howTo() {
    const part = made("section", "", { class: "room-part", "aria-labelledby": "print-how" });
    const list = made("ol", "");
    list.append(...["scale", "paper", "sides", "square"].map((one) => made("li", say(`desk-print-how-${one}`))));
    part.append(made("h3", say("desk-print-how"), { id: "print-how" }), list);
    return part;
  }

  return {
    show(told, { ok } = { ok: true }) {
      waiting.show(ok);
      wrong.replaceChildren(...(ok ? [] : listOfStops()));
      both.hidden = !waiting.element.hidden;
      square.show();
      ruler.checked = job.value("packet.template") === "gauge";
      const isOld = last && last.text !== job.text;
      old.textContent = isOld ? say(last.pouch === pouchNow() ? "desk-print-old-correction" : "desk-print-old", { paper: last.words }) : "";
      if (old.textContent !== "") status.textContent = "";
      print.disabled = keep.disabled = !ok;
      thumbs.parts[0].classList.toggle("stale", !ok);
      if (ok) counting.show(job.text);
    },
    hide() {
      counting.stop();
      thumbs.close();
    },
    /** As the button does. */
    print: () => take(printing),
  };
}
