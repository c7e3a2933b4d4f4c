// What the page knows from the start: the words that people see, the constructions, materials,
// papers and sample jobs; and how to put all that on the page.

export const data = JSON.parse(document.getElementById("data").textContent);
export const byId = (id) => document.getElementById(id);

/** The word `key` with its holes filled. */
export function say(key, values = {}) {
  return (data.words[key] ?? `[${key}]`).replace(/\{([a-z_]+)\}/g, (hole, name) => values[name] ?? hole);
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
