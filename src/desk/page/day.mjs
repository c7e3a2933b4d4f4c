// Several pouches made in one day: which of those that are kept, how many of each, who comes; and what the
// program says of all together: cut plan, shopping list, work plan, papers.
//
// What is ticked and typed stays in this browser (store.mjs); how it becomes a text for the program, day_text.mjs
// says. It asks only while it is open.

import { dayOf, kWho, makeAt, writtenDay } from "./day_text.mjs";
import { printed } from "./dialogue.mjs";
import { makeDesk } from "./places.mjs";
import { done, download, showKept } from "./pouches.mjs";
import { box, button, faultsOf, figureOf, oneAtATime, shownReport, showPicture } from "./reports.mjs";
import { keep, keepDay, kept, keptDay, newId } from "./store.mjs";
import { fileName, made, unparted } from "./words.mjs";

/** After the last key, before what was typed is asked about. */
const kRest = 700;
/** The program's name for a text that has none, in the places of faults. */
const kDayItself = "job.toml";

/** What the program says of one pouch; of the same text it is asked once. */
function makeKnown(ask) {
  const known = new Map();
  return async ({ text, changes = [] }, signal) => {
    const key = JSON.stringify([text, changes]);
    if (!known.has(key)) {
      const { ok, json, parts } = await ask("edit", { query: changes, body: text, signal });
      known.set(key, { ok, told: json, text: json?.job ?? text, picture: ok ? parts.get("pouch") : null });
    }
    return known.get(key);
  };
}

/** Names that no two share; the program would number them in the same way. */
function withNames(pouches, unnamed) {
  const taken = new Set();
  return pouches.map((one) => {
    const name = one.name?.trim() || unnamed;
    let free = name;
    for (let number = 2; taken.has(free); ++number) free = `${name} (${number})`;
    taken.add(free);
    return { ...one, name: free };
  });
}

// ---- Which pouches, and how many of each ----

/** A line for each pouch; `onTick(id, isTicked)`, `onCount(id, typed)`. */
function makeList(say, { onTick, onCount }) {
  const fieldset = made("fieldset", "", { class: "day-which" });
  const list = made("ul", "", { class: "day-list" });
  const none = made("p", say("desk-day-none"), { class: "lead" });
  fieldset.append(made("legend", say("desk-day-which")), none, list);
  const rows = new Map();

  function rowOf(id) {
    const row = made("li", "", { "data-id": id });
    const label = made("label", "", { class: "section-choice" });
    const tick = made("input", "", { type: "checkbox" });
    const name = made("span", "");
    label.append(tick, name);
    const many = made("label", "", { class: "day-count" });
    const count = made("input", "", { type: "text", inputmode: "numeric", autocomplete: "off" });
    many.append(made("span", say("desk-day-count")), count);
    row.append(label, many);
    tick.addEventListener("change", () => onTick(id, tick.checked));
    count.addEventListener("input", () => onCount(id, count.value.trim()));
    return { row, tick, name, many, count };
  }

  function showRow(one, entry) {
    if (!rows.has(one.id)) rows.set(one.id, rowOf(one.id));
    const parts = rows.get(one.id);
    parts.name.textContent = one.name;
    parts.tick.checked = entry !== undefined;
    parts.many.classList.toggle("unneeded", entry === undefined);
    parts.count.disabled = entry === undefined;
    parts.count.setAttribute("aria-label", say("desk-day-count-of", { name: one.name }));
    if (parts.count !== document.activeElement) parts.count.value = entry?.count ?? "";
    return parts.row;
  }

  return {
    element: fieldset,
    show(pouches, day) {
      none.hidden = pouches.length > 0;
      const shown = pouches.map((one) => showRow(one, day.pouches.find(({ id }) => id === one.id)));
      // What stands there already stays, and the focus in it.
      if (shown.length !== list.children.length || shown.some((row, index) => row !== list.children[index])) list.replaceChildren(...shown);
    },
    /** What the pouch's own job says of how many, where nobody has typed anything. */
    usual(id, words) {
      rows.get(id).count.placeholder = words;
    },
    wrong(ids) {
      for (const [id, { count }] of rows) count.setAttribute("aria-invalid", String(ids.has(id)));
    },
  };
}

// ---- Who comes ----

