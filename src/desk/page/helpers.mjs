// What a job's text says of the helpers, a block for each in their order: `[[batch.helper]]`, with what
// somebody `can` do. Who has no block, or one without that, does whatever the plan gives her.
//
//     job.write(withGiven(job.text, report.people, 2, ["cut", "mark"]));   // the third helper
//     job.write(withNobodyGiven(job, job.text, report.people));
//
// `people` is what the work plan tells of each: name, speed, can. Not for what a plan makes of it.

import { blocksOf, isEmptyBlock, withList, withoutBlock } from "./tables.mjs";

const kTable = "batch.helper";

/** A table that is written in one line cannot be added to by another block. */
export const isWritable = ({ told }) => !["batch", kTable].some((path) => path in (told.values ?? {}));

const isTold = ({ name, speed, can }) => name !== "" || speed !== 1 || can !== null;

function blockOf({ name, speed }) {
  const lines = [...(name === "" ? [] : [`name = ${JSON.stringify(name)}`]), ...(speed === 1 ? [] : [`speed = ${speed}`])];
  return [`\n[[${kTable}]]`, ...lines].join("\n");
}

/** With blocks up to that of `index`. What is told of people without one comes from what lies under the job,
    which the first block hides: so these are written out. */
function withBlocks(text, people, index) {
  const known = blocksOf(text, kTable).length;
  const last = Math.max(index, known === 0 ? people.findLastIndex(isTold) : -1);
  const blocks = people.slice(known, last + 1);
  if (blocks.length === 0) return text;
  const made = `${text.trimEnd()}\n${blocks.map(blockOf).join("\n")}\n`;
  return blocks.reduce((to, { can }, number) => (can === null ? to : withList(to, kTable, known + number, "can", can)), made);
}

/** The helper of that `index`, from 0, can do this and nothing else. */
export const withGiven = (text, people, index, can) => withList(withBlocks(text, people, index), kTable, index, "can", can);

/** Blocks at the end that say nothing go; but not where they are what says how many helpers there are. */
function withoutEmpty(job, text) {
  if (job.value("batch.helpers") === "") return text;
  let made = text;
  for (let last = blocksOf(made, kTable).length - 1; last >= 0 && isEmptyBlock(made, kTable, last); --last) made = withoutBlock(made, kTable, last);
  return made;
}

/** The helper of that index does whatever the plan gives her. */
export function withFreed(job, text, people, index) {
  const blocks = withBlocks(text, people, -1);
  return index < blocksOf(blocks, kTable).length ? withoutEmpty(job, withList(blocks, kTable, index, "can", null)) : text;
}

/** The same for all of them. */
export function withNobodyGiven(job, text, people) {
  const isUnder = people.some(({ can }) => can !== null);
  let made = isUnder ? withBlocks(text, people, -1) : text;
  for (let index = blocksOf(made, kTable).length - 1; index >= 0; --index) made = withList(made, kTable, index, "can", null);
  return withoutEmpty(job, made);
}
