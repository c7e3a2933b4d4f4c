// Makes the page that is one file: bundle.cjs PROGRAM.js FOLDER OUT NAME|LICENCE[|PARAGRAPH]...
// The program itself, in node, hands out its page, styles, scripts and pictures; they are put into the page, as are
// the program, what stands in for the connection (FOLDER) and the licences. What does not fit ends the build.

const crypto = require("crypto");
const fs = require("fs");
const path = require("path");
const zlib = require("zlib");

const [, , program, folder, out, ...licences] = process.argv;

function fail(why) {
  console.error(`bundle: ${why}`);
  process.exit(1);
}

/** `text` with `from`, which must be there, replaced. */
function replaced(text, from, to) {
  const made = text.replace(from, () => to);
  if (made === text) fail(`nothing like ${from} in the page`);
  return made;
}

/** Follows each part of the program, and hands it on (load.js). */
const kPart = "pouchwright.part()";

const own = (name) => fs.readFileSync(path.join(folder, name), "utf8");
const base64 = (bytes) => Buffer.from(bytes).toString("base64");
const sha256 = (text) => `'sha256-${crypto.createHash("sha256").update(text).digest("base64")}'`;
/** In a script element nothing may look like its end, or like a comment's beginning. */
const inScript = (text) => text.replace(/<\/(script)/gi, "<\\/$1").replace(/<!--/g, "<\\!--");
const inHtml = (text) => text.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;");

// ---- Scripts ----

/** A module's text as a function that makes what it exports: `import` becomes a question, `export` an entry. */
function wrapped(name, text) {
  const names = [];
  let body = text.replace(/^import \{([^}]*)\} from "\.\/([a-z_]+\.mjs)";$/gm, (whole, list, from) =>
    `const {${list.replace(/ as /g, ": ")}} = need("${from}");`);
  body = body.replace(/^import "\.\/([a-z_]+\.mjs)";$/gm, 'need("$1");');
  body = body.replace(/^export ((?:async )?function\*?|const|class) ([A-Za-z]+)/gm, (whole, kind, one) => (names.push(one), `${kind} ${one}`));
  body = body.replace(/\bimport\(/g, "needLater(");
  if (/^(import|export)\b/m.test(body)) fail(`${name} imports or exports in a way that this does not know`);
  return `modules["${name}"] = () => {\n${body}\nreturn { ${names.join(", ")} };\n};\n`;
}

function importsOf(text) {
  return [...text.matchAll(/^import .*"\.\/([a-z_]+\.mjs)";$/gm)].map(([, name]) => name);
}

/** Modules that need each other would each be there before the other. */
function checkNoCircle(texts) {
  const done = new Set();
  const visit = (name, above) => {
    if (above.includes(name)) fail(`modules in a circle: ${[...above, name].join(", ")}`);
    if (done.has(name)) return;
    for (const other of importsOf(texts.get(name) ?? fail(`no module ${name}`))) visit(other, [...above, name]);
    done.add(name);
  };
  for (const name of texts.keys()) visit(name, []);
}

function oneScript(texts) {
  checkNoCircle(texts);
  const head = `"use strict";
const modules = {};
const made = new Map();
function need(name) {
  if (!made.has(name)) made.set(name, modules[name]());
  return made.get(name);
}
const needLater = async (address) => need(address.replace("./", ""));
`;
  return `${head}${[...texts].map(([name, text]) => wrapped(name, text)).join("")}need("main.mjs");\n`;
}

// ---- The page ----

function askerOf(desk) {
  return (target, method = "GET", body = "") => {
    const status = desk.ccall("pouchwright_ask", "number", ["string", "string", "string", "number"],
      [method, target, body, Buffer.byteLength(body)]);
    if (status !== 200) fail(`${target}: ${status}`);
    const at = desk.ccall("pouchwright_body", "number", [], []);
    return Buffer.from(desk.HEAPU8.slice(at, at + desk.ccall("pouchwright_body_size", "number", [], [])));
  };
}

/** In elements of their own, since a browser hands on at once what is whole; each whole numbers of three bytes. */
function partsOf(bytes) {
  const size = 3 * 65536;
  const count = Math.ceil(bytes.length / size);
  return Array.from({ length: count }, (unused, at) => {
    const last = at === count - 1 ? " data-last" : "";
    return `<script type="text/plain"${last}>${base64(bytes.subarray(at * size, (at + 1) * size))}</script><script>${kPart}</script>`;
  }).join("\n");
}

/** Names of the page's modules, from the first on. */
function modulesOf(get) {
  const texts = new Map();
  const read = (name) => {
    if (texts.has(name)) return;
    const text = name === "send.mjs" ? own(name) : get(`/${name}`).toString();
    texts.set(name, text);
    for (const [, other] of text.matchAll(/"\.\/([a-z_]+\.mjs)"/g)) read(other);
  };
  read("main.mjs");
  return texts;
}

