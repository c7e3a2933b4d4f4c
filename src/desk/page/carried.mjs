// What a packet's codes hold, as a camera or a telephone tells it, back to the job's text: the text
// itself, a link with it, letters that are packed, or numbered parts of these in any order.
//
//     const pages = collected();
//     await pages.take("# 2/2 0f3a66c1\n…");   // { have: 1, of: 2 }
//     await pages.take("# 1/2 0f3a66c1\n…");   // { text: "construction = …" }

import { textOf } from "./link.mjs";

/** Telephones turn a line's end into a blank, or leave one behind. */
const kPart = /# (\d+)\/(\d+) ([0-9a-f]{8})\s+([\w#=-]+)\s*/g;
const kOnlyParts = new RegExp(`^(?:${kPart.source})+$`);
const kNoJob = { isNone: true };

async function whole(text) {
  const from = text.search(/#jobz?=/);
  // A text may have such letters in a comment; a link has neither blanks nor lines.
  const told = from >= 0 && !/\s/.test(text.trim()) ? await textOf(text.trim().slice(from)) : text;
  return told && /^[ \t]*construction[ \t]*=/m.test(told) ? { text: told } : kNoJob;
}

/** Parts of one text, until all are there. A part of another text begins anew. */
export function collected() {
  let mark = "";
  let parts = [];
  return {
    /** `{ text }` of a whole job, `{ have, of }` while parts are missing, or `{ isNone }`. */
    async take(text) {
      if (!kOnlyParts.test(text)) return whole(text);
      for (const [, number, of, itsMark, letters] of text.matchAll(kPart)) {
        if (number < 1 || Number(number) > Number(of)) return kNoJob;
        if (`${itsMark}/${of}` !== mark) parts = new Array(Number(of)).fill(null);
        mark = `${itsMark}/${of}`;
        parts[number - 1] = letters;
      }
      const have = parts.filter((one) => one !== null).length;
      return have < parts.length ? { have, of: parts.length } : whole(parts.join(""));
    },
  };
}
