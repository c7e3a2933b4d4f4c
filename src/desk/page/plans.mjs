// What the group does with the pouch: how its cloth is cut, what is bought, who does what; several
// sizes, less cloth, another way to fold. A place for every command: it works nothing out, and shows
// what the program says.
//
// A place is closed until it is opened, and asks only while it is open.

import { lay, quick, supplies } from "./cloth.mjs";
import { schedule } from "./people.mjs";
import { makeDesk } from "./places.mjs";
import { record } from "./records.mjs";
import { notYet, oncePerText, shownFaults } from "./reports.mjs";
import { constructions, range, savings, size } from "./sizes.mjs";
import { data, made } from "./words.mjs";

/** A command without a place of its own: what it tells. */
const plain = (command) => ({ answersOf }) => {
  const answers = answersOf(command);
  return { parts: answers.parts, show: (signal) => answers.show(signal) };
};

/** Commands whose place is the pouch itself, or printing. */
const kElsewhere = new Set(["check", "template", "mask", "steps", "packet"]);

/** Each makes its parts once, and shows the job in them; `again` is called where something else is asked. */
const kPlaces = { lay, supplies, schedule, record, range, savings, constructions, size, quick };
const more = data.commands.filter((name) => !(name in kPlaces) && !kElsewhere.has(name)).map((name) => [name, plain(name)]);

function placed(name, makes, desk, say) {
  const details = made("details", "", { class: "group place", "data-place": name });
  const summary = made("summary", "");
  summary.append(made("h3", say(`desk-plan-${name}`)), made("span", say(`desk-plan-${name}-about`), { class: "lead" }));
  const asking = oncePerText((signal) => show(signal));
  // What the program has not answered yet is waited for.
  const look = () => {
    const { job } = desk;
    if (details.open && (isOfNoJob || (job.ok && job.text === job.told.job))) asking.show(isOfNoJob ? "" : job.text);
  };
  const again = () => asking.again(isOfNoJob ? "" : desk.job.text);
  const { parts, show, isOfNoJob = false } = makes(desk, again);
  details.append(summary, ...parts);
  details.addEventListener("toggle", look);
  return { name, details, look, again, isOfNoJob, stop: asking.stop };
}

export function room({ element, ask, job, say }) {
  const taken = made("p", "", { role: "status", class: "room-status" });
  const desk = makeDesk(ask, job, (change) => (taken.textContent = say("desk-plan-taken", { change })));
  const places = [...Object.entries(kPlaces), ...more].map(([name, makes]) => placed(name, makes, desk, say));
  const waiting = notYet();
  // What is typed here may be what is wrong.
  const wrong = made("div", "", { role: "status" });
  places[0].details.open = true;
  element.append(made("p", say("desk-plan-lead"), { class: "lead" }), waiting.element, taken, wrong, ...places.map((one) => one.details));
  return {
    show(told, { ok } = { ok: true }) {
      waiting.show(ok);
      wrong.replaceChildren(...(ok || !waiting.element.hidden ? [] : shownFaults({ json: told.report })));
      for (const place of places) {
        place.details.classList.toggle("stale", !ok && !place.isOfNoJob);
        place.look();
      }
    },
    /** One place, with what is new in it. */
    goTo(name) {
      const place = places.find((one) => one.name === name);
      place.details.open = true;
      place.details.scrollIntoView();
      place.again();
    },
    hide() {
      for (const place of places) place.stop();
      taken.textContent = "";
    },
  };
}
