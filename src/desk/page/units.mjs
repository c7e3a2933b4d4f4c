// Millimetres and inches: what people here are used to, what a typed length is, and how it is typed
// in the other unit.
//
//     inMillimetres("7 1/2", "in");   // 190.5
//     typedIn("in", 190);             // "7 1/2 in"
//
// Only for what is typed in the page and goes back into it (steps of a handle, switching units);
// what is shown comes from the program.

/** Where cloth is cut in inches, and where printers hold Letter (CLDR: measurement and paper by country). */
const kInches = new Set(["US", "LR", "MM"]);
const kLetter = new Set(["US", "CA", "MX", "PH", "CL", "CO", "CR", "GT", "NI", "PA", "SV", "DO", "VE", "BZ", "PR"]);

function country() {
  for (const tag of navigator.languages ?? [navigator.language]) {
    try {
      const { region } = new Intl.Locale(tag);
      if (region) return region;
    } catch {
      // no language tag
    }
  }
  return "";
}

export const unitOfCountry = () => (kInches.has(country()) ? "in" : "mm");
export const paperOfCountry = () => (kLetter.has(country()) ? "Letter" : "A4");

const kMillimetres = new Map([["", 0], ["mm", 1], ["cm", 10], ["m", 1000], ["in", 25.4], ["inch", 25.4], ["inches", 25.4],
                              ["in.", 25.4], ['"', 25.4], ["″", 25.4], ["''", 25.4], ["ft", 304.8], ["'", 304.8], ["yd", 914.4]]);
const kFractions = { "¼": 1 / 4, "½": 1 / 2, "¾": 3 / 4, "⅛": 1 / 8, "⅜": 3 / 8, "⅝": 5 / 8, "⅞": 7 / 8 };
const kLength = /^(-?\d+(?:[.,]\d+)?)?(?:[\s-]*(?:(\d+)\/(\d+)|([¼½¾⅛⅜⅝⅞])))?\s*([a-z.]*|"|″|'{1,2})$/;

/** Null where it is no single length that is known here. */
export function inMillimetres(typed, unit) {
  const [whole, number, above, below, sign, name] = kLength.exec(typed.trim().toLowerCase()) ?? [];
  if (!whole || (number === undefined && !below && !sign)) return null;
  const factor = name === "" ? kMillimetres.get(unit) : kMillimetres.get(name);
  if (!factor) return null;
  const fraction = below ? Number(above) / Number(below) : kFractions[sign] ?? 0;
  return (Number((number ?? "0").replace(",", ".")) + fraction) * factor;
}

/** Does it carry its unit itself? */
export const hasUnit = (typed) => /[a-z"″']/i.test(typed);

/** To half a millimetre where it is small, to a whole one else. */
function millimetres(mm) {
  const step = mm < 25 ? 0.5 : 1;
  return `${Math.round(mm / step) * step} mm`;
}

/** To 1/32 in where it is small, to 1/16 in else. */
function inches(mm) {
  return fractionOf(mm / 25.4, mm < 25.4 ? 32 : 16);
}

function fractionOf(value, of) {
  let above = Math.round(Math.abs(value) * of);
  let below = of;
  const whole = Math.floor(above / below);
  above -= whole * below;
  while (above > 0 && above % 2 === 0) (above /= 2), (below /= 2);
  const parts = [whole > 0 || above === 0 ? whole : "", above > 0 ? `${above}/${below}` : ""];
  return `${value < 0 ? "-" : ""}${parts.filter((part) => part !== "").join(" ")} in`;
}

export const typedIn = (unit, mm) => (unit === "in" ? inches(mm) : millimetres(mm));

/** A length moved on to the next line of a ruler whose lines are `step` mm apart. */
export function onRuler(unit, mm, step) {
  const lines = Math.round(mm / step);
  if (unit !== "in") return `${Number((lines * step).toFixed(2))} mm`;
  return fractionOf((lines * step) / 25.4, Math.max(8, 2 ** Math.ceil(Math.log2(25.4 / step))));
}

/** Several lengths; where one cannot be read, all stay. */
function convertedList(typed, from, to) {
  const all = typed.split(", ").map((one) => inMillimetres(one, from));
  return all.includes(null) ? typed : all.map((mm) => typedIn(to, mm)).join(", ");
}

/** Every length that stands in the fields, as it is typed in the other unit; what cannot be read keeps its unit. */
export function converted(values, lengths, from, to) {
  const pairs = [];
  for (const path of lengths) {
    const typed = values[path]?.typed;
    if (!typed) continue;
    const mm = inMillimetres(typed, from);
    if (mm !== null) pairs.push([path, typedIn(to, mm)]);
    else if (typed.includes(", ")) pairs.push([path, convertedList(typed, from, to)]);
  }
  return [...pairs, ["units", to]];
}