function makeWho(say, onTyped) {
  const title = box(say("desk-day-title"));
  const boxes = new Map([
    ["helpers", box(say("desk-field-batch-helpers"), { kind: "numeric" })],
    ["machines", box(say("desk-field-batch-machines"), { kind: "numeric" })],
    ["overedge_machines", box(say("desk-field-batch-overedge-machines"), { kind: "numeric" })],
    ["irons", box(say("desk-field-batch-irons"), { kind: "numeric" })],
  ]);
  const fieldset = made("fieldset", "", { class: "day-who" });
  const form = made("div", "", { class: "room-form" });
  form.append(...[...boxes.values(), title].map((one) => one.element));
  fieldset.append(made("legend", say("desk-day-who")), form);
  title.input.addEventListener("input", () => onTyped());
  for (const { input } of boxes.values()) input.addEventListener("input", () => onTyped());
  const put = (input, value) => {
    if (input !== document.activeElement) input.value = value;
  };
  return {
    element: fieldset,
    /** `usual(key)`: what the open job has. */
    show(day, usual) {
      put(title.input, day.title);
      for (const [key, { input }] of boxes) put(input, day.who[key] ?? usual(key));
    },
    typed: () => ({ title: title.input.value.trim(), who: Object.fromEntries(kWho.map((key) => [key, boxes.get(key).input.value.trim()])) }),
    wrong(keys) {
      for (const [key, { input }] of boxes) input.setAttribute("aria-invalid", String(keys.has(key)));
    },
  };
}

// ---- The pouches, side by side ----

function makeCards(say) {
  const element = made("div", "", { class: "day-cards", role: "group", "aria-label": say("desk-day-side") });
  const figures = new Map();

  function figureFor(id) {
    if (!figures.has(id)) {
      const figure = figureOf("", { "data-id": id });
      figure.append(made("figcaption", ""));
      figures.set(id, figure);
    }
    return figures.get(id);
  }

  return {
    element,
    /** `chosen`: name, how many, and what the program says of each. */
    async show(chosen) {
      const shown = chosen.map(({ id }) => figureFor(id));
      if (shown.length !== element.children.length || shown.some((one, index) => one !== element.children[index])) element.replaceChildren(...shown);
      await Promise.all(chosen.map(async ({ id, name, count, known }) => {
        const figure = figures.get(id);
        const size = known.told?.answer?.find((one) => one.name === "size")?.words ?? "";
        const caption = [made("strong", name), unparted("span", [count && say("desk-day-so-many", { count }), size].filter(Boolean).join(" · "))];
        figure.querySelector("figcaption").replaceChildren(...caption);
        const image = figure.querySelector("img");
        image.alt = known.told?.pouch?.alt ?? "";
        if (known.picture && image.dataset.of !== known.text) {
          image.dataset.of = known.text;
          await showPicture(image, known.picture);
        }
      }));
    },
  };
}

// ---- What is wrong ----

/** Each fault with the pouch that it is about. */
function shownFault(say, { severity, leaks, missing, message, hint }, pouch, open) {
  const rank = leaks ? "leaks" : missing ? "needed" : severity === "errors" ? "error" : "warning";
  const item = made("li", "", { "data-rank": rank });
  const words = made("p", "");
  words.append(made("strong", pouch?.name ?? say("desk-day-itself")), `: ${message}`);
  if (hint) words.append(made("span", ` ${hint}`, { class: "hint" }));
  item.append(words);
  if (pouch) item.append(button(say("desk-kept-take"), () => open(pouch), { "aria-label": say("desk-kept-take-label", { name: pouch.name }) }));
  return item;
}

/** All that is said of a day, each once. */
function faultsIn(report) {
  const different = new Map();
  for (const severity of ["errors", "warnings"]) {
    for (const one of report[severity] ?? []) different.set(JSON.stringify([severity, one.place?.file, one.message]), { ...one, severity });
  }
  return [...different.values()];
}

// ---- What comes of it ----

function makeResults(say, desk) {
  const parts = {
    lay: desk.answersOf("lay", { picture: "lay.svg", files: ["lay.pdf", "lay.csv"], isPictured: true }),
    supplies: desk.answersOf("supplies", { files: ["supplies.pdf", "supplies.csv"] }),
    schedule: desk.answersOf("schedule", { picture: "schedule.svg", files: ["schedule.pdf", "schedule.csv"], isPictured: true }),
  };
  const headings = { lay: say("desk-plan-lay"), supplies: say("desk-plan-supplies"), schedule: say("desk-plan-schedule") };
  const element = made("div", "", { class: "day-results", hidden: "" });
  const leads = new Map();
  for (const [name, answers] of Object.entries(parts)) {
    const section = made("section", "", { "data-result": name, "aria-label": headings[name] });
    const lead = made("p", "", { class: "day-lead" });
    leads.set(name, lead);
    section.append(made("h4", headings[name]), lead, ...answers.parts);
    element.append(section);
  }
  /** What matters first stands in sight, all else in words below its picture. */
  const firstOf = (blocks) => blocks[0]?.lines.filter(({ kind }) => kind === "sentence").slice(0, 2).map(({ cells }) => cells[0]).join(" ") ?? "";
  return {
    element,
    async show(signal) {
      element.hidden = false;
      for (const name of ["lay", "supplies", "schedule"]) {
        const report = await parts[name].show(signal, [], ({ said }) => shownReport(said, 5));
        if (name === "schedule") leads.get(name).textContent = report ? firstOf(report.said) : "";
      }
    },
    old: (isOld) => element.classList.toggle("stale", isOld),
    hide: () => (element.hidden = true),
  };
}

