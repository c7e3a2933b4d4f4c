// Lengths of the reports, which are millimetres, as the program prints them: as read off a ruler, in
// whole millimetres or eighths of an inch, "≈" before what is not on such a step. What is on the
// job's own ruler is shown as it is.

const kNmInMm = 1_000_000;
const kNmInInch = 25_400_000;
const kSteps = { mm: kNmInMm, in: kNmInInch / 8 };
/** As on rulers: tenths of an inch among them. */
const kFinest = 64;

const commonDivisor = (a, b) => (b === 0 ? a : commonDivisor(b, a % b));

function millimetres(nm) {
  const decimals = String(nm % kNmInMm).padStart(6, "0").replace(/0+$/, "");
  return `${Math.floor(nm / kNmInMm)}${decimals && "."}${decimals} mm`;
}

/** In lowest terms: "7 1/2 in", "3/8 in", "7 in". */
function inches(nm) {
  const whole = Math.floor(nm / kNmInInch);
  const rest = nm % kNmInInch;
  const common = commonDivisor(rest, kNmInInch);
  if (kNmInInch / common > kFinest) return millimetres(nm);
  const fraction = rest === 0 ? [] : [`${rest / common}/${kNmInInch / common}`];
  return [...(whole > 0 || rest === 0 ? [whole] : []), ...fraction, "in"].join(" ");
}

function asRead(mm, units, ruler, nearby) {
  const nm = Math.round(mm * kNmInMm);
  const usual = kSteps[units] ?? kSteps.mm;
  const own = ruler === undefined ? usual : Math.round(ruler * kNmInMm);
  const step = Math.min(own, usual);
  const exact = nm % own === 0 || nm % step === 0;
  const shown = exact ? nm : nearby(nm, step);
  const text = (units === "in" ? inches : millimetres)(Math.abs(shown));
  return `${exact ? "" : "≈ "}${shown < 0 ? "-" : ""}${text}`;
}

/** `units` is "in", or millimetres are meant; `ruler` is the job's, in mm. */
export function lengthAsText(mm, units, ruler) {
  return asRead(mm, units, ruler, (nm, step) => Math.floor((2 * nm + step) / (2 * step)) * step);
}

/** The same, never more than the length: for what must not be passed. */
export function lengthAtMostAsText(mm, units, ruler) {
  return asRead(mm, units, ruler, (nm, step) => Math.floor(nm / step) * step);
}
