// The numbers that matter, out of the program's reports: rows of a name and a value.

import { say } from "./words.mjs";

/** Of the reports of `lay` and `supplies`. */
export function clothOf(lay, supplies) {
  const used = lay.lays.reduce((sum, one) => sum + one.length_mm * one.layers * one.width_mm, 0);
  const rows = [[say("desk-number-cloth"), `${(used / 1e6 / supplies.pouches).toFixed(3)} m²`]];
  for (const one of supplies.supplies) {
    if (one.kind === "cloth") rows.push([one.what, say("desk-number-buy", { amount: one.amount_said })]);
  }
  const { known, known_per_pouch, currency } = supplies.cost;
  if (known > 0) {
    const values = { cost: known.toFixed(2), each: known_per_pouch.toFixed(2), currency: currency ?? "" };
    rows.push([say("desk-number-cost"), say("desk-number-cost-is", values)]);
  }
  return rows;
}
