// Begins the program while the rest of the file is still read: the parts of it, each in an element of its own, go to a
// worker (worker.js) as they come, and are compiled there. send.mjs takes the worker over from `pouchwright`.

globalThis.pouchwright = (() => {
  const textOf = (id) => document.getElementById(id).textContent;

  /** Where a worker's script lies: the glue, and what speaks through it. */
  const source = URL.createObjectURL(new Blob([textOf("program-glue"), "\n", textOf("program-worker")], { type: "text/javascript" }));

  function begun() {
    if (typeof WebAssembly === "undefined" || typeof DecompressionStream === "undefined") return null;
    try {
      return new Worker(source);
    } catch {
      return null;
    }
  }

  const worker = begun();
  /** Resolves to the compiled module, once the program in the worker can be asked. */
  const ready = new Promise((resolve, reject) => {
    if (!worker) return reject(new Error("no program"));
    worker.onmessage = ({ data }) => (data.failure ? reject(new Error(data.failure)) : resolve(data.module));
    worker.onerror = (event) => reject(new Error(event.message));
  });
  // Whoever takes it over says so.
  ready.catch(() => {});

  let isWhole = false;
  /** The part of the program that stands before the script that calls this; nobody needs it twice. */
  function part() {
    const element = document.currentScript.previousElementSibling;
    isWhole = "last" in element.dataset;
    worker?.postMessage({ part: element.textContent, isLast: isWhole });
    element.remove();
  }

  // A copy of the file that broke off has no script that could say more.
  document.addEventListener("DOMContentLoaded", () => {
    if (isWhole) return;
    document.getElementById("starting").textContent = JSON.parse(textOf("data")).words["desk-file-cut"];
  });

  return { source, worker, ready, part };
})();