export function room({ element, ask, job, say }) {
  const asking = oneAtATime();
  const known = makeKnown(ask);
  let day = keptDay();
  let timer = 0;
  /** The day as the program has it, for which all below stands. */
  let text = "";
  let answered = null;
  /** As the plans have the job that is open. */
  const dayJob = {
    get text() {
      return text;
    },
    told: { report: { errors: [], warnings: [] } },
    settled: async () => text,
    value: (path) => (path === "title" ? day.title || say("desk-day") : ""),
  };

  // ---- What is there ----

  const details = made("details", "", { class: "group place", id: "day" });
  const summary = made("summary", "");
  summary.append(made("h3", say("desk-day")), made("span", say("desk-day-about"), { class: "lead" }));
  const list = makeList(say, { onTick, onCount });
  const who = makeWho(say, () => (keepTyped(), later()));
  const cards = makeCards(say);
  const status = made("p", "", { role: "status", class: "room-status" });
  const faults = made("ul", "", { class: "faults" });
  const print = button(say("desk-day-print"), () => take(printing), { class: "main" });
  const keepPdf = button(say("desk-day-keep"), () => take(keeping));
  const save = button(say("desk-day-save"), saveFile);
  const buttons = made("div", "", { class: "buttons" });
  buttons.append(print, keepPdf, save);
  const results = makeResults(say, makeDesk(ask, dayJob, () => {}));
  const rest = made("div", "", { hidden: "" });
  rest.append(who.element, cards.element, status, faults, buttons, results.element);
  details.append(summary, list.element, rest);
  details.open = day.pouches.length > 0;
  details.addEventListener("toggle", () => details.open && refresh());
  element.append(details);

  // ---- What is ticked and typed ----

  const pouchesHere = () => withNames(kept(), say("desk-no-name"));
  const usualWho = (key) => job.value(`batch.${key}`) || job.told.usual?.[`batch.${key}`] || "";

  /** In the order in which they were ticked. */
  function chosenOf(all) {
    const chosen = day.pouches.map((entry) => ({ ...all.find(({ id }) => id === entry.id), ...entry })).filter((one) => one.text !== undefined);
    return withNames(chosen, say("desk-no-name"));
  }

  function keepTyped() {
    day = { ...day, ...who.typed() };
    keepDay(day);
  }

  function onTick(id, isTicked) {
    const there = new Set(kept().map((one) => one.id));
    const others = day.pouches.filter((one) => one.id !== id && there.has(one.id));
    day = { ...day, pouches: isTicked ? [...others, { id, count: null }] : others };
    if (isTicked) who.show(day, usualWho);
    keepTyped();
    refresh();
  }

  function onCount(id, count) {
    day = { ...day, pouches: day.pouches.map((one) => (one.id === id ? { id, count } : one)) };
    keepTyped();
    later();
  }

  function later() {
    clearTimeout(timer);
    makeReady(false);
    timer = setTimeout(refresh, kRest);
  }

  // ---- What the program says of it ----

  function makeReady(isReady) {
    print.disabled = keepPdf.disabled = !isReady;
    save.disabled = text === "";
    results.old(!isReady);
  }

  /** What is known of each; how many, where nobody has said it yet. */
  async function lookedAt(chosen, signal) {
    const all = [];
    for (const one of chosen) {
      const what = await known(one, signal);
      const stated = what.told?.values?.["batch.pouches"]?.typed ?? "";
      list.usual(one.id, what.told?.usual?.["batch.pouches"] ?? "");
      all.push({ ...one, count: one.count ?? stated, known: what });
    }
    day = { ...day, pouches: day.pouches.map((entry) => ({ ...entry, count: entry.count ?? all.find(({ id }) => id === entry.id)?.count ?? null })) };
    keepDay(day);
    return all;
  }

  const refresh = () => asking.begin(async (signal) => {
    clearTimeout(timer);
    if (!details.open) return;
    const here = pouchesHere();
    list.show(here, day);
    who.show(day, usualWho);
    const ticked = chosenOf(here);
    rest.hidden = ticked.length === 0;
    if (rest.hidden) return void (text = answered = "");
    makeReady(false);
    const chosen = await lookedAt(ticked, signal);
    list.show(here, day);
    await cards.show(chosen);
    const { title, who: comes } = who.typed();
    text = writtenDay({ title, who: comes, makes: chosen.map(({ name, count, known: { text: of } }) => ({ name, count, text: of })) });
    if (text === answered) return makeReady(dayJob.ok);
    await askAll(chosen, signal);
  });

  async function askAll(chosen, signal) {
    const body = text;
    answered = null;
    status.textContent = say("desk-plan-working");
    const answer = await ask("check", { body, signal });
    dayJob.ok = answer.ok;
    showFaults(answer, chosen);
    makeReady(answer.ok);
    status.textContent = say(answer.ok ? "desk-day-fine" : "desk-day-wrong");
    if (!answer.ok) results.hide();
    else await results.show(signal);
    answered = body;
  }

  function showFaults(answer, chosen) {
    const report = answer.json ?? { errors: [{ message: faultsOf(answer).join(" "), hint: "" }] };
    dayJob.told.report = { warnings: [], ...report };
    const pouchOf = ({ place }) => (!place ? undefined : place.file === kDayItself ? chosen[makeAt(text, place.line)] : chosen.find(({ name }) => name === place.file));
    const all = faultsIn(report);
    faults.replaceChildren(...all.map((one) => shownFault(say, one, pouchOf(one), open)));
    const own = all.filter((one) => one.severity === "errors" && one.place?.file === kDayItself);
    list.wrong(new Set(own.map((one) => pouchOf(one)?.id)));
    who.wrong(new Set(own.filter((one) => !pouchOf(one)).map(({ path }) => path?.replace("batch.", ""))));
  }

  function open({ id }) {
    job.openKept(id);
    job.enter("pouch");
  }

  // ---- Papers and files ----

  const nameOf = (ending) => `${fileName(dayJob.value("title"), "day")}${ending}`;
  let isMaking = false;
  async function take(does) {
    if (isMaking) return;
    isMaking = true;
    status.textContent = say("desk-print-making", { paper: say("desk-day-papers") });
    try {
      const answer = await ask("packet/packet.pdf", { body: text });
      if (answer.ok) return void (await does(answer.blob, nameOf("-packet.pdf")));
      status.textContent = faultsOf(answer).join(" ");
    } finally {
      isMaking = false;
    }
  }

  async function printing(blob, file) {
    if (await printed(blob, say("desk-print-frame"))) return void (status.textContent = say("desk-print-opened"));
    download(file, blob);
    status.textContent = say("desk-print-by-hand", { file });
  }

  function keeping(blob, file) {
    download(file, blob);
    status.textContent = say("desk-print-kept", { file });
  }

  function saveFile() {
    const file = nameOf(".toml");
    download(file, new Blob([text], { type: "application/toml" }));
    status.textContent = say("desk-saved", { file });
  }

  // ---- A day from a file ----

  /** The pouch of that text among those that are kept and are not `taken`, or one more. */
  function idOf({ name, text: of }, taken) {
    const same = kept().find((one) => one.text === of && (one.changes ?? []).length === 0 && !taken.includes(one.id));
    if (same) return same.id;
    const id = newId();
    const [, construction = ""] = /^\s*construction\s*=\s*"([^"]*)"/m.exec(of) ?? [];
    keep(id, { name, construction, text: of, changes: [] });
    return id;
  }

  return {
    show() {
      day = { ...keptDay() };
      return refresh();
    },
    hide() {
      clearTimeout(timer);
      asking.stop();
    },
    /** A file that was opened and is a day. */
    take(of, file) {
      const read = dayOf(of);
      if (read.isMore) return done(say("desk-day-more", { file }));
      if (read.files) return done(say("desk-day-by-files", { file, files: read.files.join(", ") }));
      const pouches = [];
      for (const one of read.makes) pouches.push({ id: idOf(one, pouches.map(({ id }) => id)), count: one.count });
      day = { title: read.title, who: read.who, pouches };
      keepDay(day);
      showKept();
      details.open = true;
      done(say("desk-day-opened", { file }));
      details.scrollIntoView();
      refresh();
    },
  };
}
