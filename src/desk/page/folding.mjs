// Watch it fold: the steps one after another, each moving as the folded panel does; the same views as
// on paper, and the same words.
//
// A place on the way is a number: 3 is the fourth step at its beginning, 3.5 half done. The frames of
// a step come in one request when it is looked at, those of the next while it moves, and all are kept
// until the job changes. Who asked for little movement sees whole steps only.

import { button, notYet, oncePerText, several, shownFaults } from "./reports.mjs";
import { made } from "./words.mjs";

const kFrames = 8;
/** How long a movement takes, and how long a step without one is looked at. */
const kMoving = 1600;
const kResting = 1400;

const frameRoute = (number, share) => `folding/${number}.svg?at=${share}`;
/** The shares of a step's frames; the last is the step done. */
const sharesOf = (step) => (step.moves ? Array.from({ length: kFrames + 1 }, (_, at) => at / kFrames) : [1]);

/** What is done, and how. */
function emphasized(words) {
  const end = words.indexOf(". ") + 1;
  return end === 0 ? [words] : [made("strong", words.slice(0, end)), words.slice(end)];
}

/** The frames of one job: step -> a picture for each of its shares. */
class Frames {
  constructor(ask, body, steps) {
    Object.assign(this, { ask, body, steps, all: new Map(), signal: new AbortController() });
  }

  /** Resolves to the pictures of a step; asked for once. */
  of(index) {
    if (!this.all.has(index)) this.all.set(index, this.asked(index));
    return this.all.get(index);
  }

  async asked(index) {
    const step = this.steps[index];
    const routes = sharesOf(step).map((share) => frameRoute(step.number, share));
    const answers = await several(this.ask, routes, { body: this.body, signal: this.signal.signal });
    return Promise.all(routes.map(async (route) => {
      const image = new Image();
      image.src = URL.createObjectURL(answers.get(route)?.blob ?? new Blob([]));
      await image.decode().catch(() => {});
      return image.src;
    }));
  }

  async forget() {
    this.signal.abort();
    for (const asked of this.all.values()) {
      for (const address of await asked.catch(() => [])) URL.revokeObjectURL(address);
    }
  }
}

