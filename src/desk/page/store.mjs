// The pouches that are kept in this browser, and nowhere else: each its name, its text, and what was
// typed last and is not in the text yet.
//
//     keep(id, { name, text, changes });
//     for (const { id, name } of kept()) …
//
// A browser may refuse to keep anything (private windows, a full disk): then nothing is kept, and
// all else goes on.

const kPouch = "pouchwright.pouch.";
const kRecord = "pouchwright.record.";
const kOrder = "pouchwright.order";
const kThisTab = "pouchwright.this";
const kDay = "pouchwright.day";

/** Records that the browser would not keep: there until the page is closed. */
const unkept = new Map();

function tried(does, otherwise) {
  try {
    return does();
  } catch {
    return otherwise;
  }
}

const read = (key) => tried(() => JSON.parse(localStorage.getItem(key)), null);
const order = () => read(kOrder) ?? [];

/** The latest first. */
export function kept() {
  return order().map((id) => ({ id, ...read(kPouch + id) })).filter((one) => typeof one.text === "string");
}

export function pouchAt(id) {
  const found = read(kPouch + id);
  return typeof found?.text === "string" ? { id, ...found } : null;
}

/** False where the browser keeps nothing. */
export function keep(id, pouch) {
  return tried(() => {
    localStorage.setItem(kPouch + id, JSON.stringify(pouch));
    localStorage.setItem(kOrder, JSON.stringify([id, ...order().filter((one) => one !== id)]));
    return true;
  }, false);
}

export function forget(id) {
  unkept.delete(id);
  tried(() => {
    localStorage.setItem(kOrder, JSON.stringify(order().filter((one) => one !== id)));
    localStorage.removeItem(kPouch + id);
    localStorage.removeItem(kRecord + id);
  });
}

/** What was written down beside a pouch: the files that were opened, and the rows that were typed. */
export function recordOf(id) {
  return { files: [], rows: [], ...(unkept.get(id) ?? read(kRecord + id)) };
}

/** As it is sent; with its job it has to be less than the program takes at once. */
const kMostRecord = 900 * 1024;

/** Holds it, and keeps it if the browser does: "kept", "held" until the page is closed, or "" where it is
    too much. */
export function keepRecord(id, record) {
  const text = JSON.stringify(record);
  if (new URLSearchParams([["", text]]).toString().length > kMostRecord) return "";
  unkept.delete(id);
  const isKept = tried(() => {
    localStorage.setItem(kRecord + id, text);
    return true;
  }, false);
  if (!isKept) unkept.set(id, record);
  return isKept ? "kept" : "held";
}

/** Another file of the record of a pouch, in the place of one of that name; as above. */
export function addRecordFile(id, name, text) {
  const { files, rows } = recordOf(id);
  return keepRecord(id, { files: [...files.filter((one) => one.name !== name), { name, text }], rows });
}

/** The day of several pouches, where the browser would not keep it. */
let unkeptDay = null;

/** What the day is called, who comes, and its `pouches` in order: `id` and `count` each, as typed. */
export const keptDay = () => ({ title: "", who: {}, pouches: [], ...(unkeptDay ?? read(kDay)) });

export function keepDay(day) {
  unkeptDay = tried(() => (localStorage.setItem(kDay, JSON.stringify(day)), null), day);
}

/** One that no pouch has, nor had one of the day's, which may be brought back. */
export function newId() {
  return String(Math.max(0, ...[...order(), ...keptDay().pouches.map(({ id }) => id)].map(Number)) + 1);
}

/** The pouch that is open in this tab; a new tab begins with the latest. */
export function idOfTab() {
  return tried(() => sessionStorage.getItem(kThisTab), null) ?? order()[0] ?? null;
}

/** Was it opened in this tab, and is not only the latest? */
export const isOfTab = (id) => tried(() => sessionStorage.getItem(kThisTab), null) === id;

export function setIdOfTab(id) {
  tried(() => sessionStorage.setItem(kThisTab, id));
}
