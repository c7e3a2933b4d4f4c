// A pouch from the last page of its packet: pictures of it that are chosen, dropped or pasted, the
// camera, or what a telephone read there. Pictures are read by the browser's own detector; where it has
// none, that is said, and a telephone's text is as good.

import { collected } from "./carried.mjs";
import { job } from "./job.mjs";
import { byId, say } from "./words.mjs";

/** Between two looks of the camera, in milliseconds. */
const kLook = 200;

let pages = collected();
let camera = null;
let opened = () => {};

const detector = () => ("BarcodeDetector" in globalThis ? new BarcodeDetector({ formats: ["qr_code"] }) : null);

function tell(words) {
  byId("codes-status").textContent = words;
}

/** True where the job is whole, and open. */
async function take(text) {
  const told = await pages.take(text);
  if (told.isNone) tell(say("desk-codes-no-job"));
  else if (!told.text) tell(say("desk-codes-more", { have: told.have, count: told.of }));
  if (!told.text) return false;
  pages = collected();
  tell("");
  job.open(told.text);
  opened(say("desk-codes-name"));
  return true;
}

/** All that is read in a picture is taken, until the job is whole. */
async function takeAll(found) {
  for (const { rawValue } of found) if (await take(rawValue)) return true;
  return false;
}

export async function readPictures(files) {
  const reader = detector();
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
  look(detector(), video);
}

// ---- The page ----

const isPicture = (file) => file.type.startsWith("image/");
export const picturesOf = (transfer) => [...(transfer?.files ?? [])].filter(isPicture);

function listenToText() {
  const box = byId("codes-text");
  box.addEventListener("input", async () => {
    const text = box.value;
    if (text.trim() === "") return;
    await take(text);
    // What is read makes room for the next part.
    if (byId("codes-status").textContent !== say("desk-codes-no-job") && box.value === text) box.value = "";
  });
}

/** `whenOpen(name)` is called when a pouch was read and is open. */
export function listenToCodes(whenOpen) {
  opened = whenOpen;
  const canRead = detector() !== null;
  byId("codes-tools").hidden = !canRead;
  byId("codes-none").hidden = canRead;
  byId("codes-camera").hidden = !canRead || !navigator.mediaDevices?.getUserMedia;
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
