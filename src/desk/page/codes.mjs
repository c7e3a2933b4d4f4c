// A pouch from the last page of its packet: pictures of it that are chosen, dropped or pasted, the
// camera, or what a telephone read there. Pictures are read by the browser's own detector; where it has
// none, that is said, and a telephone's text is as good.

import { collected } from "./carried.mjs";
import { job } from "./job.mjs";
import { byId, say } from "./words.mjs";

/** Between two looks of the camera, in milliseconds. */
const kLook = 200;
/** After the last key, before what was typed is read. */
const kRest = 600;

let pages = collected();
let camera = null;
let opened = () => {};

/** The browser's own, or null: some have it by name and can read nothing. */
const reading = (async () => {
  try {
    const formats = await BarcodeDetector.getSupportedFormats?.();
    return formats && !formats.includes("qr_code") ? null : new BarcodeDetector({ formats: ["qr_code"] });
  } catch {
    return null;
  }
})();

function tell(words) {
  byId("codes-status").textContent = words;
}

/** A job that is whole is opened. */
async function take(text) {
  const told = await pages.take(text);
  if (told.isNone) tell(say("desk-codes-no-job"));
  else if (!told.text) tell(say("desk-codes-more", { have: told.have, count: told.of }));
  if (!told.text) return told;
  pages = collected();
  tell("");
  job.open(told.text);
  opened(say("desk-codes-name"));
  return told;
}

/** All that is read in a picture is taken, until the job is whole. */
async function takeAll(found) {
  for (const { rawValue } of found) if ((await take(rawValue)).text) return true;
  return false;
}

export async function readPictures(files) {
  const reader = await reading;
  if (!reader) return tell(say("desk-codes-none"));
  for (const file of files) {
    let found = null;
    try {
      found = await reader.detect(await createImageBitmap(file));
    } catch {
      tell(say("desk-codes-no-picture", { file: file.name }));
      return;
    }
    if (found.length === 0) tell(say("desk-codes-nothing", { file: file.name }));
    if (await takeAll(found)) return;
  }
}

// ---- The camera ----

function stop() {
  for (const track of camera?.getTracks() ?? []) track.stop();
  camera = null;
  byId("codes-video").hidden = true;
  byId("codes-camera").textContent = say("desk-codes-camera");
}

async function look(reader, video) {
  while (camera) {
    const found = video.readyState >= HTMLMediaElement.HAVE_CURRENT_DATA ? await reader.detect(video).catch(() => []) : [];
    if (camera && (await takeAll(found))) return stop();
    await new Promise((done) => setTimeout(done, kLook));
  }
}

async function begin() {
  if (camera) return stop();
  try {
    camera = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
  } catch {
    return tell(say("desk-codes-no-camera"));
  }
  const video = byId("codes-video");
  video.srcObject = camera;
  video.hidden = false;
  byId("codes-camera").textContent = say("desk-codes-stop");
  tell(say("desk-codes-look"));
  await video.play().catch(() => {});
  look(await reading, video);
}

// ---- The page ----

const isPicture = (file) => file.type.startsWith("image/");
export const picturesOf = (transfer) => [...(transfer?.files ?? [])].filter(isPicture);

function listenToText() {
  const box = byId("codes-text");
  let rest = 0;
  box.addEventListener("input", () => {
    clearTimeout(rest);
    rest = setTimeout(async () => {
      const text = box.value;
      if (text.trim() === "") return tell("");
      const { isNone } = await take(text);
      // What is read makes room for the next part.
      if (!isNone && box.value === text) box.value = "";
    }, kRest);
  });
}

/** `whenOpen(name)` is called when a pouch was read and is open. */
export function listenToCodes(whenOpen) {
  opened = whenOpen;
  reading.then((reader) => {
    byId("codes-tools").hidden = !reader;
    byId("codes-none").hidden = reader !== null;
    byId("codes-camera").hidden = !navigator.mediaDevices?.getUserMedia;
  });
  byId("codes-pictures").addEventListener("change", async ({ target }) => {
    const files = [...target.files];
    await readPictures(files);
    target.value = "";
  });
  byId("codes-camera").addEventListener("click", begin);
  addEventListener("paste", (event) => {
    const files = picturesOf(event.clipboardData);
    if (files.length === 0) return;
    event.preventDefault();
    job.enter("pouches");
    readPictures(files);
  });
  job.onRoom((name) => name !== "pouches" && camera && stop());
  listenToText();
}
