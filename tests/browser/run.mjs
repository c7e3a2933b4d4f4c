// Runs one test file, or leaves with 77 where there is no browser: the runner itself knows no such
// code.
//
//     node tests/browser/run.mjs journey.test.mjs

import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { browserProgram } from "./support.mjs";

const here = (name) => fileURLToPath(new URL(name, import.meta.url));

function whyNot() {
  if (!browserProgram()) return "chromium is not installed";
  if (!existsSync(here("node_modules/playwright-core"))) return "npm ci was not run in tests/browser";
  return "";
}

const why = whyNot();
if (why) {
  console.log(`skipped: ${why}`);
  process.exit(77);
}
const [, , file] = process.argv;
// The commands that the page is compared with speak as it does: as the browser's country, and the page in one file as
// it was put together.
const language = process.env.POUCHWRIGHT_PAGE ? "C.UTF-8" : "en_GB.UTF-8";
const done = spawnSync(process.execPath, ["--test", "--test-timeout=600000", here(file)],
  { stdio: "inherit", env: { ...process.env, LC_ALL: language } });
process.exit(done.status ?? 1);
