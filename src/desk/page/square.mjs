// What the check square measured on paper: it becomes the job's at once, and the papers are drawn anew
// to suit the printer.

import { asked, box, shownFaults } from "./reports.mjs";
import { made, say } from "./words.mjs";

/** How the papers differ now, in words. */
function changeOf({ x, y }) {
  const said = (scale, way) => {
    const percent = Math.abs((scale - 1) * 100).toFixed(1).replace(/\.0$/, "");
    return percent === "0" ? "" : say(`desk-print-${scale > 1 ? "more" : "less"}-${way}`, { percent });
  };
  const parts = [said(x, "across"), said(y, "down")].filter((one) => one !== "");
  if (parts.length === 0) return say("desk-print-true");
  return say("desk-print-corrected", { change: parts.join(` ${say("desk-print-and")} `) });
}

export function checkSquare(ask, job) {
  /** Of the template of this job; 0 where there is none. */
  async function sheets(body) {
    const { ok, json } = await ask("pages/template.pdf", { body });
    return ok ? json.pages.length : 0;
  }

  // It measures 50 mm on every paper, inches or not.
  const [across, down] = ["across", "down"].map((way) => box(say(`desk-print-${way}`), { kind: "decimal", unit: () => "mm" }));
  const both = [across.input, down.input];
  const came = made("div", "", { role: "status", class: "room-status" });
  const element = made("section", "", { class: "room-part", id: "measuring", "aria-labelledby": "print-measured" });
  const form = asked(say("desk-print-measured"), [across, down], say("desk-print-take"), measured);
  for (const input of both) input.addEventListener("change", measured);
  element.append(made("h3", say("desk-print-measured"), { id: "print-measured" }),
                 made("p", say("desk-print-measured-lead"), { class: "lead" }), form, came);
  let taken = null;

  /** Taken once both are there; both empty, the printer is taken to be right. */
  async function measured() {
    const [width, height] = [across, down].map((one) => one.typed());
    if ((width === "") !== (height === "")) return;
    const typed = width === "" ? "" : `${width.replace(/ mm$/, "")} x ${height}`;
    if (typed === (taken ?? job.value("paper.printed_square"))) return;
    taken = typed;
    came.replaceChildren();
    const sheetsBefore = sheets(job.text);
    await job.setAll([["paper.printed_square", typed]]);
    const answer = await ask("template", { body: await job.settled() });
    const [before, now] = await Promise.all([sheetsBefore, answer.ok ? sheets(job.text) : 0]);
    if (taken !== typed) return;
    came.replaceChildren(...(answer.ok ? [made("p", changeOf(answer.json.documents[0].scale))] : shownFaults(answer)));
    if (before > 0 && now > before) came.append(made("p", say("desk-print-more-sheets", { before, now })));
  }

  return {
    element,
    /** As the job has it, unless somebody is typing. */
    show() {
      if (both.includes(document.activeElement)) return;
      const typed = job.value("paper.printed_square");
      if (typed === taken) return;
      taken = null;
      came.replaceChildren();
      const [, width = "", height = ""] = /^(.*?)\s*[x×]\s*(.*?)$/.exec(typed) ?? [];
      across.input.value = width.replace(/\s*mm$/, "");
      down.input.value = height.replace(/\s*mm$/, "");
      for (const one of [across, down]) one.showUnit();
    },
  };
}
