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
