// Papers to print or to keep.

import { download } from "./pouches.mjs";
import { fileName, made } from "./words.mjs";

const kPapers = [["packet/packet.pdf", "desk-make-packet"], ["template/template.pdf", "desk-make-template"], ["mask/mask.pdf", "desk-make-mask"],
                 ["lay/lay.pdf", "desk-make-lay"], ["supplies/supplies.pdf", "desk-make-supplies"],
                 ["schedule/schedule.pdf", "desk-make-schedule"], ["steps/steps.pdf", "desk-make-steps"],
                 ["svg.zip", "desk-make-svg"], ["template/test-page.pdf?page=test", "desk-make-test"]];

export function room({ element, ask, job, say }) {
  const told = made("p", "", { role: "status" });
  const buttons = made("div", "", { class: "buttons" });
  for (const [route, words] of kPapers) {
    const button = made("button", say(words), { type: "button", "data-make": route });
    button.addEventListener("click", async () => {
      const [, file] = /([^/?]+)(?:\?.*)?$/.exec(route);
      const name = `${fileName(job.value("title"), "pouch")}-${file}`;
      told.textContent = say("desk-making", { file: name });
      const { ok, blob } = await ask(route, { body: await job.settled() });
      if (ok) download(name, blob);
      told.textContent = say(ok ? "desk-taken" : "desk-not-taken", { file: name });
    });
    buttons.append(button);
  }
  element.append(buttons, told);
  return {
    show() {
      told.textContent = "";
    },
    hide() {},
  };
}
