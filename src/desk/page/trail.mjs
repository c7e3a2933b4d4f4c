// The way that the job went in this tab, step by step: Back walks it, and so do undo and redo.
//
//     const trail = beginTrail(text, { room, address });
//     trail.add(text);          // a step
//     trail.change(text);       // the same step, further
//     trail.undo();             // the browser goes back, and `onStep` is called
//
// Each step is an entry of the browser's history and holds the job's text and the room. Not for what
// is kept longer than the tab (store.mjs).

const kTrail = "pouchwright.trail";
/** Browsers hold about fifty entries. */
const kMost = 45;
const kWait = 250;

function saved() {
  try {
    return JSON.parse(sessionStorage.getItem(kTrail)) ?? null;
  } catch {
    return null;
  }
}

class Trail {
  constructor(step, address, onStep) {
    this.address = address;
    this.onStep = onStep;
    const was = history.state;
    const before = saved();
    const isGoneOn = Boolean(was && before) && before.steps[was.at - before.first]?.text === was.text;
    this.steps = isGoneOn ? before.steps : [step];
    this.first = isGoneOn ? before.first : 0;
    this.at = isGoneOn ? was.at : 0;
    this.steps[this.at - this.first] = step;
    this.waiting = null;
    this.write("replaceState");
    addEventListener("pagehide", () => this.flush());
    addEventListener("popstate", (event) => this.arrive(event.state));
  }

  get step() {
    return this.steps[this.at - this.first];
  }

  /** Is it another step? */
  add(step) {
    if (step.text === this.step.text && step.room === this.step.room) return false;
    this.flush();
    this.steps = [...this.steps.slice(0, this.at - this.first + 1), step].slice(-kMost);
    this.at += 1;
    this.first = this.at - this.steps.length + 1;
    this.write("pushState");
    return true;
  }

  /** Not written at each letter: browsers refuse too many changes of the address. */
  change(step) {
    this.steps[this.at - this.first] = step;
    this.waiting ??= setTimeout(() => this.flush(), kWait);
  }

  flush() {
    if (this.waiting === null) return;
    clearTimeout(this.waiting);
    this.waiting = null;
    this.write("replaceState");
  }

  write(how) {
    try {
      history[how]({ at: this.at, ...this.step }, "", this.address(this.step.text));
      sessionStorage.setItem(kTrail, JSON.stringify({ first: this.first, steps: this.steps }));
    } catch {
      // Refused: too many changes at once, or nothing is kept here. The step stays in this.steps.
    }
  }

  /** How many entries away the job was another one; 0: nowhere. */
  away(direction) {
    for (let i = this.at + direction; ; i += direction) {
      const step = this.steps[i - this.first];
      if (!step) return 0;
      if (step.text !== this.step.text) return i - this.at;
    }
  }

  get canUndo() {
    return this.away(-1) !== 0;
  }
  get canRedo() {
    return this.away(1) !== 0;
  }
  /** The room stays. */
  go(direction) {
    const away = this.away(direction);
    if (away === 0) return;
    this.flush();
    this.stayIn = this.step.room;
    history.go(away);
  }

  arrive(state) {
    if (typeof state?.text !== "string") return;  // a link was put into the address
    this.at = state.at;
    const room = this.stayIn ?? state.room;
    this.stayIn = null;
    if (!this.step) this.steps = [{ text: state.text, room }], this.first = this.at;
    this.onStep({ text: state.text, room });
  }
}

/** `address(text)` is the address that holds the text; `onStep({ text, room })` hears of steps taken. */
export function beginTrail(step, address, onStep) {
  return new Trail(step, address, onStep);
}
