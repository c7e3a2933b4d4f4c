// Tables of which a job may have many, as the left-overs of cloth: `[[stock.cloth]]` and its values.
// They have no path of their own, so they are read and written in the job's text, whole blocks at a
// time; all else of the text stays as it is.
//
//     blocksOf(job.text, "stock.cloth");   // [{ material: "laminate", width: "48 cm", … }]
//     job.write(withBlock(job.text, "stock.cloth", { material: "outer", width: "1 m", length: "2 m" }));

const isHeader = (line) => /^\s*\[/.test(line);
const isHeaderOf = (line, name) => line.replace(/#.*/, "").trim() === `[[${name}]]`;

/** From each header of that name to the line before the next header: [first, beyond]. */
function linesOf(text, name) {
  const lines = text.split("\n");
  const found = [];
  lines.forEach((line, first) => {
    if (!isHeaderOf(line, name)) return;
    const next = lines.findIndex((other, index) => index > first && isHeader(other));
    found.push([first, next < 0 ? lines.length : next]);
  });
  return { lines, found };
}

/** What stands in each: plain texts, numbers and truths by their keys, as typed. */
export function blocksOf(text, name) {
  const { lines, found } = linesOf(text, name);
  return found.map(([first, beyond]) => {
    const values = {};
    for (const line of lines.slice(first + 1, beyond)) {
      const [, key, quoted, bare] = /^\s*([A-Za-z_]+)\s*=\s*(?:"((?:[^"\\]|\\.)*)"|([^"#\s]+))/.exec(line) ?? [];
      if (key) values[key] = quoted === undefined ? bare : quoted.replace(/\\(["\\])/g, "$1");
    }
    return values;
  });
}

/** JSON's texts are TOML's as well; counts stand bare. */
const written = (value) => (/^\d+$/.test(value) ? value : JSON.stringify(value));

export function withBlock(text, name, values) {
  const lines = Object.entries(values).filter(([, value]) => value !== "").map(([key, value]) => `${key} = ${written(value)}`);
  return `${text.trimEnd()}\n\n[[${name}]]\n${lines.join("\n")}\n`;
}

export function withoutBlock(text, name, index) {
  const { lines, found } = linesOf(text, name);
  const [first, beyond] = found[index];
  const kept = [...lines.slice(0, first), ...lines.slice(beyond)];
  return `${kept.join("\n").trimEnd()}\n`;
}

/** Does a block say nothing? Comments count: somebody wrote them. */
export function isEmptyBlock(text, name, index) {
  const { lines, found } = linesOf(text, name);
  const [first, beyond] = found[index];
  return lines[first].trim() === `[[${name}]]` && lines.slice(first + 1, beyond).every((line) => line.trim() === "");
}

/** Texts and the comment of a line are no brackets. */
const withoutTexts = (line) => line.replace(/"(?:[^"\\]|\\.)*"|'[^']*'/g, (one) => " ".repeat(one.length));
const depthOf = (line) => [...withoutTexts(line).replace(/#.*/, "")].reduce((depth, one) => depth + (one === "[") - (one === "]"), 0);

/** The line in which the list ends that begins in line `first`. */
function endOfList(lines, first) {
  let depth = 0;
  for (let at = first; at < lines.length; ++at) {
    depth += depthOf(lines[at]);
    if (depth <= 0) return at;
  }
  return first;
}

/** The list of texts `key` of one block set, or taken out where `items` is null; a comment behind it stays with it. */
export function withList(text, name, index, key, items) {
  const { lines, found } = linesOf(text, name);
  const [first, beyond] = found[index];
  const isKey = new RegExp(`^\\s*${key}\\s*=`);
  const at = lines.findIndex((line, number) => number > first && number < beyond && isKey.test(line));
  const list = items === null ? [] : [`${key} = [${items.map((one) => JSON.stringify(one)).join(", ")}]`];
  if (at >= 0) {
    const end = endOfList(lines, at);
    const [, comment = ""] = /^[^#]*(#.*)$/.exec(withoutTexts(lines[end])) ?? [];
    const kept = comment === "" ? "" : ` ${lines[end].slice(-comment.length)}`;
    lines.splice(at, end + 1 - at, ...list.map((one) => one + kept));
  } else {
    const last = lines.slice(first, beyond).findLastIndex((line) => !/^\s*(#|$)/.test(line));
    lines.splice(first + last + 1, 0, ...list);
  }
  return lines.join("\n");
}
