// The work plan's place: who does what, and a station given to somebody, by choosing it or by carrying the
// person there. The program plans the rest; what it costs is the difference to its plan of the same job in
// which nobody is given anything.
//
// A station is what somebody has in the plan that is shown; giving it says what she `can` do in the job.

import { carry } from "./hands.mjs";
import { isWritable, withFreed, withGiven, withNobodyGiven } from "./helpers.mjs";
import { button, choice, shownFaults, shownReport } from "./reports.mjs";
import { made, say } from "./words.mjs";

/** After the last key in a list of choices, before what stands there is taken for the choice. */
const kRest = 700;

// ---- Stations of a plan ----

const keyOf = (can) => JSON.stringify(can);

/** Those that can be given, each once, with who has it: [{ key, work, who: [helper] }]. */
function stationsOf({ stations }) {
  const all = new Map();
  for (const { helper, work, can } of stations) {
    const key = keyOf(can);
    if (can.length === 0) continue;
    if (!all.has(key)) all.set(key, { key, work, who: [] });
    all.get(key).who.push(helper);
  }
  return [...all.values()];
}

/** What may be chosen for a person: value -> words. */
function choicesFor(person, report) {
  const nameOf = (helper) => report.people[helper - 1].who;
  const wordsOf = ({ work, who }) =>
    say(who.includes(person.helper) ? "desk-people-as-now" : "desk-people-station-with", { work, who: who.map(nameOf).join(", ") });
  const stations = stationsOf(report).map((one) => [one.key, wordsOf(one)]);
  const isMissing = person.can !== null && !stations.some(([key]) => key === keyOf(person.can));
  return [["", say("desk-people-free")], ...(isMissing ? [[keyOf(person.can), person.work]] : []), ...stations];
}

// ---- A person ----

/** A choice is taken at once; by keys, which pass by others on their way, once they rest. */
function listenToChoice(select, take) {
  let isByKey = false;
  let waiting = 0;
  const now = () => {
    if (waiting === 0) return;
    clearTimeout(waiting);
    waiting = 0;
    take(select.value);
  };
  select.addEventListener("pointerdown", () => (isByKey = false));
  select.addEventListener("keydown", ({ key }) => {
    isByKey = true;
    if (key === "Enter") now();
  });
  select.addEventListener("blur", now);
  select.addEventListener("change", () => {
    clearTimeout(waiting);
    waiting = setTimeout(now, isByKey ? kRest : 0);
  });
  return { isOpen: () => waiting !== 0 };
}

function stationItem({ from, to, said, can }) {
  const item = made("li", "", { class: "station", "data-can": keyOf(can) });
  item.append(made("span", say("desk-people-time", { from, to }), { class: "station-time" }), ` ${said}`);
  return item;
}

/** A row for the helper of that number, from 1; `onGiven(helper, key)` hears of a station, "" of none. */
function makePerson(helper, onGiven, carried) {
  const row = made("li", "", { class: "person", "data-helper": helper });
  const name = made("strong", "");
  const grip = made("span", "⠿", { class: "grip", "aria-hidden": "true" });
  const handle = made("div", "", { class: "person-handle" });
  handle.append(grip, name);
  const chosen = made("span", say("desk-people-yours"), { class: "person-yours" });
  const who = made("div", "", { class: "person-who" });
  who.append(handle, chosen);
  const does = made("ul", "", { class: "person-does" });
  const { element, input, offer } = choice("", []);
  const label = element.querySelector("label");
  row.append(who, does, element);
  const choosing = listenToChoice(input, (key) => onGiven(helper, key));
  carry(handle, { ...carried(helper), words: () => name.textContent });
  let offered = "";
  return {
    row,
    select: input,
    show(person, report) {
      name.textContent = person.who;
      label.textContent = say("desk-people-station-of", { who: person.who });
      handle.title = say("desk-people-carry", { who: person.who });
      chosen.classList.toggle("unneeded", person.can === null);
      const own = report.stations.filter((one) => one.helper === helper);
      does.replaceChildren(...own.map(stationItem));
      if (own.length === 0) does.append(made("li", say("desk-people-idle")));
      const choices = choicesFor(person, report);
      if (choosing.isOpen()) return;
      // A list that is open would close.
      if (JSON.stringify(choices) !== offered) offer(choices);
      offered = JSON.stringify(choices);
      input.value = person.can === null ? "" : keyOf(person.can);
    },
  };
}

/** The station under the pointer that may be given to `helper`: in a row with one station all of it. */
function stationAt(element, helper) {
  const row = element.closest(".person");
  if (!row || Number(row.dataset.helper) === helper) return null;
  const stations = [...row.querySelectorAll(".station")];
  const station = stations.length === 1 ? stations[0] : element.closest(".station");
  return station && station.dataset.can !== "[]" ? station : null;
}

// ---- What it costs ----

/** When the day ends if nobody is given anything, minutes; null where that cannot be planned. Asked once
    for a text. */
function makeFree(ask) {
  let known = { text: null, ends: null };
  return {
    know: (text, { makespan_min: ends }) => (known = { text, ends }),
    async ends(text, signal) {
      if (known.text === text) return known.ends;
      const { ok, json } = await ask("schedule", { body: text, signal });
      known = { text, ends: ok ? json.makespan_min : null };
      return known.ends;
    },
  };
}

