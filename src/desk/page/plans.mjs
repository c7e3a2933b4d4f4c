// Cutting, buying, working: the plans of the group.

import { made } from "./words.mjs";

export function room({ element, ask, job, say }) {
  const image = made("img", "", { alt: say("desk-picture-lay-alt") });
  element.append(image);
  return {
    async show() {
      const { ok, blob } = await ask("lay/lay.svg", { body: job.text });
      if (!ok) return;
      URL.revokeObjectURL(image.src);
      image.src = URL.createObjectURL(blob);
    },
    hide() {},
  };
}
