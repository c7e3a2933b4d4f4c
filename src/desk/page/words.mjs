// What the page knows from the start: the words that people see, the constructions, and how to put
// both on the page.

export const data = JSON.parse(document.getElementById("data").textContent);
export const byId = (id) => document.getElementById(id);

/** The word `key` with its holes filled. */
export function say(key, values = {}) {
  return (data.words[key] ?? `[${key}]`).replace(/\{([a-z_]+)\}/g, (hole, name) => values[name] ?? hole);
}

export function made(tag, text, attributes = {}) {
  const element = document.createElement(tag);
  element.textContent = text;
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  return element;
}

/** One or many of something; `{count}` is the number. */
export const counted = (count, one, many) => (count === 1 ? say(one) : say(many, { count }));