export function room({ element, ask, job, say }) {
  const calm = matchMedia("(prefers-reduced-motion: reduce)");
  const asking = oncePerText(take);
  let frames = null;
  let steps = [];
  let at = 0;
  let playing = 0;  // the animation frame that was asked for; 0: it stands still

  // ---- What is there ----

  const image = made("img", "", { alt: "", class: "drawing" });
  const stage = made("div", "", { class: "folding-stage" });
  stage.append(image);
  const number = made("p", "", { class: "folding-number" });
  const words = made("p", "", { class: "folding-words" });
  const said = made("div", "", { class: "folding-said", role: "status" });
  said.append(number, words);
  const slider = made("input", "", { type: "range", min: "0", "aria-label": say("desk-fold-slider") });
  const back = button(say("desk-fold-back"), () => go(Math.ceil(at) - 1));
  const play = button(say("desk-fold-play"), () => (playing ? pause() : begin()), { class: "main" });
  const on = button(say("desk-fold-on"), () => go(Math.floor(at) + 1));
  const controls = made("div", "", { class: "folding-controls", role: "group", "aria-label": say("desk-fold-controls") });
  controls.append(back, play, on);
  const list = made("ol", "", { class: "folding-list" });
  const all = made("details", "", { class: "group" });
  all.append(made("summary", say("desk-fold-all")), list);
  const faults = made("div", "");
  const view = made("div", "", { class: "folding", hidden: "" });
  const waiting = notYet();
  view.append(stage, said, slider, controls, all);
  element.append(made("p", say("desk-fold-about"), { class: "lead" }), waiting.element, faults, view);

  // ---- Where it is ----

  const last = () => steps.length;
  /** The step that is under way, and how much of it is done; what is done is shown as done. */
  function placeOf(place) {
    const index = Math.max(0, Math.min(steps.length - 1, Math.ceil(place) - 1));
    return { index, share: place <= 0 ? 0 : place - index };
  }

  async function show(place) {
    at = Math.max(0, Math.min(last(), place));
    const { index, share } = placeOf(at);
    const step = steps[index];
    slider.value = String(at);
    slider.setAttribute("aria-valuetext", say("desk-fold-at", { number: step.number, count: steps.length, words: step.words }));
    if (number.dataset.step !== String(step.number)) {
      number.dataset.step = step.number;
      number.textContent = say("desk-fold-number", { number: step.number, count: steps.length });
      words.replaceChildren(...emphasized(step.words));
    }
    back.disabled = at <= 0;
    on.disabled = at >= last();
    const mine = frames;
    stage.dataset.state = mine.all.has(index) ? "" : "working";
    const pictures = await mine.of(index);
    if (mine !== frames || placeOf(at).index !== index) return;
    stage.dataset.state = "";
    image.src = pictures[Math.min(pictures.length - 1, Math.round(placeOf(at).share * (pictures.length - 1)))];
    image.alt = say("desk-fold-alt", { number: step.number, words: step.words });
  }

  const quietly = (promise) => promise.catch((failure) => {
    if (failure.name !== "AbortError") throw failure;
  });

  function go(place) {
    pause();
    quietly(show(place));
  }

  // ---- Moving ----

  function pause() {
    cancelAnimationFrame(playing);
    playing = 0;
    play.textContent = say("desk-fold-play");
  }

  /** From the beginning, if it is at the end. */
  async function begin() {
    if (at >= last()) await quietly(show(0));
    play.textContent = say("desk-fold-pause");
    let before = null;
    const move = async (time) => {
      const { index } = placeOf(at + 1e-6);
      await quietly(frames.of(index));
      if (index + 1 < steps.length) quietly(frames.of(index + 1));
      if (!playing) return;
      const passed = before === null ? 0 : Math.min(time - before, 100);
      before = time;
      // A step that is done rests before the next begins.
      const next = Math.min(index + 1, at + passed / (steps[index].moves ? kMoving : kResting));
      await quietly(show(next));
      if (!playing) return;
      if (next >= last()) return pause();
      if (next === index + 1 && steps[index].moves) await new Promise((rest) => setTimeout(rest, kResting / 2));
      if (playing) playing = requestAnimationFrame(move);
    };
    playing = requestAnimationFrame(move);
  }

  function settle() {
    play.hidden = calm.matches;
    slider.step = calm.matches ? "1" : String(1 / kFrames);
    if (calm.matches) {
      pause();
      if (steps.length > 0) quietly(show(Math.round(at)));
    }
  }
  calm.addEventListener("change", settle);
  slider.addEventListener("input", () => go(Number(slider.value)));
  document.addEventListener("visibilitychange", () => document.hidden && pause());

  // ---- Another job ----

  async function take(signal, body) {
    const answer = await ask("folding", { body, signal });
    faults.replaceChildren(...(answer.ok ? [] : shownFaults(answer)));
    if (!answer.ok) return;
    view.hidden = false;
    frames?.forget();
    const { moves } = answer.json;
    steps = answer.json.steps.map(({ words: of }, index) => ({ number: index + 1, words: of, moves: moves[index] }));
    frames = new Frames(ask, body, steps);
    delete number.dataset.step;
    const { width, height } = answer.json.extent;
    // The room that the picture needs, before it is there.
    image.width = Math.round(4 * width);
    image.height = Math.round(4 * height);
    slider.max = String(steps.length);
    list.replaceChildren(...steps.map((step, index) => {
      const item = made("li", "");
      item.append(button(step.words, () => go(index + 1), { class: "folding-step" }));
      return item;
    }));
    await show(Math.min(at, steps.length));
  }

  settle();
  return {
    show(told, { ok } = { ok: true }) {
      waiting.show(ok);
      stage.classList.toggle("stale", !ok);
      if (!ok) return;
      if (job.text !== frames?.body) pause();
      asking.show(job.text);
    },
    hide() {
      pause();
      asking.stop();
    },
  };
}
