// The text of a job: which values stand where, and how one of them is changed while the rest, comments
// too, stays as it is.
//
//     const text = withValue('construction = "foldover"\n', "pouch.width", written("190 mm", "length"));
//     plain(readJob(text).values.get("pouch.width").written);  // 190 mm
//
// Reads what people and this page write, line by line. Whether a job is sound, the program says.

const kHeader = /^\s*\[\s*([A-Za-z0-9_.-]+)\s*\]\s*(#.*)?$/;
const kManyHeader = /^\s*\[\[/;
const kKey = /^(\s*([A-Za-z0-9_.-]+)\s*=\s*)(.*)$/;

/** Where the value that `text` starts with ends; -1 where it goes on beyond `text`. */
function valueEnd(text) {
  let depth = 0;
  for (let i = 0; i < text.length; ++i) {
    const letter = text[i];
    if (letter === '"' || letter === "'") {
      const mark = text.startsWith(letter.repeat(3), i) ? letter.repeat(3) : letter;
      let end = i + mark.length;
      while (end < text.length && !text.startsWith(mark, end)) {
        if (text[end] === "\n" && mark.length === 1) return i;  // left open: ends with its line
        end += letter === '"' && text[end] === "\\" ? 2 : 1;
      }
      if (end >= text.length) return mark.length === 3 ? -1 : text.length;
      i = end + mark.length - 1;
      if (depth === 0) return i + 1;
    } else if (letter === "[" || letter === "{") {
      depth += 1;
    } else if (letter === "]" || letter === "}") {
      depth -= 1;
      if (depth === 0) return i + 1;
    } else if (depth === 0 && (letter === "#" || letter === "\n")) {
      return i;
    } else if (letter === "#") {
      const end = text.indexOf("\n", i);
      if (end < 0) return -1;
      i = end;
    }
  }
  return depth > 0 ? -1 : text.length;
}

/**
 * The values of a job by path, as `pouch.width`: the line (from 0), the line it ends on, what stands
 * before and after it, and the value as written. Tables by name: the lines from and to.
 * Values of [[tables]] have no path; fields leave them alone.
 */
export function readJob(text) {
  const lines = text.split("\n");
  const job = { lines, values: new Map(), tables: new Map([["", { from: -1, last: -1 }]]) };
  let name = "";
  for (let i = 0; i < lines.length; ++i) {
    const line = lines[i].replace(/\r$/, "");
    if (kManyHeader.test(line)) {
      name = null;
      continue;
    }
    const header = kHeader.exec(line);
    if (header) {
      name = header[1];
      job.tables.set(name, { from: i, last: i });
      continue;
    }
    const key = kKey.exec(line);
    if (!key) continue;
    let value = key[3];
    let last = i;
    while (valueEnd(value) < 0 && last + 1 < lines.length) value += "\n" + lines[++last];
    const end = valueEnd(value) < 0 ? value.length : valueEnd(value);
    if (name !== null) {
      const path = name ? `${name}.${key[2]}` : key[2];
      const written = value.slice(0, end).trimEnd();
      job.values.set(path, { line: i, last, before: key[1], written, after: value.slice(written.length) });
      job.tables.get(name).last = last;
    }
    i = last;
  }
  return job;
}

/** A value as a field shows it; null for tables and lists, which no field can show. */
export function plain(written) {
  if (/^[[{]/.test(written) || written.startsWith('"""') || written.startsWith("'''")) return null;
  if (written.startsWith("'")) return written.replace(/^'|'$/g, "");
  if (!written.startsWith('"')) return written;
  return written.replace(/^"|"$/g, "").replace(/\\(u[0-9a-fA-F]{4}|.)/g, (whole, code) => {
    if (code.length > 1) return String.fromCharCode(parseInt(code.slice(1), 16));
    return { n: "\n", t: "\t", r: "\r", b: "\b", f: "\f" }[code] ?? code;
  });
}

/** What a person typed as TOML: numbers and truths bare, all else as a text. */
export function written(typed, kind) {
  if (kind !== "text" && /^(true|false|-?\d+(\.\d+)?)$/.test(typed)) {
    if (!/^-?0\d/.test(typed)) return typed;
  }
  const quoted = typed.replace(/[\\"]/g, "\\$&").replace(/[\u0000-\u001f\u007f]/g, (control) =>
    "\\u" + control.charCodeAt(0).toString(16).padStart(4, "0"));
  return `"${quoted}"`;
}

/** `text` with the value of `path` set, or taken out where `value` is null. */
export function withValue(text, path, value) {
  const { lines, values, tables } = readJob(text);
  const old = values.get(path);
  if (old && value === null) {
    lines.splice(old.line, old.last - old.line + 1);
  } else if (old) {
    lines.splice(old.line, old.last - old.line + 1, old.before + value + old.after);
  } else if (value !== null) {
    const dot = path.lastIndexOf(".");
    const table = dot < 0 ? "" : path.slice(0, dot);
    const line = `${path.slice(dot + 1)} = ${value}`;
    if (tables.has(table)) {
      lines.splice(tables.get(table).last + 1, 0, line);
    } else {
      while (lines.length > 0 && lines.at(-1).trim() === "") lines.pop();
      lines.push("", `[${table}]`, line, "");
    }
  }
  return lines.join("\n");
}

/** `text` without the table `name`, and without the value of that name. */
export function withoutTable(text, name) {
  const bare = withValue(text, name, null);
  const { lines, tables } = readJob(bare);
  const table = tables.get(name);
  if (table) lines.splice(table.from, table.last - table.from + 1);
  return lines.join("\n");
}