function costSaid(ends, free) {
  if (free === null) return "";
  const minutes = Math.round(Math.abs(ends - free));
  if (minutes === 0) return say("desk-people-same");
  return say(ends > free ? "desk-people-later" : "desk-people-earlier", { minutes });
}

/** Each message once, and what to do once behind them. */
function shownRefusal({ json: { errors } }) {
  const list = made("ul", "");
  list.append(...[...new Set(errors.map((one) => one.message))].map((words) => made("li", words)));
  const hints = new Set(errors.map((one) => one.hint).filter(Boolean));
  return [list, ...[...hints].map((words) => made("p", words, { class: "hint" }))];
}

// ---- The place ----

/** The line below the people, always in sight while they are: what it costs, and what takes it back. */
function makeBar({ onFree, onBack }) {
  const element = made("div", "", { class: "people-bar", tabindex: "-1" });
  const words = made("div", "", { role: "status" });
  const free = button(say("desk-people-free-all"), () => (element.focus({ preventScroll: true }), onFree()));
  const back = button(say("desk-people-back"), () => (element.focus({ preventScroll: true }), onBack()));
  const buttons = made("div", "", { class: "buttons" });
  buttons.append(back, free);
  element.append(words, buttons);
  return {
    element,
    show(parts, { isGiven, mayGoBack = false, isWrong = false }) {
      const before = words.textContent;
      const said = made("div", "");
      said.append(...parts);
      // Said aloud only where it is something else.
      if (said.textContent !== before || isWrong !== element.classList.contains("wrong")) words.replaceChildren(...said.childNodes);
      element.classList.toggle("wrong", isWrong);
      free.classList.toggle("unneeded", !isGiven);
      back.hidden = !mayGoBack;
    },
  };
}

function makePeople({ ask, job, write }) {
  const part = made("div", "", { class: "people", role: "group", "aria-label": say("desk-people") });
  const lead = made("p", "", { class: "lead" });
  const list = made("ol", "", { class: "people-list" });
  const rows = new Map();
  const free = makeFree(ask);
  /** The last plan that was made, and the last choice: the text before it and after. */
  let last = null;
  let given = { before: "", after: null };

  const people = () => last?.people ?? [];
  const isGivenIn = (text) => withNobodyGiven(job, text, people()) !== text;

  async function change(to) {
    const text = await job.settled();
    const after = to(text);
    if (after === text) return;
    given = { before: text, after };
    write(after);
  }
  const give = (helper, key) => change((text) =>
    key === "" ? withFreed(job, text, people(), helper - 1) : withGiven(text, people(), helper - 1, JSON.parse(key)));
  const bar = makeBar({ onFree: () => change((text) => withNobodyGiven(job, text, people())), onBack: () => write(given.before) });

  const carried = (helper) => ({
    targetOf: (element) => stationAt(element, helper),
    onDrop: (station) => give(helper, station.dataset.can),
    onState: (isCarried) => {
      list.classList.toggle("carrying", isCarried);
      rows.get(helper).row.classList.toggle("from", isCarried);
    },
  });

  function showRows(report) {
    for (const person of report.people) {
      if (!rows.has(person.helper)) rows.set(person.helper, makePerson(person.helper, give, carried));
      rows.get(person.helper).show(person, report);
    }
    const shown = report.people.map(({ helper }) => rows.get(helper).row);
    // What stands there already stays, and the focus in it.
    if (shown.length !== list.children.length) list.replaceChildren(...shown);
  }

  part.append(lead, list, bar.element);
  return {
    part,
    work: (isWorking) => list.classList.toggle("working", isWorking),
    async show(report, signal) {
      const has = report.plan === "stations" && isWritable(job);
      lead.textContent = say(has ? "desk-people-lead" : report.plan === "stations" ? "desk-people-in-a-line" : "desk-people-any");
      for (const element of [list, bar.element]) element.hidden = !has;
      if (!has) return;
      last = report;
      list.classList.remove("stale");
      showRows(report);
      const text = job.text;
      const isGiven = report.people.some((one) => one.can !== null);
      if (!isGiven) free.know(text, report);
      const freeText = withNobodyGiven(job, text, report.people);
      if (isGiven) bar.show([say("desk-plan-working")], { isGiven });
      const cost = isGiven ? costSaid(report.makespan_min, await free.ends(freeText, signal)) : say("desk-people-nobody");
      bar.show([cost], { isGiven });
    },
    /** What is wrong about the helpers is shown with them; elsewhere the rest. */
    refused(answer) {
      const errors = answer?.json?.errors ?? [];
      if (errors.length === 0 || !errors.every((one) => one.path?.startsWith("batch.helper"))) return shownFaults(answer);
      lead.textContent = say("desk-people-lead");
      list.hidden = last === null;
      bar.element.hidden = false;
      list.classList.add("stale");
      bar.show(shownRefusal(answer), { isGiven: isGivenIn(job.text), mayGoBack: job.text === given.after, isWrong: true });
      return [];
    },
  };
}

export function schedule(desk) {
  const answers = desk.answersOf("schedule", { picture: "schedule.svg", files: ["schedule.pdf", "schedule.csv"], isPictured: true });
  const people = makePeople(desk);
  return {
    parts: [people.part, ...answers.parts],
    async show(signal) {
      people.work(true);
      const report = await answers.show(signal, [], (one) => shownReport(one.said), [], people.refused);
      people.work(false);
      if (report) await people.show(report, signal);
    },
  };
}
