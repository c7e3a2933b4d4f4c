// Lengths of the reports, which are millimetres, as people read them: for the few numbers of the
// page. What is printed is worded by the program.

const kInch = 25.4;
const kSame = 1e-6;

/** "190 mm", "12.5 mm"; tenths, with "≈" before it where that is not exact. */
function inMillimetres(mm, rounded) {
  const tenths = rounded(mm * 10 + kSame) / 10;
  return `${Math.abs(tenths - mm) < kSame ? "" : "≈ "}${tenths} mm`;
}

/** Eighths of an inch in lowest terms: "7 1/2", "3/8", "7". */
function eighthsAsText(eighths) {
  const whole = Math.floor(eighths / 8);
  const rest = eighths % 8;
  if (rest === 0) return `${whole}`;
  const common = [4, 2, 1].find((one) => rest % one === 0);
  const fraction = `${rest / common}/${8 / common}`;
  return whole === 0 ? fraction : `${whole} ${fraction}`;
}

function inInches(mm, rounded) {
  const eighths = rounded((mm / kInch) * 8 + kSame);
  const about = Math.abs((eighths * kInch) / 8 - mm) < kSame ? "" : "≈ ";
  return `${about}${eighths < 0 ? "-" : ""}${eighthsAsText(Math.abs(eighths))} in`;
}

/** `units` is "in", or millimetres are meant. */
export function lengthAsText(mm, units) {
  return units === "in" ? inInches(mm, Math.round) : inMillimetres(mm, Math.round);
}

/** The same, never more than the length: for what must not be passed. */
export function lengthAtMostAsText(mm, units) {
  return units === "in" ? inInches(mm, Math.floor) : inMillimetres(mm, Math.floor);
}
