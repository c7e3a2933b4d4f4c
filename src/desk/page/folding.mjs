// Watch it fold: the steps, each its picture and its words.

export function room({ element, ask, job, say }) {
  const list = document.createElement("ol");
  element.append(list);
  let asking = new AbortController();
  return {
    async show() {
      asking.abort();
      asking = new AbortController();
      const { ok, json } = await ask("steps", { body: job.text, signal: asking.signal }).catch(() => ({}));
      if (!ok) return;
      list.replaceChildren(...json.steps.map((step) => Object.assign(document.createElement("li"), { textContent: step.words })));
    },
    hide() {
      asking.abort();
    },
  };
}
