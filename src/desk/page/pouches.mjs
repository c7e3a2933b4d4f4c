// The pouches of this browser, the sample jobs, files and links: every way to another pouch. The one
// that is open stays among those that are kept.

import { listenToCodes, picturesOf, readPictures } from "./codes.mjs";
import { isDay } from "./day_text.mjs";
import { job } from "./job.mjs";
import { pictureOf } from "./send.mjs";
import { addRecordFile, forget, keep, kept, keepRecord, recordOf } from "./store.mjs";
import { byId, data, fileName, made, say } from "./words.mjs";

const kMostBytes = 64 * 1024;
/** A day holds several; no text that the program takes is larger. */
const kMostBytesOfDay = 256 * 1024;

export function done(text) {
  byId("done").textContent = text;
}

export function download(name, blob) {
  const link = made("a", "", { href: URL.createObjectURL(blob), download: name });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
}

function button(words, label, act) {
  const made_ = made("button", words, { type: "button", "aria-label": label });
  made_.addEventListener("click", act);
  return made_;
}

function opened(name) {
  job.enter("pouch");
  done(say("desk-opened", { file: name }));
}

/** What is deleted can be had back until the next. */
function drop(pouch, name) {
  const { id, ...all } = pouch;
  const record = recordOf(id);
  forget(id);
  showKept();
  done(`${say("desk-kept-dropped", { name })} `);
  byId("done").append(button(say("desk-kept-back"), say("desk-kept-back-label", { name }), () => (keep(id, all), keepRecord(id, record), showKept(), done(""))));
}

export function showKept() {
  const pouches = kept();
  byId("kept").replaceChildren(...pouches.map((one) => {
    const name = one.name || say("desk-no-name");
    const item = made("li", "");
    // A job may name any, also one that is not there.
    const isKnown = data.constructions.some(({ name }) => name === one.construction);
    if (isKnown) item.append(made("img", "", { src: pictureOf(one.construction), alt: "" }));
    if (one.id === job.id) {
      item.append(made("span", say("desk-kept-open", { name })));
      return item;
    }
    item.append(made("span", name),
                button(say("desk-kept-take"), say("desk-kept-take-label", { name }), () => (job.openKept(one.id), opened(name))),
                button(say("desk-kept-drop"), say("desk-kept-drop-label", { name }), () => drop(one, name)));
    return item;
  }));
}

/** Is it text? A control character other than line ends and tabs says that it is not. */
const isText = (text) => !/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffd]/.test(text);

/** Called once a record has come to the pouch that is open. */
let showRecord = () => {};
/** Called with a text that is a day of several pouches, and its file's name. */
let showDay = () => {};

async function openRecord(file) {
  if (addRecordFile(job.id, file.name, await file.text())) return showRecord();
  done(say("desk-record-too-large", { file: file.name }));
}

export async function openFile(file) {
  if (/\.csv$/i.test(file.name)) return openRecord(file);
  const text = file.size > kMostBytesOfDay ? "" : await file.text();
  if (file.size > kMostBytes && !isDay(text)) return done(say("desk-file-too-large", { file: file.name }));
  if (!isText(text)) return done(say("desk-file-no-job", { file: file.name }));
  if (isDay(text)) return showDay(text, file.name);
  job.open(text);
  opened(file.name);
}

function listenToDrops() {
  const hasFile = (event) => event.dataTransfer?.types.includes("Files");
  addEventListener("dragover", (event) => {
    if (!hasFile(event)) return;
    event.preventDefault();
    document.body.classList.add("dropping");
  });
  addEventListener("dragleave", (event) => {
    if (!event.relatedTarget) document.body.classList.remove("dropping");
  });
  addEventListener("drop", (event) => {
    if (!hasFile(event)) return;
    event.preventDefault();
    document.body.classList.remove("dropping");
    const pictures = picturesOf(event.dataTransfer);
    if (pictures.length === 0) return openFile(event.dataTransfer.files[0]);
    job.enter("pouches");
    readPictures(pictures);
  });
}

async function copyLink() {
  await job.settled();
  try {
    await navigator.clipboard.writeText(job.link());
    done(say("desk-link-copied"));
  } catch {
    done(say("desk-link-in-address"));
  }
}

async function saveFile() {
  const text = await job.settled();
  const name = `${fileName(job.value("title"), "job")}.toml`;
  download(name, new Blob([text], { type: "application/toml" }));
  done(say("desk-saved", { file: name }));
}

/** The sample jobs, each with its construction's picture. */
function showSamples() {
  for (const place of document.querySelectorAll("[data-samples]")) {
    place.replaceChildren(...(data.jobs ?? []).map((one) => {
      const card = made("button", "", { type: "button", class: "sample" });
      card.append(made("img", "", { src: pictureOf(one.construction), alt: "" }), made("span", one.title));
      card.addEventListener("click", () => (job.open(one.text), opened(one.title)));
      return card;
    }));
  }
}

export function listenToPouches(emptyJob, { onRecord, onDay }) {
  showRecord = onRecord;
  showDay = onDay;
  byId("new").addEventListener("click", () => (job.open(emptyJob), job.enter("start")));
  byId("open").addEventListener("change", ({ target }) => {
    const [file] = target.files;
    target.value = "";
    if (file) openFile(file);
  });
  byId("save").addEventListener("click", saveFile);
  byId("link").addEventListener("click", copyLink);
  listenToDrops();
  listenToCodes(opened);
  showSamples();
}
