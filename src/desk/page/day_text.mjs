// A day of several pouches as a text, which the program takes in a job's place: the job of each pouch, how
// many of it are made, and who comes. And such a text read back.
//
//     const text = writtenDay({ title, who: { helpers: "3" }, makes: [{ name, count: "20", text: job }] });
//     const { makes } = dayOf(text);
//
// Not for a day that names its jobs by their files: this page reads no files by their names.

/** What a day says of the people and the room, by the program's names. */
export const kWho = ["helpers", "machines", "overedge_machines", "irons"];

// ---- To text ----

const coded = (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, "0")}`;
const kEscapes = new Map([["\\", "\\\\"], ['"', '\\"'], ['"""', '""\\"']]);
const escaped = (text, special) => text.replace(special, (part) => kEscapes.get(part) ?? coded(part));

/** TOML 1.0, basic strings: no quote, no backslash and no control character but a tab stands as it is. */
const quoted = (text) => `"${escaped(text, /[\\"\u0000-\u0008\u000a-\u001f\u007f]/g)}"`;
/** The same over several lines: these may stand, and so may quotes, but for three and one at the end. */
const quotedLines = (text) => `"""\n${escaped(text, /[\\\u0000-\u0008\u000b-\u001f\u007f]|"""|"$/g)}"""`;

/** What is no whole number is told by the program. */
const counted = (typed) => (/^\d+$/.test(typed) ? String(BigInt(typed)) : quoted(typed));
const lineOf = (key, value, written) => (value === "" ? [] : [`${key} = ${written(value)}`]);

/** `makes`: each a name that no other has, how many ("" where its job says it) and the job. */
export function writtenDay({ title, who, makes }) {
  const lines = lineOf("title", title, quoted);
  for (const { name, count, text } of makes) {
    lines.push("", "[[make]]", `job = ${quoted(name)}`, `title = ${quoted(name)}`, ...lineOf("pouches", count, counted), `text = ${quotedLines(text)}`);
  }
  lines.push("", "[batch]", ...kWho.flatMap((key) => lineOf(key, who[key] ?? "", counted)));
  return `${lines.join("\n").trimStart()}\n`;
}

/** Which of the makes a line of that text is about, or -1. */
export function makeAt(text, line) {
  const before = text.split("\n").slice(0, line);
  return before.includes("[batch]") && before.lastIndexOf("[batch]") > before.lastIndexOf("[[make]]")
    ? -1 : before.filter((one) => one === "[[make]]").length - 1;
}

// ---- From text ----

export const isDay = (text) => /^[ \t]*\[\[[ \t]*make[ \t]*\]\]/m.test(text);

const kLetters = { b: "\b", t: "\t", n: "\n", f: "\f", r: "\r", '"': '"', "\\": "\\" };

function unescaped(text) {
  return text.replace(/\\(?:u([0-9a-f]{4})|U([0-9a-f]{8})|(.))/gis, (whole, four, eight, one) => {
    if (four || eight) return String.fromCodePoint(parseInt(four ?? eight, 16));
    if (!(one in kLetters)) throw new SyntaxError(whole);
    return kLetters[one];
  });
}

/** What may stand behind an equals sign here, and what it means. */
const kValues = [
  [/"""\r?\n?((?:[^"\\]+|\\.|"(?!""))*)"""/ys, unescaped],
  [/'''\r?\n?(.*?)'''/ys, (text) => text],
  [/"((?:[^"\\\n]|\\.)*)"/y, unescaped],
  [/'([^'\n]*)'/y, (text) => text],
  [/(\d+)/y, (text) => text],
];

/** The tables of a text that has no others than a day of this page. Fails: SyntaxError. */
function tablesOf(text) {
  let at = 0;
  const take = (pattern) => {
    pattern.lastIndex = at;
    const found = pattern.exec(text);
    if (found) at = pattern.lastIndex;
    return found;
  };
  const value = () => {
    for (const [pattern, means] of kValues) {
      const found = take(pattern);
      if (found) return means(found[1]);
    }
    throw new SyntaxError("a value");
  };
  const day = { top: {}, makes: [], batch: {} };
  let table = day.top;
  while (take(/(?:\s|#[^\n]*)*/y), at < text.length) {
    const key = take(/([a-z_]+)[ \t]*=[ \t]*/y);
    if (key) table[key[1]] = value();
    else if (take(/\[\[[ \t]*make[ \t]*\]\]/y)) day.makes.push((table = {}));
    else if (take(/\[[ \t]*batch[ \t]*\]/y)) table = day.batch;
    else throw new SyntaxError("a table");
    if (!take(/[ \t]*(?:#[^\n]*)?(?:\r?\n|$)/y)) throw new SyntaxError("an end of a line");
  }
  return day;
}

const has = (table, keys) => Object.keys(table).every((key) => keys.includes(key));

/**
 * The day of a text: its `title`, `who` comes, and `makes` with name, count and text each. Or `{ files }`, the names
 * of the files it wants, or `{ isMore: true }` where it says what a day of this page does not say.
 */
export function dayOf(text) {
  try {
    const { top, makes, batch } = tablesOf(text);
    const isOurs = has(top, ["title"]) && has(batch, kWho) &&
      makes.every((one) => has(one, ["job", "title", "pouches", "text"]) && one.text !== undefined && one.job !== undefined);
    if (isOurs) {
      return { title: top.title ?? "", who: batch,
               makes: makes.map(({ job, title = job, pouches = "", text: of }) => ({ name: title, count: pouches, text: of })) };
    }
  } catch (failure) {
    if (!(failure instanceof SyntaxError)) throw failure;
  }
  if (/^[ \t]*text[ \t]*=/m.test(text)) return { isMore: true };
  const paths = [...text.matchAll(/^[ \t]*job[ \t]*=[ \t]*["']([^"'\n]*)["']/gm)];
  return { files: [...new Set(paths.map(([, path]) => path.split("/").at(-1)))] };
}
