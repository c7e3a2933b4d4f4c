// Makes of the page that is one file a folder for a web host: site.cjs PAGE.html FOLDER OUT ICON-WIDTH.png...
// There the page can be kept by the browser as an app, and opens without a network: it names a manifest and has a
// service worker (offline.js, keep.js in FOLDER). The page itself is the same otherwise, under the same name.

const crypto = require("crypto");
const fs = require("fs");
const path = require("path");

const [, , page, folder, out, ...icons] = process.argv;

function fail(why) {
  console.error(`site: ${why}`);
  process.exit(1);
}

/** `text` with `from`, which must be there once, replaced. */
function replaced(text, from, to) {
  if (text.split(from).length !== 2) fail(`not once in the page: ${from}`);
  return text.replace(from, () => to);
}

const sha256 = (bytes) => crypto.createHash("sha256").update(bytes).digest();
const own = (name) => fs.readFileSync(path.join(folder, name), "utf8");

/** The page, with what a browser may ask of its host: the manifest and the service worker, and nothing else. */
function servedPage(html) {
  const keep = own("keep.js");
  html = replaced(html, " 'wasm-unsafe-eval'; worker-src blob:;",
    ` 'sha256-${sha256(keep).toString("base64")}' 'wasm-unsafe-eval'; worker-src blob: 'self'; manifest-src 'self';`);
  // What the browser shows the app by is a picture of the page's, too.
  html = replaced(html, "img-src data: blob:;", "img-src data: blob: 'self';");
  return replaced(html, "</head>\n", `<link rel="manifest" href="pouchwright.webmanifest">\n<script>${keep}</script>\n</head>\n`);
}

function manifestOf(html) {
  const [, name] = html.match(/<title>([^<&]*)<\/title>/) ?? fail("no title");
  const [, ground] = html.match(/--ground: (#[0-9a-f]{6});/) ?? fail("no ground");
  const [, language] = html.match(/<html lang="([^"]*)"/) ?? fail("no language");
  return `${JSON.stringify({
    name, short_name: "pouchwright", lang: language, id: "pouchwright.html", start_url: "pouchwright.html", scope: "./",
    display: "standalone", background_color: ground, theme_color: ground,
    icons: icons.map((icon) => {
      const width = icon.match(/-(\d+)\.png$/)?.[1] ?? fail(`no width in the name of ${icon}`);
      return { src: path.basename(icon), type: "image/png", sizes: `${width}x${width}` };
    }),
  }, null, 2)}\n`;
}

const html = servedPage(fs.readFileSync(page, "utf8"));
const files = { "pouchwright.html": html, "pouchwright.webmanifest": manifestOf(html) };
for (const icon of icons) files[path.basename(icon)] = fs.readFileSync(icon);
// By its contents, so that browsers see a new one at once, and a host that lays the same again changes nothing.
const version = sha256(Object.entries(files).map(([name, bytes]) => `${name} ${sha256(bytes).toString("hex")}\n`).join("")).toString("hex").slice(0, 16);
files["offline.js"] = replaced(replaced(own("offline.js"), "VERSION", version), '["FILES"]', JSON.stringify(Object.keys(files)));
fs.rmSync(out, { recursive: true, force: true });
fs.mkdirSync(out, { recursive: true });
for (const [name, bytes] of Object.entries(files)) fs.writeFileSync(path.join(out, name), bytes);
