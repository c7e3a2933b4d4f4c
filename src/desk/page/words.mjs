// What the page knows from the start: the words that people see, the constructions, materials,
// papers and sample jobs; and how to put all that on the page.

export const data = JSON.parse(document.getElementById("data").textContent);
export const byId = (id) => document.getElementById(id);

export const language = document.documentElement.lang || "en";
const plurals = new Intl.PluralRules(language);

/** The place behind the brace that closes the one at `open`; 0 where none does. */
function behindClosing(text, open) {
  let depth = 0;
  for (let at = open; at < text.length; ++at) {
    if (text[at] === "{") ++depth;
    if (text[at] === "}" && --depth === 0) return at + 1;
  }
  return 0;
}

/** `one {…} other {…}` as a table. */
function formsIn(text) {
  const forms = {};
  for (let open = text.indexOf("{"); open >= 0; open = text.indexOf("{")) {
    const end = behindClosing(text, open);
    if (end === 0) return {};
    forms[text.slice(0, open).trim()] = text.slice(open + 1, end - 1);
    text = text.slice(end);
  }
  return forms;
}

/** `pattern` with its holes filled as the program fills them (base/words.h): `{name}`, or by count
 * `{name, plural, one {…} other {…}}`. */
function filled(pattern, values) {
  let made = "";
  for (let open = pattern.indexOf("{"); open >= 0; open = pattern.indexOf("{")) {
    const end = behindClosing(pattern, open);
    const hole = /^\{([a-z_]+)(?:, *plural,(.*))?\}$/s.exec(pattern.slice(open, end));
    made += pattern.slice(0, open);
    if (end === 0 || !hole || values[hole[1]] === undefined) {
      made += "{";
      pattern = pattern.slice(open + 1);
      continue;
    }
    const value = values[hole[1]];
    const forms = hole[2] === undefined ? null : formsIn(hole[2]);
    made += forms ? filled(forms[`=${value}`] ?? forms[plurals.select(Number(value))] ?? forms.other ?? "", values) : value;
    pattern = pattern.slice(end);
  }
  return made + pattern;
}

/** The word `key` with its holes filled. */
export function say(key, values = {}) {
  return filled(data.words[key] ?? `[${key}]`, values);
}

const kMeasure = /(\d[\d.,/]*(?: \d+\/\d+)? (?:mm|cm|m|in|yd)\b)/;

/** An element whose numbers are never parted from their units at the end of a line. */
export function unparted(tag, text) {
  const element = made(tag, "");
  element.append(...text.split(kMeasure).map((part, index) => (index % 2 === 0 ? part : made("span", part, { class: "whole" }))));
  return element;
}

export const isWord = (key) => key in data.words;

export function made(tag, text, attributes = {}) {
  const element = document.createElement(tag);
  element.textContent = text;
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  return element;
}

/** One or many of something; `{count}` is the number. */
export const counted = (count, one, many) => (count === 1 ? say(one) : say(many, { count }));

/** What the field of `path` is called. */
export function nameOf(path) {
  if (path === "construction") return say("desk-construction");
  return document.querySelector(`label[for="${path}"]`)?.textContent.trim() ?? path;
}

/** A pouch's name as the name of a file; `otherwise` where it has none. */
export function fileName(title, otherwise) {
  const name = title.replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "").slice(0, 60);
  return name || otherwise;
}
