// Another construction of the same job: what goes out of it, since the other one does not know it.
//
//     job.setAll(pairsFor(job, constructionCalled("sleeve")));

import { data } from "./words.mjs";

export const constructionCalled = (name) => data.constructions.find((one) => one.name === name);

const pathsOf = ({ sizes }) => sizes.map((size) => `pouch.${size.name}`);

/** Of a flap, and of what closes it. */
function isUnknown(path, construction, own, job) {
  if (path === "pouch.closure") return !construction.closures.includes(job.value(path));
  if (path === "pouch.closure_through") return construction.closures.length === 0;
  return !own.has(path);
}

/** Path and value of all that is changed for it; a panel's folds are those of one construction. */
export function pairsFor(job, construction) {
  const own = new Set(pathsOf(construction));
  const ofFlap = own.has("pouch.flap") ? [] : ["pouch.flap_shape", "pouch.flap_corner"];
  const paths = new Set([...data.constructions.flatMap(pathsOf), ...ofFlap, "pouch.closure", "pouch.closure_through"]);
  const isThere = (path) => job.value(path) !== "" || path in (job.told.values ?? {});
  const gone = [...paths].filter((path) => isThere(path) && isUnknown(path, construction, own, job));
  const folds = isThere("panel.fold_at") && construction.name !== job.value("construction") ? ["panel.fold_at"] : [];
  return [["construction", construction.name], ...[...gone, ...folds].map((path) => [path, ""])];
}
