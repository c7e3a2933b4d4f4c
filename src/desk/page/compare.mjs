// Two pouches side by side: A is kept as it is, B is the one that goes on changing. What differs is
// marked, and either can be taken.

import { button, figureOf, notYet, numbersOf, oneAtATime, showPicture, table } from "./reports.mjs";
import { made } from "./words.mjs";

const kKept = "pouchwright.compare";

/** Over a reload; a browser that keeps nothing forgets it. */
function keptText() {
  try {
    return sessionStorage.getItem(kKept);
  } catch {
    return null;
  }
}

function keep(text) {
  try {
    if (text === null) sessionStorage.removeItem(kKept);
    else sessionStorage.setItem(kKept, text);
  } catch {
    // It lasts as long as the page.
  }
}

export function room({ element, ask, job, say }) {
  const asking = oneAtATime();
  let text = keptText();
  /** What the program said of A. */
  let first = null;

  const spoken = made("p", "", { role: "status", class: "room-status" });
  const begin = button(say("desk-compare-keep"), () => keepAsA(), { class: "main" });
  const start = made("div", "", { class: "compare-start" });
  const toDo = made("ol", "", { class: "compare-steps" });
  toDo.append(...["keep", "change", "back"].map((one) => made("li", say(`desk-compare-do-${one}`))));
  const now = sideOf("a");
  const later = made("p", say("desk-compare-later"), { class: "compare-later" });
  const first_ = made("div", "", { class: "compare-pictures" });
  first_.append(now.figure, later);
  start.append(toDo, begin, first_);

  const sides = { a: sideOf("a"), b: sideOf("b") };
  const pictures = made("div", "", { class: "compare-pictures" });
  pictures.append(sides.a.figure, sides.b.figure);
  const numbers = made("div", "");
  const only = made("p", "", { class: "compare-differences" });
  const change = button(say("desk-compare-change"), () => job.enter("pouch"), { class: "main" });
  const takeA = button(say("desk-compare-take-a"), () => take(text, "desk-compare-taken-a"));
  const takeB = button(say("desk-compare-take-b"), () => take(null, "desk-compare-taken-b"));
  const again = button(say("desk-compare-again"), () => keepAsA());
  const swap = button(say("desk-compare-swap"), () => swapped());
  const buttons = made("div", "", { class: "buttons", role: "group", "aria-label": say("desk-compare-choose") });
  buttons.append(change, takeA, takeB, swap, again);
  const both = made("div", "", { class: "compare" });
  both.append(only, pictures, numbers, buttons);
  const waiting = notYet();
  element.append(waiting.element, start, spoken, both);

  function sideOf(name) {
    const figure = figureOf("", { "data-side": name });
    const caption = made("figcaption", "");
    const title = made("span", "");
    caption.append(made("strong", say(`desk-compare-${name}`)), title);
    figure.prepend(caption);
    return { figure, title, image: figure.querySelector("img") };
  }

  function keepAsA() {
    text = job.text;
    keep(text);
    first = { told: job.told, picture: job.parts.get("pouch") };
    spoken.textContent = say("desk-compare-kept");
    show();
  }

  /** A's text becomes the job, as one step that can be undone; B's is the job already. */
  function take(to, words) {
    text = null;
    first = null;
    keep(null);
    spoken.textContent = say(words);
    if (to !== null && to !== job.text) {
      job.rest();
      job.write(to);
      job.rest();
    }
    show();
  }

  function swapped() {
    const mine = text;
    keepAsA();
    job.rest();
    job.write(mine);
    job.rest();
    spoken.textContent = say("desk-compare-swapped");
  }

  /** Name -> what A and B have there, in A's order. */
  function rowsOf(a, b) {
    const of = new Map(b);
    const rows = a.map(([name, value]) => [name, value, of.get(name) ?? "–"]);
    const known = new Set(a.map(([name]) => name));
    return [...rows, ...b.filter(([name]) => !known.has(name)).map(([name, value]) => [name, "–", value])];
  }

  function showNumbers(a, b) {
    const rows = rowsOf(numbersOf(a), numbersOf(b));
    const element_ = table([say("desk-compare-what"), say("desk-compare-a"), say("desk-compare-b"), say("desk-compare-differs")],
                           rows.map(([name, one, other]) => [name, one, other, one === other ? "" : say("desk-compare-other")]));
    element_.classList.add("narrow");
    [...element_.tBodies[0].rows].forEach((row, index) => row.classList.toggle("differs", rows[index][1] !== rows[index][2]));
    numbers.replaceChildren(element_);
    const count = rows.filter(([, one, other]) => one !== other).length;
    const words = count === 0 ? say("desk-compare-same") : say(count === 1 ? "desk-compare-one" : "desk-compare-many", { count });
    if (only.textContent !== words) only.textContent = words;
  }

  async function showSide(side, told, picture) {
    side.title.textContent = told.values?.title?.typed ?? "";
    side.image.alt = told.pouch?.alt ?? say("desk-compare-alt");
    if (picture) await showPicture(side.image, picture);
  }

  const show = () => asking.begin(async (signal) => {
    const isBegun = text !== null;
    waiting.show(job.ok || isBegun);
    start.hidden = isBegun;
    both.hidden = !isBegun;
    begin.disabled = !job.ok;
    if (!isBegun) return job.told.numbers ? showSide(now, job.told, job.parts.get("pouch")) : undefined;
    if (!first) {
      const { ok, json, parts } = await ask("edit", { body: text, signal });
      if (!ok) return take(null, "desk-compare-gone");
      first = { told: json, picture: parts.get("pouch") };
    }
    both.classList.toggle("stale", !job.ok);
    again.disabled = !job.ok;
    if (!job.told.numbers) return;
    showNumbers(first.told, job.told);
    await Promise.all([showSide(sides.a, first.told, first.picture), showSide(sides.b, job.told, job.parts.get("pouch"))]);
  });

  return { show, hide: () => asking.stop() };
}
