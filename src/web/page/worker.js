// The program at work beside the page, behind the glue that Emscripten makes (pouchwright.js). First it gets the
// program: in parts, as { part, isLast } in Base64, or as { module }, compiled already. Then each question comes as
// { id, target, body }, and is answered in turn.
/* global pouchwrightProgram */

let program = null;

// ---- The program ----

/** One that is unpacked and compiled while its parts come. */
function coming() {
  const packed = new DecompressionStream("gzip");
  const answer = new Response(packed.readable, { headers: { "Content-Type": "application/wasm" } });
  WebAssembly.compileStreaming(answer).then(opened).catch(failed);
  return packed.writable.getWriter();
}

let packed = null;
function take({ part, isLast }) {
  packed ??= coming();
  const letters = atob(part);
  const bytes = new Uint8Array(letters.length);
  for (let i = 0; i < letters.length; ++i) bytes[i] = letters.charCodeAt(i);
  // What is wrong with them, the compiler tells.
  packed.write(bytes).catch(() => {});
  if (isLast) packed.close().catch(() => {});
}

const call = (name, kind, kinds = [], values = []) => program.ccall(`pouchwright_${name}`, kind, kinds, values);

async function opened(module) {
  program = await pouchwrightProgram({
    instantiateWasm(imports, done) {
      WebAssembly.instantiate(module, imports).then((instance) => done(instance, module)).catch(failed);
      return {};
    },
  });
  if (call("open", "number") !== 0) throw new Error(new TextDecoder().decode(body()));
  postMessage({ isReady: true, module });
}

// ---- Questions ----

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

/** Whoever asked begins the program anew. */
function failed(failure) {
  postMessage({ failure: String(failure) });
}

onmessage = ({ data }) => {
  try {
    if ("part" in data) take(data);
    else if (data.module) opened(data.module).catch(failed);
    else answer(data);
  } catch (failure) {
    failed(failure);
  }
};
