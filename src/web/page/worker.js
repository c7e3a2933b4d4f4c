// The program at work beside the page, behind the glue that Emscripten makes (pouchwright.js). First it
// gets the compiled module; then each question as { id, target, body }, and answers it in turn.
/* global pouchwrightProgram */

let program = null;

const call = (name, kind, kinds = [], values = []) => program.ccall(`pouchwright_${name}`, kind, kinds, values);

async function opened(module) {
  program = await pouchwrightProgram({
    instantiateWasm(imports, done) {
      WebAssembly.instantiate(module, imports).then((instance) => done(instance, module));
      return {};
    },
  });
  if (call("open", "number") !== 0) throw new Error(new TextDecoder().decode(body()));
}

function body() {
  const at = call("body", "number");
  return program.HEAPU8.slice(at, at + call("body_size", "number"));
}

function answer({ id, target, body: sent }) {
  const bytes = new TextEncoder().encode(sent);
  const at = program._malloc(bytes.length + 1);
  program.HEAPU8.set(bytes, at);
  try {
    const status = call("ask", "number", ["string", "string", "number", "number"], ["POST", target, at, bytes.length]);
    const made = body();
    postMessage({ id, status, type: call("type", "string"), body: made }, [made.buffer]);
  } finally {
    program._free(at);
  }
}

onmessage = async ({ data }) => {
  try {
    if (!program) {
      await opened(data.module);
      postMessage({ isReady: true });
    } else {
      answer(data);
    }
  } catch (failure) {
    // Whoever asked begins the program anew.
    postMessage({ failure: String(failure) });
  }
};
