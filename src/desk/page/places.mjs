// What the places of the plans have in common: a command's report in words, its picture, its files, and
// a change of the job that is taken with one click.
//
//     const answers = desk.answersOf("lay", { picture: "lay.svg", files: ["lay.pdf"] });
//     await answers.show(signal, [["have", "laminate = 150 cm x 2 m"]]);

import { download } from "./pouches.mjs";
import { button, figureOf, several, shownFaults, shownReport, showPicture, withQuery } from "./reports.mjs";
import { fileName, made, say } from "./words.mjs";

/** The report with its lines in words. */
const kSaid = ["form", "said"];

/** `onTaken(words)` hears of what was taken. */
export function makeDesk(ask, job, onTaken) {
  async function keepFile(route, file, sent = []) {
    const { ok, blob } = await ask(route, { body: await job.settled(), sent });
    if (ok) download(`${fileName(job.value("title"), "pouch")}-${file}`, blob);
  }

  /** A step of its own, which undo takes back. */
  function take(pairs, words) {
    job.rest();
    job.setAll(pairs);
    job.rest();
    onTaken(words);
  }

  function write(text) {
    job.rest();
    job.write(text);
    job.rest();
  }

  /** Those that are not told of the pouch itself already. */
  function warningsOf({ warnings }) {
    const known = new Set((job.told.report?.warnings ?? []).map((one) => one.message));
    return warnings.filter((one) => !known.has(one.message)).map((one) =>
      made("p", [one.message, one.hint].filter(Boolean).join(". "), { class: "room-warning" }));
  }

  function pictureOf(about, picture) {
    if (picture === "") return null;
    const attributes = { "data-picture": picture, hidden: "", tabindex: "0", role: "group", "aria-label": say(`desk-plan-${about}`) };
    return figureOf(say(`desk-plan-${about}-alt`), attributes);
  }

  /** What the picture says already: in words for who asks for them, and left open where they were. */
  function inWords(elements, isOpen) {
    const details = made("details", "", { class: "inner in-words" });
    details.open = isOpen;
    details.append(made("summary", say("desk-plan-in-words")), ...elements);
    return details;
  }

  /** `isPictured`: the picture says the same as the words. */
  function answersOf(command, { picture = "", files = [], about = command, isPictured = false } = {}) {
    let query = [];
    let along = [];
    const told = made("div", "", { class: "told-report" });
    const figure = pictureOf(about, picture);
    const kept = made("div", "", { class: "buttons", hidden: "" });
    kept.append(...files.map((file) =>
      button(say(`desk-plan-keep-${/\w+$/.exec(file)[0]}`), () => keepFile(withQuery(`${command}/${file}`, query), file, along))));
    const parts = [...(figure ? [figure] : []), told, kept];
    const work = (isWorking) => {
      for (const part of parts) part.classList.toggle("working", isWorking);
      if (isWorking && told.children.length === 0) told.append(made("p", say("desk-plan-working")));
    };

    /** Shows what the command says of the job as it is, and of what is `sent` along; its report, or null. What
        is told of a job that it cannot take, `refused` shows. */
    async function show(signal, asks = [], shown = (report) => shownReport(report.said), sent = [], refused = shownFaults) {
      query = asks;
      along = sent;
      const routes = [withQuery(command, [...asks, kSaid]), ...(figure ? [withQuery(`${command}/${picture}`, asks)] : [])];
      work(true);
      const answers = await several(ask, routes, { body: job.text, sent, signal });
      work(false);
      const report = answers.get(routes[0]);
      const isMade = report?.ok ?? false;
      kept.hidden = !isMade;
      const isOpen = told.querySelector(".in-words")?.open ?? false;
      const words = isMade ? shown(report.json) : [];
      told.replaceChildren(...(isMade ? [...warningsOf(report.json), ...(isPictured ? [inWords(words, isOpen)] : words)] : refused(report)));
      const drawn = answers.get(routes[1]);
      if (figure) figure.hidden = !drawn?.ok;
      if (drawn?.ok) await showPicture(figure.querySelector("img"), drawn.blob);
      return isMade ? report.json : null;
    }
    /** Nothing is asked. */
    function clear() {
      told.replaceChildren();
      kept.hidden = true;
      if (figure) figure.hidden = true;
    }
    return { parts, told, show, clear };
  }

  return { ask, job, answersOf, keepFile, take, write };
}

/** The job's unit, for what is typed without one. */
export const unitOf = (job) => () => job.value("units") || "mm";

/** Parts that are shown when asked for. */
export function folded(heading, lead, parts) {
  const details = made("details", "", { class: "inner" });
  details.append(made("summary", heading), made("p", lead, { class: "lead" }), ...parts);
  return details;
}