/** The paragraph of Debian's copyright file that begins so and goes on; there, a dot stands for an empty line. */
function paragraph(text, begin) {
  const found = text.split(/\n\n+/).find((one) => one.startsWith(`${begin}\n `)) ?? fail(`no paragraph ${begin}`);
  return found.split("\n").slice(1).map((line) => line.replace(/^ \.?/, "")).join("\n");
}

function licenceText() {
  return licences.map((one) => {
    const [name, file, begin] = one.split("|");
    const text = fs.readFileSync(file, "utf8");
    return `==== ${name} ====\n\n${(begin ? paragraph(text, begin) : text).trim()}\n`;
  }).join("\n\n");
}

function pageOf(get) {
  let html = get("/").toString();
  const data = JSON.parse(html.match(/<script type="application\/json" id="data">(.*?)<\/script>/s)[1]);
  const word = (key) => inHtml(data.words[key] ?? fail(`no word ${key}`));
  const picture = (target) => `data:image/svg+xml;base64,${base64(get(target))}`;

  const script = inScript(oneScript(modulesOf(get)));
  const begin = inScript(get("/begin.js").toString());
  const load = inScript(own("load.js"));
  const style = ["/desk.css", "/rooms.css"].map((one) => get(one).toString()).join("\n") + own("file.css");
  const scripts = [script, begin, load, kPart].map(sha256).join(" ");
  const policy = `default-src 'none'; script-src ${scripts} 'wasm-unsafe-eval'; worker-src blob:; `
    + `style-src ${sha256(style)}; img-src data: blob:; frame-src blob:; form-action 'none'; base-uri 'none'`;

  html = replaced(html, '<meta charset="utf-8">', `<meta charset="utf-8">\n<meta http-equiv="Content-Security-Policy" content="${policy}">`);
  html = replaced(html, 'href="/icon.svg"', `href="${picture("/icon.svg")}"`);
  html = replaced(html, '<link rel="stylesheet" href="/desk.css">\n<link rel="stylesheet" href="/rooms.css">', `<style>${style}</style>`);
  html = replaced(html, '<script type="module" src="/main.mjs"></script>\n', "");
  html = replaced(html, '<script src="/begin.js"></script>', `<script>${begin}</script>`);
  html = replaced(html, '<main>', `<p class="file-note scripted" id="starting" role="status">${word("desk-file-starting")}</p>\n<main id="main">`);
  html = replaced(html, ' action="/print" method="post"', "");
  html = replaced(html, /<noscript>.*?<\/noscript>/s, `<noscript><p>${word("desk-file-without-script")}</p></noscript>`);
  // The page is put together once, in one language; papers speak each that a job names.
  html = replaced(html, /<label class="tongue scripted">.*?<\/label>/s, "");
  html = html.replace(/ src="(\/[^"]*\.svg)"/g, (whole, target) => ` src="${picture(target)}"`);

  const wasm = zlib.gzipSync(fs.readFileSync(program.replace(/\.js$/, ".wasm")), { level: 9 });
  // The system that packed it would stand in the tenth byte.
  wasm[9] = 255;
  const drawn = data.constructions.map(({ name }) => `/picture/${name}.svg`);
  for (const [, way] of html.matchAll(/name="way" value="([a-z]+)"/g)) drawn.push(`/measure-${way}.svg`);
  const pictures = Object.fromEntries(drawn.map((target) => [target, picture(target)]));
  // The worker wants to be begun early, and the program's parts as soon as the page is there to be looked at.
  const head = [
    `<script type="text/plain" id="program-glue">${inScript(fs.readFileSync(program, "utf8"))}</script>`,
    `<script type="text/plain" id="program-worker">${inScript(own("worker.js"))}</script>`,
    `<script>${load}</script>`,
  ];
  const tail = [
    partsOf(wasm),
    `<details class="licences"><summary>${word("desk-file-licences")}</summary><pre>${inHtml(licenceText())}</pre></details>`,
    `<script type="application/json" id="pictures">${inScript(JSON.stringify(pictures))}</script>`,
    `<script type="module">${script}</script>`,
  ];
  html = replaced(html, "</head>", `${head.join("\n")}\n</head>`);
  html = replaced(html, "</body>", `${tail.join("\n")}\n</body>`);
  const left = html.match(/ (src|href|action)="(?!data:|#)[^"]*"/g);
  if (left) fail(`still asks for ${left.join(" ")}`);
  return html;
}

(async () => {
  // What stands for a browser's in some versions of node, and takes no file.
  globalThis.fetch = undefined;
  const desk = await require(path.resolve(program))();
  const get = askerOf(desk);
  if (desk.ccall("pouchwright_open", "number", [], []) !== 0) fail("the program's data are at fault");
  fs.writeFileSync(out, pageOf(get));
  console.log(`${out}: ${fs.statSync(out).size} bytes`);
})().catch((failure) => fail(failure.stack));
