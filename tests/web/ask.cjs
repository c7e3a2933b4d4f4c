// Asks the program of the page in one file, in node: ask.cjs PROGRAM.js FOLDER.
// FOLDER/asked.json lists { method, target, body } with the name of a file in FOLDER that holds the body; the
// answer to the n-th goes to FOLDER/n.answer: a line with status and type, and the body.
const { readFileSync, writeFileSync } = require("node:fs");
const path = require("node:path");

const [, , program, folder] = process.argv;
const at = (name) => path.join(folder, name);

(async () => {
  // What stands for a browser's in node, and takes no file.
  globalThis.fetch = undefined;
  const desk = await require(path.resolve(program))();
  const call = (name, kind, kinds = [], values = []) => desk.ccall(`pouchwright_${name}`, kind, kinds, values);
  if (call("open", "number") !== 0) throw new Error("the program's data are at fault");
  for (const [number, { method, target, body }] of JSON.parse(readFileSync(at("asked.json"), "utf8")).entries()) {
    const sent = body ? readFileSync(at(body)) : Buffer.alloc(0);
    const place = desk._malloc(sent.length + 1);
    desk.HEAPU8.set(sent, place);
    const status = call("ask", "number", ["string", "string", "number", "number"], [method, target, place, sent.length]);
    desk._free(place);
    const begin = call("body", "number");
    const bytes = desk.HEAPU8.slice(begin, begin + call("body_size", "number"));
    writeFileSync(at(`${number}.answer`), Buffer.concat([Buffer.from(`${status} ${call("type", "string")}\n`), bytes]));
  }
})().catch((failure) => (console.error(failure), process.exit(1)));
